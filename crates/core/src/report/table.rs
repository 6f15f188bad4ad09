//! The results as plain text for a terminal or a notebook.

use crate::analysis::{Analysis, LineOutcome, ObjectOutcome};
use crate::lab::{Configuration, Lab, Provenance};
use crate::measured::Measured;
use crate::measured::coverage::Probability;
use crate::measured::shown::{DisplayUnit, show, show_interval, show_number};
use crate::quantity::{KilogramMeters2, Kilograms, MetersPerSecond2, NewtonMeters, RadiansPerSecond2};

/// All results of a lab, rounded for people; problems stand where a result is missing.
pub fn to_table(lab: &Lab, analysis: &Analysis) -> String {
    let mut text = String::new();
    let mut say = |line: &str| {
        text.push_str(line.trim_end());
        text.push('\n');
    };
    say(if lab.title.is_empty() { "Untitled lab" } else { &lab.title });
    if lab.provenance == Provenance::Simulated {
        say("(simulated readings, not measured)");
    }
    say("");
    for row in grid(&runs(lab, analysis)) {
        say(&row);
    }
    for outcome in &analysis.lines.configurations {
        say("");
        for row in line(lab, outcome) {
            say(&row);
        }
    }
    for outcome in &analysis.objects {
        say("");
        for row in object(lab, outcome) {
            say(&row);
        }
    }
    for (place, row) in super::findings::to_lines(lab, analysis).iter().enumerate() {
        if place == 0 {
            say("");
        }
        say(row);
    }
    text
}

fn runs(lab: &Lab, analysis: &Analysis) -> Vec<Vec<String>> {
    let head = ["run", "on", "m", "a", "τ", "α", "note"].map(str::to_owned).to_vec();
    let rows = lab.runs().iter().zip(&analysis.runs).map(|(entry, outcome)| {
        let acceleration =
            |a: &Measured<MetersPerSecond2>| show(a, DisplayUnit::si::<MetersPerSecond2>()).to_string();
        let (a, tau, alpha, note) = match (&outcome.point, &outcome.fit) {
            (Ok(placed), _) => (
                acceleration(&placed.acceleration.total),
                show(&placed.torque.total, DisplayUnit::MILLINEWTON_METERS).to_string(),
                show(&placed.angular_acceleration.total, DisplayUnit::si::<RadiansPerSecond2>()).to_string(),
                String::new(),
            ),
            (Err(problem), fit) => {
                let a = fit.as_ref().map_or_else(|_| String::new(), |fit| acceleration(&fit.acceleration));
                (a, String::new(), String::new(), problem.to_string())
            }
        };
        let mass = entry
            .hanging_mass
            .map_or_else(String::new, |Kilograms(mass)| show_number(mass, DisplayUnit::GRAMS, 6));
        vec![entry.name.clone(), lab.configuration_name(entry.configuration), mass, a, tau, alpha, note]
    });
    std::iter::once(head).chain(rows).collect()
}

fn moment(measured: &Measured<KilogramMeters2>) -> String {
    let unit = DisplayUnit::engineering(measured.value());
    let interval = measured.coverage_interval(Probability::P95);
    let k = show_number(interval.coverage_factor, DisplayUnit::prefixed("", 0), 3);
    format!("{}; 95 % interval {} (k = {k})", show(measured, unit), show_interval(&interval, unit))
}

fn line(lab: &Lab, outcome: &LineOutcome) -> Vec<String> {
    let name = lab.configuration_name(outcome.configuration);
    let inertia = match &outcome.inertia {
        Ok(inertia) => inertia,
        Err(problem) => return vec![format!("{name}: {problem}")],
    };
    let friction: &Measured<NewtonMeters> = &inertia.friction_torque.total;
    let mut rows = vec![
        format!("{name}: {} runs on the line", outcome.used.len()),
        format!("  I   = {}", moment(&inertia.moment_of_inertia.total)),
        format!("  τ_f = {}", show(friction, DisplayUnit::MILLINEWTON_METERS)),
    ];
    if outcome.left_out > 0 {
        rows.push(format!("  runs left out: {}", outcome.left_out));
    }
    rows
}

fn object(lab: &Lab, outcome: &ObjectOutcome) -> Vec<String> {
    let mut rows = vec![format!("{} alone", lab.configuration_name(Configuration::Loaded(outcome.id)))];
    rows.push(match &outcome.measured {
        Ok(object) => format!("  measured  {}", moment(&object.moment_of_inertia.total)),
        Err(problem) => format!("  measured  {problem}"),
    });
    rows.push(match &outcome.predicted {
        Ok(prediction) => {
            let predicted = &prediction.moment_of_inertia;
            format!("  predicted {}", show(predicted, DisplayUnit::engineering(predicted.value())))
        }
        Err(problem) => format!("  predicted {problem}"),
    });
    if let Some(Ok(comparison)) = &outcome.comparison {
        if let Some(percent) = &comparison.percent_difference {
            rows.push(format!("  difference {}", show(percent, DisplayUnit::prefixed("%", 0))));
        }
        rows.push(format!("  {}", comparison.verdict.words()));
    }
    rows
}

/// Pads the columns to one width each.
pub fn grid(rows: &[Vec<String>]) -> Vec<String> {
    let columns = rows.iter().map(Vec::len).max().unwrap_or(0);
    let width = |column: usize| {
        rows.iter().filter_map(|row| row.get(column)).map(|cell| cell.chars().count()).max().unwrap_or(0)
    };
    let widths: Vec<usize> = (0..columns).map(width).collect();
    let pad = |(cell, width): (&String, &usize)| {
        let missing = width.saturating_sub(cell.chars().count());
        format!("{cell}{}", " ".repeat(missing + 2))
    };
    rows.iter().map(|row| row.iter().zip(&widths).map(pad).collect()).collect()
}

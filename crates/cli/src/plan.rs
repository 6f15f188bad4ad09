//! `whorl plan`: what to expect of a lab before its first run, and which masses to hang.

use crate::open_lab;
use std::path::Path;
use whorl_core::entry::{EntryUnit, parse};
use whorl_core::inertia::BudgetRow;
use whorl_core::lab::{Lab, ObjectId};
use whorl_core::measured::Combined;
use whorl_core::measured::shown::{DisplayUnit, show_number};
use whorl_core::plan::{
    Choice, Hung, PlanInput, PlannedRun, USUAL_RUNS, best_masses, parse_pieces, reachable, why_these_masses,
    write_pieces,
};
use whorl_core::quantity::{KilogramMeters2, Kilograms, NewtonMeters, Quantity, Ratio, Seconds};
use whorl_core::report::grid;

const INERTIA: EntryUnit = EntryUnit::plain("kg·m²");
const TORQUE: EntryUnit = EntryUnit::plain("N·m");

/// What is to be planned: `words` behind `plan`, the lab file first.
pub(crate) fn answer(words: &[&str]) -> Result<String, String> {
    let [path, options @ ..] = words else { return Err("plan: name a lab file".to_owned()) };
    let mut lab = open_lab(Path::new(path))?;
    let mut object = None;
    let mut scatter = None;
    for pair in options.chunks(2) {
        let &[name, value] = pair else { return Err(format!("{}: a value is missing", pair.concat())) };
        let number = |unit| match parse(value, unit) {
            Ok(Some(number)) => Ok(number),
            Ok(None) => Err(format!("{name}: a value is missing")),
            Err(problem) => Err(format!("{name}: {problem}")),
        };
        let plan = &mut lab.plan;
        match name {
            "--masses" => {
                plan.pieces = parse_pieces(value).map_err(|problem| format!("--masses: {problem}"))?;
            }
            "--holder" => plan.holder = Some(Kilograms(number(EntryUnit::GRAMS)?)),
            "--runs" => {
                plan.runs =
                    Some(value.parse().map_err(|_| format!("--runs: “{value}” is no number of runs"))?);
            }
            "--table-inertia" => plan.table_inertia = Some(KilogramMeters2(number(INERTIA)?)),
            "--friction" => plan.friction_empty = Some(NewtonMeters(number(TORQUE)?)),
            "--friction-loaded" => plan.friction_loaded = Some(NewtonMeters(number(TORQUE)?)),
            "--friction-scatter" => scatter = Some(Ratio(number(EntryUnit::PERCENT)?)),
            "--object" => object = Some(value),
            _ => return Err(format!("there is no option {name}; see whorl help")),
        }
    }
    let object = chosen(&lab, object)?;
    let mut input = PlanInput::from_lab(&lab, object).map_err(|problem| problem.to_string())?;
    input.friction_scatter = scatter.unwrap_or(input.friction_scatter);
    if lab.plan.pieces.is_empty() {
        return Err("say which masses you can hang, like --masses \"20 x 2, 50, 100 x 2, 200\"".to_owned());
    }
    let hung = reachable(&lab.plan.pieces, lab.plan.holder.unwrap_or(Kilograms(0.0)));
    let masses: Vec<Kilograms> = hung.iter().map(|hung| hung.mass).collect();
    let runs = lab.plan.runs.map_or(USUAL_RUNS, |runs| runs.get() as usize);
    let choice = best_masses(&input, &masses, runs).map_err(|problem| problem.to_string())?;
    Ok(told(&lab, object, &hung, &choice))
}

/// The object named, or the first.
fn chosen(lab: &Lab, name: Option<&str>) -> Result<ObjectId, String> {
    let found = match name {
        None => lab.objects().first(),
        Some(name) => lab.objects().iter().find(|object| object.name == name),
    };
    let names: Vec<&str> = lab.objects().iter().map(|object| object.name.as_str()).collect();
    found.map(|object| object.id).ok_or_else(|| match name {
        None => "this lab has no object to plan for; describe one first".to_owned(),
        Some(name) => format!("there is no object “{name}”; there are: {}", names.join(", ")),
    })
}

fn told(lab: &Lab, object: ObjectId, hung: &[Hung], choice: &Choice) -> String {
    let plan = &choice.plan;
    let name = lab.object(object).map_or("object", |object| object.name.as_str());
    let mut text = String::new();
    let mut say = |line: &str| {
        text.push_str(line.trim_end());
        text.push('\n');
    };
    say(&format!("Masses to hang, from {}", write_pieces(&lab.plan.pieces)));
    for (title, runs) in [("empty table".to_owned(), &plan.empty), (format!("with {name}"), &plan.loaded)] {
        say("");
        say(&title);
        for row in grid(&rows(&lab.plan.pieces, hung, runs)) {
            say(&format!("  {row}"));
        }
    }
    say("");
    say("To be expected (standard uncertainties)");
    for (title, result, budget) in
        [("empty table", &plan.table, &plan.table_budget), (name, &plan.object, &plan.object_budget)]
    {
        say(&format!("  {title}: {}", uncertainty(result)));
        for row in budget.iter().take(4) {
            say(&format!("    {}", part(row, result)));
        }
    }
    let gain = show_number(choice.gain(), DisplayUnit::prefixed("", 0), 3);
    say(&format!("  evenly spaced masses would make the random part of the {name} {gain} times as large"));
    say("");
    say(why_these_masses());
    if !plan.cautions.is_empty() {
        say("");
        say("To mind");
        plan.cautions.iter().for_each(|caution| say(&format!("  - {caution}")));
    }
    text
}

fn rows(pieces: &[Kilograms], hung: &[Hung], runs: &[PlannedRun]) -> Vec<Vec<String>> {
    let head = ["m", "made of", "a in m/s²", "u(a)/a", "fall", "spokes", "end speed", "τ", "α in rad/s²"];
    let mut rows = vec![head.map(str::to_owned).to_vec()];
    for run in runs {
        let point = &run.point;
        let made_of = hung.iter().find(|hung| hung.mass == run.mass()).map(|hung| hung.made_of(pieces));
        let plain = |value: f64| show_number(value, DisplayUnit::prefixed("", 0), 3);
        let in_unit = |value: f64, symbol| show_number(value, DisplayUnit::prefixed(symbol, 0), 3);
        let percent = point.acceleration.relative_uncertainty().unwrap_or(0.0);
        let Seconds(fall) = run.fall_time;
        rows.push(vec![
            show_number(run.mass().0, DisplayUnit::GRAMS, 4),
            made_of.map_or_else(String::new, |pieces| write_pieces(&pieces)),
            plain(point.acceleration.value().0),
            show_number(percent, DisplayUnit::prefixed("%", -2), 2),
            in_unit(fall, "s"),
            run.edges.to_string(),
            in_unit(run.final_velocity.0, "m/s"),
            show_number(point.torque.value().0, DisplayUnit::MILLINEWTON_METERS, 3),
            plain(point.angular_acceleration.value().0),
        ]);
    }
    rows
}

fn uncertainty(result: &Combined<KilogramMeters2>) -> String {
    let value = result.total.value();
    let percent = |u: KilogramMeters2| show_number(u.0 / value.0, DisplayUnit::prefixed("%", -2), 2);
    format!(
        "I about {}, u = {} ({} random, {} shared by all runs)",
        show_number(value.0, DisplayUnit::engineering(value), 4),
        percent(result.total.standard_uncertainty()),
        percent(result.random.standard_uncertainty()),
        percent(result.shared),
    )
}

fn part(row: &BudgetRow, result: &Combined<KilogramMeters2>) -> String {
    let percent = |share: f64, digits| show_number(share, DisplayUnit::prefixed("%", -2), digits);
    let of_value = row.contribution / result.total.value().si().abs();
    format!("{}: {}, {} of the variance", row.source.words(), percent(of_value, 2), percent(row.share, 2))
}

//! What the propagation of distributions says, as JSON and as a table.

use crate::lab::{Configuration, Lab};
use crate::measured::Measured;
use crate::measured::coverage::{CoverageInterval, Probability};
use crate::measured::shown::{DisplayUnit, show, show_interval, show_number};
use crate::monte_carlo::{Check, FirstOrder, Model, Outcome, Simulated, Target};
use crate::quantity::{KilogramMeters2, NewtonMeters, Quantity};
use core::fmt::Write as _;
use serde_json::{Value, json};

/// The outcome for programs, with the model it came from, so that others can repeat it.
pub fn monte_carlo_to_json(lab: &Lab, model: &Model, outcome: &Outcome, seed: u64) -> Value {
    let result = |((target, first), simulated): ((Target, FirstOrder), &Simulated)| {
        let (key, configuration) = place(target);
        let [mean, u, low, high] = simulated.deviations;
        let check = Check::new(&first, simulated);
        json!({
            "result": key,
            "object": match configuration {
                Configuration::EmptyTable => Value::Null,
                Configuration::Loaded(id) => json!(id.0),
            },
            "name": lab.configuration_name(configuration),
            "value": simulated.mean,
            "u": simulated.standard_uncertainty,
            "interval_95": simulated.symmetric,
            "shortest_interval_95": simulated.shortest,
            "u_from_trials": {"value": mean, "u": u, "interval_95": [low, high]},
            "first_order": {
                "value": first.value,
                "u": first.standard_uncertainty,
                "interval_95": first.interval,
            },
            "tolerance": check.tolerance,
            "first_order_too_high_by": check.off,
            "first_order_width": check.width,
            "verdict": check.verdict.key(),
        })
    };
    json!({
        "method": "JCGM 101:2008",
        "seed": seed,
        "trials": outcome.trials,
        "drawn_again": outcome.redrawn,
        "stable": outcome.stable,
        "results": model.targets().into_iter().zip(&outcome.results).map(result).collect::<Vec<_>>(),
        "model": model.to_text(),
    })
}

fn place(target: Target) -> (&'static str, Configuration) {
    match target {
        Target::MomentOfInertia(configuration) => ("moment_of_inertia_kg_m2", configuration),
        Target::FrictionTorque(configuration) => ("friction_torque_N_m", configuration),
        Target::Object(id) => ("object_kg_m2", Configuration::Loaded(id)),
        Target::Difference(id) => ("difference_kg_m2", Configuration::Loaded(id)),
    }
}

/// The outcome for people.
pub fn monte_carlo_to_table(lab: &Lab, model: &Model, outcome: &Outcome) -> String {
    let plain = DisplayUnit::prefixed("", 0);
    let mut text = format!(
        "Propagation of distributions (JCGM 101:2008), {} trials{}\n",
        outcome.trials,
        if outcome.stable { "" } else { ", fewer than full precision needs" },
    );
    for ((target, first), simulated) in model.targets().into_iter().zip(&outcome.results) {
        let (_, configuration) = place(target);
        let name = lab.configuration_name(configuration);
        let (what, shown) = match target {
            Target::MomentOfInertia(_) => ("I", both::<KilogramMeters2>(&first, simulated)),
            Target::FrictionTorque(_) => ("τ_f", both::<NewtonMeters>(&first, simulated)),
            Target::Object(_) => ("I alone", both::<KilogramMeters2>(&first, simulated)),
            Target::Difference(_) => ("measured − predicted", both::<KilogramMeters2>(&first, simulated)),
        };
        let check = Check::new(&first, simulated);
        let per_tolerance = check.off.map(|off| show_number(off / check.tolerance, plain, 2));
        let width = show_number(100.0 * check.width, DisplayUnit::prefixed("%", 0), 4);
        let _ = write!(
            text,
            "  {name}: {what}\n    simulated   {}\n    first order {}\n    {}: {width} as wide; its ends are {} and {} tolerances too high\n",
            shown[0],
            shown[1],
            check.verdict.words(),
            per_tolerance[0],
            per_tolerance[1],
        );
    }
    text
}

/// Simulated and first-order result, rounded.
fn both<Q: Quantity>(first: &FirstOrder, simulated: &Simulated) -> [String; 2] {
    let unit = DisplayUnit::engineering(Q::from_si(first.value.abs().max(first.standard_uncertainty)));
    let line = |value: f64, u: f64, [low, high]: [f64; 2]| {
        let half = 0.5 * (high - low);
        let interval = CoverageInterval {
            low: Q::from_si(low),
            high: Q::from_si(high),
            expanded_uncertainty: Q::from_si(half),
            coverage_factor: half / u,
            probability: Probability::P95,
        };
        let Ok(measured) = Measured::new(Q::from_si(value), Q::from_si(u)) else { return "—".to_owned() };
        format!("{}; 95 % interval {}", show(&measured, unit), show_interval(&interval, unit))
    };
    [
        line(simulated.mean, simulated.standard_uncertainty, simulated.symmetric),
        line(first.value, first.standard_uncertainty, first.interval),
    ]
}

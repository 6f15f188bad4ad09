//! What the lab comes to, one quantity a row.

use super::names;
use super::rows::{Cell, Rows, measured};
use crate::analysis::{Analysis, LineOutcome, ObjectOutcome};
use crate::lab::{Configuration, Lab};
use crate::measured::Measured;
use crate::measured::coverage::Probability;
use crate::quantity::{KilogramMeters2, NewtonMeters, Quantity};

const HEADINGS: [&str; 10] = [
    "quantity",
    "table carries",
    "value",
    "standard uncertainty u",
    "degrees of freedom",
    "95 % interval from",
    "95 % interval to",
    "unit",
    "readings are",
    "remark",
];

/// All results. A remark says what is missing, or what a comparison allows one to say; degrees of freedom
/// are empty where they are infinite.
pub fn results(lab: &Lab, analysis: &Analysis) -> String {
    let mut table = Results { rows: Rows::new(&HEADINGS), provenance: Cell::provenance(lab) };
    let names = names::configurations(lab);
    for outcome in &analysis.lines.configurations {
        table.line(names::name_of(lab, &names, outcome.configuration), outcome);
    }
    for outcome in &analysis.objects {
        table.object(names::name_of(lab, &names, Configuration::Loaded(outcome.id)), outcome);
    }
    table.rows.text()
}

/// A result as plain numbers: value, u, degrees of freedom, 95 % interval.
type Numbers = [f64; 5];

fn numbers<Q: Quantity>(result: &Measured<Q>) -> Numbers {
    let [value, u, freedom] = measured(result);
    let interval = result.coverage_interval(Probability::P95);
    [value, u, freedom, interval.low.si(), interval.high.si()]
}

struct Results {
    rows: Rows,
    provenance: Cell<'static>,
}

impl Results {
    #[inline(never)]
    fn push(&mut self, quantity: &str, carries: &str, numbers: Numbers, unit: &str, remark: &str) {
        let [value, u, freedom, low, high] = numbers.map(Cell::Number);
        self.rows.push(&[
            Cell::Text(quantity),
            Cell::Text(carries),
            value,
            u,
            freedom,
            low,
            high,
            Cell::Text(unit),
            self.provenance,
            Cell::Text(remark),
        ]);
    }

    /// A quantity that is missing.
    fn missing(&mut self, quantity: &str, carries: &str, unit: &str, problem: &dyn core::fmt::Display) {
        self.push(quantity, carries, [f64::NAN; 5], unit, &problem.to_string());
    }

    fn line(&mut self, carries: &str, outcome: &LineOutcome) {
        let [inertia, friction] = ["moment of inertia of table and load", "friction torque"];
        match &outcome.inertia {
            Ok(found) => {
                let (moment, torque) = (&found.moment_of_inertia.total, &found.friction_torque.total);
                self.push(inertia, carries, numbers(moment), KilogramMeters2::UNIT, "");
                self.push(friction, carries, numbers(torque), NewtonMeters::UNIT, "");
            }
            Err(problem) => {
                self.missing(inertia, carries, KilogramMeters2::UNIT, problem);
                self.missing(friction, carries, NewtonMeters::UNIT, problem);
            }
        }
    }

    fn object(&mut self, name: &str, outcome: &ObjectOutcome) {
        let unit = KilogramMeters2::UNIT;
        let [alone, predicted] = ["moment of inertia of the object alone", "predicted moment of inertia"];
        match &outcome.measured {
            Ok(found) => self.push(alone, name, numbers(&found.moment_of_inertia.total), unit, ""),
            Err(problem) => self.missing(alone, name, unit, problem),
        }
        match &outcome.predicted {
            Ok(found) => self.push(predicted, name, numbers(&found.moment_of_inertia), unit, ""),
            Err(problem) => self.missing(predicted, name, unit, problem),
        }
        let difference = "measured less predicted";
        match &outcome.comparison {
            Some(Ok(compared)) => {
                let words = compared.verdict.words();
                self.push(difference, name, numbers(&compared.difference), unit, words);
                if let Some(percent) = &compared.percent_difference {
                    self.push("the same, of the prediction", name, numbers(percent), "%", "");
                }
            }
            Some(Err(problem)) => self.missing(difference, name, unit, problem),
            None => {}
        }
    }
}

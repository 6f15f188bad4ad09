//! The practice bench: how often what students find holds what is sealed.
//!
//! Each seed is a student with an apparatus of the standard bench, or of one changed; they read their instruments,
//! take six usual runs of the empty table and six with an object, and let the page's own defaults analyze them.

use crate::{Check, parallel, percent};
use whorl_core::analysis::analyze;
use whorl_core::bench::{Bench, BenchSettings, Commitment, Opened, SealedThing, Seed, Spread};
use whorl_core::lab::Configuration;
use whorl_core::measured::Measured;
use whorl_core::measured::coverage::Probability;
use whorl_core::quantity::{KilogramMeters2, Quantity};
use whorl_core::simulation::gate::EdgesSeen;

/// Runs of each table that a student takes.
const RUNS: usize = 6;

/// What one student found.
struct Student {
    /// Table and object opened; `None` where the lab gave no result.
    opened: [Option<(Opened, f64)>; 2],
    /// Whether the interval of the value predicted from the shape holds the truth.
    predicted: bool,
}

fn commitment(thing: SealedThing, found: &Measured<KilogramMeters2>) -> Commitment {
    let interval = found.coverage_interval(Probability::P95);
    Commitment::new(thing, found.value(), (interval.low, interval.high)).unwrap()
}

fn student(settings: &BenchSettings, number: usize) -> Student {
    let bench = Bench::new(settings, Seed::new(number as u64)).unwrap();
    // Each object in turn.
    let object = number % settings.objects.len();
    let lab = bench.whole_lab(object, RUNS);
    let analysis = analyze(&lab);
    let sealed = bench.sealed();
    let stand_by = |thing, found: &Measured<KilogramMeters2>| {
        (sealed.open(commitment(thing, found)).unwrap(), found.standard_uncertainty().si())
    };
    let table = analysis.lines.inertia(Configuration::EmptyTable);
    let table = table.map(|line| stand_by(SealedThing::Table, &line.moment_of_inertia.total));
    let alone = SealedThing::Object(object);
    let outcome = &analysis.objects[object];
    let measured = outcome.measured.as_ref().ok();
    let measured = measured.map(|found| stand_by(alone, &found.moment_of_inertia.total));
    let predicted = &outcome.predicted.as_ref().unwrap().moment_of_inertia;
    let predicted = sealed.open(commitment(alone, predicted)).unwrap().caught;
    Student { opened: [table, measured], predicted }
}

/// Rows of the table, `count` students each.
pub fn rows(count: usize) -> Vec<Check> {
    let with = |change: &dyn Fn(&mut BenchSettings)| {
        let mut settings = BenchSettings::default();
        change(&mut settings);
        settings
    };
    rows_of(
        &[
            ("the standard bench", BenchSettings::default()),
            ("both edges", with(&|settings| settings.gate.edges = EdgesSeen::Both)),
            ("a clock of 0.1 ms", with(&|settings| settings.gate.clock_step_s = Spread::Fixed(1e-4))),
        ],
        count,
    )
}

/// The first row.
pub fn quick_rows(count: usize) -> Vec<Check> {
    rows_of(&[("the standard bench", BenchSettings::default())], count)
}

fn rows_of(cases: &[(&str, BenchSettings)], count: usize) -> Vec<Check> {
    let mut checks = Vec::new();
    for (name, settings) in cases {
        let students = parallel::map(count, |number| student(settings, number));
        for (which, what) in ["I_table", "I_object"].into_iter().enumerate() {
            let found: Vec<&(Opened, f64)> =
                students.iter().filter_map(|student| student.opened[which].as_ref()).collect();
            // A lab without a result caught nothing.
            let caught = found.iter().filter(|(opened, _)| opened.caught).count();
            let coverage = percent(caught, count);
            checks.push(Check::between(format!("{what}, {name}: coverage %"), coverage, 93.0, 97.0));
            let mean = |of: &dyn Fn(&(Opened, f64)) -> f64| {
                found.iter().map(|found| of(found)).sum::<f64>() / found.len() as f64
            };
            let rms = 100.0 * mean(&|(opened, _)| (opened.error.0 / opened.truth.0).powi(2)).sqrt();
            let u = 100.0 * mean(&|(opened, u)| (u / opened.truth.0).powi(2)).sqrt();
            let bias = 100.0 * mean(&|(opened, _)| opened.error.0 / opened.truth.0);
            let words = format!("   {what}: RMS error %, u reported {u:.3} %, mean error {bias:.3} %");
            checks.push(Check::at_most(words, rms, f64::INFINITY));
        }
        let predicted = students.iter().filter(|student| student.predicted).count();
        let predicted = percent(predicted, count);
        // Lengths that are read to whole millimeters err evenly: their intervals hold the truth too often.
        checks.push(Check::between(format!("predicted, {name}: coverage %"), predicted, 92.0, 100.0));
    }
    checks
}

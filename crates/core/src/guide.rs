//! What comes next: where a lab stands on its way from the apparatus to a comparison.
//!
//! The stations can be worked through in any order; this only points at the first thing that later ones wait for.

use crate::analysis::{LineOutcomes, ObjectOutcome, PointProblem, RunOutcome};
use crate::fit::Points;
use crate::lab::{Configuration, Lab, ObjectId, RunId};
use whorl_words as words;

/// Part of the work that a step belongs to.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Place {
    /// Measuring drum, string, pulley, gravity.
    Apparatus,
    /// Taking runs.
    Runs,
    /// The acceleration of one run.
    Acceleration(RunId),
    /// Describing an object.
    Object(ObjectId),
    /// What may be claimed.
    Comparison,
}

/// The next step.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Next {
    /// Where.
    pub place: Place,
    /// What to do, in one sentence.
    pub words: String,
}

impl Next {
    fn at(place: Place, words: impl Into<String>) -> Self {
        Self { place, words: words.into() }
    }
}

/// Runs that a line needs: the fit's least, and the two more from which its uncertainty is worth having (with t
/// at 1 degree of freedom a 95 % interval is 12.7 u, at 3 it is 3.2 u).
const GOOD_COUNT: usize = Points::MIN + 2;

/// The next step of a lab, from its own outcomes.
pub fn next(lab: &Lab, runs: &[RunOutcome], lines: &LineOutcomes, objects: &[ObjectOutcome]) -> Next {
    of_apparatus(lab)
        .or_else(|| of_runs(lab, runs))
        .or_else(|| of_tables(lab, lines))
        .or_else(|| of_objects(lab, objects))
        .unwrap_or_else(|| Next::at(Place::Comparison, words::guide::claim()))
}

fn of_apparatus(lab: &Lab) -> Option<Next> {
    let missing = lab.apparatus.check().err()?;
    if lab.is_blank() {
        return Some(Next::at(Place::Apparatus, words::guide::begin()));
    }
    Some(Next::at(Place::Apparatus, words::guide::measure(&missing)))
}

fn of_runs(lab: &Lab, runs: &[RunOutcome]) -> Option<Next> {
    if lab.runs().is_empty() {
        return Some(Next::at(Place::Runs, words::guide::first_runs()));
    }
    let without_mass =
        lab.runs().iter().zip(runs).filter(|(_, run)| matches!(run.point, Err(PointProblem::MassMissing)));
    let (mut count, mut name) = (0_usize, "");
    for (run, _) in without_mass {
        if count == 0 {
            name = &run.name;
        }
        count += 1;
    }
    if count > 0 {
        let say = match count {
            1 => words::guide::hanging_mass(&name),
            _ => words::guide::hanging_masses(&count, &name),
        };
        return Some(Next::at(Place::Runs, say));
    }
    lab.runs().iter().zip(runs).find_map(|(run, outcome)| {
        let problem = outcome.point.as_ref().err()?;
        Some(Next::at(Place::Acceleration(run.id), words::guide::mend_run(&run.name, problem)))
    })
}

fn of_tables(lab: &Lab, lines: &LineOutcomes) -> Option<Next> {
    let used = |configuration: Configuration| {
        lines
            .configurations
            .iter()
            .find(|line| line.configuration == configuration)
            .map_or(0, |line| line.used.len())
    };
    let empty = used(Configuration::EmptyTable);
    if empty < Points::MIN {
        let missing = Points::MIN - empty;
        return Some(Next::at(Place::Runs, words::guide::empty_runs(&missing)));
    }
    if lab.objects().is_empty() {
        return Some(Next::at(Place::Runs, words::guide::add_object()));
    }
    let short = |least: usize| {
        lab.objects().iter().find_map(|object| {
            let have = used(Configuration::Loaded(object.id));
            (have < least).then(|| (object.name.as_str(), least - have))
        })
    };
    if let Some((name, missing)) = short(Points::MIN) {
        return Some(Next::at(Place::Runs, words::guide::loaded_runs(&missing, &name)));
    }
    if empty < GOOD_COUNT {
        return Some(Next::at(Place::Runs, words::guide::more_empty(&(GOOD_COUNT - empty))));
    }
    short(GOOD_COUNT).map(|(name, missing)| Next::at(Place::Runs, words::guide::more_loaded(&missing, &name)))
}

fn of_objects(lab: &Lab, objects: &[ObjectOutcome]) -> Option<Next> {
    objects.iter().find_map(|object| {
        let problem = object.predicted.as_ref().err()?;
        let name = lab.configuration_name(Configuration::Loaded(object.id));
        Some(Next::at(Place::Object(object.id), words::guide::describe(&name, problem)))
    })
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::analysis::{Analysis, analyze};
    use crate::bodies::Shape;
    use crate::lab::{PartEntry, Record, RunEntry};
    use crate::measured::Measured;
    use crate::quantity::{Kilograms, Meters, MetersPerSecond2};
    use crate::torque::Motion;

    #[track_caller]
    fn check(lab: &Lab, place: Place, part: &str) {
        let Analysis { runs, lines, objects } = analyze(lab);
        let next = next(lab, &runs, &lines, &objects);
        assert!(next.place == place && next.words.contains(part), "{next:?}");
    }

    fn run(configuration: Configuration, grams: f64) -> RunEntry {
        let a = 0.1 + grams * 0.004;
        RunEntry {
            id: RunId(0),
            name: format!("{grams} g"),
            configuration,
            hanging_mass: Some(Kilograms(grams / 1000.0)),
            motion: Motion::Falling,
            stretch: None,
            record: Record::Acceleration(Measured::new(MetersPerSecond2(a), MetersPerSecond2(0.001)).ok()),
            source: None,
        }
    }

    #[test]
    fn it_points_at_one_thing_after_the_other() {
        let mut lab = Lab::default();
        check(&lab, Place::Apparatus, "Begin");
        lab.title = "Wheel".to_owned();
        check(&lab, Place::Apparatus, "drum");
        lab.apparatus.drum_radius = Measured::new(Meters(0.025), Meters(3e-5)).ok();
        lab.apparatus.string_diameter = Measured::new(Meters(0.001), Meters(5e-5)).ok();
        lab.apparatus.gravity = Measured::new(MetersPerSecond2(9.81), MetersPerSecond2(0.003)).ok();
        check(&lab, Place::Runs, "first runs");

        let id = lab.add_run(RunEntry { hanging_mass: None, ..run(Configuration::EmptyTable, 20.0) });
        check(&lab, Place::Runs, "20 g");
        lab.run_mut(id).unwrap().hanging_mass = Some(Kilograms(0.02));
        check(&lab, Place::Runs, "2 more runs with the empty table");
        lab.run_mut(id).unwrap().record = Record::Acceleration(None);
        check(&lab, Place::Acceleration(id), "enter the acceleration");
        lab.remove_run(id);

        for grams in [10.0, 20.0, 30.0] {
            lab.add_run(run(Configuration::EmptyTable, grams));
        }
        check(&lab, Place::Runs, "object");
        let disc = lab.add_object("slate disc".to_owned(), vec![PartEntry::new(Shape::Disc)]);
        check(&lab, Place::Runs, "3 runs with “slate disc”");
        for grams in [100.0, 150.0, 200.0, 250.0, 300.0] {
            lab.add_run(run(Configuration::Loaded(disc), grams));
        }
        check(&lab, Place::Runs, "2 more runs with the empty table");
        for grams in [40.0, 50.0] {
            lab.add_run(run(Configuration::EmptyTable, grams));
        }
        check(&lab, Place::Object(disc), "slate disc");
        let part = &mut lab.object_mut(disc).unwrap().parts[0];
        part.mass = Measured::new(Kilograms(1.2), Kilograms(0.001)).ok();
        part.dimensions[0] = Measured::new(Meters(0.12), Meters(1e-4)).ok();
        check(&lab, Place::Comparison, "claim");
    }
}

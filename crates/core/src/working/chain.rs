//! From a result back to the readings: how each came about, and from which results before it.
//!
//! ```text
//! comparison → object → line of the loaded table → run → effective radius
//!                     → line of the empty table         → readings
//! ```

use super::{
    Working, acceleration, comparison, effective_radius, line, object, part, prediction_sum, torque_point,
};
use crate::analysis::{LineOutcomes, ObjectOutcome, RunOutcome};
use crate::apparatus::Apparatus;
use crate::lab::{Configuration, Lab, ObjectId, Record, RunEntry, RunId};
use crate::measured::shown::{DisplayUnit, show, show_number};
use crate::measured::{Combined, Measured};
use crate::quantity::{KilogramMeters2, Meters, MetersPerSecond2, Quantity, Seconds};
use whorl_words as words;

/// Something that was worked out.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Subject {
    /// Measured beside predicted.
    Comparison(ObjectId),
    /// The loaded table less the empty one.
    Object(ObjectId),
    /// Slope and intercept of a configuration.
    Line(Configuration),
    /// Acceleration and torque point of a run.
    Run(RunId),
    /// The radius at which the string pulls.
    Radius,
    /// What a run's readings are; nothing was worked out before them.
    Readings(RunId),
}

/// A lab with all that follows from it.
#[derive(Clone, Copy)]
pub struct Results<'a> {
    /// What was entered.
    pub lab: &'a Lab,
    /// The apparatus, where it is complete.
    pub apparatus: Option<&'a Apparatus>,
    /// Of the runs.
    pub runs: &'a [RunOutcome],
    /// Of the configurations.
    pub lines: &'a LineOutcomes,
    /// Of the objects.
    pub objects: &'a [ObjectOutcome],
}

/// How one subject came about.
#[derive(Clone, Debug, PartialEq)]
pub struct Link {
    /// What it is.
    pub title: String,
    /// Its value, or what the readings are; empty where several numbers are the result.
    pub value: String,
    /// The calculations; none for readings.
    pub steps: Vec<Working>,
    /// Where the numbers put in come from; those that were typed in come from nowhere.
    pub from: Vec<Subject>,
}

impl Results<'_> {
    /// How a subject came about; `None` while it has no result.
    pub fn link(&self, subject: Subject) -> Option<Link> {
        match subject {
            Subject::Comparison(id) => self.comparison(id),
            Subject::Object(id) => self.object(id),
            Subject::Line(configuration) => self.line(configuration),
            Subject::Run(id) => self.run(id),
            Subject::Radius => {
                let apparatus = self.apparatus?;
                let radius = apparatus.effective_radius().ok()?;
                Some(Link {
                    title: words::working::of_radius().to_owned(),
                    value: show::<Meters>(&radius, DisplayUnit::MILLIMETERS).to_string(),
                    steps: vec![effective_radius(apparatus)],
                    from: Vec::new(),
                })
            }
            Subject::Readings(id) => Some(self.readings(self.lab.run(id)?)),
        }
    }

    /// One link as text, with the steps as `own` writes them.
    pub fn text_of(&self, subject: Subject, own: &dyn Fn(Vec<Working>) -> Vec<Working>) -> String {
        let link = self.link(subject);
        link.map_or_else(String::new, |link| link_text(&Link { steps: own(link.steps.clone()), ..link }))
    }

    /// The whole chain behind a subject as text: each link once, results before what they come from.
    pub fn text(&self, subject: Subject, own: &dyn Fn(Vec<Working>) -> Vec<Working>) -> String {
        let (mut told, mut waiting) = (Vec::new(), std::collections::VecDeque::from([subject]));
        let mut text = String::new();
        while let Some(next) = waiting.pop_front() {
            let Some(link) = self.link(next).filter(|_| !told.contains(&next)) else { continue };
            told.push(next);
            text += &link_text(&Link { steps: own(link.steps.clone()), ..link.clone() });
            waiting.extend(link.from);
        }
        text
    }

    fn comparison(&self, id: ObjectId) -> Option<Link> {
        let outcome = self.objects.iter().find(|object| object.id == id)?;
        let mut steps = Vec::new();
        if let Ok(prediction) = &outcome.predicted {
            let several = prediction.parts.len() > 1;
            let parts = prediction.parts.iter().enumerate();
            steps.extend(parts.map(|(index, (body, moment))| part(body, moment, several.then_some(index))));
            steps.extend(prediction_sum(prediction));
        }
        if let Some(Ok(found)) = &outcome.comparison {
            steps.extend(comparison(found));
        }
        let name = self.lab.configuration_name(Configuration::Loaded(id));
        (!steps.is_empty()).then(|| Link {
            title: words::working::of_comparison(&name),
            value: String::new(),
            steps,
            from: outcome.measured.is_ok().then_some(Subject::Object(id)).into_iter().collect(),
        })
    }

    fn object(&self, id: ObjectId) -> Option<Link> {
        let loaded = Configuration::Loaded(id);
        let found = self.objects.iter().find(|object| object.id == id)?.measured.as_ref().ok()?;
        let (with, without) = (self.lines.inertia(loaded)?, self.lines.inertia(Configuration::EmptyTable)?);
        Some(Link {
            title: words::working::of_object(&self.lab.configuration_name(loaded)),
            value: moment(&found.moment_of_inertia),
            steps: object(found, with, without),
            from: vec![Subject::Line(loaded), Subject::Line(Configuration::EmptyTable)],
        })
    }

    fn line(&self, configuration: Configuration) -> Option<Link> {
        let outcome = self.lines.configurations.iter().find(|line| line.configuration == configuration)?;
        let inertia = outcome.inertia.as_ref().ok()?;
        Some(Link {
            title: words::working::of_line(&self.lab.configuration_name(configuration)),
            value: moment(&inertia.moment_of_inertia),
            steps: line(inertia),
            from: outcome.used.iter().copied().map(Subject::Run).collect(),
        })
    }

    fn run(&self, id: RunId) -> Option<Link> {
        let entry = self.lab.run(id)?;
        let outcome = self.runs.iter().find(|run| run.id == id)?;
        let fit = outcome.fit.as_ref().ok()?;
        let mut steps = acceleration(fit);
        let mut from = vec![Subject::Readings(id)];
        if let (Some(apparatus), Ok(placed)) = (self.apparatus, &outcome.point) {
            steps.extend(torque_point(&placed.point, apparatus));
            from.push(Subject::Radius);
        }
        Some(Link {
            title: words::working::of_run(&entry.name),
            value: show(&fit.acceleration, DisplayUnit::si::<MetersPerSecond2>()).to_string(),
            steps,
            from,
        })
    }

    fn readings(&self, run: &RunEntry) -> Link {
        let seconds = |time: Seconds| show_number(time.si(), DisplayUnit::si::<Seconds>(), 4);
        let value = match (&run.record, run.record.readings()) {
            (_, Some(readings)) => {
                let (first, last) = readings.time_span();
                let held = words::runs::holds(
                    &readings.count(),
                    &readings.kind().noun(),
                    &seconds(Seconds(last.0 - first.0)),
                );
                let outcome = self.runs.iter().find(|outcome| outcome.id == run.id);
                match outcome.and_then(|outcome| outcome.stretch) {
                    Some(stretch) => {
                        words::working::readings_used(&held, &seconds(stretch.from()), &seconds(stretch.to()))
                    }
                    None => held,
                }
            }
            (Record::Stopwatch(times), None) => {
                times.iter().map(|time| seconds(*time)).collect::<Vec<_>>().join("; ")
            }
            _ => words::working::typed_in().to_owned(),
        };
        let value = match &run.source {
            Some(source) => words::working::from_file(&value, &source.file),
            None => value,
        };
        Link { title: words::working::of_readings(&run.name), value, steps: Vec::new(), from: Vec::new() }
    }
}

fn moment(found: &Combined<KilogramMeters2>) -> String {
    let total: &Measured<KilogramMeters2> = &found.total;
    show(total, DisplayUnit::engineering(total.value())).to_string()
}

fn link_text(link: &Link) -> String {
    let mut text =
        if link.value.is_empty() { link.title.clone() } else { format!("{}: {}", link.title, link.value) };
    text.push('\n');
    for step in &link.steps {
        for line in [step.words.to_owned(), step.equation(), step.substituted(), step.outcome()] {
            text += "  ";
            text += &line;
            text.push('\n');
        }
    }
    text.push('\n');
    text
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::analysis::{Analysis, analyze};
    use crate::working::tests::lab;

    /// Every subject reachable from the comparison, in the order of the text.
    fn all(results: &Results<'_>, first: Subject) -> Vec<Subject> {
        let mut met = vec![first];
        let mut next = 0;
        while let Some(subject) = met.get(next).copied() {
            for from in results.link(subject).unwrap().from {
                if !met.contains(&from) {
                    met.push(from);
                }
            }
            next += 1;
        }
        met
    }

    #[test]
    fn the_comparison_leads_back_to_every_run_s_readings_and_the_radius() {
        let lab = lab();
        let Analysis { runs, lines, objects } = analyze(&lab);
        let apparatus = lab.apparatus.check().unwrap();
        let results =
            Results { lab: &lab, apparatus: Some(&apparatus), runs: &runs, lines: &lines, objects: &objects };
        let met = all(&results, Subject::Comparison(lab.objects()[0].id));
        assert!(met.contains(&Subject::Radius));
        for run in lab.runs() {
            assert!(
                met.contains(&Subject::Run(run.id)) && met.contains(&Subject::Readings(run.id)),
                "{}",
                run.name
            );
        }
        // Comparison, object, two lines, radius, and two per run.
        assert_eq!(met.len(), 5 + 2 * lab.runs().len());
    }

    #[test]
    fn the_text_holds_each_link_once_with_equation_values_and_result() {
        let lab = lab();
        let Analysis { runs, lines, objects } = analyze(&lab);
        let apparatus = lab.apparatus.check().unwrap();
        let results =
            Results { lab: &lab, apparatus: Some(&apparatus), runs: &runs, lines: &lines, objects: &objects };
        let text = results.text(Subject::Object(lab.objects()[0].id), &|steps| steps);
        assert_eq!(text.matches("R_e = R + d/2").count(), 1, "{text}");
        assert_eq!(text.matches("R_e = 0.025\u{202f}m").count(), 1, "the values put in: {text}");
        assert_eq!(text.matches("Readings of “").count(), lab.runs().len());
        assert_eq!(text.matches("I_object = I_loaded − I_empty").count(), 1, "{text}");
    }

    #[test]
    fn what_has_no_result_has_no_link() {
        let lab = Lab::default();
        let Analysis { runs, lines, objects } = analyze(&lab);
        let results = Results { lab: &lab, apparatus: None, runs: &runs, lines: &lines, objects: &objects };
        assert_eq!(results.link(Subject::Radius), None);
        assert_eq!(results.link(Subject::Line(Configuration::EmptyTable)), None);
        assert_eq!(results.link(Subject::Run(RunId(3))), None);
    }
}

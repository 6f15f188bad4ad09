//! Models and outcomes as lines of numbers, for handing them to another thread of computation: a key, then
//! numbers in the shortest form that comes back to the same bits.

use super::model::{Line, Model, Object, Predicted, Run, Shared};
use super::{FirstOrder, Outcome, Simulated, whole};
use crate::acceleration::Scale;
use crate::lab::{Configuration, ObjectId};
use crate::torque::Motion;
use core::fmt::Write as _;

/// First word of a model's text.
const MODEL: &str = "whorl-monte-carlo-1";

fn write(text: &mut String, key: &str, numbers: &[f64]) {
    text.push_str(key);
    for number in numbers {
        let _ = write!(text, " {number}");
    }
    text.push('\n');
}

/// The next so many numbers of a line.
fn numbers<const N: usize>(words: &mut dyn Iterator<Item = &str>) -> Option<[f64; N]> {
    let mut found = [0.0; N];
    for place in &mut found {
        *place = words.next()?.parse().ok()?;
    }
    Some(found)
}

fn finite<const N: usize>(words: &mut dyn Iterator<Item = &str>) -> Option<[f64; N]> {
    numbers(words).filter(|found| found.iter().all(|number| number.is_finite()))
}

fn place<T: PartialEq>(all: &[T], one: &T) -> f64 {
    all.iter().position(|other| other == one).unwrap_or(0) as f64
}

fn at<T: Copy>(all: &[T], place: f64) -> Option<T> {
    all.get(whole(place)).copied()
}

const SCALES: [Scale; 4] = [Scale::Travel, Scale::Radius, Scale::Height, Scale::Itself];

fn object(number: f64) -> ObjectId {
    ObjectId(u32::try_from(whole(number)).unwrap_or(u32::MAX))
}

/// The empty table as −1, an object by its number.
fn configuration(number: f64) -> Configuration {
    if number < 0.0 { Configuration::EmptyTable } else { Configuration::Loaded(object(number)) }
}

impl FirstOrder {
    fn numbers(&self) -> [f64; 4] {
        let [low, high] = self.interval;
        [self.value, self.standard_uncertainty, low, high]
    }

    fn from_words(words: &mut dyn Iterator<Item = &str>) -> Option<Self> {
        let [value, standard_uncertainty, low, high] = finite(words)?;
        Some(Self { value, standard_uncertainty, interval: [low, high] })
    }
}

impl Model {
    /// As text.
    pub fn to_text(&self) -> String {
        let mut text = format!("{MODEL}\n");
        let shared = &self.shared;
        write(&mut text, "drum", &shared.drum_radius);
        write(&mut text, "string", &shared.string_diameter);
        write(&mut text, "gravity", &shared.gravity);
        write(&mut text, "relative", &[shared.travel, shared.height, shared.balance]);
        let [pulley, u] = shared.pulley_inertia;
        write(&mut text, "pulley", &[pulley, u, shared.pulley_radius]);
        write(&mut text, "mass", &[shared.hanging_mass]);
        write(&mut text, "friction", &self.friction);
        if let Some(u) = self.drag {
            write(&mut text, "drag", &[u]);
        }
        for line in &self.lines {
            let number = match line.configuration {
                Configuration::EmptyTable => -1.0,
                Configuration::Loaded(id) => f64::from(id.0),
            };
            write(&mut text, "line", &[number, line.friction]);
            write(&mut text, "moment", &line.moment_of_inertia.numbers());
            write(&mut text, "torque", &line.friction_torque.numbers());
            for run in &line.runs {
                let ([a, u], [rate, u_rate]) = (run.acceleration, run.rate);
                let (motion, scale) = (place(&Motion::ALL, &run.motion), place(&SCALES, &run.scale));
                let run = [motion, scale, run.mass, a, u, run.degrees_of_freedom, rate, u_rate, run.effect];
                write(&mut text, "run", &run);
            }
        }
        for object in &self.objects {
            write(&mut text, "object", &[f64::from(object.id.0)]);
            write(&mut text, "alone", &object.moment_of_inertia.numbers());
            if let Some(predicted) = &object.predicted {
                let [value, u] = predicted.value;
                write(&mut text, "predicted", &[value, u, predicted.degrees_of_freedom]);
                write(&mut text, "difference", &predicted.difference.numbers());
            }
        }
        text
    }

    /// From [`Self::to_text`]; `None` for any other text.
    pub fn from_text(text: &str) -> Option<Self> {
        let mut lines = text.lines().peekable();
        let mut next = |key: &str| {
            let mut words = lines.peek()?.split(' ');
            if words.next() != Some(key) {
                return None;
            }
            lines.next();
            Some(words)
        };
        next(MODEL)?;
        let drum_radius = finite(&mut next("drum")?)?;
        let string_diameter = finite(&mut next("string")?)?;
        let gravity = finite(&mut next("gravity")?)?;
        let [travel, height, balance] = finite(&mut next("relative")?)?;
        let [pulley, u, pulley_radius] = finite(&mut next("pulley")?)?;
        let [hanging_mass] = finite(&mut next("mass")?)?;
        let friction = finite(&mut next("friction")?)?;
        let drag = match next("drag") {
            Some(mut words) => Some(finite::<1>(&mut words)?[0]),
            None => None,
        };
        let shared = Shared {
            drum_radius,
            string_diameter,
            gravity,
            travel,
            height,
            balance,
            pulley_inertia: [pulley, u],
            pulley_radius,
            hanging_mass,
        };
        let mut model = Self { shared, friction, drag, lines: Vec::new(), objects: Vec::new() };
        while let Some(mut words) = next("line") {
            let [number, friction] = finite(&mut words)?;
            let moment_of_inertia = FirstOrder::from_words(&mut next("moment")?)?;
            let friction_torque = FirstOrder::from_words(&mut next("torque")?)?;
            let mut runs = Vec::new();
            while let Some(mut words) = next("run") {
                let [motion, scale, mass, a, u] = finite(&mut words)?;
                let [degrees_of_freedom] = numbers(&mut words)?;
                let [rate, u_rate, effect] = finite(&mut words)?;
                runs.push(Run {
                    motion: at(&Motion::ALL, motion)?,
                    scale: at(&SCALES, scale)?,
                    mass,
                    acceleration: [a, u],
                    degrees_of_freedom,
                    rate: [rate, u_rate],
                    effect,
                });
            }
            let configuration = configuration(number);
            model.lines.push(Line { configuration, friction, runs, moment_of_inertia, friction_torque });
        }
        while let Some(mut words) = next("object") {
            let [number] = finite(&mut words)?;
            let id = object(number);
            let moment_of_inertia = FirstOrder::from_words(&mut next("alone")?)?;
            let mut predicted = None;
            if let Some(mut words) = next("predicted") {
                let value = finite(&mut words)?;
                let [degrees_of_freedom] = numbers(&mut words)?;
                let difference = FirstOrder::from_words(&mut next("difference")?)?;
                predicted = Some(Predicted { value, degrees_of_freedom, difference });
            }
            model.objects.push(Object { id, moment_of_inertia, predicted });
        }
        let has = |wanted| model.lines.iter().any(|line| line.configuration == wanted);
        let complete =
            |object: &Object| has(Configuration::Loaded(object.id)) && has(Configuration::EmptyTable);
        let sound = !model.lines.is_empty()
            && model.lines.iter().all(|line| line.runs.len() > 2)
            && model.objects.iter().all(complete);
        (sound && lines.next().is_none()).then_some(model)
    }
}

impl Outcome {
    /// As text.
    pub fn to_text(&self) -> String {
        let mut text = String::new();
        let stable = if self.stable { 1.0 } else { 0.0 };
        write(&mut text, "trials", &[self.trials as f64, self.redrawn as f64, stable]);
        for result in &self.results {
            let mut numbers = vec![result.mean, result.standard_uncertainty];
            numbers.extend(result.symmetric.iter().chain(&result.shortest).chain(&result.deviations));
            numbers.extend(&result.shape);
            write(&mut text, "result", &numbers);
        }
        text
    }

    /// From [`Self::to_text`]; `None` for any other text.
    pub fn from_text(text: &str) -> Option<Self> {
        let mut lines = text.lines();
        let mut words = lines.next()?.split(' ').skip(1);
        let [trials, redrawn, stable] = finite(&mut words)?;
        let mut results = Vec::new();
        for line in lines {
            let mut words = line.split(' ').skip(1);
            let [mean, standard_uncertainty] = numbers(&mut words)?;
            let (symmetric, shortest) = (numbers(&mut words)?, numbers(&mut words)?);
            let deviations = numbers(&mut words)?;
            let shape = words.map(|word| word.parse().ok()).collect::<Option<Vec<f64>>>()?;
            results.push(Simulated { mean, standard_uncertainty, symmetric, shortest, deviations, shape });
        }
        Some(Self { trials: whole(trials), redrawn: whole(redrawn), stable: stable > 0.0, results })
    }
}

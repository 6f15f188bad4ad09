//! What seems wrong with a lab, how sure that is, and what to do about it.
//!
//! [`diagnose`] looks at a lab and its results and says so in a student's words; each [`Finding`] carries
//! its evidence and, where there is one, a [`Fix`] that [`apply`] makes.
//!
//! | file | asks |
//! |---|---|
//! | [`units`] | grams for kilograms; a diameter for a radius; a string without thickness |
//! | [`falls`] | is each run one fall: floor, slip, a start too early |
//! | [`turns`] | does something go with the table's turns: not level, load off axis |
//! | [`spokes`] | are the spokes equal, and how many are there |
//! | [`labels`] | are two labels exchanged, does one run lie off its line |
//! | [`trends`] | drag; friction that comes out below zero |
//! | [`design`] | enough masses, wide enough, what dominates the uncertainty |
//! | [`noise`] | how restless are string and clock |
//!
//! Few false alarms. A question asked of many runs or many places at once has its p multiplied by how
//! many there are (Bonferroni), and is answered with yes only below [`ALARM`]; some eight such questions make
//! that less than one false alarm in a hundred labs. What a student can do nothing about, or what is too
//! small to matter, is not said. One trouble hides others: what rests on a run or a line that is
//! plainly spoiled is asked only when that is mended.

pub mod design;
pub mod falls;
pub mod labels;
pub mod noise;
pub mod spokes;
pub mod trends;
pub mod turns;
pub mod units;

mod fixes;
mod p_values;
mod probe;

pub use fixes::{Fix, apply};
pub use p_values::{Ps, RunPs, p_values};
pub use probe::Probe;

use crate::analysis::Analysis;
use crate::inertia::Source;
use crate::lab::{Configuration, Lab, RunId};
use crate::measured::shown::{DisplayUnit, show_number};
use whorl_words as words;

/// The p below which a question about a lab is answered with yes.
pub const ALARM: f64 = 1e-3;

/// What is wrong.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Cause {
    /// Friction grows with speed.
    Drag,
    /// The opposite: the pull grows during the runs.
    Quickening,
    /// Friction comes out below zero.
    NegativeFriction,
    /// The pulley's spokes are not evenly spaced.
    UnequalSpokes,
    /// The pulley has another number of spokes than entered.
    SpokeCount {
        /// As many as the readings say.
        likely: u32,
    },
    /// The table is not level, or its load off axis.
    NotLevel,
    /// The string slipped on the drum.
    StringSlip,
    /// The mass reached the floor inside the stretch.
    FloorInside,
    /// The stretch begins before the mass fell freely.
    StartInside,
    /// Something else happened inside a run.
    Jolt,
    /// Two runs carry each other's label.
    ExchangedLabels,
    /// A mass in grams where kilograms belong.
    GramsAsKilograms,
    /// A mass in kilograms where grams belong.
    KilogramsAsGrams,
    /// The drum's diameter entered as its radius.
    DiameterAsRadius,
    /// Half of the drum's radius, or objects' diameters as their radii.
    RadiusHalved,
    /// One object's diameters entered as radii.
    ObjectDiameterAsRadius,
    /// The string has no thickness.
    StringForgotten,
    /// One run lies off its line.
    OutlyingRun,
    /// Fewer than four different masses.
    TooFewMasses,
    /// Angular accelerations too much alike.
    NarrowRange,
    /// One input makes most of the uncertainty.
    DominatingInput {
        /// Which.
        source: Source,
    },
    /// The string's own restlessness is large.
    StringNoise,
    /// The clock's steps are coarse.
    CoarseClock,
    /// The logger used another travel per spoke.
    LoggerTravelDiffers,
}

impl Cause {
    /// Name in results.
    pub fn key(self) -> &'static str {
        match self {
            Self::Drag => "drag",
            Self::Quickening => "quickening",
            Self::NegativeFriction => "negative-friction",
            Self::UnequalSpokes => "unequal-spokes",
            Self::SpokeCount { .. } => "spoke-count",
            Self::NotLevel => "not-level",
            Self::StringSlip => "string-slip",
            Self::FloorInside => "floor-inside",
            Self::StartInside => "start-inside",
            Self::Jolt => "jolt",
            Self::ExchangedLabels => "exchanged-labels",
            Self::GramsAsKilograms => "grams-as-kilograms",
            Self::KilogramsAsGrams => "kilograms-as-grams",
            Self::DiameterAsRadius => "diameter-as-radius",
            Self::RadiusHalved => "radius-halved",
            Self::ObjectDiameterAsRadius => "object-diameter-as-radius",
            Self::StringForgotten => "string-forgotten",
            Self::OutlyingRun => "outlying-run",
            Self::TooFewMasses => "too-few-masses",
            Self::NarrowRange => "narrow-range",
            Self::DominatingInput { .. } => "dominating-input",
            Self::StringNoise => "string-noise",
            Self::CoarseClock => "coarse-clock",
            Self::LoggerTravelDiffers => "logger-travel-differs",
        }
    }
}

/// How much it matters.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum Severity {
    /// Good to know; the results stand.
    Note,
    /// Worth a look: the results may be off.
    Look,
    /// The results are wrong until it is mended.
    Spoils,
}

impl Severity {
    /// Name in results.
    pub fn key(self) -> &'static str {
        match self {
            Self::Note => "note",
            Self::Look => "look",
            Self::Spoils => "spoils",
        }
    }

    /// Plain words before a finding.
    pub fn words(self) -> &'static str {
        match self {
            Self::Note => words::diagnosis::note(),
            Self::Look => words::diagnosis::look(),
            Self::Spoils => words::diagnosis::spoils(),
        }
    }
}

/// A number that a finding rests on.
#[derive(Clone, Debug, PartialEq)]
pub struct Evidence {
    /// What it is, for example `cubic term, t`.
    pub statistic: &'static str,
    /// The number, in `unit`.
    pub value: f64,
    /// Unit; empty for a pure number.
    pub unit: &'static str,
    /// Degrees of freedom: none, one (t, χ²) or two (F).
    pub degrees_of_freedom: Vec<f64>,
    /// How likely a number at least as extreme is where nothing is wrong, corrected for how many were
    /// looked at.
    pub p: Option<f64>,
}

impl Evidence {
    /// A number that needs no test.
    pub fn plain(statistic: &'static str, value: f64, unit: &'static str) -> Self {
        Self { statistic, value, unit, degrees_of_freedom: Vec::new(), p: None }
    }

    /// A statistic with its p.
    pub fn test(statistic: &'static str, value: f64, degrees_of_freedom: Vec<f64>, p: f64) -> Self {
        Self { statistic, value, unit: "", degrees_of_freedom, p: Some(p.min(1.0)) }
    }
}

/// Something that seems wrong.
#[derive(Clone, Debug, PartialEq)]
pub struct Finding {
    /// What.
    pub cause: Cause,
    /// How much it matters.
    pub severity: Severity,
    /// The runs concerned; empty for all.
    pub runs: Vec<RunId>,
    /// The configuration concerned, if it is one.
    pub configuration: Option<Configuration>,
    /// What seems wrong and how sure that is, in a student's words.
    pub words: String,
    /// What to do.
    pub remedy: String,
    /// What it rests on.
    pub evidence: Vec<Evidence>,
    /// What one click can do.
    pub fix: Option<Fix>,
}

impl Finding {
    fn new(cause: Cause, severity: Severity, words: String, remedy: &str) -> Self {
        Self {
            cause,
            severity,
            runs: Vec::new(),
            configuration: None,
            words,
            remedy: remedy.to_owned(),
            evidence: Vec::new(),
            fix: None,
        }
    }
}

/// A lab under the lens.
struct Look<'a> {
    lab: &'a Lab,
    analysis: &'a Analysis,
    /// Runs with a fit of edge times.
    probes: Vec<Probe>,
    found: Vec<Finding>,
}

impl Look<'_> {
    fn has(&self, wanted: fn(&Cause) -> bool) -> bool {
        self.found.iter().any(|finding| wanted(&finding.cause))
    }

    fn name(&self, run: RunId) -> String {
        self.lab.run(run).map_or_else(String::new, |run| ["“", &run.name, "”"].concat())
    }

    /// Names of runs, the first three of them where they are many.
    fn names(&self, runs: &[RunId]) -> String {
        let many = runs.len() > 4;
        let names: Vec<String> =
            runs.iter().take(if many { 3 } else { 4 }).map(|run| self.name(*run)).collect();
        match names.split_last() {
            _ if many => words::diagnosis::names_and_others(&names.join(", ")),
            Some((last, before)) if !before.is_empty() => {
                words::diagnosis::names_and_last(&before.join(", "), last)
            }
            _ => names.concat(),
        }
    }
}

/// Looks a lab over; what matters most comes first. Of what is missing it says nothing.
pub fn diagnose(lab: &Lab, analysis: &Analysis) -> Vec<Finding> {
    let probes = Probe::all(lab, analysis);
    let mut look = Look { lab, analysis, probes, found: Vec::new() };
    units::masses(&mut look);
    let jolts = falls::check(&mut look);
    spokes::count(&mut look);
    turns::check(&mut look);
    falls::jolts(&mut look, jolts);
    spokes::check(&mut look);
    // With a mass off by a thousand no line means anything.
    if !look.has(|cause| matches!(cause, Cause::GramsAsKilograms | Cause::KilogramsAsGrams)) {
        labels::exchanged(&mut look);
        labels::outlying(&mut look);
        design::masses(&mut look);
        units::radius(&mut look);
    }
    if look.found.iter().all(|finding| finding.severity != Severity::Spoils) {
        trends::drag(&mut look);
        trends::friction(&mut look);
        design::budget(&mut look);
    }
    units::string(&mut look);
    noise::check(&mut look);
    noise::travel(&mut look);
    // In the order found among those that matter alike.
    let mut sorted = Vec::with_capacity(look.found.len());
    for severity in [Severity::Spoils, Severity::Look, Severity::Note] {
        sorted.extend(look.found.iter().filter(|finding| finding.severity == severity).cloned());
    }
    sorted
}

/// A number with its unit, in so many digits.
fn number(si: f64, symbol: &'static str, prefix: i32, digits: i32) -> String {
    show_number(si, DisplayUnit::prefixed(symbol, prefix), digits)
}

fn percent(part: f64) -> String {
    number(100.0 * part, "%", 0, 2)
}

fn millimeters(length: f64) -> String {
    number(length, "mm", -3, 2)
}

#[cfg(test)]
mod tests;

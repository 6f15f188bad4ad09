//! `whorl analyse`: a saved lab to its results.

use crate::open_lab;
use std::fmt::Write as _;
use std::path::Path;
use whorl_core::analysis::{Analysis, analyze};
use whorl_core::lab::Lab;
use whorl_core::monte_carlo::{Limits, Model, Outcome, SEED, Simulation};
use whorl_core::report;

/// What was asked for.
pub(crate) struct Request<'a> {
    lab: &'a str,
    table: bool,
    /// The most trials, where distributions are to be propagated.
    trials: Option<usize>,
}

impl<'a> Request<'a> {
    /// `None` when the words make no sense.
    pub(crate) fn from_words(words: &[&'a str]) -> Option<Self> {
        let (mut lab, mut table, mut trials) = (None, false, None);
        let mut words = words.iter().copied().peekable();
        while let Some(word) = words.next() {
            match word {
                "--table" => table = true,
                "--monte-carlo" => {
                    let given = words.peek().and_then(|word| word.parse().ok()).filter(|&trials| trials > 0);
                    if given.is_some() {
                        words.next();
                    }
                    trials = Some(given.unwrap_or(Limits::default().at_most));
                }
                word if word.starts_with("--") || lab.is_some() => return None,
                word => lab = Some(word),
            }
        }
        Some(Self { lab: lab?, table, trials })
    }

    /// The results; the error is a message that begins with the file's name.
    pub(crate) fn answer(&self) -> Result<String, String> {
        let lab = open_lab(Path::new(self.lab))?;
        let analysis = analyze(&lab);
        let simulated = self.trials.map(|trials| simulate(&lab, &analysis, trials)).transpose();
        let simulated = simulated.map_err(|problem| format!("{}: {problem}", self.lab))?;
        if self.table {
            let mut table = report::to_table(&lab, &analysis);
            if let Some((model, outcome)) = &simulated {
                table.push('\n');
                table.push_str(&report::monte_carlo_to_table(&lab, model, outcome));
            }
            return Ok(table);
        }
        let mut results = report::to_json(&lab, &analysis);
        if let (Some((model, outcome)), Some(results)) = (&simulated, results.as_object_mut()) {
            let found = report::monte_carlo_to_json(&lab, model, outcome, SEED);
            results.insert("monte_carlo".to_owned(), found);
        }
        let mut output = String::new();
        write!(output, "{results:#}").map_err(|error| error.to_string())?;
        output.push('\n');
        Ok(output)
    }
}

/// Propagates distributions, and says on the error stream how long that took.
#[expect(clippy::disallowed_types, reason = "a program for the command line has a clock")]
fn simulate(lab: &Lab, analysis: &Analysis, trials: usize) -> Result<(Model, Outcome), String> {
    let model = Model::of(lab, analysis).map_err(|problem| problem.to_string())?;
    let start = std::time::Instant::now();
    let limits = Limits { at_most: trials, ..Limits::default() };
    let outcome = Simulation::with_limits(&model, SEED, limits).run();
    let seconds = start.elapsed().as_secs_f64();
    let speed = outcome.trials as f64 / seconds;
    eprintln!("{} trials in {seconds:.3} s: {speed:.0} per second", outcome.trials);
    Ok((model, outcome))
}

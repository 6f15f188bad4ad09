//! Several parts of one piece of work: all are run even if one fails, and each gets its line at the end.

use std::process::ExitCode;
use std::time::Duration;

use crate::problem::Outcome;

/// What has been run so far.
#[derive(Default)]
pub(crate) struct Parts {
    done: Vec<Done>,
}

struct Done {
    name: &'static str,
    took: Duration,
    outcome: Outcome,
}

impl Parts {
    /// Run one part, saying first what it does and how long that usually takes.
    pub(crate) fn run(&mut self, name: &'static str, about: &str, part: impl FnOnce() -> Outcome) {
        println!("\n== {name}: {about}");
        let (outcome, took) = timed(part);
        match &outcome {
            Ok(()) => println!("== {name}: passed in {}", in_words(took)),
            Err(problem) => println!("== {name}: FAILED after {}\n{problem}", in_words(took)),
        }
        self.done.push(Done { name, took, outcome });
    }

    /// A line per part, then how many passed; nothing when nothing was run.
    pub(crate) fn summary(self) -> ExitCode {
        if self.done.is_empty() {
            return ExitCode::SUCCESS;
        }
        println!("\nSummary");
        for Done { name, took, outcome } in &self.done {
            let verdict = if outcome.is_ok() { "passed" } else { "FAILED" };
            println!("  {verdict}  {name:<10} {}", in_words(*took));
        }
        let failed = self.failed();
        println!("\n{} passed, {failed} failed", self.done.len() - failed);
        if failed == 0 { ExitCode::SUCCESS } else { ExitCode::FAILURE }
    }

    fn failed(&self) -> usize {
        self.done.iter().filter(|done| done.outcome.is_err()).count()
    }
}

/// What a step gives, and how long it took.
#[expect(clippy::disallowed_types, reason = "the ban is for code that runs in the browser")]
pub(crate) fn timed<T>(step: impl FnOnce() -> T) -> (T, Duration) {
    let start = std::time::Instant::now();
    let given = step();
    (given, start.elapsed())
}

/// `0.4 s`, `12 s`, `3 min 5 s`.
pub(crate) fn in_words(took: Duration) -> String {
    let seconds = took.as_secs();
    match seconds {
        0..10 => format!("{:.1} s", took.as_secs_f64()),
        10..60 => format!("{seconds} s"),
        _ => format!("{} min {} s", seconds / 60, seconds % 60),
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::problem::Problem;

    #[test]
    fn a_part_that_fails_does_not_stop_the_next_one_but_fails_the_whole() {
        let mut parts = Parts::default();
        let mut second_ran = false;
        parts.run("first", "fails", || Err(Problem::new("broken")));
        parts.run("second", "works", || {
            second_ran = true;
            Ok(())
        });
        assert!(second_ran);
        assert_eq!((parts.done.len(), parts.failed()), (2, 1));
        assert_eq!(parts.summary(), ExitCode::FAILURE);
    }

    #[test]
    fn all_parts_passed_is_a_success() {
        let mut parts = Parts::default();
        parts.run("only", "works", || Ok(()));
        assert_eq!(parts.summary(), ExitCode::SUCCESS);
    }

    #[test]
    fn times_are_read_at_a_glance() {
        for (milliseconds, words) in [(420, "0.4 s"), (12_700, "12 s"), (185_000, "3 min 5 s")] {
            assert_eq!(in_words(Duration::from_millis(milliseconds)), words);
        }
    }
}

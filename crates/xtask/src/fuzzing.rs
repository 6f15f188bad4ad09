//! Generated input for everything that reads a file: the targets of `tests/fuzz`.

use std::fs;
use std::path::PathBuf;

use crate::problem::{OrSay, Outcome, Problem};
use crate::program::Program;
use crate::project;
use crate::setup;

/// A program that is fed generated input.
struct Target {
    /// Its name, and that of the corpus kept for it.
    name: &'static str,
    /// The words its input is made of.
    dictionary: &'static str,
    /// The longest input, in bytes: long enough for all that can be said, short enough to be quick.
    longest: u32,
}

const TARGETS: [Target; 6] = [
    Target { name: "readings", dictionary: "readings", longest: 1024 },
    Target { name: "intake", dictionary: "readings", longest: 1024 },
    Target { name: "lab_file", dictionary: "lab_file", longest: 2048 },
    Target { name: "salvage", dictionary: "lab_file", longest: 2048 },
    Target { name: "assignment", dictionary: "assignment", longest: 2048 },
    Target { name: "analysis", dictionary: "lab_file", longest: 2048 },
];

/// When to stop.
#[derive(Clone, Copy)]
enum Until {
    Seconds(u64),
    Executions(u64),
}

/// An input that takes longer hangs.
const LONGEST_SECONDS: u32 = 5;
/// How long a target runs among all tests.
const AMONG_TESTS: Until = Until::Seconds(20);

/// A short run of each target, from the corpus that is kept.
pub(crate) fn briefly() -> Outcome {
    TARGETS.iter().try_for_each(|target| run(target, AMONG_TESTS))
}

/// A long run of one target: `cargo xtask fuzz readings 10000000`.
pub(crate) fn at_length(name: &str, executions: &str) -> Outcome {
    let target = TARGETS.iter().find(|target| target.name == name).ok_or_else(|| {
        Problem::new(format!(
            "There is no target `{name}`: they are {}.",
            TARGETS.map(|each| each.name).join(", ")
        ))
    })?;
    let executions = executions.parse().or_say("how many executions must be a whole number")?;
    run(target, Until::Executions(executions))
}

/// The project's target folder, apart from what is built without counters.
fn built() -> Outcome<PathBuf> {
    Ok(project::target()?.join("fuzz"))
}

/// What was found by earlier runs on this machine counts as well; what is found is added to it.
fn run(target: &Target, until: Until) -> Outcome {
    let kept = project::root().join("tests/fuzz/corpus").join(target.name);
    if !kept.is_dir() {
        return Err(Problem::new(format!("{} is missing", kept.display())));
    }
    let found = built()?.join("found").join(target.name);
    fs::create_dir_all(&found).or_say(format_args!("cannot make {}", found.display()))?;
    let until = match until {
        Until::Seconds(seconds) => format!("-max_total_time={seconds}"),
        Until::Executions(executions) => format!("-runs={executions}"),
    };
    Program::new(setup::fuzzer()?)
        .words("run --fuzz-dir tests/fuzz --target-dir")
        .arg(built()?)
        // A stable compiler has no sanitizers, and safe code needs none. Words to compare with stand in the
        // dictionaries; tracing every comparison makes a run twenty times as long.
        .words("--sanitizer none --no-trace-compares")
        .arg(target.name)
        .arg(found)
        .arg(kept)
        .arg("--")
        .arg(format!("-dict=tests/fuzz/dictionaries/{}.dict", target.dictionary))
        .arg(format!("-max_len={}", target.longest))
        .arg(format!("-timeout={LONGEST_SECONDS}"))
        .arg(until)
        // Branches seen count, not how often they were taken nor what was compared, and all inputs alike: four times
        // as many runs.
        .words("-entropic=0 -use_counters=0 -use_memcmp=0")
        // The same start each time, so that the same sources meet the same input.
        .words("-seed=1 -verbosity=0 -print_final_stats=1")
        .run()
}

//! The same file with the native program: prints milliseconds, peak memory in bytes, and the acceleration.

use std::{env, fs};
use whorl_core::intake::take_in;
use whorl_core::lab_file::open;
use whorl_core::readings::Choices;

#[expect(clippy::disallowed_types, reason = "the ban is for code that runs in the browser")]
fn main() {
    let [file, lab] = [1, 2].map(|place| env::args().nth(place).expect("a file and a lab are named"));
    let lab = fs::read_to_string(lab).expect("the lab is there");
    let start = std::time::Instant::now();
    let lab = open(&lab, &mut |_| Err(String::new())).expect("the lab opens");
    let bytes = fs::read(&file).expect("the file is there");
    let intake = take_in("million.csv", &bytes, &Choices::default(), &lab, &mut |_| {});
    let took = start.elapsed();
    let result = match intake.proposals.first() {
        Some(proposal) => {
            let count = proposal.readings.count();
            proposal.first.acceleration.clone().map(|found| format!("{found}, {count} readings kept"))
        }
        None => Err(intake.layout.err().unwrap_or_default()),
    };
    let result = result.unwrap_or_else(|why| format!("none: {why}"));
    println!(
        "{}",
        serde_json::json!({"ms": took.as_secs_f64() * 1e3, "memory": peak_memory(), "result": result})
    );
}

/// In bytes; `None` where the system does not tell.
fn peak_memory() -> Option<u64> {
    let status = fs::read_to_string("/proc/self/status").ok()?;
    let line = status.lines().find_map(|line| line.strip_prefix("VmHWM:"))?;
    line.split_whitespace().next()?.parse::<u64>().ok().map(|kilobytes| kilobytes * 1024)
}

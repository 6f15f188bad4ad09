//! The same file with the native program: prints milliseconds, peak memory in bytes, and the acceleration.

use std::{env, fs};
use whorl_core::intake::look_at;
use whorl_core::lab_file::open_alone;
use whorl_core::readings::{Choices, read};

#[expect(clippy::disallowed_types, reason = "the ban is for code that runs in the browser")]
fn main() -> Result<(), Box<dyn std::error::Error>> {
    let mut words = env::args().skip(1);
    let (file, lab) = words.next().zip(words.next()).ok_or("name a file and a lab")?;
    let lab = fs::read_to_string(lab)?;
    let start = std::time::Instant::now();
    let lab = open_alone(&lab)?;
    let bytes = fs::read(&file)?;
    let intake = look_at(
        "million.csv",
        bytes.len(),
        read(&bytes, &Choices::default(), &mut |_| {}),
        &lab,
        &mut |_| {},
    );
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
    Ok(())
}

/// In bytes; `None` where the system does not tell.
fn peak_memory() -> Option<u64> {
    let status = fs::read_to_string("/proc/self/status").ok()?;
    let line = status.lines().find_map(|line| line.strip_prefix("VmHWM:"))?;
    line.split_whitespace().next()?.parse::<u64>().ok().map(|kilobytes| kilobytes * 1024)
}

//! `whorl`: the lab, headless.

mod analyse;
mod assignment;
mod bench;
mod export;
mod judge;
mod plan;
mod read;
mod report;
mod salvage;

use std::path::Path;
use std::process::ExitCode;
use whorl_core::lab::Lab;
use whorl_core::lab_file::{self, LabFileError};
use whorl_words as words;

const HELP: &str = "\
whorl: moments of inertia from the runs of a turntable lab

  whorl analyse LAB.json           every result as JSON, in SI units
  whorl analyse LAB.json --table   the same, rounded, as a readable table
  whorl analyse LAB.json --monte-carlo [TRIALS]
                                   also checks the intervals by propagating distributions
                                   (JCGM 101:2008), with at most so many trials (1000000)

  whorl export LAB.json readings|accelerations|points|results
                                   one table as CSV (RFC 4180), in SI units

  whorl report LAB.json [--language es]
                                   the report that is handed in, as one HTML file without scripts or requests:
                                   whorl report LAB.json > report.html

  whorl plan LAB.json [OPTION VALUE]…
                                   before the first run: which masses to hang, and what to expect
    --masses \"20 x 2, 50, 100 x 2, 200\"   the pieces at hand, in g unless said otherwise
    --holder \"50 g\"                 hangs in every run
    --runs 6                         of each table
    --table-inertia 0.0015           a guess of the empty table's, in kg·m²
    --friction 0.001                 a guess of its friction torque, in N·m; --friction-loaded with the object
    --friction-scatter 3             how much friction differs from run to run, in %
    --object NAME                    which of the lab's objects; the first if not said

  whorl read FILE…                 what files of readings were taken for, and why
    --say \"decimal=comma; 2=velocity cm/s\"
                                   where a guess was wrong, or something is asked
    --lab LAB.json                   objects to compare names with, apparatus for a first acceleration
    --json                           as the page gets it, without the numbers

  whorl salvage LAB.json           all that can be saved of a damaged lab file, as a lab file; what was
                                   lost is told on standard error

  whorl judge --derivation FILE --step ID ANSWER
                                   what the pre-lab says to an answer, as JSON
  whorl judge --derivation FILE --answers ANSWERS.json
                                   the same for many: [{\"step\": ID, \"answer\": ANSWER}, …]
  whorl judge --derivation FILE    checks the file and lists its steps

  whorl bench --settings           the standard practice bench as SPEC.json, to start from
  whorl bench SPEC.json [OPTION VALUE]…
                                   a simulated run: its gate events and what happens, as JSON
    --seed FDE-QQT                   a student's code; or --student 7, numbered from 0 (the default)
    --load \"slate disc\"             what the table carries, by name; empty if not said
    --mass \"100 g\"                  one of the bench's masses; the middle one if not said
    --start rest|softly|pushed       how the mass is let go
    --grip holds|slips               whether the string slips once
    --ending pad|floor|caught        how it ends
    --winding yes|no                 whether the logger runs while the string is wound up
    --run 1                          its number: another one has other noise
    --truth                          also what is true of run and apparatus
    --csv                            the logger's file instead
  whorl bench SPEC.json --lab [RUNS] [OPTION VALUE]…
                                   a whole lab file: so many runs (6) of the empty table and of a load

  whorl assignment FILE.json       work that an instructor sets, as a link: what stands behind the page's address
  whorl assignment --link LINK     the file of such a link

LAB.json is a lab saved by the page; a run in it may name a readings file by a path
relative to LAB.json. ANSWER is algebra, {\"question\": \"option\"} for choices, or a list of arrows
{\"force\", \"at\", \"direction\", \"length\"} for a diagram. Earlier steps count as done.
Exit code 0: done; 1: a file cannot be opened or a step does not exist; 2: wrong call.
";

fn main() -> ExitCode {
    let arguments: Vec<String> = std::env::args().skip(1).collect();
    let called: Vec<&str> = arguments.iter().map(String::as_str).collect();
    let (output, code) = match called.as_slice() {
        [] | ["help" | "--help" | "-h"] => (Ok(HELP.to_owned()), 0),
        ["read", rest @ ..] if !rest.is_empty() => (read::answer(rest), 1),
        ["plan", rest @ ..] if !rest.is_empty() => (plan::answer(rest), 1),
        ["bench", rest @ ..] if !rest.is_empty() => (bench::answer(rest), 1),
        ["salvage", file] => (salvage::answer(file), 1),
        ["analyse", rest @ ..] => match analyse::Request::from_words(rest) {
            Some(request) => (request.answer(), 1),
            None => (Err(format!("unknown call: whorl {}\n\n{HELP}", called.join(" "))), 2),
        },
        ["export", rest @ ..] => match export::Request::from_words(rest) {
            Some(request) => (request.answer(), 1),
            None => (Err(format!("unknown call: whorl {}\n\n{HELP}", called.join(" "))), 2),
        },
        ["report", rest @ ..] => match report::Request::from_words(rest) {
            Some(request) => (request.answer(), 1),
            None => (Err(format!("unknown call: whorl {}\n\n{HELP}", called.join(" "))), 2),
        },
        ["assignment", rest @ ..] => match assignment::answer(rest) {
            Some(answer) => (answer, 1),
            None => (Err(format!("unknown call: whorl {}\n\n{HELP}", called.join(" "))), 2),
        },
        ["judge", rest @ ..] => match judge::Request::from_words(rest) {
            Some(request) => (request.answer(), 1),
            None => (Err(format!("unknown call: whorl {}\n\n{HELP}", called.join(" "))), 2),
        },
        _ => (Err(format!("unknown call: whorl {}\n\n{HELP}", called.join(" "))), 2),
    };
    match output.and_then(|text| write_out(&text)) {
        Ok(()) => ExitCode::SUCCESS,
        Err(problem) => {
            eprintln!("whorl: {problem}");
            ExitCode::from(code)
        }
    }
}

/// Opens a lab file with the readings it names; the error begins with the file's name.
fn open_lab(path: &Path) -> Result<Lab, String> {
    open_lab_text(path).map(|(lab, _)| lab)
}

/// The same, with the text of the file.
fn open_lab_text(path: &Path) -> Result<(Lab, String), String> {
    let name = path.display();
    let text = read_text(path, "open a file that Whorl saved")?;
    let folder = path.parent().unwrap_or(Path::new(""));
    let mut read_file = |file: &lab_file::OpenedPath<'_>| {
        std::fs::read(folder.join(file.as_str())).map_err(|error| error.to_string())
    };
    let lab = lab_file::open(&text, &mut read_file).map_err(|problem| {
        let damaged = matches!(problem, LabFileError::Json { .. } | LabFileError::Value { .. });
        let remedy = if damaged { "; `whorl salvage` saves what can be saved" } else { "" };
        format!("{}{remedy}", problem.in_text_of(&name.to_string(), &text))
    })?;
    if let Some(found) = lab.newer() {
        eprintln!("whorl: {name}: {}", words::lab_file::newer(&found, &lab_file::VERSION));
    }
    Ok((lab, text))
}

/// The text of a file; the error begins with the file's name.
fn read_text(path: &Path, remedy: &str) -> Result<String, String> {
    let name = path.display();
    let bytes = std::fs::read(path).map_err(|error| format!("{name}: {error}"))?;
    String::from_utf8(bytes).map_err(|error| {
        let before = error.as_bytes().iter().take(error.utf8_error().valid_up_to());
        let line = 1 + before.filter(|&&byte| byte == b'\n').count();
        format!("{name}, line {line}: this is not UTF-8 text; {remedy}")
    })
}

/// Like `print!`, but a reader that has gone away (`whorl … | head`) is no crash.
fn write_out(text: &str) -> Result<(), String> {
    use std::io::Write as _;
    match std::io::stdout().write_all(text.as_bytes()) {
        Err(error) if error.kind() != std::io::ErrorKind::BrokenPipe => Err(error.to_string()),
        _ => Ok(()),
    }
}

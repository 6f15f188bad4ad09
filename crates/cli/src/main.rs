//! `whorl`: the lab, headless.

mod analyse;
mod judge;

use std::path::Path;
use std::process::ExitCode;

const HELP: &str = "\
whorl: moments of inertia from the runs of a turntable lab

  whorl analyse LAB.json           every result as JSON, in SI units
  whorl analyse LAB.json --table   the same, rounded, as a readable table
  whorl analyse LAB.json --monte-carlo [TRIALS]
                                   also checks the intervals by propagating distributions
                                   (JCGM 101:2008), with at most so many trials (1000000)

  whorl judge --derivation FILE --step ID ANSWER
                                   what the pre-lab says to an answer, as JSON
  whorl judge --derivation FILE --answers ANSWERS.json
                                   the same for many: [{\"step\": ID, \"answer\": ANSWER}, …]
  whorl judge --derivation FILE    checks the file and lists its steps

LAB.json is a lab saved by the page; a run in it may name a readings file by a path
relative to LAB.json. ANSWER is algebra, {\"question\": \"option\"} for choices, or a list of arrows
{\"force\", \"at\", \"direction\", \"length\"} for a diagram. Earlier steps count as done.
Exit code 0: done; 1: a file cannot be opened or a step does not exist; 2: wrong call.
";

fn main() -> ExitCode {
    let arguments: Vec<String> = std::env::args().skip(1).collect();
    let words: Vec<&str> = arguments.iter().map(String::as_str).collect();
    let (output, code) = match words.as_slice() {
        [] | ["help" | "--help" | "-h"] => (Ok(HELP.to_owned()), 0),
        ["analyse", rest @ ..] => match analyse::Request::from_words(rest) {
            Some(request) => (request.answer(), 1),
            None => (Err(format!("unknown call: whorl {}\n\n{HELP}", words.join(" "))), 2),
        },
        ["judge", rest @ ..] => match judge::Request::from_words(rest) {
            Some(request) => (request.answer(), 1),
            None => (Err(format!("unknown call: whorl {}\n\n{HELP}", words.join(" "))), 2),
        },
        _ => (Err(format!("unknown call: whorl {}\n\n{HELP}", words.join(" "))), 2),
    };
    match output.and_then(|text| write_out(&text)) {
        Ok(()) => ExitCode::SUCCESS,
        Err(problem) => {
            eprintln!("whorl: {problem}");
            ExitCode::from(code)
        }
    }
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

//! Builds, serves, tests and checks Whorl: `cargo xtask serve`, `cargo xtask test`, `cargo xtask --help`.

mod bench;
mod budget;
mod check;
mod fuzzing;
mod offline;
mod page;
mod parts;
mod problem;
mod program;
mod project;
mod serve;
mod setup;
mod split;
mod testing;
mod tidy;
mod walk;

use std::env;
use std::process::ExitCode;

use crate::parts::Parts;
use crate::problem::{Outcome, Problem};

const HELP: &str = "\
cargo xtask COMMAND

  serve [--port N] [--no-open]
                    install what is missing, build the page, show it on this computer,
                    rebuild it when its sources change
  build             build the page into dist/, for any static host, and weigh it:
                    an error when a first visit downloads more than its budget
  test [PART]...    test everything, or only these parts:
                      core      the crates' own tests
                      fuzz      20 s of generated input for everything that reads a file (needs a C++ compiler)
                      numpy     our results and verdicts against independent ones (needs Python)
                      page      the page is built and light enough
                      browser   the page in a real browser (needs Node.js and Chromium)
  fuzz TARGET COUNT feed COUNT generated inputs to a target of tests/fuzz
  bench             a million rows read and fitted: native, in the browser, with pandas; a table of times
  bench page [WHAT] the page on slow computers: start, typing, frames, replay, growing; at full speed, slowed 4 and 6 times
  study [COUNT [TITLE]]
                    what the estimators reach on simulated labs, against its limits: a table,
                    COUNT runs or labs a row (1000; about two minutes); of the parts whose title holds TITLE
  check             format, lints, documentation, tidiness
  ci                check and test, with one summary
  setup             only install what building and testing need
  wasm COMMAND...   run a command with the page's toolchain, as in
                    `cargo xtask wasm cargo check -p whorl-app --target wasm32-unknown-unknown`

What is installed goes to .tools/, and on Debian and Ubuntu also into the system where a package
is missing. The environment may say which Rust builds the page (WASM_TOOLCHAIN=rustup or =debian)
and which browser is tested (WHORL_CHROMIUM=path).
";

fn main() -> ExitCode {
    let arguments: Vec<String> = env::args().skip(1).collect();
    match run(&arguments) {
        Ok(code) => code,
        Err(problem) => {
            eprintln!("{problem}");
            ExitCode::FAILURE
        }
    }
}

fn run(arguments: &[String]) -> Outcome<ExitCode> {
    let Some((command, rest)) = arguments.split_first() else {
        print!("{HELP}");
        return Ok(ExitCode::FAILURE);
    };
    let mut parts = Parts::default();
    match command.as_str() {
        "test" => testing::test(&mut parts, rest)?,
        "wasm" => {
            let (program, words) = rest.split_first().ok_or_else(|| unknown("wasm"))?;
            let tools = setup::PageTools::ready()?;
            words.iter().fold(tools.program(program), program::Program::arg).run()?;
            return Ok(ExitCode::SUCCESS);
        }
        "study" => {
            let study = program::Program::cargo().words("run --release -p whorl-tests --example study --");
            rest.iter().fold(study, program::Program::arg).run()?;
            return Ok(ExitCode::SUCCESS);
        }
        "fuzz" => {
            let [target, count] = rest else { return Err(unknown("fuzz")) };
            fuzzing::at_length(target, count)?;
        }
        "bench" => match rest {
            [] => bench::bench()?,
            [what, rest @ ..] if what == "page" => bench::page(rest)?,
            _ => return Err(unknown(&format!("bench {}", rest.join(" ")))),
        },
        "serve" => {
            let (port, open) = serve_options(rest)?;
            serve::serve(port, open)?;
        }
        _ if !rest.is_empty() => return Err(unknown(&arguments.join(" "))),
        "build" => page::build_and_weigh()?,
        "check" => check::check(&mut parts),
        "ci" => {
            check::check(&mut parts);
            testing::test(&mut parts, &[])?;
        }
        "setup" => set_up(&mut parts),
        "help" | "--help" | "-h" => print!("{HELP}"),
        _ => return Err(unknown(command)),
    }
    Ok(parts.summary())
}

fn unknown(command: &str) -> Problem {
    Problem::new(format!("`cargo xtask {command}` is not understood: see `cargo xtask --help`."))
}

fn serve_options(words: &[String]) -> Outcome<(Option<u16>, bool)> {
    let (mut port, mut open) = (None, true);
    let mut words = words.iter();
    while let Some(word) = words.next() {
        match word.as_str() {
            "--no-open" => open = false,
            "--port" => {
                let number = words.next().and_then(|number| number.parse().ok());
                port = Some(number.ok_or_else(|| Problem::new("--port needs a number from 0 to 65535"))?);
            }
            _ => return Err(unknown(&format!("serve {word}"))),
        }
    }
    Ok((port, open))
}

fn set_up(parts: &mut Parts) {
    parts.run("page", "what builds the page; first time about 5 minutes", || {
        setup::PageTools::ready().map(drop)
    });
    parts.run("browser", "what tests the page; first time about a minute", || {
        setup::browser::ready().map(drop)
    });
    parts.run("fuzz", "what makes generated input; first time about 2 minutes", || setup::fuzzer().map(drop));
    parts.run("numpy", "what the cross-check needs; first time about half a minute", || {
        setup::python::ready().map(drop)
    });
}

//! How fast a million rows are read and fitted, beside other ways to do the same: `cargo xtask bench`; and how
//! quick the page is on slow computers: `cargo xtask bench page`.

use std::env;
use std::fs;

use crate::budget;
use crate::page;
use crate::problem::{OrSay, Outcome};
use crate::program::Program;
use crate::project;
use crate::setup::{browser, python};

/// Its apparatus is that of the file.
const LAB: &str = "tests/labs/corners/typed.json";

/// Make the file, build what reads it, and print times and ratios. Nothing fails on a slow machine.
pub(crate) fn bench() -> Outcome {
    let (python, tools) = (python::ready()?, browser::ready()?);
    page::build_if_changed()?;
    Program::cargo().words("build --release -p whorl-tests --example bench").run()?;
    let folder = project::target()?.join("bench");
    fs::create_dir_all(&folder).or_say(format_args!("cannot make {}", folder.display()))?;
    let file = folder.join("million.csv");
    Program::new(&python).arg("tests/bench/make_file.py").arg(&file).run()?;
    Program::new(tools.node)
        .arg("tests/bench/reading.mjs")
        .arg(&file)
        .arg(LAB)
        .arg(project::target()?.join(format!("release/examples/bench{}", env::consts::EXE_SUFFIX)))
        .arg(python)
        .arg("tests/bench/pandas_fit.py")
        .env("WHORL_CHROMIUM", tools.chromium)
        .env("WHORL_DIST", project::dist())
        .env("WHORL_LATER", budget::names_of_later())
        .run()
}

/// Print how long the page takes to start, to follow a key and to draw a frame. Nothing fails on a slow machine.
pub(crate) fn page(what: &[String]) -> Outcome {
    let tools = browser::ready()?;
    page::build_if_changed()?;
    let bench = Program::new(tools.node).arg("tests/bench/page.mjs");
    what.iter()
        .fold(bench, Program::arg)
        .env("WHORL_CHROMIUM", tools.chromium)
        .env("WHORL_DIST", project::dist())
        .env("WHORL_LATER", budget::names_of_later())
        .run()
}

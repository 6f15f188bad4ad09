//! Testing everything: the crates, the independent calculations, the page, the page in a browser.

use std::env;

use crate::budget;
use crate::page;
use crate::parts::Parts;
use crate::problem::{Outcome, Problem};
use crate::program::Program;
use crate::project;
use crate::setup::{browser, python};
use crate::walk;

/// The parts, in the order they are run.
pub(crate) const PARTS: [&str; 4] = ["core", "numpy", "page", "browser"];

/// Run the parts named, or all when none is.
pub(crate) fn test(parts: &mut Parts, named: &[String]) -> Outcome {
    if let Some(unknown) = named.iter().find(|name| !PARTS.contains(&name.as_str())) {
        return Err(Problem::new(format!(
            "There is no test part `{unknown}`: they are {}.",
            PARTS.join(", ")
        )));
    }
    let wanted = |part: &str| named.is_empty() || named.iter().any(|name| name == part);
    if wanted("core") {
        parts.run("core", "the crates' own tests; first time about 3 minutes, then under a minute", core);
    }
    if wanted("numpy") {
        parts.run(
            "numpy",
            "our results and verdicts against independent ones; first time about 3 minutes, then half a minute",
            numpy,
        );
    }
    // The browser tests open the page, so they need it built.
    if wanted("page") || wanted("browser") {
        parts.run(
            "page",
            "building the page and weighing it; first time about 6 minutes, then seconds",
            page::build,
        );
    }
    if wanted("browser") {
        parts.run("browser", "the page in a real browser; about 11 minutes", in_browser);
    }
    Ok(())
}

fn core() -> Outcome {
    Program::cargo().words("test --workspace --exclude whorl-app --exclude whorl-worker").run()
}

fn numpy() -> Outcome {
    // The numbers of a lab, their distributions, and which expressions are equal.
    let scripts = ["tests/numpy/check.py", "tests/numpy/monte_carlo.py", "tests/sympy/check.py"];
    for script in scripts {
        if !project::root().join(script).is_file() {
            return Err(Problem::new(format!("{script} is missing")));
        }
    }
    let python = python::ready()?;
    Program::cargo().words("build --release -p whorl-cli").run()?;
    let whorl = project::target()?.join(format!("release/whorl{}", env::consts::EXE_SUFFIX));
    for script in scripts {
        Program::new(&python).arg(script).env("WHORL_CLI", &whorl).run()?;
    }
    Ok(())
}

fn in_browser() -> Outcome {
    let tools = browser::ready()?;
    // A page of older sources would be tested in place of the one that could not be built.
    if !page::is_current()? {
        return Err(Problem::new("not run: the page is not built of the sources as they are"));
    }
    let files: Vec<String> = walk::project_files()?
        .into_iter()
        .filter(|file| file.starts_with("tests/browser/") && file.ends_with(".test.mjs"))
        .collect();
    // Node would run whatever it finds when it is given no file.
    if files.is_empty() {
        return Err(Problem::new("tests/browser has no *.test.mjs"));
    }
    files
        .iter()
        .fold(Program::new(tools.node).words("--test --test-concurrency=1"), Program::arg)
        .env("WHORL_CHROMIUM", tools.chromium)
        .env("WHORL_DIST", project::dist())
        .env("WHORL_LATER", budget::names_of_later())
        .run()
}

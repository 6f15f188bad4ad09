//! Checking the code without running it: format, lints, documentation, tidiness.

use crate::parts::Parts;
use crate::problem::Outcome;
use crate::program::Program;
use crate::setup::{PageTools, TARGET};
use crate::tidy;

const NATIVE: &str = "--workspace --exclude whorl-app --exclude whorl-worker";
const WARNINGS_FAIL: (&str, &str) = ("RUSTDOCFLAGS", "-D warnings");

/// Run every check. The page's crates are checked as what they are, wasm32 programs.
pub(crate) fn check(parts: &mut Parts) {
    parts.run("format", "cargo fmt; a second", || Program::cargo().words("fmt --all --check").run());
    parts.run("tidy", "the project's own rules; a second", tidy::check);
    parts.run("lints", "clippy on the native crates; first time about a minute", || {
        Program::cargo().arg("clippy").words(NATIVE).words("--all-targets -- -D warnings").run()
    });
    parts.run("page lints", "clippy on the page; first time about a minute, and the build tools", || {
        for_page("clippy")?.words("--all-targets -- -D warnings").run()
    });
    parts.run("docs", "cargo doc on all crates; first time about a minute", || {
        let (name, value) = WARNINGS_FAIL;
        Program::cargo().words("doc --no-deps").words(NATIVE).env(name, value).run()?;
        for_page("doc")?.arg("--no-deps").env(name, value).run()
    });
}

fn for_page(command: &str) -> Outcome<Program> {
    let cargo = PageTools::ready()?.program("cargo");
    Ok(cargo.arg(command).words("-p whorl-app -p whorl-worker --target").arg(TARGET))
}

//! Installing what is missing, into `.tools/` where possible. Quick when nothing is.

pub(crate) mod browser;
mod debian;
pub(crate) mod python;
mod tools;
mod wasm_std;

use std::env;
use std::io::{Write, stdout};
use std::path::{Path, PathBuf};

use crate::parts::{in_words, timed};
use crate::problem::{OrSay, Outcome, Problem};
use crate::program::{self, Program};
use crate::project;

pub(crate) use wasm_std::TARGET;

/// Settings meant for another build: they must reach neither the wasm build nor the tools' own.
const FOREIGN_SETTINGS: &[&str] =
    &["CARGO_BUILD_TARGET", "CARGO_TARGET_DIR", "CARGO_UNSTABLE_BUILD_STD", "RUSTC_BOOTSTRAP", "RUSTFLAGS"];

/// All that the page is built with.
pub(crate) struct PageTools {
    rust: wasm_std::WasmRust,
}

impl PageTools {
    /// Install what is missing and say what is used.
    pub(crate) fn ready() -> Outcome<Self> {
        let (tools, took) = timed(|| -> Outcome<(Self, String)> {
            if !tools::any_installed() {
                println!("Getting the build tools. First time: about 5 minutes; next time: a second.");
            }
            let rust = wasm_std::ready()?;
            let bindgen = tools::bindgen()?;
            let trunk = tools::trunk()?;
            tools::splitter()?;
            tools::shrinkers()?;
            let tools = Self { rust };
            let rustc = tools.program("rustc").arg("-V").answer().unwrap_or_default();
            let rustc = rustc.split(" (").next().unwrap_or_default();
            let words = format!("{rustc}{}, wasm-bindgen {bindgen}, trunk {trunk}", tools.rust.origin());
            Ok((tools, words))
        });
        let (tools, words) = tools?;
        println!("Build tools ready in {}: {words}.", in_words(took));
        Ok(tools)
    }

    /// A program that sees the wasm toolchain: `trunk`, `cargo`, `wasm-bindgen`, …
    pub(crate) fn program(&self, name: &str) -> Program {
        let tools = project::tools();
        let mut path = vec![tools.join("bin"), tools.join("npm/node_modules/.bin")];
        let mut foreign = FOREIGN_SETTINGS.to_vec();
        // The user's choice of a target folder stands.
        foreign.retain(|name| *name != "CARGO_TARGET_DIR");
        if let wasm_std::WasmRust::Debian = self.rust {
            path.insert(0, wasm_std::links());
            // These name the compiler of the cargo that started us, or its libraries.
            foreign.extend(["CARGO", "RUSTC", "RUSTDOC", "RUSTUP_TOOLCHAIN", "LD_LIBRARY_PATH"]);
        }
        path.extend(env::split_paths(&env::var_os("PATH").unwrap_or_default()));
        let path = env::join_paths(path).unwrap_or_default();
        Program::new(name).without_env(&foreign).env("PATH", path)
    }
}

/// What builds and runs the targets of `tests/fuzz`; gives cargo-fuzz.
pub(crate) fn fuzzer() -> Outcome<PathBuf> {
    has_cpp()?;
    tools::cargo_fuzz()
}

/// A C++ compiler, in which libFuzzer is written.
pub(crate) fn has_cpp() -> Outcome {
    let is_here = || env::var_os("CXX").is_some() || program::find("c++").is_some();
    if !is_here() {
        debian::try_install("g++", "about half a minute");
    }
    let wanted = "Generated input needs a C++ compiler: install one, and start me again.";
    if is_here() { Ok(()) } else { Err(Problem::new(wanted)) }
}

/// One thing being installed: `  trunk 0.21.14: building, about 1 minute ... done in 52 s`.
fn step(what: &str, about: &str, work: impl FnOnce() -> Outcome) -> Outcome {
    print!("  {what}: {about} ... ");
    stdout().flush().or_say("cannot write to the terminal")?;
    let (outcome, took) = timed(work);
    match outcome {
        Ok(()) => println!("done in {}", in_words(took)),
        Err(_) => println!("failed after {}", in_words(took)),
    }
    outcome
}

/// Is the thing that left this note installed for exactly this text (a lock file, a compiler's version)?
fn installed_for(note: &Path, text: &str) -> bool {
    project::read(note).is_ok_and(|noted| noted == text)
}

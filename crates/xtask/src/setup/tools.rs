//! The page's build tools, wasm-bindgen, trunk, wasm-split and wasm-opt; and cargo-fuzz.

use std::env;
use std::path::PathBuf;

use crate::problem::Outcome;
use crate::program::{self, Program};
use crate::project;

use super::{FOREIGN_SETTINGS, installed_for, step};

/// The next one asks for a newer Rust than ours.
const TRUNK: &str = "0.21.14";
/// Its wasm-opt needs only Node.js.
const BINARYEN: &str = "132.0.0";
/// Of the same family as the marks it reads, wasm_split_helpers in Cargo.lock.
const WASM_SPLIT: &str = "0.2.4";
/// Shortens the JavaScript that loads the page.
const ESBUILD: &str = "0.25.12";

/// Builds programs with a counter in every branch and feeds them generated input.
const CARGO_FUZZ: &str = "0.13.2";

pub(super) fn any_installed() -> bool {
    project::tools().join("bin").is_dir()
}

/// wasm-bindgen's program must be of exactly the library's version.
pub(super) fn bindgen() -> Outcome<String> {
    let version = project::locked_version("wasm-bindgen")?;
    if !is_here("wasm-bindgen", &version) {
        step(&format!("wasm-bindgen {version}"), "building, about 1 minute", || {
            cargo_installs("wasm-bindgen-cli", &version, "")
        })?;
    }
    Ok(version)
}

/// trunk puts the page together. It is built without its check for newer versions.
pub(super) fn trunk() -> Outcome<&'static str> {
    if !is_here("trunk", TRUNK) {
        step(&format!("trunk {TRUNK}"), "building, about 2 minutes", || {
            cargo_installs("trunk", TRUNK, "--no-default-features --features rustls")
        })?;
    }
    Ok(TRUNK)
}

/// wasm-split-cli cuts the page's program into parts. It does not tell its version: a note beside it does.
pub(super) fn splitter() -> Outcome {
    let note = project::tools().join("wasm-split-installed");
    let program = project::tools().join("bin").join(format!("wasm-split-cli{}", env::consts::EXE_SUFFIX));
    if !program.is_file() || !installed_for(&note, WASM_SPLIT) {
        step(&format!("wasm-split {WASM_SPLIT}"), "building, about 1 minute", || {
            cargo_installs("wasm_split_cli_support", WASM_SPLIT, "--force --features build-binary")
        })?;
        project::write(&note, WASM_SPLIT)?;
    }
    Ok(())
}

/// cargo-fuzz, where it is.
pub(super) fn cargo_fuzz() -> Outcome<PathBuf> {
    const NAME: &str = "cargo-fuzz";
    if !is_here(NAME, CARGO_FUZZ) {
        step(&format!("{NAME} {CARGO_FUZZ}"), "building, about 1 minute", || {
            cargo_installs(NAME, CARGO_FUZZ, "")
        })?;
    }
    Ok(place(NAME).unwrap_or_else(|| PathBuf::from(NAME)))
}

/// wasm-opt and esbuild make the page smaller. Where there is no Node.js to run it, trunk fetches another one if it can.
pub(super) fn shrinkers() -> Outcome {
    let npm_folder = project::tools().join("npm");
    let (Some(_), Some(npm)) = (program::find("node"), program::find("npm")) else {
        println!(
            "  wasm-opt: there is no Node.js with npm to run it, so trunk will try to fetch another. If it cannot, install Node.js."
        );
        return Ok(());
    };
    if ["wasm-opt", "esbuild"].iter().all(|name| npm_folder.join("node_modules/.bin").join(name).exists()) {
        return Ok(());
    }
    step(&format!("binaryen {BINARYEN}, esbuild {ESBUILD}"), "a few seconds", || {
        Program::new(npm)
            .arg("install")
            .arg("--prefix")
            .arg(&npm_folder)
            .words("--no-save --no-fund --no-audit --loglevel=error")
            // In one call: npm takes away what an earlier one brought.
            .arg(format!("binaryen@{BINARYEN}"))
            .arg(format!("esbuild@{ESBUILD}"))
            .run_quietly()
    })
}

/// In `.tools/bin` or on `PATH`.
fn place(name: &str) -> Option<PathBuf> {
    let ours = project::tools().join("bin").join(format!("{name}{}", env::consts::EXE_SUFFIX));
    if ours.is_file() { Some(ours) } else { program::find(name) }
}

/// At exactly this version.
fn is_here(name: &str, version: &str) -> bool {
    place(name)
        .and_then(|file| Program::new(file).arg("--version").answer())
        .is_some_and(|answer| answer.split_whitespace().nth(1) == Some(version))
}

/// Build and install a tool without optimisation: two to three times faster to build and no slower in use.
fn cargo_installs(package: &str, version: &str, options: &str) -> Outcome {
    let install = |locked: &str| {
        Program::cargo()
            // Not in the project's folder, whose settings are not the tool's.
            .dir(&env::temp_dir())
            .without_env(FOREIGN_SETTINGS)
            .env("CARGO_PROFILE_RELEASE_OPT_LEVEL", "0")
            .env("CARGO_PROFILE_RELEASE_LTO", "off")
            .env("CARGO_PROFILE_RELEASE_CODEGEN_UNITS", "16")
            .env("CARGO_PROFILE_RELEASE_DEBUG", "0")
            .arg("install")
            .arg("--root")
            .arg(project::tools())
            .words("--quiet --version")
            .arg(version)
            .words(options)
            .words(locked)
            .arg(package)
            .run_quietly()
    };
    // A tool's own lock file may name a version that a mirror of the registry does not have yet.
    install("--locked").or_else(|_| install(""))
}

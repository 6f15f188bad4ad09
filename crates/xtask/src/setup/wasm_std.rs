//! A Rust that can build for wasm32: the standard library for it is had in one of four ways, the first that works.
//!
//! 1. The user's own Rust has it.
//! 2. Debian's Rust has it, built here earlier.
//! 3. `rustup target add`, unless that failed within the last day.
//! 4. Debian's Rust is installed and the library built once.
//!
//! The environment's `WASM_TOOLCHAIN=rustup` or `=debian` restricts the choice.

use std::env;
use std::fs;
use std::path::{Path, PathBuf};
use std::time::Duration;

use crate::problem::{OrSay, Outcome, Problem};
use crate::program::{self, Program};
use crate::project;

use super::{debian, step};

/// What the page is compiled for.
pub(crate) const TARGET: &str = "wasm32-unknown-unknown";

const RUSTUP_SECONDS: u64 = 180;
const RUSTUP_TRIED_AGAIN_AFTER: Duration = Duration::from_hours(24);

/// Which Rust builds for wasm32.
#[derive(Clone, Copy, PartialEq, Eq)]
pub(super) enum WasmRust {
    /// The one on `PATH`.
    Own,
    /// Debian's, through links that only wasm builds see.
    Debian,
}

impl WasmRust {
    pub(super) fn origin(self) -> &'static str {
        match self {
            Self::Own => "",
            Self::Debian => " (Debian's)",
        }
    }
}

/// Find or get it.
pub(super) fn ready() -> Outcome<WasmRust> {
    let wanted = env::var("WASM_TOOLCHAIN").unwrap_or_default();
    let (own, debian) = (wanted != "debian", wanted != "rustup" && debian::is_here());
    if own && own_has_std() {
        return Ok(WasmRust::Own);
    }
    if debian && debian::has_wasm_std() {
        link_debian_rust()?;
        return Ok(WasmRust::Debian);
    }
    if own && rustup_adds_it(wanted == "rustup")? {
        return Ok(WasmRust::Own);
    }
    if debian {
        debian::get_wasm_std()?;
        link_debian_rust()?;
        return Ok(WasmRust::Debian);
    }
    Err(Problem::new(format!(
        "Rust cannot build for the browser yet. Install Rust with rustup, run `rustup target add {TARGET}`, and start me again."
    )))
}

/// Where this compiler looks for its wasm32 library.
pub(super) fn library_folder(rustc: &Path) -> Option<PathBuf> {
    Program::new(rustc).words("--print target-libdir --target").arg(TARGET).answer().map(PathBuf::from)
}

fn own_has_std() -> bool {
    let Some(library) = library_folder(Path::new("rustc")) else { return false };
    let Ok(files) = fs::read_dir(library) else { return false };
    let names: Vec<String> =
        files.flatten().map(|file| file.file_name().to_string_lossy().into_owned()).collect();
    let has = |start: &str| names.iter().any(|name| name.starts_with(start));
    has("libcore-") && has("libstd-")
}

/// Ask rustup for it. A failure is remembered for a day, unless the user wants rustup and nothing else.
fn rustup_adds_it(at_any_rate: bool) -> Outcome<bool> {
    let failed_lately = project::tools().join("rustup-failed");
    let remembered = fs::metadata(&failed_lately)
        .and_then(|note| note.modified())
        .is_ok_and(|when| when.elapsed().is_ok_and(|ago| ago < RUSTUP_TRIED_AGAIN_AFTER));
    let Some(rustup) = program::find("rustup") else { return Ok(false) };
    if remembered && !at_any_rate {
        return Ok(false);
    }
    let added = step("wasm32 standard library", "asking rustup, seconds where it can download", || {
        Program::new(rustup).words("target add").arg(TARGET).run_within(RUSTUP_SECONDS)
    });
    if added.is_ok() && own_has_std() {
        return Ok(true);
    }
    project::write(
        &failed_lately,
        "rustup could not add the wasm32 library; it is asked again a day later\n",
    )?;
    Ok(false)
}

/// The folder that goes before `PATH` for wasm builds alone.
pub(super) fn links() -> PathBuf {
    project::tools().join("rust")
}

fn link_debian_rust() -> Outcome {
    for (name, file) in debian::rust_programs() {
        let link = links().join(name);
        if fs::read_link(&link).is_ok_and(|to| to == file) {
            continue;
        }
        fs::create_dir_all(links()).or_say("cannot make .tools/rust")?;
        Program::new("ln").arg("-sfn").arg(file).arg(link).run_quietly()?;
    }
    Ok(())
}

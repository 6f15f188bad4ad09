//! Where things are in the project.

use std::env;
use std::fs;
use std::path::{Path, PathBuf};

use crate::problem::{OrSay, Outcome, Problem};

/// The folder of the workspace.
pub(crate) fn root() -> PathBuf {
    let this_crate = env::var_os("CARGO_MANIFEST_DIR")
        .map_or_else(|| PathBuf::from(env!("CARGO_MANIFEST_DIR")), PathBuf::from);
    this_crate.ancestors().nth(2).unwrap_or(&this_crate).to_path_buf()
}

/// Everything that setup installs; git ignores it, and deleting it only costs time.
pub(crate) fn tools() -> PathBuf {
    root().join(".tools")
}

/// The finished page.
pub(crate) fn dist() -> PathBuf {
    root().join("dist")
}

/// Cargo's build folder, wherever the user has put it: this very program lies in its `debug` folder.
pub(crate) fn target() -> Outcome<PathBuf> {
    let this_program = env::current_exe().or_say("cannot tell where this program is")?;
    this_program
        .ancestors()
        .nth(2)
        .map(Path::to_path_buf)
        .ok_or_else(|| Problem::new("run me as `cargo xtask`"))
}

pub(crate) fn read(path: &Path) -> Outcome<String> {
    fs::read_to_string(path).or_say(format_args!("cannot read {}", path.display()))
}

pub(crate) fn write(path: &Path, text: &str) -> Outcome {
    if let Some(folder) = path.parent() {
        fs::create_dir_all(folder).or_say(format_args!("cannot make {}", folder.display()))?;
    }
    fs::write(path, text).or_say(format_args!("cannot write {}", path.display()))
}

/// Remove a folder and all in it; that it is not there is fine.
pub(crate) fn remove_folder(path: &Path) -> Outcome {
    if path.exists() {
        fs::remove_dir_all(path).or_say(format_args!("cannot remove {}", path.display()))?;
    }
    Ok(())
}

/// The version of a crate in Cargo.lock.
pub(crate) fn locked_version(name: &str) -> Outcome<String> {
    version_in_lock(&read(&root().join("Cargo.lock"))?, name)
        .ok_or_else(|| Problem::new(format!("Cargo.lock has no {name}")))
}

fn version_in_lock(lock: &str, name: &str) -> Option<String> {
    let name_line = format!("name = \"{name}\"");
    let mut lines = lock.lines().skip_while(|line| *line != name_line);
    let version = lines.nth(1)?.strip_prefix("version = \"")?;
    Some(version.trim_end_matches('"').to_owned())
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn the_version_is_that_of_the_crate_with_exactly_this_name() {
        let lock = "[[package]]\nname = \"wasm-bindgen-shared\"\nversion = \"0.1.9\"\n\n[[package]]\nname = \"wasm-bindgen\"\nversion = \"0.2.130\"\n";
        assert_eq!(version_in_lock(lock, "wasm-bindgen").as_deref(), Some("0.2.130"));
        assert_eq!(version_in_lock(lock, "wasm"), None);
    }

    #[test]
    fn the_root_is_the_workspace() {
        assert!(root().join("Cargo.lock").is_file());
        assert!(root().join("crates").join("xtask").is_dir());
    }
}

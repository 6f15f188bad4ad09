//! What the cross-checks need: a Python of its own with numpy, scipy, sympy and pandas at pinned versions.

use std::path::{Path, PathBuf};

use crate::problem::{Outcome, Problem};
use crate::program::{self, Program};
use crate::project;

use super::{debian, installed_for, step};

/// The pinned libraries are made for this one and newer.
const OLDEST_MINOR: u32 = 11;
const NAMES: [&str; 6] = ["python3", "python", "python3.14", "python3.13", "python3.12", "python3.11"];

/// The Python of `.tools/venv`; made, and filled by tests/numpy/requirements.txt, when it is not.
pub(crate) fn ready() -> Outcome<PathBuf> {
    let requirements = project::root().join("tests/numpy/requirements.txt");
    let venv = project::tools().join("venv");
    let python = venv.join(if cfg!(windows) { "Scripts/python.exe" } else { "bin/python" });
    let wanted = project::read(&requirements)?;
    let note = venv.join("installed-for");
    if installed_for(&note, &wanted) && Program::new(&python).arg("--version").answer().is_some() {
        return Ok(python);
    }
    let system = system_python()?;
    step("numpy, scipy, sympy and pandas", "about 50 seconds", || {
        project::remove_folder(&venv)?;
        Program::new(system).words("-m venv").arg(&venv).run_quietly()?;
        Program::new(&python)
            .words("-m pip install --quiet --disable-pip-version-check --only-binary=:all: -r")
            .arg(&requirements)
            .run_quietly()
    })?;
    project::write(&note, &wanted)?;
    Ok(python)
}

fn system_python() -> Outcome<PathBuf> {
    let found =
        || NAMES.into_iter().filter_map(program::find).find(|python| minor(python) >= Some(OLDEST_MINOR));
    let makes_venvs =
        |python: &PathBuf| Program::new(python).words("-c").arg("import ensurepip, venv").answer().is_some();
    if found().is_none_or(|python| !makes_venvs(&python)) {
        debian::try_install("python3 python3-venv", "about 30 seconds");
    }
    found().filter(makes_venvs).ok_or_else(|| {
        Problem::new(format!(
            "The cross-checks need Python 3.{OLDEST_MINOR} or newer with its venv module: install it, and start me again."
        ))
    })
}

/// The second number of a Python 3's version.
fn minor(python: &Path) -> Option<u32> {
    let version = Program::new(python).arg("--version").answer()?;
    version.strip_prefix("Python 3.")?.split('.').next()?.parse().ok()
}

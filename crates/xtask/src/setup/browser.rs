//! What the browser tests need: Node.js, a Chromium, and the packages of tests/browser.

use std::env;
use std::path::PathBuf;

use crate::problem::{Outcome, Problem};
use crate::program::{self, Program};
use crate::project;

use super::{debian, installed_for, step};

const OLDEST_NODE: u32 = 20;
const NAMES: [&str; 6] =
    ["chromium", "chromium-browser", "google-chrome", "google-chrome-stable", "chrome", "msedge"];
/// Where the browsers that are not on `PATH` usually are.
const PLACES: [&str; 3] = [
    "/Applications/Google Chrome.app/Contents/MacOS/Google Chrome",
    "/Applications/Chromium.app/Contents/MacOS/Chromium",
    "C:/Program Files/Google/Chrome/Application/chrome.exe",
];

/// The programs that run the browser tests.
pub(crate) struct BrowserTools {
    pub(crate) node: PathBuf,
    pub(crate) chromium: PathBuf,
}

/// Find them, and install what is missing.
pub(crate) fn ready() -> Outcome<BrowserTools> {
    let (node, npm) = node()?;
    let chromium = chromium()?;
    let folder = project::root().join("tests/browser");
    let lock = project::read(&folder.join("package-lock.json"))?;
    let note = folder.join("node_modules/.installed-for");
    if !installed_for(&note, &lock) {
        step("packages of tests/browser", "a few seconds", || {
            Program::new(npm)
                .dir(&folder)
                .words("ci --ignore-scripts --no-fund --no-audit --loglevel=error")
                .run_quietly()
        })?;
        project::write(&note, &lock)?;
    }
    Ok(BrowserTools { node, chromium })
}

fn node() -> Outcome<(PathBuf, PathBuf)> {
    let found = || program::find("node").zip(program::find("npm"));
    if found().is_none() {
        debian::try_install("nodejs npm", "about 1 minute");
    }
    let Some((node, npm)) = found() else {
        return Err(Problem::new(format!(
            "The browser tests need Node.js {OLDEST_NODE} or newer with npm: install it, and start me again."
        )));
    };
    let version = Program::new(&node).arg("--version").answer().unwrap_or_default();
    let major = version.trim_start_matches('v').split('.').next().and_then(|major| major.parse().ok());
    if major.is_none_or(|major: u32| major < OLDEST_NODE) {
        return Err(Problem::new(format!(
            "The browser tests need Node.js {OLDEST_NODE} or newer; this one is {version}. Install a newer one, and start me again."
        )));
    }
    Ok((node, npm))
}

fn chromium() -> Outcome<PathBuf> {
    if let Some(chosen) = env::var_os("WHORL_CHROMIUM") {
        return Ok(PathBuf::from(chosen));
    }
    let on_path = || NAMES.into_iter().find_map(program::find);
    let in_its_place = || PLACES.into_iter().map(PathBuf::from).find(|file| file.is_file());
    let found = || on_path().or_else(in_its_place);
    if found().is_none() {
        // Its recommended packages would bring fonts too; a page without any font shows no text.
        debian::try_install("chromium fonts-dejavu-core", "about 1 minute");
    }
    found().ok_or_else(|| {
        Problem::new(
            "The browser tests need Chromium or Chrome: install one, or set WHORL_CHROMIUM to its program, and start me again.",
        )
    })
}

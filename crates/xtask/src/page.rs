//! Building the page: `dist/`, ready for any static host, under any path.

use std::env;
use std::fs::{self, File};
use std::hash::{DefaultHasher, Hash, Hasher};
use std::path::{Path, PathBuf};

use crate::budget;
use crate::offline;
use crate::parts::{in_words, timed};
use crate::problem::{OrSay, Outcome};
use crate::program;
use crate::project;
use crate::setup::PageTools;
use crate::split;
use crate::walk;
use whorl_words::Language;

/// What the page is made of. A change elsewhere does not change the page.
const SOURCES: [&str; 13] = [
    ".cargo/",
    "Cargo.lock",
    "Cargo.toml",
    "Trunk.toml",
    "index.html",
    "crates/app/",
    "crates/charts/",
    "crates/core/",
    "crates/derivation/",
    "crates/document/",
    "crates/worker/",
    "crates/words/",
    "web/",
];

/// Build it, show what a visitor downloads, and fail when that is too much.
pub(crate) fn build_and_weigh() -> Outcome {
    build()?;
    budget::check()
}

/// Build it unless it is there and nothing it is made of has changed.
pub(crate) fn build_if_changed() -> Outcome {
    if is_current()? {
        println!("The page is built already, and nothing has changed since.");
        return Ok(());
    }
    build()
}

/// Build it.
pub(crate) fn build() -> Outcome {
    let tools = PageTools::ready()?;
    let _one_at_a_time = wait_for_other_builds()?;
    let sources = sources()?;
    let note = note()?;
    println!("Building the page. First time: about 3 minutes; next time: seconds.");
    let (built, took) = timed(|| {
        tools
            .program("trunk")
            // trunk takes this common wish (`NO_COLOR=1`) for a wrong argument.
            .without_env(&["NO_COLOR"])
            // Its backtraces bury the compiler's words.
            .env("RUST_BACKTRACE", "0")
            .env("CARGO_ENCODED_RUSTFLAGS", without_machine_paths())
            .words("build --release --public-url ./ --log error")
            .run()
    });
    // What a failed build leaves must not be published.
    project::remove_folder(&project::dist().join(".stage"))?;
    built?;
    let finished = split::split(&tools)
        .and_then(|_| offline::start_from_a_file())
        .and_then(|()| shorten_scripts(&tools))
        .and_then(|()| write_words())
        .and_then(|()| offline::list_files());
    if finished.is_err() {
        // Without its parts the page would not start.
        let _ = fs::remove_file(project::dist().join("index.html"));
    }
    finished?;
    println!("The page is in dist/, built in {}.\n", in_words(took));
    project::write(&note, &sources)
}

/// Writes the messages of the other languages, which the page fetches when one is chosen.
fn write_words() -> Outcome {
    for language in Language::ALL {
        if let Some(table) = whorl_words::table(language) {
            project::write(&project::dist().join("words").join(format!("{}.txt", language.code())), table)?;
        }
    }
    Ok(())
}

/// Takes comments and long names out of the JavaScript that loads the page, a third less of it, and comments out of
/// the styles.
///
/// trunk's own way to do so does not know all of the syntax that wasm-bindgen writes.
fn shorten_scripts(tools: &PageTools) -> Outcome {
    if program::find("npm").is_none() {
        println!("Without Node.js the page's JavaScript stays as long as it is.");
        return Ok(());
    }
    for name in walk::files_under(&project::dist())? {
        if Path::new(&name).extension().is_some_and(|extension| extension == "js" || extension == "css") {
            let file = project::dist().join(&name);
            let outfile = format!("--outfile={}", file.display());
            tools
                .program("esbuild")
                .arg(&file)
                .words("--minify --allow-overwrite --log-level=warning")
                .arg(outfile)
                .run_quietly()?;
        }
    }
    Ok(())
}

/// Compiler flags that keep this machine's folders out of the page's panic messages.
///
/// Cargo's encoding: flags with a unit separator between them, since folders may contain spaces.
fn without_machine_paths() -> String {
    let home = |name: &str| env::var_os(name).map(PathBuf::from);
    let cargo = home("CARGO_HOME").or_else(|| home("HOME").map(|home| home.join(".cargo")));
    let registry = cargo.map(|cargo| cargo.join("registry").join("src"));
    let folders = registry.into_iter().chain([project::root()]);
    folders
        .map(|folder| format!("--remap-path-prefix={}=", folder.display()))
        .collect::<Vec<_>>()
        .join("\u{1f}")
}

/// Two builds at once would trip over each other in `dist/`, as with `serve` running while one tests.
///
/// The lock goes when the file it gives is dropped.
fn wait_for_other_builds() -> Outcome<File> {
    let file = File::create(project::target()?.join("page-build.lock")).or_say("cannot make a lock file")?;
    if file.try_lock().is_err() {
        println!("Waiting for another build of the page to end.");
        file.lock().or_say("cannot wait for another build")?;
    }
    Ok(file)
}

/// Is the page in `dist/` made of the sources as they are?
pub(crate) fn is_current() -> Outcome<bool> {
    let built_of = project::read(&note()?).unwrap_or_default();
    Ok(project::dist().join("index.html").is_file() && built_of == sources()?)
}

fn note() -> Outcome<PathBuf> {
    Ok(project::target()?.join("page-built-of"))
}

/// The state of the sources as a short text, different after any change.
pub(crate) fn sources() -> Outcome<String> {
    let mut state = DefaultHasher::new();
    for file in walk::project_files()? {
        if SOURCES.iter().any(|source| file.starts_with(source)) {
            let about = fs::metadata(project::root().join(&file)).or_say(&file)?;
            let changed = about.modified().or_say(&file)?;
            (file, about.len(), changed).hash(&mut state);
        }
    }
    Ok(format!("{:016x}", state.finish()))
}

//! The page's start without a script inside it, and its work without a network.
//!
//! trunk starts a program by a script in the page itself, which a strict content security policy forbids. Here
//! `web/start.js` takes its place, and `web/offline.js`, which `web/offline-start.js` begins, is told which files there are.

use std::fs;
use std::hash::{DefaultHasher, Hash, Hasher};

use crate::problem::{OrSay, Outcome, Problem};
use crate::project;
use crate::walk;

/// The program's script, as `web/start.js` names it.
const APP: &str = "whorl-app";

/// The script that keeps files for offline use. Its name never changes: by it a browser finds the next version.
const KEEPER: &str = "offline.js";

/// Puts the start script into `dist/` and into the page.
pub(crate) fn start_from_a_file() -> Outcome {
    let files = walk::files_under(&project::dist())?;
    let program = files
        .iter()
        .find_map(|name| name.strip_suffix("_bg.wasm").filter(|stem| stem.starts_with(APP)))
        .ok_or_else(|| Problem::new("there is no program of the page in dist/"))?;
    let script = project::read(&project::root().join("web/start.js"))?.replace(APP, program);
    let name = format!("start-{:016x}.js", hash_of(&script));
    project::write(&project::dist().join(&name), &script)?;
    let page = project::dist().join("index.html");
    let text = project::read(&page)?;
    let changed =
        without_inline_script(&text, &format!("<script type=\"module\" src=\"./{name}\"></script>"))
            .ok_or_else(|| {
                Problem::new("trunk's page does not start as it used to: see crates/xtask/src/offline.rs")
            })?;
    project::write(&page, &changed)
}

/// The page with a script of its own in place of the one inside it.
fn without_inline_script(page: &str, script: &str) -> Option<String> {
    let (before, rest) = page.split_once("<script type=\"module\">")?;
    let (_, after) = rest.split_once("</script>")?;
    let changed = format!("{before}{script}{after}");
    (changed.matches("<script").count() == 1).then_some(changed)
}

/// Tells the keeper of files all their names, and of which version they are.
pub(crate) fn list_files() -> Outcome {
    let dist = project::dist();
    let names: Vec<String> = walk::files_under(&dist)?.into_iter().filter(|name| name != KEEPER).collect();
    let mut hasher = DefaultHasher::new();
    for name in &names {
        let bytes = fs::read(dist.join(name)).or_say(format_args!("cannot read {name}"))?;
        (name, bytes).hash(&mut hasher);
    }
    let keeper = dist.join(KEEPER);
    let script = project::read(&keeper)?;
    // Kept as texts by what makes scripts shorter, whichever marks it likes.
    let filled = put(&script, "VERSION", &format!("\"{:016x}\"", hasher.finish()))
        .and_then(|script| put(&script, "FILES", &quoted(&names)))
        .ok_or_else(|| Problem::new("web/offline.js has no place for version and files"))?;
    project::write(&keeper, &filled)
}

/// Puts a value in place of the text of this name.
fn put(script: &str, name: &str, value: &str) -> Option<String> {
    let found = ["\"", "'"]
        .into_iter()
        .map(|mark| format!("{mark}{name}{mark}"))
        .find(|text| script.contains(text))?;
    Some(script.replacen(&found, value, 1))
}

fn quoted(names: &[String]) -> String {
    let quoted: Vec<String> = names.iter().map(|name| format!("{name:?}")).collect();
    quoted.join(",")
}

fn hash_of(text: &str) -> u64 {
    let mut hasher = DefaultHasher::new();
    text.hash(&mut hasher);
    hasher.finish()
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn the_script_in_the_page_becomes_a_file_and_no_other_is_left() {
        let page = "<head><script type=\"module\">\nimport x;\n</script><link></head>";
        assert_eq!(
            without_inline_script(page, "<script src=a>").unwrap(),
            "<head><script src=a><link></head>"
        );
        assert!(without_inline_script("<head></head>", "<script src=a>").is_none());
        let two = "<script type=\"module\">1</script><script>2</script>";
        assert!(without_inline_script(two, "<script src=a>").is_none());
    }

    #[test]
    fn version_and_files_are_put_in_however_the_script_is_written() {
        let script = "const V=\"VERSION\",F=['FILES'];";
        let filled = put(script, "VERSION", "\"1\"").and_then(|script| put(&script, "FILES", "\"a\",\"b\""));
        assert_eq!(filled.unwrap(), "const V=\"1\",F=[\"a\",\"b\"];");
        assert!(put("const V=1", "VERSION", "2").is_none());
    }
}

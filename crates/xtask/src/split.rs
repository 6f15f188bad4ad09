//! Splitting the page's program: a first visit loads the main part, the others are loaded when they are wanted.
//!
//! trunk knows no such step. It puts the undivided program into `dist/`, and here the parts take its place:
//!
//! 1. cargo's program, linked so that it tells where it refers to what (`crates/app/build.rs`), is cut at the
//!    functions marked `#[wasm_split(NAME)]`. What only they need goes into `NAME`'s part, what several parts need
//!    and the main part does not into a part that they share.
//! 2. The main part is bound to JavaScript, as trunk does with a whole program.
//! 3. wasm-opt makes each part small.
//! 4. All get names with one hash of all their contents: a part fits no main part but its own.

use std::fs;
use std::hash::{DefaultHasher, Hash, Hasher};
use std::path::{Path, PathBuf};

use crate::problem::{OrSay, Outcome, Problem};
use crate::program;
use crate::project;
use crate::setup::{PageTools, TARGET};
use crate::walk;

/// The folder of `dist/` that holds the parts loaded later.
pub(crate) const FOLDER: &str = "parts/";

/// What all parts loaded later begin with that more than one of them needs.
pub(crate) const SHARED: &str = "shared";

/// The page's program, as cargo names it.
const APP: &str = "whorl-app";

/// The script that loads parts, as the splitting names it, and at the end.
const LOADER: (&str, &str) = ("__wasm_split.js", "whorl-parts");

/// Measured: 0.4 % smaller after compression than `-Oz --converge`.
const SHRINKING: &str = "--flatten --rereloop -Oz -Oz";

/// How the loader makes a part of what was fetched, and how it does so on hosts that do not know wasm, too.
const INSTANTIATE: (&str, &str) = (
    "WebAssembly.instantiateStreaming(src, imports)",
    "src.then((got) => { if (!got.ok) throw new Error(got.statusText); return got.arrayBuffer(); })\
     .then((bytes) => WebAssembly.instantiate(bytes, imports))",
);

/// One file of the finished program: its name before there is a hash in it, and its bytes.
struct Piece {
    name: String,
    bytes: Vec<u8>,
}

/// Put the parts in place of the undivided program in `dist/`; gives their number beside the main part.
pub(crate) fn split(tools: &PageTools) -> Outcome<usize> {
    let target = project::target()?;
    let whole = target.join(TARGET).join("page").join(format!("{APP}.wasm"));
    let work = target.join("page-parts");
    project::remove_folder(&work)?;
    let cut = work.join("cut");
    tools
        .program("wasm-split-cli")
        .arg(&whole)
        .arg(&cut)
        .words("--target web --out-name")
        .arg(APP)
        .run_quietly()?;
    let bound = work.join("bound");
    tools
        .program("wasm-bindgen")
        // The linker's exports: the parts share the main part's table of functions.
        .words("--target web --no-typescript --keep-lld-exports --out-dir")
        .arg(&bound)
        .arg(cut.join(format!("{APP}.wasm")))
        .run_quietly()?;

    let main = format!("{APP}_bg.wasm");
    let mut wasm = vec![(main.clone(), bound.join(&main))];
    for name in walk::files_under(&cut)? {
        if let Some(later) = later_name(&name) {
            wasm.push((later, cut.join(&name)));
        }
    }
    let mut pieces = Vec::new();
    for (name, file) in &wasm {
        shrink(tools, file)?;
        pieces.push(Piece { name: name.clone(), bytes: read(file)? });
    }
    let mut loader = project::read(&cut.join(LOADER.0))?;
    if loader.contains("fetch(") && !loader.contains(INSTANTIATE.0) {
        return Err(Problem::new(
            "The loader of parts does not look as it used to: see crates/xtask/src/split.rs",
        ));
    }
    loader = loader.replace(INSTANTIATE.0, INSTANTIATE.1);
    let script = project::read(&bound.join(format!("{APP}.js")))?;
    let hash = hash_of(&pieces, &[&loader, &script]);
    let named = |name: &str| with_hash(name, &hash);

    // The scripts name each other and the parts.
    let loader_name = named(&format!("{}.js", LOADER.1));
    let script_name = named(&format!("{APP}.js"));
    loader = loader.replace(&format!("./{APP}.js"), &format!("./{script_name}"));
    for name in walk::files_under(&cut)? {
        if let Some(later) = later_name(&name) {
            loader = loader.replace(&format!("./{name}"), &format!("./{}", named(&later)));
        }
    }
    // The wasm, too, names the loader: there it is a word like any other and stays.
    let script = script
        .replace(&format!("from \"./{}\"", LOADER.0), &format!("from \"./{loader_name}\""))
        .replace(&main, &named(&main));
    let dist = project::dist();
    take_away_undivided(&dist, &named(APP))?;
    project::write(&dist.join(&loader_name), &loader)?;
    project::write(&dist.join(&script_name), &script)?;
    fs::create_dir_all(dist.join(FOLDER)).or_say("cannot make the parts' folder")?;
    for piece in &pieces {
        let file = dist.join(named(&piece.name));
        fs::write(&file, &piece.bytes).or_say(format_args!("cannot write {}", file.display()))?;
    }
    Ok(pieces.len() - 1)
}

/// Where a part loaded later goes in `dist/`, from the name the splitting gave it; nothing for other files.
fn later_name(cut: &str) -> Option<String> {
    let stem = cut.strip_suffix(".wasm")?;
    if let Some(part) = stem.strip_prefix("split_") {
        return Some(format!("{FOLDER}{part}.wasm"));
    }
    stem.strip_prefix("chunk_").map(|number| format!("{FOLDER}{SHARED}-{number}.wasm"))
}

/// `parts/plan.wasm` with its hash: `parts/plan-0123456789abcdef.wasm`. The hash stands where trunk puts it.
fn with_hash(name: &str, hash: &str) -> String {
    let end = name.find("_bg.").or_else(|| name.rfind('.')).unwrap_or(name.len());
    let (stem, ending) = name.split_at(end);
    format!("{stem}-{hash}{ending}")
}

fn hash_of(pieces: &[Piece], scripts: &[&str]) -> String {
    let mut hasher = DefaultHasher::new();
    for piece in pieces {
        (&piece.name, &piece.bytes).hash(&mut hasher);
    }
    scripts.hash(&mut hasher);
    format!("{:016x}", hasher.finish())
}

/// Makes a part small, where there is wasm-opt.
fn shrink(tools: &PageTools, file: &Path) -> Outcome {
    if program::find("npm").is_none() && program::find("wasm-opt").is_none() {
        return Ok(());
    }
    tools.program("wasm-opt").words(SHRINKING).arg(file).arg("-o").arg(file).run_quietly()
}

/// Takes trunk's undivided program out of `dist/` and puts the new name into the page.
fn take_away_undivided(dist: &Path, new: &str) -> Outcome {
    let files = walk::files_under(dist)?;
    let old = files
        .iter()
        .find_map(|name| name.strip_suffix("_bg.wasm").filter(|stem| stem.starts_with(APP)))
        .ok_or_else(|| Problem::new("trunk has left no program of the page in dist/"))?;
    for ending in ["_bg.wasm", ".js"] {
        let file = dist.join(format!("{old}{ending}"));
        fs::remove_file(&file).or_say(format_args!("cannot remove {}", file.display()))?;
    }
    let page: PathBuf = dist.join("index.html");
    let text = project::read(&page)?;
    project::write(&page, &text.replace(old, new))
}

fn read(file: &Path) -> Outcome<Vec<u8>> {
    fs::read(file).or_say(format_args!("cannot read {}", file.display()))
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn parts_go_to_their_folder_and_all_else_does_not() {
        assert_eq!(later_name("split_plan.wasm").as_deref(), Some("parts/plan.wasm"));
        assert_eq!(later_name("chunk_3.wasm").as_deref(), Some("parts/shared-3.wasm"));
        for other in ["whorl-app.wasm", "__wasm_split.js", "split_plan.js"] {
            assert_eq!(later_name(other), None, "{other}");
        }
    }

    #[test]
    fn the_hash_stands_where_trunk_puts_it() {
        assert_eq!(with_hash("parts/plan.wasm", "01"), "parts/plan-01.wasm");
        assert_eq!(with_hash("whorl-app_bg.wasm", "01"), "whorl-app-01_bg.wasm");
        assert_eq!(with_hash("whorl-app", "01"), "whorl-app-01");
    }

    #[test]
    fn another_byte_anywhere_gives_other_names() {
        let piece = |byte| Piece { name: "parts/plan.wasm".into(), bytes: vec![byte] };
        let names = [
            hash_of(&[piece(1)], &["a"]),
            hash_of(&[piece(2)], &["a"]),
            hash_of(&[piece(1)], &["b"]),
            hash_of(&[piece(1), piece(1)], &["a"]),
        ];
        let mut different = names.to_vec();
        different.sort();
        different.dedup();
        assert_eq!(different.len(), names.len());
        assert_eq!(hash_of(&[piece(1)], &["a"]), names[0]);
    }
}

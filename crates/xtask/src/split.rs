//! Splitting the page's program: a first visit loads the main part, the others are loaded when they are wanted.
//!
//! trunk knows no such step. It puts the undivided program into `dist/`, and here the parts take its place:
//!
//! 1. cargo's program, linked so that it tells where it refers to what (`crates/app/build.rs`), is cut at the
//!    functions marked `#[wasm_split(NAME)]`. What only they need goes into `NAME`'s part. What several parts need
//!    and the main part does not is cut into a piece for each set of parts: a dozen, most of them tiny.
//! 2. The main part is bound to JavaScript, as trunk does with a whole program.
//! 3. wasm-opt makes each part small.
//! 4. The pieces that parts share are put into one file, behind each other, so that a part costs two requests
//!    and not ten; the loader takes from it the pieces that a part needs.
//! 5. All get names with one hash of all their contents: a part fits no main part but its own.

use std::collections::BTreeMap;
use std::fs;
use std::hash::{DefaultHasher, Hash, Hasher};
use std::path::{Path, PathBuf};

use crate::problem::{OrSay, Outcome, Problem};
use crate::program;
use crate::project;
use crate::setup::{PageTools, TARGET};
use crate::walk;

/// The folder of `dist/` that holds the parts loaded later.
const FOLDER: &str = "parts/";

/// The pieces that more than one part needs, behind each other.
const SHARED: &str = "parts/shared.wasm";

/// The page's program, as cargo names it.
const APP: &str = "whorl-app";

/// The script that loads parts, as the splitting names it, and at the end.
const LOADER: (&str, &str) = ("__wasm_split.js", "whorl-parts");

/// Measured: 0.7 % smaller after compression than `-Oz --converge`.
const SHRINKING: &str = "--flatten --rereloop -Os -Os --one-caller-inline-max-function-size=50";

/// How the loader makes a part of what was fetched, and how it does so on hosts that do not know wasm, too.
const INSTANTIATE: (&str, &str) = (
    "WebAssembly.instantiateStreaming(src, imports)",
    "src.then(bytesOf).then((bytes) => WebAssembly.instantiate(bytes, imports))",
);

/// What the loader needs for that, and to take a piece out of the shared file, which is fetched once.
const LOADER_HELPS: &str = r#"
async function bytesOf(response) {
    if (!response.ok) throw new Error(response.statusText);
    return response.arrayBuffer();
}
let sharedFile;
async function sharedPiece(from, to) {
    sharedFile ??= fetch(new URL("./SHARED", import.meta.url)).then(bytesOf);
    try {
        return new Response((await sharedFile).slice(from, to));
    } catch (problem) {
        // The next try fetches it anew.
        sharedFile = undefined;
        throw problem;
    }
}
"#;

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
    shrink(tools, &bound.join(&main))?;
    let mut pieces = vec![Piece { name: main.clone(), bytes: read(&bound.join(&main))? }];
    let mut loader = project::read(&cut.join(LOADER.0))?.replace(INSTANTIATE.0, INSTANTIATE.1);
    loader += LOADER_HELPS;
    let mut shared = Vec::new();
    for name in walk::files_under(&cut)? {
        let Some(part) = name.strip_suffix(".wasm").filter(|stem| *stem != APP) else { continue };
        shrink(tools, &cut.join(&name))?;
        let bytes = read(&cut.join(&name))?;
        if let Some(part) = part.strip_prefix("split_") {
            let later = format!("{FOLDER}{part}.wasm");
            loader = loader.replace(&format!("./{name}"), &format!("./{later}"));
            pieces.push(Piece { name: later, bytes });
        } else {
            let place = format!("sharedPiece({}, {})", shared.len(), shared.len() + bytes.len());
            loader = loader.replace(&format!("fetch(new URL(\"./{name}\", import.meta.url))"), &place);
            shared.extend(bytes);
        }
    }
    if !shared.is_empty() {
        loader = loader.replace("SHARED", SHARED);
        pieces.push(Piece { name: SHARED.into(), bytes: shared });
    }
    check_loader(&loader)?;
    let script = project::read(&bound.join(format!("{APP}.js")))?;
    let numbers = hashes_in(script.as_bytes());
    let script =
        String::from_utf8(numbered(script.as_bytes(), &numbers)).or_say("numbering broke the script")?;
    for piece in &mut pieces {
        piece.bytes = numbered(&piece.bytes, &numbers);
    }
    finish(&project::dist(), &pieces, &loader, &script)?;
    Ok(pieces.len() - 1)
}

/// Digits of the hash at the end of a name that wasm-bindgen makes up.
const HASH: usize = 16;

/// Where a name's hash may begin: behind `_` or `h`, and nothing but hexadecimal digits, no more and no fewer.
fn hash_at(bytes: &[u8], at: usize) -> Option<[u8; HASH]> {
    let is_digit = |byte: &u8| byte.is_ascii_digit() || (b'a'..=b'f').contains(byte);
    let before = bytes.get(at.checked_sub(1)?)?;
    let hash: [u8; HASH] = bytes.get(at..at + HASH)?.try_into().ok()?;
    let ends = !bytes.get(at + HASH).is_some_and(is_digit);
    (matches!(before, b'_' | b'h') && ends && hash.iter().all(is_digit)).then_some(hash)
}

/// The hashes in a script, numbered in their order.
fn hashes_in(script: &[u8]) -> BTreeMap<[u8; HASH], usize> {
    let mut numbers = BTreeMap::new();
    for hash in (0..script.len()).filter_map(|at| hash_at(script, at)) {
        let next = numbers.len();
        numbers.entry(hash).or_insert(next);
    }
    numbers
}

/// Puts its number in place of every hash, as long as it was, so that lengths written before names stay right. Program
/// and script call each other by names that end in such hashes, and nothing compresses a hash: measured, 4.3 kB less.
fn numbered(bytes: &[u8], numbers: &BTreeMap<[u8; HASH], usize>) -> Vec<u8> {
    let mut out = bytes.to_vec();
    for at in 0..bytes.len() {
        let number = hash_at(bytes, at).and_then(|hash| numbers.get(&hash));
        if let (Some(number), Some(place)) = (number, out.get_mut(at..at + HASH)) {
            place.copy_from_slice(format!("{number:016x}").as_bytes());
        }
    }
    out
}

/// The loader is text of a tool: were it another one day, parts would be missed only when they are wanted.
fn check_loader(loader: &str) -> Outcome {
    let of_old = ["instantiateStreaming", "./split_", "./chunk_"];
    if loader.contains(INSTANTIATE.1) && !of_old.iter().any(|old| loader.contains(old)) {
        return Ok(());
    }
    Err(Problem::new("The loader of parts does not look as it used to: see crates/xtask/src/split.rs"))
}

/// Gives all their names, lets the scripts know these, and puts them into `dist/`.
fn finish(dist: &Path, pieces: &[Piece], loader: &str, script: &str) -> Outcome {
    let hash = hash_of(pieces, &[loader, script]);
    let named = |name: &str| with_hash(name, &hash);
    let (main, main_script) = (format!("{APP}_bg.wasm"), format!("{APP}.js"));
    let loader_script = named(&format!("{}.js", LOADER.1));
    let loader = pieces.iter().fold(
        loader.replace(&format!("./{main_script}"), &format!("./{}", named(&main_script))),
        |loader, piece| loader.replace(&piece.name, &named(&piece.name)),
    );
    // The wasm, too, names the loader: there it is a word like any other and stays.
    let script = script
        .replace(&format!("from \"./{}\"", LOADER.0), &format!("from \"./{loader_script}\""))
        .replace(&main, &named(&main));
    take_away_undivided(dist, &named(APP), &loader_script)?;
    project::write(&dist.join(&loader_script), &loader)?;
    project::write(&dist.join(named(&main_script)), &script)?;
    fs::create_dir_all(dist.join(FOLDER)).or_say("cannot make the parts' folder")?;
    for piece in pieces {
        let file = dist.join(named(&piece.name));
        fs::write(&file, &piece.bytes).or_say(format_args!("cannot write {}", file.display()))?;
    }
    Ok(())
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

/// Takes trunk's undivided program out of `dist/` and puts the new name into the page. The loader, which the main
/// part's script asks for, is asked for together with it.
fn take_away_undivided(dist: &Path, new: &str, loader: &str) -> Outcome {
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
    let first = "<link rel=\"modulepreload\"";
    if !text.contains(first) {
        return Err(Problem::new(
            "trunk's page does not ask for its script early: see crates/xtask/src/split.rs",
        ));
    }
    let together = format!("{first} href=\"./{loader}\" crossorigin=\"anonymous\">{first}");
    project::write(&page, &text.replace(old, new).replacen(first, &together, 1))
}

fn read(file: &Path) -> Outcome<Vec<u8>> {
    fs::read(file).or_say(format_args!("cannot read {}", file.display()))
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn hashes_of_names_become_numbers_of_the_same_length_in_all_files() {
        let script = b"__wbg_add_00ff12ab34cd56ef(); invoke__h1234567890abcdef; __wbg_get_00ff12ab34cd56ef";
        let numbers = hashes_in(script);
        assert_eq!(numbers.len(), 2);
        let shown = |bytes: &[u8]| String::from_utf8(numbered(bytes, &numbers)).unwrap();
        assert_eq!(
            shown(script),
            "__wbg_add_0000000000000000(); invoke__h0000000000000001; __wbg_get_0000000000000000"
        );
        assert_eq!(shown(b"\x1a__wbg_add_00ff12ab34cd56ef\0"), "\x1a__wbg_add_0000000000000000\0");
        // A hash that no name of the script has, a longer number, one of another kind stay as they are.
        for other in ["_ffffffffffffffff", "_00ff12ab34cd56ef0", "x00ff12ab34cd56ef"] {
            assert_eq!(shown(other.as_bytes()), other);
        }
    }

    #[test]
    fn a_loader_that_still_names_what_was_cut_is_refused() {
        let good = format!("fetch(new URL(\"./parts/plan.wasm\")); {}", INSTANTIATE.1);
        assert_eq!(check_loader(&good), Ok(()));
        for left in ["WebAssembly.instantiateStreaming(a, b)", "\"./split_plan.wasm\"", "\"./chunk_3.wasm\""]
        {
            assert!(check_loader(&format!("{good} {left}")).is_err(), "{left}");
        }
        assert!(check_loader("WebAssembly.compile()").is_err());
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

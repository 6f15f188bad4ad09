//! What a first visit to the page downloads, and how much that may be.

use std::fs;

use crate::problem::{OrSay, Outcome, Problem};
use crate::project;
use crate::walk;

/// The most that a first visit may download, in bytes after brotli's strongest compression, with everything
/// needed to work: the page, its program, the font of its formulas and the example lab.
const MOST: usize = 300_000;

/// What the names of files begin with that a first visit does not download, and why. All others count.
const LATER: [(&str, &str); 24] = [
    ("derivations/", "only when a pre-lab is begun"),
    ("library/", "only when recorded labs are wanted"),
    ("licences/", "only when it is read"),
    ("words/", "only when another language is chosen"),
    ("fonts/OFL", "only when it is read"),
    ("fonts/README", "only when it is read"),
    ("parts/prelab", "only when a pre-lab is begun, or a lab that holds one is opened"),
    ("parts/tray", "only when files are dropped, chosen or pasted"),
    ("parts/plan", "only when the plan is opened"),
    ("parts/findings", "only when what the runs tell about themselves comes into view"),
    ("parts/details", "only when a working, tools of a chart, a simulation or a table is wanted"),
    ("parts/assigning", "only when work is set, or work that was set is opened"),
    ("parts/bench", "only when the practice bench is wanted"),
    ("parts/replay", "only when a run is watched"),
    ("parts/kept", "only from the first change on"),
    (
        "parts/report",
        "only when a report is written, or a lab is saved, or opened that was saved with a fingerprint",
    ),
    ("parts/library", "only when recorded labs are wanted, or a lab file is wrong"),
    ("later/", "only with the part that it belongs to"),
    ("app.webmanifest", "after the page can be used"),
    ("offline", "after the page can be used; it fetches the rest of this list for use without a network"),
    ("icons/whorl-", "only when the page is installed as an app"),
    ("parts/shared", "only with the first of these parts"),
    ("worker.js", SECOND_THREAD),
    ("whorl-worker", SECOND_THREAD),
];

const SECOND_THREAD: &str = "only when files are read or a simulation is begun";

/// One file of the finished page.
struct Weight {
    name: String,
    raw: usize,
    brotli: usize,
}

/// Show every file's weight and the total; an error when the total is too much.
pub(crate) fn check() -> Outcome {
    let mut first_visit = Vec::new();
    let mut later = Vec::new();
    for name in walk::files_under(&project::dist())? {
        let bytes = fs::read(project::dist().join(&name)).or_say(format_args!("cannot read {name}"))?;
        let brotli = compressed(&bytes)?;
        let weight = Weight { raw: bytes.len(), brotli, name };
        if why_later(&weight.name).is_some() { &mut later } else { &mut first_visit }.push(weight);
    }
    print!("{}", table(&first_visit, &later));
    judge(total(&first_visit).brotli)
}

/// The beginnings of names in [`LATER`], for the browser tests, which check that it is so.
pub(crate) fn names_of_later() -> String {
    LATER.map(|(start, _)| start).join(",")
}

fn why_later(name: &str) -> Option<&'static str> {
    LATER.iter().find(|(start, _)| name.starts_with(start)).map(|(_, why)| *why)
}

fn judge(brotli: usize) -> Outcome {
    if brotli <= MOST {
        return Ok(());
    }
    Err(Problem::new(format!(
        "The page is too big: a first visit downloads {} of at most {}. Make it smaller before publishing it.",
        kilobytes(brotli),
        kilobytes(MOST)
    )))
}

/// How long the bytes are after brotli at quality 11, the usual setting for files compressed once and served often.
fn compressed(mut bytes: &[u8]) -> Outcome<usize> {
    let settings = brotli::enc::BrotliEncoderParams {
        quality: 11,
        lgwin: 22,
        size_hint: bytes.len(),
        ..Default::default()
    };
    brotli::BrotliCompress(&mut bytes, &mut std::io::sink(), &settings).or_say("cannot compress")
}

fn total(weights: &[Weight]) -> Weight {
    Weight {
        name: "Total".into(),
        raw: weights.iter().map(|weight| weight.raw).sum(),
        brotli: weights.iter().map(|weight| weight.brotli).sum(),
    }
}

fn table(first_visit: &[Weight], later: &[Weight]) -> String {
    let width = first_visit.iter().chain(later).map(|weight| weight.name.len()).max().unwrap_or(0).max(24);
    let line = |weight: &Weight, why: &str| {
        format!(
            "  {:width$} {:>10} {:>10}  {why}",
            weight.name,
            kilobytes(weight.raw),
            kilobytes(weight.brotli)
        )
        .trim_end()
        .to_owned()
            + "\n"
    };
    let mut text = format!("  {:width$} {:>10} {:>10}\n", "A first visit downloads", "raw", "brotli-11");
    for weight in first_visit {
        text += &line(weight, "");
    }
    text += &line(&total(first_visit), &format!("of at most {}", kilobytes(MOST)));
    if !later.is_empty() {
        text += "\n  Not for a first use\n";
    }
    for weight in later {
        text += &line(weight, why_later(&weight.name).unwrap_or_default());
    }
    text
}

/// A kilobyte is 1000 bytes.
fn kilobytes(bytes: usize) -> String {
    format!("{}.{} kB", bytes / 1000, bytes % 1000 / 100)
}

#[cfg(test)]
mod tests {
    use super::*;

    fn weight(name: &str, brotli: usize) -> Weight {
        Weight { name: name.into(), raw: 3 * brotli, brotli }
    }

    #[test]
    fn the_budget_is_kept_up_to_its_last_byte_and_no_further() {
        assert_eq!(judge(300_000), Ok(()));
        let problem = judge(300_001).unwrap_err().to_string();
        assert!(problem.contains("300.0 kB of at most 300.0 kB"), "{problem}");
    }

    #[test]
    fn what_comes_later_is_shown_but_not_counted() {
        let text = table(
            &[weight("app.wasm", 150_000), weight("index.html", 1_250)],
            &[weight("parts/plan-01.wasm", 90_000)],
        );
        assert!(text.contains("151.2 kB  of at most 300.0 kB"), "{text}");
        assert!(text.contains("90.0 kB  only when the plan is opened"), "{text}");
    }

    #[test]
    fn a_file_counts_unless_the_beginning_of_its_name_is_listed() {
        assert!(why_later("parts/prelab-0123.wasm").is_some());
        assert!(why_later("derivations/turntable.json").is_some());
        for of_the_thread in ["worker.js", "whorl-worker.js", "whorl-worker_bg.wasm"] {
            assert_eq!(why_later(of_the_thread), Some(SECOND_THREAD), "{of_the_thread}");
        }
        for counted in [
            "index.html",
            "app-0123.js",
            "app-0123_bg.wasm",
            "fonts/math.woff2",
            "samples/turntable.json",
            "parts/new.wasm",
        ] {
            assert!(why_later(counted).is_none(), "{counted}");
        }
    }

    #[test]
    fn repetition_compresses_and_noise_does_not() {
        let repeated = b"the moment of inertia ".repeat(1000);
        assert!(compressed(&repeated).unwrap() < 100);
        let mut state = 1_u32;
        let noise: Vec<u8> = std::iter::repeat_with(|| {
            state = state.wrapping_mul(1_664_525).wrapping_add(1_013_904_223);
            state.to_be_bytes()[0]
        })
        .take(5000)
        .collect();
        assert!(compressed(&noise).unwrap() > 4900);
    }
}

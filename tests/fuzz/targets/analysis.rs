//! A lab file that opens is analyzed, diagnosed and reported, whatever its numbers are.
#![no_main]

use libfuzzer_sys::{Corpus, fuzz_target};
use whorl_core::analysis::analyze;
use whorl_core::lab_file::open;
use whorl_core::report::{to_json, to_table};
use whorl_fuzz::{BESIDE, within};

/// Fits of runs and lines hold tables of as many rows and columns as there are parameters.
fn allowed(text: &str) -> usize {
    256 * text.len() + 1_048_576
}

fuzz_target!(|bytes: &[u8]| -> Corpus {
    let Ok(text) = str::from_utf8(bytes) else { return Corpus::Reject };
    let opened = within(allowed(text), || {
        let lab = open(text, &mut |_| Ok(BESIDE.to_vec())).ok()?;
        let analysis = analyze(&lab);
        let _ = (to_json(&lab, &analysis), to_table(&lab, &analysis));
        Some(())
    });
    if opened.is_some() { Corpus::Keep } else { Corpus::Reject }
});

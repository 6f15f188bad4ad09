//! A lab file: opened, saved and opened again it is the same lab, and saved twice the same text.
#![no_main]

use libfuzzer_sys::{Corpus, fuzz_target};
use whorl_core::lab_file::{open, save};
use whorl_fuzz::{BESIDE, within};

/// A JSON object of one field takes six bytes of text and a whole node of a B-tree, 632 bytes, in memory;
/// a list of such objects grows by doubling. Messages and folders of fixed size come on top.
fn allowed(text: &str) -> usize {
    160 * text.len() + 32_768
}

fuzz_target!(|bytes: &[u8]| -> Corpus {
    let Ok(text) = str::from_utf8(bytes) else { return Corpus::Reject };
    within(allowed(text), || {
        let Ok(lab) = open(text, &mut |_| Ok(BESIDE.to_vec())) else { return };
        let saved = save(&lab);
        // What a newer Whorl saved stays as it is, with the names of the files beside it.
        let stays = saved == text;
        let again = open(&saved, &mut |path| {
            assert!(stays, "{path:?} is asked for");
            Ok(BESIDE.to_vec())
        });
        assert_eq!(again.as_ref(), Ok(&lab), "opened again it is another lab");
        assert_eq!(again.map(|again| save(&again)).as_ref(), Ok(&saved), "saved again it is another text");
    });
    Corpus::Keep
});

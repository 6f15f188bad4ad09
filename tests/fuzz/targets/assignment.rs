//! Work that is set, as a file or as a link: opened, handed on either way and opened again it is the same work, and
//! the lab that it begins is one that is saved and opens again.
#![no_main]

use libfuzzer_sys::{Corpus, fuzz_target};
use whorl_core::assignment::{fragment, open, read_link, save};
use whorl_core::bench::Seed;
use whorl_core::lab_file;
use whorl_fuzz::within;

/// As for a lab file; packing a link takes tables of fixed size.
fn allowed(text: &str) -> usize {
    640 * text.len() + 1_048_576
}

fuzz_target!(|bytes: &[u8]| -> Corpus {
    let Ok(text) = str::from_utf8(bytes) else { return Corpus::Reject };
    within(allowed(text), || {
        let Ok(assignment) = read_link(text).or_else(|_| open(text)) else { return };
        assert_eq!(open(&save(&assignment)).as_ref(), Ok(&assignment), "its file sets other work");
        assert_eq!(read_link(&fragment(&assignment)).as_ref(), Ok(&assignment), "its link sets other work");
        let Ok(lab) = assignment.begin(Seed::new(7)) else { return };
        let saved = lab_file::save(&lab);
        assert_eq!(lab_file::open_alone(&saved).as_ref(), Ok(&lab), "its lab opens as another one");
    });
    Corpus::Keep
});

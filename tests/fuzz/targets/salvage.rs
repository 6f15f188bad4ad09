//! Any bytes as a damaged lab file: what is saved of them is a lab that is saved and opens again.
#![no_main]

use libfuzzer_sys::{Corpus, fuzz_target};
use whorl_core::lab_file::{open_alone, salvage, save};
use whorl_fuzz::within;

/// As for a lab file that opens; each item stands in a document of its own for a while, and each thing lost has a
/// message.
fn allowed(bytes: &[u8]) -> usize {
    640 * bytes.len() + 131_072
}

fuzz_target!(|bytes: &[u8]| -> Corpus {
    within(allowed(bytes), || {
        let Some(salvaged) = salvage(bytes) else { return Corpus::Reject };
        let saved = save(&salvaged.lab);
        assert_eq!(open_alone(&saved).as_ref(), Ok(&salvaged.lab), "opened again it is another lab");
        // A file that opens by itself loses nothing, but for fields without meaning.
        if let Some(lab) = str::from_utf8(bytes).ok().and_then(|text| open_alone(text).ok()) {
            assert!(
                lab == salvaged.lab || !salvaged.lost.is_empty(),
                "something is gone and nothing was said"
            );
        }
        Corpus::Keep
    })
});

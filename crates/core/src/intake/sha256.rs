//! The fingerprint by which a file is known again.

use core::fmt::Write as _;
use sha2::{Digest, Sha256};

/// SHA-256 (FIPS 180-4) of some bytes, as 64 hexadecimal digits.
pub fn sha256_hex(bytes: &[u8]) -> String {
    // In many calls: a browser makes a function quick while it is called again, not while it runs.
    const STEP: usize = 1 << 14;
    let mut hash = Sha256::new();
    bytes.chunks(STEP).for_each(|step| hash.update(step));
    hexadecimal(&hash.finalize())
}

/// Bytes as two hexadecimal digits each.
pub fn hexadecimal(bytes: &[u8]) -> String {
    let mut text = String::with_capacity(2 * bytes.len());
    for byte in bytes {
        // Writing to memory cannot fail.
        let _ = write!(text, "{byte:02x}");
    }
    text
}

#[cfg(test)]
mod tests {
    use super::*;

    /// Messages and digests: NIST, “Examples with Intermediate Values”, SHA-256 (one block, two blocks); the
    /// empty message and one million “a”: NIST, Secure Hash Standard Validation System, and FIPS 180-2,
    /// appendix B.3.
    #[test]
    fn digests_are_those_of_the_standard() {
        for (message, digest) in [
            (&b"abc"[..], "ba7816bf8f01cfea414140de5dae2223b00361a396177a9cb410ff61f20015ad"),
            (b"", "e3b0c44298fc1c149afbf4c8996fb92427ae41e4649b934ca495991b7852b855"),
            (
                b"abcdbcdecdefdefgefghfghighijhijkijkljklmklmnlmnomnopnopq",
                "248d6a61d20638b8e5c026930c3e6039a33ce45964ff2167f6ecedd419db06c1",
            ),
            (&vec![b'a'; 1_000_000], "cdc76e5c9914fb9281a1c7e284d73e67f1809a48a497200e046d39ccc7112cd0"),
        ] {
            assert_eq!(sha256_hex(message), digest, "{} bytes", message.len());
        }
    }
}

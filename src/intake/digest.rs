//! The checksum of an input.

use sha2::{Digest, Sha256};
use std::fmt::Write;

/// SHA-256 of some bytes, in hexadecimal.
pub(super) fn sha256(bytes: &[u8]) -> String {
    let mut text = String::with_capacity(64);
    for byte in Sha256::digest(bytes) {
        // Writing to a string cannot fail.
        let _ = write!(text, "{byte:02x}");
    }
    text
}

#[cfg(test)]
mod tests {
    #[test]
    fn the_digest_is_that_of_the_standard() {
        // FIPS 180-4, example for the message "abc".
        let due = "ba7816bf8f01cfea414140de5dae2223b00361a396177a9cb410ff61f20015ad";
        assert_eq!(super::sha256(b"abc"), due);
    }
}

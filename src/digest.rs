//! The checksum of a file that is read.

use sha2::{Digest as _, Sha256};
use std::fmt::Write;

/// A checksum that is not yet complete.
#[derive(Default)]
pub(crate) struct Digest(Sha256);

impl Digest {
    /// Goes on with some bytes.
    pub(crate) fn with(mut self, bytes: &[u8]) -> Self {
        self.0.update(bytes);
        self
    }
}

/// A complete checksum, in hexadecimal.
pub(crate) fn hexadecimal(digest: Digest) -> String {
    let mut text = String::with_capacity(64);
    for byte in digest.0.finalize() {
        // Writing to a string cannot fail.
        let _ = write!(text, "{byte:02x}");
    }
    text
}

/// SHA-256 of some bytes, in hexadecimal.
pub(crate) fn sha256(bytes: &[u8]) -> String {
    hexadecimal(Digest::default().with(bytes))
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

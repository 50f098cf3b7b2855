//! A file into memory; the checksum of a large one is taken while it is read.

use crate::digest::{Digest, hexadecimal};
use std::fs::File;
use std::io::{self, Read};
use std::sync::mpsc::{Sender, channel};
use std::thread;

/// From this size on a file is hashed while it is read, in bytes.
const LARGE: usize = 4 << 20;
/// What is read at a time, in bytes.
const PIECE: usize = 1 << 20;

/// The bytes of a file.
pub(super) struct Loaded {
    /// Its bytes; one more than the limit where it holds more than that.
    pub bytes: Vec<u8>,
    /// SHA-256 of the bytes, where it is known already.
    pub sha256: Option<String>,
}

/// Reads a file to its end or to one byte over `limit`; `size` is what it is said to hold.
///
/// A file that grows or shrinks meanwhile gives what was read of it.
///
/// # Errors
/// Those of the system.
pub(super) fn load(mut file: File, size: u64, limit: u64) -> io::Result<Loaded> {
    let size = usize::try_from(size.min(limit + 1)).unwrap_or(0);
    if size >= LARGE {
        return load_large(file, size, limit);
    }
    let mut bytes = Vec::new();
    file.by_ref().take(limit + 1).read_to_end(&mut bytes)?;
    Ok(Loaded { bytes, sha256: None })
}

fn load_large(mut file: File, size: usize, limit: u64) -> io::Result<Loaded> {
    // What is zero from the start cannot be asked for in a way that may fail: this sees whether there is room.
    Vec::<u8>::new().try_reserve_exact(size)?;
    let mut bytes = vec![0; size];
    let (sender, pieces) = channel::<&[u8]>();
    let (filled, digest) = thread::scope(|scope| {
        let hashing = scope.spawn(move || pieces.iter().fold(Digest::default(), Digest::with));
        let filled = fill(&mut file, &mut bytes, &sender);
        // Hashing ends when nothing more can be sent.
        drop(sender);
        (filled, hashing.join())
    });
    let filled = filled?;
    bytes.truncate(filled);
    let more = (limit + 1).saturating_sub(filled as u64);
    file.take(more).read_to_end(&mut bytes)?;
    let rest = bytes.get(filled..).unwrap_or_default();
    Ok(Loaded { sha256: digest.ok().map(|digest| hexadecimal(digest.with(rest))), bytes })
}

/// Fills a buffer as far as the file goes, and sends on what is filled; how far that was.
fn fill<'b>(file: &mut File, buffer: &'b mut [u8], sender: &Sender<&'b [u8]>) -> io::Result<usize> {
    let mut filled = 0;
    for piece in buffer.chunks_mut(PIECE) {
        let mut length = 0;
        while let Some(free) = piece.get_mut(length..).filter(|free| !free.is_empty()) {
            match file.read(free) {
                Ok(0) => break,
                Ok(more) => length += more,
                Err(error) if error.kind() == io::ErrorKind::Interrupted => {}
                Err(error) => return Err(error),
            }
        }
        let piece: &'b [u8] = piece;
        filled += length;
        // Nobody waits for it only where hashing came to a sudden end, which then leaves no checksum.
        let _ = sender.send(piece.get(..length).unwrap_or_default());
        if length < piece.len() {
            break;
        }
    }
    Ok(filled)
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::digest::sha256;

    /// A file of some bytes, and those bytes.
    fn file(size: usize) -> (tempfile::TempDir, File, Vec<u8>) {
        let folder = tempfile::tempdir().unwrap();
        let path = folder.path().join("x.ifc");
        let bytes: Vec<u8> = (0_u32..).map(|i| i.wrapping_mul(2_654_435_761).to_be_bytes()[0]).take(size).collect();
        std::fs::write(&path, &bytes).unwrap();
        (folder, File::open(path).unwrap(), bytes)
    }

    #[test]
    fn a_large_file_is_the_same_whatever_size_it_was_said_to_have() {
        let size = LARGE + PIECE / 3;
        for said in [size, size - 1, size + 1, LARGE, size + 3 * PIECE] {
            let (_folder, open, bytes) = file(size);
            let loaded = load(open, said as u64, 1 << 30).unwrap();
            assert!(loaded.bytes == bytes, "{said}");
            assert_eq!(loaded.sha256, Some(sha256(&bytes)), "{said}");
        }
    }

    #[test]
    fn no_more_is_read_than_one_byte_over_the_limit() {
        for (size, said) in [(LARGE + 9, LARGE + 9), (LARGE + 9, LARGE), (99, 99), (99, 0)] {
            let (_folder, open, bytes) = file(size);
            let limit = size - 5;
            let loaded = load(open, said as u64, limit as u64).unwrap();
            assert!(loaded.bytes == bytes[..=limit], "{size} {said}");
        }
    }
}

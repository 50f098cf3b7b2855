//! Scanning the data of a large file in several places at once.
//!
//! Each piece begins where a line begins with `#`, which a record does and almost nothing else. Whether
//! it really was a record shows when the piece before it ends just there; where one does not, the whole
//! is scanned in sequence, so that the outcome is the same either way.

use super::index::Found;
use super::scan::Scanner;
use rayon::prelude::*;

/// Files with less data than this are scanned in sequence, in bytes.
const LEAST: usize = 4 << 20;

/// Scans records from `start` on; all that were found, and where they ended. `None` where it has to be done in sequence.
pub(super) fn scan_records(bytes: &[u8], start: usize) -> Option<(Found, usize)> {
    let pieces = rayon::current_num_threads() * 2;
    let length = bytes.len().saturating_sub(start);
    if pieces < 4 || length < LEAST {
        return None;
    }
    let mut starts = vec![start];
    for piece in 1..pieces {
        let from = start + length / pieces * piece;
        let line = memchr::memmem::find(bytes.get(from..)?, b"\n#")?;
        starts.push(from + line + 1);
    }
    starts.dedup();
    let ends = starts.iter().skip(1).copied().chain([usize::MAX]);
    let spans: Vec<(usize, usize)> = starts.iter().copied().zip(ends).collect();
    let scanned: Vec<Option<(Found, usize)>> =
        spans.par_iter().map(|(start, end)| Scanner::records_between(bytes, *start, *end)).collect();
    let mut whole = Found::default();
    let mut ended = start;
    for ((start, _), piece) in spans.iter().zip(scanned) {
        let (found, end) = piece?;
        if *start != ended {
            return None;
        }
        whole.append(found);
        ended = end;
    }
    Some((whole, ended))
}

#[cfg(test)]
mod tests {
    use super::super::scan::scan;
    use std::fmt::Write;

    /// Over four megabytes of records, one of which holds a line that looks like another.
    fn large(trap: bool) -> String {
        let mut text = String::from("ISO-10303-21;\nHEADER;\nENDSEC;\nDATA;\n");
        for id in 1..120_000 {
            let name = if trap { "a\n#1=IFCWALL(\n#2" } else { "a name" };
            writeln!(text, "#{id}=IFCWALL('{name}',$,(1.,2.));").unwrap();
        }
        text + "ENDSEC;\nEND-ISO-10303-21;\n"
    }

    #[test]
    fn pieces_give_what_one_pass_gives() {
        let in_sequence = rayon::ThreadPoolBuilder::new().num_threads(1).build().unwrap();
        let in_pieces = rayon::ThreadPoolBuilder::new().num_threads(4).build().unwrap();
        for text in [large(false), large(true)] {
            let one = in_sequence.install(|| scan(text.as_bytes(), 0)).unwrap();
            let several = in_pieces.install(|| scan(text.as_bytes(), 0)).unwrap();
            assert!((1..120_000).all(|id| one.index.start(id).is_some()));
            assert_eq!(one.by_class.len(), 119_999);
            assert_eq!((one.index, one.by_class), (several.index, several.by_class));
        }
    }
}

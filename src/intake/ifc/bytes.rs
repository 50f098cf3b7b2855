//! Bytes of exchange files: what they mean, where strings end, and which line they stand in.

use memchr::memchr;

/// An offset as an index; too large a one points behind any file.
pub fn to_usize(offset: u64) -> usize {
    usize::try_from(offset).unwrap_or(usize::MAX)
}

/// An index as an offset.
pub fn to_u64(offset: usize) -> u64 {
    offset as u64
}

/// The line of a byte, counted from 1; CR LF, LF and a bare CR end a line.
pub fn line_at(bytes: &[u8], offset: u64) -> u64 {
    let before = bytes.get(..to_usize(offset).min(bytes.len())).unwrap_or_default();
    let feeds = memchr::memchr_iter(b'\n', before).count();
    let bare = memchr::memchr_iter(b'\r', before).filter(|&at| bytes.get(at + 1) != Some(&b'\n')).count();
    to_u64(feeds + bare) + 1
}

/// The column of a byte, counted from 1 in bytes.
pub fn column_at(bytes: &[u8], offset: usize) -> u64 {
    let before = bytes.get(..offset.min(bytes.len())).unwrap_or_default();
    let line_start = memchr::memrchr2(b'\n', b'\r', before).map_or(0, |at| at + 1);
    to_u64(before.len() - line_start) + 1
}

/// What stands behind `#id =`, comments and blanks passed over; `None` where the bytes do not begin so.
pub fn behind_name(record: &[u8]) -> Option<&[u8]> {
    let digits = record.strip_prefix(b"#")?;
    let name = digits.iter().take_while(|b| b.is_ascii_digit()).count();
    let equals = without_blanks(digits.get(name..)?);
    Some(without_blanks(equals.strip_prefix(b"=")?))
}

fn without_blanks(mut bytes: &[u8]) -> &[u8] {
    loop {
        bytes = bytes.trim_ascii_start();
        if !bytes.starts_with(b"/*") {
            return bytes;
        }
        let end = memchr::memmem::find(bytes, b"*/").map_or(bytes.len(), |end| end + 2);
        bytes = bytes.get(end..).unwrap_or_default();
    }
}

/// The byte behind the string that opens at `open`; `None` where it does not end.
///
/// An apostrophe within is doubled. Some programs write the one of `\S\'` (the character 167) only
/// once; there it ends the string only where an argument can end.
pub fn end_of_string(bytes: &[u8], open: usize) -> Option<usize> {
    let mut at = open + 1;
    loop {
        let rest = bytes.get(at..)?;
        let quote = at + memchr(b'\'', rest)?;
        let ends =
            |at: usize| bytes.get(at).is_some_and(|b| matches!(b, b',' | b')' | b'/') || b.is_ascii_whitespace());
        let escaped = bytes.get(at.max(quote.saturating_sub(3))..quote) == Some(br"\S\");
        if bytes.get(quote + 1) == Some(&b'\'') {
            if escaped && ends(quote + 2) {
                return Some(quote + 2);
            }
            at = quote + 2;
        } else if escaped && !ends(quote + 1) {
            at = quote + 1;
        } else {
            return Some(quote + 1);
        }
    }
}

/// No byte of a record.
pub const OTHER: u8 = 0;
/// Part of a number, a word, a reference, or white space.
pub const PLAIN: u8 = 1;
/// Opens a string.
pub const QUOTE: u8 = 2;
/// Opens a list.
pub const OPEN: u8 = 3;
/// Closes a list.
pub const CLOSE: u8 = 4;
/// Opens a comment.
pub const SLASH: u8 = 5;
/// Ends a record.
pub const SEMICOLON: u8 = 6;

/// What each byte means within a record, outside of strings.
pub static KINDS: [u8; 256] = kinds();

const fn kinds() -> [u8; 256] {
    let mut kinds = [OTHER; 256];
    let mut byte = 0_u8;
    while byte < 128 {
        let kind = match byte {
            b'\'' => QUOTE,
            b'(' => OPEN,
            b')' => CLOSE,
            b'/' => SLASH,
            b';' => SEMICOLON,
            b'.' | b'#' | b'$' | b'*' | b'+' | b'-' | b',' | b'"' | b'_' | b' ' | b'\t' | b'\r' | b'\n' | 0x0b
            | 0x0c => PLAIN,
            _ if byte.is_ascii_alphanumeric() => PLAIN,
            _ => OTHER,
        };
        #[allow(clippy::indexing_slicing, reason = "a byte is always within 256")]
        {
            kinds[byte as usize] = kind;
        }
        byte += 1;
    }
    kinds
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn lines_end_with_any_of_three_marks() {
        assert_eq!(line_at(b"a\r\nb\rc\nd", 7), 4);
        assert_eq!(column_at(b"ab\ncd", 4), 2);
    }
}

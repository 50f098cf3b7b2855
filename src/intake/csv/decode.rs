//! Bytes to text: the encodings that spreadsheets save.

use crate::refusal::Refusal;
use crate::source::Place;
use encoding_rs::{Encoding, UTF_16BE, UTF_16LE, WINDOWS_1252};

/// A sheet's text, and whether its encoding had to be guessed.
#[derive(Debug)]
pub(super) struct Decoded {
    pub text: String,
    pub is_guessed: bool,
}

/// Decodes UTF-8 with or without a byte order mark, UTF-16 with one, and else Windows-1252.
pub(super) fn decode(path: &str, bytes: &[u8]) -> Result<Decoded, Refusal> {
    let refuse = |message: &str, help: &str| Err(Refusal::new(Place::input(path), message, help));
    let save_as = "save the sheet as `CSV UTF-8` from the spreadsheet";
    if bytes.is_empty() {
        return refuse("the sheet is empty", "give a sheet with a heading row and a row for each surface");
    }
    if bytes.starts_with(b"PK\x03\x04") || bytes.starts_with(b"\xd0\xcf\x11\xe0") {
        return refuse("this is a workbook or an archive, not text", save_as);
    }
    let decoded = match (Encoding::for_bom(bytes), std::str::from_utf8(bytes)) {
        (Some((encoding, _)), _) if encoding == UTF_16LE || encoding == UTF_16BE => {
            let (text, has_errors) = encoding.decode_with_bom_removal(bytes);
            if has_errors {
                return refuse("the text is damaged: it begins as UTF-16 and does not stay so", save_as);
            }
            Decoded { text: text.into_owned(), is_guessed: false }
        }
        (_, Ok(text)) => Decoded { text: text.strip_prefix('\u{feff}').unwrap_or(text).to_owned(), is_guessed: false },
        (_, Err(_)) => {
            let bytes = bytes.strip_prefix(b"\xef\xbb\xbf").unwrap_or(bytes);
            Decoded { text: WINDOWS_1252.decode_without_bom_handling(bytes).0.into_owned(), is_guessed: true }
        }
    };
    let is_control = |c: char| c.is_control() && !matches!(c, '\t' | '\n' | '\r' | '\u{1a}' | '\u{85}');
    if decoded.text.contains('\0') {
        return refuse("this is not text: it holds NUL bytes", save_as);
    }
    if decoded.is_guessed && decoded.text.chars().any(is_control) {
        return refuse("this is not text: it holds control characters", save_as);
    }
    if decoded.text.trim().is_empty() {
        return refuse("the sheet is empty", "give a sheet with a heading row and a row for each surface");
    }
    Ok(decoded)
}

#[cfg(test)]
mod tests {
    use super::*;

    fn text(bytes: &[u8]) -> String {
        decode("x.csv", bytes).map_or_else(|r| r.message, |d| d.text)
    }

    #[test]
    fn encodings_of_spreadsheets_give_the_same_text() {
        let utf16: Vec<u8> = [0xfeff].into_iter().chain("id,½".encode_utf16()).flat_map(u16::to_le_bytes).collect();
        for bytes in ["id,½".as_bytes(), "\u{feff}id,½".as_bytes(), &utf16, b"id,\xbd"] {
            assert_eq!(text(bytes), "id,½");
        }
        assert!(decode("x.csv", b"id,\xbd").unwrap().is_guessed);
    }

    #[test]
    fn what_is_no_text_is_refused() {
        assert!(text(b"").contains("empty"));
        assert!(text(b" \r\n").contains("empty"));
        assert!(text(b"id\0,kind").contains("NUL"));
        assert!(text(b"\x89PNG\r\n\x1a\n\x01\xff").contains("control"));
        assert!(text(b"PK\x03\x04rest").contains("archive"));
        assert!(text(b"\xff\xfei").contains("damaged"));
    }
}

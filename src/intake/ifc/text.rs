//! Strings of exchange files: the escapes of ISO 10303-21, clause 6.4.3, and bytes that are not UTF-8.

/// A decoded string, and whether anything in it could not be read as it was meant.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct Decoded {
    /// The text.
    pub text: String,
    /// Whether an escape was broken or the text holds control characters.
    pub damaged: bool,
}

/// Decodes what stands between the apostrophes of a string.
///
/// `\S\c`, `\P.\`, `\X\hh`, `\X2\hhhh…\X0\` and `\X4\hhhhhhhh…\X0\` are understood; a broken escape is
/// kept as it stands. Bytes that are not UTF-8 are read as Windows-1252.
pub fn decode(raw: &[u8]) -> Decoded {
    let mut out = Decoded::default();
    let mut rest = raw;
    let mut plain: Vec<u8> = Vec::new();
    while let Some((&byte, tail)) = rest.split_first() {
        let escape = match byte {
            b'\'' if tail.first() == Some(&b'\'') => Some(("'".to_owned(), 2, false)),
            b'\\' => Some(decode_escape(rest)),
            _ => None,
        };
        match escape {
            None => {
                plain.push(byte);
                rest = tail;
            }
            Some((text, length, damaged)) => {
                flush(&mut plain, &mut out);
                out.text.push_str(&text);
                out.damaged |= damaged;
                rest = rest.get(length..).unwrap_or_default();
            }
        }
    }
    flush(&mut plain, &mut out);
    out.damaged |= out.text.chars().any(|c| c.is_control() && !matches!(c, '\n' | '\r' | '\t'));
    out
}

fn flush(plain: &mut Vec<u8>, out: &mut Decoded) {
    match std::str::from_utf8(plain) {
        Ok(text) => out.text.push_str(text),
        Err(_) => out.text.push_str(&encoding_rs::WINDOWS_1252.decode_without_bom_handling(plain).0),
    }
    plain.clear();
}

/// One escape at the start of `rest`: its text, its length in bytes, and whether it is broken.
fn decode_escape(rest: &[u8]) -> (String, usize, bool) {
    let broken = || ("\\".to_owned(), 1, true);
    match rest {
        [_, b'\\', ..] => ("\\".to_owned(), 2, false),
        [_, b'S', b'\\', b'\'', b'\'', ..] => ("\u{a7}".to_owned(), 5, false),
        [_, b'S', b'\\', c, ..] if c.is_ascii() => (char::from(c + 128).to_string(), 4, false),
        [_, b'P', b'A'..=b'I', b'\\', ..] => (String::new(), 4, false),
        [_, b'X', b'\\', hex @ ..] => match hex.get(..2).and_then(hex_value) {
            Some(value) => (char::from_u32(value).map_or_else(String::new, String::from), 5, false),
            None => broken(),
        },
        [_, b'X', b'2', b'\\', hex @ ..] => decode_run(hex, 4).unwrap_or_else(broken),
        [_, b'X', b'4', b'\\', hex @ ..] => decode_run(hex, 8).unwrap_or_else(broken),
        _ => broken(),
    }
}

/// A run of hexadecimal characters of `digits` each, up to `\X0\`.
fn decode_run(hex: &[u8], digits: usize) -> Option<(String, usize, bool)> {
    let end = memchr::memmem::find(hex, b"\\X0\\")?;
    let run = hex.get(..end)?;
    if run.len() % digits != 0 {
        return None;
    }
    let values: Vec<u32> = run.chunks_exact(digits).map(hex_value).collect::<Option<_>>()?;
    let length = 4 + end + 4;
    if digits == 8 {
        let text: String = values.iter().map(|&v| char::from_u32(v).unwrap_or('\u{fffd}')).collect();
        let damaged = text.contains('\u{fffd}');
        return Some((text, length, damaged));
    }
    let units = values.iter().map(|&v| u16::try_from(v).unwrap_or(0xfffd));
    let text: String = char::decode_utf16(units).map(|c| c.unwrap_or('\u{fffd}')).collect();
    let damaged = text.contains('\u{fffd}');
    Some((text, length, damaged))
}

fn hex_value(digits: &[u8]) -> Option<u32> {
    if !digits.iter().all(u8::is_ascii_hexdigit) {
        return None;
    }
    u32::from_str_radix(std::str::from_utf8(digits).ok()?, 16).ok()
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn escapes_of_the_standard_decode() {
        // ISO 10303-21:2016, clause 6.4.3, gives these forms.
        let decoded = decode(br"W\X2\00E4\X0\nd \X4\0001F3E0\X0\ \S\d \X\E4 it''s \\ ");
        assert_eq!(decoded, Decoded { text: "W\u{e4}nd \u{1f3e0} \u{e4} \u{e4} it's \\ ".to_owned(), damaged: false });
    }

    #[test]
    fn broken_escapes_stay_as_text() {
        for raw in [&br"\X2\00E\X0\"[..], br"\X2\00E4", br"\X4\0001\X0\", br"\X\G1", br"\", br"\X2\D83D\X0\"] {
            assert!(decode(raw).damaged, "{raw:?}");
        }
    }

    #[test]
    fn other_code_pages_do_not_stop_the_run() {
        assert_eq!(decode(b"W\xe4nd").text, "W\u{e4}nd");
    }
}

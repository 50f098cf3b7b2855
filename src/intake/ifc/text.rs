//! Strings of exchange files: the escapes of ISO 10303-21, clause 6.4.3, and bytes that are not UTF-8.

/// A decoded string, and whether anything in it could not be read as it was meant.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct Decoded {
    /// The text.
    pub text: String,
    /// Whether an escape was broken or the text holds control characters.
    pub damaged: bool,
}

/// The parts of ISO 8859 that `\PA\` to `\PI\` name, less the first, whose codes are those of Unicode.
///
/// Part 9 is read as Windows-1254, which differs from it only in control codes that `\S\` cannot give.
const PARTS: [&encoding_rs::Encoding; 8] = [
    encoding_rs::ISO_8859_2,
    encoding_rs::ISO_8859_3,
    encoding_rs::ISO_8859_4,
    encoding_rs::ISO_8859_5,
    encoding_rs::ISO_8859_6,
    encoding_rs::ISO_8859_7,
    encoding_rs::ISO_8859_8,
    encoding_rs::WINDOWS_1254,
];

/// Decodes what stands between the apostrophes of a string.
///
/// `\S\c`, `\P.\`, `\X\hh`, `\X2\hhhh…\X0\` and `\X4\hhhhhhhh…\X0\` are understood; a broken escape is
/// kept as it stands. Bytes that are not UTF-8 are read as Windows-1252.
pub fn decode(raw: &[u8]) -> Decoded {
    let mut out = Decoded::default();
    let mut rest = raw;
    let mut plain: Vec<u8> = Vec::new();
    // ISO 8859-1 is the part in force at the start of every string.
    let mut part = b'A';
    while let Some((&byte, tail)) = rest.split_first() {
        let escape = match byte {
            b'\'' if tail.first() == Some(&b'\'') => Some(("'".to_owned(), 2, false)),
            b'\\' => {
                if let [_, b'P', name @ b'A'..=b'I', b'\\', ..] = rest {
                    part = *name;
                }
                Some(decode_escape(rest, part))
            }
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
fn decode_escape(rest: &[u8], part: u8) -> (String, usize, bool) {
    let broken = || ("\\".to_owned(), 1, true);
    match rest {
        [_, b'\\', ..] => ("\\".to_owned(), 2, false),
        [_, b'S', b'\\', b'\'', b'\'', ..] => shifted(b'\'', part, 5),
        [_, b'S', b'\\', c @ b' '..=b'~', ..] => shifted(*c, part, 4),
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

/// The character 128 places above `code` in a part of ISO 8859.
fn shifted(code: u8, part: u8, length: usize) -> (String, usize, bool) {
    let above = code | 0x80;
    match PARTS.get(usize::from(part).wrapping_sub(usize::from(b'B'))) {
        None => (char::from(above).to_string(), length, false),
        Some(encoding) => {
            let bytes = [above];
            let (text, had_errors) = encoding.decode_without_bom_handling(&bytes);
            (text.into_owned(), length, had_errors)
        }
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
    fn code_pages_are_switched_within_a_string() {
        // ISO 10303-21, clause 6.4.3.2, `\P.\`; places of the characters in the parts of ISO/IEC 8859.
        for (raw, due) in [
            (&br"\PA\W\S\dnd"[..], "W\u{e4}nd"),
            (br"\PB\\S\9\S\h", "\u{161}\u{10d}"),
            (br"\PC\\S\&", "\u{124}"),
            (br"\PD\\S\>", "\u{17e}"),
            (br"\PE\\S\a\S\b\S\U\S\]\S\P", "\u{441}\u{442}\u{435}\u{43d}\u{430}"),
            (br"\PF\\S\G", "\u{627}"),
            (br"\PG\\S\a", "\u{3b1}"),
            (br"\PH\\S\`", "\u{5d0}"),
            (br"\PI\\S\}", "\u{131}"),
            (br"\PE\\S\a\PA\\S\d", "\u{441}\u{e4}"),
        ] {
            assert_eq!(decode(raw), Decoded { text: due.to_owned(), damaged: false }, "{raw:?}");
        }
        assert_eq!(decode(br"\S\d").text, "\u{e4}", "every string begins with part 1");
        assert!(decode(br"\PJ\x").damaged && decode(br"\PC\\S\%").damaged, "no such part, no such character");
    }

    #[test]
    fn utf_8_and_shifted_apostrophes_are_read() {
        assert_eq!(decode("St\u{11b}na \u{5899}".as_bytes()).text, "St\u{11b}na \u{5899}");
        assert_eq!(decode(br"\S\''").text, "\u{a7}");
        // Shift-JIS for a wall, whose first byte is no UTF-8: not understood, but the run goes on.
        assert!(!decode(b"\x95\xc7 1").text.is_empty());
    }

    #[test]
    fn other_code_pages_do_not_stop_the_run() {
        assert_eq!(decode(b"W\xe4nd").text, "W\u{e4}nd");
    }
}

//! What is refused before a file is parsed: document types, and elements that would take too long.

/// Attributes of an element beyond which nothing is HPXML; each is compared with each when the file is parsed.
pub(super) const MOST_ATTRIBUTES: usize = 100;

/// What is refused, with the byte where it begins.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) enum Unread {
    /// A document type.
    DocumentType(usize),
    /// An element of too many attributes.
    Attributes(usize),
}

/// The first that is refused. What is not well-formed is left to the parser.
pub(super) fn unread(text: &str) -> Option<Unread> {
    let mut at = 0;
    while let Some(found) = text.get(at..).and_then(|rest| rest.find('<')) {
        let start = at + found;
        let rest = text.get(start..)?;
        let length = if rest.starts_with("<!--") {
            skipped(rest, 4, "-->")?
        } else if rest.starts_with("<![CDATA[") {
            skipped(rest, 9, "]]>")?
        } else if rest.starts_with("<?") {
            skipped(rest, 2, "?>")?
        } else if rest.get(..9).is_some_and(|head| head.eq_ignore_ascii_case("<!DOCTYPE")) {
            return Some(Unread::DocumentType(start));
        } else {
            let (length, attributes) = tag(rest)?;
            if attributes > MOST_ATTRIBUTES {
                return Some(Unread::Attributes(start));
            }
            length
        };
        at = start + length;
    }
    None
}

/// Bytes of what begins with so many bytes and ends with a mark.
fn skipped(rest: &str, head: usize, end: &str) -> Option<usize> {
    Some(head + rest.get(head..)?.find(end)? + end.len())
}

/// Bytes of a tag, and its attributes.
fn tag(rest: &str) -> Option<(usize, usize)> {
    let mut quote = None;
    let mut attributes = 0;
    for (at, byte) in rest.bytes().enumerate() {
        match (quote, byte) {
            (None, b'>') => return Some((at + 1, attributes)),
            (None, b'"' | b'\'') => quote = Some(byte),
            (None, b'=') => attributes += 1,
            (Some(open), _) if open == byte => quote = None,
            _ => {}
        }
    }
    None
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn comments_and_quoted_text_hide_nothing_and_mislead_nobody() {
        let many = |count: usize| " a=\"=>\"".repeat(count);
        assert_eq!(unread("<!-- <!DOCTYPE x> -->\n<!DOCTYPE a>\n<a/>"), Some(Unread::DocumentType(22)));
        assert_eq!(unread("<a><![CDATA[<!DOCTYPE x>]]></a>"), None);
        assert_eq!(unread(&format!("<a><b{}/></a>", many(MOST_ATTRIBUTES))), None);
        assert_eq!(unread(&format!("<a><b{}/></a>", many(MOST_ATTRIBUTES + 1))), Some(Unread::Attributes(3)));
        assert_eq!(unread("<a b=\"never closed"), None);
    }
}

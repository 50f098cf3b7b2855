//! Records, decoded on demand: arguments as slices of the file, read as what the schema says they are.

use super::bytes::end_of_string;
use super::trouble::Trouble;
use crate::finding::Code;
use std::borrow::Cow;

/// One record, its arguments not yet decoded.
#[derive(Clone, Debug)]
pub struct Record<'a> {
    /// Instance name.
    pub id: u64,
    /// Keyword, as it stands in the file; empty for a complex instance.
    pub keyword: &'a [u8],
    arguments: Arguments<'a>,
}

/// As many arguments as most records have.
const FEW: usize = 9;

/// Arguments as they stand; few of them need no store of their own, which would cost more than to split them.
#[derive(Clone, Debug)]
struct Arguments<'a> {
    few: [&'a [u8]; FEW],
    count: usize,
    more: Vec<&'a [u8]>,
}

impl<'a> Arguments<'a> {
    fn split(raw: &'a [u8]) -> Self {
        let mut all = Self { few: [b""; FEW], count: 0, more: Vec::new() };
        for item in items_of(raw) {
            match all.few.get_mut(all.count) {
                Some(place) => *place = item,
                None => all.more.push(item),
            }
            all.count += 1;
        }
        all
    }

    fn get(&self, index: usize) -> Option<&'a [u8]> {
        let few = self.few.get(index).filter(|_| index < self.count);
        few.or_else(|| self.more.get(index.checked_sub(FEW)?)).copied()
    }
}

impl<'a> Record<'a> {
    /// Splits a record that the scan has found sound; `body` begins with its keyword.
    pub fn split(id: u64, body: &'a [u8]) -> Self {
        let length = body.iter().take_while(|b| b.is_ascii_alphanumeric() || **b == b'_').count();
        let (keyword, rest) = body.split_at_checked(length).unwrap_or((body, b""));
        Self { id, keyword, arguments: Arguments::split(rest) }
    }

    /// Whether the record is of a class, by its keyword in capitals.
    pub fn is(&self, keyword: &str) -> bool {
        self.keyword.eq_ignore_ascii_case(keyword.as_bytes())
    }

    /// The keyword in capitals, for a message.
    pub fn class(&self) -> Cow<'a, str> {
        let mut class = String::from_utf8_lossy(self.keyword);
        if class.bytes().any(|byte| byte.is_ascii_lowercase()) {
            class.to_mut().make_ascii_uppercase();
        }
        class
    }

    /// How many arguments it has.
    pub fn len(&self) -> usize {
        self.arguments.count
    }

    /// An argument as it stands; `None` where it is unset (`$`, `*`) or missing.
    pub fn raw(&self, index: usize) -> Option<&'a [u8]> {
        self.arguments.get(index).filter(|raw| !matches!(*raw, b"$" | b"*" | b""))
    }

    /// Whether it has as many arguments as are due.
    pub fn due(&self, count: usize) -> Result<(), Trouble> {
        let have = self.len();
        if have < count {
            return Err(self.trouble(format!("{} has {have} arguments, {count} are due", self.class())));
        }
        Ok(())
    }

    /// An argument that must be there.
    fn required(&self, index: usize, what: &str) -> Result<&'a [u8], Trouble> {
        if index >= self.len() {
            let (class, have) = (self.class(), self.len());
            return Err(self.trouble(format!("{class} has {have} arguments, {} are due ({what})", index + 1)));
        }
        self.raw(index).ok_or_else(|| self.trouble(format!("{} has no {what}", self.class())))
    }

    /// A number that must be there.
    pub fn number(&self, index: usize, what: &str) -> Result<f64, Trouble> {
        let raw = self.required(index, what)?;
        parse_number(untyped(raw)).ok_or_else(|| self.not_a(raw, what, "a number"))
    }

    /// A number that may be unset.
    pub fn optional_number(&self, index: usize, what: &str) -> Result<Option<f64>, Trouble> {
        self.raw(index).map(|_| self.number(index, what)).transpose()
    }

    /// A reference that must be there.
    pub fn reference(&self, index: usize, what: &str) -> Result<u64, Trouble> {
        let raw = self.required(index, what)?;
        parse_reference(raw).ok_or_else(|| self.not_a(raw, what, "a reference such as `#12`"))
    }

    /// A reference that may be unset.
    pub fn optional_reference(&self, index: usize) -> Option<u64> {
        self.raw(index).and_then(parse_reference)
    }

    /// A list of references.
    pub fn references(&self, index: usize, what: &str) -> Result<Vec<u64>, Trouble> {
        let raw = self.required(index, what)?;
        let parse = |item: &'a [u8]| parse_reference(item).ok_or_else(|| self.not_a(item, what, "a reference"));
        self.items(raw, what)?.map(parse).collect()
    }

    /// A list of numbers.
    pub fn numbers(&self, index: usize, what: &str) -> Result<Vec<f64>, Trouble> {
        let raw = self.required(index, what)?;
        self.numbers_of(raw, what)
    }

    /// A list of lists of numbers.
    pub fn number_lists(&self, index: usize, what: &str) -> Result<Vec<Vec<f64>>, Trouble> {
        let raw = self.required(index, what)?;
        self.items(raw, what)?.map(|item| self.numbers_of(item, what)).collect()
    }

    /// The items of a list that must be there, as they stand.
    pub fn list(&self, index: usize, what: &str) -> Result<Vec<&'a [u8]>, Trouble> {
        let raw = self.required(index, what)?;
        Ok(self.items(raw, what)?.collect())
    }

    /// The numbers of a list that stands within an argument.
    pub fn numbers_of(&self, raw: &'a [u8], what: &str) -> Result<Vec<f64>, Trouble> {
        let parse = |item: &[u8]| parse_number(untyped(item)).ok_or_else(|| self.not_a(item, what, "a number"));
        self.items(raw, what)?.map(parse).collect()
    }

    fn items(&self, raw: &'a [u8], what: &str) -> Result<Items<'a>, Trouble> {
        if raw.first() != Some(&b'(') {
            return Err(self.not_a(raw, what, "a list"));
        }
        Ok(items_of(raw))
    }

    /// What stands between the apostrophes of a string; `None` where it is unset or no string.
    pub fn string(&self, index: usize) -> Option<&'a [u8]> {
        string_of(self.raw(index)?)
    }

    /// An enumeration, without its dots; `None` where it is unset or no enumeration.
    pub fn enumeration(&self, index: usize) -> Option<&'a [u8]> {
        enumeration_of(self.raw(index)?)
    }

    /// Whether an enumeration is a word, in any case.
    pub fn says(&self, index: usize, word: &str) -> bool {
        self.enumeration(index).is_some_and(|found| found.eq_ignore_ascii_case(word.as_bytes()))
    }

    /// A logical: `Some` for `.T.` and `.F.`.
    pub fn logical(&self, index: usize) -> Option<bool> {
        logical_of(self.raw(index)?)
    }

    /// A trouble with this record.
    pub fn trouble(&self, message: impl Into<String>) -> Trouble {
        Trouble::new(Code::RecordUnusable, self.id, message)
    }

    fn not_a(&self, raw: &[u8], what: &str, due: &str) -> Trouble {
        let shown: String = String::from_utf8_lossy(raw).chars().take(40).collect();
        self.trouble(format!("{what} of {} is `{shown}`, {due} is due", self.class()))
    }
}

/// The text between the apostrophes, also of a typed string such as `IFCLABEL('x')`.
pub fn string_of(raw: &[u8]) -> Option<&[u8]> {
    untyped(raw).strip_prefix(b"'")?.strip_suffix(b"'")
}

/// The word between the dots.
pub fn enumeration_of(raw: &[u8]) -> Option<&[u8]> {
    untyped(raw).strip_prefix(b".")?.strip_suffix(b".")
}

/// `Some` for `.T.` and `.F.`, also typed.
pub fn logical_of(raw: &[u8]) -> Option<bool> {
    match enumeration_of(raw)? {
        b"T" | b"t" => Some(true),
        b"F" | b"f" => Some(false),
        _ => None,
    }
}

/// The value of a typed argument such as `IFCLENGTHMEASURE(2.)`; others as they stand.
pub fn untyped(raw: &[u8]) -> &[u8] {
    if !raw.first().is_some_and(u8::is_ascii_alphabetic) {
        return raw;
    }
    let length = raw.iter().take_while(|b| b.is_ascii_alphanumeric() || **b == b'_').count();
    let rest = raw.get(length..).unwrap_or_default();
    items_of(rest).next().unwrap_or(raw)
}

/// The keyword of a typed argument; empty for others.
pub fn type_of(raw: &[u8]) -> &[u8] {
    if !raw.first().is_some_and(u8::is_ascii_alphabetic) {
        return b"";
    }
    let length = raw.iter().take_while(|b| b.is_ascii_alphanumeric() || **b == b'_').count();
    raw.get(..length).unwrap_or_default()
}

/// A finite number of the exchange structure.
pub fn parse_number(raw: &[u8]) -> Option<f64> {
    if !raw.iter().all(|b| matches!(b, b'0'..=b'9' | b'+' | b'-' | b'.' | b'e' | b'E')) {
        return None;
    }
    let number: f64 = std::str::from_utf8(raw).ok()?.parse().ok()?;
    number.is_finite().then_some(number)
}

/// The instance name of a reference.
pub fn parse_reference(raw: &[u8]) -> Option<u64> {
    let digits = raw.strip_prefix(b"#").filter(|digits| !digits.is_empty())?;
    digits.iter().try_fold(0_u64, |id, digit| {
        let digit = digit.checked_sub(b'0').filter(|digit| *digit < 10)?;
        id.checked_mul(10)?.checked_add(u64::from(digit))
    })
}

/// The items of a list at the start of `raw`, trimmed of space and comments.
pub fn items_of(raw: &[u8]) -> Items<'_> {
    let at = raw.iter().position(|&b| b == b'(').map_or(raw.len(), |open| open + 1);
    Items { raw, next: Some(at), is_first: true }
}

/// Items of a list; see [`items_of`].
#[derive(Clone, Debug)]
pub struct Items<'a> {
    raw: &'a [u8],
    /// Where the next item begins; `None` behind the last.
    next: Option<usize>,
    is_first: bool,
}

impl<'a> Iterator for Items<'a> {
    type Item = &'a [u8];

    fn next(&mut self) -> Option<&'a [u8]> {
        let (raw, from) = (self.raw, self.next?);
        let is_first = std::mem::replace(&mut self.is_first, false);
        let (mut at, mut depth) = (from, 0_usize);
        while let Some(&byte) = raw.get(at) {
            match byte {
                b'\'' => at = end_of_string(raw, at).unwrap_or(raw.len()),
                b'/' if raw.get(at + 1) == Some(&b'*') => at = end_of_comment(raw, at),
                b'(' => {
                    depth += 1;
                    at += 1;
                }
                b')' if depth == 0 => break,
                b')' => {
                    depth -= 1;
                    at += 1;
                }
                b',' if depth == 0 => {
                    self.next = Some(at + 1);
                    return Some(trimmed(raw.get(from..at).unwrap_or_default()));
                }
                _ => at += 1,
            }
        }
        self.next = None;
        let last = trimmed(raw.get(from..at.min(raw.len())).unwrap_or_default());
        // An empty list has no items, not one that is empty.
        (!(is_first && last.is_empty())).then_some(last)
    }
}

fn end_of_comment(raw: &[u8], open: usize) -> usize {
    let rest = raw.get(open + 2..).unwrap_or_default();
    memchr::memmem::find(rest, b"*/").map_or(raw.len(), |length| open + length + 4)
}

fn trimmed(mut raw: &[u8]) -> &[u8] {
    loop {
        raw = raw.trim_ascii();
        if raw.starts_with(b"/*") {
            raw = raw.get(end_of_comment(raw, 0)..).unwrap_or_default();
        } else if raw.ends_with(b"*/") && !raw.starts_with(b"'") {
            let open = memchr::memmem::rfind(raw, b"/*").unwrap_or(0);
            raw = raw.get(..open).unwrap_or_default();
        } else {
            return raw;
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn arguments_are_split_at_their_own_commas() {
        let record = Record::split(7, b"IFCX( 'a,(b' , (1.,2.E1) /* c, d */, IFCLABEL('x'), $, .T., #12, * )");
        assert_eq!(record.len(), 7);
        assert_eq!(record.string(0), Some(&b"a,(b"[..]));
        assert_eq!(record.numbers(1, "list").expect("numbers"), [1.0, 20.0]);
        assert_eq!(record.string(2), Some(&b"x"[..]));
        assert!(record.raw(3).is_none() && record.raw(6).is_none());
        assert_eq!(record.logical(4), Some(true));
        assert_eq!(record.reference(5, "reference").expect("reference"), 12);
    }

    #[test]
    fn numbers_that_are_none_are_refused() {
        for raw in [&b"NAN"[..], b"inf", b"1e400", b"", b"1.2.3", b"'1'"] {
            assert_eq!(parse_number(raw), None);
        }
        assert_eq!(parse_number(b"1.E-05"), Some(1e-5));
    }

    #[test]
    fn a_missing_argument_says_how_many_are_due() {
        let error = Record::split(105, b"IFCEXTRUDEDAREASOLID(#106,#11)").number(3, "depth").expect_err("missing");
        assert!(error.message.contains("has 2 arguments, 4 are due"), "{}", error.message);
    }
}

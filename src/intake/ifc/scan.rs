//! The scan of an exchange file: one pass over its bytes that finds every record and checks the form.
//!
//! Arguments are not decoded here; [`Record`](super::record::Record) does that for those that are asked for.

use super::bytes::{
    CLOSE, KINDS, OPEN, OTHER, PLAIN, QUOTE, SEMICOLON, SLASH, end_of_string, line_at, to_u64, to_usize,
};
use super::chunks::scan_records;
use super::class::{Class, class_of};
use super::index::{Found, Index, Slot};

/// A breach of the form of ISO 10303-21, and where it is.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct FormError {
    /// Byte offset in the file.
    pub offset: usize,
    /// What was found and what was expected.
    pub message: String,
}

/// What the scan found.
#[derive(Debug, Default)]
pub struct Scan {
    /// Every record, by instance name.
    pub index: Index,
    /// Indexed classes, each with its instance names in the order of the file.
    pub by_class: Vec<(Class, u64)>,
    /// The range of the header section.
    pub header: (usize, usize),
    /// Where the records of the last data section end.
    pub data_end: usize,
    /// Breaches that can be lived with.
    pub doubts: Vec<FormError>,
}

/// Deeper than this no exchange file nests its lists.
const DEEPEST: usize = 64;

/// Scans a whole file, from `ISO-10303-21;` on.
///
/// # Errors
/// The first breach of the form that leaves the records in doubt.
pub fn scan(bytes: &[u8], start: usize) -> Result<Scan, FormError> {
    let mut scanner = Scanner::new(bytes, start);
    scanner.exchange()?;
    let Scanner { mut scan, found, .. } = scanner;
    let (pieces, by_class) = found.finished();
    scan.by_class = by_class;
    scan.index = Index::of(pieces).map_err(|(a, b)| {
        let lines = (line_at(bytes, a.start), line_at(bytes, b.start));
        FormError {
            offset: to_usize(b.start),
            message: format!("instance #{} is defined twice (lines {} and {})", a.id, lines.0, lines.1),
        }
    })?;
    Ok(scan)
}

/// One pass over some bytes.
pub(super) struct Scanner<'a> {
    pub(super) bytes: &'a [u8],
    pub(super) at: usize,
    scan: Scan,
    found: Found,
}

impl<'a> Scanner<'a> {
    fn new(bytes: &'a [u8], at: usize) -> Self {
        Self { bytes, at, scan: Scan::default(), found: Found::default() }
    }

    /// The records from one place to another, both at the start of a record, and where they ended.
    ///
    /// `None` where the bytes are no records: the pass over the whole says what is wrong with them.
    pub(super) fn records_between(bytes: &'a [u8], start: usize, end: usize) -> Option<(Found, usize)> {
        let mut scanner = Self::new(bytes, start);
        scanner.skip_space().ok()?;
        while scanner.at < end && scanner.peek() == Some(b'#') {
            scanner.record().ok()?;
            scanner.skip_space().ok()?;
        }
        Some((scanner.found, scanner.at))
    }

    fn exchange(&mut self) -> Result<(), FormError> {
        self.expect_word(b"ISO-10303-21")?;
        self.skip_space()?;
        if self.takes_word(b"HEADER") {
            self.expect(b';', "after `HEADER`")?;
            self.header()?;
        } else {
            self.doubt("no header section; the file begins with its data");
        }
        loop {
            self.skip_space()?;
            if self.takes_word(b"END-ISO-10303-21") {
                self.expect(b';', "after `END-ISO-10303-21`")?;
                break;
            }
            if self.peek().is_none() {
                self.doubt("the file ends without `END-ISO-10303-21;`");
                return Ok(());
            }
            if self.other_section()? {
                continue;
            }
            self.data_section()?;
            self.skip_space()?;
            if let Some((found, end)) = scan_records(self.bytes, self.at) {
                self.found.append(found);
                self.at = end;
            }
            self.records()?;
        }
        self.skip_blank();
        if self.peek().is_some() {
            self.doubt("text after `END-ISO-10303-21;` is ignored");
        }
        Ok(())
    }

    fn header(&mut self) -> Result<(), FormError> {
        self.scan.header.0 = self.at;
        loop {
            self.skip_space()?;
            self.scan.header.1 = self.at;
            if self.takes_word(b"ENDSEC") {
                return self.expect(b';', "after `ENDSEC`");
            }
            self.keyword()?;
            self.arguments()?;
            self.expect(b';', "after a header record")?;
        }
    }

    fn records(&mut self) -> Result<(), FormError> {
        loop {
            self.skip_space()?;
            self.scan.data_end = self.at;
            match self.peek() {
                Some(b'#') => self.record()?,
                Some(b'E' | b'e') => {
                    if self.takes_word(b"ENDSEC") {
                        return self.expect(b';', "after `ENDSEC`");
                    }
                    // `END-ISO-10303-21` is left for the caller.
                    if self.sees_word(b"END-ISO-10303-21") {
                        self.doubt("`ENDSEC;` is missing at the end of the data section");
                        return Ok(());
                    }
                    return Err(self.unexpected("a record `#id = KEYWORD(...);`"));
                }
                None => {
                    let last = self.found.last().map_or(String::new(), |slot| format!(" after #{}", slot.id));
                    return Err(self.error(format!("unexpected end of file{last}; `ENDSEC;` was expected")));
                }
                Some(_) => return Err(self.unexpected("a record `#id = KEYWORD(...);`")),
            }
        }
    }

    fn record(&mut self) -> Result<(), FormError> {
        let start = self.at;
        self.at += 1;
        let id = self.instance_name(start)?;
        self.skip_space()?;
        if self.peek() != Some(b'=') {
            return Err(self.unexpected(&format!("`=` after `#{id}`")));
        }
        self.at += 1;
        self.skip_space()?;
        if self.peek() != Some(b'(') {
            let keyword = self.keyword()?;
            if let Some(class) = self.bytes.get(keyword.0..keyword.1).and_then(class_of) {
                self.found.by_class.push((class, id));
            }
        }
        let unfinished = |error: FormError| FormError { message: format!("{} (in #{id})", error.message), ..error };
        self.arguments().map_err(unfinished)?;
        self.skip_space()?;
        if self.peek() != Some(b';') {
            return Err(self.unexpected(&format!("`;` after #{id}")));
        }
        self.at += 1;
        self.found.slots.push(Slot { id, start: to_u64(start) });
        Ok(())
    }

    fn instance_name(&mut self, start: usize) -> Result<u64, FormError> {
        let mut id: Option<u64> = Some(0);
        let from = self.at;
        while let Some(digit) = self.peek().filter(u8::is_ascii_digit) {
            id = id.and_then(|id| id.checked_mul(10)?.checked_add(u64::from(digit - b'0')));
            self.at += 1;
        }
        if self.at == from {
            return Err(self.unexpected("an instance name such as `#105`"));
        }
        id.ok_or_else(|| FormError {
            offset: start,
            message: "instance number out of range; the largest that is read is 18446744073709551615".to_owned(),
        })
    }

    fn keyword(&mut self) -> Result<(usize, usize), FormError> {
        let from = self.at;
        while self.peek().is_some_and(|b| b.is_ascii_alphanumeric() || b == b'_') {
            self.at += 1;
        }
        if self.at == from || self.bytes.get(from).is_some_and(u8::is_ascii_digit) {
            self.at = from;
            return Err(self.unexpected("a keyword such as `IFCWALL`"));
        }
        Ok((from, self.at))
    }

    /// Runs over a list `( … )` with all that is nested in it.
    pub(super) fn arguments(&mut self) -> Result<(), FormError> {
        self.skip_space()?;
        if self.peek() != Some(b'(') {
            return Err(self.unexpected("`(`"));
        }
        let opened = self.at;
        let mut depth = 0_usize;
        loop {
            let Some(&byte) = self.bytes.get(self.at) else {
                self.at = self.bytes.len();
                return Err(self.error("unexpected end of file".to_owned()));
            };
            match KINDS.get(usize::from(byte)).copied().unwrap_or(OTHER) {
                PLAIN => self.at += 1,
                QUOTE => self.string()?,
                OPEN => {
                    depth += 1;
                    self.at += 1;
                    if depth > DEEPEST {
                        return Err(self.error(format!("lists are nested deeper than {DEEPEST}")));
                    }
                }
                CLOSE => {
                    depth -= 1;
                    self.at += 1;
                    if depth == 0 {
                        return Ok(());
                    }
                }
                SLASH => self.comment()?,
                SEMICOLON => {
                    self.at = opened;
                    return Err(self.error("unbalanced `(`: the record ends before it is closed".to_owned()));
                }
                _ => return Err(self.unexpected("an argument")),
            }
        }
    }

    pub(super) fn string(&mut self) -> Result<(), FormError> {
        match end_of_string(self.bytes, self.at) {
            Some(end) => {
                self.at = end;
                Ok(())
            }
            None => Err(self.error("unterminated string".to_owned())),
        }
    }

    pub(super) fn comment(&mut self) -> Result<(), FormError> {
        if self.bytes.get(self.at + 1) != Some(&b'*') {
            return Err(self.unexpected("an argument"));
        }
        match memchr::memmem::find(self.bytes.get(self.at + 2..).unwrap_or_default(), b"*/") {
            Some(length) => {
                self.at += length + 4;
                Ok(())
            }
            None => Err(self.error("unterminated comment".to_owned())),
        }
    }

    pub(super) fn skip_space(&mut self) -> Result<(), FormError> {
        loop {
            self.skip_blank();
            if self.peek() != Some(b'/') {
                return Ok(());
            }
            self.comment()?;
        }
    }

    fn skip_blank(&mut self) {
        while self.peek().is_some_and(|b| b.is_ascii_whitespace()) {
            self.at += 1;
        }
    }

    pub(super) fn peek(&self) -> Option<u8> {
        self.bytes.get(self.at).copied()
    }

    fn sees_word(&self, word: &[u8]) -> bool {
        let seen = self.bytes.get(self.at..self.at + word.len());
        seen.is_some_and(|seen| seen.eq_ignore_ascii_case(word))
    }

    pub(super) fn takes_word(&mut self, word: &[u8]) -> bool {
        let seen = self.sees_word(word);
        if seen {
            self.at += word.len();
        }
        seen
    }

    fn expect_word(&mut self, word: &[u8]) -> Result<(), FormError> {
        self.skip_space()?;
        self.expect_word_here(word)
    }

    fn expect_word_here(&mut self, word: &[u8]) -> Result<(), FormError> {
        let name = String::from_utf8_lossy(word).into_owned();
        if !self.takes_word(word) {
            return Err(self.unexpected(&format!("`{name}`")));
        }
        self.expect(b';', &format!("after `{name}`"))
    }

    pub(super) fn expect(&mut self, byte: u8, whereabouts: &str) -> Result<(), FormError> {
        self.skip_space()?;
        if self.peek() != Some(byte) {
            return Err(self.unexpected(&format!("`{}` {whereabouts}", char::from(byte))));
        }
        self.at += 1;
        Ok(())
    }

    pub(super) fn error(&self, message: String) -> FormError {
        FormError { offset: self.at, message }
    }

    pub(super) fn unexpected(&self, expected: &str) -> FormError {
        match self.peek() {
            None => self.error(format!("unexpected end of file; {expected} was expected")),
            Some(byte) => {
                let shown = char::from(byte).escape_default();
                self.error(format!("unexpected `{shown}`; {expected} was expected"))
            }
        }
    }

    pub(super) fn doubt(&mut self, message: &str) {
        let offset = self.at;
        self.scan.doubts.push(FormError { offset, message: message.to_owned() });
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn scan_data(data: &str) -> Result<Scan, FormError> {
        scan(format!("ISO-10303-21;HEADER;ENDSEC;DATA;{data}ENDSEC;END-ISO-10303-21;").as_bytes(), 0)
    }

    #[test]
    fn records_strings_and_comments_are_told_apart() {
        let scan = scan_data("/* #9=X(); */#1=IFCWALL('it''s; (one)',/* , */$);\r\n#2=(A(1.)B());").expect("reads");
        assert_eq!([0, 1, 2, 3, 9].map(|id| scan.index.start(id).is_some()), [false, true, true, false, false]);
        assert_eq!(scan.by_class, [(Class::Wall, 1)]);
    }

    #[test]
    fn every_breach_is_named() {
        for (data, part) in [
            ("#1=IFCWALL(1.)#2=IFCWALL();", "`;` after #1"),
            ("#1=IFCWALL((1.);", "unbalanced"),
            ("#1=IFCWALL(1!);", "unexpected `!`"),
            ("#1=A();#1=B();", "defined twice"),
            ("#18446744073709551616=A();", "out of range"),
            ("#1=A('x);", "unterminated string"),
            ("#1=A(/* x);", "unterminated comment"),
        ] {
            let error = scan_data(data).expect_err(data);
            assert!(error.message.contains(part), "{data}: {}", error.message);
        }
    }

    #[test]
    fn a_shifted_apostrophe_does_not_end_its_string() {
        let scan = scan_data(r"#1=IFCWALL('\S\'\X\96',$);#2=IFCWALL('\S\'',$);").expect("reads");
        assert!(scan.index.start(1).is_some() && scan.index.start(2).is_some());
    }
}

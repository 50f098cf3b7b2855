//! Sections of an exchange file besides its header and plain data, as edition 3 of ISO 10303-21 has them.

use super::scan::{FormError, Scanner};

impl Scanner<'_> {
    /// `DATA;`, or with what edition 3 lets a section say of itself: `DATA('name', ('IFC4'));`.
    pub(super) fn data_section(&mut self) -> Result<(), FormError> {
        if !self.takes_word(b"DATA") {
            return Err(self.unexpected("`DATA`"));
        }
        self.skip_space()?;
        if self.peek() == Some(b'(') {
            self.arguments()?;
        }
        self.expect(b';', "after `DATA`")
    }

    /// Runs over a section of edition 3 (ISO 10303-21:2016) that holds no records: names for some of them, or records of other files.
    pub(super) fn other_section(&mut self) -> Result<bool, FormError> {
        let is_reference = self.takes_word(b"REFERENCE");
        if !is_reference && !self.takes_word(b"ANCHOR") {
            return Ok(false);
        }
        self.expect(b';', "after the name of a section")?;
        let mut entries = 0_usize;
        loop {
            self.skip_space()?;
            if self.takes_word(b"ENDSEC") {
                self.expect(b';', "after `ENDSEC`")?;
                break;
            }
            self.entry()?;
            entries += 1;
        }
        if is_reference && entries > 0 {
            self.doubt("the file refers to records of other files, which are not read");
        }
        Ok(true)
    }

    /// Runs over an entry up to its `;`: strings and addresses between `<` and `>` may hold any character.
    fn entry(&mut self) -> Result<(), FormError> {
        loop {
            match self.peek() {
                None => return Err(self.error("unexpected end of file; `ENDSEC;` was expected".to_owned())),
                Some(b';') => {
                    self.at += 1;
                    return Ok(());
                }
                Some(b'\'') => self.string()?,
                Some(b'<') => {
                    let rest = self.bytes.get(self.at..).unwrap_or_default();
                    self.at += memchr::memchr(b'>', rest).map_or(rest.len(), |end| end + 1);
                }
                Some(b'/') => self.comment()?,
                Some(_) => self.at += 1,
            }
        }
    }
}

#[cfg(test)]
mod tests {
    use super::super::class::Class;
    use super::super::scan::scan;

    #[test]
    fn sections_of_edition_three_are_read_or_passed_over() {
        // By the grammar of ISO 10303-21:2016, 5.2 and clauses 9 to 11, from memory.
        let text = "ISO-10303-21;HEADER;ENDSEC;ANCHOR;<wall>=#1;<a;b> = 'x;y';ENDSEC;\
                    REFERENCE;#7=<http://other/house.ifc#wall>;@8=<x>;ENDSEC;\
                    DATA('one;',('IFC4'));#1=IFCWALL('x');ENDSEC;DATA((),('IFC4'));#2=IFCWALL('y');ENDSEC;END-ISO-10303-21;";
        let found = scan(text.as_bytes(), 0).expect("reads");
        assert_eq!(found.by_class, [(Class::Wall, 1), (Class::Wall, 2)]);
        assert!(found.doubts.len() == 1 && found.doubts[0].message.contains("other files"), "{:?}", found.doubts);
        let cut_off = |text: &str| scan(text.as_bytes(), 0).expect_err(text).message;
        assert!(cut_off("ISO-10303-21;HEADER;ENDSEC;ANCHOR;<wall>=#1;").contains("ENDSEC"));
        assert!(cut_off("ISO-10303-21;HEADER;ENDSEC;ANCHOR;<wall=#1;ENDSEC;DATA;").contains("ENDSEC"));
    }
}

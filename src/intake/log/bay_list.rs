//! Bays as people list them: `all`, `3`, `1-5; 8`.

/// Bays of a surface, by number.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum BayList {
    /// All of them.
    All,
    /// From one number to another, each range.
    Ranges(Vec<(u32, u32)>),
}

impl BayList {
    /// Reads a list.
    ///
    /// # Errors
    /// What was found and what was expected.
    pub fn parse(text: &str) -> Result<Self, String> {
        if text.trim().eq_ignore_ascii_case("all") {
            return Ok(Self::All);
        }
        let wrong = |part: &str| format!("`{part}` is no bay");
        let number = |part: &str| part.trim().parse::<u32>().ok().filter(|number| *number > 0);
        let range = |part: &str| {
            let (from, to) = part.split_once(['-', '–']).unwrap_or((part, part));
            match (number(from), number(to)) {
                (Some(from), Some(to)) if from <= to => Ok((from, to)),
                _ => Err(wrong(part.trim())),
            }
        };
        Ok(Self::Ranges(
            text.split([';', ',', ' ']).filter(|part| !part.trim().is_empty()).map(range).collect::<Result<_, _>>()?,
        ))
    }

    /// Whether a bay is in it.
    pub fn has(&self, number: u32) -> bool {
        match self {
            Self::All => true,
            Self::Ranges(ranges) => ranges.iter().any(|(from, to)| (*from..=*to).contains(&number)),
        }
    }

    /// The greatest number in it; `None` for all.
    pub fn greatest(&self) -> Option<u32> {
        match self {
            Self::All => None,
            Self::Ranges(ranges) => ranges.iter().map(|(_, to)| *to).max(),
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn lists_are_read() {
        let list = BayList::parse("1-5; 8").unwrap();
        assert!(list.has(5) && list.has(8) && !list.has(6) && list.greatest() == Some(8));
        assert_eq!(BayList::parse(" All "), Ok(BayList::All));
        for text in ["0", "5-1", "x", "1-", "-3", "1.5"] {
            assert!(BayList::parse(text).is_err(), "{text}");
        }
    }
}

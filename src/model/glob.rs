//! Patterns on names: `*` for any text, `?` for one character, upper and lower case alike.

/// A pattern on names.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Glob {
    text: String,
    lower: Vec<char>,
}

impl Glob {
    /// A pattern as it was written; every text is a pattern.
    pub fn new(text: &str) -> Self {
        Self { text: text.trim().to_owned(), lower: lower(text.trim()) }
    }

    /// The pattern as it was written.
    pub fn text(&self) -> &str {
        &self.text
    }

    /// Whether the pattern fits the whole of a name.
    ///
    /// Takes at most pattern x name steps: after a mismatch only the last `*` is tried again.
    pub fn is_match(&self, name: &str) -> bool {
        let name = lower(name);
        let (mut p, mut n) = (0, 0);
        let mut star: Option<(usize, usize)> = None;
        while n < name.len() {
            match self.lower.get(p) {
                Some('*') => {
                    star = Some((p, n));
                    p += 1;
                }
                Some(&c) if c == '?' || Some(&c) == name.get(n) => (p, n) = (p + 1, n + 1),
                _ => {
                    let Some((star_p, star_n)) = star else { return false };
                    star = Some((star_p, star_n + 1));
                    (p, n) = (star_p + 1, star_n + 1);
                }
            }
        }
        self.lower.iter().skip(p).all(|&c| c == '*')
    }
}

fn lower(text: &str) -> Vec<char> {
    text.chars().flat_map(char::to_lowercase).collect()
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn stars_and_question_marks_fit_whole_names() {
        for (pattern, name) in
            [("*", ""), ("Partition*", "partition 4"), ("*ext*", "WALL EXT 2x6"), ("w?", "W1"), ("a*b*c", "aXbYbc")]
        {
            assert!(Glob::new(pattern).is_match(name), "{pattern} {name}");
        }
        for (pattern, name) in [("Partition", "Partition 4"), ("w?", "W12"), ("", "x"), ("a*b*c", "acb"), ("?", "")] {
            assert!(!Glob::new(pattern).is_match(name), "{pattern} {name}");
        }
    }

    #[test]
    fn many_stars_do_not_take_for_ever() {
        let pattern = "*a".repeat(60);
        assert!(!Glob::new(&pattern).is_match(&"a".repeat(59)));
        assert!(!Glob::new(&pattern).is_match(&"ab".repeat(2000)));
    }
}

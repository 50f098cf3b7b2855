//! The nearest known word, for `did you mean`.

/// Share of likeness below which no suggestion is made.
const LIKENESS: f64 = 0.7;
/// A word that is longer than this is no slip of the pen.
const LONGEST_WORD: usize = 80;

/// The known word that is most like another; the first of equals.
pub(super) fn nearest<'w>(word: &str, known: impl IntoIterator<Item = &'w str>) -> Option<&'w str> {
    if word.len() > LONGEST_WORD {
        return None;
    }
    let word = word.to_lowercase();
    let likeness = |known: &str| strsim::normalized_damerau_levenshtein(&word, &known.to_lowercase());
    known
        .into_iter()
        .map(|known| (known, likeness(known)))
        .filter(|(_, likeness)| *likeness >= LIKENESS)
        .fold(None, |best: Option<(&str, f64)>, next| match best {
            Some(best) if best.1 >= next.1 => Some(best),
            _ => Some(next),
        })
        .map(|(known, _)| known)
}

/// `did you mean` with the nearest word, else a list of what is known.
pub(super) fn did_you_mean<'w>(word: &str, known: impl IntoIterator<Item = &'w str> + Clone) -> String {
    if let Some(near) = nearest(word, known.clone()) {
        return format!("did you mean `{near}`?");
    }
    let mut names: Vec<&str> = known.into_iter().collect();
    let count = names.len();
    names.truncate(12);
    let more = if count > names.len() { format!(" and {} more", count - names.len()) } else { String::new() };
    format!("known are {}{more}", names.iter().map(|n| format!("`{n}`")).collect::<Vec<_>>().join(", "))
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_slip_of_the_pen_finds_its_word() {
        assert_eq!(nearest("windwo", ["door", "window"]), Some("window"));
        assert_eq!(nearest("G-n", ["G-S", "G-N"]), Some("G-N"));
        assert_eq!(nearest("colour", ["door", "window"]), None);
        assert!(did_you_mean("x", ["door", "window"]).contains("`door`, `window`"));
    }
}

//! A refusal as people read it: what, where, the line with carets, and how to mend it.

use super::text::{columns, printable, wrap};
use crate::refusal::{Excerpt, Refusal};

/// Longest part of a line that is shown, in columns.
const SHOWN: usize = 90;
/// What is shown of a long line before the part that is meant, in columns.
const BEFORE: usize = 30;
/// Most refusals that are shown in full.
const MOST: usize = 20;

/// All refusals, each a paragraph; beyond the first twenty they are counted only.
pub fn render_refusals(refusals: &[Refusal]) -> String {
    let mut out = String::new();
    for refusal in refusals.iter().take(MOST) {
        out.push_str(&render(refusal));
    }
    if refusals.len() > MOST {
        out.push_str(&format!("… and {} more of these\n", refusals.len() - MOST));
    }
    out
}

fn render(refusal: &Refusal) -> String {
    let mut out = format!("error: {}\n", printable(&refusal.message));
    let place = printable(&refusal.place.to_string());
    if !place.is_empty() {
        out.push_str(&format!(" --> {place}\n"));
    }
    if let Some(excerpt) = &refusal.excerpt {
        let number = refusal.place.line.map(|line| line.to_string()).unwrap_or_default();
        let gutter = " ".repeat(number.len());
        let (line, carets) = window(excerpt);
        out.push_str(&format!("{gutter} |\n{number} | {line}\n{gutter} | {carets}\n"));
    }
    if !refusal.help.is_empty() {
        for line in wrap(&format!("help: {}", printable(&refusal.help)), 100, "      ") {
            out.push_str(&line);
            out.push('\n');
        }
    }
    out
}

/// The part of a line around what is meant, and the carets below it.
fn window(excerpt: &Excerpt) -> (String, String) {
    // Every character as it is shown: its text, its columns, and whether it is meant.
    let pieces: Vec<(String, usize, bool)> = excerpt
        .text
        .char_indices()
        .map(|(at, c)| {
            let shown = if c == '\t' { " ".to_owned() } else { printable(&c.to_string()) };
            let width = shown.chars().map(columns).sum();
            (shown, width, (excerpt.from..excerpt.to).contains(&at))
        })
        .collect();
    let width = |pieces: &[(String, usize, bool)]| pieces.iter().map(|piece| piece.1).sum::<usize>();
    let first = pieces.iter().position(|piece| piece.2).unwrap_or(pieces.len());
    let mut start = 0;
    if width(&pieces) > SHOWN {
        while start < first && width(pieces.get(start..first).unwrap_or_default()) > BEFORE {
            start += 1;
        }
    }
    let mut line = String::from(if start > 0 { "…" } else { "" });
    let mut carets = String::from(if start > 0 { " " } else { "" });
    let mut used = 0;
    for (shown, width, is_meant) in pieces.iter().skip(start) {
        used += width;
        if used > SHOWN {
            line.push('…');
            break;
        }
        line.push_str(shown);
        carets.push_str(&if *is_meant { "^" } else { " " }.repeat(*width));
    }
    if !carets.contains('^') {
        carets.push('^');
    }
    (line, carets.trim_end().to_owned())
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::source::Place;

    #[test]
    fn carets_stand_below_what_is_meant() {
        let text = "W2,wall,1O'-0\",8',5.5 in".to_owned();
        let excerpt = Excerpt { text, from: 8, to: 14 };
        let place = Place { line: Some(3), column: Some(9), ..Place::input("house.csv") };
        let refusal = Refusal::new(place, "width is not a length", "write `10'-0\"`").with_excerpt(excerpt);
        let expected = "error: width is not a length\n --> house.csv:3:9\n  |\n3 | W2,wall,1O'-0\",8',5.5 in\n  |         \
                        ^^^^^^\nhelp: write `10'-0\"`\n";
        assert_eq!(render_refusals(&[refusal]), expected);
    }

    #[test]
    fn a_very_long_line_is_shown_around_what_is_meant() {
        let text = format!("{}BAD{}", "é".repeat(5000), "x".repeat(5000));
        let (line, carets) = window(&Excerpt { text, from: 10_000, to: 10_003 });
        assert!(line.chars().count() <= SHOWN + 2);
        let caret = carets.chars().position(|c| c == '^').unwrap();
        assert_eq!(line.chars().skip(caret).take(3).collect::<String>(), "BAD");
        assert_eq!(carets.matches('^').count(), 3);
    }

    #[test]
    fn a_span_outside_the_line_still_gives_a_caret() {
        let (_, carets) = window(&Excerpt { text: "ab".to_owned(), from: 7, to: 9 });
        assert_eq!(carets.trim(), "^");
        assert_eq!(window(&Excerpt { text: String::new(), from: 0, to: 0 }).1, "^");
    }
}

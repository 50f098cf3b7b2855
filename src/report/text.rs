//! Text that is safe and fits: control characters escaped, long names shortened, lines wrapped.

use crate::takeoff::Names;
use std::fmt::Write;

/// The same text with control characters, and those that turn the direction of writing, escaped.
pub fn printable(text: &str) -> String {
    let mut out = String::with_capacity(text.len());
    for c in text.chars() {
        // The last two are no characters, which markup may not hold.
        let is_unseen = matches!(c, '\u{200e}' | '\u{200f}' | '\u{202a}'..='\u{202e}' | '\u{2066}'..='\u{2069}' | '\u{fffe}' | '\u{ffff}');
        if c.is_control() || is_unseen {
            // Writing to a string cannot fail.
            let _ = write!(out, "{}", c.escape_default());
        } else {
            out.push(c);
        }
    }
    out
}

/// Columns that a character takes on a terminal: two for the wide letters of East Asia and for pictures.
pub(super) fn columns(c: char) -> usize {
    let wide = matches!(c, '\u{1100}'..='\u{115f}' | '\u{2e80}'..='\u{a4cf}' | '\u{ac00}'..='\u{d7a3}'
        | '\u{f900}'..='\u{faff}' | '\u{fe30}'..='\u{fe6f}' | '\u{ff00}'..='\u{ff60}' | '\u{ffe0}'..='\u{ffe6}'
        | '\u{1f300}'..='\u{1faff}' | '\u{20000}'..='\u{3fffd}');
    if wide { 2 } else { 1 }
}

/// Columns that a text takes on a terminal, made printable.
pub(super) fn text_columns(text: &str) -> usize {
    printable(text).chars().map(columns).sum()
}

/// A printable text as lines of so many columns, broken at spaces, and within a word that is longer than a line; the last
/// of the lines that it may take is cut and marked where more would follow.
pub(super) fn wrap_within(text: &str, width: usize, most_lines: usize) -> Vec<String> {
    let text = printable(text);
    let mut lines: Vec<String> = Vec::new();
    let mut rest = text.trim();
    while !rest.is_empty() && lines.len() + 1 < most_lines {
        let fitting = fitting(rest, width);
        let line = rest.get(..fitting).unwrap_or(rest);
        lines.push(line.trim_end().to_owned());
        rest = rest.get(line.len()..).unwrap_or_default().trim_start();
    }
    if !rest.is_empty() || lines.is_empty() {
        lines.push(shorten(rest, width));
    }
    lines
}

/// Bytes of a text that fit into a line: up to its last space or hyphen there, or all that there is room for.
fn fitting(text: &str, width: usize) -> usize {
    let mut used = 0;
    let mut last_space = None;
    for (at, c) in text.char_indices() {
        used += columns(c);
        if used > width && at > 0 {
            let last_space = if c == ' ' { Some(at) } else { last_space };
            return last_space.filter(|space| *space > 0).unwrap_or(at);
        }
        match c {
            ' ' => last_space = Some(at),
            // A hyphen ends its line.
            '-' => last_space = Some(at + 1),
            _ => {}
        }
    }
    text.len()
}

/// A printable text of so many columns at most, cut in its middle: names in a model often differ at their ends only.
pub(super) fn shorten_middle(text: &str, width: usize) -> String {
    let text = printable(text);
    let length = |text: &str| text.chars().map(columns).sum::<usize>();
    if length(&text) <= width || width < 8 {
        return shorten(&text, width);
    }
    let head = shorten(&text, width / 3);
    let mut tail = text.as_str();
    while length(&head) + length(tail) > width {
        tail = tail.char_indices().nth(1).map_or("", |(at, _)| tail.get(at..).unwrap_or_default());
    }
    head + tail
}

/// A printable text of so many columns at most, cut at its end and marked where it is cut.
pub(super) fn shorten(text: &str, width: usize) -> String {
    let text = printable(text);
    if text.chars().map(columns).sum::<usize>() <= width {
        return text;
    }
    let mut out = String::new();
    let mut used = 1;
    for c in text.chars() {
        used += columns(c);
        if used > width {
            break;
        }
        out.push(c);
    }
    out.push('…');
    out
}

/// Names as `a, b and 3 more`, each shown by a function.
pub(super) fn named(names: &Names, show: impl Fn(&str) -> String) -> String {
    let shown: Vec<String> = names.shown().iter().map(|name| show(name)).collect();
    let more = names.more();
    format!("{}{}", shown.join(", "), if more > 0 { format!(" and {more} more") } else { String::new() })
}

/// Lines of so many columns at most, broken at spaces; the first keeps its own indent, the others
/// begin with `indent`.
pub(super) fn wrap(text: &str, width: usize, indent: &str) -> Vec<String> {
    let mut lines = Vec::new();
    let text_only = text.trim_start_matches(' ');
    let mut line = " ".repeat(text.len() - text_only.len());
    let length = |text: &str| text.chars().map(columns).sum::<usize>();
    for word in text_only.split(' ') {
        if !line.trim().is_empty() && length(&line) + 1 + length(word) > width {
            lines.push(std::mem::replace(&mut line, indent.to_owned()));
        } else if !line.trim().is_empty() {
            line.push(' ');
        }
        line.push_str(word);
    }
    lines.push(line);
    lines
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn control_characters_never_come_out_raw() {
        assert_eq!(printable("a\u{1b}[31mb\n\u{202e}c"), "a\\u{1b}[31mb\\n\\u{202e}c");
        assert_eq!(printable("Außenwand 8'-1 1/8\""), "Außenwand 8'-1 1/8\"");
    }

    #[test]
    fn long_names_are_cut_to_their_columns() {
        assert_eq!(shorten("partition", 9), "partition");
        assert_eq!(shorten("partitions", 9), "partitio…");
        assert_eq!(shorten("外壁外壁", 5), "外壁…");
        assert_eq!(shorten_middle("Wall:Inner - 92 mm stud", 15), "Wall…92 mm stud");
    }

    #[test]
    fn a_cell_runs_on_in_lines_of_its_width() {
        assert_eq!(wrap_within("2x4 @ 16 in + gap 5 in", 14, 3), ["2x4 @ 16 in +", "gap 5 in"]);
        assert_eq!(wrap_within("one two three four", 8, 2), ["one two", "three f…"]);
        assert_eq!(wrap_within("North-west wall", 8, 3), ["North-", "west", "wall"]);
        assert_eq!(wrap_within("abcdefghijkl", 5, 3), ["abcde", "fghij", "kl"]);
        assert_eq!(wrap_within("外壁外壁外", 4, 3), ["外壁", "外壁", "外"]);
        assert_eq!(wrap_within("", 4, 3), [""]);
        assert_eq!(wrap_within("a\nb", 9, 1), ["a\\nb"]);
    }

    #[test]
    fn lines_break_at_spaces() {
        assert_eq!(wrap("one two three", 8, "  "), ["one two", "  three"]);
        assert_eq!(wrap("abcdefghij k", 4, ""), ["abcdefghij", "k"]);
        assert_eq!(wrap("  a bc", 4, "    "), ["  a", "    bc"]);
    }
}

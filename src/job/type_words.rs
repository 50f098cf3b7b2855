//! What the reader of TOML says of values of another type, in words for people who write job files.

/// Message and help in plain words; what is not about a type or a value is left as it is.
pub(super) fn in_words(message: &str) -> (String, &'static str) {
    let line = message.lines().next().unwrap_or("cannot be read");
    let about = line.strip_prefix("invalid type: ").or_else(|| line.strip_prefix("invalid value: "));
    if let Some((found, expected)) = about.and_then(|about| about.rsplit_once(", expected ")) {
        let (expected, help) = expected_words(expected);
        return (format!("found {}, expected {expected}", found_words(found)), help);
    }
    if line.starts_with("data did not match any variant") {
        return (
            "the value is not of a form that this key may have".to_owned(),
            "see `cavitally schema job` for its forms",
        );
    }
    (line.to_owned(), "")
}

fn found_words(found: &str) -> String {
    let behind = |word: &str| found.strip_prefix(word).map(|rest| rest.trim().trim_matches('`').to_owned());
    match found {
        "sequence" => "a list".to_owned(),
        "map" => "a table".to_owned(),
        _ => {
            let number =
                behind("integer ").or_else(|| behind("floating point ")).map(|number| format!("the number {number}"));
            let truth = || behind("boolean ").map(|truth| format!("`{truth}`"));
            let text = || behind("string ").map(|text| format!("the text {text}"));
            number.or_else(truth).or_else(text).unwrap_or_else(|| found.to_owned())
        }
    }
}

/// What was expected, and how it is written.
fn expected_words(expected: &str) -> (String, &'static str) {
    const TEXT: &str =
        "put the value in quotes, a quantity with its unit: `\"3.5 lb/ft3\"`, `\"5 1/2 in\"`, `\"25 lb\"`";
    let whole = ["u8", "u16", "u32", "u64", "usize"];
    match expected {
        "a string" | "string" => ("a text".to_owned(), TEXT),
        "a boolean" => ("`true` or `false`".to_owned(), "write it without quotes"),
        "f32" | "f64" => ("a number".to_owned(), "write it without quotes and without a unit, such as `0.05`"),
        "a sequence" => ("a list".to_owned(), "put it in brackets: `[\"…\"]`, also where there is one alone"),
        "a map" => ("a table".to_owned(), "write a heading such as `[fill.cellulose]`, or `{ key = \"value\" }`"),
        kind if whole.contains(&kind) => {
            ("a whole number from 0 up".to_owned(), "write it without quotes and without a unit, such as `2`")
        }
        kind if kind.starts_with("struct ") => {
            ("a table".to_owned(), "write a heading such as `[fill.cellulose]`, or `{ key = \"value\" }`")
        }
        other => (other.to_owned(), ""),
    }
}

#[cfg(test)]
mod tests {
    use super::super::read_job;

    #[test]
    fn a_value_of_another_type_is_named_in_plain_words() {
        for (lines, found, help) in [
            ("[fill.cellulose]\ndensity = 3\n", "found the number 3, expected a text", "\"3.5 lb/ft3\""),
            ("[fill.cellulose]\ndensity = [\"3 lb/ft3\"]\n", "found a list, expected a text", "quotes"),
            ("[fill.cellulose]\nallowance = \"5 %\"\n", "found the text \"5 %\", expected a number", "0.05"),
            ("[layout]\nking_studs = -1\n", "found the number -1, expected a whole number from 0 up", "such as `2`"),
            ("[layout]\nking_studs = 1.5\n", "found the number 1.5, expected a whole number from 0 up", "such as `2`"),
            ("[layout]\nblocking_at = \"2 ft\"\n", "found the text \"2 ft\", expected a list", "brackets"),
            ("[layout]\nballoon = \"yes\"\n", "found the text \"yes\", expected `true` or `false`", "without quotes"),
            ("fill = 3\n", "found the number 3, expected a table", "heading"),
        ] {
            let refusal = read_job("job.toml", lines).unwrap_err().remove(0);
            assert_eq!(refusal.message, found, "{lines}");
            assert!(refusal.help.contains(help) && refusal.place.line.is_some(), "{lines}: {}", refusal.help);
        }
    }
}

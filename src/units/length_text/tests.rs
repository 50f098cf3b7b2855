use super::super::display::feet_inches;
use super::*;
use proptest::prelude::*;

fn inches(text: &str) -> f64 {
    parse_length(text, None, false).map_or(f64::NAN, |m| m / INCH_M)
}

fn message(text: &str, default: Option<LengthUnit>) -> String {
    parse_length(text, default, false).map_or_else(|e| e.message, |m| format!("read as {m} m"))
}

// A pre-cut stud of 92 5/8 in. and three plates of 1 1/2 in. make 97 1/8 in. (common practice, no source).
#[test]
fn every_way_of_writing_97_and_an_eighth_is_read() {
    for text in [
        "8'-1 1/8\"",
        "8' 1-1/8\"",
        "8'1 1/8\"",
        "8'-1⅛\"",
        "8′-1 ⅛″",
        "8’ 1 1/8”",
        "8ft 1 1/8in",
        "8 ft. 1 1/8 in.",
        "8 feet 1-1/8 inches",
        "97 1/8 in",
        "97-1/8\"",
        "97.125 in",
        "97⅛″",
        "8' - 1 1/8''",
        "8'-1 1/8",
        " 8'-1\u{a0}1/8\" ",
        "8'–1 1⁄8\"",
    ] {
        assert!((inches(text) - 97.125).abs() < 1e-12, "{text}: {}", inches(text));
    }
}

// 1 ft = 0.3048 m, 1 in. = 0.0254 m, exact (NIST SP 811 app. B.8).
#[test]
fn units_are_exact() {
    assert_eq!(parse_length("8.09 ft", None, false), Ok(8.09 * 0.3048));
    assert_eq!(parse_length("2467 mm", None, false), Ok(2.467));
    assert_eq!(parse_length("246.7cm", None, false), Ok(2.467));
    assert_eq!(parse_length("2.467 m", None, false), Ok(2.467));
    assert_eq!(parse_length("2,467 m", None, true), Ok(2.467));
    assert_eq!(parse_length("0\"", None, false), Ok(0.0));
    assert_eq!(parse_length("10'", None, false), Ok(3.048));
    assert_eq!(parse_length("1/2 in", None, false), Ok(0.0127));
}

#[test]
fn a_bare_number_takes_the_unit_of_its_heading_and_never_a_guess() {
    assert_eq!(parse_length("97 1/8", Some(LengthUnit::Inch), false), Ok(97.125 * 0.0254));
    assert_eq!(parse_length("8'", Some(LengthUnit::Millimetre), false), Ok(8.0 * 0.3048));
    assert!(message("97 1/8", None).contains("no unit"));
    let ft_in = Some(LengthUnit::FeetAndInches);
    assert_eq!(parse_length("8-1 1/8", ft_in, false), Ok(97.125 * 0.0254));
    assert!(message("8", ft_in).contains("which part is feet"));
    assert!(message("8-1/8", ft_in).contains("two ways"));
}

#[test]
fn what_is_no_length_is_refused() {
    for (text, part) in [
        ("", "missing"),
        ("-3 ft", "negative"),
        ("−3 ft", "negative"),
        ("1O'-0\"", "letter `O`"),
        ("8 furlong", "`furlong`"),
        ("nan", "`nan`"),
        ("inf ft", "`inf`"),
        ("1e400 ft", "too large"),
        ("8' 13\"", "12 or more"),
        ("8.5' 3\"", "not whole"),
        ("1/0 in", "zero"),
        ("1 9/8 in", "one or more"),
        ("2 467 mm", "second number"),
        ("1,310 mm", "comma"),
        ("8'3'", "not in inches"),
        ("8-1", "not a length"),
        ("'", "number is missing"),
        ("8' 1\" x", "`x`"),
        ("1e308 ft 3", "not whole"),
        ("3/", "stroke"),
        ("$4 ft", "`$`"),
    ] {
        assert!(message(text, None).contains(part), "{text}: {}", message(text, None));
    }
}

#[test]
fn the_span_marks_the_part_that_is_meant() {
    assert_eq!(parse_length("1O'-0\"", None, false).unwrap_err().span, 1..2);
    assert_eq!(parse_length("8 furlong", None, false).unwrap_err().span, 2..9);
}

proptest! {
    #[test]
    fn feet_and_inches_survive_a_round_trip(sixteenths in 0_u32..200_000) {
        let length_m = f64::from(sixteenths) / 16.0 * INCH_M;
        let back = parse_length(&feet_inches(length_m), None, false).unwrap();
        prop_assert!((back - length_m).abs() < 1e-12);
    }

    #[test]
    fn any_text_is_read_or_refused(text in ".{0,24}", comma: bool) {
        if let Ok(length_m) = parse_length(&text, Some(LengthUnit::Foot), comma) {
            prop_assert!(length_m.is_finite() && length_m >= 0.0);
        }
    }
}

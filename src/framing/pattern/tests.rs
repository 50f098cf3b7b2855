use super::parse_framing;

fn read(text: &str) -> (f64, f64, f64, String) {
    let framing = parse_framing(text).unwrap_or_else(|e| panic!("{text}: {e}"));
    (framing.rows[0].member_width_m, framing.depth_m, framing.rows[0].spacing_m, framing.to_string())
}

fn near(text: &str, millimetres: [f64; 3], shown: &str) {
    let (width, depth, spacing, display) = read(text);
    for (found, expected) in [width, depth, spacing].into_iter().zip(millimetres) {
        assert!((found * 1000.0 - expected).abs() < 1e-9, "{text}: {found} {expected}");
    }
    assert_eq!(display, shown);
}

// Dressed sizes: PS 20 (2x4 is 38.1 x 88.9 mm, 2x6 38.1 x 139.7 mm).
#[test]
fn framing_is_read_as_people_write_it() {
    near("2x6 @ 24 in", [38.1, 139.7, 609.6], "2x6 @ 24 in");
    near("2x4@16\"", [38.1, 88.9, 406.4], "2x4 @ 16 in");
    near("2 x 4 @ 16 in o.c.", [38.1, 88.9, 406.4], "2x4 @ 16 in");
    near("2X4 at 16 in. O.C.", [38.1, 88.9, 406.4], "2x4 @ 16 in");
    near("2x6 @ 2 ft", [38.1, 139.7, 609.6], "2x6 @ 2 ft");
    near("2x6 @ 2′", [38.1, 139.7, 609.6], "2x6 @ 2 ft");
    near("2×6 @ 19.2 in", [38.1, 139.7, 487.68], "2x6 @ 19.2 in");
    near("60x240 mm @ 625 mm", [60.0, 240.0, 625.0], "60x240 mm @ 625 mm");
    near("45x195mm @ 600mm", [45.0, 195.0, 600.0], "45x195 mm @ 600 mm");
    near("45mm x 195mm @ 60 cm", [45.0, 195.0, 600.0], "45x195 mm @ 60 cm");
    near("1.5 x 5.5 in actual @ 16 in", [38.1, 139.7, 406.4], "1.5x5.5 in actual @ 16 in");
    near("1 5/8 x 3-5/8 in actual @ 16 in", [41.275, 92.075, 406.4], "1.625x3.625 in actual @ 16 in");
    near("2x4 flat @ 24 in", [88.9, 38.1, 609.6], "2x4 flat @ 24 in");
}

#[test]
fn shown_text_reads_back_the_same() {
    for text in ["2x4 flat @ 24 in", "1 5/8 x 3-5/8 in actual @ 16 in", "45x195mm @ 600mm", "2x6@2ft"] {
        let once = parse_framing(text).unwrap();
        assert_eq!(parse_framing(&once.text).unwrap(), once);
    }
}

#[test]
fn what_cannot_be_meant_is_refused_with_an_example() {
    let bad = [
        "",
        "2x6",
        "@",
        "2x6 @",
        "2x7 @ 16 in",
        "2x6 @ 24",
        "2x6 @ 0 in",
        "2x6 @ -16 in",
        "2x6 @ 1.5 in",
        "2x6 @ 1 in",
        "2x6 @ 240 ft",
        "2x6 @ 16 furlongs",
        "6x2 @ 16 in",
        "2x6 in @ 16 in",
        "60x240 @ 625 mm",
        "60x240 mm @ 625",
        "0x240 mm @ 625 mm",
        "2x6 @ 16 in @ 24 in",
        "2x6 @ nan in",
        "2x6 @ 1e9 in",
        "x @ 16 in",
        "2xx6 @ 16 in",
        "2x6 @ 16,5 in",
        "1.5 x 5.5 actual @ 16 in",
        "2x6 @ 1/0 in",
        "é x é @ é",
    ];
    for text in bad {
        let error = parse_framing(text).expect_err(text);
        assert!(error.help.contains('`'), "{text}: {}", error.help);
        assert!(!error.message.ends_with('.'), "{}", error.message);
    }
}

#[test]
fn assemblies_of_parts_are_read_as_people_write_them() {
    for (text, shown, depth_in, rows) in [
        ("2x4 @ 16 in staggered on 2x6", "2x4 @ 16 in staggered on 2x6", 5.5, 2),
        ("staggered 2x4 at 16\" o.c. on 2x6 plates", "2x4 @ 16 in staggered on 2x6", 5.5, 2),
        ("2x4 staggered on 2x6 @ 16 in", "2x4 @ 16 in staggered on 2x6", 5.5, 2),
        ("2x4 @ 16 in on center staggered on a 2x8 plate", "2x4 @ 16 in staggered on 2x8", 7.25, 2),
        ("2x4@16in+gap 4in+2x4@24in", "2x4 @ 16 in + gap 4 in + 2x4 @ 24 in", 11.0, 2),
        ("2x4 @ 16 in + 3 1/2 in gap + 2x4 @ 16 in", "2x4 @ 16 in + gap 3.5 in + 2x4 @ 16 in", 10.5, 2),
        ("2x4 @ 16 in + gap 0 in + 2x4 @ 16 in", "2x4 @ 16 in + gap 0 in + 2x4 @ 16 in", 7.0, 2),
        ("362S162-54 @ 16 in", "362S162-54 @ 16 in", 3.625, 3),
        ("600s162-43 (punched) @ 24\"", "600S162-43 punched @ 24 in", 6.0, 3),
        ("362 S 162 - 33 @ 16 in", "362S162-33 @ 16 in", 3.625, 3),
        (
            "I 11.875 in (flange 2.5 x 1.5 in, web 0.375 in) @ 16 in",
            "I 11.875 in (flange 2.5x1.5 in, web 0.375 in) @ 16 in",
            11.875,
            3,
        ),
        (
            "I-joist 11-7/8\" flanges 2 1/2 x 1 1/2\" web 3/8\" at 16 in",
            "I 11.875 in (flange 2.5x1.5 in, web 0.375 in) @ 16 in",
            11.875,
            3,
        ),
        ("PRI-40 11-7/8 in @ 16 in", "PRI-40 11.875 in @ 16 in", 11.875, 3),
        ("pri 60 9 1/2\" @ 19.2 in", "PRI-60 9.5 in @ 19.2 in", 9.5, 3),
        ("truss 14 in (chords 3.5 x 1.5 in) @ 24 in", "truss 14 in (chords 3.5x1.5 in) @ 24 in", 14.0, 3),
        ("trusses 14 in @ 24 in", "truss 14 in (chords 3.5x1.5 in) @ 24 in", 14.0, 3),
        ("truss 14 in (webs 0.1) @ 24 in", "truss 14 in (chords 3.5x1.5 in, webs 0.1) @ 24 in", 14.0, 3),
        ("2x6 @ 16 in + strapping 2x2 @ 24 in", "2x6 @ 16 in + strapping 2x2 @ 24 in", 7.0, 2),
        ("2x6 @ 16 in + battens 1x3 flat @ 16 in", "2x6 @ 16 in + strapping 1x3 flat @ 16 in", 6.25, 2),
        ("2x6 @ 16 in + service cavity 2x3 @ 24 in", "2x6 @ 16 in + service 2x3 @ 24 in", 5.5, 1),
        (
            "truss 14 in @ 24 in + dividers every 8 ft",
            "truss 14 in (chords 3.5x1.5 in) @ 24 in + dividers @ 8 ft",
            14.0,
            3,
        ),
        ("2 x 4 in actual @ 16 in", "2x4 in actual @ 16 in", 4.0, 1),
    ] {
        let framing = parse_framing(text).unwrap_or_else(|e| panic!("{text}: {e}"));
        assert_eq!(framing.text, shown);
        assert!((framing.depth_m / 0.0254 - depth_in).abs() < 1e-9, "{text}: {}", framing.depth_m);
        assert_eq!(framing.rows.len(), rows, "{text}");
        let again = parse_framing(shown).unwrap_or_else(|e| panic!("{shown}: {e}"));
        assert_eq!((again.text, again.rows), (framing.text, framing.rows), "{text}");
    }
}

#[test]
fn parts_that_cannot_be_meant_are_refused_with_an_example() {
    for (text, found) in [
        ("2x4 @ 16 in + 2x4 @ 24 in", "gap between two frames"),
        ("2x4 @ 16 in + gap 4 in", "between two frames"),
        ("gap 4 in + 2x4 @ 16 in", "between two frames"),
        ("2x4 @ 16 in + gap 4 + 2x4 @ 16 in", "no unit"),
        ("2x4 @ 16 in + gap 2 in + gap 2 in + 2x4 @ 16 in", "two gaps"),
        ("strapping 2x2 @ 24 in", "no part of this is a frame"),
        ("2x4 @ 16 in +", "not framing"),
        ("+", "not framing"),
        ("2x4 @ 16 in + gap 5 ft + 2x4 @ 16 in", "no framing is that deep"),
        ("2x4 @ 16 in staggered", "stand on"),
        ("2x4 @ 16 in staggered on 2x4", "no room to stagger"),
        ("2x6 staggered on 2x8", "no spacing"),
        ("362T125-54 @ 16 in", "track"),
        ("362S162-55 @ 16 in", "no thickness"),
        ("362U162-54 @ 16 in", "no stud"),
        ("36200S162-54 @ 16 in", "beyond what is rolled"),
        ("99999999999999S162-54 @ 16 in", "beyond what is rolled"),
        ("362S162-54 @ 1.5 in", "leaves no bay"),
        ("362S162-54 punched unpunched @ 16 in", "both"),
        ("PRI-41 11-7/8 in @ 16 in", "not known here"),
        ("PRI-40 11 in @ 16 in", "no depth"),
        ("PRI-40 @ 16 in", "no unit"),
        ("I 11.875 in @ 16 in", "size of a flange"),
        ("I 11.875 in (flange 2.5 x 1.5, web 0.375 in) @ 16 in", "unit"),
        ("I 3 in (flange 2.5 x 1.5 in, web 0.375 in) @ 16 in", "no section"),
        ("I 11.875 in (flange 2.5 x 1.5 in, web 3 in) @ 16 in", "no section"),
        ("truss 3 in @ 24 in", "no room for webs"),
        ("truss 14 in (webs 1.2) @ 24 in", "less than 1"),
        ("2x6 @ 16 in + dividers @ 1 in", "not built"),
        ("2x6 @ 16 in + dividers @ 8 ft + dividers @ 4 ft", "once"),
        ("2x6 @ 16 in + strapping 2x2", "one `@`"),
        ("2x6 @ 16 in + é", "not framing"),
    ] {
        let error = parse_framing(text).expect_err(text);
        assert!(error.message.contains(found), "{text}: {}", error.message);
        assert!(error.help.contains('`'), "{text}: {}", error.help);
    }
}

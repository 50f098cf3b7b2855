//! Slips in a job file's `[[surface]]`: each is refused with its line, the key, what was found and how to write it.

use cavitally::job::read_job;

/// The first refusal of some lines under `[[surface]]`, which begin in line 3.
#[track_caller]
fn refused(lines: &str) -> (Option<u64>, String, String, String) {
    let text = format!("[[surface]]\nmatch = \"N-*\"\n{lines}\n");
    let refusal = read_job("job.toml", &text).expect_err(lines).remove(0);
    let excerpt = refusal.excerpt.map(|excerpt| excerpt.text).unwrap_or_default();
    (refusal.place.line, refusal.message, refusal.help, excerpt)
}

#[test]
fn every_value_has_its_refusal_and_an_example() {
    for (line, message, example) in [
        ("do_not_fill = \"air duct\"", "`air duct` has no colon", "bays 3-4: air duct"),
        ("do_not_fill = \"bays 4-3: duct\"", "names no bays", "bays 3-4: air duct"),
        ("do_not_fill = \"4 to 6: duct\"", "no unit", "bays 3-4: air duct"),
        ("existing = \"batt\"", "how much", "glass fibre batt 50 %"),
        ("existing = { what = \"batt\" }", "neither `share` nor `thickness`", "glass fibre batt 50 %"),
        ("depth = \"3 3/4\"", "no unit", ""),
        ("depth = \"8 ft\"", "more than any cavity", "5 1/2 in"),
        ("depth = \"0 in\"", "more than zero", ""),
        ("corners = \"north\"", "neither a number nor an end", "`left`, `right` or `both`"),
        ("corners = -2", "`-2` is no whole number from 0 to 1000", "`2`"),
        ("partitions = \"4 ft\"", "neither a number of partitions nor places", "at 4', 10' 6\""),
        ("partitions = \"at 4', 4'\"", "two partitions meet the wall", ""),
        ("floors = \"8 ft\"", "`to` between", "8' 1-1/8\" to 9' 0-3/8\""),
        ("floors = \"9 ft to 8 ft\"", "ends before it begins", "8' 1-1/8\" to 9' 0-3/8\""),
        ("eaves = \"north\"", "where the eaves are", "`long sides`"),
        ("eaves = \"62\"", "no unit", "62 ft"),
        ("heel_height = \"9 ft\"", "higher than any roof has", "5 1/2 in"),
        ("roof_pitch = \"6\"", "`6`", "6:12"),
        ("surveyed = \"yes\"", "expected `true` or `false`", ""),
        ("wiring = \"knobs\"", "no wiring that is known", "knob-and-tube"),
        ("depht = \"4 in\"", "`[[surface]]` has no key `depht`", "did you mean `depth`?"),
        ("existing = { what = \"batt\", shares = \"1 %\" }", "no key `shares`", "share"),
    ] {
        let (at, found, help, excerpt) = refused(line);
        assert_eq!((at, excerpt.as_str()), (Some(3), line));
        assert!(found.contains(message), "{line}: {found}");
        assert!(help.contains(example), "{line}: {help}");
    }
}

#[test]
fn platforms_and_openings_have_a_size_a_place_and_a_kind() {
    let place = "width = \"8 in\"\nheight = \"8 in\"\noffset = \"4 ft\"\nsill = \"4 ft\"";
    for (lines, message) in [
        ("[[surface.platform]]\nwidth = \"8 ft\"\nheight = \"4 ft\"".to_owned(), "no `offset` and no `sill`"),
        (format!("[[surface.platform]]\n{place}\ncount = 2"), "`[[surface.platform]]` has no key `count`"),
        (format!("[[surface.opening]]\n{place}"), "one of `match` and `id`"),
        (format!("[[surface.opening]]\nid = \"L\"\n{place}"), "what kind it is"),
        (format!("[[surface.opening]]\nid = \"L\"\nkind = \"lamp\"\n{place}"), "`kind` cannot be `lamp`"),
        (format!("[[surface.opening]]\nid = \" \"\nkind = \"light\"\n{place}"), "`id` is empty"),
        (format!("[[surface.opening]]\nid = \"L\"\nkind = \"light\"\nflue = \"type B\"\n{place}"), "is neither"),
        (format!("[[surface.opening]]\nid = \"W\"\nkind = \"window\"\nclearance = \"1 in\"\n{place}"), "stays off"),
        (format!("[[surface.opening]]\nmatch = \"L*\"\nclearance = \"0 in\"\n{place}"), "keeps its kind, size"),
        ("[[surface.opening]]\nmatch = \"L*\"".to_owned(), "nothing is said of the openings"),
        ("[[surface.opening]]\nmatch = \"K*\"\nflue = \"type C\"".to_owned(), "`flue` cannot be `type C`"),
        ("[[surface.opening]]\nmatch = \"K*\"\nclearance = \"5 ft\"".to_owned(), "more than fill stays off"),
        ("[[surface.opening]]\nmatch = \"K*\"\nclearance = \"2\"".to_owned(), "no unit"),
    ] {
        let (line, found, ..) = refused(&lines);
        assert!(line >= Some(3) && found.contains(message), "{lines}: {found}");
    }
}

#[test]
fn a_table_says_which_surfaces_and_what() {
    let refused = |text: &str| read_job("job.toml", text).unwrap_err().remove(0).message;
    assert!(refused("[[surface]]\ndepth = \"4 in\"\n").contains("of which surfaces"));
    assert!(refused("[[surface]]\nmatch = []\ndepth = \"4 in\"\n").contains("of which surfaces"));
    assert!(refused("[[surface]]\nmatch = \"N-*\"\nsource = \"x\"\n").contains("says nothing"));
    assert!(refused("[[surface]]\nmatch = { kind = \"wall\" }\ndepth = \"4 in\"\n").contains("no key `kind`"));
}

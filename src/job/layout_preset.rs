//! Presets of the layout: values to begin with, each with its source.

use super::layout_file::LayoutFile;
use super::reader::Reader;
use toml::Spanned;

/// A key, its value as a job file has it, and where it comes from.
type Line = (&'static str, &'static str, &'static str);

const STANDARD: &str = "WAC 51-11-1005.2, standard framing";
const PRACTICE: &str = "common practice, no source";
const FIRE: &str = "IRC R302.11: horizontally at 10 ft at most";

/// Framing as it is commonly built.
///
/// The headers are those that a public regulation asks for in bearing walls: two two-by-eights up to
/// 4 ft, two two-by-twelves up to 8 ft. They are taken as solid: plies and spacer fill a two-by-four wall.
const COMMON: &[Line] = &[
    ("bottom_plates", "1", STANDARD),
    ("top_plates", "2", "IRC R602.3.2"),
    ("panel_width", "\"4 ft\"", PRACTICE),
    ("king_studs", "1", STANDARD),
    ("jack_studs", "1", STANDARD),
    ("jack_studs_wide", "2", PRACTICE),
    ("header_height", "\"11.25 in\"", "WAC 246-359-230 (2): two-by-twelve"),
    (
        "opening",
        "[{ up_to = \"4 ft\", header = \"2x8\" }, { up_to = \"8 ft\", header = \"2x12\" }]",
        "WAC 246-359-230 (2)",
    ),
    ("sill_plates", "1", PRACTICE),
    ("corner_build", "\"three-stud\"", "WAC 51-11-1005.2, standard framing; WAC 246-359-230 (1)(b)"),
    ("partition_build", "\"studs\"", "WAC 51-11-1005.2, standard framing: two studs"),
    ("partition_studs", "2", STANDARD),
    ("frame_junctions", "true", PRACTICE),
    ("fire_blocking", "\"10 ft\"", FIRE),
];

/// Framing with less lumber, as far as the trade agrees on it; the spacing is the framing's own.
const LEAN: &[Line] = &[
    ("bottom_plates", "1", PRACTICE),
    ("top_plates", "1", "IRC R602.3.2, exception: single top plate"),
    ("panel_width", "\"4 ft\"", PRACTICE),
    ("king_studs", "1", PRACTICE),
    ("jack_studs", "1", "WAC 51-11C-61032, advanced framing: one stud supports each header"),
    ("jack_studs_wide", "2", PRACTICE),
    ("header_height", "\"11.25 in\"", "WAC 246-359-230 (2): two-by-twelve"),
    ("header_depth", "\"3 in\"", "common practice, no source: two plies, insulated behind"),
    (
        "opening",
        "[{ up_to = \"4 ft\", header = \"2-2x8\", jacks = 0 }, { up_to = \"8 ft\", header = \"2-2x12\" }]",
        "WAC 246-359-230 (2); no jacks up to 4 ft, where headers hang: common practice, no source",
    ),
    ("sill_plates", "1", PRACTICE),
    ("corner_build", "\"two-stud\"", "IRC Figure R602.3(2), two-stud corner"),
    ("partition_build", "\"ladder\"", PRACTICE),
    ("ladder_every", "\"24 in\"", PRACTICE),
    ("frame_junctions", "true", PRACTICE),
    ("fire_blocking", "\"10 ft\"", FIRE),
];

/// A preset as if a job file had it.
pub(super) struct LayoutPreset {
    /// Its values.
    pub file: LayoutFile,
    lines: &'static [Line],
}

/// The preset of a name; `None` where there is none, with a refusal.
pub(super) fn preset_of(name: &Spanned<String>, reader: &mut Reader<'_>) -> Option<LayoutPreset> {
    let lines = reader.word("preset", name, &[("common practice", COMMON), ("advanced framing", LEAN)])?;
    let text = lines.iter().map(|(key, value, _)| format!("{key} = {value}")).collect::<Vec<_>>().join("\n");
    // The texts are ours, and a test reads both.
    toml::from_str(&text).ok().map(|file| LayoutPreset { file, lines })
}

/// Where a value of a preset comes from.
pub(super) fn source_in(preset: &LayoutPreset, key: &str) -> &'static str {
    let key = if key == "corner_post_studs" { "corner_build" } else { key };
    preset.lines.iter().find(|(own, _, _)| *own == key).map_or(PRACTICE, |(_, _, source)| *source)
}

#[cfg(test)]
mod tests {
    use super::super::read_job;
    use super::*;

    #[test]
    fn every_value_of_a_preset_is_taken_with_its_source() {
        for (name, lines) in [("common practice", COMMON), ("advanced framing", LEAN)] {
            let job = read_job("job.toml", &format!("[layout]\npreset = \"{name}\"\n")).unwrap();
            for (key, _, source) in lines {
                let key = format!("layout.{key}");
                let found = job.layout.sources.iter().find(|(_, assumption)| assumption.key == key);
                assert_eq!(&found.unwrap().1.source, source, "{key}");
            }
            assert_eq!(job.layout.rules.openings_by_width.len(), 2);
        }
    }

    #[test]
    fn other_keys_win_over_the_preset() {
        let text = "[layout]\npreset = \"advanced framing\"\ntop_plates = 2\n[assembly.a]\nframing = \"2x6 @ 24 in\"\n\
                    layout.preset = \"common practice\"\n";
        let job = read_job("job.toml", text).unwrap();
        assert_eq!((job.layout.rules.top_plates, job.layout.rules.corner_post_studs), (2, 0));
        let source = |key: &str| job.layout.sources.iter().find(|(_, a)| a.key == key).map(|(_, a)| a.source.as_str());
        assert_eq!(source("layout.top_plates"), Some("job file"));
        assert_eq!(source("layout.fire_blocking"), Some(FIRE));
        assert_eq!((job.assemblies[0].layout.top_plates, job.assemblies[0].layout.corner_post_studs), (2, 2));
        let sources = &job.assemblies[0].sources;
        assert!(sources.iter().any(|a| a.key == "assembly.a.layout.top_plates" && a.source == "IRC R602.3.2"));
        assert!(read_job("job.toml", "[layout]\npreset = \"lean\"\n").unwrap_err()[0].help.contains("common practice"));
    }
}

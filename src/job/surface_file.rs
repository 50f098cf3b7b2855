//! `[[surface]]`: what is said of surfaces by pattern, as it is written.

use super::defaults::JOB_FILE;
use super::file::check_keys;
use super::pattern_file::{MatchFile, check_match};
use super::reader::Reader;
use super::retrofit::{EXISTING, ExistingFile, read_existing_file, words_of_file};
use super::surface_opening::{
    OPENING_SAID, OpeningSaidFile, PLATFORM, PlatformFile, opening_words, platform_words, read_openings, read_platforms,
};
use super::surface_rule::{Said, SaidIn, SurfaceRule, SurfaceValue};
use crate::cells::{
    Misread, depth_is_likely, heel_is_likely, read_corners, read_do_not_fill, read_eaves, read_floor_bands,
    read_partitions, read_wiring,
};
use crate::model::DoNotFill;
use crate::units::parse_pitch;
use schemars::JsonSchema;
use serde::Deserialize;
use std::ops::Range;
use toml::Spanned;
use toml::de::{DeTable, DeValue};

/// What is said of some surfaces, in the words of a sheet's cells; what the row of a sheet says itself wins.
#[derive(Debug, Default, Deserialize, JsonSchema)]
#[serde(default, deny_unknown_fields)]
pub(super) struct SurfaceFile {
    /// Which surfaces: the same as of an assembly.
    pub r#match: Option<MatchFile>,
    /// Measured depth of the cavity; wins over the nominal size.
    #[schemars(with = "Option<String>")]
    pub depth: Option<Spanned<String>>,
    /// Corners to frame in: how many, or `left`, `right` or `both`.
    #[schemars(with = "Option<NumberOrText>")]
    pub corners: Option<Spanned<NumberOrText>>,
    /// Partitions that meet the wall: how many, or where from its left end, such as `at 4', 10' 6"`.
    #[schemars(with = "Option<NumberOrText>")]
    pub partitions: Option<Spanned<NumberOrText>>,
    /// Where the structure of floors runs into the wall, above its bottom: `8' 1-1/8" to 9' 0-3/8"; 17' to 17' 11"`.
    #[schemars(with = "Option<String>")]
    pub floors: Option<Spanned<String>>,
    /// Fill that is there already, such as `glass fibre batt 50 %`, or `none`.
    #[schemars(with = "Option<ExistingFile>")]
    pub existing: Option<Spanned<ExistingFile>>,
    /// What must stay empty, with the reason: `bays 3-4: air duct; 4' to 6': panel`, or `none`.
    #[schemars(with = "Option<String>")]
    pub do_not_fill: Option<Spanned<String>>,
    /// Whether somebody looked for bays that must stay empty; who gives `do_not_fill` did.
    #[schemars(with = "Option<bool>")]
    pub surveyed: Option<Spanned<bool>>,
    /// Wiring in the cavity: `none`, `cable`, `conduit`, `knob-and-tube` or `not seen`. Knob-and-tube is not counted until it
    /// is released.
    #[schemars(with = "Option<String>")]
    pub wiring: Option<Spanned<String>>,
    /// The electrician who released knob-and-tube wiring.
    #[schemars(with = "Option<String>")]
    pub released_by: Option<Spanned<String>>,
    /// Edges of a ceiling under eaves: `all`, `long sides`, `short sides` or their length.
    #[schemars(with = "Option<String>")]
    pub eaves: Option<Spanned<String>>,
    /// Height from the top of the ceiling board to the underside of the roof deck, above the outer edge of the ceiling.
    #[schemars(with = "Option<String>")]
    pub heel_height: Option<Spanned<String>>,
    /// Slope of the roof above a ceiling, such as `6:12`.
    #[schemars(with = "Option<String>")]
    pub roof_pitch: Option<Spanned<String>>,
    /// Platforms: no holes, but parts that must stay empty.
    #[schemars(with = "Vec<PlatformFile>")]
    pub platform: Vec<Spanned<PlatformFile>>,
    /// Openings that the surface lacks, or what is known of those that it has.
    #[schemars(with = "Vec<OpeningSaidFile>")]
    pub opening: Vec<Spanned<OpeningSaidFile>>,
    /// Where it comes from, such as a site visit; printed with what it brings.
    pub source: Option<String>,
}

/// How many, or where.
#[derive(Debug, Deserialize, JsonSchema)]
#[serde(untagged)]
pub(super) enum NumberOrText {
    /// How many.
    Number(i64),
    /// Where, or how many.
    Text(String),
}

impl NumberOrText {
    fn text(&self) -> String {
        match self {
            Self::Number(number) => number.to_string(),
            Self::Text(text) => text.trim().to_owned(),
        }
    }
}

/// Keys of `[[surface]]`.
pub(super) const SURFACE: &[&str] = &[
    "match",
    "depth",
    "corners",
    "partitions",
    "floors",
    "existing",
    "do_not_fill",
    "surveyed",
    "wiring",
    "released_by",
    "eaves",
    "heel_height",
    "roof_pitch",
    "platform",
    "opening",
    "source",
];

/// Refuses unknown keys, each at its place.
pub(super) fn check_surfaces(tables: &[Spanned<DeValue<'_>>], reader: &mut Reader<'_>) {
    for table in tables.iter().filter_map(|table| table.get_ref().as_table()) {
        check_keys(table, "`[[surface]]`", SURFACE, reader);
        check_match(table, reader);
        if let Some(existing) = table.get("existing").and_then(|value| value.get_ref().as_table()) {
            check_keys(existing, "`existing` of `[[surface]]`", EXISTING, reader);
        }
        check_inner(table, "platform", PLATFORM, reader);
        check_inner(table, "opening", OPENING_SAID, reader);
    }
}

fn check_inner(table: &DeTable<'_>, key: &str, known: &[&str], reader: &mut Reader<'_>) {
    let inner = table.get(key).and_then(|value| value.get_ref().as_array());
    for entry in inner.into_iter().flatten().filter_map(|value| value.get_ref().as_table()) {
        check_keys(entry, &format!("`[[surface.{key}]]`"), known, reader);
    }
}

/// Reads the tables in the order of the file.
pub(super) fn read_surfaces(tables: &[Spanned<SurfaceFile>], reader: &mut Reader<'_>) -> Vec<SurfaceRule> {
    tables.iter().map(|table| read_surface(table, reader)).collect()
}

fn read_surface(table: &Spanned<SurfaceFile>, reader: &mut Reader<'_>) -> SurfaceRule {
    let file = table.get_ref();
    let patterns = file.r#match.as_ref().map(MatchFile::patterns).unwrap_or_default();
    if patterns.is_empty() {
        let help = "write which ones, such as `match = \"N-*\"`, or `match = \"*\"` for all";
        reader.refuse(table.span(), "`[[surface]]` does not say of which surfaces it speaks", help);
    }
    let faults = reader.refusals.len();
    let mut reading = Reading { reader, said: Vec::new() };
    reading.walls(file);
    reading.what_is_there(file);
    reading.ceilings(file);
    reading.pieces(file);
    let said = reading.said;
    if said.is_empty() && reader.refusals.len() == faults {
        let help = "say something of them, such as `do_not_fill = \"bays 3-4: air duct\"`, or take the table out";
        reader.refuse(table.span(), "`[[surface]]` says nothing of its surfaces", help);
    }
    let source = file.source.as_deref().map(str::trim).filter(|source| !source.is_empty());
    let source = source.map_or(JOB_FILE.to_owned(), |source| format!("{JOB_FILE}: {source}"));
    SurfaceRule {
        patterns,
        named: Vec::new(),
        place: reader.place(table.span().start),
        source,
        said_in: SaidIn::JobFile,
        cautions: Vec::new(),
        said,
    }
}

/// A table on its way to a rule.
struct Reading<'r, 'a> {
    reader: &'r mut Reader<'a>,
    said: Vec<Said>,
}

impl Reading<'_, '_> {
    fn walls(&mut self, file: &SurfaceFile) {
        if let Some(text) = &file.depth {
            self.length(text, depth_is_likely, SurfaceValue::Depth);
        }
        if let Some(corners) = &file.corners {
            let text = corners.get_ref().text();
            self.take(corners.span(), &text, read_corners(&text).map(SurfaceValue::Corners));
        }
        if let Some(partitions) = &file.partitions {
            let text = partitions.get_ref().text();
            let read = read_partitions(&text, None, false).map(SurfaceValue::Partitions);
            self.take(partitions.span(), &text, read);
        }
        if let Some(text) = &file.floors {
            let read = read_floor_bands(text.get_ref(), None, false).map(SurfaceValue::Floors);
            self.take(text.span(), text.get_ref(), read);
        }
    }

    fn what_is_there(&mut self, file: &SurfaceFile) {
        if let Some(existing) = &file.existing {
            let read = read_existing_file(existing.get_ref()).map(SurfaceValue::Existing);
            self.take(existing.span(), &words_of_file(existing.get_ref()), read);
        }
        if let Some(text) = &file.do_not_fill {
            let said_by = Some(self.said_at(text.span()));
            let of_job = |part: DoNotFill| DoNotFill { said_by: said_by.clone(), ..part };
            let read = read_do_not_fill(text.get_ref(), None, false)
                .map(|parts| SurfaceValue::DoNotFill(parts.into_iter().map(of_job).collect()));
            self.take(text.span(), text.get_ref(), read);
        }
        if let Some(surveyed) = &file.surveyed {
            let is_surveyed = *surveyed.get_ref();
            self.push(surveyed.span(), &is_surveyed.to_string(), SurfaceValue::Surveyed(is_surveyed));
        }
        if let Some(text) = &file.wiring {
            self.take(text.span(), text.get_ref(), read_wiring(text.get_ref()).map(SurfaceValue::Wiring));
        }
        if let Some(text) = &file.released_by {
            let name = text.get_ref().trim().to_owned();
            let help = "write who released it, such as `released_by = \"an electrician, 2026-05-04\"`";
            let read = if name.is_empty() {
                Err(Misread { message: "`released_by` is empty".to_owned(), help })
            } else {
                Ok(name)
            };
            self.take(text.span(), text.get_ref(), read.map(SurfaceValue::ReleasedBy));
        }
    }

    fn ceilings(&mut self, file: &SurfaceFile) {
        if let Some(text) = &file.eaves {
            self.take(text.span(), text.get_ref(), read_eaves(text.get_ref()).map(SurfaceValue::Eaves));
        }
        if let Some(text) = &file.heel_height {
            self.length(text, heel_is_likely, SurfaceValue::HeelHeight);
        }
        if let Some(text) = &file.roof_pitch {
            match parse_pitch(text.get_ref(), None, false) {
                Ok(pitch_deg) => self.push(text.span(), text.get_ref(), SurfaceValue::RoofPitch(pitch_deg)),
                Err(error) => self.reader.refuse(text.span(), error.message, error.help),
            }
        }
    }

    fn pieces(&mut self, file: &SurfaceFile) {
        if let Some(first) = file.platform.first() {
            let words: Vec<String> = file.platform.iter().map(|platform| platform_words(platform.get_ref())).collect();
            let platforms = read_platforms(&file.platform, self.reader);
            self.push(first.span(), &words.join("; "), SurfaceValue::Platforms(platforms));
        }
        if let Some(first) = file.opening.first() {
            let words: Vec<String> = file.opening.iter().map(|opening| opening_words(opening.get_ref())).collect();
            let openings = read_openings(&file.opening, self.reader);
            self.push(first.span(), &words.join("; "), SurfaceValue::Openings(openings));
        }
    }

    fn length(
        &mut self,
        text: &Spanned<String>,
        is_likely: impl Fn(f64) -> Result<(), Misread>,
        value: impl Fn(f64) -> SurfaceValue,
    ) {
        if let Some(length_m) = self.reader.length_m(text) {
            self.take(text.span(), text.get_ref(), is_likely(length_m).map(|()| value(length_m)));
        }
    }

    fn take(&mut self, span: Range<usize>, text: &str, read: Result<SurfaceValue, Misread>) {
        match read {
            Ok(value) => self.push(span, text, value),
            Err(fault) => self.reader.refuse(span, fault.message, fault.help),
        }
    }

    fn push(&mut self, span: Range<usize>, text: &str, value: SurfaceValue) {
        let place = self.reader.place(span.start);
        self.said.push(Said { text: text.split_whitespace().collect::<Vec<_>>().join(" "), place, value });
    }

    fn said_at(&self, span: Range<usize>) -> String {
        self.reader.place(span.start).without_column().to_string()
    }
}

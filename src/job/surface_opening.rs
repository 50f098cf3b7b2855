//! `[[surface.platform]]` and `[[surface.opening]]`: what lies on a surface or goes through it, as it is written.

use super::reader::Reader;
use super::surface_rule::{OpeningSaid, WhichOpening};
use crate::cells::{FLUE_KINDS, OPENING_KINDS, clearance_fits, clearance_is_likely, flue_fits};
use crate::model::{DoNotFill, DoNotFillExtent, FlueKind, Glob, OpeningKind};
use crate::source::Source;
use crate::units::parse_length;
use schemars::JsonSchema;
use serde::Deserialize;
use std::ops::Range;
use toml::Spanned;

/// A platform. Lengths are texts with their unit.
#[derive(Debug, Default, Deserialize, JsonSchema)]
#[serde(default, deny_unknown_fields)]
pub(super) struct PlatformFile {
    /// Its size along the surface.
    #[schemars(with = "Option<String>")]
    pub width: Option<Spanned<String>>,
    /// Its size up the surface.
    #[schemars(with = "Option<String>")]
    pub height: Option<Spanned<String>>,
    /// Its left edge, from the surface's left end.
    #[schemars(with = "Option<String>")]
    pub offset: Option<Spanned<String>>,
    /// Its lower edge, from the surface's low edge.
    #[schemars(with = "Option<String>")]
    pub sill: Option<Spanned<String>>,
}

/// An opening that a surface lacks, with its `id`, kind, size and place; or what is known of those that it has and
/// that `match` fits.
#[derive(Debug, Default, Deserialize, JsonSchema)]
#[serde(default, deny_unknown_fields)]
pub(super) struct OpeningSaidFile {
    /// Pattern on the name, or the id in a sheet, of openings that the surface has.
    #[schemars(with = "Option<String>")]
    pub r#match: Option<Spanned<String>>,
    /// Id of an opening that it lacks.
    #[schemars(with = "Option<String>")]
    pub id: Option<Spanned<String>>,
    /// What fills it: `window`, `door`, `hatch`, `skylight`, `chimney`, `flue`, `light` or `other`.
    #[schemars(with = "Option<String>")]
    pub kind: Option<Spanned<String>>,
    /// Its size along the surface.
    #[schemars(with = "Option<String>")]
    pub width: Option<Spanned<String>>,
    /// Its size up the surface.
    #[schemars(with = "Option<String>")]
    pub height: Option<Spanned<String>>,
    /// Its left edge, from the surface's left end.
    #[schemars(with = "Option<String>")]
    pub offset: Option<Spanned<String>>,
    /// Its lower edge, from the surface's low edge.
    #[schemars(with = "Option<String>")]
    pub sill: Option<Spanned<String>>,
    /// How a flue or chimney is built: `type B`, `single wall` or `masonry`.
    #[schemars(with = "Option<String>")]
    pub flue: Option<Spanned<String>>,
    /// How far fill stays off it; `0 in` for a light rated for contact.
    #[schemars(with = "Option<String>")]
    pub clearance: Option<Spanned<String>>,
}

/// Keys of `[[surface.platform]]`.
pub(super) const PLATFORM: &[&str] = &["width", "height", "offset", "sill"];
/// Keys of `[[surface.opening]]`.
pub(super) const OPENING_SAID: &[&str] =
    &["match", "id", "kind", "width", "height", "offset", "sill", "flue", "clearance"];

const PLACE_HELP: &str = "give `width`, `height`, `offset` from the surface's left end and `sill` from its low edge, each \
                          such as `4 ft`";

/// A platform in words, as an assumption shows it.
pub(super) fn platform_words(file: &PlatformFile) -> String {
    let PlatformFile { width, height, offset, sill } = file;
    words(&[("width", width), ("height", height), ("offset", offset), ("sill", sill)])
}

/// What is said of an opening, in words.
pub(super) fn opening_words(file: &OpeningSaidFile) -> String {
    let OpeningSaidFile { r#match, id, kind, width, height, offset, sill, flue, clearance } = file;
    let own = [("match", r#match), ("id", id), ("kind", kind), ("width", width), ("height", height)];
    let rest = [("offset", offset), ("sill", sill), ("flue", flue), ("clearance", clearance)];
    words(&[own.as_slice(), rest.as_slice()].concat())
}

fn words(parts: &[(&str, &Option<Spanned<String>>)]) -> String {
    let given = parts.iter().filter_map(|(key, value)| Some(format!("{key} {}", value.as_ref()?.get_ref().trim())));
    given.collect::<Vec<_>>().join(", ")
}

/// Reads platforms: parts that must stay empty.
pub(super) fn read_platforms(files: &[Spanned<PlatformFile>], reader: &mut Reader<'_>) -> Vec<DoNotFill> {
    let mut platforms = Vec::new();
    for file in files {
        let PlatformFile { width, height, offset, sill } = file.get_ref();
        let said_by = Some(reader.place(file.span().start).without_column().to_string());
        let place = Sides { width, height, offset, sill };
        if let Some((from_m, to_m)) = place.read("`[[surface.platform]]`", file.span(), reader) {
            let extent = DoNotFillExtent::Box { from_m, to_m };
            platforms.push(DoNotFill { extent, reason: "platform".to_owned(), said_by });
        }
    }
    platforms
}

/// Reads what is said of openings.
pub(super) fn read_openings(files: &[Spanned<OpeningSaidFile>], reader: &mut Reader<'_>) -> Vec<OpeningSaid> {
    files.iter().filter_map(|file| read_opening(file, reader)).collect()
}

fn read_opening(entry: &Spanned<OpeningSaidFile>, reader: &mut Reader<'_>) -> Option<OpeningSaid> {
    let file = entry.get_ref();
    let line = reader.place(entry.span().start);
    let source = Source::of_line(&line.input, line.line.unwrap_or_default());
    let flue = file.flue.as_ref().and_then(|text| read_flue(text, reader));
    let clearance_m = file.clearance.as_ref().and_then(|text| read_clearance(text, reader));
    let which = match (&file.r#match, &file.id) {
        (Some(pattern), None) => read_own(pattern, file, reader)?,
        (None, Some(id)) => read_new(id, entry, reader)?,
        (Some(_), Some(_)) | (None, None) => {
            let help = "write `match = \"L2*\"` with `flue` or `clearance` for openings that the surface has, or `id = \
                        \"L9\"` with kind, size and place for one that it lacks";
            reader.refuse(entry.span(), "`[[surface.opening]]` has one of `match` and `id`", help);
            return None;
        }
    };
    Some(OpeningSaid { which, flue, clearance_m, source })
}

/// Openings that the surface has: only what is known of them can be said.
fn read_own(pattern: &Spanned<String>, file: &OpeningSaidFile, reader: &mut Reader<'_>) -> Option<WhichOpening> {
    let sizes = [&file.kind, &file.width, &file.height, &file.offset, &file.sill];
    if let Some(size) = sizes.into_iter().flatten().next() {
        let help = "take it out; `id` in place of `match` adds an opening with its kind, size and place";
        reader.refuse(size.span(), "an opening that the surface has keeps its kind, size and place", help);
        return None;
    }
    if file.flue.is_none() && file.clearance.is_none() {
        let help = "add `clearance = \"0 in\"` or `flue = \"type B\"`";
        reader.refuse(pattern.span(), "nothing is said of the openings that `match` fits", help);
        return None;
    }
    Some(WhichOpening::Own(Glob::new(pattern.get_ref())))
}

fn read_new(id: &Spanned<String>, entry: &Spanned<OpeningSaidFile>, reader: &mut Reader<'_>) -> Option<WhichOpening> {
    let file = entry.get_ref();
    if id.get_ref().trim().is_empty() {
        reader.refuse(id.span(), "`id` is empty", "write what the opening is called, such as `L9`");
    }
    let Some(kind_text) = &file.kind else {
        let help = "add a line such as `kind = \"light\"`";
        reader.refuse(entry.span(), "`[[surface.opening]]` does not say what kind it is", help);
        return None;
    };
    let kind: Option<OpeningKind> = reader.word("kind", kind_text, &OPENING_KINDS);
    let sides = Sides { width: &file.width, height: &file.height, offset: &file.offset, sill: &file.sill };
    let place = sides.read("`[[surface.opening]]`", entry.span(), reader);
    let kind = kind?;
    if let Some(flue) = &file.flue
        && flue_fits(Some(kind)).is_err()
    {
        let message = "`flue` says how a chimney or a flue is built, and this opening is neither";
        reader.refuse(flue.span(), message, "take it out, or write `kind = \"flue\"`");
    }
    if let Some(clearance) = &file.clearance
        && let Err(fault) = clearance_fits(Some(kind))
    {
        reader.refuse(clearance.span(), fault.message, "take it out, or write `kind = \"flue\"`");
    }
    let (from_m, to_m) = place?;
    Some(WhichOpening::New { id: id.get_ref().trim().to_owned(), kind, from_m, to_m })
}

fn read_flue(text: &Spanned<String>, reader: &mut Reader<'_>) -> Option<FlueKind> {
    let words = FLUE_KINDS.iter().find(|(word, _)| word.eq_ignore_ascii_case(text.get_ref().trim()));
    if words.is_none() {
        let message = format!("`flue` cannot be `{}`", text.get_ref().trim());
        reader.refuse(text.span(), message, "write `type B`, `single wall` or `masonry`");
    }
    words.map(|(_, kind)| *kind)
}

fn read_clearance(text: &Spanned<String>, reader: &mut Reader<'_>) -> Option<f64> {
    let clearance_m = length_or_zero(text, reader)?;
    match clearance_is_likely(clearance_m) {
        Ok(()) => Some(clearance_m),
        Err(fault) => {
            reader.refuse(text.span(), fault.message, fault.help);
            None
        }
    }
}

fn length_or_zero(text: &Spanned<String>, reader: &mut Reader<'_>) -> Option<f64> {
    let read = parse_length(text.get_ref(), None, false);
    read.map_err(|error| reader.refuse(text.span(), error.message, error.help)).ok()
}

/// Size and place of what lies on a surface.
struct Sides<'f> {
    width: &'f Option<Spanned<String>>,
    height: &'f Option<Spanned<String>>,
    offset: &'f Option<Spanned<String>>,
    sill: &'f Option<Spanned<String>>,
}

impl Sides<'_> {
    /// Lower left and upper right corner, in metres.
    fn read(&self, what: &str, span: Range<usize>, reader: &mut Reader<'_>) -> Option<([f64; 2], [f64; 2])> {
        let keys = [("width", self.width), ("height", self.height), ("offset", self.offset), ("sill", self.sill)];
        let missing: Vec<&str> = keys.iter().filter(|(_, value)| value.is_none()).map(|(key, _)| *key).collect();
        if !missing.is_empty() {
            reader.refuse(span, format!("{what} has no `{}`", missing.join("` and no `")), PLACE_HELP);
            return None;
        }
        let size = |text: &Option<Spanned<String>>, reader: &mut Reader<'_>| reader.length_m(text.as_ref()?);
        let (width_m, height_m) = (size(self.width, reader), size(self.height, reader));
        let at = |text: &Option<Spanned<String>>, reader: &mut Reader<'_>| length_or_zero(text.as_ref()?, reader);
        let (x, y) = (at(self.offset, reader), at(self.sill, reader));
        let (x, y) = (x?, y?);
        Some(([x, y], [x + width_m?, y + height_m?]))
    }
}

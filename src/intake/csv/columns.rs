//! Headings to fields and units; what a heading may say, and what it may not.

use super::field::{Field, Measure};
use super::split::Cell;
use crate::units::{AreaUnit, LengthUnit, PitchUnit};

/// A heading that is longer than this, in bytes, is none that is known.
const LONGEST_HEADING: usize = 200;

/// The unit that a heading names.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) enum HeadingUnit {
    Length(LengthUnit),
    Area(AreaUnit),
    Pitch(PitchUnit),
}

/// What a heading says.
#[derive(Clone, Debug, PartialEq, Eq)]
pub(super) enum Heading {
    /// A known column.
    Known(Field, Option<HeadingUnit>),
    /// A height that does not say what this program must know.
    CeilingHeight,
    /// Not known; with the nearest known heading.
    Unknown(Option<&'static str>),
    /// Nothing stands there.
    Empty,
}

/// Reads a heading: in any case, with spaces, hyphens or underscores, with a unit in brackets or behind an underscore.
pub(super) fn read_heading(text: &str) -> Heading {
    let trimmed = text.trim();
    if trimmed.is_empty() {
        return Heading::Empty;
    }
    if trimmed.len() > LONGEST_HEADING {
        return Heading::Unknown(None);
    }
    let (name, bracketed) = match trimmed.split_once(['(', '[']) {
        Some((name, rest)) => (name.trim(), rest.split([')', ']']).next()),
        None => (trimmed, None),
    };
    if let Some(field) = Field::of_plain(&plain(name)) {
        return Heading::Known(field, bracketed.and_then(|word| unit_of(field, word)));
    }
    if is_ceiling_height(&plain(name)) {
        return Heading::CeilingHeight;
    }
    for (at, mark) in name.match_indices(['_', ' ', ',', '-', '/', ':']) {
        let (stem, word) = (name.get(..at).unwrap_or_default(), name.get(at + mark.len()..).unwrap_or_default());
        if let Some(field) = Field::of_plain(&plain(stem))
            && let Some(unit) = unit_of(field, word)
        {
            return Heading::Known(field, Some(unit));
        }
        if is_ceiling_height(&plain(stem)) {
            return Heading::CeilingHeight;
        }
    }
    Heading::Unknown(nearest(&plain(name)))
}

/// Heights to the finished ceiling, by whatever name.
fn is_ceiling_height(plain: &str) -> bool {
    matches!(plain, "ceilingheight" | "clgheight" | "ceilinght" | "clght" | "clearheight" | "roomheight")
}

/// The unit of a field's cells that a word names: `ft`, `- ft`, `in feet`.
fn unit_of(field: Field, word: &str) -> Option<HeadingUnit> {
    let word = word.trim().trim_start_matches(['-', ':', ',', '_', ' ']);
    let of = |word: &str| match field.measure() {
        Measure::Length | Measure::Lengths => LengthUnit::from_word(word).map(HeadingUnit::Length),
        Measure::Area => AreaUnit::from_word(word).map(HeadingUnit::Area),
        Measure::Pitch => PitchUnit::from_word(word).map(HeadingUnit::Pitch),
        Measure::None => None,
    };
    // `in` alone is inches; before another word it is none.
    of(word).or_else(|| word.strip_prefix("in ").and_then(|behind| of(behind.trim())))
}

fn plain(text: &str) -> String {
    text.chars()
        .filter(|c| !c.is_whitespace() && !matches!(c, '_' | '-' | '.' | ','))
        .flat_map(char::to_lowercase)
        .collect()
}

fn nearest(plain: &str) -> Option<&'static str> {
    let best = super::suggest::nearest(plain, Field::plain_headings())?;
    Field::of_plain(best).map(Field::heading)
}

/// Where the known columns of a sheet stand.
#[derive(Clone, Debug, Default)]
pub(super) struct Columns {
    /// Field, index of its column, unit of its heading; in the order of the sheet.
    known: Vec<(Field, usize, Option<HeadingUnit>)>,
    /// Index and heading of the columns that are not known.
    pub unknown: Vec<(usize, String)>,
    /// How many headings there are.
    pub len: usize,
}

impl Columns {
    /// The columns of a heading row; a heading that comes twice keeps its first place.
    pub fn of(headings: &[Cell]) -> Self {
        let mut columns = Self { len: headings.len(), ..Self::default() };
        for (index, cell) in headings.iter().enumerate() {
            match read_heading(&cell.value) {
                Heading::Known(field, unit) if columns.index(field).is_none() => {
                    columns.known.push((field, index, unit));
                }
                Heading::Known(..) | Heading::CeilingHeight => {}
                Heading::Unknown(_) => columns.unknown.push((index, cell.value.trim().to_owned())),
                Heading::Empty => columns.unknown.push((index, format!("column {}", index + 1))),
            }
        }
        columns
    }

    /// The known columns, in the order of the sheet.
    pub fn fields(&self) -> impl Iterator<Item = Field> + '_ {
        self.known.iter().map(|(field, ..)| *field)
    }

    /// Takes the units that stand in a row of their own below the headings; `None` where the row is no such row, and
    /// the column of a cell that names another unit than its heading as the error.
    pub fn take_units(&mut self, row: &[Cell]) -> Option<Result<(), usize>> {
        let mut units: Vec<(usize, HeadingUnit)> = Vec::new();
        for (index, cell) in row.iter().enumerate() {
            let word = cell.value.trim().trim_matches(['(', ')', '[', ']']);
            if word.is_empty() || word == "-" {
                continue;
            }
            let known = self.known.iter().position(|(_, column, _)| *column == index)?;
            let (field, ..) = self.known.get(known)?;
            units.push((known, unit_of(*field, word)?));
        }
        if units.is_empty() {
            return None;
        }
        for (known, unit) in units {
            let (_, column, own) = self.known.get_mut(known)?;
            if own.is_some_and(|own| own != unit) {
                return Some(Err(*column));
            }
            *own = Some(unit);
        }
        Some(Ok(()))
    }

    /// Index of a field's column.
    pub fn index(&self, field: Field) -> Option<usize> {
        self.known.iter().find(|(known, ..)| *known == field).map(|(_, index, _)| *index)
    }

    /// Whether a sheet has a column.
    pub fn has(&self, field: Field) -> bool {
        self.index(field).is_some()
    }

    /// How many columns are known.
    pub fn known_count(&self) -> usize {
        self.known.len()
    }

    /// Indices of the columns that hold numbers.
    pub fn measured(&self) -> impl Iterator<Item = usize> + '_ {
        self.known.iter().filter(|(field, ..)| field.is_measured()).map(|(_, index, _)| *index)
    }

    fn unit(&self, field: Field) -> Option<HeadingUnit> {
        self.known.iter().find(|(known, ..)| *known == field).and_then(|(.., unit)| *unit)
    }

    /// Unit that the heading of a column of lengths names.
    pub fn length_unit(&self, field: Field) -> Option<LengthUnit> {
        match self.unit(field)? {
            HeadingUnit::Length(unit) => Some(unit),
            HeadingUnit::Area(_) | HeadingUnit::Pitch(_) => None,
        }
    }

    /// Unit that the heading of a column of areas names.
    pub fn area_unit(&self, field: Field) -> Option<AreaUnit> {
        match self.unit(field)? {
            HeadingUnit::Area(unit) => Some(unit),
            HeadingUnit::Length(_) | HeadingUnit::Pitch(_) => None,
        }
    }

    /// Unit that the heading of the pitches names.
    pub fn pitch_unit(&self) -> Option<PitchUnit> {
        match self.unit(Field::Pitch)? {
            HeadingUnit::Pitch(unit) => Some(unit),
            HeadingUnit::Length(_) | HeadingUnit::Area(_) => None,
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn headings_are_read_in_any_dress() {
        let feet = Some(HeadingUnit::Length(LengthUnit::Foot));
        for text in ["length (ft)", "Length [ft]", "LENGTH_FT", " length, ft ", "length ft", "Length (Feet)"] {
            assert_eq!(read_heading(text), Heading::Known(Field::Length, feet), "{text}");
        }
        for text in ["do_not_fill", "Do not fill", "DoNotFill", "do-not-fill"] {
            assert_eq!(read_heading(text), Heading::Known(Field::DoNotFill, None), "{text}");
        }
        assert_eq!(read_heading("height_2"), Heading::Known(Field::Height2, None));
        assert_eq!(
            read_heading("height_2_m"),
            Heading::Known(Field::Height2, Some(HeadingUnit::Length(LengthUnit::Metre)))
        );
        assert_eq!(
            read_heading("width (ft-in)"),
            Heading::Known(Field::Width, Some(HeadingUnit::Length(LengthUnit::FeetAndInches)))
        );
        assert_eq!(
            read_heading("area_m2"),
            Heading::Known(Field::Area, Some(HeadingUnit::Area(AreaUnit::SquareMetre)))
        );
        for text in ["length in mm", "Length - mm", "length/mm", "Length: mm", "Length (in mm)", "length (mm) outside"]
        {
            let millimetres = Some(HeadingUnit::Length(LengthUnit::Millimetre));
            assert_eq!(read_heading(text), Heading::Known(Field::Length, millimetres), "{text}");
        }
        let inches = Some(HeadingUnit::Length(LengthUnit::Inch));
        assert_eq!(read_heading("heel height in"), Heading::Known(Field::HeelHeight, inches));
        assert_eq!(read_heading("plan_outline (in)"), Heading::Known(Field::PlanOutline, inches));
        assert_eq!(
            read_heading("width ft-in"),
            Heading::Known(Field::Width, Some(HeadingUnit::Length(LengthUnit::FeetAndInches)))
        );
        assert_eq!(
            read_heading("pitch (°)"),
            Heading::Known(Field::Pitch, Some(HeadingUnit::Pitch(PitchUnit::Degree)))
        );
    }

    #[test]
    fn the_schemas_name_known_columns_alone() {
        use super::super::{OPENINGS_SCHEMA, SURFACES_AND_OPENINGS_SCHEMA, SURFACES_SCHEMA};
        for schema in [SURFACES_SCHEMA, OPENINGS_SCHEMA, SURFACES_AND_OPENINGS_SCHEMA] {
            let schema: serde_json::Value = serde_json::from_str(schema).unwrap();
            let fields = schema["fields"].as_array().unwrap();
            assert!(fields.len() >= 8);
            for field in fields {
                let name = field["name"].as_str().unwrap();
                assert!(matches!(read_heading(name), Heading::Known(known, None) if known.heading() == name), "{name}");
            }
        }
    }

    #[test]
    fn headings_that_are_not_known_get_a_suggestion() {
        assert_eq!(read_heading("lenght"), Heading::Unknown(Some("length")));
        assert_eq!(read_heading("colour"), Heading::Unknown(None));
        assert_eq!(read_heading("Ceiling height (ft)"), Heading::CeilingHeight);
        assert_eq!(read_heading("ceiling_height_ft"), Heading::CeilingHeight);
    }
}

//! Headings to fields and units; what a heading may say, and what it may not.

use super::split::Cell;
use crate::units::{AreaUnit, LengthUnit, PitchUnit};

/// A column that is known.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub(super) enum Field {
    Surface,
    Id,
    Kind,
    Name,
    Notes,
    Storey,
    Zone,
    Exposure,
    Assembly,
    Length,
    PlanLength,
    Height,
    PlanHeight,
    Height2,
    Peak,
    Area,
    PlanArea,
    Depth,
    Corners,
    Partitions,
    DoNotFill,
    Pitch,
    Count,
    Width,
    UnitWidth,
    UnitHeight,
    Sill,
    Offset,
}

/// What the cells of a column measure.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
enum Measure {
    Length,
    Area,
    Pitch,
    None,
}

/// Headings in the form of [`plain`], their field, and how people read them.
const HEADINGS: [(&str, Field, &str); 29] = [
    ("surface", Field::Surface, "surface"),
    ("id", Field::Id, "id"),
    ("kind", Field::Kind, "kind"),
    ("name", Field::Name, "name"),
    ("notes", Field::Notes, "notes"),
    ("storey", Field::Storey, "storey"),
    ("story", Field::Storey, "storey"),
    ("zone", Field::Zone, "zone"),
    ("exposure", Field::Exposure, "exposure"),
    ("assembly", Field::Assembly, "assembly"),
    ("length", Field::Length, "length"),
    ("planlength", Field::PlanLength, "plan length"),
    ("height", Field::Height, "height"),
    ("planheight", Field::PlanHeight, "plan height"),
    ("height2", Field::Height2, "height_2"),
    ("peak", Field::Peak, "peak"),
    ("area", Field::Area, "area"),
    ("planarea", Field::PlanArea, "plan area"),
    ("depth", Field::Depth, "depth"),
    ("corners", Field::Corners, "corners"),
    ("partitions", Field::Partitions, "partitions"),
    ("donotfill", Field::DoNotFill, "do_not_fill"),
    ("pitch", Field::Pitch, "pitch"),
    ("count", Field::Count, "count"),
    ("width", Field::Width, "width"),
    ("unitwidth", Field::UnitWidth, "unit width"),
    ("unitheight", Field::UnitHeight, "unit height"),
    ("sill", Field::Sill, "sill"),
    ("offset", Field::Offset, "offset"),
];

impl Field {
    /// The heading, as the documentation writes it.
    pub fn heading(self) -> &'static str {
        HEADINGS.iter().find(|(_, field, _)| *field == self).map_or("", |(_, _, heading)| heading)
    }

    fn measure(self) -> Measure {
        match self {
            Self::Length | Self::PlanLength | Self::Height | Self::PlanHeight | Self::Height2 | Self::Peak => {
                Measure::Length
            }
            Self::Depth | Self::Width | Self::UnitWidth | Self::UnitHeight | Self::Sill | Self::Offset => {
                Measure::Length
            }
            Self::DoNotFill => Measure::Length,
            Self::Area | Self::PlanArea => Measure::Area,
            Self::Pitch => Measure::Pitch,
            Self::Surface | Self::Id | Self::Kind | Self::Name | Self::Notes | Self::Storey | Self::Zone => {
                Measure::None
            }
            Self::Exposure | Self::Assembly | Self::Corners | Self::Partitions | Self::Count => Measure::None,
        }
    }

    /// Whether its cells hold numbers with a decimal mark.
    pub fn is_measured(self) -> bool {
        self.measure() != Measure::None && self != Self::DoNotFill
    }
}

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
    let (name, bracketed) = match trimmed.split_once(['(', '[']) {
        Some((name, rest)) => (name.trim(), Some(rest.trim_end_matches([')', ']']))),
        None => (trimmed, None),
    };
    if let Some(field) = field_of(&plain(name)) {
        return Heading::Known(field, bracketed.and_then(|word| unit_of(field, word)));
    }
    if is_ceiling_height(&plain(name)) {
        return Heading::CeilingHeight;
    }
    if let Some((stem, word)) = name.rsplit_once(['_', ' ', ',']) {
        if let Some(field) = field_of(&plain(stem))
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

fn field_of(plain: &str) -> Option<Field> {
    HEADINGS.iter().find(|(known, ..)| *known == plain).map(|(_, field, _)| *field)
}

/// Heights to the finished ceiling, by whatever name.
fn is_ceiling_height(plain: &str) -> bool {
    matches!(plain, "ceilingheight" | "clgheight" | "ceilinght" | "clght" | "clearheight" | "roomheight")
}

fn unit_of(field: Field, word: &str) -> Option<HeadingUnit> {
    match field.measure() {
        Measure::Length => LengthUnit::from_word(word).map(HeadingUnit::Length),
        Measure::Area => AreaUnit::from_word(word).map(HeadingUnit::Area),
        Measure::Pitch => PitchUnit::from_word(word).map(HeadingUnit::Pitch),
        Measure::None => None,
    }
}

fn plain(text: &str) -> String {
    text.chars()
        .filter(|c| !c.is_whitespace() && !matches!(c, '_' | '-' | '.' | ','))
        .flat_map(char::to_lowercase)
        .collect()
}

fn nearest(plain: &str) -> Option<&'static str> {
    let best = super::suggest::nearest(plain, HEADINGS.iter().map(|(known, ..)| *known))?;
    field_of(best).map(Field::heading)
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
                    columns.known.push((field, index, unit))
                }
                Heading::Known(..) | Heading::CeilingHeight => {}
                Heading::Unknown(_) | Heading::Empty => columns.unknown.push((index, cell.value.trim().to_owned())),
            }
        }
        columns
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
        assert_eq!(
            read_heading("pitch (°)"),
            Heading::Known(Field::Pitch, Some(HeadingUnit::Pitch(PitchUnit::Degree)))
        );
    }

    #[test]
    fn headings_that_are_not_known_get_a_suggestion() {
        assert_eq!(read_heading("lenght"), Heading::Unknown(Some("length")));
        assert_eq!(read_heading("colour"), Heading::Unknown(None));
        assert_eq!(read_heading("Ceiling height (ft)"), Heading::CeilingHeight);
        assert_eq!(read_heading("ceiling_height_ft"), Heading::CeilingHeight);
    }
}

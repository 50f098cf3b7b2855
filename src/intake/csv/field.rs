//! The columns that are known: their headings, and what their cells measure.

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
    Outline,
    PlanOutline,
    Depth,
    Corners,
    Partitions,
    Floors,
    Existing,
    DoNotFill,
    Pitch,
    Eaves,
    HeelHeight,
    Count,
    Width,
    UnitWidth,
    UnitHeight,
    Sill,
    Offset,
    Flue,
    Clearance,
}

/// What the cells of a column measure.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) enum Measure {
    /// One length.
    Length,
    /// One area.
    Area,
    /// One pitch.
    Pitch,
    /// Lengths among marks and words.
    Lengths,
    /// Nothing with a unit.
    None,
}

/// Headings in the form of `plain`, their field, and how people read them.
const HEADINGS: [(&str, Field, &str); 37] = [
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
    ("outline", Field::Outline, "outline"),
    ("planoutline", Field::PlanOutline, "plan outline"),
    ("depth", Field::Depth, "depth"),
    ("corners", Field::Corners, "corners"),
    ("partitions", Field::Partitions, "partitions"),
    ("floors", Field::Floors, "floors"),
    ("existing", Field::Existing, "existing"),
    ("donotfill", Field::DoNotFill, "do_not_fill"),
    ("pitch", Field::Pitch, "pitch"),
    ("eaves", Field::Eaves, "eaves"),
    ("heelheight", Field::HeelHeight, "heel_height"),
    ("count", Field::Count, "count"),
    ("width", Field::Width, "width"),
    ("unitwidth", Field::UnitWidth, "unit width"),
    ("unitheight", Field::UnitHeight, "unit height"),
    ("sill", Field::Sill, "sill"),
    ("offset", Field::Offset, "offset"),
    ("flue", Field::Flue, "flue"),
    ("clearance", Field::Clearance, "clearance"),
];

impl Field {
    /// The field of a heading in the form of `plain`.
    pub fn of_plain(plain: &str) -> Option<Self> {
        HEADINGS.iter().find(|(known, ..)| *known == plain).map(|(_, field, _)| *field)
    }

    /// All headings in the form of `plain`.
    pub fn plain_headings() -> impl Iterator<Item = &'static str> {
        HEADINGS.iter().map(|(known, ..)| *known)
    }

    /// The heading, as the documentation writes it.
    pub fn heading(self) -> &'static str {
        HEADINGS.iter().find(|(_, field, _)| *field == self).map_or("", |(_, _, heading)| heading)
    }

    /// What its cells measure.
    pub fn measure(self) -> Measure {
        match self {
            Self::Length
            | Self::PlanLength
            | Self::Height
            | Self::PlanHeight
            | Self::Height2
            | Self::Peak
            | Self::Depth
            | Self::Eaves
            | Self::HeelHeight
            | Self::Width
            | Self::UnitWidth
            | Self::UnitHeight
            | Self::Sill
            | Self::Offset
            | Self::Clearance => Measure::Length,
            Self::Area | Self::PlanArea => Measure::Area,
            Self::Pitch => Measure::Pitch,
            Self::Outline | Self::PlanOutline | Self::Partitions | Self::Floors | Self::Existing | Self::DoNotFill => {
                Measure::Lengths
            }
            Self::Surface
            | Self::Id
            | Self::Kind
            | Self::Name
            | Self::Notes
            | Self::Storey
            | Self::Zone
            | Self::Exposure
            | Self::Assembly
            | Self::Corners
            | Self::Flue
            | Self::Count => Measure::None,
        }
    }

    /// Whether a comma between digits in its cells can only be a decimal mark.
    pub fn is_measured(self) -> bool {
        match self.measure() {
            Measure::Length | Measure::Area | Measure::Pitch => true,
            Measure::Lengths => matches!(self, Self::Outline | Self::PlanOutline | Self::Floors),
            Measure::None => false,
        }
    }
}

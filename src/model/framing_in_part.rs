//! Framing of which the input says a part, and not enough.

/// What the input does not say of a surface's framing. Then an assembly that fits the surface, or a `--frame` with a pattern,
/// frames it; a `--frame` for all does not, since it knows nothing of it.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum FramingInPart {
    /// An attic floor, over which fill lies open: how thick.
    OpenAbove,
    /// Two rows of studs: how deep they stand, and what lies between them.
    TwoRows,
    /// A rim between floors: how far in along the joists it is filled.
    RimDepth,
}

impl FramingInPart {
    /// All of them.
    pub const ALL: [Self; 3] = [Self::OpenAbove, Self::TwoRows, Self::RimDepth];

    /// Why the surface is not counted.
    pub fn reason(self) -> &'static str {
        match self {
            Self::OpenAbove => "attic floor: no thickness given",
            Self::TwoRows => "two rows of studs: no depth given",
            Self::RimDepth => "rim joist: no depth given",
        }
    }

    /// What is missing, and how to give it.
    pub fn help(self) -> &'static str {
        match self {
            Self::OpenAbove => {
                "their fill lies open towards an attic, and is no closed bay as deep as the joists: give `thickness` or \
                 `r_value` with the framing in an assembly of the job file whose `match` fits them; a `--frame` with a pattern \
                 fills the joists as closed bays, as under an attic's boards"
            }
            Self::TwoRows => {
                "the input gives the studs and neither the depth nor the gap between the rows: give them as `--frame \"NAME*: \
                 2x4 @ 16 in + gap 4 in + 2x4 @ 16 in\"`, or in an assembly of the job file whose `match` fits them"
            }
            Self::RimDepth => {
                "the input gives the height of the joists and not how far in along them the rim is filled: give `framing`, `depth` \
                 and `layout.rim = true` in an assembly of the job file whose `match` fits them"
            }
        }
    }
}

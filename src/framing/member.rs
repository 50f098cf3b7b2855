//! Members: pieces of framing.

use crate::finding::Finding;
use crate::geometry::Polygon;
use crate::model::Assumption;
use schemars::JsonSchema;
use serde::{Deserialize, Serialize};

/// What a piece of framing is.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Serialize, Deserialize, JsonSchema)]
#[serde(rename_all = "kebab-case")]
pub enum MemberRole {
    /// The plate that the studs stand on.
    BottomPlate,
    /// A plate on top of the studs.
    TopPlate,
    /// A stud at an end of the wall.
    EndStud,
    /// A stud on the layout.
    Stud,
    /// A full-height stud beside an opening.
    KingStud,
    /// A stud beside an opening that carries the header.
    JackStud,
    /// The beam over an opening.
    Header,
    /// The plate under a window.
    RoughSill,
    /// A short stud above a header or below a sill.
    Cripple,
    /// A post in a corner.
    CornerPost,
    /// A stud that a partition is fastened to.
    PartitionStud,
    /// A short piece across a bay.
    Blocking,
    /// The box that lines an opening through the whole depth.
    OpeningBox,
    /// The band across the ends of joists or rafters.
    Rim,
    /// A joist or rafter beside an opening.
    Trimmer,
    /// A joist of a ceiling or a floor.
    Joist,
    /// A rafter of a roof.
    Rafter,
    /// A board along a ridge, of which half belongs to each slope.
    RidgeBoard,
    /// A rafter along a hip, of which half belongs to each slope.
    HipRafter,
    /// A rafter along a valley, of which half belongs to each slope.
    ValleyRafter,
    /// A batten across the other members.
    Strapping,
    /// A member that the model gives.
    Modelled,
    /// A member whose kind is not laid out: framing by fraction.
    Fraction,
}

impl MemberRole {
    /// The word that people read.
    pub fn word(self) -> &'static str {
        match self {
            Self::BottomPlate => "bottom plate",
            Self::TopPlate => "top plate",
            Self::EndStud => "end stud",
            Self::Stud => "stud",
            Self::KingStud => "king stud",
            Self::JackStud => "jack stud",
            Self::Header => "header",
            Self::RoughSill => "rough sill",
            Self::Cripple => "cripple",
            Self::CornerPost => "corner post",
            Self::PartitionStud => "partition stud",
            Self::Blocking => "blocking",
            Self::OpeningBox => "opening box",
            Self::Rim => "rim",
            Self::Trimmer => "trimmer",
            Self::Joist => "joist",
            Self::Rafter => "rafter",
            Self::RidgeBoard => "ridge board",
            Self::HipRafter => "hip rafter",
            Self::ValleyRafter => "valley rafter",
            Self::Strapping => "strapping",
            Self::Modelled => "modelled member",
            Self::Fraction => "framing by fraction",
        }
    }
}

/// One piece of framing, as it lies in the surface's plane.
#[derive(Clone, Debug, PartialEq)]
pub struct Member {
    /// What it is.
    pub role: MemberRole,
    /// Its area, in square metres.
    pub area_m2: f64,
    /// Its outline; empty (no rings) where framing is by fraction.
    pub outline: Polygon,
}

/// A piece of framing that takes a part of the depth: the flange of a joist, a stud of a double wall.
///
/// It lies in the cavity and takes room from the bay that it stands in.
#[derive(Clone, Debug, PartialEq)]
pub struct PartialMember {
    /// What it is.
    pub role: MemberRole,
    /// Its area, in square metres.
    pub area_m2: f64,
    /// Its outline.
    pub outline: Polygon,
    /// Where it begins, from the outer face of the cavity (of a ceiling, roof or floor: from its underside), in metres.
    pub from_m: f64,
    /// Where it ends, in metres.
    pub to_m: f64,
    /// Share of its length that is solid.
    pub solid_share: f64,
}

impl PartialMember {
    /// Volume that an area of it takes, in cubic metres.
    pub fn volume_of_m3(&self, area_m2: f64) -> f64 {
        area_m2 * (self.to_m - self.from_m) * self.solid_share
    }
}

/// An edge of a roof slope that lies at an eave.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct EaveEdge {
    /// Its left end along x, in metres.
    pub from_m: f64,
    /// Its right end.
    pub to_m: f64,
    /// Where bays begin above it along y, inside the rim, in metres.
    pub inside_m: f64,
}

/// The framing of one surface.
///
/// No two members overlap, none reaches outside the surface or into an opening.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Layout {
    /// Depth that is filled, in metres: that of the cavity, less the vent channel of a roof; of open-blown fill its thickness.
    pub depth_m: f64,
    /// Depth of the framing, in metres.
    pub framing_depth_m: f64,
    /// Spacing of the members, centre to centre, in metres; nought where none are laid out.
    pub spacing_m: f64,
    /// Whether the fill lies open on a ceiling.
    pub is_open: bool,
    /// Eaves of a roof slope.
    pub eaves: Vec<EaveEdge>,
    /// The members that go through the whole depth.
    pub members: Vec<Member>,
    /// Pieces that take a part of the depth; none overlaps a member, and no two of one depth overlap.
    pub partial: Vec<PartialMember>,
    /// The boxes that framing leaves around openings, clearance included.
    pub rough_openings: Vec<Polygon>,
    /// Where upright dividers of no thickness part bays, along the surface, in metres.
    pub dividers_m: Vec<f64>,
    /// What a person must know.
    pub findings: Vec<Finding>,
    /// Values that the inputs did not give.
    pub assumptions: Vec<Assumption>,
}

//! Framing: a surface and the way it is framed in, members out.
//!
//! Invariant: knows the model and the layout rules; nothing of bays, fill or files.

mod around_opening;
mod blocking;
mod carve;
mod crossing;
mod depth;
mod edge;
mod edges;
mod enclosure;
mod flat;
mod fraction;
mod given;
mod header_depth;
mod junctions;
mod ladder;
mod lay_out;
mod lumber;
mod member;
mod near;
mod openings_by_width;
mod panels;
mod pattern;
mod posts;
mod rim;
mod row;
mod rules;
mod site;
mod slope;
mod studs;
mod through_depth;
mod too_many;
mod wall;

pub(crate) use carve::from_the_left;
pub use depth::depth_of;
pub use enclosure::{Enclosure, HeldBelow, LEAST_VENT_GAP_M};
pub use lay_out::lay_out;
pub(crate) use lay_out::{outline_of, place_of};
pub use lumber::dressed_m;
pub use member::{EaveEdge, Layout, Member, MemberRole, PartialMember};
pub use pattern::{FramingTextError, parse_framing};
pub use row::{MemberRow, RowRun};
pub use rules::{Clearances, Framing, LayoutEnd, LayoutRules, OpeningRule, PartitionBuild, PartitionRows};
pub(crate) use site::{oriented, polygon_of};

//! Framing: a surface and the way it is framed in, members out.
//!
//! Invariant: knows the model and the layout rules; nothing of bays, fill or files.

mod member;
mod rules;

pub use member::{Layout, Member, MemberRole};
pub use rules::{Framing, LayoutEnd, LayoutRules};

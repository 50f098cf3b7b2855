//! Members by what they do, with the colours and hatches that tell them apart.

use super::path::path;
use super::scale::Scale;
use crate::geometry::Polygon;
use maud::{Markup, html};

/// Members that are drawn alike.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) enum Family {
    Stud,
    Plate,
    Beside,
    Header,
    Post,
    Blocking,
    Other,
}

impl Family {
    const ALL: [Self; 7] =
        [Self::Plate, Self::Stud, Self::Beside, Self::Header, Self::Post, Self::Blocking, Self::Other];

    /// By the word for the role.
    fn of(role: &str) -> Self {
        match role {
            "stud" | "end stud" | "cripple" | "joist" | "rafter" | "hip rafter" | "valley rafter" => Self::Stud,
            "bottom plate" | "top plate" | "rim" | "ridge board" => Self::Plate,
            "king stud" | "jack stud" | "trimmer" => Self::Beside,
            "header" | "rough sill" | "opening box" => Self::Header,
            "corner post" | "partition stud" => Self::Post,
            "blocking" | "strapping" => Self::Blocking,
            _ => Self::Other,
        }
    }

    fn words(self) -> &'static str {
        match self {
            Self::Stud => "studs, cripples, joists, rafters",
            Self::Plate => "plates, rims, ridge boards",
            Self::Beside => "king and jack studs, trimmers",
            Self::Header => "headers, sills, boxes",
            Self::Post => "corner and partition posts",
            Self::Blocking => "blocking, strapping",
            Self::Other => "modelled members",
        }
    }

    /// Class of its ground, which is the name of its filling too, its colour, and the hatch over it: none for the most
    /// usual one.
    fn look(self) -> Look {
        let of = |class, ground, hatch| Look { class, ground, hatch };
        match self {
            Self::Stud => of("d-stud", "#ecd9b0", None),
            Self::Plate => of("d-plate", "#c9a566", Some("M0 2h4")),
            Self::Beside => of("d-beside", "#d9e3c4", Some("M-1 1l2-2M0 4l4-4M3 5l2-2")),
            Self::Header => of("d-header", "#e3b99a", Some("M0 4l4-4M0 0l4 4")),
            Self::Post => of("d-post", "#d8cbe6", Some("M2 0v4")),
            Self::Blocking => of("d-block", "#c6dbe0", Some("M1.5 2h1")),
            Self::Other => of("d-other", "#dddddd", Some("M1 1h2v2h-2z")),
        }
    }
}

/// How pieces are filled.
struct Look {
    class: &'static str,
    ground: &'static str,
    hatch: Option<&'static str>,
}

impl Look {
    fn fill(&self) -> String {
        if self.hatch.is_some() { format!("url(#{})", self.class) } else { self.ground.to_owned() }
    }

    /// Class of the outline, and of the ground where there is no hatch that has one.
    fn outline_class(&self) -> &'static str {
        if self.hatch.is_some() { "d-member" } else { "d-member d-stud" }
    }
}

/// What stays empty.
const EMPTY: Look = Look { class: "d-out", ground: "#f3f3f3", hatch: Some("M-2 2l4-4M0 8l8-8M6 10l4-4") };

/// Filling of what stays empty.
pub(super) fn empty_fill() -> String {
    EMPTY.fill()
}

/// Whose hatches a drawing uses.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Defs {
    /// Its own: it stands alone.
    Own,
    /// Those of the page, which has them once for all drawings.
    Page,
}

/// The hatches, each on its ground.
pub fn patterns() -> Markup {
    let of = |look: &Look, size: &str| {
        html! {
            @if let Some(hatch) = look.hatch {
                pattern id=(look.class) width=(size) height=(size) patternUnits="userSpaceOnUse" {
                    rect class=(look.class) width=(size) height=(size) fill=(look.ground) {}
                    path.d-hatch d=(hatch) stroke="#333" stroke-width="0.7" fill="none" {}
                }
            }
        }
    };
    html! {
        defs {
            @for family in Family::ALL { (of(&family.look(), "4")) }
            (of(&EMPTY, "8"))
        }
    }
}

/// Members of all roles, each family as one path.
pub(super) fn members<'m>(pieces: &[(&'m str, &'m Polygon)], scale: &Scale) -> Markup {
    let shows = |outline: &Polygon| outline.bounds().is_some_and(|bounds| scale.shows(&bounds));
    html! {
        @for family in Family::ALL {
            @let own = pieces.iter().filter(|(role, outline)| Family::of(role) == family && shows(outline));
            @let data = path(own.map(|(_, outline)| *outline), scale);
            @if !data.is_empty() {
                @let look = family.look();
                path class=(look.outline_class()) d=(data) fill=(look.fill()) stroke="#4d3b17" stroke-width="0.6" {}
            }
        }
    }
}

/// What the hatches and lines mean, as a list with a sample each.
pub fn legend() -> Markup {
    let sample = |class: &str, fill: &str, dash: Option<&str>| {
        html! {
            svg width="28" height="16" viewBox="0 0 28 16" aria-hidden="true" {
                path class=(class) d="M1 1h26v14h-26z" fill=(fill) stroke="#4d3b17" stroke-dasharray=[dash] {}
            }
        }
    };
    html! {
        ul.legend {
            @for family in Family::ALL {
                @let look = family.look();
                li { (sample(look.outline_class(), &look.fill(), None)) " " (family.words()) }
            }
            li { (sample("d-part", "none", Some("4 2"))) " framing that takes a part of the depth" }
            li { (sample("d-bay", "#e8f1fb", None)) " bay, with number and mass" }
            li { (sample("d-open", "#ffffff", None)) " opening" }
            li { (sample("d-member", &EMPTY.fill(), None)) " stays empty" }
            li {
                svg width="28" height="16" viewBox="0 0 28 16" aria-hidden="true" {
                    circle.d-hole cx="8" cy="8" r="3.5" fill="none" stroke="#a3140f" stroke-width="1.5" {}
                    path.d-hole d="M20 2v12" stroke="#a3140f" stroke-width="2" {}
                }
                " filling hole, or slit in netting"
            }
        }
    }
}

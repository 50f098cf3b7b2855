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

    /// Class, and colour of the ground.
    fn look(self) -> (&'static str, &'static str) {
        match self {
            Self::Stud => ("d-stud", "#ecd9b0"),
            Self::Plate => ("d-plate", "#c9a566"),
            Self::Beside => ("d-beside", "#d9e3c4"),
            Self::Header => ("d-header", "#e3b99a"),
            Self::Post => ("d-post", "#d8cbe6"),
            Self::Blocking => ("d-block", "#c6dbe0"),
            Self::Other => ("d-other", "#dddddd"),
        }
    }

    /// The hatch over the ground; none for the most usual one.
    fn hatch(self) -> Option<&'static str> {
        match self {
            Self::Stud => None,
            Self::Plate => Some("h-along"),
            Self::Beside => Some("h-rise"),
            Self::Header => Some("h-cross"),
            Self::Post => Some("h-up"),
            Self::Blocking | Self::Other => Some("h-dots"),
        }
    }
}

/// Whose hatches a drawing uses.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Defs {
    /// Its own: it stands alone.
    Own,
    /// Those of the page, which has them once for all drawings.
    Page,
}

/// The hatches.
pub fn patterns() -> Markup {
    let of = |id: &str, size: u32, data: &str| {
        html! {
            pattern id=(id) width=(size) height=(size) patternUnits="userSpaceOnUse" {
                path.d-hatch d=(data) stroke="#333" stroke-width="0.7" fill="none" {}
            }
        }
    };
    html! {
        defs {
            (of("h-along", 4, "M0 2h4"))
            (of("h-up", 4, "M2 0v4"))
            (of("h-rise", 4, "M-1 1l2-2M0 4l4-4M3 5l2-2"))
            (of("h-cross", 4, "M0 4l4-4M0 0l4 4"))
            (of("h-dots", 4, "M1.5 2h1"))
            (of("h-out", 8, "M-2 2l4-4M0 8l8-8M6 10l4-4"))
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
                @let (class, ground) = family.look();
                path class=(class) d=(data) fill=(ground) stroke="#4d3b17" stroke-width="0.6" {}
                @if let Some(hatch) = family.hatch() {
                    path d=(data) fill=(format!("url(#{hatch})")) {}
                }
            }
        }
    }
}

/// What the hatches and lines mean, as a list with a sample each.
pub fn legend() -> Markup {
    let sample = |class: &str, ground: &str, hatch: Option<&str>, dash: Option<&str>| {
        html! {
            svg width="28" height="16" viewBox="0 0 28 16" aria-hidden="true" {
                path class=(class) d="M1 1h26v14h-26z" fill=(ground) stroke="#4d3b17" stroke-dasharray=[dash] {}
                @if let Some(hatch) = hatch { path d="M1 1h26v14h-26z" fill=(format!("url(#{hatch})")) {} }
            }
        }
    };
    html! {
        ul.legend {
            @for family in Family::ALL {
                @let (class, ground) = family.look();
                li { (sample(class, ground, family.hatch(), None)) " " (family.words()) }
            }
            li { (sample("d-part", "none", None, Some("4 2"))) " framing that takes a part of the depth" }
            li { (sample("d-bay", "#e8f1fb", None, None)) " bay, with number and mass" }
            li { (sample("d-open", "#ffffff", None, None)) " opening" }
            li { (sample("d-out", "#f3f3f3", Some("h-out"), None)) " stays empty" }
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

//! The report as one page: no request to anywhere, no scripts, for screens and for paper.
//!
//! Everything that was read comes through the template engine's escaping, and `printable` before it.

mod bits;
mod crew;
mod heat;
mod order;
mod proof;
mod stop;

use super::drawing::patterns;
use super::table::title_words;
use crate::crew::crew_sheet;
use crate::report::files::read_files;
use crate::takeoff::Takeoff;
use crate::units::UnitSystem;
use bits::plain;
use maud::{DOCTYPE, Markup, PreEscaped, html};

const STYLE: &str = include_str!("style.css");

/// Headings of the page, with what leads to them.
const CONTENTS: [(&str, &str); 8] = [
    ("order", "Order"),
    ("balance", "Balance"),
    ("left-out", "Left out"),
    ("findings", "Findings"),
    ("assumptions", "Assumptions"),
    ("framing", "Framing and heat"),
    ("plan", "Key plans"),
    ("crew", "Crew sheet"),
];

/// The page.
pub fn render_html(takeoff: &Takeoff, units: UnitSystem) -> String {
    page(takeoff, &title(takeoff), &content(takeoff, units)).into_string()
}

/// What the page is called.
pub(super) fn title(takeoff: &Takeoff) -> String {
    plain(&title_words(takeoff))
}

/// What stands on the page below its title, section by section; the paper is made of the same.
pub(super) fn content(takeoff: &Takeoff, units: UnitSystem) -> Markup {
    let sheet = crew_sheet(takeoff);
    html! {
        (order::order(takeoff, units))
        (proof::balance(takeoff, units))
        (proof::left_out(takeoff, units))
        (proof::findings(takeoff, units))
        (proof::assumptions(takeoff, units))
        (heat::framing_and_heat(takeoff, units))
        (crew::plans(takeoff, &sheet))
        (crew::crew(takeoff, &sheet, units))
    }
}

fn page(takeoff: &Takeoff, title: &str, body: &Markup) -> Markup {
    html! {
        (DOCTYPE)
        html lang="en" {
            head {
                meta charset="utf-8";
                meta name="viewport" content="width=device-width, initial-scale=1";
                meta name="color-scheme" content="light dark";
                // Without it a browser asks the place of the page for an icon.
                link rel="icon" href="data:,";
                title { (title) }
                style { (PreEscaped(STYLE)) }
            }
            body {
                a.skip href="#order" { "Skip to the order" }
                svg.defs aria-hidden="true" focusable="false" { (patterns()) }
                header {
                    h1 { (title) }
                    nav aria-label="Contents" {
                        ul { @for (id, words) in CONTENTS { li { a href=(format!("#{id}")) { (words) } } } }
                    }
                }
                main { (body) }
                footer {
                    h2 { "Read from" }
                    ul.soft {
                        @for file in read_files(&takeoff.inputs, &takeoff.job_files) {
                            li { (plain(&file.path)) ", SHA-256 " (file.sha256) }
                        }
                    }
                    p.soft { "cavitally " (env!("CARGO_PKG_VERSION")) }
                }
            }
        }
    }
}

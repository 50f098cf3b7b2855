//! What all papers share: the page around them, blanks to fill in, and where their figures come from.

use crate::closeout::Closeout;
use crate::job::PaperFacts;
use crate::model::FileRead;
use maud::{DOCTYPE, Markup, PreEscaped, html};

/// Style of all papers; black on white, since they are printed.
const STYLE: &str = "
@page { margin: 18mm 16mm; }
body { font: 10.5pt/1.4 Georgia, 'Times New Roman', serif; color: #111; background: #fff; max-width: 178mm; margin: 10mm auto; padding: 0 4mm; }
h1 { font-size: 17pt; margin: 0 0 1mm; }
h2 { font-size: 12.5pt; margin: 7mm 0 2mm; border-bottom: 0.4mm solid #111; }
h3 { font-size: 11pt; margin: 5mm 0 1mm; }
table { border-collapse: collapse; width: 100%; margin: 2mm 0; }
th, td { text-align: left; vertical-align: top; padding: 1mm 2mm 1mm 0; border-bottom: 0.2mm solid #aaa; }
td.n, th.n { text-align: right; white-space: nowrap; }
.paper { break-after: page; }
.paper:last-child { break-after: auto; }
.block { break-inside: avoid; border: 0.3mm solid #555; padding: 2mm 4mm; margin: 4mm 0; }
.blank { display: inline-block; min-width: 62mm; border-bottom: 0.3mm solid #111; height: 5mm; }
.blanks { display: grid; grid-template-columns: 44mm auto; row-gap: 2.5mm; margin: 4mm 0; }
.small, footer { font-size: 8.5pt; color: #333; overflow-wrap: anywhere; }
.short { font-weight: bold; }
";

/// A file of papers.
pub(super) fn pages(title: &str, papers: &[Markup]) -> String {
    html! {
        (DOCTYPE)
        html lang="en" {
            head {
                meta charset="utf-8";
                meta name="viewport" content="width=device-width, initial-scale=1";
                title { (title) }
                style { (PreEscaped(STYLE)) }
            }
            body { @for paper in papers { section.paper { (paper) } } }
        }
    }
    .into_string()
}

/// A name, and what is entered for it.
pub(super) type Field<'f> = (&'static str, Option<&'f str>);

/// Names with what is given for each; where nothing is, a line to fill in.
pub(super) fn fields(fields: &[Field<'_>]) -> Markup {
    html! {
        div.blanks {
            @for (name, text) in fields {
                span { (name) }
                @if let Some(text) = text { span { (text) } } @else { span.blank {} }
            }
        }
    }
}

/// What every paper says of the building and of the measurement, behind what is its own.
pub(super) fn facts(own: &[Field<'_>], facts: &PaperFacts, photos: &[&str]) -> Markup {
    let (photos, editions) = (photos.join(", "), facts.editions.join("; "));
    let all = [
        ("Address", facts.address.as_deref()),
        ("Measured by", facts.measured_by.as_deref()),
        ("Measured on", facts.measured_on.as_deref()),
        ("How it was verified", facts.verified.as_deref()),
        ("Photo numbers", Some(photos.as_str()).filter(|text| !text.is_empty())),
        ("Editions in force here", Some(editions.as_str()).filter(|text| !text.is_empty())),
    ];
    fields(&[own, all.as_slice()].concat())
}

/// Photo numbers of a closeout, as its log has them, each once.
pub(super) fn photos(closeout: &Closeout) -> Vec<&str> {
    let mut all: Vec<&str> = Vec::new();
    for photo in closeout.zones.iter().flat_map(|zone| zone.photos.iter().map(String::as_str)) {
        if !all.contains(&photo) {
            all.push(photo);
        }
    }
    all
}

/// Where the figures come from: version, files with their checksums, editions.
pub(super) fn sources(files: &[FileRead], editions: &[&str]) -> Markup {
    html! {
        footer {
            p { "Figures by cavitally " (env!("CARGO_PKG_VERSION")) ", from:" }
            ul { @for file in files { li { (file.path) ", SHA-256 " (file.sha256) } } }
            @if !editions.is_empty() { p { "Editions: " (editions.join("; ")) "." } }
        }
    }
}

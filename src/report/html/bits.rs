//! Small pieces of the page.

use crate::report::text::printable;
use maud::{Markup, html};

/// Text that was read, with what must not reach a page made visible.
pub(super) fn plain(text: &str) -> String {
    printable(text)
}

/// The first letter large, as a heading or a sentence begins.
pub(super) fn begun(text: &str) -> String {
    let mut letters = text.chars();
    letters.next().map(|first| first.to_uppercase().chain(letters).collect()).unwrap_or_default()
}

/// A section under a heading of the second level.
pub(super) fn section(id: &str, heading: &str, body: &Markup) -> Markup {
    let label = format!("h-{id}");
    html! {
        section id=(id) aria-labelledby=(label) {
            h2 id=(label) { (heading) }
            (body)
        }
    }
}

/// A table that scrolls by itself where the page is narrower. Columns up to `texts` hold text, all others figures.
pub(super) fn table(caption: &str, headings: &[&str], texts: usize, rows: &[Vec<String>]) -> Markup {
    html! {
        div.scroll role="region" aria-label=(caption) tabindex="0" {
            table {
                caption { (caption) }
                thead { tr { @for (column, heading) in headings.iter().enumerate() {
                    th scope="col" class=[(column < texts).then_some("t")] { (heading) }
                } } }
                tbody { @for row in rows { tr {
                    @for (column, cell) in row.iter().enumerate() {
                        @if column == 0 { th scope="row" class=[(texts > 0).then_some("t")] { (cell) } }
                        @else { td class=[(column < texts).then_some("t")] { (cell) } }
                    }
                } } }
            }
        }
    }
}

/// Names and figures side by side; those without a figure are left away.
pub(super) fn figures(pairs: &[(&str, Option<String>)]) -> Markup {
    html! {
        dl.figures {
            @for (name, figure) in pairs {
                @if let Some(figure) = figure { div { dt { (name) } dd { (figure) } } }
            }
        }
    }
}

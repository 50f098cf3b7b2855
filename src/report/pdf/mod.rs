//! The takeoff on paper: pages with drawings as vectors and text that can be selected.

mod block;
mod content;
mod flow;
mod fonts;
mod paint;

use super::drawing::patterns;
use super::html;
use super::papers::Papers;
use super::text::{printable, shorten};
use crate::model::FileRead;
use crate::report::files::read_files;
use crate::takeoff::Takeoff;
use crate::units::UnitSystem;
use flow::{Sheet, set_out};
use fonts::Fonts;
use std::io;

/// Characters of a checksum that the footer shows.
const HASH_SHOWN: usize = 12;

/// Characters that the footer shows, in two or three lines.
const FOOT_SHOWN: usize = 240;

/// The paper: what the page holds, on Letter for feet and pounds, on A4 for metres and kilograms.
///
/// # Errors
/// Fonts or markup that cannot be used, which would be a fault of the program.
pub fn render_pdf(takeoff: &Takeoff, units: UnitSystem) -> io::Result<Vec<u8>> {
    let fonts = Fonts::read().ok_or_else(|| io::Error::other("the fonts of the paper cannot be read"))?;
    let sheet = if units == UnitSystem::Us { Sheet::LETTER } else { Sheet::A4 };
    let title = html::title(takeoff);
    // Attributes that machines read hold names as they were read, and markup may not hold all characters.
    let content = printable(&html::content(takeoff, units).into_string());
    let blocks = content::blocks(&title, &content, &patterns().into_string())?;
    let foot = [foot(&read_files(&takeoff.inputs, &takeoff.job_files), &title)];
    paint::paint(set_out(&blocks, &fonts, sheet), &fonts, sheet, &title, &foot)
}

/// Papers to sign, each from a new page on, with the same footer, which says too where and by whom was measured.
///
/// # Errors
/// As [`render_pdf`].
pub fn papers_pdf(papers: &Papers, units: UnitSystem) -> io::Result<Vec<u8>> {
    let fonts = Fonts::read().ok_or_else(|| io::Error::other("the fonts of the paper cannot be read"))?;
    let sheet = if units == UnitSystem::Us { Sheet::LETTER } else { Sheet::A4 };
    let blocks = content::papers(papers.bodies.iter().map(|body| body.0.as_str()))?;
    let foot = [papers.running.clone(), foot(&papers.files, &papers.title)];
    let sheet = paint::with_room_for(&foot, &fonts, sheet);
    paint::paint(set_out(&blocks, &fonts, sheet), &fonts, sheet, &papers.title, &foot)
}

/// The job and what it was read from, by the beginnings of the checksums.
fn foot(files: &[FileRead], title: &str) -> String {
    let files: Vec<String> = files
        .iter()
        .map(|file| {
            let name = std::path::Path::new(&file.path).file_name().map(|name| name.to_string_lossy().into_owned());
            let hash = file.sha256.get(..HASH_SHOWN).unwrap_or_default();
            format!("{} {hash}", shorten(&name.unwrap_or_default(), 28))
        })
        .collect();
    shorten(&format!("{title} \u{b7} {}", files.join(", ")), FOOT_SHOWN)
}

#[cfg(test)]
mod tests {
    use super::block::Block;
    use super::paint::paint;
    use super::*;

    #[test]
    fn a_paper_is_a_file_of_the_format() {
        let fonts = Fonts::read().unwrap();
        let svg = "<svg xmlns='http://www.w3.org/2000/svg' viewBox='0 0 100 50'><rect width='100' height='50' fill='none' stroke='black'/><text x='10' y='20' font-family='sans-serif' font-size='8'>bay 1</text></svg>";
        let blocks = [
            Block::Heading(1, "Takeoff of Sample house".to_owned()),
            Block::strong("94 bags for 1,310 ft2"),
            Block::text("a paragraph"),
            Block::Drawing { svg: svg.to_owned(), height_share: 0.4 },
            Block::NewPage,
            Block::Caution(vec!["Caution".to_owned()]),
        ];
        let flow = set_out(&blocks, &fonts, Sheet::A4);
        assert_eq!(flow.pages.len(), 2);
        let bytes = paint(flow, &fonts, Sheet::A4, "Takeoff", &["house.ifc 0123456789ab".to_owned()]).unwrap();
        assert!(bytes.starts_with(b"%PDF-"));
        if let Some(path) = std::env::var_os("PAPER") {
            std::fs::write(path, bytes).unwrap();
        }
    }
}

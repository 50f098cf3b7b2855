//! The fonts of the paper, and how wide text stands in them.

use krilla::text::Font;
use std::sync::Arc;
use ttf_parser::Face;

/// Regular and bold.
pub(super) struct Fonts {
    regular: (Font, Face<'static>),
    bold: (Font, Face<'static>),
    /// For the text of drawings.
    pub database: Arc<usvg::fontdb::Database>,
}

impl Fonts {
    /// Reads them; `None` where the font files that come with the program cannot be read.
    pub(super) fn read() -> Option<Self> {
        let one = |bytes: &'static [u8]| Some((Font::new(bytes.into(), 0)?, Face::parse(bytes, 0).ok()?));
        let mut database = usvg::fontdb::Database::new();
        for bytes in [dejavu::sans::regular(), dejavu::sans::bold()] {
            database.load_font_data(bytes.to_vec());
        }
        database.set_sans_serif_family("DejaVu Sans");
        Some(Self {
            regular: one(dejavu::sans::regular())?,
            bold: one(dejavu::sans::bold())?,
            database: Arc::new(database),
        })
    }

    /// The font that text is drawn in.
    pub(super) fn font(&self, is_bold: bool) -> Font {
        if is_bold { self.bold.0.clone() } else { self.regular.0.clone() }
    }

    /// Width of a text, in points.
    pub(super) fn width_pt(&self, text: &str, size_pt: f32, is_bold: bool) -> f32 {
        let face = if is_bold { &self.bold.1 } else { &self.regular.1 };
        let units = f32::from(face.units_per_em());
        let advance = |c: char| {
            let glyph = face.glyph_index(c).unwrap_or_default();
            f32::from(face.glyph_hor_advance(glyph).unwrap_or_default())
        };
        text.chars().map(advance).sum::<f32>() / units * size_pt
    }

    /// Lines of a text that are no wider than `room_pt`; a word that is wider than that is cut.
    pub(super) fn wrapped(&self, text: &str, size_pt: f32, is_bold: bool, room_pt: f32) -> Vec<String> {
        let mut lines: Vec<String> = Vec::new();
        let mut line = String::new();
        for word in text.split_whitespace() {
            for piece in self.pieces(word, size_pt, is_bold, room_pt) {
                let longer = if line.is_empty() { piece.clone() } else { format!("{line} {piece}") };
                if self.width_pt(&longer, size_pt, is_bold) <= room_pt || line.is_empty() {
                    line = longer;
                } else {
                    lines.push(std::mem::replace(&mut line, piece));
                }
            }
        }
        if !line.is_empty() || lines.is_empty() {
            lines.push(line);
        }
        lines
    }

    /// A word in pieces that fit.
    fn pieces(&self, word: &str, size_pt: f32, is_bold: bool, room_pt: f32) -> Vec<String> {
        if self.width_pt(word, size_pt, is_bold) <= room_pt {
            return vec![word.to_owned()];
        }
        let mut pieces = vec![String::new()];
        for c in word.chars() {
            let Some(last) = pieces.last_mut() else { break };
            if !last.is_empty() && self.width_pt(&format!("{last}{c}"), size_pt, is_bold) > room_pt {
                pieces.push(c.to_string());
            } else {
                last.push(c);
            }
        }
        pieces
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn text_is_wrapped_within_its_room() {
        let fonts = Fonts::read().unwrap();
        let text = "pounds and bags that hold up when somebody asks why Donaudampfschifffahrtsgesellschaftskapitän";
        for room_pt in [20.0, 60.0, 200.0] {
            let lines = fonts.wrapped(text, 9.0, false, room_pt);
            assert!(lines.iter().all(|line| fonts.width_pt(line, 9.0, false) <= room_pt + 0.01), "{lines:?}");
            let plain = |text: &str| text.replace(' ', "");
            assert_eq!(plain(&lines.concat()), plain(text));
        }
        assert_eq!(fonts.wrapped("", 9.0, false, 50.0), [""]);
        assert!(fonts.width_pt("m", 9.0, true) > fonts.width_pt("i", 9.0, true));
    }
}

//! Fields to read or to fill in, and frames around what belongs together.

use super::{AFTER, Flow, GUTTER_PT, LEADING, Mark, TEXT_PT, count};
use crate::report::pdf::block::Block;

/// Part of the width that the names of fields take.
const NAMES_SHARE: f32 = 0.34;
/// Height of a line to write on by hand, by the size of its text.
const LINE_TO_WRITE_ON: f32 = 2.4;
/// Fields that take no more than this stand on one page.
const TOGETHER_PT: f32 = 160.0;
/// How far a frame stands from what it holds.
const FRAME_PT: f32 = 6.0;

/// A field in its lines.
struct Field {
    names: Vec<String>,
    texts: Vec<String>,
    top_pt: f32,
    height_pt: f32,
}

impl Flow<'_> {
    /// Names in a column, what was entered beside them, and a line to write on where nothing was; a signature goes with its
    /// date.
    pub(super) fn fields(&mut self, fields: &[(String, Option<String>)]) {
        let heights_pt: Vec<f32> = fields.iter().map(|field| self.field(field).height_pt).collect();
        self.need(heights_pt.iter().sum::<f32>().min(TOGETHER_PT));
        let (left_pt, right_pt) = (self.sheet.margin_pt, self.sheet.margin_pt + self.sheet.room_pt());
        let texts_pt = left_pt + self.sheet.room_pt() * NAMES_SHARE;
        for (field, height_pt) in fields.iter().zip(heights_pt) {
            self.need(height_pt);
            let Field { names, texts, top_pt, .. } = self.field(field);
            let top_pt = self.y_pt + top_pt;
            for (x_pt, lines, is_bold) in [(left_pt, names, true), (texts_pt, texts, false)] {
                for (line, text) in lines.into_iter().enumerate() {
                    let y_pt = top_pt + TEXT_PT * (1.0 + LEADING * count(line));
                    self.mark(Mark::Text { x_pt, y_pt, size_pt: TEXT_PT, is_bold, text });
                }
            }
            if field.1.is_none() {
                let y_pt = top_pt + TEXT_PT * 1.15;
                self.mark(Mark::Rule { from_pt: [texts_pt, y_pt], to_pt: [right_pt, y_pt] });
            }
            self.y_pt += height_pt;
        }
        self.y_pt += TEXT_PT * if fields.iter().any(|(_, text)| text.is_none()) { 1.0 } else { AFTER };
    }

    fn field(&self, (name, text): &(String, Option<String>)) -> Field {
        let room_pt = self.sheet.room_pt();
        let names = self.fonts.wrapped(name, TEXT_PT, true, room_pt * NAMES_SHARE - GUTTER_PT);
        let text_pt = room_pt * (1.0 - NAMES_SHARE);
        let texts = self.fonts.wrapped(text.as_deref().unwrap_or_default(), TEXT_PT, false, text_pt);
        // Words stand at the foot of a line to write on.
        let top_pt = if text.is_some() { 0.0 } else { TEXT_PT * (LINE_TO_WRITE_ON - LEADING) };
        let height_pt = top_pt + count(names.len().max(texts.len())) * TEXT_PT * LEADING;
        Field { names, texts, top_pt, height_pt }
    }

    /// Sets out what belongs together, once more on a new page where this one does not hold it. What is longer than a page
    /// has no frame.
    pub(super) fn framed(&mut self, inner: &[Block]) {
        if self.y_pt > self.sheet.margin_pt {
            self.y_pt += FRAME_PT;
        }
        let (mut pages, mut top_pt) = (self.pages.len(), self.y_pt);
        let (marks, places) = (self.pages.last().map_or(0, Vec::len), self.places.len());
        self.all(inner);
        if self.pages.len() > pages && marks > 0 {
            self.pages.truncate(pages);
            self.places.truncate(places);
            if let Some(page) = self.pages.last_mut() {
                page.truncate(marks);
            }
            self.new_page();
            (pages, top_pt) = (self.pages.len(), self.y_pt);
            self.all(inner);
        }
        if self.pages.len() == pages {
            let (left_pt, width_pt) = (self.sheet.margin_pt - FRAME_PT, self.sheet.room_pt() + 2.0 * FRAME_PT);
            let at_pt = [left_pt, top_pt - FRAME_PT / 2.0];
            self.mark(Mark::Frame { at_pt, size_pt: [width_pt, self.y_pt - top_pt + FRAME_PT / 2.0] });
        }
        self.y_pt += FRAME_PT;
    }
}

#[cfg(test)]
mod tests {
    use super::super::{Sheet, set_out};
    use super::*;
    use crate::report::pdf::fonts::Fonts;

    #[test]
    fn what_is_framed_stands_on_one_page_and_a_signature_by_its_date() {
        let fonts = Fonts::read().unwrap();
        let blank = |name: &str| (name.to_owned(), None);
        let framed = Block::Framed(vec![
            Block::Heading(3, "part".to_owned()),
            Block::Fields((0..12).map(|at| (format!("row {at}"), Some("x".to_owned()))).collect()),
        ]);
        for lines in 1..60 {
            let mut blocks: Vec<Block> = (0..lines).map(|line| Block::text(format!("line {line}"))).collect();
            blocks.extend([framed.clone(), Block::Fields(vec![blank("Signature"), blank("Date")])]);
            let flow = set_out(&blocks, &fonts, Sheet::A4);
            let pages_of = |words: &str| -> Vec<usize> {
                let holds = |page: &&Vec<Mark>| {
                    page.iter().any(|mark| matches!(mark, Mark::Text { text, .. } if text == words))
                };
                flow.pages.iter().enumerate().filter(|(_, page)| holds(page)).map(|(at, _)| at).collect()
            };
            assert_eq!(pages_of("part").len(), 1, "{lines}");
            assert_eq!(pages_of("part"), pages_of("row 11"), "{lines}");
            assert_eq!(pages_of("Signature"), pages_of("Date"), "{lines}");
            let frames = flow.pages.iter().flatten().filter(|mark| matches!(mark, Mark::Frame { .. })).count();
            assert_eq!(frames, 1, "{lines}");
        }
    }
}

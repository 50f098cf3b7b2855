//! Blocks set out on pages: where each text, line and drawing stands.

mod fields;

use super::block::Block;
use super::fonts::Fonts;

/// Size of a page and its margins, in points.
#[derive(Clone, Copy, Debug, PartialEq)]
#[allow(clippy::struct_field_names, reason = "a field names its unit")]
pub(super) struct Sheet {
    pub width_pt: f32,
    pub height_pt: f32,
    pub margin_pt: f32,
    /// What the foot of a page takes beyond its margin.
    pub foot_pt: f32,
}

impl Sheet {
    /// ISO 216 A4. Between the margins of both stands a drawing at its own size, with its text of 9 pt.
    pub(super) const A4: Self = Self { width_pt: 595.28, height_pt: 841.89, margin_pt: 42.6, foot_pt: 0.0 };
    /// ANSI A, Letter.
    pub(super) const LETTER: Self = Self { width_pt: 612.0, height_pt: 792.0, margin_pt: 51.0, foot_pt: 0.0 };

    pub(super) fn room_pt(self) -> f32 {
        self.width_pt - 2.0 * self.margin_pt
    }

    fn bottom_pt(self) -> f32 {
        self.height_pt - self.margin_pt - self.foot_pt
    }
}

/// Something on a page; places are from its top left.
#[derive(Clone, Debug)]
pub(super) enum Mark {
    /// A line of text on its baseline.
    Text { x_pt: f32, y_pt: f32, size_pt: f32, is_bold: bool, text: String },
    /// A rule.
    Rule { from_pt: [f32; 2], to_pt: [f32; 2] },
    /// A frame.
    Frame { at_pt: [f32; 2], size_pt: [f32; 2] },
    /// A drawing.
    Drawing { at_pt: [f32; 2], size_pt: [f32; 2], tree: Box<usvg::Tree> },
}

/// A heading, for the list of contents of the file.
#[derive(Clone, Debug, PartialEq)]
pub(super) struct Place {
    pub text: String,
    pub page: usize,
    pub y_pt: f32,
}

/// Pages with what stands on them.
pub(super) struct Flow<'f> {
    fonts: &'f Fonts,
    sheet: Sheet,
    pub pages: Vec<Vec<Mark>>,
    pub places: Vec<Place>,
    y_pt: f32,
}

/// No text on paper is smaller than 9 pt.
const TEXT_PT: f32 = 9.5;
const CELL_PT: f32 = 9.0;
const LEADING: f32 = 1.35;
/// Space below a paragraph, as a share of the size of its text.
const AFTER: f32 = 0.4;
/// Space between columns.
const GUTTER_PT: f32 = 8.0;

/// A number of lines, as a measure.
#[allow(clippy::cast_precision_loss, reason = "a page has few lines")]
fn count(lines: usize) -> f32 {
    lines as f32
}

/// Sets blocks out on pages.
pub(super) fn set_out<'f>(blocks: &[Block], fonts: &'f Fonts, sheet: Sheet) -> Flow<'f> {
    let mut flow = Flow { fonts, sheet, pages: vec![Vec::new()], places: Vec::new(), y_pt: sheet.margin_pt };
    flow.all(blocks);
    flow
}

impl Flow<'_> {
    fn all(&mut self, blocks: &[Block]) {
        for (index, block) in blocks.iter().enumerate() {
            // A heading goes with the drawing below it.
            let with_pt = match (block, blocks.get(index + 1)) {
                (Block::Heading(..), Some(Block::Drawing { svg, height_share })) => {
                    self.read(svg, *height_share).map_or(0.0, |(_, [_, height_pt])| height_pt)
                }
                _ => 0.0,
            };
            self.add(block, with_pt);
        }
    }

    fn add(&mut self, block: &Block, with_pt: f32) {
        match block {
            Block::Heading(level, text) => self.heading(*level, text, with_pt),
            Block::Text { text, is_strong } => self.paragraph(text, TEXT_PT, *is_strong, 0.0),
            Block::Small(text) => self.paragraph(text, CELL_PT, false, 0.0),
            Block::Caution(hazards) => self.caution(hazards),
            Block::Table { heading, is_words, rows } => self.table(heading, is_words, rows),
            Block::Fields(fields) => self.fields(fields),
            Block::Framed(inner) => self.framed(inner),
            Block::Drawing { svg, height_share } => self.drawing(svg, *height_share),
            Block::NewPage => self.new_page(),
        }
    }

    fn mark(&mut self, mark: Mark) {
        if let Some(page) = self.pages.last_mut() {
            page.push(mark);
        }
    }

    fn new_page(&mut self) {
        if self.pages.last().is_some_and(|page| !page.is_empty()) {
            self.pages.push(Vec::new());
        }
        self.y_pt = self.sheet.margin_pt;
    }

    /// Goes to a new page where less than this is left.
    fn need(&mut self, height_pt: f32) {
        if self.y_pt + height_pt > self.sheet.bottom_pt() {
            self.new_page();
        }
    }

    fn line(&mut self, x_pt: f32, size_pt: f32, is_bold: bool, text: String) {
        let y_pt = self.y_pt + size_pt;
        self.mark(Mark::Text { x_pt, y_pt, size_pt, is_bold, text });
    }

    fn heading(&mut self, level: u8, text: &str, with_pt: f32) {
        let size_pt = match level {
            1 => 16.0,
            2 => 11.5,
            _ => 9.5,
        };
        let lines = self.fonts.wrapped(text, size_pt, true, self.sheet.room_pt());
        // A heading never stands alone at the foot of a page.
        let below_pt = with_pt.max(size_pt * LEADING * 2.5);
        self.need(size_pt * (0.9 + LEADING * count(lines.len())) + below_pt);
        if self.y_pt > self.sheet.margin_pt {
            self.y_pt += size_pt * 0.9;
        }
        self.places.push(Place { text: text.to_owned(), page: self.pages.len() - 1, y_pt: self.y_pt });
        for text in lines {
            self.line(self.sheet.margin_pt, size_pt, true, text);
            self.y_pt += size_pt * LEADING;
        }
        self.y_pt += size_pt * 0.2;
    }

    fn paragraph(&mut self, text: &str, size_pt: f32, is_strong: bool, indent_pt: f32) {
        let room_pt = self.sheet.room_pt() - 2.0 * indent_pt;
        for text in self.fonts.wrapped(text, size_pt, is_strong, room_pt) {
            self.need(size_pt * LEADING);
            self.line(self.sheet.margin_pt + indent_pt, size_pt, is_strong, text);
            self.y_pt += size_pt * LEADING;
        }
        self.y_pt += size_pt * AFTER;
    }

    fn caution(&mut self, hazards: &[String]) {
        let pad_pt = 6.0;
        let room_pt = self.sheet.room_pt() - 2.0 * pad_pt;
        let lines = |text: &String| count(self.fonts.wrapped(text, TEXT_PT, false, room_pt).len()) * LEADING + AFTER;
        let height_pt = hazards.iter().map(lines).sum::<f32>() * TEXT_PT + 2.0 * pad_pt;
        self.need(height_pt);
        // One that is longer than a page has no frame.
        if self.y_pt + height_pt <= self.sheet.bottom_pt() {
            let (at_pt, size_pt) = ([self.sheet.margin_pt, self.y_pt], [self.sheet.room_pt(), height_pt]);
            self.mark(Mark::Frame { at_pt, size_pt });
        }
        self.y_pt += pad_pt;
        for text in hazards {
            self.paragraph(text, TEXT_PT, false, pad_pt);
        }
        self.y_pt += 2.0 * pad_pt;
    }

    /// A drawing and its size on the page; `None` for one that cannot be read.
    fn read(&self, svg: &str, height_share: f32) -> Option<(usvg::Tree, [f32; 2])> {
        let options = usvg::Options { fontdb: self.fonts.database.clone(), ..usvg::Options::default() };
        let tree = usvg::Tree::from_str(svg, &options).ok()?;
        let (width, height) = (tree.size().width(), tree.size().height());
        let most_pt = (self.sheet.bottom_pt() - self.sheet.margin_pt) * height_share;
        let scale = (self.sheet.room_pt() / width).min(most_pt / height);
        scale.is_finite().then_some((tree, [width * scale, height * scale]))
    }

    fn drawing(&mut self, svg: &str, height_share: f32) {
        let Some((tree, size_pt)) = self.read(svg, height_share) else { return };
        self.need(size_pt[1]);
        let at_pt = [self.sheet.margin_pt, self.y_pt];
        self.mark(Mark::Drawing { at_pt, size_pt, tree: Box::new(tree) });
        self.y_pt += size_pt[1] + TEXT_PT * 0.6;
    }

    fn table(&mut self, heading: &[String], is_words: &[bool], rows: &[Vec<String>]) {
        let widths_pt = self.columns(heading, is_words, rows);
        self.need(CELL_PT * LEADING * 4.0);
        self.row(heading, is_words, &widths_pt, true);
        for row in rows {
            let lines = self.cells(row, &widths_pt, false).iter().map(|cell| count(cell.len())).fold(1.0, f32::max);
            if self.y_pt + lines * CELL_PT * LEADING > self.sheet.bottom_pt() {
                self.new_page();
                self.row(heading, is_words, &widths_pt, true);
            }
            self.row(row, is_words, &widths_pt, false);
        }
        self.y_pt += CELL_PT;
    }

    /// Widths of the columns: figures take what they need, words share the rest, and what is short is not cut for what is long.
    fn columns(&self, heading: &[String], is_words: &[bool], rows: &[Vec<String>]) -> Vec<f32> {
        let holds_words = |index: usize| is_words.get(index) == Some(&true);
        let wish = |index: usize| {
            // Headings of figures are wrapped at their words.
            let width_pt = |text: &str| self.fonts.width_pt(text, CELL_PT, true);
            let head_pt = heading.get(index).map_or(0.0, |cell| {
                if holds_words(index) {
                    width_pt(cell)
                } else {
                    cell.split_whitespace().map(width_pt).fold(0.0, f32::max)
                }
            });
            let cells = rows.iter().filter_map(|row| row.get(index));
            cells.map(|cell| self.fonts.width_pt(cell, CELL_PT, false)).fold(head_pt, f32::max) + 1.0
        };
        let wishes: Vec<f32> = (0..heading.len()).map(wish).collect();
        let gutters_pt = GUTTER_PT * count(heading.len().saturating_sub(1));
        let figures = wishes.iter().enumerate().filter(|(index, _)| !holds_words(*index));
        let figures_pt: f32 = figures.map(|(_, wish)| *wish).sum();
        let words: Vec<f32> =
            wishes.iter().enumerate().filter(|(index, _)| holds_words(*index)).map(|(_, wish)| *wish).collect();
        let most_pt = most_each(&words, (self.sheet.room_pt() - gutters_pt - figures_pt).max(40.0));
        let width = |(index, wish): (usize, &f32)| if holds_words(index) { wish.min(most_pt) } else { *wish };
        wishes.iter().enumerate().map(width).collect()
    }

    fn cells(&self, row: &[String], widths_pt: &[f32], is_bold: bool) -> Vec<Vec<String>> {
        row.iter()
            .zip(widths_pt)
            .map(|(cell, width_pt)| self.fonts.wrapped(cell, CELL_PT, is_bold, *width_pt))
            .collect()
    }

    fn row(&mut self, row: &[String], is_words: &[bool], widths_pt: &[f32], is_head: bool) {
        let cells = self.cells(row, widths_pt, is_head);
        let lines = cells.iter().map(|cell| count(cell.len())).fold(1.0, f32::max);
        let mut x_pt = self.sheet.margin_pt;
        for (index, (cell, width_pt)) in cells.into_iter().zip(widths_pt).enumerate() {
            for (line, text) in cell.into_iter().enumerate() {
                let own_pt = self.fonts.width_pt(&text, CELL_PT, is_head);
                let x_pt = if is_words.get(index) == Some(&true) { x_pt } else { x_pt + width_pt - own_pt };
                let y_pt = self.y_pt + CELL_PT * (1.0 + LEADING * count(line));
                self.mark(Mark::Text { x_pt, y_pt, size_pt: CELL_PT, is_bold: is_head, text });
            }
            x_pt += width_pt + GUTTER_PT;
        }
        self.y_pt += lines * CELL_PT * LEADING;
        if is_head {
            let (left_pt, right_pt) = (self.sheet.margin_pt, self.sheet.margin_pt + self.sheet.room_pt());
            let y_pt = self.y_pt + 1.0;
            self.mark(Mark::Rule { from_pt: [left_pt, y_pt], to_pt: [right_pt, y_pt] });
            self.y_pt += 3.0;
        }
    }
}

/// The most that each may take where all share so much room, and none takes more than it wishes.
fn most_each(wishes_pt: &[f32], room_pt: f32) -> f32 {
    let mut sorted = wishes_pt.to_vec();
    sorted.sort_by(f32::total_cmp);
    let mut left_pt = room_pt;
    for (index, wish_pt) in sorted.iter().enumerate() {
        let share_pt = left_pt / count(sorted.len() - index);
        if *wish_pt > share_pt {
            return share_pt;
        }
        left_pt -= wish_pt;
    }
    f32::INFINITY
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn columns_of_words_share_what_there_is() {
        assert!((most_each(&[10.0, 300.0, 20.0], 100.0) - 70.0).abs() < 1e-3);
        assert!((most_each(&[200.0, 300.0], 100.0) - 50.0).abs() < 1e-3);
        assert!(most_each(&[10.0, 20.0], 100.0).is_infinite() && most_each(&[], 1.0).is_infinite());
    }

    #[test]
    fn nothing_stands_beyond_the_margins_and_headings_are_repeated() {
        let fonts = Fonts::read().unwrap();
        let row = |number: usize| {
            vec![
                format!("wall {number} with a name that is long enough to be wrapped in its column"),
                "1,234.5".to_owned(),
            ]
        };
        let blocks = [
            Block::Heading(1, "Takeoff".to_owned()),
            Block::Caution(vec!["knob-and-tube wiring is live ".repeat(20)]),
            Block::Table {
                heading: vec!["surface".to_owned(), "lb".to_owned()],
                is_words: vec![true, false],
                rows: (0..200).map(row).collect(),
            },
            Block::text("and that is all ".repeat(200)),
        ];
        let flow = set_out(&blocks, &fonts, Sheet::LETTER);
        assert!(flow.pages.len() > 2);
        for page in &flow.pages {
            for mark in page {
                if let Mark::Text { x_pt, y_pt, size_pt, is_bold, text } = mark {
                    let right_pt = x_pt + fonts.width_pt(text, *size_pt, *is_bold);
                    assert!(*x_pt >= 50.9 && right_pt <= 612.0 - 50.9, "{text}: {x_pt} to {right_pt}");
                    assert!(*y_pt >= 51.0 && *y_pt <= 792.0 - 50.0, "{text}: {y_pt}");
                }
            }
        }
        let has_heading =
            |page: &&Vec<Mark>| page.iter().any(|mark| matches!(mark, Mark::Text { text, .. } if text == "lb"));
        assert!(flow.pages.iter().filter(has_heading).count() >= 2);
        assert_eq!(flow.places[0].text, "Takeoff");
    }
}

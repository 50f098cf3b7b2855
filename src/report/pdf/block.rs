//! What a paper is made of, from its top.

/// A part of a paper.
#[derive(Clone, Debug, PartialEq)]
pub(super) enum Block {
    /// A heading: 1 for the title, 2 for a section, 3 within it.
    Heading(u8, String),
    /// A paragraph; one that is strong is what people act on.
    Text {
        /// The words.
        text: String,
        /// Whether they stand out.
        is_strong: bool,
    },
    /// A paragraph in small letters, for what is looked up and not read.
    Small(String),
    /// Hazards, in a box.
    Caution(Vec<String>),
    /// Rows of cells; headings are repeated on every page.
    Table {
        /// One cell a column.
        heading: Vec<String>,
        /// Which columns hold words; the others hold figures.
        is_words: Vec<bool>,
        /// Rows of as many cells.
        rows: Vec<Vec<String>>,
    },
    /// Names with what was entered for each; a line to fill in where there is nothing.
    Fields(Vec<(String, Option<String>)>),
    /// A frame around what belongs together, on one page where that can hold it.
    Framed(Vec<Block>),
    /// A drawing, scaled to the width of the page, and no higher than the part of it that is given.
    Drawing {
        /// As scalable vector graphics.
        svg: String,
        /// Most of the page's height that it takes.
        height_share: f32,
    },
    /// What follows begins on a new page.
    NewPage,
}

impl Block {
    pub(super) fn text(text: impl Into<String>) -> Self {
        Self::Text { text: text.into(), is_strong: false }
    }

    pub(super) fn strong(text: impl Into<String>) -> Self {
        Self::Text { text: text.into(), is_strong: true }
    }
}

//! The content of the page as blocks of a paper: both are made of the same markup.

use super::block::Block;
use roxmltree::{Document, Node};
use std::io;

/// Share of a page's height that a drawing may take.
const DRAWING_SHARE: f32 = 0.9;

/// Reads the markup of the page's content. `patterns` are the hatches that its drawings share.
///
/// # Errors
/// Markup that is not well-formed: a fault of the program.
pub(super) fn blocks(title: &str, content: &str, patterns: &str) -> io::Result<Vec<Block>> {
    let text = format!("<main>{content}</main>");
    let document = Document::parse(&text).map_err(|error| io::Error::other(format!("the page's markup: {error}")))?;
    let mut reading = Reading { text: &text, patterns, blocks: vec![Block::Heading(1, title.to_owned())] };
    reading.children(document.root_element());
    Ok(reading.blocks)
}

struct Reading<'t> {
    text: &'t str,
    patterns: &'t str,
    blocks: Vec<Block>,
}

impl Reading<'_> {
    fn children(&mut self, node: Node<'_, '_>) {
        for child in node.children().filter(Node::is_element) {
            self.element(child);
        }
    }

    fn element(&mut self, node: Node<'_, '_>) {
        let has_class = |name: &str| node.attribute("class").is_some_and(|all| all.split(' ').any(|one| one == name));
        match node.tag_name().name() {
            "h2" => self.blocks.push(Block::Heading(2, words(node))),
            "h3" | "h4" => self.blocks.push(Block::Heading(3, words(node))),
            "p" | "figcaption" if has_class("big") || has_class("mark") => self.blocks.push(Block::strong(words(node))),
            "p" | "figcaption" if has_class("caution") => self.blocks.push(Block::Caution(vec![words(node)])),
            "p" | "figcaption" => self.blocks.push(Block::text(words(node))),
            "li" => self.blocks.push(Block::text(format!("\u{2013} {}", words(node)))),
            "dl" => self.blocks.push(Block::text(pairs(node))),
            "table" => self.table(node),
            "svg" => self.drawing(node),
            // The legend's samples mean nothing without their shapes, and the drawings name what they show.
            "ul" if has_class("legend") || has_class("key") => self.in_a_line(node),
            "div" if has_class("caution") => self.caution(node),
            "div" if has_class("sheet") => {
                self.blocks.push(Block::NewPage);
                self.children(node);
            }
            _ => self.children(node),
        }
    }

    /// A box of cautions: a paragraph each, under its heading.
    fn caution(&mut self, node: Node<'_, '_>) {
        let mut hazards = Vec::new();
        for child in node.descendants().filter(Node::is_element) {
            match child.tag_name().name() {
                "h3" => self.blocks.push(Block::Heading(3, words(child))),
                "p" => hazards.push(words(child)),
                "li" => hazards.push(format!("\u{2013} {}", words(child))),
                _ => {}
            }
        }
        self.blocks.push(Block::Caution(hazards));
    }

    fn table(&mut self, node: Node<'_, '_>) {
        let rows = |part: &'static str| {
            node.descendants()
                .filter(move |one| one.has_tag_name(part))
                .flat_map(|one| one.children().filter(|row| row.has_tag_name("tr")))
        };
        let cells = |row: Node<'_, '_>| -> Vec<String> { row.children().filter(Node::is_element).map(words).collect() };
        let heading: Vec<String> = rows("thead").next().map(cells).unwrap_or_default();
        let is_words = |cell: &Node<'_, '_>| cell.attribute("class") == Some("t");
        let columns: Vec<bool> = rows("thead")
            .next()
            .map(|row| {
                row.children()
                    .filter(Node::is_element)
                    .enumerate()
                    .map(|(index, cell)| index == 0 || is_words(&cell))
                    .collect()
            })
            .unwrap_or_default();
        // Words stand before figures; a column of words among figures is set as a figure.
        let texts = columns.iter().take_while(|is_words| **is_words).count();
        if let Some(caption) = node.children().find(|child| child.has_tag_name("caption")) {
            self.blocks.push(Block::strong(words(caption)));
        }
        self.blocks.push(Block::Table { heading, texts, rows: rows("tbody").map(cells).collect() });
    }

    fn drawing(&mut self, node: Node<'_, '_>) {
        let Some(svg) = self.text.get(node.range()) else { return };
        // The hatches go behind the opening tag.
        let (tag, rest) = svg.split_at(svg.find('>').map_or(svg.len(), |end| end + 1));
        let svg = format!("{tag}{}{rest}", self.patterns);
        self.blocks.push(Block::Drawing { svg, height_share: DRAWING_SHARE });
    }

    fn in_a_line(&mut self, node: Node<'_, '_>) {
        let names: Vec<String> = node.children().filter(|child| child.has_tag_name("li")).map(words).collect();
        self.blocks.push(Block::text(names.join("; ")));
    }
}

/// The text of an element, without its drawings.
fn words(node: Node<'_, '_>) -> String {
    let is_drawn = |one: &Node<'_, '_>| one.ancestors().any(|ancestor| ancestor.has_tag_name("svg"));
    let texts = node.descendants().filter(|one| one.is_text() && !is_drawn(one));
    let is_apart = |one: &Node<'_, '_>| one.parent().is_some_and(|parent| parent.has_tag_name("small"));
    let piece =
        |one: Node<'_, '_>| format!("{}{}", if is_apart(&one) { " " } else { "" }, one.text().unwrap_or_default());
    let text: String = texts.map(piece).collect();
    text.split_whitespace().collect::<Vec<_>>().join(" ")
}

/// Names and figures of a list, in a line.
fn pairs(node: Node<'_, '_>) -> String {
    let of = |pair: Node<'_, '_>| {
        let part = |name: &str| pair.children().find(|child| child.has_tag_name(name)).map(words).unwrap_or_default();
        format!("{} {}", part("dt"), part("dd"))
    };
    node.children().filter(Node::is_element).map(of).collect::<Vec<_>>().join(" \u{b7} ")
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn markup_becomes_blocks_in_its_order() {
        let content = "<section><h2>Order</h2><p class=\"big\">94 bags<small>for 1 &amp; 2</small></p><div class=\"caution\"><p>\
                       <strong>Caution: </strong>hot.</p></div><ul><li>a</li></ul><table><caption>T</caption><thead><tr><th>wall\
                       </th><th>lb</th></tr></thead><tbody><tr><th>N</th><td>5</td></tr></tbody></table>\
                       <svg viewBox=\"0 0 1 1\"><title>x</title></svg></section>";
        let all = blocks("Takeoff", content, "<defs/>").unwrap();
        let table = Block::Table {
            heading: vec!["wall".to_owned(), "lb".to_owned()],
            texts: 1,
            rows: vec![vec!["N".to_owned(), "5".to_owned()]],
        };
        let svg = "<svg viewBox=\"0 0 1 1\"><defs/><title>x</title></svg>".to_owned();
        let expected = [
            Block::Heading(1, "Takeoff".to_owned()),
            Block::Heading(2, "Order".to_owned()),
            Block::strong("94 bags for 1 & 2"),
            Block::Caution(vec!["Caution: hot.".to_owned()]),
            Block::text("\u{2013} a"),
            Block::strong("T"),
            table,
            Block::Drawing { svg, height_share: DRAWING_SHARE },
        ];
        assert_eq!(all, expected);
        assert!(blocks("x", "<p>", "").is_err());
    }
}

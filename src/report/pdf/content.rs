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
    let mut blocks = vec![Block::Heading(1, title.to_owned())];
    blocks.extend(read(content, patterns)?);
    Ok(blocks)
}

/// Reads the markup of papers, of which each begins on a new page.
///
/// # Errors
/// Markup that is not well-formed: a fault of the program.
pub(super) fn papers<'m>(bodies: impl Iterator<Item = &'m str>) -> io::Result<Vec<Block>> {
    let mut blocks = Vec::new();
    for body in bodies {
        blocks.push(Block::NewPage);
        blocks.extend(read(body, "")?);
    }
    Ok(blocks)
}

fn read(content: &str, patterns: &str) -> io::Result<Vec<Block>> {
    let text = format!("<main>{content}</main>");
    let document = Document::parse(&text).map_err(|error| io::Error::other(format!("the page's markup: {error}")))?;
    let mut reading = Reading { text: &text, patterns, blocks: Vec::new() };
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
            "h1" => self.blocks.push(Block::Heading(1, words(node))),
            "h2" => self.blocks.push(Block::Heading(2, words(node))),
            "h3" | "h4" => self.blocks.push(Block::Heading(3, words(node))),
            "p" | "figcaption" if has_class("big") || has_class("mark") => self.blocks.push(Block::strong(words(node))),
            "p" | "figcaption" if has_class("caution") => self.blocks.push(Block::Caution(vec![words(node)])),
            "p" if words(node).is_empty() => {}
            "p" | "li" if is_small(node) => self.blocks.push(Block::Small(item(node))),
            "p" | "figcaption" | "li" => self.blocks.push(Block::text(item(node))),
            "dl" => self.blocks.push(Block::text(pairs(node))),
            "table" => self.table(node),
            "svg" => self.drawing(node),
            // The legend's samples mean nothing without their shapes, and the drawings name what they show.
            "ul" if has_class("legend") || has_class("key") => self.in_a_line(node),
            "div" if has_class("caution") => self.caution(node),
            "div" if has_class("blanks") => self.blanks(node),
            "div" if has_class("block") => self.framed(node),
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

    /// Names and what stands behind each, one after the other.
    fn blanks(&mut self, node: Node<'_, '_>) {
        let cells: Vec<Node<'_, '_>> = node.children().filter(Node::is_element).collect();
        let pairs = cells.chunks(2).filter_map(|pair| Some((words(*pair.first()?), pair.get(1).and_then(entered))));
        self.blocks.push(Block::Fields(pairs.collect()));
    }

    fn framed(&mut self, node: Node<'_, '_>) {
        let before = std::mem::take(&mut self.blocks);
        self.children(node);
        let inner = std::mem::replace(&mut self.blocks, before);
        self.blocks.push(Block::Framed(inner));
    }

    fn table(&mut self, node: Node<'_, '_>) {
        if node.descendants().any(|one| one.has_tag_name("thead")) {
            return self.columns(node);
        }
        // Without headings each row is a name with what it is.
        let rows = node.descendants().filter(|one| one.has_tag_name("tr"));
        let pair = |row: Node<'_, '_>| {
            let part = |name: &'static str| row.children().find(|cell| cell.has_tag_name(name));
            (part("th").map(words).unwrap_or_default(), part("td").as_ref().and_then(entered))
        };
        self.blocks.push(Block::Fields(rows.map(pair).collect()));
    }

    fn columns(&mut self, node: Node<'_, '_>) {
        let rows = |part: &'static str| {
            node.descendants()
                .filter(move |one| one.has_tag_name(part))
                .flat_map(|one| one.children().filter(|row| row.has_tag_name("tr")))
        };
        let cells = |row: Node<'_, '_>| -> Vec<String> { row.children().filter(Node::is_element).map(words).collect() };
        let heading: Vec<String> = rows("thead").next().map(cells).unwrap_or_default();
        let headings: Vec<Node<'_, '_>> =
            rows("thead").next().map(|row| row.children().filter(Node::is_element).collect()).unwrap_or_default();
        // Papers mark the columns of figures, the report those of words behind the first.
        let has_class = |cell: &Node<'_, '_>, name: &str| cell.attribute("class") == Some(name);
        let is_marked = headings.iter().any(|cell| has_class(cell, "n"));
        let is_words = headings
            .iter()
            .enumerate()
            .map(|(index, cell)| index == 0 || has_class(cell, "t") || (is_marked && !has_class(cell, "n")));
        let is_words = is_words.collect();
        if let Some(caption) = node.children().find(|child| child.has_tag_name("caption")) {
            self.blocks.push(Block::strong(words(caption)));
        }
        self.blocks.push(Block::Table { heading, is_words, rows: rows("tbody").map(cells).collect() });
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

/// Whether it stands in small letters.
fn is_small(node: Node<'_, '_>) -> bool {
    node.ancestors().any(|one| one.attribute("class") == Some("small") || one.has_tag_name("footer"))
}

/// The text of a paragraph, or of an item of a list behind its dash.
fn item(node: Node<'_, '_>) -> String {
    if node.has_tag_name("li") { format!("\u{2013} {}", words(node)) } else { words(node) }
}

/// What was entered; `None` where a blank stands, to be filled in.
fn entered(node: &Node<'_, '_>) -> Option<String> {
    Some(words(*node)).filter(|text| !text.is_empty())
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
            is_words: vec![true, false],
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

    #[test]
    fn papers_hold_fields_and_lines_to_fill_in() {
        let body = "<h1>Receipt</h1><p></p><div class=\"blanks\"><span>Address</span><span>1 Sample Road</span><span>Date\
                    </span><span class=\"blank\"></span></div><div class=\"block\"><h3>N</h3><table><tbody><tr><th>Bags</th><td>\
                    <b>7</b>.0</td></tr><tr><th>Maker</th><td><span class=\"blank\"></span></td></tr></tbody></table></div>";
        let field = |name: &str, text: Option<&str>| (name.to_owned(), text.map(ToOwned::to_owned));
        let one = [
            Block::NewPage,
            Block::Heading(1, "Receipt".to_owned()),
            Block::Fields(vec![field("Address", Some("1 Sample Road")), field("Date", None)]),
            Block::Framed(vec![
                Block::Heading(3, "N".to_owned()),
                Block::Fields(vec![field("Bags", Some("7.0")), field("Maker", None)]),
            ]),
        ];
        assert_eq!(papers([body, body].into_iter()).unwrap(), [one.clone(), one].concat());
    }
}

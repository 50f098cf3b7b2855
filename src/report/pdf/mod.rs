//! The takeoff on paper: pages with drawings as vectors and text that can be selected.

mod block;
mod flow;
mod fonts;
mod paint;

#[cfg(test)]
mod tests {
    use super::block::Block;
    use super::flow::{Sheet, set_out};
    use super::fonts::Fonts;
    use super::paint::paint;

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
            Block::Caution("Caution".to_owned()),
        ];
        let flow = set_out(&blocks, &fonts, Sheet::A4);
        assert_eq!(flow.pages.len(), 2);
        let bytes = paint(flow, &fonts, Sheet::A4, "Takeoff", "house.ifc 0123456789ab").unwrap();
        assert!(bytes.starts_with(b"%PDF-"));
        if let Some(path) = std::env::var_os("PAPER") {
            std::fs::write(path, bytes).unwrap();
        }
    }
}

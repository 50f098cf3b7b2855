//! Rows of cells as lines.

use comfy_table::presets::NOTHING;
use comfy_table::{CellAlignment, ContentArrangement, Table};

/// Lines of a table with a heading: the first `texts` columns to the left, figures to the right.
pub(in crate::report) fn lines(heading: &[&str], texts: usize, rows: Vec<Vec<String>>) -> Vec<String> {
    let mut table = Table::new();
    table.load_style(NOTHING).set_content_arrangement(ContentArrangement::Disabled);
    if !heading.is_empty() {
        table.set_header(heading.iter().map(|cell| (*cell).to_owned()).collect::<Vec<_>>());
    }
    for row in rows {
        table.add_row(row);
    }
    for (index, column) in table.column_iter_mut().enumerate() {
        column.set_padding((0, if index < texts { 2 } else { 1 }));
        column.set_cell_alignment(if index < texts { CellAlignment::Left } else { CellAlignment::Right });
    }
    table.lines().map(|line| format!("  {}", line.trim_end())).collect()
}

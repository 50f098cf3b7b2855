//! Every row of a table with columns of its own: all that is wrong at once, or all of them.

use super::table::{Row, Table};
use crate::refusal::Refusal;

impl<'f, K: Copy + PartialEq + 'static> Table<'f, K> {
    /// Reads every row in turn; `read` gets those read before it. `named` is what the table is, such as `log`, and `help` says
    /// what a row of it holds, for a table without any.
    ///
    /// # Errors
    /// What is wrong with any of the rows, and a table that has none.
    pub fn read_rows<T>(
        &self,
        (named, help): (&str, &str),
        mut read: impl FnMut(&mut Row<'_, 'f, K>, &[T]) -> Option<T>,
    ) -> Result<Vec<T>, Vec<Refusal>> {
        let mut refusals = Vec::new();
        let mut all = Vec::new();
        for mut row in self.rows() {
            let one = read(&mut row, &all);
            all.extend(one);
            refusals.append(&mut row.faults);
        }
        if refusals.is_empty() && all.is_empty() {
            let message = format!("the {named} has headings and no rows");
            refusals.push(Refusal::new(self.heading_place(), message, help));
        }
        if refusals.is_empty() { Ok(all) } else { Err(refusals) }
    }
}

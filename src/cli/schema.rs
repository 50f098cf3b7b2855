//! `cavitally schema`

use super::args::{SchemaArgs, SchemaName};
use super::{DONE, Done, terminal};

/// Runs the command. What is printed is what the tests hold the program to.
pub(super) fn run(args: &SchemaArgs) -> Done {
    let text = match args.name {
        SchemaName::Job => include_str!("../../schemas/job.schema.json").to_owned(),
        SchemaName::Takeoff => include_str!("../../schemas/takeoff.schema.json").to_owned(),
        SchemaName::Sheet => format!(
            "[\n{},\n{}\n]\n",
            include_str!("../../schemas/surfaces.table.json").trim(),
            include_str!("../../schemas/openings.table.json").trim()
        ),
    };
    terminal::print(text.as_bytes()).map_err(|refusal| vec![*refusal])?;
    Ok(DONE)
}

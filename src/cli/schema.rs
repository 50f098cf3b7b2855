//! `cavitally schema`

use super::args::{SchemaArgs, SchemaName};
use super::{DONE, Done, terminal};
use crate::audit::audit_schema;
use crate::closeout::closeout_schema;
use crate::intake::claims::CLAIMS_SCHEMA;
use crate::intake::finish::FINISH_SCHEMA;
use crate::intake::log::LOG_SCHEMA;
use crate::intake::survey::SURVEY_SCHEMA;
use crate::job::{COVERAGE_SCHEMA, job_schema};
use crate::rig::rig_schema;
use crate::takeoff::takeoff_schema;
use schemars::Schema;

/// Runs the command.
pub(super) fn run(args: &SchemaArgs) -> Done {
    let text = match args.name {
        SchemaName::Audit => pretty(&audit_schema()),
        SchemaName::Claims => CLAIMS_SCHEMA.to_owned(),
        SchemaName::Closeout => pretty(&closeout_schema()),
        SchemaName::Log => LOG_SCHEMA.to_owned(),
        SchemaName::Finish => FINISH_SCHEMA.to_owned(),
        SchemaName::Survey => SURVEY_SCHEMA.to_owned(),
        SchemaName::Job => pretty(&job_schema()),
        SchemaName::Rig => pretty(&rig_schema()),
        SchemaName::Takeoff => pretty(&takeoff_schema()),
        SchemaName::Coverage => COVERAGE_SCHEMA.to_owned(),
        SchemaName::Ids => include_str!("../../schemas/takeoff.ids").to_owned(),
        SchemaName::Sheet => format!(
            "[\n{},\n{}\n]\n",
            include_str!("../../schemas/surfaces.table.json").trim(),
            include_str!("../../schemas/openings.table.json").trim()
        ),
    };
    terminal::print(text.as_bytes()).map_err(|refusal| vec![*refusal])?;
    Ok(DONE)
}

fn pretty(schema: &Schema) -> String {
    format!("{:#}\n", schema.as_value())
}

//! Arguments as they are typed.

use crate::job::ExposureAsked;
use crate::units::UnitSystem;
use clap::{CommandFactory, Parser, Subcommand, ValueEnum};
use std::path::PathBuf;

/// Turns building geometry into framed cavities, and cavities into pounds and bags of blown-in insulation.
#[derive(Debug, Parser)]
#[command(name = "cavitally", version, arg_required_else_help = true)]
pub(super) struct Args {
    #[command(subcommand)]
    pub command: Command,
}

/// The command line as clap knows it, for documents that are made from it.
pub fn command() -> clap::Command {
    Args::command()
}

/// The commands.
#[derive(Debug, Subcommand)]
pub(super) enum Command {
    /// How much cavity is there, and how many bags does it take?
    #[command(after_help = TAKEOFF_EXAMPLES)]
    Takeoff(TakeoffArgs),
    /// Can this blower, this hose and this circuit do the job, and how long will it take?
    Rig(RigArgs),
    /// Where does this figure come from? Every step for one surface or bay
    Explain(ExplainArgs),
    /// Do the figures of this plan hold? Ends with status 1 if one falls short
    #[command(after_help = AUDIT_EXAMPLES)]
    Audit(AuditArgs),
    /// Is what was promised in the building? Ends with status 1 if a place is short
    #[command(after_help = CLOSEOUT_EXAMPLES)]
    Closeout(CloseoutArgs),
    /// Write an example job file and sheets to fill in
    Start(StartArgs),
    /// Print the schema of a file that is read or written
    Schema(SchemaArgs),
}

const TAKEOFF_EXAMPLES: &str = "Examples:
  cavitally takeoff surfaces.csv openings.csv --bag \"25 lb\"
  cavitally takeoff surfaces.csv --set fill.cellulose.density=\"3.5 lb/ft3 | 4 lb/ft3\" --bag \"25 lb | 30 lb\"
  cavitally takeoff house.ifc --frame \"2x6 @ 24 in\" --save house.json --save house.csv
  cavitally takeoff house.ifc --frame \"EXT*: 2x6 @ 16 in\" --frame \"Garage*: 2x4 @ 16 in\"";

const EXPLAIN_EXAMPLES: &str = "Examples:
  cavitally explain surfaces.csv openings.csv N-1
  cavitally explain surfaces.csv openings.csv N-1#3 --bag \"25 lb\"
  cavitally explain house.ifc --job house.toml 2XPyKWY018sA1ygZKgQPtU/1 --units si";

/// How a building is taken off, for every command that does it.
#[derive(Debug, clap::Args)]
pub(super) struct JobArgs {
    /// Job file; `cavitally start` writes an example
    #[arg(long, value_name = "FILE")]
    pub job: Option<PathBuf>,
    /// Framing of what says nothing of its own: "2x6 @ 24 in"; or of what fits a pattern on type or
    /// name: "Partition*: 2x4 @ 16 in". Also the name of an assembly, of the job file or built in:
    /// "double-stud wall"
    #[arg(long, value_name = "FRAMING")]
    pub frame: Vec<String>,
    /// What was seen of the surfaces, a test hole a row (CSV); `cavitally schema survey` describes it. A surface's own row
    /// wins over it, and it over the job file
    #[arg(long, value_name = "FILE")]
    pub survey: Option<PathBuf>,
    /// A value of the job file, key and value: fill.cellulose.density="3.7 lb/ft3". Several values, parted by |, are taken off
    /// side by side; may be given several times
    #[arg(long, value_name = "KEY=VALUE")]
    pub set: Vec<String>,
    /// Minimum net weight on the bag's label: "25 lb" or "11.3 kg"; several, parted by |, are taken off side by side
    #[arg(long, value_name = "WEIGHT")]
    pub bag: Option<String>,
    /// Which surfaces are counted; exterior takes in those towards unheated rooms
    #[arg(long, value_enum, value_name = "WHICH")]
    pub exposure: Option<ExposureArg>,
    /// Units of what people read: table, report, crew sheet, workbook; all other files are SI
    #[arg(long, value_enum, default_value_t = UnitsArg::Us)]
    pub units: UnitsArg,
    /// Leave out rows of a sheet that cannot be used, instead of stopping
    #[arg(long)]
    pub keep_going: bool,
}

/// Arguments of `takeoff`.
#[derive(Debug, clap::Args)]
pub(super) struct TakeoffArgs {
    /// Building models (IFC), measured sheets (CSV) and homes (HPXML); told apart by their content
    #[arg(required = true, value_name = "INPUT")]
    pub inputs: Vec<PathBuf>,
    #[command(flatten)]
    pub job: JobArgs,
    /// Save a file instead of printing the table, by its ending: .html or .pdf (the report), .json (everything), .csv
    /// (surfaces), .bays.csv, .crew.csv (the crew sheet), .xlsx (workbook with formulas), .takeoff.ifc (the model with the
    /// takeoff), .findings.bcf (findings for programs that show models); of an audit or a closeout .json, .html or .pdf
    /// (papers to sign); may be given several times
    #[arg(long, value_name = "FILE")]
    pub save: Vec<PathBuf>,
    /// End with status 1 if there is a warning or an error among the findings
    #[arg(long)]
    pub strict: bool,
}

const RIG_EXAMPLES: &str = "Examples:
  cavitally rig --job job.toml
  cavitally rig house.ifc --job job.toml --rig trailer --explain
  cavitally rig surfaces.csv openings.csv --job job.toml --save rig.json

Ends with 1 if something falls short.";

/// Arguments of `rig`.
#[derive(Debug, clap::Args)]
#[command(after_help = RIG_EXAMPLES)]
pub(super) struct RigArgs {
    /// Building models (IFC) and measured sheets (CSV) of the house; none checks the rig by its own figures
    #[arg(value_name = "INPUT")]
    pub inputs: Vec<PathBuf>,
    /// Job file with a `[rig.NAME]` table or several
    #[arg(long, required = true, value_name = "FILE")]
    pub job: PathBuf,
    /// Which rig of the job file; the first unless given
    #[arg(long, value_name = "NAME")]
    pub rig: Option<String>,
    /// What was seen of the surfaces (CSV); `cavitally schema survey` describes it
    #[arg(long, value_name = "FILE")]
    pub survey: Option<PathBuf>,
    /// Print for each figure its formula, what goes into it and its source
    #[arg(long)]
    pub explain: bool,
    /// A value of the job file, key and value: rig.trailer.gauge.pressure="2.9 psi"; may be given several times
    #[arg(long, value_name = "KEY=VALUE")]
    pub set: Vec<String>,
    /// Save the check as .json instead of printing it; may be given several times
    #[arg(long, value_name = "FILE")]
    pub save: Vec<PathBuf>,
    /// Units of the page; numbers of files are SI always
    #[arg(long, value_enum, default_value_t = UnitsArg::Us)]
    pub units: UnitsArg,
    /// Leave out rows of a sheet that cannot be used, instead of stopping
    #[arg(long)]
    pub keep_going: bool,
}

impl RigArgs {
    /// What a takeoff of the same inputs and job is asked for.
    pub(super) fn as_takeoff(&self) -> TakeoffArgs {
        let job = JobArgs {
            job: Some(self.job.clone()),
            frame: Vec::new(),
            survey: self.survey.clone(),
            set: Vec::new(),
            bag: None,
            exposure: None,
            units: self.units,
            keep_going: self.keep_going,
        };
        TakeoffArgs { inputs: self.inputs.clone(), job, save: self.save.clone(), strict: false }
    }
}

/// Arguments of `explain`.
#[derive(Debug, clap::Args)]
#[command(after_help = EXPLAIN_EXAMPLES, override_usage = "cavitally explain [OPTIONS] <INPUT>... <ID>")]
pub(super) struct ExplainArgs {
    /// Building models (IFC) and measured sheets (CSV), then what to explain: a surface by its id, GlobalId, name or record;
    /// `ID/2` is its part 2, `ID#3` its bay 3
    // One list, so that options may stand anywhere among them.
    #[arg(required = true, value_name = "INPUT… ID")]
    pub inputs_and_id: Vec<PathBuf>,
    #[command(flatten)]
    pub job: JobArgs,
}

const AUDIT_EXAMPLES: &str = "Examples:
  cavitally audit surfaces.csv openings.csv --claims plan.csv --bag \"25 lb\"
  cavitally audit house.ifc --job job.toml --claims plan.xml --save opinion.html --save audit.json";

/// Arguments of `audit`.
#[derive(Debug, clap::Args)]
pub(super) struct AuditArgs {
    /// The plan: a sheet of claims (CSV), or HPXML; `cavitally schema claims` describes the sheet
    #[arg(long, value_name = "FILE")]
    pub claims: PathBuf,
    #[command(flatten)]
    pub takeoff: TakeoffArgs,
}

const CLOSEOUT_EXAMPLES: &str = "Examples:
  cavitally closeout surfaces.csv openings.csv --job job.toml --log blown.csv
  cavitally closeout house.ifc --job job.toml --log blown.csv --finish finish.csv --save papers.html --save closeout.json";

/// Arguments of `closeout`.
#[derive(Debug, clap::Args)]
pub(super) struct CloseoutArgs {
    /// The log of what was blown (CSV); `cavitally schema log` describes it
    #[arg(long, value_name = "FILE")]
    pub log: PathBuf,
    /// What was checked afterwards, a check a row (CSV); `cavitally schema finish` describes it
    #[arg(long, value_name = "FILE")]
    pub finish: Option<PathBuf>,
    #[command(flatten)]
    pub takeoff: TakeoffArgs,
}

/// Arguments of `start`.
#[derive(Debug, clap::Args)]
pub(super) struct StartArgs {
    /// Folder to write to; made if it is not there
    #[arg(value_name = "DIR")]
    pub folder: PathBuf,
}

/// Arguments of `schema`.
#[derive(Debug, clap::Args)]
pub(super) struct SchemaArgs {
    /// Which file
    #[arg(value_enum, value_name = "NAME")]
    pub name: SchemaName,
}

/// Files that have a schema.
#[derive(Clone, Copy, Debug, ValueEnum)]
pub(super) enum SchemaName {
    /// The saved audit, as JSON Schema
    Audit,
    /// A plan's claims, as table schema
    Claims,
    /// The saved closeout, as JSON Schema
    Closeout,
    /// What was checked after the work, as table schema
    Finish,
    /// The job file, as JSON Schema
    Job,
    /// A log of what was blown, as table schema
    Log,
    /// The coverage table of a bag's label, as table schema
    Coverage,
    /// What to ask the architect's model for, as an information delivery specification (IDS 1.0)
    Ids,
    /// The saved check of a rig, as JSON Schema
    Rig,
    /// The measured sheets, as table schemas
    Sheet,
    /// What was seen before the work, as table schema
    Survey,
    /// The saved takeoff, as JSON Schema
    Takeoff,
}

/// `--exposure`.
#[derive(Clone, Copy, Debug, ValueEnum)]
pub(super) enum ExposureArg {
    /// Exterior, and towards unheated rooms
    Exterior,
    /// Interior and unknown ones too
    All,
    /// Interior ones alone
    Interior,
}

impl ExposureArg {
    pub(super) fn asked(self) -> ExposureAsked {
        match self {
            Self::Exterior => ExposureAsked::Exterior,
            Self::All => ExposureAsked::All,
            Self::Interior => ExposureAsked::Interior,
        }
    }
}

/// `--units`.
#[derive(Clone, Copy, Debug, ValueEnum)]
pub(super) enum UnitsArg {
    /// Feet, inches and pounds
    Us,
    /// Metres and kilograms
    Si,
}

impl UnitsArg {
    pub(super) fn system(self) -> UnitSystem {
        match self {
            Self::Us => UnitSystem::Us,
            Self::Si => UnitSystem::Si,
        }
    }
}

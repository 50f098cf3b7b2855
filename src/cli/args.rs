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
    Takeoff(TakeoffArgs),
    /// Where does this figure come from? Every step for one surface or bay
    Explain(ExplainArgs),
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
#[command(after_help = TAKEOFF_EXAMPLES)]
pub(super) struct TakeoffArgs {
    /// Building models (IFC) and measured sheets (CSV); told apart by their content
    #[arg(required = true, value_name = "INPUT")]
    pub inputs: Vec<PathBuf>,
    #[command(flatten)]
    pub job: JobArgs,
    /// Save a file instead of printing the table, by its ending: .html (the report), .json (everything), .csv (surfaces), .bays.csv, .crew.csv (the crew sheet), .xlsx
    /// (workbook with formulas), .takeoff.ifc (the model with the takeoff), .findings.bcf
    /// (findings for programs that show models); may be given several times
    #[arg(long, value_name = "FILE")]
    pub save: Vec<PathBuf>,
    /// End with status 1 if there is a warning or an error among the findings
    #[arg(long)]
    pub strict: bool,
}

/// Arguments of `explain`.
#[derive(Debug, clap::Args)]
#[command(after_help = EXPLAIN_EXAMPLES, override_usage = "cavitally explain [OPTIONS] <INPUT>... <ID>")]
pub(super) struct ExplainArgs {
    /// Building models (IFC) and measured sheets (CSV), then what to explain: a surface by its id, GlobalId or name;
    /// `ID/2` is its part 2, `ID#3` its bay 3
    // One list, so that options may stand anywhere among them.
    #[arg(required = true, value_name = "INPUT… ID")]
    pub inputs_and_id: Vec<PathBuf>,
    #[command(flatten)]
    pub job: JobArgs,
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
    /// The job file, as JSON Schema
    Job,
    /// The coverage table of a bag's label, as table schema
    Coverage,
    /// What to ask the architect's model for, as an information delivery specification (IDS 1.0)
    Ids,
    /// The measured sheets, as table schemas
    Sheet,
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

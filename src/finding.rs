//! Findings: what a person must know or decide. Data, collected while the run goes on.
//!
//! Invariant: knows places and words only; no stage's types.

use crate::source::Place;
use schemars::JsonSchema;
use serde::{Deserialize, Serialize};

/// How much a finding weighs.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Serialize, Deserialize, JsonSchema)]
#[serde(rename_all = "lowercase")]
pub enum Severity {
    /// Worth knowing; nothing is wrong.
    Note,
    /// A quantity may be off or is missing.
    Warning,
    /// Something that was asked for could not be done.
    Error,
}

/// Something a person must know or decide.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize, JsonSchema)]
pub struct Finding {
    /// Permanent code; see [`Code`].
    pub code: Code,
    /// How much it weighs.
    pub severity: Severity,
    /// Place in an input: path, line or entity, id.
    pub r#where: String,
    /// GlobalId of the element, or the id of the row, that it is about; of several the first. Not there where it is about none.
    #[serde(skip_serializing_if = "Option::is_none", default)]
    pub id: Option<String>,
    /// What was found, what was expected, and how to mend it.
    pub message: String,
}

impl Finding {
    /// A note: worth knowing.
    pub fn note(code: Code, place: &Place, message: impl Into<String>) -> Self {
        Self::new(code, Severity::Note, place, message)
    }

    /// A warning: a quantity may be off or is missing.
    pub fn warning(code: Code, place: &Place, message: impl Into<String>) -> Self {
        Self::new(code, Severity::Warning, place, message)
    }

    /// An error that does not stop the run.
    pub fn error(code: Code, place: &Place, message: impl Into<String>) -> Self {
        Self::new(code, Severity::Error, place, message)
    }

    fn new(code: Code, severity: Severity, place: &Place, message: impl Into<String>) -> Self {
        Self { code, severity, r#where: place.to_string(), id: place.id.clone(), message: message.into() }
    }
}

/// Codes of the findings. A code is permanent: once released it keeps its name and meaning.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Serialize, Deserialize, JsonSchema)]
#[serde(rename_all = "kebab-case")]
#[non_exhaustive]
pub enum Code {
    // ---- building models (intake/ifc)
    /// The file breaks a rule of its format but can still be read whole.
    FileForm,
    /// The schema in the header is missing or does not fit the records.
    SchemaDoubt,
    /// A record cannot be used: a wrong count or type of arguments, or a bad number.
    RecordUnusable,
    /// A record refers to one that is not in the file.
    DanglingReference,
    /// Records refer to each other in a circle.
    CircularReference,
    /// Text holds an escape that cannot be decoded, or control characters.
    TextDamaged,
    /// Two elements share one GlobalId.
    DuplicateGlobalId,
    /// An element stands in two storeys, two hosts or two projects.
    DuplicateRelation,
    /// An element has no body, or one without extent.
    NoBody,
    /// A way of shaping a body is not measured by this version.
    BodyNotMeasured,
    /// A body made of faces is not closed.
    BodyOpen,
    /// A body has an outline that crosses itself or is otherwise degenerate.
    BodyDegenerate,
    /// A size is beyond what a building has.
    Implausible,
    /// A placement was replaced by a default since it cannot be used.
    PlacementDoubt,
    /// An opening takes nothing from its element, though the model says that it does.
    OpeningMissesElement,
    /// Openings take the whole of an element.
    OpeningTakesAll,
    /// An opening has no element that it could be in.
    OpeningWithoutElement,
    /// A notch open to the edge stands where the model has a door or window.
    NotchAtOpening,
    /// Layers do not add up to the body, or their offset or sense does not match it.
    LayersMismatch,
    /// More than one layer could be the cavity.
    LayerAmbiguous,
    /// The cavity layer has steel studs, which take far less room than timber.
    SteelStuds,
    /// The model says what is exterior by its space boundaries alone.
    ExposureFromBoundaries,
    /// What is exterior was told from the spaces on both sides.
    ExposureFromGeometry,
    /// An element bounds no heated room, as the outer wall of a garage does.
    OutsideEnvelope,
    /// A wall is said to be internal but parts a heated room from an unheated space.
    ExposureContradicted,
    /// The section changes across the cavity layer.
    SectionVaries,
    /// Members of the model stand inside an element, too few or too far apart to be its framing.
    MembersInside,
    /// Framing that the model gives has gaps that may be openings which it does not give, or a door or window stands in an
    /// element that is not cut for it.
    OpeningNotGiven,
    /// The file holds nothing of the classes that are read.
    NothingToMeasure,
    /// Elements of classes that are not measured.
    ClassNotMeasured,
    /// A quantity that the model states of an element differs from the one that is measured.
    QuantityDiffers,
    /// A chimney passes through a floor, ceiling or roof in which the model has no opening for it.
    ChimneyWithoutOpening,
    /// Two elements of the same kind, size and place: one of them is most likely a copy.
    SamePlace,
    /// Elements will be demolished by the model's own word; they are not counted.
    ToBeDemolished,
    /// A proxy is named like a wall, roof, floor or ceiling; a proxy is not measured.
    ProxyNotMeasured,
    // ---- measured sheets (intake/csv)
    /// A column has a heading that is not known; it is kept as a note.
    UnknownColumn,
    /// A row was left out because it has an error (`--keep-going`).
    RowLeftOut,
    /// A sheet is not in UTF-8 and was read as Windows-1252.
    EncodingGuessed,
    /// A row has something odd that was read as it stands.
    RowDoubt,
    // ---- job, framing and bays
    /// Surfaces whose framing is not known; not counted.
    FramingUnknown,
    /// Nothing, or little, was counted.
    LittleCounted,
    /// No information says whether surfaces are exterior.
    ExposureUnknown,
    /// The framing asked for does not fit the layer or the thickness.
    DepthMismatch,
    /// No corner posts or partition junctions are included.
    CornersNotIncluded,
    /// An opening leaves no room for the framing around it.
    OpeningCrowded,
    /// A gap between members is narrower than the filling tube.
    GapTooNarrow,
    /// Part of a surface stays empty because the sheet or the job file says so.
    DoNotFill,
    /// Existing bays are filled, and nothing says which of them must stay empty.
    BaysNotSurveyed,
    /// Existing bays are filled at a nominal or drawn depth that nobody measured.
    DepthNotMeasured,
    /// Fill that is there already, which stays or is taken out.
    ExistingFill,
    /// A way of filling that does not fit the surface.
    MethodDoubt,
    /// A layout rule could not be followed as written.
    LayoutDoubt,
    /// A rule of the job file or a `--frame` matched nothing.
    RuleUnused,
    /// What the job file says of surfaces does not fit one of them.
    RuleMisfit,
    /// Knob-and-tube wiring in a surface.
    OldWiring,
    /// A survey saw something that is to be looked out for.
    SurveyCaution,
    /// A roof slope is not counted, since nothing says how high its vent channel is.
    VentGapNotGiven,
    /// A vent channel is lower than the least that is named for one, or takes all of the depth.
    VentGapDoubt,
    /// A roof is filled to its deck without a vent channel.
    UnventedRoof,
    /// A flue is of no known kind; the widest clearance is kept.
    FlueNotNamed,
    /// Nothing, or too little, says how low the roof is at the eaves of an attic floor.
    EavesNotGiven,
    /// A part of an attic floor cannot reach the full thickness.
    ShallowAtEaves,
    /// Walls run past the structure of floors and are cut there, as platform framing stands.
    WallCutAtFloor,
    // ---- fill and order
    /// A depth close to the step in density.
    DepthNearStep,
    /// Nobody can tell what open-blown fill an attic takes.
    OpenFillUnknown,
    /// Fill in a closed cavity is below the density at which it was found not to settle.
    MaySettle,
    /// Fill in a closed cavity is below what the standard work specification asks.
    BelowWorkSpecification,
    /// Fill is denser than board or netting stands.
    DenseForFinish,
    /// Open-blown fill without a label's coverage table: a range, and no order.
    NoCoverageTable,
    /// A label's coverage table does not reach a surface.
    LabelNotReached,
    /// A surface lies between two printed rows of a label.
    LabelInterpolated,
    /// The fill has a smaller R than asked for.
    RNotReached,
    /// The framing in a label's coverage is not that of the surface.
    LabelFramingDiffers,
    /// Fill is heavier than the ceiling's board carries, or nobody says which board it is.
    BoardOverloaded,
    /// What stays in hopper and hose is more than the allowance.
    AllowanceTooSmall,
    /// A bag is lighter or heavier than bags of loose fill are.
    BagUnlikely,
    /// No bag weight is known; there is no order.
    BagUnknown,
    // ---- plans and logs (audit, closeout)
    /// A row of a plan fits no surface.
    ClaimWithoutSurface,
    /// Two rows of a plan claim the same of one surface.
    ClaimedTwice,
    /// A part of an input is of a kind that is not used.
    NotUsed,
    /// More was blown than was ordered.
    MoreThanOrdered,
    /// A line of a log has something odd that was read as it stands.
    LogDoubt,
    // ---- the program itself
    /// A balance does not close: a fault of the program.
    BalanceOpen,
}

//! The classes of records that the intake looks up by class.

/// A class that is indexed by the scan.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum Class {
    /// `IfcProject`.
    Project,
    /// `IfcWall`.
    Wall,
    /// `IfcWallStandardCase`.
    WallStandardCase,
    /// `IfcWallElementedCase`.
    WallElementedCase,
    /// `IfcSlab` and its special cases.
    Slab,
    /// `IfcRoof`.
    Roof,
    /// `IfcCovering`.
    Covering,
    /// `IfcCurtainWall`.
    CurtainWall,
    /// `IfcPlate` and its special cases.
    Plate,
    /// `IfcBuildingElementProxy`.
    Proxy,
    /// `IfcMember` and its special cases.
    Member,
    /// `IfcBeam` and its special cases.
    Beam,
    /// `IfcColumn` and its special cases.
    Column,
    /// `IfcChimney`.
    Chimney,
    /// `IfcOpeningElement`.
    OpeningElement,
    /// `IfcOpeningStandardCase`.
    OpeningStandardCase,
    /// `IfcSpace`.
    Space,
    /// `IfcRelSpaceBoundary` of any level.
    RelSpaceBoundary,
    /// `IfcRelVoidsElement`.
    RelVoidsElement,
    /// `IfcRelFillsElement`.
    RelFillsElement,
    /// `IfcRelAssociatesMaterial`.
    RelAssociatesMaterial,
    /// `IfcRelDefinesByType`.
    RelDefinesByType,
    /// `IfcRelDefinesByProperties`.
    RelDefinesByProperties,
    /// `IfcRelContainedInSpatialStructure`.
    RelContainedInSpatialStructure,
    /// `IfcRelAggregates`.
    RelAggregates,
    /// `IfcRelConnectsPathElements`.
    RelConnectsPathElements,
}

impl Class {
    /// Whether it is a piece of framing where it stands in an element.
    pub fn is_member(self) -> bool {
        matches!(self, Self::Member | Self::Beam | Self::Column | Self::Plate)
    }
}

/// Keywords as they stand in a file, with their classes.
const KEYWORDS: &[(&str, Class)] = &[
    ("IFCPROJECT", Class::Project),
    ("IFCWALL", Class::Wall),
    ("IFCWALLSTANDARDCASE", Class::WallStandardCase),
    ("IFCWALLELEMENTEDCASE", Class::WallElementedCase),
    ("IFCSLAB", Class::Slab),
    ("IFCSLABSTANDARDCASE", Class::Slab),
    ("IFCSLABELEMENTEDCASE", Class::Slab),
    ("IFCROOF", Class::Roof),
    ("IFCCOVERING", Class::Covering),
    ("IFCCURTAINWALL", Class::CurtainWall),
    ("IFCPLATE", Class::Plate),
    ("IFCPLATESTANDARDCASE", Class::Plate),
    ("IFCBUILDINGELEMENTPROXY", Class::Proxy),
    ("IFCMEMBER", Class::Member),
    ("IFCMEMBERSTANDARDCASE", Class::Member),
    ("IFCBEAM", Class::Beam),
    ("IFCBEAMSTANDARDCASE", Class::Beam),
    ("IFCCOLUMN", Class::Column),
    ("IFCCOLUMNSTANDARDCASE", Class::Column),
    ("IFCCHIMNEY", Class::Chimney),
    ("IFCOPENINGELEMENT", Class::OpeningElement),
    ("IFCOPENINGSTANDARDCASE", Class::OpeningStandardCase),
    ("IFCSPACE", Class::Space),
    ("IFCRELSPACEBOUNDARY", Class::RelSpaceBoundary),
    ("IFCRELSPACEBOUNDARY1STLEVEL", Class::RelSpaceBoundary),
    ("IFCRELSPACEBOUNDARY2NDLEVEL", Class::RelSpaceBoundary),
    ("IFCRELVOIDSELEMENT", Class::RelVoidsElement),
    ("IFCRELFILLSELEMENT", Class::RelFillsElement),
    ("IFCRELASSOCIATESMATERIAL", Class::RelAssociatesMaterial),
    ("IFCRELDEFINESBYTYPE", Class::RelDefinesByType),
    ("IFCRELDEFINESBYPROPERTIES", Class::RelDefinesByProperties),
    ("IFCRELCONTAINEDINSPATIALSTRUCTURE", Class::RelContainedInSpatialStructure),
    ("IFCRELAGGREGATES", Class::RelAggregates),
    ("IFCRELCONNECTSPATHELEMENTS", Class::RelConnectsPathElements),
];

/// The class of a keyword, in any case; `None` for one that is not indexed.
pub fn class_of(keyword: &[u8]) -> Option<Class> {
    let same =
        |(name, _): &&(&str, Class)| name.len() == keyword.len() && name.as_bytes().eq_ignore_ascii_case(keyword);
    KEYWORDS.iter().find(same).map(|(_, class)| *class)
}

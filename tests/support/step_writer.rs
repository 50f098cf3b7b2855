//! Writes small building models in the exchange structure of ISO 10303-21, schema IFC4 (ISO 16739-1).
//!
//! Written by hand and on its own, so that the reader is tested against something that it did not make. The same
//! building gives the same bytes every time: GlobalIds come from a hash of what they name.

pub use super::step_slabs::{SlabClass, SlabSpec, SlabTypeSpec};
use sha2::{Digest, Sha256};
use std::fmt::Write;

/// Unit that lengths are written in.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum LengthUnit {
    Metre,
    Millimetre,
    Inch,
    Foot,
}

impl LengthUnit {
    fn metres(self) -> f64 {
        match self {
            Self::Metre => 1.0,
            Self::Millimetre => 0.001,
            Self::Inch => 0.0254,
            Self::Foot => 0.3048,
        }
    }
}

/// A building to write.
pub struct BuildingSpec {
    pub name: String,
    pub unit: LengthUnit,
    pub types: Vec<WallTypeSpec>,
    pub slab_types: Vec<SlabTypeSpec>,
    pub storeys: Vec<StoreySpec>,
}

/// A type of wall: its layers from outside to inside.
pub struct WallTypeSpec {
    pub name: String,
    pub layers: Vec<(String, f64)>,
    /// Where the layers begin, across the wall, measured from its reference line in metres.
    pub offset_m: f64,
}

impl WallTypeSpec {
    pub fn thickness_m(&self) -> f64 {
        self.layers.iter().map(|(_, thickness_m)| thickness_m).sum()
    }
}

/// A storey, its walls and what lies in it.
pub struct StoreySpec {
    pub name: String,
    pub elevation_m: f64,
    pub walls: Vec<WallSpec>,
    pub slabs: Vec<SlabSpec>,
}

/// A wall: along its own x from left to right as seen from outside, its layers along y, up along z.
pub struct WallSpec {
    pub name: String,
    /// Index in `BuildingSpec::types`.
    pub wall_type: usize,
    pub is_external: Option<bool>,
    /// Left end of the reference line, in plan.
    pub origin_m: [f64; 2],
    /// Direction of x in plan, of length 1.
    pub direction: [f64; 2],
    pub length_m: f64,
    pub height_m: f64,
    pub top: Top,
    pub openings: Vec<OpeningSpec>,
}

/// Upper end of a wall.
#[derive(Clone, Debug, PartialEq)]
pub enum Top {
    /// Level, at the wall's height: a rectangle of the plan, extruded upwards.
    Level,
    /// A gable with its apex in the middle, at this height: its elevation, extruded through the wall.
    GableProfile { peak_m: f64 },
    /// The same gable, as a higher wall that two bounded half-spaces cut.
    GableClipped { peak_m: f64 },
    /// A top that rises to this height at the right end, as a wall that a half-space cuts.
    Raked { right_m: f64 },
    /// An elevation drawn by its corners, in place of length and height.
    Outline(Vec<[f64; 2]>),
}

/// What fills an opening.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Filling {
    Door,
    Window,
    Nothing,
}

/// An opening through the whole wall.
pub struct OpeningSpec {
    pub name: String,
    pub filling: Filling,
    pub left_m: f64,
    pub sill_m: f64,
    pub width_m: f64,
    pub height_m: f64,
}

/// The building as the text of a file.
pub fn write_building(building: &BuildingSpec) -> String {
    let mut writer = Writer::new(building);
    let frame = writer.frame(building);
    let mut types: Vec<Layered> = building.types.iter().map(|spec| writer.wall_type(spec)).collect();
    let wall_types = types.len();
    types.extend(building.slab_types.iter().map(|spec| writer.slab_type(spec)));
    let storeys: Vec<Id> = building
        .storeys
        .iter()
        .map(|spec| {
            let (walls, slabs) = types.split_at_mut(wall_types);
            writer.storey(spec, building, (walls, slabs), &frame)
        })
        .collect();
    writer.relate_types(&types);
    writer.relate("storeys of the building", "IFCRELAGGREGATES", &format!("{},{}", frame.building, list(&storeys)));
    writer.finish(&building.name)
}

/// An instance name.
pub(super) type Id = String;

/// What every element refers to.
pub(super) struct Frame {
    building: Id,
    placement: Id,
    body: Id,
}

/// A type, its layer usage, and its elements.
pub(super) struct Layered {
    pub(super) element_type: Id,
    pub(super) usage: Id,
    pub(super) elements: Vec<Id>,
}

pub(super) struct Writer {
    unit: LengthUnit,
    seed: String,
    text: String,
    next: u64,
}

impl Writer {
    fn new(building: &BuildingSpec) -> Self {
        Self { unit: building.unit, seed: building.name.clone(), text: String::new(), next: 1 }
    }

    pub(super) fn add(&mut self, record: &str) -> Id {
        let id = format!("#{}", self.next);
        self.next += 1;
        writeln!(self.text, "{id}={record};").expect("text can be written");
        id
    }

    pub(super) fn rooted(&mut self, class: &str, what: &str, rest: &str) -> Id {
        let global_id = global_id(&format!("{}/{class}/{what}", self.seed));
        self.add(&format!("{class}('{global_id}',$,{rest})"))
    }

    pub(super) fn relate(&mut self, what: &str, class: &str, rest: &str) -> Id {
        self.rooted(class, what, &format!("$,$,{rest}"))
    }

    pub(super) fn length(&self, metres: f64) -> String {
        real(metres / self.unit.metres())
    }

    fn point(&mut self, metres: &[f64]) -> Id {
        let numbers: Vec<String> = metres.iter().map(|value| self.length(*value)).collect();
        self.add(&format!("IFCCARTESIANPOINT(({}))", numbers.join(",")))
    }

    fn direction(&mut self, ratios: &[f64]) -> Id {
        let numbers: Vec<String> = ratios.iter().map(|value| real(*value)).collect();
        self.add(&format!("IFCDIRECTION(({}))", numbers.join(",")))
    }

    pub(super) fn axes(&mut self, origin_m: [f64; 3], axis: [f64; 3], x: [f64; 3]) -> Id {
        let (origin, axis, x) = (self.point(&origin_m), self.direction(&axis), self.direction(&x));
        self.add(&format!("IFCAXIS2PLACEMENT3D({origin},{axis},{x})"))
    }

    fn placement(&mut self, parent: &str, origin_m: [f64; 3], x: [f64; 3]) -> Id {
        let axes = self.axes(origin_m, UP, x);
        self.add(&format!("IFCLOCALPLACEMENT({parent},{axes})"))
    }

    fn units(&mut self) -> Id {
        let metre = |prefix: &str| format!("IFCSIUNIT(*,.LENGTHUNIT.,{prefix},.METRE.)");
        let length = match self.unit {
            LengthUnit::Metre => self.add(&metre("$")),
            LengthUnit::Millimetre => self.add(&metre(".MILLI.")),
            LengthUnit::Inch => self.conversion_unit("INCH"),
            LengthUnit::Foot => self.conversion_unit("FOOT"),
        };
        let area = self.add("IFCSIUNIT(*,.AREAUNIT.,$,.SQUARE_METRE.)");
        let volume = self.add("IFCSIUNIT(*,.VOLUMEUNIT.,$,.CUBIC_METRE.)");
        let angle = self.add("IFCSIUNIT(*,.PLANEANGLEUNIT.,$,.RADIAN.)");
        self.add(&format!("IFCUNITASSIGNMENT(({length},{area},{volume},{angle}))"))
    }

    fn conversion_unit(&mut self, name: &str) -> Id {
        let metre = self.add("IFCSIUNIT(*,.LENGTHUNIT.,$,.METRE.)");
        let dimensions = self.add("IFCDIMENSIONALEXPONENTS(1,0,0,0,0,0,0)");
        let factor = real(self.unit.metres());
        let measure = self.add(&format!("IFCMEASUREWITHUNIT(IFCLENGTHMEASURE({factor}),{metre})"));
        self.add(&format!("IFCCONVERSIONBASEDUNIT({dimensions},.LENGTHUNIT.,'{name}',{measure})"))
    }

    /// Project, site and building, with their units and contexts.
    fn frame(&mut self, building: &BuildingSpec) -> Frame {
        let units = self.units();
        let world = self.axes([0.0; 3], UP, RIGHT);
        let context = self.add(&format!("IFCGEOMETRICREPRESENTATIONCONTEXT($,'Model',3,1.E-06,{world},$)"));
        let body = self
            .add(&format!("IFCGEOMETRICREPRESENTATIONSUBCONTEXT('Body','Model',*,*,*,*,{context},$,.MODEL_VIEW.,$)"));
        let name = &building.name;
        let project = self.rooted("IFCPROJECT", "project", &format!("'{name}',$,$,$,$,({context}),{units}"));
        let placement = self.placement("$", [0.0; 3], RIGHT);
        let site = self.rooted("IFCSITE", "site", &format!("'Site',$,$,{placement},$,$,.ELEMENT.,$,$,$,$,$"));
        let placement = self.placement(&placement, [0.0; 3], RIGHT);
        let house = self.rooted("IFCBUILDING", "building", &format!("'{name}',$,$,{placement},$,$,.ELEMENT.,$,$,$"));
        self.relate("site of the project", "IFCRELAGGREGATES", &format!("{project},({site})"));
        self.relate("building on the site", "IFCRELAGGREGATES", &format!("{site},({house})"));
        Frame { building: house, placement, body }
    }

    fn wall_type(&mut self, spec: &WallTypeSpec) -> Layered {
        let across = format!(".AXIS2.,.POSITIVE.,{}", self.length(spec.offset_m));
        self.layered(("IFCWALLTYPE", "STANDARD"), &spec.name, &spec.layers, &across)
    }

    /// A type with its layers, which lie `across` its elements.
    pub(super) fn layered(
        &mut self,
        (class, predefined): (&str, &str),
        type_name: &str,
        named: &[(String, f64)],
        across: &str,
    ) -> Layered {
        let mut layers = Vec::new();
        for (name, thickness_m) in named {
            let material = self.add(&format!("IFCMATERIAL('{name}',$,$)"));
            let thickness = self.length(*thickness_m);
            layers.push(self.add(&format!("IFCMATERIALLAYER({material},{thickness},.F.,'{name}',$,$,$)")));
        }
        let set = self.add(&format!("IFCMATERIALLAYERSET({},'{type_name}',$)", list(&layers)));
        let usage = self.add(&format!("IFCMATERIALLAYERSETUSAGE({set},{across},$)"));
        let element_type = self.rooted(class, type_name, &format!("'{type_name}',$,$,$,$,$,$,.{predefined}."));
        let what = format!("material of {type_name}");
        self.relate(&what, "IFCRELASSOCIATESMATERIAL", &format!("({element_type}),{set}"));
        Layered { element_type, usage, elements: Vec::new() }
    }

    /// A type has one relation for all its elements, as the schema asks.
    fn relate_types(&mut self, types: &[Layered]) {
        for Layered { element_type, usage, elements } in types.iter().filter(|layered| !layered.elements.is_empty()) {
            self.relate(element_type, "IFCRELDEFINESBYTYPE", &format!("{},{element_type}", list(elements)));
            self.relate(usage, "IFCRELASSOCIATESMATERIAL", &format!("{},{usage}", list(elements)));
        }
    }

    /// A storey.
    fn storey(
        &mut self,
        spec: &StoreySpec,
        building: &BuildingSpec,
        (wall_types, slab_types): (&mut [Layered], &mut [Layered]),
        frame: &Frame,
    ) -> Id {
        let placement = self.placement(&frame.placement, [0.0, 0.0, spec.elevation_m], RIGHT);
        let elevation = self.length(spec.elevation_m);
        let rest = format!("'{}',$,$,{placement},$,$,.ELEMENT.,{elevation}", spec.name);
        let storey = self.rooted("IFCBUILDINGSTOREY", &spec.name, &rest);
        let mut elements = Vec::new();
        for wall in &spec.walls {
            let id = self.wall(wall, &building.types[wall.wall_type], &placement, frame, &mut elements);
            wall_types[wall.wall_type].elements.push(id);
        }
        for slab in &spec.slabs {
            let id = self.slab(slab, &building.slab_types[slab.slab_type], &placement, frame, &mut elements);
            slab_types[slab.slab_type].elements.push(id);
        }
        if !elements.is_empty() {
            let what = format!("elements of {}", spec.name);
            self.relate(&what, "IFCRELCONTAINEDINSPATIALSTRUCTURE", &format!("{},{storey}", list(&elements)));
        }
        storey
    }

    fn wall(
        &mut self,
        wall: &WallSpec,
        wall_type: &WallTypeSpec,
        storey: &str,
        frame: &Frame,
        elements: &mut Vec<Id>,
    ) -> Id {
        let [x, y] = wall.origin_m;
        let placement = self.placement(storey, [x, y, 0.0], [wall.direction[0], wall.direction[1], 0.0]);
        let (kind, item) = self.wall_body(wall, wall_type.offset_m, wall_type.thickness_m());
        let shape = self.shape(frame, kind, &item);
        let rest = format!("'{0}',$,$,{placement},{shape},'{0}',.STANDARD.", wall.name);
        let id = self.rooted("IFCWALL", &wall.name, &rest);
        elements.push(id.clone());
        if let Some(is_external) = wall.is_external {
            self.exposure("Pset_WallCommon", &wall.name, &id, is_external);
        }
        for opening in &wall.openings {
            self.opening(opening, &id, wall_type, &placement, frame, elements);
        }
        id
    }

    pub(super) fn exposure(&mut self, set: &str, what: &str, id: &str, is_external: bool) {
        let flag = if is_external { ".T." } else { ".F." };
        let property = self.add(&format!("IFCPROPERTYSINGLEVALUE('IsExternal',$,IFCBOOLEAN({flag}),$)"));
        let set = self.rooted("IFCPROPERTYSET", what, &format!("'{set}',$,({property})"));
        self.relate(what, "IFCRELDEFINESBYPROPERTIES", &format!("({id}),{set}"));
    }

    pub(super) fn shape(&mut self, frame: &Frame, kind: &str, item: &str) -> Id {
        let body = &frame.body;
        let representation = self.add(&format!("IFCSHAPEREPRESENTATION({body},'Body','{kind}',({item}))"));
        self.add(&format!("IFCPRODUCTDEFINITIONSHAPE($,$,({representation}))"))
    }

    fn wall_body(&mut self, wall: &WallSpec, from_m: f64, thickness_m: f64) -> (&'static str, Id) {
        let (length_m, height_m) = (wall.length_m, wall.height_m);
        match &wall.top {
            Top::Level => ("SweptSolid", self.block([0.0, from_m, 0.0], [length_m, thickness_m, height_m])),
            Top::GableProfile { peak_m } => {
                let outline =
                    [[0.0, 0.0], [length_m, 0.0], [length_m, height_m], [length_m / 2.0, *peak_m], [0.0, height_m]];
                ("SweptSolid", self.elevation(&outline, from_m + thickness_m, thickness_m))
            }
            Top::GableClipped { peak_m } => {
                let block = self.block([0.0, from_m, 0.0], [length_m, thickness_m, peak_m + 0.5]);
                let left = self.cut(&block, [0.0, height_m], [length_m / 2.0, *peak_m], true);
                ("Clipping", self.cut(&left, [length_m / 2.0, *peak_m], [length_m, height_m], true))
            }
            Top::Raked { right_m } => {
                let block = self.block([0.0, from_m, 0.0], [length_m, thickness_m, height_m.max(*right_m) + 0.5]);
                ("Clipping", self.cut(&block, [0.0, height_m], [length_m, *right_m], false))
            }
            Top::Outline(corners) => ("SweptSolid", self.elevation(corners, from_m + thickness_m, thickness_m)),
        }
    }

    /// A box with its lowest corner at `corner_m`: a rectangle of the plan, extruded upwards.
    pub(super) fn block(&mut self, corner_m: [f64; 3], size_m: [f64; 3]) -> Id {
        let middle = self.point(&[size_m[0] / 2.0, size_m[1] / 2.0]);
        let position = self.add(&format!("IFCAXIS2PLACEMENT2D({middle},$)"));
        let (x, y) = (self.length(size_m[0]), self.length(size_m[1]));
        let profile = self.add(&format!("IFCRECTANGLEPROFILEDEF(.AREA.,$,{position},{x},{y})"));
        let axes = self.axes(corner_m, UP, RIGHT);
        self.extrude(&profile, &axes, size_m[2])
    }

    /// An elevation, drawn on the inner face and extruded to the outer one.
    fn elevation(&mut self, outline_m: &[[f64; 2]], inner_m: f64, thickness_m: f64) -> Id {
        let curve = self.polyline(outline_m);
        let profile = self.add(&format!("IFCARBITRARYCLOSEDPROFILEDEF(.AREA.,$,{curve})"));
        let axes = self.axes([0.0, inner_m, 0.0], [0.0, -1.0, 0.0], RIGHT);
        self.extrude(&profile, &axes, thickness_m)
    }

    pub(super) fn polyline(&mut self, points_m: &[[f64; 2]]) -> Id {
        let mut points: Vec<Id> = points_m.iter().map(|point| self.point(point)).collect();
        points.extend(points.first().cloned());
        self.add(&format!("IFCPOLYLINE({})", list(&points)))
    }

    pub(super) fn extrude(&mut self, profile: &str, axes: &str, depth_m: f64) -> Id {
        let (direction, depth) = (self.direction(&UP), self.length(depth_m));
        self.add(&format!("IFCEXTRUDEDAREASOLID({profile},{axes},{direction},{depth})"))
    }

    /// The body less what lies above the slope from one point of the elevation to another.
    ///
    /// A bounded cut is made only between those two points, in plan; the other runs on without end.
    fn cut(&mut self, body: &str, from: [f64; 2], to: [f64; 2], bounded: bool) -> Id {
        let (run, rise) = (to[0] - from[0], to[1] - from[1]);
        let length = run.hypot(rise);
        let along = [run / length, 0.0, rise / length];
        let upward = [-rise / length, 0.0, run / length];
        let axes = self.axes([from[0], 0.0, from[1]], upward, along);
        let plane = self.add(&format!("IFCPLANE({axes})"));
        let space = if bounded {
            let beyond = 1.0;
            let outline = [[from[0], -beyond], [to[0], -beyond], [to[0], beyond], [from[0], beyond]];
            let curve = self.polyline(&outline);
            let position = self.axes([0.0; 3], UP, RIGHT);
            self.add(&format!("IFCPOLYGONALBOUNDEDHALFSPACE({plane},.F.,{position},{curve})"))
        } else {
            self.add(&format!("IFCHALFSPACESOLID({plane},.F.)"))
        };
        self.add(&format!("IFCBOOLEANCLIPPINGRESULT(.DIFFERENCE.,{body},{space})"))
    }

    fn opening(
        &mut self,
        opening: &OpeningSpec,
        wall: &str,
        wall_type: &WallTypeSpec,
        placement: &str,
        frame: &Frame,
        elements: &mut Vec<Id>,
    ) {
        const BEYOND_M: f64 = 0.1;
        let name = &opening.name;
        let place = self.placement(placement, [opening.left_m, 0.0, opening.sill_m], RIGHT);
        let through_m = wall_type.thickness_m() + 2.0 * BEYOND_M;
        let corner_m = [0.0, wall_type.offset_m - BEYOND_M, 0.0];
        let item = self.block(corner_m, [opening.width_m, through_m, opening.height_m]);
        let shape = self.shape(frame, "SweptSolid", &item);
        let hole = self.rooted("IFCOPENINGELEMENT", name, &format!("'{name}',$,$,{place},{shape},$,.OPENING."));
        self.relate(name, "IFCRELVOIDSELEMENT", &format!("{wall},{hole}"));
        let size = format!("{},{}", self.length(opening.height_m), self.length(opening.width_m));
        let inner = self.placement(&place, [0.0; 3], RIGHT);
        let filling = match opening.filling {
            Filling::Door => {
                let rest = format!("'{name}',$,$,{inner},$,$,{size},.DOOR.,.SINGLE_SWING_LEFT.,$");
                self.rooted("IFCDOOR", name, &rest)
            }
            Filling::Window => {
                let rest = format!("'{name}',$,$,{inner},$,$,{size},.WINDOW.,.SINGLE_PANEL.,$");
                self.rooted("IFCWINDOW", name, &rest)
            }
            Filling::Nothing => return,
        };
        self.relate(name, "IFCRELFILLSELEMENT", &format!("{hole},{filling}"));
        elements.push(filling);
    }

    fn finish(self, name: &str) -> String {
        format!(
            "ISO-10303-21;\nHEADER;\nFILE_DESCRIPTION(('ViewDefinition [DesignTransferView]'),'2;1');\n\
             FILE_NAME('{name}','2026-01-01T00:00:00',(''),(''),'','','');\nFILE_SCHEMA(('IFC4'));\nENDSEC;\nDATA;\n\
             {}ENDSEC;\nEND-ISO-10303-21;\n",
            self.text
        )
    }
}

pub(super) const UP: [f64; 3] = [0.0, 0.0, 1.0];
const RIGHT: [f64; 3] = [1.0, 0.0, 0.0];

pub(super) fn list(ids: &[Id]) -> String {
    format!("({})", ids.join(","))
}

/// A real of ISO 10303-21: digits with a point, at most twelve decimals.
fn real(value: f64) -> String {
    let text = format!("{value:.12}");
    let text = text.trim_end_matches('0');
    if text == "-0." { "0.".to_owned() } else { text.to_owned() }
}

/// 22 characters for the 128 bits of a hash, in the digits that IFC uses for a GlobalId.
fn global_id(what: &str) -> String {
    const DIGITS: &[u8; 64] = b"0123456789ABCDEFGHIJKLMNOPQRSTUVWXYZabcdefghijklmnopqrstuvwxyz_$";
    let hash = Sha256::digest(what.as_bytes());
    let mut bits = hash.iter().take(16).fold(0_u128, |bits, byte| (bits << 8) | u128::from(*byte));
    let mut digits = [0_u8; 22];
    for digit in digits.iter_mut().rev() {
        *digit = DIGITS[(bits & 63) as usize];
        bits >>= 6;
    }
    digits.iter().map(|digit| char::from(*digit)).collect()
}

#[test]
fn a_real_has_a_point_and_no_needless_digits() {
    assert_eq!(real(373.0), "373.");
    assert_eq!(real(9.4742 / 0.0254), "373.");
    assert_eq!(real(-0.0), "0.");
    assert_eq!(real(0.25), "0.25");
}

//! Walls of any make as the text of a file in the exchange structure of ISO 10303-21, schema IFC4 (ISO 16739-1).
//!
//! A wall is described as it stands in the end; the writer undoes scale, mirror and placement, so that the same wall
//! can be written in many ways. What it measures is worked out elsewhere, from the description alone.

use nalgebra::{Isometry3, Point3, Translation3, UnitQuaternion, Vector3};
use std::fmt::Write;

/// Length unit of a file.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Unit {
    Metre,
    Millimetre,
    Centimetre,
    Inch,
    Foot,
    /// A yard that is given in millimetres: a conversion that rests on a prefixed unit.
    YardOfMillimetres,
}

pub const UNITS: [Unit; 6] =
    [Unit::Metre, Unit::Millimetre, Unit::Centimetre, Unit::Inch, Unit::Foot, Unit::YardOfMillimetres];

impl Unit {
    /// International yard and pound agreement of 1959: 1 ft = 0.3048 m.
    fn metres(self) -> f64 {
        match self {
            Self::Metre => 1.0,
            Self::Millimetre => 0.001,
            Self::Centimetre => 0.01,
            Self::Inch => 0.0254,
            Self::Foot => 0.3048,
            Self::YardOfMillimetres => 0.9144,
        }
    }
}

/// Turned about the vertical, then moved.
#[derive(Clone, Copy, Debug, Default)]
pub struct Pose {
    pub turn_rad: f64,
    pub at_m: [f64; 3],
}

impl Pose {
    fn frame(self) -> Isometry3<f64> {
        let turn = UnitQuaternion::from_axis_angle(&Vector3::z_axis(), self.turn_rad);
        Isometry3::from_parts(Translation3::from(Vector3::from(self.at_m)), turn)
    }
}

#[derive(Clone, Debug)]
pub struct Model {
    pub unit: Unit,
    pub site: Pose,
    pub storey: Pose,
    pub walls: Vec<Wall>,
}

/// A wall: x along it, y through it, z up; its lower left corner at x = 0, z = 0.
#[derive(Clone, Debug)]
pub struct Wall {
    pub pose: Pose,
    pub shape: Shape,
    pub cuts: Vec<Cut>,
    /// Where the body begins along y.
    pub from_m: f64,
    /// Sheathing, stud and board, in the order of y.
    pub layers_m: [f64; 3],
    pub layering: Layering,
    pub map: Option<Map>,
    pub openings: Vec<Opening>,
}

#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Layering {
    None,
    Positive,
    Negative,
}

#[derive(Clone, Debug)]
pub enum Shape {
    /// Extruded up from the plan; `mitres_m` is how much each end loses over the thickness, `lean_m` how far the top
    /// lies beyond the foot.
    Footprint { length_m: f64, height_m: f64, mitres_m: [f64; 2], lean_m: f64 },
    /// An elevation in x and z, extruded through the wall.
    Elevation { outline_m: Vec<[f64; 2]>, way: Way },
}

/// How an elevation is drawn and extruded.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Way {
    /// Seen against y, from the far face to the near one.
    Near,
    /// Seen along y, with its x reversed, from the near face to the far one.
    Far,
    /// Seen against y, drawn on the near face, extruded backwards.
    Backwards,
}

/// What is taken from the body, in its elevation.
#[derive(Clone, Copy, Debug)]
pub enum Cut {
    /// All above a slope; within the two ends only where it is bounded. `flip` chooses the agreement flag.
    Above { ends_m: [[f64; 2]; 2], bounded: bool, flip: bool },
    /// A rectangle, through the whole wall.
    Hole { low_m: [f64; 2], high_m: [f64; 2] },
}

/// The body as a mapped item.
#[derive(Clone, Copy, Debug)]
pub struct Map {
    pub mirror: bool,
    pub scales: [f64; 3],
    pub shift_m: [f64; 3],
}

#[derive(Clone, Debug)]
pub struct Opening {
    pub form: Form,
    pub low_m: [f64; 2],
    pub size_m: [f64; 2],
    pub reach: Reach,
    pub parent: Parent,
    pub turn_rad: f64,
}

#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Form {
    /// A rectangle of the elevation.
    Rectangle,
    /// The same, extruded up from the plan.
    Upright,
    /// A corner-shaped hexagon that leaves out the upper right quarter.
    Corner,
    /// A circle as wide as the box.
    Circle,
}

/// How deep an opening goes.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Reach {
    Through,
    /// From the near face, short of the measuring plane or beyond it.
    Near {
        meets: bool,
    },
    /// From the far face.
    Far {
        meets: bool,
    },
}

/// What an opening's placement is relative to.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Parent {
    Wall,
    Storey,
    Nothing,
}

impl Wall {
    pub fn thickness_m(&self) -> f64 {
        self.layers_m.iter().sum()
    }

    /// Where along y the wall is measured: in the middle of the stud layer, or of the whole.
    pub fn plane_m(&self) -> f64 {
        match self.layering {
            Layering::None => self.from_m + self.thickness_m() / 2.0,
            Layering::Positive | Layering::Negative => self.from_m + self.layers_m[0] + self.layers_m[1] / 2.0,
        }
    }

    /// Range along y that an opening takes.
    fn reach_m(&self, reach: Reach) -> [f64; 2] {
        let (low, high, plane) = (self.from_m, self.from_m + self.thickness_m(), self.plane_m());
        let (outside, short) = (0.1, 0.6);
        match reach {
            Reach::Through => [low - outside, high + outside],
            Reach::Near { meets: true } => [low - outside, plane + short * (high - plane)],
            Reach::Near { meets: false } => [low - outside, low + short * (plane - low)],
            Reach::Far { meets: true } => [plane - short * (plane - low), high + outside],
            Reach::Far { meets: false } => [high - short * (high - plane), high + outside],
        }
    }
}

impl Opening {
    /// Its outline, with the lower left corner of its box at the origin; a circle has none.
    pub fn outline_m(&self) -> Option<Vec<[f64; 2]>> {
        let [w, h] = self.size_m;
        match self.form {
            Form::Rectangle | Form::Upright => Some(vec![[0.0, 0.0], [w, 0.0], [w, h], [0.0, h]]),
            Form::Corner => Some(vec![[0.0, 0.0], [w, 0.0], [w, h / 2.0], [w / 2.0, h / 2.0], [w / 2.0, h], [0.0, h]]),
            Form::Circle => None,
        }
    }
}

/// The records of the data section, each with its instance name.
pub fn records(model: &Model) -> Vec<String> {
    let mut writer = Writer { unit: model.unit, records: Vec::new() };
    let frame = writer.frame(model);
    for (index, wall) in model.walls.iter().enumerate() {
        writer.wall(wall, index, model, &frame);
    }
    writer.records
}

/// A file that holds these records.
pub fn file_text(records: &[String]) -> String {
    let data = records.iter().fold(String::new(), |mut text, record| {
        writeln!(text, "{record}").expect("text can be written");
        text
    });
    format!(
        "ISO-10303-21;\nHEADER;\nFILE_DESCRIPTION((''),'2;1');\nFILE_NAME('','2026-01-01T00:00:00',(''),(''),'','','');\n\
         FILE_SCHEMA(('IFC4'));\nENDSEC;\nDATA;\n{data}ENDSEC;\nEND-ISO-10303-21;\n"
    )
}

type Id = String;

struct Frame {
    storey: Id,
    storey_placement: Id,
    context: Id,
}

struct Writer {
    unit: Unit,
    records: Vec<String>,
}

impl Writer {
    fn add(&mut self, record: &str) -> Id {
        let id = format!("#{}", self.records.len() + 1);
        self.records.push(format!("{id}={record};"));
        id
    }

    /// A record whose first attribute is a GlobalId: here the instance name, filled up to 22 digits.
    fn rooted(&mut self, class: &str, rest: &str) -> Id {
        let global_id = format!("0{:021}", self.records.len() + 1);
        self.add(&format!("{class}('{global_id}',$,{rest})"))
    }

    fn length(&self, metres: f64) -> String {
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

    fn axes(&mut self, frame: &Isometry3<f64>) -> Id {
        let origin = self.point(frame.translation.vector.as_slice());
        let z = self.direction((frame.rotation * Vector3::z()).as_slice());
        let x = self.direction((frame.rotation * Vector3::x()).as_slice());
        self.add(&format!("IFCAXIS2PLACEMENT3D({origin},{z},{x})"))
    }

    fn placement(&mut self, parent: &str, frame: &Isometry3<f64>) -> Id {
        let axes = self.axes(frame);
        self.add(&format!("IFCLOCALPLACEMENT({parent},{axes})"))
    }

    fn units(&mut self) -> Id {
        let si = |prefix: &str| format!("IFCSIUNIT(*,.LENGTHUNIT.,{prefix},.METRE.)");
        let length = match self.unit {
            Unit::Metre => self.add(&si("$")),
            Unit::Millimetre => self.add(&si(".MILLI.")),
            Unit::Centimetre => self.add(&si(".CENTI.")),
            Unit::Inch => self.conversion("INCH", 0.0254, &si("$")),
            Unit::Foot => self.conversion("FOOT", 0.3048, &si("$")),
            Unit::YardOfMillimetres => self.conversion("YARD", 914.4, &si(".MILLI.")),
        };
        self.add(&format!("IFCUNITASSIGNMENT(({length}))"))
    }

    fn conversion(&mut self, name: &str, factor: f64, base: &str) -> Id {
        let base = self.add(base);
        let dimensions = self.add("IFCDIMENSIONALEXPONENTS(1,0,0,0,0,0,0)");
        let measure = self.add(&format!("IFCMEASUREWITHUNIT(IFCLENGTHMEASURE({}),{base})", real(factor)));
        self.add(&format!("IFCCONVERSIONBASEDUNIT({dimensions},.LENGTHUNIT.,'{name}',{measure})"))
    }

    fn frame(&mut self, model: &Model) -> Frame {
        let units = self.units();
        let world = self.axes(&Isometry3::identity());
        let context = self.add(&format!("IFCGEOMETRICREPRESENTATIONCONTEXT($,'Model',3,1.E-06,{world},$)"));
        let project = self.rooted("IFCPROJECT", &format!("'P',$,$,$,$,({context}),{units}"));
        let site_placement = self.placement("$", &model.site.frame());
        let site = self.rooted("IFCSITE", &format!("'S',$,$,{site_placement},$,$,.ELEMENT.,$,$,$,$,$"));
        let storey_placement = self.placement(&site_placement, &model.storey.frame());
        let storey = self.rooted("IFCBUILDINGSTOREY", &format!("'G',$,$,{storey_placement},$,$,.ELEMENT.,$"));
        self.rooted("IFCRELAGGREGATES", &format!("$,$,{project},({site})"));
        self.rooted("IFCRELAGGREGATES", &format!("$,$,{site},({storey})"));
        Frame { storey, storey_placement, context }
    }

    fn wall(&mut self, wall: &Wall, index: usize, model: &Model, frame: &Frame) {
        let placement = self.placement(&frame.storey_placement, &wall.pose.frame());
        let item = self.body(wall, frame);
        let shape = self.shape(frame, &item);
        let id = self.rooted("IFCWALL", &format!("'{index}',$,$,{placement},{shape},$,.STANDARD."));
        self.rooted("IFCRELCONTAINEDINSPATIALSTRUCTURE", &format!("$,$,({id}),{}", frame.storey));
        self.layers(wall, &id);
        for opening in &wall.openings {
            self.opening(opening, wall, (&id, &placement), model, frame);
        }
    }

    fn layers(&mut self, wall: &Wall, id: &str) {
        let (sense, offset_m) = match wall.layering {
            Layering::None => return,
            Layering::Positive => ("POSITIVE", wall.from_m),
            Layering::Negative => ("NEGATIVE", wall.from_m + wall.thickness_m()),
        };
        let mut layers: Vec<Id> = Vec::new();
        for (name, thickness_m) in ["Sheathing", "Timber stud", "Gypsum board"].iter().zip(wall.layers_m) {
            let material = self.add(&format!("IFCMATERIAL('{name}',$,$)"));
            let thickness = self.length(thickness_m);
            layers.push(self.add(&format!("IFCMATERIALLAYER({material},{thickness},$,$,$,$,$)")));
        }
        if wall.layering == Layering::Negative {
            layers.reverse();
        }
        let set = self.add(&format!("IFCMATERIALLAYERSET(({}),$,$)", layers.join(",")));
        let offset = self.length(offset_m);
        let usage = self.add(&format!("IFCMATERIALLAYERSETUSAGE({set},.AXIS2.,.{sense}.,{offset},$)"));
        self.rooted("IFCRELASSOCIATESMATERIAL", &format!("$,$,({id}),{usage}"));
    }

    fn shape(&mut self, frame: &Frame, item: &str) -> Id {
        let context = &frame.context;
        let representation = self.add(&format!("IFCSHAPEREPRESENTATION({context},'Body','Any',({item}))"));
        self.add(&format!("IFCPRODUCTDEFINITIONSHAPE($,$,({representation}))"))
    }

    fn body(&mut self, wall: &Wall, frame: &Frame) -> Id {
        let source = Source::of(wall);
        let mut item = match &wall.shape {
            Shape::Footprint { length_m, height_m, mitres_m, lean_m } => {
                self.footprint(&source, [*length_m, *height_m, *lean_m], *mitres_m)
            }
            Shape::Elevation { outline_m, way } => self.elevation(&source, outline_m, *way),
        };
        for cut in &wall.cuts {
            let space = match cut {
                Cut::Above { ends_m, bounded, flip } => self.above(&source, *ends_m, *bounded, *flip),
                Cut::Hole { low_m, high_m } => self.hole(&source, *low_m, *high_m),
            };
            item = self.add(&format!("IFCBOOLEANCLIPPINGRESULT(.DIFFERENCE.,{item},{space})"));
        }
        match &wall.map {
            Some(map) => self.mapped(map, &item, frame),
            None => item,
        }
    }

    fn footprint(&mut self, source: &Source, [length, height, lean]: [f64; 3], mitres: [f64; 2]) -> Id {
        let [near, far] = source.sides_m;
        let foot = source.point([0.0, near, 0.0]).z;
        let profile = if mitres == [0.0, 0.0] {
            let (a, b) = (source.point([0.0, near, 0.0]), source.point([length, far, 0.0]));
            self.rectangle([(a.x + b.x) / 2.0, (a.y + b.y) / 2.0], [(b.x - a.x).abs(), b.y - a.y])
        } else {
            let plan = [[0.0, near], [length, near], [length - mitres[1], far], [mitres[0], far]];
            let plan = plan.map(|[x, y]| source.point([x, y, 0.0])).map(|point| [point.x, point.y]);
            self.closed_profile(&plan)
        };
        let sweep = source.point([lean, near, height]) - source.point([0.0, near, 0.0]);
        self.extrude(&profile, &Isometry3::translation(0.0, 0.0, foot), sweep)
    }

    fn elevation(&mut self, source: &Source, outline: &[[f64; 2]], way: Way) -> Id {
        let [near, far] = source.sides_m.map(|y| source.point([0.0, y, 0.0]).y);
        let points: Vec<Point3<f64>> = outline.iter().map(|[x, z]| source.point([*x, 0.0, *z])).collect();
        let (sign, at, deep) = match way {
            Way::Near => (1.0, far, far - near),
            Way::Far => (-1.0, near, far - near),
            Way::Backwards => (1.0, near, near - far),
        };
        let drawn: Vec<[f64; 2]> = points.iter().map(|point| [sign * point.x, point.z]).collect();
        let profile = self.closed_profile(&drawn);
        self.extrude(&profile, &upright(sign, [0.0, at, 0.0]), Vector3::new(0.0, 0.0, deep))
    }

    fn rectangle(&mut self, middle: [f64; 2], size: [f64; 2]) -> Id {
        let middle = self.point(&middle);
        let position = self.add(&format!("IFCAXIS2PLACEMENT2D({middle},$)"));
        let [x, y] = size.map(|side| self.length(side));
        self.add(&format!("IFCRECTANGLEPROFILEDEF(.AREA.,$,{position},{x},{y})"))
    }

    fn polyline(&mut self, points: &[[f64; 2]]) -> Id {
        let mut ids: Vec<Id> = points.iter().map(|point| self.point(point)).collect();
        ids.extend(ids.first().cloned());
        self.add(&format!("IFCPOLYLINE(({}))", ids.join(",")))
    }

    fn closed_profile(&mut self, points: &[[f64; 2]]) -> Id {
        let curve = self.polyline(points);
        self.add(&format!("IFCARBITRARYCLOSEDPROFILEDEF(.AREA.,$,{curve})"))
    }

    fn extrude(&mut self, profile: &str, position: &Isometry3<f64>, sweep: Vector3<f64>) -> Id {
        let axes = self.axes(position);
        let direction = self.direction((sweep / sweep.norm()).as_slice());
        let depth = self.length(sweep.norm());
        self.add(&format!("IFCEXTRUDEDAREASOLID({profile},{axes},{direction},{depth})"))
    }

    fn above(&mut self, source: &Source, ends: [[f64; 2]; 2], bounded: bool, flip: bool) -> Id {
        let [from, to] = ends.map(|[x, z]| source.point([x, 0.0, z]));
        let along = (to - from).normalize();
        let upward = Vector3::new(-along.z, 0.0, along.x) * along.x.signum();
        let (normal, flag) = if flip { (-upward, "T") } else { (upward, "F") };
        let turn = UnitQuaternion::from_basis_unchecked(&[along, normal.cross(&along), normal]);
        let plane = Isometry3::from_parts(from.into(), turn);
        let axes = self.axes(&plane);
        let plane = self.add(&format!("IFCPLANE({axes})"));
        if !bounded {
            return self.add(&format!("IFCHALFSPACESOLID({plane},.{flag}.)"));
        }
        let [near, far] = source.sides_m.map(|y| source.point([0.0, y, 0.0]).y);
        let outline = [[from.x, near - 1.0], [to.x, near - 1.0], [to.x, far + 1.0], [from.x, far + 1.0]];
        let curve = self.polyline(&outline);
        let position = self.axes(&Isometry3::identity());
        self.add(&format!("IFCPOLYGONALBOUNDEDHALFSPACE({plane},.{flag}.,{position},{curve})"))
    }

    /// A half-space that begins before the wall, bounded by a prism through it.
    fn hole(&mut self, source: &Source, low: [f64; 2], high: [f64; 2]) -> Id {
        let before = source.point([0.0, source.sides_m[0], 0.0]).y - 1.0;
        let turn = UnitQuaternion::from_basis_unchecked(&[Vector3::x(), -Vector3::z(), Vector3::y()]);
        let axes = self.axes(&Isometry3::from_parts(Translation3::new(0.0, before, 0.0), turn));
        let plane = self.add(&format!("IFCPLANE({axes})"));
        let (a, b) = (source.point([low[0], 0.0, low[1]]), source.point([high[0], 0.0, high[1]]));
        let curve = self.polyline(&[[a.x, a.z], [b.x, a.z], [b.x, b.z], [a.x, b.z]]);
        let position = self.axes(&upright(1.0, [0.0; 3]));
        self.add(&format!("IFCPOLYGONALBOUNDEDHALFSPACE({plane},.F.,{position},{curve})"))
    }

    fn mapped(&mut self, map: &Map, item: &str, frame: &Frame) -> Id {
        let origin = self.axes(&Isometry3::identity());
        let context = &frame.context;
        let inner = self.add(&format!("IFCSHAPEREPRESENTATION({context},'Body','Any',({item}))"));
        let source = self.add(&format!("IFCREPRESENTATIONMAP({origin},{inner})"));
        let x = self.direction(&[if map.mirror { -1.0 } else { 1.0 }, 0.0, 0.0]);
        let (y, z) = (self.direction(&[0.0, 1.0, 0.0]), self.direction(&[0.0, 0.0, 1.0]));
        let at = self.point(&map.shift_m);
        let [a, b, c] = map.scales.map(real);
        let target = if map.scales[0] == map.scales[1] && map.scales[0] == map.scales[2] {
            self.add(&format!("IFCCARTESIANTRANSFORMATIONOPERATOR3D({x},{y},{at},{a},{z})"))
        } else {
            self.add(&format!("IFCCARTESIANTRANSFORMATIONOPERATOR3DNONUNIFORM({x},{y},{at},{a},{z},{b},{c})"))
        };
        self.add(&format!("IFCMAPPEDITEM({source},{target})"))
    }

    fn opening(&mut self, opening: &Opening, wall: &Wall, (id, placement): (&str, &str), model: &Model, frame: &Frame) {
        let own = Pose { turn_rad: opening.turn_rad, at_m: [opening.low_m[0], 0.0, opening.low_m[1]] }.frame();
        let in_storey = wall.pose.frame() * own;
        let placement = match opening.parent {
            Parent::Wall => self.placement(placement, &own),
            Parent::Storey => self.placement(&frame.storey_placement, &in_storey),
            Parent::Nothing => self.placement("$", &(model.site.frame() * model.storey.frame() * in_storey)),
        };
        let item = self.opening_body(opening, wall.reach_m(opening.reach), &own);
        let shape = self.shape(frame, &item);
        let hole = self.rooted("IFCOPENINGELEMENT", &format!("$,$,$,{placement},{shape},$,.OPENING."));
        self.rooted("IFCRELVOIDSELEMENT", &format!("$,$,{id},{hole}"));
    }

    fn opening_body(&mut self, opening: &Opening, [near, far]: [f64; 2], own: &Isometry3<f64>) -> Id {
        let ([x, z], [w, h]) = (opening.low_m, opening.size_m);
        if opening.form == Form::Upright {
            let profile = self.rectangle([w / 2.0, (far - near) / 2.0], [w, far - near]);
            let position = own.inverse() * Isometry3::translation(x, near, z);
            return self.extrude(&profile, &position, Vector3::new(0.0, 0.0, h));
        }
        let profile = match (opening.form, opening.outline_m()) {
            (Form::Corner, Some(outline)) => self.closed_profile(&outline),
            (_, Some(_)) => self.rectangle([w / 2.0, h / 2.0], [w, h]),
            (_, None) => {
                let middle = self.point(&[w / 2.0, w / 2.0]);
                let position = self.add(&format!("IFCAXIS2PLACEMENT2D({middle},$)"));
                let radius = self.length(w / 2.0);
                self.add(&format!("IFCCIRCLEPROFILEDEF(.AREA.,$,{position},{radius})"))
            }
        };
        let position = own.inverse() * upright(1.0, [x, far, z]);
        self.extrude(&profile, &position, Vector3::new(0.0, 0.0, far - near))
    }
}

/// Coordinates in which the body is drawn, before scale and mirror.
struct Source {
    /// The two faces along y, of the wall as it stands.
    sides_m: [f64; 2],
    map: Option<Map>,
}

impl Source {
    fn of(wall: &Wall) -> Self {
        Self { sides_m: [wall.from_m, wall.from_m + wall.thickness_m()], map: wall.map }
    }

    fn point(&self, at_m: [f64; 3]) -> Point3<f64> {
        let Some(map) = self.map else { return Point3::from(at_m) };
        let part = |axis: usize| (at_m[axis] - map.shift_m[axis]) / map.scales[axis];
        Point3::new(if map.mirror { -part(0) } else { part(0) }, part(1), part(2))
    }
}

/// A frame whose y is up: its x along the wall or, for a sign of -1, against it.
fn upright(sign: f64, origin: [f64; 3]) -> Isometry3<f64> {
    let turn = UnitQuaternion::from_basis_unchecked(&[Vector3::x() * sign, Vector3::z(), Vector3::y() * -sign]);
    Isometry3::from_parts(Translation3::from(Vector3::from(origin)), turn)
}

/// A real of ISO 10303-21 with every digit that the number has.
fn real(value: f64) -> String {
    let text = format!("{value:E}");
    match text.split_once('E') {
        Some((digits, power)) if !digits.contains('.') => format!("{digits}.E{power}"),
        _ => text,
    }
}

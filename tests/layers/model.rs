//! A writer of boxes: walls and spaces in metres, in the exchange structure of ISO 10303-21, schema IFC4.

use cavitally::intake::Progress;
use cavitally::intake::ifc::read_watched;
use cavitally::model::{Building, LayerRule, Surface};

/// A model under way.
pub struct Model {
    text: String,
    next: u64,
}

/// Corners of a box: lowest, then highest.
pub type Box3 = ([f64; 3], [f64; 3]);

impl Model {
    pub fn new() -> Self {
        let text = "ISO-10303-21;\nHEADER;FILE_DESCRIPTION((''),'2;1');FILE_NAME('','',(''),(''),'','','');\
                    FILE_SCHEMA(('IFC4'));ENDSEC;\nDATA;\n\
                    #1=IFCPROJECT('p',$,'P',$,$,$,$,$,#2);\n#2=IFCUNITASSIGNMENT((#3));\n\
                    #3=IFCSIUNIT(*,.LENGTHUNIT.,$,.METRE.);\n"
            .to_owned();
        Self { text, next: 10 }
    }

    /// Adds a record and gives its instance name.
    pub fn add(&mut self, record: &str) -> String {
        self.next += 1;
        self.text.push_str(&format!("#{}={record};\n", self.next));
        format!("#{}", self.next)
    }

    /// Placement and shape of a box.
    fn solid(&mut self, (low, high): Box3) -> (String, String) {
        let [dx, dy, dz] = [0, 1, 2].map(|axis: usize| high[axis] - low[axis]);
        let at = self.add(&format!("IFCCARTESIANPOINT(({:?},{:?},{:?}))", low[0], low[1], low[2]));
        let axes = self.add(&format!("IFCAXIS2PLACEMENT3D({at},$,$)"));
        let placement = self.add(&format!("IFCLOCALPLACEMENT($,{axes})"));
        let middle = self.add(&format!("IFCCARTESIANPOINT(({:?},{:?}))", dx / 2.0, dy / 2.0));
        let flat = self.add(&format!("IFCAXIS2PLACEMENT2D({middle},$)"));
        let profile = self.add(&format!("IFCRECTANGLEPROFILEDEF(.AREA.,$,{flat},{dx:?},{dy:?})"));
        let up = self.add("IFCDIRECTION((0.,0.,1.))");
        let body = self.add(&format!("IFCEXTRUDEDAREASOLID({profile},$,{up},{dz:?})"));
        let representation = self.add(&format!("IFCSHAPEREPRESENTATION($,'Body','SweptSolid',({body}))"));
        (placement, self.add(&format!("IFCPRODUCTDEFINITIONSHAPE($,$,({representation}))")))
    }

    /// A wall; its name is its GlobalId too.
    pub fn wall(&mut self, name: &str, extent: Box3) -> String {
        let (placement, shape) = self.solid(extent);
        self.add(&format!("IFCWALL('{name}',$,'{name}',$,$,{placement},{shape},$,$)"))
    }

    /// A wall at the origin with these representations; its name is its GlobalId too.
    pub fn wall_of(&mut self, name: &str, representations: &[String]) -> String {
        let at = self.add("IFCCARTESIANPOINT((0.,0.,0.))");
        let axes = self.add(&format!("IFCAXIS2PLACEMENT3D({at},$,$)"));
        let placement = self.add(&format!("IFCLOCALPLACEMENT($,{axes})"));
        let shape = self.add(&format!("IFCPRODUCTDEFINITIONSHAPE($,$,({}))", representations.join(",")));
        self.add(&format!("IFCWALL('{name}',$,'{name}',$,$,{placement},{shape},$,$)"))
    }

    /// A prism over a rectangle of the plan, from one level to another.
    pub fn prism(&mut self, (low, high): Box3) -> String {
        let [dx, dy, dz] = [0, 1, 2].map(|axis: usize| high[axis] - low[axis]);
        let at = self.add(&format!("IFCCARTESIANPOINT(({:?},{:?},{:?}))", low[0], low[1], low[2]));
        let axes = self.add(&format!("IFCAXIS2PLACEMENT3D({at},$,$)"));
        let middle = self.add(&format!("IFCCARTESIANPOINT(({:?},{:?}))", dx / 2.0, dy / 2.0));
        let flat = self.add(&format!("IFCAXIS2PLACEMENT2D({middle},$)"));
        let profile = self.add(&format!("IFCRECTANGLEPROFILEDEF(.AREA.,$,{flat},{dx:?},{dy:?})"));
        let up = self.add("IFCDIRECTION((0.,0.,1.))");
        self.add(&format!("IFCEXTRUDEDAREASOLID({profile},{axes},{up},{dz:?})"))
    }

    /// A wall 4 m long and 2.7 m high from its elevation, 0.2 m thick from y = 0; its name is its GlobalId too.
    pub fn wall_by_elevation(&mut self, name: &str, rings: &[&[[f64; 2]]]) -> String {
        let mut curve = |ring: &[[f64; 2]]| {
            let mut points: Vec<String> =
                ring.iter().map(|[x, y]| self.add(&format!("IFCCARTESIANPOINT(({x:?},{y:?}))"))).collect();
            points.push(points[0].clone());
            self.add(&format!("IFCPOLYLINE(({}))", points.join(",")))
        };
        let curves: Vec<String> = rings.iter().map(|ring| curve(ring)).collect();
        let profile = match curves.as_slice() {
            [outer] => self.add(&format!("IFCARBITRARYCLOSEDPROFILEDEF(.AREA.,$,{outer})")),
            [outer, inner @ ..] => {
                self.add(&format!("IFCARBITRARYPROFILEDEFWITHVOIDS(.AREA.,$,{outer},({}))", inner.join(",")))
            }
            [] => unreachable!("a wall has an outline"),
        };
        // The elevation stands on the far side, and is extruded towards y = 0.
        let at = self.add("IFCCARTESIANPOINT((0.,0.2,0.))");
        let towards = self.add("IFCDIRECTION((0.,-1.,0.))");
        let along = self.add("IFCDIRECTION((1.,0.,0.))");
        let axes = self.add(&format!("IFCAXIS2PLACEMENT3D({at},{towards},{along})"));
        let out = self.add("IFCDIRECTION((0.,0.,1.))");
        let solid = self.add(&format!("IFCEXTRUDEDAREASOLID({profile},{axes},{out},0.2)"));
        let body = self.add(&format!("IFCSHAPEREPRESENTATION($,'Body','SweptSolid',({solid}))"));
        self.wall_of(name, &[body])
    }

    /// An opening without a body whose shape, if any, is for reference only, and what fills it, if anything.
    pub fn uncut_opening(&mut self, host: &str, name: &str, reference: Option<Box3>, filling: Option<&str>) {
        let shape = reference.map_or_else(
            || "$".to_owned(),
            |extent| {
                let solid = self.prism(extent);
                let shape = self.add(&format!("IFCSHAPEREPRESENTATION($,'Reference','SweptSolid',({solid}))"));
                self.add(&format!("IFCPRODUCTDEFINITIONSHAPE($,$,({shape}))"))
            },
        );
        let opening = self.add(&format!("IFCOPENINGELEMENT('{name}',$,'{name}',$,$,$,{shape},$,.OPENING.)"));
        self.add(&format!("IFCRELVOIDSELEMENT('{name}r',$,$,$,{host},{opening})"));
        if let Some(filling) = filling {
            self.add(&format!("IFCRELFILLSELEMENT('{name}f',$,$,$,{opening},{filling})"));
        }
    }

    /// A slab; its name is its GlobalId too.
    pub fn slab(&mut self, name: &str, extent: Box3) -> String {
        let (placement, shape) = self.solid(extent);
        self.add(&format!("IFCSLAB('{name}',$,'{name}',$,$,{placement},{shape},$,.FLOOR.)"))
    }

    /// A member, beam or column by its class; its name is its GlobalId too.
    pub fn member(&mut self, class: &str, name: &str, extent: Box3) -> String {
        self.boxed(class, name, extent, "$")
    }

    /// An element without a body of its own, of a class with these last arguments.
    pub fn bare(&mut self, class: &str, name: &str, last: &str) -> String {
        self.add(&format!("{class}('{name}',$,'{name}',$,$,$,$,$,{last})"))
    }

    /// Parts of a whole.
    pub fn aggregate(&mut self, whole: &str, parts: &[String]) {
        self.add(&format!("IFCRELAGGREGATES('{whole}a',$,$,$,{whole},({}))", parts.join(",")));
    }

    /// A chimney; its name is its GlobalId too.
    pub fn chimney(&mut self, name: &str, extent: Box3) -> String {
        let (placement, shape) = self.solid(extent);
        self.add(&format!("IFCCHIMNEY('{name}',$,'{name}',$,$,{placement},{shape},$,$)"))
    }

    /// An opening in an element; its name is its GlobalId too.
    pub fn opening(&mut self, host: &str, name: &str, extent: Box3) -> String {
        let (placement, shape) = self.solid(extent);
        let opening = self.add(&format!("IFCOPENINGELEMENT('{name}',$,'{name}',$,$,{placement},{shape},$,.OPENING.)"));
        self.add(&format!("IFCRELVOIDSELEMENT('{name}r',$,$,$,{host},{opening})"));
        opening
    }

    /// How two walls are connected, each with the place of the connection on it.
    pub fn path(&mut self, (relating, on_relating): (&str, &str), (related, on_related): (&str, &str)) {
        self.add(&format!(
            "IFCRELCONNECTSPATHELEMENTS('{relating}{related}',$,$,$,$,{relating},{related},(),(),.{on_related}.,.{on_relating}.)"
        ));
    }

    /// A space, with its long name.
    pub fn space(&mut self, name: &str, extent: Box3) -> String {
        let (placement, shape) = self.solid(extent);
        self.add(&format!("IFCSPACE('{name}',$,'1',$,$,{placement},{shape},'{name}',.ELEMENT.,.SPACE.,$)"))
    }

    /// The type of an element: its class, what it says of itself, and its predefined type.
    pub fn typed(&mut self, element: &str, class: &str, element_type: &str, predefined: &str) {
        let kind = self.add(&format!("{class}('{element}t',$,'T',$,$,$,$,$,{element_type},.{predefined}.)"));
        self.add(&format!("IFCRELDEFINESBYTYPE('{element}d',$,$,$,({element}),{kind})"));
    }

    /// A box of any class with these last arguments; its name is its GlobalId too.
    pub fn boxed(&mut self, class: &str, name: &str, extent: Box3, last: &str) -> String {
        let (placement, shape) = self.solid(extent);
        self.add(&format!("{class}('{name}',$,'{name}',$,$,{placement},{shape},$,{last})"))
    }

    /// What `IsExternal` says of an element.
    pub fn is_external(&mut self, element: &str, value: &str) {
        let property = self.add(&format!("IFCPROPERTYSINGLEVALUE('IsExternal',$,IFCBOOLEAN({value}),$)"));
        let set = self.add(&format!("IFCPROPERTYSET('{element}e',$,'Pset_WallCommon',$,({property}))"));
        self.add(&format!("IFCRELDEFINESBYPROPERTIES('{element}r',$,$,$,({element}),{set})"));
    }

    /// A boundary between a space and an element.
    pub fn boundary(&mut self, space: &str, element: &str, side: &str) {
        self.add(&format!("IFCRELSPACEBOUNDARY('{space}{element}',$,$,$,{space},{element},$,.PHYSICAL.,.{side}.)"));
    }

    /// The material of an element.
    pub fn material(&mut self, element: &str, material: &str) {
        self.add(&format!("IFCRELASSOCIATESMATERIAL('{element}m',$,$,$,({element}),{material})"));
    }

    /// The model as a file.
    pub fn text(&self) -> String {
        format!("{}ENDSEC;\nEND-ISO-10303-21;\n", self.text)
    }

    /// The model, read.
    #[track_caller]
    pub fn read(&self, rules: &[LayerRule]) -> Building {
        read_watched("model.ifc", self.text().as_bytes(), rules, &Progress::default())
            .expect("a model that can be read")
    }
}

/// A surface by its name.
#[track_caller]
pub fn surface<'a>(building: &'a Building, name: &str) -> &'a Surface {
    building.surfaces.iter().find(|surface| surface.id == name).unwrap_or_else(|| panic!("no surface `{name}`"))
}

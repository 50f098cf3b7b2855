//! Parameterised profiles: their corners in their own frame, counter-clockwise, each with its fillet.
//!
//! Every one has the centre of its box in the origin.
//!
//! # Source
//! Attributes: ISO 16739-1, `IfcProfileResource`. Where a flange or leg slopes, its thickness is taken where the tables of
//! rolled sections take it: at a quarter of the flange's width from its edge for I and T (EN 10024, EN 10055), in the middle
//! for channels and angles (EN 10279, EN 10056-1), from memory.

use super::size;
use crate::finding::Code;
use crate::geometry::Point;
use crate::intake::ifc::context::Context;
use crate::intake::ifc::record::Record;
use crate::intake::ifc::trouble::Trouble;

/// Steepest slope of a flange, in radians: no rolled section comes near.
const STEEPEST: f64 = 1.0;

/// Corners with the radius of their fillets, in metres.
pub type Corners = Vec<(Point, f64)>;

/// The rings of a parameterised profile with straight sides; `None` for other classes.
///
/// # Errors
/// A size that is missing or leaves no room for another.
pub fn shape(context: &Context<'_>, record: &Record<'_>) -> Option<Result<Vec<Corners>, Trouble>> {
    let sizes = Sizes { context, record };
    Some(match record.class().as_ref() {
        "IFCRECTANGLEPROFILEDEF" => sizes.rectangle(),
        "IFCROUNDEDRECTANGLEPROFILEDEF" => sizes.rounded_rectangle(),
        "IFCRECTANGLEHOLLOWPROFILEDEF" => sizes.hollow_rectangle(),
        "IFCTRAPEZIUMPROFILEDEF" => sizes.trapezium(),
        "IFCISHAPEPROFILEDEF" => sizes.i_shape(),
        "IFCASYMMETRICISHAPEPROFILEDEF" => sizes.asymmetric_i_shape(),
        "IFCLSHAPEPROFILEDEF" => sizes.l_shape(),
        "IFCUSHAPEPROFILEDEF" => sizes.u_shape(),
        "IFCTSHAPEPROFILEDEF" => sizes.t_shape(),
        "IFCCSHAPEPROFILEDEF" => sizes.c_shape(),
        "IFCZSHAPEPROFILEDEF" => sizes.z_shape(),
        _ => return None,
    })
}

type Shape = Result<Vec<Corners>, Trouble>;

/// One flange of an I shape.
struct Flange {
    half_width: f64,
    thickness: f64,
    fillet: f64,
    edge: f64,
    slope: f64,
}

impl Flange {
    /// Thickness at a distance from the middle of the web.
    fn thickness_at(&self, x: f64) -> f64 {
        self.thickness + (self.half_width / 2.0 - x) * self.slope
    }
}

struct Sizes<'a> {
    context: &'a Context<'a>,
    record: &'a Record<'a>,
}

impl Sizes<'_> {
    fn size(&self, index: usize, what: &str) -> Result<f64, Trouble> {
        size(self.context, self.record, index, what)
    }

    /// A radius, 0 where it is unset.
    fn radius(&self, index: usize, what: &str) -> Result<f64, Trouble> {
        let radius = self.record.optional_number(index, what)?.unwrap_or(0.0) * self.context.length_m;
        if radius < 0.0 {
            return Err(self.record.trouble(format!("{what} of {} is under 0", self.record.class())));
        }
        Ok(radius)
    }

    /// The tangent of a slope, 0 where it is unset.
    fn slope(&self, index: usize, what: &str) -> Result<f64, Trouble> {
        let slope = self.record.optional_number(index, what)?.unwrap_or(0.0) * self.context.angle_rad;
        if slope.abs() > STEEPEST {
            return Err(self
                .record
                .trouble(format!("{what} of {} is steeper than any section's", self.record.class())));
        }
        Ok(slope.tan())
    }

    /// Refuses sizes that leave no room for each other.
    fn due(&self, fits: bool, what: &str) -> Result<(), Trouble> {
        if fits {
            return Ok(());
        }
        Err(Trouble::new(Code::BodyDegenerate, self.record.id, format!("{} of {}", what, self.record.class())))
    }

    fn rectangle(&self) -> Shape {
        let (x, y) = (self.size(3, "x size")? / 2.0, self.size(4, "y size")? / 2.0);
        Ok(vec![frame_of(x, y, 0.0)])
    }

    fn rounded_rectangle(&self) -> Shape {
        let (x, y) = (self.size(3, "x size")? / 2.0, self.size(4, "y size")? / 2.0);
        Ok(vec![frame_of(x, y, self.radius(5, "rounding radius")?)])
    }

    fn hollow_rectangle(&self) -> Shape {
        let (x, y) = (self.size(3, "x size")? / 2.0, self.size(4, "y size")? / 2.0);
        let wall = self.size(5, "wall thickness")?;
        self.due(wall < x.min(y), "no room within the wall thickness")?;
        let (inner, outer) = (self.radius(6, "inner fillet")?, self.radius(7, "outer fillet")?);
        Ok(vec![frame_of(x, y, outer), frame_of(x - wall, y - wall, inner)])
    }

    fn trapezium(&self) -> Shape {
        let (bottom, top) = (self.size(3, "bottom size")?, self.size(4, "top size")?);
        let y = self.size(5, "y size")? / 2.0;
        let offset = self.record.optional_number(6, "top offset")?.unwrap_or(0.0) * self.context.length_m;
        // The middle of the box, the lower left corner being 0.
        let middle = f64::midpoint(offset.min(0.0), bottom.max(offset + top));
        let corners = [[0.0, -y], [bottom, -y], [offset + top, y], [offset, y]];
        Ok(vec![corners.map(|[x, y]| ([x - middle, y], 0.0)).to_vec()])
    }

    fn i_shape(&self) -> Shape {
        let flange = || -> Result<Flange, Trouble> {
            Ok(Flange {
                half_width: self.size(3, "overall width")? / 2.0,
                thickness: self.size(6, "flange thickness")?,
                fillet: self.radius(7, "fillet radius")?,
                edge: self.radius(8, "flange edge radius")?,
                slope: self.slope(9, "flange slope")?,
            })
        };
        self.flanged(&flange()?, &flange()?)
    }

    /// IFC2X3 ends with the centre of gravity where IFC4 goes on with edge radii and slopes.
    fn asymmetric_i_shape(&self) -> Shape {
        let has_edges = self.record.len() > 12;
        let edge = |index| if has_edges { self.radius(index, "flange edge radius") } else { Ok(0.0) };
        let slope = |index| if has_edges { self.slope(index, "flange slope") } else { Ok(0.0) };
        let bottom = Flange {
            half_width: self.size(3, "bottom flange width")? / 2.0,
            thickness: self.size(6, "bottom flange thickness")?,
            fillet: self.radius(7, "bottom fillet radius")?,
            edge: edge(11)?,
            slope: slope(12)?,
        };
        let top_thickness =
            if self.record.raw(9).is_some() { self.size(9, "top flange thickness")? } else { bottom.thickness };
        let top = Flange {
            half_width: self.size(8, "top flange width")? / 2.0,
            thickness: top_thickness,
            fillet: self.radius(10, "top fillet radius")?,
            edge: edge(13)?,
            slope: slope(14)?,
        };
        self.flanged(&bottom, &top)
    }

    fn flanged(&self, bottom: &Flange, top: &Flange) -> Shape {
        let (y, web) = (self.size(4, "overall depth")? / 2.0, self.size(5, "web thickness")? / 2.0);
        let narrow = bottom.half_width.min(top.half_width);
        let deep = bottom.thickness_at(web) + top.thickness_at(web) < 2.0 * y;
        let edges = [bottom, top].iter().all(|flange| flange.thickness_at(flange.half_width) > 0.0);
        self.due(web < narrow && deep && edges, "no room between web and flanges")?;
        let right = [
            ([bottom.half_width, -y], 0.0),
            ([bottom.half_width, -y + bottom.thickness_at(bottom.half_width)], bottom.edge),
            ([web, -y + bottom.thickness_at(web)], bottom.fillet),
            ([web, y - top.thickness_at(web)], top.fillet),
            ([top.half_width, y - top.thickness_at(top.half_width)], top.edge),
            ([top.half_width, y], 0.0),
        ];
        let left = right.iter().rev().map(|&([x, y], radius)| ([-x, y], radius));
        Ok(vec![right.iter().copied().chain(left).collect()])
    }

    fn l_shape(&self) -> Shape {
        let depth = self.size(3, "depth")?;
        let width = if self.record.raw(4).is_some() { self.size(4, "width")? } else { depth };
        let (x, y, thick) = (width / 2.0, depth / 2.0, self.size(5, "thickness")?);
        let (fillet, edge) = (self.radius(6, "fillet radius")?, self.radius(7, "edge radius")?);
        let slope = self.slope(8, "leg slope")?;
        self.due(thick < width.min(depth), "no room beside the thickness")?;
        let foot = |at: f64| -y + thick - at * slope;
        // The inner corner lies where both inner faces meet.
        let across = x - thick;
        let inner_y = (-y + thick + across * slope) / (1.0 - slope * slope);
        let inner_x = -across - inner_y * slope;
        self.due(foot(x) > -y && thick - y * slope > 0.0, "no thickness at the end of a leg")?;
        Ok(vec![vec![
            ([-x, -y], 0.0),
            ([x, -y], 0.0),
            ([x, foot(x)], edge),
            ([inner_x, inner_y], fillet),
            ([-across - y * slope, y], edge),
            ([-x, y], 0.0),
        ]])
    }

    fn u_shape(&self) -> Shape {
        let (y, x) = (self.size(3, "depth")? / 2.0, self.size(4, "flange width")? / 2.0);
        let (web, thick) = (self.size(5, "web thickness")?, self.size(6, "flange thickness")?);
        let (fillet, edge) = (self.radius(7, "fillet radius")?, self.radius(8, "edge radius")?);
        let slope = self.slope(9, "flange slope")?;
        let thickness = |at: f64| thick - at * slope;
        self.due(web < 2.0 * x && thickness(web - x) < y && thickness(x) > 0.0, "no room between web and flanges")?;
        let lower = [([x, -y], 0.0), ([x, -y + thickness(x)], edge), ([web - x, -y + thickness(web - x)], fillet)];
        let upper = lower.iter().rev().map(|&([x, y], radius)| ([x, -y], radius));
        let back = [([-x, y], 0.0), ([-x, -y], 0.0)];
        Ok(vec![lower.iter().copied().chain(upper).chain(back).collect()])
    }

    fn t_shape(&self) -> Shape {
        let (y, x) = (self.size(3, "depth")? / 2.0, self.size(4, "flange width")? / 2.0);
        let (web, thick) = (self.size(5, "web thickness")? / 2.0, self.size(6, "flange thickness")?);
        let fillet = self.radius(7, "fillet radius")?;
        let (flange_edge, web_edge) = (self.radius(8, "flange edge radius")?, self.radius(9, "web edge radius")?);
        let (web_slope, slope) = (self.slope(10, "web slope")?, self.slope(11, "flange slope")?);
        let under = |at: f64| y - thick - (x / 2.0 - at) * slope;
        let foot = web - y * web_slope;
        // The face of the web and the underside of the flange meet here.
        let inner_y = (y - thick - (x / 2.0 - web) * slope) / (1.0 - web_slope * slope);
        let inner_x = web + inner_y * web_slope;
        let fits = inner_x < x && foot > 0.0 && inner_y > -y && under(x) < y;
        self.due(fits, "no room between web and flange")?;
        let right = [([foot, -y], web_edge), ([inner_x, inner_y], fillet), ([x, under(x)], flange_edge), ([x, y], 0.0)];
        let left = right.iter().rev().map(|&([x, y], radius)| ([-x, y], radius));
        Ok(vec![right.iter().copied().chain(left).collect()])
    }

    fn c_shape(&self) -> Shape {
        let (y, x) = (self.size(3, "depth")? / 2.0, self.size(4, "width")? / 2.0);
        let (wall, girth) = (self.size(5, "wall thickness")?, self.size(6, "girth")?);
        self.due(wall < x.min(y) && girth > wall && girth <= y, "no room for wall thickness and girth")?;
        let inner = self.radius(7, "internal fillet radius")?;
        let outer = if inner > 0.0 { inner + wall } else { 0.0 };
        let lower = [
            ([-x, -y], outer),
            ([x, -y], outer),
            ([x, -y + girth], 0.0),
            ([x - wall, -y + girth], 0.0),
            ([x - wall, -y + wall], inner),
            ([-x + wall, -y + wall], inner),
        ];
        let upper = lower.iter().rev().map(|&([x, y], radius)| ([x, -y], radius));
        Ok(vec![lower.iter().copied().chain(upper).collect()])
    }

    /// The lower flange points along x, the upper one against it; each is as wide as from the back of the web to its edge.
    fn z_shape(&self) -> Shape {
        let (y, width) = (self.size(3, "depth")? / 2.0, self.size(4, "flange width")?);
        let (web, thick) = (self.size(5, "web thickness")? / 2.0, self.size(6, "flange thickness")?);
        let (fillet, edge) = (self.radius(7, "fillet radius")?, self.radius(8, "edge radius")?);
        self.due(2.0 * web < width && thick < y, "no room between web and flanges")?;
        let x = width - web;
        let half = [([-web, -y], 0.0), ([x, -y], 0.0), ([x, -y + thick], edge), ([web, -y + thick], fillet)];
        let turned = half.iter().map(|&([x, y], radius)| ([-x, -y], radius));
        Ok(vec![half.iter().copied().chain(turned).collect()])
    }
}

/// A rectangle about the origin.
fn frame_of(x: f64, y: f64, radius: f64) -> Corners {
    [[-x, -y], [x, -y], [x, y], [-x, y]].map(|corner| (corner, radius)).to_vec()
}

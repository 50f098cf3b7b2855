//! Laws of measured sheets: the same building in millimetres and in feet and inches is the same building.
//!
//! An inch is 25.4 mm exactly (NIST SP 811 app. B.8), so that a sixteenth of one is 1.5875 mm.

use crate::surfaces::{near, plain};
use cavitally::intake::csv::{SheetFile, read};
use cavitally::model::{DoNotFillExtent, EaveSides, ExistingExtent, Extent, Surface};
use proptest::prelude::*;

/// Most by which two readings of a length may differ (m), and of an area (m2).
const AGREEMENT: f64 = 1e-12;

/// How lengths in sixteenths of an inch are written.
#[derive(Clone, Copy)]
enum Dress {
    Millimetres,
    FeetAndInches(u8),
}

impl Dress {
    fn write(self, sixteenths: u32) -> String {
        let (whole, over) = (sixteenths / 16, sixteenths % 16);
        let (feet, inches) = (whole / 12, whole % 12);
        match self {
            Self::Millimetres => {
                let tenthousandths = u64::from(sixteenths) * 15_875;
                format!("{}.{:04} mm", tenthousandths / 10_000, tenthousandths % 10_000)
            }
            Self::FeetAndInches(0) => format!("{feet}'-{inches} {over}/16\""),
            Self::FeetAndInches(1) => format!("{feet}' {inches}-{over}/16\""),
            Self::FeetAndInches(_) => format!("{whole} {over}/16 in"),
        }
    }

    /// A cell in quotation marks with the lengths put where `#` stands.
    fn cell(self, pattern: &str, lengths: &[u32]) -> String {
        let mut lengths = lengths.iter();
        let parts: Vec<&str> = pattern.split('#').collect();
        let mut text = parts[0].to_owned();
        for part in &parts[1..] {
            text.push_str(&self.write(*lengths.next().expect("a length for every mark")));
            text.push_str(part);
        }
        format!("\"{}\"", text.replace('"', "\"\""))
    }
}

/// Sizes of a stepped wall and of a ceiling, in sixteenths of an inch.
#[derive(Clone, Debug)]
struct Sizes {
    length: u32,
    low: u32,
    step: u32,
    rise: u32,
    places: [u32; 2],
    floor: u32,
    fill: u32,
    window: [u32; 4],
}

fn sizes() -> impl Strategy<Value = Sizes> {
    (3000_u32..6000, 1600_u32..2400, 800_u32..2000, 200_u32..900, 100_u32..1200, 1300_u32..2900, 8_u32..90, 0_u32..400)
        .prop_map(|(length, low, step, rise, one, other, fill, more)| Sizes {
            length,
            low,
            step,
            rise,
            places: [one, other],
            floor: low / 2 + more,
            fill,
            window: [300 + more, 400 + fill, 500 + more, 200 + one / 2],
        })
}

fn building(sizes: &Sizes, dress: Dress) -> Vec<Surface> {
    let Sizes { length, low, step, rise, places, floor, fill, window } = sizes;
    let high = low + rise;
    let outline = [0, 0, *length, 0, *length, *low, *step, *low, *step, high, 0, high];
    let of = |pattern: &str, lengths: &[u32]| dress.cell(pattern, lengths);
    let mut text = "id,surface,kind,outline,length,height,pitch,corners,partitions,floors,existing,eaves,heel_height,\
                    do_not_fill,width,sill,offset,flue,clearance,plan outline\n"
        .to_owned();
    text.push_str(&format!(
        "W,,wall,{},,,,both,{},{},{},,,{}\n",
        of("#:#; #:#; #:#; #:#; #:#; #:#", &outline),
        of("at #; #", places),
        of("# to #", &[*floor, floor + 180]),
        of("old batt #, removed", &[*fill]),
        of("# to #: duct", places),
    ));
    text.push_str(&format!(
        "C,,ceiling,,{},{},5:12,,,,{},{},{},none\n",
        of("#", &[*length]),
        of("#", &[*low]),
        of("cellulose #", &[*fill]),
        of("#", &[*length]),
        of("#", &[*fill]),
    ));
    text.push_str(&format!(
        "R,,roof,,,,7:12,,,,,,,,,,,,,{}\n",
        of("#:#; #:#; #:#", &[0, 0, *length, 0, length / 2, *low])
    ));
    let [wide, tall, sill, offset] = *window;
    let size = |kind: &str, surface: &str, id: &str, more: &str| {
        let [tall, wide] = [of("#", &[tall]), of("#", &[wide])];
        let [sill, offset] = [of("#", &[sill]), of("#", &[offset])];
        format!("{id},{surface},{kind},,,{tall},,,,,,,,,{wide},{sill},{offset},{more}\n")
    };
    text.push_str(&size("window", "W", "O", ","));
    text.push_str(&format!("F,W,hatch,,,{},,,,,,,,,{},,,,\n", of("#", &[wide / 4]), of("#", &[wide / 4])));
    text.push_str(&size("platform", "C", "P", ","));
    text.push_str(&format!(
        "V,C,flue,,,{},,,,,,,,,{},,,type B,{}\n",
        of("#", &[128]),
        of("#", &[128]),
        of("#", &[*fill])
    ));
    let sheet = SheetFile { path: "house.csv".to_owned(), bytes: text.clone().into_bytes() };
    match read(&[sheet], false) {
        Ok(building) => building.surfaces,
        Err(refusals) => panic!("{text}\n{refusals:#?}"),
    }
}

fn points(surface: &Surface) -> Vec<f64> {
    let Extent::Outline(outline) = &surface.extent else { panic!("`{}` has an outline", surface.id) };
    let openings = surface.openings.iter().flat_map(|opening| &opening.outline);
    outline.iter().chain(openings).flat_map(|polygon| polygon.rings.iter().flatten()).flatten().copied().collect()
}

/// All other lengths of a surface.
fn lengths(surface: &Surface) -> Vec<f64> {
    let mut lengths: Vec<f64> = surface.junctions.iter().map(|junction| junction.at_m).collect();
    lengths.extend(surface.floor_bands.iter().flat_map(|band| [band.from_m, band.to_m]));
    lengths.extend(surface.existing_fill.iter().map(|fill| match fill.extent {
        ExistingExtent::Share(_) => panic!("a thickness was written"),
        ExistingExtent::ThicknessM(thickness_m) => thickness_m,
    }));
    lengths.extend(surface.eaves.sides.iter().map(|sides| match sides {
        EaveSides::LengthM(length_m) => *length_m,
        EaveSides::All | EaveSides::LongSides | EaveSides::ShortSides => panic!("a length was written"),
    }));
    lengths.extend(surface.eaves.heel_height_m);
    lengths.extend(surface.openings.iter().filter_map(|opening| opening.clearance_m));
    for entry in &surface.do_not_fill {
        match entry.extent {
            DoNotFillExtent::Stretch { from_m, to_m } => lengths.extend([from_m, to_m]),
            DoNotFillExtent::Box { from_m, to_m } => lengths.extend(from_m.into_iter().chain(to_m)),
            DoNotFillExtent::Bays { .. } | DoNotFillExtent::All => panic!("a place was written"),
        }
    }
    lengths
}

fn all_near(found: &[f64], expected: &[f64], what: &str) {
    assert_eq!(found.len(), expected.len(), "{what}");
    for (found, expected) in found.iter().zip(expected) {
        near(*found, *expected, AGREEMENT, what);
    }
}

proptest! {
    #![proptest_config(ProptestConfig { cases: 64, failure_persistence: None, ..ProptestConfig::default() })]

    #[test]
    fn millimetres_and_feet_and_inches_are_the_same_building(sizes in sizes(), dress in 0_u8..3) {
        let metric = building(&sizes, Dress::Millimetres);
        let customary = building(&sizes, Dress::FeetAndInches(dress));
        prop_assert_eq!(metric.len(), 3);
        prop_assert_eq!((metric[0].junctions.len(), metric[0].floor_bands.len(), lengths(&metric[0]).len()), (4, 1, 9));
        prop_assert_eq!((metric[1].do_not_fill.len(), lengths(&metric[1]).len()), (1, 8));
        for (one, other) in metric.iter().zip(&customary) {
            all_near(&points(one), &points(other), "points");
            all_near(&lengths(one), &lengths(other), "lengths");
            let bays = |surface: &Surface| -> Vec<f64> {
                plain(surface, "2x6 @ 16 in").1.bays.iter().map(|bay| bay.area_m2).collect()
            };
            all_near(&bays(one), &bays(other), "areas of bays");
        }
        // The stepped outline: a rectangle and what stands above its step.
        let square_m = |a: u32, b: u32| f64::from(a) * f64::from(b) * (0.0254 / 16.0_f64).powi(2);
        near(metric[0].gross_area_m2(), square_m(sizes.length, sizes.low) + square_m(sizes.step, sizes.rise), 1e-11, "gross");
    }
}

//! The range of an order, against the law of propagation of uncertainty and by simulation.

use cavitally::geometry::Polygon;
use cavitally::job::read_job;
use cavitally::model::{Building, Exposure, Extent, Surface, SurfaceKind};
use cavitally::source::Source;
use cavitally::takeoff::{RangeTakeoff, Takeoff, build};
use cavitally::units::{INCH_M, POUND_KG, POUND_PER_CUBIC_FOOT_KG_M3};
use rayon::prelude::*;

/// What a wall rests on: length, height, depth and spacing in metres, density and bag in kilograms.
type Inputs = [f64; 6];
const TRUE: Inputs =
    [236.0 * INCH_M, 97.125 * INCH_M, 5.5 * INCH_M, 16.0 * INCH_M, 3.5 * POUND_PER_CUBIC_FOOT_KG_M3, 25.0 * POUND_KG];
/// Their tolerances, two standard deviations: the defaults of a job.
const TOLERANCE: Inputs = [0.5 * INCH_M, 0.5 * INCH_M, 0.125 * INCH_M, 0.25 * INCH_M, 0.05 * TRUE[4], 0.01 * TRUE[5]];

fn takeoff([length_m, height_m, depth_m, spacing_m, density, bag_kg]: Inputs) -> Takeoff {
    let outline = Polygon::rectangle(0.0, 0.0, length_m, height_m);
    let mut wall = Surface::new("W", Source::of_line("wall.csv", 2), SurfaceKind::Wall, Extent::Outline(vec![outline]));
    wall.exposure = Exposure::Exterior;
    wall.assembly = Some(format!("38.1x{:.9} mm @ {:.9} mm", depth_m * 1000.0, spacing_m * 1000.0));
    let job =
        format!("[fill.cellulose]\ndensity = \"{density:.9} kg/m3\"\nbag = \"{bag_kg:.9} kg\"\nallowance = 0.0\n");
    let job = read_job("job.toml", &job).unwrap();
    build(&Building { surfaces: vec![wall], ..Building::default() }, &job).unwrap()
}

fn range(takeoff: &Takeoff) -> &RangeTakeoff {
    takeoff.fills[0].range.as_ref().unwrap()
}

/// A seeded generator (SplitMix64, public domain algorithm of Vigna) and normal deviates by Box and Muller.
struct Random(u64);

impl Random {
    fn uniform(&mut self) -> f64 {
        self.0 = self.0.wrapping_add(0x9e37_79b9_7f4a_7c15);
        let mut z = self.0;
        z = (z ^ (z >> 30)).wrapping_mul(0xbf58_476d_1ce4_e5b9);
        z = (z ^ (z >> 27)).wrapping_mul(0x94d0_49bb_1331_11eb);
        ((z ^ (z >> 31)) >> 11) as f64 / (1_u64 << 53) as f64
    }

    fn normal(&mut self) -> f64 {
        let radius = (-2.0 * (1.0 - self.uniform()).ln()).sqrt();
        radius * (std::f64::consts::TAU * self.uniform()).cos()
    }
}

/// JCGM 100:2008, 5.1.2: with one input alone the range is that input's. Density within 5 % as two standard deviations is 2.5 % of
/// the mass, and 1.644 854 times that at 90 %.
#[test]
fn one_input_alone_gives_its_own_range() {
    let wall = {
        let outline = Polygon::rectangle(0.0, 0.0, TRUE[0], TRUE[1]);
        let mut wall =
            Surface::new("W", Source::of_line("wall.csv", 2), SurfaceKind::Wall, Extent::Outline(vec![outline]));
        wall.exposure = Exposure::Exterior;
        wall.assembly = Some("2x6 @ 16 in".to_owned());
        wall
    };
    let job = "[fill.cellulose]\nbag = \"25 lb\"\n[tolerance]\nlength = \"0.000001 mm\"\ndepth = \"0.000001 mm\"\n\
               spacing = \"0.000001 mm\"\nbag = \"0 %\"\ndensity = \"5 %\"\n";
    let building = Building { surfaces: vec![wall], ..Building::default() };
    let takeoff = build(&building, &read_job("job.toml", job).unwrap()).unwrap();
    let (range, mass_kg) = (range(&takeoff), takeoff.fills[0].mass_kg);
    assert!((range.most_kg / mass_kg - (1.0 + 0.025 * 1.644_854)).abs() < 1e-6);
    assert!((range.least_kg / mass_kg - (1.0 - 0.025 * 1.644_854)).abs() < 1e-6);
    assert_eq!(range.inputs[0].what, "density of cellulose");
    assert!((range.inputs[0].variance_share - 1.0).abs() < 1e-6);
}

/// The inputs are measured with normal errors of their tolerances, and each time the range of the takeoff is asked whether the true bags lie in
/// it: they do in 90 ± 1 % of 20,000 seeded runs.
#[test]
fn the_true_order_lies_in_the_range_as_often_as_it_says() {
    const RUNS: u64 = 20_000;
    let exact = |takeoff: &Takeoff| takeoff.fills[0].bags_exact.unwrap();
    let true_bags = exact(&takeoff(TRUE));
    let holds = |seed: u64| {
        let mut random = Random(seed.wrapping_mul(0x2545_f491_4f6c_dd1d));
        let mut measured = TRUE;
        for (value, tolerance) in measured.iter_mut().zip(TOLERANCE) {
            *value += tolerance / 2.0 * random.normal();
        }
        let takeoff = takeoff(measured);
        let (range, mass_kg) = (range(&takeoff), takeoff.fills[0].mass_kg);
        let bags = exact(&takeoff);
        (bags * range.least_kg / mass_kg..=bags * range.most_kg / mass_kg).contains(&true_bags)
    };
    let held = (0..RUNS).into_par_iter().filter(|seed| holds(*seed)).count();
    let share = held as f64 / RUNS as f64;
    assert!((share - 0.90).abs() <= 0.01, "the true value lies in the range in {:.2} % of the runs", share * 100.0);
}

//! How many bays a second are laid out, cut and filled, and whether the cost grows with their number alone.
//!
//! `cargo bench --bench bays_per_second`: walls of 24 ft with a door and two windows, 2x6 at 16 in., in buildings of 10
//! to 10,000; then the same walls in other kinds of framing. Medians of five, on all cores and on one.

#![allow(clippy::expect_used, clippy::print_stdout, reason = "a benchmark prints, and ends when it cannot go on")]

use cavitally::framing::parse_framing;
use cavitally::geometry::Polygon;
use cavitally::job::{FrameRule, Job};
use cavitally::model::{Building, Exposure, Extent, Opening, OpeningKind, Surface, SurfaceKind};
use cavitally::source::Source;
use cavitally::takeoff::build;
use std::time::Instant;

const INCH_M: f64 = 0.0254;
const ROUNDS: usize = 5;

fn opening(id: &str, kind: OpeningKind, [x, y]: [f64; 2], [width, height]: [f64; 2]) -> Opening {
    let outline = Polygon::rectangle(x * INCH_M, y * INCH_M, (x + width) * INCH_M, (y + height) * INCH_M);
    let area_m2 = outline.area_m2();
    Opening {
        id: id.to_owned(),
        name: None,
        kind,
        source: None,
        area_m2,
        flue: None,
        clearance_m: None,
        outline: vec![outline],
    }
}

/// A wall of its own length, so that no two are alike.
fn wall(number: u32) -> Surface {
    let length_in = 288.0 + f64::from(number % 97) / 8.0;
    let outline = Polygon::rectangle(0.0, 0.0, length_in * INCH_M, 97.125 * INCH_M);
    let source = Source { input: "bench".to_owned(), line: Some(u64::from(number)), entity: None };
    let mut wall = Surface::new(format!("W{number}"), source, SurfaceKind::Wall, Extent::Outline(vec![outline]));
    wall.exposure = Exposure::Exterior;
    wall.openings = vec![
        opening("D", OpeningKind::Door, [40.0, 0.0], [38.5, 82.5]),
        opening("A", OpeningKind::Window, [120.0, 34.0], [48.5, 48.5]),
        opening("B", OpeningKind::Window, [210.0, 34.0], [36.5, 48.5]),
    ];
    wall
}

fn building(walls: u32) -> Building {
    Building { surfaces: (0..walls).map(wall).collect(), ..Building::default() }
}

fn job(framing: &str) -> Job {
    let framing = parse_framing(framing).expect("framing of the benchmark is read");
    Job {
        frames: vec![FrameRule { text: framing.text.clone(), pattern: None, framing, assembly: None }],
        ..Job::default()
    }
}

/// Bays, and the median time of a takeoff in seconds.
fn time(building: &Building, job: &Job) -> (usize, f64) {
    let mut bays = 0;
    let mut times: Vec<f64> = (0..ROUNDS)
        .map(|_| {
            let start = Instant::now();
            let takeoff = build(building, job).expect("the walls of the benchmark are framed");
            let seconds = start.elapsed().as_secs_f64();
            bays = takeoff.surfaces.iter().map(|surface| surface.bays.len()).sum();
            seconds
        })
        .collect();
    times.sort_by(f64::total_cmp);
    (bays, times.get(ROUNDS / 2).copied().unwrap_or(f64::NAN))
}

fn row(name: &str, walls: u32, threads: usize, framing: &str) {
    let building = building(walls);
    let job = job(framing);
    let pool = rayon::ThreadPoolBuilder::new().num_threads(threads).build().expect("threads are made");
    let (bays, seconds) = pool.install(|| time(&building, &job));
    let count = u32::try_from(bays).map_or(f64::NAN, f64::from);
    println!(
        "{name:<40} {walls:>6} walls {bays:>7} bays {threads} threads {:>9.1} ms {:>9.0} bays/s {:>6.2} us a bay",
        seconds * 1e3,
        count / seconds,
        seconds * 1e6 / count
    );
}

/// One wall without openings, ever longer: the cost a bay of a single surface.
fn long_row(framing: &str, feet: u32) {
    let outline = Polygon::rectangle(0.0, 0.0, f64::from(feet) * 12.0 * INCH_M, 97.125 * INCH_M);
    let mut long = wall(0);
    long.extent = Extent::Outline(vec![outline]);
    long.openings.clear();
    let building = Building { surfaces: vec![long], ..Building::default() };
    let (bays, seconds) = time(&building, &job(framing));
    let name = format!("one wall, {framing}");
    println!(
        "{name:<40} {feet:>6} ft    {bays:>7} bays {:>20.1} ms {:>8.2} us a foot",
        seconds * 1e3,
        seconds * 1e6 / f64::from(feet)
    );
}

fn main() {
    let cores = std::thread::available_parallelism().map_or(1, std::num::NonZero::get);
    for walls in [10, 100, 1_000, 10_000] {
        row("2x6 @ 16 in", walls, cores, "2x6 @ 16 in");
    }
    row("2x6 @ 16 in", 1_000, 1, "2x6 @ 16 in");
    for framing in [
        "2x6 @ 24 in",
        "2x4 @ 16 in staggered on 2x6",
        "2x4 @ 16 in + gap 4 in + 2x4 @ 24 in",
        "362S162-54 @ 16 in",
        "2x6 @ 16 in + strapping 2x2 @ 24 in",
    ] {
        row(framing, 1_000, cores, framing);
    }
    for feet in [100, 300, 1_000, 3_000] {
        long_row("2x6 @ 16 in", feet);
    }
    for feet in [100, 300, 1_000, 3_000] {
        long_row("2x4 @ 16 in staggered on 2x6", feet);
    }
}

//! Laws of the rig: longer hoses and more loads never make it easier.

use cavitally::job::{Hose, HoseSection, Load, Site};
use cavitally::rig::{hose_figures, is_carried, split_in_two};
use proptest::prelude::*;

fn hose(diameter_m: f64, length_m: f64, flow_m3_s: f64, solids_kg_s: f64) -> Hose {
    Hose {
        sections: vec![
            HoseSection { diameter_m, length_m },
            HoseSection { diameter_m: diameter_m * 0.8, length_m: 5.0 },
        ],
        air_flow_m3_s: Some(flow_m3_s),
        solids_kg_s: Some(solids_kg_s),
        bends: 2,
        lift_m: 3.0,
        roughness_m: 0.0,
        length_factor: None,
    }
}

fn loads(currents: &[f64]) -> Vec<Load> {
    let load =
        |current: &f64| Load { what: "motor".to_owned(), current_a: *current, start_a: None, is_continuous: true };
    currents.iter().map(load).collect()
}

proptest! {
    #[test]
    fn a_longer_hose_and_more_fill_take_more(
        diameter_m in 0.03_f64..0.15, length_m in 1.0_f64..100.0, flow_m3_s in 0.005_f64..0.3, solids_kg_s in 0.0_f64..0.5,
    ) {
        let of = |hose: &Hose| hose_figures(hose, &Site::default()).unwrap().with_fill;
        let short = of(&hose(diameter_m, length_m, flow_m3_s, solids_kg_s));
        let long = of(&hose(diameter_m, length_m * 1.5, flow_m3_s, solids_kg_s));
        let loaded = of(&hose(diameter_m, length_m, flow_m3_s, solids_kg_s + 0.1));
        prop_assert!(short.least_pa > 0.0 && short.least_pa <= short.most_pa);
        prop_assert!(long.least_pa > short.least_pa && long.most_pa > short.most_pa);
        prop_assert!(loaded.least_pa > short.least_pa && loaded.most_pa > short.most_pa);
    }

    #[test]
    fn parted_loads_are_all_there_and_carried(currents in prop::collection::vec(0.5_f64..16.0, 2..8)) {
        let all = loads(&currents);
        let together: Vec<&Load> = all.iter().collect();
        if let Some(halves) = split_in_two(20.0, &together) {
            prop_assert_eq!(halves.iter().map(Vec::len).sum::<usize>(), all.len());
            for half in &halves {
                prop_assert!(is_carried(20.0, half.iter().copied()));
            }
        } else {
            prop_assert!(!is_carried(20.0, &all), "what one circuit carries, two carry");
        }
    }
}

//! `--save x.csv` and `bays.csv`, for spreadsheets and programs alike.

use super::save;
use std::path::Path;

/// The columns as they are released: programs read them by name. New ones may be added, none renamed.
const SURFACES: &str = "id,part,input,line,entity,name,type,storey,zone,count,kind,exposure,assembly,thickness_m,depth_m,\
                        pitch_deg,gross_area_m2,opening_area_m2,member_area_m2,bay_area_m2,left_out_area_m2,\
                        gross_volume_m3,opening_volume_m3,member_volume_m3,bay_volume_m3,left_out_volume_m3,\
                        framing_fraction,fill,density_kg_m3,mass_kg,method,netting_bulge_m,holes,surveyed,\
                        combined_r_m2k_w,combined_u_w_m2k,heat_reason,counted,reason,openings,bays";
const BAYS: &str = "surface,part,name,storey,zone,count,bay,width_m,height_m,depth_m,area_m2,volume_m3,density_kg_m3,\
                    mass_kg,holes";

/// Names that a spreadsheet would run (OWASP, CSV injection, from memory), and such that need quoting (RFC 4180, section 2).
const HOSTILE: [&str; 9] = [
    "=HYPERLINK(\"\"http://x\"\",\"\"y\"\")",
    "+1+1",
    "-2+3",
    "@SUM(A1)",
    "\t=1+1",
    "\u{ff1d}1+1",
    "a \"\"quoted\"\" name",
    "comma, and\nline",
    "\u{1b}[31mred",
];

fn rows(path: &Path) -> Vec<csv::StringRecord> {
    csv::Reader::from_path(path).unwrap().records().map(Result::unwrap).collect()
}

#[test]
fn hostile_names_stay_texts_and_numbers_stay_numbers() {
    let folder = tempfile::tempdir().unwrap();
    let input = folder.path().join("sheet.csv");
    let mut text = String::from("id,kind,storey,zone,assembly,length,height\n");
    for (index, name) in HOSTILE.iter().enumerate() {
        text.push_str(&format!("W{index},wall,\"{name}\",\"{name}\",2x4 @ 16 in,10 ft,8 ft\n"));
    }
    std::fs::write(&input, text).unwrap();
    let (takeoff, paths) = save(folder.path(), &[input.to_str().unwrap(), "--bag", "25 lb"], &["x.csv", "bays.csv"]);
    for (path, columns, zone) in [(&paths[0], SURFACES, 8), (&paths[1], BAYS, 4)] {
        let raw = std::fs::read_to_string(path).unwrap();
        assert_eq!(raw.split("\r\n").next(), Some(columns));
        assert!(raw.ends_with("\r\n") && raw.replace("\r\n", "").chars().all(|c| !c.is_control()), "{raw}");
        let rows = rows(path);
        assert!(rows.iter().all(|row| row.len() == columns.split(',').count()));
        for row in &rows {
            for (index, cell) in row.iter().enumerate() {
                let is_number = cell.parse::<f64>().is_ok();
                let is_formula = cell.trim_start().starts_with(['=', '+', '-', '@', '\u{ff1d}']);
                assert!(is_number || !is_formula, "column {index}: `{cell}`");
            }
        }
        assert!(rows.iter().any(|row| &row[zone] == "a \"quoted\" name"));
        assert!(rows.iter().any(|row| &row[zone] == "comma, and\\nline"));
    }
    let mass: f64 = rows(&paths[1]).iter().map(|row| row[13].parse::<f64>().unwrap()).sum();
    let of_fill = takeoff["fills"][0]["mass_kg"].as_f64().unwrap();
    assert!((mass - of_fill).abs() < 1e-9 * of_fill, "{mass} {of_fill}");
}

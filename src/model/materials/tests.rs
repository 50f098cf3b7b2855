//! Names as layer sets commonly carry them, by language. The names are invented; that a word means this is
//! common practice, no source.

use super::*;

fn wall(name: &str) -> LayerKind {
    layer_kind(name, SurfaceKind::Wall, None)
}

fn roof(name: &str) -> LayerKind {
    layer_kind(name, SurfaceKind::Roof, None)
}

fn floor(name: &str) -> LayerKind {
    layer_kind(name, SurfaceKind::Floor, None)
}

#[track_caller]
fn all(kind: fn(&str) -> LayerKind, expected: LayerKind, names: &[&str]) {
    for name in names {
        assert_eq!(kind(name), expected, "{name}");
    }
}

#[test]
fn every_row_of_the_table_has_a_known_meaning_and_no_row_stands_twice() {
    let mut seen = std::collections::BTreeSet::new();
    for row in include_str!("../words/materials.csv").lines().filter(|line| !line.starts_with('#')).skip(1) {
        let cells: Vec<&str> = row.split(',').collect();
        assert_eq!(cells.len(), 3, "{row}");
        assert_ne!(bit(cells[2]), 0, "{row}");
        assert_eq!(cells[1], cells[1].trim().to_lowercase(), "{row}");
        assert!(seen.insert(row), "{row}");
    }
}

#[test]
fn english() {
    let studs = ["Wood Stud", "2x6 studs @ 16 in", "Timber-Frame", "Steel stud 92", "MetalStud_Layer", "wall framing"];
    all(wall, LayerKind::Studs, &studs);
    all(
        wall,
        LayerKind::Other,
        &["Studio plaster", "Gypsum Wall Board", "Door - Frame", "Window Frame", "Air gap", ""],
    );
    all(wall, LayerKind::Masonry, &["Concrete frame", "Brick, Common", "CMU 200", "Concrete, Cast-in-Place"]);
    all(wall, LayerKind::Insulation, &["Mineral Wool", "Stone wool", "Fiberglass Batt", "Rigid insulation", "EPS 70"]);
    all(roof, LayerKind::Studs, &["Rafter 2x10", "Wood Joist/Rafter Layer", "Roof truss"]);
    all(roof, LayerKind::Other, &["Purlins", "Concrete tiles", "Roofing felt"]);
    all(floor, LayerKind::Studs, &["I-Joist 300", "Joists with mineral wool between"]);
    // Rafters and joists are no framing of a wall.
    all(wall, LayerKind::Other, &["Rafter 2x10", "Joist"]);
}

#[test]
fn german() {
    let studs =
        ["Holzständerwand", "Ständer 60/200", "HOLZSTAENDER", "CW-Profil 75", "KVH 60/160 / Dämmung", "Holzrahmenbau"];
    all(wall, LayerKind::Studs, &studs);
    all(wall, LayerKind::Masonry, &["Stahlbeton C25/30", "Kalksandstein", "Hochlochziegel", "KS 175", "Mauerwerk"]);
    all(
        wall,
        LayerKind::Insulation,
        &["Steinwolle", "Holzfaserdämmung", "Daemmung WLG 035", "Zellulose", "Wärmeschutzplatte"],
    );
    all(wall, LayerKind::Other, &["Gipskarton", "Türrahmen", "Hinterlüftung", "Brettsperrholz 120", "Lattung"]);
    all(roof, LayerKind::Studs, &["Sparren 80/240", "Zwischensparrendämmung", "Nagelbinder"]);
    all(roof, LayerKind::Other, &["Pfette", "Dachziegel", "Konterlattung"]);
    all(floor, LayerKind::Studs, &["Holzbalken 120/240", "Balkenlage"]);
}

#[test]
fn french() {
    all(wall, LayerKind::Studs, &["Ossature bois 145", "Montants + laine de verre", "MOB 120"]);
    all(wall, LayerKind::Insulation, &["Laine de roche", "Ouate de cellulose", "Isolant 100"]);
    all(wall, LayerKind::Masonry, &["Béton banché", "BETON ARME", "Parpaing 20", "Briques creuses"]);
    all(wall, LayerKind::Other, &["Lame d'air", "Plaque de plâtre BA13", "Pare-vapeur"]);
    all(roof, LayerKind::Studs, &["Chevrons 75x225", "Fermettes"]);
    all(floor, LayerKind::Studs, &["Solives bois"]);
    all(roof, LayerKind::Other, &["Pannes"]);
}

#[test]
fn spanish_and_italian() {
    all(wall, LayerKind::Studs, &["Montantes 48", "Entramado ligero de madera", "Telaio in legno", "Montanti 75"]);
    all(
        wall,
        LayerKind::Insulation,
        &["Lana mineral", "Aislamiento térmico", "Lana di roccia", "Isolante in fibra di legno"],
    );
    all(wall, LayerKind::Masonry, &["Ladrillo perforado", "Hormigón armado", "Muratura in laterizio", "Calcestruzzo"]);
    all(
        wall,
        LayerKind::Other,
        &["Cámara de aire", "Cartón-yeso", "Intercapedine", "Cartongesso", "Telaio porta", "XLAM 100"],
    );
    all(roof, LayerKind::Studs, &["Cabios", "Puntoni 12x24"]);
    all(floor, LayerKind::Studs, &["Viguetas de madera", "Travetti"]);
}

#[test]
fn dutch() {
    all(
        wall,
        LayerKind::Studs,
        &["Houtskeletbouw 140", "Stijlen en isolatie", "HSB-wand", "Metal-stud 75", "Regelwerk"],
    );
    all(wall, LayerKind::Insulation, &["Glaswol", "PIR-isolatie", "Houtvezel"]);
    all(wall, LayerKind::Masonry, &["Baksteen", "Gewapend beton", "Kalkzandsteen", "Metselwerk"]);
    all(wall, LayerKind::Other, &["Luchtspouw", "Gipskartonplaat", "Kozijn"]);
    all(roof, LayerKind::Studs, &["Dakspoor 59x171", "Spanten"]);
    all(roof, LayerKind::Other, &["Gordingen", "Betonpannen"]);
    all(floor, LayerKind::Studs, &["Balklaag", "Houten balken"]);
}

#[test]
fn danish_norwegian_and_swedish() {
    all(
        wall,
        LayerKind::Studs,
        &["Stolper 45x195", "Træskelet", "Stenderverk 198", "Stender/Isolasjon", "Bindingsverk"],
    );
    all(wall, LayerKind::Studs, &["Regelstomme 170", "Träreglar c600", "TRAEREGEL", "Lättregelvägg"]);
    all(wall, LayerKind::Insulation, &["Mineraluld", "Isolering 95", "Steinull", "Isolasjon - Myk", "Mineralull 45"]);
    all(wall, LayerKind::Masonry, &["Murværk", "Teglsten", "Betong 200", "Lättbetong", "Gasbeton"]);
    all(
        wall,
        LayerKind::Other,
        &["Gipsplade", "Dampspærre", "Gipsplate - Vegg", "Luft", "Luftspalt", "Full height panel"],
    );
    all(roof, LayerKind::Studs, &["Spær 45x245", "Taksperrer", "Takstol", "Hanebåndsspær"]);
    all(roof, LayerKind::Other, &["Taktegl", "Undertak"]);
    all(floor, LayerKind::Studs, &["Bjælkelag", "Bjelkelag 223", "Golvbjälkar"]);
}

#[test]
fn finnish() {
    all(wall, LayerKind::Studs, &["Puurunko 198", "Runkotolppa", "Teräsranka 66"]);
    all(wall, LayerKind::Insulation, &["Mineraalivilla", "Selluvilla", "Lämmöneriste"]);
    all(wall, LayerKind::Masonry, &["Betoni", "Kevytsoraharkko", "Betonirunko"]);
    all(wall, LayerKind::Other, &["Kipsilevy", "Höyrynsulku", "Vesieriste", "Ilmarako"]);
    all(roof, LayerKind::Studs, &["Kattotuolit k900"]);
    all(floor, LayerKind::Studs, &["Lattiavasat"]);
}

#[test]
fn czech_and_polish() {
    all(
        wall,
        LayerKind::Studs,
        &["Dřevěné sloupky 60/160", "Rámová konstrukce", "Słupki drewniane", "Szkielet drewniany", "Profil CW 75"],
    );
    all(
        wall,
        LayerKind::Insulation,
        &["Minerální vata", "Tepelná izolace", "Wełna mineralna", "Styropian EPS", "Celuloza"],
    );
    all(
        wall,
        LayerKind::Masonry,
        &["Cihla plná", "Železobeton", "ZELEZOBETON", "Cegła pełna", "Żelbet", "Pustak ceramiczny"],
    );
    all(
        wall,
        LayerKind::Other,
        &["Sádrokarton", "Parozábrana", "Płyta g-k", "Zárubeň", "Pustka powietrzna", "Ościeżnica"],
    );
    all(roof, LayerKind::Studs, &["Krokve 100/180", "Krokwie 8x20"]);
    all(floor, LayerKind::Studs, &["Stropní trámy", "Legary"]);
}

// Words of the trade from memory; the Portuguese ones as used in Portugal and in Brazil.
#[test]
fn portuguese() {
    all(wall, LayerKind::Studs, &["Montantes de madeira", "Prumos 50x150", "Estrutura leve de madeira"]);
    all(wall, LayerKind::Insulation, &["Lã mineral", "Lã de rocha 100", "Isolamento térmico", "Aglomerado de cortiça"]);
    all(wall, LayerKind::Masonry, &["Alvenaria de tijolo", "Betão armado", "Bloco de concreto", "Pedra natural"]);
    all(wall, LayerKind::Other, &["Placa de gesso", "Reboco", "Caixilho", "Madeira"]);
    all(roof, LayerKind::Studs, &["Caibros 60x160", "Asna de madeira"]);
    all(floor, LayerKind::Studs, &["Vigamento de madeira", "Barrotes"]);
}

// From memory: what the trade calls framing in each language besides the words above.
#[test]
fn other_names_of_framing() {
    let studs = [
        "Softwood, Lumber",
        "CLS timber 38x140",
        "Holzfachwerk",
        "Stahlfachwerk",
        "Holzpfosten",
        "Träregelstomme",
        "Trereisverk",
        "Houten regels",
        "Pan de bois",
        "Struttura a telaio",
        "Runkopuu 48x148",
        "Ruszt drewniany",
        "Dřevěný rošt",
    ];
    all(wall, LayerKind::Studs, &studs);
    all(wall, LayerKind::Other, &["Softwood, Siding", "Holz", "Pfosten", "Bois", "Legno", "Drewno", "Dřevo", "Trä"]);
    all(floor, LayerKind::Studs, &["Gîtage", "Vigas de madera"]);
}

#[test]
fn steel_is_known_as_such_in_every_language() {
    for name in [
        "Metal stud layer",
        "CW-Profil 75",
        "Stahlständer",
        "Montants acier",
        "Montantes de acero",
        "Montanti in acciaio",
        "Metal-stud",
        "Stålstolper",
        "Stenderverk stål",
        "Stålreglar",
        "Teräsranka",
        "Ocelové sloupky",
        "Słupki stalowe",
    ] {
        assert!(is_steel(name) && wall(name) == LayerKind::Studs, "{name}");
    }
    for name in ["Stahlbeton", "Wood stud", "Holzständer", "Timber frame"] {
        assert!(!is_steel(name), "{name}");
    }
}

#[test]
fn a_category_counts_where_the_name_leaves_it_open() {
    let of = |name, category| layer_kind(name, SurfaceKind::Wall, LayerCategory::of_text(category));
    assert_eq!(of("Spruce", "LoadBearing"), LayerKind::Studs);
    assert_eq!(of("Spruce", "Outer finish"), LayerKind::Other);
    assert_eq!(of("Cross-laminated timber", "LoadBearing"), LayerKind::Other);
    assert_eq!(of("Brick", "LoadBearing"), LayerKind::Masonry);
    assert_eq!(of("X-17", "LoadBearing"), LayerKind::Other);
    assert_eq!(of("X-17", "Insulation"), LayerKind::Insulation);
    assert_eq!(of("Vapour membrane", "Insulation"), LayerKind::Other);
    assert_eq!(of("Stud", "Insulation"), LayerKind::Studs);
}

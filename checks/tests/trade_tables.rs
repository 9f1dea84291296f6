//! The trade's tables against the sources that they were taken from.
//!
//! Grades: A standard · B handbook, manual or published table · C general library · D derivation.
//! Half of the last printed place is the tolerance everywhere, unless a line says why not.

#![expect(clippy::unwrap_used, reason = "a test that cannot read its tables must stop")]

use geometry::{Angle, Length};
use trade::*;

fn tables() -> &'static Tables {
    Tables::bundled().unwrap()
}

fn inches(value: f64) -> Length {
    Length::from_inches(value)
}

fn assert_inches(length: Length, printed: f64, half_place: f64) {
    let miss = (length.inches() - printed).abs();
    assert!(miss <= half_place, "{} in against {printed} in", length.inches());
}

fn assert_degrees(range: Range<Angle>, least: f64, greatest: f64) {
    assert!((range.least.degrees() - least).abs() <= 0.05, "{range:?}");
    assert!((range.greatest.degrees() - greatest).abs() <= 0.05, "{range:?}");
}

fn chosen_relief(diameter: Length, work: WorkGroup) -> Lookup<'static, ReliefRow> {
    tables().relief(diameter, ToolMaterial::HighSpeedSteel, work).unwrap()
}

/// Indicator drops on peripheral teeth: diameter, least and greatest relief, checking distance,
/// least and greatest drop, greatest land, in inches and degrees.
/// Source: Machinery's Handbook (from memory). Grade B.
const HANDBOOK_DROPS: [[f64; 7]; 9] = [
    [0.125, 15.0, 19.0, 0.010, 0.0018, 0.0026, 0.015],
    [0.25, 10.0, 14.0, 0.015, 0.0017, 0.0028, 0.020],
    [0.375, 10.0, 13.0, 0.015, 0.0020, 0.0029, 0.020],
    [0.5, 9.0, 12.0, 0.020, 0.0024, 0.0034, 0.025],
    [0.75, 8.0, 11.0, 0.030, 0.0030, 0.0046, 0.035],
    [1.0, 7.0, 10.0, 0.030, 0.0028, 0.0044, 0.035],
    [2.0, 6.0, 9.0, 0.030, 0.0026, 0.0043, 0.040],
    [4.0, 5.0, 8.0, 0.030, 0.0024, 0.0040, 0.060],
    [6.0, 4.0, 7.0, 0.030, 0.0019, 0.0035, 0.060],
];

#[test]
fn relief_table_holds_the_handbooks_drops() {
    for [diameter, least, greatest, distance, drop_min, drop_max, land] in HANDBOOK_DROPS {
        let relief = chosen_relief(inches(diameter), WorkGroup::Any);
        assert_eq!(relief.chosen.source, "machinerys-handbook");
        assert_eq!(relief.chosen.read, HowRead::Memory);
        let row = &relief.chosen.value;
        assert_degrees(row.primary, least, greatest);
        assert_inches(row.distance.unwrap(), distance, 0.0005);
        let drop = row.drop.unwrap();
        assert_inches(drop.least, drop_min, 0.00005);
        assert_inches(drop.greatest, drop_max, 0.00005);
        assert_inches(row.greatest_land.unwrap(), land, 0.0005);
    }
}

/// Source: derived; a flat ground at angle a on a circle of radius R stands below that circle, at
/// a distance c along it, by R − R cos a / cos(c/R − a). Grade D.
#[test]
fn drops_of_the_relief_table_follow_from_its_angles() {
    let rows = tables().table::<ReliefRow>().rows().iter().map(|row| &row.value);
    let mut checked = 0;
    for row in rows {
        let (Some(drop), Some(distance)) = (row.drop, row.distance) else { continue };
        let radius = row.diameters.least.unwrap().inches() / 2.0;
        let along = distance.inches() / radius;
        let expected = |angle: Angle| {
            let angle = angle.degrees().to_radians();
            radius - radius * angle.cos() / (along - angle).cos()
        };
        // One whole place, because the rows are from memory and the handbook rounds its own way;
        // the worst row, 2 in at 6 deg, is 0.95 of a place off.
        assert_inches(drop.least, expected(row.primary.least), 0.0001);
        assert_inches(drop.greatest, expected(row.primary.greatest), 0.0001);
        // Control: distance times tangent alone, which forgets the circle, is far outside.
        let flat = distance.inches() * row.primary.least.tan();
        assert!((flat - drop.least.inches()).abs() > 0.0001, "{row:?}");
        checked += 2;
    }
    assert_eq!(checked, 18);
}

/// Source: TC 9-524 (1996), chapter 5 (read). Grade B.
#[test]
fn relief_table_tells_hard_from_soft_as_the_circular_does() {
    let cases = [
        (WorkGroup::HardOrBrittle, 4.0, 3.0, 5.0),
        // The larger clearance is for cutters under 3 in, so 3 in itself has the smaller one.
        (WorkGroup::HardOrBrittle, 3.0, 3.0, 5.0),
        (WorkGroup::HardOrBrittle, 2.0, 7.0, 7.0),
        (WorkGroup::Soft, 4.0, 10.0, 10.0),
        (WorkGroup::Soft, 2.0, 12.0, 12.0),
        (WorkGroup::Aluminium, 4.0, 10.0, 10.0),
        (WorkGroup::Aluminium, 2.0, 12.0, 12.0),
    ];
    for (work, diameter, least, greatest) in cases {
        let relief = chosen_relief(inches(diameter), work);
        assert_eq!(
            (relief.chosen.source.as_str(), relief.chosen.read),
            ("tc-9-524", HowRead::Read)
        );
        assert_degrees(relief.chosen.value.primary, least, greatest);
    }
}

/// Source: Practical Treatise on Milling and Milling Machines (1910s), page 106 (read). Grade B.
#[test]
fn relief_table_shows_the_treatise_beside_the_handbook() {
    for (diameter, degrees) in [(2.0, 6.0), (4.0, 4.0), (6.0, 4.0)] {
        let relief = chosen_relief(inches(diameter), WorkGroup::Any);
        let beside = relief.others.iter().find(|row| row.source == "milling-treatise-1910s");
        assert_degrees(beside.unwrap().value.primary, degrees, degrees);
        assert!(!beside.unwrap().chosen);
    }
}

/// Source: T.O. 1-1A-9 / TM 43-0106, paragraph 2-94 (read). Grade B.
#[test]
fn stainless_rows_are_those_of_the_technical_order() {
    let relief = chosen_relief(inches(2.0), WorkGroup::Stainless);
    assert_degrees(relief.chosen.value.primary, 3.0, 10.0);
    let secondary = tables().secondary(WorkGroup::Stainless).unwrap();
    let primary = Angle::from_degrees(6.0);
    assert_degrees(secondary.chosen.value.secondary.for_primary(primary), 6.0, 12.0);
    let land = tables().land(inches(2.0), WorkGroup::Stainless).unwrap().chosen.value.land;
    assert_inches(land.least.unwrap(), 0.020, 0.0005);
    assert_inches(land.greatest.unwrap(), 0.025, 0.0005);
}

/// Sources: TC 9-524, chapter 5, and the treatise, page 106 (both read). Grade B.
#[test]
fn end_teeth_rows_are_those_of_both_manuals() {
    for teeth in EndTeeth::ALL {
        let relief = tables().end_relief(*teeth, WorkGroup::Any).unwrap();
        assert_degrees(relief.chosen.value.relief, 2.0, 2.0);
        let dish = tables().dish(*teeth).unwrap();
        let mut rows = std::iter::once(&dish.chosen).chain(&dish.others);
        let depth = rows.find_map(|row| row.value.dish.length()).unwrap();
        assert_inches(depth.least, 0.001, 0.0005);
        assert_inches(depth.greatest, 0.002, 0.0005);
    }
    let land = tables().land(inches(2.0), WorkGroup::Any).unwrap();
    let circular = land.others.iter().find(|row| row.source == "tc-9-524").unwrap();
    assert_eq!(circular.value.land.least, Some(inches(1.0 / 32.0)));
    assert_eq!(circular.value.land.greatest, Some(inches(1.0 / 16.0)));
}

/// Designation, upper and lower sieve in micrometres. Source: ISO 6106 / FEPA (read). Grade A.
const FEPA: [(u32, f64, f64); 12] = [
    (301, 300.0, 250.0),
    (251, 250.0, 212.0),
    (213, 212.0, 180.0),
    (181, 180.0, 150.0),
    (151, 150.0, 125.0),
    (126, 125.0, 106.0),
    (107, 106.0, 90.0),
    (91, 90.0, 75.0),
    (76, 75.0, 63.0),
    (64, 63.0, 53.0),
    (54, 53.0, 45.0),
    (46, 45.0, 38.0),
];

#[test]
fn grits_are_those_of_the_standard() {
    assert_eq!(tables().table::<GritRow>().rows().len(), FEPA.len());
    for (designation, upper, lower) in FEPA {
        let grit = &tables().grit(&format!("D{designation}")).unwrap().chosen.value;
        assert!((grit.upper_sieve.um() - upper).abs() <= 0.5, "{grit:?}");
        assert!((grit.lower_sieve.um() - lower).abs() <= 0.5, "{grit:?}");
    }
    let mesh = |grit: &str| tables().grit(grit).unwrap().chosen.value.mesh;
    assert_eq!(mesh("D301"), MeshPair { passes: 50, held_by: 60 });
    assert_eq!(mesh("D46"), MeshPair { passes: 325, held_by: 400 });
}

/// Source: ISO 6106 / FEPA: the designation is the upper sieve in micrometres plus 1, and each
/// sieve is the next row's upper one. No row of the source departs from it. Grade A.
#[test]
fn grits_follow_the_rule_of_the_standard() {
    let rows: Vec<_> = tables().table::<GritRow>().rows().iter().map(|row| &row.value).collect();
    for grit in &rows {
        assert_eq!(f64::from(grit.designation), grit.upper_sieve.um().round() + 1.0);
    }
    for pair in rows.windows(2) {
        assert_eq!(pair[0].lower_sieve, pair[1].upper_sieve);
        assert_eq!(pair[0].mesh.held_by, pair[1].mesh.passes);
    }
}

/// Source: a wheel maker's table (read): 100 is 4.4 ct/cm³ and 0.88 g/cm³. Grade B.
/// One carat is 0.2 g (metric carat, exact). Grade A.
#[test]
fn concentrations_are_those_of_the_maker() {
    let printed = [(25, 1.1), (50, 2.2), (75, 3.3), (100, 4.4), (125, 5.5), (150, 6.6)];
    for (number, carats) in printed {
        let row = &tables().concentration(number).unwrap().chosen.value;
        assert!((row.carats.ct_per_cm3() - carats).abs() <= 0.05, "{row:?}");
        assert!((row.grams.g_per_cm3() - carats * 0.2).abs() <= 0.005, "{row:?}");
        assert!((carats / 4.4 * 100.0 - f64::from(number)).abs() <= 0.05 / 4.4 * 100.0);
    }
    let hundred = &tables().concentration(100).unwrap().chosen.value;
    assert!((hundred.grams.g_per_cm3() - 0.88).abs() <= 0.005);
}

/// Source: an end mill maker's technical tips, sheet 051302 (read). Grade B.
#[test]
fn smallest_diameters_follow_the_makers_shares() {
    let printed = [
        (0.250, 15.0),
        (0.500, 15.0),
        (0.562, 12.0),
        (0.625, 12.0),
        (0.750, 10.0),
        (1.00, 10.0),
        (1.25, 8.0),
        (3.0, 8.0),
    ];
    for (nominal, percent) in printed {
        let smallest = tables().smallest_diameter(inches(nominal)).unwrap();
        let share = smallest.lookup.chosen.value.shrink.percent();
        assert!((share - percent).abs() <= 0.5, "{nominal}: {share}");
        assert_inches(smallest.diameter, nominal * (1.0 - percent / 100.0), 1e-9);
        assert_eq!(smallest.lookup.fit.nearest, None);
    }
    // In a gap between two printed ranges the nearer stands in and says so.
    let gap = tables().smallest_diameter(inches(0.7)).unwrap();
    assert!((gap.lookup.chosen.value.shrink.percent() - 10.0).abs() <= 0.5);
    assert!(gap.lookup.fit.nearest.is_some());
    // The sheet holds a regrind worth while from 1/4 in up.
    assert!(tables().smallest_diameter(inches(0.125)).is_none());
}

/// Source: a cutter maker's data page (read). Grade B.
#[test]
fn finishing_cutters_are_pulled_at_the_makers_wear_lands() {
    let printed = [
        (0.25, 0.004),
        // The page says "under" 3/8, 3/4 and 1 in.
        (0.375, 0.006),
        (0.5, 0.006),
        (0.75, 0.008),
        (0.875, 0.008),
        (1.0, 0.010),
        (1.125, 0.010),
    ];
    for (diameter, wear_land) in printed {
        let limit = tables().wear_limit(WearKind::Finishing, inches(diameter)).unwrap();
        assert_inches(limit.chosen.value.wear_land, wear_land, 0.0005);
    }
}

/// Source: ISO 8688-2:1989 (limits from memory): 0.3 mm uniform, 0.5 mm localised. Grade A.
#[test]
fn tool_life_limits_are_those_of_the_standard() {
    for (kind, limit_mm) in [(WearKind::Uniform, 0.3), (WearKind::Localised, 0.5)] {
        let limit = tables().wear_limit(kind, inches(0.5)).unwrap();
        assert!((limit.chosen.value.wear_land.mm() - limit_mm).abs() <= 0.05);
        assert_eq!(limit.chosen.read, HowRead::Memory);
    }
}

/// Source: a resharpener's tolerance sheet (read). Grade B.
#[test]
fn tolerances_are_those_of_the_resharpener() {
    let value = |kind: ToleranceKind, diameter: f64| {
        tables().tolerance(kind, inches(diameter)).unwrap().chosen.value.clone()
    };
    let finisher = value(ToleranceKind::FinisherDiameter, 0.5);
    assert_inches(finisher.above.unwrap(), 0.000, 0.0005);
    assert_inches(finisher.below.unwrap(), 0.002, 0.0005);
    let runout = [
        (0.005, 0.0001),
        (0.030, 0.0001),
        (0.031, 0.0002),
        (0.060, 0.0002),
        (0.061, 0.0003),
        (0.111, 0.0003),
        (0.112, 0.0005),
        (2.0, 0.0005),
    ];
    for (diameter, at_most) in runout {
        let row = value(ToleranceKind::FinisherRunout, diameter);
        assert_inches(row.at_most.unwrap(), at_most, 0.00005);
    }
    assert_inches(value(ToleranceKind::RougherRunout, 0.5).at_most.unwrap(), 0.0010, 0.00005);
    let taper = value(ToleranceKind::BackTaper, 0.5);
    assert_inches(taper.at_most.unwrap(), 0.0005, 0.00005);
    assert_inches(taper.over_length.unwrap(), 1.0, 1e-9);
}

/// Source: a supplier's technical page (read), m/min and mm. Grade B.
#[test]
fn superabrasive_speeds_and_depths_are_those_of_the_supplier() {
    let printed = [
        (Abrasive::Diamond, true, 1200.0, 1800.0),
        (Abrasive::Diamond, false, 700.0, 1200.0),
        (Abrasive::CubicBoronNitride, true, 1500.0, 2400.0),
        (Abrasive::CubicBoronNitride, false, 1200.0, 1500.0),
    ];
    for (abrasive, wet, least, greatest) in printed {
        let speed = tables().surface_speed(abrasive, wet).unwrap().chosen.value.speed.unwrap();
        assert!((speed.least.m_per_min() - least).abs() <= 0.5, "{speed:?}");
        assert!((speed.greatest.m_per_min() - greatest).abs() <= 0.5, "{speed:?}");
    }
    for (mesh, mm) in [(140, 0.025), (170, 0.020), (220, 0.015), (325, 0.010), (400, 0.005)] {
        let greatest = tables().infeed(mesh).unwrap().chosen.value.greatest;
        assert!((greatest.mm() - mm).abs() <= 0.0005);
    }
}

/// Source: other sellers' pages (read): CBN always wet. Grade B.
#[test]
fn advice_on_dry_cbn_stands_in_conflict() {
    let dry = tables().surface_speed(Abrasive::CubicBoronNitride, false).unwrap();
    let against = dry.others.iter().find(|row| row.source == "cbn-always-wet").unwrap();
    assert_eq!(against.value.speed, None);
    assert!(against.value.advice.as_deref().unwrap_or_default().contains("always"));
    let tags = [Tag::Abrasive(Abrasive::CubicBoronNitride), Tag::Circumstance(Circumstance::Dry)];
    let cautions = tables().cautions(Step::Grind, &tags);
    assert!(cautions.iter().any(|lookup| lookup.chosen.key == "cbn-dry"));
}

/// Source: a page on wheel speed (read): 6500 sfm is 1981 m/min. Grade B. The speeds of vitrified
/// wheels are common practice, from memory, and the row must say so.
#[test]
fn vitrified_speeds_are_in_the_unit_that_the_page_converts() {
    for abrasive in [Abrasive::AluminiumOxide, Abrasive::SiliconCarbide] {
        for wet in [true, false] {
            let lookup = tables().surface_speed(abrasive, wet).unwrap();
            assert_eq!(lookup.chosen.read, HowRead::Memory);
            let speed = lookup.chosen.value.speed.unwrap();
            assert!((speed.least.sfm() - 5000.0).abs() < 1e-6);
            assert!((speed.greatest.m_per_min() - 1981.0).abs() <= 0.5, "{speed:?}");
        }
    }
}

fn caution(id: &str) -> (String, String) {
    let rows = tables().table::<CautionRow>().rows();
    let row = rows.iter().find(|row| row.key == id).unwrap();
    (row.source.clone(), row.value.text.clone())
}

/// Sources: 29 CFR 1910.215 and 1910.242(b), Michigan R 408.10199 table 1, WAC 296-806-40516,
/// ANSI B7.1 (read). Grade A.
#[test]
fn cautions_give_the_figures_of_the_rules() {
    let printed: [(&str, &str, &[&str]); 8] = [
        ("rest-and-tongue", "osha-1910-215", &["1/8 in", "1/4 in"]),
        ("guard-cover", "osha-1910-215", &["spindle end", "nut", "flange", "75 percent"]),
        ("ring-test", "osha-1910-215", &["Ring-test", "before mounting"]),
        ("marked-speed", "osha-1910-215", &["marked on the wheel", "before mounting"]),
        ("guard-opening", "michigan-r-408-10199", &["180 degrees"]),
        ("flanges", "wac-296-806-40516", &["one third", "chucks are excepted"]),
        ("speed-of-worn-wheel", "ansi-b7-1", &["worn wheel", "surface speed"]),
        ("blowing-off", "osha-1910-242", &["below 30 psi", "chip guarding"]),
    ];
    for (id, source, figures) in printed {
        let (cited, text) = caution(id);
        assert_eq!(cited, source, "{id}");
        assert!(figures.iter().all(|figure| text.contains(figure)), "{id}: {text}");
    }
}

/// Source: a state labour department's hazard alert (read). Grade B.
#[test]
fn cautions_on_dust_say_what_the_alert_says() {
    let (source, dust) = caution("carbide-and-cobalt-dust");
    assert_eq!(source, "hard-metal-alert-95-1a");
    assert!(dust.contains("lungs") && dust.contains("Wet grinding alone is no protection"));
    assert!(caution("cobalt-in-coolant").1.contains("gathers dissolved cobalt"));
}

/// Source: Machinery Repairman, chapter 10 (read). Grade B.
#[test]
fn practice_holds_what_the_navy_teaches() {
    let head = tables().practice(PracticeItem::CupHeadOffSquare).unwrap();
    let navy = head.others.iter().find(|row| row.source == "navy-machinery-repairman").unwrap();
    let off_square = navy.value.amount.and_then(Amount::angle).unwrap();
    assert!((90.0 - off_square.middle().degrees() - 89.0).abs() <= 0.5);
    let face = tables().practice(PracticeItem::GreatestFace).unwrap();
    assert_eq!(face.chosen.source, "navy-machinery-repairman");
    let widest = face.chosen.value.amount.and_then(Amount::length).unwrap();
    assert_inches(widest.greatest, 0.125, 0.0005);
    let grow = tables().practice(PracticeItem::TeethGrow).unwrap();
    let turn = grow.chosen.value.amount.and_then(Amount::angle).unwrap();
    assert_degrees(turn, 180.0, 180.0);
}

/// Source: ISO 525 and ISO 6104 (read in part). Grade A.
#[test]
fn shapes_are_cups_and_discs_as_the_standards_draw_them() {
    for symbol in ["1", "1A1"] {
        let shape = tables().shape(symbol).unwrap();
        assert_eq!(shape.chosen.value.body, WheelBody::Disc);
        assert_eq!(shape.chosen.value.grinds_on, GrindsOn::Periphery);
    }
    for symbol in ["6", "11", "12", "6A2", "11V9", "12A2", "12V9"] {
        assert_eq!(tables().shape(symbol).unwrap().chosen.value.body, WheelBody::Cup, "{symbol}");
    }
    // The same first number names the same core in both systems.
    for (plain, layered) in [("6", "6A2"), ("11", "11V9"), ("12", "12A2"), ("12", "12V9")] {
        let name = |symbol: &str| tables().shape(symbol).unwrap().chosen.value.name.clone();
        assert!(name(layered).starts_with(&name(plain)), "{layered}");
    }
}

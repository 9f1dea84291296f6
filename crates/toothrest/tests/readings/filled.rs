//! Templates: open, they lack nothing but readings; filled in with what their plan expects, they
//! read back in full.

use geometry::Length;
use shop::plan::RegrindPlan;
use shop::record::{LandStage, Over, Readings};
use toothrest::files::{TemplateForm, read_readings, readings_template};

use super::plans::plans;

const FORMS: [(TemplateForm, &str); 2] =
    [(TemplateForm::Toml, "open.toml"), (TemplateForm::Csv, "open.csv")];

/// What the shank is said to run out, for no plan expects a figure.
const SHANK_MM: f64 = 0.004;

/// The figure to fill in for readings of a kind that are taken in one way.
fn expected(plan: &RegrindPlan, kind: &str, how: &str, count: usize) -> Length {
    let peripheral = plan.peripheral.as_ref().unwrap();
    let expected = &peripheral.expected;
    match (kind, how) {
        ("land", "after primary") => peripheral.secondary.land_before.unwrap(),
        ("land", "after secondary") => peripheral.secondary.land_after.unwrap(),
        ("diameter", "flat anvils") => expected.flat_anvils.unwrap(),
        ("diameter", _) => expected.diameter,
        ("indicator", _) => Length::ZERO,
        ("shank runout", _) => Length::from_mm(SHANK_MM),
        ("drop", _) => expected.drops[count].drop,
        other => panic!("a template asks for {other:?}"),
    }
}

fn written(length: Length) -> String {
    format!("{:.7} mm", length.mm())
}

/// Fills in a CSV template as a hand would, cell by cell.
fn filled_rows(plan: &RegrindPlan, text: &str) -> String {
    let mut drops = 0;
    let mut lines = Vec::new();
    for line in text.lines() {
        let mut cells: Vec<_> = line.split(',').map(str::to_owned).collect();
        if line.starts_with('#') || cells[5] != "-" {
            lines.push(line.to_owned());
            continue;
        }
        cells[5] = match cells[0].as_str() {
            "sign" => "heel rubbed".to_owned(),
            kind => written(expected(plan, kind, &cells[1], drops)),
        };
        drops += usize::from(cells[0] == "drop");
        lines.push(cells.join(","));
    }
    lines.join("\n")
}

/// Fills in a TOML template as a hand would, line by line.
fn filled_sections(plan: &RegrindPlan, text: &str) -> String {
    let (mut kind, mut how, mut drops) = ("", String::new(), 0);
    let mut lines = Vec::new();
    for line in text.lines() {
        kind = match line {
            "[[lands]]" => "land",
            "[[diameters]]" => "diameter",
            "[[indicator]]" => "indicator",
            "[[runout]]" => "shank runout",
            "[[drops]]" => "drop",
            _ => kind,
        };
        if let Some((_, word)) = line.split_once("stage = ").or(line.split_once("over = ")) {
            how = word.trim_matches('"').to_owned();
        }
        let open = line.contains("\"-\"") && !line.starts_with('#');
        let line =
            line.strip_prefix("# signs").map_or(line.to_owned(), |line| format!("signs{line}"));
        if !open {
            lines.push(line);
            continue;
        }
        let figure = written(expected(plan, kind, &how, drops));
        drops += usize::from(kind == "drop");
        lines.push(line.replace("\"-\"", &format!("\"{figure}\"")));
    }
    lines.join("\n")
}

fn near(found: Length, expected: Length) {
    assert!((found - expected).abs() < Length::from_mm(1e-6), "{found:?} is not {expected:?}");
}

/// Everything the plan expects has been read, twice along the flute.
fn check_filled(plan: &RegrindPlan, readings: &Readings, diameters_at_a_place: usize) {
    let peripheral = plan.peripheral.as_ref().unwrap();
    let teeth = usize::try_from(plan.request.cutter.teeth()).unwrap();
    let secondary = &peripheral.secondary;
    let stages = [
        (LandStage::AfterPrimary, secondary.land_before),
        (LandStage::AfterSecondary, secondary.grinding.as_ref().and(secondary.land_after)),
    ];
    let stages = stages.into_iter().filter_map(|(stage, land)| Some((stage, land?)));
    let stages: Vec<_> = stages.collect();
    assert_eq!(readings.lands().len(), stages.len());
    for (group, (stage, land)) in readings.lands().iter().zip(stages) {
        assert_eq!((group.stage, group.readings.len()), (stage, 2 * teeth));
        group.readings.iter().for_each(|reading| near(reading.width, land));
    }
    let odd = teeth % 2 == 1;
    let ways: &[Over] = if odd { &[Over::FlatAnvils, Over::VeeAnvil] } else { &[Over::Micrometer] };
    assert_eq!(readings.diameters().len(), ways.len());
    for (group, over) in readings.diameters().iter().zip(ways) {
        assert_eq!((group.over, group.readings.len()), (*over, 2 * diameters_at_a_place));
        let figure = expected(plan, "diameter", over.name(), 0);
        group.readings.iter().for_each(|reading| near(reading.reading, figure));
    }
    assert_eq!(readings.indicator()[0].readings.len(), 2 * teeth);
    near(readings.runouts()[0].reading, Length::from_mm(SHANK_MM));
    let drops = readings.drops().iter().flat_map(|group| &group.readings);
    let drops: Vec<_> = drops.collect();
    assert_eq!(drops.len(), peripheral.expected.drops.len());
    for (found, wanted) in drops.iter().zip(&peripheral.expected.drops) {
        near(found.drop, wanted.drop);
        // A distance is written to a tenth of a thou.
        assert!((found.distance - wanted.distance).abs() < Length::from_thou(0.051));
    }
    assert_eq!(readings.ground_order(), Some(peripheral.grinding.second_round.as_slice()));
    assert_eq!(readings.signs().len(), 1);
}

/// Places stand at about a tenth and nine tenths of what was ground of the straight flute.
fn check_places(plan: &RegrindPlan, readings: &Readings) {
    let cutter = &plan.request.cutter;
    let flute = cutter.flute_length() - plan.verdict.cut_back;
    let places: Vec<_> =
        readings.indicator()[0].readings.iter().map(|read| read.from_end).collect();
    let (first, last) = (places[0] / flute, *places.last().unwrap() / flute);
    assert!((0.07..0.35).contains(&first), "{first} of {}", cutter.number());
    assert!((0.86..0.95).contains(&last), "{last} of {}", cutter.number());
}

#[test]
fn every_plan_of_the_periphery_has_a_template_that_reads_back() {
    let mut count = 0;
    for plan in plans().iter().filter(|plan| plan.peripheral.is_some()) {
        let cutter = &plan.request.cutter;
        let teeth = usize::try_from(cutter.teeth()).unwrap();
        for (form, file) in FORMS {
            let text = readings_template(plan, form).unwrap();
            let open = read_readings(file, &text, cutter).unwrap_err();
            let nothing = "readings: nothing was read; write a land, a diameter or another reading";
            assert_eq!(open.to_string(), format!("{file}:1: {nothing}"), "{text}");
            let is_csv = form == TemplateForm::Csv;
            let filled =
                if is_csv { filled_rows(plan, &text) } else { filled_sections(plan, &text) };
            let readings = read_readings(file, &filled, cutter)
                .unwrap_or_else(|problems| panic!("{problems}\n{filled}"));
            let halved = is_csv && teeth.is_multiple_of(2);
            check_filled(plan, &readings, if halved { teeth / 2 } else { teeth });
            check_places(plan, &readings);
            let longest = text.lines().map(|line| line.chars().count()).max().unwrap();
            assert!(longest <= 100, "{longest} columns in\n{text}");
        }
        count += 1;
    }
    assert!(count >= 12, "only {count} plans grind the periphery");
}

#[test]
fn what_to_expect_stands_beside_each_part() {
    let plans = plans();
    let of = |number: &str| {
        let number = |plan: &&RegrindPlan| plan.request.cutter.number() == number;
        plans.iter().find(number).unwrap()
    };
    for (number, system) in
        [("K-117", geometry::System::Inch), ("K-145", geometry::System::Millimetre)]
    {
        let plan = of(number);
        for (form, _) in FORMS {
            let text = readings_template(plan, form).unwrap();
            for (kind, how) in
                [("land", "after primary"), ("land", "after secondary"), ("diameter", "micrometer")]
            {
                let figure = expected(plan, kind, how, 0).show(system);
                assert!(text.contains(&format!("# Expect {figure}.\n")), "{figure} in\n{text}");
            }
            let first = &plan.peripheral.as_ref().unwrap().expected.drops[0];
            let drop = format!("# Expect {} at ", first.drop.show(system));
            assert!(text.contains(&drop), "{drop} in\n{text}");
        }
    }
}

#[test]
fn a_plan_that_grinds_no_periphery_has_no_template() {
    let plans = plans();
    let idle: Vec<_> = plans.iter().filter(|plan| plan.peripheral.is_none()).collect();
    assert!(!idle.is_empty());
    for (form, _) in FORMS {
        assert!(idle.iter().all(|plan| readings_template(plan, form).is_none()));
    }
}

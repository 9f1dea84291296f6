//! What sound files hold, whatever form they are written in.

use geometry::Length;
use shop::record::{
    DiameterGroup, DiameterReading, DropGroup, DropReading, Holding, IndicatorGroup,
    IndicatorReading, Instrument, LandGroup, LandReading, LandStage, Over, Readings, ReadingsDraft,
    RunoutOf, RunoutReading, TeethRun, WearSign,
};
use toothrest::files::read_readings;

use super::pages::{GRID, ROWS, SECTIONS, Sound, said};
use super::plans::cutter;

fn read(sound: Sound) -> Readings {
    read_text(sound, sound.text)
}

fn read_text(sound: Sound, text: &str) -> Readings {
    let read = read_readings(sound.file, text, &cutter(sound.cutter));
    read.unwrap_or_else(|problems| panic!("{problems}"))
}

fn inch(inches: f64) -> Length {
    Length::from_inches(inches)
}

fn by(resolution: f64) -> Instrument {
    Instrument { resolution: inch(resolution), repeatability: None }
}

/// What the sound files say, written out by hand.
fn whole() -> ReadingsDraft {
    let land = |tooth, from_end, width| LandReading {
        tooth,
        from_end: inch(from_end),
        width: inch(width),
    };
    let diameter = |from_end, tooth, reading| DiameterReading {
        from_end: inch(from_end),
        tooth,
        reading: inch(reading),
    };
    let height =
        |tooth, height| IndicatorReading { tooth, from_end: inch(0.14), height: inch(height) };
    let runout = |of, held, from_end, reading, resolution| RunoutReading {
        of,
        held,
        from_end: Some(inch(from_end)),
        reading: inch(reading),
        instrument: by(resolution),
    };
    ReadingsDraft {
        cutter: Some("K-117".to_owned()),
        teeth_run: Some(TeethRun::Heelward),
        ground_order: vec![3, 1, 2, 4],
        lands: vec![LandGroup {
            stage: LandStage::AfterPrimary,
            instrument: Instrument { repeatability: Some(inch(0.0005)), ..by(0.001) },
            readings: vec![
                land(1, 0.12, 0.041),
                land(2, 0.12, 0.042),
                land(4, 0.12, 0.043),
                land(1, 1.1, 0.044),
                land(2, 1.1, 0.045),
                land(3, 1.1, 0.046),
                land(4, 1.1, 0.047),
            ],
        }],
        diameters: vec![DiameterGroup {
            over: Over::Micrometer,
            anvil_width: Some(inch(0.25)),
            instrument: by(0.0001),
            readings: vec![
                diameter(0.13, None, 0.4878),
                diameter(1.12, Some(1), 0.4880),
                diameter(1.12, Some(2), 0.4881),
            ],
        }],
        indicator: vec![IndicatorGroup {
            held: Holding::ByShank,
            instrument: by(0.0002),
            readings: vec![height(1, 0.0), height(2, 0.0003), height(3, -0.0004)],
        }],
        runouts: vec![
            runout(RunoutOf::Shank, Holding::AsGround, 2.5, 0.0006, 0.00005),
            runout(RunoutOf::Edges, Holding::ByShank, 0.15, 0.0007, 0.00006),
        ],
        drops: vec![DropGroup {
            instrument: by(0.00007),
            readings: vec![DropReading {
                tooth: Some(2),
                distance: inch(0.018),
                drop: inch(0.0025),
            }],
        }],
        signs: vec![WearSign::HeelRubbed, WearSign::Chipped],
        looked_again: true,
    }
}

#[test]
fn sections_and_rows_hold_every_kind_of_reading() {
    assert_eq!(read(SECTIONS).draft(), whole());
    assert_eq!(read(ROWS).draft(), whole());
}

#[test]
fn a_grid_holds_lands() {
    let draft = read(GRID).draft();
    let mm = Length::from_mm;
    let land =
        |tooth, from_end, width| LandReading { tooth, from_end: mm(from_end), width: mm(width) };
    let expected = ReadingsDraft {
        cutter: Some("K-117".to_owned()),
        ground_order: vec![3, 1, 2, 4],
        lands: vec![LandGroup {
            stage: LandStage::AfterSecondary,
            instrument: Instrument { resolution: mm(0.02), repeatability: Some(mm(0.01)) },
            readings: vec![
                land(1, 3.0, 0.51),
                land(1, 25.0, 0.52),
                land(2, 3.0, 0.53),
                land(3, 3.0, 0.54),
                land(3, 25.0, 0.55),
                land(4, 3.0, 0.56),
                land(4, 25.0, 0.57),
            ],
        }],
        ..ReadingsDraft::default()
    };
    assert_eq!(draft, expected);
}

/// The same file as a spreadsheet of another country, another system or another habit writes it.
#[test]
fn forms_of_writing_change_nothing() {
    let rows = ROWS.text;
    let headings = "kind,how,tooth,from_end,distance,reading,resolution,repeatability,anvil_width";
    let bare = |text: &str| text.replace(" in,", ",").replace(" in\n", "\n");
    let united = "kind,how,tooth,from_end (in),distance[in],reading ( IN ),resolution (\"\"),\
                  repeatability (in),anvil_width (in)";
    let united = united.replace("(\"\")", "(inch)");
    let decimal_commas = rows.replace(',', ";").replace("0.", "0,").replace("1.1", "1,1");
    for (habit, text) in [
        ("a mark at the head", format!("\u{feff}{rows}")),
        ("two characters at the end of a line", rows.replace('\n', "\r\n")),
        ("no end of the last line", rows.trim_end().to_owned()),
        ("semicolons", rows.replace(',', ";")),
        ("decimal commas", decimal_commas),
        ("capitals", rows.replace(headings, &headings.to_uppercase())),
        ("spaces for underscores", rows.replace(headings, &headings.replace('_', " "))),
        ("units in the headings", bare(rows).replace(headings, &united)),
        ("space around the cells", rows.replace(',', " , ")),
        ("dashes", rows.replace(",-,", ",\u{2013},")),
        ("filled up", rows.replace('\n', ",,\n") + ",,,,,,,,,,\n"),
        ("an order in quotation marks", rows.replace("3 1 2 4", "\"3, 1, 2, 4\"")),
        ("underscores in kinds", rows.replace("shank runout", "Shank_Runout")),
        ("blank lines", rows.replace('\n', "\n\n")),
    ] {
        assert_eq!(said(ROWS, &text), "nothing", "{habit}:\n{text}");
        assert_eq!(read_text(ROWS, &text).draft(), whole(), "{habit}:\n{text}");
    }
}

#[test]
fn columns_may_stand_in_any_order() {
    let turned = |line: &str| {
        if line.starts_with('#') {
            return line.to_owned();
        }
        let cells: Vec<_> = line.split(',').collect();
        cells.into_iter().rev().collect::<Vec<_>>().join(",")
    };
    let text: Vec<_> = ROWS.text.lines().map(turned).collect();
    assert_eq!(read_text(ROWS, &text.join("\n")).draft(), whole());
}

#[test]
fn a_grid_takes_its_unit_from_the_first_heading_and_commas_between_semicolons() {
    let expected = read(GRID).draft();
    let united = GRID.text.replace("tooth,", "Tooth [mm],");
    let bare = united.replace("1 mm,", "1,").replace("3 mm, -", "3, -");
    assert_eq!(read_text(GRID, &bare).draft(), expected);
    let semicolons = GRID.text.replace(", ", "; ").replace("0.", "0,");
    assert_eq!(read_text(GRID, &semicolons).draft(), expected);
}

#[test]
fn a_mark_at_the_head_of_toml_is_passed_over() {
    let text = format!("\u{feff}{}", SECTIONS.text);
    assert_eq!(read_text(SECTIONS, &text).draft(), whole());
}

/// What is left out of a row about its instrument is taken from the latest row of its kind.
#[test]
fn an_instrument_lasts_until_the_next() {
    let text = "\
# resolution: 0.02 mm
kind,tooth,from_end,reading,resolution,repeatability,anvil_width
land,1,3 mm,0.51 mm,,,
diameter,,3 mm,12.40 mm,0.001 mm,,6 mm
land,2,3 mm,0.52 mm,0.01 mm,0.004 mm,
diameter,,5 mm,12.41 mm,,,
land,3,3 mm,0.53 mm,,,
diameter,,7 mm,12.42 mm,0.002 mm,,
land,4,3 mm,0.54 mm,,0.005 mm,
";
    let draft = read_text(ROWS, text).draft();
    let mm = Length::from_mm;
    let lands = draft.lands.iter().map(|group| {
        let teeth: Vec<_> = group.readings.iter().map(|land| land.tooth).collect();
        (group.instrument.resolution, group.instrument.repeatability, teeth)
    });
    let expected = [
        (mm(0.02), None, vec![1]),
        (mm(0.01), Some(mm(0.004)), vec![2, 3]),
        (mm(0.01), Some(mm(0.005)), vec![4]),
    ];
    assert_eq!(lands.collect::<Vec<_>>(), expected);
    let diameters = draft
        .diameters
        .iter()
        .map(|group| (group.instrument.resolution, group.anvil_width, group.readings.len()));
    let expected = [(mm(0.001), Some(mm(6.0)), 2), (mm(0.002), None, 1)];
    assert_eq!(diameters.collect::<Vec<_>>(), expected);
}

#[test]
fn groups_without_readings_are_no_fault() {
    let text = "signs = [\"chipped\"]\n[lands]\nresolution = \"0.02 mm\"\n[[lands.at]]\n\
                from_end = \"3 mm\"\nteeth = [\"-\", \"-\", \"-\", \"-\"]\n\
                [drops]\nresolution = \"0.01 mm\"\n";
    let draft = read_text(SECTIONS, text).draft();
    assert_eq!((draft.lands.len(), draft.lands[0].readings.len()), (1, 0));
    assert_eq!((draft.drops.len(), draft.drops[0].readings.len()), (1, 0));
    let text = "kind,reading,tooth,from_end,resolution\nsign,chipped,,,\nland,-,1,3 mm,0.02 mm\n";
    let draft = read_text(ROWS, text).draft();
    assert_eq!((draft.lands.len(), draft.lands[0].readings.len()), (1, 0));
}

//! What the sheet says of planted faults, in the words of the bench.

use super::bench::{ALL, Bench, HALF_INCH, Planted, Taken, readings};

/// The sheet of a grind with planted faults must say all of this.
fn check_said(bench: &Bench, planted: &Planted, expected: &[&str]) {
    let sheet = bench.sheet(&readings(&bench.plan, planted, ALL));
    let flowing = sheet.split_whitespace().collect::<Vec<_>>().join(" ");
    for words in expected {
        assert!(flowing.contains(words), "{words} is missing from\n{sheet}");
    }
}

#[test]
fn heavy_toward_the_shank_is_taper_and_a_wheel_to_dress() {
    // 0.06 mm in 31.75 mm of flute is 6.5 minutes, nearest to one mark of ten; the shank of a
    // right-hand cutter lies to the right, so that its end leaves the wheel clockwise.
    let expected = [
        "VERDICT TAPER: diameter 0.0047",
        "smaller at the shank end of the flute than at the tip",
        "Lands heavy toward the shank, alike on every tooth: taper, and a wheel that wants dress",
        "1. TABLE: \"table top\" by 10 min, 1 mark (worked out 6.5 ±",
        "clockwise seen from above. The shank's end away from the wheel. Dress the wheel",
        // The mark stands 3.5 minutes off: twice 31.75 mm times their tangent is 0.0647 mm by 6.5
        // minutes as they are shown, and 0.0651 mm by those of 0.0047 in.
        "The nearest mark leaves 0.0026 in of taper on diameter, 0.0006 in is allowed: set it \
         between the marks, by an indicator over a test bar",
    ];
    check_said(&Bench::of(HALF_INCH), &Planted { taper: -0.06, ..Planted::default() }, &expected);
}

#[test]
fn a_left_hand_cutter_is_swung_the_other_way() {
    let bench = Bench::of("k-134-left-hand");
    // 0.05 mm in 22 mm is 7.8 minutes.
    let expected =
        ["\"table top\" by 10 min, 1 mark (worked out 7.8 ±", "clockwise seen from above"];
    let out = Planted { taper: 0.05, ..Planted::default() };
    check_said(&bench, &out, &expected);
    check_said(&bench, &out, &["clockwise seen from above. The shank's end toward the wheel."]);
    let sheet = bench.sheet(&readings(&bench.plan, &out, ALL));
    assert!(!sheet.contains("counterclockwise"), "{sheet}");
}

#[test]
fn a_taper_below_half_a_mark_is_said_to_be_too_small_for_the_dial() {
    let expected = [
        "1. TABLE: Too small for the dial (3.2 ±",
        "less than half a mark of \"table top\"",
        "taper on diameter -0.002",
        "TOO MUCH [resharpener-tolerances]",
    ];
    check_said(&Bench::of(HALF_INCH), &Planted { taper: -0.03, ..Planted::default() }, &expected);
}

#[test]
fn what_is_good_enough_is_left() {
    let expected = [
        "DO NEXT Nothing that must be corrected.",
        "- Leave the taper: 0.0005 in of 0.0006 in allowed [resharpener-tolerances].",
    ];
    check_said(&Bench::of(HALF_INCH), &Planted { taper: 0.006, ..Planted::default() }, &expected);
}

#[test]
fn every_land_different_is_a_shank_not_seated() {
    // An offset of 0.02 mm swings an indicator by 0.04 mm, 0.00157 in.
    let expected = [
        "VERDICT RUNOUT: the shank swung 0.00158 ±",
        "Every land different: the shank was not seated true.",
        "1. SHANK: Take it out, clean collet, bore and shank",
        "runout of the edges 0.001",
    ];
    let planted = Planted { offset: (0.016, 0.012), ..Planted::default() };
    check_said(&Bench::of(HALF_INCH), &planted, &expected);
}

#[test]
fn one_land_narrower_is_a_tooth_that_left_its_rest() {
    let expected = [
        "VERDICT TOOTH 2 ALONE: stands out 0.00079 ±",
        "One land narrower than its like: that tooth left its rest.",
        "1. TOOTH: Tooth 2 stands out",
        "go over it again at the same mark with no feed",
    ];
    let planted = Planted { slip: Some((2, 0.02)), ..Planted::default() };
    check_said(&Bench::of(HALF_INCH), &planted, &expected);
}

#[test]
fn a_tooth_ground_too_deep_is_followed_by_the_others() {
    // The saddle's dial is divided to 0.0005 in; 0.025 mm is nearly two of them.
    let expected = [
        "VERDICT TOOTH 3 ALONE: ground too deep, 0.00098 ±",
        "1. TOOTH: \"saddle handwheel\" by 0.0010 in, 2 marks",
        "feed the others down to it",
    ];
    let planted = Planted { slip: Some((3, -0.025)), ..Planted::default() };
    check_said(&Bench::of(HALF_INCH), &planted, &expected);
}

#[test]
fn lands_that_shrink_in_the_order_of_grinding_are_a_wheel_that_wore() {
    let expected = [
        "VERDICT DRIFT ROUND THE CUTTER: last tooth ground 0.0149 ±",
        "farther out than the first, on the radius",
        "the wheel wore on the way round",
        "1. SECOND ROUND: ",
    ];
    let planted = Planted { drift: 0.015, ..Planted::default() };
    check_said(&Bench::of("k-145-straight-tooth"), &planted, &expected);
}

#[test]
fn another_size_goes_on_the_tag_and_into_the_file() {
    let bench = Bench::of(HALF_INCH);
    let planted = Planted { size: -0.02, ..Planted::default() };
    let expected = [
        "VERDICT SIZE: diameter 0.00157 ±",
        "1. TAG: ",
        "write 0.4862 in on the tag",
        "diameter = \"0.4862 in\"",
    ];
    check_said(&bench, &planted, &expected);
}

#[test]
fn a_size_that_was_asked_for_is_fed_on_to() {
    let cutter = super::bench::example(&format!("cutters/{HALF_INCH}.toml"));
    let bench = Bench::with(&cutter, Some("0.475 in"));
    let planted = Planted { size: 0.02, ..Planted::default() };
    let expected = ["1. FEED: \"saddle handwheel\" by 0.0010 in, 2 marks", "feed on"];
    let taken = Taken { lands: false, ..ALL };
    let sheet = bench.sheet(&readings(&bench.plan, &planted, taken));
    let flowing = sheet.split_whitespace().collect::<Vec<_>>().join(" ");
    expected.iter().for_each(|words| assert!(flowing.contains(words), "{words}: {sheet}"));
}

#[test]
fn a_size_that_was_planned_beyond_its_limit_is_not_handed_back_unsaid() {
    let cutter = super::bench::example(&format!("cutters/{HALF_INCH}.toml"));
    let bench = Bench::with(&cutter, Some("0.475 in"));
    let beyond = bench.plan.peripheral.as_ref().unwrap().expected.diameter;
    assert!(beyond.inches() > 0.475, "the dial comes nearest above the size asked for");
    let taken = Taken { lands: false, ..ALL };
    let sheet = bench.sheet(&readings(&bench.plan, &Planted::default(), taken));
    assert!(sheet.contains("BUT it is as planned, and the diameter planned is not"), "{sheet}");
    assert!(sheet.contains("DO NEXT    Nothing went otherwise than planned"), "{sheet}");
}

#[test]
fn a_bad_reading_is_set_aside_by_name() {
    let expected = [
        "VERDICT SOUND. ",
        "SET ASIDE The land of tooth 3, 1.125 in from the end, after primary, reads ",
        "Take it again.",
    ];
    let planted = Planted { misread: 0.25, ..Planted::default() };
    check_said(&Bench::of(HALF_INCH), &planted, &expected);
}

#[test]
fn what_cannot_be_told_gets_a_reading_that_tells() {
    let bench = Bench::of(HALF_INCH);
    let readings = "[[lands]]\nresolution = \"0.001 in\"\n[[lands.at]]\nfrom_end = \"1/8 in\"\n\
                    teeth = [\"0.042 in\", \"0.043 in\", \"-\", \"-\"]\n\
                    [[diameters]]\nresolution = \"0.0001 in\"\n[[diameters.at]]\n\
                    from_end = \"1/8 in\"\nreading = \"0.4869 in\"\n";
    let sheet = bench.sheet(readings);
    for words in [
        "VERDICT    CANNOT TELL: either",
        "\n           1. ",
        "\n           2. ",
        "Do not correct anything on a guess: first take the reading under TELL APART",
        "TELL APART Read the ",
        "NOT SEEN   ",
        "0.125 in   0.0420   0.0430   -        -",
    ] {
        assert!(sheet.contains(words), "{words} is missing from\n{sheet}");
    }
}

#[test]
fn little_read_is_not_called_sound_without_a_word() {
    let bench = Bench::of(HALF_INCH);
    let readings = "[[diameters]]\nresolution = \"0.0001 in\"\n[[diameters.at]]\n\
                    from_end = \"1/8 in\"\nreading = \"0.4878 in\"\n";
    let sheet = bench.sheet(readings);
    assert!(sheet.contains("SOUND AS FAR AS READ."), "{sheet}");
    assert!(sheet.contains("NOT SEEN   Taper: read a second place along the flute."), "{sheet}");
}

#[test]
fn signs_alone_change_the_next_relief() {
    let sheet = Bench::of(HALF_INCH).sheet("signs = [\"metal built up on land\"]\n");
    for words in [
        "VERDICT    NOTHING WAS READ",
        "NEXT TIME  Relief 11.00 deg instead of 10.00 deg",
        "Write next_primary = \"11.00 deg\" under [as_ground] in its file",
    ] {
        assert!(sheet.contains(words), "{words} is missing from\n{sheet}");
    }
}

//! What is written reads back as an equal record, whatever the record holds.

use std::path::PathBuf;

use geometry::{Angle, Length};
use proptest::prelude::*;
use shop::learn::{CutterGrind, CutterHistory, Known, WheelGrind, WheelHistory};
use shop::record::{
    AsGround, Bond, Coolant, Cutter, CutterDraft, EndForm, Hand, Named, Profile, Special,
    ToothWear, Wear, WearDraft, WearSign, Wheel, WheelDraft, WheelShape,
};
use toothrest::files::{
    cutter_text, history_text, load, machine_text, read_cutter, read_history, read_machine,
    read_readings, read_wear, read_wheels, readings_text, wear_text, wheel_text,
};
use trade::{Abrasive, ToolMaterial};

fn folder(name: &str) -> Vec<PathBuf> {
    let folder: PathBuf =
        [env!("CARGO_MANIFEST_DIR"), "..", "..", "examples", name].iter().collect();
    let entries = std::fs::read_dir(folder).unwrap();
    entries.map(|entry| entry.unwrap().path()).collect()
}

fn reread_cutter(cutter: &Cutter) -> Cutter {
    let text = cutter_text(cutter);
    read_cutter("written", &text).unwrap_or_else(|problems| panic!("{problems}\n{text}"))
}

fn reread_wheel(wheel: &Wheel) -> Vec<Wheel> {
    let text = wheel_text(wheel);
    read_wheels("written", &text).unwrap_or_else(|problems| panic!("{problems}\n{text}"))
}

/// Readings are of a cutter: every example of readings that fits one reads back from what is
/// written of it.
#[test]
fn readings_are_written_as_they_read() {
    let cutters: Vec<Cutter> =
        folder("cutters").iter().filter_map(|path| load(path, read_cutter).ok()).collect();
    let mut tried = 0;
    for path in folder("readings") {
        let name = path.display().to_string();
        let text = std::fs::read_to_string(&path).unwrap();
        let read = cutters.iter().find_map(|cutter| {
            let readings = read_readings(&name, &text, cutter).ok()?;
            let is_named = readings.draft().cutter.as_deref() == Some(cutter.number());
            is_named.then_some((cutter, readings))
        });
        let Some((cutter, readings)) = read else { continue };
        let written = readings_text(&readings.draft(), cutter);
        let again = read_readings("written.toml", &written, cutter);
        let again = again.unwrap_or_else(|problems| panic!("{problems}\n{written}"));
        assert_eq!(again, readings, "{name}\n{written}");
        tried += 1;
    }
    assert!(tried >= 5, "only {tried} examples of readings name their cutter");
}

#[test]
fn every_example_is_written_as_it_reads() {
    for path in folder("cutters") {
        let cutter = load(&path, read_cutter).unwrap();
        assert_eq!(reread_cutter(&cutter), cutter, "{}", path.display());
    }
    for path in folder("wheels") {
        for wheel in load(&path, read_wheels).unwrap() {
            assert_eq!(reread_wheel(&wheel), [wheel], "{}", path.display());
        }
    }
    for path in folder("machines") {
        let machine = load(&path, read_machine).unwrap();
        let text = machine_text(&machine);
        let reread = read_machine("written", &text);
        let reread = reread.unwrap_or_else(|problems| panic!("{problems}\n{text}"));
        assert_eq!(reread, machine, "{}", path.display());
    }
}

#[test]
fn a_history_is_written_as_it_reads() {
    let cutters = folder("cutters");
    let path = cutters.iter().find(|path| path.ends_with("k-117-half-inch-dull.toml")).unwrap();
    let cutter = load(path, read_cutter).unwrap();
    for path in folder("history") {
        let known = load(&path, |file, text| read_history(file, text, &cutter)).unwrap();
        let text = history_text(Some(cutter.number()), &known);
        assert_eq!(read_history("written", &text, &cutter).unwrap(), known, "{text}");
        assert!(text.contains("fed = \"0.006 in\"\n"), "{text}");
    }
}

#[test]
fn wear_of_its_own_is_written_as_it_reads() {
    let cutters = folder("cutters");
    let path = cutters.iter().find(|path| path.ends_with("k-126-one-inch-powder.toml")).unwrap();
    let sharp = load(path, read_cutter).unwrap();
    let wear = &folder("wear")[0];
    let worn = load(wear, |file, text| read_wear(file, text, &sharp)).unwrap();
    let text = wear_text(worn.wear().unwrap());
    assert_eq!(read_wear("written", &text, &sharp).unwrap(), worn);
    assert!(text.contains("wear_land = \"0.009 in\"\n"), "{text}");
}

/// The whole text of one cutter, so that its form is seen and not only read.
#[test]
fn a_cutter_is_written_in_the_units_of_its_making() {
    let cutters = folder("cutters");
    let path = cutters.iter().find(|path| path.ends_with("k-117-half-inch-dull.toml")).unwrap();
    let text = cutter_text(&load(path, read_cutter).unwrap());
    let start = "[cutter]\nnumber = \"K-117\"\ndiameter = \"1/2 in\"\nteeth = 4\n\
                 hand = \"right\"\nhelix = \"30 deg\"\nhelix_hand = \"right\"\nrake = \"10 deg\"\n\
                 material = \"HSS\"\nend = \"square\"\nprofile = \"plain\"\n\
                 flute_length = \"1-1/4 in\"\noverall_length = \"3-1/4 in\"\n";
    assert!(text.starts_with(start), "{text}");
    assert!(text.contains("\n[as_ground]\ndiameter = \"0.494 in\"\n"), "{text}");
    assert!(text.contains("\n[[wear.tooth]]\ntooth = 1\nwear_land = "), "{text}");
}

#[test]
fn names_with_marks_of_toml_in_them_are_kept() {
    for name in [r#"K "1""#, r"K\n \u0041", "Ø½ – 中 \u{202e}", "'''", "#a = [b]", r#"""""#] {
        let draft = CutterDraft { number: name.to_owned(), ..sound_draft() };
        let cutter = CutterDraft { coating: Some(name.to_owned()), ..draft }.build().unwrap();
        assert_eq!(reread_cutter(&cutter), cutter, "{name}");
    }
}

fn sound_draft() -> CutterDraft {
    read_cutter("sound", include_str!("sound/cutter.toml")).unwrap().draft()
}

/// Lengths as they come: round in either system, a fraction, or any number at all.
fn length(mm_max: f64) -> BoxedStrategy<Length> {
    let share = 0.0_f64..1.0;
    prop_oneof![
        share.clone().prop_map(move |share| Length::from_mm(share * mm_max)),
        share.clone().prop_map(move |share| Length::from_mm((share * mm_max * 1e3).round() / 1e3)),
        share.clone().prop_map(move |share| Length::from_inches(
            (share * mm_max / 25.4 * 1e5).round() / 1e5
        )),
        share.prop_map(move |share| Length::from_inches(
            (share * mm_max / 25.4 * 64.0).ceil() / 64.0
        )),
    ]
    .boxed()
}

fn angle(degrees_max: f64) -> BoxedStrategy<Angle> {
    let share = 0.0_f64..1.0;
    prop_oneof![
        share
            .clone()
            .prop_map(move |share| Angle::from_radians((share * degrees_max).to_radians())),
        share
            .clone()
            .prop_map(move |share| Angle::from_minutes((share * degrees_max * 60.0).round())),
        share.prop_map(move |share| Angle::from_degrees((share * degrees_max * 4.0).round() / 4.0)),
    ]
    .boxed()
}

/// A name that no reader would trim.
fn name() -> BoxedStrategy<String> {
    "[^\\p{C}\\p{Z}]{1,8}( ?[\"'\\\\#=\\[a-zØ中]{1,8}){0,3}".boxed()
}

fn one_of<T: Named + std::fmt::Debug>() -> BoxedStrategy<T> {
    prop::sample::select(T::ALL.to_vec()).boxed()
}

fn maybe<T: Clone + std::fmt::Debug + 'static>(of: BoxedStrategy<T>) -> BoxedStrategy<Option<T>> {
    prop::option::of(of).boxed()
}

prop_compose! {
    fn as_ground()(
        diameter in length(20.0),
        primary in angle(30.0),
        secondary in angle(60.0),
        land in length(1.0),
        next_primary in maybe(angle(30.0)),
    ) -> AsGround {
        AsGround { diameter, primary, secondary, land, next_primary }
    }
}

prop_compose! {
    fn teeth()(
        number in name(),
        diameter in length(20.0),
        teeth in 2_u32..9,
        hand in one_of::<Hand>(),
        helix in angle(60.0),
        helix_hand in one_of::<Hand>(),
        rake in angle(40.0),
        material in one_of::<ToolMaterial>(),
        corner in length(2.0),
        end in 0..3,
        profile in one_of::<Profile>(),
    ) -> CutterDraft {
        let end = [EndForm::Square, EndForm::Ball, EndForm::CornerRadius(corner)][end as usize];
        let rake = rake - Angle::from_degrees(15.0);
        let helix_hand = Some(helix_hand);
        CutterDraft {
            number, diameter, teeth, hand, helix, helix_hand, rake, material, end, profile,
            ..sound_draft()
        }
    }
}

prop_compose! {
    fn special()(
        gaps in prop::collection::vec(angle(35.0), 9),
        tooth_helix in prop::collection::vec(angle(60.0), 9),
        has in any::<[bool; 2]>(),
        taper in angle(9.0),
    ) -> Special {
        let places = gaps.iter().scan(Angle::ZERO, |at, gap| {
            let here = *at;
            *at = *at + *gap + Angle::from_degrees(3.0);
            Some(here)
        });
        let index = if has[0] { places.collect() } else { Vec::new() };
        Special { index, tooth_helix: if has[1] { tooth_helix } else { Vec::new() }, taper }
    }
}

prop_compose! {
    fn cutter()(
        teeth in teeth(),
        flute_length in length(60.0),
        overall_length in length(120.0),
        shank_diameter in length(20.0),
        core_diameter in maybe(length(12.0)),
        tooth_thickness in maybe(length(6.0)),
        centre_cutting in any::<bool>(),
        coating in maybe(name()),
        work in name(),
        regrinds in 0_u32..200,
        unequal_index in maybe(any::<bool>().boxed()),
        special in special(),
        as_ground in maybe(as_ground().boxed()),
    ) -> CutterDraft {
        CutterDraft {
            flute_length, overall_length, shank_diameter, core_diameter, tooth_thickness,
            centre_cutting, coating, work, regrinds, unequal_index, special, as_ground, ..teeth
        }
    }
}

/// What of a draft is unsound is left out, so that most drafts become a cutter.
fn built(mut draft: CutterDraft) -> Option<Cutter> {
    let teeth = draft.teeth as usize;
    draft.special.index.truncate(teeth);
    draft.special.tooth_helix.truncate(teeth);
    let Err(errors) = draft.clone().build() else { return draft.build().ok() };
    for error in errors {
        match error.field.as_str() {
            "core_diameter" => draft.core_diameter = None,
            "index" | "tooth_helix" | "helix" | "unequal_index" => {
                draft.special = Special { taper: draft.special.taper, ..Special::default() };
            }
            "tooth_thickness" => draft.tooth_thickness = None,
            "corner_radius" => draft.end = EndForm::Ball,
            "flute_length" => draft.flute_length = draft.overall_length,
            field if field.starts_with("end_teeth") => draft.end_teeth = None,
            _ => draft.as_ground = None,
        }
    }
    draft.build().ok()
}

prop_compose! {
    fn tooth_wear()(
        wear_land in length(0.5),
        chip_depth in length(1.0),
        chip_from_end in length(5.0),
        wear_from_end in maybe(length(10.0)),
        corner_wear in length(1.0),
        runout in maybe(length(0.1)),
        has_chip in any::<bool>(),
    ) -> ToothWear {
        let chip = |length: Length| if has_chip { length } else { Length::ZERO };
        ToothWear {
            tooth: 0,
            wear_land,
            chip_depth: chip(chip_depth),
            chip_from_end: chip(chip_from_end),
            wear_from_end,
            corner_wear,
            runout,
        }
    }
}

prop_compose! {
    fn wear()(
        measured_diameter in maybe(length(12.0)),
        shank_runout in maybe(length(0.1)),
        signs in prop::sample::subsequence(WearSign::ALL.to_vec(), 0..WearSign::ALL.len()),
        read in prop::collection::vec(tooth_wear(), 0..5),
    ) -> Option<Wear> {
        let numbered = read.into_iter().zip(1..).map(|(wear, tooth)| ToothWear { tooth, ..wear });
        let teeth = numbered.collect();
        WearDraft { measured_diameter, shank_runout, signs, teeth }.build().ok()
    }
}

prop_compose! {
    fn wheel()(
        number in name(),
        shape in one_of::<WheelShape>(),
        abrasive in one_of::<Abrasive>(),
        grit in name(),
        concentration in maybe((10_u32..250).boxed()),
        grade in maybe(prop::char::range('A', 'Z').boxed()),
        bond in one_of::<Bond>(),
        sizes in (length(300.0), length(10.0), maybe(length(30.0)), length(1.0), length(40.0)),
        depth in length(60.0),
        wall_angle in maybe(angle(80.0)),
        marked_rpm in 500_u32..9000,
        marked_speed_m_per_s in maybe(prop_oneof![5.0..200.0, Just(30.48), Just(35.0)].boxed()),
        coolant in maybe(one_of::<Coolant>()),
    ) -> WheelDraft {
        let (diameter, face_width, rim_width, corner_radius, bore) = sizes;
        WheelDraft {
            number, shape, abrasive, grit, concentration, grade, bond, diameter, face_width,
            rim_width, corner_radius, bore, depth, wall_angle, marked_rpm, marked_speed_m_per_s,
            coolant,
        }
    }
}

/// The same repaired as far as its shape and abrasive ask for it.
fn built_wheel(mut draft: WheelDraft) -> Option<Wheel> {
    for _ in 0..3 {
        let Err(errors) = draft.clone().build() else { break };
        for error in errors {
            match error.field.as_str() {
                "shape" => draft.shape = WheelShape::marking(draft.abrasive.is_super()).next()?,
                "bond" => draft.bond = Bond::Resin,
                "concentration" => draft.concentration = None,
                "rim_width" => draft.rim_width = None,
                "corner_radius" => draft.corner_radius = Length::ZERO,
                "wall_angle" => draft.wall_angle = None,
                "grade" => draft.grade = None,
                _ => draft.marked_speed_m_per_s = None,
            }
        }
    }
    draft.build().ok()
}

prop_compose! {
    fn cutter_grind()(
        entry in name(),
        sharp_before in maybe(length(0.5)),
        dull in maybe(length(0.5)),
        off in length(0.5),
        wear_land in maybe(length(2.0)),
        worn_on in maybe(angle(40.0)),
    ) -> CutterGrind {
        let least = Length::from_mm(10.0);
        let (sharp_before, dull) = (sharp_before.map(|l| l + least), dull.map(|l| l + least));
        CutterGrind { entry, sharp_before, dull, after: least - off, wear_land, worn_on }
    }
}

prop_compose! {
    fn wheel_grind()(
        entry in name(),
        fed in length(2.0),
        came_off in length(2.0),
        face_lost in maybe(length(2.0)),
        cutters in 1_u32..20,
    ) -> WheelGrind {
        WheelGrind { entry, fed: Some(fed), came_off: Some(came_off), face_lost, cutters }
    }
}

prop_compose! {
    fn known()(
        grinds in prop::collection::vec(cutter_grind(), 0..6),
        wheels in prop::collection::btree_map(
            name(), prop::collection::vec(wheel_grind(), 1..4), 0..3,
        ),
    ) -> Option<Known> {
        let wheels = wheels.into_iter();
        let wheels = wheels.map(|(number, grinds)| Some((number, WheelHistory::new(grinds).ok()?)));
        let cutter = CutterHistory::new(grinds).ok()?;
        Some(Known { cutter, wheels: wheels.collect::<Option<_>>()? })
    }
}

proptest! {
    #[test]
    fn any_history_is_written_as_it_reads(known in known()) {
        let Some(known) = known else { return Err(TestCaseError::reject("unsound")) };
        let cutter = sound_draft().build().unwrap();
        let text = history_text(None, &known);
        prop_assert_eq!(&read_history("written", &text, &cutter).unwrap(), &known);
    }

    #[test]
    fn any_cutter_is_written_as_it_reads(draft in cutter(), wear in wear()) {
        let Some(sharp) = built(draft) else { return Err(TestCaseError::reject("unsound")) };
        prop_assert_eq!(&reread_cutter(&sharp), &sharp);
        let worn = wear.and_then(|wear| sharp.clone().with_wear(wear).ok());
        if let Some(worn) = worn {
            prop_assert_eq!(&reread_cutter(&worn), &worn);
            let text = wear_text(worn.wear().unwrap());
            prop_assert_eq!(&read_wear("written", &text, &sharp).unwrap(), &worn);
        }
    }

    #[test]
    fn any_wheel_is_written_as_it_reads(draft in wheel()) {
        let Some(wheel) = built_wheel(draft) else { return Err(TestCaseError::reject("unsound")) };
        prop_assert_eq!(reread_wheel(&wheel), [wheel]);
    }
}

//! Checks to draw: really planned, really checked, from readings with planted faults.

use std::sync::OnceLock;

use geometry::{Length, System};
use shop::check::{Check, CheckRegrind, Checked, check_regrind};
use shop::plan::RegrindPlan;
use shop::record::{
    Hand, Holding, LandStage, ReadingsDraft, RunoutOf, RunoutReading, TeethRun, WearSign,
};

use crate::cutters::{HALF_INCH, Sizes, context, plan};
use crate::planted::{Bench, Planted, instrument};

const AFTER_PRIMARY: LandStage = LandStage::AfterPrimary;

/// A check with its name, and what was planted in it.
pub(crate) struct Case {
    pub(crate) name: &'static str,
    pub(crate) check: Check,
}

/// Every check, in inches and in millimetres in turn.
pub(crate) const SYSTEMS: [System; 2] = [System::Inch, System::Millimetre];

pub(crate) fn cases() -> &'static [Case] {
    static CASES: OnceLock<Vec<Case>> = OnceLock::new();
    CASES.get_or_init(check_all)
}

pub(crate) fn case(name: &str) -> &'static Case {
    cases().iter().find(|case| case.name == name).unwrap()
}

fn checked(plan: &RegrindPlan, draft: ReadingsDraft) -> Check {
    let readings = draft.build(&plan.request.cutter).unwrap();
    let request = CheckRegrind { plan: plan.clone(), readings };
    match check_regrind(&context(), request).unwrap() {
        Checked::Weighed(check) => *check,
        Checked::Asked(questions) => panic!("{questions:?}"),
    }
}

/// A tenth and nine tenths of the flute, to half a millimetre.
pub(crate) fn ends(bench: &Bench<'_>) -> [f64; 2] {
    [0.1, 0.9].map(|share| (bench.flute_mm() * share * 2.0).round() / 2.0)
}

/// What is read on a bench.
type Read = fn(&Bench<'_>) -> ReadingsDraft;

fn lands(bench: &Bench<'_>) -> ReadingsDraft {
    let lands = vec![bench.lands(AFTER_PRIMARY, &ends(bench), 0.02)];
    ReadingsDraft { lands, ..ReadingsDraft::default() }
}

fn lands_at_one_place(bench: &Bench<'_>) -> ReadingsDraft {
    let lands = vec![bench.lands(AFTER_PRIMARY, &ends(bench)[..1], 0.02)];
    ReadingsDraft { lands, ..ReadingsDraft::default() }
}

fn lands_with_one_bad(bench: &Bench<'_>) -> ReadingsDraft {
    let mut draft = lands(bench);
    draft.lands[0].readings[2].width += Length::from_mm(0.3);
    ReadingsDraft { looked_again: true, ..draft }
}

fn half_empty(bench: &Bench<'_>) -> ReadingsDraft {
    let mut draft = lands(bench);
    let mut count = 0;
    draft.lands[0].readings.retain(|_| {
        count += 1;
        count % 3 != 0
    });
    draft
}

fn diameters_and_heights(bench: &Bench<'_>) -> ReadingsDraft {
    ReadingsDraft {
        diameters: vec![bench.diameters(&ends(bench))],
        indicator: vec![bench.heights(&ends(bench))],
        ..ReadingsDraft::default()
    }
}

fn drops(bench: &Bench<'_>) -> ReadingsDraft {
    ReadingsDraft { drops: vec![bench.drops()], ..ReadingsDraft::default() }
}

fn signs(_: &Bench<'_>) -> ReadingsDraft {
    ReadingsDraft { signs: vec![WearSign::HeelRubbed], ..ReadingsDraft::default() }
}

fn everything(bench: &Bench<'_>) -> ReadingsDraft {
    let places = ends(bench);
    let shank = RunoutReading {
        of: RunoutOf::Shank,
        held: Holding::AsGround,
        from_end: None,
        reading: Length::from_mm(2.0 * bench.planted.offset.0.hypot(bench.planted.offset.1)),
        instrument: instrument(0.002),
    };
    let after = bench.lands(LandStage::AfterSecondary, &places, 0.02);
    ReadingsDraft {
        lands: vec![bench.lands(AFTER_PRIMARY, &places, 0.02), after],
        diameters: vec![bench.diameters(&places)],
        indicator: vec![bench.heights(&places)],
        runouts: vec![shank],
        drops: vec![bench.drops()],
        ..ReadingsDraft::default()
    }
}

fn case_of(name: &'static str, sizes: &Sizes, planted: Planted, read: Read) -> Case {
    case_run(name, sizes, planted, (TeethRun::Heelward, true), read)
}

fn case_run(
    name: &'static str,
    sizes: &Sizes,
    planted: Planted,
    (run, is_noted): (TeethRun, bool),
    read: Read,
) -> Case {
    let plan = plan(sizes);
    let bench = Bench { plan: &plan, planted, run };
    let teeth_run = is_noted.then_some(run);
    let draft = ReadingsDraft { teeth_run, ..read(&bench) };
    Case { name, check: checked(&plan, draft) }
}

fn check_all() -> Vec<Case> {
    let none = Planted::default;
    let runout = || Planted { offset: (0.009, -0.012), ..none() };
    let taper = || Planted { taper: 0.02, ..none() };
    let slip = |tooth, by| Planted { slip: Some((tooth, by)), ..none() };
    let drift = || Planted { drift: 0.018, ..none() };
    let two = Sizes { teeth: 2, diameter: 8.0, ..HALF_INCH };
    let three = Sizes { teeth: 3, ..HALF_INCH };
    let straight = Sizes { teeth: 6, diameter: 20.0, helix: 0.0, land: 0.6, ..HALF_INCH };
    let eight = Sizes { teeth: 8, diameter: 50.8, land: 0.9, ..HALF_INCH };
    let left =
        Sizes { diameter: 10.0, hand: Hand::Left, helix_hand: Hand::Left, land: 0.4, ..HALF_INCH };
    let twenty = Sizes { teeth: 20, diameter: 127.0, land: 0.8, ..HALF_INCH };
    let twelve = Sizes { teeth: 12, diameter: 76.2, land: 0.8, ..HALF_INCH };
    let most = Sizes { teeth: 28, diameter: 200.0, ..twelve };
    let both = || Planted { taper: 0.01, ..runout() };
    let to_size = Sizes { to_size: Some(12.5), ..HALF_INCH };
    let large = Planted { size: 0.012, ..none() };
    let crossed = Sizes { helix_hand: Hand::Left, ..HALF_INCH };
    let small_runout = Planted { offset: (0.004, -0.003), taper: 0.025, ..none() };
    let small_drift = Planted { drift: 0.009, taper: 0.08, ..none() };
    let unknown = (TeethRun::Edgeward, false);
    vec![
        case_of("four, sound", &HALF_INCH, none(), lands),
        case_of("four, runout", &HALF_INCH, runout(), lands),
        case_run("four, numbered the other way", &HALF_INCH, runout(), unknown, lands),
        case_of("four, one place", &HALF_INCH, slip(3, 0.02), lands_at_one_place),
        case_of("four, half empty", &HALF_INCH, taper(), half_empty),
        case_of("four, no lands", &HALF_INCH, runout(), diameters_and_heights),
        case_of("four, over size", &to_size, large, diameters_and_heights),
        case_of("four, drops", &HALF_INCH, none(), drops),
        case_of("four, signs", &HALF_INCH, none(), signs),
        case_of("two, taper", &two, taper(), lands),
        case_of("three, slip", &three, slip(2, -0.03), lands),
        case_of("three, no lands", &three, slip(2, 0.02), diameters_and_heights),
        case_of("six straight, one bad", &straight, runout(), lands_with_one_bad),
        case_of("eight, drift", &eight, drift(), lands),
        case_of("eight, everything", &eight, both(), everything),
        case_of("left hand, runout and taper", &left, both(), lands),
        case_of("four, left-hand helix", &crossed, runout(), lands),
        case_of("four, kept runout", &HALF_INCH, small_runout, diameters_and_heights),
        case_of("eight, kept drift", &eight, small_drift, diameters_and_heights),
        case_of("twenty, runout", &twenty, runout(), lands),
        case_of("twenty-eight, runout", &most, runout(), lands),
        case_of("twelve, runout", &twelve, both(), lands),
        case_of("twenty, no lands", &twenty, runout(), diameters_and_heights),
    ]
}

//! The plan as it is carried out at the bench: its steps, and what settings that stand otherwise
//! would leave.

#![allow(clippy::unwrap_used, clippy::panic, reason = "a helper that stops a test is part of it")]

use std::collections::BTreeSet;
use std::path::{Path, PathBuf};

use geometry::{Angle, Length};
use shop::Ctx;
use shop::learn::Known;
use shop::plan::{
    BenchStep, PlanRegrind, RegrindPlan, SetOtherwise, SetupItem, ball_bench_steps, bench_steps,
    cuts_end, end_bench_steps, end_first_steps, plan_ball, plan_end, plan_regrind, tried,
    without_finished_end,
};
use shop::record::{CutterDraft, Hand};
use toothrest::files::{load, read_cutter, read_machine, read_wheels};
use trade::{Step, Tables};

fn example(path: &str) -> PathBuf {
    Path::new(env!("CARGO_MANIFEST_DIR")).join("../../examples").join(path)
}

fn plan(cutter: &str, wheel: &str) -> RegrindPlan {
    let request = PlanRegrind {
        cutter: load(&example(&format!("cutters/{cutter}.toml")), read_cutter).unwrap(),
        machine: load(&example("machines/left-bench.toml"), read_machine).unwrap(),
        wheels: load(&example(&format!("wheels/{wheel}.toml")), read_wheels).unwrap(),
        relief: None,
        to_size: None,
        known: Known::default(),
    };
    plan_regrind(&Ctx { tables: Tables::bundled().unwrap() }, request).unwrap()
}

fn helical() -> RegrindPlan {
    plan("k-117-half-inch-dull", "w-02-straight-cup-oxide")
}

#[test]
fn every_setting_and_every_pass_is_a_step_of_its_own() {
    let plan = helical();
    let work = plan.peripheral.as_ref().unwrap();
    let steps = bench_steps(&plan);
    let keys: BTreeSet<&str> = steps.iter().map(|step| step.key.as_str()).collect();
    assert_eq!(keys.len(), steps.len(), "a key names one step");
    let marks = |of: &str| {
        let of = steps.iter().filter(|step| step.key.starts_with(of));
        of.filter_map(|step| step.dial.clone()).collect::<Vec<_>>()
    };
    for line in work.setup.iter().filter_map(|line| line.dial.clone()) {
        assert!(marks("primary: ").contains(&line), "{line:?}");
    }
    for part in [&work.grinding, work.secondary.grinding.as_ref().unwrap()] {
        let fed = part.passes.iter().filter(|pass| pass.kind != shop::plan::PassKind::SparkOut);
        for pass in fed {
            assert!(steps.iter().any(|step| step.dial.as_ref() == Some(&pass.dial)), "{pass:?}");
        }
    }
    let first = |of: Step| steps.iter().position(|step| step.of == of).unwrap();
    assert!(first(Step::Wheel) < first(Step::True) && first(Step::True) < first(Step::SetUp));
    assert!(first(Step::SetUp) < first(Step::Grind));
    assert_eq!(steps, bench_steps(&plan), "a plan made again has the same steps");
}

/// Nobody's hand goes to a setting while the wheel runs beside the edges.
fn assert_drawn_clear(steps: &[BenchStep]) {
    let mut runs_beside = false;
    for step in steps {
        if step.key.ends_with(": clear") {
            assert!(step.how.contains("Stop the spindle"), "{}", step.how);
            runs_beside = false;
        }
        let by_hand = matches!(step.of, Step::Wheel | Step::True | Step::SetUp | Step::Check);
        assert!(!(by_hand && runs_beside), "\"{}\" with the wheel beside the cutter", step.key);
        runs_beside |= step.key.contains(": kiss") || step.key.contains(": pass ");
    }
}

#[test]
fn the_wheel_is_drawn_clear_before_anything_is_set() {
    let ctx = Ctx { tables: Tables::bundled().unwrap() };
    let steps = bench_steps(&helical());
    assert_drawn_clear(&steps);
    assert!(steps.iter().any(|step| step.key == "primary: clear"));
    assert_drawn_clear(&bench_steps(&plan("k-168-two-helices", "w-02-straight-cup-oxide")));
    for cutter in ["k-160-corners-gone", "k-121-corner-radius"] {
        let machine = load(&example("machines/universal-bench.toml"), read_machine).unwrap();
        let request = PlanRegrind { machine, ..plan(cutter, "w-02-straight-cup-oxide").request };
        let plan = plan_regrind(&ctx, request).unwrap();
        let end = plan_end(&ctx, &plan, None).unwrap();
        let mut steps = end_first_steps(&end);
        steps.extend(bench_steps(&plan));
        steps.extend(end_bench_steps(&plan, &end));
        assert_drawn_clear(&steps);
    }
    let machine = load(&example("machines/universal-bench.toml"), read_machine).unwrap();
    let cup = plan("k-156-ball", "w-07-flaring-cup-diamond").request;
    let request = PlanRegrind { machine, ..cup };
    let plan = plan_regrind(&ctx, request).unwrap();
    let ball = plan_ball(&ctx, &plan, None).unwrap();
    let mut steps = bench_steps(&plan);
    steps.extend(ball_bench_steps(&plan, &ball));
    assert_drawn_clear(&steps);
    assert!(steps.iter().any(|step| step.key == "ball secondary: clear"));
}

/// The primary's own width is gone once the secondary is ground over it.
#[test]
fn the_primary_is_read_before_the_secondary_is_set() {
    let steps = bench_steps(&helical());
    let place = |wanted: &dyn Fn(&BenchStep) -> bool| steps.iter().position(wanted).unwrap();
    let last = steps.iter().rposition(|step| step.key.starts_with("primary: pass")).unwrap();
    let read = place(&|step| step.reads_primary());
    let set = place(&|step| step.key.starts_with("secondary"));
    assert!(last < read && read < set, "{last} {read} {set}");
    assert!(steps[read].how.contains("every land and the diameter"));
}

/// A figure in large letters says what it is.
#[test]
fn no_figure_stands_bare() {
    for step in bench_steps(&helical()) {
        let is_bare = step.value.is_some() && step.dial.is_none() && step.figure.is_empty();
        assert!(!is_bare, "{}: {:?}", step.key, step.value);
        assert!(!step.how.contains("that corner") && !step.how.contains("from there"), "{step:?}");
    }
}

#[test]
fn the_end_is_stepped_through_too() {
    let ctx = Ctx { tables: Tables::bundled().unwrap() };
    for (cutter, machine) in [
        ("k-160-corners-gone", "universal-bench"),
        ("k-160-corners-gone", "left-bench"),
        ("k-121-corner-radius", "universal-bench"),
        ("k-134-left-hand", "universal-bench"),
    ] {
        let request = PlanRegrind {
            machine: load(&example(&format!("machines/{machine}.toml")), read_machine).unwrap(),
            ..plan(cutter, "w-02-straight-cup-oxide").request
        };
        let plan = plan_regrind(&ctx, request).unwrap();
        let end = plan_end(&ctx, &plan, None).unwrap();
        let steps = end_bench_steps(&plan, &end);
        let keys: BTreeSet<&str> = steps.iter().map(|step| step.key.as_str()).collect();
        assert_eq!(keys.len(), steps.len(), "{cutter}: a key names one step");
        let before = bench_steps(&plan);
        assert!(before.iter().all(|step| !keys.contains(step.key.as_str())), "{cutter}");
        let passes = steps.iter().filter(|step| step.key.starts_with("end: pass"));
        assert_eq!(passes.count(), end.work.grinding.passes.len(), "{cutter}");
    }
}

/// Behind a corrective grind the metal is off what was finished; the machine stands otherwise.
#[test]
fn a_finished_part_of_the_end_is_not_set_up_again() {
    let ctx = Ctx { tables: Tables::bundled().unwrap() };
    let request = PlanRegrind {
        machine: load(&example("machines/universal-bench.toml"), read_machine).unwrap(),
        ..plan("k-160-corners-gone", "w-02-straight-cup-oxide").request
    };
    let plan = plan_regrind(&ctx, request).unwrap();
    let end = plan_end(&ctx, &plan, None).unwrap();
    let left = |is_done: &dyn Fn(&str) -> bool| {
        let steps = without_finished_end(end_bench_steps(&plan, &end), is_done);
        steps.into_iter().map(|step| step.key).collect::<Vec<_>>()
    };
    let all = left(&|_| false);
    assert!(all.iter().any(|key| key == "end: kiss"));
    assert!(left(&cuts_end).is_empty());
    let primary = left(&|key| key.starts_with("end: pass"));
    let has = |key: &str| primary.iter().any(|other| other == key);
    assert!(has("end: wheel") && has("end: work swing") && has("end secondary: grind"));
    assert!(!has("end: kiss") && !primary.iter().any(|key| key.starts_with("end: pass")));
    // A part that is half done goes on from where it was left.
    let half = without_finished_end(end_bench_steps(&plan, &end), |key| key == "end: pass 1");
    let step = |key: &str| half.iter().find(|step| step.key == key).unwrap();
    assert_eq!(step("end: kiss").dial, step("end: pass 1").dial);
    assert!(step("end: kiss").how.contains("not to 0"), "{}", step("end: kiss").how);
    // What is set is no metal taken off.
    assert!(!cuts_end("end: wheel") && !cuts_end("end: work swing") && !cuts_end("end: kiss"));
    assert!(cuts_end("corner: grind") && cuts_end("gash: grind") && !cuts_end("primary: pass 1"));
}

/// The mirror image: a left-hand cutter swings the other way round and leaves the same end.
#[test]
fn a_left_hand_end_is_the_mirror_image() {
    let ctx = Ctx { tables: Tables::bundled().unwrap() };
    let machine = load(&example("machines/universal-bench.toml"), read_machine).unwrap();
    let of = |hand| {
        let request = plan("k-160-corners-gone", "w-02-straight-cup-oxide").request;
        let draft = request.cutter.draft();
        let draft = CutterDraft { hand, helix_hand: Some(hand), ..draft };
        let wear = request.cutter.wear().unwrap().clone();
        let cutter = draft.build().unwrap().with_wear(wear).unwrap();
        let request = PlanRegrind { cutter, machine: machine.clone(), ..request };
        let plan = plan_regrind(&ctx, request).unwrap();
        plan_end(&ctx, &plan, None).unwrap().work
    };
    let (right, left) = (of(Hand::Right), of(Hand::Left));
    let near = |one: Angle, other: Angle| (one - other).abs() < Angle::from_degrees(1e-6);
    assert!(near(right.primary.made.dish(), left.primary.made.dish()));
    assert!(near(right.primary.made.relief(), left.primary.made.relief()));
    assert!((right.off - left.off).abs() < Length::from_um(0.01));
}

#[test]
fn the_secondary_repeats_no_setting_that_stands() {
    let plan = helical();
    let steps = bench_steps(&plan);
    let of = |item: SetupItem| {
        let key = format!("secondary: {}", item.name());
        steps.iter().any(|step| step.key == key)
    };
    assert!(of(SetupItem::Relief), "the relief changes");
    assert!(!of(SetupItem::Head) && !of(SetupItem::WorkHead), "head and work head stay");
}

#[test]
fn a_cutter_that_is_not_ground_has_no_steps() {
    let plan = plan("k-149-hopeless", "w-05-flaring-cup-cbn");
    assert!(plan.peripheral.is_none() && bench_steps(&plan).is_empty());
    assert!(tried(&plan, &SetOtherwise::default()).is_err());
}

#[test]
fn nothing_set_otherwise_leaves_the_plan_as_it_is() {
    let plan = helical();
    let work = plan.peripheral.as_ref().unwrap();
    let found = tried(&plan, &SetOtherwise::default()).unwrap();
    // The plan's figure is reckoned at the size before the feed was taken to a mark of its dial.
    assert!((found.relief - work.stanced.relief).degrees().abs() < 0.02);
    let target = work.stanced.target;
    assert_eq!(Some(found.relief), target.of(&work.section), "of the section it is exact");
    assert_eq!(found.heel_drag_from, work.section.heel_drag_from());
}

/// A rest further inside the face by i costs i tan(helix) / R radians of relief on the leading
/// corner's cut (own derivation: the tooth turns by 2 pi i / lead, and lead = 2 pi R / tan(helix)).
#[test]
fn the_rest_along_costs_relief_by_the_helix() {
    let plan = helical();
    let cutter = &plan.request.cutter;
    let radius_mm = cutter.diameter().mm() / 2.0;
    let planned = plan.peripheral.as_ref().unwrap().stanced.relief;
    for inset_mm in [0.05, 0.1, 0.2] {
        let rest_inset = Length::from_mm(inset_mm);
        let otherwise = SetOtherwise { rest_inset, ..SetOtherwise::default() };
        let cost = planned - tried(&plan, &otherwise).unwrap().relief;
        let formula = Angle::from_radians(inset_mm * cutter.helix().tan() / radius_mm);
        let off = (cost / formula - 1.0).abs();
        assert!(off < 0.03, "{inset_mm} mm: {:.4} deg, {:.4}", cost.degrees(), formula.degrees());
    }
}

/// Turning the tooth further below centre adds that angle to the relief of a cup's plane face
/// (closed form: for a plane face and a straight tooth relief equals setting).
#[test]
fn the_relief_setting_adds_to_the_relief() {
    let plan = plan("k-145-straight-tooth", "w-02-straight-cup-oxide");
    let planned = plan.peripheral.as_ref().unwrap().stanced.edge_relief;
    let relief_setting = Angle::from_degrees(1.5);
    let found = tried(&plan, &SetOtherwise { relief_setting, ..SetOtherwise::default() }).unwrap();
    let after = found.plan.peripheral.unwrap().stanced.edge_relief;
    assert!((after - planned - relief_setting).degrees().abs() < 0.02, "{}", after.degrees());
}

#[test]
fn a_rest_off_the_face_is_refused() {
    let plan = helical();
    let rest_inset = Length::from_mm(50.0);
    let error = tried(&plan, &SetOtherwise { rest_inset, ..SetOtherwise::default() }).unwrap_err();
    assert!(error.to_string().contains("off the wheel's face"), "{error}");
}

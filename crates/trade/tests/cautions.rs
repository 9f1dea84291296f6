//! Cautions reach the jobs that they are for, and none of them vouches for a wheel.

#![expect(clippy::unwrap_used, reason = "a test that cannot read its tables must stop")]

use trade::*;

fn ids(step: Step, tags: &[Tag]) -> Vec<String> {
    let tables = Tables::bundled().unwrap();
    tables.cautions(step, tags).iter().map(|lookup| lookup.chosen.key.clone()).collect()
}

fn says(step: Step, tags: &[Tag], id: &str) -> bool {
    ids(step, tags).iter().any(|one| one == id)
}

const DRY: Tag = Tag::Circumstance(Circumstance::Dry);
const WET: Tag = Tag::Circumstance(Circumstance::Wet);
const CUP: Tag = Tag::Circumstance(Circumstance::Cup);
const DISC: Tag = Tag::Circumstance(Circumstance::Disc);
const VITRIFIED: Tag = Tag::Circumstance(Circumstance::Vitrified);
const AIR: Tag = Tag::Circumstance(Circumstance::CompressedAir);
const REST: Tag = Tag::Circumstance(Circumstance::Rest);
const INDEX_HEAD: Tag = Tag::Circumstance(Circumstance::IndexHead);
const CARBIDE: Tag = Tag::Material(ToolMaterial::Carbide);
const CBN: Tag = Tag::Abrasive(Abrasive::CubicBoronNitride);

#[test]
fn every_step_of_every_job_has_a_caution() {
    assert!(Step::ALL.iter().all(|step| !ids(*step, &[]).is_empty()));
}

#[test]
fn eyes_clothing_and_hands_are_spoken_of_whenever_one_grinds() {
    for id in ["eyes", "clothing-hair-rings", "hands"] {
        assert!(says(Step::Grind, &[], id), "{id}");
    }
}

#[test]
fn a_ring_test_is_asked_for_vitrified_wheels_only_and_looking_for_all() {
    assert!(says(Step::Wheel, &[VITRIFIED], "ring-test"));
    assert!(!says(Step::Wheel, &[CUP, CBN], "ring-test"));
    assert!(says(Step::Wheel, &[CUP, CBN], "look-over"));
    assert!(says(Step::Wheel, &[CUP, CBN], "marked-speed"));
    assert!(says(Step::Wheel, &[CUP, CBN], "guard-opening"));
}

#[test]
fn tags_joined_by_and_must_all_be_there() {
    assert!(says(Step::Grind, &[CBN, DRY], "cbn-dry"));
    assert!(!says(Step::Grind, &[CBN, WET], "cbn-dry"));
    assert!(!says(Step::Grind, &[DRY], "cbn-dry"));
    assert!(says(Step::Grind, &[CARBIDE, WET], "cobalt-in-coolant"));
    assert!(!says(Step::Grind, &[CARBIDE, DRY], "cobalt-in-coolant"));
    assert!(says(Step::Grind, &[CARBIDE, DRY], "carbide-and-cobalt-dust"));
    assert!(says(Step::Grind, &[CARBIDE, WET], "carbide-and-cobalt-dust"));
}

#[test]
fn circumstances_bring_their_own() {
    assert!(says(Step::Grind, &[DRY], "extraction"));
    assert!(says(Step::Check, &[AIR], "blowing-off"));
    assert!(says(Step::SetUp, &[AIR], "air-line"));
    assert!(says(Step::SetUp, &[CUP], "far-side-of-cup"));
    assert!(!says(Step::SetUp, &[DISC], "far-side-of-cup"));
    assert!(says(Step::Wheel, &[DISC], "flanges"));
    assert!(says(Step::Grind, &[REST], "hold-on-the-rest"));
    assert!(!says(Step::Grind, &[INDEX_HEAD], "hold-on-the-rest"));
    assert!(says(Step::Grind, &[INDEX_HEAD], "lock-the-head"));
}

#[test]
fn every_caution_applies_to_some_job_and_every_tag_brings_one() {
    let rows = Tables::bundled().unwrap().table::<CautionRow>().rows();
    for row in rows {
        let every: Vec<Tag> =
            row.value.applies.iter().flat_map(|condition| condition.0.clone()).collect();
        assert!(says(row.value.step, &every, &row.value.id), "{}", row.key);
    }
    let tags = || rows.iter().flat_map(|row| row.value.applies.iter().flat_map(|one| &one.0));
    for circumstance in Circumstance::ALL {
        let tag = Tag::Circumstance(*circumstance);
        assert!(tags().any(|one| *one == tag), "{circumstance} brings no caution");
    }
}

#[test]
fn no_caution_vouches_for_a_wheel() {
    for row in Tables::bundled().unwrap().table::<CautionRow>().rows() {
        let text = row.value.text.to_lowercase();
        let vouches = ["safe", "guarantee", "certif", "sound wheel"];
        assert!(!vouches.iter().any(|word| text.contains(word)), "{}: {text}", row.key);
        assert!(row.value.text.len() <= 220, "{} is too long to be read at the bench", row.key);
    }
}

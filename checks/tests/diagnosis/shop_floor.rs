//! A shop of the simulation's own: random cutters, one machine, one wheel, planned for real.

use checks::reference::random::Splitmix;
use geometry::{Angle, Length};
use shop::Ctx;
use shop::learn::Known;
use shop::plan::{PlanRegrind, RegrindPlan, plan_regrind};
use shop::record::{
    AsGround, Axis, AxisDraft, AxisRole, Bond, Coolant, Cutter, CutterDraft, EndForm, Finger,
    FingerKind, Fixture, Hand, HoldingDraft, Machine, MachineDraft, Motion, NutThread, Profile,
    Reads, RestDraft, RestStand, Rotation, Side, SlideScale, SpindleDraft, SpindleSpeed,
    SwivelScale, ToothWear, WearDraft, Wheel, WheelDraft, WheelShape,
};
use trade::{Abrasive, Tables, ToolMaterial};

/// A cutter of the kind that is asked for, with everything else drawn.
pub(crate) fn cutter(draw: &mut Splitmix, teeth: u32, helical: bool, hand: Hand) -> Cutter {
    let diameter = draw.by_size(6.0, 32.0);
    let helix = if helical { draw.even(15.0, 42.0) } else { 0.0 };
    let primary = draw.even(6.5, 11.0);
    let secondary = primary + draw.even(7.0, 12.0);
    let land = (0.028 * diameter).clamp(0.25, 0.8);
    let mm = Length::from_mm;
    let draft = CutterDraft {
        number: "S-1".to_owned(),
        diameter: mm(diameter),
        teeth,
        hand,
        helix: Angle::from_degrees(helix),
        helix_hand: helical.then_some(hand),
        rake: Angle::from_degrees(draw.even(4.0, 14.0)),
        material: ToolMaterial::HighSpeedSteel,
        end: EndForm::Square,
        profile: Profile::Plain,
        flute_length: mm(draw.even(1.5, 3.0) * diameter),
        overall_length: mm(5.0 * diameter),
        shank_diameter: mm(diameter.min(25.0)),
        core_diameter: Some(mm(0.5 * diameter)),
        tooth_thickness: Some(mm(0.36 * std::f64::consts::PI * diameter / f64::from(teeth))),
        centre_cutting: true,
        coating: None,
        work: "any".to_owned(),
        regrinds: 1,
        unequal_index: None,
        special: shop::record::Special::default(),
        end_teeth: None,
        as_ground: Some(AsGround {
            diameter: mm(0.995 * diameter),
            primary: Angle::from_degrees(primary),
            secondary: Angle::from_degrees(secondary),
            land: mm(land),
            next_primary: None,
        }),
    };
    let wear_land = mm(draw.even(0.08, 0.2).min(0.5 * land));
    let tooth = |tooth| ToothWear { tooth, wear_land, ..ToothWear::default() };
    let wear = WearDraft { teeth: (1..=teeth).map(tooth).collect(), ..WearDraft::default() };
    draft.build().unwrap().with_wear(wear.build().unwrap()).unwrap()
}

/// The plan of that cutter's regrind; None where the machine or the wheel cannot do it.
pub(crate) fn plan(cutter: Cutter) -> Option<RegrindPlan> {
    plan_to(cutter, None)
}

/// The same, ground to a size that was asked for.
pub(crate) fn plan_to(cutter: Cutter, to_size: Option<Length>) -> Option<RegrindPlan> {
    plan_under(cutter, to_size, wheel())
}

/// The same under another wheel.
pub(crate) fn plan_under(
    cutter: Cutter,
    to_size: Option<Length>,
    wheel: Wheel,
) -> Option<RegrindPlan> {
    let tables = Tables::bundled().unwrap();
    let request = PlanRegrind {
        cutter,
        machine: machine(),
        wheels: vec![wheel],
        relief: None,
        to_size,
        known: Known::default(),
    };
    let plan = plan_regrind(&Ctx { tables }, request).ok()?;
    let grinds = plan.peripheral.as_ref()?;
    grinds.secondary.land_before.is_some().then_some(plan)
}

fn axis(name: &str, role: AxisRole, side: Side, motion: Motion, positive: &str) -> Axis {
    let zero = if role == AxisRole::HeadSwivel { "parallel to travel" } else { "on centre" };
    let (name, zero, positive) = (name.to_owned(), zero.to_owned(), positive.to_owned());
    AxisDraft { name, role, side, motion, zero, positive }.build().unwrap()
}

fn slide(step_mm: f64) -> Motion {
    Motion::Slide(SlideScale {
        graduation: Length::from_mm(step_mm),
        vernier: None,
        per_turn: None,
        reads: Reads::Radius,
        backlash: Length::ZERO,
        range: None,
        halves: false,
    })
}

fn swivel(step_deg: f64) -> Motion {
    Motion::Swivel(SwivelScale {
        graduation: Angle::from_degrees(step_deg),
        vernier: None,
        backlash: Angle::ZERO,
        range: None,
        halves: false,
    })
}

/// A machine with fine dials and a table swivel.
pub(crate) fn machine() -> Machine {
    let speeds = vec![SpindleSpeed { rpm: 3600, belt: "only step".to_owned() }];
    let spindle = SpindleDraft {
        speeds,
        rotations: vec![Rotation::Clockwise, Rotation::CounterClockwise],
        nut_thread: NutThread::Either,
        nut_end: "left".to_owned(),
        flange_diameter: None,
    };
    let holding = HoldingDraft {
        fixture: Fixture::ColletFixture,
        shank_min: Length::from_mm(3.0),
        shank_max: Length::from_mm(40.0),
        squaring: "table slot".to_owned(),
        dividing: shop::record::Dividing::default(),
        centres: shop::record::Centres::default(),
        nose_diameter: None,
    };
    let finger =
        Finger { name: "blade".to_owned(), width: Length::from_mm(3.0), kind: FingerKind::Plain };
    let (wheel, work) = (Side::Wheel, Side::Work);
    let axes = vec![
        axis("column", AxisRole::WheelHeadHeight, wheel, slide(0.01), "up"),
        axis("cross", AxisRole::CrossFeed, work, slide(0.005), "in"),
        axis("rest", AxisRole::RestHeight, wheel, slide(0.01), "down"),
        axis("head", AxisRole::HeadSwivel, wheel, swivel(0.25), "clockwise from above"),
        axis("table", AxisRole::TableSwivel, work, swivel(0.01), "clockwise from above"),
    ];
    let draft = MachineDraft {
        name: "simulated".to_owned(),
        spindle: spindle.build().unwrap(),
        axes,
        holding: holding.build().unwrap(),
        rest: RestDraft { stands_on: RestStand::WheelHead, fingers: vec![finger] }.build().unwrap(),
        coolant: Coolant::Dry,
        extraction: true,
    };
    draft.build().unwrap()
}

/// A straight cup of oxide.
pub(crate) fn wheel() -> Wheel {
    let mm = Length::from_mm;
    let draft = WheelDraft {
        number: "C-1".to_owned(),
        shape: WheelShape::Type6,
        abrasive: Abrasive::AluminiumOxide,
        grit: "60".to_owned(),
        concentration: None,
        grade: Some('K'),
        bond: Bond::Vitrified,
        diameter: mm(100.0),
        face_width: mm(1.6),
        rim_width: Some(mm(8.0)),
        corner_radius: mm(0.0),
        bore: mm(20.0),
        depth: mm(40.0),
        wall_angle: None,
        marked_rpm: 6000,
        marked_speed_m_per_s: None,
        coolant: None,
    };
    draft.build().unwrap()
}

//! The machine and the wheels of the plans to draw.

use geometry::{Angle, Length};
use shop::record::{
    Axis, AxisDraft, AxisRole, Bond, Coolant, Finger, FingerKind, Fixture, HoldingDraft, Machine,
    MachineDraft, Motion, NutThread, Reads, RestDraft, RestStand, Rotation, Side, SlideScale,
    SpindleDraft, SpindleSpeed, SwivelScale, Wheel, WheelDraft, WheelShape,
};
use trade::Abrasive;

fn slide(name: &str, role: AxisRole) -> Axis {
    let scale = SlideScale {
        graduation: Length::from_mm(0.01),
        vernier: None,
        per_turn: None,
        reads: Reads::Radius,
        backlash: Length::ZERO,
        range: None,
        halves: false,
    };
    axis(name, role, Motion::Slide(scale), "on centre")
}

fn axis(name: &str, role: AxisRole, motion: Motion, zero: &str) -> Axis {
    let draft = AxisDraft {
        name: name.to_owned(),
        role,
        side: Side::Wheel,
        motion,
        zero: zero.to_owned(),
        positive: "outward".to_owned(),
    };
    draft.build().unwrap()
}

fn head() -> Axis {
    let scale = SwivelScale {
        graduation: Angle::from_degrees(0.25),
        vernier: None,
        backlash: Angle::ZERO,
        range: None,
        halves: false,
    };
    axis("head", AxisRole::HeadSwivel, Motion::Swivel(scale), "parallel to travel")
}

/// A machine; relief is set by its head where the rest stands on that, else by the rest.
pub(super) fn machine(stands_on: RestStand) -> Machine {
    let speeds = vec![SpindleSpeed { rpm: 3600, belt: "only step".to_owned() }];
    let spindle = SpindleDraft {
        speeds,
        rotations: vec![Rotation::CounterClockwise],
        nut_thread: NutThread::Either,
        nut_end: "left".to_owned(),
        flange_diameter: None,
    };
    let holding = HoldingDraft {
        fixture: Fixture::ColletFixture,
        shank_min: Length::from_mm(3.0),
        shank_max: Length::from_mm(32.0),
        squaring: "table slot".to_owned(),
        dividing: shop::record::Dividing::default(),
        centres: shop::record::Centres::default(),
        nose_diameter: None,
    };
    let finger =
        Finger { name: "blade".to_owned(), width: Length::from_mm(3.0), kind: FingerKind::Plain };
    let draft = MachineDraft {
        name: "test bench".to_owned(),
        spindle: spindle.build().unwrap(),
        axes: vec![
            slide("column", AxisRole::WheelHeadHeight),
            slide("cross slide", AxisRole::CrossFeed),
            slide("rest screw", AxisRole::RestHeight),
            head(),
        ],
        holding: holding.build().unwrap(),
        rest: RestDraft { stands_on, fingers: vec![finger] }.build().unwrap(),
        coolant: Coolant::Dry,
        extraction: true,
    };
    draft.build().unwrap()
}

fn wheel(number: &str, shape: WheelShape, face_mm: f64) -> Wheel {
    let mm = Length::from_mm;
    let draft = WheelDraft {
        number: number.to_owned(),
        shape,
        abrasive: Abrasive::AluminiumOxide,
        grit: "60".to_owned(),
        concentration: None,
        grade: Some('K'),
        bond: Bond::Vitrified,
        diameter: mm(75.0),
        face_width: mm(face_mm),
        rim_width: Some(mm(8.0)),
        corner_radius: mm(0.1),
        bore: mm(20.0),
        depth: mm(30.0),
        wall_angle: (shape == WheelShape::Type11).then_some(Angle::from_degrees(18.0)),
        marked_rpm: 6000,
        marked_speed_m_per_s: None,
        coolant: None,
    };
    draft.build().unwrap()
}

/// A flaring cup, small enough that its whole face stands in an end view at full size.
pub(super) fn cup() -> Wheel {
    wheel("C-1", WheelShape::Type11, 1.6)
}

/// A straight wheel.
pub(super) fn disc() -> Wheel {
    wheel("D-1", WheelShape::Type1, 3.0)
}

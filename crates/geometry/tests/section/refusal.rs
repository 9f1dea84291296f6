//! What is outside the domain is refused with the name of its field, and nothing panics.

use geometry::screw::Hand;
use geometry::section::{SectionError, Stance};
use geometry::wheel::{Corner, CupShape, DiscShape, FaceToward, WheelBody, WheelKind};
use geometry::{Angle, Length};
use proptest::prelude::*;

use crate::cases::{Case, PLAIN, turned, whole};
use crate::funnel::{check, holds, outside};

const NO_NUMBERS: [f64; 3] = [f64::NAN, f64::INFINITY, f64::NEG_INFINITY];

/// The field that is refused, if any is.
fn refused(case: &Case) -> Option<&'static str> {
    match case.section() {
        Err(SectionError::Invalid { field, .. }) => Some(field),
        Err(SectionError::OutOfReach { .. }) => Some("out of reach"),
        Ok(_) => None,
    }
}

#[test]
fn each_field_is_refused_beyond_its_ends() {
    type Change = fn(&mut Case, f64);
    let fields: [(&str, Change, &[f64]); 8] = [
        ("diameter", |case, value| case.nominal = value, &[0.99, 200.01, 0.0, -12.7]),
        ("helix", |case, value| case.helix = value, &[-0.01, 60.01, 90.0]),
        ("head_angle", |case, value| case.lean = value, &[-0.01, 45.01]),
        ("relief_setting", |case, value| case.setting = value, &[-30.01, 60.01]),
        ("rest_inset", |case, value| case.inset = value, &[-1e-6, 1.601]),
        ("centre_above", |case, value| case.above = value, &[45.01, -45.01]),
        ("head_tilt", |case, value| case.tilt = value, &[45.01, -45.01]),
        ("new_diameter", |case, value| case.new = value, &[0.49, 13.34, 300.01, 0.0, -12.6]),
    ];
    for (name, change, values) in fields {
        for &value in values.iter().chain(&NO_NUMBERS) {
            let mut case = PLAIN;
            change(&mut case, value);
            assert_eq!(refused(&case), Some(name), "{name} = {value}");
        }
    }
    for teeth in [0, 61, u32::MAX] {
        assert_eq!(refused(&Case { teeth, ..PLAIN }), Some("teeth"), "{teeth}");
    }
}

#[test]
fn the_ends_themselves_are_computed() {
    let plain = Case { inset: 0.0, ..PLAIN };
    let ends = [
        Case { nominal: 1.0, new: 1.0, ..plain },
        Case { nominal: 200.0, new: 200.0, wheel: 400.0, ..plain },
        Case { new: 0.5, nominal: 1.0, ..plain },
        Case { new: 210.0, nominal: 200.0, wheel: 800.0, ..plain },
        Case { helix: 60.0, ..plain },
        Case { helix: 0.0, ..plain },
        Case { lean: 45.0, ..plain },
        Case { setting: -30.0, ..plain },
        Case { setting: 60.0, ..plain },
        Case { teeth: 1, ..plain },
        Case { teeth: 60, ..plain },
        Case { tilt: 45.0, ..plain },
        Case { inset: 1.6 * 0.75_f64.to_radians().cos(), ..plain },
    ];
    for case in ends {
        assert_eq!(refused(&case), None, "{case:?}");
    }
}

/// A reason is a sentence for the person at the machine: it names the value.
#[test]
fn a_refusal_says_what_is_wrong() {
    let case = Case { inset: 2.5, ..PLAIN };
    let reason = case.section().map_or_else(|error| error.to_string(), |_| String::new());
    assert!(reason.contains("rest_inset") && reason.contains("2.5 mm"), "{reason}");
}

/// A cup whose wall of 2 µm has passed the cutter's axis leaves nothing of the cutter, however thin
/// that wall is: the cutter would stand in its hollow.
#[test]
fn a_wall_that_has_passed_the_axis_is_refused_however_thin() {
    let past = Case {
        nominal: 1.418_501_635_789_555_2,
        new: 1.254_859_065_030_421_9,
        teeth: 1,
        hand: Hand::Right,
        helix_hand: Hand::Left,
        helix: 59.999_914_9,
        kind: WheelKind::Cup,
        wheel: 5.478_130_489_589_025_5,
        face: 0.002_739_065_244_794_513,
        walls: (40.264_892, 40.264_892),
        leading: 0.0,
        trailing: 0.001_643_439_146_876_707_6,
        worn: (0.0, 0.0),
        lean: 0.007_544_050_7,
        toward: FaceToward::Shank,
        inset: 0.0,
        setting: 59.927_094_7,
        above: 0.0,
        tilt: 0.0,
    };
    let reason = past.section().map_or_else(|error| error.to_string(), |_| String::new());
    assert!(reason.contains("the whole cutter"), "{reason:?}");
}

/// A wheel too small to reach the edge where it stands has no section.
#[test]
fn a_wheel_out_of_reach_is_refused() {
    let small = Case {
        nominal: 200.0,
        new: 180.0,
        helix: 0.0,
        wheel: 78.0,
        face: 0.4,
        lean: 0.0,
        inset: 0.0,
        setting: -28.0,
        ..PLAIN
    };
    assert_eq!(refused(&small), Some("out of reach"));
}

/// Under a cup that is nearly all face the far half goes on where the near half ends. The least
/// radius at which points of the whole face meet the tooth's section is compared with that of the
/// points on the near half: only where the two agree may there be a section.
#[test]
fn a_face_that_cuts_past_the_centre_line_is_refused() {
    let wide = Case {
        nominal: 100.0,
        new: 98.0,
        helix: 20.0,
        helix_hand: turned(PLAIN.helix_hand),
        wheel: 60.0,
        face: 29.0,
        lean: 0.1,
        inset: 14.0,
        setting: 20.0,
        ..PLAIN
    };
    assert_eq!(refused(&wide), Some("out of reach"));
    let reason = wide.section().map_or_else(|error| error.to_string(), |_| String::new());
    assert!(reason.contains("centre line") && reason.contains("narrower"), "{reason}");
    // The same face on a rim that leaves a hollow wider than the cut is high.
    let hollow = Case { wheel: 400.0, ..wide };
    assert_eq!(refused(&hollow), None);
    for (case, agrees) in [(wide, false), (hollow, true)] {
        assert_eq!(far_half_takes(&case) < 1e-3, agrees, "{} mm", far_half_takes(&case));
    }
}

/// How much farther in the whole of a cup's face stands than its near half does, at the worst of
/// some angles over the land, with the leading corner where a flat relief would have it.
fn far_half_takes(case: &Case) -> f64 {
    let (sin, cos) = case.lean.to_radians().sin_cos();
    let (setting, twist) = (case.setting.to_radians(), case.twist());
    let corner_y = case.radius() * setting.cos();
    let (mut near, mut whole) = ([f64::INFINITY; 40], [f64::INFINITY; 40]);
    for ring in 0..=300 {
        let radius = 0.5 * case.wheel - case.face * f64::from(ring) / 300.0;
        for turn in 0..3600 {
            let around = (f64::from(turn) * 0.1).to_radians();
            // From the leading corner along the face, and up.
            let along = 0.5 * case.wheel - radius * around.cos();
            let (y, z) = (corner_y + along * sin, radius * around.sin());
            let t = case.along() * along * cos - case.along() * case.inset;
            let heelward = z.atan2(y) + setting + twist * t;
            let place = (heelward / 0.01).floor();
            if !(0.0..40.0).contains(&place) {
                continue;
            }
            let (place, out) = (place as usize, y.hypot(z));
            whole[place] = whole[place].min(out);
            if around.cos() >= 0.0 {
                near[place] = near[place].min(out);
            }
        }
    }
    let taken = near.iter().zip(&whole).filter(|(near, _)| **near < case.radius());
    taken.map(|(near, whole)| near - whole).fold(0.0, f64::max)
}

/// Any number at all, the wild ones often.
fn any_number() -> impl Strategy<Value = f64> {
    prop_oneof![
        any::<f64>(),
        -1e3..1e3_f64,
        Just(0.0),
        Just(f64::NAN),
        Just(f64::INFINITY),
        Just(f64::MIN_POSITIVE),
    ]
}

#[test]
fn no_number_makes_a_wheel_or_a_set_up_panic() {
    let numbers = prop::collection::vec(any_number(), 12);
    check(1000, (whole(), numbers, any::<bool>(), 0..12_usize), |(case, wild, is_cup, one)| {
        let corner = |index: usize| match index % 3 {
            0 => Corner::Sharp,
            1 => Corner::round(wild[index]),
            _ => Corner::Worn { face_mm: wild[index], flank_mm: wild[index + 1] },
        };
        let (diameter_mm, face_width_mm) = (wild[0], wild[1]);
        let (leading, trailing) = (corner(one % 10), corner((one + 1) % 10));
        let body = if is_cup {
            let (outer_wall_rad, inner_wall_rad) = (wild[2], wild[3]);
            WheelBody::cup(&CupShape {
                diameter_mm,
                face_width_mm,
                outer_wall_rad,
                inner_wall_rad,
                leading,
                trailing,
            })
        } else {
            WheelBody::disc(&DiscShape { diameter_mm, face_width_mm, leading, trailing })
        };
        if let Ok(body) = body {
            let sizes = [body.radius_mm(), body.face_width_mm()];
            holds(sizes.iter().all(|size| size.is_finite() && *size > 0.0), || {
                format!("{sizes:?} passed")
            })?;
        }
        let Ok(setup) = case.setup() else { return Err(outside("no set-up")) };
        let length = |index: usize| Length::from_mm(wild[index]);
        let stance = Stance {
            lean: Angle::from_degrees(wild[4]),
            rest_inset: length(5),
            relief_setting: Angle::from_degrees(wild[6]),
            axis_above: length(7),
            tilt: Angle::from_degrees(wild[8]),
            ..*setup.stance()
        };
        let wild_setup = setup.with_stance(stance);
        let is_finite = wild[4..9].iter().all(|value| value.is_finite());
        holds(wild_setup.is_err() || is_finite, || format!("{stance:?} passed"))?;
        let section = setup.section(length(9));
        holds(section.is_err() || wild[9].is_finite(), || format!("{} passed", wild[9]))
    });
}

/// The words of a wheel's refusal name the size.
#[test]
fn a_wheel_that_is_none_is_refused() {
    let kinds = [WheelKind::Cup, WheelKind::Disc];
    for kind in kinds {
        for bad in [0.0, -1.0, f64::NAN, f64::INFINITY] {
            let wheels = [Case { kind, wheel: bad, ..PLAIN }, Case { kind, face: bad, ..PLAIN }];
            for case in wheels {
                assert!(case.body().is_err(), "{case:?}");
            }
        }
        let corner = Case { kind, leading: 60.0, ..PLAIN };
        assert!(corner.body().is_err(), "a corner larger than its face");
    }
    assert!(Case { face: 51.0, ..PLAIN }.body().is_err(), "a rim wider than the wheel");
    assert!(Case { walls: (86.0, 0.0), ..PLAIN }.body().is_err(), "a wall that is no wall");
}

//! The section computed backwards: settings for a wanted relief, and what each setting does to it.

use geometry::section::{PieceKind, Setup, Stance};
use geometry::solve::{
    Adjusted, EccentricWish, ReliefTarget, SolveError, eccentric_stance, sensitivities,
    solve_relief,
};
use geometry::wheel::{Part, WheelKind};
use geometry::{Angle, Length};
use proptest::prelude::*;
use proptest::test_runner::TestCaseError;

use crate::cases::{Case, bench, deg, mm};
use crate::funnel::{check, good, holds, near, outside, some};

fn adjusted() -> impl Strategy<Value = Adjusted> {
    prop_oneof![
        4 => Just(Adjusted::ReliefSetting),
        2 => Just(Adjusted::AxisAbove),
        2 => Just(Adjusted::RestWithAxis),
        1 => Just(Adjusted::Lean),
    ]
}

/// A relief at the edge or over a distance behind it.
fn target(case: &Case, relief: f64, over: f64) -> ReliefTarget {
    let over = (over > 0.02).then(|| mm(over * case.radius()));
    ReliefTarget { relief: deg(relief), over }
}

fn relief_deg(
    setup: &Setup,
    case: &Case,
    stance: Stance,
    target: ReliefTarget,
) -> Result<f64, TestCaseError> {
    let setup = good("set-up", setup.with_stance(stance))?;
    let section = good("section", setup.section(mm(case.new)))?;
    Ok(some("relief", target.of(&section))?.degrees())
}

/// What is solved has the wanted relief on the real section; what is refused is refused with the
/// range of what can be had. The wish can lie in it all the same: where another part of the wheel
/// takes over, the relief jumps past it.
#[test]
fn a_solved_setting_has_the_relief_or_the_range_is_told() {
    let drawn = (bench(), adjusted(), 1.0..25.0_f64, 0.0..0.2_f64);
    check(300, drawn, |(case, adjusted, relief, over)| {
        let setup = good("set-up", case.setup())?;
        let target = target(&case, relief, over);
        match solve_relief(&setup, mm(case.new), target, adjusted) {
            Ok(stance) => {
                let got = relief_deg(&setup, &case, stance, target)?;
                near("relief", got, relief, 1e-6)
            }
            Err(SolveError::OutOfRange { wanted_deg, least_deg, most_deg }) => {
                near("wish", wanted_deg, relief, 1e-9)?;
                holds(least_deg <= most_deg, || format!("from {least_deg} to {most_deg} deg"))
            }
            Err(SolveError::Section(error)) => {
                holds(!error.to_string().is_empty(), || "no reason".to_owned())
            }
        }
    });
}

/// On a level plane the setting is the relief, so the solver's answer is known.
#[test]
fn on_a_plane_the_solver_finds_the_relief_itself() {
    check(100, (bench(), 2.0..25.0_f64, 0.0..0.2_f64), |(case, relief, over)| {
        let flat = Case { helix: 0.0, lean: 0.0, tilt: 0.0, kind: WheelKind::Cup, ..case };
        let sharp = Case { leading: 0.0, worn: (0.0, 0.0), walls: (0.0, 0.0), ..flat };
        let case = Case { wheel: 10.0 * case.nominal, above: 0.0, ..sharp };
        let setup = good("set-up", case.setup())?;
        let target = target(&case, relief, over);
        let solved = solve_relief(&setup, mm(case.new), target, Adjusted::ReliefSetting);
        near("setting", good("solved", solved)?.relief_setting.degrees(), relief, 2e-6)
    });
}

/// Lowering the head lowers rest and wheel together: the axis stands level with the edge.
#[test]
fn rest_and_axis_go_down_together() {
    check(100, (bench(), 3.0..20.0_f64), |(case, relief)| {
        let setup = good("set-up", case.setup())?;
        let target = ReliefTarget { relief: deg(relief), over: None };
        let Ok(stance) = solve_relief(&setup, mm(case.new), target, Adjusted::RestWithAxis) else {
            return Err(outside("not to be had"));
        };
        let below = case.radius() * stance.relief_setting.sin();
        near("level", stance.axis_above.mm(), -below, 1e-9)
    });
}

/// A wide face set for an eccentric relief leaves it, convex, from the edge over the whole land.
#[test]
fn an_eccentric_stance_leaves_an_eccentric_land() {
    let drawn = (bench(), 4.0..16.0_f64, 15.0..45.0_f64, 0.2..1.0_f64);
    check(100, drawn, |(case, relief, helix, land)| {
        let (kind, wheel, face) = (WheelKind::Cup, 12.0 * case.nominal, 12.0);
        let plain = Case { kind, wheel, face, helix, leading: 0.0, trailing: 0.0, ..case };
        let plain = Case { worn: (0.0, 0.0), walls: (0.0, 0.0), inset: 0.0, ..plain };
        let setup = good("set-up", Case { above: 0.0, tilt: 0.0, ..plain }.setup())?;
        let target = ReliefTarget { relief: deg(relief), over: None };
        let wish = EccentricWish { target, land: mm(land), margin: mm(0.5) };
        let stance = good("stance", eccentric_stance(&setup, mm(case.new), wish))?;
        let setup = good("set-up", setup.with_stance(stance))?;
        let section = good("section", setup.section(mm(case.new)))?;
        let edge = some("relief", section.edge_relief())?;
        near("relief", edge.degrees(), relief, 1e-6)?;
        holds(section.relief_kind() == Some(PieceKind::Convex), || "not convex".to_owned())?;
        for share in [0.0, 0.5, 1.0] {
            let at = Angle::from_radians(share * land / case.radius());
            let part = section.contact_at(at).map(|contact| contact.part);
            holds(part == Some(Part::Face), || format!("{part:?} at {share} of the land"))?;
        }
        Ok(())
    });
}

/// Each sensitivity is the slope between two sections a small step apart.
#[test]
fn sensitivities_are_slopes_of_the_real_relief() {
    check(200, (bench(), 0.0..0.2_f64), |(case, over)| {
        let setup = good("set-up", case.setup())?;
        let target = target(&case, 0.0, over);
        let found = sensitivities(&setup, mm(case.new), target);
        let step = 0.002;
        let (angle, length) = (deg(step), Length::from_mm(step));
        type Change = fn(&mut Stance, Angle, Length, f64);
        let changes: [(&str, Option<f64>, Change); 4] = [
            ("setting", found.per_setting_degree, |stance, angle, _, sign| {
                stance.relief_setting = stance.relief_setting + angle * sign;
            }),
            ("lean", found.per_lean_degree, |stance, angle, _, sign| {
                stance.lean = stance.lean + angle * sign;
            }),
            ("inset", found.per_inset_mm, |stance, _, length, sign| {
                stance.rest_inset += length * sign;
            }),
            ("height", found.per_axis_height_mm, |stance, _, length, sign| {
                stance.axis_above += length * sign;
            }),
        ];
        for (name, slope, change) in changes {
            let at = |sign: f64| {
                let mut stance = *setup.stance();
                change(&mut stance, angle, length, sign);
                let section = setup.with_stance(stance).ok()?.section(mm(case.new)).ok()?;
                Some(target.of(&section)?.degrees())
            };
            let sides = [at(5.0), at(0.0), at(-5.0)];
            let [Some(far), Some(here), Some(back)] = sides else { continue };
            let (Some(more), Some(less), Some(slope)) = (at(1.0), at(-1.0), slope) else {
                continue;
            };
            // Where another part of the wheel takes over, the slopes to either side differ.
            let [ahead, behind] = [far - here, here - back].map(|rise| rise / (5.0 * step));
            if (ahead - behind).abs() > 0.1 * ahead.abs() + 0.02 {
                continue;
            }
            let wanted = (more - less) / (2.0 * step);
            near(name, slope, wanted, 0.05 * wanted.abs() + 0.02)?;
        }
        Ok(())
    });
}

/// A step of the rest is a step of the setting: R·cos a down for each radian.
#[test]
fn a_lower_rest_is_a_larger_setting() {
    check(100, bench(), |case| {
        let setup = good("set-up", case.setup())?;
        let target = ReliefTarget { relief: Angle::ZERO, over: None };
        let found = sensitivities(&setup, mm(case.new), target);
        let (Some(height), Some(setting)) = (found.per_rest_height_mm, found.per_setting_degree)
        else {
            return Err(outside("no relief here"));
        };
        let down_mm = case.radius() * case.setting.to_radians().cos() * 1.0_f64.to_radians();
        near("height", height * down_mm, setting, 1e-9 + 1e-9 * setting.abs())
    });
}

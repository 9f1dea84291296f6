//! What comes off the face, which wheel leaves which rake, and what the cutter then measures.

use geometry::face::{FaceError, FaceSetup, FaceStance, FormRelief};
use geometry::wheel::{Corner, CupShape, WheelBody};
use geometry::{Angle, Length};

use super::lines::{face_setup, feed_axis, turn_mark};
use crate::bridge;
use crate::context::{Cited, Ctx};
use crate::error::ShopError;
use crate::plan::caution::{PlanCaution, cautions};
use crate::plan::dial::DialMark;
use crate::plan::expect::runout_allowed;
use crate::plan::held::{check_crank, check_held};
use crate::plan::order;
use crate::plan::pass::{PassKind, finish_most, pass_max};
use crate::plan::refusal::{check_dust, check_holding, check_nut};
use crate::plan::rotation::{self, TurnDirection};
use crate::plan::setting::{SetupLine, check_reach, holding_lines};
use crate::plan::truing::{Truing, face_width, flat_truing};
use crate::plan::wheel::{WheelChoice, ranked};
use crate::plan::{RegrindPlan, Route, Stock, Wanted};
use crate::record::{Axis, Cutter, Hand, ToothWear, Wheel, WheelForm};

/// How much must come off every face alike.
#[derive(Clone, Debug, PartialEq)]
pub struct FaceStock {
    /// The tooth that asks for most, where its wear was recorded.
    pub governing: Option<u32>,
    /// How far behind the old edge, along the circle, the new one will lie.
    pub behind: Length,
    /// The same as an angle.
    pub behind_angle: Angle,
    /// What that is square to the face.
    pub off_face: Length,
    /// The rake of the faces.
    pub rake: Angle,
    /// What the cutter was last sharp at.
    pub sharp_diameter: Length,
    /// The relief that its teeth fall by.
    pub relief: Cited<Angle>,
}

/// A pass, by how far the tooth has been turned into the wheel when it is made.
#[derive(Clone, Debug, PartialEq)]
pub struct FacePass {
    /// What it is for.
    pub kind: PassKind,
    /// Turn from the first touch.
    pub turned: Angle,
    /// What the dial that turns the tooth reads then, set to zero at the first touch; none where
    /// none is fine enough.
    pub dial: Option<DialMark>,
}

/// The wheel in the flute.
#[derive(Clone, Debug)]
pub struct FaceGrind {
    /// Wheel and flute in their places.
    pub setup: FaceSetup,
    /// Rake at the new edge, over a tenth of the tooth's depth.
    pub rake: Angle,
    /// Rake over the whole depth of the tooth: what the curved rim makes of the face of a helix.
    pub rake_to_root: Angle,
    /// How far the tooth is turned from the first touch to size.
    pub turn: Angle,
    /// How far the wheel's back stands clear of the tooth before, along the circle.
    pub clear: Option<Length>,
    /// The offset to set at the next such grind, so that the rake stays.
    pub next_offset: Length,
}

/// The readings that prove the work.
#[derive(Clone, Debug, PartialEq)]
pub struct FaceExpected {
    /// Diameter of the new edges.
    pub diameter: Length,
    /// What it lost.
    pub lost: Length,
    /// Width of a tooth's back that is left.
    pub back: Length,
    /// Such grinds left after this one.
    pub lives: u32,
    /// How far edges may stand apart, with its source.
    pub runout: Option<Cited<Length>>,
}

/// The plan of a regrind on the face.
#[derive(Clone, Debug)]
pub struct FacePlan {
    /// What comes off.
    pub stock: FaceStock,
    /// The wheel and its speed.
    pub wheel: WheelChoice,
    /// Which way it turns.
    pub direction: TurnDirection,
    /// Truing and dressing.
    pub truing: Truing,
    /// The wheel in the flute.
    pub grind: FaceGrind,
    /// The passes, the last of them without feed.
    pub passes: Vec<FacePass>,
    /// The most that a pass takes off the face.
    pub pass_max: Cited<Length>,
    /// Order of the rounds: with feed, and the last without.
    pub rounds: [Vec<u32>; 2],
    /// The lines that say how the fixture stands, whatever is ground in it.
    pub holding: Vec<SetupLine>,
    /// The readings.
    pub expected: FaceExpected,
    /// Cautions, in the order of the steps.
    pub cautions: Vec<PlanCaution>,
    /// What a reader should know.
    pub remarks: Vec<String>,
}

/// Whether a plan's own verdict asks for the face.
pub fn asks_for_face(plan: &RegrindPlan) -> bool {
    plan.verdict.route == Route::Face
}

/// The rim stays this share of the tooth's depth above the root (own choice, no source).
const ABOVE_ROOT_SHARE: f64 = 0.08;
/// Depth below the edge over which the rake is meant, as a share of the tooth's depth.
const RAKE_OVER_SHARE: f64 = 0.1;
/// Clearance behind the wheel that a steady hand needs (own choice, no source).
const CLEAR_MM: f64 = 0.2;

/// Plans the regrind on the face of a cutter whose verdict asks for it.
///
/// # Errors
/// `Invalid` where a fact is missing that says how the wheel stands, `Refused` where a rule of
/// safety or of geometry forbids the work; both say what would be right.
pub fn plan_face(ctx: &Ctx<'_>, plan: &RegrindPlan) -> Result<FacePlan, ShopError> {
    let (cutter, machine) = (&plan.request.cutter, &plan.request.machine);
    if cutter.taper() > Angle::ZERO {
        return Err(ShopError::refused(
            "a tapered form cutter is not planned on its face",
            "its face would need another offset at every diameter: set it by the middle of the \
             flute by hand",
        ));
    }
    check_holding(cutter, machine)?;
    check_held(cutter, machine)?;
    check_dust(cutter, machine)?;
    let mut stock = face_stock(cutter, &plan.wanted, &plan.stock);
    let core = cutter.core_diameter().ok_or_else(|| {
        let reason = "is not known, and it says how deep the wheel may go: measure the root of the \
                      flutes and write it";
        ShopError::invalid("cutter.core_diameter", reason)
    })?;
    let ranked = ranked(ctx, cutter, machine, &plan.request.wheels, None);
    let direction = check_nut(rotation::along_flute(machine))?;
    let (wheel, mut grind) =
        ranked.first_that_works(ctx, machine, |wheel| ground(ctx, plan, &stock, (wheel, core)))?;
    let turning = feed_axis(machine, grind.turn);
    if let Some(axis) = turning {
        check_crank(machine, axis, cutter.teeth())?;
        (stock, grind) =
            to_mark(axis, (stock, grind), |stock| ground(ctx, plan, stock, (&wheel.wheel, core)))?;
    }
    let pass_max = pass_max(ctx, &wheel.wheel);
    let finish = finish_most(ctx, pass_max.value);
    let expected = expected(ctx, plan, &stock);
    let face = FacePlan {
        passes: passes((&stock, &grind), (pass_max.value, finish), (cutter.hand(), turning)),
        pass_max,
        rounds: [order::first_round(cutter.teeth()), order::second_round(cutter.teeth())],
        holding: holding_lines(ctx, cutter, machine),
        direction,
        truing: flat_truing(ctx, &wheel.wheel, face_width(ctx, &wheel.wheel, None)),
        cautions: cautions(ctx, cutter, machine, Some(&wheel.wheel)),
        remarks: remarks(cutter, &grind),
        expected,
        stock,
        wheel,
        grind,
    };
    check_reach(machine, &face_setup(plan, &face))?;
    Ok(face)
}

/// Rounds in which a turn settles on a mark; each leaves less than a hundredth of the miss.
const ROUNDS: u32 = 3;

/// The stock with which the whole turn is a mark of its dial: up to the next, so that the worst
/// face comes clean.
fn to_mark(
    axis: &Axis,
    (mut stock, mut grind): (FaceStock, FaceGrind),
    ground: impl Fn(&FaceStock) -> Result<FaceGrind, ShopError>,
) -> Result<(FaceStock, FaceGrind), ShopError> {
    let Some(scale) = axis.swivel() else { return Ok((stock, grind)) };
    let finest = scale.finest();
    let turn = finest * (grind.turn / finest - 1e-6).ceil();
    for _ in 0..ROUNDS {
        stock = stock.further(turn - grind.turn);
        grind = ground(&stock)?;
    }
    grind.turn = turn;
    Ok((stock, grind))
}

/// How far behind the old edge the worst tooth is whole. A wear land reaches as far as the relief
/// needs to fall past it; a chip is taken as reaching as far back as it is deep.
///
/// **Source** \[own-derivation\] land / (1 − tan a · tan g), with relief a and rake g. **Departs**
/// in taking the circle as straight over it. **Error** relative land / D. **Domain** as
/// [`worn_depth`](geometry::closed_form::worn_depth).
pub(in crate::plan) fn face_stock(cutter: &Cutter, wanted: &Wanted, stock: &Stock) -> FaceStock {
    let relief = wanted.ground_primary;
    let widened = 1.0 / (1.0 - relief.tan() * cutter.rake().tan());
    let reach = |tooth: &ToothWear| (tooth.wear_land * widened).max(tooth.chip_depth);
    let worn = cutter.wear().map(|wear| wear.teeth()).unwrap_or_default();
    let worst = worn.iter().max_by(|a, b| reach(a).mm().total_cmp(&reach(b).mm()));
    // Without a record of wear, the wear land that the ordinary stock would clean is taken.
    let ordinary = stock.ordinary.value * (0.5 / relief.tan());
    let behind = worst.map_or(ordinary, reach) + stock.allowance.value;
    let sharp_diameter = stock.sharp_diameter.value;
    let radius = sharp_diameter / 2.0;
    let source = if cutter.as_ground().is_some() { crate::context::OWN_RECORD } else { "tables" };
    let none = FaceStock {
        governing: worst.map(|tooth| tooth.tooth),
        behind: Length::ZERO,
        behind_angle: Angle::ZERO,
        off_face: Length::ZERO,
        rake: cutter.rake(),
        sharp_diameter,
        relief: Cited::new(relief, source),
    };
    none.further(Angle::from_radians(behind / radius))
}

impl FaceStock {
    /// The same with every edge so much further back.
    fn further(self, angle: Angle) -> Self {
        let behind_angle = self.behind_angle + angle;
        let form = self.form();
        Self {
            behind: form.radius * behind_angle.radians(),
            behind_angle,
            off_face: form.thickness(behind_angle, self.rake),
            ..self
        }
    }

    /// Diameter of the new edges.
    pub(in crate::plan) fn diameter_after(&self) -> Length {
        self.form().radius_at(self.behind_angle) * 2.0
    }

    fn form(&self) -> FormRelief {
        FormRelief { radius: self.sharp_diameter / 2.0, relief: self.relief.value }
    }
}

fn ground(
    ctx: &Ctx<'_>,
    plan: &RegrindPlan,
    stock: &FaceStock,
    (wheel, core): (&Wheel, Length),
) -> Result<FaceGrind, ShopError> {
    if wheel.shape().form() != WheelForm::Dish {
        return Err(ShopError::refused(
            "the face of a tooth wants a dish",
            "its rim alone is thin enough to stand in a flute with a flat side to the tooth",
        ));
    }
    let cutter = &plan.request.cutter;
    let (flutes, form) = (bridge::flutes(cutter), stock.form());
    let edge = form.radius_at(stock.behind_angle);
    let deep = edge - core / 2.0;
    let swivel = Angle::from_tangent(edge.mm() * flutes.twist_rad_per_mm());
    let root = core / 2.0 + deep * ABOVE_ROOT_SHARE;
    let stance = FaceStance { swivel, offset: edge * cutter.rake().sin(), root };
    let body = bridge::body(wheel, face_width(ctx, wheel, None).value)?;
    let over = deep * RAKE_OVER_SHARE;
    check_rim(plan, &body, &stance, (edge, over))?;
    let at = |radius: Length| {
        FaceSetup::new(&flutes, &body, radius, stance)?.with_rake(cutter.rake(), over)
    };
    let setup = at(edge).map_err(|error| no_face(&error))?;
    let next = at(form.radius_at(stock.behind_angle * 2.0)).map_err(|error| no_face(&error))?;
    let rake = setup.rake(over).unwrap_or(cutter.rake());
    let rake_to_root = setup.rake(edge - root * 1.02).unwrap_or(rake);
    let turn = form.turn(stock.behind_angle, &setup).unwrap_or(stock.behind_angle);
    let clear = clear(plan, &setup, edge);
    if let Some(clear) = clear.filter(|clear| clear.mm() < CLEAR_MM) {
        let why = format!(
            "the back of {} would come within {} of the tooth before: use a dish with a thinner \
             rim or a steeper wall",
            wheel.number(),
            clear.max(Length::ZERO).show_both(cutter.system())
        );
        return Err(ShopError::refused("the wheel must fit the flute", why));
    }
    let next_offset = next.stance().offset;
    Ok(FaceGrind { setup, rake, rake_to_root, turn, clear, next_offset })
}

/// Refuses a rim so large that it undercuts a helix: the flat side is a plane, and the larger the
/// rim, the farther along the twisted flute it reaches.
fn check_rim(
    plan: &RegrindPlan,
    body: &WheelBody,
    stance: &FaceStance,
    (edge, over): (Length, Length),
) -> Result<(), ShopError> {
    let cutter = &plan.request.cutter;
    let leaves = |body: &WheelBody| {
        let flutes = bridge::flutes(cutter);
        let setup = FaceSetup::new(&flutes, body, edge, *stance).ok()?;
        let setup = setup.with_rake(cutter.rake(), over).ok()?;
        let change = setup.rake(edge - stance.root * 1.02)? - setup.rake(over)?;
        (change.degrees().abs() <= RAKE_CHANGE_DEG_MAX).then_some(())
    };
    if cutter.is_straight() || leaves(body).is_some() {
        return Ok(());
    }
    let small = |diameter_mm: &f64| {
        let shape = CupShape {
            diameter_mm: *diameter_mm,
            face_width_mm: body.face_width_mm().min(0.2 * diameter_mm),
            outer_wall_rad: 45_f64.to_radians(),
            inner_wall_rad: 70_f64.to_radians(),
            leading: Corner::Sharp,
            trailing: Corner::Sharp,
        };
        WheelBody::cup(&shape).is_ok_and(|body| leaves(&body).is_some())
    };
    let advice = match RIMS_MM.iter().find(|diameter_mm| small(diameter_mm)) {
        Some(diameter_mm) => format!("a rim of {diameter_mm:.0} mm across would do"),
        None => "no rim of 10 mm or more would do: it needs a wheel that is dressed to its flute, \
                 which is not planned"
            .to_owned(),
    };
    let why = format!(
        "its rim of {:.0} mm reaches so far along a flute of {} of helix that it would undercut \
         the face: {advice}",
        2.0 * body.radius_mm(),
        cutter.helix().show()
    );
    Err(ShopError::refused("the rim must follow the flute", why))
}

/// Rims that are tried for advice.
const RIMS_MM: [f64; 9] = [100.0, 80.0, 63.0, 50.0, 40.0, 32.0, 25.0, 16.0, 10.0];
/// A face whose rake changes by more than this down to its root is no face any more (own choice, no
/// source).
const RAKE_CHANGE_DEG_MAX: f64 = 12.0;

fn no_face(error: &FaceError) -> ShopError {
    ShopError::refused(
        "the wheel must leave the rake",
        format!("{error}: look at core_diameter and rake in the cutter's file"),
    )
}

/// From the wheel's back to the heel of the tooth before, along the circle.
fn clear(plan: &RegrindPlan, setup: &FaceSetup, edge: Length) -> Option<Length> {
    let cutter = &plan.request.cutter;
    let (face, back) = (setup.face_at(edge)?, setup.back_within(edge)?);
    let gaps = cutter.special().gaps();
    let pitch = gaps.into_iter().reduce(Angle::min);
    let pitch = pitch.unwrap_or(Angle::from_degrees(360.0 / f64::from(cutter.teeth())));
    let space = edge * pitch.radians() - plan.wanted.tooth_thickness.value;
    Some(space - edge * (face - back).radians())
}

/// Equal turns within what a pass may take, to the nearest marks of the dial that makes them, a
/// finish, and a round without feed.
fn passes(
    (stock, grind): (&FaceStock, &FaceGrind),
    (most, finish): (Length, Length),
    (hand, turning): (Hand, Option<&Axis>),
) -> Vec<FacePass> {
    let scale = turning.and_then(Axis::swivel);
    let snapped = |turned: Angle| scale.map_or(turned, |scale| turned.snapped_to(scale.finest()));
    let pass = |kind, turned: Angle| {
        let turned = snapped(turned);
        FacePass { kind, turned, dial: turning.and_then(|axis| turn_mark(axis, hand, turned)) }
    };
    let per_angle = stock.off_face / Length::from_mm(grind.turn.radians().max(1e-9));
    let off = |turn: Angle| Length::from_mm(turn.radians() * per_angle);
    let finish_turn = grind.turn * (finish / off(grind.turn)).min(1.0);
    let stock_turn = grind.turn - finish_turn;
    let count = (off(stock_turn) / most).ceil().max(0.0) as u32;
    let of_stock = (1..=count)
        .map(|number| pass(PassKind::Stock, stock_turn * (f64::from(number) / f64::from(count))));
    let last = [PassKind::Finish, PassKind::SparkOut].map(|kind| pass(kind, grind.turn));
    let mut passes: Vec<FacePass> = of_stock.collect();
    passes.dedup_by(|one, other| one.turned == other.turned);
    passes.retain(|pass| Angle::ZERO < pass.turned && pass.turned < grind.turn);
    passes.extend(last);
    passes
}

fn expected(ctx: &Ctx<'_>, plan: &RegrindPlan, stock: &FaceStock) -> FaceExpected {
    let cutter = &plan.request.cutter;
    let diameter = stock.diameter_after();
    FaceExpected {
        diameter,
        lost: stock.sharp_diameter - diameter,
        back: plan.wanted.tooth_thickness.value - stock.behind,
        lives: plan.verdict.chosen().and_then(|view| view.lives_left).unwrap_or(0),
        runout: runout_allowed(ctx, cutter),
    }
}

/// A rake that changes by more than this down the face is worth a word.
const RAKE_CHANGE_DEG: f64 = 1.0;

fn remarks(cutter: &Cutter, grind: &FaceGrind) -> Vec<String> {
    let mut remarks = vec![
        "feed by turning the tooth into the wheel, every tooth by the same angle: the wheel moved \
         across would change the rake"
            .to_owned(),
    ];
    let change = grind.rake_to_root - grind.rake;
    if change.degrees().abs() > RAKE_CHANGE_DEG {
        remarks.push(format!(
            "the rim is round and the flute a helix: down to the root the face has {} of rake",
            grind.rake_to_root.show()
        ));
    }
    if cutter.unequal_index() {
        remarks.push(
            "unequal index: let each tooth come to its own stop on its back, and not by a plate"
                .to_owned(),
        );
    }
    remarks
}

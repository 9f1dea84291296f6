//! A rounded corner, or a ball: swung about an upright pivot past a wheel that gives the relief.

use geometry::end::{
    RoundBefore, RoundBy, RoundCorner, RoundCut, RoundEdge, RoundHold, RoundPivot, RoundSetup,
    RoundStance,
};
use geometry::quantity::System;
use geometry::wheel::WheelKind;
use geometry::{Angle, Length};
use trade::EndItem;

use super::grind::{EndJob, no_surface};
use super::round_lines::{behind_lines, primary_lines};
use super::swivels::{Swung, swung_to};
use super::wanted::practice_length;
use crate::context::Cited;
use crate::error::ShopError;
use crate::plan::RegrindPlan;
use crate::plan::dial::{DialMark, Quantity, snapped_travel};
use crate::plan::feed::Feed;
use crate::plan::known::WheelKnown;
use crate::plan::pass::{DialFeed, Grinding, grinding};
use crate::plan::setting::SetupLine;
use crate::record::{Axis, AxisRole, Fixture, Grows, Wheel};

/// A round swung about an upright pivot.
#[derive(Clone, Debug)]
pub struct RoundGrind {
    /// The round.
    pub round: RoundCorner,
    /// Its relief.
    pub relief: Cited<Angle>,
    /// Its secondary clearance.
    pub secondary: Cited<Angle>,
    /// What keeps the edge level.
    pub hold: RoundHold,
    /// Where the cutter stands over the pivot.
    pub pivot: RoundPivot,
    /// How far the wheel's head leans.
    pub lean: Angle,
    /// The relief's set-up.
    pub primary: RoundSet,
    /// The secondary's set-up.
    pub behind: RoundSet,
    /// The relief that its wheel really leaves.
    pub relief_made: RoundRelief,
    /// The clearance that the secondary's wheel really leaves.
    pub secondary_made: RoundRelief,
    /// From where the cutter swings, counted from the end.
    pub from: Angle,
    /// The swivels where the end faces the wheel, and where the periphery does.
    pub swivels: (Swung, Swung),
    /// What is left from place to place round the corner.
    pub places: Vec<RoundPlace>,
    /// The feed from the first touch to the radius.
    pub grinding: Grinding,
    /// The swing at which the wheel first touches.
    pub touch: Angle,
    /// How much of the radius the dial's marks leave; below zero they take more.
    pub left_over: Length,
    /// The land that the secondary leaves in the middle of the round.
    pub land: Length,
    /// Growth of the land per length by which the secondary's feed falls short.
    pub land_per_feed: Option<f64>,
    /// How near the wheel comes to another tooth, where there is another.
    pub gap: Option<(u32, Length)>,
    /// How much the radius misses for each length by which the rest stands off the wheel's corner
    /// along the cutter, where the tooth follows a rest.
    pub rest_miss: Option<f64>,
    /// The lines of its set-up.
    pub lines: Vec<SetupLine>,
    /// The lines of the secondary that differ.
    pub behind_lines: Vec<SetupLine>,
    /// What must be so for it to come out.
    pub remarks: Vec<String>,
}

/// The set-up of a relief of the round.
#[derive(Clone, Debug)]
pub struct RoundSet {
    /// Wheel, edge and stance, on the marks.
    pub setup: RoundSetup,
    /// What the relief comes from.
    pub by: RoundBy,
    /// What it should read, were every mark there.
    pub exact: Quantity,
    /// The mark to set, where the machine has a scale for it.
    pub mark: Option<DialMark>,
}

/// What a wheel leaves of a relief in the middle of the round.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct RoundRelief {
    /// Over the land.
    pub as_set: Angle,
    /// At the edge.
    pub at_edge: Angle,
}

impl RoundRelief {
    fn of(cut: &RoundCut<'_>, land: Length) -> Result<Self, ShopError> {
        let over = |over: Length| cut.relief_at(middle(), over).ok_or_else(no_surface);
        Ok(Self { as_set: over(land)?, at_edge: over(land.min(Length::from_um(EDGE_UM)))? })
    }
}

/// The middle of the round.
fn middle() -> Angle {
    Angle::from_degrees(45.0)
}

impl RoundSet {
    /// How much less than what is wanted the head tips, where its scale stops.
    pub fn stops_short_by(&self) -> Angle {
        match self.exact {
            Quantity::Angle(exact) => exact - self.setup.stance().wheel_tilt,
            Quantity::Length(_) => Angle::ZERO,
        }
    }
}

/// What is left of the tooth at one swing.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct RoundPlace {
    /// The swing, from the end.
    pub swing: Angle,
    /// What the round takes there, where end and periphery are finished.
    pub stock: Length,
    /// How far the edge lies outside the wanted round; below zero inside.
    pub form: Length,
    /// The relief over the land.
    pub relief: Angle,
    /// The width of the land behind which the secondary begins; none where it leaves none.
    pub land: Option<Length>,
}

/// A land on a round is no wider than so much of its radius (own choice, no source).
const LAND_SHARE: f64 = 0.5;

/// Swings at which the round is told, in degrees.
const TOLD_DEG: [f64; 5] = [0.0, 22.5, 45.0, 67.5, 90.0];

/// How much farther than it must the head leans, so that the face does not rub behind its corner,
/// in degrees (own choice, no source).
const LEAN_FREE_DEG: f64 = 0.5;

/// A round that comes out farther from its circle than this is told (own choice, no source).
const FORM_TOLD_THOU: f64 = 0.5;

/// A round that comes out farther from its circle than this is not ground (own choice, no source).
const FORM_REFUSED_THOU: f64 = 2.0;

/// A head that stops short of its relief by no more counts as there (own choice, no source).
const SHORT_DEG: f64 = 0.5;

/// A clearance behind the land that is steeper by no more is none (own choice, no source).
const CLEARANCE_DEG: f64 = 3.0;

/// Over so much from the edge its relief is taken.
const EDGE_UM: f64 = 10.0;

/// Feed by which the growth of a land is tried.
const STEP_UM: f64 = 2.0;

/// Halvings in the search for where the swing may start.
const HALVINGS: usize = 7;

/// What the round is ground on, and what end and periphery have lost.
pub(super) struct RoundJob<'a> {
    pub(super) job: &'a EndJob<'a>,
    pub(super) plan: &'a RegrindPlan,
    pub(super) wheel: &'a Wheel,
    /// What has come off the length; on a ball what shall come off.
    pub(super) off: Length,
}

impl RoundJob<'_> {
    /// Plans the round.
    pub(super) fn round(
        &self,
        radius: Length,
        relief: &Cited<Angle>,
    ) -> Result<RoundGrind, ShopError> {
        let job = self.job;
        let round = RoundCorner::new(radius.min(job.diameter / 2.0), job.diameter)?;
        let (by, axis) = self.by()?;
        let hold = match job.machine.holding().fixture() {
            Fixture::IndexHead => RoundHold::Locked,
            _ => RoundHold::Follows,
        };
        let wanted = job.wanted;
        let steeper = wanted.secondary.value - wanted.relief.value;
        let behind = Cited::new(relief.value + steeper, "as much steeper as on the end");
        let land = wanted.land.value.min(round.radius * LAND_SHARE);
        let lean = self.lean(behind.value);
        let edge = self.edge(round);
        let stance = RoundStance { lean, axis_above_edge: Length::ZERO, wheel_tilt: Angle::ZERO };
        let level = RoundSetup::new(edge, hold, job.body.clone(), stance)?;
        let set = |relief: Angle| set(&level, (relief, land), (by, axis));
        let (primary, behind_set) = (set(relief.value)?, set(behind.value)?);
        check_reaches(&primary, &behind_set)?;
        let cut = primary.setup.blended()?;
        check_form(&cut, hold, job.cutter.system())?;
        let after = cut.behind(&behind_set.setup, land)?;
        let from = self.from(&cut, &after)?;
        let swivels = (self.swung(Angle::ZERO)?, self.swung(Angle::from_degrees(90.0))?);
        check_one_swivel(&swivels)?;
        let before = self.before(round);
        let (touch, feed) = round.first_touch(&before);
        let (grinding, left_over) = self.fed(cut.front(), feed)?;
        let land_left = cut.land_before(&after, middle()).ok_or_else(no_land)?;
        let step = Length::from_um(STEP_UM);
        let wider = cut.land_before(&after.backed_off(step), middle());
        let made = RoundMade { cut: &cut, after: &after, land, before: &before };
        let mut grind = RoundGrind {
            round,
            relief: relief.clone(),
            secondary: behind,
            hold,
            pivot: cut.pivot(),
            lean,
            from,
            swivels,
            places: made.places(),
            grinding,
            touch,
            left_over,
            land: land_left,
            land_per_feed: wider.map(|wider| (wider - land_left) / step),
            gap: cut.gap_to_others(self.protected(), from),
            rest_miss: rest_miss(&edge, hold, relief.value),
            lines: Vec::new(),
            behind_lines: Vec::new(),
            remarks: Vec::new(),
            primary: primary.clone(),
            behind: behind_set.clone(),
            relief_made: RoundRelief::of(&cut, land)?,
            secondary_made: RoundRelief::of(&after, land)?,
        };
        grind.lines = primary_lines(job, &grind);
        grind.behind_lines = behind_lines(&grind);
        grind.remarks = self.remarks(&grind);
        Ok(grind)
    }

    /// What the relief comes from, with its axis where the machine has a scale.
    fn by(&self) -> Result<(RoundBy, Option<&Axis>), ShopError> {
        let machine = self.job.machine;
        if self.job.body.kind() == WheelKind::Disc {
            return Ok((RoundBy::Height, machine.axis(AxisRole::WheelHeadHeight)));
        }
        let tips = |axis: &&Axis| {
            let grows = matches!(axis.grows(), Some(Grows::WheelEndDown | Grows::WheelEndUp));
            axis.role() == AxisRole::HeadTilt && grows
        };
        let axis = machine.axes().iter().find(tips).ok_or_else(|| {
            ShopError::refused(
                "the relief of a round must come from the wheel",
                "a cup gives it by its tilt, and no head tilt of this machine tips the wheel end \
                 down: give a straight wheel, whose height gives it, with --wheel",
            )
        })?;
        Ok((RoundBy::Tilt, Some(axis)))
    }

    /// The edge over the corner.
    fn edge(&self, round: RoundCorner) -> RoundEdge {
        let cutter = self.job.cutter;
        let turn = cutter
            .lead()
            .map_or(0.0, |lead| cutter.helix_sign() * std::f64::consts::TAU / lead.mm());
        RoundEdge {
            round,
            teeth: cutter.teeth(),
            turn_per_mm: Angle::from_radians(turn),
            // What a ball's face is near its middle, its gash has made.
            rake: if round.is_ball() { Angle::ZERO } else { cutter.rake() },
            inner: self.job.wanted.inner.value,
            flute: cutter.flute_length() - self.off,
        }
    }

    /// How far the head leans: so far that its face clears the edge that winds up behind the
    /// round, under the steepest tilt.
    fn lean(&self, steepest: Angle) -> Angle {
        let finest = self.job.machine.head_swivel().finest();
        let cutter = self.job.cutter;
        let winds = cutter.helix_sign() > 0.0 && !cutter.is_straight();
        let helix = if winds { cutter.helix().tan() } else { 0.0 };
        let clears = Angle::from_tangent(helix * steepest.tan());
        let least = self.job.lean().max(clears + Angle::from_degrees(LEAN_FREE_DEG));
        finest * (least / finest - 1e-6).ceil()
    }

    /// The part round the centre in which edges meet.
    fn protected(&self) -> Length {
        self.job.wanted.short.value.max(self.job.diameter * super::stroke::MIDDLE_SHARE)
    }

    /// From which swing the cutter can go without another tooth being cut, or its own periphery.
    fn from(&self, cut: &RoundCut<'_>, after: &RoundCut<'_>) -> Result<Angle, ShopError> {
        let allowed = practice_length(self.job.ctx, EndItem::NextEdge)?.value;
        let beyond = self.protected();
        let (first, side) = RoundCut::swings();
        for pass in [cut, after] {
            let own = pass.gap_to_tooth(0, beyond, side);
            if own < -allowed {
                let why = format!(
                    "its face cuts {} into the periphery behind the round: take a wheel with a \
                     narrower face",
                    own.abs().show_both(self.job.cutter.system())
                );
                return Err(ShopError::refused("the wheel must clear the periphery", why));
            }
        }
        let clears = |from: Angle| {
            let worst = |pass: &RoundCut<'_>| pass.gap_to_others(beyond, from);
            [cut, after].into_iter().filter_map(worst).all(|(_, gap)| gap >= -allowed)
        };
        if clears(first) {
            return Ok(first);
        }
        let (mut low, mut high) = (first, Angle::from_degrees(45.0));
        if !clears(high) {
            let why = "it cuts another tooth from wherever it swings: take a smaller wheel, or one \
                       with a narrower face";
            return Err(ShopError::refused("the wheel meets another tooth", why));
        }
        for _ in 0..HALVINGS {
            let middle = (low + high) / 2.0;
            *(if clears(middle) { &mut high } else { &mut low }) = middle;
        }
        Ok(high)
    }

    /// The swivels that bring the cutter to a swing.
    fn swung(&self, swing: Angle) -> Result<Swung, ShopError> {
        let shank = [swing.sin(), -swing.cos(), 0.0];
        swung_to(self.job.machine, self.job.cutter, shank, None)
    }

    /// The corner as the round finds it.
    fn before(&self, round: RoundCorner) -> RoundBefore {
        let side = (self.plan.stock.sharp_diameter.value - self.job.diameter) / 2.0;
        let side = side.max(Length::ZERO);
        let is_ball = round.is_ball();
        RoundBefore {
            radius: if is_ball { round.radius + side } else { round.radius },
            side,
            end: self.off,
            side_is_ground: self.plan.peripheral.is_some(),
            end_is_ground: !is_ball,
        }
    }

    /// The feed, to the mark that comes nearest, and what of the radius that leaves.
    fn fed(&self, front: Length, feed: Length) -> Result<(Grinding, Length), ShopError> {
        let machine = self.job.machine;
        let scale = machine.cross_feed();
        let known = self.plan.request.known.wheel(self.wheel.number());
        let known = WheelKnown::of(self.job.ctx, self.wheel, &known)?;
        let exact = feed / known.trusted;
        let travel = snapped_travel(scale, exact).max(scale.finest_travel());
        let feed_plan = Feed {
            at_kiss: front + feed,
            at_size: front,
            radius_per_feed: 1.0,
            kiss_behind: Length::ZERO,
        };
        let dial = DialFeed { feed: feed_plan, travel, ratio: known.trusted };
        let teeth = self.job.cutter.teeth();
        let planned = grinding(self.job.ctx, machine, self.wheel, teeth, dial);
        let planned = planned
            .ok_or_else(|| ShopError::invalid("machine", "it has no cross feed with a dial"))?;
        Ok((planned, feed - travel * known.trusted))
    }

    fn remarks(&self, grind: &RoundGrind) -> Vec<String> {
        let shown = |length: Length| length.show_both(self.job.cutter.system()).to_string();
        let mut remarks = vec![
            "the swivel must turn about an upright pivot below the corner, with slides above it \
             that carry the cutter"
                .to_owned(),
        ];
        let form = grind.worst_form();
        if form > Length::from_thou(FORM_TOLD_THOU) {
            remarks.push(format!(
                "locked, the edge winds off level, and the round misses its circle by up to {}: \
                 a rest under the wheel's corner, on which the tooth turns as it swings, makes it \
                 true",
                shown(form)
            ));
        }
        let short = grind.behind.stops_short_by();
        if short > Angle::from_degrees(SHORT_DEG) {
            remarks.push(format!(
                "the head's scale stops {} short of the clearance behind the land: what it gives \
                 is kept; a straight wheel, whose height gives it, would give all of it",
                short.show()
            ));
        }
        if grind.stops_short() {
            remarks.push(format!(
                "nearer to the end than {} the wheel would cut another tooth: swing the teeth that \
                 run to the centre by eye from there, the others not at all",
                grind.from.show()
            ));
        }
        let worn = self.plan.stock.teeth.iter().map(|tooth| tooth.wear_depth);
        let worn = worn.fold(Length::ZERO, Length::max);
        let dull = grind
            .places
            .iter()
            .find(|place| place.swing >= grind.from && place.stock < worn - Length::from_um(1.0));
        remarks.extend(dull.map(|place| {
            format!(
                "at {} from the end only {} comes off, and the worst edge is worn {} deep: take \
                 more off diameter or length",
                place.swing.show(),
                shown(place.stock.max(Length::ZERO)),
                shown(worn)
            )
        }));
        if self.job.wanted.ahead != Length::ZERO {
            remarks.push("the round is reckoned with its edge on the centre".to_owned());
        }
        if self.job.cutter.unequal_helix() {
            remarks
                .push("the round is reckoned with the cutter's own helix on all teeth".to_owned());
        }
        remarks
    }
}

impl RoundGrind {
    /// Whether the swing must start short of the end.
    pub fn stops_short(&self) -> bool {
        self.from > Angle::ZERO
    }

    /// How far the edge misses its circle at worst.
    pub fn worst_form(&self) -> Length {
        self.places.iter().map(|place| place.form.abs()).fold(Length::ZERO, Length::max)
    }
}

/// Two cuts of one round, primary and secondary, and what they find.
struct RoundMade<'a> {
    cut: &'a RoundCut<'a>,
    after: &'a RoundCut<'a>,
    land: Length,
    before: &'a RoundBefore,
}

impl RoundMade<'_> {
    fn places(&self) -> Vec<RoundPlace> {
        TOLD_DEG
            .into_iter()
            .filter_map(|degrees| self.place(Angle::from_degrees(degrees)))
            .collect()
    }

    fn place(&self, swing: Angle) -> Option<RoundPlace> {
        let round = self.cut.round();
        Some(RoundPlace {
            swing,
            stock: round.stock_at(self.before, swing),
            form: self.cut.form_at(swing)?,
            relief: self.cut.relief_at(swing, self.land)?,
            land: self.cut.land_before(self.after, swing),
        })
    }
}

/// The relief solved on the real wheel, then brought to its mark.
fn set(
    level: &RoundSetup,
    (relief, land): (Angle, Length),
    (by, axis): (RoundBy, Option<&Axis>),
) -> Result<RoundSet, ShopError> {
    let stance = *level.relieved(relief, land, by)?.stance();
    match by {
        RoundBy::Tilt => tipped(level, stance.wheel_tilt, axis),
        RoundBy::Height => {
            let exact = stance.axis_above_edge;
            let scale = axis.and_then(|axis| Some((axis, axis.slide()?)));
            let height = scale.map_or(exact, |(_, scale)| snapped_travel(scale, exact));
            let mark = scale.map(|(axis, scale)| DialMark::slide(axis, scale, height));
            let setup = level.with_stance(RoundStance { axis_above_edge: height, ..stance })?;
            Ok(RoundSet { setup, by, exact: Quantity::Length(exact), mark })
        }
    }
}

/// A head that is tipped so far, on its mark, or to its stop where that comes first.
fn tipped(level: &RoundSetup, exact: Angle, axis: Option<&Axis>) -> Result<RoundSet, ShopError> {
    let scale = axis.and_then(|axis| Some((axis, axis.swivel()?)));
    let up = axis.and_then(Axis::grows) == Some(Grows::WheelEndUp);
    let turned = |angle: Angle| if up { -angle } else { angle };
    let mut reading = turned(exact);
    if let Some((_, scale)) = scale {
        reading = reading.snapped_to(scale.finest());
        if let Some((least, most)) = scale.range {
            reading = reading.max(least).min(most);
        }
    }
    let wheel_tilt = turned(reading);
    let mark = scale.map(|(axis, scale)| DialMark::swivel(axis, scale, reading));
    let setup = level.with_stance(RoundStance { wheel_tilt, ..*level.stance() })?;
    Ok(RoundSet { setup, by: RoundBy::Tilt, exact: Quantity::Angle(exact), mark })
}

/// Refuses a head that stops short of the relief, and a clearance that is hardly more than it.
fn check_reaches(primary: &RoundSet, behind: &RoundSet) -> Result<(), ShopError> {
    let too_little = |what: &str, set: &RoundSet, exact: Angle| {
        let why = format!(
            "the {what} asks for {} and its scale stops at {}: give a straight wheel, whose height \
             gives the relief, with --wheel",
            exact.show(),
            set.setup.stance().wheel_tilt.show()
        );
        Err(ShopError::refused("the head must tip far enough", why))
    };
    let (Quantity::Angle(first), Quantity::Angle(second)) = (primary.exact, behind.exact) else {
        return Ok(());
    };
    if primary.stops_short_by() > Angle::from_degrees(SHORT_DEG) {
        return too_little("round", primary, first);
    }
    let (primary, stopped) = (primary.setup.stance(), behind.setup.stance());
    let least = Angle::from_degrees(CLEARANCE_DEG);
    if stopped.wheel_tilt - primary.wheel_tilt < least.min((second - first) * 0.9) {
        return too_little("clearance behind it", behind, second);
    }
    Ok(())
}

/// A secondary that leaves no land halfway has no figure at which to stop.
pub(super) fn no_land() -> ShopError {
    ShopError::refused(
        "a secondary must leave a land before it",
        "at this set-up it would start at the edge itself: grind the primary alone, leave the old \
         secondary, and plan it with a wider land or a steeper secondary in the cutter's file",
    )
}

/// Refuses a round that a locked spindle leaves far from its circle.
fn check_form(cut: &RoundCut<'_>, hold: RoundHold, system: System) -> Result<(), ShopError> {
    let forms = TOLD_DEG.iter().filter_map(|&degrees| cut.form_at(Angle::from_degrees(degrees)));
    let worst = forms.map(Length::abs).fold(Length::ZERO, Length::max);
    if worst <= Length::from_thou(FORM_REFUSED_THOU) {
        return Ok(());
    }
    let way_out = match hold {
        RoundHold::Locked => {
            "on a locked spindle it winds off level: use a fixture that holds the tooth on a rest \
             under the wheel's corner, so that it turns as it swings, or gash it straight first"
        }
        RoundHold::Follows => "take a wheel whose corner leads more sharply",
    };
    Err(ShopError::refused(
        "a round's edge must lie level where the wheel meets it",
        format!("it would miss its circle by {}; {way_out}", worst.show_both(system)),
    ))
}

/// Refuses a swing that two swivels would have to share.
fn check_one_swivel((end, side): &(Swung, Swung)) -> Result<(), ShopError> {
    let roles: Vec<AxisRole> = end.marks.iter().chain(&side.marks).map(|mark| mark.role).collect();
    if roles.iter().all(|role| Some(role) == roles.first()) {
        return Ok(());
    }
    Err(ShopError::refused(
        "a round needs one upright swivel for its whole swing",
        "no swivel of this machine carries the cutter from facing the wheel to lying along the \
         travel by itself: use a radius fixture, and write it into the machine's file as an axis \
         of role \"work head swivel\"",
    ))
}

/// A rest that stands off by a length lets the edge be so much off level as its helix winds in it,
/// and the relief makes radius of that.
fn rest_miss(edge: &RoundEdge, hold: RoundHold, relief: Angle) -> Option<f64> {
    let winds = edge.turn_per_mm.radians() * edge.round.cutter.mm();
    (hold == RoundHold::Follows && winds != 0.0).then(|| (winds * relief.tan()).abs())
}

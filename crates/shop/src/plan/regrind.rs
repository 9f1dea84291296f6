//! The whole plan of one regrind.

use geometry::Length;
use geometry::outline::{Outline, WornTooth};
use geometry::quantity::System;
use geometry::section::GroundSection;
use geometry::wheel::WheelKind;
use trade::ToolMaterial;

use super::caution::{PlanCaution, cautions};
use super::dial::{snapped_travel, snapped_up};
use super::expect::{Expected, Finished};
use super::feed::primary_feed;
use super::pass::{Grinding, grinding};
use super::rotation::{self, TurnDirection};
use super::secondary::{AfterPrimary, SecondaryGrind, secondary};
use super::setting::{SetupLine, check_reach, primary_setup};
use super::stance::{self, StanceWish, Stanced, relief_ways};
use super::stock::{Stock, stock};
use super::truing::{Truing, face_width, truing};
use super::verdict::{Verdict, verdict};
use super::wanted::{ReliefKind, Wanted, wanted};
use super::wheel::{WheelChoice, ranked};
use crate::bridge;
use crate::context::{Cited, Ctx};
use crate::error::ShopError;
use crate::record::{Cutter, Machine, Wheel};

/// What is asked for.
#[derive(Clone, Debug, PartialEq)]
pub struct PlanRegrind {
    /// The dull cutter, with its wear.
    pub cutter: Cutter,
    /// The machine.
    pub machine: Machine,
    /// The wheels to choose among.
    pub wheels: Vec<Wheel>,
    /// The kind of relief, where it is not left to the wheel.
    pub relief: Option<ReliefKind>,
    /// A size to grind to, where it is not the largest that cleans up.
    pub to_size: Option<Length>,
}

/// The plan.
#[derive(Clone, Debug)]
pub struct RegrindPlan {
    /// What was asked for.
    pub request: PlanRegrind,
    /// The wanted tooth.
    pub wanted: Wanted,
    /// How much must come off.
    pub stock: Stock,
    /// What the cutter is worth.
    pub verdict: Verdict,
    /// The work on the periphery, where the verdict is to grind it.
    pub peripheral: Option<Peripheral>,
    /// Cautions, in the order of the steps.
    pub cautions: Vec<PlanCaution>,
}

/// The work on the periphery.
#[derive(Clone, Debug)]
pub struct Peripheral {
    /// The wheel and its speed.
    pub wheel: WheelChoice,
    /// The kind of relief it leaves.
    pub kind: ReliefKind,
    /// Which way it turns.
    pub direction: TurnDirection,
    /// Truing and dressing.
    pub truing: Truing,
    /// The primary's stance.
    pub stanced: Stanced,
    /// The set-up, line by line.
    pub setup: Vec<SetupLine>,
    /// The primary's passes.
    pub grinding: Grinding,
    /// The secondary.
    pub secondary: SecondaryGrind,
    /// The readings that prove the work.
    pub expected: Expected,
    /// The tooth before the wheel came.
    pub outline_before: Outline,
    /// The tooth after the primary.
    pub outline_primary: Outline,
    /// The tooth after the secondary.
    pub outline_after: Outline,
    /// The primary's section.
    pub section: GroundSection,
}

/// Plans one regrind.
///
/// # Errors
/// `Invalid` where the records do not fit each other, `Refused` where a rule of safety or of
/// geometry forbids the work; both say what would be right.
pub fn plan_regrind(ctx: &Ctx<'_>, request: PlanRegrind) -> Result<RegrindPlan, ShopError> {
    let (cutter, machine) = (&request.cutter, &request.machine);
    let wanted = wanted(ctx, cutter)?;
    let stock = stock(ctx, cutter, &wanted)?;
    check_size(&stock, request.to_size)?;
    let verdict = verdict(ctx, cutter, &wanted, &stock, request.to_size);
    let peripheral = if verdict.route.grinds_periphery() {
        Some(peripheral(ctx, &request, &wanted, &stock, &verdict)?)
    } else {
        None
    };
    let wheel = peripheral.as_ref().map(|peripheral| &peripheral.wheel.wheel);
    let cautions = cautions(ctx, cutter, machine, wheel);
    Ok(RegrindPlan { wanted, stock, verdict, peripheral, cautions, request })
}

/// Refuses a size that would leave the worst tooth unclean.
fn check_size(stock: &Stock, to_size: Option<Length>) -> Result<(), ShopError> {
    let clean = stock.clean_diameter;
    match to_size {
        Some(size) if size > clean + Length::from_um(0.5) => {
            let reason = format!(
                "{} leaves the worst tooth unclean: ask for {} or less",
                size.show_both(System::Inch),
                clean.show_both(System::Inch)
            );
            Err(ShopError::invalid("size asked for", reason))
        }
        _ => Ok(()),
    }
}

/// Refuses to grind what gives off cobalt or carbide dust where nothing draws it away.
fn check_dust(cutter: &Cutter, machine: &Machine) -> Result<(), ShopError> {
    let harmful =
        matches!(cutter.material(), ToolMaterial::Carbide | ToolMaterial::CobaltHighSpeedSteel);
    if harmful && !machine.extraction() {
        let why = format!(
            "{} gives off dust that harms lungs, and {} has no extraction on record: use a bench \
             that has local extraction at the wheel; wet grinding alone is no protection",
            cutter.material().name(),
            machine.name()
        );
        return Err(ShopError::refused("cobalt and carbide dust must be drawn away", why));
    }
    Ok(())
}

fn check_holding(cutter: &Cutter, machine: &Machine) -> Result<(), ShopError> {
    let shank = cutter.shank_diameter();
    if !machine.holding().holds(shank) {
        let (least, greatest) = machine.holding().shanks();
        let reason = format!(
            "{:.3} mm does not fit {}, which holds {:.3} to {:.3} mm: use another fixture",
            shank.mm(),
            machine.holding().fixture().name(),
            least.mm(),
            greatest.mm()
        );
        return Err(ShopError::invalid("cutter.shank_diameter", reason));
    }
    Ok(())
}

fn kind_of(wheel: &Wheel, asked: Option<ReliefKind>) -> ReliefKind {
    asked.unwrap_or(match bridge::kind(wheel) {
        WheelKind::Cup => ReliefKind::Flat,
        WheelKind::Disc => ReliefKind::Hollow,
    })
}

/// The tooth on which the wheel kisses first: the one that stands out farthest.
fn highest_tooth(cutter: &Cutter, wanted: &Wanted, stock: &Stock) -> WornTooth {
    let standing = |tooth: &super::stock::ToothStock| (tooth.worn + tooth.stands_in).mm();
    let highest = stock.teeth.iter().min_by(|a, b| standing(a).total_cmp(&standing(b)));
    let wear_land = highest
        .and_then(|tooth| cutter.wear()?.tooth(tooth.tooth))
        .map_or(Length::ZERO, |wear| wear.wear_land);
    let stands_in = highest.map_or(Length::ZERO, |tooth| tooth.stands_in);
    let ground = cutter.as_ground();
    WornTooth {
        sharp_radius: stock.sharp_diameter.value / 2.0 - stands_in,
        rake: cutter.rake(),
        primary: wanted.ground_primary,
        secondary: ground.map_or(wanted.secondary.value, |ground| ground.secondary),
        land: ground.map_or(wanted.land.value, |ground| ground.land),
        thickness: wanted.tooth_thickness.value,
        wear_land,
    }
}

fn peripheral(
    ctx: &Ctx<'_>,
    request: &PlanRegrind,
    wanted: &Wanted,
    stock: &Stock,
    verdict: &Verdict,
) -> Result<Peripheral, ShopError> {
    let (cutter, machine) = (&request.cutter, &request.machine);
    check_holding(cutter, machine)?;
    check_dust(cutter, machine)?;
    let clean = verdict.chosen().and_then(|view| view.diameter_after);
    let diameter = request.to_size.or(clean).unwrap_or(stock.clean_diameter);
    let ranked = ranked(ctx, cutter, machine, &request.wheels, request.relief);
    let job = Job { ctx, request, wanted, stock, diameter };
    let (wheel, work) = ranked.first_that_works(ctx, machine, |wheel| job.with(wheel))?;
    Ok(work.into_peripheral(ctx, request, wheel))
}

/// The work on the periphery before it is tried with a wheel.
struct Job<'a> {
    ctx: &'a Ctx<'a>,
    request: &'a PlanRegrind,
    wanted: &'a Wanted,
    stock: &'a Stock,
    diameter: Length,
}

/// The work with one wheel.
struct Work {
    kind: ReliefKind,
    face_width: Cited<Length>,
    stanced: Stanced,
    setup: Vec<SetupLine>,
    grinding: Grinding,
    secondary: SecondaryGrind,
    expected: Expected,
    outlines: [Outline; 3],
    section: GroundSection,
}

impl Job<'_> {
    /// Tries the work with a wheel, by each of the machine's ways of setting relief, the finest
    /// first; the first refusal is the one to report.
    fn with(&self, wheel: &Wheel) -> Result<Work, ShopError> {
        let request = self.request;
        let kind = kind_of(wheel, request.relief);
        let needed = eccentric_face(kind, &request.cutter, self.wanted);
        let face_width = face_width(self.ctx, wheel, needed);
        let body = bridge::body(wheel, face_width.value)?;
        let mut refusal = None;
        for way in relief_ways(&request.machine, &body, self.diameter)? {
            let wish = StanceWish {
                ctx: self.ctx,
                cutter: &request.cutter,
                machine: &request.machine,
                wanted: self.wanted,
                body: body.clone(),
                kind,
                way,
                diameter: self.diameter,
                sharp_diameter: self.stock.sharp_diameter.value,
            };
            match self.planned(wheel, wish, face_width.clone()) {
                Ok(work) => return Ok(work),
                Err(error) => refusal = refusal.or(Some(error)),
            }
        }
        Err(refusal.unwrap_or_else(|| ShopError::invalid("machine", "it cannot set relief")))
    }

    /// Plans the work with a wheel and a way of setting relief.
    fn planned(
        &self,
        wheel: &Wheel,
        mut wish: StanceWish<'_>,
        face_width: Cited<Length>,
    ) -> Result<Work, ShopError> {
        let Self { ctx, request, wanted, stock, .. } = *self;
        let (cutter, machine, kind) = (&request.cutter, &request.machine, wish.kind);
        let worn = highest_tooth(cutter, wanted, stock);
        let stanced = stance::primary(&wish)?;
        let fed = sized(&wish, &worn, &stanced, request.to_size.is_some())?;
        wish.diameter = fed.diameter;
        let (outline, section, feed) = primary_feed(&worn, &stanced.setup, fed.diameter)?;
        let grinding = grinding(ctx, machine, wheel, cutter.teeth(), feed, fed.travel)
            .ok_or_else(|| ShopError::invalid("machine", "it has no cross feed with a dial"))?;
        let ground = outline.cut_by(&section);
        let lines = |stanced: &Stanced| primary_setup(ctx, cutter, machine, stanced, fed.diameter);
        let after = AfterPrimary { primary: &stanced, section: &section, outline: &ground, wheel };
        let secondary = secondary(&wish, &after, lines)?;
        let land = secondary.land_after.unwrap_or(wanted.land.value);
        let land_per_feed = secondary.land_per_feed;
        let expected = Finished {
            ctx,
            cutter,
            machine,
            wheel,
            stanced: &stanced,
            section: &section,
            land,
            land_per_feed,
        }
        .expected();
        let finished_outline = ground.cut_by(&secondary.section);
        let outlines = [outline, ground, finished_outline];
        let setup = lines(&stanced);
        check_reach(machine, &setup)?;
        check_reach(machine, &secondary.lines)?;
        Ok(Work {
            kind,
            face_width,
            setup,
            stanced,
            grinding,
            secondary,
            expected,
            outlines,
            section,
        })
    }
}

impl Work {
    fn into_peripheral(
        self,
        ctx: &Ctx<'_>,
        request: &PlanRegrind,
        wheel: WheelChoice,
    ) -> Peripheral {
        let toward = self.stanced.stance().face_toward;
        let kind = bridge::kind(&wheel.wheel);
        let spindle = request.machine.spindle();
        let [outline_before, outline_primary, outline_after] = self.outlines;
        Peripheral {
            direction: rotation::direction(&request.cutter, spindle, kind, toward),
            truing: truing(ctx, &wheel.wheel, self.face_width),
            kind: self.kind,
            wheel,
            stanced: self.stanced,
            setup: self.setup,
            grinding: self.grinding,
            secondary: self.secondary,
            expected: self.expected,
            outline_before,
            outline_primary,
            outline_after,
            section: self.section,
        }
    }
}

/// The face that an eccentric relief needs on this helix.
fn eccentric_face(kind: ReliefKind, cutter: &Cutter, wanted: &Wanted) -> Option<Length> {
    let tangent = cutter.helix().tan();
    let needed = || wanted.land.value / tangent + Length::from_mm(1.0);
    (kind == ReliefKind::Eccentric && tangent > 0.0).then(needed)
}

/// A diameter and the travel that reaches it on the dial.
struct Sized {
    diameter: Length,
    travel: Length,
}

/// Snaps the feed to the dial: up to the next mark that cleans the worst tooth, or to the mark
/// nearest to a size that was asked for.
fn sized(
    wish: &StanceWish<'_>,
    worn: &WornTooth,
    stanced: &Stanced,
    to_size: bool,
) -> Result<Sized, ShopError> {
    let scale = wish.machine.cross_feed();
    let mut diameter = wish.diameter;
    let (_, _, feed) = primary_feed(worn, &stanced.setup, diameter)?;
    let travel = if to_size {
        snapped_travel(scale, feed.travel())
    } else {
        snapped_up(scale, feed.travel())
    };
    let travel = travel.max(scale.finest_travel());
    for _ in 0..4 {
        let (_, _, feed) = primary_feed(worn, &stanced.setup, diameter)?;
        let miss = travel - feed.travel();
        if miss.abs().mm() < 1e-6 {
            break;
        }
        diameter -= 2.0 * feed.radius_per_feed * miss;
    }
    Ok(Sized { diameter, travel })
}

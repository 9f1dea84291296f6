//! The whole plan of one regrind.

use geometry::outline::{Outline, WornTooth};
use geometry::section::GroundSection;
use geometry::wheel::WheelKind;
use geometry::{Angle, Length};

use super::caution::{PlanCaution, cautions};
use super::cone::{ConeGrind, cone};
use super::expect::{Expected, Finished};
use super::feed::{Feed, FirstKiss, NumberedTooth, sized};
use super::held::check_held;
use super::known::WheelKnown;
use super::pass::{DialFeed, Grinding, grinding};
use super::refusal::{check_dust, check_holding, check_nut, check_size, check_wear};
use super::room::{Room, RoomAsked};
use super::rotation::{self, TurnDirection};
use super::route::Route;
use super::secondary::{AfterPrimary, SecondaryGrind, secondary};
use super::setting::{SetupLine, check_reach, primary_setup};
use super::stance::{self, StanceWish, Stanced, relief_ways};
use super::stock::{Stock, ToothStock, stock};
use super::truing::{Truing, face_width, truing};
use super::unlike::{UnlikeTeeth, unlike};
use super::verdict::{Verdict, verdict};
use super::wanted::{ReliefKind, Wanted, wanted};
use super::wheel::{WheelChoice, ranked};
use crate::bridge;
use crate::context::{Cited, Ctx};
use crate::error::ShopError;
use crate::learn::{CutterHistory, Known, Lives};
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
    /// What is known beforehand of the cutter and the wheels.
    pub known: Known,
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
    /// What the wheel's own grinds say of the dial and of its wear.
    pub known: WheelKnown,
    /// The kind of relief it leaves.
    pub kind: ReliefKind,
    /// The tooth that the wheel touches first, where the wear of the teeth was recorded.
    pub kissing_tooth: Option<u32>,
    /// Which way it turns.
    pub direction: TurnDirection,
    /// Truing and dressing.
    pub truing: Truing,
    /// The primary's stance.
    pub stanced: Stanced,
    /// The set-up, line by line.
    pub setup: Vec<SetupLine>,
    /// How near the wheel comes to what it must not grind.
    pub room: Vec<Room>,
    /// The primary's passes.
    pub grinding: Grinding,
    /// The secondary.
    pub secondary: SecondaryGrind,
    /// The readings that prove the work.
    pub expected: Expected,
    /// What changes from tooth to tooth, where the teeth are unalike.
    pub unlike: Option<UnlikeTeeth>,
    /// The taper, where it has one.
    pub cone: Option<ConeGrind>,
    /// The tooth that the wheel touches first, as it was last ground and as it has worn.
    pub worn: WornTooth,
    /// The tooth before the wheel came.
    pub outline_before: Outline,
    /// The tooth after the primary.
    pub outline_primary: Outline,
    /// The tooth after the secondary.
    pub outline_after: Outline,
    /// The primary's section.
    pub section: GroundSection,
}

impl RegrindPlan {
    /// Refuses to weigh readings or habits of a plan whose teeth are no copies of one another: the
    /// models behind these know a cylinder with one helix.
    ///
    /// # Errors
    /// `Refused` for a tapered cutter and for teeth of different helix.
    pub(crate) fn check_alike(&self) -> Result<(), ShopError> {
        let cutter = &self.request.cutter;
        let what = if cutter.taper() > Angle::ZERO {
            "a tapered cutter"
        } else if cutter.unequal_helix() {
            "teeth of unequal helix"
        } else {
            return Ok(());
        };
        let why = format!(
            "readings of {what} are not weighed yet: compare them with the sheet's own figures, \
             tooth by tooth and place by place"
        );
        Err(ShopError::refused("the teeth must be alike to be weighed together", why))
    }

    /// Whether its readings can be weighed: those of a taper and of teeth of unequal helix cannot.
    pub fn is_weighed(&self) -> bool {
        self.check_alike().is_ok()
    }
}

/// Plans one regrind.
///
/// # Errors
/// `Invalid` where the records do not fit each other, `Refused` where a rule of safety or of
/// geometry forbids the work; both say what would be right.
pub fn plan_regrind(ctx: &Ctx<'_>, request: PlanRegrind) -> Result<RegrindPlan, ShopError> {
    let (cutter, machine) = (&request.cutter, &request.machine);
    check_wear(cutter)?;
    let wanted = wanted(ctx, cutter)?;
    let stock = stock(ctx, cutter, &wanted, &request.known.cutter)?;
    check_size(ctx, cutter, &stock, request.to_size)?;
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

/// A cutter by itself: the tooth it should have, the stock, and what it is worth.
#[derive(Clone, Debug, PartialEq)]
pub struct Judged {
    /// The wanted tooth.
    pub wanted: Wanted,
    /// How much must come off.
    pub stock: Stock,
    /// What the cutter is worth.
    pub verdict: Verdict,
}

impl Judged {
    /// Regrinds left in the cutter as it stands, where a source gives a smallest useful size: of a
    /// dull one the coming regrind counts as one. Card, list and quote say this and nothing else.
    /// Where the face is ground, the tooth's back counts and not the diameter.
    pub fn lives(&self) -> Option<Lives> {
        let sharp = self.stock.sharp_diameter.value;
        let lives = self.stock.lives(sharp, self.verdict.smallest.as_ref()?)?;
        let face = self.verdict.chosen().filter(|view| view.route == Route::Face);
        Some(match face.and_then(|view| view.lives_left) {
            Some(left) => {
                let all = left + 1;
                let from = "the tooth's back, at what this regrind takes of it".to_owned();
                Lives { expected: all, least: all, greatest: all, from, ..lives }
            }
            None => lives,
        })
    }
}

/// Judges a cutter by itself, as lists show it: no machine, no wheel, and nothing solved.
///
/// # Errors
/// `Invalid` or `Refused` where its record or its wear does not allow a regrind to be planned.
pub fn judge_cutter(
    ctx: &Ctx<'_>,
    cutter: &Cutter,
    known: &CutterHistory,
) -> Result<Judged, ShopError> {
    check_wear(cutter)?;
    let wanted = wanted(ctx, cutter)?;
    let stock = stock(ctx, cutter, &wanted, known)?;
    let verdict = verdict(ctx, cutter, &wanted, &stock, None);
    Ok(Judged { wanted, stock, verdict })
}

fn kind_of(wheel: &Wheel, asked: Option<ReliefKind>) -> ReliefKind {
    asked.unwrap_or(match bridge::kind(wheel) {
        WheelKind::Cup => ReliefKind::Flat,
        WheelKind::Disc => ReliefKind::Hollow,
    })
}

/// The teeth as the wheel finds them, with their numbers; one without a number where no wear was
/// recorded.
fn worn_teeth(cutter: &Cutter, wanted: &Wanted, stock: &Stock) -> Vec<NumberedTooth> {
    let ground = cutter.as_ground();
    let tooth = |sharp_radius: Length, wear_land: Length| WornTooth {
        sharp_radius,
        rake: cutter.rake(),
        primary: wanted.ground_primary,
        secondary: ground.map_or(wanted.secondary.value, |ground| ground.secondary),
        land: ground.map_or(wanted.land.value, |ground| ground.land),
        thickness: wanted.tooth_thickness.value,
        wear_land,
    };
    if stock.teeth.is_empty() {
        return vec![(None, tooth(stock.dull_diameter / 2.0, Length::ZERO))];
    }
    let place =
        |found: &ToothStock| (Some(found.tooth), tooth(found.original_radius, found.wear_land));
    stock.teeth.iter().map(place).collect()
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
    check_held(cutter, machine)?;
    check_dust(cutter, machine)?;
    let clean = verdict.chosen().and_then(|view| view.diameter_after);
    let diameter = request.to_size.or(clean).unwrap_or(stock.clean_diameter);
    let ranked = ranked(ctx, cutter, machine, &request.wheels, request.relief);
    let flute = cutter.flute_length() - verdict.cut_back;
    let job = Job { ctx, request, wanted, stock, diameter, flute };
    let (wheel, work) = ranked.first_that_works(ctx, machine, |wheel| job.with(wheel))?;
    Ok(work.into_peripheral(ctx, wheel))
}

/// Primary and secondary in their places, as what comes after asks for them.
pub(super) struct Finishing<'a> {
    pub(super) stanced: &'a Stanced,
    pub(super) section: &'a GroundSection,
    pub(super) secondary: &'a SecondaryGrind,
    /// Runout that is allowed, where a table says.
    pub(super) runout: Option<Length>,
    pub(super) cutter: &'a Cutter,
    pub(super) wheel: &'a Wheel,
    /// The tooth that is touched first, as the wheel finds it.
    pub(super) before: &'a Outline,
    /// The primary's passes.
    pub(super) grinding: &'a Grinding,
    /// The lines of a set-up with a stance.
    pub(super) lines: &'a dyn Fn(&Stanced) -> Vec<SetupLine>,
}

/// The work on the periphery before it is tried with a wheel.
struct Job<'a> {
    ctx: &'a Ctx<'a>,
    request: &'a PlanRegrind,
    wanted: &'a Wanted,
    stock: &'a Stock,
    diameter: Length,
    flute: Length,
}

/// The work with one wheel.
struct Work {
    known: WheelKnown,
    kind: ReliefKind,
    kissing_tooth: Option<u32>,
    direction: TurnDirection,
    face_width: Cited<Length>,
    stanced: Stanced,
    setup: Vec<SetupLine>,
    room: Vec<Room>,
    grinding: Grinding,
    secondary: SecondaryGrind,
    expected: Expected,
    unlike: Option<UnlikeTeeth>,
    cone: Option<ConeGrind>,
    worn: WornTooth,
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
        let known = WheelKnown::of(self.ctx, wheel, &request.known.wheel(wheel.number()))?;
        let (teeth, mut refusal) = (request.cutter.teeth(), None);
        for way in relief_ways(&request.machine, &body, (teeth, self.diameter))? {
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
                dial_ratio: known.trusted,
            };
            match self.planned(wheel, wish, (face_width.clone(), known.clone())) {
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
        (face_width, known): (Cited<Length>, WheelKnown),
    ) -> Result<Work, ShopError> {
        let Self { ctx, request, wanted, stock, .. } = *self;
        let (cutter, machine, kind) = (&request.cutter, &request.machine, wish.kind);
        let worn = worn_teeth(cutter, wanted, stock);
        let (stanced, section) = stance::primary(&wish)?;
        let fed = sized(&wish, &worn, (&stanced, section), request.to_size.is_some())?;
        wish.diameter = fed.diameter;
        let FirstKiss { tooth: kissing_tooth, worn, outline, section, feed } = fed.kiss;
        let dial = DialFeed { feed, travel: fed.travel, ratio: known.trusted };
        let has_none = || ShopError::invalid("machine", "it has no cross feed with a dial");
        let grinding = grinding(ctx, machine, wheel, cutter.teeth(), dial).ok_or_else(has_none)?;
        let ground = outline.cut_by(&section);
        let lines = |stanced: &Stanced| self.lines(stanced, fed.diameter);
        let after = AfterPrimary {
            primary: &stanced,
            section: &section,
            before: &outline,
            outline: &ground,
            wheel,
        };
        let mut secondary = secondary(&wish, &after, lines)?;
        let expected = self.expected(&known, (&stanced, &section), &feed, &secondary);
        let work = Finishing {
            stanced: &stanced,
            section: &section,
            secondary: &secondary,
            runout: expected.runout.as_ref().map(|cited| cited.value),
            cutter,
            wheel,
            before: &outline,
            grinding: &grinding,
            lines: &lines,
        };
        let (unlike, cone) = (unlike(&wish, &work, self.flute)?, cone(&wish, &work, self.flute)?);
        // The secondary of a taper may want a swivel of its own.
        secondary.lines.extend(cone.iter().filter_map(|cone| cone.secondary_line.clone()));
        let finished_outline = ground.cut_by(&secondary.section);
        let room = self.room(wheel, &outline, (&stanced, &section), &secondary)?;
        let outlines = [outline, ground, finished_outline];
        let direction = self.direction(wheel, &stanced)?;
        let mut setup = lines(&stanced);
        setup.extend(cone.iter().map(|cone| cone.line.clone()));
        check_reach(machine, &setup)?;
        check_reach(machine, &secondary.lines)?;
        Ok(Work {
            known,
            kind,
            kissing_tooth,
            direction,
            face_width,
            setup,
            room,
            stanced,
            grinding,
            secondary,
            expected,
            unlike,
            cone,
            worn,
            outlines,
            section,
        })
    }

    /// The readings to expect of a primary and its secondary.
    fn expected(
        &self,
        known: &WheelKnown,
        (stanced, section): (&Stanced, &GroundSection),
        feed: &Feed,
        secondary: &SecondaryGrind,
    ) -> Expected {
        Finished {
            ctx: self.ctx,
            cutter: &self.request.cutter,
            machine: &self.request.machine,
            known,
            stanced,
            section,
            stock: feed.travel() * feed.radius_per_feed,
            land: secondary.land_after.unwrap_or(self.wanted.land.value),
            land_per_feed: secondary.land_per_feed,
        }
        .expected()
    }

    /// The lines of the primary's set-up at a diameter.
    fn lines(&self, stanced: &Stanced, diameter: Length) -> Vec<SetupLine> {
        let (cutter, machine) = (&self.request.cutter, &self.request.machine);
        primary_setup(self.ctx, cutter, machine, stanced, diameter, self.flute)
    }

    fn direction(&self, wheel: &Wheel, stanced: &Stanced) -> Result<TurnDirection, ShopError> {
        let (cutter, machine) = (&self.request.cutter, &self.request.machine);
        let toward = stanced.stance().face_toward;
        check_nut(rotation::direction(cutter, machine, bridge::kind(wheel), toward))
    }

    /// What the wheel comes near while it grinds the primary and the secondary.
    fn room(
        &self,
        wheel: &Wheel,
        outline: &Outline,
        (stanced, section): (&Stanced, &GroundSection),
        secondary: &SecondaryGrind,
    ) -> Result<Vec<Room>, ShopError> {
        let asked = RoomAsked {
            ctx: self.ctx,
            cutter: &self.request.cutter,
            machine: &self.request.machine,
            wheel,
            outline,
            old_radius: self.stock.sharp_diameter.value / 2.0,
            flute: self.flute,
        };
        asked.look((stanced, section), secondary)
    }
}

impl Work {
    fn into_peripheral(self, ctx: &Ctx<'_>, wheel: WheelChoice) -> Peripheral {
        let [outline_before, outline_primary, outline_after] = self.outlines;
        Peripheral {
            direction: self.direction,
            truing: truing(ctx, &wheel.wheel, self.face_width),
            kind: self.kind,
            kissing_tooth: self.kissing_tooth,
            wheel,
            known: self.known,
            stanced: self.stanced,
            setup: self.setup,
            room: self.room,
            grinding: self.grinding,
            secondary: self.secondary,
            expected: self.expected,
            unlike: self.unlike,
            cone: self.cone,
            worn: self.worn,
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

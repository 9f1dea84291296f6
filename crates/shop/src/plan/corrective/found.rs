//! The teeth as the check found them, and the set-up as it will stand.

use geometry::Length;
use geometry::section::{GroundSection, Setup};

use super::made::Carried;
use super::{Chosen, FeedFrom, ToothFound};
use crate::check::{Action, Check, Fault, Finding, set_up_as};
use crate::error::ShopError;
use crate::plan::Quantity;
use crate::plan::regrind::Peripheral;
use crate::record::LandStage;

/// Where the work starts from.
pub(super) struct Found<'a> {
    pub(super) check: &'a Check,
    pub(super) before: &'a Peripheral,
    /// The set-up with which the teeth were really ground.
    pub(super) was: Setup,
    /// The set-up with which they will be ground, at the old diameter.
    pub(super) will_be: Setup,
    /// By how much the wheel's corner stays rounder than on record.
    pub(super) corner: Length,
    pub(super) from: FeedFrom,
    /// The one tooth that is gone over, or the several; all where it is empty.
    pub(super) only: Vec<u32>,
    pub(super) is_secondary_ground: bool,
    pub(super) teeth: Vec<ToothFound>,
    /// By tooth, then tip and shank end: how far out an edge stands of the path on which the wheel
    /// will pass, in mm.
    path: Vec<[f64; 2]>,
    /// The level of the teeth that went through the last pass, in mm.
    pub(super) level_mm: f64,
    /// How far lower than found the lowest edge may lie, in mm.
    pub(super) margin_mm: f64,
}

impl<'a> Found<'a> {
    pub(super) fn of(
        check: &'a Check,
        before: &'a Peripheral,
        chosen: &[Chosen],
    ) -> Result<Self, ShopError> {
        let state = State { check, chosen };
        let corner_mm = state.size(Fault::Corner).max(0.0);
        let relief_deg = state.size(Fault::Clearance);
        let stays_mm = if state.is_made(Fault::Corner) { 0.0 } else { corner_mm };
        let plan = &check.request.plan;
        let was = set_up_as(plan, relief_deg, corner_mm)?;
        let will_be = set_up_as(plan, relief_deg * state.relief_left(), stays_mm)?;
        let path = state.path();
        let is_secondary_ground = is_secondary_ground(check, before);
        let only = state.only();
        let kissed = state.kissed(&path, &only);
        let from = if state.moves_wheel() || is_secondary_ground {
            FeedFrom::Kiss(kissed)
        } else {
            FeedFrom::LastPass
        };
        Ok(Self {
            check,
            before,
            was,
            will_be,
            corner: Length::from_mm(stays_mm),
            from,
            is_secondary_ground,
            teeth: state.teeth(),
            level_mm: state.level(&path),
            margin_mm: state.margin_mm(),
            only,
            path,
        })
    }

    pub(super) fn radius_mm(&self) -> f64 {
        self.before.section.circle_radius().mm()
    }

    pub(super) fn highest_mm(&self) -> f64 {
        self.path.iter().flatten().copied().fold(f64::NEG_INFINITY, f64::max)
    }

    pub(super) fn lowest_mm(&self) -> f64 {
        self.path.iter().flatten().copied().fold(f64::INFINITY, f64::min)
    }

    /// The surface of a tooth whose edge stands out by this.
    pub(super) fn surface(&self, stand_mm: f64) -> Result<GroundSection, ShopError> {
        Ok(self.was.section(Length::from_mm(2.0 * (self.radius_mm() + stand_mm)))?)
    }
}

/// Whether the secondary stands already: lands that were read after it say so, lands read after the
/// primary say no, and without lands it is ground where the plan has it ground.
fn is_secondary_ground(check: &Check, before: &Peripheral) -> bool {
    if before.secondary.stands_already {
        return true;
    }
    let stages = || check.request.readings.lands().iter().map(|group| group.stage);
    if stages().next().is_none() {
        return before.secondary.grinding.is_some();
    }
    stages().any(|stage| stage == LandStage::AfterSecondary)
}

/// How surely the first spark is felt where a few micrometres decide whether the lowest tooth is
/// reached, on the radius (own choice, no source).
const SPARK_FELT_MM: f64 = 0.0025;

struct State<'a> {
    check: &'a Check,
    chosen: &'a [Chosen],
}

impl State<'_> {
    fn finding(&self, fault: Fault) -> Option<&Finding> {
        self.check.findings.iter().find(|finding| finding.fault == fault)
    }

    fn size(&self, fault: Fault) -> f64 {
        self.finding(fault).map_or(0.0, |finding| finding.size.value)
    }

    fn is_made(&self, fault: Fault) -> bool {
        self.chosen.iter().any(|one| one.correction.fault == fault && one.carried.is_made())
    }

    fn makes(&self, action: Action) -> bool {
        self.chosen.iter().any(|one| one.correction.action == action && one.carried.is_made())
    }

    /// Whether something is done after which the wheel no longer stands where the last pass left
    /// it.
    fn moves_wheel(&self) -> bool {
        let moving =
            [Action::Reseat, Action::Dress, Action::Swivel, Action::SetRelief, Action::SecondRound];
        moving.into_iter().any(|action| self.makes(action))
    }

    /// The share of the relief's error that stays: all of it where it is left, what the dial's
    /// marks cannot give where it is corrected.
    fn relief_left(&self) -> f64 {
        let made = self.chosen.iter().find(|one| one.correction.fault == Fault::Clearance);
        let Some(Chosen { correction, carried: Carried::Made }) = made else { return 1.0 };
        let Some(change) = &correction.dial else { return 1.0 };
        match (change.by, change.exact) {
            (Quantity::Length(by), Quantity::Length(exact)) if exact != Length::ZERO => {
                1.0 - by / exact
            }
            (Quantity::Angle(by), Quantity::Angle(exact)) if exact.radians() != 0.0 => {
                1.0 - by.radians() / exact.radians()
            }
            _ => 1.0,
        }
    }

    /// Whether the wheel follows this fault on its way as it did before: a swivel that stays, a
    /// shank that is not reseated, one tooth that may stay deep.
    fn is_followed(&self, fault: Fault) -> bool {
        let stays = match fault {
            Fault::Taper | Fault::Runout => true,
            Fault::Slip(_) => self.size(fault) < 0.0,
            _ => false,
        };
        stays && !self.is_made(fault)
    }

    fn path(&self) -> Vec<[f64; 2]> {
        let edges = &self.check.edges;
        let count = self.check.request.plan.request.cutter.teeth() as usize;
        let followed = || self.check.by_fault.iter().filter(|(fault, _)| self.is_followed(*fault));
        let at = |place: usize, tooth: usize| {
            let of = |stands: &[Vec<crate::check::Figure>]| {
                stands.get(place).and_then(|row| row.get(tooth)).map_or(0.0, |figure| figure.value)
            };
            of(&edges.stands) - followed().map(|(_, part)| of(&part.stands)).sum::<f64>()
        };
        (0..count).map(|tooth| [at(0, tooth), at(1, tooth)]).collect()
    }

    /// The teeth that alone are gone over: those that were off their rest and stand out, where
    /// nothing else is ground.
    fn only(&self) -> Vec<u32> {
        let made: Vec<&Chosen> = self.chosen.iter().filter(|one| one.carried.is_made()).collect();
        let proud = |one: &&Chosen| match one.correction.fault {
            Fault::Slip(tooth) if self.size(one.correction.fault) > 0.0 => Some(tooth),
            _ => None,
        };
        let teeth: Vec<u32> = made.iter().filter_map(proud).collect();
        if teeth.len() == made.len() { teeth } else { Vec::new() }
    }

    fn slipped(&self, tooth: usize) -> bool {
        u32::try_from(tooth + 1).is_ok_and(|tooth| self.finding(Fault::Slip(tooth)).is_some())
    }

    /// The tooth that sparks first; where single teeth are gone over, the first of the others.
    fn kissed(&self, path: &[[f64; 2]], only: &[u32]) -> u32 {
        let numbered = (1_u32..).zip(path).filter(|(tooth, _)| !only.contains(tooth));
        let height = |stands: &[f64; 2]| stands[0].max(stands[1]);
        let highest = numbered.max_by(|a, b| {
            // Teeth that stand alike: the first of them.
            height(a.1).total_cmp(&height(b.1)).then(b.0.cmp(&a.0))
        });
        highest.map_or(1, |(tooth, _)| tooth)
    }

    /// Where the last pass left the teeth that it went over.
    fn level(&self, path: &[[f64; 2]]) -> f64 {
        let own = || path.iter().enumerate().filter(|(tooth, _)| !self.slipped(*tooth));
        let count = own().count();
        if count == 0 {
            return self.size(Fault::Size);
        }
        own().map(|(_, stands)| 0.5 * (stands[0] + stands[1])).sum::<f64>() / count as f64
    }

    /// How far lower the lowest edge may lie than found, against where the wheel sparks first: the
    /// band of the runout at one place, that of a taper which is taken out, and the feel for the
    /// spark.
    fn margin_mm(&self) -> f64 {
        let judged = self.check.judgements.iter();
        let runout = judged.filter(|one| one.quality == crate::check::Quality::Runout);
        let runout = runout.map(|one| one.found.half_width).fold(0.0, f64::max);
        let is_taken_out = |fault: Fault| self.is_made(fault);
        let taper = self.finding(Fault::Taper).filter(|finding| is_taken_out(finding.fault));
        let taper = taper.map_or(0.0, |finding| finding.size.half_width);
        let felt = if self.moves_wheel() { SPARK_FELT_MM } else { 0.0 };
        runout.hypot(taper).hypot(felt)
    }

    fn teeth(&self) -> Vec<ToothFound> {
        let sees = |seen: &crate::check::Seen| {
            matches!(seen.fault, Fault::Runout | Fault::Slip(_)) && seen.half_width.is_some()
        };
        if !self.check.seen.iter().any(sees) {
            return Vec::new();
        }
        let [tip, shank] = [0, 1].map(|place| self.check.edges.stands.get(place));
        let rows = tip.zip(shank).into_iter().flat_map(|(tip, shank)| tip.iter().zip(shank));
        let found =
            |(tooth, (tip, shank)): (u32, (&crate::check::Figure, &crate::check::Figure))| {
                ToothFound { tooth, tip: tip.length(), shank: shank.length() }
            };
        (1_u32..).zip(rows).map(found).collect()
    }
}

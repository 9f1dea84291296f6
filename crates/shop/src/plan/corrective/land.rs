//! What stands after the corrective grind: land, secondary, and the readings to expect.

use geometry::outline::{Outline, WornTooth};
use geometry::section::{GroundSection, Stance};
use geometry::{Angle, Length};

use super::depth::{Depth, turned};
use super::found::Found;
use super::made::Carried;
use super::{Chosen, CorrectivePlan, SecondaryNext};
use crate::check::{Action, Fault, flute_of};
use crate::context::Ctx;
use crate::error::ShopError;
use crate::plan::expect::{Expected, Finished};
use crate::plan::held::crank_turned;
use crate::plan::refusal::check_nut;
use crate::plan::regrind::{Finishing, Peripheral};
use crate::plan::room::RoomAsked;
use crate::plan::rotation;
use crate::plan::secondary::{AfterPrimary, SecondaryGrind, secondary};
use crate::plan::setting::{SetupItem, SetupLine, primary_setup};
use crate::plan::stance::{StanceWish, Stanced, measured, relief_ways};
use crate::plan::unlike::unlike;
use crate::plan::{FeedFrom, Quantity, RegrindPlan, UnlikeTeeth};
use crate::record::{AxisRole, Wheel};

/// The work as it will stand.
pub(super) fn finished(
    ctx: &Ctx<'_>,
    found: &Found<'_>,
    depth: Depth,
    chosen: Vec<Chosen>,
) -> Result<CorrectivePlan, ShopError> {
    let next = Next { ctx, found, depth: &depth, wheel: wheel(found)? };
    let mut plan = found.check.request.plan.clone();
    let (peripheral, secondary) = next.peripheral(&chosen)?;
    let set_anew = next.set_anew(&chosen, &peripheral);
    plan.peripheral = Some(peripheral);
    let second = &depth.grinding.second_round;
    let rounds = if found.only.is_empty() {
        [depth.grinding.first_round.clone(), second.clone()]
    } else {
        [found.only.clone(), found.only.clone()]
    };
    Ok(CorrectivePlan {
        found_diameter: Length::from_mm(2.0 * (found.radius_mm() + found.level_mm)),
        cuts_at: found.check.cuts_at.map(|highest| Length::from_mm(highest.value)),
        teeth: found.teeth.clone(),
        from: found.from,
        remarks: remarks(found, &plan, &chosen),
        rounds,
        set_anew,
        secondary,
        chosen,
        plan,
    })
}

/// The wheel as it stays: a corner that is not dressed is rounder than on record.
fn wheel(found: &Found<'_>) -> Result<Wheel, ShopError> {
    let mut draft = found.before.wheel.wheel.draft();
    draft.corner_radius += found.corner;
    draft.build().map_err(|errors| ShopError::invalid("wheel", errors.to_string()))
}

fn remarks(found: &Found<'_>, plan: &RegrindPlan, chosen: &[Chosen]) -> Vec<String> {
    let mut remarks = Vec::new();
    let stays = |one: &&Chosen| {
        let told_again = matches!(one.correction.fault, Fault::Taper | Fault::Runout);
        told_again && !one.carried.is_made()
    };
    for one in chosen.iter().filter(stays) {
        let fault = one.correction.fault.name();
        remarks.push(format!("{fault} is left as it is: the next check will find it again"));
    }
    let is_reset = chosen
        .iter()
        .any(|one| one.correction.action == Action::SetRelief && one.carried == Carried::Made);
    if is_reset {
        let remark = "where the rest was off for the primary it is off for the secondary too: move \
                      the secondary's mark by as many divisions";
        remarks.push(remark.to_owned());
    }
    let smallest = plan.verdict.smallest.as_ref();
    let size = plan.peripheral.as_ref().map(|peripheral| peripheral.expected.diameter);
    if let Some((smallest, _)) = smallest.zip(size).filter(|(least, size)| *size < least.value) {
        remarks.push(format!(
            "it comes out below the smallest useful size [{}]: weigh whether it is worth grinding \
             again",
            smallest.source
        ));
    }
    if found.check.outcome == crate::check::Outcome::Unclear {
        let remark = "the readings leave something in doubt; read in full again afterwards";
        remarks.push(remark.to_owned());
    }
    remarks
}

struct Next<'a> {
    ctx: &'a Ctx<'a>,
    found: &'a Found<'a>,
    depth: &'a Depth,
    wheel: Wheel,
}

/// The outlines of a tooth on the way.
struct Outlines {
    /// The old tooth with its wear taken off, which ends a land until a fresh secondary does.
    sharp: Outline,
    /// As the check found it.
    found: Outline,
    /// After this primary.
    primary: Outline,
}

impl Next<'_> {
    fn plan(&self) -> &RegrindPlan {
        &self.found.check.request.plan
    }

    /// The new primary's stance with what it really makes.
    fn stanced(&self) -> Result<Stanced, ShopError> {
        let before = &self.found.before.stanced;
        let Stanced { ideal, target, relief_by, .. } = before.clone();
        let setup = self.depth.setup.clone();
        Ok(measured(setup, ideal, self.depth.diameter, target, relief_by)?.0)
    }

    /// A surface that was ground before, as it lies from the new edge.
    fn seen_from_new_edge(&self, old: &GroundSection) -> Result<GroundSection, ShopError> {
        let radius_mm = 0.5 * self.depth.diameter.mm();
        let stand_mm = old.circle_radius().mm() - self.found.radius_mm();
        let turned = turned(self.found, stand_mm, radius_mm);
        let stance = *old.setup().stance();
        let stance = Stance { relief_setting: stance.relief_setting - turned, ..stance };
        let radius = old.radius_at(turned).unwrap_or(old.circle_radius());
        Ok(old.setup().with_stance(stance)?.section_touching(Angle::ZERO, radius)?)
    }

    /// The secondary as it stands, from the new edge.
    fn old_secondary(&self) -> Result<Option<GroundSection>, ShopError> {
        if !self.found.is_secondary_ground {
            return Ok(None);
        }
        let old = &self.found.before.secondary.section;
        let radius_mm = 0.5 * self.depth.diameter.mm();
        // It was placed from the edge of the plan before, whatever its own circle is.
        let turned = turned(self.found, 0.0, radius_mm);
        let stance = *old.setup().stance();
        let stance = Stance { relief_setting: stance.relief_setting - turned, ..stance };
        let at = self.land_end();
        let radius = old.radius_at(at + turned).unwrap_or(old.circle_radius());
        Ok(Some(old.setup().with_stance(stance)?.section_touching(at, radius)?))
    }

    /// About where the land ends behind the new edge.
    fn land_end(&self) -> Angle {
        let land = self.found.before.expected.land;
        Angle::from_radians(2.0 * (land / self.depth.diameter))
    }

    fn outlines(&self, secondary: Option<&GroundSection>) -> Result<Outlines, ShopError> {
        let new_radius = self.depth.diameter / 2.0;
        let worn = WornTooth { wear_land: Length::ZERO, ..self.found.before.worn };
        let sharp = worn.outline(new_radius);
        let was = self.found.surface(self.found.highest_mm())?;
        let mut found = sharp.cut_by(&self.seen_from_new_edge(&was)?);
        if let Some(secondary) = secondary {
            found = found.cut_by(secondary);
        }
        let primary = found.cut_by(&self.depth.section);
        Ok(Outlines { sharp, found, primary })
    }

    fn lines(&self, stanced: &Stanced) -> Vec<SetupLine> {
        let request = &self.plan().request;
        let flute = flute_of(self.plan());
        let diameter = self.depth.diameter;
        primary_setup(self.ctx, &request.cutter, &request.machine, stanced, diameter, flute)
    }

    fn peripheral(&self, chosen: &[Chosen]) -> Result<(Peripheral, SecondaryNext), ShopError> {
        let before = self.found.before;
        let stanced = self.stanced()?;
        let standing = self.old_secondary()?;
        let outlines = self.outlines(standing.as_ref())?;
        let section = &self.depth.section;
        let fresh = standing.as_ref().and_then(|behind| section.land_before(behind));
        let old = outlines.sharp.land_left_by(section);
        let land_now = [old, fresh].into_iter().flatten().reduce(Length::min);
        let (secondary, next) = self.secondary(&stanced, &outlines, standing, land_now)?;
        let expected = self.expected(&stanced, &secondary, land_now);
        let unlike = self.unlike(&stanced, &outlines, (&secondary, &expected))?;
        let finished = outlines.primary.cut_by(&secondary.section);
        let mut wheel = before.wheel.clone();
        wheel.wheel = self.wheel.clone();
        let kissing_tooth = match self.found.from {
            FeedFrom::Kiss(tooth) => Some(tooth),
            FeedFrom::LastPass => None,
        };
        let request = &self.plan().request;
        let toward = stanced.stance().face_toward;
        let kind = crate::bridge::kind(&self.wheel);
        let direction = rotation::direction(&request.cutter, &request.machine, kind, toward);
        let room = RoomAsked {
            ctx: self.ctx,
            cutter: &request.cutter,
            machine: &request.machine,
            wheel: &self.wheel,
            outline: &outlines.found,
            old_radius: self.plan().stock.sharp_diameter.value / 2.0,
            flute: flute_of(self.plan()),
        }
        .look((&stanced, section), &secondary)?;
        Ok((
            Peripheral {
                wheel,
                known: before.known.clone(),
                kind: before.kind,
                kissing_tooth,
                direction: check_nut(direction)?,
                truing: before.truing.clone(),
                setup: self.setup(&stanced, chosen),
                room,
                stanced,
                grinding: self.depth.grinding.clone(),
                secondary,
                expected,
                unlike,
                cone: before.cone.clone(),
                worn: before.worn,
                outline_before: outlines.found,
                outline_primary: outlines.primary,
                outline_after: finished,
                section: section.clone(),
            },
            next,
        ))
    }

    /// The set-up as it will stand: as it was, but for the relief's own mark where that is set
    /// anew.
    fn setup(&self, stanced: &Stanced, chosen: &[Chosen]) -> Vec<SetupLine> {
        let mut lines = self.found.before.setup.clone();
        let mark = chosen
            .iter()
            .find(|one| one.correction.action == Action::SetRelief && one.carried == Carried::Made);
        let to = mark.and_then(|one| one.correction.dial.as_ref()?.to.clone());
        let value = self.lines(stanced).into_iter().find(|line| line.item == SetupItem::Relief);
        if let (Some(to), Some(value)) = (to, value) {
            // The holes of a crank are those of the mark that is set, not of what it really makes.
            let machine = &self.plan().request.machine;
            let axis = machine.axis(AxisRole::ReliefDial).filter(|axis| axis.name() == to.axis);
            let turned = match (to.reading, axis) {
                (Quantity::Angle(angle), Some(axis)) => crank_turned(machine, axis, angle),
                _ => None,
            };
            let how = turned.map_or_else(
                || value.how.clone(),
                |turned| format!("turn the tooth down, {turned}"),
            );
            for line in lines.iter_mut().filter(|line| line.item == SetupItem::Relief) {
                let (dial, how) = (Some(to.clone()), how.clone());
                *line = SetupLine { dial, how, ..value.clone() };
            }
        }
        lines
    }

    /// The lines that differ from where the machine stands now: at the secondary's marks, where
    /// that was ground last.
    fn set_anew(&self, chosen: &[Chosen], next: &Peripheral) -> Vec<SetupLine> {
        let before = self.found.before;
        let stands =
            if self.found.is_secondary_ground { &before.secondary.lines } else { &before.setup };
        let is_relief_reset = chosen
            .iter()
            .any(|one| one.correction.action == Action::SetRelief && one.carried == Carried::Made);
        let changes = |line: &&SetupLine| match line.item {
            SetupItem::Relief => is_relief_reset || self.found.is_secondary_ground,
            _ => !stands.contains(line),
        };
        next.setup.iter().filter(changes).cloned().collect()
    }

    fn secondary(
        &self,
        stanced: &Stanced,
        outlines: &Outlines,
        standing: Option<GroundSection>,
        land_now: Option<Length>,
    ) -> Result<(SecondaryGrind, SecondaryNext), ShopError> {
        let before = &self.found.before.secondary;
        let Some(standing) = standing else {
            return Ok((self.ground_anew(stanced, outlines)?, SecondaryNext::Follows));
        };
        let wanted = self.plan().wanted.land.value;
        let slack = self.land_slack();
        let stays = |why: String| {
            let grind = SecondaryGrind {
                // The fresh secondary ends the land, before and after.
                land_before: None,
                land_after: land_now,
                grinding: None,
                stands_already: true,
                section: standing.clone(),
                remarks: Vec::new(),
                ..before.clone()
            };
            (grind, SecondaryNext::Stays(why))
        };
        let system = self.plan().request.cutter.system();
        let shown = |length: Length| length.show(system);
        match land_now {
            Some(land) if land <= wanted + slack => Ok(stays(format!(
                "the land comes to {}, and {} was wanted: within what the feed can promise",
                shown(land),
                shown(wanted)
            ))),
            land => match self.ground_anew(stanced, outlines) {
                // Between the two reliefs the land ends at the secondary of the grind before, which
                // no reading is held against.
                Ok(grind) => {
                    let grind = SecondaryGrind { land_before: None, ..grind };
                    let land = land.map_or_else(
                        || "the whole back".to_owned(),
                        |land| shown(land).to_string(),
                    );
                    let why = format!("the land would be {land}, and {} was wanted", shown(wanted));
                    Ok((grind, SecondaryNext::Again(why)))
                }
                Err(error) => Ok(stays(format!("it cannot be gone over again: {error}"))),
            },
        }
    }

    /// How much wider than wanted a land may come by what the plan itself can promise: half a mark
    /// of the feed, and what the teeth may stand apart.
    fn land_slack(&self) -> Length {
        let before = self.found.before;
        let half = self.plan().request.machine.cross_feed().finest_travel() / 2.0;
        let grows = before.secondary.land_per_feed.unwrap_or(0.0).abs();
        before.expected.land_band.max(half * grows)
    }

    fn ground_anew(
        &self,
        stanced: &Stanced,
        outlines: &Outlines,
    ) -> Result<SecondaryGrind, ShopError> {
        let wish = self.wish(stanced)?;
        let after = AfterPrimary {
            primary: stanced,
            section: &self.depth.section,
            before: &outlines.sharp,
            outline: &outlines.primary,
            wheel: &self.wheel,
        };
        secondary(&wish, &after, |stanced| self.lines(stanced))
    }

    /// What this grind's own set-up is solved from.
    fn wish(&self, stanced: &Stanced) -> Result<StanceWish<'_>, ShopError> {
        let plan = self.plan();
        let (cutter, machine) = (&plan.request.cutter, &plan.request.machine);
        let body = stanced.setup.wheel().clone();
        let ways = relief_ways(machine, &body, (cutter.teeth(), self.depth.diameter))?;
        let way = ways.into_iter().find(|way| way.by == stanced.relief_by).ok_or_else(|| {
            ShopError::invalid("machine", "it no longer sets relief as the plan did")
        })?;
        Ok(StanceWish {
            ctx: self.ctx,
            cutter,
            machine,
            wanted: &plan.wanted,
            body,
            kind: self.found.before.kind,
            way,
            diameter: self.depth.diameter,
            // The other teeth stand as the check found them, and no longer as they were dull.
            sharp_diameter: Length::from_mm(
                2.0 * (self.found.radius_mm() + self.found.highest_mm()),
            ),
            dial_ratio: self.found.before.grinding.ratio,
        })
    }

    /// What changes from tooth to tooth now, where the teeth are unalike.
    fn unlike(
        &self,
        stanced: &Stanced,
        outlines: &Outlines,
        (secondary, expected): (&SecondaryGrind, &Expected),
    ) -> Result<Option<UnlikeTeeth>, ShopError> {
        let work = Finishing {
            stanced,
            section: &self.depth.section,
            secondary,
            runout: expected.runout.as_ref().map(|cited| cited.value),
            cutter: &self.plan().request.cutter,
            wheel: &self.wheel,
            before: &outlines.found,
            grinding: &self.depth.grinding,
            lines: &|stanced| self.lines(stanced),
        };
        unlike(&self.wish(stanced)?, &work, flute_of(self.plan()))
    }

    fn expected(
        &self,
        stanced: &Stanced,
        secondary: &SecondaryGrind,
        land_now: Option<Length>,
    ) -> Expected {
        let request = &self.plan().request;
        let before = self.found.before;
        let feed = &self.depth.grinding.feed;
        let land = secondary.land_after.or(land_now).unwrap_or(self.plan().wanted.land.value);
        let mut expected = Finished {
            ctx: self.ctx,
            cutter: &request.cutter,
            machine: &request.machine,
            known: &before.known,
            stanced,
            section: &self.depth.section,
            stock: feed.travel() * feed.radius_per_feed,
            land,
            land_per_feed: secondary.land_per_feed,
        }
        .expected();
        // The size counts from what the check found, and is no surer than that.
        let doubt = self.found.check.cuts_at.map_or(Length::ZERO, |size| size.within());
        expected.diameter_band.0 += doubt;
        expected.diameter_band.1 += doubt;
        expected
    }
}

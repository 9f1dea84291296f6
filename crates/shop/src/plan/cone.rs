//! A tapered cutter: how far the table swivels, and what relief, land and size come out along it.
//!
//! The side nearest the wheel is laid along the travel. A rest that keeps its height then bears on
//! a wider and wider cutter, so the tooth stands less and less below centre toward the shank; a
//! tooth that does not turn keeps its relief. Either way the wheel comes where the real section
//! says, at the tip and at the shank's end, and the difference is the swivel.

use geometry::closed_form::inset_cost;
use geometry::cone::{normal_relief, swivel_held, swivel_over_rest};
use geometry::screw::{Flutes, Hand};
use geometry::section::{GroundSection, Setup};
use geometry::wheel::WheelKind;
use geometry::{Angle, Length};

use super::aslant::SwivelAxis;
use super::held::Held;
use super::refusal::{check_next_tooth, old_edge_stands};
use super::regrind::Finishing;
use super::secondary::angle_at_chord;
use super::setting::{RELIEF_SLACK_DEG, SetupLine};
use super::stance::{ReliefBy, StanceWish, Stanced, far_side_clears, inset};
use super::wanted::ReliefKind;
use crate::bridge;
use crate::error::ShopError;

/// What comes out at one place along the flute.
#[derive(Clone, Debug, PartialEq)]
pub struct ConeStation {
    /// Its distance from the tip.
    pub from_tip: Length,
    /// Diameter of the edges there.
    pub diameter: Length,
    /// How much farther out the edge stands than a straight side from tip to shank would.
    pub off_straight: Length,
    /// Relief square to the axis, over the plan's distance.
    pub relief: Angle,
    /// The same square to the edge's side.
    pub normal_relief: Angle,
    /// Land after the secondary.
    pub land: Option<Length>,
}

/// The grinding of a taper.
#[derive(Clone, Debug, PartialEq)]
pub struct ConeGrind {
    /// The swivel that makes the taper exactly.
    pub swivel: Angle,
    /// What an ideal flat face would ask for at the middle, to be shown beside it.
    pub flat_face: Angle,
    /// The taper that its mark makes.
    pub made: Angle,
    /// The line that sets it.
    pub line: SetupLine,
    /// The line that sets it anew for the secondary, where the land would not be alike otherwise.
    pub secondary_line: Option<SetupLine>,
    /// Tip, middle and shank's end of the flute.
    pub stations: [ConeStation; 3],
    /// How far toward the shank this regrind moves every size along the taper, which is what the
    /// end would have to lose to have its old diameter back.
    pub shift: Length,
    /// What the taper costs.
    pub remarks: Vec<String>,
}

/// The relief to set at the tip so that the middle of the flute comes out as wanted: a rest that
/// keeps its height gives less where the cutter is wider.
///
/// **Source** \[own-derivation\] the height below centre is R sin(setting), the same at tip and
/// middle; the relief is the setting less what the rest's inset costs, which hangs on the lead
/// alone, and more by asin(height / wheel radius) under a disc whose axis stays on centre; a disc
/// that is raised leaves asin(height / wheel radius) alone, at every diameter. **Departs** in
/// taking the wheel's corner for straight. **Error** a few hundredths of a degree; the sheet gives
/// what really comes out. **Domain** a tapered cutter.
pub(super) fn at_tip(wish: &StanceWish<'_>, relief: Angle) -> Angle {
    let is_alike = wish.way.by == ReliefBy::WheelAbove || !Held::on(wish.machine).lets_turn();
    if wish.cutter.taper() == Angle::ZERO || is_alike {
        return relief;
    }
    let half_way = wish.cutter.flute_length() * wish.cutter.taper().tan();
    let wider = 1.0 + half_way / wish.diameter;
    let cost = inset_cost(wish.cutter.diameter(), wish.cutter.helix(), inset(wish));
    // What a disc adds hangs on the rest's height, which is the same at both places.
    let is_raised = wish.body.kind() == WheelKind::Disc && wish.way.by != ReliefBy::HeadWithRest;
    let disc = if is_raised { wish.diameter.mm() / (2.0 * wish.body.radius_mm()) } else { 0.0 };
    let asin = |sine: f64| sine.clamp(-1.0, 1.0).asin();
    let wanted = (relief + cost).radians();
    let (mut low, mut high) = (-1.0, 1.0);
    for _ in 0..HALVINGS {
        // The sine of the setting at the tip.
        let middle: f64 = 0.5 * (low + high);
        let there = asin(middle / wider) + asin(middle * disc);
        if there < wanted { low = middle } else { high = middle }
    }
    Angle::from_radians(asin(low) + asin(low * disc)) - cost
}

/// Refuses what is not planned on a taper.
pub(super) fn check_kind(wish: &StanceWish<'_>) -> Result<(), ShopError> {
    if wish.kind == ReliefKind::Eccentric && wish.cutter.taper() > Angle::ZERO {
        return Err(ShopError::refused(
            "a taper is ground flat or hollow",
            "an eccentric relief needs another lean at every diameter: ask for --relief flat",
        ));
    }
    Ok(())
}

/// The grinding of the taper; none on a cylinder.
pub(super) fn cone(
    wish: &StanceWish<'_>,
    work: &Finishing<'_>,
    flute: Length,
) -> Result<Option<ConeGrind>, ShopError> {
    if wish.cutter.taper() == Angle::ZERO {
        return Ok(None);
    }
    let side = Side { wish, work, held: Held::on(wish.machine), flute };
    side.ground().map(Some)
}

/// The side of the cone that lies along the travel.
struct Side<'a> {
    wish: &'a StanceWish<'a>,
    work: &'a Finishing<'a>,
    held: Held,
    flute: Length,
}

impl Side<'_> {
    fn ground(&self) -> Result<ConeGrind, ShopError> {
        let swivel_axis = SwivelAxis::of(self.wish.machine, self.wish.cutter.hand())?;
        let axis = swivel_axis.axis;
        let here = self.here()?;
        let tangent = self.swivel_tangent(here)?;
        let swivel = Angle::from_tangent(tangent);
        let finest = axis.swivel().map_or(Angle::ZERO, |scale| scale.finest());
        let set = swivel.snapped_to(finest);
        let places = [Length::ZERO, self.flute / 2.0, self.flute];
        let tip = self.tip();
        let end = self.primary_at((here, self.flute), set)?;
        self.check_end(&end)?;
        let land = self.tip_land();
        let near = self.primary_at((here, Length::ZERO), set)?;
        let behind_here = self.secondary_for(&near, land)?;
        let behind = (self.secondary_for(&end, land)? - behind_here) / self.flute;
        let behind = Angle::from_tangent(behind);
        let set_behind = behind.snapped_to(finest);
        let grown = (end.circle_radius() - tip) / self.flute;
        let sets = [(here, set), (behind_here, set_behind)];
        let [first, second, third] = places.map(|place| self.station(place, sets, grown));
        let stations = [first?, second?, third?];
        let lost = old_edge_stands(self.wish);
        let made = Angle::from_tangent(grown);
        Ok(ConeGrind {
            swivel,
            flat_face: self.flat_face(),
            made,
            line: swivel_axis.line(swivel, set),
            secondary_line: (set_behind != set).then(|| swivel_axis.line(behind, set_behind)),
            shift: lost * (1.0 / self.wish.cutter.taper().tan()),
            remarks: self.remarks(&stations, made),
            stations,
        })
    }

    fn tip(&self) -> Length {
        self.work.section.circle_radius()
    }

    /// Where the leading corner stands when the edge at the tip is on its circle.
    fn here(&self) -> Result<Length, ShopError> {
        let section = self.local(self.work.stanced, self.tip())?.section(self.tip() * 2.0)?;
        Ok(section.leading_corner_from_axis())
    }

    /// The swivel of an ideal flat face, at the middle of the flute.
    fn flat_face(&self) -> Angle {
        let (taper, setting) =
            (self.wish.cutter.taper(), self.work.stanced.stance().relief_setting);
        if !self.held.lets_turn() {
            return swivel_held(taper, setting);
        }
        let middle = self.tip() + self.flute * (0.5 * taper.tan());
        let sine = setting.sin() * (self.tip() / middle);
        swivel_over_rest(taper, Angle::from_radians(sine.clamp(-1.0, 1.0).asin()))
    }

    /// Tangent of the swivel at which the wheel, where it stands at the tip, comes where the
    /// section asks for it at the shank's end.
    fn swivel_tangent(&self, here: Length) -> Result<f64, ShopError> {
        let radius = self.tip() + self.flute * self.wish.cutter.taper().tan();
        let there = self.local(self.work.stanced, radius)?.section(radius * 2.0)?;
        Ok((there.leading_corner_from_axis() - here) / self.flute)
    }

    /// The set-up as it is where the cutter has a radius: the same lead, and the same height of
    /// the rest or the same turn of the tooth. While the corner cuts here, the rest bears nearer to
    /// the tip or to the shank by its inset, where the cutter is narrower or wider; while another
    /// place of the face does, it bears elsewhere again, and the tooth stands turned otherwise.
    ///
    /// **Source** \[own-derivation\] over a rest of one height h the tooth stands turned by asin of
    /// h over R, the radius at the rest, and so turns by tan(setting) · tan(taper) / R for each
    /// length that it travels: a twist of its own beside the helix. **Departs** in taking that
    /// twist for even over the face. **Error** a few hundredths of a degree (docs/NUMBERS.md).
    /// **Domain** tapers of the plan.
    fn local(&self, stanced: &Stanced, radius: Length) -> Result<Setup, ShopError> {
        let flutes = bridge::flutes(self.wish.cutter);
        let mut twist_per_mm = flutes.twist_rad_per_mm();
        let mut stance = *stanced.stance();
        if self.held.lets_turn() {
            let taper = self.wish.cutter.taper().tan();
            let aside = stance.rest_inset * stance.face_toward.sign();
            let rest = radius - aside * taper;
            let sine = (stance.relief_setting.sin() * (self.tip() / rest)).clamp(-1.0, 1.0);
            let there = Angle::from_radians(sine.asin());
            let turn_per_mm = there.tan() * taper / rest.mm();
            twist_per_mm -= turn_per_mm;
            let at_rest = there - Angle::from_radians(turn_per_mm * aside.mm());
            stance.relief_setting = at_rest;
        }
        let nominal_diameter = flutes.nominal_diameter * (radius / self.tip());
        let tangent = 0.5 * twist_per_mm * nominal_diameter.mm();
        let helix = Angle::from_tangent(tangent.abs());
        let other = if flutes.hand == Hand::Right { Hand::Left } else { Hand::Right };
        let helix_hand = if tangent < 0.0 { other } else { flutes.hand };
        let flutes = Flutes { nominal_diameter, helix, helix_hand, ..flutes };
        Ok(Setup::new(flutes, self.wish.body.clone(), stance)?)
    }

    /// The primary as it is left at a distance from the tip with the table swivelled by `set`.
    fn primary_at(
        &self,
        (here, from_tip): (Length, Length),
        set: Angle,
    ) -> Result<GroundSection, ShopError> {
        let away = from_tip * set.tan();
        let mut radius = self.tip() + from_tip * self.wish.cutter.taper().tan();
        let mut primary = None;
        for _ in 0..STEPS {
            let setup = self.local(self.work.stanced, radius)?;
            let section = setup.section_standing(here + away, radius)?;
            radius = section.circle_radius();
            primary = Some(section);
        }
        Ok(primary.unwrap_or_else(|| self.work.section.clone()))
    }

    /// The secondary behind a primary, with the wheel so far from the axis.
    fn secondary_at(
        &self,
        primary: &GroundSection,
        from_axis: Length,
    ) -> Result<GroundSection, ShopError> {
        let radius = primary.circle_radius();
        let setup = self.local(&self.work.secondary.stanced, radius)?;
        Ok(setup.section_standing(from_axis, radius)?)
    }

    /// The land that the secondary leaves at the tip.
    fn tip_land(&self) -> Length {
        let land = self.work.section.land_before(&self.work.secondary.section);
        land.unwrap_or(self.wish.wanted.land.value)
    }

    /// Where the wheel must stand for the secondary to leave a land behind a primary: where it
    /// touches the primary at the land's end. Toward the shank its relief falls too, and faster
    /// than the primary's, so that the primary's swivel would thin the land.
    fn secondary_for(&self, primary: &GroundSection, land: Length) -> Result<Length, ShopError> {
        let circle = primary.circle_radius();
        let end = angle_at_chord(primary, land).ok_or_else(|| {
            let why = "toward the shank the primary is nowhere as wide as the land at the tip: ask \
                       for a narrower land";
            ShopError::invalid("land", why)
        })?;
        let radius = primary.radius_at(end).unwrap_or(circle);
        let setup = self.local(&self.work.secondary.stanced, circle)?;
        Ok(setup.section_touching(end, radius)?.leading_corner_from_axis())
    }

    fn station(
        &self,
        from_tip: Length,
        [(here, set), (behind, set_behind)]: [(Length, Angle); 2],
        grown: f64,
    ) -> Result<ConeStation, ShopError> {
        let primary = self.primary_at((here, from_tip), set)?;
        let secondary = self.secondary_at(&primary, behind + from_tip * set_behind.tan())?;
        let relief = self.work.stanced.target.of(&primary).ok_or_else(|| {
            let why = format!("{} from the tip it leaves none", self.shown(from_tip));
            ShopError::refused("the wheel must leave a surface", why)
        })?;
        let straight = self.tip() + from_tip * grown;
        let twist_per_mm = bridge::flutes(self.wish.cutter).twist_rad_per_mm();
        let helix = Angle::from_tangent(twist_per_mm * primary.circle_radius().mm());
        Ok(ConeStation {
            from_tip,
            diameter: primary.circle_radius() * 2.0,
            off_straight: primary.circle_radius() - straight,
            relief,
            normal_relief: normal_relief(relief, self.wish.cutter.taper(), helix),
            land: primary.land_before(&secondary),
        })
    }

    fn shown(&self, length: Length) -> String {
        length.show(self.wish.cutter.system()).to_string()
    }

    /// Refuses where the wheel clears at the tip and no longer at the wider end.
    fn check_end(&self, section: &GroundSection) -> Result<(), ShopError> {
        if !far_side_clears(self.wish, section) {
            return Err(ShopError::refused(
                "the far side of the cup must clear the cutter",
                "at the tip it does, and at the wider end of the taper it would cut: use a smaller \
                 cup, or a disc",
            ));
        }
        let place = "at the tip it clears, but at the wider end of the taper ";
        check_next_tooth(self.wish, section.next_tooth_gap(), place)
    }

    fn remarks(&self, stations: &[ConeStation; 3], made: Angle) -> Vec<String> {
        let [tip, _, end] = stations;
        let mut remarks = Vec::new();
        let falls = tip.relief - end.relief;
        if falls.degrees() > RELIEF_SLACK_DEG {
            remarks.push(format!(
                "relief falls by {} from tip to shank; do a long flute in two lengths",
                falls.show()
            ));
        }
        let off = (made.tan() - self.wish.cutter.taper().tan()) * 2.0;
        let over = self.flute * off;
        let (size, trim) = if over > Length::ZERO { ("large", "less") } else { ("small", "more") };
        remarks.push(format!(
            "by the mark the shank's end comes {} too {size} on diameter: swivel a hair {trim}",
            self.shown(over.abs())
        ));
        let bent = stations[1].off_straight;
        if bent.abs() > Length::from_um(2.0) {
            remarks.push(format!(
                "the side comes out {} {} in the middle",
                bent.abs().show_both(self.wish.cutter.system()),
                if bent > Length::ZERO { "full" } else { "hollow" }
            ));
        }
        remarks
    }
}

/// The setting at a place hangs on the radius there, and the other way round; each step gains two
/// digits or more.
const STEPS: u32 = 4;

/// Halvings of the stretch in which the sine of a setting is looked for.
const HALVINGS: u32 = 50;

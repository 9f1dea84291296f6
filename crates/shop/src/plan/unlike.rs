//! Teeth that stand or run unalike: what changes from tooth to tooth, what one set-up makes of
//! them all, and how their size is read.

use geometry::closed_form::pair_reading;
use geometry::screw::Flutes;
use geometry::section::{GroundSection, Setup};
use geometry::{Angle, Length};

use super::group::{HelixGroup, group};
use super::refusal::check_next_tooth;
use super::regrind::Finishing;
use super::setting::RELIEF_SLACK_DEG;
use super::stance::{StanceWish, Stanced};
use crate::bridge;
use crate::error::ShopError;
use crate::record::Cutter;

/// How one tooth comes out, and where it stands.
#[derive(Clone, Debug, PartialEq)]
pub struct EachTooth {
    /// Its number.
    pub tooth: u32,
    /// Its helix.
    pub helix: Angle,
    /// The least angle from its edge to the next one heelward, and how far from the tip; none where
    /// nobody measured where the teeth stand.
    pub least_gap: Option<(Angle, Length)>,
    /// How far the wheel stands outside the next tooth's edge there; none where it does not come
    /// so far, or the place of the teeth is not known.
    pub clear: Option<Length>,
    /// Relief over the plan's distance with the one set-up.
    pub relief: Angle,
    /// How much farther out its edge then comes than the plan's diameter has it.
    pub stands_out: Length,
    /// Its land after the secondary, with the one set-up.
    pub land: Option<Length>,
    /// The tooth it is measured against with a micrometer, and what that reads at the plan's
    /// diameter; none where the places are not known.
    pub over: Option<(u32, Length)>,
}

/// Teeth that stand or run unalike.
#[derive(Clone, Debug)]
pub struct UnlikeTeeth {
    /// Every tooth.
    pub teeth: Vec<EachTooth>,
    /// Groups of equal helix with set-ups of their own; empty where one set-up does for all.
    pub groups: Vec<HelixGroup>,
    /// What to do about it.
    pub remarks: Vec<String>,
}

/// Places along the flute at which the gap from tooth to tooth is looked at.
const PLACES: u32 = 64;

/// Works out what changes from tooth to tooth; none where the teeth are alike.
pub(super) fn unlike(
    wish: &StanceWish<'_>,
    work: &Finishing<'_>,
    flute: Length,
) -> Result<Option<UnlikeTeeth>, ShopError> {
    let cutter = wish.cutter;
    if !cutter.unequal_index() && !cutter.unequal_helix() {
        return Ok(None);
    }
    // What is cut off the end leaves the teeth otherwise to each other where the new tip lies.
    let gone = cutter.flute_length() - flute;
    let shortened = cutter.draft().shortened(gone).build();
    let ground = shortened.map_err(|errors| ShopError::invalid("cutter", errors.to_string()))?;
    let made = helices(cutter)
        .into_iter()
        .map(|helix| Made::of(wish, work, helix))
        .collect::<Result<Vec<_>, _>>()?;
    let each = |tooth| each(&ground, work, &made, tooth);
    let teeth: Vec<EachTooth> = (1..=cutter.teeth()).map(each).collect();
    check_gaps(wish, &teeth)?;
    let groups = if one_does(work, &teeth) {
        Vec::new()
    } else {
        made.iter().map(|made| group(wish, work, made.helix)).collect::<Result<_, _>>()?
    };
    let remarks = remarks(&ground, &teeth, &groups);
    Ok(Some(UnlikeTeeth { teeth, groups, remarks }))
}

/// The helices there are, the cutter's own first.
fn helices(cutter: &Cutter) -> Vec<Angle> {
    let mut found = Vec::new();
    for helix in (1..=cutter.teeth()).map(|tooth| cutter.helix_of(tooth)) {
        if !found.contains(&helix) {
            found.push(helix);
        }
    }
    found
}

/// What the one set-up makes of teeth of a helix.
struct Made {
    helix: Angle,
    section: GroundSection,
    relief: Angle,
    land: Option<Length>,
}

impl Made {
    fn of(wish: &StanceWish<'_>, work: &Finishing<'_>, helix: Angle) -> Result<Self, ShopError> {
        let near = work.section.circle_radius();
        let standing = |stanced: &Stanced, section: &GroundSection| {
            let setup = with_helix(wish, stanced, helix)?;
            let from_axis = section.leading_corner_from_axis();
            Ok::<_, ShopError>(setup.section_standing(from_axis, near)?)
        };
        let section = standing(work.stanced, work.section)?;
        let behind = standing(&work.secondary.stanced, &work.secondary.section)?;
        let relief = work.stanced.target.of(&section).ok_or_else(|| {
            let why = format!("on a tooth of {} it leaves none", helix.show());
            ShopError::refused("the wheel must leave a surface", why)
        })?;
        let land = section.land_before(&behind);
        Ok(Self { helix, section, relief, land })
    }
}

pub(super) fn with_helix(
    wish: &StanceWish<'_>,
    stanced: &Stanced,
    helix: Angle,
) -> Result<Setup, ShopError> {
    let flutes = Flutes { helix, ..bridge::flutes(wish.cutter) };
    Ok(Setup::new(flutes, wish.body.clone(), *stanced.stance())?)
}

fn each(cutter: &Cutter, work: &Finishing<'_>, made: &[Made], tooth: u32) -> EachTooth {
    let helix = cutter.helix_of(tooth);
    let own = made.iter().find(|made| made.helix == helix);
    let least_gap = least_gap(cutter, tooth, cutter.flute_length());
    let clear = least_gap.and_then(|(gap, _)| {
        let section = &own?.section;
        Some(section.contact_at(gap)?.radius - section.circle_radius())
    });
    let circle = work.section.circle_radius();
    EachTooth {
        tooth,
        helix,
        least_gap,
        clear,
        relief: own.map_or(work.stanced.relief, |made| made.relief),
        stands_out: own.map_or(Length::ZERO, |made| made.section.circle_radius() - circle),
        land: own.and_then(|made| made.land),
        over: over(cutter, tooth, circle * 2.0),
    }
}

/// The least angle from a tooth's edge to the next heelward, along the flute: where their helices
/// differ, it changes from place to place.
///
/// **Source** \[own-derivation\] the edge of a tooth stands at its index and 2 z tan(helix) / D,
/// heelward, with the sign of the hands. **Departs** in looking at 65 places. **Error** none, for
/// the gap changes evenly and is least at an end. **Domain** known places.
fn least_gap(cutter: &Cutter, tooth: u32, flute: Length) -> Option<(Angle, Length)> {
    let gap = *cutter.special().gaps().get(tooth.checked_sub(1)? as usize)?;
    let next = tooth % cutter.teeth() + 1;
    let runs = |tooth: u32| cutter.helix_of(tooth).tan() * cutter.helix_sign();
    let per_mm = 2.0 * (runs(next) - runs(tooth)) / cutter.diameter().mm();
    let at = |place: u32| {
        let from_tip = flute * (f64::from(place) / f64::from(PLACES));
        (Angle::from_radians(gap.radians() + per_mm * from_tip.mm()), from_tip)
    };
    (0..=PLACES).map(at).min_by(|a, b| a.0.radians().total_cmp(&b.0.radians()))
}

/// The angles to look at for the teeth beside one that is ground: from every edge to the next, at
/// their least along the flute; the pitch where nobody measured where the teeth stand.
pub(super) fn gaps(cutter: &Cutter, flute: Length) -> Vec<Angle> {
    let known: Vec<Angle> =
        (1..=cutter.teeth()).filter_map(|tooth| Some(least_gap(cutter, tooth, flute)?.0)).collect();
    if known.is_empty() {
        return vec![Angle::from_degrees(360.0 / f64::from(cutter.teeth().max(1)))];
    }
    known
}

/// The tooth that stands farthest across, and what a micrometer reads over the two.
fn over(cutter: &Cutter, tooth: u32, diameter: Length) -> Option<(u32, Length)> {
    let index = &cutter.special().index;
    let own = *index.get(tooth.checked_sub(1)? as usize)?;
    let read = |(at, place): (usize, &Angle)| (at as u32 + 1, pair_reading(diameter, *place - own));
    index.iter().enumerate().map(read).max_by(|a, b| a.1.mm().total_cmp(&b.1.mm()))
}

/// Refuses where the wheel would cut the next tooth, or two teeth run into each other.
fn check_gaps(wish: &StanceWish<'_>, teeth: &[EachTooth]) -> Result<(), ShopError> {
    for tooth in teeth {
        if let Some((gap, from_tip)) = tooth.least_gap.filter(|(gap, _)| *gap <= Angle::ZERO) {
            let reason = format!(
                "tooth {} would meet the next one {} from the tip ({}): read index and \
                 tooth_helix again",
                tooth.tooth,
                from_tip.show_both(wish.cutter.system()),
                gap.show()
            );
            return Err(ShopError::invalid("cutter.tooth_helix", reason));
        }
        let place = format!("at tooth {} the next one stands near; ", tooth.tooth);
        check_next_tooth(wish, tooth.clear, &place)?;
    }
    Ok(())
}

/// Whether one set-up does for every tooth: reliefs within the slack of a good one, edges within
/// the runout that is allowed.
fn one_does(work: &Finishing<'_>, teeth: &[EachTooth]) -> bool {
    let wanted = work.stanced.target.relief;
    let slack = Angle::from_degrees(RELIEF_SLACK_DEG);
    let runout = work.runout.unwrap_or(Length::from_um(10.0)) / 2.0;
    teeth
        .iter()
        .all(|tooth| (tooth.relief - wanted).abs() <= slack && tooth.stands_out.abs() <= runout)
}

fn remarks(cutter: &Cutter, teeth: &[EachTooth], groups: &[HelixGroup]) -> Vec<String> {
    let mut remarks = Vec::new();
    if cutter.special().index.is_empty() {
        remarks.push(
            "where its teeth stand is not known: measure it, and write index in its file; till \
             then the next tooth's gap is taken as equal"
                .to_owned(),
        );
    } else {
        remarks.push("each tooth rides on its own rest: the rest stays as it is set".to_owned());
    }
    if let Some((gap, from_tip)) = teeth
        .iter()
        .filter_map(|tooth| tooth.least_gap)
        .min_by(|a, b| a.0.radians().total_cmp(&b.0.radians()))
    {
        remarks.push(format!(
            "teeth stand nearest at {}, {} from the tip",
            gap.show(),
            from_tip.show_both(cutter.system())
        ));
    }
    if !groups.is_empty() {
        remarks.push(
            "one set-up does not do for every helix: grind the teeth of each group with its own, \
             the primary fed from the one zero of the first touch"
                .to_owned(),
        );
    } else if cutter.unequal_helix() {
        remarks.push("one set-up does for every helix".to_owned());
    }
    remarks
}

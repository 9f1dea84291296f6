//! Teeth of one helix among teeth of others, ground with a set-up of their own.

use geometry::{Angle, Length};

use super::dial::snapped_travel;
use super::feed::Feed;
use super::pass::{DialFeed, Grinding, grinding};
use super::regrind::Finishing;
use super::secondary::{AfterPrimary, SecondaryGrind, secondary};
use super::setting::{SetupLine, check_reach, relief_line};
use super::stance::{StanceWish, settled_with};
use super::unlike::with_helix;
use crate::error::ShopError;
use crate::record::{Cutter, Special};

/// Teeth of one helix with a set-up of their own.
#[derive(Clone, Debug)]
pub struct HelixGroup {
    /// Their helix.
    pub helix: Angle,
    /// Their numbers.
    pub teeth: Vec<u32>,
    /// Their own setting of the relief.
    pub relief_line: SetupLine,
    /// The relief that it gives them.
    pub relief: Angle,
    /// How much nearer than the plan's the wheel then stands at size; below zero farther off.
    pub nearer: Length,
    /// Their passes, counted from the one zero of the plan's first touch.
    pub grinding: Grinding,
    /// Their secondary, fed from its own first touch.
    pub secondary: SecondaryGrind,
}

/// The work on the teeth of one helix.
pub(super) fn group(
    wish: &StanceWish<'_>,
    work: &Finishing<'_>,
    helix: Angle,
) -> Result<HelixGroup, ShopError> {
    let cutter = of_one_helix(wish.cutter, helix)?;
    let wish = StanceWish {
        ctx: wish.ctx,
        cutter: &cutter,
        machine: wish.machine,
        wanted: wish.wanted,
        body: wish.body.clone(),
        kind: wish.kind,
        way: wish.way,
        diameter: wish.diameter,
        sharp_diameter: wish.sharp_diameter,
        dial_ratio: wish.dial_ratio,
    };
    let setup = with_helix(&wish, work.stanced, helix)?;
    let (stanced, section) = settled_with(&wish, &setup, work.stanced.target)?;
    let ground = work.before.cut_by(&section);
    let after = AfterPrimary {
        primary: &stanced,
        section: &section,
        before: work.before,
        outline: &ground,
        wheel: work.wheel,
    };
    let mut secondary = secondary(&wish, &after, work.lines)?;
    let at_size = section.leading_corner_from_axis();
    let per_feed = section.contact_at(Angle::ZERO).map(|contact| contact.per_backing_off);
    let feed = Feed {
        at_size,
        radius_per_feed: per_feed.unwrap_or(work.grinding.feed.radius_per_feed),
        ..work.grinding.feed
    };
    let scale = wish.machine.cross_feed();
    let travel = snapped_travel(scale, feed.travel() / wish.dial_ratio).max(scale.finest_travel());
    let dial = DialFeed { feed, travel, ratio: wish.dial_ratio };
    let planned = grinding(wish.ctx, wish.machine, work.wheel, cutter.teeth(), dial);
    let mut grinding =
        planned.ok_or_else(|| ShopError::invalid("machine", "it has no cross feed with a dial"))?;
    let teeth: Vec<u32> =
        (1..=work.cutter.teeth()).filter(|tooth| work.cutter.helix_of(*tooth) == helix).collect();
    for rounds in [Some(&mut grinding), secondary.grinding.as_mut()].into_iter().flatten() {
        rounds.first_round.retain(|tooth| teeth.contains(tooth));
        rounds.second_round.retain(|tooth| teeth.contains(tooth));
    }
    let relief_line = relief_line(wish.machine, &stanced, wish.diameter);
    check_reach(wish.machine, std::slice::from_ref(&relief_line))?;
    check_reach(wish.machine, &secondary.lines)?;
    Ok(HelixGroup {
        helix,
        teeth,
        relief_line,
        relief: stanced.relief,
        nearer: work.section.leading_corner_from_axis() - at_size,
        grinding,
        secondary,
    })
}

/// The cutter as its teeth of that helix see it; where the others stand stays known.
fn of_one_helix(cutter: &Cutter, helix: Angle) -> Result<Cutter, ShopError> {
    let draft = cutter.draft();
    let special = Special { tooth_helix: Vec::new(), ..draft.special.clone() };
    let draft = crate::record::CutterDraft { helix, special, ..draft };
    draft.build().map_err(|errors| ShopError::invalid("cutter", errors.to_string()))
}

//! How deep the corrective grind goes: from where the wheel touches first to where it has cleaned
//! the lowest tooth, on the real surfaces, in whole marks of the cross feed.

use geometry::section::{GroundSection, Setup, Stance};
use geometry::{Angle, Length};

use super::FeedFrom;
use super::found::Found;
use crate::check::Fault;
use crate::context::Ctx;
use crate::error::ShopError;
use crate::plan::ReliefBy;
use crate::plan::dial::{snapped_travel, snapped_up};
use crate::plan::feed::Feed;
use crate::plan::pass::{DialFeed, Grinding, PassKind, grinding};
use crate::record::SlideScale;

/// Rays over the land on which two surfaces are compared.
const RAYS: u32 = 24;

/// Rounds in which a depth settles; each takes most of the miss.
const ROUNDS: u32 = 6;

/// The depth, the surface and the feed.
pub(super) struct Depth {
    pub(super) diameter: Length,
    pub(super) setup: Setup,
    pub(super) section: GroundSection,
    pub(super) grinding: Grinding,
}

/// The set-up at another diameter: where a height sets the relief, its mark stays and the angle
/// that it makes grows as the cutter shrinks.
///
/// **Source** \[own-derivation\] the drop below centre is R sin(setting) at both radii. **Departs**
/// nowhere. **Error** none. **Domain** drops below the radius.
fn at_radius(by: ReliefBy, setup: &Setup, from_mm: f64, to_mm: f64) -> Result<Setup, ShopError> {
    let stance: Stance = *setup.stance();
    match by {
        ReliefBy::Dial | ReliefBy::WheelAbove => Ok(setup.clone()),
        ReliefBy::RestHeight | ReliefBy::HeadWithRest => {
            let sine = (stance.relief_setting.sin() * from_mm / to_mm).clamp(-1.0, 1.0);
            let relief_setting = Angle::from_radians(sine.asin());
            Ok(setup.with_stance(Stance { relief_setting, ..stance })?)
        }
    }
}

/// How far edgeward the edge of a tooth that stands out by this lies of a new edge on the same
/// face.
pub(super) fn turned(found: &Found<'_>, stand_mm: f64, radius_mm: f64) -> Angle {
    let rake = found.check.request.plan.request.cutter.rake();
    Angle::from_radians((found.radius_mm() + stand_mm - radius_mm) * rake.tan() / radius_mm)
}

/// The rays over a land, from the edge to its end.
fn rays(width_mm: f64, radius_mm: f64) -> impl Iterator<Item = Angle> {
    let end = width_mm / radius_mm;
    (0..=RAYS).map(move |ray| Angle::from_radians(end * f64::from(ray) / f64::from(RAYS)))
}

struct Try<'a> {
    found: &'a Found<'a>,
    /// The width over which a surface must come clean.
    land_mm: f64,
}

impl Try<'_> {
    fn section(&self, radius_mm: f64) -> Result<GroundSection, ShopError> {
        let by = self.found.before.stanced.relief_by;
        let setup = at_radius(by, &self.found.will_be, self.found.radius_mm(), radius_mm)?;
        Ok(setup.section(Length::from_mm(2.0 * radius_mm))?)
    }

    /// The largest radius at which the new surface lies in the metal of a tooth that stands out by
    /// `stand_mm`, from its edge to the end of its land.
    ///
    /// **Source** \[own-derivation\] the radius less what the new surface stands out of the old
    /// one at most, both real sections, until nothing stands out. **Departs** in shifting by a
    /// radius what a feed would move. **Error** 0.1 µm. **Domain** surfaces that meet over the
    /// land.
    fn cleans(&self, stand_mm: f64) -> Result<f64, ShopError> {
        let old = self.found.surface(stand_mm)?;
        let mut radius_mm = self.found.radius_mm() + stand_mm;
        for _ in 0..ROUNDS {
            let new = self.section(radius_mm)?;
            let turned = turned(self.found, stand_mm, radius_mm);
            let outside = |at: Angle| Some((new.radius_at(at)? - old.radius_at(at + turned)?).mm());
            let most = rays(self.land_mm, radius_mm).filter_map(outside).reduce(f64::max);
            let most = most.unwrap_or(0.0);
            radius_mm -= most;
            if most.abs() < 1e-7 {
                break;
            }
        }
        Ok(radius_mm)
    }

    /// The new wheel where it first touches a tooth that stands out by `stand_mm`.
    ///
    /// **Source** \[own-derivation\] of the rays over the land the one that asks for the least
    /// feed, the wheel put there, and again. **Departs** nowhere. **Error** what the surfaces curve
    /// between two rays, below 0.1 µm on ordinary lands. **Domain** a tooth that came clean of its
    /// wear.
    fn kiss(&self, stand_mm: f64, near: &GroundSection) -> Result<(Length, Angle), ShopError> {
        let old = self.found.surface(stand_mm)?;
        let radius_mm = near.circle_radius().mm();
        let turned = turned(self.found, stand_mm, radius_mm);
        let (mut at_kiss, mut touched) = (near.leading_corner_from_axis(), Angle::ZERO);
        let mut reference = near.clone();
        for _ in 0..3 {
            let feed = |on_old: Angle| {
                let at = on_old - turned;
                let contact = reference.contact_at(at)?;
                let radius = old.radius_at(on_old)?;
                let feed_mm = (radius - contact.radius).mm() / contact.per_backing_off;
                Some((feed_mm, at, radius))
            };
            let first = rays(self.land_mm, radius_mm).filter_map(feed);
            let Some((_, at, radius)) = first.max_by(|a, b| a.0.total_cmp(&b.0)) else { break };
            let next = near.setup().section_touching(at, radius)?;
            let moved = next.leading_corner_from_axis() - at_kiss;
            (at_kiss, touched) = (next.leading_corner_from_axis(), at);
            reference = next;
            if moved.abs().mm() < 1e-7 {
                break;
            }
        }
        Ok((at_kiss, touched))
    }

    /// The feed to a radius.
    fn feed(&self, radius_mm: f64) -> Result<(GroundSection, Feed), ShopError> {
        let section = self.section(radius_mm)?;
        let (at_kiss, touched) = match self.found.from {
            FeedFrom::Kiss(_) => self.kiss(self.start_mm(), &section)?,
            FeedFrom::LastPass => {
                let stood = self.section(self.found.radius_mm() + self.found.level_mm)?;
                (stood.leading_corner_from_axis(), Angle::ZERO)
            }
        };
        let edge = section.contact_at(Angle::ZERO);
        let feed = Feed {
            at_kiss,
            at_size: section.leading_corner_from_axis(),
            radius_per_feed: edge.map_or(1.0, |contact| contact.per_backing_off),
            kiss_behind: Length::from_mm(radius_mm * touched.radians()),
        };
        Ok((section, feed))
    }

    /// The stand of the tooth that is touched first.
    fn start_mm(&self) -> f64 {
        if self.found.only.is_empty() { self.found.highest_mm() } else { self.found.level_mm }
    }
}

impl Depth {
    pub(super) fn of(
        ctx: &Ctx<'_>,
        found: &Found<'_>,
        fed_to: Option<Length>,
    ) -> Result<Self, ShopError> {
        let land_mm = found.before.expected.land.mm();
        let attempt = Try { found, land_mm };
        let request = &found.check.request.plan.request;
        let scale = request.machine.cross_feed();
        let ratio = found.before.grinding.ratio;
        let (mut radius_mm, to_size) = target(found, &attempt)?;
        let (_, feed) = attempt.feed(radius_mm)?;
        let by_dial = feed.travel() / ratio;
        let travel = match (found.only.is_empty(), to_size) {
            _ if fed_to.is_some() => fed_travel(fed_to, scale)?,
            (false, _) => Length::ZERO,
            (true, true) => snapped_travel(scale, by_dial).max(Length::ZERO),
            (true, false) => snapped_up(scale, by_dial).max(scale.finest_travel()),
        };
        for _ in 0..ROUNDS {
            let (_, feed) = attempt.feed(radius_mm)?;
            let miss = travel * ratio - feed.travel();
            radius_mm -= feed.radius_per_feed * miss.mm();
            if miss.abs().mm() < 1e-7 {
                break;
            }
        }
        let (section, feed) = attempt.feed(radius_mm)?;
        let grinding = fed(ctx, found, DialFeed { feed, travel, ratio })?;
        let diameter = Length::from_mm(2.0 * radius_mm);
        Ok(Self { diameter, setup: section.setup().clone(), section, grinding })
    }
}

/// The travel of a mark that the dial really stood at.
fn fed_travel(fed_to: Option<Length>, scale: &SlideScale) -> Result<Length, ShopError> {
    let travel = scale.travel(fed_to.unwrap_or(Length::ZERO));
    if (Length::ZERO..=Length::from_mm(FED_MM_MAX)).contains(&travel) {
        return Ok(travel);
    }
    let reason = format!(
        "{:.3} mm is no feed of a corrective grind: write 0 to {FED_MM_MAX} mm, as the dial stood \
         from zero",
        travel.mm()
    );
    Err(ShopError::invalid("fed", reason))
}

/// No corrective grind feeds farther (own choice, no source).
const FED_MM_MAX: f64 = 1.0;

/// The radius to go to, and whether it is a size that was asked for and not the least that cleans.
fn target(found: &Found<'_>, attempt: &Try<'_>) -> Result<(f64, bool), ShopError> {
    if !found.only.is_empty() {
        return Ok((found.radius_mm() + found.level_mm, false));
    }
    let plan = &found.check.request.plan;
    let clean_mm = attempt.cleans(found.lowest_mm() - found.margin_mm)?;
    let is_over = found.check.findings.iter().any(|f| f.fault == Fault::Size && f.size.value > 0.0);
    match plan.request.to_size {
        Some(asked) if asked.mm() < 2.0 * clean_mm => Ok((0.5 * asked.mm(), true)),
        Some(_) => Ok((clean_mm, false)),
        // Teeth that came out larger than planned may not have come clean of their wear.
        None if is_over => Ok((clean_mm.min(0.5 * plan.stock.clean_diameter.mm()), false)),
        None => Ok((clean_mm, false)),
    }
}

/// The passes; one round with no feed where nothing is fed.
fn fed(ctx: &Ctx<'_>, found: &Found<'_>, dial: DialFeed) -> Result<Grinding, ShopError> {
    let request = &found.check.request.plan.request;
    let wheel = &found.before.wheel.wheel;
    let travel = dial.travel;
    let planned = grinding(ctx, &request.machine, wheel, request.cutter.teeth(), dial);
    let mut planned =
        planned.ok_or_else(|| ShopError::invalid("machine", "it has no cross feed with a dial"))?;
    if travel == Length::ZERO {
        planned.passes.retain(|pass| pass.kind == PassKind::SparkOut);
        for pass in &mut planned.passes {
            pass.dial = pass.dial.at_zero();
        }
    }
    Ok(planned)
}

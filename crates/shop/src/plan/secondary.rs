//! The secondary: its setting, and the exact feed from the kiss that leaves the land.

use geometry::outline::Outline;
use geometry::section::GroundSection;
use geometry::{Angle, Length};

use super::dial::snapped_travel;
use super::feed::{Feed, feed};
use super::pass::{DialFeed, Grinding, grinding};
use super::refusal::meets_next_tooth;
use super::setting::SetupLine;
use super::stance::{self, StanceWish, Stanced};
use super::unlike::gaps;
use crate::error::ShopError;
use crate::record::{Cutter, Wheel};

/// The grinding of the secondary.
#[derive(Clone, Debug)]
pub struct SecondaryGrind {
    /// Stance of the secondary.
    pub stanced: Stanced,
    /// What changes in the set-up.
    pub lines: Vec<SetupLine>,
    /// Land on the primary before the secondary is ground.
    pub land_before: Option<Length>,
    /// Land that is left at the dial's nearest mark.
    pub land_after: Option<Length>,
    /// The passes; None where the old secondary already leaves the land narrow enough.
    pub grinding: Option<Grinding>,
    /// Whether it was ground before the primary that this plan is about, and stays.
    pub stands_already: bool,
    /// The section of the secondary in its final place.
    pub section: GroundSection,
    /// Growth of the land per length by which the feed falls short.
    pub land_per_feed: Option<f64>,
    /// What the figures hang on, and what the finished tooth still lacks.
    pub remarks: Vec<String>,
}

/// What the secondary starts from.
pub(crate) struct AfterPrimary<'a> {
    pub(crate) primary: &'a Stanced,
    pub(crate) section: &'a GroundSection,
    pub(crate) before: &'a Outline,
    pub(crate) outline: &'a Outline,
    pub(crate) wheel: &'a Wheel,
}

/// The angle behind the edge at which the chord along a section is `width`.
pub(super) fn angle_at_chord(section: &GroundSection, width: Length) -> Option<Angle> {
    let radius_mm = section.circle_radius().mm();
    let chord = |at: f64| {
        let heelward = Angle::from_radians(at);
        let point = section.radius_at(heelward)?.mm();
        Some((radius_mm - point * heelward.cos()).hypot(point * heelward.sin()))
    };
    let (mut low, mut high) = (0.0, 1.5 * width.mm() / radius_mm + 1e-6);
    for _ in 0..60 {
        let middle = 0.5 * (low + high);
        match chord(middle) {
            Some(length) if length < width.mm() => low = middle,
            _ => high = middle,
        }
    }
    chord(low).filter(|length| (length - width.mm()).abs() < 1e-6)?;
    Some(Angle::from_radians(low))
}

/// Plans the secondary behind a primary that has been ground.
pub(crate) fn secondary(
    wish: &StanceWish<'_>,
    after: &AfterPrimary<'_>,
    lines: impl Fn(&Stanced) -> Vec<SetupLine>,
) -> Result<SecondaryGrind, ShopError> {
    let stanced = stance::secondary(wish, after.primary)?;
    let land = wish.wanted.land.value;
    let end = angle_at_chord(after.section, land).ok_or_else(|| {
        let reason = "the primary is nowhere as wide as the land wanted: ask for a narrower land";
        ShopError::invalid("land", reason)
    })?;
    let radius = after.section.radius_at(end).unwrap_or(after.section.circle_radius());
    let through = stanced.setup.section_touching(end, radius)?;
    let exact = feed(after.outline, &stanced.setup, &through)?;
    let land_before = after.before.land_left_by(after.section);
    let (section, grinding, travel) = fed(wish, after, &stanced, &through, exact)?;
    check_clear(wish.cutter, after.section, &section)?;
    let land_after = after.section.land_before(&section).or(land_before);
    let land_per_feed = land_change(after.section, &stanced, &section);
    let lines = lines(&stanced);
    let remarks = remarks(wish, after, &section);
    let grinding = grinding.filter(|_| travel > Length::ZERO);
    Ok(SecondaryGrind {
        stanced,
        lines,
        land_before,
        land_after,
        grinding,
        stands_already: false,
        section,
        land_per_feed,
        remarks,
    })
}

/// What the feed of a secondary is guessed without, with the keys that would tell it.
fn guessed(cutter: &Cutter) -> Option<String> {
    let (back, old) = ("cutter.tooth_thickness", "as_ground.secondary");
    let missing = match (cutter.tooth_thickness(), cutter.as_ground()) {
        (Some(_), Some(_)) => return None,
        (None, None) => format!("{back}, {old} are not on record: the feed is a guess"),
        (None, Some(_)) => format!("{back} is not on record: the feed is a guess, the land counts"),
        (Some(_), None) => format!("{old} is not on record: the feed is a guess, the land counts"),
    };
    Some(missing)
}

fn remarks(
    wish: &StanceWish<'_>,
    after: &AfterPrimary<'_>,
    section: &GroundSection,
) -> Vec<String> {
    let mut remarks = Vec::new();
    remarks.extend(guessed(wish.cutter));
    let circle = after.section.circle_radius();
    let finished = after.outline.cut_by(section);
    let outside = |point: &&geometry::outline::OutlinePoint| {
        point.heelward.radians() > 1e-3 && point.radius >= circle
    };
    if let Some(point) = finished.points().iter().find(outside) {
        let behind = circle * point.heelward.radians();
        remarks.push(format!(
            "the heel would drag from {} behind the edge on: grind a third relief there",
            behind.show_both(wish.cutter.system())
        ));
    }
    remarks
}

/// Refuses a secondary whose wheel comes into the edges of the neighbouring teeth, where these
/// really stand.
fn check_clear(
    cutter: &Cutter,
    primary: &GroundSection,
    section: &GroundSection,
) -> Result<(), ShopError> {
    let circle = primary.circle_radius();
    let gaps = gaps(cutter, cutter.flute_length());
    let beside = gaps.into_iter().flat_map(|gap| [gap, -gap]);
    let into = beside.filter_map(|at| section.radius_at(at)).reduce(Length::min);
    match into.filter(|radius| *radius <= circle) {
        Some(radius) => {
            let system = cutter.system();
            Err(meets_next_tooth(format!(
                "at the secondary's setting it would cut {} into the next tooth's edge: ask for \
                 less secondary relief, a narrower face or a smaller wheel",
                (circle - radius).show_both(system)
            )))
        }
        None => Ok(()),
    }
}

/// Snaps the feed to the dial and finds the section that it really makes.
fn fed(
    wish: &StanceWish<'_>,
    after: &AfterPrimary<'_>,
    stanced: &Stanced,
    through: &GroundSection,
    exact: Feed,
) -> Result<(GroundSection, Option<Grinding>, Length), ShopError> {
    let ratio = wish.dial_ratio;
    let travel = snapped_travel(wish.machine.cross_feed(), exact.travel() / ratio);
    let change = exact.travel() - travel * ratio;
    let section = backed_off(stanced, through, change)?;
    let teeth = wish.cutter.teeth();
    let dial = DialFeed { feed: exact, travel, ratio };
    let plan = grinding(wish.ctx, wish.machine, after.wheel, teeth, dial);
    Ok((section, plan, travel))
}

/// The same stance with the wheel farther off by `change` (nearer where negative).
fn backed_off(
    stanced: &Stanced,
    section: &GroundSection,
    change: Length,
) -> Result<GroundSection, ShopError> {
    let edge = section.contact_at(Angle::ZERO).ok_or_else(|| {
        let reason = "the secondary leaves no surface above the edge";
        ShopError::refused("the wheel must leave a surface", reason)
    })?;
    let mut radius = edge.radius + change * edge.per_backing_off;
    let wanted = section.leading_corner_from_axis() + change;
    let mut next = stanced.setup.section_touching(Angle::ZERO, radius)?;
    for _ in 0..4 {
        let miss = wanted - next.leading_corner_from_axis();
        if miss.abs().mm() < 1e-7 {
            break;
        }
        radius += miss * edge.per_backing_off;
        next = stanced.setup.section_touching(Angle::ZERO, radius)?;
    }
    Ok(next)
}

/// How much wider the land is for each length by which the wheel stops short.
fn land_change(primary: &GroundSection, stanced: &Stanced, section: &GroundSection) -> Option<f64> {
    let step = Length::from_um(5.0);
    let less = primary.land_before(section)?;
    let more = primary.land_before(&backed_off(stanced, section, step).ok()?)?;
    Some((more - less) / step)
}

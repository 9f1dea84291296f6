//! From the first kiss to size: how far the wheel travels.

use geometry::Length;
use geometry::outline::{Outline, WornTooth};
use geometry::section::{GroundSection, Setup};

use super::dial::{snapped_travel, snapped_up};
use super::stance::{StanceWish, Stanced};
use crate::error::ShopError;

/// A tooth as the wheel finds it, with its number where its wear was recorded.
pub(crate) type NumberedTooth = (Option<u32>, WornTooth);

/// A feed along the cross slide, from where the wheel first touches to where it has made its
/// section.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Feed {
    /// Leading corner to cutter axis at the kiss.
    pub at_kiss: Length,
    /// Leading corner to cutter axis at size.
    pub at_size: Length,
    /// Radius gained per length of feed.
    pub radius_per_feed: f64,
    /// How far behind the new edge, along the circle, the wheel first touches.
    pub kiss_behind: Length,
}

impl Feed {
    /// How far the wheel travels.
    pub fn travel(&self) -> Length {
        self.at_kiss - self.at_size
    }
}

/// The feed that brings an outline to a section.
pub(crate) fn feed(
    outline: &Outline,
    setup: &Setup,
    section: &GroundSection,
) -> Result<Feed, ShopError> {
    let kiss = outline.kissed_by(setup, section)?;
    let edge = section.contact_at(geometry::Angle::ZERO);
    let touched = outline.highest_against(&kiss).map_or(0.0, |point| point.heelward.radians());
    Ok(Feed {
        kiss_behind: section.circle_radius() * touched,
        at_kiss: kiss.leading_corner_from_axis(),
        at_size: section.leading_corner_from_axis(),
        radius_per_feed: edge.map_or(1.0, |contact| contact.per_backing_off),
    })
}

/// The tooth that the wheel touches first, and the feed from there to a section.
pub(crate) struct FirstKiss {
    pub(crate) tooth: Option<u32>,
    pub(crate) worn: WornTooth,
    pub(crate) outline: Outline,
    pub(crate) section: GroundSection,
    pub(crate) feed: Feed,
}

/// A tooth and where the wheel, on its way, first touches it.
struct Kissed {
    tooth: NumberedTooth,
    outline: Outline,
    feed: Feed,
}

/// The kiss of every tooth that differs from those before it, on the way to a section; the tooth
/// that is touched first comes first.
fn kisses(
    teeth: impl IntoIterator<Item = NumberedTooth>,
    section: &GroundSection,
) -> Result<Vec<Kissed>, ShopError> {
    let mut kissed: Vec<Kissed> = Vec::new();
    for tooth in teeth {
        // Teeth that are worn alike are kissed alike.
        if kissed.iter().any(|other| other.tooth.1 == tooth.1) {
            continue;
        }
        let outline = tooth.1.outline(section.circle_radius());
        let feed = feed(&outline, section.setup(), section)?;
        kissed.push(Kissed { tooth, outline, feed });
    }
    kissed.sort_by(|one, other| other.feed.at_kiss.mm().total_cmp(&one.feed.at_kiss.mm()));
    Ok(kissed)
}

/// The teeth that could be touched first when the size is changed by so much: a new edge farther
/// along the rake face turns every tooth by less than that, and so no kiss moves by more.
fn near_first(kissed: &[Kissed], change: Length) -> Vec<NumberedTooth> {
    let reach = kissed[0].feed.at_kiss - 2.0 * change.abs();
    kissed.iter().filter(|kissed| kissed.feed.at_kiss >= reach).map(|kissed| kissed.tooth).collect()
}

/// A diameter, the travel by the dial that reaches it, and the kiss at which that begins.
pub(crate) struct Sized {
    pub(crate) diameter: Length,
    pub(crate) travel: Length,
    pub(crate) kiss: FirstKiss,
}

/// Snaps the feed to the dial: up to the next mark that cleans the worst tooth, or to the mark
/// nearest to a size that was asked for. The dial travels farther than the wheel must come nearer,
/// or less far, by what is known of the wheel; the size is that which this travel really leaves.
pub(crate) fn sized(
    wish: &StanceWish<'_>,
    worn: &[NumberedTooth],
    (stanced, section): (&Stanced, GroundSection),
    to_size: bool,
) -> Result<Sized, ShopError> {
    let scale = wish.machine.cross_feed();
    let mut diameter = wish.diameter;
    let mut section = section;
    let mut kissed = kisses(worn.iter().copied(), &section)?;
    if kissed.is_empty() {
        return Err(ShopError::invalid("cutter", "it has no tooth to grind"));
    }
    let by_dial = kissed[0].feed.travel() / wish.dial_ratio;
    let travel = if to_size { snapped_travel(scale, by_dial) } else { snapped_up(scale, by_dial) };
    let travel = travel.max(scale.finest_travel());
    for _ in 0..4 {
        let feed = kissed[0].feed;
        let miss = travel * wish.dial_ratio - feed.travel();
        if miss.abs().mm() < 1e-6 {
            break;
        }
        let change = 2.0 * feed.radius_per_feed * miss;
        diameter -= change;
        section = stanced.section(diameter)?;
        kissed = kisses(near_first(&kissed, change), &section)?;
    }
    let Kissed { tooth: (tooth, worn), outline, feed } = kissed.swap_remove(0);
    let kiss = FirstKiss { tooth, worn, outline, section, feed };
    Ok(Sized { diameter, travel, kiss })
}

//! The corner: a chamfer in a set-up of its own, or a round by a swivel below it.

use geometry::end::{Chamfer, EndPlane, EndSection, EndStroke, RoundCorner};
use geometry::{Angle, Length};

use super::grind::{EndJob, no_surface};
use super::swivels::Swung;
use super::wanted::CornerWanted;
use crate::error::ShopError;
use crate::plan::dial::snapped_up;

/// The grinding of the corner.
#[derive(Clone, Debug)]
pub enum CornerGrind {
    /// A flat.
    Chamfer(Box<ChamferGrind>),
    /// A round.
    Round(RoundGrind),
}

/// A flat over every corner.
#[derive(Clone, Debug)]
pub struct ChamferGrind {
    /// The chamfer.
    pub chamfer: Chamfer,
    /// Its plane as the wheel leaves it.
    pub made: EndPlane,
    /// What the wheel leaves.
    pub section: EndSection,
    /// The swivels.
    pub swung: Swung,
    /// How far the cross feed goes from the first touch of the sharp corner.
    pub travel: Length,
    /// The width that this leaves.
    pub width: Length,
    /// The nearest that the wheel comes to another tooth, where there is another.
    pub gap: Option<(u32, Length)>,
}

/// A round swung about an upright pivot.
#[derive(Clone, Debug, PartialEq)]
pub struct RoundGrind {
    /// The round.
    pub round: RoundCorner,
    /// Its relief, which the wheel must lean by: the cutter swings level.
    pub relief: Angle,
    /// How far a disc's axis stands above the edge for that relief, where the wheel is a disc.
    pub disc_above: Option<Length>,
    /// How far the swivel goes, from the end to the periphery.
    pub swing: Angle,
    /// What must be so for it to come out.
    pub remarks: Vec<String>,
}

/// Plans the corner; None where it stays sharp.
pub(super) fn corner(job: &EndJob<'_>, stand: &Swung) -> Result<Option<CornerGrind>, ShopError> {
    match &job.wanted.corner {
        CornerWanted::Sharp => Ok(None),
        CornerWanted::Chamfer { width, angle, relief } => {
            let chamfer = Chamfer { width: width.value, angle: angle.value, relief: relief.value };
            Ok(Some(CornerGrind::Chamfer(Box::new(chamfered(job, chamfer, stand)?))))
        }
        CornerWanted::Round { radius, relief } => {
            Ok(Some(CornerGrind::Round(rounded(job, *radius, relief.value)?)))
        }
    }
}

/// A narrow flat's relief is meant over as much of its own width.
const OVER_SHARE: f64 = 0.8;

fn chamfered(job: &EndJob<'_>, chamfer: Chamfer, stand: &Swung) -> Result<ChamferGrind, ShopError> {
    let wished = chamfer.plane()?;
    let over = chamfer.width * OVER_SHARE;
    let (section, swung) = job.set(wished, over, Length::ZERO, Some(stand))?;
    let made = section.plane(Some(over)).ok_or_else(no_surface)?;
    let contact = section.length_per_feed().ok_or_else(no_surface)?;
    // Along the axis a feed takes `contact`; square to the chamfer's edge that is less by its
    // angle.
    let per_feed = contact * made.dish().cos();
    let scale = job.machine.cross_feed();
    let travel = snapped_up(scale, chamfer.depth() / per_feed);
    let width = travel * per_feed / (chamfer.angle.sin() * chamfer.angle.cos());
    let teeth = job.teeth(made)?;
    let stroke = EndStroke::new(&section, &teeth).ok_or_else(no_surface)?;
    let gap = stroke.gap_to_others(Length::ZERO, stroke.stop_for(chamfer.width));
    Ok(ChamferGrind { chamfer, made, section, swung, travel, width, gap })
}

fn rounded(job: &EndJob<'_>, radius: Length, relief: Angle) -> Result<RoundGrind, ShopError> {
    let round = RoundCorner::new(radius.min(job.diameter / 2.0), job.diameter)?;
    if round.is_ball() && !job.cutter.is_straight() {
        return Err(ShopError::refused(
            "a ball's edge must lie in one plane",
            "this one winds with its flute, and a swivel swings it in a level plane only: gash it \
             straight first, or send it to a bench whose fixture turns the tooth as it swings",
        ));
    }
    let is_disc = job.body.kind() == geometry::wheel::WheelKind::Disc;
    let disc_above = is_disc.then(|| Length::from_mm(job.body.radius_mm() * relief.sin()));
    let mut remarks = vec![
        "the swivel must turn about an upright pivot below the corner, with slides above it that \
         carry the cutter"
            .to_owned(),
        "the edge lies level at one height from end to periphery: do not turn the tooth below \
         centre"
            .to_owned(),
    ];
    if !is_disc {
        remarks.push(format!(
            "the relief comes from the wheel: tip its head by {}, upper side toward the cutter; a \
             tilt of the work head leaves all of it at the end and none at the periphery",
            relief.show()
        ));
    }
    Ok(RoundGrind { round, relief, disc_above, swing: Angle::from_degrees(90.0), remarks })
}

//! The corner: a chamfer in a set-up of its own, or a round by a swivel below it.

use geometry::Length;
use geometry::end::{Chamfer, EndPlane, EndSection, EndStroke};

use super::grind::{EndJob, no_surface};
use super::round::{RoundGrind, RoundJob};
use super::swivels::Swung;
use super::wanted::CornerWanted;
use crate::error::ShopError;
use crate::plan::dial::{DialMark, snapped_up};
use crate::record::AxisRole;

/// The grinding of the corner.
#[derive(Clone, Debug)]
pub enum CornerGrind {
    /// A flat.
    Chamfer(Box<ChamferGrind>),
    /// A round.
    Round(Box<RoundGrind>),
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
    /// The mark of the wheel's height at which its axis is level with the corner's edge, where the
    /// machine has a scale for it.
    pub level_mark: Option<DialMark>,
}

/// Plans the corner; None where it stays sharp.
pub(super) fn corner(on: &RoundJob<'_>, stand: &Swung) -> Result<Option<CornerGrind>, ShopError> {
    let job = on.job;
    match &job.wanted.corner {
        CornerWanted::Sharp => Ok(None),
        CornerWanted::Chamfer { width, angle, relief } => {
            let chamfer = Chamfer { width: width.value, angle: angle.value, relief: relief.value };
            Ok(Some(CornerGrind::Chamfer(Box::new(chamfered(job, chamfer, stand)?))))
        }
        CornerWanted::Round { radius, relief } => {
            Ok(Some(CornerGrind::Round(Box::new(on.round(*radius, relief)?))))
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
    let axis = job.machine.axis(AxisRole::WheelHeadHeight);
    let level = axis.and_then(|axis| Some(DialMark::slide(axis, axis.slide()?, Length::ZERO)));
    Ok(ChamferGrind { chamfer, made, section, swung, travel, width, gap, level_mark: level })
}

//! Which parts of a cutter a regrind grinds and how much comes off each, as far as that is known
//! before wheel and machine are.

use geometry::{Length, System};

use super::end::end_stock;
use super::face::face_stock;
use super::regrind::Judged;
use super::route::Route;
use crate::context::Ctx;
use crate::error::ShopError;
use crate::record::{Cutter, EndForm};

/// A part of a cutter that is ground in a set-up of its own.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum GroundPart {
    /// The relief on the periphery.
    Periphery,
    /// The end teeth, a ball's as well.
    End,
    /// The rounded corners.
    Corner,
    /// The rake faces.
    Face,
}

impl GroundPart {
    /// The word used in lists.
    pub const fn name(self) -> &'static str {
        match self {
            Self::Periphery => "periphery",
            Self::End => "end",
            Self::Corner => "corner",
            Self::Face => "face",
        }
    }

    /// Where its stock is measured.
    pub const fn measured_on(self) -> &'static str {
        match self {
            Self::Periphery => "diameter",
            Self::End => "length",
            Self::Corner => "corner",
            Self::Face => "each face",
        }
    }

    /// Surfaces ground on each tooth: a relief has a primary and a secondary, a face is one.
    pub const fn surfaces(self) -> u32 {
        match self {
            Self::Periphery | Self::End | Self::Corner => 2,
            Self::Face => 1,
        }
    }
}

/// What comes off one part.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct PartStock {
    /// The part.
    pub part: GroundPart,
    /// What comes off: of the periphery off the diameter, of end and corner off the length, of
    /// the face off each face.
    pub off: Length,
}

impl PartStock {
    /// What the wheel takes off one surface.
    pub fn depth(&self) -> Length {
        match self.part {
            GroundPart::Periphery => self.off / 2.0,
            GroundPart::End | GroundPart::Corner | GroundPart::Face => self.off,
        }
    }
}

/// The parts that a regrind of this cutter grinds, in the order of the work; none where it is not
/// ground. Beside a periphery the end is ground where the cutter is cut back, and where the plan
/// asks for it (`end_asked`), as [`plan_end`](super::plan_end) has it.
///
/// # Errors
/// `Invalid` where so much cannot come off its end.
pub fn ground_parts(
    ctx: &Ctx<'_>,
    cutter: &Cutter,
    judged: &Judged,
    end_asked: bool,
) -> Result<Vec<PartStock>, ShopError> {
    let Judged { wanted, stock, verdict } = judged;
    let mut parts = Vec::new();
    if verdict.route.grinds_periphery() {
        let after = verdict.chosen().and_then(|view| view.diameter_after);
        let off = stock.dull_diameter - after.unwrap_or(stock.clean_diameter);
        let off = off.max(Length::ZERO);
        parts.push(PartStock { part: GroundPart::Periphery, off });
    }
    if verdict.route == Route::Face {
        let off = face_stock(cutter, wanted, stock).off_face;
        parts.push(PartStock { part: GroundPart::Face, off });
    }
    let beside = end_asked && verdict.route.grinds_periphery();
    if beside || grinds_end(verdict.route) {
        let off = end_stock(ctx, cutter, verdict, None)?.off.value;
        parts.push(PartStock { part: GroundPart::End, off });
        if matches!(cutter.end(), EndForm::CornerRadius(_)) {
            parts.push(PartStock { part: GroundPart::Corner, off });
        }
    }
    Ok(parts)
}

/// Whether a route grinds the end without being asked to.
pub(super) const fn grinds_end(route: Route) -> bool {
    matches!(route, Route::EndOnly | Route::CutBack)
}

/// Why the end ought to be ground beside the periphery, where it ought to be and the regrind does
/// not do so by itself.
pub fn end_wanted(cutter: &Cutter, route: Route, system: System) -> Option<String> {
    if !route.grinds_periphery() || grinds_end(route) {
        return None;
    }
    let teeth = cutter.wear().map(|wear| wear.teeth()).unwrap_or_default();
    let gone = teeth.iter().map(|tooth| tooth.corner_wear).fold(Length::ZERO, Length::max);
    if gone > Length::ZERO {
        return Some(format!("its corners are gone up to {} from the end", gone.show(system)));
    }
    let form = cutter.end();
    (form != EndForm::Square).then(|| format!("its {} must be ground anew", form.name()))
}

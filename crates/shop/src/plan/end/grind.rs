//! One plane of the end ground with one wheel: its stance, its swivels, its stroke.

use geometry::end::{EndPlane, EndSection, EndSetup, EndStance, EndTeeth, EndTeethShape};
use geometry::wheel::{WheelBody, WheelKind};
use geometry::{Angle, Length};
use trade::PracticeItem;

use super::stroke::{Stops, stops};
use super::swivels::{Swung, swung};
use super::wanted::EndWanted;
use crate::context::Ctx;
use crate::error::ShopError;
use crate::plan::dial::snapped_travel;
use crate::record::{AxisRole, Cutter, Machine};

/// The grinding of one plane of every end tooth.
#[derive(Clone, Debug)]
pub struct EndGrind {
    /// The plane that is wanted.
    pub wished: EndPlane,
    /// The plane that the real wheel leaves over the land, with the settings as snapped.
    pub made: EndPlane,
    /// What the wheel leaves.
    pub section: EndSection,
    /// The swivels and what they stand at.
    pub swung: Swung,
    /// Where the stroke stops.
    pub stops: Stops,
}

impl EndGrind {
    /// Relief gained or lost by snapping to the machine's graduations.
    pub fn relief_cost(&self) -> Angle {
        self.made.relief() - self.wished.relief()
    }

    /// Dish gained or lost by snapping to the machine's graduations.
    pub fn dish_cost(&self) -> Angle {
        self.made.dish() - self.wished.dish()
    }
}

/// What a plane is ground with and on.
pub(super) struct EndJob<'a> {
    pub(super) ctx: &'a Ctx<'a>,
    pub(super) cutter: &'a Cutter,
    pub(super) machine: &'a Machine,
    pub(super) wanted: &'a EndWanted,
    pub(super) diameter: Length,
    pub(super) body: WheelBody,
}

/// Heights of the wheel's axis below the edge that are tried, as shares of its radius: so low that
/// its round has gone aside where the next tooth stands.
const HEIGHT_SHARES: [f64; 8] = [0.0, 0.1, 0.2, 0.3, 0.4, 0.5, 0.6, 0.7];

/// The lean of a cup where no practice gives one, in degrees (own choice, no source).
const LEAN_FALLBACK_DEG: f64 = 0.5;

impl EndJob<'_> {
    /// Teeth with a primary like that.
    pub(super) fn teeth(&self, primary: EndPlane) -> Result<EndTeeth, ShopError> {
        Ok(EndTeeth::new(EndTeethShape {
            diameter: self.diameter,
            teeth: self.cutter.teeth(),
            primary,
            ahead: self.wanted.ahead,
            inner: self.wanted.inner.value,
        })?)
    }

    /// How far a cup's head leans: what practice gives, on the head's own marks. A disc lies
    /// parallel to the travel.
    pub(super) fn lean(&self) -> Angle {
        if self.body.kind() == WheelKind::Disc {
            return Angle::ZERO;
        }
        let practice = self
            .ctx
            .tables
            .practice(PracticeItem::CupHeadOffSquare)
            .and_then(|found| Some(found.chosen.value.amount?.angle()?.middle()));
        let lean = practice.unwrap_or(Angle::from_degrees(LEAN_FALLBACK_DEG));
        let finest = self.machine.head_swivel().finest();
        let snapped = lean.snapped_to(finest);
        if snapped > Angle::ZERO { snapped } else { finest }
    }

    /// Plans a plane behind the edge; the wheel stands as little below the edge as lets the stroke
    /// go its whole way, or where it goes farthest.
    pub(super) fn grind(&self, wished: EndPlane, over: Length) -> Result<EndGrind, ShopError> {
        let (mut best, mut refusal): (Option<EndGrind>, _) = (None, None);
        let past = |grind: &EndGrind| grind.stops.past_centre;
        for share in HEIGHT_SHARES {
            match self.at_height(wished, over, self.height(share)) {
                Ok(grind) if grind.stops.is_whole => return Ok(grind),
                Ok(grind) if best.as_ref().is_none_or(|best| past(&grind) > past(best)) => {
                    best = Some(grind);
                }
                Ok(_) => {}
                Err(error) => refusal = Some(error),
            }
        }
        let none = || ShopError::invalid("wheel", "it reaches no end tooth");
        best.ok_or_else(|| refusal.unwrap_or_else(none))
    }

    /// The wheel's height over the edge for a share of its radius, on the column's marks.
    fn height(&self, share: f64) -> Length {
        let below = Length::from_mm(-self.body.radius_mm() * share);
        let scale = self.machine.axis(AxisRole::WheelHeadHeight).and_then(|axis| axis.slide());
        scale.map_or(below, |scale| snapped_travel(scale, below))
    }

    pub(super) fn at_height(
        &self,
        wished: EndPlane,
        over: Length,
        axis_above_edge: Length,
    ) -> Result<EndGrind, ShopError> {
        let (section, swung) = self.set(wished, over, axis_above_edge, None)?;
        let made = section.plane(Some(over)).ok_or_else(no_surface)?;
        let teeth = self.teeth(made)?;
        let stops = stops(self.ctx, self.wanted, &section, &teeth, self.cutter.system())?;
        Ok(EndGrind { wished, made, section, swung, stops })
    }

    /// The set-up of a plane: solved on the real wheel, then brought to the marks of the swivels,
    /// and computed again from there. The swivels start from where they `stand`, or straight.
    pub(super) fn set(
        &self,
        wished: EndPlane,
        over: Length,
        axis_above_edge: Length,
        stand: Option<&Swung>,
    ) -> Result<(EndSection, Swung), ShopError> {
        let (lean, zero) = (self.lean(), Angle::ZERO);
        let first = EndStance { lean, axis_above_edge, wheel_tilt: zero, tilt: zero };
        let ideal = EndSetup::new(self.body.clone(), wished.dish(), first)?
            .tilted_for(wished.relief(), Some(over))?;
        let tilt = ideal.stance().tilt;
        let swung = swung(self.machine, self.cutter, (wished.dish(), tilt), stand)?;
        let stance = EndStance { tilt: swung.tilt, ..*ideal.stance() };
        let real = EndSetup::new(self.body.clone(), swung.dish, stance)?;
        Ok((real.section()?, swung))
    }
}

pub(super) fn no_surface() -> ShopError {
    let why = "the wheel leaves no surface over the whole land: lower the wheel less, or take a \
               wheel with a wider face";
    ShopError::refused("the wheel must leave a surface", why)
}

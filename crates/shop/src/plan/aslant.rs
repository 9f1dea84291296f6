//! The swivel that lays a tapered side along the travel, and what its scale reads then.

use geometry::Angle;

use super::dial::{DialMark, Quantity};
use super::head::grows_clockwise;
use super::held::Held;
use super::setting::{SetupItem, SetupLine, line};
use crate::error::ShopError;
use crate::record::{Axis, AxisRole, Fixture, Hand, Machine, ReadsZero};

const RULE: &str = "a taper needs a table that swivels";

/// The swivel of a machine that turns the cutter's axis out of the travel.
pub(super) struct SwivelAxis<'a> {
    pub(super) axis: &'a Axis,
    hand: Hand,
}

impl<'a> SwivelAxis<'a> {
    /// The table's own; where there is none, the work head's, if it carries the cutter.
    ///
    /// # Errors
    /// `Refused` where nothing turns the axis out of the way in which the cutter travels.
    pub(super) fn of(machine: &'a Machine, hand: Hand) -> Result<Self, ShopError> {
        if Held::on(machine) == Held::RestBeforeWheel {
            let why = format!(
                "in the {} of {} the work slides along its own axis, and no swivel turns that out \
                 of its way: stand the rest on the wheel head and let the table travel, or use \
                 another bench",
                machine.holding().fixture().name(),
                machine.name()
            );
            return Err(ShopError::refused(RULE, why));
        }
        let by_head = machine.holding().fixture() != Fixture::Centres;
        let of = |role| machine.axis(role).filter(|axis| axis.swivel().is_some());
        let head = || of(AxisRole::WorkHeadSwivel).filter(|_| by_head);
        let axis = of(AxisRole::TableSwivel).or_else(head).ok_or_else(|| {
            let other = if by_head { " nor a work head swivel" } else { "" };
            let neither = if by_head { "neither a" } else { "no" };
            let why = format!(
                "{} has {neither} table swivel{other} on record: use a bench that has one, or \
                 write the axis into its file",
                machine.name()
            );
            ShopError::refused(RULE, why)
        })?;
        Ok(Self { axis, hand })
    }

    /// The line that swivels the shank's end away from the wheel; `set` is what the scale's marks
    /// can give of it.
    pub(super) fn line(&self, swivel: Angle, set: Angle) -> SetupLine {
        let clockwise = self.hand == Hand::Right;
        let grows = grows_clockwise(self.axis, self.hand);
        let sign = if grows == Some(!clockwise) { -1.0 } else { 1.0 };
        let turn = if clockwise { "clockwise" } else { "counterclockwise" };
        let item = match self.axis.role() {
            AxisRole::TableSwivel => SetupItem::TableSwivel,
            _ => SetupItem::WorkSwing,
        };
        let straight = straight_reading(self.axis, self.hand);
        let from = if straight.is_some() { "" } else { ", counted from where it stands true" };
        let reading = straight.unwrap_or(Angle::ZERO) + set * sign;
        SetupLine {
            value: Some(Quantity::Angle(swivel)),
            dial: self.axis.swivel().map(|scale| DialMark::swivel(self.axis, scale, reading)),
            ..line(
                item,
                format!("shank's end from the wheel, {turn} from above{from}"),
                "prove it by two diameters",
            )
        }
    }
}

/// What a swivel of the work reads where the cutter's axis lies along the travel; none where its
/// words do not say.
fn straight_reading(axis: &Axis, hand: Hand) -> Option<Angle> {
    match axis.reads_zero()? {
        ReadsZero::Straight => Some(Angle::ZERO),
        ReadsZero::ColletAtWheel => {
            // The collet swings toward the wheel clockwise where the shank lies on the right.
            let grows_toward = grows_clockwise(axis, hand)? == (hand == Hand::Right);
            Some(Angle::from_degrees(if grows_toward { -90.0 } else { 90.0 }))
        }
        _ => None,
    }
}

/// Whether the mark of a swivel of the work is what its scale itself reads, on the right side.
pub(super) fn is_on_scale(axis: &Axis) -> bool {
    let zero = matches!(axis.reads_zero(), Some(ReadsZero::Straight | ReadsZero::ColletAtWheel));
    zero && axis.grows().is_some()
}

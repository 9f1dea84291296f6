//! What no plan may do: each refusal with its rule and what to do instead.

use geometry::Length;
use trade::ToolMaterial;

use super::rotation::{Fastening, TurnDirection};
use super::stance::StanceWish;
use super::stock::Stock;
use crate::context::Ctx;
use crate::error::ShopError;
use crate::record::{Cutter, Machine};

/// Refuses a size that would leave the worst tooth unclean, or the cutter too small to be useful.
pub(super) fn check_size(
    ctx: &Ctx<'_>,
    cutter: &Cutter,
    stock: &Stock,
    to_size: Option<Length>,
) -> Result<(), ShopError> {
    let Some(size) = to_size else {
        return Ok(());
    };
    let shown = |length: Length| length.show_both(cutter.system());
    let clean = stock.clean_diameter;
    if size > clean + Length::from_um(0.5) {
        let reason = format!(
            "{} leaves the worst tooth unclean: ask for {} or less",
            shown(size),
            shown(clean)
        );
        return Err(ShopError::invalid("size asked for", reason));
    }
    let smallest = ctx.tables.smallest_diameter(cutter.diameter()).map(|found| found.diameter);
    let least = smallest.unwrap_or(cutter.diameter() / 2.0);
    if size < least {
        let reason = format!("{} is below the smallest useful size, {}", shown(size), shown(least));
        return Err(ShopError::invalid("size asked for", reason));
    }
    Ok(())
}

/// Asks about readings of wear so far from the cutter's size that a unit must have slipped.
pub(super) fn check_wear(cutter: &Cutter) -> Result<(), ShopError> {
    let Some(wear) = cutter.wear() else {
        return Ok(());
    };
    let nominal = cutter.diameter();
    let shown = |length: Length| length.show_both(cutter.system());
    if let Some(reading) = wear.measured_diameter().filter(|reading| *reading < nominal * 0.7) {
        let reason = format!(
            "{} is far below the nominal {}: look at its unit, and read the cutter again",
            shown(reading),
            shown(nominal)
        );
        return Err(ShopError::invalid("wear.measured_diameter", reason));
    }
    let wide = |land: Length| land > nominal * 0.15;
    if let Some(tooth) = wear.teeth().iter().find(|tooth| wide(tooth.wear_land)) {
        let reason = format!(
            "a wear land of {} on tooth {} of a {} cutter: look at its unit, and read it again",
            shown(tooth.wear_land),
            tooth.tooth,
            shown(nominal)
        );
        return Err(ShopError::invalid("wear.tooth.wear_land", reason));
    }
    Ok(())
}

/// Refuses to run a wheel in the only direction there is where that loosens its nut.
pub(super) fn check_nut(direction: TurnDirection) -> Result<TurnDirection, ShopError> {
    if direction.fastening == Fastening::Loosens {
        return Err(loose_nut());
    }
    Ok(direction)
}

/// The refusal of a spindle that would run its nut off.
pub(super) fn loose_nut() -> ShopError {
    ShopError::refused(
        "the nut must tighten under the wheel",
        "every direction that this spindle has loosens the nut here: use a keyed or collared \
         mount, or a wheel on the other end",
    )
}

/// Refuses to grind what gives off cobalt or carbide dust where nothing draws it away.
pub(super) fn check_dust(cutter: &Cutter, machine: &Machine) -> Result<(), ShopError> {
    let harmful =
        matches!(cutter.material(), ToolMaterial::Carbide | ToolMaterial::CobaltHighSpeedSteel);
    if harmful && !machine.extraction() {
        let why = format!(
            "{} gives off dust that harms lungs, and {} has no extraction on record: use a bench \
             that has local extraction at the wheel; wet grinding alone is no protection",
            cutter.material().name(),
            machine.name()
        );
        return Err(ShopError::refused("cobalt and carbide dust must be drawn away", why));
    }
    Ok(())
}

/// The refusal of a wheel that comes into a neighbouring tooth, and why.
pub(super) fn meets_next_tooth(why: impl Into<String>) -> ShopError {
    ShopError::refused("the wheel must clear the next tooth", why)
}

/// How far outside the new edges the old ones of the other teeth stand, which the wheel must clear
/// while it grinds the first.
pub(super) fn old_edge_stands(wish: &StanceWish<'_>) -> Length {
    (wish.sharp_diameter - wish.diameter) / 2.0
}

/// Refuses a wheel that comes to the old edge of the tooth beside: how far it stands outside the
/// new edge there, and where that is, in words or not at all.
pub(super) fn check_next_tooth(
    wish: &StanceWish<'_>,
    clear: Option<Length>,
    place: &str,
) -> Result<(), ShopError> {
    let old_edge = old_edge_stands(wish);
    let Some(clear) = clear.filter(|clear| *clear <= old_edge) else { return Ok(()) };
    let show = |length: Length| length.show_both(wish.cutter.system()).to_string();
    Err(meets_next_tooth(format!(
        "{place}its gap to the wheel is {} and its old edge stands {} out: dress the face narrower \
         or use a smaller wheel",
        show(clear),
        show(old_edge)
    )))
}

pub(super) fn check_holding(cutter: &Cutter, machine: &Machine) -> Result<(), ShopError> {
    let shank = cutter.shank_diameter();
    if !machine.holding().holds(shank) {
        let (least, greatest) = machine.holding().shanks();
        let reason = format!(
            "{:.3} mm does not fit {}, which holds {:.3} to {:.3} mm: use another fixture",
            shank.mm(),
            machine.holding().fixture().name(),
            least.mm(),
            greatest.mm()
        );
        return Err(ShopError::invalid("cutter.shank_diameter", reason));
    }
    Ok(())
}

//! The readings that prove the work.

use geometry::Length;
use shop::plan::{Expected, Peripheral};

use super::page::Page;
use super::show::Units;

pub(super) fn part(page: &mut Page, peripheral: &Peripheral, units: Units) {
    let expected = &peripheral.expected;
    page.part("EXPECT");
    page.text(&diameter(expected, units));
    page.text(&format!("{} {}", land(expected, units), drops(expected, units)));
    page.text(&limits(expected, units));
    page.text(&format!("Ink: {}.", expected.ink));
    page.result(size(expected, units));
    page.result(format!("Land {}", units.length(expected.land)));
}

/// The diameter to read, and how far it may be off.
fn diameter(expected: &Expected, units: Units) -> String {
    format!("{} {}", size(expected, units), size_band(expected, units))
}

/// The diameter to read, by itself.
pub(crate) fn size(expected: &Expected, units: Units) -> String {
    format!("Diameter {}", units.length(expected.diameter))
}

/// How far the diameter may be off, and how odd teeth read.
pub(crate) fn size_band(expected: &Expected, units: Units) -> String {
    let (less, more) = expected.diameter_band;
    let odd = match (expected.flat_anvils, expected.vee_anvil) {
        (Some(reading), Some(vee)) => format!(
            " Odd teeth: {} over flat anvils; a {:.0} deg vee reads the diameter.",
            units.length(reading),
            vee.degrees()
        ),
        _ => String::new(),
    };
    format!(
        "by the dial's marks, -{} +{} (kiss, dial, wheel wear).{odd}",
        units.length(less),
        units.length(more)
    )
}

fn land(expected: &Expected, units: Units) -> String {
    let alike = expected.land_band.max(Length::from_thou(1.0));
    format!("Land {}, alike on all teeth to {}.", units.length(expected.land), units.length(alike))
}

/// The drop at the full distance; the others are in the pictures and in JSON.
pub(crate) fn drops(expected: &Expected, units: Units) -> String {
    let Some(drop) = expected.drops.last() else {
        return String::new();
    };
    format!(
        "Indicator drop {} at {} behind the edge (a plane: {}).",
        units.length(drop.drop),
        units.length(drop.distance),
        units.length(drop.handbook)
    )
}

/// What is good enough.
pub(crate) fn limits(expected: &Expected, units: Units) -> String {
    let mut parts = Vec::new();
    parts.extend(
        expected
            .runout
            .as_ref()
            .map(|cited| format!("runout {} [{}]", units.length(cited.value), cited.source)),
    );
    parts.extend(expected.taper.as_ref().map(|cited| {
        let (amount, over) = cited.value;
        format!("back taper {} in {}", units.length(amount), units.nominal(over))
    }));
    parts.extend(expected.size.as_ref().map(|cited| {
        let (above, below) = cited.value;
        format!("size +{} -{} of the tag", units.length(above), units.length(below))
    }));
    parts.extend(expected.handbook_drop.as_ref().map(|cited| {
        let (over, least, greatest) = cited.value;
        let (least, greatest) = (units.length(least), units.length(greatest));
        format!("handbook drop {least} to {greatest} at {} [{}]", units.length(over), cited.source)
    }));
    format!("Good enough: {}.", parts.join("; "))
}

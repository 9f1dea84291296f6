//! How much must come off, and which tooth decides it.

use geometry::Length;
use geometry::closed_form::worn_depth;
use trade::{Pass, StockItem};

use super::wanted::Wanted;
use crate::context::{Cited, Ctx, OWN_RECORD};
use crate::error::ShopError;
use crate::record::{Cutter, ToothWear};

/// What one tooth asks for, as depths along the radius from the sharp circle.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct ToothStock {
    /// Number of the tooth.
    pub tooth: u32,
    /// Down to the worn edge.
    pub worn: Length,
    /// Down to the bottom of its chip.
    pub chip: Length,
    /// How far the tooth stood in from the circle already.
    pub stands_in: Length,
}

impl ToothStock {
    /// The depth at which its edge is whole again.
    pub fn needs(&self) -> Length {
        self.worn.max(self.chip) + self.stands_in
    }

    fn needs_without_chip(&self) -> Length {
        self.worn + self.stands_in
    }
}

/// The stock of a regrind.
#[derive(Clone, Debug, PartialEq)]
pub struct Stock {
    /// Diameter of the original, sharp edge.
    pub sharp_diameter: Cited<Length>,
    /// Diameter over the dull edges: measured, or worked out from the wear.
    pub dull_diameter: Length,
    /// Whether the dull diameter was measured.
    pub dull_was_measured: bool,
    /// What each tooth asks for; empty where no wear was recorded.
    pub teeth: Vec<ToothStock>,
    /// The tooth that decides, where one does.
    pub governing: Option<u32>,
    /// Depth beyond the worst edge, so that the last pass cuts whole metal.
    pub allowance: Cited<Length>,
    /// What is ordinarily taken off the diameter.
    pub ordinary: Cited<Length>,
    /// The largest diameter at which every edge is whole.
    pub clean_diameter: Length,
    /// The same if the chips were cut away from the end first.
    pub clean_diameter_without_chips: Length,
    /// What does not fit together in the readings.
    pub remarks: Vec<String>,
}

/// A dull reading may exceed what the wear says by this much before it is asked about.
const READING_SLACK_MM: f64 = 0.03;

/// Works out the stock.
pub(crate) fn stock(ctx: &Ctx<'_>, cutter: &Cutter, wanted: &Wanted) -> Result<Stock, ShopError> {
    let ordinary = ctx.tables.stock(StockItem::FreshEdge).ok_or_else(|| missing("stock"))?;
    let finish = ctx.tables.pass(Pass::Finish).ok_or_else(|| missing("passes"))?;
    let ordinary_off = ordinary.chosen.value.off_diameter.middle();
    let allowance = Cited::new(finish.chosen.value.depth.greatest, &finish.chosen.source);
    let teeth = teeth(cutter, wanted);
    let mut remarks = Vec::new();
    let (sharp, dull, measured) = diameters(cutter, &teeth, &mut remarks);
    let worst = teeth.iter().copied().max_by(|a, b| a.needs().mm().total_cmp(&b.needs().mm()));
    let clean = |depth: Option<Length>| match depth {
        Some(depth) => sharp.value - 2.0 * (depth + allowance.value),
        None => dull - ordinary_off,
    };
    let without_chips =
        teeth.iter().map(ToothStock::needs_without_chip).max_by(|a, b| a.mm().total_cmp(&b.mm()));
    Ok(Stock {
        clean_diameter: clean(worst.map(|tooth| tooth.needs())),
        clean_diameter_without_chips: clean(without_chips),
        sharp_diameter: sharp,
        dull_diameter: dull,
        dull_was_measured: measured,
        governing: worst.map(|tooth| tooth.tooth),
        teeth,
        allowance,
        ordinary: Cited::new(ordinary_off, &ordinary.chosen.source),
        remarks,
    })
}

fn missing(topic: &str) -> ShopError {
    ShopError::invalid(topic, "the table has no row for this: put one into the shop table")
}

fn teeth(cutter: &Cutter, wanted: &Wanted) -> Vec<ToothStock> {
    let of_tooth = |wear: &ToothWear| ToothStock {
        tooth: wear.tooth,
        worn: worn_depth(wear.wear_land, wanted.ground_primary, cutter.rake()),
        chip: wear.chip_depth,
        stands_in: wear.runout.unwrap_or(Length::ZERO),
    };
    cutter.wear().map(|wear| wear.teeth().iter().map(of_tooth).collect()).unwrap_or_default()
}

/// Sharp diameter, dull diameter, and whether the dull one was measured.
///
/// A micrometer over dull edges rests on the teeth that stand out farthest, so the original edge
/// stood above that reading by those teeth's own wear.
fn diameters(
    cutter: &Cutter,
    teeth: &[ToothStock],
    remarks: &mut Vec<String>,
) -> (Cited<Length>, Length, bool) {
    let standing = |tooth: &ToothStock| tooth.worn + tooth.stands_in;
    let least = teeth.iter().map(standing).min_by(|a, b| a.mm().total_cmp(&b.mm()));
    let lost = 2.0 * least.unwrap_or(Length::ZERO);
    let recorded = cutter.as_ground().map_or_else(
        || Cited::new(cutter.diameter(), "the nominal diameter; no sharp size is on record"),
        |ground| Cited::new(ground.diameter, OWN_RECORD),
    );
    let Some(measured) = cutter.wear().and_then(|wear| wear.measured_diameter()) else {
        let dull = recorded.value - lost;
        return (recorded, dull, false);
    };
    let sharp = measured + lost;
    let excess = (sharp - recorded.value).mm();
    if cutter.as_ground().is_some() && excess.abs() > READING_SLACK_MM {
        remarks.push(format!(
            "the dull reading and the wear put the sharp edge at {:.3} mm, the record says \
             {:.3} mm: read the cutter again; the reading is used",
            sharp.mm(),
            recorded.value.mm()
        ));
    }
    (Cited::new(sharp, "the dull reading and the least worn tooth"), measured, true)
}

//! How much must come off, and which tooth decides it.

use geometry::Length;
use geometry::closed_form::worn_depth;
use trade::{Pass, StockItem};

use super::known::odd_ones;
use super::wanted::Wanted;
use crate::context::{Cited, Ctx, OWN_RECORD};
use crate::error::ShopError;
use crate::learn::{
    CutterHistory, Learned, Lives, expected_stock, lives_left, stock_beyond_wear, stock_per_grind,
};
use crate::record::{Cutter, ToothWear};

/// Where the edge of one tooth stood when it was sharp, and where it stands now.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct ToothStock {
    /// Number of the tooth.
    pub tooth: u32,
    /// Width of its wear land.
    pub wear_land: Length,
    /// Depth along the radius from the original edge to the worn one.
    pub wear_depth: Length,
    /// Depth along the radius from the original edge to the bottom of its chip.
    pub chip_depth: Length,
    /// Radius of the original edge.
    pub original_radius: Length,
}

impl ToothStock {
    /// Radius of the worn edge.
    pub fn worn_radius(&self) -> Length {
        self.original_radius - self.wear_depth
    }

    /// Largest radius at which its edge is whole again.
    pub fn whole_radius(&self) -> Length {
        self.worn_radius().min(self.original_radius - self.chip_depth)
    }
}

/// The stock of a regrind.
#[derive(Clone, Debug, PartialEq)]
pub struct Stock {
    /// Diameter of the original edge: twice the radius of the tooth that stood out farthest.
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
    /// What is ordinarily taken off the diameter, by the tables.
    pub ordinary: Cited<Length>,
    /// What a regrind takes off this cutter's diameter, from sharp edge to sharp edge, by its own
    /// grinds as far as there are any.
    pub per_grind: Learned<Length>,
    /// The part of it beyond twice the depth of the wear land.
    pub beyond_wear: Learned<Length>,
    /// What this regrind is then expected to take, where a wear land decides and the cutter has
    /// grinds of its own.
    pub expected: Option<Length>,
    /// The largest diameter at which every edge is whole.
    pub clean_diameter: Length,
    /// The same if the chips were cut away from the end first.
    pub clean_diameter_without_chips: Length,
    /// What does not fit together in the readings, or is missing from them.
    pub remarks: Vec<String>,
}

impl Stock {
    /// Regrinds left below a diameter, at the stock that this cutter's own grinds lead to expect
    /// and the table's while there are none; nothing where the sizes contradict each other.
    pub fn lives(&self, diameter: Length, smallest: &Cited<Length>) -> Option<Lives> {
        // A regrind takes two finishing passes at the very least, or what the tables call ordinary
        // where that is less still.
        let least = (4.0 * self.allowance.value).min(self.ordinary.value);
        lives_left(diameter.max(smallest.value), smallest, &self.per_grind, least).ok()
    }
}

/// The dull reading and the record of the sharp size may differ by this much, on the diameter,
/// before it is asked about (own choice, no source).
const READING_SLACK_MM: f64 = 0.03;

/// Works out the stock.
pub(crate) fn stock(
    ctx: &Ctx<'_>,
    cutter: &Cutter,
    wanted: &Wanted,
    history: &CutterHistory,
) -> Result<Stock, ShopError> {
    let per_grind = stock_per_grind(ctx, cutter, history)?;
    let beyond_wear = stock_beyond_wear(ctx, cutter, history)?;
    let ordinary = ctx.tables.stock(StockItem::FreshEdge).ok_or_else(|| missing("stock"))?;
    let finish = ctx.tables.pass(Pass::Finish).ok_or_else(|| missing("passes"))?;
    let ordinary_off = ordinary.chosen.value.off_diameter.middle();
    let allowance = Cited::new(finish.chosen.value.depth.greatest, &finish.chosen.source);
    let recorded = recorded(cutter);
    let measured = cutter.wear().and_then(|wear| wear.measured_diameter());
    let teeth = teeth(cutter, wanted, recorded.value, measured);
    let highest = |radius: fn(&ToothStock) -> Length| teeth.iter().map(radius).reduce(Length::max);
    let sharp = match (highest(|tooth| tooth.original_radius), measured) {
        (Some(radius), Some(_)) => Cited::new(2.0 * radius, "the dull reading and the wear"),
        _ => recorded.clone(),
    };
    let worked_out = highest(ToothStock::worn_radius).map_or(recorded.value, |radius| 2.0 * radius);
    let dull = measured.unwrap_or(worked_out);
    let lowest = |radius: fn(&ToothStock) -> Length| {
        let whole = teeth.iter().map(radius).reduce(Length::min)?;
        Some(2.0 * (whole - allowance.value))
    };
    let least = teeth.iter().min_by(|a, b| a.whole_radius().mm().total_cmp(&b.whole_radius().mm()));
    // Where no wear was recorded, what such a regrind takes has to do.
    let usual = match measured {
        Some(_) if beyond_wear.own > 0 => beyond_wear.value.max(2.0 * allowance.value),
        None if per_grind.own > 0 => per_grind.value.max(2.0 * allowance.value),
        _ => ordinary_off,
    };
    let unseen = dull - usual;
    let mut remarks = remarks(cutter, &teeth, sharp.value, recorded.value);
    remarks.extend(odd_ones(&per_grind, "stock"));
    Ok(Stock {
        clean_diameter: lowest(ToothStock::whole_radius).unwrap_or(unseen),
        clean_diameter_without_chips: lowest(ToothStock::worn_radius).unwrap_or(unseen),
        expected: expected(cutter, wanted, least, &beyond_wear),
        per_grind,
        beyond_wear,
        governing: least.map(|tooth| tooth.tooth),
        remarks,
        sharp_diameter: sharp,
        dull_diameter: dull,
        dull_was_measured: measured.is_some(),
        teeth,
        allowance,
        ordinary: Cited::new(ordinary_off, &ordinary.chosen.source),
    })
}

/// What the cutter's own grinds lead to expect of this one.
fn expected(
    cutter: &Cutter,
    wanted: &Wanted,
    least: Option<&ToothStock>,
    beyond: &Learned<Length>,
) -> Option<Length> {
    let by_wear = least.filter(|tooth| tooth.chip_depth <= tooth.wear_depth)?;
    let (relief, rake) = (wanted.ground_primary, cutter.rake());
    (beyond.own > 0).then(|| expected_stock(by_wear.wear_land, relief, rake, beyond))
}

fn missing(topic: &str) -> ShopError {
    ShopError::invalid(topic, "the table has no row for this: put one into the shop table")
}

/// The sharp size on record.
fn recorded(cutter: &Cutter) -> Cited<Length> {
    cutter.as_ground().map_or_else(
        || Cited::new(cutter.diameter(), "the nominal diameter; no sharp size is on record"),
        |ground| Cited::new(ground.diameter, OWN_RECORD),
    )
}

/// Where every recorded tooth stands.
///
/// A tooth's runout is read on its dull edge, against the dull edge that stands out farthest. Where
/// it was not read, the teeth are taken to have been ground alike.
fn teeth(
    cutter: &Cutter,
    wanted: &Wanted,
    recorded: Length,
    measured: Option<Length>,
) -> Vec<ToothStock> {
    let wear = cutter.wear().map(|wear| wear.teeth()).unwrap_or_default();
    let depth =
        |tooth: &ToothWear| worn_depth(tooth.wear_land, wanted.ground_primary, cutter.rake());
    let least = wear.iter().map(depth).reduce(Length::min).unwrap_or(Length::ZERO);
    let top = match measured {
        Some(reading) => highest_radius(cutter, wear, reading),
        None => recorded / 2.0 - least,
    };
    let place = |tooth: &ToothWear| ToothStock {
        tooth: tooth.tooth,
        wear_land: tooth.wear_land,
        wear_depth: depth(tooth),
        chip_depth: tooth.chip_depth,
        original_radius: match tooth.runout {
            Some(runout) => top - runout + depth(tooth),
            None => top + least,
        },
    };
    wear.iter().map(place).collect()
}

/// Radius of the dull edge that stands out farthest, from a reading over the dull edges.
///
/// A micrometer over even teeth rests on two opposite edges and is turned to its largest reading,
/// so it reads the largest sum of two opposite radii. A reading over odd teeth is taken as the
/// diameter of the circle, as a vee anvil gives it.
fn highest_radius(cutter: &Cutter, wear: &[ToothWear], reading: Length) -> Length {
    let teeth = cutter.teeth();
    let stands_in = |number: u32| {
        let tooth = wear.iter().find(|tooth| tooth.tooth == number)?;
        tooth.runout
    };
    if !teeth.is_multiple_of(2) {
        return reading / 2.0;
    }
    let pairs =
        (1..=teeth / 2).filter_map(|first| Some(stands_in(first)? + stands_in(first + teeth / 2)?));
    let lost = pairs.reduce(Length::min).unwrap_or(Length::ZERO);
    (reading + lost) / 2.0
}

fn remarks(cutter: &Cutter, teeth: &[ToothStock], sharp: Length, recorded: Length) -> Vec<String> {
    let mut remarks = Vec::new();
    let unread: Vec<String> = (1..=cutter.teeth())
        .filter(|number| teeth.iter().all(|tooth| tooth.tooth != *number))
        .map(|number| number.to_string())
        .collect();
    if !teeth.is_empty() && !unread.is_empty() {
        let (teeth, them) = match unread.as_slice() {
            [one] => (format!("tooth {one} was"), "it"),
            all => (format!("teeth {} were", all.join(", ")), "them"),
        };
        remarks.push(format!("{teeth} not read: look at {them} before you trust the stock"));
    }
    let apart = (sharp - recorded).abs().mm() > READING_SLACK_MM;
    if cutter.as_ground().is_some() && !teeth.is_empty() && apart {
        let (read, kept) = (sharp.show_both(cutter.system()), recorded.show_both(cutter.system()));
        remarks.push(format!(
            "readings put the sharp edge at {read}, the record at {kept}: read again"
        ));
    }
    remarks
}

#[cfg(test)]
mod tests {
    use super::*;

    fn tooth(wear_mm: f64, chip_mm: f64, original_mm: f64) -> ToothStock {
        ToothStock {
            tooth: 1,
            wear_land: Length::ZERO,
            wear_depth: Length::from_mm(wear_mm),
            chip_depth: Length::from_mm(chip_mm),
            original_radius: Length::from_mm(original_mm),
        }
    }

    #[test]
    fn a_tooth_is_whole_below_its_wear_and_its_chip() {
        assert_eq!(tooth(0.1, 0.0, 5.0).whole_radius(), Length::from_mm(4.9));
        assert_eq!(tooth(0.1, 0.3, 5.0).whole_radius(), Length::from_mm(4.7));
        assert_eq!(tooth(0.1, 0.3, 5.0).worn_radius(), Length::from_mm(4.9));
    }
}

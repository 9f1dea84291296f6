//! What a regrind takes: stock from the cutter, and a little from the wheel.

use crate::lookup::Lookup;
use crate::material::Abrasive;
use crate::row::noun;
use crate::span::Range;
use crate::tables::Tables;
use crate::words::named;
use geometry::Length;

named! {
    /// A stock that the trade reckons with.
    pub enum StockItem as "kind of stock" {
        /// Off the diameter, to bring up a fresh edge on a cutter pulled in time.
        FreshEdge = "fresh edge",
    }
}

noun! {
    /// Stock that a regrind takes.
    pub struct StockRow in Stock / stock {
        key {
            /// What for.
            item: StockItem,
        }
        value {
            /// The stock, off the diameter.
            off_diameter: Range<Length>,
        }
    }
}

noun! {
    /// How much of its face a wheel loses over one cutter.
    pub struct WheelWearRow in WheelWear / wheel_wear {
        key {
            /// The abrasive.
            abrasive: Abrasive,
        }
        value {
            /// The depth lost from the grinding face.
            per_cutter: Range<Length>,
        }
    }
}

impl Tables {
    /// The stock that the trade reckons with.
    pub fn stock(&self, item: StockItem) -> Option<Lookup<'_, StockRow>> {
        self.stock.exact(|row| row.item == item)
    }

    /// How much of its face a wheel of this abrasive loses over one cutter: a figure to start
    /// from, until the shop's own records replace it.
    pub fn wheel_wear(&self, abrasive: Abrasive) -> Option<Lookup<'_, WheelWearRow>> {
        self.wheel_wear.exact(|row| row.abrasive == abrasive)
    }
}

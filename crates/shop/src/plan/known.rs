//! What a wheel's own grinds say of the dial, and of what the wheel loses.

use geometry::Length;

use crate::context::Ctx;
use crate::error::ShopError;
use crate::learn::{Learned, WheelHistory, dial_to_stock, wheel_wear};
use crate::record::Wheel;

/// Beyond these a ratio is likelier a slip, such as a dial on diameter taken for one on radius,
/// than a wheel's way of grinding (own choice, no source).
const RATIO: (f64, f64) = (0.6, 1.5);

/// What is known of a wheel before it grinds.
#[derive(Clone, Debug, PartialEq)]
pub struct WheelKnown {
    /// What comes off the radius for each length that should come off by the dial.
    pub ratio: Learned<f64>,
    /// The ratio that the feed is reckoned with: one while nothing is known, or where the learned
    /// one cannot be believed.
    pub trusted: f64,
    /// What the face loses over one cutter; none where the tables say nothing of its abrasive.
    pub wear: Option<Learned<Length>>,
    /// What a reader should know.
    pub remarks: Vec<String>,
}

impl WheelKnown {
    pub(crate) fn of(
        ctx: &Ctx<'_>,
        wheel: &Wheel,
        history: &WheelHistory,
    ) -> Result<Self, ShopError> {
        let ratio = dial_to_stock(ctx, history)?;
        let told = ctx.tables.wheel_wear(wheel.abrasive()).is_some();
        let wear = told.then(|| wheel_wear(ctx, wheel.abrasive(), history)).transpose()?;
        let is_believed = (RATIO.0..=RATIO.1).contains(&ratio.value);
        let trusted = if ratio.own > 0 && is_believed { ratio.value } else { 1.0 };
        let mut remarks = Vec::new();
        if !is_believed {
            remarks.push(format!(
                "wheel {} is said to take off {:.2} of what the dial is fed: that is likelier a \
                 slip of radius for diameter, so the dial is taken at its word",
                wheel.number(),
                ratio.value
            ));
        }
        remarks.extend(odd_ones(&ratio, "feed"));
        remarks.extend(wear.iter().flat_map(|wear| odd_ones(wear, "wear")));
        Ok(Self { ratio, trusted, wear, remarks })
    }

    /// Whether the feed is reckoned with a ratio of this wheel's own.
    pub fn turns_feed(&self) -> bool {
        self.ratio.own > 0 && self.trusted == self.ratio.value
    }

    /// What the face loses over one cutter, and nothing where nobody knows.
    pub(crate) fn wear_per_cutter(&self) -> Length {
        self.wear.as_ref().map_or(Length::ZERO, |wear| wear.value)
    }

    /// By how much a stock off the radius may come out otherwise, for what is not known of the
    /// ratio; nothing while the dial is taken at its word.
    pub(crate) fn doubt_of(&self, stock: Length) -> Length {
        if !self.turns_feed() {
            return Length::ZERO;
        }
        let half = (self.ratio.greatest - self.ratio.least) / 2.0;
        stock * (half / self.trusted)
    }
}

/// A word on the entries that were not believed.
pub(crate) fn odd_ones<T>(learned: &Learned<T>, of: &str) -> Option<String> {
    let wild: Vec<&str> = learned.wild.iter().map(|wild| wild.entry.as_str()).collect();
    let doubtful: Vec<&str> = learned.doubtful.iter().map(String::as_str).collect();
    let aside = format!("set aside as far off the others ({of}): {}", wild.join("; "));
    let disagree = format!("these disagree ({of}), read them again: {}", doubtful.join("; "));
    match (wild.is_empty(), doubtful.is_empty()) {
        (true, true) => None,
        (false, true) => Some(aside),
        (true, false) => Some(disagree),
        (false, false) => Some(format!("{aside}; {disagree}")),
    }
}

//! Files of prices: `[prices]`, `[rates]`, `[terms]`, `[[wheel]]` and `[[new]]`.

use shop::ShopError;
use shop::cost::{Money, NewPrice, Prices, Rates, RatesDraft, Terms, WheelPrice, WheelUse};
use toml::de::DeValue;
use trade::{Minutes, Share, ToolMaterial};

use super::problem::FileProblems;
use super::reading::Reading;
use super::section::Section;
use super::value::{Readable, Wrong, wrong};

/// The most that a reground edge can do of a new edge's work.
const EDGE_SHARE_MAX: f64 = 200.0;

/// Reads a file of prices.
///
/// # Errors
/// Everything wrong with the file.
pub fn read_prices(file: &str, text: &str) -> Result<Prices, FileProblems> {
    let reading = Reading::open(file, text);
    let top = reading.top();
    let head = top.section("prices");
    let currency: String = head.need("currency");
    let Amount(coin) = head.need("coin");
    head.close();
    let rates = rates(top.section("rates"));
    let (terms, edge_share) = terms(top.section("terms"), Money::from_amount(coin));
    let wheels = top.need_sections("wheel").into_iter().map(wheel).collect();
    let new = top.sections("new").into_iter().map(new_price).collect();
    top.close();
    let prices = rates.map(|rates| Prices { currency, rates, terms, edge_share, wheels, new });
    reading.finish(prices)
}

fn money(section: &Section<'_, '_>, key: &'static str) -> Money {
    let Amount(amount) = section.need(key);
    Money::from_amount(amount)
}

fn time(section: &Section<'_, '_>, key: &'static str) -> Minutes {
    let Time(minutes) = section.need(key);
    minutes
}

fn rates(section: Section<'_, '_>) -> Option<Rates> {
    let draft = RatesDraft {
        labour_per_hour: money(&section, "labour_per_hour"),
        machine_per_hour: money(&section, "machine_per_hour"),
        setup: time(&section, "setup"),
        per_tooth: time(&section, "per_tooth"),
        per_pass: time(&section, "per_pass"),
        pass_depth: section.need("pass_depth"),
        handling: time(&section, "handling"),
        supplies: money(&section, "supplies"),
    };
    let built = draft.build().map_err(|error| refuse(&section, error)).ok();
    section.close();
    built
}

/// What the work says of a value that could be read.
fn refuse(section: &Section<'_, '_>, error: ShopError) {
    if let ShopError::Invalid { field, reason } = error {
        let key = field.rsplit('.').next().unwrap_or_default().to_owned();
        section.require(&key, false, || wrong(reason, "write an amount above 0"));
    }
}

fn terms(section: Section<'_, '_>, coin: Money) -> (Terms, f64) {
    let Percent(margin) = section.need("margin");
    let Percent(edge) = section.need("edge_share");
    let fits = edge.percent() > 0.0 && edge.percent() <= EDGE_SHARE_MAX;
    section.require("edge_share", fits, || {
        let right = format!("write more than \"0 %\" and at most \"{EDGE_SHARE_MAX} %\"");
        wrong("what a reground edge does of a new edge's work", right)
    });
    let (per_lot, least_charge) = (money(&section, "per_lot"), money(&section, "least_charge"));
    section.close();
    (Terms { margin, per_lot, least_charge, coin }, edge.of_one())
}

fn wheel(section: Section<'_, '_>) -> WheelPrice {
    let wheel_use = WheelUse {
        price: money(&section, "price"),
        usable: section.need("usable"),
        lost_per_cutter: section.need("lost_per_cutter"),
        dressed_per_cutter: section.need("dressed_per_cutter"),
    };
    let above = wheel_use.usable.mm() > 0.0;
    section.require("usable", above, || wrong("nothing to wear", "write a depth above 0 mm"));
    for (key, length) in [
        ("lost_per_cutter", wheel_use.lost_per_cutter),
        ("dressed_per_cutter", wheel_use.dressed_per_cutter),
    ] {
        let holds = length.mm() >= 0.0;
        section.require(key, holds, || wrong("a wheel does not grow", "write 0 mm or more"));
    }
    let price = WheelPrice { number: section.maybe("number"), wheel_use };
    section.close();
    price
}

fn new_price(section: Section<'_, '_>) -> NewPrice {
    let price = NewPrice {
        cutter: section.maybe("cutter"),
        material: section.may_choose::<ToolMaterial>("material", "a material of teeth"),
        up_to: section.maybe("up_to"),
        price: money(&section, "price"),
    };
    let above = price.price > Money::ZERO;
    section.require("price", above, || {
        wrong("a new cutter costs something", "write an amount above 0")
    });
    section.close();
    price
}

/// An amount of money, 0 or more.
struct Amount(f64);

impl Readable for Amount {
    fn example() -> String {
        "write an amount without quotation marks and with a point, such as 38.50".to_owned()
    }

    fn stand_in() -> Self {
        Self(1.0)
    }

    fn read(value: &DeValue<'_>) -> Result<Self, Wrong> {
        let number: Option<f64> = match value {
            DeValue::Integer(whole) => whole.as_str().parse().ok(),
            DeValue::Float(float) => float.as_str().parse().ok(),
            _ => None,
        };
        match number.filter(|number| number.is_finite()) {
            None => Err(wrong("not an amount", Self::example())),
            Some(below) if below < 0.0 => Err(wrong("below 0", "write 0 or more")),
            Some(amount) => Ok(Self(amount)),
        }
    }
}

/// A time, 0 or more.
struct Time(Minutes);

impl Readable for Time {
    fn example() -> String {
        "write a time with its unit, such as \"12 min\" or \"1.5 h\"".to_owned()
    }

    fn stand_in() -> Self {
        Self(Minutes::from_minutes(1.0))
    }

    fn read(value: &DeValue<'_>) -> Result<Self, Wrong> {
        let minutes = with_unit(value, &[("min", 1.0), ("h", 60.0), ("s", 1.0 / 60.0)]);
        let minutes = minutes.ok_or_else(|| wrong("not a time", Self::example()))?;
        Ok(Self(Minutes::from_minutes(minutes)))
    }
}

/// A share, 0 or more.
struct Percent(Share);

impl Readable for Percent {
    fn example() -> String {
        "write a share with its sign, such as \"15 %\"".to_owned()
    }

    fn stand_in() -> Self {
        Self(Share::from_percent(1.0))
    }

    fn read(value: &DeValue<'_>) -> Result<Self, Wrong> {
        let percent = with_unit(value, &[("%", 1.0)]);
        let percent = percent.ok_or_else(|| wrong("not a share", Self::example()))?;
        Ok(Self(Share::from_percent(percent)))
    }
}

/// A number of 0 or more before one of these units, times what that unit counts.
fn with_unit(value: &DeValue<'_>, units: &[(&str, f64)]) -> Option<f64> {
    let DeValue::String(text) = value else { return None };
    let text = text.trim();
    let start = text.find(|letter: char| letter.is_ascii_alphabetic() || letter == '%')?;
    let (number, unit) = text.split_at(start);
    let (_, factor) = units.iter().find(|(name, _)| *name == unit.trim())?;
    let number: f64 = number.trim().parse().ok()?;
    (number.is_finite() && number >= 0.0).then_some(number * factor)
}

#[cfg(test)]
mod tests {
    use super::*;

    const SOUND: &str = include_str!("../../../../examples/prices/bench-rates.toml");

    #[test]
    fn the_example_is_sound() {
        let prices = read_prices("p.toml", SOUND).unwrap();
        assert_eq!(prices.currency, "EUR");
        assert_eq!(prices.rates.draft().setup.minutes(), 12.0);
        assert!((prices.edge_share - 0.9).abs() < 1e-12);
        let own = prices.wheel_use(Some("W-05")).unwrap();
        let other = prices.wheel_use(Some("W-99")).unwrap();
        assert!(own.price > other.price && prices.wheel_use(None) == Some(other));
        // An ordinary pass takes 0.001 to 0.005 in (*common practice, no source*).
        let pass_inches = prices.rates.draft().pass_depth.inches();
        assert!((0.001..=0.005).contains(&pass_inches), "{pass_inches}");
    }

    #[track_caller]
    fn refused(from: &str, to: &str, line: &str) {
        assert!(SOUND.contains(from), "{from}");
        let said = read_prices("p.toml", &SOUND.replacen(from, to, 1)).unwrap_err().to_string();
        assert!(said.contains(line), "{said}");
    }

    #[test]
    fn what_is_wrong_is_said_with_its_line() {
        refused("labour_per_hour = 48.00", "labour_per_hour = -1", "below 0; write 0 or more");
        refused("= 48.00", "= \"48 EUR\"", "not an amount; write an amount without quotation");
        refused("setup = \"12 min\"", "setup = \"12\"", "not a time; write a time with its unit");
        refused("margin = \"15 %\"", "margin = \"15\"", "not a share; write a share");
        refused("edge_share = \"90 %\"", "edge_share = \"0 %\"", "of a new edge's work");
        refused("pass_depth = \"0.05 mm\"", "pass_depth = \"0 mm\"", "rates.pass_depth");
        refused("usable = \"4 mm\"", "usable = \"0 mm\"", "nothing to wear");
        refused("supplies", "suplies", "the nearest known is \"supplies\"");
        refused("[rates]", "[rate]", "rate");
    }
}

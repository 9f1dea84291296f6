//! Surface speeds as files write them.

use geometry::Length;
use toml::de::DeValue;

use super::value::{Readable, Wrong, wrong};

/// The speed of a wheel's rim.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(super) struct SurfaceSpeed {
    /// In metres per second.
    pub(super) m_per_s: f64,
}

impl Readable for SurfaceSpeed {
    fn example() -> String {
        "write a speed with its unit, such as \"32 m/s\" or \"6500 ft/min\"".to_owned()
    }

    fn stand_in() -> Self {
        Self { m_per_s: 1.0 }
    }

    fn read(value: &DeValue<'_>) -> Result<Self, Wrong> {
        let text =
            String::read(value).map_err(|wrong| Wrong { right: Self::example(), ..wrong })?;
        speed(&text).ok_or_else(|| wrong("not a surface speed", Self::example()))
    }
}

/// A speed from its words.
pub(super) fn speed(text: &str) -> Option<SurfaceSpeed> {
    let start = text.find(|letter: char| letter.is_ascii_alphabetic())?;
    let (number, unit) = text.split_at(start);
    let number: f64 = number.trim().parse().ok()?;
    let m_per_s = match unit.trim() {
        "m/s" => number,
        "m/min" => number / 60.0,
        "ft/min" => Length::from_inches(number * 12.0).mm() / 1000.0 / 60.0,
        _ => return None,
    };
    Some(SurfaceSpeed { m_per_s })
}

//! Points in time, told to the shop by whoever has a clock.

use std::fmt;

use crate::error::ShopError;

const MICROS_PER_SECOND: i64 = 1_000_000;
const SECONDS_PER_DAY: i64 = 86_400;

/// The last microsecond of the year 9999, the last that RFC 3339 can write.
const LAST_MICROS: i64 = 253_402_300_799_999_999;

/// A point in time: microseconds since the beginning of 1970, UTC, leap seconds not counted, from
/// the year 1970 to the year 9999.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash, PartialOrd, Ord)]
pub struct Moment {
    micros: i64,
}

/// Where the time comes from. A port: this crate reads no clock.
pub trait Clock: Send + Sync {
    /// The time now.
    fn now(&self) -> Moment;
}

impl Moment {
    /// The beginning of 1970.
    pub const EPOCH: Self = Self { micros: 0 };
    /// The last moment there is.
    pub const LAST: Self = Self { micros: LAST_MICROS };

    /// The moment so many microseconds after the beginning of 1970.
    ///
    /// # Errors
    /// `Invalid` before the year 1970 and after the year 9999.
    pub fn from_micros(micros: i64) -> Result<Self, ShopError> {
        if (0..=LAST_MICROS).contains(&micros) {
            Ok(Self { micros })
        } else {
            let reason = format!("{micros} us lies outside the years 1970 to 9999; set the clock");
            Err(ShopError::invalid("time", reason))
        }
    }

    /// Microseconds since the beginning of 1970.
    pub const fn micros(self) -> i64 {
        self.micros
    }

    /// So many seconds later; the last moment there is, where that is beyond it.
    #[must_use]
    pub fn later(self, seconds: u64) -> Self {
        let micros = i64::try_from(seconds).unwrap_or(i64::MAX).saturating_mul(MICROS_PER_SECOND);
        Self { micros: self.micros.saturating_add(micros).min(LAST_MICROS) }
    }

    /// So many seconds earlier; the beginning of 1970, where that is before it.
    #[must_use]
    pub fn earlier(self, seconds: u64) -> Self {
        let micros = i64::try_from(seconds).unwrap_or(i64::MAX).saturating_mul(MICROS_PER_SECOND);
        Self { micros: self.micros.saturating_sub(micros).max(0) }
    }

    /// The moment written as RFC 3339 writes it in UTC with six decimals, as `Display` gives it.
    ///
    /// # Errors
    /// `Invalid` where the text is anything else, or a day that does not exist.
    pub fn from_text(text: &str) -> Result<Self, ShopError> {
        let read = fields(text).and_then(|fields| Self::from_fields(&fields));
        read.filter(|moment| moment.to_string() == text).ok_or_else(|| {
            let reason = format!("{text:?} is no time; write it like 2026-11-25T07:30:00.000000Z");
            ShopError::invalid("time", reason)
        })
    }

    fn from_fields(&[year, month, day, hour, minute, second, micros]: &[i64; 7]) -> Option<Self> {
        let days = days_before(year, month, day);
        let seconds = ((days * 24 + hour) * 60 + minute) * 60 + second;
        Self::from_micros(seconds * MICROS_PER_SECOND + micros).ok()
    }

    /// Year, month and day of this moment, UTC.
    pub const fn date(self) -> (i64, i64, i64) {
        civil(self.micros / MICROS_PER_SECOND / SECONDS_PER_DAY)
    }
}

impl fmt::Display for Moment {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        let (year, month, day) = self.date();
        let second = self.micros / MICROS_PER_SECOND % SECONDS_PER_DAY;
        let (hour, minute) = (second / 3600, second / 60 % 60);
        let (second, micros) = (second % 60, self.micros % MICROS_PER_SECOND);
        write!(f, "{year:04}-{month:02}-{day:02}T{hour:02}:{minute:02}:{second:02}.{micros:06}Z")
    }
}

/// The seven numbers of `2026-11-25T07:30:00.000000Z`.
fn fields(text: &str) -> Option<[i64; 7]> {
    let parts: Vec<i64> =
        text.strip_suffix('Z')?.split(['-', 'T', ':', '.']).map(number).collect::<Option<_>>()?;
    parts.try_into().ok()
}

fn number(digits: &str) -> Option<i64> {
    let fits = digits.len() <= 6 && digits.bytes().all(|byte| byte.is_ascii_digit());
    if fits { digits.parse().ok() } else { None }
}

/// Days from 1970-01-01 to a day of the Gregorian calendar. Years begin in March here, so that the
/// day that only some years have is their last.
const fn days_before(year: i64, month: i64, day: i64) -> i64 {
    let year = if month <= 2 { year - 1 } else { year };
    let month = (month + 9) % 12;
    365 * year + year / 4 - year / 100 + year / 400 + (153 * month + 2) / 5 + day - 719_469
}

/// The day of the Gregorian calendar so many days after 1970-01-01: the other way round.
const fn civil(days: i64) -> (i64, i64, i64) {
    let days = days + 719_468;
    let (era, day) = (days / 146_097, days % 146_097);
    let year = (day - day / 1460 + day / 36_524 - day / 146_096) / 365;
    let day = day - (365 * year + year / 4 - year / 100);
    let month = (5 * day + 2) / 153;
    let day = day - (153 * month + 2) / 5 + 1;
    let month = if month < 10 { month + 3 } else { month - 9 };
    let year = year + era * 400;
    (if month <= 2 { year + 1 } else { year }, month, day)
}

#[cfg(test)]
mod tests {
    use super::*;

    fn shown(seconds: i64) -> String {
        Moment::from_micros(seconds * MICROS_PER_SECOND).unwrap().to_string()
    }

    /// Counts of seconds with their dates as the general `date -u` command writes them.
    #[test]
    fn known_moments_have_their_known_dates() {
        for (seconds, text) in [
            (0, "1970-01-01T00:00:00.000000Z"),
            (951_782_400, "2000-02-29T00:00:00.000000Z"),
            (1_000_000_000, "2001-09-09T01:46:40.000000Z"),
            (2_147_483_647, "2038-01-19T03:14:07.000000Z"),
            (4_107_542_399, "2100-02-28T23:59:59.000000Z"),
            (4_107_542_400, "2100-03-01T00:00:00.000000Z"),
            (253_402_300_799, "9999-12-31T23:59:59.000000Z"),
        ] {
            assert_eq!(shown(seconds), text);
            assert_eq!(Moment::from_text(text).unwrap().micros(), seconds * MICROS_PER_SECOND);
        }
    }

    #[test]
    fn every_day_of_four_centuries_comes_back() {
        for days in 0..146_097 {
            let (year, month, day) = civil(days);
            assert_eq!(days_before(year, month, day), days, "{year}-{month}-{day}");
        }
    }

    #[test]
    fn what_is_no_time_is_refused() {
        for text in [
            "",
            "2026-11-25",
            "2026-02-29T00:00:00.000000Z",
            "2026-11-25T24:00:00.000000Z",
            "2026-11-25T07:30:00Z",
            "2026-11-25 07:30:00.000000Z",
            "+026-11-25T07:30:00.000000Z",
        ] {
            assert!(Moment::from_text(text).is_err(), "{text:?}");
        }
        assert!(Moment::from_micros(-1).is_err() && Moment::from_micros(LAST_MICROS + 1).is_err());
    }
}

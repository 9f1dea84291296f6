//! What the program takes from its surroundings: the time, the zone in which people read it, and
//! ids that nobody else makes.

use jiff::Timestamp;
use jiff::civil::Date;
use jiff::tz::TimeZone;
use shop::ShopError;
use shop::book::{Clock, Id, Ids, Moment};
use uuid::{NoContext, Uuid};

/// The clock of this machine.
#[derive(Clone, Copy, Debug, Default)]
pub struct SystemClock;

impl Clock for SystemClock {
    /// A clock that stands before 1970 is taken for 1970, so that whatever is written with it can
    /// be seen to be wrong.
    fn now(&self) -> Moment {
        Moment::from_micros(Timestamp::now().as_microsecond()).unwrap_or(Moment::EPOCH)
    }
}

impl SystemClock {
    /// Makes sure that something can be written at this time.
    ///
    /// # Errors
    /// `Invalid` where the clock stands before 1970, when the book's time begins.
    pub fn check(self) -> Result<(), ShopError> {
        check_time(Timestamp::now())
    }
}

fn check_time(now: Timestamp) -> Result<(), ShopError> {
    if now >= Timestamp::UNIX_EPOCH {
        return Ok(());
    }
    let reason = format!(
        "the clock of this machine says {}, and nothing can be written before 1970: set its date \
         and time, then try again",
        now.strftime("%Y-%m-%d")
    );
    Err(ShopError::invalid("clock", reason))
}

/// Ids that grow with time: UUIDs of version 7. Before 1970, which such an id cannot say, they
/// stand at 1970.
#[derive(Clone, Copy, Debug, Default)]
pub struct NewIds;

impl Ids for NewIds {
    fn next(&self) -> Id {
        Id::from_bits(id_at(Timestamp::now()).as_u128())
    }
}

fn id_at(now: Timestamp) -> Uuid {
    if now < Timestamp::UNIX_EPOCH {
        Uuid::new_v7(uuid::Timestamp::from_unix(NoContext, 0, 0))
    } else {
        Uuid::now_v7()
    }
}

/// A day as people here count it.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct LocalDay {
    /// Its date.
    pub date: String,
    /// Its first moment.
    pub from: Moment,
    /// The first moment of the next day.
    pub until: Moment,
    /// The date of the day before; none where that lies outside the years of the book.
    pub before: Option<String>,
    /// The date of the day after, likewise.
    pub after: Option<String>,
}

/// The zone in which dates are shown.
#[derive(Clone, Debug)]
pub struct Zone {
    zone: TimeZone,
}

impl Zone {
    /// The zone that this machine is set to; UTC where that is not known.
    pub fn of_system() -> Self {
        Self { zone: TimeZone::try_system().unwrap_or(TimeZone::UTC) }
    }

    /// Day and minute as people here read them.
    pub fn minute(&self, moment: Moment) -> String {
        self.shown(moment, "%Y-%m-%d %H:%M")
    }

    /// The day as people here read it.
    pub fn day(&self, moment: Moment) -> String {
        self.shown(moment, "%Y-%m-%d")
    }

    /// The minute of the day by the clock on the wall.
    pub fn minute_of_day(&self, moment: Moment) -> u32 {
        let at = Timestamp::from_microsecond(moment.micros()).unwrap_or_default();
        let clock = at.to_zoned_datetime(self.zone.clone()).time();
        60 * u32::from(clock.hour().unsigned_abs()) + u32::from(clock.minute().unsigned_abs())
    }

    /// The day of a date such as 2026-11-25; none where there is no such date. Where clocks are
    /// put forward or back it is shorter or longer than others.
    pub fn local_day(&self, date: &str) -> Option<LocalDay> {
        let day: Date = date.parse().ok().filter(|day: &Date| day.to_string() == date)?;
        let begins = |day: Date| {
            let begins = day.to_zoned_datetime(self.zone.clone()).ok()?.timestamp();
            Moment::from_micros(begins.as_microsecond()).ok()
        };
        let from = begins(day)?;
        let (before, after) = (day.yesterday().ok(), day.tomorrow().ok());
        let until = after.and_then(begins).unwrap_or(Moment::LAST);
        let named = |other: Option<Date>| {
            other.filter(|day| begins(*day).is_some()).map(|day| day.to_string())
        };
        Some(LocalDay {
            date: date.to_owned(),
            from,
            until,
            before: named(before),
            after: named(after),
        })
    }

    /// The form of RFC 3339 with the offset of this zone, for other programs.
    pub fn with_offset(&self, moment: Moment) -> String {
        self.shown(moment, "%Y-%m-%dT%H:%M:%S%:z")
    }

    fn shown(&self, moment: Moment, form: &str) -> String {
        match Timestamp::from_microsecond(moment.micros()) {
            Ok(at) => at.to_zoned_datetime(self.zone.clone()).strftime(form).to_string(),
            Err(_) => moment.to_string(),
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn zone(name: &str) -> Zone {
        Zone { zone: TimeZone::get(name).unwrap() }
    }

    /// Moments with their local times as the general command `TZ=… date -d @…` writes them.
    #[test]
    fn a_moment_is_shown_as_people_there_read_it() {
        let moment = |seconds: i64| Moment::from_micros(seconds * 1_000_000).unwrap();
        let (winter, summer) = (moment(1_764_057_600), moment(1_751_328_000));
        let berlin = zone("Europe/Berlin");
        assert_eq!(berlin.minute(winter), "2025-11-25 09:00");
        assert_eq!(berlin.minute(summer), "2025-07-01 02:00");
        assert_eq!(berlin.with_offset(summer), "2025-07-01T02:00:00+02:00");
        assert_eq!(zone("America/Chicago").day(summer), "2025-06-30");
        assert_eq!(zone("UTC").with_offset(winter), "2025-11-25T08:00:00+00:00");
    }

    /// In Berlin clocks went forward on 2025-03-30 and back on 2025-10-26 (tz database).
    #[test]
    fn a_day_lasts_from_midnight_to_midnight_by_the_clock_on_the_wall() {
        let berlin = zone("Europe/Berlin");
        let hours = |date: &str| {
            let day = berlin.local_day(date).unwrap();
            assert_eq!(berlin.minute(day.from), format!("{date} 00:00"));
            (day.until.micros() - day.from.micros()) / 3_600_000_000
        };
        let all = ["2025-03-29", "2025-03-30", "2025-10-26", "2025-12-31"].map(hours);
        assert_eq!(all, [24, 23, 25, 24]);
        let day = berlin.local_day("2024-03-01").unwrap();
        assert_eq!(day.before.as_deref(), Some("2024-02-29"));
        assert_eq!(day.after.as_deref(), Some("2024-03-02"));
        let nine = Moment::from_micros(1_764_057_600_000_000).unwrap();
        assert_eq!(berlin.minute_of_day(nine), 540);
        for wrong in
            ["", "today", "2025-02-30", "2025-2-3", "1969-12-30", "2025-01-01T00:00", "../x"]
        {
            assert!(berlin.local_day(wrong).is_none(), "{wrong}");
        }
    }

    #[test]
    fn the_years_of_the_book_have_ends() {
        let utc = zone("UTC");
        assert_eq!(utc.local_day("1970-01-01").unwrap().before, None);
        let last = utc.local_day("9999-12-30").unwrap();
        assert!(last.from < last.until);
        assert!(utc.local_day("-000001-01-01").is_none());
    }

    #[test]
    fn the_last_moment_there_is_can_be_shown() {
        let shown = zone("Pacific/Kiritimati").minute(Moment::LAST);
        assert!(shown.starts_with("9999-12-31"), "{shown}");
    }

    #[test]
    fn ids_are_never_given_twice_and_grow() {
        let ids: Vec<Id> = (0..1000).map(|_| NewIds.next()).collect();
        assert!(ids.windows(2).all(|pair| pair[0] < pair[1]));
        assert!(ids.iter().all(|id| id.as_str().as_bytes()[14] == b'7'), "version 7, RFC 9562");
    }

    #[test]
    fn a_clock_before_1970_is_refused_and_stops_nothing() {
        let (before, first) = (Timestamp::from_second(-1).unwrap(), Timestamp::UNIX_EPOCH);
        let why = check_time(before).unwrap_err().to_string();
        assert!(why.contains("says 1969-12-31") && why.contains("set its date"), "{why}");
        check_time(first).unwrap();
        let ids = [before, Timestamp::from_second(-3_000_000_000).unwrap()].map(id_at);
        assert_ne!(ids[0], ids[1]);
        assert!(ids.iter().all(|id| id.get_version_num() == 7));
    }

    #[test]
    fn the_clock_goes_forward() {
        let (one, other) = (SystemClock.now(), SystemClock.now());
        assert!(one <= other && one > Moment::from_micros(1_700_000_000_000_000).unwrap());
    }
}

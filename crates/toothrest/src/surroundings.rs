//! What the program takes from its surroundings: the time, the zone in which people read it, and
//! ids that nobody else makes.

use jiff::Timestamp;
use jiff::tz::TimeZone;
use shop::book::{Clock, Id, Ids, Moment};
use uuid::Uuid;

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

/// Ids that grow with time: UUIDs of version 7.
#[derive(Clone, Copy, Debug, Default)]
pub struct NewIds;

impl Ids for NewIds {
    fn next(&self) -> Id {
        Id::from_bits(Uuid::now_v7().as_u128())
    }
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
    fn the_clock_goes_forward() {
        let (one, other) = (SystemClock.now(), SystemClock.now());
        assert!(one <= other && one > Moment::from_micros(1_700_000_000_000_000).unwrap());
    }
}

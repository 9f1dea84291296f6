//! How often a program may ask.

use std::collections::HashMap;
use std::sync::{Mutex, PoisonError};

use shop::book::Moment;

/// A stretch in which requests are counted, in microseconds.
const STRETCH_US: i64 = 60_000_000;
/// Requests with a sound token in one stretch.
const ASKED_MAX: u32 = 120;
/// Requests without one, from the same place, in one stretch.
const FAILED_MAX: u32 = 20;
/// So many are counted at once before old counts are thrown away.
const COUNTED_MAX: usize = 4_096;

/// Counts of requests, by token and by where they come from. They are forgotten with the program.
#[derive(Default)]
pub(crate) struct Rates {
    counts: Mutex<HashMap<String, Count>>,
}

#[derive(Clone, Copy)]
struct Count {
    began_us: i64,
    asked: u32,
}

impl Rates {
    /// Counts a request with a token; the seconds to wait where it is one too many.
    pub(super) fn ask(&self, token: &str, now: Moment) -> Result<(), u64> {
        self.count(format!("token {token}"), now, ASKED_MAX)
    }

    /// Counts a request without one.
    pub(super) fn fail(&self, peer: &str, now: Moment) -> Result<(), u64> {
        self.count(format!("peer {peer}"), now, FAILED_MAX)
    }

    fn count(&self, who: String, now: Moment, most: u32) -> Result<(), u64> {
        let mut counts = self.counts.lock().unwrap_or_else(PoisonError::into_inner);
        if counts.len() >= COUNTED_MAX {
            counts.retain(|_, count| !count.is_over(now));
        }
        let fresh = Count { began_us: now.micros(), asked: 0 };
        let count = counts.entry(who).or_insert(fresh);
        if count.is_over(now) {
            *count = fresh;
        }
        count.asked = count.asked.saturating_add(1);
        if count.asked <= most { Ok(()) } else { Err(count.wait_s(now)) }
    }
}

impl Count {
    /// A clock that was put back begins anew, so that nobody waits for it to catch up.
    fn is_over(self, now: Moment) -> bool {
        !(0..STRETCH_US).contains(&(now.micros() - self.began_us))
    }

    fn wait_s(self, now: Moment) -> u64 {
        let left_us = STRETCH_US - (now.micros() - self.began_us);
        u64::try_from(left_us / 1_000_000).unwrap_or(0) + 1
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn counts_begin_anew_after_a_minute() {
        let rates = Rates::default();
        let at = |seconds: i64| Moment::from_micros(seconds * 1_000_000).unwrap();
        (0..ASKED_MAX).for_each(|_| assert_eq!(rates.ask("a", at(100)), Ok(())));
        assert_eq!(rates.ask("a", at(110)), Err(51));
        assert_eq!(rates.ask("b", at(110)), Ok(()));
        assert_eq!(rates.ask("a", at(160)), Ok(()));
        assert_eq!(rates.ask("a", at(10)), Ok(()), "a clock that was put back");
        (0..FAILED_MAX).for_each(|_| assert_eq!(rates.fail("p", at(100)), Ok(())));
        assert!(rates.fail("p", at(100)).is_err() && rates.fail("q", at(100)).is_ok());
        assert_eq!(rates.fail("p", at(161)), Ok(()));
    }
}

//! Who has a connection, since when, and whether a request of theirs is under way.

use std::collections::BTreeMap;
use std::net::IpAddr;
use std::sync::atomic::{AtomicBool, AtomicUsize, Ordering};
use std::sync::{Arc, Mutex, MutexGuard, PoisonError};

use tokio::sync::Notify;

use super::Limits;

/// All that are taken, the longest taken first.
#[derive(Clone, Default)]
pub(super) struct Seats {
    taken: Arc<Mutex<Taken>>,
}

#[derive(Default)]
struct Taken {
    next: u64,
    by_number: BTreeMap<u64, One>,
}

struct One {
    peer: IpAddr,
    work: Work,
    leave: Arc<Notify>,
}

/// A place for one connection, given back with this.
pub(super) struct Seat {
    number: u64,
    work: Work,
    leave: Arc<Notify>,
    all: Seats,
}

/// How many requests of a connection are under way, and whether some of an answer still waits to be
/// taken by the other end.
#[derive(Clone, Default)]
pub(super) struct Work {
    under_way: Arc<AtomicUsize>,
    has_unsent: Arc<AtomicBool>,
}

/// A request that is under way until this is gone.
pub(super) struct UnderWay(Work);

impl Seats {
    fn locked(&self) -> MutexGuard<'_, Taken> {
        self.taken.lock().unwrap_or_else(PoisonError::into_inner)
    }

    /// A place for whoever comes from there. Where all are taken, the one that has waited longest
    /// for a request gives way, so that nobody keeps others out by keeping silent; nothing where
    /// all are at work.
    pub(super) fn take(&self, peer: IpAddr, limits: Limits) -> Option<Seat> {
        let mut taken = self.locked();
        let of_peer = taken.by_number.values().filter(|one| one.peer == peer).count();
        if of_peer >= limits.of_peer {
            taken.give_way(|one| one.peer == peer)?;
        } else if taken.by_number.len() >= limits.in_all {
            taken.give_way(|_| true)?;
        }
        taken.next += 1;
        let (number, work, leave) = (taken.next, Work::default(), Arc::new(Notify::new()));
        let one = One { peer, work: work.clone(), leave: leave.clone() };
        taken.by_number.insert(number, one);
        Some(Seat { number, work, leave, all: self.clone() })
    }
}

impl Taken {
    fn give_way(&mut self, may: impl Fn(&One) -> bool) -> Option<()> {
        let is_waiting = |one: &One| may(one) && !one.work.is_under_way();
        let (&number, _) = self.by_number.iter().find(|(_, one)| is_waiting(one))?;
        self.by_number.remove(&number)?.leave.notify_one();
        Some(())
    }
}

impl Seat {
    /// Ends when it is to be given up for somebody else.
    pub(super) async fn asked_to_leave(&self) {
        self.leave.notified().await;
    }

    pub(super) fn is_at_work(&self) -> bool {
        self.work.is_under_way()
    }

    pub(super) fn work(&self) -> Work {
        self.work.clone()
    }
}

impl Drop for Seat {
    fn drop(&mut self) {
        self.all.locked().by_number.remove(&self.number);
    }
}

impl Work {
    pub(super) fn begun(&self) -> UnderWay {
        self.under_way.fetch_add(1, Ordering::SeqCst);
        UnderWay(self.clone())
    }

    pub(super) fn set_unsent(&self, has_unsent: bool) {
        self.has_unsent.store(has_unsent, Ordering::SeqCst);
    }

    fn is_under_way(&self) -> bool {
        self.under_way.load(Ordering::SeqCst) > 0 || self.has_unsent.load(Ordering::SeqCst)
    }
}

impl Drop for UnderWay {
    fn drop(&mut self) {
        self.0.under_way.fetch_sub(1, Ordering::SeqCst);
    }
}

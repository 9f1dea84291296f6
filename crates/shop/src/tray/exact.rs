//! The best order of a few stops.

use super::groups::Stops;

/// Up to so many stops the best order is found.
pub(super) const FEW: usize = 13;

/// The best order.
///
/// **Source** \[held-karp-1962\] the least cost of every set of stops by its last one. **Departs**
/// by leaving the last stop, and the first where the machine's set-up is not known, free. **Error**
/// none. **Domain** up to 13 stops.
pub(super) fn best_order(stops: &Stops) -> Vec<usize> {
    let count = stops.count();
    if count < 2 {
        return (0..count).collect();
    }
    let table = Table::filled(stops);
    let all = (1_usize << count) - 1;
    let last = (0..count).min_by_key(|last| (table.cost[all * count + last], *last)).unwrap_or(0);
    table.walked_back(all, last)
}

/// For every set of stops, as bits, and every last one: the least cost and the one before.
struct Table {
    count: usize,
    cost: Vec<u64>,
    before: Vec<u8>,
}

impl Table {
    fn filled(stops: &Stops) -> Self {
        let count = stops.count();
        let size = (1 << count) * count;
        let mut table = Self { count, cost: vec![u64::MAX; size], before: vec![u8::MAX; size] };
        let first = if stops.begins_fixed { 1 } else { count };
        for start in 0..first {
            table.cost[(1 << start) * count + start] = 0;
        }
        for set in 1..1_usize << count {
            for last in (0..count).filter(|last| set & (1 << last) != 0) {
                table.spread(stops, set, last);
            }
        }
        table
    }

    /// Goes on from one set and its last stop to every stop outside it.
    fn spread(&mut self, stops: &Stops, set: usize, last: usize) {
        let here = self.cost[set * self.count + last];
        if here == u64::MAX {
            return;
        }
        for next in (0..self.count).filter(|next| set & (1 << next) == 0) {
            let at = (set | 1 << next) * self.count + next;
            let cost = here + u64::from(stops.seconds(last, next));
            if cost < self.cost[at] {
                self.cost[at] = cost;
                self.before[at] = last as u8;
            }
        }
    }

    fn walked_back(&self, mut set: usize, mut last: usize) -> Vec<usize> {
        let mut order = Vec::with_capacity(self.count);
        loop {
            order.push(last);
            let before = self.before[set * self.count + last];
            set &= !(1 << last);
            if before == u8::MAX {
                break;
            }
            last = usize::from(before);
        }
        order.reverse();
        order
    }
}

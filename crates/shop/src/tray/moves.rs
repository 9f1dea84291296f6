//! An order that can be changed: runs turned round, runs moved elsewhere.

use super::groups::Stops;

/// The longest run that is moved.
const RUN_MAX: usize = 3;

/// An order with the place of every stop, and the nearest stops of each.
#[derive(Clone)]
pub(super) struct Path<'a> {
    stops: &'a Stops,
    near: &'a [Vec<u32>],
    order: Vec<usize>,
    place: Vec<usize>,
}

/// A run of stops from one place to another, both counted, that is to be moved so that the stop at
/// its `lead` end comes to stand beside another.
#[derive(Clone, Copy)]
struct Run {
    from: usize,
    to: usize,
    leads_at_front: bool,
}

impl<'a> Path<'a> {
    pub(super) fn new(stops: &'a Stops, near: &'a [Vec<u32>], order: Vec<usize>) -> Self {
        let mut path = Self { stops, near, place: vec![0; order.len()], order };
        path.note(0, path.order.len());
        path
    }

    pub(super) fn order(&self) -> &[usize] {
        &self.order
    }

    /// The first place that may be changed.
    pub(super) fn first_free(&self) -> usize {
        usize::from(self.stops.begins_fixed)
    }

    pub(super) fn copy_from(&mut self, other: &Self) {
        self.order.copy_from_slice(&other.order);
        self.place.copy_from_slice(&other.place);
    }

    /// Notes the places of the stops from one place up to another.
    fn note(&mut self, from: usize, end: usize) {
        for at in from..end {
            self.place[self.order[at]] = at;
        }
    }

    fn at(&self, place: Option<usize>) -> Option<usize> {
        self.order.get(place?).copied()
    }

    fn before(&self, place: usize) -> Option<usize> {
        self.at(place.checked_sub(1))
    }

    /// Seconds between two stops; none where there is no stop.
    fn way(&self, one: Option<usize>, other: Option<usize>) -> i64 {
        match (one, other) {
            (Some(one), Some(other)) => i64::from(self.stops.seconds(one, other)),
            _ => 0,
        }
    }

    /// Swaps the run from `from` up to `middle` with the one from there up to `end`; answers by how
    /// many seconds the order grows.
    pub(super) fn swap_runs(&mut self, from: usize, middle: usize, end: usize) -> i64 {
        let (left, right) = (self.before(from), self.at(Some(end)));
        let [a, b, c, d] = [from, middle - 1, middle, end - 1].map(|place| self.at(Some(place)));
        let gone = self.way(left, a) + self.way(b, c) + self.way(d, right);
        let come = self.way(left, c) + self.way(d, a) + self.way(b, right);
        self.order[from..end].rotate_left(middle - from);
        self.note(from, end);
        come - gone
    }

    /// Makes one move at a stop that shortens the order, if there is one: answers by how many
    /// seconds, and puts the stops at the ends of what changed into `touched`.
    pub(super) fn shortened_at(&mut self, stop: usize, touched: &mut Vec<usize>) -> Option<i64> {
        self.turned(stop, touched).or_else(|| self.moved(stop, touched))
    }

    /// Turns a run round so that a near stop comes to stand beside this one.
    ///
    /// **Source** \[croes-1958\] two ways taken out, the run between turned round. **Departs** by
    /// looking at near stops only. **Error** none: the order is shorter by what is told. **Domain**
    /// a distance that is alike both ways.
    fn turned(&mut self, stop: usize, touched: &mut Vec<usize>) -> Option<i64> {
        let here = self.place[stop];
        for is_after in [true, false] {
            let side = |path: &Self, place: usize| {
                if is_after { path.at(Some(place + 1)) } else { path.before(place) }
            };
            let beside = side(self, here);
            let gone = self.way(Some(stop), beside);
            for at in 0..self.near[stop].len() {
                let other = self.near[stop][at] as usize;
                let way = self.way(Some(stop), Some(other));
                if way >= gone {
                    break;
                }
                let there = self.place[other];
                let beyond = side(self, there);
                let gain = gone + self.way(Some(other), beyond) - way - self.way(beside, beyond);
                let (low, high) = (here.min(there), here.max(there));
                let (from, to) = if is_after { (low + 1, high) } else { (low, high - 1) };
                if gain > 0 && from >= self.first_free() {
                    self.order[from..=to].reverse();
                    self.note(from, to + 1);
                    touched.extend([Some(stop), beside, Some(other), beyond].into_iter().flatten());
                    return Some(gain);
                }
            }
        }
        None
    }

    /// Moves a short run that ends at this stop to a near one.
    ///
    /// **Source** \[or-1976\] runs of up to three, turned round or not. **Departs** by looking at
    /// near stops only. **Error** none: the order is shorter by what is told. **Domain** all.
    fn moved(&mut self, stop: usize, touched: &mut Vec<usize>) -> Option<i64> {
        let here = self.place[stop];
        for length in 1..=RUN_MAX {
            let fronts = [
                Some((here, here + length - 1)),
                here.checked_sub(length - 1).map(|from| (from, here)),
            ];
            for (at, ends) in fronts.into_iter().enumerate() {
                let Some((from, to)) = ends else { continue };
                let run = Run { from, to, leads_at_front: at == 0 };
                if to >= self.order.len() || from < self.first_free() || (length == 1 && at == 1) {
                    continue;
                }
                if let Some(gain) = self.moved_run(stop, run, touched) {
                    return Some(gain);
                }
            }
        }
        None
    }

    fn moved_run(&mut self, stop: usize, run: Run, touched: &mut Vec<usize>) -> Option<i64> {
        let (left, right) = (self.before(run.from), self.at(Some(run.to + 1)));
        let [first, last] = [run.from, run.to].map(|place| self.at(Some(place)));
        let tail = if run.leads_at_front { last } else { first };
        let gone = self.way(left, first) + self.way(last, right) - self.way(left, right);
        for at in 0..self.near[stop].len() {
            let other = self.near[stop][at] as usize;
            let way = self.way(Some(stop), Some(other));
            if way >= gone {
                break;
            }
            let there = self.place[other];
            if (run.from..=run.to).contains(&there) {
                continue;
            }
            for is_after in [true, false] {
                let gap = if is_after { there + 1 } else { there };
                let beyond = if is_after { self.at(Some(there + 1)) } else { self.before(there) };
                let gain = gone + self.way(Some(other), beyond) - way - self.way(tail, beyond);
                if gain > 0 && self.can_take(run, gap) {
                    self.relocate(run, gap, run.leads_at_front != is_after);
                    let ends = [left, right, first, last, Some(other), beyond];
                    touched.extend(ends.into_iter().flatten());
                    return Some(gain);
                }
            }
        }
        None
    }

    /// Whether a run can go into the gap before a place: not where it stands, nor before a fixed
    /// beginning.
    fn can_take(&self, run: Run, gap: usize) -> bool {
        gap >= self.first_free() && !(run.from..=run.to + 1).contains(&gap)
    }

    fn relocate(&mut self, run: Run, gap: usize, is_turned: bool) {
        let length = run.to + 1 - run.from;
        let (from, end) = (run.from.min(gap), gap.max(run.to + 1));
        let moved = if gap > run.to {
            self.order[from..end].rotate_left(length);
            end - length..end
        } else {
            self.order[from..end].rotate_right(length);
            from..from + length
        };
        if is_turned {
            self.order[moved].reverse();
        }
        self.note(from, end);
    }
}

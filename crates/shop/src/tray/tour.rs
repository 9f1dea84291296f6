//! A good order of many stops.

use std::collections::VecDeque;

use super::groups::{Key, Stops};
use super::moves::Path;
use super::progress::{Stage, Teller};
use super::setup::PARTS;

/// Near stops that are looked at from each, and how far they are sought in every sorting.
const NEAR: usize = 12;
const WINDOW: usize = 4;

/// How often the order is shaken, for each stop and at most.
const SHAKES_PER_STOP: usize = 40;
const SHAKES_MAX: usize = 20_000;

/// How far apart the cuts of one shake are.
const SHAKE_SPAN: usize = 30;

/// Progress is told once in so many steps.
const TOLD_EVERY: usize = 256;

/// A good order: the best of many sortings and of going to the nearest each time, shortened as
/// long as moves shorten it, then shaken and shortened again.
pub(super) fn good_order(stops: &Stops, teller: &mut Teller<'_>) -> Vec<usize> {
    let sortings = sortings(stops);
    let mut first: Vec<usize> = sortings
        .iter()
        .map(|sorting| sorted(stops, sorting))
        .min_by_key(|order| stops.whole(order))
        .unwrap_or_default();
    if let Some(order) = nearest_first(stops, teller)
        && stops.whole(&order) < stops.whole(&first)
    {
        first = order;
    }
    if teller.is_stopped() {
        return first;
    }
    let near = near(stops, &sortings);
    let mut search = Search::new(Path::new(stops, &near, first));
    search.shorten(teller);
    search.shake(teller);
    search.path.order().to_vec()
}

/// Orders of the parts by which to sort: the dearest first, and each with one or two put last.
fn sortings(stops: &Stops) -> Vec<[usize; PARTS]> {
    let dearest = stops.dearest_first();
    let last = |parts: [usize; PARTS], put: usize| {
        let mut parts = parts.to_vec();
        parts.retain(|part| *part != put);
        parts.push(put);
        <[usize; PARTS]>::try_from(parts).unwrap_or(dearest)
    };
    let one = (0..PARTS).map(|put| last(dearest, put));
    let pairs = (0..PARTS).flat_map(|a| (0..PARTS).map(move |b| (a, b))).filter(|(a, b)| a != b);
    let two = pairs.map(|(a, b)| last(last(dearest, a), b));
    one.chain(two).collect()
}

fn sorted(stops: &Stops, sorting: &[usize; PARTS]) -> Vec<usize> {
    let fixed = usize::from(stops.begins_fixed);
    let key = |stop: &usize| -> Key { sorting.map(|part| stops.keys[*stop][part]) };
    let mut rest: Vec<usize> = (fixed..stops.count()).collect();
    rest.sort_by_cached_key(key);
    (0..fixed).chain(rest).collect()
}

/// Goes to the nearest stop each time; none where somebody stops it.
fn nearest_first(stops: &Stops, teller: &mut Teller<'_>) -> Option<Vec<usize>> {
    let count = stops.count();
    let mut rest: Vec<usize> = (1..count).collect();
    let mut order = vec![0];
    while !rest.is_empty() {
        let done = order.len();
        if done.is_multiple_of(TOLD_EVERY) && !teller.goes_on(Stage::FirstOrder, done, count) {
            return None;
        }
        let here = order[done - 1];
        let nearest = (0..rest.len()).min_by_key(|at| (stops.seconds(here, rest[*at]), rest[*at]));
        order.push(rest.swap_remove(nearest.unwrap_or(0)));
    }
    Some(order)
}

/// The near stops of each, nearest first: those that stand near it in some sorting.
fn near(stops: &Stops, sortings: &[[usize; PARTS]]) -> Vec<Vec<u32>> {
    let count = stops.count();
    let mut found: Vec<Vec<u32>> = vec![Vec::new(); count];
    for sorting in sortings {
        let order = sorted(stops, sorting);
        for (at, stop) in order.iter().enumerate() {
            let window = at.saturating_sub(WINDOW)..(at + WINDOW + 1).min(count);
            found[*stop].extend(order[window].iter().map(|other| *other as u32));
        }
    }
    for (stop, near) in found.iter_mut().enumerate() {
        near.sort_unstable();
        near.dedup();
        near.retain(|other| *other as usize != stop);
        near.sort_by_key(|other| (stops.seconds(stop, *other as usize), *other));
        near.truncate(NEAR);
    }
    found
}

/// A search from one order.
struct Search<'a> {
    path: Path<'a>,
    waiting: VecDeque<usize>,
    is_waiting: Vec<bool>,
    touched: Vec<usize>,
    random: Random,
}

impl<'a> Search<'a> {
    fn new(path: Path<'a>) -> Self {
        let count = path.order().len();
        let waiting = path.order().iter().copied().collect();
        let is_waiting = vec![true; count];
        Self { path, waiting, is_waiting, touched: Vec::new(), random: Random(SEED) }
    }

    fn wait_for(&mut self, stops: &[usize]) {
        for stop in stops {
            if !std::mem::replace(&mut self.is_waiting[*stop], true) {
                self.waiting.push_back(*stop);
            }
        }
    }

    /// Makes moves at the stops that wait until none shortens the order; answers by how many
    /// seconds it did.
    fn settle(&mut self, mut goes_on: impl FnMut(usize) -> bool) -> i64 {
        let (mut gain, mut steps) = (0, 0);
        while let Some(stop) = self.waiting.pop_front() {
            self.is_waiting[stop] = false;
            steps += 1;
            let mut touched = std::mem::take(&mut self.touched);
            if let Some(shorter) = self.path.shortened_at(stop, &mut touched) {
                gain += shorter;
                self.wait_for(&touched);
            }
            touched.clear();
            self.touched = touched;
            if steps % TOLD_EVERY == 0 && !goes_on(steps) {
                break;
            }
        }
        gain
    }

    fn shorten(&mut self, teller: &mut Teller<'_>) {
        let shakes = self.shakes();
        self.settle(|_| teller.goes_on(Stage::Improving, 0, shakes));
    }

    fn shakes(&self) -> usize {
        (SHAKES_PER_STOP * self.path.order().len()).min(SHAKES_MAX)
    }

    /// Swaps two short runs somewhere, shortens, and goes back where that did not help.
    fn shake(&mut self, teller: &mut Teller<'_>) {
        let (shakes, first) = (self.shakes(), self.path.first_free());
        let free = self.path.order().len() - first;
        if free < 4 {
            return;
        }
        let mut best = self.path.clone();
        for shake in 0..shakes {
            let is_time = shake % TOLD_EVERY == 0;
            if teller.is_stopped() || is_time && !teller.goes_on(Stage::Improving, shake, shakes) {
                break;
            }
            let span = SHAKE_SPAN.min(free);
            let from = first + self.random.below(free - span + 1);
            let middle = from + 1 + self.random.below(span - 2);
            let end = middle + 1 + self.random.below(from + span - middle - 1);
            let grown = self.path.swap_runs(from, middle, end);
            self.wait_around(&[from, middle, end]);
            let gain = self.settle(|_| true) - grown;
            if gain >= 0 {
                best.copy_from(&self.path);
            } else {
                self.path.copy_from(&best);
            }
        }
        self.path.copy_from(&best);
    }

    /// Lets the stops on either side of some places wait.
    fn wait_around(&mut self, places: &[usize]) {
        for place in places {
            let around = [place.checked_sub(1), Some(*place)].into_iter().flatten();
            let stops: Vec<usize> =
                around.filter_map(|place| self.path.order().get(place).copied()).collect();
            self.wait_for(&stops);
        }
    }
}

/// Where the random numbers begin, so that every run shakes alike.
const SEED: u64 = 0x9e37_79b9_7f4a_7c15;

/// Marsaglia's shift register of 64 bits.
struct Random(u64);

impl Random {
    fn below(&mut self, count: usize) -> usize {
        self.0 ^= self.0 << 13;
        self.0 ^= self.0 >> 7;
        self.0 ^= self.0 << 17;
        (self.0 >> 11) as usize % count.max(1)
    }
}

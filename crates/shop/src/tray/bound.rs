//! How short an order can be at the very least.

use super::groups::Stops;
use super::progress::{Stage, Teller};

/// Up to so many stops prices are put on them, which brings the bound up.
const PRICED_MAX: usize = 600;

/// Rounds of pricing.
const ROUNDS: usize = 120;

/// Rounds without a better bound after which the steps are halved.
const PATIENCE: usize = 8;

/// How much of a second rounding may take off.
const ROUNDING: f64 = 1e-6;

/// The shortest tree that joins all stops: for each but the first the stop it hangs on.
struct Tree {
    seconds: f64,
    degrees: Vec<u32>,
}

/// A lower bound of every order, in seconds; `reached` is the length of an order that is known.
/// Where somebody stops it, the bound so far.
pub(super) fn at_least(stops: &Stops, reached: u64, teller: &mut Teller<'_>) -> u64 {
    let by_parts = stops.least_by_parts();
    if stops.count() < 2 || by_parts >= reached {
        return by_parts;
    }
    if !teller.goes_on(Stage::LowerBound, 0, ROUNDS) {
        return by_parts;
    }
    if stops.count() > PRICED_MAX {
        let prices = vec![0.0; stops.count()];
        let tree = shortest_tree(stops, &prices, teller);
        return tree.map_or(by_parts, |tree| by_parts.max(whole_seconds(tree.seconds)));
    }
    by_parts.max(priced(stops, reached, teller))
}

/// The next whole second, for every order takes whole ones.
fn whole_seconds(seconds: f64) -> u64 {
    (seconds - ROUNDING).ceil().max(0.0) as u64
}

/// The shortest tree, distances raised by the prices of both ends.
///
/// **Source** \[prim-1957\] by joining the nearest stop each time. **Departs** nowhere. **Error**
/// rounding. **Domain** one stop at least; every order is a tree, so none is shorter.
fn shortest_tree(stops: &Stops, prices: &[f64], teller: &mut Teller<'_>) -> Option<Tree> {
    let count = stops.count();
    let (mut near, mut hangs_on) = (vec![f64::INFINITY; count], vec![0; count]);
    let mut rest: Vec<usize> = (1..count).collect();
    let mut tree = Tree { seconds: 0.0, degrees: vec![0; count] };
    let mut last = 0;
    while !rest.is_empty() {
        let is_time = rest.len().is_multiple_of(256) && count > PRICED_MAX;
        if is_time && !teller.goes_on(Stage::LowerBound, count - rest.len(), count) {
            return None;
        }
        let mut nearest = 0;
        for (at, &stop) in rest.iter().enumerate() {
            let way = f64::from(stops.seconds(last, stop)) + prices[last] + prices[stop];
            if way < near[stop] {
                (near[stop], hangs_on[stop]) = (way, last);
            }
            if near[stop] < near[rest[nearest]] {
                nearest = at;
            }
        }
        last = rest.swap_remove(nearest);
        tree.seconds += near[last];
        tree.degrees[last] += 1;
        tree.degrees[hangs_on[last]] += 1;
    }
    Some(tree)
}

/// The bound with prices on the stops, brought up step by step.
///
/// An order with a stop of no length between its end and its beginning is a round trip; that stop
/// joined by two ways, and the shortest tree over the others, is never longer. A price on a stop
/// adds twice itself to every round trip, so taking it off again leaves a bound, for any prices.
///
/// **Source** \[held-karp-1970\] prices raised where the tree has more than two ways to a stop and
/// lowered where it has one. **Departs** by 120 rounds at most. **Error** none above: it is a bound
/// at every round. **Domain** two stops at least.
fn priced(stops: &Stops, reached: u64, teller: &mut Teller<'_>) -> u64 {
    let count = stops.count();
    let (mut prices, mut best, mut eagerness) = (vec![0.0; count], 0, 2.0);
    let mut since = 0;
    for round in 0..ROUNDS {
        if best >= reached || !teller.goes_on(Stage::LowerBound, round, ROUNDS) {
            break;
        }
        let Some(mut tree) = shortest_tree(stops, &prices, teller) else { break };
        let bound = tree.seconds + ends(stops, &prices, &mut tree.degrees)
            - 2.0 * prices.iter().sum::<f64>();
        since = if whole_seconds(bound) > best { 0 } else { since + 1 };
        best = best.max(whole_seconds(bound));
        if since > PATIENCE {
            (eagerness, since) = (0.5 * eagerness, 0);
        }
        let off = |degree: &u32| f64::from(*degree) - 2.0;
        let square: f64 = tree.degrees.iter().map(|degree| off(degree).powi(2)).sum();
        if square == 0.0 {
            break;
        }
        let step = eagerness * (reached as f64 - bound).max(1.0) / square;
        prices
            .iter_mut()
            .zip(&tree.degrees)
            .for_each(|(price, degree)| *price += step * off(degree));
    }
    best
}

/// The two ways to the stop of no length: from the cheapest two, or from where every order begins
/// and the cheapest other.
fn ends(stops: &Stops, prices: &[f64], degrees: &mut [u32]) -> f64 {
    let mut by_price: Vec<usize> = (0..prices.len()).collect();
    by_price.sort_by(|a, b| prices[*a].total_cmp(&prices[*b]).then(a.cmp(b)));
    if stops.begins_fixed {
        by_price.retain(|stop| *stop != 0);
        by_price.insert(0, 0);
    }
    by_price.iter().take(2).for_each(|stop| degrees[*stop] += 1);
    by_price.iter().take(2).map(|stop| prices[*stop]).sum()
}

//! The searches against each other, where only the inside can be called.

use std::ops::ControlFlow;

use geometry::Angle;
use proptest::prelude::*;
use trade::{Minutes, SetupChange};

use super::bound::at_least;
use super::exact::best_order;
use super::groups::{Groups, Stops};
use super::progress::Teller;
use super::setup::{ChangeTimes, PARTS, TraySetup};
use super::tour::good_order;
use crate::record::Hand;

fn setup(values: [u32; PARTS]) -> TraySetup {
    let [wheel, holding, head, finger, hand, relief] = values;
    TraySetup {
        wheel: format!("w{wheel}"),
        holding: format!("c{holding}"),
        head_angle: Angle::from_degrees(f64::from(head)),
        rest_finger: format!("f{finger}"),
        hand: if hand == 0 { Hand::Right } else { Hand::Left },
        relief_setting: Angle::from_degrees(f64::from(relief)),
    }
}

fn stops(values: &[[u32; PARTS]], begins_fixed: bool) -> Stops {
    let setups: Vec<TraySetup> = values.iter().map(|values| setup(*values)).collect();
    let minutes = |change: SetupChange| Minutes::from_minutes(1.5 + f64::from(change as u32));
    let times = ChangeTimes::new(minutes).unwrap();
    let now = begins_fixed.then(|| setup([9; PARTS]));
    let jobs = setups.iter().enumerate();
    Groups::of(jobs, now.as_ref(), Angle::from_degrees(0.5), &times).stops
}

fn values(most: usize) -> impl Strategy<Value = Vec<[u32; PARTS]>> {
    let one = (0_u32..3, 0_u32..4, 0_u32..3, 0_u32..2, 0_u32..2, 0_u32..6);
    let one = one.prop_map(|(a, b, c, d, e, f)| [a, b, c, d, e, f]);
    prop::collection::vec(one, 1..most)
}

/// The least over every order, by trying them all.
fn by_brute_force(stops: &Stops, order: &mut Vec<usize>, so_far: u64) -> u64 {
    if order.len() == stops.count() {
        return so_far;
    }
    let firsts = if order.is_empty() && stops.begins_fixed { 1 } else { stops.count() };
    let mut least = u64::MAX;
    for next in (0..firsts).filter(|next| !order.contains(next)).collect::<Vec<_>>() {
        let way = order.last().map_or(0, |last| u64::from(stops.seconds(*last, next)));
        order.push(next);
        least = least.min(by_brute_force(stops, order, so_far + way));
        order.pop();
    }
    least
}

fn is_whole(stops: &Stops, order: &[usize]) -> bool {
    let mut sorted = order.to_vec();
    sorted.sort_unstable();
    sorted.iter().copied().eq(0..stops.count()) && (!stops.begins_fixed || order[0] == 0)
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(64))]

    #[test]
    fn a_few_stops_are_ordered_as_brute_force_does(values in values(7), fixed: bool) {
        let stops = stops(&values, fixed);
        let order = best_order(&stops);
        prop_assert!(is_whole(&stops, &order));
        prop_assert_eq!(stops.whole(&order), by_brute_force(&stops, &mut Vec::new(), 0));
    }

    #[test]
    fn the_bound_is_below_the_best_and_the_search_not_far_above(values in values(12), fixed: bool) {
        let stops = stops(&values, fixed);
        let best = stops.whole(&best_order(&stops));
        let mut tell = |_| ControlFlow::Continue(());
        let mut teller = Teller::new(&mut tell);
        let order = good_order(&stops, &mut teller);
        prop_assert!(is_whole(&stops, &order));
        let found = stops.whole(&order);
        let least = at_least(&stops, found, &mut teller);
        prop_assert!(least <= best && best <= found, "{} {} {}", least, best, found);
        prop_assert!(found as f64 <= 1.1 * best as f64, "{} {}", best, found);
    }

    #[test]
    fn ways_between_set_ups_are_a_distance(values in values(6)) {
        let stops = stops(&values, true);
        for a in 0..stops.count() {
            for b in 0..stops.count() {
                prop_assert_eq!(stops.seconds(a, b), stops.seconds(b, a));
                prop_assert_eq!(stops.seconds(a, b) == 0, a == b);
                for c in 0..stops.count() {
                    prop_assert!(stops.seconds(a, c) <= stops.seconds(a, b) + stops.seconds(b, c));
                }
            }
        }
    }
}

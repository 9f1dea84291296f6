//! What a regrind costs, whether it is worth it, when to pull a cutter, and quotes.
//!
//! Nothing is in print for these; grade D throughout: closed forms and arithmetic of our own.

mod common;

use common::Random;
use geometry::{Angle, Length};
use proptest::prelude::*;
use shop::Cited;
use shop::cost::{
    Economy, GrindWork, LotLine, Money, PullBound, Rates, RatesDraft, Terms, WearReading, WheelUse,
    WorthQuestion, cost_of_grind, pull_at, pull_by, quote, wear_curve, worth,
};
use shop::learn::Lives;
use shop::plan::{GroundPart, PartStock};
use trade::{Minutes, Share};

fn money(amount: f64) -> Money {
    Money::from_amount(amount)
}

fn draft() -> RatesDraft {
    RatesDraft {
        labour_per_hour: money(48.0),
        machine_per_hour: money(12.0),
        setup: Minutes::from_minutes(15.0),
        per_tooth: Minutes::from_minutes(0.5),
        per_pass: Minutes::from_minutes(0.25),
        pass_depth: Length::from_mm(0.025),
        handling: Minutes::from_minutes(5.0),
        supplies: money(0.5),
    }
}

fn rates() -> Rates {
    draft().build().expect("the rates are sound")
}

fn periphery(off: Length) -> Vec<PartStock> {
    vec![PartStock { part: GroundPart::Periphery, off }]
}

fn work() -> GrindWork {
    GrindWork {
        teeth: 4,
        parts: periphery(Length::from_mm(0.25)),
        setup_shared_by: 3,
        wheel: WheelUse {
            price: money(60.0),
            usable: Length::from_mm(3.0),
            lost_per_cutter: Length::from_mm(0.015),
            dressed_per_cutter: Length::from_mm(0.01),
        },
    }
}

#[test]
fn a_grind_costs_the_sum_of_its_parts() {
    // 15 min over 3 at 60 an hour: 5. Teeth: 4 · 2 · (0.5 + 0.25 · 0.125/0.025) = 14 min: 14.
    // Wheel: 60 · 0.025/3 = 0.5. Handling: 5 min at 48 an hour and 0.5: 4.5.
    let cost = cost_of_grind(&rates(), &work()).unwrap();
    let parts = [cost.setup, cost.grinding, cost.wheel, cost.handling, cost.total()];
    for (part, by_hand) in parts.iter().zip([5.0, 14.0, 0.5, 4.5, 24.0]) {
        assert!((part.amount() - by_hand).abs() < 1e-9, "{part} is not {by_hand}");
    }
    assert!((cost.at_machine.minutes() - 19.0).abs() < 1e-9);
}

#[test]
fn every_part_has_its_set_up_and_its_surfaces() {
    // Beside the above an end with 0.5 mm off its length: 15 min over 3 once more, and
    // 4 · 2 · (0.5 + 0.25 · 0.5/0.025) = 44 min. A face alone, 0.1 mm off each: 15 min over 3, and
    // 4 · 1 · (0.5 + 0.25 · 0.1/0.025) = 6 min.
    let end = PartStock { part: GroundPart::End, off: Length::from_mm(0.5) };
    let face = PartStock { part: GroundPart::Face, off: Length::from_mm(0.1) };
    let mut both = work();
    both.parts.push(end);
    let alone = GrindWork { parts: vec![face], ..work() };
    for (work, setup, grinding) in [(both, 10.0, 58.0), (alone, 5.0, 6.0)] {
        let cost = cost_of_grind(&rates(), &work).unwrap();
        assert!((cost.setup.amount() - setup).abs() < 1e-9, "{cost:?}");
        assert!((cost.grinding.amount() - grinding).abs() < 1e-9, "{cost:?}");
        assert!((cost.handling.amount() - 4.5).abs() < 1e-9, "{cost:?}");
    }
}

#[test]
fn inch_and_metric_work_cost_the_same() {
    let wheel = WheelUse {
        usable: Length::from_inches(3.0 / 25.4),
        lost_per_cutter: Length::from_inches(0.015 / 25.4),
        dressed_per_cutter: Length::from_inches(0.01 / 25.4),
        ..work().wheel
    };
    let inch = GrindWork { parts: periphery(Length::from_inches(0.25 / 25.4)), wheel, ..work() };
    let (inch, metric) = (cost_of_grind(&rates(), &inch), cost_of_grind(&rates(), &work()));
    assert!((inch.unwrap().total().amount() - metric.unwrap().total().amount()).abs() < 1e-9);
}

#[test]
fn rates_and_work_out_of_reason_are_refused() {
    assert!(RatesDraft { labour_per_hour: money(-1.0), ..draft() }.build().is_err());
    assert!(RatesDraft { pass_depth: Length::ZERO, ..draft() }.build().is_err());
    assert!(cost_of_grind(&rates(), &GrindWork { teeth: 0, ..work() }).is_err());
    let parts = periphery(Length::from_mm(f64::NAN));
    assert!(cost_of_grind(&rates(), &GrindWork { parts, ..work() }).is_err());
    assert!(cost_of_grind(&rates(), &GrindWork { parts: Vec::new(), ..work() }).is_err());
}

fn lives(least: u32, expected: u32, greatest: u32) -> Lives {
    let smallest = Cited::new(Length::from_mm(10.0), "table");
    let (room, from) = (Length::from_mm(2.0), String::new());
    Lives { expected, least, greatest, room, smallest, from }
}

#[test]
fn a_regrind_is_weighed_by_the_edge() {
    let question = WorthQuestion { grind: money(24.0), new_price: money(40.0), edge_share: 0.8 };
    let found = worth(&question, &lives(2, 4, 8)).unwrap();
    assert!(found.is_worth);
    assert!((found.saved.amount() - 8.0).abs() < 1e-9);
    assert!((found.per_edge_reground.amount() - 30.0).abs() < 1e-9);
    // (40 + 4·24) / (1 + 4·0.8) = 136/4.2.
    assert!((found.per_edge_over_life.amount() - 136.0 / 4.2).abs() < 1e-9);
    assert!(found.per_edge_range.0 > found.per_edge_range.1);
    assert!(!worth(&question, &lives(0, 0, 1)).unwrap().is_worth);
    let small = WorthQuestion { new_price: money(12.0), ..question };
    let found = worth(&small, &lives(2, 4, 8)).unwrap();
    assert!(!found.is_worth && found.saved < Money::ZERO);
    assert!(worth(&WorthQuestion { edge_share: 0.0, ..question }, &lives(1, 1, 1)).is_err());
}

proptest! {
    #[test]
    fn a_regrind_saves_exactly_where_one_more_lowers_the_cost_of_an_edge(
        grind in 1.0_f64..80.0, price in 1.0_f64..80.0, share in 0.3_f64..1.2, count in 1_u32..15,
    ) {
        let question =
            WorthQuestion { grind: money(grind), new_price: money(price), edge_share: share };
        let over = |count| worth(&question, &lives(count, count, count)).unwrap();
        let (now, more) = (over(count), over(count + 1));
        prop_assume!(now.saved.amount().abs() > 1e-6);
        prop_assert_eq!(now.saved > Money::ZERO, more.per_edge_over_life < now.per_edge_over_life);
    }

    #[test]
    fn a_quote_adds_up_to_the_coin(
        counts in prop::collection::vec(1_u32..40, 1..6), margin in 0.0_f64..60.0,
    ) {
        let line = |(at, count): (usize, &u32)| LotLine {
            what: format!("line {at}"), count: *count, work: work(), new_price: Some(money(40.0)),
        };
        let lot: Vec<LotLine> = counts.iter().enumerate().map(line).collect();
        let quote = quote(&rates(), &lot, &terms(margin)).unwrap();
        let cents = |money: Money| {
            let cents = money.amount() * 100.0;
            assert!((cents - cents.round()).abs() < 1e-6, "{cents}");
            cents.round() as i64
        };
        let lines: i64 = quote.lines.iter().map(|line| cents(line.sum)).sum();
        let beside = cents(quote.per_lot) + cents(quote.to_least_charge);
        prop_assert_eq!(lines + beside, cents(quote.total));
        for line in &quote.lines {
            prop_assert_eq!(cents(line.each) * i64::from(line.count), cents(line.sum));
        }
        prop_assert!(quote.total >= money(75.0));
    }
}

fn terms(margin: f64) -> Terms {
    Terms {
        margin: Share::from_percent(margin),
        per_lot: money(6.0),
        least_charge: money(75.0),
        coin: money(0.01),
    }
}

#[test]
fn a_lot_shares_its_set_up_and_says_where_new_ones_are_cheaper() {
    let line = |count, price| LotLine {
        what: "1/2 in end mills".to_owned(),
        count,
        work: work(),
        new_price: Some(money(price)),
    };
    let dear = quote(&rates(), &[line(1, 20.0)], &terms(0.0)).unwrap();
    // Alone: 15 + 14 + 0.5 + 4.5 = 34, and 6 for the lot; the least charge is 75.
    assert_eq!(dear.lines[0].each, money(34.0));
    assert_eq!((dear.to_least_charge, dear.total), (money(35.0), money(75.0)));
    assert!(dear.remarks[0].contains("new ones cost 14.00 less"), "{:?}", dear.remarks);
    let many = quote(&rates(), &[line(10, 40.0)], &terms(0.0)).unwrap();
    assert_eq!(many.lines[0].each, money(20.5));
    assert!(many.remarks.is_empty());
    assert!((many.at_machine.minutes() - 155.0).abs() < 1e-9);
    assert!(quote(&rates(), &[], &terms(0.0)).is_err());
    assert!(quote(&rates(), &[line(0, 40.0)], &terms(0.0)).is_err());
}

fn economy() -> Economy {
    Economy {
        new_price: money(40.0),
        grind: money(14.0),
        grind_per_mm: money(10.0),
        change: money(6.0),
        room: Length::from_mm(1.9),
        beyond_wear: Length::from_mm(0.2),
        relief: Angle::from_degrees(10.0),
        rake: Angle::from_degrees(10.0),
        edge_share: 0.9,
    }
}

/// The wear land at which a part costs least where an edge cuts K·V^q parts: with s = a·V + b and
/// the cost (A·s + B)/((s + R·e)·K·V^q), A = P + c + g'·R, B = R·(g + c), its derivative is nought
/// where q·A·a²·V² + [(A·b + B)·a·(1 + q) − A·a·M·(1 − q)]·V + (A·b + B)·q·M = 0, M = b + R·e; the
/// smaller root is the least cost.
fn closed_form_mm(economy: &Economy, q: f64) -> f64 {
    let (t, g) = (economy.relief.tan(), economy.rake.tan());
    let a = 2.0 * t / (1.0 - t * g);
    let (b, room) = (economy.beyond_wear.mm(), economy.room.mm());
    let (change, grind) = (economy.change.amount(), economy.grind.amount());
    let upper = economy.new_price.amount() + change + economy.grind_per_mm.amount() * room;
    let fixed = upper * b + room * (grind + change);
    let m = b + room * economy.edge_share;
    let (two, one, zero) =
        (q * upper * a * a, fixed * a * (1.0 + q) - upper * a * m * (1.0 - q), fixed * q * m);
    (-one - (one * one - 4.0 * two * zero).sqrt()) / (2.0 * two)
}

#[test]
fn the_best_pull_is_that_of_the_closed_form() {
    for (q, new_price) in [(0.2, 120.0), (0.25, 400.0), (0.15, 90.0), (0.3, 2000.0)] {
        let economy = Economy { new_price: money(new_price), ..economy() };
        let exact = closed_form_mm(&economy, q);
        let widest = Length::from_mm(2.0 * exact);
        let pull = pull_by(&economy, |wear| 500.0 * wear.mm().powf(q), widest).unwrap();
        assert_eq!(pull.bound, PullBound::Inside);
        let found = pull.wear_land.mm();
        assert!((found - exact).abs() < 1e-6 * exact, "{found} is not {exact}");
    }
}

/// With so much room that a life of regrinds is all there is, and no change of cutters: the price
/// of stock p = P/R + g', and V* = q·(p·b + g)/((1 − q)·p·a).
#[test]
fn with_endless_room_only_the_price_of_stock_counts() {
    let room = 1e7;
    let (price_of_stock, grind, q) = (30.0, 3.0, 0.3);
    let economy = Economy {
        new_price: money(price_of_stock * room),
        grind: money(grind),
        grind_per_mm: Money::ZERO,
        change: Money::ZERO,
        room: Length::from_mm(room),
        edge_share: 1.0,
        ..economy()
    };
    let (t, g) = (economy.relief.tan(), economy.rake.tan());
    let a = 2.0 * t / (1.0 - t * g);
    let exact = q * (price_of_stock * 0.2 + grind) / ((1.0 - q) * price_of_stock * a);
    let pull = pull_by(&economy, |wear| wear.mm().powf(q), Length::from_mm(3.0 * exact)).unwrap();
    assert!((pull.wear_land.mm() - exact).abs() < 1e-5, "{} {exact}", pull.wear_land.mm());
}

/// Where wear grows evenly, waiting only spreads what does not hang on it over more parts.
#[test]
fn even_wear_leaves_the_pull_to_what_the_work_allows() {
    let widest = Length::from_inches(0.012);
    let pull = pull_by(&economy(), |wear| 400.0 * wear.mm(), widest).unwrap();
    assert_eq!(pull.bound, PullBound::WorkAllows);
    assert_eq!(pull.wear_land, widest);
    assert!(pull.flat.0 < widest && pull.flat.1 == widest);
}

#[test]
fn at_the_ends_of_the_flat_region_a_part_costs_just_so_much_more() {
    let parts = |wear: Length| 500.0 * wear.mm().powf(0.2);
    let economy = Economy { new_price: money(120.0), ..economy() };
    let pull = pull_by(&economy, parts, Length::from_mm(1.5)).unwrap();
    for end in [pull.flat.0, pull.flat.1] {
        let ratio = economy.cost_per_part(end, parts(end)) / pull.cost_per_part;
        assert!((ratio - 1.0 - pull.within).abs() < 1e-6, "{ratio}");
    }
    assert!(pull.flat.0 < pull.wear_land && pull.wear_land < pull.flat.1);
}

#[test]
fn what_cannot_be_pulled_is_refused() {
    let parts = |wear: Length| 400.0 * wear.mm();
    let widest = Length::from_mm(0.3);
    let beyond_wear = Length::ZERO;
    assert!(pull_by(&Economy { beyond_wear, ..economy() }, parts, widest).is_err());
    assert!(pull_by(&Economy { relief: Angle::ZERO, ..economy() }, parts, widest).is_err());
    assert!(pull_by(&economy(), |_| 0.0, widest).is_err());
    assert!(pull_by(&economy(), parts, Length::ZERO).is_err());
}

/// Readings on a curve of known stages: 0.02 mm at once, then 0.001 mm a part, twice that at
/// 0.25 mm; read with the given scatter.
fn readings(scatter_mm: f64, seed: u64) -> Vec<WearReading> {
    let mut random = Random::new(seed);
    let start = (0.02_f64 / 0.25).atan();
    (1..=9)
        .map(|at| {
            let parts = 30.0 * f64::from(at);
            let wear_mm = 0.25 * (start + 0.001 * parts / 0.25).tan();
            let read_mm = (wear_mm + scatter_mm * random.normal()).max(0.005);
            WearReading { parts, wear_land: Length::from_mm(read_mm) }
        })
        .collect()
}

#[test]
fn a_wear_curve_is_found_again_from_its_readings() {
    let truth = |wear_mm: f64| 250.0 * ((wear_mm / 0.25).atan() - (0.02_f64 / 0.25).atan());
    let curve = wear_curve(&readings(0.0, 1)).unwrap();
    for wear_mm in [0.1, 0.2, 0.3] {
        let ratio = curve.parts(Length::from_mm(wear_mm)) / truth(wear_mm);
        assert!((ratio - 1.0).abs() < 0.03, "{wear_mm}: {ratio}");
        let back = curve.wear_land(curve.parts(Length::from_mm(wear_mm))).unwrap();
        assert!((back.mm() - wear_mm).abs() < 1e-9);
    }
    let mut worst: f64 = 0.0;
    for seed in 0..200 {
        let curve = wear_curve(&readings(0.01, seed)).unwrap();
        worst = worst.max((curve.parts(Length::from_mm(0.2)) / truth(0.2) - 1.0).abs());
    }
    assert!(worst < 0.1, "{worst}");
}

#[test]
fn a_wild_wear_reading_is_set_aside() {
    let mut spoilt = readings(0.005, 3);
    spoilt[3].wear_land = Length::from_mm(0.6);
    let curve = wear_curve(&spoilt).unwrap();
    assert_eq!(curve.set_aside.iter().map(|wild| wild.reading).collect::<Vec<_>>(), [3]);
    assert_eq!(curve.readings, 8);
}

#[test]
fn one_wear_reading_is_enough_to_begin_with_and_none_is_not() {
    let one = WearReading { parts: 100.0, wear_land: Length::from_inches(0.006) };
    let curve = wear_curve(&[one]).unwrap();
    assert!((curve.parts(one.wear_land) / 100.0 - 1.0).abs() < 0.05);
    assert!(curve.wear_land(1e9).is_none());
    assert!(wear_curve(&[]).is_err());
    assert!(wear_curve(&[WearReading { parts: 0.0, ..one }]).is_err());
    let falls = [(100.0, 0.3), (400.0, 0.05)]
        .map(|(parts, mm)| WearReading { parts, wear_land: Length::from_mm(mm) });
    assert!(wear_curve(&falls).is_err());
}

#[test]
fn a_pull_beyond_what_was_read_is_told_as_a_guess() {
    let all = readings(0.0, 1);
    let known = wear_curve(&all).unwrap();
    let guessed = wear_curve(&all[..2]).unwrap();
    let widest = Length::from_mm(0.4);
    assert!(!pull_at(&economy(), &known, widest).unwrap().is_guess);
    assert!(pull_at(&economy(), &guessed, widest).unwrap().is_guess);
}

//! What a shop learns from its own entries, through the public edge.

mod common;

use common::{Random, half_inch};
use geometry::closed_form::worn_depth;
use geometry::{Angle, Length};
use shop::learn::{
    Beforehand, CutterGrind, CutterHistory, Entry, WheelGrind, WheelHistory, dial_to_stock,
    expected_stock, lives_left, shrunk, stock_beyond_wear, stock_per_grind, wheel_wear,
};
use shop::{Cited, Ctx};
use trade::{Abrasive, Tables};

fn ctx() -> Ctx<'static> {
    Ctx { tables: Tables::bundled().expect("the tables are sound") }
}

fn sizes(inches: &[f64]) -> CutterHistory {
    let grind = |(at, pair): (usize, &[f64])| CutterGrind {
        entry: format!("grind {}", at + 1),
        sharp_before: (at == 0).then(|| Length::from_inches(pair[0])),
        dull: None,
        after: Length::from_inches(pair[1]),
        wear_land: None,
        worn_on: None,
    };
    CutterHistory::new(inches.windows(2).enumerate().map(grind).collect())
        .expect("the history is sound")
}

fn near(found: Length, inches: f64, within: f64) {
    assert!((found.inches() - inches).abs() < within, "{} is not {inches}", found.inches());
}

#[test]
fn without_history_the_table_speaks_alone_and_says_so() {
    let learned = stock_per_grind(&ctx(), &half_inch(), &CutterHistory::default()).unwrap();
    near(learned.value, 0.010, 1e-12);
    assert_eq!(learned.words(), "no grind of its own yet: the table alone");
    assert_eq!(learned.table.source, "common-practice");
}

#[test]
fn a_cutters_own_grinds_pull_the_stock_to_themselves() {
    let history = sizes(&[0.5, 0.485, 0.4705, 0.4555]);
    let learned = stock_per_grind(&ctx(), &half_inch(), &history).unwrap();
    assert_eq!(learned.own, 3);
    assert!(learned.words().starts_with("3 grinds of its own, the table counts as 1."));
    assert!(learned.value.inches() > 0.0125 && learned.value.inches() < 0.0148);
    assert!(learned.least < learned.value && learned.value < learned.greatest);
}

#[test]
fn a_grind_with_a_chip_is_set_aside_and_named() {
    let history = sizes(&[0.5, 0.489, 0.478, 0.428, 0.418, 0.407, 0.397]);
    let learned = stock_per_grind(&ctx(), &half_inch(), &history).unwrap();
    assert_eq!(
        learned.wild.iter().map(|wild| wild.entry.as_str()).collect::<Vec<_>>(),
        ["grind 3"]
    );
    near(learned.wild[0].off, 0.039, 0.001);
    near(learned.value, 0.0105, 0.0004);
}

#[test]
fn the_dull_size_and_its_wear_land_stand_in_for_the_sharp_size() {
    let (land, relief) = (Length::from_inches(0.008), Angle::from_degrees(10.0));
    let worn = 2.0 * worn_depth(land, relief, half_inch().rake());
    let grind = CutterGrind {
        entry: "a".to_owned(),
        sharp_before: None,
        dull: Some(Length::from_inches(0.5) - worn),
        after: Length::from_inches(0.485),
        wear_land: Some(land),
        worn_on: None,
    };
    let bare = CutterGrind { entry: "b".to_owned(), wear_land: None, ..grind.clone() };
    let by_sizes = stock_per_grind(&ctx(), &half_inch(), &sizes(&[0.5, 0.485])).unwrap();
    let history = CutterHistory::new(vec![grind.clone()]).unwrap();
    let by_wear = stock_per_grind(&ctx(), &half_inch(), &history).unwrap();
    near(by_wear.value, by_sizes.value.inches(), 1e-5);
    let alone = CutterHistory::new(vec![CutterGrind { dull: None, ..bare }]).unwrap();
    let nothing = stock_per_grind(&ctx(), &half_inch(), &alone).unwrap();
    assert_eq!((nothing.own, nothing.left_out.len()), (0, 1));
    assert_eq!(nothing.left_out[0].entry, "b");
}

#[test]
fn what_comes_off_beyond_the_wear_adds_up_with_the_wear_to_the_stock() {
    let beyond = stock_beyond_wear(&ctx(), &half_inch(), &CutterHistory::default()).unwrap();
    // The tables' own pull limit for this size, 0.006 in, and their ordinary stock, 0.010 in.
    let (land, relief) = (Length::from_inches(0.006), Angle::from_degrees(10.0));
    near(expected_stock(land, relief, half_inch().rake(), &beyond), 0.010, 1e-9);
    let dull = CutterGrind {
        entry: "a".to_owned(),
        sharp_before: None,
        dull: Some(Length::from_inches(0.495)),
        after: Length::from_inches(0.491),
        wear_land: None,
        worn_on: None,
    };
    let own = CutterHistory::new(vec![dull]).unwrap();
    let learned = stock_beyond_wear(&ctx(), &half_inch(), &own).unwrap();
    assert!(learned.value < beyond.value && learned.value.inches() > 0.004);
}

#[test]
fn lives_follow_the_learned_stock_in_inches_and_in_millimetres() {
    let stock = stock_per_grind(&ctx(), &half_inch(), &sizes(&[0.5, 0.49, 0.48, 0.47])).unwrap();
    let least = Length::from_inches(0.002);
    let in_inches = Cited::new(Length::from_inches(0.425), "tips-051302");
    let lives = lives_left(Length::from_inches(0.470), &in_inches, &stock, least).unwrap();
    assert_eq!(lives.expected, 4);
    assert!(lives.least >= 1 && lives.least < 4 && lives.greatest > 4, "{lives:?}");
    assert!(lives.from.starts_with("3 grinds of its own"));
    let in_mm = Cited::new(Length::from_mm(10.795), "tips-051302");
    let again = lives_left(Length::from_mm(11.938), &in_mm, &stock, least).unwrap();
    assert_eq!((again.least, again.expected), (lives.least, lives.expected));
}

fn fed(fed_mm: f64, came_off_mm: f64) -> WheelGrind {
    WheelGrind {
        entry: format!("{fed_mm}"),
        fed: Some(Length::from_mm(fed_mm)),
        came_off: Some(Length::from_mm(came_off_mm)),
        face_lost: None,
        cutters: 1,
    }
}

#[test]
fn a_long_feed_tells_more_of_the_dial_than_a_short_one() {
    let learned = |grinds| dial_to_stock(&ctx(), &WheelHistory::new(grinds).unwrap()).unwrap();
    let (long, short) = (learned(vec![fed(0.2, 0.16)]), learned(vec![fed(0.01, 0.008)]));
    assert!((long.value - 0.9).abs() < 0.002, "{}", long.value);
    assert!(short.value > 0.95, "{}", short.value);
    assert!(short.table_counts_as > 5.0 * long.table_counts_as);
    let too_short = learned(vec![fed(0.002, 0.0)]);
    assert_eq!((too_short.value, too_short.left_out.len()), (1.0, 1));
}

#[test]
fn a_loss_read_over_several_cutters_counts_for_each() {
    let lost = |mm: f64, cutters| WheelGrind {
        entry: "w".to_owned(),
        fed: None,
        came_off: None,
        face_lost: Some(Length::from_mm(mm)),
        cutters,
    };
    let history = WheelHistory::new(vec![lost(0.2, 8)]).unwrap();
    let learned = wheel_wear(&ctx(), Abrasive::AluminiumOxide, &history).unwrap();
    assert_eq!(learned.own, 8);
    assert!((learned.value.mm() - 0.025).abs() < 0.002, "{}", learned.value.mm());
    assert!(learned.words().starts_with("8 cutters of its own, the table counts as"));
    assert!(WheelHistory::new(vec![lost(0.2, 0)]).is_err());
    assert!(WheelHistory::new(vec![fed(-0.1, 0.1)]).is_err());
}

/// How often the band of 90 % holds the truth, over histories drawn as the model says.
fn coverage(entries: u32, within_is: f64, wild: bool) -> f64 {
    let before = Beforehand { mean: 10.0, between: 3.0, within: 4.2, worth: 4.0 };
    let (rounds, mut held) = (4000, 0);
    let mut random = Random::new(u64::from(entries) + 7);
    for _ in 0..rounds {
        let truth = before.mean + before.between * random.normal();
        let mut history: Vec<Entry> = (0..entries)
            .map(|_| truth + within_is * random.normal())
            .map(|value| Entry { value, count: 1, reading: 0.0 })
            .collect();
        if wild && let Some(first) = history.first_mut() {
            first.value += 60.0;
        }
        let band = shrunk(&history, &before).and_then(|found| found.band(0.9)).expect("a band");
        held += u32::from(band.holds(truth));
    }
    f64::from(held) / f64::from(rounds)
}

/// Grade D: histories simulated from the stated model.
#[test]
fn the_band_holds_the_truth_as_often_as_it_says() {
    for entries in [0, 1, 2, 3, 5, 10, 20] {
        let held = coverage(entries, 4.2, false);
        assert!((0.88..=0.98).contains(&held), "{entries} entries: {held}");
    }
    for entries in [5, 10, 20] {
        let held = coverage(entries, 4.2, true);
        assert!((0.88..=0.98).contains(&held), "{entries} entries, one wild: {held}");
    }
    for entries in [3, 5, 10] {
        let held = coverage(entries, 1.5, false);
        assert!(held >= 0.95, "{entries} steady entries: {held}");
    }
}

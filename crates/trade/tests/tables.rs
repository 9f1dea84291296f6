//! The bundled tables are whole: every row has a source, every key one chosen row, every word of
//! a closed list its row, and every diameter that comes to the bench an answer.

#![expect(clippy::unwrap_used, reason = "a test that cannot read its tables must stop")]

use geometry::Length;
use std::collections::BTreeSet;
use trade::*;

fn tables() -> &'static Tables {
    Tables::bundled().unwrap()
}

fn all_rows() -> Vec<ListedRow> {
    tables().topics().iter().flat_map(|topic| tables().listing(*topic)).collect()
}

#[test]
fn every_topic_has_rows() {
    for topic in tables().topics() {
        assert!(!tables().listing(*topic).is_empty(), "{topic} is empty");
    }
}

#[test]
fn every_source_of_a_row_is_in_the_bibliography_as_one_for_tables() {
    for row in all_rows() {
        let source = tables().source(&row.source_id).expect(&row.source_id);
        let for_tables = [SourceUse::Table, SourceUse::Both];
        assert!(for_tables.contains(&source.used_for), "{} used by {}", source.id, row.key);
        assert_eq!(row.source_title, source.title);
    }
}

#[test]
fn every_source_for_tables_is_used_by_a_row() {
    let used: BTreeSet<String> = all_rows().into_iter().map(|row| row.source_id).collect();
    for source in tables().bibliography().sources() {
        let for_tables = matches!(source.used_for, SourceUse::Table | SourceUse::Both);
        assert!(!for_tables || used.contains(&source.id), "{} is used by no row", source.id);
    }
}

#[test]
fn ids_stand_once_and_are_words_joined_by_hyphens() {
    let ids: Vec<&str> = tables().bibliography().ids().collect();
    assert_eq!(ids.iter().collect::<BTreeSet<_>>().len(), ids.len());
    let fits =
        |letter: char| letter.is_ascii_lowercase() || letter.is_ascii_digit() || letter == '-';
    assert!(ids.iter().all(|id| id.chars().all(fits)), "{ids:?}");
}

#[test]
fn exactly_one_row_of_each_key_is_chosen() {
    for topic in tables().topics() {
        let rows = tables().listing(*topic);
        for row in &rows {
            let chosen = rows.iter().filter(|other| other.key == row.key && other.chosen).count();
            assert_eq!(chosen, 1, "{topic} {}", row.key);
        }
    }
}

#[test]
fn what_the_trade_does_without_a_source_says_so() {
    for row in all_rows().iter().filter(|row| row.source_id == "common-practice") {
        let honest = matches!(row.read, HowRead::CommonPractice | HowRead::Memory);
        assert!(honest, "{} {} claims to have been read", row.topic, row.key);
    }
}

#[test]
fn ranges_of_one_kind_touch_at_most_at_their_ends() {
    let shrink = tables().table::<ShrinkRow>().rows().iter().map(|row| row.value.diameters);
    assert_apart(shrink.collect());
    for kind in WearKind::ALL {
        let rows = tables().table::<WearRow>().rows().iter();
        let of_kind = rows.filter(|row| row.value.kind == *kind);
        assert_apart(of_kind.map(|row| row.value.diameters).collect());
    }
    for kind in ToleranceKind::ALL {
        let rows = tables().table::<ToleranceRow>().rows().iter();
        let of_kind = rows.filter(|row| row.value.kind == *kind);
        assert_apart(of_kind.map(|row| row.value.diameters).collect());
    }
    for work in WorkGroup::ALL {
        let rows = tables().table::<ReliefRow>().rows().iter();
        let of_work = rows.filter(|row| row.value.work == *work && row.chosen);
        assert_apart(of_work.map(|row| row.value.diameters).collect());
    }
}

fn assert_apart(spans: Vec<Span<Length>>) {
    assert!(!spans.is_empty());
    for pair in spans.windows(2) {
        let (end, start) = (pair[0].greatest, pair[1].least);
        let in_order = end.zip(start).is_some_and(|(end, start)| end <= start);
        let falling = pair[1].greatest.zip(pair[0].least).is_some_and(|(end, start)| end <= start);
        assert!(in_order || falling, "{pair:?} overlap");
    }
}

#[test]
fn greatest_land_stands_the_same_in_both_tables() {
    for relief in tables().table::<ReliefRow>().rows() {
        let Some(greatest) = relief.value.greatest_land else { continue };
        let listed = relief.value.diameters.least.unwrap();
        let land = tables().land(listed, WorkGroup::Any).unwrap();
        assert_eq!(land.chosen.value.land.greatest, Some(greatest), "{}", relief.key);
    }
}

#[test]
fn every_word_of_a_closed_list_has_its_row() {
    let tables = tables();
    assert!(ToolMaterial::ALL.iter().all(|material| tables.abrasive_for(*material).is_some()));
    assert!(Abrasive::ALL.iter().all(|abrasive| tables.wheel_wear(*abrasive).is_some()));
    for wet in [true, false] {
        let speed = |abrasive: &Abrasive| tables.surface_speed(*abrasive, wet).unwrap();
        assert!(Abrasive::ALL.iter().all(|abrasive| speed(abrasive).chosen.value.speed.is_some()));
    }
    assert!(PracticeItem::ALL.iter().all(|item| tables.practice(*item).is_some()));
    assert!(Pass::ALL.iter().all(|pass| tables.pass(*pass).is_some()));
    assert!(StockItem::ALL.iter().all(|item| tables.stock(*item).is_some()));
    assert!(EndTeeth::ALL.iter().all(|teeth| tables.dish(*teeth).is_some()));
    assert!(EndTeeth::ALL.iter().all(|teeth| tables.gash(*teeth).is_some()));
    assert!(EndItem::ALL.iter().all(|item| tables.end_practice(*item).is_some()));
    for work in WorkGroup::ALL {
        assert!(tables.secondary(*work).is_some());
        assert!(EndTeeth::ALL.iter().all(|teeth| tables.end_relief(*teeth, *work).is_some()));
        assert!(EndTeeth::ALL.iter().all(|teeth| tables.end_secondary(*teeth, *work).is_some()));
        assert!(CornerForm::ALL.iter().all(|form| tables.corner(*form, *work).is_some()));
    }
    for step in DressingStep::ALL {
        assert!(tables.dressing(WheelFamily::Conventional, *step).is_some());
    }
    assert!(tables.dressing(WheelFamily::Superabrasive, DressingStep::True).is_some());
    assert!(tables.dressing(WheelFamily::Superabrasive, DressingStep::Finish).is_none());
}

#[test]
fn every_diameter_from_1_to_200_mm_has_its_answer() {
    for tenths in 10..=2000 {
        let diameter = Length::from_mm(f64::from(tenths) / 10.0);
        for (work, material) in WorkGroup::ALL.iter().zip(ToolMaterial::ALL.iter().cycle()) {
            let relief = tables().relief(diameter, *material, *work).unwrap();
            let recommended = relief.chosen.value.recommended().degrees();
            assert!((2.0..=20.0).contains(&recommended), "{diameter:?} {work}: {recommended}");
            assert!(tables().land(diameter, *work).is_some());
        }
        for kind in ToleranceKind::ALL {
            assert!(tables().tolerance(*kind, diameter).is_some(), "{diameter:?} {kind}");
        }
        assert!(tables().wear_limit(WearKind::Uniform, diameter).is_some());
        // A regrind pays from 1/4 in up, with the reach of a printed range below it.
        let pays = diameter.inches() >= 0.25 / 1.1;
        assert_eq!(tables().smallest_diameter(diameter).is_some(), pays, "{diameter:?}");
        // The maker's page stops at 1-1/4 in, with the reach of a printed range above it.
        let known = diameter.inches() <= 1.25 * 1.1;
        let limit = tables().wear_limit(WearKind::Finishing, diameter);
        assert_eq!(limit.is_some(), known, "{diameter:?}");
    }
}

#[test]
fn relief_falls_or_stays_as_the_diameter_grows() {
    let recommended = |tenths: u32| {
        let diameter = Length::from_mm(f64::from(tenths) / 10.0);
        let material = ToolMaterial::HighSpeedSteel;
        let relief = tables().relief(diameter, material, WorkGroup::Any).unwrap();
        relief.chosen.value.recommended().degrees()
    };
    assert!((10..2000).all(|tenths| recommended(tenths + 1) <= recommended(tenths)));
}

#[test]
fn a_diameter_between_listed_ones_says_which_row_stands_in() {
    let material = ToolMaterial::Carbide;
    let exact = tables().relief(Length::from_mm(12.7), material, WorkGroup::Any).unwrap();
    assert_eq!(exact.remark(), None);
    let between = tables().relief(Length::from_mm(11.2), material, WorkGroup::Any).unwrap();
    // By ratio 1/2 in is nearer (1.13) than 3/8 in (1.18).
    assert_eq!(between.chosen.key, "any material, any work, 1/2 in");
    let nearest = between.fit.nearest.unwrap();
    assert!((nearest.ratio - 12.7 / 11.2).abs() < 1e-12);
    assert!(between.remark().unwrap().contains("11.200 mm"));
    let far = tables().relief(Length::from_mm(0.5), material, WorkGroup::Any);
    assert!(far.is_none());
}

#[test]
fn a_row_for_the_work_goes_before_the_general_one_and_that_stays_visible() {
    let material = ToolMaterial::HighSpeedSteel;
    let four_inch = Length::from_inches(4.0);
    let soft = tables().relief(four_inch, material, WorkGroup::Soft).unwrap();
    assert_eq!(soft.chosen.source, "tc-9-524");
    assert!(!soft.fit.general);
    let others: BTreeSet<_> = soft.others.iter().map(|row| row.source.as_str()).collect();
    assert_eq!(others, BTreeSet::from(["machinerys-handbook", "milling-treatise-1910s"]));
    let quarter = tables().relief(Length::from_inches(0.25), material, WorkGroup::Soft).unwrap();
    assert_eq!(quarter.chosen.source, "machinerys-handbook");
    assert!(quarter.fit.general);
    assert!(quarter.remark().unwrap().contains("general row"));
}

#[test]
fn an_infeed_between_two_grits_takes_the_finer() {
    let greatest = |mesh: u32| tables().infeed(mesh).unwrap().chosen.value.greatest.um().round();
    let asked = [60, 140, 150, 170, 220, 230, 325, 400, 1200];
    let expected = [25.0, 25.0, 20.0, 20.0, 15.0, 10.0, 10.0, 5.0, 5.0];
    assert_eq!(asked.map(greatest), expected);
}

#[test]
fn symbols_and_designations_are_read_as_people_write_them() {
    for symbol in ["11v9", " 11V9 "] {
        assert_eq!(tables().shape(symbol).unwrap().chosen.value.grinds_on, GrindsOn::RimCorner);
    }
    for symbol in ["11", "type 11"] {
        assert_eq!(tables().shape(symbol).unwrap().chosen.value.name, "flaring cup");
    }
    assert!(tables().shape("1A2B3").is_none());
    for grit in ["D126", "B126", "126", "b 126"] {
        assert_eq!(tables().grit(grit).unwrap().chosen.value.designation, 126);
    }
    assert!(tables().grit("D127").is_none());
}

#[test]
fn a_listing_shows_what_the_source_wrote() {
    let grits = tables().listing(Topic::Grits);
    let row = grits.iter().find(|row| row.key == "126").unwrap();
    assert_eq!(row.value, "upper sieve 125 um; lower sieve 106 um; mesh 120/140");
    assert_eq!(row.source_id, "iso-6106");
    let shrink = tables().listing(Topic::Shrink);
    assert_eq!(shrink[0].value, "15 %");
    let cautions = tables().listing(Topic::Cautions);
    assert!(cautions[0].value.starts_with("step arrive; applies always; text "));
}

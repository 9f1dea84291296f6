//! A shop's own table: what it may override, what stays visible, and what it is told when wrong.

#![expect(clippy::unwrap_used, reason = "a test that cannot read its tables must stop")]

use geometry::Length;
use trade::*;

fn with_shop(text: &str) -> Result<Tables, TableError> {
    Tables::bundled().unwrap().with_shop(text)
}

fn complaint(text: &str) -> String {
    with_shop(text).unwrap_err().to_string()
}

#[test]
fn a_shops_row_is_chosen_and_the_former_stays_beside_it() {
    let text = "[[shrink]]\nkey = \"0.250 TO 0.500 in\"\nshrink = \"10 %\"\nnote = \"our own\"\n";
    let tables = with_shop(text).unwrap();
    let smallest = tables.smallest_diameter(Length::from_inches(0.5)).unwrap();
    assert!((smallest.diameter.inches() - 0.45).abs() < 1e-12);
    assert_eq!(smallest.lookup.chosen.source, SHOP);
    assert_eq!(smallest.lookup.chosen.note.as_deref(), Some("our own"));
    let former: Vec<_> = smallest.lookup.others.iter().map(|row| row.source.as_str()).collect();
    assert_eq!(former, ["tips-051302"]);
    let listed = tables.listing(Topic::Shrink);
    assert_eq!(listed.len(), 5);
    assert_eq!(listed.iter().filter(|row| row.source_id == SHOP && row.chosen).count(), 1);
    // The tables that it was laid over are as they were.
    let bundled = Tables::bundled().unwrap().smallest_diameter(Length::from_inches(0.5)).unwrap();
    assert!((bundled.diameter.inches() - 0.425).abs() < 1e-12);
}

#[test]
fn a_shop_may_override_one_of_several_conflicting_rows_and_its_own_earlier_table() {
    let text = "[[dish]]\nkey = \"end mill\"\ndish = \"0.0015 in\"\n";
    let once = with_shop(text).unwrap();
    let dish = once.dish(EndTeeth::EndMill).unwrap();
    assert_eq!(dish.others.len(), 3);
    let twice = once.with_shop("[[dish]]\nkey = \"end mill\"\ndish = \"2 deg\"\n").unwrap();
    let dish = twice.dish(EndTeeth::EndMill).unwrap();
    assert!((dish.chosen.value.dish.angle().unwrap().middle().degrees() - 2.0).abs() < 1e-12);
    assert_eq!(dish.others.len(), 4);
}

#[test]
fn a_shop_may_say_a_caution_otherwise_but_not_when_it_applies() {
    let text = "[[cautions]]\nkey = \"eyes\"\ntext = \"Goggles on.\"\n";
    let tables = with_shop(text).unwrap();
    let grind = tables.cautions(Step::Grind, &[]);
    let eyes = grind.iter().find(|lookup| lookup.chosen.key == "eyes").unwrap();
    assert_eq!(eyes.chosen.value.text, "Goggles on.");
    assert_eq!(eyes.others.len(), 1);
    let moved = "[[cautions]]\nkey = \"eyes\"\nstep = \"arrive\"\ntext = \"Goggles on.\"\n";
    let told = complaint(moved);
    assert_eq!(told, "line 3, cautions \"eyes\", step: the key settles it already; leave it out");
}

#[test]
fn an_unknown_name_is_told_with_its_line_its_key_and_the_nearest() {
    let topic = complaint("\n[[releif]]\nkey = \"x\"\n");
    assert_eq!(topic, "line 2: topic \"releif\" is not known; the nearest known is \"relief\"");
    let key = complaint("[[shrink]]\n\nkey = \"0.250 to 0.50 in\"\nshrink = \"10 %\"\n");
    let nearest = "the nearest known is \"0.250 to 0.500 in\"";
    assert_eq!(
        key,
        format!("line 3, shrink, key: key \"0.250 to 0.50 in\" is not known; {nearest}")
    );
    let field = complaint("[[shrink]]\nkey = \"0.250 to 0.500 in\"\nshrnik = \"10 %\"\n");
    let place = "line 3, shrink \"0.250 to 0.500 in\", shrnik";
    let told = "field \"shrnik\" is not known; the nearest known is \"shrink\"";
    assert_eq!(field, format!("{place}: {told}"));
    let unit = complaint("[[passes]]\nkey = \"finish\"\ndepth = \"0.5 to 1 min\"\n");
    let place = "line 3, passes \"finish\", depth";
    assert!(
        unit.starts_with(&format!("{place}: unit \"min\" is not known; the nearest")),
        "{unit}"
    );
    let word = complaint("[[abrasives]]\nkey = \"HSS\"\nabrasive = \"CBM\"\nwhy = \"so\"\n");
    assert!(word.contains("abrasive \"CBM\" is not known; the nearest known is \"CBN\""), "{word}");
}

#[test]
fn a_value_that_cannot_be_read_is_told_with_its_line_and_reason() {
    let bare = complaint("[[passes]]\nkey = \"finish\"\ndepth = \"0.001\"\n");
    assert!(
        bare.starts_with("line 3, passes \"finish\", depth: \"0.001\" cannot be read"),
        "{bare}"
    );
    let turned = complaint("[[passes]]\nkey = \"finish\"\ndepth = \"2 to 1 um\"\n");
    assert!(turned.ends_with("its first end is above its second"), "{turned}");
    let below = complaint("[[passes]]\nkey = \"finish\"\ndepth = \"-1 um\"\n");
    assert!(below.ends_with("a table holds no number below zero"), "{below}");
    let missing = complaint("[[passes]]\nkey = \"finish\"\n");
    assert_eq!(missing, "line 1, passes \"finish\", depth: it is missing");
    let list = complaint("[[passes]]\nkey = \"finish\"\ndepth = [\"1 um\", \"2 um\"]\n");
    assert!(list.ends_with("one value belongs here"), "{list}");
    let no_key = complaint("[[passes]]\ndepth = \"1 um\"\n");
    assert_eq!(no_key, "line 1, passes, key: it is missing");
}

#[test]
fn a_table_of_another_form_is_told_with_its_line() {
    assert!(complaint("[[passes]\n").starts_with("line 1: "));
    let told = complaint("\npasses = 3\n");
    assert_eq!(told, "line 2: \"passes\" must be rows, each headed [[passes]]");
    let twice = "[[dish]]\nkey = \"end mill\"\ndish = \"1 deg\"\n";
    let told = complaint(&format!("{twice}\n{twice}"));
    assert_eq!(told, "line 6, dish, key: the key stands twice in this table");
}

#[test]
fn every_row_that_is_chosen_can_be_overridden_by_what_it_says_itself() {
    // Each listed value is written back as a shop's row, so the shown form is also a written one.
    let bundled = Tables::bundled().unwrap();
    for row in bundled.table::<SpeedRow>().rows().iter().filter(|row| row.chosen) {
        let speed = row.value.speed.unwrap();
        let text = format!(
            "[[speeds]]\nkey = \"{}\"\nspeed = \"{} to {} m/min\"\n",
            row.key,
            speed.least.m_per_min(),
            speed.greatest.m_per_min()
        );
        let tables = bundled.with_shop(&text).unwrap();
        let wet = row.value.coolant == Coolant::Wet;
        let lookup = tables.surface_speed(row.value.abrasive, wet).unwrap();
        assert_eq!(lookup.chosen.value.speed, row.value.speed);
        assert_eq!(lookup.chosen.source, SHOP);
    }
}

//! What was typed into a form, written as the file that it stands for.

use std::collections::{BTreeMap, BTreeSet};

use geometry::System;
use toml::{Table, Value};

use super::field::{Field, Kind, NO, YES};

/// The text of a file with every field that is filled in, under its key; and under which key each
/// field stands there or would stand, by name. Entries of a list in which nothing is filled in are
/// left out, so that the numbers of those behind them change. Fields whose names begin with an
/// underscore belong to the page and not to the file.
pub(super) fn written<'a>(
    fields: impl Iterator<Item = &'a Field>,
    system: System,
) -> (String, BTreeMap<String, String>) {
    let fields: Vec<&Field> = fields.filter(|field| !field.name.starts_with('_')).collect();
    let used = used(&fields);
    let mut whole = Table::new();
    let mut keys = BTreeMap::new();
    for field in fields {
        let Some(steps) = packed(&field.name, &used) else { continue };
        keys.insert(field.name.clone(), key(&steps));
        if let Some(value) = value(field, &steps, system) {
            put(&mut whole, &steps, value);
        }
    }
    (toml::to_string(&whole).unwrap_or_default(), keys)
}

/// The value of a field; none where it is left open.
fn value(field: &Field, steps: &[Step], system: System) -> Option<Value> {
    let typed = field.value.trim();
    let is_in_row = matches!(steps.last(), Some(Step::Place(_)));
    match field.kind {
        Kind::Flag => Some(Value::Boolean(!typed.is_empty())),
        _ if typed.is_empty() => is_in_row.then(|| text("-")),
        Kind::Count | Kind::Hidden => {
            Some(typed.parse().map_or_else(|_| text(typed), Value::Integer))
        }
        Kind::Counts => {
            Some(Value::Array(typed.split([' ', ',', ';']).filter_map(count).collect()))
        }
        Kind::Angles => Some(Value::Array(field.angles().iter().map(|it| text(it)).collect())),
        Kind::Choice(_) if typed == YES || typed == NO => Some(Value::Boolean(typed == YES)),
        Kind::Several(_) => Some(Value::Array(typed.lines().map(text).collect())),
        _ => Some(text(&field.with_unit(system))),
    }
}

fn count(typed: &str) -> Option<Value> {
    let typed = Some(typed.trim()).filter(|typed| !typed.is_empty())?;
    Some(typed.parse().map_or_else(|_| text(typed), Value::Integer))
}

fn text(text: &str) -> Value {
    Value::String(text.to_owned())
}

/// One step of a key: a name, or a place in a list.
#[derive(Clone, Debug, PartialEq, Eq)]
enum Step {
    Name(String),
    Place(usize),
}

/// `wear.tooth[2].wear_land` step by step.
fn steps(key: &str) -> Vec<Step> {
    let mut steps = Vec::new();
    for part in key.split('.') {
        let mut pieces = part.split('[');
        steps.extend(pieces.next().map(|name| Step::Name(name.to_owned())));
        let places = pieces.filter_map(|place| place.trim_end_matches(']').parse().ok());
        steps.extend(places.map(Step::Place));
    }
    steps
}

/// A key from its steps.
fn key(steps: &[Step]) -> String {
    steps.iter().fold(String::new(), |key, step| match step {
        Step::Name(name) if key.is_empty() => name.clone(),
        Step::Name(name) => format!("{key}.{name}"),
        Step::Place(place) => format!("{key}[{place}]"),
    })
}

/// The entries of lists of sections in which something was typed, or has to be. A choice is always
/// made, so it says nothing.
fn used(fields: &[&Field]) -> BTreeSet<String> {
    let typed = |field: &&&Field| {
        let says = !field.is_given && !matches!(field.kind, Kind::Hidden | Kind::Choice(_));
        field.is_needed || (says && !field.value.trim().is_empty())
    };
    fields.iter().filter(typed).flat_map(|field| entries_of(&steps(&field.name))).collect()
}

/// The entries of lists of sections that a key lies in.
fn entries_of(steps: &[Step]) -> Vec<String> {
    let is_entry = |at: &usize| matches!(steps[*at], Step::Place(_)) && at + 1 < steps.len();
    (0..steps.len()).filter(is_entry).map(|at| key(&steps[..=at])).collect()
}

/// The steps of a key where unused entries are left out; none where the key lies in one of them.
fn packed(name: &str, used: &BTreeSet<String>) -> Option<Vec<Step>> {
    let steps = steps(name);
    if !entries_of(&steps).iter().all(|entry| used.contains(entry)) {
        return None;
    }
    let place = |at: usize, place: usize| {
        let list = key(&steps[..at]);
        (0..place).filter(|before| used.contains(&format!("{list}[{before}]"))).count()
    };
    let pack = |(at, step): (usize, &Step)| match step {
        Step::Place(old) if at + 1 < steps.len() => Step::Place(place(at, *old)),
        step => step.clone(),
    };
    Some(steps.iter().enumerate().map(pack).collect())
}

fn put(table: &mut Table, steps: &[Step], value: Value) {
    match steps {
        [Step::Name(name)] => {
            table.insert(name.clone(), value);
        }
        [Step::Name(name), Step::Place(place), rest @ ..] => {
            let slot = list(table, name, *place).and_then(|list| list.get_mut(*place));
            match (slot, rest) {
                (Some(slot), []) => *slot = value,
                (Some(Value::Table(below)), rest) => put(below, rest, value),
                _ => {}
            }
        }
        [Step::Name(name), rest @ ..] => {
            let below = table.entry(name.clone()).or_insert_with(|| Value::Table(Table::new()));
            if let Value::Table(below) = below {
                put(below, rest, value);
            }
        }
        _ => {}
    }
}

/// The list of that name, long enough for a place.
fn list<'t>(table: &'t mut Table, name: &str, place: usize) -> Option<&'t mut Vec<Value>> {
    let list = table.entry(name.to_owned()).or_insert_with(|| Value::Array(Vec::new()));
    let list = list.as_array_mut()?;
    while list.len() <= place {
        list.push(Value::Table(Table::new()));
    }
    Some(list)
}

/// What the text of a file has under the keys of fields, by name.
pub(super) fn read<'a>(
    text: &str,
    fields: impl Iterator<Item = &'a Field>,
) -> Vec<(String, String)> {
    let whole: Table = text.parse().unwrap_or_default();
    let found = |field: &Field| {
        Some((field.name.clone(), typed_in(field, at(&whole, &steps(&field.name))?)))
    };
    fields.filter(|field| !field.is_hidden()).filter_map(found).collect()
}

fn at<'t>(table: &'t Table, steps: &[Step]) -> Option<&'t Value> {
    let (first, rest) = steps.split_first()?;
    let Step::Name(name) = first else { return None };
    let first = table.get(name)?;
    rest.iter().try_fold(first, |value, step| match step {
        Step::Name(name) => value.get(name),
        Step::Place(place) => value.get(place),
    })
}

/// A value as a hand would type it into a field.
fn typed_in(field: &Field, value: &Value) -> String {
    match (&field.kind, value) {
        (Kind::Choice(_), Value::Boolean(yes)) => if *yes { YES } else { NO }.to_owned(),
        (Kind::Angles | Kind::Counts, Value::Array(_)) => typed(value).replace('\n', ", "),
        _ => typed(value),
    }
}

/// A value as a hand would type it.
fn typed(value: &Value) -> String {
    match value {
        Value::String(text) => text.clone(),
        Value::Boolean(yes) => if *yes { "yes" } else { "" }.to_owned(),
        Value::Array(values) => values.iter().map(typed).collect::<Vec<_>>().join("\n"),
        other => other.to_string(),
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn told(fields: &[Field]) -> (String, BTreeMap<String, String>) {
        written(fields.iter(), System::Inch)
    }

    #[test]
    fn keys_become_sections_and_empty_entries_are_left_out() {
        let (text, keys) = told(&[
            Field::text("cutter.number", "").value("K \"1\""),
            Field::count("cutter.teeth", "").value("4"),
            Field::length("cutter.diameter", "").value("1/2"),
            Field::length("cutter.core", ""),
            Field::hidden("wear.tooth[0].tooth", "1"),
            Field::length("wear.tooth[0].wear_land", ""),
            Field::hidden("wear.tooth[1].tooth", "2"),
            Field::length("wear.tooth[1].wear_land", "").value("0.2 mm"),
        ]);
        let read: Table = text.parse().unwrap();
        let cutter = read["cutter"].as_table().unwrap();
        assert_eq!(cutter["number"].as_str(), Some("K \"1\""));
        assert_eq!(cutter["teeth"].as_integer(), Some(4));
        assert_eq!(cutter["diameter"].as_str(), Some("1/2 in"));
        assert!(!cutter.contains_key("core"));
        let teeth = read["wear"]["tooth"].as_array().unwrap();
        assert_eq!(teeth.len(), 1);
        assert_eq!(teeth[0]["tooth"].as_integer(), Some(2));
        assert_eq!(keys["wear.tooth[1].wear_land"], "wear.tooth[0].wear_land");
    }

    #[test]
    fn an_open_field_is_known_by_the_key_that_it_would_have() {
        let (text, keys) = told(&[
            Field::text("axis[0].name", ""),
            Field::hidden("axis[0].role", "head tilt"),
            Field::text("axis[1].name", "").needed(),
            Field::hidden("axis[1].role", "cross feed"),
        ]);
        assert_eq!(text, "[[axis]]\nrole = \"cross feed\"\n");
        assert_eq!(keys["axis[1].name"], "axis[0].name");
        assert!(!keys.contains_key("axis[0].name"));
    }

    #[test]
    fn a_row_keeps_its_places_and_marks_open_ones() {
        let (text, _) = told(&[
            Field::hidden("lands[0].stage", "after primary"),
            Field::length("lands[0].at[0].teeth[0]", ""),
            Field::length("lands[0].at[0].teeth[1]", "").value(".021"),
            Field::hidden("lands[1].stage", "after secondary"),
            Field::length("lands[1].at[0].teeth[0]", ""),
            Field::hidden("_step", "3"),
        ]);
        let read: Table = text.parse().unwrap();
        assert_eq!(read.len(), 1);
        let lands = read["lands"].as_array().unwrap();
        assert_eq!(lands.len(), 1);
        let teeth = lands[0]["at"][0]["teeth"].as_array().unwrap();
        let teeth: Vec<_> = teeth.iter().filter_map(Value::as_str).collect();
        assert_eq!(teeth, ["-", ".021 in"]);
    }
}

//! A plan's JSON answer, read back to make the plan again.

use std::path::Path;

use serde_json::Value;
use shop::plan::RegrindPlan;
use shop::{Ctx, shortened};

use super::failure::Failure;
use super::inputs::tables;
use super::remade::remade;
use crate::files::load;
use crate::wire::{self, AfterCheck, Inputs, SCHEMA_VERSION};

/// What the answer of a plan says it was made from, and what it says itself.
pub(crate) struct MadeFrom {
    file: String,
    pub(crate) inputs: Inputs,
    answer: Value,
}

/// How to get an answer that can be read back.
const AGAIN: &str = "plan it again, with: toothrest plan … --json > plan.json";

/// Reads the answer of `toothrest plan --json`.
pub(crate) fn made_from(file: &str, text: &str) -> Result<MadeFrom, Failure> {
    let refused = |reason: String| Failure::File {
        file: file.to_owned(),
        reason: format!("{reason}; {AGAIN}"),
    };
    let text = text.trim_start_matches('\u{feff}');
    let answer: Value =
        serde_json::from_str(text).map_err(|error| refused(not_json(text, &error)))?;
    check_schema(&answer).map_err(refused)?;
    let Some(inputs) = answer.get("inputs").filter(|inputs| inputs.is_object()) else {
        return Err(refused(without_inputs(&answer)));
    };
    let inputs: Inputs = serde_json::from_value(inputs.clone()).map_err(|error| {
        refused(format!("what it was made from (\"inputs\") cannot be read: {}", in_short(&error)))
    })?;
    Ok(MadeFrom { file: file.to_owned(), inputs, answer })
}

/// What the library says, which repeats what stands there, however long it is.
fn in_short(error: &serde_json::Error) -> String {
    shortened(&error.to_string(), 200)
}

/// How to get a check's answer that can be read back.
const CHECK_AGAIN: &str =
    "check it again, with: toothrest check --plan plan.json --readings r.toml --json > check.json";

/// Reads the answer of `toothrest check --json`: what the corrective grind after it is made from.
pub(crate) fn after_check(file: &str, text: &str) -> Result<Inputs, Failure> {
    let refused = |reason: String| Failure::File {
        file: file.to_owned(),
        reason: format!("{reason}; {CHECK_AGAIN}"),
    };
    let text = text.trim_start_matches('\u{feff}');
    let answer: Value = serde_json::from_str(text)
        .map_err(|error| refused(format!("this is no check's JSON answer ({error})")))?;
    check_schema(&answer).map_err(refused)?;
    let part = |pointer: &str| answer.pointer(pointer).cloned();
    let Some((plan, readings)) = part("/inputs/plan").zip(part("/inputs/readings")) else {
        return Err(refused(no_check(&answer)));
    };
    let unread = |error: serde_json::Error| {
        refused(format!("what it was made from (\"inputs\") cannot be read: {}", in_short(&error)))
    };
    let mut inputs: Inputs = serde_json::from_value(plan).map_err(unread)?;
    let readings = serde_json::from_value(readings).map_err(unread)?;
    inputs.after.push(AfterCheck { readings, left: Vec::new(), fed: None });
    Ok(inputs)
}

fn no_check(answer: &Value) -> String {
    let is = |key: &str| answer.get(key).is_some();
    let what = if answer.get("outcome").is_some_and(|outcome| outcome == "asked") {
        "this check only asked about its readings: settle that first"
    } else if is("peripheral") || is("verdict") {
        "this is a plan's answer; a corrective grind is planned from a check"
    } else {
        "this is no check: what it was made from (\"inputs\") is missing"
    };
    what.to_owned()
}

fn not_json(text: &str, error: &serde_json::Error) -> String {
    let start = text.trim_start();
    if start.is_empty() {
        "this file is empty, and no plan".to_owned()
    } else if start.starts_with('=') || start.starts_with("SET-UP SHEET") {
        "this is a plan's sheet; a check needs its JSON answer".to_owned()
    } else if start.starts_with(['{', '[']) {
        format!("this is no whole JSON ({error})")
    } else {
        "this is no plan's JSON answer".to_owned()
    }
}

fn check_schema(answer: &Value) -> Result<(), String> {
    match answer.get("schema") {
        Some(schema) if *schema == SCHEMA_VERSION => Ok(()),
        Some(schema) => {
            let schema = shortened(&schema.to_string(), 40);
            Err(format!("its schema is {schema}, and this program reads {SCHEMA_VERSION}"))
        }
        None => Err("this JSON has no schema, so it is no plan of this program".to_owned()),
    }
}

/// Other answers of this program are easily taken for a plan's.
fn without_inputs(answer: &Value) -> String {
    let what = if answer.get("peripheral").is_some() || answer.get("verdict").is_some() {
        "this plan has lost what it was made from (\"inputs\")"
    } else if answer.get("edge_relief_deg").is_some() {
        "this is the answer of \"toothrest section\", and no plan"
    } else {
        "this is no plan: what it was made from (\"inputs\") is missing"
    };
    what.to_owned()
}

/// The plan that an answer was made from, made again.
pub(super) fn planned_again(path: &Path) -> Result<RegrindPlan, Failure> {
    let (file, text) = load(path, |name, text| Ok((name.to_owned(), text.to_owned())))?;
    let made_from = made_from(&file, &text)?;
    let inputs = &made_from.inputs;
    let tables = tables(inputs.tables.as_ref())?;
    Ok(remade(&Ctx { tables: &tables }, inputs)?.plan)
}

/// Figures by which one sees that a plan made again is the one that was ground.
const TELLING: [(&str, &str); 5] = [
    ("/peripheral/wheel/number", "wheel"),
    ("/peripheral/expect/diameter_mm", "diameter, mm"),
    ("/peripheral/relief/set_deg", "relief, deg"),
    ("/peripheral/grind/travel_mm", "feed, mm"),
    ("/peripheral/secondary/land_before_mm", "land after the primary, mm"),
];

/// The last digits may differ from one platform to another.
const ALIKE: f64 = 1e-5;

impl MadeFrom {
    /// A remark where the plan made again is not the plan in the file.
    pub(super) fn changed(&self, plan: &RegrindPlan) -> Result<Option<String>, Failure> {
        let anew = serde_json::to_value(wire::plan(plan, self.inputs.clone()))?;
        let differ = TELLING.iter().filter_map(|(pointer, what)| {
            let (old, new) = (self.answer.pointer(pointer)?, anew.pointer(pointer)?);
            (!alike(old, new)).then(|| format!("{what}: {} there, {} here", brief(old), brief(new)))
        });
        let differ: Vec<String> = differ.collect();
        Ok((!differ.is_empty()).then(|| {
            format!(
                "made again, the plan is not the one in {} ({}): was that file changed, or made by \
                 another version? The readings were held against the plan as made now",
                self.file,
                differ.join("; ")
            )
        }))
    }
}

fn alike(old: &Value, new: &Value) -> bool {
    match (old.as_f64(), new.as_f64()) {
        (Some(old), Some(new)) => (old - new).abs() <= ALIKE,
        _ => old == new,
    }
}

fn brief(value: &Value) -> String {
    match (value.as_f64(), value.as_str()) {
        (Some(number), _) => format!("{number:.4}"),
        (_, Some(text)) => text.to_owned(),
        _ => "none".to_owned(),
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn check_refused(text: &str, reason: &str) {
        let Err(failure) = made_from("plan.json", text) else { panic!("{text} was taken") };
        let said = failure.to_string();
        assert!(said.contains(reason) && said.contains(AGAIN), "{text}: {said}");
        assert_eq!(failure.exit_code(), 2);
    }

    /// The library repeats a value of any length.
    #[test]
    fn what_stands_there_instead_is_told_in_short() {
        let text = format!(r#"{{"schema":1,"inputs":{{"cutter":{:?}}}}}"#, "[".repeat(5_000));
        let Err(failure) = made_from("plan.json", &text) else { panic!("it was taken") };
        let said = failure.to_string();
        assert!(said.len() < 500 && said.contains("cannot be read"), "{said}");
    }

    #[test]
    fn what_is_no_plan_is_told_what_it_is() {
        check_refused("", "this file is empty");
        check_refused("====\nSET-UP SHEET  K-1", "this is a plan's sheet");
        check_refused("[cutter]", "this is no whole JSON");
        check_refused("number = 3", "no plan's JSON answer");
        check_refused("{\"schema\": 1, \"inputs\"", "this is no whole JSON");
        check_refused("{}", "has no schema");
        check_refused("[]", "has no schema");
        check_refused("{\"schema\": 7}", "its schema is 7, and this program reads 1");
        let long = format!("{{\"schema\": \"{}\"}}", "x".repeat(5_000));
        check_refused(&long, "xxx\", and this program reads 1");
        check_refused("{\"schema\": 1}", "(\"inputs\") is missing");
        check_refused("{\"schema\": 1, \"inputs\": null}", "(\"inputs\") is missing");
        check_refused("{\"schema\": 1, \"verdict\": {}}", "has lost what it was made from");
        check_refused("{\"schema\": 1, \"edge_relief_deg\": 9}", "\"toothrest section\"");
        let cut = "{\"schema\": 1, \"inputs\": {\"cutter\": {\"file\": \"c\", \"text\": \"\"}}}";
        check_refused(cut, "cannot be read: missing field `machine`");
    }
}

//! The form of readings: the sheet that a plan asks to be filled in.

use geometry::System;
use shop::plan::RegrindPlan;
use shop::record::{Cutter, LandStage, Named, Readings, TeethRun, WearSign};

use crate::files::{Part, PartKind, Sheet, read_readings};
use crate::web::fault::Fault;
use crate::web::form::{Choice, Field, Form, Group, Kind};

/// The form of a plan's readings, when all of it is ground.
pub(super) fn form(id: &str, plan: &RegrindPlan, system: System, seen: u64) -> Result<Form, Fault> {
    let mut form = whole(id, plan, system, seen)?;
    let secondary = plan.peripheral.as_ref().and_then(|work| work.secondary.grinding.as_ref());
    let primary = form.groups.iter_mut().find(|group| group.above.iter().any(is_primary));
    if let (Some(_), Some(primary)) = (secondary, primary) {
        primary.words = format!("{TOO_LATE} {}", primary.words);
    }
    Ok(form)
}

/// What is said of the primary's lands where the secondary is ground over them.
const TOO_LATE: &str = "Only what was read before the secondary was ground, at the step that asks \
                        for it: leave open what was not read then.";

/// Whether a field says that its table is of the primary's lands.
fn is_primary(field: &Field) -> bool {
    field.name.ends_with(".stage") && field.value == LandStage::AfterPrimary.name()
}

fn whole(id: &str, plan: &RegrindPlan, system: System, seen: u64) -> Result<Form, Fault> {
    let sheet = Sheet::of(plan).ok_or_else(|| {
        let reason = "this plan grinds no periphery, so there is nothing to read";
        Fault::from(shop::ShopError::invalid("plan", reason))
    })?;
    let mut form = Form::new(format!("/cutters/{id}/check"), "Weigh these readings")
        .shown_in(system)
        .having_seen(seen);
    let mut counts = Counts::default();
    for part in &sheet.parts {
        form = form.group(group(part, &mut counts, system));
    }
    Ok(form.group(rest(&sheet)))
}

/// The part of that form that asks for the primary, while it can be read: its lands and the size.
pub(super) fn primary_form(
    id: &str,
    plan: &RegrindPlan,
    system: System,
    seen: u64,
) -> Result<Form, Fault> {
    let mut form = whole(id, plan, system, seen)?;
    form.groups.retain(|group| {
        let asks = |field: &Field| is_primary(field) || field.name.ends_with(".over");
        group.above.iter().any(asks)
    });
    form.action = format!("/cutters/{id}/grind/read");
    form.submit = "That is what I read: go on".to_owned();
    let cutter = Field::hidden("cutter", plan.request.cutter.number());
    Ok(form.group(Group::new("", vec![cutter])))
}

/// How many parts of each kind there were so far.
#[derive(Default)]
struct Counts {
    lands: usize,
    diameters: usize,
    indicator: usize,
    runout: usize,
    drops: usize,
}

fn next(count: &mut usize) -> usize {
    *count += 1;
    *count - 1
}

fn group(part: &Part, counts: &mut Counts, system: System) -> Group {
    let words = part.remarks.join(" ");
    match part.kind {
        PartKind::Land(stage) => {
            let key = format!("lands[{}]", next(&mut counts.lands));
            let facts = vec![Field::hidden(format!("{key}.stage"), stage.name())];
            by_teeth(part, &key, &format!("Lands, {stage}"), facts, system).words(words)
        }
        PartKind::Diameter(over) => {
            let key = format!("diameters[{}]", next(&mut counts.diameters));
            let facts = vec![Field::hidden(format!("{key}.over"), over.name())];
            by_teeth(part, &key, &format!("Diameters, {over}"), facts, system).words(words)
        }
        PartKind::Indicator(held) => {
            let key = format!("indicator[{}]", next(&mut counts.indicator));
            let facts = vec![Field::hidden(format!("{key}.held"), held.name())];
            by_teeth(part, &key, "Indicator over the edges", facts, system).words(words).folded()
        }
        PartKind::ShankRunout(held) => {
            let key = format!("runout[{}]", next(&mut counts.runout));
            let fields = vec![
                Field::hidden(format!("{key}.of"), "shank"),
                Field::hidden(format!("{key}.held"), held.name()),
                Field::length(format!("{key}.reading"), "Runout of the shank"),
                resolution(part, &key, system),
            ];
            Group::new("Shank", fields).words(words).folded()
        }
        PartKind::Drop => {
            drops(part, &format!("drops[{}]", next(&mut counts.drops)), system).words(words)
        }
    }
}

/// The smallest step of an instrument that counts as this page does; the sheet's own is in the
/// system of the cutter.
fn resolution(part: &Part, key: &str, system: System) -> Field {
    let step = match (part.kind, system) {
        (PartKind::Land(_), System::Inch) => "0.001 in",
        (PartKind::Land(_), System::Millimetre) => "0.02 mm",
        (PartKind::Diameter(_), System::Millimetre) => "0.001 mm",
        (_, System::Inch) => "0.0001 in",
        (_, System::Millimetre) => "0.002 mm",
    };
    Field::length(format!("{key}.resolution"), "Smallest step read").given(step)
}

/// A table with a place in each row and a tooth in each column. What the part says of itself stands
/// in the first row's label cell, where it takes no room.
fn by_teeth(part: &Part, key: &str, title: &str, facts: Vec<Field>, system: System) -> Group {
    let place = |(at, place): (usize, &String)| {
        let from_end =
            Field::length(format!("{key}.at[{at}].from_end"), "from the end").given(place.as_str());
        let tooth = move |tooth: u32| {
            let name = format!("{key}.at[{at}].teeth[{}]", tooth - 1);
            Field::length(name, format!("tooth {tooth}, {place} from the end"))
        };
        std::iter::once(from_end).chain((1..=part.teeth).map(tooth)).collect::<Vec<_>>()
    };
    let mut columns = vec!["from the end".to_owned()];
    columns.extend((1..=part.teeth).map(|tooth| format!("tooth {tooth}")));
    let rows = (1..=part.places.len()).map(|place| format!("place {place}")).collect();
    let cells = part.places.iter().enumerate().flat_map(place).collect();
    let above = facts.into_iter().chain([resolution(part, key, system)]).collect();
    Group::new(title, cells).table(columns, rows).above(above)
}

fn drops(part: &Part, key: &str, system: System) -> Group {
    let row = |(at, place): (usize, &String)| {
        let name = move |name: &str| format!("{key}.at[{at}].{name}");
        [
            Field::length(name("distance"), "behind the edge").given(place.as_str()),
            Field::count(name("tooth"), format!("tooth read at {place}")).given("1"),
            Field::length(name("drop"), format!("drop at {place}")),
        ]
    };
    let cells = part.places.iter().enumerate().flat_map(row).collect();
    let columns = ["behind the edge", "tooth", "drop"].map(str::to_owned).to_vec();
    let rows = (1..=part.places.len()).map(|place| format!("place {place}")).collect();
    Group::new("Drops", cells)
        .table(columns, rows)
        .above(vec![resolution(part, key, system)])
        .folded()
}

fn rest(sheet: &Sheet<'_>) -> Group {
    let order: Vec<String> = sheet.order.iter().map(u32::to_string).collect();
    let signs = WearSign::ALL.iter().map(|sign| Choice::plain(sign.name())).collect();
    let fields = vec![
        Field::hidden("cutter", sheet.cutter.number()),
        Field::new(Kind::Counts, "ground_order", "Order of the last round")
            .given(order.join(" "))
            .hint("as planned: write your own if it was other"),
        Field::named::<TeethRun>(
            "teeth_run",
            "Tooth 2 lies behind the heel of tooth 1, or before its edge",
        ),
        Field::new(Kind::Several(signs), "signs", "Wear seen before this regrind"),
    ];
    Group::new("Order, and what was seen before", fields).folded()
}

/// The readings that a form gives; where there are none, the form says why.
pub(super) fn read(form: &mut Form, cutter: &Cutter) -> Option<Readings> {
    match read_readings("this form", &form.toml(), cutter) {
        Ok(readings) => Some(readings),
        Err(problems) => {
            form.blame(&problems);
            None
        }
    }
}

/// The question whether the readings stand as they are.
pub(super) fn with_question(form: Form) -> Form {
    let again = Field::flag("looked_again", "I have looked again, and they stand as they are");
    form.group(Group::new("", vec![again]))
}

//! What a plan was made from, as the book keeps it and as the plan reads it.

use shop::book::event::{Input, Planned};

use crate::wire::{AfterCheck, Inputs, NamedText};

/// The inputs of a plan as its entry keeps them.
pub(crate) fn kept_inputs(inputs: &Inputs) -> Vec<Input> {
    let text = |role: &str, named: &NamedText| Input {
        role: role.to_owned(),
        file: named.file.clone(),
        text: named.text.clone(),
    };
    let said = |role: &str, said: &Option<String>| {
        said.as_ref().map(|said| Input {
            role: role.to_owned(),
            file: "asked for".to_owned(),
            text: said.clone(),
        })
    };
    let mut kept = vec![text("cutter", &inputs.cutter), text("machine", &inputs.machine)];
    kept.extend(inputs.wheels.iter().map(|wheel| text("wheel", wheel)));
    kept.extend(inputs.wear.iter().map(|wear| text("wear", wear)));
    kept.extend(inputs.history.iter().map(|history| text("history", history)));
    kept.extend(inputs.tables.iter().map(|tables| text("tables", tables)));
    kept.extend(said("relief", &inputs.relief));
    kept.extend(said("to size", &inputs.to_size));
    kept.extend(said(END, &inputs.end.then(|| "ground too".to_owned())));
    kept.extend(said(OFF_LENGTH, &inputs.off_length));
    for after in &inputs.after {
        kept.push(text(READINGS, &after.readings));
        kept.extend(said(LEFT, &Some(after.left.join("\n")).filter(|left| !left.is_empty())));
        kept.extend(said(FED, &after.fed));
    }
    kept
}

/// The role of the wish that the end be ground too.
const END: &str = "end";

/// The role of what is to come off the length.
const OFF_LENGTH: &str = "off length";

/// The role of the readings after which a corrective grind was planned.
const READINGS: &str = "readings";

/// The role of the faults that were left then, one a line.
const LEFT: &str = "left as it is";

/// The role of what the feed's dial really stood at.
const FED: &str = "fed to";

/// The checks that went before, in order: what was left, and how it was fed, stand behind their
/// readings.
fn after_of(planned: &Planned) -> Vec<AfterCheck> {
    let mut after: Vec<AfterCheck> = Vec::new();
    for input in &planned.inputs {
        if input.role == READINGS {
            let readings = NamedText { file: input.file.clone(), text: input.text.clone() };
            after.push(AfterCheck { readings, left: Vec::new(), fed: None });
            continue;
        }
        match (input.role.as_str(), after.last_mut()) {
            (LEFT, Some(last)) => {
                last.left = input.text.lines().map(ToOwned::to_owned).collect();
            }
            (FED, Some(last)) => last.fed = Some(input.text.clone()),
            _ => {}
        }
    }
    after
}

/// The inputs that an entry has kept.
pub(crate) fn inputs_of(planned: &Planned) -> Inputs {
    let of = |role: &'static str| planned.inputs.iter().filter(move |input| input.role == role);
    let named = |input: &Input| NamedText { file: input.file.clone(), text: input.text.clone() };
    let one = |role| of(role).map(named).next();
    let said = |role| of(role).map(|input| input.text.clone()).next();
    Inputs {
        end: said(END).is_some(),
        off_length: said(OFF_LENGTH),
        cutter: one("cutter").unwrap_or_default(),
        machine: one("machine").unwrap_or_default(),
        wheels: of("wheel").map(named).collect(),
        wear: one("wear"),
        history: one("history"),
        tables: one("tables"),
        relief: said("relief"),
        to_size: said("to size"),
        after: after_of(planned),
    }
}

//! What a plan was made from, as the book keeps it and as the plan reads it.

use shop::book::event::{Input, Planned};

use crate::wire::{Inputs, NamedText};

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
    kept
}

/// The inputs that an entry has kept.
pub(crate) fn inputs_of(planned: &Planned) -> Inputs {
    let of = |role: &'static str| planned.inputs.iter().filter(move |input| input.role == role);
    let named = |input: &Input| NamedText { file: input.file.clone(), text: input.text.clone() };
    let one = |role| of(role).map(named).next();
    let said = |role| of(role).map(|input| input.text.clone()).next();
    Inputs {
        end: false,
        off_length: None,
        cutter: one("cutter").unwrap_or_default(),
        machine: one("machine").unwrap_or_default(),
        wheels: of("wheel").map(named).collect(),
        wear: one("wear"),
        history: one("history"),
        tables: one("tables"),
        relief: said("relief"),
        to_size: said("to size"),
    }
}

//! The forms without a bench: what a browser sends is read as a record, or the form says why.
//! Whoever tries the forms with odd input comes in here, and nothing else does.

use geometry::System;
use shop::plan::RegrindPlan;
use shop::record::{Cutter, Machine, Wheel};

use super::machine_form::Description;
use super::{cutter_form, readings_form, wear, wheel_form};
use crate::files::{
    FileProblems, cutter_text, machine_text, read_cutter, read_machine, read_readings, read_wear,
    read_wheels, readings_text, wear_text, wheel_text,
};
use crate::web::form::{Entries, Field, Form, Kind};

/// A form that gives a record.
#[derive(Clone, Copy, Debug)]
pub(crate) enum FormKind {
    Cutter,
    Wheel,
    Machine,
    Wear,
    Readings,
}

impl FormKind {
    pub(crate) const ALL: [Self; 5] =
        [Self::Cutter, Self::Wheel, Self::Machine, Self::Wear, Self::Readings];
}

/// What lies at the bench while its forms are tried.
pub(crate) struct Bench {
    pub(crate) plan: RegrindPlan,
    pub(crate) machine: Machine,
    pub(crate) wheel: Wheel,
}

impl Bench {
    fn cutter(&self) -> Cutter {
        self.plan.request.cutter.clone().without_wear()
    }

    fn empty(&self, kind: FormKind) -> Option<Form> {
        match kind {
            FormKind::Cutter => Some(cutter_form::form("/", "Keep", System::Inch)),
            FormKind::Wheel => Some(wheel_form::open(System::Inch)),
            FormKind::Machine => Some(Description::of("/", &self.machine).form),
            FormKind::Wear => Some(wear::form("k", &self.cutter(), System::Inch, 0)),
            FormKind::Readings => readings_form::form("k", &self.plan, System::Inch, 0).ok(),
        }
    }

    /// Names and values of that form as a sound record fills it.
    pub(crate) fn filled(&self, kind: FormKind) -> Vec<(String, String)> {
        let worn = &self.plan.request.cutter;
        let Some(empty) = self.empty(kind) else { return Vec::new() };
        let form = match kind {
            FormKind::Cutter => cutter_form::filled(empty, worn, &["HSS".to_owned()]),
            FormKind::Wheel => wheel_form::filled(empty, &self.wheel, &[]),
            FormKind::Wear => empty.load(&wear::by_tooth(worn)),
            FormKind::Readings => read(empty),
            FormKind::Machine => empty,
        };
        let sent = form.fields().flat_map(sent);
        sent.chain([("shown_in".to_owned(), "in".to_owned())]).collect()
    }

    /// The record that was sent, as the text of a file; where there is none, what the form says.
    pub(crate) fn read(&self, kind: FormKind, entries: &Entries) -> Result<String, Vec<String>> {
        if let FormKind::Machine = kind {
            let mut sent = Description::sent("/", entries);
            let described = sent.read().map(|described| machine_text(&described.machine));
            return described.ok_or_else(|| said(&sent.form));
        }
        let Some(empty) = self.empty(kind) else { return Err(Vec::new()) };
        let mut form = empty.fill(entries);
        let text = match kind {
            FormKind::Cutter => {
                cutter_form::read(&mut form).map(|entered| cutter_text(&entered.cutter))
            }
            FormKind::Wheel => {
                wheel_form::read(&mut form).map(|entered| wheel_text(&entered.wheel))
            }
            FormKind::Wear => wear::read(&mut form, &self.cutter()).map(|seen| wear_text(&seen)),
            FormKind::Machine | FormKind::Readings => {
                let cutter = &self.plan.request.cutter;
                let read = readings_form::read(&mut form, cutter);
                read.map(|readings| readings_text(&readings.draft(), cutter))
            }
        };
        text.ok_or_else(|| said(&form))
    }

    /// The text of such a record read as a file, and written again.
    pub(crate) fn read_file(&self, kind: FormKind, text: &str) -> Result<String, FileProblems> {
        let (file, worn) = ("t.toml", &self.plan.request.cutter);
        match kind {
            FormKind::Cutter => read_cutter(file, text).map(|cutter| cutter_text(&cutter)),
            FormKind::Wheel => {
                let wheels = read_wheels(file, text)?;
                Ok(wheels.iter().map(wheel_text).collect())
            }
            FormKind::Machine => read_machine(file, text).map(|machine| machine_text(&machine)),
            FormKind::Wear => {
                let seen = read_wear(file, text, &self.cutter())?;
                Ok(seen.wear().map(wear_text).unwrap_or_default())
            }
            FormKind::Readings => {
                let readings = read_readings(file, text, worn)?;
                Ok(readings_text(&readings.draft(), worn))
            }
        }
    }
}

/// What a browser sends of a field: nothing of a box without its tick, and each tick by itself
/// where there are several.
fn sent(field: &Field) -> Vec<(String, String)> {
    let pair = |value: &str| (field.name.clone(), value.to_owned());
    match field.kind {
        Kind::Flag if field.value.is_empty() => Vec::new(),
        Kind::Several(_) => field.value.lines().map(pair).collect(),
        _ => vec![pair(&field.value)],
    }
}

/// The form with a reading in every cell, such as a hand could have taken.
fn read(mut form: Form) -> Form {
    for field in form.fields_mut().filter(|field| field.name.contains(".teeth[")) {
        field.value = if field.name.starts_with("diameters") { "0.99" } else { "0.03" }.to_owned();
    }
    form
}

/// What a form says is wrong with it.
fn said(form: &Form) -> Vec<String> {
    let beside = form.fields().map(|field| field.problem.clone());
    form.problems.iter().cloned().chain(beside).filter(|words| !words.is_empty()).collect()
}

//! Files of readings that are ready to be filled in at the bench, made for one plan.

mod as_csv;
mod as_toml;
mod parts;

use shop::plan::RegrindPlan;

pub(crate) use parts::{Part, PartKind, Sheet};

/// The form in which a file is written.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum TemplateForm {
    /// For an editor.
    Toml,
    /// For a spreadsheet.
    Csv,
}

/// A file of readings for this plan with every reading still open, in the words and units that
/// [`read_readings`](super::read_readings) takes; none where the plan grinds no periphery.
pub fn readings_template(plan: &RegrindPlan, form: TemplateForm) -> Option<String> {
    let sheet = Sheet::of(plan)?;
    Some(match form {
        TemplateForm::Toml => as_toml::write(&sheet),
        TemplateForm::Csv => as_csv::write(&sheet),
    })
}

//! A plan made again from its inputs, with the corrective grinds that followed it.

use shop::Ctx;
use shop::check::{Check, CheckRegrind, Checked, Fault, check_regrind};
use shop::plan::{CorrectivePlan, CorrectiveWish, RegrindPlan, plan_corrective, plan_regrind};

use super::failure::Failure;
use super::inputs::{length, request};
use super::plan::located;
use crate::files::read_readings;
use crate::wire::{AfterCheck, Inputs};

/// A plan as its inputs give it.
pub(crate) struct Remade {
    /// The plan; after corrective grinds, of the work as it then stands.
    pub(crate) plan: RegrindPlan,
    /// The last corrective grind, where there is one.
    pub(crate) corrective: Option<CorrectivePlan>,
}

/// Makes the plan that these inputs give.
pub(crate) fn remade(ctx: &Ctx<'_>, inputs: &Inputs) -> Result<Remade, Failure> {
    let plan = plan_regrind(ctx, request(inputs)?).map_err(|error| located(inputs, error))?;
    let mut made = Remade { plan, corrective: None };
    for after in &inputs.after {
        let corrective = corrected(ctx, &made.plan, after)?;
        made = Remade { plan: corrective.plan.clone(), corrective: Some(corrective) };
    }
    Ok(made)
}

fn corrected(
    ctx: &Ctx<'_>,
    plan: &RegrindPlan,
    after: &AfterCheck,
) -> Result<CorrectivePlan, Failure> {
    let named = &after.readings;
    let readings = read_readings(&named.file, &named.text, &plan.request.cutter)?;
    let request = CheckRegrind { plan: plan.clone(), readings };
    match check_regrind(ctx, request)? {
        Checked::Weighed(check) => {
            let fed = after.fed.as_deref().map(|fed| length("--fed", fed)).transpose()?;
            let wish = CorrectiveWish { left: left(&check, &after.left)?, fed };
            Ok(plan_corrective(ctx, &check, &wish)?)
        }
        Checked::Asked(questions) => {
            let stands = super::check::stands(&named.file);
            Err(Failure::Asked { stands, file: named.file.clone(), questions })
        }
    }
}

/// The faults that are named to be left, by kind or in full.
fn left(check: &Check, named: &[String]) -> Result<Vec<Fault>, Failure> {
    let faults = || check.corrections.iter().map(|one| one.fault);
    let is_named = |fault: &Fault, name: &String| *name == fault.kind() || *name == fault.name();
    for name in named {
        if !faults().any(|fault| is_named(&fault, name)) {
            let known: Vec<&str> = faults().map(Fault::kind).collect();
            return Err(Failure::Argument {
                argument: "--leave",
                value: name.clone(),
                message: match known.as_slice() {
                    [] => "the check names no fault to be left".to_owned(),
                    known => format!("the check names no such fault; it has {}", known.join(", ")),
                },
            });
        }
    }
    Ok(faults().filter(|fault| named.iter().any(|name| is_named(fault, name))).collect())
}

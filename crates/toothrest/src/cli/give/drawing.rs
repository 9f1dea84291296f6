//! `toothrest give section` and `give outline`.

use exchange::curve::{drawing_dxf, outline_drawing, tooth_drawing};
use shop::ShopError;
use shop::plan::RegrindPlan;

use super::args::{CutterArguments, OutlineArguments, SectionArguments};
use super::{gathered, out};
use crate::cli::failure::Failure;
use crate::cli::made_from::planned_again;

pub(super) fn section(asked: &SectionArguments) -> Result<String, Failure> {
    check_name(asked.output.as_deref())?;
    let within = out::within(&asked.within)?;
    let plan = planned_again(&asked.plan)?;
    let drawing = tooth_drawing(&plan, within).ok_or_else(|| no_periphery(&plan))?;
    out::text(asked.output.as_deref(), drawing_dxf(&drawing, asked.units.system()))
}

pub(super) fn no_periphery(plan: &RegrindPlan) -> Failure {
    let number = plan.request.cutter.number();
    let reason = format!("the plan of {number} grinds no periphery, so there is no section");
    ShopError::invalid("plan", reason).into()
}

pub(super) fn outline(asked: &OutlineArguments) -> Result<String, Failure> {
    check_name(asked.output.as_deref())?;
    let numbers = asked.number.iter().cloned().collect();
    let cutter = asked.cutter.iter().cloned().collect();
    let wanted = CutterArguments { numbers, cutter, book: asked.book.clone() };
    let cutters = gathered::records(&wanted)?;
    let drawings = cutters.iter().map(outline_drawing);
    let text = drawings.map(|drawing| drawing_dxf(&drawing, asked.units.system())).collect();
    out::text(asked.output.as_deref(), text)
}

fn check_name(output: Option<&std::path::Path>) -> Result<(), Failure> {
    output.map_or(Ok(()), |path| out::ending(path, &["dxf"]).map(drop))
}

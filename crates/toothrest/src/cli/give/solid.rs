//! `toothrest give solid`.

use exchange::solid::{Solid, SolidPart, solid_glb, solid_stl};
use geometry::Angle;
use sheets::model::{GrindState, Model, ground_model};
use shop::ShopError;
use shop::record::{Cutter, EndForm};

use super::args::{SolidArguments, State};
use super::drawing::no_periphery;
use super::out;
use crate::cli::failure::Failure;
use crate::cli::made_from::planned_again;

pub(super) fn run(asked: &SolidArguments) -> Result<String, Failure> {
    let form = out::ending(&asked.output, &["stl", "glb"])?;
    let within = asked.within.as_deref().map(out::within).transpose()?;
    let plan = planned_again(&asked.plan)?;
    if plan.peripheral.is_none() {
        return Err(no_periphery(&plan));
    }
    check_is_drawn(&plan.request.cutter)?;
    let state = match asked.state {
        State::Before => GrindState::Before,
        State::After => GrindState::After,
    };
    let model = ground_model(&plan, state, within).ok_or_else(|| {
        let reason = "such fine facets are more than a solid can have; write a larger length";
        ShopError::invalid("--within", reason)
    })?;
    let solid = solid_of(&model);
    let bytes = if form == "stl" { solid_stl(&solid) } else { solid_glb(&solid) };
    let written = out::bytes(&asked.output, &bytes)?;
    let error_mm = model.chord_error.mm();
    Ok(format!("{written}{}; facets within {error_mm:.4} mm.\n", model.title))
}

/// A solid sweeps one tooth along one helix, sets the others equally round and is cut off square:
/// of any other cutter it would be a false picture, and whoever measures it would not know.
fn check_is_drawn(cutter: &Cutter) -> Result<(), Failure> {
    let what = if cutter.taper() > Angle::ZERO {
        "taper"
    } else if cutter.unequal_helix() {
        "tooth_helix"
    } else if cutter.unequal_index() {
        "index"
    } else if cutter.end() != EndForm::Square {
        "end"
    } else {
        return Ok(());
    };
    let has = if what == "end" { "a square end" } else { "equal teeth on a cylinder" };
    let reason = format!(
        "a solid has {has}, and this cutter has not; no file was written. toothrest give section \
         and give outline draw it"
    );
    Err(ShopError::invalid(format!("cutter.{what}"), reason).into())
}

fn solid_of(model: &Model) -> Solid<'_> {
    let parts = model.parts.iter();
    let parts = parts.map(|part| SolidPart { name: part.name.name(), shaded: &part.shaded });
    Solid {
        title: model.title.clone(),
        chord_error_mm: model.chord_error.mm(),
        parts: parts.collect(),
    }
}

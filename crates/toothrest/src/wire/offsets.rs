//! The answer of `toothrest give offsets`.

use exchange::offset::{Control, OFFSET_CAUTIONS, OffsetLine, Offsets};
use serde::Serialize;

use super::SCHEMA_VERSION;

/// Offsets, old and new, in the unit of the control's registers.
#[derive(Serialize)]
pub(crate) struct OffsetsAnswer {
    schema: u32,
    control: String,
    unit: &'static str,
    offsets: Vec<OffsetAnswer>,
    program: String,
    cautions: [&'static str; 3],
}

#[derive(Serialize)]
struct OffsetAnswer {
    cutter: String,
    offset: u32,
    diameter_mm: f64,
    old: Option<f64>,
    new: f64,
    written: f64,
    besides: Vec<String>,
}

pub(crate) fn offsets(control: &Control, made: &Offsets) -> OffsetsAnswer {
    let one = |line: &OffsetLine| OffsetAnswer {
        cutter: line.cutter.clone(),
        offset: line.number,
        diameter_mm: line.diameter.mm(),
        old: line.old,
        new: line.new,
        written: line.written,
        besides: line.besides.clone(),
    };
    OffsetsAnswer {
        schema: SCHEMA_VERSION,
        control: control.name().to_owned(),
        unit: control.units().unit(),
        offsets: made.lines.iter().map(one).collect(),
        program: made.program.clone(),
        cautions: OFFSET_CAUTIONS,
    }
}

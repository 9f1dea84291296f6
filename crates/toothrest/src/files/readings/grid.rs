//! The shape of CSV that is a table of lands: a row for each tooth, a column for each place.

use geometry::Length;
use shop::record::{LandGroup, LandReading, LandStage};

use super::cells::{Cells, Refused, Under};
use super::headings::{Heading, NO_UNIT, is_unit};
use super::lines::Row;
use super::notes::Notes;
use super::tool::Tool;
use crate::files::value::wrong;

/// The field of the one group of lands that a table makes.
const FIELD: &str = "lands[0]";

/// What stands in for the unit of a table where the one written is none.
const STAND_IN: &str = "mm";

/// A place along the cutter that heads a column.
struct Station<'h> {
    column: usize,
    name: &'h str,
    /// Its path in the line of headings.
    path: String,
    from_end: Length,
}

/// Reads the table into the draft.
pub(super) fn read(
    header: usize,
    headings: &[Heading],
    rows: &[Row],
    notes: &Notes,
    cells: &mut Cells<'_>,
) {
    let unit = unit(header, headings, cells);
    let stations = stations(header, headings, cells);
    let tool = notes.tool.clone().unwrap_or_else(|| Err(no_resolution(header, cells)));
    let mut readings = Vec::new();
    for row in rows {
        let under = Under { heading: "tooth", unit };
        readings.extend(row_of(row, &stations, under, readings.len(), cells));
    }
    let stage = notes.stage.unwrap_or(Ok(LandStage::AfterPrimary));
    if let (Ok(stage), Ok(Tool { instrument, .. })) = (stage, &tool) {
        let instrument = *instrument;
        cells.draft.lands.push(LandGroup { stage, instrument, readings });
    }
    if let Ok(tool) = tool {
        tool.note(FIELD, &mut cells.origins);
    }
}

fn no_resolution(header: usize, cells: &mut Cells<'_>) -> Refused {
    let path = cells.place("resolution", header, "");
    let right = "write a line with the smallest step that is read, such as # resolution: 0.02 mm";
    cells.refuse(&path, wrong("is missing", right))
}

/// The unit that the first heading gives for all readings.
fn unit<'h>(header: usize, headings: &'h [Heading], cells: &mut Cells<'_>) -> Option<&'h str> {
    let unit = headings.first()?.unit.as_deref()?;
    if is_unit(unit) {
        return Some(unit);
    }
    let path = cells.place("tooth", header, unit);
    cells.refuse(&path, wrong("not a unit of length", NO_UNIT));
    Some(STAND_IN)
}

fn stations<'h>(header: usize, headings: &'h [Heading], cells: &mut Cells<'_>) -> Vec<Station<'h>> {
    let mut stations: Vec<Station<'h>> = Vec::new();
    let columns = headings.iter().enumerate().skip(1).filter(|(_, heading)| !heading.is_blank());
    for (column, Heading { name, .. }) in columns {
        let path = cells.place(name, header, "");
        let Ok(from_end) = cells.length(&path, name, None) else { continue };
        if stations.iter().any(|other| other.from_end == from_end) {
            let right = "write each place once, with all of its readings below it";
            cells.refuse(&path, wrong("this place stands twice", right));
        } else {
            stations.push(Station { column, name, path, from_end });
        }
    }
    if headings.iter().skip(1).all(Heading::is_blank) {
        let path = cells.place("tooth", header, "");
        let right = "write the distances from the end behind it, as in tooth,3 mm,25 mm";
        cells.refuse(&path, wrong("no place was read", right));
    }
    stations
}

/// The readings of one tooth, those behind `first` of the table.
fn row_of(
    row: &Row,
    stations: &[Station<'_>],
    under: Under<'_>,
    first: usize,
    cells: &mut Cells<'_>,
) -> Vec<LandReading> {
    let text = row.cells.first().map_or("", String::as_str);
    let tooth_at = cells.place("tooth", row.line, text);
    let tooth = cells.tooth(&tooth_at, text);
    let mut readings = Vec::new();
    for Station { column, name, path, from_end } in stations {
        let text = row.cells.get(*column).map_or("", String::as_str);
        let cell = cells.place(name, row.line, text);
        let looked = cells.looked(&cell, text, under);
        let (Ok(tooth), Ok(Some(width))) = (tooth, looked) else { continue };
        let field = format!("{FIELD}.reading[{}]", first + readings.len());
        let origins = &mut cells.origins;
        // At one place a tooth has one cell, so a land read twice is a tooth with two rows.
        origins.note(&field, &tooth_at);
        origins.note(format!("{field}.tooth"), &tooth_at);
        origins.note(format!("{field}.from_end"), path);
        origins.note(format!("{field}.width"), cell);
        readings.push(LandReading { tooth, from_end: *from_end, width });
    }
    readings
}

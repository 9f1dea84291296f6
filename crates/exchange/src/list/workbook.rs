//! A table as a workbook (.xlsx).

use rust_xlsxwriter::{DocProperties, ExcelDateTime, Format, Workbook, Worksheet, XlsxError};

use super::table::{Table, Value, rounded};

/// Widest and narrowest column, in letters.
const WIDTH: (f64, f64) = (8.0, 40.0);

/// The table as a workbook of one sheet: headings that stay in sight, numbers as numbers. The same
/// table gives the same bytes.
///
/// # Errors
/// Where the table is larger than a sheet can be, in words.
pub fn table_workbook(table: &Table) -> Result<Vec<u8>, String> {
    written(table).map_err(|error| error.to_string())
}

fn written(table: &Table) -> Result<Vec<u8>, XlsxError> {
    let mut book = Workbook::new();
    // A date of its own would make every copy another file.
    let made = ExcelDateTime::from_ymd(1980, 1, 1)?;
    book.set_properties(&DocProperties::new().set_creation_datetime(&made));
    let sheet = book.add_worksheet();
    sheet.set_name(table.name)?;
    head(sheet, table)?;
    for (place, row) in (1_u32..).zip(&table.rows) {
        body(sheet, table, place, row)?;
    }
    book.save_to_buffer()
}

fn head(sheet: &mut Worksheet, table: &Table) -> Result<(), XlsxError> {
    let bold = Format::new().set_bold().set_text_wrap();
    for (place, column) in (0_u16..).zip(&table.columns) {
        sheet.write_string_with_format(0, place, &column.heading, &bold)?;
        let letters = column.heading.chars().count() as f64;
        sheet.set_column_width(place, (letters + 2.0).clamp(WIDTH.0, WIDTH.1))?;
    }
    sheet.set_freeze_panes(1, 1)?;
    Ok(())
}

fn body(sheet: &mut Worksheet, table: &Table, line: u32, row: &[Value]) -> Result<(), XlsxError> {
    for ((place, column), value) in (0_u16..).zip(&table.columns).zip(row) {
        match value {
            Value::Blank => {}
            Value::Text(text) => drop(sheet.write_string(line, place, text)?),
            Value::Number(number) => {
                let number = rounded(*number, column.decimals);
                sheet.write_number(line, place, number)?;
            }
        }
    }
    Ok(())
}

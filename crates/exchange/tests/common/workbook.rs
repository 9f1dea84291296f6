//! Workbooks that no program would write: sound but for the cells of their one sheet.

use std::io::{Cursor, Write};

use zip::write::SimpleFileOptions;
use zip::{CompressionMethod, ZipWriter};

/// A workbook with one sheet, whose XML is given.
pub(crate) fn workbook_of(sheet: &[u8]) -> Vec<u8> {
    const SPREADSHEET: &str = "http://schemas.openxmlformats.org/spreadsheetml/2006/main";
    const RELATIONS: &str = "http://schemas.openxmlformats.org/package/2006/relationships";
    const OFFICE: &str = "http://schemas.openxmlformats.org/officeDocument/2006/relationships";
    let workbook = format!(
        "<workbook xmlns=\"{SPREADSHEET}\" xmlns:r=\"{OFFICE}\"><sheets>\
         <sheet name=\"cutters\" sheetId=\"1\" r:id=\"rId1\"/></sheets></workbook>"
    );
    let relation = |kind: &str, to: &str| {
        format!(
            "<Relationships xmlns=\"{RELATIONS}\"><Relationship Id=\"rId1\" \
             Type=\"{OFFICE}/{kind}\" Target=\"{to}\"/></Relationships>"
        )
    };
    let top = relation("officeDocument", "xl/workbook.xml");
    let below = relation("worksheet", "worksheets/sheet1.xml");
    let parts: [(&str, &[u8]); 4] = [
        ("_rels/.rels", top.as_bytes()),
        ("xl/workbook.xml", workbook.as_bytes()),
        ("xl/_rels/workbook.xml.rels", below.as_bytes()),
        ("xl/worksheets/sheet1.xml", sheet),
    ];
    let mut archive = ZipWriter::new(Cursor::new(Vec::new()));
    let stored = SimpleFileOptions::default().compression_method(CompressionMethod::Stored);
    for (name, bytes) in parts {
        let started = archive.start_file(name, stored);
        if started.is_err() || archive.write_all(bytes).is_err() {
            return Vec::new();
        }
    }
    archive.finish().map(Cursor::into_inner).unwrap_or_default()
}

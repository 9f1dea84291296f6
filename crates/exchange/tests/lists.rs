//! Lists of cutters: what goes out comes in again, and what is wrong is told and never half kept.

#![expect(clippy::unwrap_used, reason = "a test that cannot make its case must stop")]

mod common;
#[path = "common/drawer.rs"]
mod drawer;
#[path = "common/workbook.rs"]
mod workbook;

use std::io::{Cursor, Write};

use calamine::{Data, Reader, Xlsx};
use common::{cutter, draft};
use drawer::REST;
use exchange::list::{
    CutterColumn, CutterList, CutterRow, FILE_BYTES_MAX, Said, cutters_table, read_cutters,
    table_csv, table_workbook,
};
use geometry::Length;
use geometry::quantity::System;
use shop::book::event::CutterEntered;
use shop::book::{CutterState, Event, Id, Initials, Latest, Moment, Stamp, State};
use shop::book::{Entry, Subject, SubjectKind};
use shop::record::{Cutter, EndForm};
use workbook::workbook_of;

fn state(cutter: &Cutter) -> CutterState {
    let entered = CutterEntered { cutter: cutter.clone(), marks: Vec::new() };
    let entry = Entry {
        subject: Subject::new(SubjectKind::Cutter, Id::from_bits(7)),
        number: 1,
        stamp: Stamp { at: Moment::EPOCH, by: Initials::new("AB").unwrap() },
        event: Event::CutterEntered(Box::new(entered)),
    };
    match Latest::of(&[entry]).unwrap().state {
        Some(State::Cutter(state)) => *state,
        other => unreachable!("{other:?} is no cutter"),
    }
}

fn table(cutters: &[Cutter], system: System) -> exchange::list::Table {
    let states: Vec<CutterState> = cutters.iter().map(state).collect();
    let rows = states.iter().map(|state| CutterRow { state, tray: None, last: Moment::EPOCH });
    cutters_table(&rows.collect::<Vec<_>>(), system)
}

fn read(text: &str, facts: &[(CutterColumn, &str)], unit: Option<&str>) -> CutterList {
    let facts = facts.iter().map(|(column, value)| (*column, (*value).to_owned())).collect();
    let said = Said { unit: unit.map(str::to_owned), facts, left_out: Vec::new() };
    read_cutters(text.as_bytes(), None, &said)
}

fn told(list: &CutterList) -> Vec<String> {
    list.problems.iter().map(ToString::to_string).collect()
}

#[test]
fn what_goes_out_comes_in_again() {
    let square = draft("K-2, \"the other\"");
    let square = shop::record::CutterDraft { end: EndForm::Ball, as_ground: None, ..square };
    let degrees = |all: [f64; 4]| all.map(geometry::Angle::from_degrees).to_vec();
    let special = shop::record::Special {
        index: degrees([0.0, 88.0, 180.0, 268.25]),
        tooth_helix: degrees([30.0, 32.5, 30.0, 32.5]),
        taper: geometry::Angle::from_degrees(2.5),
    };
    let few = shop::record::CutterDraft { special, ..draft("K-3") };
    let cutters = [cutter("K-1"), square.build().unwrap(), few.build().unwrap()];
    for system in [System::Inch, System::Millimetre] {
        let table = table(&cutters, system);
        for bytes in [table_csv(&table).into_bytes(), table_workbook(&table).unwrap()] {
            let list = read_cutters(&bytes, None, &Said::default());
            assert_eq!(told(&list), [""; 0]);
            assert_eq!((list.cutters.len(), list.cutters[1].line), (3, 3));
            for (listed, cutter) in list.cutters.iter().zip(&cutters) {
                let (own, back) = (cutter.draft(), listed.cutter.draft());
                let miss = (own.diameter - back.diameter).abs();
                assert!(miss < Length::from_um(0.2), "{miss:?}");
                let same = |one: &shop::record::CutterDraft| {
                    (
                        one.number.clone(),
                        one.teeth,
                        one.hand,
                        one.material,
                        one.end.name(),
                        one.coating.clone(),
                        one.regrinds,
                        one.centre_cutting,
                        one.as_ground.is_some(),
                    )
                };
                assert_eq!(same(&own), same(&back));
                let near = |one: &[geometry::Angle], other: &[geometry::Angle]| {
                    let pairs = || one.iter().zip(other);
                    one.len() == other.len()
                        && pairs().all(|(a, b)| (a.degrees() - b.degrees()).abs() < 1e-6)
                };
                let (own, back) = (own.special, back.special);
                assert!(near(&own.index, &back.index), "{back:?}");
                assert!(near(&own.tooth_helix, &back.tooth_helix), "{back:?}");
                assert!(near(&[own.taper], &[back.taper]), "{back:?}");
            }
        }
    }
}

#[test]
fn teeth_that_are_miswritten_are_told_by_line() {
    let head = "number,DC (in),NOF,FHA,index,tooth_helix,taper\n";
    let read = |cells: &str| {
        let text = format!("{head}K-1,1/2,4,30,{cells}\n");
        told(&read(&text, &REST, None)).join("; ")
    };
    assert_eq!(read("0;88;180;268,30;32;30;32,2"), "");
    for (cells, wrong) in [
        ("0;88;180,,", "3 places for 4 teeth"),
        ("0;88;180;west,,", "west"),
        (",30;32,", "2 helices for 4 teeth"),
        (",,80", "taper"),
    ] {
        let said = read(cells);
        assert!(said.contains("line 2") && said.contains(wrong), "{cells}: {said}");
    }
}

/// Read by a general-purpose library for workbooks.
#[test]
fn numbers_of_a_workbook_are_numbers() {
    let bytes = table_workbook(&table(&[cutter("K-1")], System::Millimetre)).unwrap();
    assert_eq!(bytes, table_workbook(&table(&[cutter("K-1")], System::Millimetre)).unwrap());
    let mut book = Xlsx::new(Cursor::new(bytes)).unwrap();
    let sheet = book.worksheet_range("cutters").unwrap();
    let at = |row, column| sheet.get_value((row, column)).cloned().unwrap();
    assert_eq!(at(0, 1), Data::String("diameter (mm)".to_owned()));
    assert_eq!((at(1, 1), at(1, 2)), (Data::Float(12.7), Data::Float(4.0)));
    let ground = at(1, 21);
    assert_eq!(ground, Data::Float(12.5476));
}

#[test]
fn symbols_units_and_fractions_are_read() {
    let list = read("number,DC (in),NOF,FHA\nK-1,1/2,4,30\nK-2,12.7 mm,4,30\n", &REST, None);
    assert_eq!(told(&list), [""; 0]);
    for listed in &list.cutters {
        assert!((listed.cutter.diameter().mm() - 12.7).abs() < 1e-9);
    }
    let comma = read("number;DC;NOF;FHA\nK-1;12,7;4;30\n", &REST, Some("mm"));
    assert_eq!(told(&comma), [""; 0]);
    assert!((comma.cutters[0].cutter.diameter().mm() - 12.7).abs() < 1e-9);
}

#[test]
fn nothing_is_guessed() {
    let list = read("number,DC,NOF,FHA\nK-1,12.7,4,30\n", &REST, None);
    assert!(list.cutters.is_empty());
    assert!(told(&list)[0].starts_with("line 2: column \"DC\" = 12.7: has no unit"), "{list:?}");
    let list = read("number,DC (mm),NOF\nK-1,12.7,4\n", &REST, None);
    assert_eq!(list.asked, [CutterColumn::Helix]);
    assert_eq!(
        told(&list),
        ["nothing says the helix of the cutters; add a column \"helix\", or say it for all"]
    );
    let list = read("number,DC (mm),NOF,FHA,price\nK-1,12.7,4,30,9\n", &REST, None);
    assert!(told(&list)[0].starts_with("line 1: column \"price\": nothing of that name is kept"));
}

/// A comma within a cell, as in 12,7 mm, makes one cell too many; nothing of it is dropped.
#[test]
fn a_cell_without_a_heading_is_told() {
    for (text, cell) in [
        ("number,DC (mm),NOF,FHA\nK-1,12,7,4,30\n", "cell 5\" = 30"),
        ("number,DC (mm),NOF,,FHA\nK-1,12.7,4,old,30\n", "cell 4\" = old"),
    ] {
        let list = read(text, &REST, None);
        assert!(list.cutters.is_empty());
        let all = told(&list).join("\n");
        assert!(all.contains(cell) && all.contains("it stands below no heading"), "{all}");
    }
    assert_eq!(told(&read("number,DC (mm),NOF,FHA\nK-1,12.7,4,30,,\n", &REST, None)), [""; 0]);
}

#[test]
fn every_problem_has_its_line_and_column() {
    let text =
        "number,DC (mm),NOF,FHA\nK-1,12.7,four,30\n\n# a remark\nk-1,12.7,4,80\nK-2,0.1,4,30\n";
    let list = read(text, &REST, None);
    assert_eq!(told(&list).len(), 3, "{:?}", told(&list));
    assert!(told(&list)[0].starts_with("line 2: column \"NOF\" = four: not a whole number"));
    assert!(told(&list)[1].starts_with("line 5: column \"FHA\" = 80 deg"), "{:?}", told(&list));
    assert!(told(&list)[2].starts_with("line 6: column \"DC (mm)\" = 0.1 mm"), "{:?}", told(&list));
    let twice = read("number,DC (mm),NOF,FHA\nK-1,12.7,4,30\nk-1,12.7,4,30\n", &REST, None);
    assert_eq!(
        told(&twice),
        ["line 3: column \"number\" = k-1: stands on line 2 too; give each cutter its own number"]
    );
    let double = read("number,DC (mm),dia (mm),NOF,FHA\nK-1,12.7,12.7,4,30\n", &REST, None);
    assert!(told(&double)[0].contains("a second column for the diameter"));
    let unit = read("number,DC (cm),NOF (mm),FHA\nK-1,1.27,4,30\n", &REST, None);
    assert!(told(&unit)[0].contains("not a unit of length"));
    assert!(told(&unit)[1].contains("no lengths stand in this column"));
}

#[test]
fn a_list_has_bounds() {
    let empty = read_cutters(b"", None, &Said::default());
    assert!(told(&empty)[0].starts_with("the list is empty"));
    let long = vec![b'a'; FILE_BYTES_MAX + 1];
    assert!(told(&read_cutters(&long, None, &Said::default()))[0].contains("far longer"));
    let many = "number\n".to_owned() + &"K\n".repeat(11_000);
    assert!(told(&read_cutters(many.as_bytes(), None, &Said::default()))[0].contains("more than"));
    let latin = read_cutters(&[b'a', 0xe4, b','], None, &Said::default());
    assert!(told(&latin)[0].contains("UTF-8"));
    let broken = read_cutters(b"PK\x03\x04 and nothing more", None, &Said::default());
    assert!(told(&broken)[0].contains("no whole workbook"));
}

#[test]
fn a_small_workbook_cannot_fill_the_memory() {
    let mut archive = zip::ZipWriter::new(Cursor::new(Vec::new()));
    let options = zip::write::SimpleFileOptions::default()
        .compression_method(zip::CompressionMethod::Deflated);
    archive.start_file("xl/workbook.xml", options).unwrap();
    let nothing = vec![0_u8; 1 << 20];
    (0..80).for_each(|_| archive.write_all(&nothing).unwrap());
    let bytes = archive.finish().unwrap().into_inner();
    assert!(bytes.len() < 200_000);
    let list = read_cutters(&bytes, None, &Said::default());
    assert!(told(&list)[0].contains("far larger than a list"), "{:?}", told(&list));
}

#[test]
fn words_cannot_become_formulas() {
    let table = table(&[cutter("=1+1")], System::Inch);
    assert!(table_csv(&table).lines().nth(1).unwrap().starts_with("'=1+1,"));
}

/// A workbook with these rows.
fn workbook_with(rows: &str) -> Vec<u8> {
    let main = "http://schemas.openxmlformats.org/spreadsheetml/2006/main";
    let sheet = format!("<worksheet xmlns=\"{main}\"><sheetData>{rows}</sheetData></worksheet>");
    workbook_of(sheet.as_bytes())
}

/// Found by trials with odd input: the reader of workbooks stumbles over such a place.
#[test]
fn a_place_that_no_sheet_has_is_refused_and_stops_nothing() {
    let sound = "<row r=\"1\"><c r=\"A1\" t=\"str\"><v>number</v></c></row>";
    let list = read_cutters(&workbook_with(sound), None, &Said::default());
    assert!(told(&list).iter().any(|told| told.contains("no line below the headings")), "{list:?}");
    for place in ["Coheetml", "ZZZZZZZZ1", "A99999999999", "A0", "1", "É1", ""] {
        let rows = format!("<row><c r=\"{place}\" t=\"str\"><v>number</v></c></row>");
        let list = read_cutters(&workbook_with(&rows), None, &Said::default());
        assert!(!told(&list).is_empty() && list.cutters.is_empty(), "{place}");
    }
}

/// A hundred thousand cells in one place would be moved aside for one another until somebody's
/// patience is over.
#[test]
fn the_same_place_again_and_again_is_no_list() {
    let cell = "<c r=\"A1\" t=\"str\"><v>number</v></c>";
    let rows = format!("<row r=\"1\">{}</row>", cell.repeat(60_000));
    let list = read_cutters(&workbook_with(&rows), None, &Said::default());
    assert!(told(&list)[0].contains("more than one list holds"), "{:?}", told(&list)[0]);
}

#[test]
fn no_problem_is_longer_than_a_person_reads() {
    let long = "x".repeat(100_000);
    let list = read(&format!("{long},NOF\nK-1,{long}\n"), &REST, Some("mm"));
    assert!(!list.problems.is_empty());
    assert!(told(&list).iter().all(|told| told.len() < 1_500), "{:?}", told(&list)[0].len());
}

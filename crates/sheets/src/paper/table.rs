//! Tables: columns side by side, rows that wrap, the headings again on every page.

use kurbo::{Point, Rect};

use super::flow::{Flow, SMALL, pencil_box};
use super::words::wrapped;
use crate::scene::{Anchor, Face, Weight, Words};

/// What a column holds.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(super) enum Holds {
    /// Words from the left.
    Words,
    /// Words in bold, from the left.
    Bold,
    /// Figures, to the right.
    Figures,
    /// An empty box for a figure in pencil, wherever its cell is not empty.
    Pencil,
}

/// A column of a table.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(super) struct Column {
    pub(super) heading: &'static str,
    /// Its share of the width.
    pub(super) share: f64,
    pub(super) size_mm: f64,
    pub(super) holds: Holds,
}

impl Column {
    pub(super) const fn new(heading: &'static str, share: f64, size_mm: f64) -> Self {
        Self { heading, share, size_mm, holds: Holds::Words }
    }

    pub(super) const fn holding(self, holds: Holds) -> Self {
        Self { holds, ..self }
    }

    const fn face(&self) -> Face {
        match self.holds {
            Holds::Bold => Face::Bold,
            _ => Face::Plain,
        }
    }
}

/// Between columns, and above and below what stands in a row.
const GAP: f64 = 2.0;
const PAD: f64 = 0.7;

/// The least height of a row with a box in it, so that a pencil has room.
const PENCIL_MM: f64 = 6.4;

/// Writes a table below what is written. Where a page is full the next one begins with the
/// headings again.
pub(super) fn table<'a>(flow: &mut Flow<'a>, columns: &'a [Column], rows: &[Vec<String>]) {
    if rows.is_empty() {
        return;
    }
    let first = rows.first().map_or(0.0, |row| height(flow, columns, row));
    flow.need(first + 2.0 * flow.line_mm(SMALL));
    headings(flow, columns);
    flow.repeat(Some(Box::new(|flow: &mut Flow<'a>| headings(flow, columns))));
    for row in rows {
        draw(flow, columns, row);
    }
    flow.repeat(None);
}

/// Left end and width of each column.
fn places(flow: &Flow<'_>, columns: &[Column]) -> Vec<(f64, f64)> {
    let whole: f64 = columns.iter().map(|column| column.share).sum();
    let room = flow.width() - GAP * (columns.len().saturating_sub(1)) as f64;
    let mut x = flow.sides().0;
    let place = |column: &Column| {
        let wide = room * column.share / whole;
        let at = (x, wide);
        x += wide + GAP;
        at
    };
    columns.iter().map(place).collect()
}

fn headings(flow: &mut Flow<'_>, columns: &[Column]) {
    if columns.iter().all(|column| column.heading.is_empty()) {
        return;
    }
    let as_headings = |column: &Column| Column { size_mm: SMALL, ..*column };
    let heads: Vec<Column> = columns.iter().map(as_headings).collect();
    let heads: Vec<Column> = heads
        .into_iter()
        .map(|column| match column.holds {
            Holds::Figures => column,
            _ => column.holding(Holds::Words),
        })
        .collect();
    let cells: Vec<String> = columns.iter().map(|column| column.heading.to_owned()).collect();
    draw_cells(flow, &heads, &cells);
    flow.rule(Weight::Outline);
}

fn lines(flow: &Flow<'_>, column: &Column, wide: f64, cell: &str) -> Vec<String> {
    wrapped(cell, column.face(), flow.type_mm(column.size_mm), wide)
}

fn height(flow: &Flow<'_>, columns: &[Column], row: &[String]) -> f64 {
    let places = places(flow, columns);
    let cells = columns.iter().zip(&places).zip(row);
    let high = cells.map(|((column, (_, wide)), cell)| match column.holds {
        Holds::Pencil if cell.is_empty() => 0.0,
        Holds::Pencil => flow.sized(PENCIL_MM),
        _ if cell.is_empty() => 0.0,
        _ => lines(flow, column, *wide, cell).len() as f64 * flow.line_mm(column.size_mm),
    });
    high.fold(0.0, f64::max) + 2.0 * flow.sized(PAD)
}

fn draw(flow: &mut Flow<'_>, columns: &[Column], row: &[String]) {
    flow.need(height(flow, columns, row));
    draw_cells(flow, columns, row);
    flow.rule(Weight::Thin);
}

fn draw_cells(flow: &mut Flow<'_>, columns: &[Column], row: &[String]) {
    let (top, high) = (flow.y(), height(flow, columns, row));
    for ((column, place), cell) in columns.iter().zip(places(flow, columns)).zip(row) {
        if !cell.is_empty() {
            draw_cell(flow, column, place, cell, (top, high));
        }
    }
    flow.set_y(top + high);
}

fn draw_cell(
    flow: &mut Flow<'_>,
    column: &Column,
    (x, wide): (f64, f64),
    cell: &str,
    (top, high): (f64, f64),
) {
    let pad = flow.sized(PAD);
    if column.holds == Holds::Pencil {
        let area = Rect::new(x, top + pad, x + wide, top + high - pad);
        return pencil_box(flow.scene(), area);
    }
    let (size_mm, line_mm) = (flow.type_mm(column.size_mm), flow.line_mm(column.size_mm));
    let lines = lines(flow, column, wide, cell);
    // A single line stands in the middle of a row that others make high.
    let free = high - 2.0 * pad - line_mm * lines.len() as f64;
    let from = top + pad + if lines.len() == 1 { 0.5 * free } else { 0.0 };
    for (row, line) in lines.into_iter().enumerate() {
        let y = from + line_mm * (row as f64 + 1.0) - 0.32 * size_mm;
        let (anchor, x) = match column.holds {
            Holds::Figures => (Anchor::End, x + wide),
            _ => (Anchor::Start, x),
        };
        let words = Words::starting(Point::new(x, y), size_mm, line);
        flow.scene().text(Words { anchor, face: column.face(), ..words });
    }
}

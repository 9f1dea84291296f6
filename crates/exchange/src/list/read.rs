//! A list of cutters, read: sound records and everything that is wrong, by line and column.

use std::collections::BTreeMap;

use geometry::{Angle, Length};
use shop::book::key;
use shop::record::{
    AsGround, Cutter, CutterDraft, EndForm, Hand, Profile, RecordError, Special, ToolMaterial,
};

use super::column::{CutterColumn, STANDS, spaced};
use super::grid::{Cell, Row, read_grid};
use super::mapping::{MappedColumn, Meaning, Said, is_unit, map};
use super::problem::{ListProblem, problem};
use super::value::{Wrong, angle, angles, choice, count, flag, is_plain_angle, length, words};

/// A cutter with its line.
#[derive(Clone, Debug, PartialEq)]
pub struct ListedCutter {
    /// The line of the file or the row of the sheet.
    pub line: usize,
    /// The record.
    pub cutter: Cutter,
    /// Where it stood in the shop that wrote the list, where a column says so.
    pub stands: Option<String>,
}

/// A list of cutters as it was read.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct CutterList {
    /// What each column is taken for.
    pub columns: Vec<MappedColumn>,
    /// Facts that no column has and that were said for all.
    pub said: BTreeMap<CutterColumn, String>,
    /// Facts that every cutter needs, that no column has and nobody has said.
    pub asked: Vec<CutterColumn>,
    /// The cutters that are sound.
    pub cutters: Vec<ListedCutter>,
    /// Rows below the headings.
    pub rows: usize,
    /// Everything that is wrong; while there is anything, nothing shall be kept.
    pub problems: Vec<ListProblem>,
}

/// Reads a list of cutters from CSV or from a workbook.
///
/// `sheet` names the sheet of a workbook that has several. Nothing is guessed: a length without a
/// unit, a heading that is not known and a fact that nobody gives are problems.
pub fn read_cutters(bytes: &[u8], sheet: Option<&str>, said: &Said) -> CutterList {
    let grid = match read_grid(bytes, sheet) {
        Ok(grid) => grid,
        Err(wrong) => {
            return CutterList { problems: vec![wrong.short()], ..CutterList::default() };
        }
    };
    let (header, rows) = (&grid.rows[0], &grid.rows[1..]);
    let (columns, mut problems) = map(header, said);
    problems.extend(unit_of_list(said));
    let reading = Reading { columns: &columns, said, comma: grid.has_decimal_comma };
    let asked = reading.asked();
    problems.extend(asked.iter().map(|column| {
        let or_for_all = if *column == CutterColumn::Number { "" } else { ", or say it for all" };
        let right = format!("add a column \"{}\"{or_for_all}", column.field());
        problem(format!("nothing says the {} of the cutters", column.words()), right)
    }));
    let mut list = CutterList { asked, rows: rows.len(), problems, ..CutterList::default() };
    if list.problems.is_empty() {
        rows.iter().for_each(|row| reading.take(row, &mut list));
        list.problems.extend(twice(&list.cutters));
    }
    if list.rows == 0 {
        list.problems.push(problem("there is no line below the headings", "write the cutters"));
    }
    let problems = list.problems.into_iter().map(ListProblem::short).collect();
    CutterList { said: said.facts.clone(), columns, problems, ..list }
}

fn unit_of_list(said: &Said) -> Option<ListProblem> {
    let unit = said.unit.as_ref().filter(|unit| !is_unit(unit))?;
    Some(problem(format!("{unit:?} is no unit of length"), "say mm, um, in or thou"))
}

/// Numbers are compared as the book compares them, without regard to capitals.
fn twice(cutters: &[ListedCutter]) -> Vec<ListProblem> {
    let mut first: BTreeMap<String, usize> = BTreeMap::new();
    let mut found = Vec::new();
    for one in cutters {
        let number = one.cutter.number();
        match first.get(&key(number)) {
            Some(line) => found.push(ListProblem {
                line: Some(one.line),
                column: CutterColumn::Number.field().to_owned(),
                value: number.to_owned(),
                ..problem(format!("stands on line {line} too"), "give each cutter its own number")
            }),
            None => drop(first.insert(key(number), one.line)),
        }
    }
    found
}

/// One reading of the rows.
struct Reading<'a> {
    columns: &'a [MappedColumn],
    said: &'a Said,
    comma: bool,
}

/// One row being read.
struct Line<'a> {
    reading: &'a Reading<'a>,
    row: &'a Row,
    wrong: Vec<ListProblem>,
}

impl Reading<'_> {
    fn mapped(&self, wanted: CutterColumn) -> Option<&MappedColumn> {
        self.columns
            .iter()
            .find(|one| matches!(&one.meaning, Meaning::Fact { column, .. } if *column == wanted))
    }

    fn stands(&self, row: &Row) -> Option<String> {
        let column = self.columns.iter().find(|one| spaced(&one.heading) == STANDS)?;
        let cell = row.cells.get(column.place).filter(|cell| **cell != Cell::Blank)?;
        Some(cell.shown())
    }

    fn is_told(&self, column: CutterColumn) -> bool {
        self.mapped(column).is_some() || self.said.facts.contains_key(&column)
    }

    fn asked(&self) -> Vec<CutterColumn> {
        let needed = CutterColumn::ALL.iter().copied().filter(|column| column.is_needed());
        let mut asked: Vec<_> = needed.filter(|column| !self.is_told(*column)).collect();
        let says_end = self.is_told(CutterColumn::End) || self.is_told(CutterColumn::CornerRadius);
        asked.extend((!says_end).then_some(CutterColumn::End));
        asked
    }

    fn take(&self, row: &Row, list: &mut CutterList) {
        let mut line = Line { reading: self, row, wrong: Vec::new() };
        line.check_surplus();
        let draft = line.draft();
        if line.wrong.is_empty() {
            match draft.build() {
                Ok(cutter) => {
                    let stands = self.stands(row);
                    list.cutters.push(ListedCutter { line: row.line, cutter, stands });
                }
                Err(errors) => {
                    let told = errors.into_iter().map(|error| line.violated(error));
                    let told: Vec<_> = told.collect();
                    line.wrong.extend(told);
                }
            }
        }
        list.problems.extend(line.wrong);
    }
}

impl Line<'_> {
    /// A cell without a heading belongs nowhere: most often a comma within a cell made it.
    fn check_surplus(&mut self) {
        let is_headed = |at: usize| self.reading.columns.iter().any(|column| column.place == at);
        let mut cells = self.row.cells.iter().enumerate();
        let found = cells.find(|(at, cell)| **cell != Cell::Blank && !is_headed(*at));
        if let Some((at, cell)) = found {
            let right = "give it a heading, or put a cell that holds a comma in quotation marks";
            self.wrong.push(ListProblem {
                line: Some(self.row.line),
                column: format!("cell {}", at + 1),
                value: cell.shown(),
                ..problem("it stands below no heading", right)
            });
        }
    }

    /// The cell of a column, or what was said for all; none where neither says anything.
    fn cell(&self, column: CutterColumn) -> Option<Cell> {
        let place = self.reading.mapped(column).map(|one| one.place);
        let own = place.and_then(|place| self.row.cells.get(place)).cloned();
        own.filter(|cell| *cell != Cell::Blank)
            .or_else(|| self.reading.said.facts.get(&column).cloned().map(Cell::Text))
    }

    fn unit(&self, column: CutterColumn) -> Option<String> {
        match self.reading.mapped(column).map(|one| &one.meaning) {
            Some(Meaning::Fact { unit, .. }) => unit.clone(),
            _ => self.reading.said.unit.clone(),
        }
    }

    fn heading(&self, column: CutterColumn) -> String {
        self.reading
            .mapped(column)
            .map_or_else(|| column.field().to_owned(), |one| one.heading.clone())
    }

    fn blame(&mut self, column: CutterColumn, value: String, wrong: Wrong) {
        let (line, column) = (Some(self.row.line), self.heading(column));
        self.wrong.push(ListProblem { line, column, value, ..wrong });
    }

    /// A value, where there is one.
    fn maybe<T>(
        &mut self,
        column: CutterColumn,
        read: impl Fn(&Cell) -> Result<T, Wrong>,
    ) -> Option<T> {
        let cell = self.cell(column)?;
        match read(&cell) {
            Ok(value) => Some(value),
            Err(wrong) => {
                self.blame(column, cell.shown(), wrong);
                None
            }
        }
    }

    /// A value that must be there; a stand-in after the problem was noted.
    fn need<T>(
        &mut self,
        column: CutterColumn,
        stand_in: T,
        read: impl Fn(&Cell) -> Result<T, Wrong>,
    ) -> T {
        if self.cell(column).is_none() {
            let right = format!("write the {}", column.words());
            self.blame(column, String::new(), problem("empty", right));
            return stand_in;
        }
        self.maybe(column, read).unwrap_or(stand_in)
    }

    fn need_length(&mut self, column: CutterColumn) -> Length {
        let (unit, comma) = (self.unit(column), self.reading.comma);
        self.need(column, Length::from_mm(1.0), |cell| length(cell, unit.as_deref(), comma))
    }

    fn maybe_length(&mut self, column: CutterColumn) -> Option<Length> {
        let (unit, comma) = (self.unit(column), self.reading.comma);
        self.maybe(column, |cell| length(cell, unit.as_deref(), comma))
    }

    fn need_angle(&mut self, column: CutterColumn) -> Angle {
        let comma = self.reading.comma && is_plain_angle(self.unit(column).as_deref());
        self.need(column, Angle::ZERO, |cell| angle(cell, comma))
    }

    /// An angle that may be missing.
    fn maybe_angle(&mut self, column: CutterColumn) -> Option<Angle> {
        let comma = self.reading.comma && is_plain_angle(self.unit(column).as_deref());
        self.maybe(column, |cell| angle(cell, comma))
    }

    /// An angle for each tooth; empty where nothing says them.
    fn angles(&mut self, column: CutterColumn) -> Vec<Angle> {
        let comma = self.reading.comma;
        self.maybe(column, |cell| angles(cell, comma)).unwrap_or_default()
    }

    /// What few cutters have.
    fn special(&mut self) -> Special {
        Special {
            index: self.angles(CutterColumn::Index),
            tooth_helix: self.angles(CutterColumn::ToothHelix),
            taper: self.maybe_angle(CutterColumn::Taper).unwrap_or(Angle::ZERO),
        }
    }

    fn draft(&mut self) -> CutterDraft {
        use CutterColumn as C;
        let helix = self.need_angle(C::Helix);
        CutterDraft {
            number: self.need(C::Number, String::new(), words),
            diameter: self.need_length(C::Diameter),
            teeth: self.need(C::Teeth, 4, count),
            hand: self.need(C::Hand, Hand::Right, choice),
            helix,
            helix_hand: self.maybe(C::HelixHand, choice),
            rake: self.need_angle(C::Rake),
            material: self.need(C::Material, ToolMaterial::HighSpeedSteel, choice),
            end: self.end(),
            profile: self.need(C::Profile, Profile::Plain, choice),
            flute_length: self.need_length(C::FluteLength),
            overall_length: self.need_length(C::OverallLength),
            shank_diameter: self.need_length(C::ShankDiameter),
            core_diameter: self.maybe_length(C::CoreDiameter),
            tooth_thickness: self.maybe_length(C::ToothThickness),
            centre_cutting: self.maybe(C::CentreCutting, flag).unwrap_or(false),
            coating: self.maybe(C::Coating, words),
            work: self.maybe(C::Work, words).unwrap_or_else(|| "any".to_owned()),
            regrinds: self.maybe(C::Regrinds, count).unwrap_or(0),
            unequal_index: self.maybe(C::UnequalIndex, flag),
            as_ground: self.as_ground(),
            end_teeth: None,
            special: self.special(),
        }
    }

    /// A radius of nothing is a square end; without a word on the end it is what the radius says.
    fn end(&mut self) -> EndForm {
        let radius = self.maybe_length(CutterColumn::CornerRadius);
        let name = self.maybe(CutterColumn::End, words);
        let rounded = |radius: Length| match radius {
            Length::ZERO => EndForm::Square,
            radius => EndForm::CornerRadius(radius),
        };
        match (name.as_deref().map(str::to_lowercase).as_deref(), radius) {
            (Some("square"), None | Some(Length::ZERO)) => EndForm::Square,
            (Some("ball"), None) => EndForm::Ball,
            (Some("corner radius") | None, Some(radius)) => rounded(radius),
            (None, None) => {
                self.blame_end("empty", "write square, ball or corner radius");
                EndForm::Square
            }
            (Some("corner radius"), None) => {
                self.blame_end("its radius is missing", "write it under corner_radius");
                EndForm::Square
            }
            (Some("square" | "ball"), Some(_)) => {
                self.blame_end("it has no corner radius", "leave the radius out, or the end");
                EndForm::Square
            }
            (Some(_), _) => {
                self.blame_end("not a form of end", "write square, ball or corner radius");
                EndForm::Square
            }
        }
    }

    fn blame_end(&mut self, message: &str, right: &str) {
        let value = self.cell(CutterColumn::End).map_or_else(String::new, |cell| cell.shown());
        self.blame(CutterColumn::End, value, problem(message, right));
    }

    /// The last grind, which is known in full or not at all.
    fn as_ground(&mut self) -> Option<AsGround> {
        use CutterColumn as C;
        let parts = [C::GroundDiameter, C::GroundPrimary, C::GroundSecondary, C::GroundLand];
        if parts.iter().all(|part| self.cell(*part).is_none()) {
            return None;
        }
        Some(AsGround {
            diameter: self.need_length(C::GroundDiameter),
            primary: self.need_angle(C::GroundPrimary),
            secondary: self.need_angle(C::GroundSecondary),
            land: self.need_length(C::GroundLand),
            next_primary: None,
        })
    }

    /// A fact of the record that is violated, under the heading it came from.
    fn violated(&self, error: RecordError) -> ListProblem {
        let column = CutterColumn::ALL.iter().find(|column| column.field() == error.field);
        ListProblem {
            line: Some(self.row.line),
            column: column.map_or(error.field, |column| self.heading(*column)),
            value: error.value,
            message: error.fact,
            right: error.right,
        }
    }
}

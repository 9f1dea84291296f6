//! The set-up sheet: one page to be read at arm's length, with boxes for what was really set.

use geometry::Length;
use kurbo::{Point, Rect};
use shop::plan::{Peripheral, PlanCaution, PlanStep, RegrindPlan, Route, SetupItem, SetupLine};

use super::flow::{BODY, Flow, HEADING, MARK, ROOMY_LEAST, SMALL, fitted, pencil_box};
use super::table::{Column, Holds, table};
use super::{Imprint, Pages, setup_check, setup_grind};
use crate::drawing::tooth_small;
use crate::scene::{Face, Words};
use crate::text::{
    Units, between_in_words, by_group, changed, clearance_in_words, describe, reading,
    relief_in_words, room_in_words, taper_in_words, tight_in_words, unlike_in_words,
    wheel_in_words,
};

/// The steps by which a sheet is set smaller until it is one page.
const SHRINKS: [f64; 9] = [1.0, 0.96, 0.92, 0.88, 0.84, 0.8, 0.76, 0.72, ROOMY_LEAST];
/// The further steps of a sheet that shall be one page, the figures of which stay large. They are
/// narrow, so that its words are as large as the page has room for.
const ONE_PAGE: [f64; 14] =
    [0.7, 0.69, 0.68, 0.67, 0.66, 0.65, 0.64, 0.63, 0.62, 0.6, 0.58, 0.56, 0.53, 0.5];

/// What stands at the foot.
pub(super) const CLOSING: &str = "A plan and a record, no promise: fitness to run is for the \
                                  person at the machine to judge.";

/// Columns of the set-up.
const COLUMNS: [Column; 5] = [
    Column::new("set", 25.0, 3.2).holding(Holds::Bold),
    Column::new("mark", 40.0, MARK).holding(Holds::Bold),
    Column::new("within", 15.0, 2.8),
    Column::new("how", 80.0, SMALL),
    Column::new("as set", 22.0, BODY).holding(Holds::Pencil),
];

/// What a sheet says of a part of the work that has pages of its own.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub enum Elsewhere {
    /// It is not part of the work.
    #[default]
    No,
    /// It has pages of its own.
    Planned,
    /// It is asked for and not planned, for this reason.
    NotPlanned(String),
}

/// What of the work stands on other pages than the set-up sheet.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct OtherPages {
    /// The end, or the ball.
    pub end: Elsewhere,
    /// The face.
    pub face: Elsewhere,
    /// Whether the end is gashed before anything else.
    pub gash_first: bool,
}

/// The plan as one page, set as much smaller as it must: its words first no smaller than those of
/// other sheets, then down to the least there is, its figures never below what is read at arm's
/// length. What one page does not hold even so is two. No word is lost.
pub fn setup_sheet(plan: &RegrindPlan, others: &OtherPages, imprint: &Imprint) -> Pages {
    let units = units(imprint);
    let written = |shrink: f64| Sheet { plan, others, imprint, units }.write(shrink);
    let roomy = fitting(written);
    let one_page = || ONE_PAGE.into_iter().map(written).find(|pages| pages.scenes().len() == 1);
    if roomy.scenes().len() > 1 { one_page().unwrap_or(roomy) } else { roomy }
}

/// The largest setting with which a sheet has no more pages than it must.
pub(super) fn fitting(written: impl Fn(f64) -> Pages) -> Pages {
    let smallest = written(SHRINKS[SHRINKS.len() - 1]);
    let least = smallest.scenes().len();
    let larger = SHRINKS.into_iter().map(&written);
    larger.into_iter().find(|pages| pages.scenes().len() == least).unwrap_or(smallest)
}

pub(super) const fn units(imprint: &Imprint) -> Units {
    Units { system: imprint.system, both: false }
}

/// A sheet and what it is written from.
struct Sheet<'a> {
    plan: &'a RegrindPlan,
    others: &'a OtherPages,
    imprint: &'a Imprint,
    units: Units,
}

impl Sheet<'_> {
    fn write(&self, shrink: f64) -> Pages {
        let cutter = &self.plan.request.cutter;
        let title = format!("SET-UP SHEET {}", cutter.number());
        let about = describe(cutter, self.units);
        let machine = self.plan.request.machine.name();
        let description = format!("Set-up sheet of cutter {}: {about}.", cutter.number());
        let mut flow = Flow::new(self.imprint, title, description, CLOSING).shrunk(shrink);
        flow.strong(3.3, &format!("{about}, at {machine}"));
        self.verdict(&mut flow);
        self.elsewhere(&mut flow);
        self.cautions(&mut flow, &[PlanStep::Arrive]);
        if let Some(work) = &self.plan.peripheral {
            self.work(&mut flow, work);
        }
        self.cautions(&mut flow, &[PlanStep::HandBack]);
        flow.finish()
    }

    /// What of the work stands on other pages, said before any of it is begun.
    fn elsewhere(&self, flow: &mut Flow<'_>) {
        let too = if self.plan.peripheral.is_some() { " too" } else { "" };
        for (name, part) in [("FACE", &self.others.face), ("END", &self.others.end)] {
            let words = match part {
                Elsewhere::No => continue,
                Elsewhere::Planned => {
                    format!("THE {name} is ground{too}: its set-up stands on a sheet of its own.")
                }
                Elsewhere::NotPlanned(why) => {
                    format!("THE {name} is asked for and NOT PLANNED here: {}.", in_short(why))
                }
            };
            flow.skip(0.8);
            flow.strong(BODY, &words);
        }
        if self.others.gash_first {
            flow.strong(BODY, "GASH FIRST, as the sheet of the end says: then what stands here.");
        }
    }

    fn verdict(&self, flow: &mut Flow<'_>) {
        let (verdict, stock, units) = (&self.plan.verdict, &self.plan.stock, self.units);
        flow.skip(0.8);
        flow.strong(HEADING, &verdict.route.name().to_uppercase());
        let dull = units.length(stock.dull_diameter);
        let mut words = format!(
            "Original edge {}, over dull edges {dull}.",
            units.length(stock.sharp_diameter.value)
        );
        if let Some(view) = verdict.chosen().filter(|view| view.route != Route::Scrap) {
            if let Some(after) = view.diameter_after {
                words += &format!(" It becomes {}: {}.", units.length(after), view.reason);
                words += &self.by_the_marks(after);
            }
        } else {
            words = format!("{}. {words}", verdict.in_words());
        }
        if verdict.cut_back.mm() > 0.0 {
            words += &format!(" First cut {} off the end.", units.length(verdict.cut_back));
        }
        flow.paragraph(BODY, &words);
        let remarks = stock.remarks.iter().chain(&verdict.remarks).chain(&self.plan.wanted.remarks);
        remarks.for_each(|remark| flow.marked("*", SMALL, remark));
    }

    /// What the dial's marks make of the size, where that reads otherwise.
    fn by_the_marks(&self, after: Length) -> String {
        let made = self.plan.peripheral.as_ref().map(|work| work.expected.diameter);
        let made = made.map(|made| self.units.length(made));
        let other = made.filter(|made| *made != self.units.length(after));
        other.map_or_else(String::new, |made| format!(" The dial's marks make it {made}."))
    }

    fn work(&self, flow: &mut Flow<'_>, work: &Peripheral) {
        flow.together(|flow| {
            flow.heading("1  Wheel", 10.0);
            wheel_in_words(work, self.units).iter().for_each(|line| flow.paragraph(BODY, line));
            self.cautions(flow, &[PlanStep::Wheel, PlanStep::True]);
        });
        flow.together(|flow| self.set_up(flow, work));
        flow.together(|flow| {
            flow.heading("3  Grind", 20.0);
            setup_grind::primary(flow, work, self.units);
            self.cautions(flow, &[PlanStep::Grind]);
        });
        flow.together(|flow| self.secondary(flow, work));
        self.around(flow, work);
        flow.together(|flow| self.check(flow, work));
    }

    fn set_up(&self, flow: &mut Flow<'_>, work: &Peripheral) {
        flow.heading("2  Set up", 20.0);
        flow.strong(BODY, &format!("{}.", relief_in_words(self.plan, work, self.units)));
        // What the rest stands on is no setting: it stands in a line below, with the room.
        let is_stand = |line: &&SetupLine| line.item == SetupItem::RestStand;
        set_up_table(flow, work.setup.iter().filter(|line| !is_stand(line)), self.units);
        let stand = work
            .setup
            .iter()
            .find(is_stand)
            .map_or_else(String::new, |line| format!("Rest {}: {}. ", line.how, line.why));
        let room = room_in_words(&work.room, self.units);
        flow.skip(0.5);
        flow.paragraph(SMALL, &format!("{stand}{room}"));
        let tight = tight_in_words(&work.room, self.units);
        if !tight.is_empty() {
            flow.marked("!", SMALL, &format!("{}.", tight.join(". ")));
        }
        self.cautions(flow, &[PlanStep::SetUp]);
    }

    fn secondary(&self, flow: &mut Flow<'_>, work: &Peripheral) {
        flow.heading("4  Secondary", 14.0);
        if by_group(work).next().is_some() {
            setup_grind::group_secondaries(flow, self.plan, work, self.units);
            return;
        }
        if let Some(words) = between_in_words(work) {
            flow.marked("!", SMALL, &words);
        }
        if work.secondary.grinding.is_some() {
            let words = clearance_in_words(self.plan, &work.secondary.stanced);
            flow.strong(BODY, &format!("{words}."));
            set_up_table(flow, changed(&work.secondary, work), self.units);
        }
        setup_grind::secondary(flow, work, self.units);
    }

    /// What changes from tooth to tooth and along a taper, run together so that the sheet stays one
    /// page.
    fn around(&self, flow: &mut Flow<'_>, work: &Peripheral) {
        let mut part = |name: &str, lines: Vec<String>, remarks: &[String]| {
            flow.skip(0.5);
            flow.paragraph(SMALL, &format!("{name}: {}", lines.join(" ")));
            if !remarks.is_empty() {
                flow.marked("*", SMALL, &remarks.join("; "));
            }
        };
        if let Some(unlike) = &work.unlike {
            part("TEETH", unlike_in_words(unlike, self.units), &unlike.remarks);
        }
        if let Some(cone) = &work.cone {
            part("TAPER", taper_in_words(cone, self.units), &cone.remarks);
        }
    }

    /// What to read, beside the picture of the tooth.
    fn check(&self, flow: &mut Flow<'_>, work: &Peripheral) {
        let picture = tooth_small(self.plan, self.imprint.system);
        let high = picture.as_ref().map_or(0.0, |picture| picture.paper().height());
        flow.heading("5  Check", high.max(30.0));
        let (top, (left, right)) = (flow.y(), flow.sides());
        let mut split = right;
        if let Some(picture) = &picture {
            split = right - picture.paper().width() - 4.0;
            flow.scene().lay(picture, Point::new(split + 4.0, top));
            flow.scene().part("sheet");
        }
        let teeth = self.plan.request.cutter.teeth();
        setup_check::readings(flow, work, teeth, self.units, (left, split));
        flow.set_y(flow.y().max(top + high));
        self.cautions(flow, &[PlanStep::Check]);
    }

    /// The cautions of some steps in a few words, run together.
    fn cautions(&self, flow: &mut Flow<'_>, steps: &[PlanStep]) {
        let at_step = |caution: &&PlanCaution| steps.contains(&caution.step);
        let cautions = self.plan.cautions.iter().filter(at_step);
        let texts: Vec<&str> = cautions.filter_map(|caution| caution.short.as_deref()).collect();
        if !texts.is_empty() {
            flow.skip(0.5);
            flow.marked("!", SMALL, &texts.join(" "));
        }
    }
}

/// A reason without what follows from it: what a refusal holds in its brackets, else all up to the
/// first semicolon.
fn in_short(why: &str) -> &str {
    let rule = why.strip_prefix("refused (").and_then(|rest| rest.split_once(')'));
    let words = rule.map_or_else(|| why.split(';').next().unwrap_or(why), |(rule, _)| rule);
    words.trim_end_matches('.')
}

/// Lines of a set-up as a table, with a box beside each mark.
pub(super) fn set_up_table<'l>(
    flow: &mut Flow<'_>,
    lines: impl Iterator<Item = &'l SetupLine>,
    units: Units,
) {
    let rows: Vec<Vec<String>> = lines.map(|line| row(line, units)).collect();
    table(flow, &COLUMNS, &rows);
    flow.skip(0.8);
}

/// One line of the set-up as a row.
fn row(line: &SetupLine, units: Units) -> Vec<String> {
    let mark = match &line.dial {
        Some(dial) => reading(dial),
        None => line.value.map(|value| units.amount(value)).unwrap_or_default(),
    };
    let within = line.tolerance.map(|tolerance| format!("±{}", units.tolerance(tolerance)));
    let how = match &line.dial {
        Some(dial) => format!("on the {}: {}: {}", dial.axis, line.how, line.why),
        None => format!("{}: {}", line.how, line.why),
    };
    let pencil = if mark.is_empty() { String::new() } else { "box".to_owned() };
    vec![line.item.name().to_owned(), mark, within.unwrap_or_default(), how, pencil]
}

/// What stands in a box: a figure or a name, and a note at its foot.
#[derive(Clone, Debug, PartialEq)]
pub(super) struct Cell {
    words: String,
    size_mm: f64,
    note: String,
}

impl Cell {
    pub(super) const fn new(words: String, size_mm: f64) -> Self {
        Self { words, size_mm, note: String::new() }
    }

    pub(super) fn noted(self, note: &str) -> Self {
        Self { note: note.to_owned(), ..self }
    }

    fn draw(&self, flow: &mut Flow<'_>, area: Rect) {
        pencil_box(flow.scene(), area);
        let (room, size) = (area.width() - 2.0, flow.type_mm(self.size_mm));
        let words = fitted(&self.words, Face::Bold, size, room);
        let at = Point::new(area.x0 + 1.0, area.y0 + 0.6 + 0.95 * size);
        flow.scene().text(Words { at, ..words });
        if !self.note.is_empty() {
            let note = fitted(&self.note, Face::Plain, flow.type_mm(SMALL), room);
            let at = Point::new(area.x0 + 1.0, area.y1 - flow.sized(0.9));
            flow.scene().text(Words { at, ..note });
        }
    }
}

/// Boxes side by side between two sides, on as many rows as they need.
pub(super) fn boxes(
    flow: &mut Flow<'_>,
    cells: &[Cell],
    (left, right): (f64, f64),
    (wide, high): (f64, f64),
) {
    // Type has a least size, and a box must hold it.
    let type_mm = |cell: &Cell| {
        let note = if cell.note.is_empty() { 0.0 } else { flow.type_mm(SMALL) };
        1.25 * flow.type_mm(cell.size_mm) + 1.1 * note + 1.5
    };
    let gap = 1.4;
    let least = cells.iter().map(type_mm).fold(0.0, f64::max) + gap;
    let high = flow.sized(high).max(least);
    let per_row = (((right - left) / wide).floor() as usize).max(1);
    for row in cells.chunks(per_row) {
        flow.need(high);
        let top = flow.y();
        for (at, cell) in row.iter().enumerate() {
            let x = left + wide * at as f64;
            cell.draw(flow, Rect::new(x, top, x + wide - gap, top + high - gap));
        }
        flow.set_y(top + high);
    }
}

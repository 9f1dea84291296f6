//! The description of a machine: question by question, or as its whole file.
//!
//! Both give the text of a machine's file, which one reader reads. What the questions gave can be
//! looked at as a file, and a sound file can be gone through question by question.

use geometry::System;
use shop::plan::system_of;
use shop::record::{Coolant, FingerKind, Fixture, Machine, Named, NutThread, RestStand, Rotation};

use super::machine_axes::{groups, order, order_sent};
use crate::files::{FileProblem, FileProblems, machine_text, read_machine};
use crate::web::form::{Choice, Entries, Field, Form, Group, Kind};

/// The name of the field with the whole file.
const FILE: &str = "_file";

/// Rows that stand open for speeds and for fingers, beyond those that are filled in.
const OPEN_ROWS: usize = 2;
/// Rows there are at least.
const SPEEDS_MIN: usize = 6;
const FINGERS_MIN: usize = 3;

/// A description on its way into the book.
pub(super) struct Description {
    pub(super) form: Form,
    pub(super) is_file: bool,
}

/// A machine that was read, with the text that is kept of it.
pub(super) struct Described {
    pub(super) machine: Machine,
    pub(super) text: String,
}

impl Description {
    /// Open questions.
    pub(super) fn questions(action: &str, system: System) -> Self {
        let form = questions(action, system, &order(std::iter::empty()), [0, 0]);
        Self { form, is_file: false }
    }

    /// The questions, answered from a machine.
    pub(super) fn of(action: &str, machine: &Machine) -> Self {
        let roles = order(machine.axes().iter().map(|axis| axis.role()));
        let rows = [machine.spindle().speeds().len(), machine.rest().fingers().len()];
        let system = system_of(machine.cross_feed().graduation);
        let form = questions(action, system, &roles, rows).load(&machine_text(machine));
        Self { form, is_file: false }
    }

    /// The whole file.
    pub(super) fn file(action: &str, text: &str) -> Self {
        let file = Field::new(Kind::Lines, FILE, "The machine's file").value(text);
        let form = Form::new(action, SUBMIT).group(Group::new("", vec![file]));
        Self { form, is_file: true }
    }

    /// What was sent.
    pub(super) fn sent(action: &str, entries: &Entries) -> Self {
        if entries.has(FILE) {
            let text = entries.get(FILE).replace("\r\n", "\n");
            let mut file = Self::file(action, &text);
            file.form.system = entries.shown_in().unwrap_or(System::Millimetre);
            return file;
        }
        let rows = ["spindle.speed", "rest.finger"].map(|list| {
            let is_sent = |at: &usize| {
                ["rpm", "name"].iter().any(|key| entries.has(&format!("{list}[{at}].{key}")))
            };
            (0..ROWS_MAX).take_while(is_sent).count().saturating_sub(OPEN_ROWS)
        });
        let form = questions(action, System::Millimetre, &order_sent(entries), rows).fill(entries);
        Self { form, is_file: false }
    }

    /// The machine that was described; where there is none, the form says why.
    pub(super) fn read(&mut self) -> Option<Described> {
        let text = self.text();
        let name = if self.is_file { "this file" } else { "this form" };
        match read_machine(name, &text) {
            // A hand's own file is kept as it was written, with its comments.
            Ok(machine) if self.is_file => Some(Described { machine, text }),
            Ok(machine) => Some(Described { text: machine_text(&machine), machine }),
            Err(problems) if self.is_file => {
                self.form.problems.extend(problems.problems().iter().map(by_line));
                None
            }
            Err(problems) => {
                self.blame(&problems);
                None
            }
        }
    }

    /// The same description in the other form. A file that cannot be read stays one and says why.
    pub(super) fn turned(mut self, action: &str) -> Self {
        if !self.is_file {
            let text = self.text();
            let text = read_machine("", &text).map_or(text, |machine| machine_text(&machine));
            return Self::file(action, &text);
        }
        match self.read() {
            Some(described) => Self::of(action, &described.machine),
            None => self,
        }
    }

    fn text(&self) -> String {
        if !self.is_file {
            return without_idle(&self.form).toml();
        }
        let file = self.form.fields().find(|field| field.name == FILE);
        format!("{}\n", file.map(|field| field.value.trim_end()).unwrap_or_default())
    }

    fn blame(&mut self, problems: &FileProblems) {
        self.form.blame(problems);
    }
}

/// The word on the button.
const SUBMIT: &str = "That is the machine";

/// More rows than any machine has.
const ROWS_MAX: usize = 60;

/// A problem with the line of the file that it stands in.
fn by_line(problem: &FileProblem) -> String {
    let line = problem.line.map(|line| format!("line {line}: ")).unwrap_or_default();
    let key = match (problem.key.as_str(), &problem.value) {
        ("", _) => String::new(),
        (key, Some(value)) => format!("{key} = {value}: "),
        (key, None) => format!("{key}: "),
    };
    format!("{line}{key}{}; {}", problem.message, problem.right)
}

fn questions(
    action: &str,
    system: System,
    roles: &[shop::record::AxisRole],
    [speeds, fingers]: [usize; 2],
) -> Form {
    let form = Form::new(action, SUBMIT)
        .shown_in(system)
        .group(Group::new("", whole()))
        .group(Group::new("Wheel spindle", spindle()))
        .group(speed_table((speeds + OPEN_ROWS).max(SPEEDS_MIN)));
    let form = groups(roles).into_iter().fold(form, Form::group);
    form.group(Group::new("What holds the work", holding()))
        .group(Group::new("Tooth rest", vec![stands_on()]))
        .group(finger_table((fingers + OPEN_ROWS).max(FINGERS_MIN)))
}

fn whole() -> Vec<Field> {
    vec![
        Field::text("machine.name", "What do you call this machine?").needed(),
        Field::named::<Coolant>("machine.coolant", "Is it run wet or dry?"),
        Field::flag("machine.extraction", "Dust or mist is drawn off"),
    ]
}

fn spindle() -> Vec<Field> {
    let turns = Rotation::ALL.iter().map(|rotation| Choice::plain(rotation.name())).collect();
    let threads = NutThread::ALL.iter().map(|thread| match thread {
        NutThread::Either => Choice::new(thread.name(), "either: keyed or collared"),
        thread => Choice::plain(thread.name()),
    });
    vec![
        Field::choice("spindle.nut_thread", "Thread of the wheel's nut", threads.collect()),
        Field::new(Kind::Several(turns), "spindle.rotation", "Which ways can it turn?")
            .hint("seen by somebody who looks at the nut"),
        Field::text("spindle.nut_end", "Which end of the spindle carries the wheel?")
            .needed()
            .hint("right, left, or both, in words"),
        Field::length("spindle.flange_diameter", "Widest part beside the wheel")
            .hint("flange, nut or spindle"),
    ]
}

fn speed_table(rows: usize) -> Group {
    let row = |at: usize| {
        let key = |name: &str| format!("spindle.speed[{at}].{name}");
        let label = |what: &str| format!("speed {}, {what}", at + 1);
        [Field::count(key("rpm"), label("rpm")), Field::text(key("belt"), label("belt"))]
    };
    let columns = ["Revolutions per minute", "Belt or switch"].map(str::to_owned).to_vec();
    Group::new("Its speeds", (0..rows).flat_map(row).collect())
        .words("Every speed that the belt or the switch gives.")
        .table(columns, numbered(rows))
}

fn numbered(rows: usize) -> Vec<String> {
    (1..=rows).map(|row| row.to_string()).collect()
}

fn holding() -> Vec<Field> {
    let fixtures = [
        Fixture::AirSpindle { psi: 0 },
        Fixture::ColletFixture,
        Fixture::Centres,
        Fixture::IndexHead,
    ];
    let fixtures = fixtures.map(|fixture| Choice::plain(fixture.name())).to_vec();
    vec![
        Field::choice("work_holding.fixture", "What carries the cutter?", fixtures),
        Field::count("work_holding.psi", "Air pressure, psi").hint("of an air spindle only"),
        Field::length("work_holding.shank_min", "Thinnest shank it holds").needed(),
        Field::length("work_holding.shank_max", "Thickest shank it holds").needed(),
        Field::text("work_holding.squaring", "What is it squared by?")
            .needed()
            .hint("an edge, a key, a test bar; in words"),
        Field::length("work_holding.centre_height", "Height of the centres above the table")
            .hint("where it is known"),
        Field::length("work_holding.longest", "Longest cutter between centres")
            .hint("where it is known"),
        Field::count("work_holding.ratio", "Turns of the crank for one of the work")
            .hint("of an index head only; most often 40"),
        Field::new(Kind::Counts, "work_holding.circles", "Holes in its circles")
            .hint("of an index head only: 15, 16, 17"),
        Field::new(Kind::Counts, "work_holding.direct", "Notches of its direct plates")
            .hint("of an index head only: 24"),
        Field::length("work_holding.nose_diameter", "Thickest part of its nose")
            .hint("collet nut or dog, which the wheel must clear"),
    ]
}

fn stands_on() -> Field {
    Field::named::<RestStand>("rest.stands_on", "What does the rest stand on?")
        .hint("a helical tooth needs its rest where the wheel is")
}

fn finger_table(rows: usize) -> Group {
    let row = |at: usize| {
        let key = |name: &str| format!("rest.finger[{at}].{name}");
        let label = |what: &str| format!("finger {}, {what}", at + 1);
        [
            Field::text(key("name"), label("name")),
            Field::length(key("width"), label("width")),
            Field::named::<FingerKind>(key("kind"), label("kind")).value("plain"),
        ]
    };
    let columns = ["What you call it", "Width of its edge", "Kind"].map(str::to_owned).to_vec();
    Group::new("Fingers of the rest", (0..rows).flat_map(row).collect())
        .words("Those that fit this rest; one at least.")
        .table(columns, numbered(rows))
}

/// Without what other answers leave no room for, and without ranges that are left open: a range is
/// a row of two, of which an open place would be an answer too.
fn without_idle(form: &Form) -> Form {
    let mut form = form.clone();
    let has_air =
        form.field("work_holding.fixture").is_some_and(|field| field.value == "air spindle");
    let divides =
        form.field("work_holding.fixture").is_some_and(|field| field.value == "index head");
    let idle =
        [("psi", !has_air), ("ratio", !divides), ("circles", !divides), ("direct", !divides)];
    for (key, _) in idle.into_iter().filter(|(_, is_idle)| *is_idle) {
        if let Some(field) = form.field(&format!("work_holding.{key}")) {
            field.value.clear();
        }
    }
    for group in &mut form.groups {
        let typed: Vec<String> = group.fields.iter().filter_map(typed_range).collect();
        group.fields.retain(|field| {
            range_of(&field.name).is_none_or(|range| typed.iter().any(|typed| typed == range))
        });
    }
    form
}

/// The key of the range whose end a field is, where something is typed into it.
fn typed_range(field: &Field) -> Option<String> {
    let range = range_of(&field.name).filter(|_| !field.value.trim().is_empty())?;
    Some(range.to_owned())
}

/// The key of the range whose end is so named.
fn range_of(name: &str) -> Option<&str> {
    let (range, _) = name.rsplit_once('[')?;
    range.ends_with(".range").then_some(range)
}

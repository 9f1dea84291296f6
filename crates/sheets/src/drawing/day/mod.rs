//! A day's work as a picture: hours along the top, a row for each cutter.

mod row;

use kurbo::Point;

use super::frame::LEFT;
use super::leaf::{RIGHT, SMALL, all_broken, counted, leaf, lines_mm, listed, set, set_lines};
use crate::scene::{Scene, Weight, Words};

use row::{ROWS_TOP, Row};

/// A day's work as it is drawn.
#[derive(Clone, Debug, PartialEq)]
pub struct Day {
    /// The date in plain words.
    pub date: String,
    /// The cutters on which something was done, in the order in which they are shown.
    pub cutters: Vec<DayCutter>,
}

/// What was done on one cutter.
#[derive(Clone, Debug, PartialEq)]
pub struct DayCutter {
    /// The shop's own number for it.
    pub number: String,
    /// What was done, in any order.
    pub steps: Vec<DayStep>,
}

/// One thing that was done.
#[derive(Clone, Debug, PartialEq)]
pub struct DayStep {
    /// What.
    pub kind: DayStepKind,
    /// When, in minutes after midnight; a time past the day's end is shown at its end.
    pub minute: u32,
    /// Who, by initials.
    pub by: String,
}

/// The kinds of step on a cutter's way through the shop.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash, PartialOrd, Ord)]
pub enum DayStepKind {
    /// It came in.
    Received,
    /// Its regrind was planned.
    Planned,
    /// It was ground.
    Ground,
    /// What the wheel left was checked.
    Checked,
    /// It went back with its tag.
    HandedBack,
}

impl DayStepKind {
    /// Every kind, in the order of the work.
    pub const ALL: [Self; 5] =
        [Self::Received, Self::Planned, Self::Ground, Self::Checked, Self::HandedBack];

    /// What it is called.
    pub const fn name(self) -> &'static str {
        match self {
            Self::Received => "received",
            Self::Planned => "planned",
            Self::Ground => "ground",
            Self::Checked => "checked",
            Self::HandedBack => "handed back",
        }
    }
}

/// Minutes of a day.
const DAY_MIN: u32 = 24 * 60;

/// The least number of hours that is shown, so that a single mark does not fill the leaf.
const HOURS_MIN: u32 = 4;

/// Left and right end of the hours.
const HOURS_X: (f64, f64) = (34.0, 160.0);

/// Where the hours' figures stand, and their lines begin.
const HOURS_Y: f64 = 29.0;

/// The legend's line.
const LEGEND_Y: f64 = 20.0;

/// The hours that are shown.
#[derive(Clone, Copy, Debug, PartialEq)]
struct Hours {
    first: u32,
    last: u32,
}

impl Hours {
    fn of(day: &Day) -> Self {
        let minutes = || day.cutters.iter().flat_map(|c| &c.steps).map(|s| s.minute.min(DAY_MIN));
        let Some((from, to)) = minutes().min().zip(minutes().max()) else {
            return Self { first: 8, last: 16 };
        };
        let (mut first, mut last) = (from / 60, to.div_ceil(60));
        while last - first < HOURS_MIN {
            if last < 24 { last += 1 } else { first = first.saturating_sub(1) }
        }
        Self { first, last }
    }

    /// Where a time stands.
    fn x(self, minute: u32) -> f64 {
        let minute = f64::from(minute.min(DAY_MIN));
        let (first, last) = (f64::from(self.first * 60), f64::from(self.last * 60));
        HOURS_X.0 + (minute - first) / (last - first) * (HOURS_X.1 - HOURS_X.0)
    }

    fn draw(self, scene: &mut Scene, foot: f64) {
        scene.part("hours");
        let step = if self.last - self.first > 14 { 2 } else { 1 };
        for hour in self.first..=self.last {
            let x = self.x(hour * 60);
            if (hour - self.first).is_multiple_of(step) {
                scene.text(Words::about((x, HOURS_Y), SMALL, hour.to_string()));
            }
            scene.line(Point::new(x, HOURS_Y + 1.6), Point::new(x, foot), Weight::Thin);
        }
    }
}

/// The day's work: for each cutter a row with a mark for every step, who did it, and a bar from
/// its grinding until it was handed back.
pub fn day_view(day: &Day) -> Scene {
    let hours = Hours::of(day);
    let mut rows: Vec<Row<'_>> = Vec::new();
    for cutter in &day.cutters {
        let top = rows.last().map_or(ROWS_TOP, Row::foot);
        rows.push(Row::of(cutter, hours, top));
    }
    let foot = rows.last().map_or(ROWS_TOP + 6.0, Row::foot);
    let totals = all_broken(&totals(day));
    let words_y = foot + 7.0;
    let height_mm = words_y + lines_mm(&totals);
    let note = "hours along the top; each mark with the initials of who did it";
    let heading = format!("The work of {}", day.date);
    let mut scene = leaf(&heading, note, description(day), height_mm);
    draw_legend(&mut scene);
    hours.draw(&mut scene, foot);
    rows.iter().for_each(|row| row.draw(&mut scene));
    draw_foot(&mut scene, foot);
    scene.part("totals");
    set_lines(&mut scene, Point::new(LEFT, words_y), &totals);
    scene
}

fn draw_foot(scene: &mut Scene, foot: f64) {
    scene.part("foot");
    scene.line(Point::new(LEFT, foot), Point::new(RIGHT, foot), Weight::Outline);
}

fn draw_legend(scene: &mut Scene) {
    scene.part("legend");
    let mut x = LEFT + row::MARK_MM;
    for kind in DayStepKind::ALL {
        row::draw_mark(scene, Point::new(x, LEGEND_Y - 0.36 * SMALL), kind);
        let words = Words::starting((x + row::MARK_MM + 1.0, LEGEND_Y), SMALL, kind.name());
        x = words.bounds().x1 + row::MARK_MM + 3.4;
        scene.text(words);
    }
    row::draw_bar(scene, (x, x + 9.0), LEGEND_Y - 0.36 * SMALL);
    let room = RIGHT - x - 10.4;
    set(scene, Words::starting((x + 10.4, LEGEND_Y), SMALL, "in hand"), room);
}

fn count(day: &Day, kind: DayStepKind) -> u32 {
    let steps = day.cutters.iter().flat_map(|cutter| &cutter.steps);
    steps.filter(|step| step.kind == kind).count() as u32
}

/// The totals of the day, each on lines of its own.
fn totals(day: &Day) -> Vec<String> {
    let cutters = counted(day.cutters.len() as u32, "cutter", "cutters");
    let each = DayStepKind::ALL.map(|kind| format!("{} {}", kind.name(), count(day, kind)));
    let mut words = vec![format!("{cutters}: {}.", each.join(", "))];
    let open: Vec<String> =
        day.cutters.iter().filter(|c| c.is_open()).map(|c| c.number.clone()).collect();
    if !open.is_empty() {
        words.push(format!("Ground and not yet handed back: {}.", listed(&open)));
    }
    let mut people: Vec<(&str, u32)> = Vec::new();
    for step in day.cutters.iter().flat_map(|cutter| &cutter.steps) {
        match people.iter_mut().find(|(who, _)| *who == step.by) {
            Some((_, steps)) => *steps += 1,
            None => people.push((&step.by, 1)),
        }
    }
    people.sort_unstable();
    let people: Vec<String> = people
        .iter()
        .map(|(who, steps)| format!("{who} {}", counted(*steps, "step", "steps")))
        .collect();
    if !people.is_empty() {
        words.push(format!("By initials: {}.", people.join(", ")));
    }
    words
}

/// A time of day as a clock shows it.
fn clock(minute: u32) -> String {
    let minute = minute.min(DAY_MIN);
    format!("{}:{:02}", minute / 60, minute % 60)
}

/// Every row in words, then the totals.
fn description(day: &Day) -> String {
    let cutter = |cutter: &DayCutter| {
        let steps = cutter.in_order();
        let each = steps.iter().map(|s| format!("{} {} {}", s.kind.name(), clock(s.minute), s.by));
        format!("{}: {}.", cutter.number, each.collect::<Vec<_>>().join(", "))
    };
    let rows: Vec<String> = day.cutters.iter().map(cutter).collect();
    format!("The work of {}. {} {}", day.date, rows.join(" "), totals(day).join(" "))
}

impl DayCutter {
    fn in_order(&self) -> Vec<&DayStep> {
        let mut steps: Vec<&DayStep> = self.steps.iter().collect();
        steps.sort_by_key(|step| (step.minute, step.kind));
        steps
    }

    fn first(&self, kind: DayStepKind) -> Option<u32> {
        self.steps.iter().filter(|step| step.kind == kind).map(|step| step.minute).min()
    }

    /// When it was first ground, and when it was handed back after that.
    fn in_hand(&self) -> (Option<u32>, Option<u32>) {
        let ground = self.first(DayStepKind::Ground);
        let back = self.steps.iter().filter(|step| step.kind == DayStepKind::HandedBack);
        let after = back.map(|step| step.minute).filter(|at| ground.is_none_or(|from| *at >= from));
        (ground, after.max())
    }

    /// Whether it was ground and has not been handed back.
    fn is_open(&self) -> bool {
        matches!(self.in_hand(), (Some(_), None))
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn day(minutes: &[u32]) -> Day {
        let step = |minute: &u32| DayStep {
            kind: DayStepKind::Ground,
            minute: *minute,
            by: "AB".to_owned(),
        };
        let steps = minutes.iter().map(step).collect();
        let cutter = DayCutter { number: "K-1".to_owned(), steps };
        Day { date: "a day".to_owned(), cutters: vec![cutter] }
    }

    #[test]
    fn hours_hold_every_time_and_are_never_few() {
        let hours = |minutes: &[u32]| {
            let hours = Hours::of(&day(minutes));
            (hours.first, hours.last)
        };
        assert_eq!(hours(&[7 * 60 + 40, 16 * 60 + 5]), (7, 17));
        assert_eq!(hours(&[9 * 60]), (9, 13));
        assert_eq!(hours(&[23 * 60 + 30]), (20, 24));
        assert_eq!(hours(&[]), (8, 16));
        assert_eq!(hours(&[4000]), (20, 24));
    }

    #[test]
    fn clocks_have_two_digits_of_minutes() {
        assert_eq!([485, 1440, 0].map(clock), ["8:05", "24:00", "0:00"]);
    }
}

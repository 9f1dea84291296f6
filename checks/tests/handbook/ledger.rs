//! The one way in for every check, and the account that it leaves.

use trade::Tables;

/// How much a source is worth as a witness.
#[derive(Clone, Copy, Debug)]
pub(crate) enum Grade {
    /// A handbook's or a manual's table or worked example.
    B,
    /// A general-purpose library.
    C,
    /// An own derivation of high precision.
    D,
}

impl Grade {
    const fn letter(self) -> char {
        match self {
            Self::B => 'B',
            Self::C => 'C',
            Self::D => 'D',
        }
    }
}

/// What a number must be.
#[derive(Clone, Copy, Debug)]
enum Wanted {
    /// As printed, to half of its last place or to a width that its row says the reason of.
    Near { printed: f64, within: f64 },
    /// More than that: a trend, or a control that must fail the table.
    Above(f64),
    /// Less than that.
    Below(f64),
}

#[derive(Clone, Debug)]
struct Row {
    what: String,
    wanted: Wanted,
    because: Option<&'static str>,
    got: f64,
}

impl Row {
    /// By how many tolerances the number misses, and whether that is let pass. A number that is
    /// none is never let pass.
    fn verdict(&self) -> (f64, bool) {
        match self.wanted {
            Wanted::Near { printed, within } => {
                let share = (self.got - printed).abs() / within;
                (share, share <= 1.0)
            }
            Wanted::Above(limit) => (0.0, self.got > limit),
            Wanted::Below(limit) => (0.0, self.got < limit),
        }
    }

    /// Its miss in its own unit.
    fn miss(&self) -> f64 {
        match self.wanted {
            Wanted::Near { printed, .. } => (self.got - printed).abs(),
            Wanted::Above(_) | Wanted::Below(_) => 0.0,
        }
    }
}

/// One published table or worked example with all that was found against it.
#[derive(Clone, Debug)]
pub(crate) struct Topic {
    title: &'static str,
    source: &'static str,
    part: &'static str,
    grade: Grade,
    unit: &'static str,
    rows: Vec<Row>,
}

impl Topic {
    /// A topic: what is checked, the id of its source in the bibliography (or its title, where it
    /// is not in there), the part of it and how that was read, its grade, and the unit of its
    /// numbers.
    pub(crate) fn new(
        title: &'static str,
        (source, part): (&'static str, &'static str),
        grade: Grade,
        unit: &'static str,
    ) -> Self {
        Self { title, source, part, grade, unit, rows: Vec::new() }
    }

    fn row(
        mut self,
        what: impl Into<String>,
        wanted: Wanted,
        because: Option<&'static str>,
        got: f64,
    ) -> Self {
        self.rows.push(Row { what: what.into(), wanted, because, got });
        self
    }

    /// A printed number; `within` is half of its last place, or the error that its method states.
    pub(crate) fn near(self, what: impl Into<String>, printed: f64, within: f64, got: f64) -> Self {
        self.row(what, Wanted::Near { printed, within }, None, got)
    }

    /// A printed number that is let pass by more than half of its last place, and the reason.
    pub(crate) fn widened(
        self,
        what: impl Into<String>,
        (printed, within): (f64, f64),
        because: &'static str,
        got: f64,
    ) -> Self {
        self.row(what, Wanted::Near { printed, within }, Some(because), got)
    }

    /// A number that must be larger.
    pub(crate) fn above(self, what: impl Into<String>, limit: f64, got: f64) -> Self {
        self.row(what, Wanted::Above(limit), None, got)
    }

    /// A number that must be smaller.
    pub(crate) fn below(self, what: impl Into<String>, limit: f64, got: f64) -> Self {
        self.row(what, Wanted::Below(limit), None, got)
    }

    /// Every pair of neighbours must fall.
    pub(crate) fn falling(self, what: &str, values: &[f64]) -> Self {
        values.windows(2).fold(self, |topic, pair| {
            topic.below(format!("{what}: {} before it", pair[0]), pair[0], pair[1])
        })
    }
}

/// What one topic adds to the account.
#[derive(Clone, Debug)]
pub(crate) struct Record {
    topic: &'static str,
    source: String,
    grade: char,
    rows: usize,
    worst: String,
}

impl Record {
    /// Its line in the table.
    pub(crate) fn line(&self) -> String {
        let Self { topic, source, grade, rows, worst } = self;
        format!("| {topic} | {source} | {grade} | {rows} | {worst} |\n")
    }
}

/// Holds a topic to what its source says, and accounts for it.
pub(crate) fn check(topic: &Topic) -> Record {
    let failed: Vec<String> = topic.rows.iter().filter(|row| !row.verdict().1).map(told).collect();
    assert!(failed.is_empty(), "{}, {}:\n{}", topic.title, topic.part, failed.join("\n"));
    assert!(!topic.rows.is_empty(), "{} checks nothing", topic.title);
    Record {
        topic: topic.title,
        source: format!("{}, {}", title_of(topic.source), topic.part),
        grade: topic.grade.letter(),
        rows: topic.rows.len(),
        worst: worst(topic),
    }
}

fn told(row: &Row) -> String {
    let width = row.because.map_or_else(String::new, |because| format!(" ({because})"));
    format!("  {}: {:?}{width}, got {}", row.what, row.wanted, row.got)
}

/// The title under which the bibliography knows a source. One that no formula and no row uses
/// does not stand there, and is told here in words instead.
fn title_of(source: &'static str) -> &'static str {
    if source.contains(' ') {
        return source;
    }
    let tables = Tables::bundled().expect("the bundled tables can be read");
    let listed = tables.source(source);
    &listed.expect("every check names a source of the bibliography").title
}

/// The worst row: in its unit and in tolerances, to two figures. What is below a fiftieth of its
/// tolerance is rounding and interpolation, which may differ from machine to machine.
fn worst(topic: &Topic) -> String {
    let shares = topic.rows.iter().filter(|row| matches!(row.wanted, Wanted::Near { .. }));
    let worst = shares.map(|row| (row.verdict().0, row.miss()));
    match worst.max_by(|one, other| one.0.total_cmp(&other.0)) {
        None => "holds".to_owned(),
        Some((share, _)) if share < 0.02 => format!("0 {}", topic.unit),
        Some((share, miss)) => {
            format!("{} {}, {} of the tolerance", figures(miss), topic.unit, figures(share))
        }
    }
}

/// A number to two significant figures, without an exponent.
fn figures(value: f64) -> String {
    let places = (1.0 - value.abs().max(1e-12).log10().floor()).max(0.0) as usize;
    format!("{value:.places$}")
}

#[test]
#[should_panic(expected = "off")]
fn a_miss_fails() {
    let topic = Topic::new("planted", ("own-derivation", "derived"), Grade::D, "mm");
    check(&topic.near("on", 1.0, 0.5, 1.5).near("off", 1.0, 0.5, 1.501));
}

#[test]
#[should_panic(expected = "none")]
fn a_number_that_is_none_fails() {
    let topic = Topic::new("planted", ("own-derivation", "derived"), Grade::D, "mm");
    check(&topic.near("none", 1.0, 0.5, f64::NAN));
}

#[test]
#[should_panic(expected = "of the bibliography")]
fn an_unknown_source_fails() {
    let topic = Topic::new("planted", ("hearsay", "somewhere"), Grade::D, "mm");
    check(&topic.near("on", 1.0, 0.5, 1.0));
}

#[test]
fn an_account_tells_the_worst_row() {
    let topic = Topic::new("planted", ("own-derivation", "derived"), Grade::D, "mm");
    let topic = topic.near("good", 1.0, 0.5, 1.01).widened("bad", (2.0, 0.1), "planted", 2.05);
    let record = check(&topic.falling("down", &[3.0, 2.0, 1.0]));
    assert_eq!(record.rows, 4);
    assert_eq!(record.worst, "0.050 mm, 0.50 of the tolerance");
}

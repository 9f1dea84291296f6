//! The tray as a list in working order: what is changed at the machine, then the cutters that are
//! ground in that set-up, with boxes to tick off.

use shop::tray::{Stop, TrayJob, TrayOrder, TraySetup};

use super::flow::{BODY, Flow};
use super::table::{Column, Holds, table};
use super::{Imprint, Pages};
use crate::text::Units;

/// A tray in its order.
#[derive(Clone, Copy, Debug)]
pub struct TrayList<'a> {
    /// What is ordered: the tray, or all that waits.
    pub name: &'a str,
    /// The machine.
    pub machine: &'a str,
    /// The cutters.
    pub jobs: &'a [TrayJob],
    /// What each cutter is, in the order of the jobs; may be shorter, and then says nothing.
    pub about: &'a [String],
    /// Their order.
    pub order: &'a TrayOrder,
}

/// Columns of the cutters.
const CUTTERS: [Column; 6] = [
    Column::new("", 10.0, BODY).holding(Holds::Figures),
    Column::new("cutter", 46.0, 4.2).holding(Holds::Bold),
    Column::new("what", 52.0, BODY),
    Column::new("to about", 26.0, 3.6).holding(Holds::Bold),
    Column::new("size after", 32.0, BODY).holding(Holds::Pencil),
    Column::new("done", 14.0, BODY).holding(Holds::Pencil),
];

/// Columns of those to decide on.
const FLAGGED: [Column; 3] = [
    Column::new("cutter", 46.0, 4.2).holding(Holds::Bold),
    Column::new("why", 108.0, BODY),
    Column::new("decided", 24.0, BODY).holding(Holds::Pencil),
];

/// The tray in working order.
pub fn tray_list(list: &TrayList<'_>, imprint: &Imprint) -> Pages {
    let title = format!("TRAY LIST {}", list.name);
    let order = list.order;
    let summary = format!(
        "{} cutters on {}, {} set-ups; changes take {:.0} min, as it lies {:.0} min.",
        list.jobs.len(),
        list.machine,
        order.stops.len(),
        order.minutes.minutes(),
        order.as_it_lies.minutes()
    );
    let closing = "Head and relief are those of practice and of the record; the plan of each \
                   cutter may move them by a mark.";
    let mut flow = Flow::new(imprint, title, summary.clone(), closing);
    flow.paragraph(3.4, &summary);
    flow.marked(
        "!",
        BODY,
        "Dull edges cut: lift cutters by the shank or in a rag. Nothing is ground by this list: \
         marks, sizes and cautions stand on the sheet of each cutter, which goes before it. Heads \
         are true angles here; the sheet has the mark of the head's own scale.",
    );
    flagged(&mut flow, list);
    let units = Units { system: imprint.system, both: false };
    let mut count = 0;
    for (at, stop) in order.stops.iter().enumerate() {
        count = one_stop(&mut flow, list, (at + 1, count), stop, units);
    }
    flow.finish()
}

fn job<'a>(list: &TrayList<'a>, place: usize) -> Option<&'a TrayJob> {
    list.jobs.get(place)
}

fn flagged(flow: &mut Flow<'_>, list: &TrayList<'_>) {
    let jobs = list.order.flagged.iter().filter_map(|place| job(list, *place));
    let row = |job: &TrayJob| {
        let why = job.will_not_clean_up.clone().unwrap_or_default();
        vec![job.number.clone(), why, "box".to_owned()]
    };
    let rows: Vec<Vec<String>> = jobs.map(row).collect();
    if !rows.is_empty() {
        flow.skip(1.5);
        flow.heading("Decide first", 18.0);
        table(flow, &FLAGGED, &rows);
    }
}

/// One set-up and its cutters, counted on from those before; gives the count after them.
fn one_stop(
    flow: &mut Flow<'_>,
    list: &TrayList<'_>,
    (number, before): (usize, usize),
    stop: &Stop,
    units: Units,
) -> usize {
    let places: Vec<usize> = stop.jobs.iter().copied().filter(|at| *at < list.jobs.len()).collect();
    let Some(first) = places.first().and_then(|place| job(list, *place)) else { return before };
    flow.skip(2.0);
    let changes: Vec<&str> = stop.changes.iter().map(|change| change.name()).collect();
    let changes = match changes.as_slice() {
        [] => "set up".to_owned(),
        some => format!("change {}: {:.0} min", some.join(", "), stop.minutes.minutes()),
    };
    flow.heading(&format!("Set-up {number}: {changes}"), 24.0);
    flow.paragraph(3.2, &setup_words(&first.setup));
    let row = |(at, place): (usize, &usize)| {
        let number = list.jobs[*place].number.clone();
        let about = list.about.get(*place).cloned().unwrap_or_default();
        let tick = "box".to_owned();
        let to = list.jobs[*place].size_after.map(|size| units.length(size)).unwrap_or_default();
        vec![(before + at + 1).to_string(), number, about, to, tick.clone(), tick]
    };
    let rows: Vec<Vec<String>> = places.iter().enumerate().map(row).collect();
    table(flow, &CUTTERS, &rows);
    before + places.len()
}

/// A set-up of a tray in one line of words, for the paper and for the terminal.
pub fn setup_words(setup: &TraySetup) -> String {
    let finger = match setup.rest_finger.as_str() {
        "" => String::new(),
        finger => format!(", finger \"{finger}\""),
    };
    format!(
        "wheel {}, {}, head {}{finger}, {}-hand, relief about {}",
        setup.wheel,
        setup.holding,
        setup.head_angle.show(),
        setup.hand.name(),
        setup.relief_setting.show()
    )
}

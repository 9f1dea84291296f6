//! The order of a tray as text.

use sheets::paper::setup_words;
use shop::tray::{Stop, TrayJob};

use super::order::Ordered;
use crate::cli::columns::Columns;

/// Columns that a line of numbers may take.
const WIDTH: usize = 96;

/// The whole order.
pub(super) fn order(ordered: &Ordered) -> String {
    let mut text = head(ordered);
    text += &flagged(ordered);
    for (at, stop) in ordered.order.stops.iter().enumerate() {
        text += &one_stop(at + 1, stop, &ordered.jobs);
    }
    text
}

fn head(ordered: &Ordered) -> String {
    let Ordered { tray, machine, jobs, order } = ordered;
    let name = tray.as_ref().map_or_else(|| "all that waits".to_owned(), |tray| tray.clone());
    let (count, stops) = (jobs.len(), order.stops.len());
    let how = if order.is_stopped {
        "stopped: the best so far".to_owned()
    } else if order.is_best() {
        "no order has less to change".to_owned()
    } else {
        format!("at most {:.1} % over the best", 100.0 * order.over_best_at_most())
    };
    let (minutes, lying) = (order.minutes.minutes(), order.as_it_lies.minutes());
    format!(
        "TRAY  {name}: {count} cutters on {machine}, {stops} set-ups\n\
         \x20     changes take {minutes:.0} min, as it lies {lying:.0} min; {how}\n"
    )
}

fn flagged(ordered: &Ordered) -> String {
    if ordered.order.flagged.is_empty() {
        return String::new();
    }
    let mut table = Columns::new(["", "", ""]);
    for job in ordered.order.flagged.iter().filter_map(|place| ordered.jobs.get(*place)) {
        let why = job.will_not_clean_up.clone().unwrap_or_default();
        table.row([" ".to_owned(), job.number.clone(), why]);
    }
    format!("DECIDE FIRST\n{}", table.text())
}

fn one_stop(number: usize, stop: &Stop, jobs: &[TrayJob]) -> String {
    let jobs: Vec<&TrayJob> = stop.jobs.iter().filter_map(|place| jobs.get(*place)).collect();
    let Some(first) = jobs.first() else { return String::new() };
    let changes: Vec<&str> = stop.changes.iter().map(|change| change.name()).collect();
    let changes = match changes.as_slice() {
        [] => "set up".to_owned(),
        some => format!("change {}: {:.0} min", some.join(", "), stop.minutes.minutes()),
    };
    let numbers: Vec<&str> = jobs.iter().map(|job| job.number.as_str()).collect();
    let planned = jobs.iter().filter(|job| job.by_plan).count();
    let by = match planned {
        0 => "by practice".to_owned(),
        all if all == jobs.len() => "as planned".to_owned(),
        some => format!("as planned for {some} of {}, else by practice", jobs.len()),
    };
    let setup = setup_words(&first.setup);
    format!("{number:>4}  {changes}\n      {setup} ({by})\n{}", wrapped(&numbers))
}

/// Numbers side by side on as many lines as they need.
fn wrapped(numbers: &[&str]) -> String {
    let mut lines = vec![String::new()];
    for number in numbers {
        let is_full = lines.last().is_some_and(|line| {
            !line.is_empty() && line.chars().count() + number.chars().count() + 8 > WIDTH
        });
        if is_full {
            lines.push(String::new());
        }
        if let Some(line) = lines.last_mut() {
            let comma = if line.is_empty() { "" } else { ", " };
            *line += &format!("{comma}{number}");
        }
    }
    lines.iter().map(|line| format!("      {line}\n")).collect()
}

//! `toothrest tray order`.

use std::collections::BTreeMap;
use std::ops::ControlFlow;
use std::sync::Arc;
use std::sync::atomic::{AtomicBool, Ordering};

use book::Book;
use geometry::{Angle, System};
use sheets::paper::{TrayList, tray_list};
use shop::book::event::TrayOrdered;
use shop::book::{Append, Event, Id, Store, SubjectKind, Summary};
use shop::record::{Cutter, Machine, Wheel};
use shop::tray::{
    ChangeTimes, OrderTray, Progress, Stage, TrayBench, TrayJob, TrayOrder, order_tray, tray_job,
};
use shop::{Ctx, ShopError};

use super::args::OrderArguments;
use super::told;
use crate::cli::failure::Failure;
use crate::cli::place::BookArguments;
use crate::cli::progress::Counted;
use crate::cli::shelf::{self, Waiting};
use crate::paper;
use crate::wire;

/// A tray in its order.
pub(crate) struct Ordered {
    /// The tray's name; none where all that waits was ordered.
    pub(crate) tray: Option<String>,
    pub(crate) machine: String,
    pub(crate) jobs: Vec<TrayJob>,
    pub(crate) order: TrayOrder,
}

pub(super) fn run(place: &BookArguments, asked: &OrderArguments) -> Result<String, Failure> {
    let order = async |book: &Book| {
        let tray = match &asked.tray {
            Some(name) => Some(tray(book, name).await?),
            None => None,
        };
        let cutters = shelf::waiting(book, tray.as_ref().map(|tray| &tray.subject.id)).await?;
        let name = tray.as_ref().map(|tray| tray.number.clone());
        let ordered = ordered(book, asked, name, &cutters).await?;
        if let (true, Some(tray)) = (asked.keep, &tray) {
            keep(book, asked, tray, &cutters, &ordered.order).await?;
        }
        let answer = serde_json::to_string_pretty(&wire::tray(&ordered))? + "\n";
        print(asked, &ordered, &cutters, &answer)?;
        Ok(if asked.json { answer } else { told::order(&ordered) })
    };
    if asked.keep { place.work(order) } else { place.read(order) }
}

/// Writes the list for the printer, where it is asked for.
fn print(
    asked: &OrderArguments,
    ordered: &Ordered,
    cutters: &[Waiting],
    answer: &str,
) -> Result<(), Failure> {
    let records = || cutters.iter().map(|cutter| &cutter.state.cutter);
    let system = records().next().map_or(System::Millimetre, Cutter::system);
    let about: Vec<String> = records().map(|record| paper::about(record, system)).collect();
    let name = ordered.tray.as_deref().unwrap_or("all that waits");
    asked.print.write(name, paper::of_answer(answer), system, |imprint| {
        let Ordered { machine, jobs, order, .. } = ordered;
        tray_list(&TrayList { name, machine, jobs, about: &about, order }, imprint)
    })
}

/// The tray of that name.
async fn tray(book: &Book, name: &str) -> Result<Summary, ShopError> {
    let found = book.find(SubjectKind::Tray, name).await?;
    found.ok_or_else(|| ShopError::NotFound { what: format!("tray {name:?}") })
}

async fn ordered(
    book: &Book,
    asked: &OrderArguments,
    tray: Option<String>,
    cutters: &[Waiting],
) -> Result<Ordered, Failure> {
    let (machine_id, machine) = shelf::machine(book, asked.machine.as_deref()).await?;
    let tables = shelf::tables(book).await?;
    let wheels = shelf::wheels(book).await?;
    let ctx = Ctx { tables: &tables };
    let jobs = jobs(&ctx, (&machine_id, &machine), wheels, cutters);
    let times = ChangeTimes::of_tables(&ctx)?;
    let angle_step = angle_step(&machine);
    let request = OrderTray { jobs, now: None, times, angle_step };
    let order = searched(&request)?;
    Ok(Ordered { tray, machine: machine.name().to_owned(), jobs: request.jobs, order })
}

/// Settings that differ by less than the head can be set are one.
fn angle_step(machine: &Machine) -> Angle {
    machine.head_swivel().finest()
}

fn jobs(
    ctx: &Ctx<'_>,
    (machine_id, machine): (&Id, &Machine),
    wheels: Vec<(Id, Wheel)>,
    cutters: &[Waiting],
) -> Vec<TrayJob> {
    let numbers: BTreeMap<Id, String> =
        wheels.iter().map(|(id, wheel)| (id.clone(), wheel.number().to_owned())).collect();
    let wheels: Vec<Wheel> = wheels.into_iter().map(|(_, wheel)| wheel).collect();
    let bench = TrayBench { machine, wheels: &wheels };
    let job = |cutter: &Waiting| {
        let wheel = |id: &Id| numbers.get(id).map(String::as_str);
        let kept = cutter.planned.as_ref().and_then(|plan| plan.kept(machine_id, wheel));
        tray_job(ctx, bench, &cutter.state.cutter, kept)
    };
    cutters.iter().map(job).collect()
}

/// Searches until it has the order, or until somebody presses Ctrl-C: then the best so far.
fn searched(request: &OrderTray) -> Result<TrayOrder, Failure> {
    let stopped = Arc::new(AtomicBool::new(false));
    let listener = tokio::spawn({
        let stopped = Arc::clone(&stopped);
        async move {
            if tokio::signal::ctrl_c().await.is_ok() {
                stopped.store(true, Ordering::Relaxed);
            }
        }
    });
    let bar = Counted::of("ordering", request.jobs.len());
    let mut tell = |progress: Progress| {
        bar.stand_at(words(progress.stage), progress.done, progress.of);
        match stopped.load(Ordering::Relaxed) {
            true => ControlFlow::Break(()),
            false => ControlFlow::Continue(()),
        }
    };
    let order = tokio::task::block_in_place(|| order_tray(request, &mut tell));
    bar.done();
    listener.abort();
    Ok(order?)
}

const fn words(stage: Stage) -> &'static str {
    match stage {
        Stage::FirstOrder => "a first order",
        Stage::Improving => "making it better",
        Stage::LowerBound => "how good it is",
    }
}

/// Keeps the order in the tray's history: those to decide on first, then set-up by set-up.
async fn keep(
    book: &Book,
    asked: &OrderArguments,
    tray: &Summary,
    cutters: &[Waiting],
    order: &TrayOrder,
) -> Result<(), Failure> {
    let stops = order.stops.iter().flat_map(|stop| &stop.jobs);
    let places = order.flagged.iter().chain(stops);
    let cutters = places.filter_map(|place| cutters.get(*place)).map(|cutter| cutter.id.clone());
    let events = vec![Event::TrayOrdered(TrayOrdered { cutters: cutters.collect() })];
    let (subject, seen) = (tray.subject.clone(), tray.seen);
    book.append(vec![Append { subject, seen, stamp: asked.writer.stamp()?, events }]).await?;
    Ok(())
}

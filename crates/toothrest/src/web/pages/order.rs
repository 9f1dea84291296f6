//! The order of work: what to decide on first, then set-up by set-up.

use std::sync::Arc;

use askama::Template;
use axum::extract::State;
use axum::response::Response;
use shop::tray::{Stop, TrayJob, TraySetup};

use crate::desk::{Asked, WorkOrder};
use crate::web::fault::Fault;
use crate::web::form::Entries;
use crate::web::jobs::Job;
use crate::web::page::{Frame, drawn, go_on};
use crate::web::state::Bench;
use crate::web::visit::Visit;

/// So many set-ups are shown; nobody grinds more in a week.
const STOPS_MAX: usize = 120;

#[derive(Template)]
#[template(path = "order.html")]
struct OrderPage {
    frame: Frame,
    machines: Vec<(String, String)>,
    /// The machine of the order that is shown.
    chosen: String,
    seen: u64,
    kept: usize,
    running: Option<u64>,
    shown: Option<Shown>,
}

/// An order as it stands on the page.
struct Shown {
    at: String,
    machine: String,
    count: usize,
    stops: usize,
    minutes: String,
    lying: String,
    how_good: String,
    flagged: Vec<(Cutter, String)>,
    steps: Vec<StopLine>,
    has_more: bool,
}

struct Cutter {
    id: String,
    number: String,
}

struct StopLine {
    changes: String,
    setup: Vec<(&'static str, String)>,
    cutters: Vec<Cutter>,
}

/// Shows the order that was worked out last.
pub(super) async fn show(State(bench): State<Bench>, visit: Visit) -> Result<Response, Fault> {
    let machines = visit.desk.documents(shop::book::SubjectKind::Machine).await?;
    let machines = machines.into_iter().map(|at| (at.subject.id.to_string(), at.state.name));
    let kept = visit.desk.kept_order().await?;
    let running = bench.jobs().last().filter(|job| job.is_running() && job.page == "/order");
    drawn(&OrderPage {
        machines: machines.collect(),
        chosen: visit.desk.worked_out().map(|order| order.machine.clone()).unwrap_or_default(),
        seen: kept.seen,
        kept: kept.places.len(),
        running: running.map(|job| job.number),
        shown: visit.desk.worked_out().map(|order| shown(&visit, &order)),
        frame: Frame::new(&visit, "tray", "Order of work"),
    })
}

fn shown(visit: &Visit, worked: &WorkOrder) -> Shown {
    let WorkOrder { order, jobs, .. } = worked;
    let how_good = if order.is_stopped {
        "stopped: the best so far".to_owned()
    } else if order.is_best() {
        "no order has less to change".to_owned()
    } else {
        format!("at most {:.1} % over the best", 100.0 * order.over_best_at_most())
    };
    let why = |job: &TrayJob| job.will_not_clean_up.clone().unwrap_or_default();
    let flagged = |place: &usize| Some((cutter(worked, *place)?, why(jobs.get(*place)?)));
    let steps = order.stops.iter().take(STOPS_MAX).filter_map(|stop| line(worked, stop));
    Shown {
        at: visit.zone.minute(worked.at),
        machine: worked.machine.clone(),
        count: jobs.len(),
        stops: order.stops.len(),
        minutes: format!("{:.0} min", order.minutes.minutes()),
        lying: format!("{:.0} min", order.as_it_lies.minutes()),
        how_good,
        flagged: order.flagged.iter().filter_map(flagged).collect(),
        steps: steps.collect(),
        has_more: order.stops.len() > STOPS_MAX,
    }
}

fn cutter(worked: &WorkOrder, place: usize) -> Option<Cutter> {
    let id = worked.cutters.get(place)?.to_string();
    Some(Cutter { id, number: worked.jobs.get(place)?.number.clone() })
}

fn line(worked: &WorkOrder, stop: &Stop) -> Option<StopLine> {
    let first = worked.jobs.get(*stop.jobs.first()?)?;
    let changes: Vec<&str> = stop.changes.iter().map(|change| change.name()).collect();
    let changes = match changes.as_slice() {
        [] => "Set up".to_owned(),
        some => format!("Change {}: {:.0} min", some.join(", "), stop.minutes.minutes()),
    };
    let cutters = stop.jobs.iter().filter_map(|place| cutter(worked, *place)).collect();
    Some(StopLine { changes, setup: setup(&first.setup), cutters })
}

fn setup(setup: &TraySetup) -> Vec<(&'static str, String)> {
    let all = [
        ("wheel", setup.wheel.clone()),
        ("held in", setup.holding.clone()),
        ("head", setup.head_angle.show().to_string()),
        ("finger", setup.rest_finger.clone()),
        ("hand", setup.hand.name().to_owned()),
        ("relief about", setup.relief_setting.show().to_string()),
    ];
    all.into_iter().filter(|(_, value)| !value.is_empty()).collect()
}

/// Begins to work an order out.
pub(super) async fn work_out(
    State(bench): State<Bench>,
    visit: Visit,
    entries: Entries,
) -> Result<Response, Fault> {
    let asked = Asked { machine: entries.get("machine").to_owned(), ..Asked::default() };
    let machine = visit.desk.machine(&asked).await?;
    let desk = visit.desk.clone();
    let what = ("Putting the work in order", "/order");
    let job = bench.jobs().begin(what, true, async move |job: Arc<Job>| {
        let tell = move |doing: &str, done: u64, of: u64| {
            job.tell(doing, Some((done, of)));
            !job.is_asked_to_stop()
        };
        let order = desk.work_out_order(&machine, tell).await?;
        let (cutters, stops) = (order.jobs.len(), order.order.stops.len());
        Ok(vec![format!("{cutters} cutters in {stops} set-ups.")])
    })?;
    Ok(go_on(&format!("/jobs/{}", job.number)))
}

/// Keeps it.
pub(super) async fn keep(visit: Visit, entries: Entries) -> Result<Response, Fault> {
    let by = visit.writer()?;
    visit.desk.keep_order(by, entries.seen().unwrap_or_default()).await?;
    Ok(go_on("/order"))
}

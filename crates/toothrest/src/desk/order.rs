//! The order of work: what waits, in such an order that the set-up is changed as little as may be.

use std::collections::BTreeMap;
use std::ops::ControlFlow;
use std::sync::Arc;

use shop::book::event::{Planned, TrayOpened, TrayOrdered};
use shop::book::{
    CutterState, Event, Id, Initials, Moment, Query, Stage, State, Store, Subject, SubjectKind,
    Summary, whole_list,
};
use shop::record::{Machine, Wheel};
use shop::tray::{ChangeTimes, OrderTray, Stage as Searching, TrayBench, TrayJob, TrayOrder};
use shop::tray::{order_tray, tray_job};
use shop::{Ctx, ShopError};
use trade::Tables;

use super::{Desk, DocumentAt, WheelAt, locked};
use crate::cli::Failure;
use crate::files::read_machine;

/// What the order of the whole bench is called among the trays.
pub(crate) const NAME: &str = "order of work";

/// An order as it was worked out.
pub(crate) struct WorkOrder {
    pub(crate) at: Moment,
    pub(crate) machine: String,
    /// The cutters, in the places that the order speaks of.
    pub(crate) cutters: Vec<Id>,
    pub(crate) jobs: Vec<TrayJob>,
    pub(crate) order: TrayOrder,
}

/// The order that was kept last.
#[derive(Clone, Debug, Default)]
pub(crate) struct KeptOrder {
    /// Its tray; none where none was kept yet.
    pub(crate) subject: Option<Subject>,
    pub(crate) seen: u64,
    /// The place of each cutter in it, from 1.
    pub(crate) places: BTreeMap<Id, usize>,
}

/// A cutter that waits.
struct Waiting {
    id: Id,
    state: CutterState,
    planned: Option<Planned>,
}

/// Told what is being done, how much of it is done and how much there is; answers whether to go on.
pub(crate) trait Tell: Fn(&str, u64, u64) -> bool + Send + Sync + 'static {}
impl<T: Fn(&str, u64, u64) -> bool + Send + Sync + 'static> Tell for T {}

impl Desk {
    /// Works out the order of all that waits on a machine, and remembers it.
    pub(crate) async fn work_out_order(
        &self,
        machine: &DocumentAt,
        tell: impl Tell,
    ) -> Result<Arc<WorkOrder>, Failure> {
        let waiting = self.waiting(&tell).await?;
        let wheels = self.wheels().await?;
        let tables = self.tables().await?;
        let machine = (machine.subject.id.clone(), paper_machine(machine)?);
        let at = self.now();
        let searched = tokio::task::spawn_blocking(move || {
            searched(at, &tables, &machine, &wheels, &waiting, &tell)
        });
        let order = searched.await.map_err(|error| ShopError::store("order the work", error))?;
        let order = Arc::new(order?);
        *locked(&self.order) = Some(order.clone());
        Ok(order)
    }

    /// The order that was worked out last, as long as the program runs.
    pub(crate) fn worked_out(&self) -> Option<Arc<WorkOrder>> {
        locked(&self.order).clone()
    }

    async fn waiting(&self, tell: &impl Tell) -> Result<Vec<Waiting>, ShopError> {
        let mut rows: Vec<Summary> = Vec::new();
        for stage in [Stage::Waiting, Stage::Planned] {
            let of = Query { stage: Some(stage), ..Query::of(SubjectKind::Cutter) };
            rows.extend(whole_list(self.book(), of).await?);
        }
        let mut waiting = Vec::new();
        for (done, row) in rows.iter().enumerate() {
            if !tell("reading", done as u64, rows.len() as u64) {
                break;
            }
            waiting.extend(self.waits(row).await?);
        }
        Ok(waiting)
    }

    async fn waits(&self, row: &Summary) -> Result<Option<Waiting>, ShopError> {
        let latest = self.latest_at(row).await?;
        let Some(State::Cutter(state)) = &latest.state else { return Ok(None) };
        let planned = match state.planned {
            Some(number) => Some(self.planned(&row.subject, number).await?),
            None => None,
        };
        let state = state.as_ref().clone();
        Ok(Some(Waiting { id: row.subject.id.clone(), state, planned }))
    }

    /// The order that was kept last.
    pub(crate) async fn kept_order(&self) -> Result<KeptOrder, ShopError> {
        let Some(row) = self.book().find(SubjectKind::Tray, NAME).await? else {
            return Ok(KeptOrder::default());
        };
        let latest = self.latest_at(&row).await?;
        let Some(State::Tray(tray)) = &latest.state else { return Ok(KeptOrder::default()) };
        let places = tray.order.iter().cloned().zip(1..).collect();
        Ok(KeptOrder { subject: Some(row.subject), seen: latest.seen, places })
    }

    /// Keeps the order that was worked out last: what must be decided on first, then set-up by
    /// set-up.
    ///
    /// # Errors
    /// `Invalid` where none was worked out, `Conflict` where another was kept since.
    pub(crate) async fn keep_order(&self, by: &Initials, seen: u64) -> Result<(), ShopError> {
        let order = self.worked_out().ok_or_else(|| {
            ShopError::invalid("order", "none is worked out yet; work one out first")
        })?;
        let kept = Event::TrayOrdered(TrayOrdered { cutters: order.in_order() });
        let (subject, events) = match self.kept_order().await?.subject {
            Some(subject) => (subject, vec![kept]),
            None => {
                let opened = TrayOpened { name: NAME.to_owned(), whose: None };
                (self.fresh(SubjectKind::Tray), vec![Event::TrayOpened(opened), kept])
            }
        };
        self.write(by, &subject, seen, events).await.map(|_| ())
    }
}

impl WorkOrder {
    fn in_order(&self) -> Vec<Id> {
        let stops = self.order.stops.iter().flat_map(|stop| &stop.jobs);
        let places = self.order.flagged.iter().chain(stops);
        places.filter_map(|place| self.cutters.get(*place)).cloned().collect()
    }
}

fn paper_machine(paper: &DocumentAt) -> Result<Machine, Failure> {
    Ok(read_machine(&paper.state.name, &paper.state.text)?)
}

fn searched(
    at: Moment,
    tables: &Tables,
    (machine_id, machine): &(Id, Machine),
    rack: &[WheelAt],
    waiting: &[Waiting],
    tell: &impl Tell,
) -> Result<WorkOrder, ShopError> {
    let ctx = Ctx { tables };
    let wheels: Vec<Wheel> = rack.iter().map(|wheel| wheel.state.wheel.clone()).collect();
    let bench = TrayBench { machine, wheels: &wheels };
    let jobs = waiting.iter().map(|cutter| {
        let wheel = |id: &Id| {
            let found = rack.iter().find(|wheel| wheel.subject.id == *id);
            found.map(|wheel| wheel.state.wheel.number())
        };
        let kept = cutter.planned.as_ref().and_then(|plan| plan.kept(machine_id, wheel));
        tray_job(&ctx, bench, &cutter.state.cutter, kept)
    });
    let request = OrderTray {
        jobs: jobs.collect(),
        now: None,
        times: ChangeTimes::of_tables(&ctx)?,
        angle_step: machine.head_swivel().finest(),
    };
    let order = order_tray(&request, &mut |progress| match tell(
        words(progress.stage),
        progress.done,
        progress.of,
    ) {
        true => ControlFlow::Continue(()),
        false => ControlFlow::Break(()),
    })?;
    let cutters = waiting.iter().map(|cutter| cutter.id.clone()).collect();
    Ok(WorkOrder { at, machine: machine.name().to_owned(), cutters, jobs: request.jobs, order })
}

const fn words(stage: Searching) -> &'static str {
    match stage {
        Searching::FirstOrder => "a first order",
        Searching::Improving => "making it better",
        Searching::LowerBound => "how good it is",
    }
}

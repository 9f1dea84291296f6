//! Whether what waits can be ground with the machines and wheels that the book has, asked before
//! anybody plans.

use std::num::NonZeroUsize;
use std::sync::{Arc, Mutex};

use lru::LruCache;
use shop::Ctx;
use shop::book::{Id, SubjectKind};
use shop::plan::{machine_alone, wheel_on_machine};
use shop::record::{Machine, Wheel};
use shop::tray::{TrayBench, tray_job};
use trade::Tables;

use super::{CutterAt, Desk, DocumentAt, locked};
use crate::cli::Failure;
use crate::files::read_machine;

/// So many answers are remembered.
const ANSWERS: NonZeroUsize = NonZeroUsize::MIN.saturating_add(2_047);

/// A cutter, the number of its last entry, and the machine that is stood beside.
type Question = (Id, u64, String);

/// What stands in the shop, as it is in the book.
pub(crate) struct Benches {
    /// The papers and wheels it was read from, each with the number of its last entry.
    of: Vec<(Id, u64)>,
    tables: Arc<Tables>,
    machines: Vec<(DocumentAt, Machine)>,
    wheels: Vec<Wheel>,
    answers: Mutex<LruCache<Question, Option<String>>>,
}

impl Desk {
    /// What stands in the shop now; read again only where an entry of it is new.
    pub(crate) async fn benches(&self) -> Result<Arc<Benches>, Failure> {
        let tables = self.tables().await?;
        let papers = self.documents(SubjectKind::Machine).await?;
        let wheels = self.wheels().await?;
        let papers_of = papers.iter().map(|paper| (paper.subject.id.clone(), paper.seen));
        let wheels_of = wheels.iter().map(|wheel| (wheel.subject.id.clone(), wheel.seen));
        let of: Vec<_> = papers_of.chain(wheels_of).collect();
        if let Some(known) = locked(&self.benches).as_ref()
            && known.of == of
            && Arc::ptr_eq(&known.tables, &tables)
        {
            return Ok(known.clone());
        }
        let read = |paper: DocumentAt| {
            let machine = read_machine(&paper.state.name, &paper.state.text).ok()?;
            Some((paper, machine))
        };
        let benches = Arc::new(Benches {
            of,
            tables,
            machines: papers.into_iter().filter_map(read).collect(),
            wheels: wheels.into_iter().map(|wheel| wheel.state.wheel).collect(),
            answers: Mutex::new(LruCache::new(ANSWERS)),
        });
        *locked(&self.benches) = Some(benches.clone());
        Ok(benches)
    }
}

impl Benches {
    /// Why a cutter that is to be ground cannot be on any machine here, by the one that this
    /// browser stands beside where it is known; none where one can, or where the book has no
    /// machine or no wheel yet.
    pub(crate) fn against(&self, cutter: &CutterAt, beside: &str) -> Option<String> {
        let key = (cutter.subject.id.clone(), cutter.seen, beside.to_owned());
        if let Some(known) = locked(&self.answers).get(&key) {
            return known.clone();
        }
        let answer = self.asked(cutter, beside);
        locked(&self.answers).put(key, answer.clone());
        answer
    }

    fn asked(&self, cutter: &CutterAt, beside: &str) -> Option<String> {
        if self.wheels.is_empty() {
            return None;
        }
        let why = |(paper, machine): &(DocumentAt, Machine)| {
            let bench = TrayBench { machine, wheels: &self.wheels };
            let job = tray_job(&Ctx { tables: &self.tables }, bench, &cutter.state.cutter, None);
            let words = job.will_not_clean_up?;
            let is_beside = paper.subject.id.as_str() == beside;
            Some((is_beside, format!("not on {}: {words}", machine.name())))
        };
        let all: Option<Vec<_>> = self.machines.iter().map(why).collect();
        let all = all?;
        let own = all.iter().find(|(is_beside, _)| *is_beside).or(all.first());
        own.map(|(_, words)| words.clone())
    }

    /// Why a wheel is of no use on a machine, for each that it is of no use on: its name and why.
    pub(crate) fn against_wheel(&self, wheel: &Wheel) -> Vec<(String, String)> {
        let ctx = Ctx { tables: &self.tables };
        let of = |(_, machine): &(DocumentAt, Machine)| {
            let why = wheel_on_machine(&ctx, machine, wheel);
            (!why.is_empty()).then(|| (machine.name().to_owned(), why.join("; ")))
        };
        self.machines.iter().filter_map(of).collect()
    }

    /// Why a machine grinds not with every wheel, as it is described.
    pub(crate) fn against_machine(&self, machine: &Machine) -> Vec<String> {
        machine_alone(&Ctx { tables: &self.tables }, machine)
    }
}

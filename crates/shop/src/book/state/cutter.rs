//! Where a cutter stands.

use geometry::Length;

use super::Stage;
use crate::book::event::{CutterEntered, Event, EventKind, HandedBack, Received, StepDone};
use crate::book::id::Id;
use crate::plan::cuts_end;
use crate::record::{AsGround, Cutter, CutterDraft, RecordErrors};

/// A cutter as its history leaves it.
#[derive(Clone, Debug, PartialEq)]
pub struct CutterState {
    /// Its record: as last ground, with the wear that was seen since.
    pub cutter: Cutter,
    /// What is marked on it.
    pub marks: Vec<String>,
    /// Where it stands.
    pub stage: Stage,
    /// The tray it lies in.
    pub tray: Option<Id>,
    /// The number of the entry with which it last came in.
    pub received: Option<u64>,
    /// The number of the entry of its plan, since it came in.
    pub planned: Option<u64>,
    /// The number of the entry of the check that this plan corrects, where it is of a corrective
    /// grind.
    pub follows: Option<u64>,
    /// The steps of that plan that are done, each with the number of its entry; where it is of a
    /// corrective grind, those of the end that were done before it too.
    pub steps: Vec<(u64, StepDone)>,
    /// The number of the last entry of grinding, since it came in.
    pub ground: Option<u64>,
    /// The number of the last entry of readings, since it came in.
    pub read: Option<u64>,
    /// The number of the last entry of a check, since it came in.
    pub checked: Option<u64>,
    /// How often it left this bench reground.
    pub grinds: u32,
}

impl CutterState {
    pub(super) fn new(entered: &CutterEntered) -> Self {
        Self {
            cutter: entered.cutter.clone().without_wear(),
            marks: entered.marks.clone(),
            stage: Stage::Shelf,
            tray: None,
            received: None,
            planned: None,
            follows: None,
            steps: Vec::new(),
            ground: None,
            read: None,
            checked: None,
            grinds: 0,
        }
    }

    /// What it was ground to, where it lies so: not at the bench, and without wear seen since.
    pub fn standing(&self) -> Option<&AsGround> {
        self.cutter.as_ground().filter(|_| self.is_away() && self.cutter.wear().is_none())
    }

    /// Whether nothing is going on with it at the bench.
    pub const fn is_away(&self) -> bool {
        matches!(self.stage, Stage::Shelf | Stage::Back | Stage::Gone)
    }

    /// What an event makes of it.
    pub(super) fn apply(&mut self, number: u64, event: &Event) -> Result<(), String> {
        match event {
            Event::Received(received) => self.receive(number, received),
            Event::WearSeen(seen) => {
                let worn = self.cutter.clone().with_wear(seen.wear.clone());
                self.cutter = worn.map_err(told)?;
            }
            Event::Planned(planned) => {
                // A corrective grind goes over the periphery: the metal that is off the end stays
                // off, but the machine no longer stands as it was set for the end.
                let is_kept = |key: &str| planned.follows.is_some() && cuts_end(key);
                self.steps.retain(|(_, done)| is_kept(&done.step));
                self.follows = planned.follows;
                (self.planned, self.stage) = (Some(number), Stage::Planned);
            }
            Event::StepDone(done) if Some(done.plan) == self.planned => {
                self.steps.push((number, done.clone()));
            }
            Event::Ground(ground) => {
                (self.ground, self.stage) = (Some(number), Stage::Ground);
                // What was read before the corrective grind says nothing of the edges after it;
                // what was read in the midst of it does.
                if self.follows.is_some() && ground.plan == self.planned {
                    self.read = self.read.filter(|read| Some(*read) > self.planned);
                    self.checked = None;
                }
            }
            Event::Read(read) => {
                read.readings.clone().build(&self.cutter).map_err(told)?;
                self.read = Some(number);
            }
            Event::Checked(_) => (self.checked, self.stage) = (Some(number), Stage::Checked),
            Event::HandedBack(back) => self.hand_back(back)?,
            _ => {}
        }
        Ok(())
    }

    fn receive(&mut self, number: u64, received: &Received) {
        (self.planned, self.ground, self.read, self.checked) = (None, None, None, None);
        self.follows = None;
        self.steps.clear();
        self.received = Some(number);
        self.tray.clone_from(&received.tray);
        self.stage = Stage::Waiting;
    }

    fn hand_back(&mut self, back: &HandedBack) -> Result<(), String> {
        if let Some(ground) = back.as_ground {
            let draft = self.cutter.draft();
            let regrinds = draft.regrinds.saturating_add(1);
            let shorter = back.shorter.unwrap_or(Length::ZERO);
            let reground =
                CutterDraft { as_ground: Some(ground), regrinds, ..draft.shortened(shorter) };
            self.cutter = reground.build().map_err(told)?;
            self.grinds = self.grinds.saturating_add(1);
        }
        (self.stage, self.tray) = (Stage::Back, None);
        Ok(())
    }
}

fn told(errors: RecordErrors) -> String {
    errors.to_string()
}

/// The kinds of entry that an event names by number, each with the number.
pub(super) fn named_entries(event: &Event) -> Option<(u64, EventKind)> {
    match event {
        Event::Planned(planned) => planned.follows.map(|number| (number, EventKind::Checked)),
        Event::StepDone(done) => Some((done.plan, EventKind::Planned)),
        Event::Ground(ground) => ground.plan.map(|number| (number, EventKind::Planned)),
        Event::Read(read) => read.plan.map(|number| (number, EventKind::Planned)),
        Event::Checked(checked) => checked.read.map(|number| (number, EventKind::Read)),
        Event::Corrected(corrected) => corrected.check.map(|number| (number, EventKind::Checked)),
        _ => None,
    }
}

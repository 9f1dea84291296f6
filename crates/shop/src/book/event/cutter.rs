//! What happens to a cutter.

use geometry::Length;

use crate::book::id::Id;
use crate::plan::{PlannedSetup, Quantity, RegrindPlan};
use crate::record::{AsGround, Cutter, ReadingsDraft, Wear};
use crate::tray::KeptPlan;

/// The cutter is entered in the book: its identity and its geometry, without its wear.
#[derive(Clone, Debug, PartialEq)]
pub struct CutterEntered {
    /// The record.
    pub cutter: Cutter,
    /// What is marked on it, line by line.
    pub marks: Vec<String>,
}

/// It came in to be looked at.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Received {
    /// The tray it lies in.
    pub tray: Option<Id>,
    /// From whom or from where.
    pub from: Option<String>,
    /// What is wanted of it, in words.
    pub wanted: Option<String>,
}

/// Its wear was looked at.
#[derive(Clone, Debug, PartialEq)]
pub struct WearSeen {
    /// What was seen.
    pub wear: Wear,
}

/// A file that a plan was made from.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Input {
    /// What it was to the plan: "cutter", "machine", "wheel" …
    pub role: String,
    /// Its name.
    pub file: String,
    /// Its text.
    pub text: String,
}

/// A plan was made. Program and inputs are kept, so that it can be made again.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Planned {
    /// The program's version.
    pub program: String,
    /// What it was made from, in full.
    pub inputs: Vec<Input>,
    /// The route, in the words of the sheet.
    pub route: String,
    /// The wheel, where there is one.
    pub wheel: Option<Id>,
    /// The machine.
    pub machine: Option<Id>,
    /// What comes off the radius from the first touch to size, as the plan foretells it.
    pub stock: Option<Length>,
    /// The diameter that is expected afterwards.
    pub diameter_after: Option<Length>,
    /// How far the cross feed travels, as its dial counts.
    pub travel: Option<Length>,
    /// What should come off the radius for each length that the dial counts, were the dial told at
    /// its word: what a wheel's dial-to-stock ratio is learned against.
    pub radius_per_travel: Option<f64>,
    /// The number of the entry of the check whose corrections this plans to grind; none for a plan
    /// from the dull cutter.
    pub follows: Option<u64>,
    /// Its set-up, as far as another cutter may share it: what a tray is ordered by.
    pub setup: Option<PlannedSetup>,
}

impl Planned {
    /// What the book keeps of a plan's figures. The program, the inputs and the ids of wheel and
    /// machine are for whoever keeps it to add.
    pub fn of(plan: &RegrindPlan) -> Self {
        let scale = plan.request.machine.cross_feed();
        let route = plan.verdict.route.name().to_owned();
        let Some(peripheral) = &plan.peripheral else { return Self { route, ..Self::default() } };
        let feed = &peripheral.grinding.feed;
        let one = Length::from_mm(1.0);
        Self {
            route,
            stock: Some(feed.travel() * feed.radius_per_feed),
            diameter_after: Some(peripheral.expected.diameter),
            travel: Some(scale.reading(peripheral.grinding.travel)),
            radius_per_travel: Some(feed.radius_per_feed * (scale.travel(one) / one)),
            setup: PlannedSetup::of(plan),
            ..Self::default()
        }
    }
}

impl Planned {
    /// What a tray on a machine may take from it; `wheel` gives the number of a wheel that is on
    /// the rack.
    pub fn kept<'a, 'w: 'a>(
        &'a self,
        machine: &Id,
        wheel: impl Fn(&Id) -> Option<&'w str>,
    ) -> Option<KeptPlan<'a>> {
        let is_here = self.machine.as_ref() == Some(machine);
        let wheel = wheel(self.wheel.as_ref()?)?;
        Some(KeptPlan { wheel, setup: self.setup.as_ref().filter(|_| is_here) })
    }
}

/// What a dial really stood at.
#[derive(Clone, Debug, PartialEq)]
pub struct DialStood {
    /// What people at the machine call the axis.
    pub axis: String,
    /// The reading.
    pub reading: Quantity,
}

/// A step of its plan is done, and where the dial really stood then.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct StepDone {
    /// The number of the entry of the plan.
    pub plan: u64,
    /// Which step, in the words of the plan.
    pub step: String,
    /// What its dial really stood at, where it has one and somebody read it.
    pub stood: Option<DialStood>,
    /// What the hand wants to say of it.
    pub words: Option<String>,
}

/// It was ground.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Ground {
    /// The number of the entry of its plan, in this history.
    pub plan: Option<u64>,
    /// With which wheel.
    pub wheel: Option<Id>,
    /// On which machine.
    pub machine: Option<Id>,
    /// Where the dials really stood.
    pub dials: Vec<DialStood>,
    /// How far the cross feed travelled from the first touch, as its dial counts.
    pub travel: Option<Length>,
    /// Passes round the cutter.
    pub passes: Option<u32>,
    /// Diameter over the dull edges, before.
    pub diameter_before: Option<Length>,
    /// Diameter over the new edges.
    pub diameter_after: Option<Length>,
    /// Minutes from set-up to the last pass.
    pub minutes: Option<f64>,
}

/// It was read. The readings are kept as they were taken.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Read {
    /// The number of the entry of the plan they are held against.
    pub plan: Option<u64>,
    /// The readings; sound for this cutter once they stand in its history.
    pub readings: ReadingsDraft,
}

/// One thing that a check found.
#[derive(Clone, Debug, PartialEq)]
pub struct Found {
    /// The fault, in the words of the sheet.
    pub fault: String,
    /// How large.
    pub size: Option<Quantity>,
    /// Half of its band.
    pub within: Option<Quantity>,
    /// The rest, in words.
    pub words: String,
}

/// The readings were checked.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Checked {
    /// The number of the entry of the readings.
    pub read: Option<u64>,
    /// The program's version.
    pub program: String,
    /// The outcome, in the words of the sheet.
    pub outcome: String,
    /// What was found.
    pub found: Vec<Found>,
}

/// A set-up was corrected.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Corrected {
    /// The number of the entry of the check.
    pub check: Option<u64>,
    /// For which fault.
    pub fault: String,
    /// On which axis, where it was a dial.
    pub axis: Option<String>,
    /// By how much, as its dial counts.
    pub by: Option<Quantity>,
    /// What was done.
    pub words: String,
}

/// It left the bench with its tag.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct HandedBack {
    /// The cutter as it was ground; none where it left unground.
    pub as_ground: Option<AsGround>,
    /// To whom or to where.
    pub to: Option<String>,
    /// What its end lost: flute and whole are shorter by it. Only of a cutter that was ground.
    pub shorter: Option<Length>,
}

//! What can happen: one struct for each kind, and one choice of them all.

mod cutter;
mod house;
mod refers;
mod sound;
mod wheel;

pub use cutter::{
    Checked, Corrected, CutterEntered, DialStood, Found, Ground, HandedBack, Input, Planned, Read,
    Received, StepDone, WearSeen,
};
pub use house::{
    Amended, Foreign, Noted, PersonEntered, PinSet, Retired, TrayOpened, TrayOrdered, Written,
};
pub use wheel::{Dressed, Inspected, Measured, Mounted, WheelEntered, WheelSize};

use super::id::Id;
use super::subject::SubjectKind;
use crate::record::named;

named! {
    /// The kinds of event, each with the name by which it is kept.
    EventKind {
        /// A cutter is entered in the book.
        CutterEntered = "cutter entered",
        /// A cutter came in.
        Received = "received",
        /// Its wear was looked at.
        WearSeen = "wear seen",
        /// A plan was made for it.
        Planned = "planned",
        /// A step of its plan is done.
        StepDone = "step done",
        /// It was ground.
        Ground = "ground",
        /// It was read.
        Read = "read",
        /// Its readings were checked.
        Checked = "checked",
        /// A set-up was corrected.
        Corrected = "corrected",
        /// It left the bench.
        HandedBack = "handed back",
        /// A wheel is entered in the book.
        WheelEntered = "wheel entered",
        /// A wheel was trued or dressed.
        Dressed = "dressed",
        /// A wheel was measured.
        Measured = "measured",
        /// A wheel was looked at.
        Inspected = "inspected",
        /// A wheel was put on a spindle.
        Mounted = "mounted",
        /// A wheel was put back on the shelf.
        Shelved = "shelved",
        /// A text was written.
        Written = "written",
        /// A tray was set out.
        TrayOpened = "tray opened",
        /// A tray was put in order.
        TrayOrdered = "tray ordered",
        /// A person was entered.
        PersonEntered = "person entered",
        /// A person chose a secret.
        PinSet = "pin set",
        /// Something was noted.
        Noted = "noted",
        /// The subject is done with.
        Retired = "retired",
        /// An earlier entry was wrong.
        Amended = "amended",
    }
}

/// What happened.
#[derive(Clone, Debug, PartialEq)]
pub enum Event {
    /// A cutter is entered in the book.
    CutterEntered(Box<CutterEntered>),
    /// A cutter came in.
    Received(Received),
    /// Its wear was looked at.
    WearSeen(WearSeen),
    /// A plan was made for it.
    Planned(Planned),
    /// A step of its plan is done.
    StepDone(StepDone),
    /// It was ground.
    Ground(Ground),
    /// It was read.
    Read(Box<Read>),
    /// Its readings were checked.
    Checked(Checked),
    /// A set-up was corrected.
    Corrected(Corrected),
    /// It left the bench.
    HandedBack(HandedBack),
    /// A wheel is entered in the book.
    WheelEntered(Box<WheelEntered>),
    /// A wheel was trued or dressed.
    Dressed(Dressed),
    /// A wheel was measured.
    Measured(Measured),
    /// A wheel was looked at.
    Inspected(Inspected),
    /// A wheel was put on a spindle.
    Mounted(Mounted),
    /// A wheel was put back on the shelf.
    Shelved,
    /// A text was written.
    Written(Written),
    /// A tray was set out.
    TrayOpened(TrayOpened),
    /// A tray was put in order.
    TrayOrdered(TrayOrdered),
    /// A person was entered.
    PersonEntered(PersonEntered),
    /// A person chose a secret.
    PinSet(PinSet),
    /// Something was noted.
    Noted(Noted),
    /// The subject is done with.
    Retired(Retired),
    /// An earlier entry was wrong.
    Amended(Amended),
    /// Something that this program cannot read.
    Foreign(Foreign),
}

impl Event {
    /// Its kind; none for what this program cannot read.
    pub const fn kind(&self) -> Option<EventKind> {
        Some(match self {
            Self::CutterEntered(_) => EventKind::CutterEntered,
            Self::Received(_) => EventKind::Received,
            Self::WearSeen(_) => EventKind::WearSeen,
            Self::Planned(_) => EventKind::Planned,
            Self::StepDone(_) => EventKind::StepDone,
            Self::Ground(_) => EventKind::Ground,
            Self::Read(_) => EventKind::Read,
            Self::Checked(_) => EventKind::Checked,
            Self::Corrected(_) => EventKind::Corrected,
            Self::HandedBack(_) => EventKind::HandedBack,
            Self::WheelEntered(_) => EventKind::WheelEntered,
            Self::Dressed(_) => EventKind::Dressed,
            Self::Measured(_) => EventKind::Measured,
            Self::Inspected(_) => EventKind::Inspected,
            Self::Mounted(_) => EventKind::Mounted,
            Self::Shelved => EventKind::Shelved,
            Self::Written(_) => EventKind::Written,
            Self::TrayOpened(_) => EventKind::TrayOpened,
            Self::TrayOrdered(_) => EventKind::TrayOrdered,
            Self::PersonEntered(_) => EventKind::PersonEntered,
            Self::PinSet(_) => EventKind::PinSet,
            Self::Noted(_) => EventKind::Noted,
            Self::Retired(_) => EventKind::Retired,
            Self::Amended(_) => EventKind::Amended,
            Self::Foreign(_) => return None,
        })
    }

    /// The wheel that was used on a cutter, so that a wheel's history can be found among cutters.
    pub const fn wheel_used(&self) -> Option<&Id> {
        match self {
            Self::Ground(ground) => ground.wheel.as_ref(),
            _ => None,
        }
    }
}

impl EventKind {
    /// Whether this can happen to things of that kind.
    pub const fn befalls(self, subject: SubjectKind) -> bool {
        match self {
            Self::CutterEntered
            | Self::Received
            | Self::WearSeen
            | Self::Planned
            | Self::StepDone
            | Self::Ground
            | Self::Read
            | Self::Checked
            | Self::Corrected
            | Self::HandedBack => matches!(subject, SubjectKind::Cutter),
            Self::WheelEntered
            | Self::Dressed
            | Self::Measured
            | Self::Inspected
            | Self::Mounted
            | Self::Shelved => matches!(subject, SubjectKind::Wheel),
            Self::Written => subject.is_document(),
            Self::TrayOpened | Self::TrayOrdered => matches!(subject, SubjectKind::Tray),
            Self::PersonEntered | Self::PinSet => matches!(subject, SubjectKind::Person),
            Self::Noted | Self::Retired | Self::Amended => true,
        }
    }

    /// Whether a history begins with this.
    pub const fn begins(self) -> bool {
        matches!(
            self,
            Self::CutterEntered
                | Self::WheelEntered
                | Self::Written
                | Self::TrayOpened
                | Self::PersonEntered
        )
    }
}

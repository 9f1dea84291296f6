//! Which other things an event speaks of.

use super::Event;
use crate::book::id::Id;
use crate::book::subject::{Subject, SubjectKind};

impl Event {
    /// The other subjects that this speaks of; each must stand in the book.
    pub fn refers(&self) -> Vec<Subject> {
        match self {
            Self::Received(received) => one(SubjectKind::Tray, received.tray.as_ref()),
            Self::Planned(planned) => {
                wheel_and_machine(planned.wheel.as_ref(), planned.machine.as_ref())
            }
            Self::Ground(ground) => {
                wheel_and_machine(ground.wheel.as_ref(), ground.machine.as_ref())
            }
            Self::Mounted(mounted) => one(SubjectKind::Machine, mounted.machine.as_ref()),
            Self::TrayOrdered(order) => {
                let cutters = order.cutters.iter();
                cutters.flat_map(|id| one(SubjectKind::Cutter, Some(id))).collect()
            }
            Self::Amended(amended) => {
                amended.instead.as_ref().map_or_else(Vec::new, |event| event.refers())
            }
            _ => Vec::new(),
        }
    }
}

fn one(kind: SubjectKind, id: Option<&Id>) -> Vec<Subject> {
    id.map(|id| Subject::new(kind, id.clone())).into_iter().collect()
}

fn wheel_and_machine(wheel: Option<&Id>, machine: Option<&Id>) -> Vec<Subject> {
    let mut both = one(SubjectKind::Wheel, wheel);
    both.extend(one(SubjectKind::Machine, machine));
    both
}

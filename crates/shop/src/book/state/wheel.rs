//! Where a wheel stands.

use super::Stage;
use crate::book::event::{Event, WheelEntered, WheelSize};
use crate::book::id::Id;
use crate::record::Wheel;

/// A wheel as its history leaves it. Nothing here says that it may run.
#[derive(Clone, Debug, PartialEq)]
pub struct WheelState {
    /// Its record, in the size that was last measured.
    pub wheel: Wheel,
    /// What else is marked on it.
    pub marks: Vec<String>,
    /// Where it is.
    pub stage: Stage,
    /// The machine it is mounted on.
    pub machine: Option<Id>,
    /// How often it was dressed.
    pub dressings: u32,
    /// The number of the entry in which it was last looked at.
    pub inspected: Option<u64>,
}

impl WheelState {
    pub(super) fn new(entered: &WheelEntered) -> Self {
        Self {
            wheel: entered.wheel.clone(),
            marks: entered.marks.clone(),
            stage: Stage::Shelf,
            machine: None,
            dressings: 0,
            inspected: None,
        }
    }

    /// What an event makes of it.
    pub(super) fn apply(&mut self, number: u64, event: &Event) -> Result<(), String> {
        match event {
            Event::Dressed(dressed) => {
                self.resize(dressed.size)?;
                self.dressings = self.dressings.saturating_add(1);
            }
            Event::Measured(measured) => self.resize(measured.size)?,
            Event::Inspected(_) => self.inspected = Some(number),
            Event::Mounted(mounted) => {
                self.stage = Stage::Mounted;
                self.machine.clone_from(&mounted.machine);
            }
            Event::Shelved => (self.stage, self.machine) = (Stage::Shelf, None),
            _ => {}
        }
        Ok(())
    }

    /// A size that was not measured stays as it was; a corner that no longer fits a narrower face
    /// must be measured with it.
    fn resize(&mut self, size: WheelSize) -> Result<(), String> {
        let mut draft = self.wheel.draft();
        draft.diameter = size.diameter.unwrap_or(draft.diameter);
        draft.face_width = size.face_width.unwrap_or(draft.face_width);
        draft.corner_radius = size.corner_radius.unwrap_or(draft.corner_radius);
        draft.depth = size.depth.unwrap_or(draft.depth);
        self.wheel = draft.build().map_err(|errors| errors.to_string())?;
        Ok(())
    }
}

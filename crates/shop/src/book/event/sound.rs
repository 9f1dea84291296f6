//! What an event must be before it may stand in a history, whatever the history is.

use geometry::Length;

use super::{
    Amended, Checked, Corrected, Event, Ground, HandedBack, PersonEntered, Planned, Received,
    StepDone, TrayOrdered, WheelSize, Written,
};
use crate::book::stamp::Initials;
use crate::book::text::{
    Sound, at_most, file, length, line, maybe_line, name, note, quantity, require,
};
use crate::error::ShopError;
use crate::plan::Quantity;

/// Most files that one plan is made from.
const INPUTS: usize = 64;
/// Most lines of a list: marks, dials, findings.
const LINES: usize = 200;
/// Most cutters in one tray.
const CUTTERS: usize = 10_000;
/// Longest work on one cutter, in minutes.
const MINUTES: f64 = 10_000.0;

impl Event {
    /// Checks what can be checked without the history.
    ///
    /// # Errors
    /// `Invalid` with the first field that is too long, no number, or no plain text.
    pub fn check(&self) -> Result<(), ShopError> {
        match self {
            Self::CutterEntered(entered) => marks(&entered.marks),
            Self::WheelEntered(entered) => marks(&entered.marks),
            Self::Received(received) => received.check(),
            Self::Planned(planned) => planned.check(),
            Self::StepDone(done) => done.check(),
            Self::Ground(ground) => ground.check(),
            Self::Checked(checked) => checked.check(),
            Self::Corrected(corrected) => corrected.check(),
            Self::HandedBack(back) => back.check(),
            Self::Dressed(dressed) => dressed
                .size
                .check()
                .and_then(|()| length("taken", dressed.taken))
                .and_then(|()| note("words", &dressed.words)),
            Self::Measured(measured) => measured.size.check(),
            Self::Inspected(inspected) => note("words", &inspected.words),
            Self::Written(written) => written.check(),
            Self::TrayOpened(tray) => {
                name("name", &tray.name).and_then(|()| maybe_line("whose", tray.whose.as_deref()))
            }
            Self::TrayOrdered(order) => order.check(),
            Self::PersonEntered(person) => person.check(),
            Self::PinSet(pin) => line("hash", &pin.hash),
            Self::Noted(noted) => note("words", &noted.words),
            Self::Retired(retired) => note("why", &retired.why),
            Self::Amended(amended) => amended.check(),
            Self::Foreign(_) => {
                Err(ShopError::invalid("kind", "an entry that cannot be read cannot be written"))
            }
            Self::WearSeen(_) | Self::Read(_) | Self::Mounted(_) | Self::Shelved => Ok(()),
        }
    }
}

fn marks(marks: &[String]) -> Sound {
    at_most("marks", marks.len(), LINES, "lines")?;
    marks.iter().try_for_each(|mark| line("marks", mark))
}

impl Received {
    fn check(&self) -> Sound {
        maybe_line("from", self.from.as_deref())?;
        maybe_line("wanted", self.wanted.as_deref())
    }
}

impl Planned {
    fn check(&self) -> Sound {
        line("program", &self.program)?;
        line("route", &self.route)?;
        at_most("inputs", self.inputs.len(), INPUTS, "files")?;
        for input in &self.inputs {
            name("inputs.role", &input.role)?;
            line("inputs.file", &input.file)?;
            file("inputs.text", &input.text)?;
        }
        length("stock", self.stock)?;
        length("diameter_after", self.diameter_after)?;
        length("travel", self.travel)?;
        if let Some(setup) = &self.setup {
            quantity("setup.head_angle", Some(Quantity::Angle(setup.head_angle)))?;
            quantity("setup.relief_setting", Some(Quantity::Angle(setup.relief_setting)))?;
            maybe_line("setup.finger", setup.finger.as_deref())?;
        }
        let rate = self.radius_per_travel.unwrap_or(1.0);
        require(rate.is_finite() && rate > 0.0, "radius_per_travel", || {
            "write a number above zero".to_owned()
        })
    }
}

impl StepDone {
    fn check(&self) -> Sound {
        name("step", &self.step)?;
        if let Some(stood) = &self.stood {
            name("stood.axis", &stood.axis)?;
            quantity("stood.reading", Some(stood.reading))?;
        }
        maybe_line("words", self.words.as_deref())
    }
}

impl Ground {
    fn check(&self) -> Sound {
        at_most("dials", self.dials.len(), LINES, "lines")?;
        for dial in &self.dials {
            name("dials.axis", &dial.axis)?;
            quantity("dials.reading", Some(dial.reading))?;
        }
        length("travel", self.travel)?;
        length("diameter_before", self.diameter_before)?;
        length("diameter_after", self.diameter_after)?;
        require(
            self.minutes.is_none_or(|minutes| (0.0..=MINUTES).contains(&minutes)),
            "minutes",
            || format!("write 0 to {MINUTES} minutes"),
        )
    }
}

impl Checked {
    fn check(&self) -> Sound {
        line("program", &self.program)?;
        note("outcome", &self.outcome)?;
        at_most("found", self.found.len(), LINES, "lines")?;
        for found in &self.found {
            line("found.fault", &found.fault)?;
            quantity("found.size", found.size)?;
            quantity("found.within", found.within)?;
            note("found.words", &found.words)?;
        }
        Ok(())
    }
}

impl Corrected {
    fn check(&self) -> Sound {
        line("fault", &self.fault)?;
        maybe_line("axis", self.axis.as_deref())?;
        quantity("by", self.by)?;
        note("words", &self.words)
    }
}

impl HandedBack {
    fn check(&self) -> Sound {
        maybe_line("to", self.to.as_deref())?;
        length("shorter", self.shorter)?;
        let is_lost = self.shorter.is_none_or(|shorter| shorter >= Length::ZERO);
        require(is_lost, "shorter", || {
            "a grind adds no length; write what the end lost".to_owned()
        })?;
        let is_ground = self.shorter.is_none() || self.as_ground.is_some();
        require(is_ground, "shorter", || {
            "a cutter that was not ground lost no length; leave it out".to_owned()
        })
    }
}

impl WheelSize {
    fn check(&self) -> Sound {
        length("diameter", self.diameter)?;
        length("face_width", self.face_width)?;
        length("corner_radius", self.corner_radius)?;
        length("depth", self.depth)
    }
}

impl Written {
    fn check(&self) -> Sound {
        name("name", &self.name)?;
        file("text", &self.text)
    }
}

impl TrayOrdered {
    fn check(&self) -> Sound {
        at_most("cutters", self.cutters.len(), CUTTERS, "cutters")?;
        let mut sorted: Vec<_> = self.cutters.iter().collect();
        sorted.sort_unstable();
        let single = sorted.windows(2).all(|pair| pair[0] != pair[1]);
        require(single, "cutters", || "a cutter stands twice; write each once".to_owned())
    }
}

impl PersonEntered {
    fn check(&self) -> Sound {
        Initials::new(&self.initials)?;
        name("name", &self.name)
    }
}

impl Amended {
    fn check(&self) -> Sound {
        note("why", &self.why)?;
        require(!self.why.trim().is_empty(), "why", || "empty; say what was wrong".to_owned())?;
        self.instead.as_ref().map_or(Ok(()), |event| event.check())
    }
}

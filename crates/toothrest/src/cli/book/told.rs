//! What happened, in a few words.

use std::collections::BTreeMap;

use geometry::quantity::System;
use geometry::{Angle, Length};
use shop::book::event::{
    Amended, Checked, Corrected, DialStood, Dressed, Ground, HandedBack, Inspected, Planned,
    Received, WheelSize,
};
use shop::book::{Event, Id};
use shop::plan::Quantity;
use shop::record::Wear;

/// The words for events: the system of lengths, and the numbers of what they speak of.
pub(super) struct Words {
    pub(super) system: System,
    pub(super) numbers: BTreeMap<Id, String>,
}

/// Parts with commas between them.
#[derive(Default)]
struct Parts(Vec<String>);

impl Parts {
    fn with(mut self, part: Option<String>) -> Self {
        self.0.extend(part.filter(|part| !part.is_empty()));
        self
    }

    fn text(self) -> String {
        self.0.join(", ")
    }
}

impl Words {
    /// What an event says.
    pub(super) fn of(&self, event: &Event) -> String {
        match event {
            Event::CutterEntered(entered) => entered.marks.join(", "),
            Event::WheelEntered(entered) => entered.marks.join(", "),
            Event::Received(received) => self.received(received),
            Event::WearSeen(seen) => self.wear(&seen.wear),
            Event::Planned(planned) => self.planned(planned),
            Event::Ground(ground) => self.ground(ground),
            Event::Checked(checked) => checked_words(checked),
            Event::Corrected(corrected) => self.corrected(corrected),
            Event::HandedBack(back) => self.back(back),
            Event::Dressed(dressed) => self.dressed(dressed),
            Event::Measured(measured) => self.size(&measured.size).text(),
            Event::Inspected(inspected) => inspected_words(inspected),
            Event::Mounted(mounted) => {
                mounted.machine.as_ref().map(|id| self.named("on", id)).unwrap_or_default()
            }
            _ => self.of_house(event),
        }
    }

    fn of_house(&self, event: &Event) -> String {
        match event {
            Event::Read(read) => read
                .plan
                .map(|plan| format!("against the plan of entry {plan}"))
                .unwrap_or_default(),
            Event::Written(written) => format!("{} lines", written.text.lines().count()),
            Event::TrayOpened(tray) => tray.whose.clone().unwrap_or_default(),
            Event::TrayOrdered(order) => format!("{} cutters", order.cutters.len()),
            Event::PersonEntered(person) => person.name.clone(),
            Event::Noted(noted) => one_line(&noted.words),
            Event::Retired(retired) => one_line(&retired.why),
            Event::Amended(amended) => self.amended(amended),
            Event::Foreign(foreign) => format!("{}; {}", foreign.kind, foreign.why),
            _ => String::new(),
        }
    }

    fn length(&self, what: &str, length: Option<Length>) -> Option<String> {
        Some(join(what, length?.show(self.system).as_str()))
    }

    fn quantity(&self, quantity: Quantity) -> String {
        match quantity {
            Quantity::Length(length) => length.show(self.system).to_string(),
            Quantity::Angle(angle) => Angle::show(angle).to_string(),
        }
    }

    /// The number of what an id names; the id where it is not known.
    fn named(&self, what: &str, id: &Id) -> String {
        join(what, self.numbers.get(id).map_or(id.as_str(), String::as_str))
    }

    fn received(&self, received: &Received) -> String {
        Parts::default()
            .with(received.tray.as_ref().map(|tray| self.named("tray", tray)))
            .with(received.from.as_ref().map(|from| join("from", from)))
            .with(received.wanted.clone())
            .text()
    }

    fn wear(&self, wear: &Wear) -> String {
        let signs: Vec<&str> = wear.signs().iter().map(|sign| sign.name()).collect();
        let widest = wear.teeth().iter().map(|tooth| tooth.wear_land).reduce(Length::max);
        Parts::default()
            .with(self.length("measures", wear.measured_diameter()))
            .with(self.length("wear land up to", widest.filter(|land| *land > Length::ZERO)))
            .with(Some(signs.join(", ")))
            .text()
    }

    fn planned(&self, planned: &Planned) -> String {
        Parts::default()
            .with(Some(planned.route.clone()))
            .with(planned.wheel.as_ref().map(|wheel| self.named("wheel", wheel)))
            .with(self.length("to", planned.diameter_after))
            .with(planned.follows.map(|check| format!("after the check of entry {check}")))
            .text()
    }

    fn ground(&self, ground: &Ground) -> String {
        let dial = |dial: &DialStood| join(&dial.axis, &self.quantity(dial.reading));
        let dials: Vec<String> = ground.dials.iter().map(dial).collect();
        Parts::default()
            .with(ground.wheel.as_ref().map(|wheel| self.named("wheel", wheel)))
            .with(ground.machine.as_ref().map(|machine| self.named("on", machine)))
            .with(self.length("from", ground.diameter_before))
            .with(self.length("to", ground.diameter_after))
            .with(ground.passes.map(|passes| format!("{passes} passes")))
            .with(ground.minutes.map(|minutes| format!("{minutes:.0} min")))
            .with(Some(dials.join(", ")))
            .text()
    }

    fn corrected(&self, corrected: &Corrected) -> String {
        let by = corrected.by.map(|by| self.quantity(by)).unwrap_or_default();
        let dial = corrected.axis.as_ref().map(|axis| join(axis, &by));
        Parts::default()
            .with(Some(corrected.fault.clone()))
            .with(dial)
            .with(Some(one_line(&corrected.words)))
            .text()
    }

    fn back(&self, back: &HandedBack) -> String {
        let size = back.as_ground.map(|ground| ground.diameter);
        Parts::default()
            .with(self.length("at", size).or_else(|| Some("not ground".to_owned())))
            .with(self.length("shorter by", back.shorter))
            .with(back.to.as_ref().map(|to| join("to", to)))
            .text()
    }

    fn size(&self, size: &WheelSize) -> Parts {
        Parts::default()
            .with(self.length("diameter", size.diameter))
            .with(self.length("height", size.depth))
            .with(self.length("face", size.face_width))
            .with(self.length("corner", size.corner_radius))
    }

    fn dressed(&self, dressed: &Dressed) -> String {
        self.size(&dressed.size)
            .with(self.length("taken off", dressed.taken))
            .with(Some(one_line(&dressed.words)))
            .text()
    }

    fn amended(&self, amended: &Amended) -> String {
        let instead = match &amended.instead {
            Some(event) => format!("instead: {}", self.of(event)),
            None => "struck out".to_owned(),
        };
        format!("entry {}: {}; {instead}", amended.entry, one_line(&amended.why))
    }
}

fn checked_words(checked: &Checked) -> String {
    let faults = checked.found.iter().map(|found| Some(found.fault.clone()));
    let first = Parts::default().with(Some(checked.outcome.clone()));
    faults.fold(first, Parts::with).text()
}

fn inspected_words(inspected: &Inspected) -> String {
    Parts::default()
        .with(inspected.looked.then(|| "looked at".to_owned()))
        .with(inspected.rung.then(|| "rung".to_owned()))
        .with(Some(one_line(&inspected.words)))
        .text()
}

fn join(what: &str, text: &str) -> String {
    format!("{what} {text}").trim().to_owned()
}

/// A note on one line, as a table needs it.
fn one_line(text: &str) -> String {
    text.split_whitespace().collect::<Vec<_>>().join(" ")
}

//! What a list shows of a subject, and the words by which it is found.

use geometry::Length;

use super::Stage;
use super::fold::{Latest, State};
use crate::book::id::Id;
use crate::book::moment::Moment;
use crate::book::stamp::Stamp;
use crate::book::subject::Subject;
use crate::book::text;
use crate::record::{Cutter, Wheel};

/// What a list shows of a subject.
#[derive(Clone, Debug, PartialEq)]
pub struct Summary {
    /// Of what.
    pub subject: Subject,
    /// The number or name that people use.
    pub number: String,
    /// A few words about it.
    pub about: String,
    /// Where it stands.
    pub stage: Stage,
    /// The tray it lies in.
    pub tray: Option<Id>,
    /// Its diameter as far as it is known now.
    pub size: Option<Length>,
    /// The number of its last entry.
    pub seen: u64,
    /// When its history began.
    pub first: Moment,
    /// Who wrote last, and when.
    pub last: Stamp,
}

/// What is shown where the first entry cannot be read.
const UNREAD: &str = "(cannot be read by this program)";

impl Latest {
    /// What a list shows of it.
    pub fn summary(&self) -> Summary {
        Summary {
            subject: self.subject.clone(),
            number: self.number().to_owned(),
            about: self.about(),
            stage: self.stage(),
            tray: self.tray(),
            size: self.size(),
            seen: self.seen,
            first: self.first,
            last: self.last.clone(),
        }
    }

    /// The number or name that people use; the id where the first entry cannot be read.
    pub fn number(&self) -> &str {
        match &self.state {
            Some(State::Cutter(cutter)) => cutter.cutter.number(),
            Some(State::Wheel(wheel)) => wheel.wheel.number(),
            Some(State::Document(document)) => &document.name,
            Some(State::Tray(tray)) => &tray.name,
            Some(State::Person(person)) => &person.initials,
            None => self.subject.id.as_str(),
        }
    }

    /// The words by which it is found.
    pub fn words(&self) -> Vec<String> {
        let about = self.about();
        let marks: &[String] = match &self.state {
            Some(State::Cutter(cutter)) => &cutter.marks,
            Some(State::Wheel(wheel)) => &wheel.marks,
            _ => &[],
        };
        let marks = marks.iter().map(String::as_str);
        text::words([self.number(), &about].into_iter().chain(marks))
    }

    fn about(&self) -> String {
        match &self.state {
            Some(State::Cutter(cutter)) => about_cutter(&cutter.cutter),
            Some(State::Wheel(wheel)) => about_wheel(&wheel.wheel),
            Some(State::Tray(tray)) => tray.whose.clone().unwrap_or_default(),
            Some(State::Person(person)) => person.name.clone(),
            Some(State::Document(_)) => String::new(),
            None => UNREAD.to_owned(),
        }
    }

    fn tray(&self) -> Option<Id> {
        match &self.state {
            Some(State::Cutter(cutter)) if self.retired.is_none() => cutter.tray.clone(),
            _ => None,
        }
    }

    fn size(&self) -> Option<Length> {
        match &self.state {
            Some(State::Cutter(cutter)) => Some(cutter.cutter.known_diameter()),
            Some(State::Wheel(wheel)) => Some(wheel.wheel.diameter()),
            _ => None,
        }
    }
}

fn about_cutter(cutter: &Cutter) -> String {
    let (teeth, material, end) = (cutter.teeth(), cutter.material().name(), cutter.end().name());
    let coating = cutter.coating().map_or_else(String::new, |coating| format!(", {coating}"));
    let (profile, work) = (cutter.profile(), cutter.work());
    format!("{teeth} teeth, {material}{coating}, {end}, {profile}, {work}")
}

fn about_wheel(wheel: &Wheel) -> String {
    let (shape, abrasive, grit) = (wheel.shape(), wheel.abrasive().name(), wheel.grit());
    format!("{shape}, {abrasive} {grit}, {}", wheel.bond())
}

//! Papers of which a shop has one, such as its own table and its prices: a text, its versions, and
//! what is wrong with it.

use askama::Template;
use axum::response::Response;
use shop::book::event::Written;
use shop::book::{Entry, Event, SubjectKind, whole_history};

use super::{entering, units};
use crate::desk::DocumentAt;
use crate::web::fault::Fault;
use crate::web::form::{Entries, Field, Form, Group, Kind};
use crate::web::page::{Frame, drawn, go_on};
use crate::web::visit::Visit;

/// A kind of paper.
pub(super) struct Paper {
    pub(super) kind: SubjectKind,
    /// What it is called in the book.
    pub(super) name: &'static str,
    /// Where its page lies.
    pub(super) path: &'static str,
    /// What is wrong with a text, line by line.
    pub(super) faults: fn(&str) -> Vec<String>,
}

/// The paper as it stands, with its versions, the latest first.
pub(super) struct Standing {
    pub(super) at: Option<DocumentAt>,
    pub(super) versions: Vec<Version>,
}

/// One version.
pub(super) struct Version {
    pub(super) number: u64,
    pub(super) at: String,
    pub(super) by: String,
    text: String,
}

impl Paper {
    /// How it stands in the book.
    pub(super) async fn standing(&self, visit: &Visit) -> Result<Standing, Fault> {
        let at = visit.desk.documents_now(self.kind).await?.into_iter().next();
        let Some(paper) = &at else { return Ok(Standing { at, versions: Vec::new() }) };
        let history = whole_history(visit.desk.book(), &paper.subject).await?;
        let versions = history.iter().rev().filter_map(|entry| version(visit, entry)).collect();
        Ok(Standing { at, versions })
    }

    /// The form with the text as it stands.
    pub(super) fn form(&self, visit: &Visit, standing: &Standing, hint: &str) -> Form {
        let text = standing.at.as_ref().map(|paper| paper.state.text.clone()).unwrap_or_default();
        let lines = Field::new(Kind::Lines, "text", "The text").hint(hint).value(text);
        let form = Form::new(self.path, "Keep it as a new version");
        let seen = standing.at.as_ref().map_or(0, |paper| paper.seen);
        let system = Frame::new(visit, "", "").system;
        form.group(Group::new("", vec![lines])).having_seen(seen).shown_in(system)
    }

    /// Keeps what was sent as a new version; the form with what is wrong where it cannot be.
    pub(super) async fn keep(
        &self,
        visit: &Visit,
        entries: &Entries,
        hint: &str,
    ) -> Result<Sent, Fault> {
        let by = visit.writer()?;
        if !entries.has("text") {
            return Err(Fault::form("it holds no text"));
        }
        let standing = self.standing(visit).await?;
        let form = self.form(visit, &standing, hint).fill(entries);
        let mut form = form.having_seen(entries.seen().unwrap_or_default());
        if let Some(to) = entries.switch() {
            return Ok(Sent::Switched(to, Box::new(form.switched(to)), standing));
        }
        let text = unix_lines(entries.get("text"));
        form.problems = (self.faults)(&text);
        if form.is_blamed() {
            return Ok(Sent::Wrong(Box::new(form), standing));
        }
        let now = standing.at.as_ref().map_or(0, |paper| paper.seen);
        let paper = standing.at.clone().map(|paper| (paper.subject, paper.state.name));
        let fresh = || (visit.desk.fresh(self.kind), self.name.to_owned());
        let (subject, name) = paper.unwrap_or_else(fresh);
        let event = Event::Written(Written { name, text });
        let write = visit.desk.append(by, &subject, form.seen, vec![event]);
        if entering::enter(visit, &mut form, now, vec![write]).await?.is_written() {
            return Ok(Sent::Kept(go_on(self.path)));
        }
        Ok(Sent::Wrong(Box::new(form), standing))
    }

    /// Shows an older version.
    pub(super) async fn show_version(
        &self,
        visit: &Visit,
        place: &'static str,
        number: u64,
    ) -> Result<Response, Fault> {
        let standing = self.standing(visit).await?;
        let version = standing.versions.into_iter().find(|version| version.number == number);
        let version = version.ok_or(Fault::NoPage)?;
        let heading = format!("{}, version {number}", capital(self.name));
        let frame = Frame::new(visit, place, &heading);
        drawn(&VersionPage { frame, heading, version, path: self.path })
    }
}

/// What became of a text that was sent.
pub(super) enum Sent {
    /// It is kept.
    Kept(Response),
    /// The units were switched, and the form comes back.
    Switched(geometry::System, Box<Form>, Standing),
    /// Something is wrong with it.
    Wrong(Box<Form>, Standing),
}

#[derive(Template)]
#[template(path = "version.html")]
struct VersionPage {
    frame: Frame,
    heading: String,
    version: Version,
    path: &'static str,
}

fn version(visit: &Visit, entry: &Entry) -> Option<Version> {
    let Event::Written(written) = &entry.event else { return None };
    Some(Version {
        number: entry.number,
        at: visit.zone.minute(entry.stamp.at),
        by: entry.stamp.by.to_string(),
        text: written.text.clone(),
    })
}

/// A browser ends lines as its own network does; the book keeps them as files do.
fn unix_lines(text: &str) -> String {
    let text = text.replace("\r\n", "\n");
    if text.is_empty() { text } else { text + "\n" }
}

/// The line of a text, to stand beside what is wrong with it.
pub(super) fn line_of(text: &str, line: usize) -> String {
    let line = line.checked_sub(1).and_then(|at| text.lines().nth(at)).unwrap_or_default();
    let shown: String = line.trim().chars().take(80).collect();
    if shown.is_empty() { shown } else { format!(" (it says: {shown})") }
}

fn capital(words: &str) -> String {
    let mut letters = words.chars();
    letters.next().map_or_else(String::new, |first| first.to_uppercase().chain(letters).collect())
}

/// A page in the units that were asked for.
pub(super) fn switched(to: geometry::System, page: Response) -> Response {
    units::with(to, page)
}

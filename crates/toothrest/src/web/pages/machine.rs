//! One machine: what it has, its file, and the versions of it.

use askama::Template;
use axum::extract::{Path, Query};
use axum::response::Response;
use geometry::{Angle, System};
use serde::Deserialize;
use sheets::text::Units;
use shop::book::event::{Retired, Written};
use shop::book::{Event, Store, SubjectKind, whole_history};
use shop::plan::system_of;
use shop::pose::MachineChain;
use shop::record::{Axis, Finest, Hand, Machine, Motion, Reads};

use super::cutter::Figure;
use super::machine_form::{Described, Description};
use super::machines::{about, machine_of};
use super::record::{Line, lines};
use super::wheels::mounted_on;
use super::{entering, units};
use crate::desk::DocumentAt;
use crate::web::fault::Fault;
use crate::web::form::{Entries, Form};
use crate::web::page::{Frame, blamed, drawn, go_on};
use crate::web::visit::Visit;

/// How a description is looked at.
#[derive(Debug, Default, Deserialize)]
pub(super) struct As {
    #[serde(default, rename = "as")]
    form: String,
}

/// Which version of a file is looked at.
#[derive(Debug, Default, Deserialize)]
pub(super) struct Version {
    version: Option<u64>,
}

/// A dial or a circle as a row.
struct Scale {
    name: String,
    role: &'static str,
    moves: &'static str,
    mark: String,
    finest: String,
    turn: String,
    reads: &'static str,
    backlash: String,
    range: String,
    zero: String,
    grows: String,
    picture: String,
}

#[derive(Template)]
#[template(path = "machine.html")]
struct MachinePage {
    frame: Frame,
    id: String,
    name: String,
    about: String,
    is_gone: bool,
    seen: u64,
    figures: Vec<Figure>,
    speeds: Vec<(String, String)>,
    scales: Vec<Scale>,
    untold: Vec<String>,
    fingers: Vec<(String, String, &'static str)>,
    wheels: Vec<(String, String)>,
    text: String,
    problems: Vec<String>,
    /// What stands against it as it is described.
    doubts: Vec<String>,
    history: Vec<Line>,
    shown: u64,
}

/// Shows a machine; its file in the version that is asked for.
pub(super) async fn show(
    visit: Visit,
    Path(id): Path<String>,
    Query(asked): Query<Version>,
) -> Result<Response, Fault> {
    let paper = visit.desk.document(SubjectKind::Machine, &id).await?;
    let read = machine_of(&paper);
    let machine = read.as_ref().ok();
    let own = machine.map_or(System::Millimetre, own_system);
    let system = visit.units.unwrap_or(own);
    let frame = Frame::new(&visit, "machines", &paper.state.name).in_system(system);
    let units = frame.units();
    let history = whole_history(visit.desk.book(), &paper.subject).await?;
    let old = asked.version.and_then(|version| {
        let entry = history.iter().find(|entry| entry.number == version)?;
        written(&entry.event).map(|written| written.text.clone())
    });
    let doubts = match machine.filter(|_| !paper.is_gone) {
        Some(machine) => visit.desk.benches().await?.against_machine(machine),
        None => Vec::new(),
    };
    drawn(&MachinePage {
        name: paper.state.name.clone(),
        about: machine.map(about).unwrap_or_default(),
        is_gone: paper.is_gone,
        seen: paper.seen,
        figures: machine.map(|machine| figures(machine, units)).unwrap_or_default(),
        speeds: machine.map(speeds).unwrap_or_default(),
        scales: machine.map(|machine| scales(machine, units)).unwrap_or_default(),
        untold: machine.map(untold).unwrap_or_default(),
        fingers: machine.map(|machine| fingers(machine, units)).unwrap_or_default(),
        wheels: mounted_on(&visit, &paper.subject.id).await?,
        shown: asked.version.filter(|_| old.is_some()).unwrap_or_default(),
        text: old.unwrap_or_else(|| paper.state.text.clone()),
        problems: read
            .err()
            .iter()
            .flat_map(|problems| problems.problems())
            .map(ToString::to_string)
            .collect(),
        doubts,
        history: lines(&visit, &history, units).await?,
        frame,
        id,
    })
}

/// What an entry wrote, be it for the first time or instead of something else.
fn written(event: &Event) -> Option<&Written> {
    match event {
        Event::Written(written) => Some(written),
        Event::Amended(amended) => amended.instead.as_deref().and_then(written),
        _ => None,
    }
}

fn own_system(machine: &Machine) -> System {
    system_of(machine.cross_feed().graduation)
}

fn figures(machine: &Machine, units: Units) -> Vec<Figure> {
    let spindle = machine.spindle();
    let turns: Vec<_> = spindle.rotations().iter().map(|rotation| rotation.name()).collect();
    let (thinnest, thickest) = machine.holding().shanks();
    let shanks = format!("{} to {}", units.nominal(thinnest), units.nominal(thickest));
    let squared = format!("squared by: {}", machine.holding().squaring());
    vec![
        Figure::new("wheel on the", spindle.nut_end(), format!("turns {}", turns.join(" or "))),
        Figure::new("nut thread", spindle.nut_thread().name(), ""),
        Figure::new("shanks", shanks, squared),
        Figure::new("rest stands on the", machine.rest().stands_on().name(), ""),
    ]
}

fn speeds(machine: &Machine) -> Vec<(String, String)> {
    let speeds = machine.spindle().speeds().iter();
    speeds.map(|speed| (speed.rpm.to_string(), speed.belt.clone())).collect()
}

fn fingers(machine: &Machine, units: Units) -> Vec<(String, String, &'static str)> {
    let fingers = machine.rest().fingers().iter();
    let row = |finger: &shop::record::Finger| {
        (finger.name.clone(), units.nominal(finger.width), finger.kind.name())
    };
    fingers.map(row).collect()
}

fn scales(machine: &Machine, units: Units) -> Vec<Scale> {
    machine.axes().iter().map(|axis| scale(axis, units)).collect()
}

/// What the machine's file does not say of how its axes stand, each with the phrases that would.
fn untold(machine: &Machine) -> Vec<String> {
    let chain = MachineChain::of(machine, Hand::Right);
    chain.untold().iter().map(ToString::to_string).collect()
}

fn scale(axis: &Axis, units: Units) -> Scale {
    let finest = match axis.finest() {
        Finest::Length(length) => units.length(length),
        Finest::Angle(angle) => circle(angle),
    };
    let open = Scale {
        name: axis.name().to_owned(),
        role: axis.role().name(),
        moves: axis.side().name(),
        mark: String::new(),
        finest,
        turn: String::new(),
        reads: "",
        backlash: String::new(),
        range: String::new(),
        zero: axis.zero().to_owned(),
        grows: axis.positive().to_owned(),
        picture: super::scale::axis_picture(axis),
    };
    match axis.motion() {
        Motion::Slide(scale) => Scale {
            mark: units.nominal(scale.graduation),
            turn: scale.per_turn.map(|turn| units.nominal(turn)).unwrap_or_default(),
            reads: match scale.reads {
                Reads::Radius => "radius",
                Reads::Diameter => "diameter",
            },
            backlash: lost(scale.backlash.mm(), || units.length(scale.backlash)),
            range: ends(scale.range, |end| units.nominal(end)),
            ..open
        },
        Motion::Swivel(scale) => Scale {
            mark: circle(scale.graduation),
            backlash: lost(scale.backlash.degrees(), || circle(scale.backlash)),
            range: ends(scale.range, circle),
            ..open
        },
    }
}

/// An angle as circles are marked: whole degrees, or minutes.
fn circle(angle: Angle) -> String {
    let minutes = (angle.degrees() * 60.0 * 100.0).round() / 100.0;
    if minutes % 60.0 == 0.0 { format!("{} deg", minutes / 60.0) } else { format!("{minutes} min") }
}

/// Lost motion, where there is any.
fn lost(amount: f64, show: impl Fn() -> String) -> String {
    if amount > 0.0 { show() } else { String::new() }
}

fn ends<T>(range: Option<(T, T)>, show: impl Fn(T) -> String) -> String {
    range.map(|(low, high)| format!("{} to {}", show(low), show(high))).unwrap_or_default()
}

#[derive(Template)]
#[template(path = "machine_form.html")]
struct DescriptionPage {
    frame: Frame,
    heading: String,
    form: Form,
    is_file: bool,
}

fn page(visit: &Visit, heading: &str, described: Description) -> DescriptionPage {
    let Description { form, is_file } = described;
    let frame = Frame::new(visit, "machines", heading).with_form().in_system(form.system);
    DescriptionPage { frame, heading: heading.to_owned(), form, is_file }
}

const NEW: &str = "Describe a machine";
const NEW_ACTION: &str = "/machines/new";

/// Asks for a new machine.
pub(super) async fn new(visit: Visit, Query(shown): Query<As>) -> Result<Response, Fault> {
    visit.writer()?;
    let described = if shown.form == "file" {
        Description::file(NEW_ACTION, "")
    } else {
        Description::questions(NEW_ACTION, visit.system())
    };
    drawn(&page(&visit, NEW, described))
}

/// Enters a new machine.
pub(super) async fn enter(visit: Visit, entries: Entries) -> Result<Response, Fault> {
    keep(&visit, NEW, NEW_ACTION, &entries, None).await
}

/// Shows a machine's description, to be written anew.
pub(super) async fn change_form(
    visit: Visit,
    Path(id): Path<String>,
    Query(shown): Query<As>,
) -> Result<Response, Fault> {
    visit.writer()?;
    let paper = visit.desk.document(SubjectKind::Machine, &id).await?;
    let action = action(&id);
    let mut described = match machine_of(&paper) {
        Ok(machine) if shown.form != "file" => Description::of(&action, &machine),
        _ => Description::file(&action, &paper.state.text),
    };
    described.form.seen = paper.seen;
    drawn(&page(&visit, &heading(&paper), described))
}

fn action(id: &str) -> String {
    format!("/machines/{id}/change")
}

fn heading(paper: &DocumentAt) -> String {
    format!("Describe {} anew", paper.state.name)
}

/// Enters the next version of a machine's file.
pub(super) async fn change(
    visit: Visit,
    Path(id): Path<String>,
    entries: Entries,
) -> Result<Response, Fault> {
    let paper = visit.desk.document(SubjectKind::Machine, &id).await?;
    keep(&visit, &heading(&paper), &action(&id), &entries, Some(&paper)).await
}

/// Takes a description: shows it in another way, says what is wrong with it, or enters it.
async fn keep(
    visit: &Visit,
    heading: &str,
    action: &str,
    entries: &Entries,
    paper: Option<&DocumentAt>,
) -> Result<Response, Fault> {
    let by = visit.writer()?;
    let mut sent = Description::sent(action, entries);
    let seen = entries.seen().unwrap_or_default();
    sent.form.seen = seen;
    if let Some(to) = entries.switch() {
        sent.form = sent.form.switched(to);
        return Ok(units::with(to, drawn(&page(visit, heading, sent))?));
    }
    if entries.has("_turn") {
        let mut turned = sent.turned(action);
        turned.form.seen = seen;
        return drawn(&page(visit, heading, turned));
    }
    let Some(described) = sent.read() else {
        return blamed(&page(visit, heading, sent));
    };
    if is_taken(visit, &described, paper).await? {
        let words = "another machine has this name; write a name of its own";
        sent.form.blame_key("machine.name", words);
        return blamed(&page(visit, heading, sent));
    }
    let fresh = || visit.desk.fresh(SubjectKind::Machine);
    let subject = paper.map_or_else(fresh, |paper| paper.subject.clone());
    let name = described.machine.name().to_owned();
    let event = Event::Written(Written { name, text: described.text });
    let write = visit.desk.append(by, &subject, seen, vec![event]);
    let now = paper.map_or(0, |paper| paper.seen);
    let entered = entering::enter(visit, &mut sent.form, now, vec![write]).await?;
    if entered.is_written() {
        return Ok(go_on(&format!("/machines/{}", subject.id)));
    }
    entered.back(&page(visit, heading, sent))
}

async fn is_taken(
    visit: &Visit,
    described: &Described,
    own: Option<&DocumentAt>,
) -> Result<bool, Fault> {
    let name = described.machine.name();
    let found = visit.desk.book().find(SubjectKind::Machine, name).await?;
    Ok(found.is_some_and(|found| own.is_none_or(|own| own.subject.id != found.subject.id)))
}

/// Says that a machine is done with.
pub(super) async fn retire(
    visit: Visit,
    Path(id): Path<String>,
    entries: Entries,
) -> Result<Response, Fault> {
    let paper = visit.desk.document(SubjectKind::Machine, &id).await?;
    let why = entries.maybe("why").unwrap_or_else(|| "no longer in the shop".to_owned());
    let event = Event::Retired(Retired { why });
    entering::put(&visit, &paper.subject, paper.seen, &entries, event).await?;
    Ok(go_on("/machines"))
}

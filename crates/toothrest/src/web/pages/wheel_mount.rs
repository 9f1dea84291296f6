//! Putting a wheel on a spindle: on which machine, and which of its speeds lie within the mark.

use axum::extract::Path;
use axum::response::Response;
use shop::book::event::Mounted;
use shop::book::{Event, Id, SubjectKind};
use shop::record::{Machine, Wheel};

use super::entering;
use super::wheel_work::{WorkPage, cautions};
use super::wheels::mounted_on;
use crate::desk::{DocumentAt, WheelAt};
use crate::files::read_machine;
use crate::web::fault::Fault;
use crate::web::form::{Choice, Entries, Field, Form, Group};
use crate::web::page::{Frame, blamed, drawn, go_on};
use crate::web::visit::Visit;

const WORDS: &str = "Read the speed marked on the wheel once more, and set the belt before it is \
                     started.";

fn empty(id: &str, machines: &[(DocumentAt, String)], seen: u64) -> Form {
    let choice = |(paper, words): &(DocumentAt, String)| {
        Choice::new(paper.subject.id.to_string(), format!("{}: {words}", paper.state.name))
    };
    let choices = machines.iter().map(choice).collect();
    let on = Field::choice("_machine", "On which machine", choices);
    Form::new(format!("/wheels/{id}/mount"), "It is mounted")
        .having_seen(seen)
        .group(Group::new("", vec![on]))
}

/// The machines, each with what its speeds are beside the mark of a wheel.
async fn machines(visit: &Visit, wheel: &Wheel) -> Result<Vec<(DocumentAt, String)>, Fault> {
    let mut told = Vec::new();
    let against = visit.desk.benches().await?.against_wheel(wheel);
    for paper in visit.desk.documents(SubjectKind::Machine).await? {
        let mut words = match read_machine(&paper.state.name, &paper.state.text) {
            Ok(machine) => speed_words(&machine, wheel),
            Err(_) => "its file cannot be read".to_owned(),
        };
        let against = against.iter().find(|(name, _)| *name == paper.state.name);
        if let Some((_, why)) = against {
            words += &format!("; no use there: {why}");
        }
        for (_, number) in mounted_on(visit, &paper.subject.id).await? {
            words += &format!("; {number} is on it by the book");
        }
        told.push((paper, words));
    }
    Ok(told)
}

/// Which speeds of a machine lie within a wheel's mark, in words.
fn speed_words(machine: &Machine, wheel: &Wheel) -> String {
    let shown = |is_within: bool| {
        let speeds = machine.spindle().speeds().iter();
        let of = speeds.filter(|speed| (speed.rpm <= wheel.marked_rpm()) == is_within);
        of.map(|speed| speed.rpm.to_string()).collect::<Vec<_>>().join(", ")
    };
    match (shown(true), shown(false)) {
        (within, above) if above.is_empty() => format!("{within} rpm, none above its mark"),
        (within, above) if within.is_empty() => format!("{above} rpm, all above its mark"),
        (within, above) => format!("{within} rpm; above its mark: {above} rpm"),
    }
}

async fn page(visit: &Visit, wheel: &WheelAt, form: Form) -> Result<WorkPage, Fault> {
    let record = &wheel.state.wheel;
    let heading = format!("Mount {}, marked {} rpm", record.number(), record.marked_rpm());
    let frame = Frame::new(visit, "wheels", &heading);
    let cautions = cautions(visit, record).await?;
    Ok(WorkPage { frame, heading, words: WORDS.to_owned(), form, cautions })
}

/// Asks on which machine.
pub(super) async fn show(visit: Visit, Path(id): Path<String>) -> Result<Response, Fault> {
    visit.writer()?;
    let wheel = visit.desk.wheel(&id).await?;
    let machines = machines(&visit, &wheel.state.wheel).await?;
    let mut form = empty(&id, &machines, wheel.seen);
    if machines.is_empty() {
        form.problems.push("No machine is in the book; describe yours first.".to_owned());
    }
    drawn(&page(&visit, &wheel, form).await?)
}

/// Enters that it is mounted. A machine that only runs above the mark is refused.
pub(super) async fn mount(
    visit: Visit,
    Path(id): Path<String>,
    entries: Entries,
) -> Result<Response, Fault> {
    let by = visit.writer()?;
    let wheel = visit.desk.wheel(&id).await?;
    let record = &wheel.state.wheel;
    let seen = entries.seen().unwrap_or(wheel.seen);
    let machines = machines(&visit, record).await?;
    let mut form = empty(&id, &machines, seen).fill(&entries);
    let chosen = entries.get("_machine");
    let Some((paper, _)) = machines.iter().find(|(at, _)| at.subject.id.as_str() == chosen) else {
        form.blame_key("_machine", "say on which machine it is");
        return blamed(&page(&visit, &wheel, form).await?);
    };
    if let Some(why) = refusal(paper, record) {
        form.blame_key("_machine", &why);
        return blamed(&page(&visit, &wheel, form).await?);
    }
    let machine: Id = paper.subject.id.clone();
    let event = Event::Mounted(Mounted { machine: Some(machine) });
    let write = visit.desk.append(by, &wheel.subject, seen, vec![event]);
    let entered = entering::enter(&visit, &mut form, wheel.seen, vec![write]).await?;
    if entered.is_written() {
        return Ok(go_on(&format!("/wheels/{id}")));
    }
    entered.back(&page(&visit, &wheel, form).await?)
}

/// Why a wheel must not go on a machine, where its marked speed forbids it.
fn refusal(paper: &DocumentAt, wheel: &Wheel) -> Option<String> {
    let machine = read_machine(&paper.state.name, &paper.state.text).ok()?;
    let slowest = machine.spindle().speeds().first()?.rpm;
    let mark = wheel.marked_rpm();
    (slowest > mark).then(|| {
        let name = &paper.state.name;
        format!(
            "the slowest speed of {name} is {slowest} rpm, above the {mark} rpm marked on this \
             wheel; do not mount it there"
        )
    })
}

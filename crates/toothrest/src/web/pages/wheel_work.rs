//! What is done to a wheel: dressed, measured, looked over, put back on the shelf, done with.

use askama::Template;
use axum::extract::Path;
use axum::response::Response;
use geometry::{Length, System};
use shop::Ctx;
use shop::book::Event;
use shop::book::event::{Dressed, Inspected, Measured, Noted, Retired, WheelSize};
use shop::plan::wheel_cautions;
use shop::record::{Wheel, WheelForm};

use super::record::struck_out;
use super::wheels::system_of;
use super::{entering, units};
use crate::desk::WheelAt;
use crate::files::{read_wheels, wheel_text};
use crate::web::fault::Fault;
use crate::web::form::{Entries, Field, Form, Group, Kind};
use crate::web::page::{Frame, blamed, drawn, go_on};
use crate::web::visit::Visit;

/// The sizes that dressing and wear change, by the keys of a wheel's file.
const SIZES: [(&str, &str); 4] = [
    ("wheel.diameter", "Diameter"),
    ("wheel.face_width", "Width of the face"),
    ("wheel.corner_radius", "Worn corner, its radius"),
    (DEPTH, "Height over all"),
];

/// The key of a wheel's height.
const DEPTH: &str = "wheel.depth";

/// A kind of work with a form of its own.
#[derive(Clone, Copy, PartialEq, Eq)]
pub(super) enum Work {
    Dress,
    Measure,
    Inspect,
}

impl Work {
    /// The kind of work that an address names.
    fn named(name: &str) -> Result<Self, Fault> {
        let all = [Self::Dress, Self::Measure, Self::Inspect];
        all.into_iter().find(|work| work.name() == name).ok_or(Fault::NoPage)
    }

    const fn name(self) -> &'static str {
        match self {
            Self::Dress => "dress",
            Self::Measure => "measure",
            Self::Inspect => "inspect",
        }
    }

    const fn heading(self) -> &'static str {
        match self {
            Self::Dress => "Dressed",
            Self::Measure => "Measured",
            Self::Inspect => "Looked over",
        }
    }

    const fn words(self) -> &'static str {
        match self {
            Self::Dress => {
                "Measure it afterwards: the next set-up is reckoned from its size. What is left \
                 open stays as it was."
            }
            Self::Measure => "What is left open stays as it was.",
            Self::Inspect => {
                "Write down what you saw and heard. It says nothing of what was not looked at."
            }
        }
    }

    const fn submit(self) -> &'static str {
        match self {
            Self::Dress => "It is dressed",
            Self::Measure => "That is its size",
            Self::Inspect => "Write it down",
        }
    }
}

#[derive(Template)]
#[template(path = "wheel_work.html")]
pub(super) struct WorkPage {
    pub(super) frame: Frame,
    pub(super) heading: String,
    pub(super) words: String,
    pub(super) form: Form,
    pub(super) cautions: Vec<String>,
}

fn empty(work: Work, id: &str, wheel: &Wheel, system: System, seen: u64) -> Form {
    let form = Form::new(format!("/wheels/{id}/enter/{}", work.name()), work.submit())
        .shown_in(system)
        .having_seen(seen);
    match work {
        Work::Dress => form
            .group(Group::new("", how_dressed()))
            .group(Group::new("Its size afterwards", sizes(wheel, system))),
        Work::Measure => form.group(Group::new("", sizes(wheel, system))),
        Work::Inspect => form.group(Group::new("", how_looked())),
    }
}

fn how_dressed() -> Vec<Field> {
    vec![
        Field::length("_taken", "Taken off").hint("of a cup's face, or of the radius of a disc"),
        Field::text("_words", "With what, and how").hint("diamond, stick, stone; any"),
    ]
}

fn how_looked() -> Vec<Field> {
    vec![
        Field::flag("_looked", "Looked over by eye, all round"),
        Field::flag("_rung", "Rung, dry and clean").hint("a vitrified wheel; others do not ring"),
        Field::new(Kind::Lines, "_words", "What you saw and heard"),
    ]
}

fn sizes(wheel: &Wheel, system: System) -> Vec<Field> {
    let units = sheets::text::Units { system, both: false };
    let now = [wheel.diameter(), wheel.face_width(), wheel.corner_radius(), wheel.depth()];
    let is_straight = wheel.shape().form() == WheelForm::Straight;
    let field = |((name, label), now): (&(&str, &str), Length)| {
        let so_far = format!("so far {}", units.length(now));
        match *name {
            DEPTH if is_straight => Field::length(DEPTH, "Thickness").hint(so_far),
            DEPTH => {
                let hint = format!("{so_far}; back to face, by which such a wheel tells its wear");
                Field::length(DEPTH, *label).hint(hint)
            }
            name => Field::length(name, *label).hint(so_far),
        }
    };
    SIZES.iter().zip(now).map(field).collect()
}

async fn page(visit: &Visit, wheel: &WheelAt, work: Work, form: Form) -> Result<WorkPage, Fault> {
    let record = &wheel.state.wheel;
    let heading = format!("{}: {}", record.number(), work.heading().to_lowercase());
    let frame = Frame::new(visit, "wheels", &heading).with_form().in_system(form.system);
    let cautions = match work {
        Work::Inspect => cautions(visit, record).await?,
        Work::Dress | Work::Measure => Vec::new(),
    };
    Ok(WorkPage { frame, heading, words: work.words().to_owned(), form, cautions })
}

/// What to heed before a wheel runs.
pub(super) async fn cautions(visit: &Visit, wheel: &Wheel) -> Result<Vec<String>, Fault> {
    let tables = visit.desk.tables().await?;
    let told = wheel_cautions(&Ctx { tables: &tables }, wheel).into_iter();
    Ok(told.map(|caution| caution.text.value).collect())
}

/// Asks what was done.
pub(super) async fn show(
    visit: Visit,
    Path((id, work)): Path<(String, String)>,
) -> Result<Response, Fault> {
    visit.writer()?;
    let work = Work::named(&work)?;
    let wheel = visit.desk.wheel(&id).await?;
    let record = &wheel.state.wheel;
    let form = empty(work, &id, record, system_of(&visit, record), wheel.seen);
    drawn(&page(&visit, &wheel, work, form).await?)
}

/// Enters what was done.
pub(super) async fn done(
    visit: Visit,
    Path((id, work)): Path<(String, String)>,
    entries: Entries,
) -> Result<Response, Fault> {
    let by = visit.writer()?;
    let work = Work::named(&work)?;
    let wheel = visit.desk.wheel(&id).await?;
    let seen = entries.seen().unwrap_or(wheel.seen);
    let system = entries.shown_in().unwrap_or(System::Millimetre);
    let shown = entries.switch().unwrap_or(system);
    let mut form = empty(work, &id, &wheel.state.wheel, shown, seen).fill(&entries);
    if let Some(to) = entries.switch() {
        return Ok(units::with(to, drawn(&page(&visit, &wheel, work, form.switched(to)).await?)?));
    }
    let Some(event) = event(work, &wheel.state.wheel, &mut form, &entries) else {
        return blamed(&page(&visit, &wheel, work, form).await?);
    };
    let write = visit.desk.append(by, &wheel.subject, seen, vec![event]);
    let entered = entering::enter(&visit, &mut form, wheel.seen, vec![write]).await?;
    if entered.is_written() {
        return Ok(go_on(&format!("/wheels/{id}")));
    }
    entered.back(&page(&visit, &wheel, work, form).await?)
}

/// The entry that a form gives; where there is none, the form says why.
fn event(work: Work, wheel: &Wheel, form: &mut Form, entries: &Entries) -> Option<Event> {
    let words = entries.get("_words").replace("\r\n", "\n");
    match work {
        Work::Dress => {
            let size = size(wheel, form);
            let taken = taken(form);
            let (size, taken) = (size?, taken.ok()?);
            Some(Event::Dressed(Dressed { size, taken, words }))
        }
        Work::Measure => {
            let size = size(wheel, form)?;
            if size == WheelSize::default() {
                form.problems.push("Nothing is measured yet; write one size at least.".to_owned());
                return None;
            }
            Some(Event::Measured(Measured { size }))
        }
        Work::Inspect => {
            let (looked, rung) = (entries.has("_looked"), entries.has("_rung"));
            if !looked && !rung && words.is_empty() {
                form.problems.push("Say what was looked at, or what was seen.".to_owned());
                return None;
            }
            Some(Event::Inspected(Inspected { looked, rung, words }))
        }
    }
}

/// A size may be read so much larger than before (own choice, no source).
const GROWN_MM_MAX: f64 = 0.3;

/// Whether a typed diameter or height says that the wheel has grown; the form then says so.
fn has_grown(wheel: &Wheel, form: &mut Form) -> bool {
    let of = [(SIZES[0].0, wheel.diameter()), (DEPTH, wheel.depth())];
    // Both are asked about, so that each problem is told.
    of.map(|(name, so_far)| has_grown_in(name, so_far, form)).contains(&true)
}

fn has_grown_in(name: &str, so_far: Length, form: &mut Form) -> bool {
    let (system, most) = (form.system, so_far + Length::from_mm(GROWN_MM_MAX));
    let Some(field) = form.field(name) else { return false };
    let typed = field.with_unit(system).parse::<Length>();
    let has_grown = typed.is_ok_and(|typed| typed > most);
    if has_grown {
        let so_far = sheets::text::Units { system, both: false }.length(so_far);
        field.problem = format!(
            "larger than so far, {so_far}, and no wheel grows; read it again, or put right how it \
             was entered"
        );
    }
    has_grown
}

/// The sizes that were typed, sound for this wheel: they are read as its file with them in it.
fn size(wheel: &Wheel, form: &mut Form) -> Option<WheelSize> {
    if has_grown(wheel, form) {
        return None;
    }
    let mut whole: toml::Table = wheel_text(wheel).parse().unwrap_or_default();
    let typed: toml::Table = form.toml().parse().unwrap_or_default();
    let of = |table: &toml::Table| table.get("wheel").and_then(|wheel| wheel.as_table()).cloned();
    let typed = of(&typed).unwrap_or_default();
    let sized: toml::Table = of(&whole).unwrap_or_default().into_iter().chain(typed).collect();
    whole.insert("wheel".to_owned(), sized.into());
    match read_wheels("this form", &toml::to_string(&whole).unwrap_or_default()) {
        Ok(wheels) => wheels.first().map(|sized| typed_of(sized, form)),
        Err(problems) => {
            form.blame(&problems);
            None
        }
    }
}

/// Of the sizes of a wheel, those that were typed.
fn typed_of(wheel: &Wheel, form: &Form) -> WheelSize {
    let is_typed = |name: &str| {
        form.fields().any(|field| field.name == name && !field.value.trim().is_empty())
    };
    let taken = |(name, _): (&str, &str), size: Length| Some(size).filter(|_| is_typed(name));
    WheelSize {
        diameter: taken(SIZES[0], wheel.diameter()),
        face_width: taken(SIZES[1], wheel.face_width()),
        corner_radius: taken(SIZES[2], wheel.corner_radius()),
        depth: taken(SIZES[3], wheel.depth()),
    }
}

/// What was taken off, where it was typed.
fn taken(form: &mut Form) -> Result<Option<Length>, ()> {
    let system = form.system;
    let Some(field) = form.field("_taken").filter(|field| !field.value.is_empty()) else {
        return Ok(None);
    };
    match field.with_unit(system).parse::<Length>() {
        Ok(length) if length >= Length::ZERO => Ok(Some(length)),
        Ok(_) => {
            field.problem = "below 0; write how much came off, without a sign".to_owned();
            Err(())
        }
        Err(error) => {
            field.problem = format!("{}; {}", error.wrong(), error.right());
            Err(())
        }
    }
}

/// Puts it back on the shelf.
pub(super) async fn shelve(
    visit: Visit,
    Path(id): Path<String>,
    entries: Entries,
) -> Result<Response, Fault> {
    written(&visit, &id, &entries, Event::Shelved).await
}

/// Says that a wheel is done with.
pub(super) async fn retire(
    visit: Visit,
    Path(id): Path<String>,
    entries: Entries,
) -> Result<Response, Fault> {
    let why = entries.maybe("why").unwrap_or_else(|| "used up".to_owned());
    written(&visit, &id, &entries, Event::Retired(Retired { why })).await
}

/// Notes something in a wheel's history.
pub(super) async fn note(
    visit: Visit,
    Path(id): Path<String>,
    entries: Entries,
) -> Result<Response, Fault> {
    match entries.maybe("words") {
        Some(words) => written(&visit, &id, &entries, Event::Noted(Noted { words })).await,
        None => Ok(go_on(&format!("/wheels/{id}"))),
    }
}

/// Strikes out an entry that was wrong.
pub(super) async fn strike(
    visit: Visit,
    Path(id): Path<String>,
    entries: Entries,
) -> Result<Response, Fault> {
    written(&visit, &id, &entries, struck_out(&entries)?).await
}

async fn written(
    visit: &Visit,
    id: &str,
    entries: &Entries,
    event: Event,
) -> Result<Response, Fault> {
    let wheel = visit.desk.wheel(id).await?;
    entering::put(visit, &wheel.subject, wheel.seen, entries, event).await?;
    Ok(go_on(&format!("/wheels/{id}")))
}

//! Handing back: the size, the tag, the record.

use askama::Template;
use axum::extract::Path;
use axum::response::Response;
use geometry::{Angle, Length, System};
use sheets::text::size_for_tag;
use shop::book::event::HandedBack;
use shop::book::{CutterState, Event, Store, whole_history};
use shop::check::Check;
use shop::plan::{
    BenchStep, FacePlan, Peripheral, PlanStep, RegrindPlan, SizesLeft, Stanced, cuts_end,
    end_wanted,
};
use shop::record::{AsGround, Cutter};

use super::cutter::Figure;
use super::plan::cautions;
use super::{entering, units};
use crate::desk::{CutterAt, Made};
use crate::files::{cutter_text, read_cutter};
use crate::paper;
use crate::web::fault::Fault;
use crate::web::form::{Entries, Field, Form, Group};
use crate::web::page::{Frame, blamed, drawn, go_on};
use crate::web::visit::Visit;

#[derive(Template)]
#[template(path = "back.html")]
struct BackPage {
    frame: Frame,
    number: String,
    form: Form,
    ask: Ask,
    cautions: Vec<String>,
}

#[derive(Template)]
#[template(path = "tag.html")]
struct TagPage {
    frame: Frame,
    id: String,
    number: String,
    unsettled: Option<String>,
    picture: String,
    figures: Vec<Figure>,
    /// Names of the labels that the bench knows, and what they are.
    labels: Vec<(&'static str, &'static str)>,
}

/// What is asked before a cutter goes back, one thing after the other.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
enum Ask {
    /// The size that goes on the tag.
    Size,
    /// How its teeth are ground now.
    Grind,
    /// Where it goes.
    Where,
}

impl Ask {
    const ALL: [Self; 3] = [Self::Size, Self::Grind, Self::Where];

    /// Its number on the page, from 1.
    const fn number(self) -> usize {
        match self {
            Self::Size => 1,
            Self::Grind => 2,
            Self::Where => 3,
        }
    }

    /// The question of that number; the last where it names none, as of a form that has them all.
    fn of(number: &str) -> Self {
        let is_meant = |ask: &&Self| ask.number().to_string() == number;
        Self::ALL.iter().find(is_meant).copied().unwrap_or(Self::Where)
    }

    fn next(self) -> Self {
        Self::of(&(self.number() + 1).to_string())
    }

    const fn heading(self) -> &'static str {
        match self {
            Self::Size => "The size for its tag",
            Self::Grind => "How its teeth are ground now",
            Self::Where => "Where it goes",
        }
    }

    const fn words(self) -> &'static str {
        match self {
            Self::Size => {
                "The diameter over the new edges, as you measure it. The machinist sets this size \
                 and not the nominal one, and the next regrind is reckoned from it."
            }
            Self::Grind => {
                "What the wheel left behind the edge. The next hand who regrinds it starts from \
                 here. Change it where it was set otherwise than planned."
            }
            Self::Where => "It stands in the record, so that it is found again.",
        }
    }

    const fn submit(self) -> &'static str {
        match self {
            Self::Size => "That is its size",
            Self::Grind => "That is how it is ground",
            Self::Where => "Hand it back with its tag",
        }
    }
}

fn empty(id: &str, system: System, seen: u64) -> Form {
    let size = vec![
        Field::length("as_ground.diameter", "Diameter over the new edges")
            .needed()
            .hint("by micrometer, near the middle of the flute"),
    ];
    let ground = vec![
        Field::angle("as_ground.primary", "Primary relief")
            .needed()
            .hint("of the narrow land right behind the edge"),
        Field::angle("as_ground.secondary", "Secondary clearance")
            .needed()
            .hint("of what falls away behind the land; more than the primary"),
        Field::length("as_ground.land", "Land").needed().hint("width of the primary"),
        Field::angle("as_ground.next_primary", "Primary to give next time")
            .hint("only where its wear asks for another; else leave it open"),
        Field::length("_shorter", "Shorter by")
            .hint("what its end lost, if it was ground; flute and whole length follow"),
    ];
    let to = vec![Field::text("_to", "To").hint("a machine, a customer, a drawer")];
    let groups = Ask::ALL.iter().zip([size, ground, to]);
    groups.fold(
        Form::new(format!("/cutters/{id}/back"), "").shown_in(system).having_seen(seen),
        |form, (_, fields)| form.group(Group::new("", fields)),
    )
}

/// Leaves one question to be seen; the answers to the others are carried along.
fn asking(mut form: Form, ask: Ask) -> Form {
    ask.submit().clone_into(&mut form.submit);
    let all = Ask::ALL.iter().zip(&mut form.groups);
    all.for_each(|(of, group)| group.is_carried = *of != ask);
    form
}

/// The first question up to this one whose answer is wrong. What is wrong further on was not asked
/// yet, and is forgotten.
fn first_wrong(form: &mut Form, up_to: Ask) -> Option<Ask> {
    let is_wrong =
        |group: &Group| group.fields.iter().any(|field: &Field| !field.problem.is_empty());
    let mut asked = Ask::ALL.iter().zip(&form.groups).take(up_to.number());
    let wrong = asked.find_map(|(ask, group)| is_wrong(group).then_some(*ask));
    let later = form.groups.iter_mut().skip(up_to.number());
    later.flat_map(|group| &mut group.fields).for_each(|field| field.problem.clear());
    let is_last = up_to == Ask::Where;
    if !is_last {
        form.problems.clear();
    }
    wrong.or((is_last && form.is_blamed()).then_some(up_to))
}

/// Asks for the size first, with what plan and check know of it.
pub(super) async fn show(visit: Visit, Path(id): Path<String>) -> Result<Response, Fault> {
    visit.writer()?;
    let cutter = visit.desk.cutter(&id).await?;
    let system = visit.system_of(&cutter.state.cutter);
    let mut form = empty(&id, system, cutter.seen);
    let mut from = "the book knows no size for it".to_owned();
    if let Some(plan) = cutter.state.planned {
        let made = visit.desk.kept(&cutter.subject, plan).await?;
        let shorter = end_lost(&cutter, &made).map(|lost| rounded(lost, system));
        fill(&mut form, [("_shorter", shorter.unwrap_or_default())]);
        let measured = measured_when_ground(&visit, &cutter).await?;
        if let Some(face) = made.beside.face.planned() {
            let before = cutter.state.cutter.as_ground();
            from = put_face(&mut form, face, (before, measured), system);
        } else if let Some(work) = &made.plan.peripheral {
            let check = match made.plan.is_weighed() {
                true => super::check::last(&visit, &cutter).await?,
                false => None,
            };
            from = put(&mut form, (&made.plan, work), (check.as_deref(), measured), system);
        } else if let Some(ground) = cutter.state.cutter.as_ground() {
            from = put_unchanged(&mut form, ground, system);
        }
    }
    if let (Some(field), Some(came)) = (form.field("_to"), came_from(&visit, &cutter).await?) {
        field.hint = format!("a machine, a customer, a drawer; it came from {came}");
        field.value = came;
    }
    if let Some(field) = form.field("as_ground.diameter") {
        let is_tapered = cutter.state.cutter.taper() > Angle::ZERO;
        let place = if is_tapered { "at the tip" } else { "near the middle of the flute" };
        field.hint = format!("{from}; by micrometer, {place}");
    }
    drawn(&page(&visit, &cutter, form, Ask::Size).await?)
}

/// What the end lost by its plan, as far as the steps that take it off are done. A feed that was
/// begun and not marked to its last pass leaves it open: nobody but the hand knows how far it went.
fn end_lost(cutter: &CutterAt, made: &Made) -> Option<Length> {
    let end = made.beside.end.planned().map(|end| (&end.stock, end.stock.off.value));
    let ball = || made.beside.ball.planned().map(|ball| (&ball.stock, ball.off));
    let (stock, planned_off) = end.or_else(ball)?;
    let is_done = |key: &str| cutter.state.steps.iter().any(|(_, done)| done.step == key);
    let cut_back = if is_done("end: cut off") { stock.cut_back } else { Length::ZERO };
    let is_pass = |step: &&BenchStep| {
        ["end: pass ", "ball: pass "].iter().any(|pass| step.key.starts_with(pass))
    };
    let steps = made.steps();
    let (done, open): (Vec<_>, Vec<_>) =
        steps.iter().filter(|step| is_pass(step)).partition(|step| is_done(&step.key));
    let off = match (done.is_empty(), open.is_empty()) {
        (true, _) => Length::ZERO,
        (false, true) => planned_off,
        (false, false) => return None,
    };
    Some(cut_back + off).filter(|lost| *lost > Length::ZERO)
}

/// That the end is not done, where it is planned and steps of it are open.
fn open_end(cutter: &CutterAt, made: &Made) -> Option<String> {
    let is_done = |key: &str| cutter.state.steps.iter().any(|(_, done)| done.step == key);
    let steps = made.steps();
    let open = steps.iter().filter(|step| cuts_end(&step.key) && !is_done(&step.key)).count();
    (open > 0)
        .then(|| format!("{open} steps of the end are not marked as done. Is the end ground?"))
}

/// That the end was not in the plan of a cutter that wants it ground: whoever mills with it takes
/// its corner for what the tag says.
fn end_left(cutter: &CutterAt, made: &Made, system: System) -> Option<String> {
    let is_planned = made.steps().iter().any(|step| cuts_end(&step.key));
    let record = &cutter.state.cutter;
    let why = end_wanted(record, made.plan.verdict.route, system).filter(|_| !is_planned)?;
    Some(format!(
        "When it came in, {why}, and its plan left the end as it was. Where it is ground by now, \
         write what the end lost; else tell whoever gets it."
    ))
}

/// The size that a hand measured when the plan was ground, where one was written down.
async fn measured_when_ground(visit: &Visit, cutter: &CutterAt) -> Result<Option<Length>, Fault> {
    let Some(number) = cutter.state.ground else { return Ok(None) };
    let found = visit.desk.book().history(&cutter.subject, number.saturating_sub(1), 1).await?;
    Ok(match found.into_iter().next().map(|entry| entry.event) {
        Some(Event::Ground(ground)) if ground.plan == cutter.state.planned => ground.diameter_after,
        _ => None,
    })
}

/// From where a cutter last came, where that was written down.
async fn came_from(visit: &Visit, cutter: &CutterAt) -> Result<Option<String>, Fault> {
    let Some(number) = cutter.state.received else { return Ok(None) };
    let found = visit.desk.book().history(&cutter.subject, number.saturating_sub(1), 1).await?;
    Ok(match found.into_iter().next().map(|entry| entry.event) {
        Some(Event::Received(received)) => received.from,
        _ => None,
    })
}

/// Where a size comes from that was measured before it was checked.
const MEASURED: &str = "what you measured when it was ground";

/// Puts in what is known; says where the size comes from. A taper's reliefs are those half way up,
/// as its record has them; at the tip they are greater.
fn put(
    form: &mut Form,
    (plan, work): (&RegrindPlan, &Peripheral),
    (check, measured): (Option<&Check>, Option<Length>),
    system: System,
) -> String {
    let (diameter, from) = match (check.and_then(size_for_tag), measured) {
        (Some(found), _) => (found.length(), "what your readings say it cuts at"),
        (None, Some(measured)) => (measured, MEASURED),
        (None, None) => {
            let from = "what the plan expects: measure it before it goes on the tag";
            (work.expected.diameter, from)
        }
    };
    let next = check.and_then(|check| check.next_clearance.as_ref());
    let angle = |angle: geometry::Angle| format!("{:.2} deg", angle.degrees());
    let half_way = |wanted: Angle, set: &Stanced| match plan.request.cutter.taper() > Angle::ZERO {
        true => wanted + (set.relief - set.target.relief),
        false => set.relief,
    };
    let primary = half_way(plan.wanted.primary.value, &work.stanced);
    let secondary = half_way(plan.wanted.secondary.value, &work.secondary.stanced);
    let values = [
        ("as_ground.diameter", rounded(diameter, system)),
        ("as_ground.primary", angle(primary)),
        ("as_ground.secondary", angle(secondary)),
        ("as_ground.land", rounded(work.expected.land, system)),
        ("as_ground.next_primary", next.map(|next| angle(next.next.value)).unwrap_or_default()),
    ];
    fill(form, values);
    from.to_owned()
}

/// Puts in how the teeth were ground before, where the periphery is not ground.
fn put_unchanged(form: &mut Form, ground: &AsGround, system: System) -> String {
    let angle = |angle: geometry::Angle| format!("{:.2} deg", angle.degrees());
    let values = [
        ("as_ground.diameter", rounded(ground.diameter, system)),
        ("as_ground.primary", angle(ground.primary)),
        ("as_ground.secondary", angle(ground.secondary)),
        ("as_ground.land", rounded(ground.land, system)),
    ];
    fill(form, values);
    "as it was, for its periphery is not ground: measure it before it goes on the tag".to_owned()
}

/// Puts in how the teeth were ground before, with the size that a grind on the face leaves.
fn put_face(
    form: &mut Form,
    face: &FacePlan,
    (before, measured): (Option<&AsGround>, Option<Length>),
    system: System,
) -> String {
    if let Some(ground) = before {
        put_unchanged(form, ground, system);
    }
    let diameter = measured.unwrap_or(face.expected.diameter);
    fill(form, [("as_ground.diameter", rounded(diameter, system))]);
    let planned = "what the plan of the face expects: measure it before it goes on the tag";
    if measured.is_some() { MEASURED } else { planned }.to_owned()
}

fn fill<const N: usize>(form: &mut Form, values: [(&str, String); N]) {
    for (name, value) in values {
        if let Some(field) = form.field(name) {
            field.value = value;
        }
    }
}

/// A length to the step that a micrometer reads.
fn rounded(length: Length, system: System) -> String {
    let step = match system {
        System::Inch => Length::from_inches(0.0001),
        System::Millimetre => Length::from_mm(0.001),
    };
    length.show_to(system, step).to_string()
}

async fn page(visit: &Visit, cutter: &CutterAt, form: Form, ask: Ask) -> Result<BackPage, Fault> {
    let record = &cutter.state.cutter;
    let frame = Frame::new(visit, "tray", format!("Hand back {}", record.number()));
    let cautions = match cutter.state.planned {
        Some(plan) => {
            let made = visit.desk.kept(&cutter.subject, plan).await?;
            let of_plan = cautions(&made.plan.cautions, &[PlanStep::HandBack]);
            let left = end_left(cutter, &made, form.system);
            open_end(cutter, &made).into_iter().chain(left).chain(of_plan).collect()
        }
        None => Vec::new(),
    };
    Ok(BackPage {
        frame: frame.with_form().in_system(form.system),
        number: record.number().to_owned(),
        form: asking(form, ask),
        ask,
        cautions,
    })
}

/// Takes one answer after the other, and enters at the end that it left the bench.
pub(super) async fn hand_back(
    visit: Visit,
    Path(id): Path<String>,
    entries: Entries,
) -> Result<Response, Fault> {
    let by = visit.writer()?;
    let cutter = visit.desk.cutter(&id).await?;
    cutter.check_here()?;
    let seen = entries.seen().unwrap_or(cutter.seen);
    let ask = Ask::of(entries.get("_ask"));
    let mut form = empty(&id, System::Millimetre, seen).fill(&entries);
    let is_sure = entries.has(SIZE_SURE);
    if is_sure {
        ask_of_size(&mut form, "yes");
    }
    if let Some(to) = entries.switch() {
        let page = page(&visit, &cutter, form.switched(to), ask).await?;
        return Ok(units::with(to, drawn(&page)?));
    }
    if entries.has("_before") {
        return drawn(&page(&visit, &cutter, form, Ask::of(entries.get("_before"))).await?);
    }
    let to = entries.maybe("_to");
    let left = HandedBack { to, ..HandedBack::default() };
    let event = if entries.has("_unground") {
        left
    } else {
        let sizes = if is_sure { None } else { sizes_left(&visit, &cutter).await? };
        let ground = answered(&cutter.state.cutter, sizes, &mut form);
        let shorter = shorter(&cutter.state.cutter, &mut form);
        if let Some(wrong) = first_wrong(&mut form, ask) {
            return blamed(&page(&visit, &cutter, form, wrong).await?);
        }
        match ground.filter(|_| ask == Ask::Where) {
            Some(ground) => HandedBack { as_ground: Some(ground), shorter, ..left },
            None => return drawn(&page(&visit, &cutter, form, ask.next()).await?),
        }
    };
    let is_ground = event.as_ground.is_some();
    let write = visit.desk.append(by, &cutter.subject, seen, vec![Event::HandedBack(event)]);
    let entered = entering::enter(&visit, &mut form, cutter.seen, vec![write]).await?;
    if !entered.is_written() {
        return entered.back(&page(&visit, &cutter, form, ask).await?);
    }
    Ok(go_on(&if is_ground { format!("/cutters/{id}/tag") } else { format!("/cutters/{id}") }))
}

/// The name of the hand's word that an odd size is meant.
const SIZE_SURE: &str = "_size_sure";

/// Asks beside the size whether it is meant.
fn ask_of_size(form: &mut Form, value: &str) {
    let label = "I have measured again: it really has that size";
    if let Some(size) = form.groups.first_mut() {
        size.fields.push(Field::flag(SIZE_SURE, label).value(value));
    }
}

/// The sizes that its last plan can have left.
async fn sizes_left(visit: &Visit, cutter: &CutterAt) -> Result<Option<SizesLeft>, Fault> {
    let Some(plan) = cutter.state.planned else { return Ok(None) };
    Ok(visit.desk.kept(&cutter.subject, plan).await?.sizes_left())
}

/// What was ground, by the answers so far; where they give none, the form says why.
fn answered(cutter: &Cutter, left: Option<SizesLeft>, form: &mut Form) -> Option<AsGround> {
    let system = form.system;
    match as_ground(cutter, form) {
        Ok(ground) if has_grown(cutter, &ground) => {
            let words =
                "more than it had when it came in, and a grind adds no metal; measure again";
            form.blame_key("as_ground.diameter", words);
            None
        }
        Ok(ground) => match left.and_then(|left| left.doubt(ground.diameter, system)) {
            Some(doubt) => {
                form.blame_key("as_ground.diameter", &doubt);
                ask_of_size(form, "");
                None
            }
            None => Some(ground),
        },
        Err(problems) => {
            form.blame(&problems);
            None
        }
    }
}

/// What the end lost, where it says so; where that cannot be, the form says why.
fn shorter(cutter: &Cutter, form: &mut Form) -> Option<Length> {
    let system = form.system;
    let field = form.field("_shorter").filter(|field| !field.value.trim().is_empty())?;
    let typed = field.with_unit(system).parse::<Length>();
    let left = |lost: &Length| (Length::ZERO..cutter.flute_length()).contains(lost);
    match typed {
        Ok(lost) if left(&lost) => Some(lost).filter(|lost| *lost > Length::ZERO),
        Ok(lost) if lost < Length::ZERO => {
            let words = "a grind adds no length; write how much shorter it is, or leave it open";
            form.blame_key("_shorter", words);
            None
        }
        Ok(_) => {
            let flute = cutter.flute_length().show(system);
            form.blame_key("_shorter", &format!("of {flute} of flute something must be left"));
            None
        }
        Err(error) => {
            form.blame_key("_shorter", &error.to_string());
            None
        }
    }
}

/// What two readings of one size may differ by, in mm (own choice, no source).
const READINGS_DIFFER_MM: f64 = 0.02;

/// Whether the new size is above the one measured over the dull edges.
fn has_grown(cutter: &Cutter, ground: &AsGround) -> bool {
    let before = cutter.wear().and_then(shop::record::Wear::measured_diameter);
    let least = Length::from_mm(READINGS_DIFFER_MM);
    before.is_some_and(|before| ground.diameter > before + least)
}

/// What was ground, sound for this cutter.
fn as_ground(cutter: &Cutter, form: &Form) -> Result<AsGround, crate::files::FileProblems> {
    let text = cutter_text(&cutter.clone().without_wear());
    let mut whole: toml::Table = text.parse().unwrap_or_default();
    let mut typed: toml::Table = form.toml().parse().unwrap_or_default();
    let ground = typed.remove("as_ground").unwrap_or_else(|| toml::Table::new().into());
    whole.insert("as_ground".to_owned(), ground);
    let text = toml::to_string(&whole).unwrap_or_default();
    let read = read_cutter("this form", &text)?;
    Ok(read.as_ground().copied().unwrap_or(AsGround {
        diameter: cutter.diameter(),
        primary: geometry::Angle::ZERO,
        secondary: geometry::Angle::ZERO,
        land: Length::ZERO,
        next_primary: None,
    }))
}

/// The tag that goes with the cutter.
pub(super) async fn tag(visit: Visit, Path(id): Path<String>) -> Result<Response, Fault> {
    let cutter = visit.desk.cutter(&id).await?;
    let record = &cutter.state.cutter;
    let frame = Frame::of_cutter(&visit, "tray", format!("Tag of {}", record.number()), record);
    let history = whole_history(visit.desk.book(), &cutter.subject).await?;
    drawn(&TagPage {
        number: record.number().to_owned(),
        unsettled: paper::unsettled(&cutter.state),
        picture: super::scale::tag_picture(&visit, &cutter, &history, frame.system),
        figures: tag_figures(&cutter.state, &frame),
        labels: paper::STOCKS.iter().map(|(name, what, _)| (*name, *what)).collect(),
        frame,
        id,
    })
}

fn tag_figures(state: &CutterState, frame: &Frame) -> Vec<Figure> {
    let (units, cutter) = (frame.units(), &state.cutter);
    let Some(ground) = state.standing() else { return Vec::new() };
    let change = ground.diameter - cutter.diameter();
    vec![
        Figure::new("diameter", units.length(ground.diameter), "set this, not the nominal size"),
        Figure::new("radius", units.length(ground.diameter / 2.0), ""),
        Figure::new("change from nominal", units.length(change), units.nominal(cutter.diameter())),
        Figure::new("flute left", units.rough(cutter.flute_length()), ""),
        Figure::new("regrind", cutter.regrinds().to_string(), ""),
    ]
}

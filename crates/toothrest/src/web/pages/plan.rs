//! The plan: figures large, reasons on a tap, and a section that follows every changed setting.

use std::sync::Arc;

use askama::Template;
use axum::extract::{Path, Query};
use axum::http::header::SET_COOKIE;
use axum::response::{AppendHeaders, IntoResponse, Response};
use geometry::{Angle, Length, System};
use serde::Deserialize;
use sheets::drawing::{drop_run, end_face, end_section, end_view, tooth_section};
use sheets::text::{
    Units, between_in_words, face_sheet, group_in_words, reading, room_in_words, taper_in_words,
    tight_in_words, unlike_in_words,
};
use shop::book::event::Planned;
use shop::book::{Event, Id, Store, SubjectKind};
use shop::plan::{
    DialMark, HelixGroup, Peripheral, PlanCaution, PlanStep, Quantity, RegrindPlan, ReliefKind,
    SetOtherwise, SetupLine, Tried, end_wanted, first_touch, tried,
};

use super::cutter::Figure;
use super::{entering, units};
use crate::cli::Failure;
use crate::desk::{Asked, CutterAt, Made, kept_inputs};
use crate::web::fault::Fault;
use crate::web::form::{Choice, Entries, Field, Form, Group, system as named, system_name};
use crate::web::page::{Frame, blamed, drawn, go_on};
use crate::web::visit::{MACHINE, Visit, set_cookie};

/// What stands in the page's address.
#[derive(Clone, Debug, Default, Deserialize)]
#[serde(default)]
pub(super) struct Wish {
    machine: String,
    wheel: String,
    relief: String,
    to_size: String,
    end: String,
    off_length: String,
    lean: String,
    rest_inset: String,
    relief_setting: String,
    shown_in: String,
    switch: String,
}

impl Wish {
    /// The wishes that a form posts; what is only tried is left out.
    pub(super) fn of_entries(entries: &Entries) -> Self {
        Self {
            machine: entries.get("machine").to_owned(),
            wheel: entries.get("wheel").to_owned(),
            relief: entries.get("relief").to_owned(),
            to_size: entries.get("to_size").to_owned(),
            end: entries.get("end").to_owned(),
            off_length: entries.get("off_length").to_owned(),
            shown_in: entries.get("shown_in").to_owned(),
            ..Self::default()
        }
    }

    pub(super) fn asked(&self, system: System) -> Asked {
        let typed = named(&self.shown_in).unwrap_or(system);
        let length = |name: &str, text: &str| Field::length(name, "").value(text).with_unit(typed);
        Asked {
            machine: self.machine.clone(),
            wheel: self.wheel.clone(),
            relief: self.relief.clone(),
            to_size: length("to_size", &self.to_size),
            end: self.end == END_TOO,
            off_length: length("off_length", &self.off_length),
        }
    }

    /// The same wishes on a page in another system: what was typed keeps its meaning.
    fn shown_again(mut self, to: System) -> Self {
        if let Some(from) = named(&self.shown_in).filter(|from| *from != to) {
            let kept = |text: &str| Field::length("", "").value(text).with_unit(from);
            self.to_size = kept(&self.to_size);
            self.off_length = kept(&self.off_length);
            self.rest_inset = kept(&self.rest_inset);
            self.shown_in = system_name(to).to_owned();
        }
        self
    }

    /// How far the settings are to stand from the planned ones; what cannot be read is told.
    fn otherwise(&self, system: System) -> Result<SetOtherwise, Fault> {
        let typed = named(&self.shown_in).unwrap_or(system);
        let angle = |name: &str, text: &str| match text.trim() {
            "" => Ok(Angle::ZERO),
            text => {
                Field::angle(name, "").value(text).with_unit(typed).parse().map_err(|error| {
                    Fault::from(shop::ShopError::invalid(name, format!("{error}")))
                })
            }
        };
        let length = |name: &str, text: &str| match text.trim() {
            "" => Ok(Length::ZERO),
            text => {
                Field::length(name, "").value(text).with_unit(typed).parse().map_err(|error| {
                    Fault::from(shop::ShopError::invalid(name, format!("{error}")))
                })
            }
        };
        Ok(SetOtherwise {
            lean: angle("lean", &self.lean)?,
            rest_inset: length("rest inset", &self.rest_inset)?,
            relief_setting: angle("relief setting", &self.relief_setting)?,
        })
    }
}

/// How the wish that the end be ground too is written.
const END_TOO: &str = "ground too";

/// A line of the set-up as a row.
pub(super) struct SetRow {
    item: String,
    mark: String,
    within: String,
    how: String,
    why: String,
}

/// What a plan adds where teeth are unalike or the cutter tapers: the lines of the sheet.
#[derive(Default)]
struct Around {
    teeth: Vec<String>,
    /// Teeth with a set-up of their own, each group with the line of its relief.
    groups: Vec<(String, SetRow)>,
    taper: Vec<String>,
    remarks: Vec<String>,
}

impl Around {
    fn of(work: &Peripheral, units: Units) -> Self {
        let unlike = work.unlike.as_ref();
        let group =
            |group: &HelixGroup| (group_in_words(group), SetRow::of(&group.relief_line, units));
        let groups = unlike.map_or(&[][..], |unlike| &unlike.groups);
        let of_teeth = unlike.iter().flat_map(|unlike| &unlike.remarks);
        let of_taper = work.cone.iter().flat_map(|cone| &cone.remarks);
        Self {
            teeth: unlike.map(|unlike| unlike_in_words(unlike, units)).unwrap_or_default(),
            groups: groups.iter().map(group).collect(),
            taper: work.cone.as_ref().map(|cone| taper_in_words(cone, units)).unwrap_or_default(),
            remarks: of_teeth.chain(of_taper).cloned().collect(),
        }
    }
}

/// What the live part of the page shows.
struct Live {
    verdict: String,
    has_work: bool,
    has_end: bool,
    figures: Vec<Figure>,
    primary: Vec<SetRow>,
    passes: Vec<(String, String)>,
    secondary: Vec<SetRow>,
    secondary_passes: Vec<(String, String)>,
    expected: Vec<Figure>,
    /// Which way to turn the wheel, and what that does.
    turn: String,
    /// What is done before the secondary is set up.
    between: String,
    /// How near the wheel comes to what it must not grind.
    room: String,
    around: Around,
    /// The sheet of the face, where the face is ground.
    face: String,
    cautions: Vec<String>,
    remarks: Vec<String>,
    section: String,
    end: String,
    drops: String,
    trial: Vec<Figure>,
    problem: String,
}

#[derive(Template)]
#[template(path = "plan_live_part.html")]
struct LivePage {
    live: Live,
}

#[derive(Template)]
#[template(path = "plan.html")]
struct PlanPage {
    frame: Frame,
    id: String,
    number: String,
    about: String,
    form: Form,
    trial: Form,
    live: Live,
}

/// Shows the plan that the wishes give.
pub(super) async fn show(
    visit: Visit,
    Path(id): Path<String>,
    Query(wish): Query<Wish>,
) -> Result<Response, Fault> {
    let cutter = visit.desk.cutter(&id).await?;
    let switched = named(&wish.switch);
    let system = switched.unwrap_or(visit.system_of(&cutter.state.cutter));
    let wish = followed(&visit, &cutter, wish.shown_again(system)).await?;
    let page = drawn(&page(&visit, id, &cutter, &wish, system).await?)?;
    Ok(match switched {
        Some(to) => units::with(to, page),
        None => page,
    })
}

async fn page(
    visit: &Visit,
    id: String,
    cutter: &CutterAt,
    wish: &Wish,
    system: System,
) -> Result<PlanPage, Fault> {
    let record = &cutter.state.cutter;
    let heading = format!("Plan {}", record.number());
    let frame = Frame::new(visit, "tray", heading).with_form().in_system(system);
    let live = live_part(visit, cutter, wish, system).await;
    let (form, trial) = forms(visit, &id, cutter, wish, system).await?;
    Ok(PlanPage {
        number: record.number().to_owned(),
        about: sheets::text::describe(record, frame.units()),
        frame,
        id,
        form,
        trial,
        live,
    })
}

/// Where nothing is wished yet, the machine that the last kept plan was made for, else the one that
/// this browser stands beside. One that is no longer in the book is not followed: nobody asked for
/// it on this page, and the page says which it takes instead.
async fn followed(visit: &Visit, cutter: &CutterAt, mut wish: Wish) -> Result<Wish, Fault> {
    if !wish.machine.is_empty() {
        return Ok(wish);
    }
    let planned = match cutter.state.planned {
        Some(number) => visit.desk.planned(&cutter.subject, number).await?.machine,
        None => None,
    };
    let machines = visit.desk.documents(SubjectKind::Machine).await?;
    let is_here = |id: &String| machines.iter().any(|paper| paper.subject.id.as_str() == id);
    let mut followed = planned.map(|id| id.to_string()).into_iter().chain([visit.machine.clone()]);
    wish.machine = followed.find(is_here).unwrap_or_default();
    Ok(wish)
}

/// The part that follows every changed setting.
pub(super) async fn live(
    visit: Visit,
    Path(id): Path<String>,
    Query(wish): Query<Wish>,
) -> Result<Response, Fault> {
    let cutter = visit.desk.cutter(&id).await?;
    let system = visit.system_of(&cutter.state.cutter);
    drawn(&LivePage { live: live_part(&visit, &cutter, &wish, system).await })
}

/// A plan that cannot be made is told in the place of its figures, for the hand may still change
/// what it is asked for.
async fn live_part(visit: &Visit, cutter: &CutterAt, wish: &Wish, system: System) -> Live {
    match made(visit, cutter, wish, system).await {
        Ok((made, trial)) => {
            let live = Live::of(&made.plan, trial.as_ref(), system);
            live.with_end(&made, system).with_face(&made, system)
        }
        Err(problem) => Live::problem(problem),
    }
}

async fn made(
    visit: &Visit,
    cutter: &CutterAt,
    wish: &Wish,
    system: System,
) -> Result<(Arc<Made>, Option<Tried>), String> {
    let told = |failure: Failure| failure.to_string();
    let made = plan_of(visit, cutter, &wish.asked(system)).await.map_err(told)?;
    let otherwise = wish.otherwise(system).map_err(|fault| fault.words())?;
    if otherwise.is_as_planned() || made.plan.peripheral.is_none() {
        return Ok((made, None));
    }
    let trial = tried(&made.plan, &otherwise).map_err(|error| error.to_string())?;
    Ok((made, Some(trial)))
}

async fn forms(
    visit: &Visit,
    id: &str,
    cutter: &CutterAt,
    wish: &Wish,
    system: System,
) -> Result<(Form, Form), Fault> {
    let machines = visit.desk.documents(SubjectKind::Machine).await?;
    let mut machines: Vec<Choice> = machines
        .iter()
        .map(|machine| Choice::new(machine.subject.id.to_string(), &machine.state.name))
        .collect();
    let first = machines.first().map(|choice| choice.value.clone()).unwrap_or_default();
    let is_here = machines.iter().any(|choice| choice.value == wish.machine);
    let machine = match wish.machine.as_str() {
        "" => first,
        asked if is_here => asked.to_owned(),
        // The page refuses to plan for it, so the hand must be able to choose any that there is.
        asked => {
            machines.insert(0, Choice::new(asked, "not in the book now"));
            asked.to_owned()
        }
    };
    let wheels = visit.desk.wheels().await?;
    let wheels = wheels
        .iter()
        .map(|wheel| Choice::new(wheel.subject.id.to_string(), wheel.state.wheel.number()));
    let wheels = std::iter::once(Choice::new("", "whichever suits")).chain(wheels).collect();
    let reliefs = ReliefKind::ALL.iter().map(|kind| Choice::plain(kind.name()));
    let reliefs = std::iter::once(Choice::new("", "by the wheel")).chain(reliefs).collect();
    let ends = vec![Choice::new("", "if the verdict asks for it"), Choice::plain(END_TOO)];
    let form = Form::new(format!("/cutters/{id}/plan"), "Keep this plan")
        .shown_in(system)
        .having_seen(cutter.seen)
        .group(Group::new(
            "",
            vec![
                Field::choice("machine", "Machine", machines).value(machine),
                Field::choice("wheel", "Wheel", wheels).value(&wish.wheel),
                Field::choice("relief", "Relief", reliefs).value(&wish.relief),
                Field::length("to_size", "Grind to size")
                    .value(&wish.to_size)
                    .hint("left open: the largest that cleans every tooth"),
                Field::choice("end", "End", ends).value(&wish.end),
                Field::length("off_length", "Off the length")
                    .value(&wish.off_length)
                    .hint("left open: what its corners have lost"),
            ],
        ));
    let trial = Form::new("", "").shown_in(system).group(Group::new(
        "",
        vec![
            Field::length("rest_inset", "Rest further into the face by").value(&wish.rest_inset),
            Field::angle("relief_setting", "Tooth further below centre by")
                .value(&wish.relief_setting),
            Field::angle("lean", "Head leaning further by").value(&wish.lean),
        ],
    ));
    Ok((form, trial))
}

impl Live {
    fn problem(problem: String) -> Self {
        Self {
            verdict: String::new(),
            has_work: false,
            has_end: false,
            figures: Vec::new(),
            primary: Vec::new(),
            passes: Vec::new(),
            secondary: Vec::new(),
            secondary_passes: Vec::new(),
            expected: Vec::new(),
            turn: String::new(),
            between: String::new(),
            room: String::new(),
            around: Around::default(),
            face: String::new(),
            cautions: Vec::new(),
            remarks: Vec::new(),
            section: String::new(),
            end: String::new(),
            drops: String::new(),
            trial: Vec::new(),
            problem,
        }
    }

    fn of(plan: &RegrindPlan, trial: Option<&Tried>, system: System) -> Self {
        let units = Units { system, both: false };
        let shown = trial.map_or(plan, |trial| &trial.plan);
        let svg = |scene: Option<sheets::scene::Scene>| {
            scene.map(|scene| scene.to_svg()).unwrap_or_default()
        };
        let mut live = Self {
            verdict: plan.verdict.route.name().to_owned(),
            section: svg(tooth_section(shown, system)),
            end: svg(end_view(shown, system)),
            drops: svg(drop_run(shown, system)),
            trial: trial.map(|trial| trial_figures(trial, units)).unwrap_or_default(),
            remarks: remarks(plan),
            cautions: cautions(
                &plan.cautions,
                &[PlanStep::Arrive, PlanStep::Wheel, PlanStep::SetUp],
            ),
            ..Self::problem(String::new())
        };
        if let Some(peripheral) = &plan.peripheral {
            live.has_work = true;
            live.work(plan, peripheral, units);
        }
        live
    }

    /// Says what becomes of the face.
    fn with_face(mut self, made: &Made, system: System) -> Self {
        let face = &made.beside.face;
        if let Some(face) = face.planned() {
            self.face = face_sheet(&made.plan, face, Units { system, both: false });
            self.cautions = cautions(&face.cautions, PlanStep::ALL);
        }
        self.remarks.extend(face.refused().map(|why| format!("the face is not planned: {why}")));
        self
    }

    /// Says what becomes of the end.
    fn with_end(mut self, made: &Made, system: System) -> Self {
        let end = &made.beside.end;
        self.has_end = end.planned().is_some() || made.beside.ball.planned().is_some();
        if let Some(end) = end.planned() {
            let words = "the end is planned too: its set-up stands on the sheet of the kept plan";
            self.remarks.push(words.to_owned());
            self.remarks.extend(end.remarks.iter().cloned());
        }
        let ball = &made.beside.ball;
        if let Some(ball) = ball.planned() {
            let words = "the ball is planned too: its set-up stands on the sheet of the kept plan";
            self.remarks.push(words.to_owned());
            self.remarks.extend(ball.remarks.iter().cloned());
        }
        self.remarks.extend(end.refused().map(|why| format!("the end is not planned: {why}")));
        self.remarks.extend(ball.refused().map(|why| format!("the ball is not planned: {why}")));
        let plan = &made.plan;
        let wanted = end_wanted(&plan.request.cutter, plan.verdict.route, system);
        let wanted = wanted.filter(|_| !self.has_end && made.corrective.is_none());
        self.cautions.extend(wanted.map(|why| {
            format!("This plan leaves the end as it is, and {why}: choose the end too, below")
        }));
        self
    }

    fn work(&mut self, plan: &RegrindPlan, peripheral: &Peripheral, units: Units) {
        self.figures = figures(plan, peripheral, units);
        self.primary = peripheral.setup.iter().map(|line| SetRow::of(line, units)).collect();
        self.passes = pass_rows(&peripheral.grinding);
        let secondary = &peripheral.secondary;
        let is_new = |line: &&SetupLine| !peripheral.setup.contains(line);
        if let Some(grinding) = &secondary.grinding {
            let lines = secondary.lines.iter().filter(is_new);
            self.secondary = lines.map(|line| SetRow::of(line, units)).collect();
            self.secondary_passes = pass_rows(grinding);
        }
        self.expected = expected(peripheral, units);
        self.turn = format!("Turn the wheel {}.", peripheral.direction.words());
        self.between = between_in_words(peripheral).unwrap_or_default();
        self.room = room_in_words(&peripheral.room, units);
        self.cautions.splice(0..0, tight_in_words(&peripheral.room, units));
        self.around = Around::of(peripheral, units);
    }
}

fn remarks(plan: &RegrindPlan) -> Vec<String> {
    let all = plan.stock.remarks.iter().chain(&plan.verdict.remarks).chain(&plan.wanted.remarks);
    let secondary = plan.peripheral.iter().flat_map(|work| &work.secondary.remarks);
    all.chain(secondary).cloned().collect()
}

/// The cautions of some steps, in full.
pub(super) fn cautions(all: &[PlanCaution], steps: &[PlanStep]) -> Vec<String> {
    let of = all.iter().filter(|caution| steps.contains(&caution.step));
    of.map(|caution| caution.text.value.clone()).collect()
}

fn figures(plan: &RegrindPlan, work: &Peripheral, units: Units) -> Vec<Figure> {
    let wheel = &work.wheel;
    let speed = format!("{} rpm", wheel.speed.rpm);
    let wanted = format!("wanted {}", plan.wanted.primary.value.show());
    let kiss = format!("from the first touch: {}", first_touch(work.kissing_tooth));
    let band = &work.expected.diameter_band;
    let band = format!("-{} +{}", units.length(band.0), units.length(band.1));
    let view = plan.verdict.routes.iter().find(|view| view.route == plan.verdict.route);
    let aim = view.and_then(|view| Some((view.diameter_after?, view.reason.clone())));
    let aim = aim.map(|(aim, why)| Figure::new("aim", units.length(aim), why));
    let remark = wheel.speed_remark.as_ref().map(|remark| format!("; {remark}"));
    let belt = format!("{}{}", wheel.speed.belt, remark.unwrap_or_default());
    let marks = format!("{band}, as the dial's marks leave it");
    let mut figures = vec![
        Figure::new("expect", units.length(work.expected.diameter), marks),
        Figure::new("wheel", wheel.wheel.number(), wheel.why.value.clone()),
        Figure::new("spindle", speed, belt),
        Figure::new("primary relief", work.stanced.relief.show().to_string(), wanted),
        Figure::new("land", units.length(work.expected.land), ""),
        Figure::new("feed", units.length(work.grinding.travel), kiss),
    ];
    if let Some(aim) = aim {
        figures.insert(1, aim);
    }
    figures
}

fn trial_figures(trial: &Tried, units: Units) -> Vec<Figure> {
    let off = format!("{} off what is wanted", trial.off_by.show());
    let mut figures = vec![Figure::new("relief, so set", trial.relief.show().to_string(), off)];
    if let Some(land) = trial.land_before {
        figures.push(Figure::new(
            "primary, so set",
            units.length(land),
            "wide before the secondary",
        ));
    }
    if let Some(from) = trial.heel_drag_from {
        figures.push(Figure::new("heel drags", units.length(from), "behind the edge"));
    }
    if let Some(gap) = trial.next_tooth_gap.filter(|gap| *gap < Length::ZERO) {
        figures.push(Figure::new("cuts the next tooth", units.length(gap.abs()), "deep"));
    }
    figures
}

/// How closely a line is set, and what its figure is where it is no mark of a dial.
fn within(line: &SetupLine, units: Units) -> String {
    let within = line.tolerance.map(|within| format!("±{}", units.tolerance(within)));
    let is_bare = line.dial.is_none() && line.value.is_some();
    let figure = is_bare.then(|| line.item.figure().to_owned());
    let parts = within.into_iter().chain(figure).filter(|words| !words.is_empty());
    parts.collect::<Vec<_>>().join(" ")
}

impl SetRow {
    fn of(line: &SetupLine, units: Units) -> Self {
        let value = line.value.map(|value| units.amount(value)).unwrap_or_default();
        Self {
            item: line.item.name().to_owned(),
            mark: line.dial.as_ref().map_or(value, marked),
            within: within(line, units),
            how: line.how.clone(),
            why: line.why.clone(),
        }
    }
}

/// Axis and mark.
pub(super) fn marked(dial: &DialMark) -> String {
    format!("{} {}", dial.axis, reading(dial))
}

fn pass_rows(grinding: &shop::plan::Grinding) -> Vec<(String, String)> {
    let row = |pass: &shop::plan::GrindPass| {
        let mark = match pass.kind {
            shop::plan::PassKind::SparkOut => "no feed".to_owned(),
            _ => marked(&pass.dial),
        };
        (pass.kind.name().to_owned(), mark)
    };
    grinding.passes.iter().map(row).collect()
}

fn expected(work: &Peripheral, units: Units) -> Vec<Figure> {
    let expected = &work.expected;
    let mut figures = vec![
        Figure::new("diameter", units.length(expected.diameter), ""),
        Figure::new("land", units.length(expected.land), "on every tooth"),
    ];
    if let Some(flat) = expected.flat_anvils {
        figures.push(Figure::new("between flat anvils", units.length(flat), "odd teeth"));
    }
    for drop in &expected.drops {
        let at = format!("at {} behind the edge", units.length(drop.distance));
        figures.push(Figure::new("drop", units.length(drop.drop), at));
    }
    if let Some(runout) = &expected.runout {
        figures.push(Figure::new("runout up to", units.length(runout.value), ""));
    }
    figures
}

/// Keeps the plan in the cutter's history.
pub(super) async fn keep(
    visit: Visit,
    Path(id): Path<String>,
    entries: Entries,
) -> Result<Response, Fault> {
    let by = visit.writer()?;
    let cutter = visit.desk.cutter(&id).await?;
    cutter.check_here()?;
    let system = visit.system_of(&cutter.state.cutter);
    let wish = Wish::of_entries(&entries);
    let asked = wish.asked(system);
    let Ok(made) = plan_of(&visit, &cutter, &asked).await else {
        // The page tells why in the place of the figures, with the wishes still in it.
        return blamed(&page(&visit, id, &cutter, &wish, system).await?);
    };
    let planned = planned(&visit, &asked, &made).await?;
    let seen = entries.seen().unwrap_or(cutter.seen);
    let has_work = !made.steps().is_empty();
    let write = visit.desk.append(by, &cutter.subject, seen, vec![Event::Planned(planned)]);
    if let Err(error) = visit.desk.write_all(vec![write]).await {
        let (entered, problem) = entering::why_not(&error);
        let mut page = page(&visit, id, &cutter, &wish, system).await?;
        page.form.problems.push(problem);
        return entered.back(&page);
    }
    let on = if has_work { format!("/cutters/{id}/grind") } else { format!("/cutters/{id}") };
    // What came from a form goes into a cookie only where it has the form of an id.
    let machine = Id::from_text(&asked.machine).map(|id| id.to_string()).unwrap_or_default();
    let machine = set_cookie(MACHINE, &machine, units::YEAR_S);
    Ok((AppendHeaders([(SET_COOKIE, machine)]), go_on(&on)).into_response())
}

async fn plan_of(visit: &Visit, cutter: &CutterAt, asked: &Asked) -> Result<Arc<Made>, Failure> {
    visit.desk.made(visit.desk.inputs(cutter, asked).await?)
}

async fn planned(visit: &Visit, asked: &Asked, made: &Made) -> Result<Planned, Fault> {
    let plan = &made.plan;
    let book = visit.desk.book();
    let beside = &made.beside;
    let of_end = || beside.end.planned().map(|end| end.wheel.wheel.number());
    let of_ball = || beside.ball.planned().map(|ball| ball.wheel.wheel.number());
    let of_face = || beside.face.planned().map(|face| face.wheel.wheel.number());
    let of_periphery = plan.peripheral.as_ref().map(|work| work.wheel.wheel.number());
    let number = of_periphery.or_else(of_end).or_else(of_ball).or_else(of_face);
    let wheel = match number {
        Some(number) => book.find(SubjectKind::Wheel, number).await?,
        None => None,
    };
    let machine = visit.desk.machine(asked).await?;
    Ok(Planned {
        program: env!("CARGO_PKG_VERSION").to_owned(),
        inputs: kept_inputs(&made.inputs),
        wheel: wheel.map(|wheel| wheel.subject.id),
        machine: Some(machine.subject.id),
        ..Planned::of(plan)
    })
}

#[derive(Template)]
#[template(path = "sheet.html")]
struct SheetPage {
    frame: Frame,
    id: String,
    number: String,
    text: String,
    pictures: Vec<String>,
}

/// The set-up sheet of the kept plan, to be read or printed.
pub(super) async fn sheet(visit: Visit, Path(id): Path<String>) -> Result<Response, Fault> {
    let cutter = visit.desk.cutter(&id).await?;
    let record = &cutter.state.cutter;
    let number = cutter.state.planned.ok_or(Fault::NoPage)?;
    let made = visit.desk.kept(&cutter.subject, number).await?;
    let frame =
        Frame::of_cutter(&visit, "tray", format!("Set-up sheet {}", record.number()), record);
    let end = made.beside.end.planned();
    let scenes = [
        end_view(&made.plan, frame.system),
        tooth_section(&made.plan, frame.system),
        end.map(|end| end_face(&made.plan, end, frame.system)),
        end.map(|end| end_section(&made.plan, end, frame.system)),
    ];
    drawn(&SheetPage {
        number: record.number().to_owned(),
        text: made.sheet(frame.units()),
        pictures: scenes.into_iter().flatten().map(|scene| scene.to_svg()).collect(),
        frame,
        id,
    })
}

/// The amount of a quantity that a hand typed.
pub(super) fn quantity(text: &str, like: Quantity, system: System) -> Result<Quantity, Fault> {
    let refused = |error: String| Fault::from(shop::ShopError::invalid("reading", error));
    match like {
        Quantity::Length(_) => Field::length("", "")
            .value(text)
            .with_unit(system)
            .parse()
            .map(Quantity::Length)
            .map_err(|error: geometry::quantity::QuantityError| refused(error.to_string())),
        Quantity::Angle(_) => Field::angle("", "")
            .value(text)
            .with_unit(system)
            .parse()
            .map(Quantity::Angle)
            .map_err(|error: geometry::quantity::QuantityError| refused(error.to_string())),
    }
}

//! The tolerance study: which setting of a plan matters, and how loosely each may be set.

use std::sync::Arc;

use askama::Template;
use axum::extract::{Path, State};
use axum::response::Response;
use sheets::drawing::{causes_view, spread_view};
use sheets::text::Units;
use sheets::text::study_words::{self, percent};
use shop::ShopError;

use super::cutter::Figure;
use super::plan::Wish;
use crate::desk::StudyAt;
use crate::web::fault::Fault;
use crate::web::form::Entries;
use crate::web::jobs::Job;
use crate::web::page::{Frame, drawn, go_on};
use crate::web::state::Bench;
use crate::web::visit::Visit;

#[derive(Template)]
#[template(path = "study.html")]
struct StudyPage {
    frame: Frame,
    running: Option<u64>,
    shown: Option<Shown>,
}

/// A study as it stands on the page.
struct Shown {
    cutter: String,
    number: String,
    machine: String,
    at: String,
    words: Vec<String>,
    others: &'static str,
    dangers: Vec<Figure>,
    settings: Vec<SettingRow>,
    spread: String,
    causes: String,
    remarks: Vec<String>,
}

struct SettingRow {
    name: &'static str,
    usual: String,
    widest: String,
    gain: String,
}

/// Shows the study that was worked out last.
pub(super) async fn show(State(bench): State<Bench>, visit: Visit) -> Result<Response, Fault> {
    let running = bench.jobs().last().filter(|job| job.is_running() && job.page == "/study");
    let frame = Frame::new(&visit, "tray", "Which setting matters");
    let shown = visit.desk.studied().map(|study| Shown::of(&visit, &study, &frame));
    drawn(&StudyPage { running: running.map(|job| job.number), shown, frame })
}

impl Shown {
    fn of(visit: &Visit, at: &StudyAt, frame: &Frame) -> Self {
        let (study, units) = (&at.study, frame.units());
        let request = &study.request.plan.request;
        let rows = study.allowances.iter().filter_map(|one| {
            let habit = study.habits.habit(one.setting)?;
            Some(SettingRow {
                name: one.setting.name(),
                usual: study_words::usual(habit, units),
                widest: study_words::widest(habit, one, units),
                gain: study_words::gain(one.gain),
            })
        });
        let dangers = study.dangers.iter();
        let danger = |one: &shop::study::Endangered| {
            Figure::new(one.danger.name(), percent(one.share), "of teeth")
        };
        Self {
            cutter: at.cutter.to_string(),
            number: request.cutter.number().to_owned(),
            machine: request.machine.name().to_owned(),
            at: visit.zone.minute(at.at),
            words: study_words::verdicts(study, units),
            others: study_words::others(study),
            dangers: dangers.map(danger).collect(),
            settings: rows.collect(),
            spread: spread_view(study, frame.system).to_svg(),
            causes: causes_view(study, frame.system).to_svg(),
            remarks: study.remarks.clone(),
        }
    }
}

/// Begins to study the plan that the wishes on its page give.
pub(super) async fn begin(
    State(bench): State<Bench>,
    visit: Visit,
    Path(id): Path<String>,
    entries: Entries,
) -> Result<Response, Fault> {
    let cutter = visit.desk.cutter(&id).await?;
    let system = visit.system_of(&cutter.state.cutter);
    let asked = Wish::of_entries(&entries).asked(system);
    let made = visit.desk.made(visit.desk.inputs(&cutter, &asked).await?)?;
    if made.plan.peripheral.is_none() {
        let reason = "it grinds no periphery, so nothing is set that could be off";
        return Err(ShopError::invalid("plan", reason).into());
    }
    let (desk, of) = (visit.desk.clone(), cutter.subject.id.clone());
    let what = ("Studying which setting matters", "/study");
    let job = bench.jobs().begin(what, false, async move |job: Arc<Job>| {
        let tell = move |doing: &str, done: u64, of: u64| {
            job.tell(doing, Some((done, of)));
            !job.is_asked_to_stop()
        };
        let study = desk.work_out_study(&of, made, tell).await?;
        Ok(study_words::verdicts(&study.study, Units { system, both: false }))
    })?;
    Ok(go_on(&format!("/jobs/{}", job.number)))
}

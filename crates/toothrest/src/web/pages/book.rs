//! The book itself: where it lies, what it holds, its copies, and whether it is whole.

use std::path::PathBuf;
use std::sync::Arc;

use askama::Template;
use axum::extract::{Path, State};
use axum::response::Response;
use book::files::export;
use jiff::Timestamp;
use shop::ShopError;
use shop::book::Moment;

use crate::cli::{Failure, held};
use crate::web::copies::{self, Copy};
use crate::web::fault::Fault;
use crate::web::jobs::{Ended, Job, Stands};
use crate::web::page::{Frame, drawn, go_on};
use crate::web::state::Bench;
use crate::web::visit::Visit;

#[derive(Template)]
#[template(path = "book.html")]
struct BookPage {
    frame: Frame,
    place: String,
    engine: &'static str,
    remarks: Vec<String>,
    counts: Vec<(String, u64, String)>,
    folder: String,
    copies: Vec<CopyLine>,
    running: Option<u64>,
}

struct CopyLine {
    name: String,
    is_folder: bool,
    size: String,
    made: String,
}

/// Shows it.
pub(super) async fn show(State(bench): State<Bench>, visit: Visit) -> Result<Response, Fault> {
    let book = visit.desk.book();
    let folder = bench.copies_of(&visit.desk);
    let listed = match folder.clone() {
        Some(folder) => in_folder(move || copies::listed(&folder)).await?,
        None => Vec::new(),
    };
    let count = |held: &crate::cli::Held| {
        let all: u64 = held.stages.iter().map(|(_, count)| count).sum();
        let parts = held.stages.iter().map(|(stage, count)| format!("{count} {stage}"));
        (held.kind.name().to_owned(), all, parts.collect::<Vec<_>>().join(", "))
    };
    drawn(&BookPage {
        place: book.place().to_string(),
        engine: book.engine_name(),
        remarks: visit.desk.remarks(&visit.zone).await?,
        counts: held(book).await?.iter().map(count).collect(),
        folder: folder.map(|folder| folder.display().to_string()).unwrap_or_default(),
        copies: listed.into_iter().map(|copy| line(&visit, copy)).collect(),
        running: bench.jobs().last().filter(|job| job.is_running()).map(|job| job.number),
        frame: Frame::new(&visit, "book", "The book"),
    })
}

fn line(visit: &Visit, copy: Copy) -> CopyLine {
    let made = copy.made.and_then(|made| Timestamp::try_from(made).ok());
    let made = made.and_then(|made| Moment::from_micros(made.as_microsecond()).ok());
    CopyLine {
        name: copy.name,
        is_folder: copy.is_folder,
        size: copies::size_words(copy.bytes),
        made: made.map(|made| visit.zone.minute(made)).unwrap_or_default(),
    }
}

/// Work on the disk runs beside the other requests.
async fn in_folder<T: Send + 'static>(
    work: impl FnOnce() -> std::io::Result<T> + Send + 'static,
) -> Result<T, ShopError> {
    let told = |error: &dyn std::fmt::Display| ShopError::store("look at its copies", error);
    let done = tokio::task::spawn_blocking(work).await.map_err(|error| told(&error))?;
    done.map_err(|error| told(&error))
}

/// Where the next copy goes.
async fn next_copy(
    bench: &Bench,
    visit: &Visit,
    start: &'static str,
    ending: &'static str,
) -> Result<PathBuf, Fault> {
    let folder = bench.copies_of(&visit.desk).ok_or_else(|| {
        ShopError::invalid("copies", "no folder for copies is known on this machine")
    })?;
    let minute = visit.zone.minute(visit.desk.now());
    let path = in_folder(move || {
        std::fs::create_dir_all(&folder)?;
        copies::forget_unfinished(&folder);
        Ok(copies::fresh(&folder, start, &minute, ending))
    });
    Ok(path.await?)
}

/// Begins to copy the book.
pub(super) async fn back_up(State(bench): State<Bench>, visit: Visit) -> Result<Response, Fault> {
    refuse_second(&bench)?;
    let is_file = visit.desk.book().place().file().is_some();
    let to = next_copy(&bench, &visit, "book-", if is_file { ".sqlite" } else { "" }).await?;
    let desk = visit.desk.clone();
    begin(&bench, "Copying the book", async move |job: Arc<Job>| {
        job.tell("writing the copy", None);
        let tell = |done: u64, of: u64| job.tell("writing the copy", Some((done, of)));
        desk.book().back_up(&to, &tell).await?;
        Ok(vec![format!("The copy is {}.", to.display())])
    })
}

/// Begins to write the book as files that a person can read.
pub(super) async fn write_files(
    State(bench): State<Bench>,
    visit: Visit,
) -> Result<Response, Fault> {
    refuse_second(&bench)?;
    let to = next_copy(&bench, &visit, "files-", "").await?;
    let desk = visit.desk.clone();
    begin(&bench, "Writing the book as files", async move |job: Arc<Job>| {
        let tell = |done: u64, of: u64| job.tell("writing histories", Some((done, of)));
        let counted = export(desk.book(), &to, &tell).await?;
        let (entries, subjects) = (counted.entries, counted.subjects);
        Ok(vec![format!("{entries} entries of {subjects} histories lie in {}.", to.display())])
    })
}

/// Begins to look through the whole book.
pub(super) async fn examine(State(bench): State<Bench>, visit: Visit) -> Result<Response, Fault> {
    let desk = visit.desk.clone();
    begin(&bench, "Looking through the book", async move |job: Arc<Job>| {
        job.tell("reading every entry", None);
        let tell = |done: u64, of: u64| job.tell("reading every history", Some((done, of)));
        let faults = desk.book().examine(&tell).await?;
        if faults.is_empty() {
            return Ok(vec!["No fault was found.".to_owned()]);
        }
        let head = "Faults were found. Keep the book as it is, and restore the last copy.";
        Ok(std::iter::once(head.to_owned()).chain(faults).collect())
    })
}

/// Nothing is cleared up while another job may be writing there.
fn refuse_second(bench: &Bench) -> Result<(), Fault> {
    match bench.jobs().last().filter(|job| job.is_running()) {
        Some(job) => Err(Fault::Busy { what: job.what.to_owned() }),
        None => Ok(()),
    }
}

fn begin<F>(
    bench: &Bench,
    what: &'static str,
    work: impl FnOnce(Arc<Job>) -> F,
) -> Result<Response, Fault>
where
    F: Future<Output = Result<Vec<String>, Failure>> + Send + 'static,
{
    let job = bench.jobs().begin((what, "/book"), false, work)?;
    Ok(go_on(&format!("/jobs/{}", job.number)))
}

#[derive(Template)]
#[template(path = "job.html")]
struct JobPage {
    frame: Frame,
    number: u64,
    what: &'static str,
    page: &'static str,
    stands: Stands,
    is_asked_to_stop: bool,
}

impl JobPage {
    /// What there is to tell at its end.
    fn told(&self) -> &[String] {
        match &self.stands.ended {
            Some(Ended::Done(words)) => words,
            _ => &[],
        }
    }

    /// Why it could not be done.
    fn failure(&self) -> &str {
        match &self.stands.ended {
            Some(Ended::Failed(why)) => why,
            Some(Ended::Stopped) => "It was stopped, and nothing of it is kept.",
            _ => "",
        }
    }
}

/// Shows how a job stands.
pub(super) async fn job(
    State(bench): State<Bench>,
    visit: Visit,
    Path(number): Path<u64>,
) -> Result<Response, Fault> {
    let job = bench.jobs().job(number).ok_or(Fault::NoPage)?;
    let frame = Frame::new(&visit, "book", job.what);
    let (stands, is_asked_to_stop) = (job.stands(), job.is_asked_to_stop());
    let (what, page) = (job.what, job.page);
    drawn(&JobPage { frame, number, what, page, stands, is_asked_to_stop })
}

/// Stops a job.
pub(super) async fn stop(
    State(bench): State<Bench>,
    Path(number): Path<u64>,
) -> Result<Response, Fault> {
    bench.jobs().job(number).ok_or(Fault::NoPage)?.stop();
    Ok(go_on(&format!("/jobs/{number}")))
}

//! Doors for whoever tries the program with odd input: what is read inside it, without a process
//! and without a socket. The tests `trials` and the workspace `fuzz` come in by them, and nothing
//! else.

use std::path::Path;

use axum::Router;
use axum::body::Body;
use axum::extract::FromRequest;
use axum::http::Request;
use axum::http::header::CONTENT_TYPE;
use book::{Book, Place};
use shop::Ctx;
use trade::Tables;

use crate::cli::{after_check, made_from, remade};
use crate::desk::Desk;
use crate::files::{read_machine, read_wheels};
use crate::web::{Entries, FormKind, TriedBench, demo_bench};

/// Reads a plan's JSON answer back, and writes what it was made from as such an answer holds it.
///
/// # Errors
/// What is wrong with it, in words.
pub fn plan_answer(text: &str) -> Result<String, String> {
    let read = made_from("plan.json", text).map_err(|failure| failure.to_string())?;
    serde_json::to_string(&read.inputs).map_err(|error| error.to_string())
}

/// Reads a check's JSON answer back, and writes what the grind after it is made from.
///
/// # Errors
/// What is wrong with it, in words.
pub fn check_answer(text: &str) -> Result<String, String> {
    let inputs = after_check("check.json", text).map_err(|failure| failure.to_string())?;
    serde_json::to_string(&inputs).map_err(|error| error.to_string())
}

/// The bench on an empty book in a folder, with the demo shop set up beside it. It answers to
/// `localhost`.
///
/// # Errors
/// What is wrong with the folder, in words.
pub async fn bench(folder: &Path) -> Result<Router, String> {
    let place = Place::File(folder.join("book.sqlite"));
    let book = Book::open(&place).await.map_err(|error| error.to_string())?;
    demo_bench(Desk::new(book)).await.map_err(|failure| failure.to_string())
}

/// The forms that give a record, with what lies at the bench while they are filled in: a cutter
/// with its plan, a machine and a wheel.
pub struct Forms {
    bench: TriedBench,
}

impl Forms {
    /// The forms of a cutter, a wheel, a machine, of wear and of readings, of the plan that such an
    /// answer was made from.
    ///
    /// # Errors
    /// What is wrong with it, in words.
    pub fn of(plan_answer: &str) -> Result<Self, String> {
        let tables = Tables::bundled().map_err(|error| error.to_string())?;
        let said = |failure: crate::cli::Failure| failure.to_string();
        let inputs = made_from("plan.json", plan_answer).map_err(said)?.inputs;
        let plan = remade(&Ctx { tables }, &inputs).map_err(said)?.plan;
        let machine = &inputs.machine;
        let machine = read_machine(&machine.file, &machine.text).map_err(|all| all.to_string())?;
        let wheels = inputs.wheels.iter().map(|named| read_wheels(&named.file, &named.text));
        let wheels = wheels.flatten().flatten();
        let wheel = wheels.into_iter().next().ok_or("the plan has no wheel")?;
        Ok(Self { bench: TriedBench { plan, machine, wheel } })
    }

    /// How many forms there are.
    pub const COUNT: usize = FormKind::ALL.len();

    fn kind(which: usize) -> FormKind {
        FormKind::ALL[which % Self::COUNT]
    }

    /// Names and values of a form as a sound record fills it.
    #[must_use]
    pub fn filled(&self, which: usize) -> Vec<(String, String)> {
        self.bench.filled(Self::kind(which))
    }

    /// The record that was sent as that form, as the text of a file.
    ///
    /// # Errors
    /// What the form says is wrong with it.
    pub async fn read(&self, which: usize, sent: Vec<u8>) -> Result<String, Vec<String>> {
        let request = Request::post("/").header(CONTENT_TYPE, "application/x-www-form-urlencoded");
        let request = request.body(Body::from(sent)).map_err(|error| vec![error.to_string()])?;
        match Entries::from_request(request, &()).await {
            Ok(entries) => self.bench.read(Self::kind(which), &entries),
            Err(fault) => Err(vec![fault.words()]),
        }
    }

    /// The text of such a record read as a file, and written again.
    ///
    /// # Errors
    /// What is wrong with it, in words.
    pub fn read_file(&self, which: usize, text: &str) -> Result<String, String> {
        self.bench.read_file(Self::kind(which), text).map_err(|problems| problems.to_string())
    }
}

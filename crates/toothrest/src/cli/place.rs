//! Where the book lies, as it is written on the command line or in the surroundings, and how a
//! command opens it.

use std::env;

use book::{Book, Place};
use clap::Args;
use shop::ShopError;
use shop::book::{Clock, Initials, Stamp};
use tokio::runtime::{Builder, Runtime};

use super::failure::Failure;
use super::output::mind;
use crate::desk::of_the_clock;
use crate::surroundings::{SystemClock, Zone};

/// The variable that names the book where the command line does not.
const VARIABLE: &str = "TOOTHREST_BOOK";

/// Which book is meant.
#[derive(Clone, Debug, Default, Args)]
pub(super) struct BookArguments {
    /// The book: the path of a file, or postgres://…; left out, what TOOTHREST_BOOK names, else a
    /// file in the user's data directory
    #[arg(long = "book", value_name = "PLACE")]
    place: Option<String>,
}

/// Who writes.
#[derive(Clone, Debug, Args)]
pub(super) struct WriterArguments {
    /// Your initials, which stand beside whatever is written
    #[arg(long, value_name = "INITIALS")]
    by: Option<String>,
}

impl BookArguments {
    /// The place that is meant.
    pub(super) fn place(&self) -> Result<Place, Failure> {
        let named = self.place.clone().or_else(|| env::var(VARIABLE).ok());
        let named = named.filter(|text| self.place.is_some() || !text.is_empty());
        Ok(match named {
            Some(text) => Place::from_text(&text)?,
            None => Place::usual(|name| env::var_os(name))?,
        })
    }

    /// Reads a book that is there, and writes nothing to it.
    pub(super) fn read<T>(
        &self,
        read: impl AsyncFnOnce(&Book) -> Result<T, Failure>,
    ) -> Result<T, Failure> {
        self.read_if_there(read)?.ok_or_else(|| match self.place() {
            Ok(place) => nowhere(&place),
            Err(failure) => failure,
        })
    }

    /// The same, where a book may be there or not; nothing where none is.
    pub(super) fn read_if_there<T>(
        &self,
        read: impl AsyncFnOnce(&Book) -> Result<T, Failure>,
    ) -> Result<Option<T>, Failure> {
        let place = self.place()?;
        runtime()?.block_on(async {
            let Some(book) = Book::look(&place).await? else { return Ok(None) };
            book.doubt().into_iter().for_each(mind);
            let outcome = read(&book).await;
            let undisturbed = book.undisturbed();
            book.close().await;
            undisturbed?;
            outcome.map(Some)
        })
    }

    /// Writes to a book that is there.
    pub(super) fn work<T>(
        &self,
        work: impl AsyncFnOnce(&Book) -> Result<T, Failure>,
    ) -> Result<T, Failure> {
        let place = self.place()?;
        match place.file() {
            Some(file) if !file.exists() => Err(nowhere(&place)),
            _ => opened(&place, work),
        }
    }

    /// Writes to a book, which is made where there is none yet.
    pub(super) fn work_or_begin<T>(
        &self,
        work: impl AsyncFnOnce(&Book) -> Result<T, Failure>,
    ) -> Result<T, Failure> {
        opened(&self.place()?, work)
    }
}

impl WriterArguments {
    /// Who writes, at this moment.
    ///
    /// # Errors
    /// `Argument` where nobody is named.
    pub(super) fn stamp(&self) -> Result<Stamp, Failure> {
        let Some(by) = &self.by else {
            let message = "nobody is named; write --by and your initials".to_owned();
            return Err(Failure::Argument { argument: "--by", value: String::new(), message });
        };
        Ok(Stamp { at: SystemClock.now(), by: Initials::new(by)? })
    }
}

/// A mistyped path is no reason to begin a new book.
fn nowhere(place: &Place) -> Failure {
    let reason = format!(
        "no book is at {place}; name another place with --book, or begin one with \
         \"toothrest book keep\", \"book import\" or \"book restore\""
    );
    ShopError::invalid("book", reason).into()
}

fn opened<T>(
    place: &Place,
    work: impl AsyncFnOnce(&Book) -> Result<T, Failure>,
) -> Result<T, Failure> {
    SystemClock.check()?;
    runtime()?.block_on(async {
        let book = Book::open(place).await?;
        let remark = of_the_clock(&book, SystemClock.now(), &Zone::of_system()).await;
        remark.iter().flatten().for_each(|remark| mind(remark));
        let outcome = work(&book).await;
        book.close().await;
        outcome
    })
}

/// The runtime on which whatever waits is run.
pub(super) fn runtime() -> Result<Runtime, Failure> {
    Builder::new_multi_thread().enable_all().build().map_err(Failure::Runtime)
}

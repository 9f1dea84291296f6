//! Questions to a store.

use super::id::Id;
use super::moment::Moment;
use super::state::{Stage, Summary};
use super::subject::SubjectKind;
use super::text;
use crate::error::ShopError;

/// The longest page of a list.
pub const PAGE_MAX: u32 = 500;

/// The most words that are looked for at once.
pub const WORDS_MAX: usize = 4;

/// In which order a list stands.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, Hash)]
pub enum Order {
    /// By number, as text, without regard to capitals.
    #[default]
    ByNumber,
    /// What was written to last comes first.
    LatestFirst,
}

/// Where a page ended.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Cursor {
    /// The last number, made comparable.
    pub number_key: String,
    /// When that was last written to.
    pub at: Moment,
    /// Its id.
    pub id: Id,
}

/// Which subjects a list shows.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Query {
    /// Of which kind.
    pub kind: SubjectKind,
    /// At which stage; all stages where none is named.
    pub stage: Option<Stage>,
    /// In which tray.
    pub tray: Option<Id>,
    /// Whether to leave out what is done with.
    pub live_only: bool,
    /// Words that a hand typed: each must begin one of the subject's own.
    pub words: String,
    /// In which order.
    pub order: Order,
    /// Where the page before ended.
    pub after: Option<Cursor>,
    /// The most to show, 1 to [`PAGE_MAX`].
    pub limit: u32,
}

impl Query {
    /// Everything of a kind that is not done with, by number.
    pub const fn of(kind: SubjectKind) -> Self {
        Self {
            kind,
            stage: None,
            tray: None,
            live_only: true,
            words: String::new(),
            order: Order::ByNumber,
            after: None,
            limit: 50,
        }
    }

    /// The words to look for, made comparable.
    ///
    /// # Errors
    /// `Invalid` where the page is too long or there are too many words.
    pub fn sound_words(&self) -> Result<Vec<String>, ShopError> {
        check_limit(self.limit)?;
        let words: Vec<String> = text::key(&self.words).split(' ').map(str::to_owned).collect();
        let words: Vec<String> = words.into_iter().filter(|word| !word.is_empty()).collect();
        if words.len() > WORDS_MAX || words.iter().any(|word| word.chars().any(char::is_control)) {
            let reason = format!("{:?}; write up to {WORDS_MAX} plain words", self.words);
            return Err(ShopError::invalid("search", reason));
        }
        Ok(words)
    }
}

/// Checks the length of a page.
///
/// # Errors
/// `Invalid` where it is 0 or beyond [`PAGE_MAX`].
pub fn check_limit(limit: u32) -> Result<(), ShopError> {
    if (1..=PAGE_MAX).contains(&limit) {
        Ok(())
    } else {
        let reason = format!("{limit} on one page; ask for 1 to {PAGE_MAX}");
        Err(ShopError::invalid("limit", reason))
    }
}

/// One page of a list.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Listed {
    /// What it shows.
    pub rows: Vec<Summary>,
    /// Where it ended; none where nothing follows.
    pub next: Option<Cursor>,
}

impl Listed {
    /// A page of so many from rows of which there is one more if another page follows.
    pub fn cut(mut rows: Vec<Summary>, limit: u32) -> Self {
        let most = usize::try_from(limit).unwrap_or(usize::MAX);
        let has_more = rows.len() > most;
        rows.truncate(most);
        let next = rows.last().filter(|_| has_more).map(Summary::cursor);
        Self { rows, next }
    }
}

impl Summary {
    /// The place of this row in any list.
    pub fn cursor(&self) -> Cursor {
        Cursor {
            number_key: text::key(&self.number),
            at: self.last.at,
            id: self.subject.id.clone(),
        }
    }
}

/// A stretch of time, and where the page before ended in it.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Span {
    /// From here, counted in.
    pub from: Moment,
    /// Up to here, not counted in.
    pub until: Moment,
    /// The last entry of the page before: its time, its subject and its number.
    pub after: Option<(Moment, Id, u64)>,
    /// The most to show, 1 to [`PAGE_MAX`].
    pub limit: u32,
}

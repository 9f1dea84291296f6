//! The book as the bench uses it: what it knows now, and how something new is written.
//!
//! A history only grows, so what a subject came to at a given entry never changes: it is folded
//! once and remembered under the number of that entry.

mod again;
mod fit;
mod known;
mod made;
mod mark;
mod order;
mod people;
mod pin;
mod remarks;
mod sign_in;
mod study;
mod take_in;
mod texts;
mod token;
mod tries;

use std::collections::BTreeMap;
use std::num::NonZeroUsize;
use std::path::PathBuf;
use std::sync::atomic::{AtomicU64, Ordering};
use std::sync::{Arc, Mutex, MutexGuard, PoisonError};

use book::Book;
use lru::LruCache;
use shop::ShopError;
use shop::book::event::StepDone;
use shop::book::{
    Append, Clock, CutterState, DocumentState, Entry, Event, Id, Ids, Initials, Latest, Moment,
    Query, Stage, Stamp, State, Store, Subject, SubjectKind, Summary, WheelState, whole_list,
};
use trade::Tables;

use crate::surroundings::{NewIds, SystemClock, Zone};

pub(crate) use again::again_inputs;
pub(crate) use fit::Benches;
pub(crate) use made::{Asked, BY_FACE, BY_GROUPS, Made};
pub(crate) use order::{KeptOrder, NAME as ORDER_OF_WORK, WorkOrder};
pub(crate) use people::{NewPin, PersonAt, leave, person, set_pin};
pub(crate) use pin::new_pin_hash;
#[cfg(test)]
pub(crate) use pin::pin_hash;
pub(crate) use remarks::{of_the_clock, remarks};
pub(crate) use sign_in::{SESSION_S, SignIn, person_of, sign_in, sign_out};
pub(crate) use study::StudyAt;
pub(crate) use take_in::{not_sharp, numbers_taken, of_list};
pub(crate) use texts::{inputs_of, kept_inputs};
pub(crate) use token::{make_token, token_hash, token_holder};
pub(crate) use tries::Door;

/// So many folded histories are remembered.
const KNOWN: NonZeroUsize = NonZeroUsize::MIN.saturating_add(4_095);
/// So many plans are remembered; each holds the curves of its sections.
const PLANS: NonZeroUsize = NonZeroUsize::MIN.saturating_add(63);

/// What was learned of so many wheels is remembered.
const WHEELS: NonZeroUsize = NonZeroUsize::MIN.saturating_add(511);

/// Counts of a large book, and the short lists that every plan asks for, are taken anew after so
/// long, in microseconds, and after whatever this desk writes.
const HOLDS_US: i64 = 1_000_000;

/// The clock is held against the book again after so long, in microseconds.
const CLOCK_HOLDS_US: i64 = 60_000_000;

/// Cutters at each stage, and when they were counted.
type Counts = BTreeMap<Stage, (u64, i64)>;

/// What there is of each kind, and when that was looked up.
type Lists = BTreeMap<SubjectKind, (Arc<Vec<Summary>>, i64)>;

/// One book and what is remembered of it.
pub(crate) struct Desk {
    book: Book,
    clock: SystemClock,
    ids: NewIds,
    known: Mutex<LruCache<(Id, u64), Arc<Latest>>>,
    plans: Mutex<LruCache<[u8; 32], Arc<Made>>>,
    tables: Mutex<Option<(String, Arc<Tables>)>>,
    order: Mutex<Option<Arc<WorkOrder>>>,
    study: Mutex<Option<Arc<StudyAt>>>,
    benches: Mutex<Option<Arc<fit::Benches>>>,
    /// Held by whoever tries a PIN.
    tries: tokio::sync::Mutex<()>,
    learned: Mutex<LruCache<Id, known::LearnedWheel>>,
    counts: Mutex<Counts>,
    lists: Mutex<Lists>,
    /// How often this desk has written. Whoever looked something up while it was written to does
    /// not remember it, for it may be of before.
    written: AtomicU64,
    /// What was last to be said of the clock, and when.
    clock_remark: Mutex<Option<(Option<String>, i64)>>,
    /// A folder that goes away with the desk.
    passing: Option<PathBuf>,
}

/// A cutter with where it stands.
#[derive(Clone)]
pub(crate) struct CutterAt {
    pub(crate) subject: Subject,
    pub(crate) seen: u64,
    pub(crate) is_gone: bool,
    pub(crate) state: CutterState,
}

/// A paper with its version.
#[derive(Clone)]
pub(crate) struct DocumentAt {
    pub(crate) subject: Subject,
    pub(crate) seen: u64,
    pub(crate) is_gone: bool,
    pub(crate) state: DocumentState,
}

/// A wheel with where it stands.
#[derive(Clone)]
pub(crate) struct WheelAt {
    pub(crate) subject: Subject,
    pub(crate) seen: u64,
    pub(crate) is_gone: bool,
    pub(crate) state: WheelState,
}

impl Desk {
    pub(crate) fn new(book: Book) -> Self {
        Self {
            book,
            clock: SystemClock,
            ids: NewIds,
            known: Mutex::new(LruCache::new(KNOWN)),
            plans: Mutex::new(LruCache::new(PLANS)),
            tables: Mutex::new(None),
            order: Mutex::new(None),
            study: Mutex::new(None),
            benches: Mutex::new(None),
            tries: tokio::sync::Mutex::new(()),
            learned: Mutex::new(LruCache::new(WHEELS)),
            counts: Mutex::new(Counts::default()),
            lists: Mutex::new(Lists::default()),
            written: AtomicU64::new(0),
            clock_remark: Mutex::new(None),
            passing: None,
        }
    }

    /// The same desk on a book that is thrown away with its folder.
    pub(crate) fn gone_with(mut self, folder: PathBuf) -> Self {
        self.passing = Some(folder);
        self
    }

    /// What a hand should know of the book before anything is written to it.
    pub(crate) async fn remarks(&self, zone: &Zone) -> Result<Vec<String>, ShopError> {
        remarks::remarks(&self.book, self.now(), zone).await
    }

    /// What is to be said of the clock on every page; a book that does not answer says nothing.
    pub(crate) async fn clock_remark(&self, zone: &Zone) -> Option<String> {
        let now = self.now();
        if let Some((remark, at_us)) = locked(&self.clock_remark).as_ref()
            && (0..CLOCK_HOLDS_US).contains(&(now.micros() - at_us))
        {
            return remark.clone();
        }
        let remark = of_the_clock(&self.book, now, zone).await.ok()?;
        *locked(&self.clock_remark) = Some((remark.clone(), now.micros()));
        remark
    }

    pub(crate) const fn book(&self) -> &Book {
        &self.book
    }

    pub(crate) fn now(&self) -> Moment {
        self.clock.now()
    }

    /// Something new of a kind.
    pub(crate) fn fresh(&self, kind: SubjectKind) -> Subject {
        Subject::new(kind, self.ids.next())
    }

    /// Adds entries to one history.
    pub(crate) async fn write(
        &self,
        by: &Initials,
        subject: &Subject,
        seen: u64,
        events: Vec<Event>,
    ) -> Result<Vec<Entry>, ShopError> {
        self.write_all(vec![self.append(by, subject, seen, events)]).await
    }

    /// Entries for one history, to be written with others.
    pub(crate) fn append(
        &self,
        by: &Initials,
        subject: &Subject,
        seen: u64,
        events: Vec<Event>,
    ) -> Append {
        let stamp = Stamp { at: self.now(), by: by.clone() };
        Append { subject: subject.clone(), seen, stamp, events }
    }

    /// Adds entries to several histories: all or none.
    pub(crate) async fn write_all(&self, writes: Vec<Append>) -> Result<Vec<Entry>, ShopError> {
        self.clock.check()?;
        let is_amended = |event: &Event| matches!(event, Event::Amended(_));
        let amends = writes.iter().flat_map(|write| &write.events).any(is_amended);
        let written = self.book.append(writes).await;
        self.look_anew();
        if amends {
            locked(&self.learned).clear();
        }
        written
    }

    /// Forgets what was only looked up a moment ago, for something was written since.
    pub(super) fn look_anew(&self) {
        // Counted before the memories are emptied: a reader who looked before the count either
        // remembers first and is emptied with the rest, or sees the count and remembers nothing.
        self.written.fetch_add(1, Ordering::SeqCst);
        locked(&self.counts).clear();
        locked(&self.lists).clear();
        self.learn_anew();
    }

    /// How often this desk has written, to be asked before something is looked up.
    fn written(&self) -> u64 {
        self.written.load(Ordering::SeqCst)
    }

    /// What a subject came to.
    pub(crate) async fn latest(&self, of: &Subject) -> Result<Arc<Latest>, ShopError> {
        let summary = self.book.summary(of).await?;
        let missing = || ShopError::NotFound { what: format!("{} {}", of.kind, of.id) };
        self.latest_at(&summary.ok_or_else(missing)?).await
    }

    /// What a subject of a list came to.
    pub(crate) async fn latest_at(&self, summary: &Summary) -> Result<Arc<Latest>, ShopError> {
        let key = (summary.subject.id.clone(), summary.seen);
        if let Some(known) = locked(&self.known).get(&key) {
            return Ok(known.clone());
        }
        let latest = Arc::new(shop::book::latest(&self.book, &summary.subject).await?);
        let key = (key.0, latest.seen);
        locked(&self.known).put(key, latest.clone());
        Ok(latest)
    }

    /// The cutter of that id.
    pub(crate) async fn cutter(&self, id: &str) -> Result<CutterAt, ShopError> {
        let subject = Subject::new(SubjectKind::Cutter, Id::from_text(id)?);
        let latest = self.latest(&subject).await?;
        CutterAt::of(&latest).ok_or_else(|| unread(&subject))
    }

    /// The wheel of that id.
    pub(crate) async fn wheel(&self, id: &str) -> Result<WheelAt, ShopError> {
        let subject = Subject::new(SubjectKind::Wheel, Id::from_text(id)?);
        let latest = self.latest(&subject).await?;
        WheelAt::of(&latest).ok_or_else(|| unread(&subject))
    }

    /// The paper of that kind and id.
    pub(crate) async fn document(
        &self,
        kind: SubjectKind,
        id: &str,
    ) -> Result<DocumentAt, ShopError> {
        let subject = Subject::new(kind, Id::from_text(id)?);
        let latest = self.latest(&subject).await?;
        DocumentAt::of(&latest).ok_or_else(|| unread(&subject))
    }

    /// Everything of a kind that is not done with, by number.
    pub(crate) async fn all(&self, kind: SubjectKind) -> Result<Vec<Summary>, ShopError> {
        whole_list(&self.book, Query::of(kind)).await
    }

    /// The same of a kind of which a shop has few. What another bench wrote a moment ago may be
    /// missing.
    async fn few(&self, kind: SubjectKind) -> Result<Arc<Vec<Summary>>, ShopError> {
        let now_us = self.now().micros();
        if let Some((few, at_us)) = locked(&self.lists).get(&kind)
            && (0..HOLDS_US).contains(&(now_us - at_us))
        {
            return Ok(few.clone());
        }
        let written = self.written();
        let few = Arc::new(self.all(kind).await?);
        let mut lists = locked(&self.lists);
        if written == self.written() {
            lists.insert(kind, (few.clone(), now_us));
        }
        Ok(few)
    }

    /// Every wheel that is not done with.
    pub(crate) async fn wheels(&self) -> Result<Vec<WheelAt>, ShopError> {
        let mut wheels = Vec::new();
        for summary in self.few(SubjectKind::Wheel).await?.iter() {
            wheels.extend(WheelAt::of(self.latest_at(summary).await?.as_ref()));
        }
        Ok(wheels)
    }

    /// Every paper of a kind that is not done with.
    pub(crate) async fn documents(&self, kind: SubjectKind) -> Result<Vec<DocumentAt>, ShopError> {
        let few = self.few(kind).await?;
        self.documents_of(&few).await
    }

    /// The same as the book has them at this moment, whatever was looked up a moment ago: what a
    /// hand is about to change must not be an older version of it.
    pub(crate) async fn documents_now(
        &self,
        kind: SubjectKind,
    ) -> Result<Vec<DocumentAt>, ShopError> {
        let all = self.all(kind).await?;
        self.documents_of(&all).await
    }

    async fn documents_of(&self, list: &[Summary]) -> Result<Vec<DocumentAt>, ShopError> {
        let mut papers = Vec::new();
        for summary in list {
            papers.extend(DocumentAt::of(self.latest_at(summary).await?.as_ref()));
        }
        Ok(papers)
    }

    /// How many cutters stand at a stage. What another bench wrote a moment ago may be missing.
    pub(crate) async fn count(&self, stage: Stage) -> Result<u64, ShopError> {
        let now_us = self.now().micros();
        if let Some((count, at_us)) = locked(&self.counts).get(&stage)
            && (0..HOLDS_US).contains(&(now_us - at_us))
        {
            return Ok(*count);
        }
        let written = self.written();
        let count = self.book.count(SubjectKind::Cutter, stage).await?;
        let mut counts = locked(&self.counts);
        if written == self.written() {
            counts.insert(stage, (count, now_us));
        }
        Ok(count)
    }
}

impl Drop for Desk {
    /// What cannot be taken away is left to whoever clears out old temporary files.
    fn drop(&mut self) {
        if let Some(folder) = &self.passing {
            drop(std::fs::remove_dir_all(folder));
        }
    }
}

impl CutterAt {
    pub(crate) fn of(latest: &Latest) -> Option<Self> {
        let Some(State::Cutter(state)) = &latest.state else { return None };
        Some(Self {
            subject: latest.subject.clone(),
            seen: latest.seen,
            is_gone: latest.retired.is_some(),
            state: state.as_ref().clone(),
        })
    }
}

impl CutterAt {
    /// Work on a cutter is only written while it is here.
    ///
    /// # Errors
    /// `Invalid` where it was handed back, is done with or never came in.
    pub(crate) fn check_here(&self) -> Result<(), ShopError> {
        let here = [Stage::Waiting, Stage::Planned, Stage::Ground, Stage::Checked];
        if !self.is_gone && here.contains(&self.state.stage) {
            return Ok(());
        }
        let number = self.state.cutter.number();
        let reason = format!("{number} is not at this bench now; receive it first");
        Err(ShopError::invalid("cutter", reason))
    }
}

impl CutterAt {
    /// The steps of its present plan that are done, each with the number of its entry. What was
    /// done to the end before a corrective grind was planned is not among them.
    pub(crate) fn steps_of_plan(&self) -> impl Iterator<Item = &(u64, StepDone)> {
        self.state.steps.iter().filter(|(_, done)| Some(done.plan) == self.state.planned)
    }

    /// Whether any step of its present plan is done.
    pub(crate) fn has_begun(&self) -> bool {
        self.steps_of_plan().next().is_some()
    }
}

impl WheelAt {
    pub(crate) fn of(latest: &Latest) -> Option<Self> {
        let Some(State::Wheel(state)) = &latest.state else { return None };
        Some(Self {
            subject: latest.subject.clone(),
            seen: latest.seen,
            is_gone: latest.retired.is_some(),
            state: state.as_ref().clone(),
        })
    }
}

impl DocumentAt {
    pub(crate) fn of(latest: &Latest) -> Option<Self> {
        let Some(State::Document(state)) = &latest.state else { return None };
        Some(Self {
            subject: latest.subject.clone(),
            seen: latest.seen,
            is_gone: latest.retired.is_some(),
            state: state.clone(),
        })
    }
}

/// Memory is only a help: what another thread left half done is as good as any.
fn locked<T>(memory: &Mutex<T>) -> MutexGuard<'_, T> {
    memory.lock().unwrap_or_else(PoisonError::into_inner)
}

fn unread(subject: &Subject) -> ShopError {
    let reason = "its first entry cannot be read by this program; bring it up to date";
    ShopError::invalid(subject.kind.name(), reason)
}

//! Long pieces of work: one at a time, with how far it has come, and a way to stop it.

use std::future::Future;
use std::sync::atomic::{AtomicBool, Ordering};
use std::sync::{Arc, Mutex, MutexGuard, PoisonError};

use tokio::task::AbortHandle;

use super::fault::Fault;
use crate::cli::Failure;

/// The jobs of a bench: the one that runs or ran last.
#[derive(Default)]
pub(crate) struct Jobs {
    last: Mutex<Option<Arc<Job>>>,
}

/// One long piece of work.
pub(crate) struct Job {
    /// What tells it from those before it.
    pub(crate) number: u64,
    /// What is done, such as "Copying the book".
    pub(crate) what: &'static str,
    /// The page that it belongs to.
    pub(crate) page: &'static str,
    /// Whether what was found so far is kept when it is stopped.
    keeps_best: bool,
    stop: AtomicBool,
    stands: Mutex<Stands>,
    task: Mutex<Option<AbortHandle>>,
}

/// How a job stands.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub(crate) struct Stands {
    /// What is being done of it now.
    pub(crate) doing: String,
    /// How much of that is done, and how much there is of it; none where nobody knows.
    pub(crate) share: Option<(u64, u64)>,
    /// How it ended.
    pub(crate) ended: Option<Ended>,
}

/// How a job ended.
#[derive(Clone, Debug, PartialEq, Eq)]
pub(crate) enum Ended {
    /// With this to tell.
    Done(Vec<String>),
    /// Somebody stopped it.
    Stopped,
    /// It could not be done.
    Failed(String),
}

impl Jobs {
    /// Begins a job, unless another one is running.
    ///
    /// # Errors
    /// `Busy`, with what runs.
    pub(crate) fn begin<F>(
        &self,
        (what, page): (&'static str, &'static str),
        keeps_best: bool,
        work: impl FnOnce(Arc<Job>) -> F,
    ) -> Result<Arc<Job>, Fault>
    where
        F: Future<Output = Result<Vec<String>, Failure>> + Send + 'static,
    {
        let mut last = locked(&self.last);
        if let Some(running) = last.as_ref().filter(|job| job.is_running()) {
            return Err(Fault::Busy { what: running.what.to_owned() });
        }
        let number = last.as_ref().map_or(1, |job| job.number + 1);
        let job = Arc::new(Job::new(number, (what, page), keeps_best));
        *last = Some(job.clone());
        let (told, working) = (job.clone(), work(job.clone()));
        let task = tokio::spawn(async move {
            let ended = match working.await {
                Ok(words) => Ended::Done(words),
                Err(failure) => Ended::Failed(failure.to_string()),
            };
            told.end(ended);
        });
        *locked(&job.task) = Some(task.abort_handle());
        Ok(job)
    }

    /// The job that runs or ran last.
    pub(crate) fn last(&self) -> Option<Arc<Job>> {
        locked(&self.last).clone()
    }

    /// The job of that number, as long as no other came after it.
    pub(crate) fn job(&self, number: u64) -> Option<Arc<Job>> {
        self.last().filter(|job| job.number == number)
    }

    /// Stops what runs, for the program ends.
    pub(crate) fn stop_all(&self) {
        if let Some(job) = self.last() {
            job.stop();
        }
    }
}

impl Job {
    fn new(number: u64, (what, page): (&'static str, &'static str), keeps_best: bool) -> Self {
        Self {
            number,
            what,
            page,
            keeps_best,
            stop: AtomicBool::new(false),
            stands: Mutex::default(),
            task: Mutex::default(),
        }
    }

    /// How it stands now.
    pub(crate) fn stands(&self) -> Stands {
        locked(&self.stands).clone()
    }

    pub(crate) fn is_running(&self) -> bool {
        locked(&self.stands).ended.is_none()
    }

    /// Says how far it has come.
    pub(crate) fn tell(&self, doing: &str, share: Option<(u64, u64)>) {
        let mut stands = locked(&self.stands);
        doing.clone_into(&mut stands.doing);
        stands.share = share;
    }

    /// Whether somebody asked it to stop.
    pub(crate) fn is_asked_to_stop(&self) -> bool {
        self.stop.load(Ordering::Relaxed)
    }

    /// Stops it: at once, or where the best so far is worth keeping, as soon as it looks up.
    pub(crate) fn stop(&self) {
        self.stop.store(true, Ordering::Relaxed);
        if self.keeps_best || !self.is_running() {
            return;
        }
        if let Some(task) = locked(&self.task).take() {
            task.abort();
        }
        self.end(Ended::Stopped);
    }

    /// The first end counts.
    fn end(&self, ended: Ended) {
        locked(&self.stands).ended.get_or_insert(ended);
    }
}

/// What another thread left half told is as good as any.
fn locked<T>(held: &Mutex<T>) -> MutexGuard<'_, T> {
    held.lock().unwrap_or_else(PoisonError::into_inner)
}

#[cfg(test)]
mod tests {
    use std::time::Duration;

    use super::*;

    async fn ended(job: &Job) -> Ended {
        for _ in 0..500 {
            if let Some(ended) = job.stands().ended {
                return ended;
            }
            tokio::time::sleep(Duration::from_millis(10)).await;
        }
        panic!("it never ends");
    }

    #[tokio::test]
    async fn one_job_runs_at_a_time_and_can_be_stopped() {
        let jobs = Jobs::default();
        let endless = |_| std::future::pending::<Result<Vec<String>, Failure>>();
        let first = jobs.begin(("Waiting", "/book"), false, endless).unwrap();
        assert!(matches!(jobs.begin(("More", "/book"), false, endless), Err(Fault::Busy { .. })));
        first.stop();
        assert_eq!(ended(&first).await, Ended::Stopped);
        let second = jobs.begin(("Telling", "/book"), false, async |job: Arc<Job>| {
            job.tell("half", Some((1, 2)));
            Ok(vec!["done".to_owned()])
        });
        let second = second.unwrap();
        assert_eq!(ended(&second).await, Ended::Done(vec!["done".to_owned()]));
        second.stop();
        assert_eq!(ended(&second).await, Ended::Done(vec!["done".to_owned()]));
        assert!(jobs.job(first.number).is_none() && jobs.job(second.number).is_some());
    }

    #[tokio::test]
    async fn a_job_that_keeps_its_best_ends_by_itself() {
        let jobs = Jobs::default();
        let job = jobs.begin(("Searching", "/order"), true, async |job: Arc<Job>| {
            while !job.is_asked_to_stop() {
                tokio::time::sleep(Duration::from_millis(5)).await;
            }
            Ok(vec!["the best so far".to_owned()])
        });
        let job = job.unwrap();
        job.stop();
        assert_eq!(ended(&job).await, Ended::Done(vec!["the best so far".to_owned()]));
    }

    #[tokio::test]
    async fn a_failure_is_told() {
        let jobs = Jobs::default();
        let fails = async |_| Err(Failure::Unfit("no room".to_owned()));
        let job = jobs.begin(("Copying", "/book"), false, fails).unwrap();
        assert_eq!(ended(&job).await, Ended::Failed("no room".to_owned()));
    }
}

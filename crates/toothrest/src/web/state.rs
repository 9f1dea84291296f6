//! What the bench app holds while it runs.

use std::path::PathBuf;
use std::sync::{Arc, Mutex, PoisonError};

use super::copies;
use super::interface::Rates;
use super::jobs::Jobs;
use crate::desk::Desk;
use crate::surroundings::Zone;

/// The running bench, shared by all requests.
#[derive(Clone)]
pub(crate) struct Bench {
    held: Arc<Held>,
}

struct Held {
    desk: Arc<Desk>,
    demo: Mutex<Option<Arc<Desk>>>,
    has_sign_in: bool,
    hosts: Vec<String>,
    copies: Option<PathBuf>,
    zone: Zone,
    jobs: Jobs,
    rates: Rates,
}

/// How the bench is set up.
pub(crate) struct Settings {
    /// Whether one has to sign in: where others than this machine can reach it.
    pub(crate) has_sign_in: bool,
    /// The hosts by which it may be called; any where it is empty.
    pub(crate) hosts: Vec<String>,
    /// The folder for copies of a book that lies on a server.
    pub(crate) copies: Option<PathBuf>,
}

impl Bench {
    pub(crate) fn new(desk: Desk, settings: Settings) -> Self {
        let Settings { has_sign_in, hosts, copies } = settings;
        let (desk, demo) = (Arc::new(desk), Mutex::new(None));
        let zone = Zone::of_system();
        let (jobs, rates) = (Jobs::default(), Rates::default());
        let held = Held { desk, demo, has_sign_in, hosts, copies, zone, jobs, rates };
        Self { held: Arc::new(held) }
    }

    pub(crate) fn desk(&self) -> Arc<Desk> {
        self.held.desk.clone()
    }

    /// The demo shop, where somebody has asked for it.
    pub(crate) fn demo(&self) -> Option<Arc<Desk>> {
        self.held.demo.lock().unwrap_or_else(PoisonError::into_inner).clone()
    }

    /// Sets up the demo shop; one that is there already stays.
    pub(crate) fn set_demo(&self, desk: Desk) {
        let mut demo = self.held.demo.lock().unwrap_or_else(PoisonError::into_inner);
        demo.get_or_insert_with(|| Arc::new(desk));
    }

    pub(crate) fn has_sign_in(&self) -> bool {
        self.held.has_sign_in
    }

    /// The hosts by which it may be called.
    pub(crate) fn hosts(&self) -> &[String] {
        &self.held.hosts
    }

    /// The zone in which times are shown.
    pub(crate) fn zone(&self) -> &Zone {
        &self.held.zone
    }

    /// The folder for copies of a book: beside it, or where its server's copies go.
    pub(crate) fn copies_of(&self, desk: &Desk) -> Option<PathBuf> {
        copies::folder_of(desk.book().place()).or_else(|| self.held.copies.clone())
    }

    /// How often other programs have asked of late.
    pub(crate) fn rates(&self) -> &Rates {
        &self.held.rates
    }

    /// What takes long.
    pub(crate) fn jobs(&self) -> &Jobs {
        &self.held.jobs
    }
}

//! How far a long piece of work has come, on standard error and only where that is a terminal.

use std::time::Duration;

use indicatif::ProgressBar;

/// How often the sign of life moves.
const BEAT: Duration = Duration::from_millis(120);

/// Shows that something is being done while it lives.
pub(super) struct Busy {
    bar: ProgressBar,
}

impl Busy {
    /// Work of which nobody knows how much there is.
    pub(super) fn with(what: &str) -> Self {
        let bar = ProgressBar::new_spinner().with_message(what.to_owned());
        bar.enable_steady_tick(BEAT);
        Self { bar }
    }
}

impl Drop for Busy {
    fn drop(&mut self) {
        self.bar.finish_and_clear();
    }
}

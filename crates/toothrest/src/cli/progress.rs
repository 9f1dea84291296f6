//! How far a long piece of work has come, on standard error and only where that is a terminal.

use std::time::Duration;

use indicatif::{ProgressBar, ProgressStyle};

/// How often the sign of life moves.
const BEAT: Duration = Duration::from_millis(120);

/// How a count is shown.
const FORM: &str = "{msg:<18} {bar:30} {pos}/{len}";

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

/// Shows how much of something is done.
#[derive(Clone)]
pub(super) struct Counted {
    bar: ProgressBar,
}

impl Counted {
    /// Work of so many pieces.
    pub(super) fn of(what: &str, count: usize) -> Self {
        let bar = ProgressBar::new(u64::try_from(count).unwrap_or(u64::MAX));
        // A form that cannot be read would leave the bar as it is by itself.
        if let Ok(style) = ProgressStyle::with_template(FORM) {
            bar.set_style(style);
        }
        bar.set_message(what.to_owned());
        Self { bar }
    }

    pub(super) fn one_more(&self) {
        self.bar.inc(1);
    }

    /// So much of some other piece of work.
    pub(super) fn stand_at(&self, what: &'static str, done: u64, of: u64) {
        self.bar.set_message(what);
        self.bar.set_length(of);
        self.bar.set_position(done);
    }

    /// Takes the bar away.
    pub(super) fn done(&self) {
        self.bar.finish_and_clear();
    }
}

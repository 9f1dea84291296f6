//! How far an order has come, and whether to go on.

use std::ops::ControlFlow;

/// What is being done.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash, PartialOrd, Ord)]
pub enum Stage {
    /// Putting a first order together.
    FirstOrder,
    /// Making it better.
    Improving,
    /// Finding how far from the best it can be at most.
    LowerBound,
}

/// How far it has come.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Progress {
    /// What is being done.
    pub stage: Stage,
    /// Steps done of this stage.
    pub done: u64,
    /// Steps that it has.
    pub of: u64,
}

/// Tells progress, and remembers that somebody asked to stop.
pub(super) struct Teller<'a> {
    tell: &'a mut dyn FnMut(Progress) -> ControlFlow<()>,
    is_stopped: bool,
}

impl<'a> Teller<'a> {
    pub(super) fn new(tell: &'a mut dyn FnMut(Progress) -> ControlFlow<()>) -> Self {
        Self { tell, is_stopped: false }
    }

    /// Tells how far it has come, and answers whether to go on. Once stopped it asks no more.
    pub(super) fn goes_on(&mut self, stage: Stage, done: usize, of: usize) -> bool {
        if !self.is_stopped {
            let progress = Progress { stage, done: done as u64, of: of as u64 };
            self.is_stopped = (self.tell)(progress).is_break();
        }
        !self.is_stopped
    }

    pub(super) fn is_stopped(&self) -> bool {
        self.is_stopped
    }
}

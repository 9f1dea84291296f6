//! What the book knows beforehand of a cutter and of the wheels on the rack.

use std::sync::Arc;

use shop::ShopError;
use shop::book::{Entry, Store, Subject, whole_history};
use shop::learn::{Known, OfBook, WheelHistory, cutter_history, wheel_history};

use super::{CutterAt, Desk, HOLDS_US, WheelAt, locked};

/// So many of a wheel's last grinds are learned from: wheels of the same number change over years.
const GRINDS: u32 = 24;

/// What was learned of a wheel is looked up again after so long, in microseconds, even where
/// nothing was ground with it since: an old entry may have been amended.
const LEARNED_HOLDS_US: i64 = 60_000_000;

/// What is remembered of a wheel, and what it was learned from.
pub(super) struct LearnedWheel {
    seen: u64,
    last: Option<(Subject, u64)>,
    /// When it was learned, and when it was last seen that nothing was ground with it since.
    at_us: i64,
    seen_us: i64,
    history: Arc<OfBook<WheelHistory>>,
}

impl Desk {
    /// What is known of a cutter and of these wheels from their own grinds.
    pub(crate) async fn known(
        &self,
        cutter: &CutterAt,
        wheels: &[&WheelAt],
    ) -> Result<Known, ShopError> {
        let entries = whole_history(self.book(), &cutter.subject).await?;
        let mut known = Known { cutter: cutter_history(&entries).history, ..Known::default() };
        for wheel in wheels {
            let history = &self.wheel_history(wheel).await?.history;
            if !history.grinds().is_empty() {
                let number = wheel.state.wheel.number().to_owned();
                known.wheels.insert(number, history.clone());
            }
        }
        Ok(known)
    }

    /// What a wheel's own grinds tell, and which of them tell nothing.
    pub(crate) async fn wheel_history(
        &self,
        wheel: &WheelAt,
    ) -> Result<Arc<OfBook<WheelHistory>>, ShopError> {
        let id = &wheel.subject.id;
        let now_us = self.now().micros();
        if let Some(learned) = locked(&self.learned).get(id)
            && learned.seen == wheel.seen
            && (0..HOLDS_US).contains(&(now_us - learned.seen_us))
        {
            return Ok(learned.history.clone());
        }
        let written = self.written();
        let last = self.book().ground_with(id, 1).await?;
        let last = last.first().map(|entry| (entry.subject.clone(), entry.number));
        if let Some(learned) = locked(&self.learned).get_mut(id)
            && learned.seen == wheel.seen
            && learned.last == last
            && (0..LEARNED_HOLDS_US).contains(&(now_us - learned.at_us))
        {
            if written == self.written() {
                learned.seen_us = now_us;
            }
            return Ok(learned.history.clone());
        }
        let history = Arc::new(self.learned_anew(wheel).await?);
        let (at_us, seen_us) = (now_us, now_us);
        let learned =
            LearnedWheel { seen: wheel.seen, last, at_us, seen_us, history: history.clone() };
        let mut memory = locked(&self.learned);
        if written == self.written() {
            memory.put(id.clone(), learned);
        }
        drop(memory);
        Ok(history)
    }

    /// Looks at what was ground since before anything is believed again.
    pub(super) fn learn_anew(&self) {
        locked(&self.learned).iter_mut().for_each(|(_, learned)| learned.seen_us = 0);
    }

    async fn learned_anew(&self, wheel: &WheelAt) -> Result<OfBook<WheelHistory>, ShopError> {
        let own = whole_history(self.book(), &wheel.subject).await?;
        let ground = self.book().ground_with(&wheel.subject.id, GRINDS).await?;
        let mut subjects: Vec<Subject> = ground.into_iter().map(|entry| entry.subject).collect();
        subjects.sort_unstable();
        subjects.dedup();
        let mut cutters: Vec<Vec<Entry>> = Vec::new();
        for subject in subjects {
            cutters.push(whole_history(self.book(), &subject).await?);
        }
        Ok(wheel_history(&own, &cutters))
    }
}

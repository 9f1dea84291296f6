//! Readings in a row: grouped by kind and place, broken into strips as wide as the page.

use geometry::{Length, System};
use shop::check::{Check, Observed, ReadingKind};
use shop::record::{Holding, LandStage, RunoutOf};

use super::super::frame::{NOTE, RIGHT};
use super::show;
use crate::scene::width_mm;

/// Left end of the readings.
pub(super) const STRIP_LEFT: f64 = 22.0;

/// Size of the words below a reading.
pub(super) const SMALL: f64 = 3.2;

/// From reading to reading, at least and at most.
const STEP_MM: (f64, f64) = (4.6, 7.0);

/// Gaps between two places, and between two kinds.
const PLACE_GAP_MM: f64 = 3.5;
const KIND_GAP_MM: f64 = 7.0;

/// Readings of one kind at one place.
#[derive(Clone, Debug)]
pub(super) struct Group {
    kind: &'static str,
    pub(super) place: String,
    /// Their places among the observed.
    pub(super) readings: Vec<usize>,
}

/// A group on its strip.
#[derive(Clone, Debug)]
pub(super) struct Laid {
    pub(super) group: Group,
    pub(super) x0: f64,
    pub(super) x1: f64,
    /// The kind, where it begins here.
    pub(super) header: Option<&'static str>,
    step_mm: f64,
}

impl Laid {
    /// Where a reading of the group stands.
    pub(super) fn x(&self, index: usize) -> f64 {
        let count = self.group.readings.len() as f64;
        0.5 * (self.x0 + self.x1) + self.step_mm * (index as f64 - 0.5 * (count - 1.0))
    }
}

/// The order of the kinds, and what they are called.
const fn kind(one: &Observed) -> (u32, &'static str) {
    match one.kind {
        ReadingKind::Land(LandStage::AfterPrimary) => (0, "lands after the primary"),
        ReadingKind::Land(LandStage::AfterSecondary) => (1, "lands after the secondary"),
        ReadingKind::Diameter(_) => (2, "diameters"),
        ReadingKind::Height(Holding::ByShank) => (3, "indicator, by the shank"),
        ReadingKind::Height(Holding::AsGround) => (4, "indicator, as ground"),
        ReadingKind::Runout(_) => (5, "runout"),
        ReadingKind::Drop(_) => (6, "drops"),
    }
}

/// Where a reading was taken, in words.
pub(super) fn place(one: &Observed, system: System) -> String {
    let at = |from_end: Option<Length>| from_end.map(|at| show::place(at, system));
    match one.kind {
        ReadingKind::Drop(distance) => format!("{} behind", show::place(distance, system)),
        ReadingKind::Runout(RunoutOf::Shank) => {
            at(one.from_end).map_or_else(|| "shank".to_owned(), |at| format!("shank {at}"))
        }
        ReadingKind::Runout(RunoutOf::Edges) => {
            at(one.from_end).map_or_else(|| "edges".to_owned(), |at| format!("edges {at}"))
        }
        _ => at(one.from_end).unwrap_or_default(),
    }
}

/// The readings, grouped: kinds in their order, places as they come along the flute.
fn groups(check: &Check, system: System) -> Vec<Group> {
    let along = |at: usize| check.observed[at].from_end.map_or(0.0, Length::mm);
    let mut order: Vec<usize> = (0..check.observed.len()).collect();
    let rank = |at: usize| kind(&check.observed[at]).0;
    order.sort_by(|a, b| rank(*a).cmp(&rank(*b)).then(along(*a).total_cmp(&along(*b))));
    let most = ((RIGHT - STRIP_LEFT) / STEP_MM.0) as usize;
    let mut groups: Vec<Group> = Vec::new();
    for at in order {
        let one = &check.observed[at];
        let (kind, place) = (kind(one).1, place(one, system));
        match groups.last_mut() {
            Some(group)
                if group.kind == kind && group.place == place && group.readings.len() < most =>
            {
                group.readings.push(at);
            }
            _ => groups.push(Group { kind, place, readings: vec![at] }),
        }
    }
    groups
}

/// The step at which everything finds room in one strip, if it does at any.
fn step_mm(groups: &[Group]) -> f64 {
    let steps = [STEP_MM.1, 6.0, 5.2];
    let fits = |step: &f64| laid_out(groups, *step).len() == 1;
    steps.into_iter().find(fits).unwrap_or(STEP_MM.0)
}

/// The readings of a check in strips.
pub(super) fn strips(check: &Check, system: System) -> Vec<Vec<Laid>> {
    let groups = groups(check, system);
    laid_out(&groups, step_mm(&groups))
}

fn laid_out(groups: &[Group], step_mm: f64) -> Vec<Vec<Laid>> {
    let mut strips: Vec<Vec<Laid>> = Vec::new();
    // Where the words above the last kind end.
    let mut header_end = STRIP_LEFT;
    for group in groups {
        let width = (step_mm * group.readings.len() as f64).max(width_mm(&group.place, SMALL));
        let last = strips.last().and_then(|strip| strip.last());
        let goes_on = last.is_some_and(|laid| laid.group.kind == group.kind);
        let x0 = match last {
            Some(laid) if goes_on => laid.x1 + PLACE_GAP_MM,
            Some(laid) => laid.x1.max(header_end) + KIND_GAP_MM,
            None => STRIP_LEFT,
        };
        let header_width = if goes_on { 0.0 } else { width_mm(group.kind, NOTE) };
        let is_over = x0 + width.max(header_width) > RIGHT + 1e-9;
        let begins = is_over || strips.is_empty();
        let x0 = if begins { STRIP_LEFT } else { x0 };
        if begins {
            strips.push(Vec::new());
        }
        let header = (begins || !goes_on).then_some(group.kind);
        if header.is_some() {
            header_end = x0 + width_mm(group.kind, NOTE);
        }
        let laid = Laid { group: group.clone(), x0, x1: x0 + width, header, step_mm };
        strips.last_mut().into_iter().for_each(|strip| strip.push(laid.clone()));
    }
    strips
}

#[cfg(test)]
mod tests {
    use super::*;

    fn group(kind: &'static str, place: &str, count: usize) -> Group {
        Group { kind, place: place.to_owned(), readings: (0..count).collect() }
    }

    #[test]
    fn groups_keep_apart_on_the_page_and_none_is_lost() {
        let mut groups = Vec::new();
        for count in [4, 8, 12] {
            groups.push(group("lands after the primary", "0.12 in", count));
            groups.push(group("lands after the primary", "0.95 in", count));
            groups.push(group("diameters", "0.12 in", 1));
            groups.push(group("runout", "shank 1.5 in", 1));
        }
        let strips = laid_out(&groups, step_mm(&groups));
        assert!(strips.len() > 1);
        assert_eq!(strips.iter().map(Vec::len).sum::<usize>(), groups.len());
        for strip in &strips {
            assert!(strip[0].header.is_some());
            assert!(strip.iter().all(|laid| laid.x0 >= STRIP_LEFT && laid.x1 <= RIGHT));
            assert!(strip.windows(2).all(|pair| pair[1].x0 > pair[0].x1));
        }
    }

    #[test]
    fn few_readings_stand_wide() {
        let groups = [group("diameters", "0.12 in", 2)];
        let strips = laid_out(&groups, step_mm(&groups));
        assert_eq!(strips[0][0].x(1) - strips[0][0].x(0), STEP_MM.1);
    }
}

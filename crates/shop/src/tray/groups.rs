//! Cutters with the same set-up put together, and what lies between two set-ups.

use std::collections::BTreeMap;

use geometry::Angle;
use trade::SetupChange;

use super::setup::{ChangeTimes, PARTS, Part, TraySetup};

/// A set-up as numbers: two are alike where their numbers are.
pub(super) type Key = [u32; PARTS];

/// The different set-ups, the one that stands now first where it is known.
#[derive(Clone, Debug)]
pub(super) struct Stops {
    pub(super) keys: Vec<Key>,
    /// Seconds for each change.
    weights: [u32; PARTS],
    /// Whether the first is where the machine stands, so that every order begins there.
    pub(super) begins_fixed: bool,
}

/// The different set-ups with the jobs of each, by their places in the tray.
pub(super) struct Groups {
    pub(super) stops: Stops,
    /// The jobs of each stop, in the order of the tray.
    pub(super) jobs: Vec<Vec<usize>>,
}

impl Groups {
    /// Puts jobs with the same set-up together. Stops are numbered in the order of their set-ups,
    /// whatever the order of the tray.
    pub(super) fn of<'a>(
        jobs: impl Iterator<Item = (usize, &'a TraySetup)>,
        now: Option<&TraySetup>,
        step: Angle,
        times: &ChangeTimes,
    ) -> Self {
        let mut by_parts: BTreeMap<[Part; PARTS], Vec<usize>> = BTreeMap::new();
        for (place, setup) in jobs {
            by_parts.entry(setup.parts(step)).or_default().push(place);
        }
        let now = now.map(|setup| setup.parts(step));
        let all: Vec<&[Part; PARTS]> = now.iter().chain(by_parts.keys()).collect();
        let keys = numbered(&all);
        let begins_fixed = now.is_some();
        let stops = Stops { keys, weights: times.seconds(), begins_fixed };
        let none = begins_fixed.then(Vec::new);
        Self { stops, jobs: none.into_iter().chain(by_parts.into_values()).collect() }
    }
}

/// Numbers for the values of each part, in their order.
fn numbered(all: &[&[Part; PARTS]]) -> Vec<Key> {
    let mut names: [BTreeMap<&Part, u32>; PARTS] = std::array::from_fn(|_| BTreeMap::new());
    for (at, names) in names.iter_mut().enumerate() {
        names.extend(all.iter().map(|parts| (&parts[at], 0)));
        names.values_mut().zip(0..).for_each(|(number, next)| *number = next);
    }
    let number = |parts: &[Part; PARTS], at: usize| names[at].get(&parts[at]).copied();
    all.iter().map(|parts| std::array::from_fn(|at| number(parts, at).unwrap_or(0))).collect()
}

impl Stops {
    pub(super) fn count(&self) -> usize {
        self.keys.len()
    }

    /// Seconds from one set-up to another.
    ///
    /// **Source** \[own-derivation\] the sum over the parts that differ. **Departs** by taking
    /// changes as independent of each other. **Error** where one change spoils another. **Domain**
    /// all; it is a distance: alike both ways, and no detour is shorter.
    pub(super) fn seconds(&self, from: usize, to: usize) -> u32 {
        let (from, to) = (&self.keys[from], &self.keys[to]);
        (0..PARTS).map(|at| if from[at] == to[at] { 0 } else { self.weights[at] }).sum()
    }

    /// The changes from one set-up to another.
    pub(super) fn changes(&self, from: usize, to: usize) -> Vec<SetupChange> {
        let differs = |at: &usize| self.keys[from][*at] != self.keys[to][*at];
        (0..PARTS).filter(differs).filter_map(|at| SetupChange::ALL.get(at).copied()).collect()
    }

    /// Seconds of a whole order.
    pub(super) fn whole(&self, order: &[usize]) -> u64 {
        order.windows(2).map(|pair| u64::from(self.seconds(pair[0], pair[1]))).sum()
    }

    /// The parts from the dearest change to the cheapest.
    pub(super) fn dearest_first(&self) -> [usize; PARTS] {
        let mut parts: [usize; PARTS] = std::array::from_fn(|at| at);
        parts.sort_by_key(|at| (u32::MAX - self.weights[*at], *at));
        parts
    }

    /// Each part's change must be made once for every value but the first.
    ///
    /// **Source** \[own-derivation\] Σ (values − 1) × seconds of the change. **Departs** nowhere.
    /// **Error** none: no order is shorter. **Domain** all.
    pub(super) fn least_by_parts(&self) -> u64 {
        let values = |at: usize| {
            let mut all: Vec<u32> = self.keys.iter().map(|key| key[at]).collect();
            all.sort_unstable();
            all.dedup();
            all.len().saturating_sub(1) as u64
        };
        (0..PARTS).map(|at| values(at) * u64::from(self.weights[at])).sum()
    }
}

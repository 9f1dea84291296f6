//! Where the edges will stand when the corrections have been made.

use geometry::Length;
use shop::check::{Action, Check, Correction, Fault, Finding, Worth};

use super::round::Round;
use super::share::Share;

/// The edges after the corrections.
pub(super) struct After {
    /// By place, then by tooth from 1, in mm of radius over the planned edge.
    pub(super) stands_mm: Vec<Vec<f64>>,
    /// The faults that are corrected on the edges.
    pub(super) corrected: Vec<Fault>,
    /// Half the band of the edge that decides how far all come down.
    within_mm: f64,
}

/// Whether a correction moves edges.
pub(super) fn moves_edges(correction: &Correction) -> bool {
    let is_of_edges = !matches!(correction.fault, Fault::Clearance | Fault::Corner);
    is_of_edges && correction.worth == Worth::Make && correction.action != Action::TagSize
}

impl After {
    /// None where no correction moves an edge.
    ///
    /// **Source** \[own-derivation\] what the faults that are left as they are make of each edge,
    /// all as far out as no edge has to grow: kept + min (found − kept) over all edges. **Departs**
    /// nowhere. **Error** the feed's division. **Domain** one round over every tooth.
    pub(super) fn of(check: &Check, round: &Round) -> Option<Self> {
        let moving = check.corrections.iter().filter(|one| moves_edges(one));
        let corrected: Vec<Fault> = moving.map(|one| one.fault).collect();
        let is_kept = |finding: &&Finding| !corrected.contains(&finding.fault);
        let kept: Vec<&Finding> = check.findings.iter().filter(is_kept).collect();
        let mut stands_mm = Share::of(check, round).sum_mm(&kept);
        let found = check.edges.stands.iter().flatten();
        let above = found.zip(stands_mm.iter().flatten()).map(|(f, kept)| (f.value - kept, *f));
        let (lowest_mm, figure) = above.min_by(|a, b| a.0.total_cmp(&b.0))?;
        // A feed to size takes the edges to the planned circle, or below it where another fault
        // has them lower.
        let is_fed = corrected.contains(&Fault::Size);
        let level_mm = if is_fed { lowest_mm.min(0.0) } else { lowest_mm };
        stands_mm.iter_mut().flatten().for_each(|stand| *stand += level_mm);
        let after = Self { stands_mm, corrected, within_mm: figure.half_width };
        (!after.corrected.is_empty()).then_some(after)
    }

    /// The diameter over the highest edge at a place, with half of its band.
    pub(super) fn diameter(&self, radius: Length, place: usize) -> (Length, Length) {
        let row = self.stands_mm.get(place).map_or(&[][..], Vec::as_slice);
        let highest_mm = row.iter().copied().fold(f64::NEG_INFINITY, f64::max);
        let stand = Length::from_mm(if highest_mm.is_finite() { highest_mm } else { 0.0 });
        ((radius + stand) * 2.0, Length::from_mm(2.0 * self.within_mm))
    }

    /// The stand that all edges have at a place, where it is one.
    pub(super) fn common_mm(&self, place: usize) -> Option<f64> {
        let row = self.stands_mm.get(place)?;
        let first = *row.first()?;
        row.iter().all(|stand| (stand - first).abs() < 1e-5).then_some(first)
    }
}

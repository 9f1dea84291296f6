//! What each fault that was found makes of the stand of each edge.

use geometry::Length;
use shop::check::{Check, Fault, Figure, Finding, Offset};

use super::round::Round;

/// What the stands are taken apart with.
pub(super) struct Share<'a> {
    check: &'a Check,
    round: &'a Round,
    order: &'a [u32],
}

impl<'a> Share<'a> {
    pub(super) fn of(check: &'a Check, round: &'a Round) -> Self {
        let planned = check.request.plan.peripheral.as_ref();
        let planned = planned.map_or(&[][..], |p| p.grinding.second_round.as_slice());
        Self { check, round, order: check.request.readings.ground_order().unwrap_or(planned) }
    }

    /// Share of the way from the tip to the shank end of the ground flute.
    fn along(&self, from_end: Length) -> f64 {
        let flute = self.check.edges.places.last().map_or(0.0, |place| place.mm());
        if flute > 0.0 { from_end.mm() / flute } else { 0.0 }
    }

    /// The place of a tooth in the order of grinding, from 0 to 1.
    fn turn(&self, tooth: u32) -> f64 {
        let last = (self.order.len().max(2) - 1) as f64;
        let place = self.order.iter().position(|other| *other == tooth);
        place.map_or(0.0, |place| place as f64 / last)
    }

    /// What a fault makes of the stand of an edge, in mm.
    ///
    /// **Source** \[own-derivation\] size s: s; taper t: t z/L; an offset v growing by g:
    /// (v + g z/L) · (cos a, sin a), a the edge's angle heelward of tooth 1's at the tip; drift d:
    /// d times the tooth's place in the order of grinding, 0 to 1; a slip on its own tooth.
    /// **Departs** to first order in the stands. **Error** the square of a stand over the radius.
    /// **Domain** equal index.
    pub(super) fn mm(&self, finding: &Finding, tooth: u32, from_end: Length) -> f64 {
        let size_mm = finding.size.value;
        match finding.fault {
            Fault::Size => size_mm,
            Fault::Taper => size_mm * self.along(from_end),
            Fault::Runout => {
                let offset = finding.offset.as_ref();
                offset.map_or(0.0, |offset| self.of_offset(offset, tooth, from_end))
            }
            Fault::Drift => size_mm * self.turn(tooth),
            Fault::Slip(own) if own == tooth => size_mm,
            _ => 0.0,
        }
    }

    fn of_offset(&self, offset: &Offset, tooth: u32, from_end: Length) -> f64 {
        let (sin, cos) = self.round.heelward_rad(tooth, from_end).sin_cos();
        let at = |start: Figure, growth: Figure| start.value + self.along(from_end) * growth.value;
        at(offset.toward_first, offset.growth_toward_first) * cos
            + at(offset.heelward, offset.growth_heelward) * sin
    }

    /// What some faults make of every edge, by place and then by tooth from 1, in mm.
    pub(super) fn sum_mm(&self, findings: &[&Finding]) -> Vec<Vec<f64>> {
        let of = |tooth: u32, place: Length| -> f64 {
            findings.iter().map(|finding| self.mm(finding, tooth, place)).sum()
        };
        let row = |place: &Length| (1..=self.round.teeth()).map(|t| of(t, *place)).collect();
        self.check.edges.places.iter().map(row).collect()
    }

    /// What the faults leave unexplained of the stands, in square millimetres.
    pub(super) fn left_over_mm2(&self, findings: &[Finding]) -> f64 {
        let shares = self.sum_mm(&findings.iter().collect::<Vec<_>>());
        let found = self.check.edges.stands.iter().flatten().map(|figure| figure.value);
        found.zip(shares.into_iter().flatten()).map(|(stand, share)| (stand - share).powi(2)).sum()
    }
}

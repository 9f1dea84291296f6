//! What these readings could show at all, and how small.

use super::design::{Design, Problem};
use super::fault::Fault;
use super::finding::BAND_DEVIATIONS;
use super::observed::Observed;
use super::term::{Shared, Term};

/// How well these readings show one fault.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Seen {
    /// The fault.
    pub fault: Fault,
    /// Half of the band that its size would have if nothing but it and the size were off, in its
    /// own unit; None where the readings cannot show it.
    pub half_width: Option<f64>,
    /// The same if another single fault may be there too; None where there is one that looks the
    /// same to these readings.
    pub apart_half_width: Option<f64>,
    /// The fault that is hardest to tell from it, where there is one that makes its band half as
    /// wide again.
    pub rival: Option<Rival>,
}

/// What a fault is hard to tell from.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Rival {
    /// Another fault.
    Fault(Fault),
    /// A reading that was misread.
    Misread,
}

/// A fault whose spread the readings shrink by less than this is not seen by them.
const BLIND_SHARE: f64 = 0.6;

/// A fault that widens another's band by this factor is its rival.
const RIVAL_FACTOR: f64 = 1.5;

impl Seen {
    const fn blind(fault: Fault) -> Self {
        Self { fault, half_width: None, apart_half_width: None, rival: None }
    }

    /// What to read to see it.
    pub const fn advice(&self) -> &'static str {
        match self.fault {
            Fault::Size => "measure the diameter",
            Fault::Taper => "read a second place along the flute",
            Fault::Runout => {
                "read the land of every tooth before the secondary is ground; afterwards indicate \
                 the edges by the shank"
            }
            Fault::Drift | Fault::Slip(_) => "read the land of every tooth",
            Fault::Clearance => "read a drop behind the edge",
            Fault::Corner => "look at the wheel's corner under a glass",
        }
    }
}

/// What is seen of each fault; the size may be off beside any.
pub(super) fn seen(problem: &Problem, design: &Design<'_>) -> Vec<Seen> {
    let faults = [Fault::Size, Fault::Taper, Fault::Runout, Fault::Drift];
    let slips = (1..=design.teeth.count()).map(Fault::Slip);
    let faults = faults.into_iter().chain(slips).chain([Fault::Clearance, Fault::Corner]);
    faults.map(|fault| Sight { problem, design }.of(fault)).collect()
}

/// Whether the first is seen worse than the second.
fn wider(first: &Seen, second: &Seen) -> bool {
    let width = |seen: &Seen| seen.half_width.unwrap_or(f64::INFINITY);
    width(first) > width(second)
}

struct Sight<'a> {
    problem: &'a Problem,
    design: &'a Design<'a>,
}

impl Sight<'_> {
    fn of(&self, fault: Fault) -> Seen {
        let shared = self.design.shared();
        let forms = shared.iter().map(|shared| self.alone(fault, *shared));
        // What shows in one form and not in the other is not seen.
        forms.reduce(|a, b| if wider(&b, &a) { b } else { a }).unwrap_or(Seen::blind(fault))
    }

    /// A fault in the primary alone, or shared with the secondary.
    fn alone(&self, fault: Fault, shared: Shared) -> Seen {
        let own = self.terms(fault, shared);
        let alone = self.half_width(fault, &own, &[]);
        let slips = (1..=self.design.teeth.count()).map(Fault::Slip);
        let others = [Fault::Taper, Fault::Runout, Fault::Drift, Fault::Clearance, Fault::Corner];
        let rivals = others.into_iter().chain(slips).filter(|other| other.kind() != fault.kind());
        let with = |terms: &[Term]| self.half_width(fault, &own, terms).unwrap_or(f64::INFINITY);
        let of_rival = |rival: Fault| (with(&self.terms(rival, shared)), Rival::Fault(rival));
        let bad = self.single_readings(fault).map(|at| (with(&[Term::Bad(at)]), Rival::Misread));
        let worst = rivals.map(of_rival).chain(bad).max_by(|a, b| a.0.total_cmp(&b.0));
        let (wide, rival) = worst.unwrap_or((f64::INFINITY, Rival::Misread));
        let is_rival = alone.is_some_and(|alone| wide > RIVAL_FACTOR * alone);
        Seen {
            fault,
            half_width: alone,
            apart_half_width: alone.map(|alone| alone.max(wide)).filter(|wide| wide.is_finite()),
            rival: is_rival.then_some(rival),
        }
    }

    /// Readings that touch a tooth, of a slip: where there is one, a misreading looks the same.
    fn single_readings(&self, fault: Fault) -> impl Iterator<Item = usize> {
        let touches = move |one: &Observed| match fault {
            Fault::Slip(tooth) => one.sight.touched.iter().any(|touched| touched.tooth == tooth),
            _ => false,
        };
        let indexed = self.design.observed.iter().enumerate();
        indexed.filter(move |(_, one)| touches(one)).map(|(at, _)| at)
    }

    /// The terms of a fault in its plainest form.
    fn terms(&self, fault: Fault, shared: Shared) -> Vec<Term> {
        let run = self.design.runs.first().copied();
        let is_its = |term: &&Term| match term {
            Term::Offset(_, own, of) if *of == shared => {
                fault == Fault::Runout && Some(*own) == run
            }
            Term::Taper(of) if *of == shared => fault == Fault::Taper,
            Term::Offset(..) | Term::Tilt(..) | Term::Taper(_) => false,
            term => term.fault() == Some(fault),
        };
        self.problem.terms.iter().filter(is_its).copied().collect()
    }

    fn half_width(&self, fault: Fault, own: &[Term], rival: &[Term]) -> Option<f64> {
        let place = |term: &Term| self.problem.terms.iter().position(|other| other == term);
        let mut columns = self.problem.always.clone();
        columns.extend(place(&Term::Size));
        let others = own.iter().chain(rival).filter(|term| **term != Term::Size);
        columns.extend(others.filter_map(place));
        let part = self.problem.linear.with_parameters(&columns).ok()?;
        let belief = part.evidence().ok()?.belief;
        let at = |term: &Term| columns.iter().position(|column| Some(*column) == place(term));
        let variance = |term: &Term| at(term).and_then(|at| belief.covariance(at, at));
        let worst = own.iter().filter_map(variance).fold(0.0, f64::max).sqrt();
        (worst < BLIND_SHARE * fault.spread()).then_some(BAND_DEVIATIONS * worst)
    }
}

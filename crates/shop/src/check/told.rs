//! What was weighed, told: findings, judgements, corrections, and what to do next.

use geometry::Length;
use geometry::fit::quantile::chi_square_tail;

use super::behind::by_secondary;
use super::correction::{Correction, Corrections};
use super::design::{Design, Problem};
use super::fault::Fault;
use super::finding::{Edges, Explanation, Figure, Finding, edges, findings, findings_alone};
use super::further::{Further, Seek, trial};
use super::judgement::{Judged, Judgement};
use super::land::LandCurve;
use super::nominal::Nominal;
use super::observed::{Beside, Extra, Observed};
use super::regrind::{Check, CheckRegrind, Outcome, SetAsideReading, flute, next};
use super::sight::{Seen, seen};
use super::term::Term;
use super::weighing::{Model, Weighing};
use crate::context::Ctx;
use crate::record::{LandGroup, LandStage};

/// A fault is sure from this probability on (own choice: nine to one, no source).
const SURE: f64 = 0.9;

/// A misfit less probable than this is no chance (own choice: one in a hundred thousand).
const CONTRADICTED: f64 = 1e-5;

/// Explanations below this share are not shown.
const SHOWN_MIN: f64 = 0.03;

/// The most explanations shown.
const SHOWN_MOST: usize = 5;

/// What was weighed, to be told.
pub(super) struct Told<'a> {
    pub(super) ctx: &'a Ctx<'a>,
    pub(super) request: &'a CheckRegrind,
    pub(super) nominal: &'a Nominal<'a>,
    pub(super) beside: &'a Beside<'a>,
    pub(super) design: &'a Design<'a>,
    pub(super) weighing: &'a Weighing,
    pub(super) problem: &'a Problem,
}

impl Told<'_> {
    pub(super) fn check(&self) -> Check {
        let best = self.weighing.best();
        let all = self.by_shank(best, findings(best, self.weighing));
        let is_beyond = |finding: &Finding| finding.size.value.abs() > finding.fault.most();
        let contradicted = self.contradicted(best) || all.iter().any(is_beyond);
        let is_sure = |finding: &&Finding| finding.probability >= SURE && !contradicted;
        let sure: Vec<Finding> = all.iter().filter(is_sure).cloned().collect();
        let outcome = if contradicted { Outcome::Unclear } else { self.outcome(&all, &sure) };
        let leading = self.leading();
        let ends = [Length::ZERO, flute(self.request)];
        let edges = edges(self.weighing, self.design, &ends, |_| true);
        let seen = self.seen(best);
        let explanations = self.explanations(&leading);
        let open = if outcome == Outcome::Unclear { &explanations[..] } else { &[] };
        let judgements = self.judged(&edges, &all, &seen, open);
        let corrections = self.corrections(&edges, &judgements, &sure);
        let unclear = outcome == Outcome::Unclear;
        Check {
            request: self.request.clone(),
            outcome,
            explanations,
            further: if unclear { self.further(&leading) } else { None },
            trial: match &leading[..] {
                [first, second, ..] if unclear => trial(&standing(first), &standing(second)),
                _ => None,
            },
            by_fault: sure.iter().map(|finding| self.part(finding.fault, &ends)).collect(),
            findings: sure,
            observed: self.design.observed.to_vec(),
            fitted: self.fitted(best),
            set_aside: self.set_aside(best),
            contradicted,
            noise_factor: best.noise_factor,
            cuts_at: self.cuts_at(&edges, &seen),
            edges,
            planned_lands: self.planned_lands(),
            judgements,
            corrections,
            seen,
            next_clearance: next(self.ctx, self.request),
            remarks: self.remarks(best, contradicted),
        }
    }

    /// What one fault has in the stands of the edges.
    fn part(&self, fault: Fault, places: &[Length]) -> (Fault, Edges) {
        let own = |term: Term| term.fault() == Some(fault);
        (fault, edges(self.weighing, self.design, places, own))
    }

    /// The diameter of the circle that the highest edge describes: an edge that stands out by some
    /// amount makes the cut wider by twice that.
    fn cuts_at(&self, edges: &Edges, seen: &[Seen]) -> Option<Figure> {
        let sees = |seen: &&Seen| seen.fault == Fault::Size && seen.half_width.is_some();
        seen.iter().find(sees)?;
        let stands = edges.stands.iter().flatten();
        let highest = stands.max_by(|a, b| a.value.total_cmp(&b.value))?.times(2.0);
        let value = 2.0 * self.nominal.radius_mm() + highest.value;
        Some(Figure { value, half_width: highest.half_width })
    }

    fn outcome(&self, all: &[Finding], sure: &[Finding]) -> Outcome {
        // A fault that may or may not stand beside the sure ones leaves things unclear only where
        // it is likelier there than not.
        let doubtful = all.len() > sure.len();
        match (self.weighing.best().faults.is_empty(), doubtful) {
            (true, _) if self.weighing.sound() >= 0.5 && self.beside.left_out == 0 => {
                Outcome::Sound
            }
            (false, false) => Outcome::Named,
            _ => Outcome::Unclear,
        }
    }

    /// The best model of each set of faults, with the probability of the whole set.
    fn leading(&self) -> Vec<Model> {
        let mut leading: Vec<Model> = Vec::new();
        for model in &self.weighing.models {
            let mut faults = model.faults.clone();
            faults.sort_unstable();
            match leading.iter_mut().find(|other| other.faults == faults) {
                Some(known) => known.probability += model.probability,
                None if model.belief.is_some() || model.terms.is_empty() => {
                    leading.push(Model { faults, ..model.clone() });
                }
                None => {}
            }
        }
        leading.sort_by(|a, b| b.probability.total_cmp(&a.probability));
        let mut shown: Vec<Model> = Vec::new();
        for model in leading {
            let is_seen = model.probability >= SHOWN_MIN || shown.is_empty();
            // A fault more than an explanation needs makes no other explanation of it.
            let adds = |less: &Model| less.faults.iter().all(|fault| model.faults.contains(fault));
            let adds_nothing = shown.iter().any(|less| !less.faults.is_empty() && adds(less));
            if is_seen && !adds_nothing && shown.len() < SHOWN_MOST {
                shown.push(model);
            }
        }
        shown
    }

    fn explanations(&self, leading: &[Model]) -> Vec<Explanation> {
        let explained = |model: &Model| Explanation {
            faults: self.by_shank(model, findings_alone(model, self.weighing)),
            probability: model.probability,
        };
        leading.iter().map(explained).collect()
    }

    /// Findings with the runout's length as the shank's own reading gives it, where that is surer
    /// than what the edges show: its direction may stay unknown, its length does not.
    fn by_shank(&self, model: &Model, mut findings: Vec<Finding>) -> Vec<Finding> {
        let is_askew = model.terms.iter().any(|term| matches!(term, Term::Tilt(..)));
        let indexed = self.design.observed.iter().enumerate();
        let kept = indexed.filter(|(at, _)| !model.bad.contains(at)).map(|(_, one)| one);
        let shank = |one: &Observed| {
            let sight = &one.sight;
            let is_shank = matches!(sight.extra, Extra::Shank(_));
            let deviation = 0.5 * sight.deviation_mm * model.noise_factor;
            is_shank.then(|| Figure::of((0.5 * sight.value_mm, deviation)))
        };
        let Some(length) = kept.filter_map(shank).next().filter(|_| !is_askew) else {
            return findings;
        };
        for finding in findings.iter_mut().filter(|one| one.fault == Fault::Runout) {
            if finding.size.half_width > length.half_width {
                finding.size = length;
            }
        }
        findings
    }

    /// What the readings could show, as much as they scatter.
    fn seen(&self, best: &Model) -> Vec<Seen> {
        let mut seen = seen(self.problem, self.design);
        for one in &mut seen {
            let scattered = |width: f64| width * best.noise_factor;
            one.half_width = one.half_width.map(scattered);
            one.apart_half_width = one.apart_half_width.map(scattered);
        }
        seen
    }

    fn judged(
        &self,
        edges: &Edges,
        all: &[Finding],
        seen: &[Seen],
        open: &[Explanation],
    ) -> Vec<Judgement> {
        let sees = |fault: Fault| seen.iter().any(|s| s.fault == fault && s.half_width.is_some());
        let judged = Judged {
            nominal: self.nominal,
            design: self.design,
            weighing: self.weighing,
            edges,
            findings: all,
            open,
            seen,
            asked_size: self.request.plan.request.to_size,
            sees_edges: sees(Fault::Runout) || sees(Fault::Slip(1)),
            sees_size: sees(Fault::Size),
            sees_taper: sees(Fault::Taper),
            sees_relief: sees(Fault::Clearance),
        };
        judged.all()
    }

    fn corrections(
        &self,
        edges: &Edges,
        judgements: &[Judgement],
        sure: &[Finding],
    ) -> Vec<Correction> {
        let request = &self.request.plan.request;
        let planned = &self.nominal.peripheral.grinding.second_round;
        let corrections = Corrections {
            ctx: self.ctx,
            cutter: &request.cutter,
            machine: &request.machine,
            nominal: self.nominal,
            edges,
            judgements,
            flute: flute(self.request),
            order: self.request.readings.ground_order().unwrap_or(planned),
            asked_size: request.to_size,
        };
        corrections.all(sure)
    }

    fn further(&self, leading: &[Model]) -> Option<Further> {
        let models: Vec<&Model> = leading.iter().collect();
        let flute = flute(self.request);
        let round = |at: Length| at.snapped_to(Length::from_mm(0.5)).max(Length::from_mm(0.5));
        let drop = self.nominal.peripheral.expected.drops.last();
        let seek = Seek {
            beside: self.beside,
            design: self.design,
            readings: &self.request.readings,
            models: &models,
            places: [round(flute * 0.1), round(flute * 0.9)],
            drop_at: drop.map_or(Length::from_mm(0.25), |drop| drop.distance),
        };
        (models.len() > 1).then(|| seek.best()).flatten()
    }

    fn fitted(&self, best: &Model) -> Vec<Length> {
        let of = |(at, one): (usize, &Observed)| {
            let foretold = best.foretold(self.design, at);
            let land = self.beside.land_mm(one, foretold).map(Length::from_mm);
            land.unwrap_or_else(|| {
                let off = foretold - one.sight.value_mm;
                one.measured + Length::from_mm(one.sight.per_value * off)
            })
        };
        self.design.observed.iter().enumerate().map(of).collect()
    }

    fn set_aside(&self, best: &Model) -> Vec<SetAsideReading> {
        let fitted = self.fitted(best);
        let aside = |at: &usize| SetAsideReading { reading: *at, others_say: fitted[*at] };
        best.bad.iter().map(aside).collect()
    }

    fn planned_lands(&self) -> Vec<(LandStage, Length)> {
        let of = |curve: &LandCurve| (curve.stage, Length::from_mm(curve.planned_mm()));
        self.beside.curves.iter().map(of).collect()
    }

    /// Whether even the best explanation leaves the readings farther apart than chance allows.
    ///
    /// **Source** \[cook-weisberg\] section 2.1: the sum of squared residuals over their standard
    /// deviations against chi-square. **Departs** in taking the noise that was found. **Error**
    /// that of the quantile. **Domain** one degree of freedom and more.
    fn contradicted(&self, best: &Model) -> bool {
        let indexed = self.design.observed.iter().enumerate();
        let kept = indexed.filter(|(at, _)| !best.bad.contains(at));
        let off = |(at, one): (usize, &Observed)| {
            let miss = one.sight.value_mm - best.foretold(self.design, at);
            miss / (one.sight.deviation_mm * best.noise_factor)
        };
        let squares: Vec<f64> = kept.map(off).map(|off| off * off).collect();
        let degrees = squares.len() as f64 - best.terms.len() as f64;
        let tail = chi_square_tail(degrees.max(1.0), squares.iter().sum()).unwrap_or(1.0);
        tail < CONTRADICTED
    }

    fn remarks(&self, best: &Model, contradicted: bool) -> Vec<String> {
        let mut remarks = self.beside.remarks.clone();
        if contradicted {
            let remark = "the readings contradict each other: nothing that can be wrong with a \
                          grind explains them all; wipe cutter and instruments, see that teeth, \
                          places and units are right, and read the worst ones again";
            remarks.push(remark.to_owned());
        }
        let is_of_one_tooth = |one: &Observed| one.tooth.is_some();
        let is_spread = |one: &Observed| matches!(one.sight.extra, Extra::Spread(_));
        let observed = self.design.observed;
        if observed.iter().any(is_spread) && !observed.iter().any(is_of_one_tooth) {
            let remark = "runout of the edges in all does not say which tooth is the highest: \
                          tooth 1 stands for it here";
            remarks.push(remark.to_owned());
        }
        if best.noise_factor > 1.0 {
            remarks.push(format!(
                "the readings scatter about {:.1} times as much as their instruments' steps say: \
                 every band was widened by that; take the worst ones again",
                best.noise_factor
            ));
        }
        let after = |group: &LandGroup| group.stage == LandStage::AfterSecondary;
        let lands = self.request.readings.lands();
        if lands.iter().any(after) && !lands.iter().any(|group| !after(group)) {
            let remark = "lands read after the secondary do not show runout or taper that both \
                          reliefs share because they were ground in one chucking: indicate the \
                          edges by the shank, or measure diameters";
            remarks.push(remark.to_owned());
        }
        let cutter = &self.request.plan.request.cutter;
        remarks.extend(by_secondary(self.beside, self.design, best, cutter.system()));
        if cutter.unequal_index() {
            let remark = "its teeth are spaced unequally: runout was fitted as if they were equal";
            remarks.push(remark.to_owned());
        }
        remarks
    }
}

/// The faults of an explanation with whether each stands out; a slip that was ground too deep does
/// not spark when it is gone over again.
fn standing(model: &Model) -> Vec<(Fault, bool)> {
    let is_out = |fault: Fault| {
        let own = model.terms.iter().find(|term| term.fault() == Some(fault));
        own.and_then(|term| model.value(*term)).is_none_or(|value| value > 0.0)
    };
    model.faults.iter().map(|fault| (*fault, is_out(*fault))).collect()
}

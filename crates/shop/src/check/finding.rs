//! What the readings say, in sizes with their bands.

use geometry::Length;

use super::design::Design;
use super::fault::Fault;
use super::teeth::Touched;
use super::term::{Coordinate, Term};
use super::weighing::{Model, Weighing};

/// Standard deviations on either side of a value that hold the truth 95 times in 100.
pub(super) const BAND_DEVIATIONS: f64 = 1.959_964;

/// A size with the half-width of the band that holds the truth 95 times in 100; millimetres, or
/// degrees for an angle.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Figure {
    /// The size.
    pub value: f64,
    /// Half of the band.
    pub half_width: f64,
}

impl Figure {
    pub(super) fn of((mean, deviation): (f64, f64)) -> Self {
        Self { value: mean, half_width: BAND_DEVIATIONS * deviation }
    }

    /// The size as a length.
    pub fn length(&self) -> Length {
        Length::from_mm(self.value)
    }

    /// The half-width as a length.
    pub fn within(&self) -> Length {
        Length::from_mm(self.half_width)
    }

    /// The same times a number.
    pub fn times(&self, factor: f64) -> Self {
        Self { value: self.value * factor, half_width: (self.half_width * factor).abs() }
    }

    /// Whether the band leaves no doubt on which side of nothing the size lies.
    pub fn is_clear_of_nothing(&self) -> bool {
        self.value.abs() > self.half_width
    }
}

/// A runout's vector, for pictures and for other programs.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Offset {
    /// Toward tooth 1's edge at the tip, in mm of radius.
    pub toward_first: Figure,
    /// A quarter turn heelward of that.
    pub heelward: Figure,
    /// Growth of the first from tip to shank end of the flute; nothing where it does not change.
    pub growth_toward_first: Figure,
    /// Growth of the second.
    pub growth_heelward: Figure,
}

/// One fault with its size.
///
/// The size is, in mm of radius: how much the edges stand out at the tip (size); how much farther
/// out they stand at the shank end of the flute than at the tip (taper); the length of the offset
/// at the end where it is larger (runout; the indicator shows twice that); how much farther out the
/// last tooth ground stands than the first (drift); how far the tooth stands out (slip); in mm, how
/// much rounder the corner is (corner). In degrees: how much more relief there is than planned
/// (clearance).
#[derive(Clone, Debug, PartialEq)]
pub struct Finding {
    /// The fault.
    pub fault: Fault,
    /// Its size.
    pub size: Figure,
    /// The probability that it is there, over all explanations of the readings.
    pub probability: f64,
    /// The vector, of a runout.
    pub offset: Option<Offset>,
    /// Whether the primary and a secondary ground with it share it, so that lands read after the
    /// secondary do not show it.
    pub is_shared: bool,
}

/// An explanation of the readings: some faults, or none.
#[derive(Clone, Debug, PartialEq)]
pub struct Explanation {
    /// The faults with their sizes under this explanation.
    pub faults: Vec<Finding>,
    /// Its probability.
    pub probability: f64,
}

/// The faults of a model with their sizes, averaged over every explanation that has them.
pub(super) fn findings(model: &Model, weighing: &Weighing) -> Vec<Finding> {
    let mut faults = model.faults.clone();
    faults.sort_unstable();
    faults.iter().filter_map(|fault| Sized { model, weighing }.finding(*fault)).collect()
}

/// The same with the sizes that one model alone gives.
pub(super) fn findings_alone(model: &Model, weighing: &Weighing) -> Vec<Finding> {
    let alone = Weighing::of_one(model);
    let mut findings = findings(model, &alone);
    for finding in &mut findings {
        finding.probability = weighing.probability(finding.fault);
    }
    findings
}

/// One model whose faults are sized, among all.
struct Sized<'a> {
    model: &'a Model,
    weighing: &'a Weighing,
}

impl Sized<'_> {
    fn finding(&self, fault: Fault) -> Option<Finding> {
        let is_own = |term: &&Term| term.fault() == Some(fault);
        let own = self.model.terms.iter().copied().find(|term| is_own(&term))?;
        let (size, offset) = match fault {
            Fault::Runout => self.runout()?,
            _ => (self.figure(own)?, None),
        };
        let probability = self.weighing.probability(fault);
        Some(Finding { fault, size, probability, offset, is_shared: own.is_shared() })
    }

    /// A term over the explanations that have it.
    fn figure(&self, term: Term) -> Option<Figure> {
        let has = |model: &Model| {
            model.terms.contains(&term).then(|| model.combined(&[(term, 1.0)])).flatten()
        };
        self.weighing.averaged(has).map(Figure::of)
    }

    /// The runout's size at its worse end, and its vector. What counts are the explanations with
    /// the same offset, whether it changes along the flute or not.
    fn runout(&self) -> Option<(Figure, Option<Offset>)> {
        let offset = [Coordinate::X, Coordinate::Y].map(|wanted| self.offset(wanted));
        let [Some(x), Some(y)] = offset else { return None };
        // Read at one place, the runout is told for there: how it grows is not known, and what it
        // might grow to is no finding.
        let is_like = |model: &Model| {
            let grows = |model: &Model| model.terms.contains(&tilt_of(x));
            model.terms.contains(&x)
                && (self.weighing.sees_growth || grows(model) == grows(self.model))
        };
        let combined = |weights: &[(Term, f64)]| {
            let has = |model: &Model| is_like(model).then(|| model.combined(weights)).flatten();
            self.weighing.averaged(has).map(Figure::of)
        };
        let [tilt_x, tilt_y] = [x, y].map(tilt_of);
        let at = |along: f64| {
            let (to_x, to_y) = ((x, tilt_x), (y, tilt_y));
            let of = |(offset, tilt): (Term, Term)| combined(&[(offset, 1.0), (tilt, along)]);
            let both = [(x, 1.0), (tilt_x, along), (y, 1.0), (tilt_y, along)];
            Some(length_of(of(to_x)?, of(to_y)?, combined(&both)?))
        };
        let ends = [0.0, 1.0].into_iter().filter_map(at);
        let size = ends.reduce(|a, b| if b.value > a.value * 1.000_001 { b } else { a })?;
        let single = |term: Term| combined(&[(term, 1.0)]);
        let vector = Offset {
            toward_first: single(x)?,
            heelward: single(y)?,
            growth_toward_first: single(tilt_x)?,
            growth_heelward: single(tilt_y)?,
        };
        Some((size, Some(vector)))
    }

    fn offset(&self, wanted: Coordinate) -> Option<Term> {
        let fits = |term: &&Term| matches!(term, Term::Offset(c, ..) if *c == wanted);
        self.model.terms.iter().find(fits).copied()
    }
}

/// Steps of the quadrature over a vector's distribution: round the circle, and outward.
const LENGTH_STEPS: u32 = 48;

/// The length of a vector whose coordinates, and their sum, are known with their bands: its median,
/// with the wider side of the band that holds it 95 times in 100.
///
/// **Source** \[own-derivation\] quantiles of the length over rings of equal weight of the normal
/// distribution of two correlated coordinates. **Departs** by making the band even on both sides.
/// **Error** 1 % of the band. **Domain** any, also where one coordinate was not seen at all.
fn length_of(x: Figure, y: Figure, sum: Figure) -> Figure {
    let sd = |figure: Figure| figure.half_width / BAND_DEVIATIONS;
    let (sx, sy) = (sd(x), sd(y));
    let covariance = 0.5 * (sd(sum).powi(2) - sx * sx - sy * sy);
    let along = if sx > 0.0 { covariance / sx } else { 0.0 };
    let across = (sy * sy - along * along).max(0.0).sqrt();
    let rings = f64::from(LENGTH_STEPS);
    let ring = |step: u32| (-2.0 * ((f64::from(step) + 0.5) / rings).ln()).sqrt();
    let angle = |step: u32| std::f64::consts::TAU * (f64::from(step) + 0.25) / rings;
    let place = |radius: f64, turned: f64| {
        let (u, v) = (radius * turned.cos(), radius * turned.sin());
        (x.value + sx * u).hypot(y.value + along * u + across * v)
    };
    let steps = || 0..LENGTH_STEPS;
    let all = steps().flat_map(|out| steps().map(move |round| (ring(out), angle(round))));
    let mut lengths: Vec<f64> = all.map(|(radius, turned)| place(radius, turned)).collect();
    lengths.sort_by(f64::total_cmp);
    let quantile = |share: f64| lengths[(share * lengths.len() as f64) as usize];
    let (low, middle, high) = (quantile(0.025), quantile(0.5), quantile(0.975));
    Figure { value: middle, half_width: (high - middle).max(middle - low) }
}

/// The growth that belongs to an offset.
fn tilt_of(offset: Term) -> Term {
    match offset {
        Term::Offset(coordinate, run, shared) => Term::Tilt(coordinate, run, shared),
        other => other,
    }
}

/// The stand of every tooth at some places, over all explanations.
#[derive(Clone, Debug, PartialEq)]
pub struct Edges {
    /// Places from the cutter's end.
    pub places: Vec<Length>,
    /// By place, then by tooth from 1: how much farther out than planned the edge stands.
    pub stands: Vec<Vec<Figure>>,
}

/// The stands by the terms that count.
pub(super) fn edges(
    weighing: &Weighing,
    design: &Design<'_>,
    places: &[Length],
    counts: impl Fn(Term) -> bool,
) -> Edges {
    let teeth = 1..=design.teeth.count();
    let figure = |tooth: u32, place: Length| {
        let at = Touched { tooth, from_end_mm: place.mm(), weight: 1.0 };
        stand(weighing, |term| if counts(term) { design.stand(term, &at) } else { 0.0 })
    };
    let row = |place: &Length| teeth.clone().map(|tooth| figure(tooth, *place)).collect();
    Edges { places: places.to_vec(), stands: places.iter().map(row).collect() }
}

/// A combination of stands over all explanations.
pub(super) fn stand(weighing: &Weighing, effect: impl Fn(Term) -> f64) -> Figure {
    let of = |model: &Model| {
        let weights: Vec<(Term, f64)> = model.terms.iter().map(|t| (*t, effect(*t))).collect();
        Some(model.combined(&weights).unwrap_or((0.0, 0.0)))
    };
    Figure::of(weighing.averaged(of).unwrap_or((0.0, 0.0)))
}

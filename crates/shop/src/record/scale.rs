//! The scales that a person sets a machine by: dials on slides, circles on swivels.

use geometry::{Angle, Length};

use super::faults::{Faults, degrees, fault, shown};
use super::named::named;

/// How far from a whole number a count of divisions may be, for marks rounded on a name plate.
const DIVISIONS_TOLERANCE: f64 = 1e-3;
/// Longest travel of a bench machine's slide, in mm.
const TRAVEL_MM_MAX: f64 = 2000.0;
/// Coarsest mark that a slide's dial can have, in mm.
const GRADUATION_MM_MAX: f64 = 50.0;
/// Coarsest mark that a swivel's circle can have, as the holes of an index plate are.
const GRADUATION_DEGREES_MAX: f64 = 180.0;

named! {
    /// What a slide's dial counts.
    Reads {
        /// The way the slide moves.
        Radius = "radius",
        /// Twice the way the slide moves: what comes off a diameter.
        Diameter = "diameter",
    }
}

/// The dial of a slide.
///
/// Its fields are public because a value by itself proves nothing; the axis checks it.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct SlideScale {
    /// One division of the dial, as the dial counts it.
    pub graduation: Length,
    /// One division of its vernier, if it has one.
    pub vernier: Option<Length>,
    /// One whole turn of the dial, as the dial counts it; none for a plain rule.
    pub per_turn: Option<Length>,
    /// What the dial counts.
    pub reads: Reads,
    /// Lost motion when the direction changes, as the dial counts it.
    pub backlash: Length,
    /// Lowest and highest reading, if the slide has stops or an end.
    pub range: Option<(Length, Length)>,
    /// Whether this person sets half a division by eye.
    pub halves: bool,
}

/// The graduated circle of a swivel.
///
/// Its fields are public because a value by itself proves nothing; the axis checks it.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct SwivelScale {
    /// One division of the circle.
    pub graduation: Angle,
    /// One division of its vernier, if it has one.
    pub vernier: Option<Angle>,
    /// Lost motion when the direction changes; 0 for a swivel that is turned by hand.
    pub backlash: Angle,
    /// Lowest and highest reading, if the swivel has stops.
    pub range: Option<(Angle, Angle)>,
    /// Whether this person sets half a division by eye.
    pub halves: bool,
}

impl SlideScale {
    /// The smallest amount a person can set, as the dial counts it.
    pub fn finest(&self) -> Length {
        self.vernier.unwrap_or(self.graduation) * halving(self.halves)
    }

    /// The smallest way the slide can be made to move on purpose.
    pub fn finest_travel(&self) -> Length {
        self.travel(self.finest())
    }

    /// How far the slide moves when the dial counts `reading`.
    pub fn travel(&self, reading: Length) -> Length {
        match self.reads {
            Reads::Radius => reading,
            Reads::Diameter => reading / 2.0,
        }
    }

    /// What the dial counts when the slide moves by `travel`.
    pub fn reading(&self, travel: Length) -> Length {
        match self.reads {
            Reads::Radius => travel,
            Reads::Diameter => travel * 2.0,
        }
    }

    pub(super) fn check(&self, faults: &mut Faults) {
        let (coarsest, longest) =
            (Length::from_mm(GRADUATION_MM_MAX), Length::from_mm(TRAVEL_MM_MAX));
        faults.length_over_zero("graduation", self.graduation, coarsest);
        faults.length("backlash", self.backlash, Length::ZERO, coarsest);
        if let Some(vernier) = self.vernier {
            let count = self.graduation / vernier;
            let texts = [shown(vernier), shown(self.graduation)];
            check_divisions(faults, ("vernier", "graduation"), count, texts, Finer::This);
        }
        if let Some(turn) = self.per_turn {
            let count = turn / self.graduation;
            let texts = [shown(turn), shown(self.graduation)];
            check_divisions(faults, ("per_turn", "graduation"), count, texts, Finer::Other);
        }
        if let Some((low, high)) = self.range {
            faults.length("range", low, -longest, longest);
            faults.length("range", high, -longest, longest);
            check_order(faults, low < high, &shown(low), &shown(high));
        }
    }
}

impl SwivelScale {
    /// The smallest angle a person can set.
    pub fn finest(&self) -> Angle {
        self.vernier.unwrap_or(self.graduation) * halving(self.halves)
    }

    pub(super) fn check(&self, faults: &mut Faults) {
        let coarsest = Angle::from_degrees(GRADUATION_DEGREES_MAX);
        let whole = Angle::from_degrees(360.0);
        faults.angle_over_zero("graduation", self.graduation, coarsest);
        faults.angle("backlash", self.backlash, Angle::ZERO, Angle::from_degrees(10.0));
        if let Some(vernier) = self.vernier {
            let count = self.graduation / vernier;
            let texts = [degrees(vernier), degrees(self.graduation)];
            check_divisions(faults, ("vernier", "graduation"), count, texts, Finer::This);
        }
        if let Some((low, high)) = self.range {
            faults.angle("range", low, -whole, whole);
            faults.angle("range", high, -whole, whole);
            check_order(faults, low < high, &degrees(low), &degrees(high));
        }
    }
}

const fn halving(halves: bool) -> f64 {
    if halves { 0.5 } else { 1.0 }
}

/// Which of two scales has the finer marks.
#[derive(Clone, Copy)]
enum Finer {
    This,
    Other,
}

/// The coarser of two marks must hold a whole number of the finer, two at least.
fn check_divisions(
    faults: &mut Faults,
    (field, other): (&str, &str),
    count: f64,
    [value, compared]: [String; 2],
    finer: Finer,
) {
    let whole = count >= 2.0 - DIVISIONS_TOLERANCE
        && count.is_finite()
        && (count - count.round()).abs() <= DIVISIONS_TOLERANCE * count.max(1.0).sqrt();
    faults.require_with(whole, (field, &[other]), value, || match finer {
        Finer::This => fault(
            format!("the {other} of {compared} must hold a whole number of these"),
            format!("write {compared} divided by a whole number, 2 or more"),
        ),
        Finer::Other => fault(
            format!("it must hold a whole number of the {other}, {compared}"),
            format!("write a whole multiple of {compared}, twice that or more"),
        ),
    });
}

fn check_order(faults: &mut Faults, rising: bool, low: &str, high: &str) {
    faults.require(rising, "range", format!("[{low}, {high}]"), || {
        fault("the first end is not below the second", "write the lowest reading first")
    });
}

#[cfg(test)]
mod tests {
    use super::*;

    fn dial() -> SlideScale {
        SlideScale {
            graduation: Length::from_mm(0.02),
            vernier: None,
            per_turn: Some(Length::from_mm(4.0)),
            reads: Reads::Diameter,
            backlash: Length::ZERO,
            range: None,
            halves: false,
        }
    }

    fn circle() -> SwivelScale {
        SwivelScale {
            graduation: Angle::from_degrees(1.0),
            vernier: None,
            backlash: Angle::ZERO,
            range: None,
            halves: false,
        }
    }

    fn near(found: f64, expected: f64) {
        assert!((found - expected).abs() < 1e-12, "{found} is not {expected}");
    }

    #[test]
    fn the_finest_setting_is_a_vernier_or_a_division_or_half_of_it() {
        near(dial().finest().mm(), 0.02);
        near(SlideScale { halves: true, ..dial() }.finest().mm(), 0.01);
        let vernier = Some(Length::from_mm(0.002));
        near(SlideScale { vernier, ..dial() }.finest().mm(), 0.002);
        near(circle().finest().degrees(), 1.0);
        let vernier = Some(Angle::from_minutes(5.0));
        near(SwivelScale { vernier, halves: true, ..circle() }.finest().degrees(), 2.5 / 60.0);
    }

    #[test]
    fn a_dial_on_diameter_counts_twice_the_way() {
        near(dial().finest_travel().mm(), 0.01);
        near(dial().travel(Length::from_mm(1.0)).mm(), 0.5);
        near(dial().reading(Length::from_mm(0.5)).mm(), 1.0);
        let plain = SlideScale { reads: Reads::Radius, ..dial() };
        near(plain.finest_travel().mm(), 0.02);
        near(plain.reading(Length::from_mm(0.5)).mm(), 0.5);
    }

    #[test]
    fn inch_marks_on_a_turn_need_not_be_exact_in_millimetres() {
        let mut faults = Faults::default();
        let graduation = Length::from_inches(0.0005);
        let per_turn = Some(Length::from_inches(0.1));
        SlideScale { graduation, per_turn, ..dial() }.check(&mut faults);
        assert!(faults.verdict().is_ok());
    }
}

//! What an index head divides a turn by: its crank and circles of holes, or a plate of notches.

use geometry::Angle;

use super::faults::{Faults, fault};

/// Turns of the crank for one turn of the work; 40 is usual.
const RATIO: (u32, u32) = (1, 240);
/// Holes of a circle, and notches of a direct plate.
const HOLES: (u32, u32) = (2, 400);

/// What an index head divides by.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct Dividing {
    /// Turns of the crank for one turn of the work, where it has a worm.
    pub ratio: Option<u32>,
    /// Holes in each circle of its plates.
    pub circles: Vec<u32>,
    /// Notches of each plate by which the spindle is turned directly.
    pub direct: Vec<u32>,
}

/// How to turn from one tooth to the next.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Division {
    /// So many notches further on the plate with so many.
    Direct {
        /// Notches to go on by.
        by: u32,
        /// Notches of the plate.
        plate: u32,
    },
    /// So many turns of the crank, and holes beyond them.
    Crank {
        /// Whole turns.
        turns: u32,
        /// Holes beyond them.
        holes: u32,
        /// Holes of the circle to count them on; 1 where whole turns bring the pin back into the
        /// hole that it came from, whatever circle that is on.
        circle: u32,
    },
}

impl Dividing {
    /// Whether nothing is known of it.
    pub fn is_unknown(&self) -> bool {
        self.direct.is_empty() && (self.ratio.is_none() || self.circles.is_empty())
    }

    /// How to divide a turn equally: on a direct plate where one divides it, else by the crank on
    /// the largest circle that does, for there a hole missed by a little is the least angle. Whole
    /// turns of the crank need no circle. None where nothing that is listed divides it exactly.
    ///
    /// **Source** \[od-1644\] plain indexing: turns of the crank = ratio / divisions; the fraction
    /// that is left is holes over a circle. **Departs** nowhere. **Error**
    /// none. **Domain** equal divisions.
    pub fn divide(&self, divisions: u32) -> Option<Division> {
        let divisions = divisions.max(1);
        let fits = |plate: &&u32| plate.is_multiple_of(divisions);
        if let Some(&plate) = self.direct.iter().filter(fits).min() {
            return Some(Division::Direct { by: plate / divisions, plate });
        }
        let ratio = self.ratio?;
        if ratio.is_multiple_of(divisions) {
            return Some(Division::Crank { turns: ratio / divisions, holes: 0, circle: 1 });
        }
        self.circles.iter().filter_map(|&circle| self.by_circle(divisions, circle)).max_by_key(
            |division| match division {
                Division::Crank { circle, .. } => *circle,
                Division::Direct { .. } => 0,
            },
        )
    }

    /// How to go on from one of so many equal divisions to the next by the crank and one circle of
    /// holes; None where that does not come out.
    ///
    /// **Source** \[od-1644\] as [`Self::divide`]. **Departs** nowhere. **Error** none. **Domain**
    /// equal divisions.
    pub fn by_circle(&self, divisions: u32, circle: u32) -> Option<Division> {
        let ratio = self.ratio?;
        let (turns, rest) = (ratio / divisions, ratio % divisions);
        let holes = u64::from(rest) * u64::from(circle);
        let is_even = holes.is_multiple_of(u64::from(divisions));
        is_even.then(|| Division::Crank { turns, holes: rest * circle / divisions, circle })
    }

    /// The circle of holes whose single hole turns the spindle by a step, where it is one of those
    /// listed: a dial of that step is then the crank itself.
    ///
    /// **Source** \[own-derivation\] a hole is 360 / (ratio · circle) degrees. **Departs** nowhere.
    /// **Error** a thousandth of a hole. **Domain** a known ratio.
    pub fn circle_of_step(&self, step: Angle) -> Option<u32> {
        let turns = 360.0 / (f64::from(self.ratio?) * step.degrees());
        let is_it = |circle: &&u32| (turns / f64::from(**circle) - 1.0).abs() < 1e-3;
        self.circles.iter().find(is_it).copied()
    }

    pub(super) fn check(&self, is_index_head: bool, faults: &mut Faults) {
        let is_bare = *self == Self::default();
        faults.require_with(is_index_head || is_bare, DIVIDES, "given", || {
            fault("only an index head divides", "leave ratio, circles and direct out")
        });
        if let Some(ratio) = self.ratio {
            faults.count("ratio", ratio, RATIO.0, RATIO.1);
        }
        for (field, holes) in [("circles", &self.circles), ("direct", &self.direct)] {
            for (index, &count) in holes.iter().enumerate() {
                faults.count(&format!("{field}[{index}]"), count, HOLES.0, HOLES.1);
            }
        }
        let is_whole = self.ratio.is_some() || self.circles.is_empty();
        faults.require_with(is_whole, ("circles", &["ratio"]), "given", || {
            fault("a crank's circles count with its ratio", "write ratio, such as 40")
        });
    }
}

/// The keys that only an index head has.
const DIVIDES: (&str, &[&str]) = ("fixture", &["ratio", "circles", "direct"]);

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn the_fraction_that_is_left_is_counted_in_holes() {
        let head = Dividing { ratio: Some(40), circles: vec![15, 18, 21], direct: vec![24] };
        assert_eq!(head.divide(7), Some(Division::Crank { turns: 5, holes: 15, circle: 21 }));
        assert_eq!(head.divide(6), Some(Division::Direct { by: 4, plate: 24 }));
        assert_eq!(head.divide(9), Some(Division::Crank { turns: 4, holes: 8, circle: 18 }));
        assert_eq!(head.divide(10), Some(Division::Crank { turns: 4, holes: 0, circle: 1 }));
        assert_eq!(head.divide(11), None);
        let bare = Dividing { circles: vec![], direct: vec![], ..head };
        assert_eq!(bare.divide(8), Some(Division::Crank { turns: 5, holes: 0, circle: 1 }));
        assert_eq!(bare.divide(7), None);
    }

    #[test]
    fn a_step_of_the_crank_tells_its_circle() {
        let head = Dividing { ratio: Some(40), circles: vec![18, 20, 21], direct: vec![24] };
        assert_eq!(head.circle_of_step(Angle::from_degrees(0.45)), Some(20));
        assert_eq!(head.circle_of_step(Angle::from_degrees(0.428_571)), Some(21));
        assert_eq!(head.circle_of_step(Angle::from_degrees(1.0)), None);
        assert_eq!(head.by_circle(6, 20), None);
        let six = Division::Crank { turns: 6, holes: 12, circle: 18 };
        assert_eq!(head.by_circle(6, 18), Some(six));
    }

    #[test]
    fn whatever_is_listed_comes_round_in_as_many_steps_as_teeth() {
        let head = Dividing { ratio: Some(40), circles: (15..50).collect(), direct: vec![] };
        for teeth in 2..=40 {
            let Some(Division::Crank { turns, holes, circle }) = head.divide(teeth) else {
                continue;
            };
            assert_eq!(teeth * (turns * circle + holes), 40 * circle, "{teeth} teeth");
        }
    }
}

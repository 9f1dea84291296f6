//! What use has done to a cutter, as seen and measured at the bench.

use geometry::Length;

use super::cutter::Cutter;
use super::error::RecordErrors;
use super::faults::{Faults, fault, shown};
use super::named::named;

/// Largest wear land, chip or runout that can be a reading rather than a slip of unit, in mm.
const READING_MM_MAX: f64 = 25.0;

named! {
    /// What the eye or the glass sees on a worn cutter.
    WearSign {
        /// The edge shines: it is rounded but whole.
        EdgeRounded = "edge rounded",
        /// The edge is ragged along much of its length.
        EdgeBrokenDown = "edge broken down",
        /// Work metal is welded to the land.
        MetalBuiltUpOnLand = "metal built up on land",
        /// The corner is worn or broken away.
        CornerGone = "corner gone",
        /// One or more teeth are chipped.
        Chipped = "chipped",
        /// The back of the land is bright: the heel has rubbed.
        HeelRubbed = "heel rubbed",
    }
}

/// Wear of one tooth.
///
/// Its fields are public because a value by itself proves nothing; [`Wear`] checks it.
#[derive(Clone, Copy, Debug, Default, PartialEq)]
pub struct ToothWear {
    /// Which tooth, counted from 1 at the marked tooth in the direction of grinding.
    pub tooth: u32,
    /// Width of the worn flat behind the edge.
    pub wear_land: Length,
    /// Radial depth of the deepest chip from the original edge; 0 for none.
    pub chip_depth: Length,
    /// How far up from the end that chip reaches; 0 for none.
    pub chip_from_end: Length,
    /// How far up the flute the wear reaches; none where nobody looked.
    pub wear_from_end: Option<Length>,
    /// Length of the corner that is gone, along the cutter; 0 for none.
    pub corner_wear: Length,
    /// How far this tooth's edge stands in from the highest; none where nobody looked.
    pub runout: Option<Length>,
}

/// Facts of wear before they are checked.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct WearDraft {
    /// Diameter over the dull edges.
    pub measured_diameter: Option<Length>,
    /// Total indicator reading on the shank in the fixture that will hold it.
    pub shank_runout: Option<Length>,
    /// What the eye or the glass sees.
    pub signs: Vec<WearSign>,
    /// Readings tooth by tooth; teeth nobody looked at may be left out.
    pub teeth: Vec<ToothWear>,
}

/// A sound record of wear. Whether it can be true of a given cutter is checked where the two
/// meet, by [`Cutter::with_wear`].
#[derive(Clone, Debug, PartialEq)]
pub struct Wear {
    facts: WearDraft,
}

impl WearDraft {
    /// Checks every fact that does not depend on the cutter.
    ///
    /// # Errors
    /// All facts that are violated, each with its field and value.
    pub fn build(self) -> Result<Wear, RecordErrors> {
        let mut faults = Faults::default();
        let largest = Length::from_mm(READING_MM_MAX);
        if let Some(diameter) = self.measured_diameter {
            faults.length_over_zero("measured_diameter", diameter, Length::from_mm(255.0));
        }
        if let Some(runout) = self.shank_runout {
            faults.length("shank_runout", runout, Length::ZERO, largest);
        }
        self.check_signs(&mut faults);
        for (index, tooth) in self.teeth.iter().enumerate() {
            tooth.check(index, &mut faults);
            self.check_single(index, tooth.tooth, &mut faults);
        }
        faults.verdict().map(|()| Wear { facts: self })
    }

    fn check_signs(&self, faults: &mut Faults) {
        for (index, sign) in self.signs.iter().enumerate() {
            let single = !self.signs[..index].contains(sign);
            faults.require(single, "signs", format!("\"{sign}\""), || {
                fault(format!("\"{sign}\" stands twice"), "write each sign once")
            });
        }
    }

    fn check_single(&self, index: usize, number: u32, faults: &mut Faults) {
        let single = self.teeth[..index].iter().all(|earlier| earlier.tooth != number);
        faults.require(single, &format!("tooth[{index}].tooth"), number, || {
            fault(format!("tooth {number} stands twice"), "write each tooth once")
        });
    }
}

impl ToothWear {
    fn check(&self, index: usize, faults: &mut Faults) {
        let field = |name: &str| format!("tooth[{index}].{name}");
        let largest = Length::from_mm(READING_MM_MAX);
        let whole_flute = Length::from_mm(1000.0);
        faults.require(self.tooth >= 1, &field("tooth"), self.tooth, || {
            fault("teeth are counted from 1", "write 1 or more")
        });
        faults.length(&field("wear_land"), self.wear_land, Length::ZERO, largest);
        faults.length(&field("chip_depth"), self.chip_depth, Length::ZERO, largest);
        faults.length(&field("chip_from_end"), self.chip_from_end, Length::ZERO, whole_flute);
        faults.length(&field("corner_wear"), self.corner_wear, Length::ZERO, whole_flute);
        if let Some(reach) = self.wear_from_end {
            faults.length(&field("wear_from_end"), reach, Length::ZERO, whole_flute);
        }
        if let Some(runout) = self.runout {
            faults.length(&field("runout"), runout, Length::ZERO, largest);
        }
        self.check_chip(index, faults);
    }

    /// A chip that reaches somewhere must have a depth, or the plan would grind it away unseen.
    fn check_chip(&self, index: usize, faults: &mut Faults) {
        let known = self.chip_from_end == Length::ZERO || self.chip_depth > Length::ZERO;
        let depth = format!("tooth[{index}].chip_depth");
        let reach = format!("tooth[{index}].chip_from_end");
        faults.require_with(known, (&reach, &[&depth]), shown(self.chip_from_end), || {
            fault("this chip has no depth", "write chip_depth too, from the original edge inward")
        });
    }

    /// Facts that can be true of this cutter only.
    fn check_against(&self, index: usize, cutter: &Cutter, faults: &mut Faults) {
        let field = |name: &str| format!("tooth[{index}].{name}");
        let teeth = cutter.teeth();
        faults.require(self.tooth <= teeth, &field("tooth"), self.tooth, || {
            fault(format!("the cutter has {teeth} teeth"), format!("write 1 to {teeth}"))
        });
        let mut at_most = |name: &str, reading: Length, limit: Length, beyond: &str| {
            faults.require(reading <= limit, &field(name), shown(reading), || {
                let limit = shown(limit);
                fault(format!("{beyond}, {limit}"), format!("write at most {limit}"))
            });
        };
        let (pitch, radius) = (cutter.pitch(), cutter.diameter() / 2.0);
        let flute = cutter.flute_length();
        at_most("wear_land", self.wear_land, pitch, "wider than from one edge to the next");
        at_most("chip_depth", self.chip_depth, radius, "deeper than the cutter's radius");
        at_most("chip_from_end", self.chip_from_end, flute, "beyond the end of the flute");
        at_most("corner_wear", self.corner_wear, flute, "beyond the end of the flute");
        if let Some(reach) = self.wear_from_end {
            at_most("wear_from_end", reach, flute, "beyond the end of the flute");
        }
        if let Some(runout) = self.runout {
            at_most("runout", runout, radius, "more than the cutter's radius");
        }
    }
}

impl Wear {
    pub(super) fn check_against(&self, cutter: &Cutter) -> Result<(), RecordErrors> {
        let mut faults = Faults::default();
        for (index, tooth) in self.facts.teeth.iter().enumerate() {
            tooth.check_against(index, cutter, &mut faults);
        }
        faults.verdict()
    }

    /// Diameter over the dull edges, if it was measured.
    pub const fn measured_diameter(&self) -> Option<Length> {
        self.facts.measured_diameter
    }

    /// Total indicator reading on the shank, if it was measured.
    pub const fn shank_runout(&self) -> Option<Length> {
        self.facts.shank_runout
    }

    /// What the eye or the glass sees.
    pub fn signs(&self) -> &[WearSign] {
        &self.facts.signs
    }

    /// Whether this sign was seen.
    pub fn shows(&self, sign: WearSign) -> bool {
        self.facts.signs.contains(&sign)
    }

    /// Readings tooth by tooth, in the order in which they were written.
    pub fn teeth(&self) -> &[ToothWear] {
        &self.facts.teeth
    }

    /// The readings of one tooth, counted from 1, if anybody looked at it.
    pub fn tooth(&self, number: u32) -> Option<&ToothWear> {
        self.facts.teeth.iter().find(|tooth| tooth.tooth == number)
    }
}

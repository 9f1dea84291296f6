//! Readings before and after they are checked.

use geometry::Length;

use super::instrument::Instrument;
use super::kinds::{
    DiameterGroup, DropGroup, IndicatorGroup, LandGroup, Over, RunoutOf, RunoutReading, TeethRun,
};
use crate::record::error::RecordErrors;
use crate::record::faults::{Faults, fault, quoted};
use crate::record::{Cutter, WearSign};

/// Largest width, drop or height that can be a reading rather than a slip of unit, in mm.
const READING_MM_MAX: f64 = 50.0;

/// Largest diameter that can be read, in mm.
const DIAMETER_MM_MAX: f64 = 260.0;

/// Widest anvil of a micrometer, in mm.
const ANVIL_MM_MAX: f64 = 50.0;

/// More readings than this are no work of a hand.
const READINGS_MAX: usize = 400;

/// Readings before they are checked.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct ReadingsDraft {
    /// The number of the cutter they belong to, if noted.
    pub cutter: Option<String>,
    /// Which way the numbers of the teeth run; none where nobody noted it.
    pub teeth_run: Option<TeethRun>,
    /// The order in which the teeth were ground last; empty for that of the plan.
    pub ground_order: Vec<u32>,
    /// Widths of lands.
    pub lands: Vec<LandGroup>,
    /// Diameters.
    pub diameters: Vec<DiameterGroup>,
    /// Rounds of an indicator over the edges.
    pub indicator: Vec<IndicatorGroup>,
    /// Total indicator readings.
    pub runouts: Vec<RunoutReading>,
    /// Drops behind the edge.
    pub drops: Vec<DropGroup>,
    /// Wear seen in use, before this regrind.
    pub signs: Vec<WearSign>,
    /// Whether the hand has looked again at what seems out of place, and stands by it.
    pub looked_again: bool,
}

/// Sound readings of one cutter.
#[derive(Clone, Debug, PartialEq)]
pub struct Readings {
    facts: ReadingsDraft,
}

impl ReadingsDraft {
    /// Checks every fact against the cutter and the length of flute that was ground.
    ///
    /// # Errors
    /// All facts that are violated: a tooth that the cutter does not have, a place beyond its
    /// flutes, a reading twice, a size below nothing. Whether a reading is *likely* is not asked
    /// here.
    pub fn build(self, cutter: &Cutter) -> Result<Readings, RecordErrors> {
        let mut faults = Faults::default();
        self.check_whole(cutter, &mut faults);
        let place = Place { teeth: cutter.teeth(), flute: cutter.flute_length() };
        self.check_lands(&place, &mut faults);
        self.check_diameters(&place, &mut faults);
        self.check_indicator(&place, &mut faults);
        for (index, runout) in self.runouts.iter().enumerate() {
            check_runout(&format!("runout[{index}]"), runout, cutter, &mut faults);
        }
        self.check_drops(&place, &mut faults);
        faults.verdict().map(|()| Readings { facts: self })
    }

    fn count(&self) -> usize {
        self.lands.iter().map(|group| group.readings.len()).sum::<usize>()
            + self.diameters.iter().map(|group| group.readings.len()).sum::<usize>()
            + self.indicator.iter().map(|group| group.readings.len()).sum::<usize>()
            + self.drops.iter().map(|group| group.readings.len()).sum::<usize>()
            + self.runouts.len()
    }

    fn check_whole(&self, cutter: &Cutter, faults: &mut Faults) {
        let number = cutter.number();
        let own = self.cutter.as_deref().is_none_or(|named| named == number);
        faults.require(own, "cutter", quoted(self.cutter.as_deref().unwrap_or_default()), || {
            fault(format!("the plan is for {number}"), "name the plan of the cutter you read")
        });
        let count = self.count();
        faults.require(count <= READINGS_MAX, "readings", count, || {
            fault("more than a hand takes", format!("write at most {READINGS_MAX}"))
        });
        let something = count > 0 || !self.signs.is_empty();
        faults.require(something, "readings", "none", || {
            fault("nothing was read", "write a land, a diameter or another reading")
        });
        self.check_order(cutter.teeth(), faults);
        for (index, sign) in self.signs.iter().enumerate() {
            let single = !self.signs[..index].contains(sign);
            faults.require(single, "signs", quoted(sign.name()), || {
                fault("stands twice", "write each sign once")
            });
        }
    }

    fn check_order(&self, teeth: u32, faults: &mut Faults) {
        if self.ground_order.is_empty() {
            return;
        }
        let mut sorted = self.ground_order.clone();
        sorted.sort_unstable();
        let whole = sorted.iter().copied().eq(1..=teeth);
        faults.require(whole, "ground_order", format!("{:?}", self.ground_order), || {
            fault("not every tooth once", format!("write the numbers 1 to {teeth}, each once"))
        });
    }

    fn check_lands(&self, place: &Place, faults: &mut Faults) {
        let mut seen = Vec::new();
        for (group_index, group) in self.lands.iter().enumerate() {
            let field = format!("lands[{group_index}]");
            group.instrument.check(&field, faults);
            for (index, land) in group.readings.iter().enumerate() {
                let field = format!("{field}.reading[{index}]");
                let (tooth, at) = (land.tooth, land.from_end);
                place.check(&field, Some(tooth), at, faults);
                check_size(&format!("{field}.width"), land.width, READING_MM_MAX, faults);
                check_single(&field, (group.stage, tooth, at), &mut seen, faults);
            }
        }
    }

    fn check_diameters(&self, place: &Place, faults: &mut Faults) {
        for (group_index, group) in self.diameters.iter().enumerate() {
            let field = format!("diameters[{group_index}]");
            group.instrument.check(&field, faults);
            let widest = Length::from_mm(ANVIL_MM_MAX);
            if let Some(width) = group.anvil_width {
                faults.length(&format!("{field}.anvil_width"), width, Length::ZERO, widest);
            }
            check_anvils(&field, group.over, place.teeth, faults);
            let mut seen = Vec::new();
            for (index, diameter) in group.readings.iter().enumerate() {
                let field = format!("{field}.reading[{index}]");
                place.check(&field, diameter.tooth, diameter.from_end, faults);
                check_size(&format!("{field}.reading"), diameter.reading, DIAMETER_MM_MAX, faults);
                check_single(&field, (diameter.tooth, diameter.from_end), &mut seen, faults);
            }
        }
    }

    fn check_indicator(&self, place: &Place, faults: &mut Faults) {
        for (group_index, group) in self.indicator.iter().enumerate() {
            let field = format!("indicator[{group_index}]");
            group.instrument.check(&field, faults);
            let most = Length::from_mm(READING_MM_MAX);
            let mut seen = Vec::new();
            for (index, height) in group.readings.iter().enumerate() {
                let field = format!("{field}.reading[{index}]");
                place.check(&field, Some(height.tooth), height.from_end, faults);
                faults.length(&format!("{field}.height"), height.height, -most, most);
                check_single(&field, (height.tooth, height.from_end), &mut seen, faults);
            }
        }
    }

    fn check_drops(&self, place: &Place, faults: &mut Faults) {
        for (group_index, group) in self.drops.iter().enumerate() {
            let field = format!("drops[{group_index}]");
            group.instrument.check(&field, faults);
            for (index, drop) in group.readings.iter().enumerate() {
                let field = format!("{field}.reading[{index}]");
                place.check(&field, drop.tooth, Length::ZERO, faults);
                check_size(&format!("{field}.distance"), drop.distance, READING_MM_MAX, faults);
                let most = Length::from_mm(READING_MM_MAX);
                faults.length(&format!("{field}.drop"), drop.drop, -most, most);
            }
        }
    }
}

/// Where on the cutter something can be read.
struct Place {
    teeth: u32,
    flute: Length,
}

impl Place {
    fn check(&self, field: &str, tooth: Option<u32>, from_end: Length, faults: &mut Faults) {
        if let Some(tooth) = tooth {
            let teeth = self.teeth;
            let there = (1..=teeth).contains(&tooth);
            faults.require(there, &format!("{field}.tooth"), tooth, || {
                fault(format!("the cutter has {teeth} teeth"), format!("write 1 to {teeth}"))
            });
        }
        faults.length(&format!("{field}.from_end"), from_end, Length::ZERO, self.flute);
    }
}

fn check_size(field: &str, size: Length, mm_max: f64, faults: &mut Faults) {
    faults.length_over_zero(field, size, Length::from_mm(mm_max));
}

fn check_single<K: PartialEq>(field: &str, key: K, seen: &mut Vec<K>, faults: &mut Faults) {
    faults.require(!seen.contains(&key), field, "twice", || {
        fault("another reading has this tooth and place", "write each reading once")
    });
    seen.push(key);
}

fn check_anvils(field: &str, over: Over, teeth: u32, faults: &mut Faults) {
    let odd = !teeth.is_multiple_of(2);
    let fits = odd != (over == Over::Micrometer);
    faults.require(fits, &format!("{field}.over"), quoted(over.name()), || {
        if odd {
            let right = "write \"flat anvils\" or \"vee anvil\"";
            fault(format!("{teeth} teeth have none opposite to another"), right)
        } else {
            fault(format!("{teeth} teeth stand in pairs"), "write \"micrometer\"")
        }
    });
}

fn check_runout(field: &str, runout: &RunoutReading, cutter: &Cutter, faults: &mut Faults) {
    let most = Length::from_mm(READING_MM_MAX);
    runout.instrument.check(field, faults);
    faults.length(&format!("{field}.reading"), runout.reading, Length::ZERO, most);
    let (least, greatest) = match runout.of {
        RunoutOf::Shank => (cutter.flute_length(), cutter.overall_length()),
        RunoutOf::Edges => (Length::ZERO, cutter.flute_length()),
    };
    if let Some(from_end) = runout.from_end {
        faults.length(&format!("{field}.from_end"), from_end, least, greatest);
    }
    let placed = runout.of == RunoutOf::Shank || runout.from_end.is_some();
    faults.require(placed, &format!("{field}.from_end"), "none", || {
        fault("edges run out by a place along the flute", "write the distance from the end")
    });
}

impl Readings {
    /// Every fact, for whoever needs to change one and build again.
    pub fn draft(&self) -> ReadingsDraft {
        self.facts.clone()
    }

    /// Which way the numbers of the teeth run, if noted.
    pub const fn teeth_run(&self) -> Option<TeethRun> {
        self.facts.teeth_run
    }

    /// The order in which the teeth were ground last, if noted.
    pub fn ground_order(&self) -> Option<&[u32]> {
        (!self.facts.ground_order.is_empty()).then_some(self.facts.ground_order.as_slice())
    }

    /// Widths of lands.
    pub fn lands(&self) -> &[LandGroup] {
        &self.facts.lands
    }

    /// Diameters.
    pub fn diameters(&self) -> &[DiameterGroup] {
        &self.facts.diameters
    }

    /// Rounds of an indicator over the edges.
    pub fn indicator(&self) -> &[IndicatorGroup] {
        &self.facts.indicator
    }

    /// Total indicator readings.
    pub fn runouts(&self) -> &[RunoutReading] {
        &self.facts.runouts
    }

    /// Drops behind the edge.
    pub fn drops(&self) -> &[DropGroup] {
        &self.facts.drops
    }

    /// Wear seen in use, before this regrind.
    pub fn signs(&self) -> &[WearSign] {
        &self.facts.signs
    }

    /// Whether the hand has looked again at what seems out of place, and stands by it.
    pub const fn looked_again(&self) -> bool {
        self.facts.looked_again
    }

    /// The instrument that lands were read with, or another that is usual for them.
    pub fn land_instrument(&self) -> Option<Instrument> {
        self.facts.lands.first().map(|group| group.instrument)
    }
}

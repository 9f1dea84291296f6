//! Readings of a grind with planted faults, made from what the plan itself leaves.

use std::f64::consts::TAU;

use geometry::Length;
use shop::plan::{Peripheral, RegrindPlan};
use shop::record::{
    DiameterGroup, DiameterReading, DropGroup, DropReading, Holding, IndicatorGroup,
    IndicatorReading, Instrument, LandGroup, LandReading, LandStage, Over, TeethRun,
};

/// What is wrong with a grind, in millimetres of radius.
#[derive(Clone, Debug, Default)]
pub(crate) struct Planted {
    pub(crate) size: f64,
    /// Farther out at the shank end of the flute.
    pub(crate) taper: f64,
    /// Toward tooth 1's edge at the tip, and a quarter turn heelward.
    pub(crate) offset: (f64, f64),
    pub(crate) drift: f64,
    pub(crate) slip: Option<(u32, f64)>,
}

/// A bench with a grind upon it.
pub(crate) struct Bench<'a> {
    pub(crate) plan: &'a RegrindPlan,
    pub(crate) planted: Planted,
    pub(crate) run: TeethRun,
}

/// A scatter of readings, the same at each call.
struct Scatter(u64);

impl Scatter {
    /// Roughly normal with a standard deviation of one, within three.
    fn next(&mut self) -> f64 {
        let mut sum = 0.0;
        for _ in 0..3 {
            self.0 = self.0.wrapping_mul(6_364_136_223_846_793_005).wrapping_add(1_442_695_040);
            sum += ((self.0 >> 33) as f64 / f64::from(1_u32 << 31)) * 2.0 - 1.0;
        }
        sum
    }
}

impl Bench<'_> {
    fn peripheral(&self) -> &Peripheral {
        self.plan.peripheral.as_ref().unwrap()
    }

    pub(crate) fn teeth(&self) -> u32 {
        self.plan.request.cutter.teeth()
    }

    pub(crate) fn flute_mm(&self) -> f64 {
        (self.plan.request.cutter.flute_length() - self.plan.verdict.cut_back).mm()
    }

    pub(crate) fn radius_mm(&self) -> f64 {
        self.peripheral().section.circle_radius().mm()
    }

    /// How far an edge stands out, in mm.
    pub(crate) fn stand_mm(&self, tooth: u32, at_mm: f64) -> f64 {
        let along = at_mm / self.flute_mm();
        let sign = if self.run == TeethRun::Heelward { 1.0 } else { -1.0 };
        let steps = f64::from(tooth - 1) / f64::from(self.teeth());
        let twist = self.peripheral().stanced.setup.flutes().twist_rad_per_mm();
        let (sin, cos) = (sign * TAU * steps + twist * at_mm).sin_cos();
        let order = &self.peripheral().grinding.second_round;
        let turn = order.iter().position(|one| *one == tooth).unwrap() as f64;
        let slip = self.planted.slip.filter(|(own, _)| *own == tooth).map_or(0.0, |slip| slip.1);
        self.planted.size
            + self.planted.taper * along
            + self.planted.offset.0 * cos
            + self.planted.offset.1 * sin
            + self.planted.drift * turn / f64::from(self.teeth() - 1)
            + slip
    }

    /// The width of a land: where the old secondary, or where the new one, ends the primary.
    fn land_mm(&self, stage: LandStage, stand_mm: f64) -> f64 {
        let peripheral = self.peripheral();
        let radius = Length::from_mm(self.radius_mm() + stand_mm);
        let section = peripheral.stanced.setup.section(radius * 2.0).unwrap();
        let old = peripheral.worn.outline(radius).land_left_by(&section);
        let old = old.unwrap_or_else(|| panic!("{stand_mm} stands beyond what came off")).mm();
        match stage {
            LandStage::AfterPrimary => old,
            // The new secondary stays where it is when the edge moves, as the old one does.
            LandStage::AfterSecondary => {
                let planned = peripheral.secondary.land_after.unwrap().mm();
                planned + old - self.land_mm(LandStage::AfterPrimary, 0.0)
            }
        }
    }

    /// Lands of every tooth at some places.
    pub(crate) fn lands(&self, stage: LandStage, places_mm: &[f64], step_mm: f64) -> LandGroup {
        let mut scatter = Scatter(7);
        let mut readings = Vec::new();
        for at_mm in places_mm {
            for tooth in 1..=self.teeth() {
                let land_mm = self.land_mm(stage, self.stand_mm(tooth, *at_mm));
                let width = read(land_mm, step_mm, &mut scatter);
                readings.push(LandReading { tooth, from_end: Length::from_mm(*at_mm), width });
            }
        }
        LandGroup { stage, instrument: instrument(step_mm), readings }
    }

    /// Diameters over every pair of teeth, or of odd teeth in a vee.
    pub(crate) fn diameters(&self, places_mm: &[f64]) -> DiameterGroup {
        let (step_mm, teeth) = (0.002, self.teeth());
        let is_even = teeth.is_multiple_of(2);
        let mut scatter = Scatter(11);
        let mut readings = Vec::new();
        for at_mm in places_mm {
            for tooth in 1..=if is_even { teeth / 2 } else { teeth } {
                let stand = |steps: u32| self.stand_mm((tooth - 1 + steps) % teeth + 1, *at_mm);
                let over_mm = if is_even {
                    stand(0) + stand(teeth / 2)
                } else {
                    // Tip to apex of a vee, divided so that equal radii read their diameter.
                    let of_two = 1.0 / (TAU / 4.0 - TAU / 2.0 / f64::from(teeth)).sin();
                    let behind = 0.5 * of_two * (stand(teeth / 2) + stand(teeth / 2 + 1));
                    (stand(0) + behind) * 2.0 / (1.0 + of_two)
                };
                let reading = read(2.0 * self.radius_mm() + over_mm, step_mm, &mut scatter);
                let from_end = Length::from_mm(*at_mm);
                readings.push(DiameterReading { from_end, tooth: Some(tooth), reading });
            }
        }
        let over = if is_even { Over::Micrometer } else { Over::VeeAnvil };
        DiameterGroup { over, anvil_width: None, instrument: instrument(step_mm), readings }
    }

    /// Rounds of an indicator, each from a zero of its own.
    pub(crate) fn heights(&self, places_mm: &[f64]) -> IndicatorGroup {
        let (step_mm, mut scatter) = (0.002, Scatter(13));
        let mut readings = Vec::new();
        for at_mm in places_mm {
            for tooth in 1..=self.teeth() {
                let stand_mm = self.stand_mm(tooth, *at_mm) - self.stand_mm(1, *at_mm);
                let height = read(stand_mm, step_mm, &mut scatter);
                readings.push(IndicatorReading {
                    tooth,
                    from_end: Length::from_mm(*at_mm),
                    height,
                });
            }
        }
        let (held, instrument) = (Holding::ByShank, instrument(step_mm));
        IndicatorGroup { held, instrument, readings }
    }

    /// The drops that the plan foretells, as read.
    pub(crate) fn drops(&self) -> DropGroup {
        let mut scatter = Scatter(17);
        let drops = self.peripheral().expected.drops.iter().map(|drop| DropReading {
            tooth: Some(1),
            distance: drop.distance,
            drop: read(drop.drop.mm(), 0.002, &mut scatter),
        });
        DropGroup { readings: drops.collect(), instrument: instrument(0.002) }
    }
}

pub(crate) fn instrument(step_mm: f64) -> Instrument {
    Instrument { resolution: Length::from_mm(step_mm), repeatability: None }
}

/// A reading with half a step of scatter, rounded to the step.
fn read(exact_mm: f64, step_mm: f64, scatter: &mut Scatter) -> Length {
    let scattered = Length::from_mm(exact_mm + 0.4 * step_mm * scatter.next());
    scattered.snapped_to(Length::from_mm(step_mm))
}

//! Readings beside what the plan foretells: each as a value, its noise, and what moves it.

use geometry::Length;

use crate::record::{
    DiameterGroup, DropGroup, Holding, IndicatorGroup, LandGroup, LandStage, Over, Readings,
    RunoutOf, RunoutReading,
};

use super::land::LandCurve;
use super::nominal::Nominal;
use super::teeth::{Teeth, Touched, middle_of_shank};

/// What a reading is of.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum ReadingKind {
    /// The width of a land.
    Land(LandStage),
    /// A diameter.
    Diameter(Over),
    /// The height of an edge under an indicator.
    Height(Holding),
    /// A total indicator reading.
    Runout(RunoutOf),
    /// A drop behind the edge, at this distance.
    Drop(Length),
}

/// One reading beside the plan.
#[derive(Clone, Debug, PartialEq)]
pub struct Observed {
    /// What it is of.
    pub kind: ReadingKind,
    /// The tooth, if noted.
    pub tooth: Option<u32>,
    /// Place from the cutter's end, where it has one.
    pub from_end: Option<Length>,
    /// As read.
    pub measured: Length,
    /// As the plan foretells it; an indicator's zero is chosen by the hand, so there it is nothing.
    pub expected: Length,
    /// Standard deviation of the reading.
    pub deviation: Length,
    /// The reading as the fit takes it.
    pub(super) sight: Sight,
}

/// A reading in the fit's own terms.
#[derive(Clone, Debug, PartialEq)]
pub(super) struct Sight {
    /// What is fitted: a stand or a difference from the plan, in mm.
    pub(super) value_mm: f64,
    pub(super) deviation_mm: f64,
    /// By how much the reading as read moves for each mm of what is fitted.
    pub(super) per_value: f64,
    /// The edges whose stands make it, with their weights.
    pub(super) touched: Vec<Touched>,
    /// What a degree of relief and a mm of the wheel's corner make of it, in mm.
    pub(super) slopes: [f64; 2],
    pub(super) extra: Extra,
}

/// What else moves a reading.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(super) enum Extra {
    None,
    /// The surface behind the land.
    Back(LandStage),
    /// The zero of an indicator's round; runout of the chucking is not seen where the cutter was
    /// not taken out.
    Zero {
        round: usize,
        sees_runout: bool,
    },
    /// The length of the shank's own offset at this place, in mm from the end.
    Shank(f64),
    /// Highest less lowest edge at this place.
    Spread(f64),
}

impl Sight {
    fn plain(value_mm: f64, deviation_mm: f64, touched: Vec<Touched>) -> Self {
        let (slopes, extra) = ([0.0; 2], Extra::None);
        Self { value_mm, deviation_mm, per_value: 1.0, touched, slopes, extra }
    }
}

/// All readings beside the plan, and those that say nothing about it.
pub(super) struct Beside<'a> {
    pub(super) plan: &'a Nominal<'a>,
    /// The model about what was found so far.
    pub(super) nominal: &'a Nominal<'a>,
    pub(super) teeth: &'a Teeth,
    pub(super) curves: &'a [LandCurve],
    pub(super) observed: Vec<Observed>,
    pub(super) rounds: usize,
    /// Lands that no grind leaves.
    pub(super) left_out: usize,
    /// What cannot be used, and why.
    pub(super) remarks: Vec<String>,
}

impl<'a> Beside<'a> {
    pub(super) fn of(
        [plan, nominal]: [&'a Nominal<'a>; 2],
        teeth: &'a Teeth,
        curves: &'a [LandCurve],
        readings: &Readings,
    ) -> Self {
        let (observed, remarks) = (Vec::new(), Vec::new());
        let mut beside =
            Self { plan, nominal, teeth, curves, observed, rounds: 0, left_out: 0, remarks };
        readings.lands().iter().for_each(|group| beside.lands(group));
        readings.diameters().iter().for_each(|group| beside.diameters(group));
        readings.indicator().iter().for_each(|group| beside.indicator(group));
        readings.drops().iter().for_each(|group| beside.drops(group));
        readings.runouts().iter().for_each(|runout| beside.runout(runout));
        beside
    }

    fn lands(&mut self, group: &LandGroup) {
        let Some(curve) = self.curves.iter().find(|curve| curve.stage == group.stage) else {
            self.remarks.push(format!(
                "lands read {}: on this plan nothing ends the land then, so they were left out",
                group.stage
            ));
            return;
        };
        let deviation = group.instrument.deviation();
        for land in &group.readings {
            let (tooth, from_end, measured) = (land.tooth, land.from_end, land.width);
            let Some(stand) = curve.stand(measured.mm()) else {
                self.left_out += 1;
                self.remarks.push(format!(
                    "land of tooth {tooth} at {:.2} mm from the end: {:.4} mm cannot come of this \
                     grind; it was left out",
                    from_end.mm(),
                    measured.mm()
                ));
                continue;
            };
            if curve.runs_out(measured.mm()) {
                self.remarks.push(format!(
                    "land of tooth {tooth} at {:.2} mm from the end ran out to the heel: that \
                     tooth is at least so deep, and may be deeper",
                    from_end.mm()
                ));
            }
            let touched = vec![Touched { tooth, from_end_mm: from_end.mm(), weight: 1.0 }];
            let per = stand.land_per_stand;
            let slopes = curve.slopes.map(|slope| slope / per);
            let sight = Sight {
                value_mm: stand.stand_mm + self.shifted(slopes),
                deviation_mm: deviation.mm() / per.abs(),
                per_value: per,
                touched,
                slopes,
                extra: Extra::Back(curve.stage),
            };
            let kind = ReadingKind::Land(curve.stage);
            let expected = Length::from_mm(curve.planned_mm());
            let place = (Some(tooth), Some(from_end));
            self.observe(kind, place, (measured, expected, deviation), sight);
        }
    }

    fn diameters(&mut self, group: &DiameterGroup) {
        let anvil_mm = group.anvil_width.map_or(0.0, Length::mm);
        let deviation = group.instrument.deviation();
        let radius_mm = self.nominal.radius_mm();
        let expected = Length::from_mm(self.teeth.reading_mm(group.over, radius_mm, anvil_mm));
        for reading in &group.readings {
            let at_mm = reading.from_end.mm();
            let touched = self.teeth.under(group.over, reading.tooth, at_mm, anvil_mm);
            let value = reading.reading - expected;
            let sight = Sight::plain(value.mm(), deviation.mm(), touched);
            let place = (reading.tooth, Some(reading.from_end));
            let figures = (reading.reading, expected, deviation);
            self.observe(ReadingKind::Diameter(group.over), place, figures, sight);
        }
    }

    fn indicator(&mut self, group: &IndicatorGroup) {
        let mut places: Vec<Length> = Vec::new();
        let deviation = group.instrument.deviation();
        let first_round = self.rounds;
        for reading in &group.readings {
            let known = places.iter().position(|place| *place == reading.from_end);
            let round = known.unwrap_or_else(|| {
                places.push(reading.from_end);
                places.len() - 1
            });
            let (tooth, from_end_mm) = (reading.tooth, reading.from_end.mm());
            let touched = vec![Touched { tooth, from_end_mm, weight: 1.0 }];
            let sees_runout = group.held == Holding::ByShank;
            let extra = Extra::Zero { round: first_round + round, sees_runout };
            let height_mm = reading.height.mm();
            let sight = Sight { extra, ..Sight::plain(height_mm, deviation.mm(), touched) };
            let place = (Some(tooth), Some(reading.from_end));
            let figures = (reading.height, Length::ZERO, deviation);
            self.observe(ReadingKind::Height(group.held), place, figures, sight);
        }
        self.rounds = first_round + places.len();
    }

    fn drops(&mut self, group: &DropGroup) {
        let deviation = group.instrument.deviation();
        for reading in &group.readings {
            let distance = reading.distance;
            let about = self.nominal.drop_mm(distance);
            let Some((expected_mm, about_mm)) = self.plan.drop_mm(distance).zip(about) else {
                let mm = distance.mm();
                self.remarks.push(format!(
                    "drop at {mm:.4} mm behind the edge: the wheel leaves no surface there; it was \
                     left out"
                ));
                continue;
            };
            let expected = Length::from_mm(expected_mm);
            let slopes = self.nominal.drop_slopes(distance);
            let value_mm = reading.drop.mm() - about_mm + self.shifted(slopes);
            let sight = Sight { slopes, ..Sight::plain(value_mm, deviation.mm(), Vec::new()) };
            let figures = (reading.drop, expected, deviation);
            self.observe(ReadingKind::Drop(distance), (reading.tooth, None), figures, sight);
        }
    }

    /// The land that a fitted value stands for; None for any other reading.
    pub(super) fn land_mm(&self, one: &Observed, value_mm: f64) -> Option<f64> {
        let ReadingKind::Land(stage) = one.kind else { return None };
        let curve = self.curves.iter().find(|curve| curve.stage == stage)?;
        Some(curve.land_mm(value_mm - self.shifted(one.sight.slopes)))
    }

    /// What the shift of the model makes of a reading, to be added where that was taken off.
    fn shifted(&self, slopes: [f64; 2]) -> f64 {
        let shift = self.nominal.shift;
        slopes[0] * shift.relief_deg + slopes[1] * shift.corner_mm
    }

    fn runout(&mut self, runout: &RunoutReading) {
        let deviation = runout.instrument.deviation();
        let cutter = self.nominal.cutter;
        let extra = match (runout.of, runout.held) {
            (RunoutOf::Shank, Holding::AsGround) => {
                let at = runout.from_end.unwrap_or_else(|| middle_of_shank(cutter));
                Extra::Shank(at.mm())
            }
            (RunoutOf::Edges, Holding::ByShank) => {
                Extra::Spread(runout.from_end.map_or(0.0, Length::mm))
            }
            (RunoutOf::Shank, Holding::ByShank) => {
                let remark = "runout of the shank in its own holder says how true that holder is, \
                              not how the cutter was ground; it was left out";
                return self.remarks.push(remark.to_owned());
            }
            (RunoutOf::Edges, Holding::AsGround) => {
                let remark = "runout of the edges as they were held for grinding does not show how \
                              the shank sat; read it by the shank; it was left out";
                return self.remarks.push(remark.to_owned());
            }
        };
        let value_mm = runout.reading.mm();
        let sight = Sight { extra, ..Sight::plain(value_mm, deviation.mm(), Vec::new()) };
        let figures = (runout.reading, Length::ZERO, deviation);
        self.observe(ReadingKind::Runout(runout.of), (None, runout.from_end), figures, sight);
    }

    fn observe(
        &mut self,
        kind: ReadingKind,
        (tooth, from_end): (Option<u32>, Option<Length>),
        (measured, expected, deviation): (Length, Length, Length),
        sight: Sight,
    ) {
        let one = Observed { kind, tooth, from_end, measured, expected, deviation, sight };
        self.observed.push(one);
    }
}

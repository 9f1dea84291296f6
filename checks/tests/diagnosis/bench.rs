//! Instruments with noise: what a hand would read on a simulated grind.

use checks::reference::random::Splitmix;
use geometry::Length;
use shop::record::{
    DiameterGroup, DiameterReading, DropGroup, DropReading, Holding, IndicatorGroup,
    IndicatorReading, Instrument, LandGroup, LandReading, LandStage, Over, Readings, ReadingsDraft,
    RunoutOf, RunoutReading, TeethRun,
};

use super::grind::{Job, Planted};

/// Which readings are taken.
#[derive(Clone, Copy, Debug)]
pub(crate) struct Taken {
    pub(crate) stage: LandStage,
    /// Places at which lands are read.
    pub(crate) places: usize,
    pub(crate) diameters: bool,
    pub(crate) indicator: bool,
    pub(crate) drops: bool,
    pub(crate) shank: bool,
    /// One in so many lands was not read; none for all of them.
    pub(crate) missing_in: Option<u64>,
    /// How far one land was misread.
    pub(crate) misread_mm: Option<f64>,
    /// Whether the hand noted which way the teeth are numbered.
    pub(crate) run_noted: bool,
}

/// A normal draw.
pub(crate) fn normal(draw: &mut Splitmix) -> f64 {
    let radius = (-2.0 * draw.even(1e-12, 1.0).ln()).sqrt();
    radius * draw.even(0.0, std::f64::consts::TAU).cos()
}

fn instrument(step_mm: f64, repeats_mm: f64) -> Instrument {
    let repeatability = Some(Length::from_mm(repeats_mm));
    Instrument { resolution: Length::from_mm(step_mm), repeatability }
}

/// Reads a true value: spread, then rounded to the step.
fn read(draw: &mut Splitmix, instrument: Instrument, true_mm: f64) -> Length {
    let spread = instrument.repeatability.unwrap().mm();
    let step = instrument.resolution.mm();
    let seen = true_mm + spread * normal(draw);
    Length::from_mm((seen / step).round() * step)
}

/// The readings of a grind; None where the faults leave a land that nothing ends.
pub(crate) fn readings(
    draw: &mut Splitmix,
    job: &Job<'_>,
    planted: &Planted,
    taken: Taken,
) -> Option<Readings> {
    let order = &job.grinds.grinding.second_round;
    let setup = job.setup(planted);
    let places: Vec<f64> = match taken.places {
        1 => vec![0.5 * job.flute_mm],
        2 => vec![0.1 * job.flute_mm, 0.9 * job.flute_mm],
        count => {
            let last = (count - 1) as f64;
            (0..count).map(|at| job.flute_mm * (0.1 + 0.8 * at as f64 / last)).collect()
        }
    };
    let stand = |tooth: u32, z: f64| job.stand_mm(planted, order, tooth, z);
    let mut draft = ReadingsDraft { ground_order: order.clone(), ..ReadingsDraft::default() };
    draft.teeth_run = taken.run_noted.then_some(TeethRun::Heelward);
    let glass = instrument(0.01, 0.005);
    let fresh = taken.stage == LandStage::AfterSecondary;
    let mut lands = Vec::new();
    for &z in &places {
        for tooth in 1..=job.teeth {
            let skipped = taken.missing_in.is_some_and(|count| draw.once_in(count));
            let width = read(draw, glass, job.land_mm(&setup, planted, stand(tooth, z), fresh)?);
            if !skipped {
                lands.push(LandReading { tooth, from_end: Length::from_mm(z), width });
            }
        }
    }
    if let (Some(misread), false) = (taken.misread_mm, lands.is_empty()) {
        let count = lands.len() as u64;
        let one = &mut lands[(draw.bits() % count) as usize];
        one.width += Length::from_mm(if one.width.mm() > 0.3 { -misread } else { misread });
    }
    draft.lands.push(LandGroup { stage: taken.stage, instrument: glass, readings: lands });
    if taken.diameters {
        draft.diameters.push(diameters(draw, job, &stand, &places));
    }
    if taken.indicator {
        draft.indicator.push(indicator(draw, job, &stand, &places));
    }
    if taken.drops {
        draft.drops.push(drops(draw, job, &setup)?);
    }
    if taken.shank {
        draft.runouts.push(shank(draw, job, planted));
    }
    draft.build(&job.plan.request.cutter).ok()
}

fn diameters(
    draw: &mut Splitmix,
    job: &Job<'_>,
    stand: &impl Fn(u32, f64) -> f64,
    places: &[f64],
) -> DiameterGroup {
    let micrometer = instrument(0.002, 0.001);
    let half = job.teeth / 2;
    let even = job.teeth.is_multiple_of(2);
    let mut readings = Vec::new();
    for &z in places {
        let radius = |tooth: u32| job.radius_mm + stand((tooth - 1) % job.teeth + 1, z);
        for tooth in 1..=if even { half } else { job.teeth } {
            let true_mm = if even {
                radius(tooth) + radius(tooth + half)
            } else {
                flat_anvils_mm(job.teeth, &|at| radius(tooth + at))
            };
            let from_end = Length::from_mm(z);
            let reading = read(draw, micrometer, true_mm);
            readings.push(DiameterReading { from_end, tooth: Some(tooth), reading });
        }
    }
    let over = if even { Over::Micrometer } else { Over::FlatAnvils };
    DiameterGroup { over, anvil_width: None, instrument: micrometer, readings }
}

/// Straight anvils against a polygon of edges: the cutter rocks until the reading is least, with
/// the first tooth on one anvil and the two opposite on the other.
fn flat_anvils_mm(teeth: u32, radius: &impl Fn(u32) -> f64) -> f64 {
    let pitch = std::f64::consts::TAU / f64::from(teeth);
    let reach = |rocked: f64| {
        let along = |tooth: u32| {
            radius(tooth) * (f64::from(tooth) * pitch - std::f64::consts::PI - rocked).cos()
        };
        let far = (1..teeth).map(along).fold(f64::NEG_INFINITY, f64::max);
        radius(0) * rocked.cos() + far
    };
    (-400..=400).map(|step| reach(f64::from(step) * 5e-5)).fold(f64::INFINITY, f64::min)
}

fn indicator(
    draw: &mut Splitmix,
    job: &Job<'_>,
    stand: &impl Fn(u32, f64) -> f64,
    places: &[f64],
) -> IndicatorGroup {
    let dial = instrument(0.002, 0.001);
    let mut readings = Vec::new();
    for &z in places {
        let zero = draw.even(-0.1, 0.1);
        for tooth in 1..=job.teeth {
            let height = read(draw, dial, zero + stand(tooth, z));
            readings.push(IndicatorReading { tooth, from_end: Length::from_mm(z), height });
        }
    }
    IndicatorGroup { held: Holding::ByShank, instrument: dial, readings }
}

fn drops(
    draw: &mut Splitmix,
    job: &Job<'_>,
    setup: &geometry::section::Setup,
) -> Option<DropGroup> {
    let dial = instrument(0.002, 0.001);
    let mut readings = Vec::new();
    for (at, expected) in job.grinds.expected.drops.iter().enumerate() {
        for round in 0..2 {
            let distance = expected.distance * (1.0 + 0.01 * f64::from(round));
            let drop = read(draw, dial, job.drop_mm(setup, distance.mm())?);
            readings.push(DropReading { tooth: Some(at as u32 + 1), distance, drop });
        }
    }
    Some(DropGroup { instrument: dial, readings })
}

fn shank(draw: &mut Splitmix, job: &Job<'_>, planted: &Planted) -> RunoutReading {
    let dial = instrument(0.002, 0.001);
    let cutter = &job.plan.request.cutter;
    let at_mm = 0.5 * (cutter.flute_length().mm() + cutter.overall_length().mm());
    let along = at_mm / job.flute_mm;
    let x = planted.offset.0 + along * planted.tilt.0;
    let y = planted.offset.1 + along * planted.tilt.1;
    RunoutReading {
        of: RunoutOf::Shank,
        held: Holding::AsGround,
        from_end: None,
        reading: read(draw, dial, 2.0 * x.hypot(y)),
        instrument: dial,
    }
}

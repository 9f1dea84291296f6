//! The cutter as the check found it, for its own file.

use geometry::{Angle, Length};
use shop::check::{Check, Fault, Figure, Judgement, Observed, Quality, ReadingKind};
use shop::plan::Peripheral;
use shop::record::LandStage;

use super::seen;

/// What belongs into the cutter's file when the grind is left as it is.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(super) struct AsFound {
    pub(super) diameter: Length,
    pub(super) primary: Angle,
    pub(super) secondary: Angle,
    pub(super) land: Length,
    /// Whether the diameter, the relief and the land were read; else they are the plan's.
    pub(super) was_read: [bool; 3],
    pub(super) next_primary: Option<Angle>,
}

/// The least relief that a cutter's record takes.
const RELIEF_MIN: Angle = Angle::from_degrees(0.5);

impl AsFound {
    /// None where the plan grinds no periphery.
    pub(super) fn of(check: &Check) -> Option<Self> {
        let peripheral = check.request.plan.peripheral.as_ref()?;
        let secondary = secondary(check, peripheral);
        // A record takes no relief that its secondary does not clear.
        let can_be = |relief: &Angle| *relief >= RELIEF_MIN && *relief < secondary;
        let relief = relief(check).filter(can_be);
        let (size, land) = (diameter(check), land(check));
        let next = check.next_clearance.as_ref().map(|next| next.next.value);
        Some(Self {
            diameter: size.map_or(peripheral.expected.diameter, |found| found.length()),
            primary: relief.unwrap_or(peripheral.stanced.relief),
            secondary,
            land: land.unwrap_or(peripheral.expected.land),
            was_read: [size.is_some(), relief.is_some(), land.is_some()],
            next_primary: next.filter(|next| *next < secondary),
        })
    }
}

/// The size that goes on the tag, where the readings tell it: that of the highest edge where the
/// edges stand unlike, for the slot is cut by it, and else the diameter as found.
pub fn size_for_tag(check: &Check) -> Option<Figure> {
    highest(check).or_else(|| diameter(check))
}

/// The size of the cut, where the highest edge makes it wider than the lowest would.
pub(super) fn highest(check: &Check) -> Option<Figure> {
    let highest = check.cuts_at?;
    let stands = || check.edges.stands.iter().flatten().map(|stand| stand.value);
    let (most, least) =
        (stands().fold(f64::NEG_INFINITY, f64::max), stands().fold(f64::INFINITY, f64::min));
    (most - least > highest.half_width).then_some(highest)
}

/// The diameter, where the readings give it closer than the plan does or show it to be another.
pub(super) fn diameter(check: &Check) -> Option<Figure> {
    let peripheral = check.request.plan.peripheral.as_ref()?;
    let (less, more) = peripheral.expected.diameter_band;
    let found = found(check, Quality::Size, Fault::Size)?;
    let is_close = found.within() <= (less + more) / 2.0;
    (is_close || is_sure(check, Fault::Size)).then_some(found)
}

/// The relief, where the readings give it closer than what is allowed or show it to be another.
fn relief(check: &Check) -> Option<Angle> {
    let allowed = |one: &Judgement| one.allowed.as_ref().map(|cited| cited.value);
    let judged = check.judgements.iter().find(|one| one.quality == Quality::Relief)?;
    let (least, greatest) = allowed(judged)?;
    let found = found(check, Quality::Relief, Fault::Clearance)?;
    let is_close = found.half_width <= 0.5 * (greatest - least);
    (is_close || is_sure(check, Fault::Clearance)).then(|| Angle::from_degrees(found.value))
}

fn is_sure(check: &Check, fault: Fault) -> bool {
    check.findings.iter().any(|one| one.fault == fault)
}

/// A quality as found, with its band.
fn found(check: &Check, quality: Quality, fault: Fault) -> Option<Figure> {
    let judged = check.judgements.iter().find(|one| one.quality == quality)?;
    Some(seen::with_band(check, fault, judged.found))
}

/// The mean of the finished lands that were not set aside.
fn land(check: &Check) -> Option<Length> {
    let is_aside = |at: usize| check.set_aside.iter().any(|aside| aside.reading == at);
    let is_finished = |(at, one): &(usize, &Observed)| {
        one.kind == ReadingKind::Land(LandStage::AfterSecondary) && !is_aside(*at)
    };
    let widths: Vec<f64> = check
        .observed
        .iter()
        .enumerate()
        .filter(is_finished)
        .map(|(_, one)| one.measured.mm())
        .collect();
    (!widths.is_empty()).then(|| Length::from_mm(widths.iter().sum::<f64>() / widths.len() as f64))
}

/// The secondary that was ground, or the old one where that was left.
fn secondary(check: &Check, peripheral: &Peripheral) -> Angle {
    let plan = &check.request.plan;
    match &peripheral.secondary.grinding {
        Some(_) => peripheral.secondary.stanced.relief,
        None => plan
            .request
            .cutter
            .as_ground()
            .map_or(plan.wanted.secondary.value, |ground| ground.secondary),
    }
}

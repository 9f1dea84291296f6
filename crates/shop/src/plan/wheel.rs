//! Choosing among the wheels given, and the spindle speed for the one chosen.

use geometry::Length;
use geometry::closed_form::surface_speed_m_per_s;
use geometry::wheel::WheelKind;
use trade::{Abrasive, Range, SurfaceSpeed};

use super::wanted::ReliefKind;
use crate::bridge;
use crate::context::{Cited, Ctx};
use crate::error::ShopError;
use crate::record::{Coolant, Cutter, Machine, SpindleSpeed, Wheel, WheelForm};

/// Why a wheel was passed over.
#[derive(Clone, Debug, PartialEq)]
pub struct WheelRefusal {
    /// The wheel's number.
    pub wheel: String,
    /// Why, with what to do instead.
    pub reason: String,
    /// Why, in a few words.
    pub brief: String,
    /// Whether a sheet of one page may leave it out: the wheel would do and only suits less well,
    /// or its abrasive is plainly for other work.
    pub is_minor: bool,
}

/// The wheel to use.
#[derive(Clone, Debug, PartialEq)]
pub struct WheelChoice {
    /// The wheel.
    pub wheel: Wheel,
    /// Why this one.
    pub why: Cited<String>,
    /// The spindle speed and belt to set.
    pub speed: SpindleSpeed,
    /// Its surface speed at that setting, in metres per second.
    pub surface_m_per_s: f64,
    /// The surface speeds that a source gives, in metres per second.
    pub recommended_m_per_s: Option<Cited<(f64, f64)>>,
    /// What other sources say of the speed.
    pub conflicts: Vec<Cited<String>>,
    /// Surface speed below or above what the source gives, in words.
    pub speed_remark: Option<String>,
    /// The wheels passed over, with reasons.
    pub passed_over: Vec<WheelRefusal>,
}

pub(crate) struct Judged {
    wheel: Wheel,
    rank: (u32, u32, u32),
    why: Cited<String>,
    speed: SpindleSpeed,
}

/// The wheels that may be used, best first, and those that may not, with reasons.
pub(crate) struct Ranked {
    usable: Vec<Judged>,
    passed_over: Vec<WheelRefusal>,
}

/// Judges the wheels given.
pub(crate) fn ranked(
    ctx: &Ctx<'_>,
    cutter: &Cutter,
    machine: &Machine,
    wheels: &[Wheel],
    relief: Option<ReliefKind>,
) -> Ranked {
    let mut ranked = Ranked { usable: Vec::new(), passed_over: Vec::new() };
    for wheel in wheels {
        match judge(ctx, cutter, machine, wheel, relief) {
            Ok(judged) => ranked.usable.push(judged),
            Err(reason) => {
                let is_minor = suits(ctx, cutter, wheel).is_err();
                ranked.passed_over.push(WheelRefusal { is_minor, ..refusal(wheel, reason) });
            }
        }
    }
    ranked.usable.sort_by_key(|judged| judged.rank);
    ranked
}

fn refusal(wheel: &Wheel, reason: String) -> WheelRefusal {
    let brief = reason.clone();
    WheelRefusal { wheel: wheel.number().to_owned(), reason, brief, is_minor: false }
}

impl Ranked {
    /// The wheel that suits best, or one by its number where that may be used at all, of those that
    /// fit; whether the work can be done with it is not asked further.
    ///
    /// # Errors
    /// `Refused` where none may be used, with the reason for each.
    pub(crate) fn suited(
        self,
        number: Option<&str>,
        fits: impl Fn(&Wheel) -> Result<(), ShopError>,
    ) -> Result<Wheel, ShopError> {
        let Self { mut usable, mut passed_over } = self;
        usable.sort_by_key(|judged| Some(judged.wheel.number()) != number);
        for Judged { wheel, .. } in usable {
            match fits(&wheel) {
                Ok(()) => return Ok(wheel),
                Err(error) => passed_over.push(refusal(&wheel, error.to_string())),
            }
        }
        Err(none_usable(&passed_over))
    }

    /// Takes the best wheel with which the work can be planned; one whose geometry is refused is
    /// passed over with that reason.
    ///
    /// # Errors
    /// `Refused` where none may be used, with the reason for each.
    pub(crate) fn first_that_works<T>(
        self,
        ctx: &Ctx<'_>,
        machine: &Machine,
        work: impl Fn(&Wheel) -> Result<T, ShopError>,
    ) -> Result<(WheelChoice, T), ShopError> {
        let Self { usable, mut passed_over } = self;
        let mut usable = usable.into_iter();
        while let Some(judged) = usable.next() {
            match work(&judged.wheel) {
                Ok(done) => {
                    let beaten = "would do, but another suits better";
                    passed_over.extend(usable.map(|other| WheelRefusal {
                        is_minor: true,
                        ..refusal(&other.wheel, beaten.to_owned())
                    }));
                    return Ok((chosen(ctx, machine, judged, passed_over), done));
                }
                Err(error) => {
                    let reason = error.to_string();
                    let brief = match error {
                        ShopError::Refused { rule, .. } => rule,
                        _ => reason.clone(),
                    };
                    passed_over.push(WheelRefusal { brief, ..refusal(&judged.wheel, reason) });
                }
            }
        }
        Err(none_usable(&passed_over))
    }
}

fn none_usable(passed_over: &[WheelRefusal]) -> ShopError {
    if let [only] = passed_over {
        let rule = format!("wheel {} cannot be used", only.wheel);
        return ShopError::refused(rule, only.reason.clone());
    }
    let reasons: Vec<String> = passed_over
        .iter()
        .map(|refusal| format!("{}: {}", refusal.wheel, refusal.reason))
        .collect();
    ShopError::refused("none of the wheels can be used", reasons.join("; "))
}

fn judge(
    ctx: &Ctx<'_>,
    cutter: &Cutter,
    machine: &Machine,
    wheel: &Wheel,
    relief: Option<ReliefKind>,
) -> Result<Judged, String> {
    let (abrasive_rank, why) = suits(ctx, cutter, wheel)?;
    let is_cup = bridge::kind(wheel) == WheelKind::Cup;
    match relief {
        Some(ReliefKind::Hollow) if is_cup => {
            return Err("a hollow relief wants a wheel that grinds on its periphery".to_owned());
        }
        Some(ReliefKind::Flat) if !is_cup => {
            return Err("a flat relief wants a cup that grinds on its face".to_owned());
        }
        _ => {}
    }
    let speed = speed(ctx, machine, wheel)?;
    let coolant = u32::from(wheel.coolant().is_some_and(|coolant| coolant != machine.coolant()));
    let form = match wheel.shape().form() {
        WheelForm::StraightCup | WheelForm::FlaringCup => 0,
        WheelForm::Dish => 1,
        WheelForm::Straight => 2,
    };
    let rank = (abrasive_rank, form, coolant);
    Ok(Judged { wheel: wheel.clone(), rank, why, speed })
}

/// Whether a wheel's abrasive suits the cutter's material.
pub(super) fn suits_material(ctx: &Ctx<'_>, cutter: &Cutter, wheel: &Wheel) -> bool {
    suits(ctx, cutter, wheel).is_ok()
}

/// Whether a wheel's abrasive suits the cutter's material: its rank and the reason.
fn suits(ctx: &Ctx<'_>, cutter: &Cutter, wheel: &Wheel) -> Result<(u32, Cited<String>), String> {
    let material = cutter.material();
    let lookup = ctx
        .tables
        .abrasive_for(material)
        .ok_or_else(|| format!("no table row names an abrasive for {}", material.name()))?;
    let chosen = lookup.chosen;
    if chosen.value.abrasive == wheel.abrasive() {
        return Ok((0, Cited::new(chosen.value.why.clone(), &chosen.source)));
    }
    let other = lookup.others.iter().find(|row| row.value.abrasive == wheel.abrasive());
    match other {
        Some(row) => Ok((1, Cited::new(row.value.why.clone(), &row.source))),
        None => Err(unsuited(wheel.abrasive(), material.name(), chosen.value.abrasive)),
    }
}

fn unsuited(abrasive: Abrasive, material: &str, better: Abrasive) -> String {
    format!("{} is not for {material}; use {}", abrasive.name(), better.name())
}

/// The spindle speed nearest to what the source gives and never above the wheel's mark.
pub(super) fn speed(
    ctx: &Ctx<'_>,
    machine: &Machine,
    wheel: &Wheel,
) -> Result<SpindleSpeed, String> {
    let within = |speed: &&SpindleSpeed| {
        let surface = surface_speed_m_per_s(wheel.diameter(), f64::from(speed.rpm));
        speed.rpm <= wheel.marked_rpm()
            && wheel.marked_speed_m_per_s().is_none_or(|marked| surface <= marked)
    };
    let allowed: Vec<&SpindleSpeed> = machine.spindle().speeds().iter().filter(within).collect();
    let range = recommended(ctx, machine, wheel).map(|cited| cited.value);
    let miss = |speed: &SpindleSpeed| {
        let surface = surface_speed_m_per_s(wheel.diameter(), f64::from(speed.rpm));
        match range {
            Some((least, _)) if surface < least => least / surface,
            Some((_, greatest)) if surface > greatest => surface / greatest,
            // Without a range, and within it, the faster speed grinds freer.
            _ => 1.0 - surface * 1e-6,
        }
    };
    allowed
        .into_iter()
        .min_by(|a, b| miss(a).total_cmp(&miss(b)))
        .cloned()
        .ok_or_else(|| above_mark(machine, wheel))
}

fn above_mark(machine: &Machine, wheel: &Wheel) -> String {
    let slowest = machine.spindle().speeds().iter().map(|speed| speed.rpm).min().unwrap_or(0);
    format!(
        "every spindle speed is above the wheel's mark: the slowest turns {slowest} rpm, the wheel \
         is marked {} rpm; mount a wheel marked for more, or belt the spindle slower",
        wheel.marked_rpm()
    )
}

fn recommended(ctx: &Ctx<'_>, machine: &Machine, wheel: &Wheel) -> Option<Cited<(f64, f64)>> {
    let wet = machine.coolant() == Coolant::Wet;
    let lookup = ctx.tables.surface_speed(wheel.abrasive(), wet)?;
    let Range { least, greatest } = lookup.chosen.value.speed?;
    let span = |speed: SurfaceSpeed| speed.m_per_s();
    Some(Cited::new((span(least), span(greatest)), &lookup.chosen.source))
}

fn chosen(
    ctx: &Ctx<'_>,
    machine: &Machine,
    judged: Judged,
    passed_over: Vec<WheelRefusal>,
) -> WheelChoice {
    let Judged { wheel, why, speed, .. } = judged;
    let surface = surface_speed_m_per_s(wheel.diameter(), f64::from(speed.rpm));
    let range = recommended(ctx, machine, &wheel);
    let speed_remark = range.as_ref().and_then(|cited| {
        let (least, greatest) = cited.value;
        // As finely as sheets show it: what reads below the range is said to be.
        let margin = 0.05;
        if surface < least - margin {
            Some("slow for it: lighter passes".to_owned())
        } else if surface > greatest + margin {
            Some("faster than the source gives: belt the spindle slower if it can be".to_owned())
        } else {
            None
        }
    });
    WheelChoice {
        why,
        surface_m_per_s: surface,
        recommended_m_per_s: range,
        conflicts: conflicts(ctx, machine, &wheel),
        speed_remark,
        speed,
        wheel,
        passed_over,
    }
}

fn conflicts(ctx: &Ctx<'_>, machine: &Machine, wheel: &Wheel) -> Vec<Cited<String>> {
    let wet = machine.coolant() == Coolant::Wet;
    let Some(lookup) = ctx.tables.surface_speed(wheel.abrasive(), wet) else {
        return Vec::new();
    };
    let advice = lookup
        .others
        .iter()
        .filter_map(|row| Some(Cited::new(row.value.advice.clone()?, &row.source)));
    advice.collect()
}

/// The greatest depth of one pass that the wheel's grit bears, where a source gives one.
pub(crate) fn greatest_pass(ctx: &Ctx<'_>, wheel: &Wheel) -> Option<Cited<Length>> {
    if !wheel.abrasive().is_super() {
        return None;
    }
    let mesh = ctx.tables.grit(wheel.grit())?.chosen.value.mesh.held_by;
    let lookup = ctx.tables.infeed(mesh)?;
    Some(Cited::new(lookup.chosen.value.greatest, &lookup.chosen.source))
}

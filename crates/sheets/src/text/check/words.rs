//! Faults and readings in the words of the bench.

use geometry::Length;
use geometry::quantity::System;
use shop::check::{Check, Fault, Figure, Finding, ReadingKind};
use shop::record::{LandStage, Over, RunoutOf};

use super::super::show::Units;

/// Above this probability no more nines are shown.
const ALMOST_SURE: f64 = 0.99;

/// A probability as a hand would bet on it.
pub(super) fn odds(probability: f64) -> String {
    if probability > ALMOST_SURE {
        "over 99 in 100".to_owned()
    } else if probability < 0.01 {
        "under 1 in 100".to_owned()
    } else {
        format!("{:.0} in 100", probability * 100.0)
    }
}

/// A length of the size of a fault with its band, to as many decimals as the band makes sense of.
pub(super) fn banded(figure: Figure, units: Units) -> String {
    let one = |system| banded_in(figure, system);
    match units.system {
        System::Inch if units.both => {
            format!("{} ({})", one(System::Inch), one(System::Millimetre))
        }
        System::Millimetre if units.both => {
            format!("{} ({})", one(System::Millimetre), one(System::Inch))
        }
        system => one(system),
    }
}

/// A band narrower than one and a half of the last customary decimal gets one decimal more.
fn banded_in(figure: Figure, system: System) -> String {
    let (size, within) = (figure.length(), figure.within());
    let (size, within, customary, unit) = match system {
        System::Inch => (size.inches(), within.inches(), 4, "in"),
        System::Millimetre => (size.mm(), within.mm(), 3, "mm"),
    };
    let fine = within * 10.0_f64.powi(customary) < 1.5;
    let decimals = usize::from(fine) + customary.unsigned_abs() as usize;
    format!("{size:.decimals$} ±{within:.decimals$} {unit}")
}

/// The same of an angle.
pub(super) fn banded_angle(figure: Figure) -> String {
    format!("{:.2} ±{:.2} deg", figure.value, figure.half_width)
}

/// The size without its sign.
fn amount(figure: Figure) -> Figure {
    Figure { value: figure.value.abs(), ..figure }
}

/// What a fault looks like, with its size.
pub(super) fn size(finding: &Finding, units: Units) -> String {
    let is_more = finding.size.value > 0.0;
    let either = |more: &'static str, less: &'static str| if is_more { more } else { less };
    let length = |factor: f64| banded(amount(finding.size).times(factor), units);
    let words = match finding.fault {
        Fault::Size => {
            format!("diameter {} {} than planned", length(2.0), either("larger", "smaller"))
        }
        Fault::Taper => format!(
            "diameter {} {} at the shank end of the flute than at the tip",
            length(2.0),
            either("larger", "smaller")
        ),
        Fault::Runout => format!("the shank swung {} in all while it was ground", length(2.0)),
        Fault::Drift => format!(
            "last tooth ground {} farther {} than the first, on the radius",
            length(1.0),
            either("out", "in")
        ),
        Fault::Slip(_) => {
            format!("{} {} on the radius", either("stands out", "ground too deep,"), length(1.0))
        }
        Fault::Clearance => {
            let degrees = banded_angle(amount(finding.size));
            format!("relief {degrees} {} than planned", either("more", "less"))
        }
        Fault::Corner => format!("its leading corner {} rounder than planned", length(1.0)),
    };
    if finding.size.is_clear_of_nothing() { words } else { words + ", which is hardly known" }
}

/// A fault as a thing that can be left alone.
pub(super) fn noun(fault: Fault) -> String {
    match fault {
        Fault::Slip(tooth) => format!("slip of tooth {tooth}"),
        fault => fault.name(),
    }
}

/// A fault's name as a headline.
pub(super) fn headline(fault: Fault) -> String {
    match fault {
        Fault::Slip(tooth) => format!("TOOTH {tooth} ALONE"),
        fault => fault.name().to_uppercase(),
    }
}

/// The pattern of lands that the trade knows a fault by, where lands were read that show it
/// (common practice, no source).
pub(super) fn pattern(check: &Check, finding: &Finding) -> Option<&'static str> {
    let lands = Lands::of(check);
    let is_more = finding.size.value > 0.0;
    let shown = !finding.is_shared || lands.after_primary;
    let teeth = check.request.plan.request.cutter.teeth();
    let alike = !check.findings.iter().any(|one| is_toothwise(one.fault));
    let words = match (finding.fault, is_more, alike) {
        (Fault::Taper, false, true) => {
            "Lands heavy toward the shank, alike on every tooth: taper, and a wheel that wants \
             dressing."
        }
        (Fault::Taper, false, false) => {
            "Lands heavy toward the shank: taper, and a wheel that wants dressing."
        }
        (Fault::Taper, true, true) => {
            "Lands heavy toward the tip, alike on every tooth: the table or the fixture stands \
             askew."
        }
        (Fault::Taper, true, false) => {
            "Lands heavy toward the tip: the table or the fixture stands askew."
        }
        (Fault::Runout, ..) if teeth == 2 => "The lands differ: the shank was not seated true.",
        (Fault::Runout, ..) => "Every land different: the shank was not seated true.",
        (Fault::Drift, true, _) => {
            "Lands grow narrower in the order of grinding: the wheel wore on the way round."
        }
        (Fault::Slip(_), true, _) => "One land narrower than its like: that tooth left its rest.",
        (Fault::Slip(_), false, _) => "One land wider than its like: that tooth left its rest.",
        _ => return None,
    };
    let is_along = finding.fault == Fault::Taper;
    (shown && if is_along { lands.places > 1 } else { lands.any }).then_some(words)
}

/// Whether a fault makes teeth unlike each other.
pub(super) const fn is_toothwise(fault: Fault) -> bool {
    matches!(fault, Fault::Runout | Fault::Drift | Fault::Slip(_))
}

/// Which lands were read.
struct Lands {
    any: bool,
    after_primary: bool,
    places: usize,
}

impl Lands {
    fn of(check: &Check) -> Self {
        let mut places: Vec<Length> = Vec::new();
        let mut lands = Self { any: false, after_primary: false, places: 0 };
        for one in &check.observed {
            let ReadingKind::Land(stage) = one.kind else { continue };
            lands.any = true;
            lands.after_primary |= stage == LandStage::AfterPrimary;
            places.extend(one.from_end.filter(|place| !places.contains(place)));
        }
        lands.places = places.len();
        lands
    }
}

/// How nearly equal the lands of one stage are, where those of several teeth were read.
pub(super) fn lands_alike(check: &Check, units: Units) -> Option<String> {
    let is_aside = |at: usize| check.set_aside.iter().any(|aside| aside.reading == at);
    let spread = |(stage, _): &(LandStage, Length)| {
        let is_land = |(at, one): &(usize, &shop::check::Observed)| {
            one.kind == ReadingKind::Land(*stage) && !is_aside(*at)
        };
        let lands = || check.observed.iter().enumerate().filter(is_land);
        let widths = || lands().map(|(_, one)| one.measured.mm());
        let least = widths().fold(f64::INFINITY, f64::min);
        let teeth = check.request.plan.request.cutter.teeth();
        let is_read = |tooth: u32| lands().any(|(_, one)| one.tooth == Some(tooth));
        (1..=teeth).all(is_read).then(|| widths().fold(0.0, f64::max) - least)
    };
    let widest = check.planned_lands.iter().filter_map(spread).reduce(f64::max)?;
    Some(units.length(Length::from_mm(widest)))
}

/// What a reading is of, and where it is taken.
pub(super) fn reading(
    kind: ReadingKind,
    tooth: Option<u32>,
    from_end: Option<Length>,
    units: Units,
) -> String {
    let on = tooth.map_or_else(String::new, |tooth| format!(" of tooth {tooth}"));
    let place =
        from_end.map_or_else(String::new, |at| format!(", {} from the end", units.rough(at)));
    match kind {
        ReadingKind::Land(stage) => format!("land{on}{place}, {stage}"),
        ReadingKind::Diameter(over) => format!("diameter{}{place}", across(over, tooth)),
        ReadingKind::Height(held) => {
            let on = tooth.map_or_else(String::new, |tooth| format!(" on tooth {tooth}"));
            format!("indicator{on}{place}, held {held}")
        }
        ReadingKind::Runout(RunoutOf::Shank) => {
            "runout of the shank, as held for grinding".to_owned()
        }
        ReadingKind::Runout(of) => format!("runout of the {of}{place}"),
        ReadingKind::Drop(distance) => {
            format!("drop{on}, {} behind the edge", units.rough(distance))
        }
    }
}

fn across(over: Over, tooth: Option<u32>) -> String {
    match (over, tooth) {
        (Over::Micrometer, Some(tooth)) => format!(" over tooth {tooth} and its opposite"),
        (Over::Micrometer, None) => String::new(),
        (over, Some(tooth)) => format!(" over {over}, tooth {tooth} on the one"),
        (over, None) => format!(" over {over}"),
    }
}

/// An amount with a sign.
pub(super) fn signed(length: Length, units: Units) -> String {
    match units.system {
        System::Inch => plus(format!("{:+.4}", length.inches())),
        System::Millimetre => plus(format!("{:+.3}", length.mm())),
    }
}

/// Nothing has no sign.
fn plus(text: String) -> String {
    if text.contains(|digit: char| ('1'..='9').contains(&digit)) {
        text
    } else {
        text.replacen(['+', '-'], " ", 1)
    }
}

/// A length without its unit, for tables that name it once.
pub(super) fn bare(length: Length, units: Units) -> String {
    let shown = length.show(units.system).to_string();
    shown.trim_end_matches(units.system.unit()).trim_end().to_owned()
}

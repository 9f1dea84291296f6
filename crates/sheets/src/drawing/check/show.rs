//! How the figures of a check are written on its drawings.

use geometry::{Length, System};
use shop::check::Check;
use shop::record::LandStage;

/// A number of the system's unit, to tenths of a thou or to micrometres.
const fn measured(value: Length, system: System) -> (f64, usize) {
    match system {
        System::Inch => (value.inches(), 4),
        System::Millimetre => (value.mm(), 3),
    }
}

/// A length without its unit, where the drawing names the unit once for all.
pub(super) fn bare(value: Length, system: System) -> String {
    let (number, decimals) = measured(value, system);
    format!("{number:.decimals$}")
}

/// A difference without its unit, always with its sign; what rounds to nothing has none.
pub(super) fn signed(value: Length, system: System) -> String {
    let (number, decimals) = measured(value, system);
    let text = format!("{number:+.decimals$}");
    let is_nothing = !text.contains(|letter: char| ('1'..='9').contains(&letter));
    if is_nothing { text.trim_start_matches(['+', '-']).to_owned() } else { text }
}

/// A place along the cutter or behind an edge, without the zeros that say nothing.
pub(super) fn place(at: Length, system: System) -> String {
    let (number, decimals) = measured(at, system);
    let decimals = decimals - 1;
    let text = format!("{number:.decimals$}");
    format!("{} {}", text.trim_end_matches('0').trim_end_matches('.'), system.unit())
}

/// What the numbers of a drawing are counted in.
pub(super) const fn unit_name(system: System) -> &'static str {
    match system {
        System::Inch => "inches",
        System::Millimetre => "millimetres",
    }
}

/// When lands were read, in words.
pub(super) const fn stage(stage: LandStage) -> &'static str {
    match stage {
        LandStage::AfterPrimary => "after the primary",
        LandStage::AfterSecondary => "after the secondary",
    }
}

/// Words one after another with commas; none for none.
pub(super) fn listed(words: &[String]) -> Option<String> {
    (!words.is_empty()).then(|| words.join(", "))
}

/// The cutter's number as it stands in headings.
pub(super) fn cutter(check: &Check) -> String {
    format!("cutter {}", check.request.plan.request.cutter.number())
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_difference_carries_its_sign_and_nothing_carries_none() {
        let inch = |thou: f64| signed(Length::from_thou(thou), System::Inch);
        assert_eq!([0.74, -1.3, 0.04, -0.04].map(inch), ["+0.0007", "-0.0013", "0.0000", "0.0000"]);
        assert_eq!(signed(Length::from_um(-12.4), System::Millimetre), "-0.012");
    }

    #[test]
    fn places_are_short() {
        let shown = [(3.0, System::Millimetre), (24.13, System::Inch), (0.75, System::Millimetre)];
        let shown = shown.map(|(mm, system)| place(Length::from_mm(mm), system));
        assert_eq!(shown, ["3 mm", "0.95 in", "0.75 mm"]);
        assert_eq!(bare(Length::from_mm(0.5), System::Inch), "0.0197");
    }
}

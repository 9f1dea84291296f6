//! What the readings could show, and what they could not.

use geometry::Length;
use geometry::quantity::System;
use shop::check::{Check, Fault, Figure, Rival, Seen};

use super::super::page::Page;
use super::super::show::Units;
use super::words;

pub(super) fn part(page: &mut Page, check: &Check, units: Units) {
    let kinds = kinds(check);
    let (seen, blind): (Vec<&Kind>, Vec<&Kind>) = kinds.iter().partition(|one| one.half.is_some());
    if !blind.is_empty() {
        page.part("NOT SEEN");
        advice(&blind).iter().for_each(|line| page.text(line));
    }
    if !seen.is_empty() {
        page.part("SEEN FROM");
        let shown: Vec<String> = seen.iter().filter_map(|one| one.shown(units)).collect();
        page.text(&format!("{}.", shown.join("; ")));
        let alike = alike(&seen);
        if !alike.is_empty() {
            page.text(&format!("By these readings alike: {}.", alike.join("; ")));
        }
    }
}

/// Whether some fault of the edges could not have been seen.
pub(super) fn is_blind(check: &Check) -> bool {
    let is_of_edges = |fault| !matches!(fault, Fault::Clearance | Fault::Corner);
    check.seen.iter().any(|one| is_of_edges(one.fault) && one.half_width.is_none())
}

/// A fault with the smallest size that would show; slips of teeth that show alike are one.
struct Kind {
    fault: Fault,
    name: String,
    half: Option<f64>,
    apart: Option<f64>,
    rival: Option<Rival>,
    advice: &'static str,
}

fn kinds(check: &Check) -> Vec<Kind> {
    let is_slip = |one: &&Seen| matches!(one.fault, Fault::Slip(_));
    let mut kinds: Vec<Kind> = check.seen.iter().filter(|one| !is_slip(one)).map(kind).collect();
    let (seen, blind): (Vec<&Seen>, Vec<&Seen>) =
        check.seen.iter().filter(is_slip).partition(|one| one.half_width.is_some());
    let is_all = seen.is_empty() || blind.is_empty();
    kinds.extend(slips(&seen, is_all));
    kinds.extend(slips(&blind, is_all));
    kinds
}

fn kind(seen: &Seen) -> Kind {
    Kind {
        fault: seen.fault,
        name: seen.fault.name(),
        half: seen.half_width,
        apart: seen.apart_half_width,
        rival: seen.rival,
        advice: seen.advice(),
    }
}

/// The slips of several teeth as one: that which shows worst.
fn slips(all: &[&Seen], is_every_tooth: bool) -> Option<Kind> {
    let apart = |one: &Seen| one.apart_half_width.unwrap_or(f64::INFINITY);
    let half = |one: &Seen| one.half_width.unwrap_or(f64::INFINITY);
    let worst = all
        .iter()
        .max_by(|a, b| apart(a).total_cmp(&apart(b)).then(half(a).total_cmp(&half(b))))?;
    let name = if is_every_tooth { "a tooth that slipped".to_owned() } else { slip_of(all) };
    Some(Kind { name, ..kind(worst) })
}

fn slip_of(all: &[&Seen]) -> String {
    let tooth = |one: &&Seen| match one.fault {
        Fault::Slip(tooth) => Some(tooth.to_string()),
        _ => None,
    };
    let teeth: Vec<String> = all.iter().filter_map(tooth).collect();
    format!("a slip of tooth {}", teeth.join(" or "))
}

/// Faults that were not seen, those with the same cure together.
fn advice(blind: &[&Kind]) -> Vec<String> {
    let mut groups: Vec<(&str, Vec<&str>)> = Vec::new();
    for one in blind {
        match groups.iter_mut().find(|(cure, _)| *cure == one.advice) {
            Some((_, names)) => names.push(&one.name),
            None => groups.push((one.advice, vec![&one.name])),
        }
    }
    let line = |(cure, names): (&str, Vec<&str>)| {
        let mut line = format!("{}: {cure}.", names.join(", "));
        capitalise(&mut line);
        line
    };
    groups.into_iter().map(line).collect()
}

/// The first letter of a sentence.
pub(super) fn capitalise(text: &mut str) {
    if let Some(first) = text.get_mut(..1) {
        first.make_ascii_uppercase();
    }
}

impl Kind {
    /// The smallest size that would show, in the terms of the verdict.
    fn shown(&self, units: Units) -> Option<String> {
        let on = match self.fault {
            Fault::Size | Fault::Taper => " on diameter",
            Fault::Runout => " in all",
            _ => "",
        };
        Some(format!("{} {}{on}", self.name, self.amount(self.half?, units)))
    }

    fn amount(&self, half: f64, units: Units) -> String {
        if self.fault.is_angle() {
            format!("{half:.1} deg")
        } else {
            fine(Length::from_mm(half * factor(self.fault)), units)
        }
    }
}

/// Faults that no size tells apart, each pair once.
fn alike(seen: &[&Kind]) -> Vec<String> {
    let mut pairs: Vec<[String; 2]> = Vec::new();
    for one in seen.iter().filter(|one| one.apart.is_none()) {
        let Some(Rival::Fault(rival)) = one.rival else { continue };
        let pair = [one.fault, rival].map(words::noun);
        let turned = [pair[1].clone(), pair[0].clone()];
        if !pairs.contains(&pair) && !pairs.contains(&turned) {
            pairs.push(pair);
        }
    }
    pairs.into_iter().map(|[one, other]| format!("{one} and {other}")).collect()
}

/// A size in the terms in which it is told: of a diameter, of an indicator's swing, of a radius.
pub(super) const fn factor(fault: Fault) -> f64 {
    match fault {
        Fault::Size | Fault::Taper | Fault::Runout => 2.0,
        _ => 1.0,
    }
}

/// A small length that only bounds something: to a hundred-thousandth of an inch where it is below
/// one and a half ten-thousandths, or a tenth of a micrometre.
pub(super) fn fine(length: Length, units: Units) -> String {
    match units.system {
        System::Inch if length < Length::from_thou(0.15) => format!("{:.5} in", length.inches()),
        System::Millimetre if length < Length::from_um(1.5) => format!("{:.4} mm", length.mm()),
        _ => units.length(length),
    }
}

/// A figure with a band that is no narrower than what the readings could see of its fault.
pub(super) fn with_band(check: &Check, fault: Fault, found: Figure) -> Figure {
    let half = check.seen.iter().find(|one| one.fault == fault).and_then(|one| one.half_width);
    let least = half.map_or(0.0, |half| half * factor(fault));
    Figure { half_width: found.half_width.max(least), ..found }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn faults_with_one_cure_share_a_line() {
        let blind = |fault| {
            let (half_width, apart_half_width, rival) = (None, None, None);
            kind(&Seen { fault, half_width, apart_half_width, rival })
        };
        let (drift, slip) = (blind(Fault::Drift), blind(Fault::Slip(1)));
        let lines = advice(&[&drift, &slip]);
        assert_eq!(
            lines,
            ["Drift round the cutter, tooth 1 slipped: read the land of every tooth."]
        );
    }

    #[test]
    fn slips_that_show_alike_are_one() {
        let slip = |tooth, half_width| Seen {
            fault: Fault::Slip(tooth),
            half_width,
            apart_half_width: half_width,
            rival: None,
        };
        let (one, two, three) = (slip(1, Some(0.01)), slip(2, Some(0.02)), slip(3, None));
        let all = slips(&[&one, &two], true).unwrap();
        assert_eq!((all.name.as_str(), all.half), ("a tooth that slipped", Some(0.02)));
        assert_eq!(slips(&[&three], false).unwrap().name, "a slip of tooth 3");
        assert!(slips(&[], true).is_none());
    }
}

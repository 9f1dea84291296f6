//! What a set-up sheet adds where teeth are unalike or the cutter tapers.

use geometry::{Angle, Length};
use shop::plan::{ConeGrind, EachTooth, Peripheral, UnlikeTeeth};

use super::page::Page;
use super::show::Units;

pub(super) fn part(page: &mut Page, peripheral: &Peripheral, units: Units) {
    if let Some(unlike) = &peripheral.unlike {
        page.part("TEETH");
        each_tooth(unlike, units).iter().for_each(|line| page.text(line));
        unlike.remarks.iter().for_each(|remark| page.hanging("* ", remark));
    }
    if let Some(cone) = &peripheral.cone {
        page.part("TAPER");
        taper(cone, units).iter().for_each(|line| page.text(line));
        cone.remarks.iter().for_each(|remark| page.hanging("* ", remark));
    }
}

/// A line for each tooth; those that come out alike stand in one.
pub fn each_tooth(unlike: &UnlikeTeeth, units: Units) -> Vec<String> {
    let mut told: Vec<(String, Vec<u32>)> = Vec::new();
    for tooth in &unlike.teeth {
        let words = tooth_in_words(tooth, units);
        match told.iter_mut().find(|(other, _)| *other == words) {
            Some((_, teeth)) => teeth.push(tooth.tooth),
            None => told.push((words, vec![tooth.tooth])),
        }
    }
    let line = |(words, teeth): (String, Vec<u32>)| format!("{}: {words}.", numbered(&teeth));
    told.into_iter().map(line).chain(pairs(unlike, units)).collect()
}

fn numbered(teeth: &[u32]) -> String {
    let numbers = teeth.iter().map(u32::to_string).collect::<Vec<_>>().join(", ");
    if teeth.len() == 1 { format!("Tooth {numbers}") } else { format!("Teeth {numbers}") }
}

fn tooth_in_words(tooth: &EachTooth, units: Units) -> String {
    let mut parts = vec![format!("helix {}", tooth.helix.show())];
    if let Some((gap, _)) = tooth.least_gap {
        let clear = tooth.clear.map_or_else(String::new, |clear| {
            format!(", the wheel {} clear of it", units.length(clear))
        });
        parts.push(format!("the next edge {} on{clear}", gap.show()));
    }
    parts.push(format!("relief {} as set", tooth.relief.show()));
    if tooth.stands_out.abs() > Length::from_um(0.5) {
        let way = if tooth.stands_out > Length::ZERO { "farther out" } else { "deeper" };
        parts.push(format!("comes {} {way}", units.length(tooth.stands_out.abs())));
    }
    parts.extend(tooth.land.map(|land| format!("land {}", units.length(land))));
    parts.join(", ")
}

/// What a micrometer reads over each pair of teeth, at the tip.
fn pairs(unlike: &UnlikeTeeth, units: Units) -> Option<String> {
    let mut told: Vec<((u32, u32), Length)> = Vec::new();
    for (tooth, (other, reading)) in
        unlike.teeth.iter().filter_map(|tooth| Some((tooth.tooth, tooth.over?)))
    {
        let pair = (tooth.min(other), tooth.max(other));
        if told.iter().all(|(known, _)| *known != pair) {
            told.push((pair, reading));
        }
    }
    let words = |((one, other), reading): &((u32, u32), Length)| {
        format!("{one} and {other} {}", units.length(*reading))
    };
    let words: Vec<String> = told.iter().map(words).collect();
    (!words.is_empty())
        .then(|| format!("Micrometer at the tip, at its largest: teeth {}.", words.join(", ")))
}

/// Teeth of one helix with a set-up of their own, in a line.
pub fn group_in_words(group: &shop::plan::HelixGroup) -> String {
    format!(
        "{} of {} have a set-up of their own: relief {}.",
        numbered(&group.teeth),
        group.helix.show(),
        group.relief.show()
    )
}

/// Of a taper: swivel, stations, and what the regrind moves, a line each.
pub fn taper(cone: &ConeGrind, units: Units) -> Vec<String> {
    let exact = |angle: Angle| format!("{:.3} deg", angle.degrees());
    let mut lines = vec![format!(
        "Swivel {} makes the taper exactly (an ideal flat face: {}); at the mark of the table \
         swivel a side tapers {}. Sizes move {} up the flute: the end would lose that to have its \
         diameter back.",
        exact(cone.swivel),
        exact(cone.flat_face),
        exact(cone.made),
        units.length(cone.shift)
    )];
    for station in &cone.stations {
        let land =
            station.land.map_or_else(String::new, |land| format!(", land {}", units.length(land)));
        lines.push(format!(
            "{} up {}, relief {} ({} square to the side){land}.",
            units.rough(station.from_tip),
            units.length(station.diameter),
            station.relief.show(),
            station.normal_relief.show(),
        ));
    }
    lines
}

//! From the kiss to size, and the secondary.

use shop::plan::{
    DRAW_CLEAR, Grinding, HelixGroup, PassKind, Peripheral, READ_PRIMARY, RegrindPlan,
    SecondaryGrind, SetupLine, first_touch,
};

use super::around::group_in_words;
use super::page::Page;
use super::show::{Units, reading, source};
use super::{learned, setup};

pub(super) fn part(page: &mut Page, peripheral: &Peripheral, units: Units) {
    let grinding = &peripheral.grinding;
    page.part("GRIND");
    let kiss = first_touch(peripheral.kissing_tooth);
    let kiss = format!("Feed from one side only. Kiss {kiss}; dial to zero.");
    let most = format!(
        "No pass over {} of travel{}.",
        units.length(grinding.pass_max.value),
        source(&grinding.pass_max.source)
    );
    if by_group(peripheral).next().is_some() {
        page.text(&format!("{kiss} {most}"));
        for group in by_group(peripheral) {
            page.text(&group_primary(group, units));
            page.setup(&group.relief_line);
        }
    } else {
        page.text(&format!(
            "{kiss} Then, a round of the teeth at each: {}.",
            passes(grinding, units)
        ));
        page.text(&format!(
            "Teeth {}; last, no feed, from opposite: {}. {most}",
            numbers(&grinding.first_round),
            numbers(&grinding.second_round),
        ));
    }
    learned::feed(page, peripheral, units);
    page.text(&format!(
        "Over-fed: back the dial off to {}, past the backlash, come in again to {}, feel for the \
         kiss anew; every tooth then follows the deepest.",
        reading(&grinding.back_off_to),
        reading(&grinding.come_in_to),
    ));
}

pub(super) fn passes(grinding: &Grinding, units: Units) -> String {
    let on_diameter = grinding.passes.iter().any(|pass| pass.dial.on_diameter);
    let counts = if on_diameter { "diameter" } else { "radius" };
    let axis = grinding.passes.first().map_or("cross feed", |pass| pass.dial.axis.as_str());
    format!(
        "{axis} to {} (dial on {counts}; {} of travel)",
        marks(grinding).join(", "),
        units.length(grinding.travel)
    )
}

/// The marks of the passes; a long row of like passes by its first two and its last.
fn marks(grinding: &Grinding) -> Vec<String> {
    let stock: Vec<String> = grinding
        .passes
        .iter()
        .filter(|pass| pass.kind == PassKind::Stock)
        .map(|pass| reading(&pass.dial))
        .collect();
    let mut marks = match stock.as_slice() {
        [first, second, .., last] if stock.len() > SHOWN_MAX => {
            vec![
                first.clone(),
                second.clone(),
                format!("and so on to {last} ({} rounds)", stock.len()),
            ]
        }
        _ => stock,
    };
    for pass in &grinding.passes {
        match pass.kind {
            PassKind::Stock => {}
            PassKind::Finish => marks.push(format!("{} to finish", reading(&pass.dial))),
            PassKind::SparkOut => marks.push("then no feed to spark out".to_owned()),
        }
    }
    marks
}

/// As many stock passes are written out.
const SHOWN_MAX: usize = 5;

/// Numbers of teeth in a row.
pub(crate) fn numbers(teeth: &[u32]) -> String {
    let words: Vec<String> = teeth.iter().map(u32::to_string).collect();
    words.join(" ")
}

/// The groups of teeth that have set-ups of their own; none where one does for all.
pub(crate) fn by_group(peripheral: &Peripheral) -> impl Iterator<Item = &HelixGroup> {
    peripheral.unlike.iter().flat_map(|unlike| &unlike.groups)
}

/// The primary of a group in words.
pub(crate) fn group_primary(group: &HelixGroup, units: Units) -> String {
    format!(
        "{} Teeth {}, a round at each: {}.",
        group_in_words(group),
        numbers(&group.grinding.first_round),
        passes(&group.grinding, units)
    )
}

/// The secondary of a group in words.
pub(crate) fn group_secondary(group: &HelixGroup, units: Units) -> String {
    let teeth = numbers(&group.teeth);
    match (&group.secondary.grinding, group.secondary.land_after) {
        (Some(grinding), Some(land)) => format!(
            "Secondary of teeth {teeth}: the wheel first touches {} behind the edge; dial to zero \
             there, then {}, and stop when the land reads {}.",
            units.rough(grinding.feed.kiss_behind),
            passes(grinding, units),
            units.length(land)
        ),
        (None, Some(land)) => format!(
            "Secondary of teeth {teeth}: the old one leaves a land of {}: leave it.",
            units.length(land)
        ),
        (_, None) => format!("Secondary of teeth {teeth}: no land is left to define: leave it."),
    }
}

/// The lines of a secondary that differ from the primary's.
pub(crate) fn changed<'a>(
    secondary: &'a SecondaryGrind,
    peripheral: &'a Peripheral,
) -> impl Iterator<Item = &'a SetupLine> {
    let same = |one: &SetupLine, other: &SetupLine| {
        (one.item, one.value, &one.dial, &one.how)
            == (other.item, other.value, &other.dial, &other.how)
    };
    let is_new = move |line: &&SetupLine| !peripheral.setup.iter().any(|other| same(other, line));
    secondary.lines.iter().filter(is_new)
}

/// What is done before a setting of the secondary is touched; nothing where none is ground.
pub fn between(peripheral: &Peripheral) -> Option<String> {
    let is_ground = peripheral.secondary.grinding.is_some();
    let of_group = |group: &HelixGroup| group.secondary.grinding.is_some();
    let asks = is_ground || by_group(peripheral).any(of_group);
    asks.then(|| format!("{DRAW_CLEAR}. Then {READ_PRIMARY}."))
}

pub(super) fn secondary(
    page: &mut Page,
    plan: &RegrindPlan,
    peripheral: &Peripheral,
    units: Units,
) {
    let secondary = &peripheral.secondary;
    page.part("SECONDARY");
    between(peripheral).iter().for_each(|words| page.hanging("! ", words));
    if by_group(peripheral).next().is_some() {
        for group in by_group(peripheral) {
            let clearance = match &group.secondary.grinding {
                Some(_) => format!(" {}.", setup::clearance(plan, &group.secondary.stanced)),
                None => String::new(),
            };
            page.text(&format!("{}{clearance}", group_secondary(group, units)));
            changed(&group.secondary, peripheral).for_each(|line| page.setup(line));
        }
        return;
    }
    changed(secondary, peripheral).for_each(|line| page.setup(line));
    let before = secondary.land_before.map_or_else(String::new, |land| {
        format!("The primary is {} wide now. ", units.length(land))
    });
    secondary.remarks.iter().for_each(|remark| page.hanging("* ", remark));
    match (&secondary.grinding, secondary.land_after) {
        (Some(grinding), Some(land)) => {
            page.text(&format!(
                "{}. {before}First touch {} behind the edge; dial to zero there, then {}, and \
                 stop when the land reads {}. {}",
                setup::clearance(plan, &secondary.stanced),
                units.rough(grinding.feed.kiss_behind),
                passes(grinding, units),
                units.length(land),
                land_rule(peripheral, units),
            ));
            page.marks(grinding);
            page.result(format!("Stop at a land of {}", units.length(land)));
        }
        (None, Some(land)) => page.text(&format!(
            "{before}The old secondary already leaves a land of {}: leave it.",
            units.length(land)
        )),
        (_, None) => page.text(&format!("{before}No land is left to define: leave it.")),
    }
}

/// What a smaller feed does to the land.
pub(crate) fn land_rule(peripheral: &Peripheral, units: Units) -> String {
    let Some(per) = peripheral.secondary.land_per_feed else {
        return String::new();
    };
    let step = geometry::Length::from_thou(0.5);
    let wider = step * (per * peripheral.grinding.ratio);
    format!("{} less feed leaves it {} wider.", units.length(step), units.length(wider))
}

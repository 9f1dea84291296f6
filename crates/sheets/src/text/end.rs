//! The sheet of the end: what comes off the length, the set-ups, the readings.

use geometry::{Angle, Length};
use shop::Cited;
use shop::plan::{
    CornerGrind, CornerWanted, DRAW_CLEAR, EndPlan, PlanStep, RegrindPlan, Swung, chamfer_setup,
    end_secondary_setup, end_setup, gash_setup,
};

use super::page::Page;
use super::show::{Units, source};
use super::{grind, round, sheet, wheel};

/// The plan of the end as a page of its own.
pub fn end_sheet(plan: &RegrindPlan, end: &EndPlan, units: Units) -> String {
    written(plan, end, units).finish(units)
}

/// The same, to be set on paper.
pub(crate) fn written(plan: &RegrindPlan, end: &EndPlan, units: Units) -> Page {
    let mut page = Page::default();
    head(&mut page, plan, units);
    stock(&mut page, end, units);
    wanted(&mut page, end, units);
    gash(&mut page, end, units);
    wheel_part(&mut page, plan, end, units);
    set_up(&mut page, plan, end);
    ground(&mut page, end, units);
    secondary(&mut page, end, units);
    corner(&mut page, end, units);
    expect(&mut page, end, units);
    page.rule('=');
    page
}

/// Why the end that a verdict asks for is not planned, as a page of its own.
pub fn end_not_planned(why: &str) -> String {
    sheet::not_planned("THE END", why)
}

fn head(page: &mut Page, plan: &RegrindPlan, units: Units) {
    let cutter = &plan.request.cutter;
    page.rule('=');
    let left = format!("THE END  {}", cutter.number());
    let right = format!("{}, at {}", sheet::describe(cutter, units), plan.request.machine.name());
    page.spread(&left, &right);
    page.rule('=');
}

fn stock(page: &mut Page, end: &EndPlan, units: Units) {
    let stock = &end.stock;
    page.part("LENGTH");
    let cut = stock.cut_back;
    if cut > Length::ZERO {
        page.text(&format!("First cut {} off, and square the end.", units.length(cut)));
    }
    page.text(&format!(
        "{} comes off the end{}. Overall {} afterwards, {} of flute.",
        units.length(end.work.off),
        reason(&stock.off.source),
        units.length(end.expected.overall_length),
        units.rough(end.expected.flute_length),
    ));
    let corners: Vec<String> = stock
        .corners
        .iter()
        .filter(|corner| corner.gone > Length::ZERO)
        .map(|corner| format!("tooth {} {}", corner.tooth, units.length(corner.gone)))
        .collect();
    if !corners.is_empty() {
        page.text(&format!("Corners gone: {}.", corners.join(", ")));
    }
    stock.remarks.iter().chain(&end.remarks).for_each(|remark| page.hanging("* ", remark));
    let steps: Vec<String> =
        end.order.iter().map(|step| format!("{} ({})", step.what, step.why)).collect();
    page.part("ORDER");
    page.text(&format!("{}.", steps.join("; ")));
}

/// Why, where that is said in words; a source's id stands in brackets.
fn reason(why: &str) -> String {
    if why.contains(' ') { format!(" ({why})") } else { source(why) }
}

pub(super) fn angle(cited: &Cited<Angle>) -> String {
    format!("{}{}", cited.value.show(), reason(&cited.source))
}

fn wanted(page: &mut Page, end: &EndPlan, units: Units) {
    let wanted = &end.wanted;
    page.part("WANTED");
    page.text(&format!(
        "Dish {}, axial relief {} over a land of {}{}, secondary {}.",
        angle(&wanted.dish),
        angle(&wanted.relief),
        units.length(wanted.land.value),
        reason(&wanted.land.source),
        angle(&wanted.secondary),
    ));
    let ahead = wanted.ahead;
    if ahead != Length::ZERO {
        let way = if ahead > Length::ZERO { "ahead of" } else { "behind" };
        page.text(&format!("The edges run {} {way} the centre.", units.length(ahead.abs())));
    }
}

fn wheel_part(page: &mut Page, plan: &RegrindPlan, end: &EndPlan, units: Units) {
    let same = plan.peripheral.as_ref().is_some_and(|peripheral| {
        peripheral.wheel.wheel == end.wheel.wheel && peripheral.wheel.speed == end.wheel.speed
    });
    if same {
        page.part("WHEEL");
        let speed = &end.wheel.speed;
        page.text(&format!(
            "{} again, {} rpm ({}); dress its corner sharp: it cuts the end alone.",
            end.wheel.wheel.number(),
            speed.rpm,
            speed.belt
        ));
        return;
    }
    wheel::choice(page, &end.wheel, &end.direction, units);
    sheet::these_cautions(page, &end.cautions, &[PlanStep::Wheel]);
    wheel::truing_of(page, &end.truing, units);
    sheet::these_cautions(page, &end.cautions, &[PlanStep::True]);
}

fn set_up(page: &mut Page, plan: &RegrindPlan, end: &EndPlan) {
    let primary = &end.work.primary;
    page.part("SET UP");
    page.text(&format!(
        "As set: dish {}, axial relief {} on the real wheel; the marks cost {} of dish and {} of \
         relief.",
        primary.made.dish().show(),
        primary.made.relief().show(),
        primary.dish_cost().show(),
        primary.relief_cost().show(),
    ));
    end_setup(plan, end).iter().for_each(|line| page.setup(line));
    others(page, &primary.swung);
    sheet::these_cautions(page, &end.cautions, &[PlanStep::SetUp]);
}

fn others(page: &mut Page, swung: &Swung) {
    if swung.other_ways > 0 {
        let ways = if swung.other_ways == 1 { "way" } else { "ways" };
        page.text(&format!("{} other {ways} of setting the swivels.", swung.other_ways));
    }
}

fn ground(page: &mut Page, end: &EndPlan, units: Units) {
    let (grinding, stops) = (&end.work.grinding, &end.work.primary.stops);
    page.part("GRIND");
    let kiss = match end.stock.highest {
        Some(tooth) => format!("tooth {tooth}, which stands out farthest"),
        None => "the tooth that stands out farthest".to_owned(),
    };
    page.text(&format!(
        "Feed from one side only. Kiss {kiss}, dial to zero. From outside in to the stop, clear, \
         next tooth; a round of the teeth at each: {}.",
        grind::passes(grinding, units)
    ));
    page.marks(grinding);
    let past = stops.past_centre;
    let where_to = if past >= Length::ZERO {
        format!("{} past the centre", units.length(past))
    } else {
        format!("{} short of the centre", units.length(past.abs()))
    };
    let limit = match stops.reach.first_cut {
        Some(tooth) => {
            let farther = (stops.reach.stop - stops.long).max(Length::ZERO);
            let which = which(tooth, end);
            format!("; {} more and it cuts the {which}", units.length(farther))
        }
        None => String::new(),
    };
    let gap = stops.gap.map_or_else(String::new, |(_, gap)| {
        format!(" It clears the other edges by {}.", units.length(gap.max(Length::ZERO)))
    });
    page.text(&format!("The stroke ends {where_to}{limit}.{gap}"));
    sheet::these_cautions(page, &end.cautions, &[PlanStep::Grind]);
}

/// Another tooth, by how many pitches heelward it stands.
fn which(tooth: u32, end: &EndPlan) -> String {
    let teeth = end.work.teeth.shape().teeth;
    match tooth {
        1 => "next tooth".to_owned(),
        _ if tooth + 1 == teeth => "tooth ahead".to_owned(),
        _ if 2 * tooth == teeth => "opposite tooth".to_owned(),
        _ => format!("tooth {tooth} on"),
    }
}

fn gash(page: &mut Page, end: &EndPlan, units: Units) {
    let (plan, wanted) = (&end.gash, &end.wanted.gash);
    page.part("GASH");
    let verdict = if plan.is_needed { "Gash anew" } else { "Leave the gash" };
    page.text(&format!("{verdict}: {}.", plan.why));
    if !plan.is_needed {
        return;
    }
    page.text(&format!(
        "Root falling {} outward, face leaning back {}, root radius {}.",
        angle(&wanted.floor),
        angle(&wanted.rake),
        units.length(wanted.root.value),
    ));
    if let Some(why) = &plan.refused {
        page.hanging("* ", why);
    }
    let Some(grind) = &plan.grind else { return };
    page.text(&format!("Wheel {}, along the travel from the flute inward:", grind.wheel));
    gash_setup(grind).iter().for_each(|line| page.setup(line));
    let gap = grind.gap.filter(|(_, gap)| *gap >= Length::ZERO);
    page.text(&format!(
        "Down until the root comes out at the centre: {} below the corner at the rim{}.",
        units.rough(grind.depth_at_rim),
        gap.map_or_else(String::new, |(tooth, gap)| {
            format!("; it clears the {} by {}", which(tooth, end), units.length(gap))
        }),
    ));
    if let Some((tooth, gap)) = grind.gap.filter(|(_, gap)| *gap < Length::ZERO) {
        page.hanging(
            "! ",
            &format!(
                "TOO DEEP by {} for the {}: stop short, or take a thinner wheel.",
                units.length(gap.abs()),
                which(tooth, end)
            ),
        );
    }
    page.hanging("! ", &format!("{DRAW_CLEAR}."));
}

fn secondary(page: &mut Page, end: &EndPlan, units: Units) {
    let secondary = &end.work.secondary;
    page.part("SECONDARY");
    page.hanging("! ", &format!("{DRAW_CLEAR}."));
    end_secondary_setup(end).iter().for_each(|line| page.setup(line));
    let wider = secondary.land_per_feed.map_or_else(String::new, |per| {
        let step = Length::from_thou(0.5);
        let (step_shown, wider) = (units.length(step), units.length(step * per));
        format!(" {step_shown} less feed leaves it {wider} wider.")
    });
    page.text(&format!(
        "{} as set. The same stroke; kiss the back of the land, then feed until the land reads \
         {}.{wider}",
        secondary.grind.made.relief().show(),
        units.length(secondary.land),
    ));
    page.result(format!("Stop at a land of {}", units.length(secondary.land)));
}

fn corner(page: &mut Page, end: &EndPlan, units: Units) {
    page.part("CORNER");
    match (&end.work.corner, &end.wanted.corner) {
        (Some(CornerGrind::Chamfer(chamfer)), _) => {
            page.hanging("! ", &format!("{DRAW_CLEAR}."));
            page.text(&format!(
                "Chamfer {} wide at {}, relief {} as set. Kiss the sharp corner, dial to zero, \
                 feed {}; it then reads {} along its edge.",
                units.length(chamfer.chamfer.width),
                (-chamfer.made.dish()).show(),
                chamfer.made.relief().show(),
                units.length(chamfer.travel),
                units.length(chamfer.width),
            ));
            chamfer_setup(chamfer).iter().for_each(|line| page.setup(line));
            page.result(format!("Feed {}", units.length(chamfer.travel)));
        }
        (Some(CornerGrind::Round(round)), _) => {
            page.hanging("! ", &format!("{DRAW_CLEAR}."));
            round::primary(page, round, units);
            round::secondary(page, round, units);
            round::proof(page, round, units);
        }
        (None, CornerWanted::Sharp) => {
            page.text("Left sharp: break its burr with a stone, no more.");
        }
        (None, _) => page.text("Not planned; see above."),
    }
}

fn expect(page: &mut Page, end: &EndPlan, units: Units) {
    let expected = &end.expected;
    page.part("EXPECT");
    let feeler: Vec<String> = expected
        .dish
        .iter()
        .map(|reading| {
            let place = if reading.from_axis == Length::ZERO {
                "at the centre".to_owned()
            } else {
                format!("{} off the centre", units.rough(reading.from_axis))
            };
            format!("{} {place}", units.length(reading.gap))
        })
        .collect();
    page.text(&format!(
        "On a plate all teeth stand alike to {}{}. Dish under a straightedge over the corners: {}.",
        units.length(expected.heights_alike.value),
        source(&expected.heights_alike.source),
        feeler.join(", "),
    ));
    page.text(&format!(
        "Land {}. Overall {} ±{}. Tell the machinist: tool length {}.",
        units.length(expected.land),
        units.length(expected.overall_length),
        units.length(expected.length_band),
        units.length(expected.tool_length_change),
    ));
    page.result(format!("Land {}", units.length(expected.land)));
    page.result(format!("Overall {}", units.length(expected.overall_length)));
    let teeth = end.work.teeth.shape().teeth;
    let whole = ["heights differ by", "dish", "overall length"].map(str::to_owned);
    page.boxes(whole.into_iter().chain((1..=teeth).map(|tooth| format!("land, tooth {tooth}"))));
    sheet::these_cautions(page, &end.cautions, &[PlanStep::Check]);
}

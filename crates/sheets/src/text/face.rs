//! The sheet of a regrind on the face.

use geometry::Length;
use shop::plan::{DRAW_CLEAR, FacePass, FacePlan, PassKind, PlanStep, RegrindPlan, face_setup};

use super::grind::numbers;
use super::page::Page;
use super::show::{Units, reading, source};
use super::{sheet, wheel};

/// The plan of the face as a page of its own.
pub fn face_sheet(plan: &RegrindPlan, face: &FacePlan, units: Units) -> String {
    written(plan, face, units).finish(units)
}

/// The same, to be set on paper.
pub(crate) fn written(plan: &RegrindPlan, face: &FacePlan, units: Units) -> Page {
    let mut page = Page::default();
    let cutter = &plan.request.cutter;
    page.rule('=');
    let left = format!("THE FACE  {}", cutter.number());
    let right = format!("{}, at {}", sheet::describe(cutter, units), plan.request.machine.name());
    page.spread(&left, &right);
    page.rule('=');
    stock(&mut page, face, units);
    wheel::choice(&mut page, &face.wheel, &face.direction, units);
    sheet::these_cautions(&mut page, &face.cautions, &[PlanStep::Wheel]);
    wheel::truing_of(&mut page, &face.truing, units);
    sheet::these_cautions(&mut page, &face.cautions, &[PlanStep::True]);
    set_up(&mut page, plan, face, units);
    grind(&mut page, face, units);
    expect(&mut page, plan.request.cutter.teeth(), face, units);
    page.rule('=');
    page
}

/// Why the face that a verdict asks for is not planned, as a page of its own.
pub fn face_not_planned(why: &str) -> String {
    sheet::not_planned("THE FACE", why)
}

fn stock(page: &mut Page, face: &FacePlan, units: Units) {
    let (stock, expected) = (&face.stock, &face.expected);
    page.part("STOCK");
    let by = match stock.governing {
        Some(tooth) => format!("tooth {tooth} decides the size, by its wear"),
        None => "no wear recorded: the ordinary stock".to_owned(),
    };
    page.text(&format!(
        "{} off every face, so that the edge comes {} further back on a relief of {}{}: {by}.",
        units.length(stock.off_face),
        units.length(stock.behind),
        stock.relief.value.show(),
        source(&stock.relief.source),
    ));
    page.text(&format!(
        "Diameter {} from {}: {} less. {} of the tooth's back is left; {} more such grinds.",
        units.length(expected.diameter),
        units.length(stock.sharp_diameter),
        units.length(expected.lost),
        units.length(expected.back),
        expected.lives,
    ));
    face.remarks.iter().for_each(|remark| page.hanging("* ", remark));
}

fn set_up(page: &mut Page, plan: &RegrindPlan, face: &FacePlan, units: Units) {
    page.part("SET UP");
    page.text(&format!(
        "Rake {} as set, {} down to the root.",
        face.grind.rake.show(),
        face.grind.rake_to_root.show()
    ));
    face_setup(plan, face).iter().for_each(|line| page.setup(line));
    if let Some(clear) = face.grind.clear {
        page.text(&format!("The wheel's back clears the tooth before by {}.", units.length(clear)));
    }
    sheet::these_cautions(page, &face.cautions, &[PlanStep::SetUp]);
}

fn grind(page: &mut Page, face: &FacePlan, units: Units) {
    page.part("GRIND");
    let edge =
        |pass: &FacePass| units.length(face.expected.diameter * (0.5 * pass.turned.radians()));
    let mark = |pass: &FacePass| match &pass.dial {
        Some(dial) => format!("{} ({} at the edge)", reading(dial), edge(pass)),
        None => format!("{} at the edge ({:.3} deg)", edge(pass), pass.turned.degrees()),
    };
    let turned: Vec<String> = face
        .passes
        .iter()
        .map(|pass| match pass.kind {
            PassKind::Stock => mark(pass),
            PassKind::Finish => format!("{} to finish", mark(pass)),
            PassKind::SparkOut => "then no feed to spark out".to_owned(),
        })
        .collect();
    let steps = face.passes.iter().map(|pass| match (pass.kind, &pass.dial) {
        (PassKind::SparkOut, _) => ("no feed".to_owned(), "spark out".to_owned()),
        (_, Some(dial)) => (reading(dial), format!("{} at the edge", edge(pass))),
        (_, None) => (edge(pass), "at the edge".to_owned()),
    });
    let steps: Vec<(String, String)> = steps.collect();
    let dial = face.passes.iter().find_map(|pass| pass.dial.as_ref());
    let by = dial.map_or_else(
        || "no dial is fine enough: by an indicator at the edge, or the rest's screw".to_owned(),
        |dial| format!("by the {}", dial.axis),
    );
    page.text(&format!(
        "Turn the highest tooth in until its face just sparks, and count from there ({by}). Then, \
         a round of the teeth at each: {}.",
        turned.join(", ")
    ));
    page.steps(steps);
    page.text(&format!(
        "Teeth {}; last round with no feed: {}. No pass over {} off the face{}.",
        numbers(&face.rounds[0]),
        numbers(&face.rounds[1]),
        units.length(face.pass_max.value),
        source(&face.pass_max.source),
    ));
    sheet::these_cautions(page, &face.cautions, &[PlanStep::Grind]);
    page.hanging("! ", &format!("{}, also before anything is read.", DRAW_CLEAR));
}

fn expect(page: &mut Page, teeth: u32, face: &FacePlan, units: Units) {
    let expected = &face.expected;
    page.part("EXPECT");
    let runout = expected.runout.as_ref().map_or_else(String::new, |cited| {
        format!(", alike to {}{}", units.length(cited.value), source(&cited.source))
    });
    page.text(&format!(
        "Diameter {}{runout}. Read each tooth under an indicator; form and relief stay as they \
         were.",
        units.length(expected.diameter)
    ));
    page.result(format!("Diameter {}", units.length(expected.diameter)));
    let whole = ["diameter", "runout"].map(str::to_owned);
    page.boxes(whole.into_iter().chain((1..=teeth).map(|tooth| format!("tooth {tooth}"))));
    let next = face.grind.next_offset;
    let place = if next.abs() < Length::from_um(1.0) {
        "on centre".to_owned()
    } else if next < Length::ZERO {
        format!("{} short of centre", units.length(next.abs()))
    } else {
        format!("{} past centre", units.length(next))
    };
    page.text(&format!("Next time set the flat side {place}, so that the rake stays."));
    sheet::these_cautions(page, &face.cautions, &[PlanStep::Check, PlanStep::HandBack]);
}

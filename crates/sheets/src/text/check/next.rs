//! What to do next, in order.

use geometry::Angle;
use geometry::quantity::System;
use shop::check::{Action, Check, Correction, DialChange, Outcome, ReadingKind, Worth};
use shop::plan::{DialMark, Quantity, system_of};
use shop::record::LandStage;

use super::super::page::Page;
use super::super::show::{self, Units, source};
use super::seen::capitalise;
use super::{doubt, seen, verdict, words};

pub(super) fn part(page: &mut Page, check: &Check, units: Units) {
    page.part("DO NEXT");
    lead(page, check, units);
    let (left, made): (Vec<&Correction>, Vec<&Correction>) =
        check.corrections.iter().partition(|one| matches!(one.worth, Worth::GoodEnough(_)));
    (1..).zip(&made).for_each(|(number, one)| make(page, number, one));
    left.iter().for_each(|one| leave(page, one));
}

/// What goes before any correction.
fn lead(page: &mut Page, check: &Check, units: Units) {
    let makes = !is_left(check);
    match check.outcome {
        Outcome::Sound if check.judgements.iter().any(verdict::is_beyond) => page.text(
            "Nothing went otherwise than planned; what FOUND calls too much was planned so. Grind \
             on from a new plan, or hand it back with what it is on its tag.",
        ),
        Outcome::Sound if seen::is_blind(check) => page.text(&format!(
            "Nothing to correct as far as read; read what stands under NOT SEEN before you trust \
             the rest. {}",
            onward(check, units)
        )),
        Outcome::Sound => page.text(&format!("Nothing to correct. {}", onward(check, units))),
        Outcome::Unclear if check.contradicted => {
            page.text(
                "Correct nothing. Look at the readings again as said above, then check again.",
            );
        }
        Outcome::Unclear if doubt::is_harmless(check) => {
            let or = if check.further.is_some() {
                ", or take the reading under TELL APART and check again"
            } else {
                ""
            };
            page.text(&format!(
                "What is in doubt is within what is allowed, whichever it is: leave it{or}."
            ));
        }
        Outcome::Unclear => {
            let first = if check.further.is_some() {
                "first take the reading under TELL APART"
            } else {
                "first take the worst readings again, and those under NOT SEEN"
            };
            let which = if makes { "what is in doubt" } else { "anything" };
            page.text(&format!("Do not correct {which} on a guess: {first}, and check again."));
        }
        Outcome::Named if !makes => {
            page.text(&format!("Nothing that must be corrected. {}", onward(check, units)));
        }
        Outcome::Named if is_tagged(check) => {
            page.text(&format!("Nothing to grind again. {}", onward(check, units)));
        }
        Outcome::Named => {}
        Outcome::NotRead => page.text(
            "Read the land of every tooth near the tip and near the shank end, and a diameter.",
        ),
    }
}

/// Whether every fault may stay as it is.
fn is_left(check: &Check) -> bool {
    let stays = |one: &Correction| matches!(one.worth, Worth::GoodEnough(_));
    check.corrections.iter().all(stays)
}

/// Whether nothing is asked for but another size on the tag.
pub fn is_tagged(check: &Check) -> bool {
    let keeps = |one: &Correction| {
        one.action == Action::TagSize || matches!(one.worth, Worth::GoodEnough(_))
    };
    check.corrections.iter().all(keeps)
}

/// Where the job goes from here.
fn onward(check: &Check, units: Units) -> String {
    let is_after =
        |one: &shop::check::Observed| one.kind == ReadingKind::Land(LandStage::AfterSecondary);
    let peripheral = check.request.plan.peripheral.as_ref();
    let has_secondary = peripheral.is_some_and(|p| p.secondary.grinding.is_some());
    let finished = check.observed.iter().any(is_after) || !has_secondary;
    let tag = match super::as_found::diameter(check) {
        Some(diameter) => format!("tag it {}", units.length(diameter.length())),
        None => "measure the diameter for its tag".to_owned(),
    };
    if finished {
        format!("Cover the edges, {tag}.")
    } else {
        format!(
            "Where the secondary is not ground yet, go on to it as on the set-up sheet; then {tag}."
        )
    }
}

fn make(page: &mut Page, number: usize, one: &Correction) {
    let turned = match (&one.worth, &one.dial) {
        (Worth::TooSmall(why), change) => {
            let turn = change.as_ref().map_or_else(String::new, turn);
            format!("Too small for the dial{turn}: {}. ", why.trim_end_matches('.'))
        }
        (_, Some(change)) => dial(change) + ". ",
        (_, None) => String::new(),
    };
    let mut how = one.how.clone();
    capitalise(&mut how);
    page.hanging(
        &format!("{number}. "),
        &format!("{}: {turned}{how}", one.action.name().to_uppercase()),
    );
}

/// A correction that is not made, and why.
fn leave(page: &mut Page, one: &Correction) {
    if let Worth::GoodEnough(why) = &one.worth {
        let (fault, cited) = (words::noun(one.fault), source(&why.source));
        page.hanging("-  ", &format!("Leave the {fault}: {}{cited}.", why.value));
    }
}

/// What a dial too coarse for it would have to give.
fn turn(change: &DialChange) -> String {
    format!(" ({}; {})", exact(change), change.way)
}

/// How far to move a dial, as it is divided, and in how many marks.
pub fn moved_by(change: &DialChange) -> String {
    let (axis, positive) = (change.axis.clone(), String::new());
    let (finest, on_diameter) = (change.finest, change.on_diameter);
    let reading = without_sign(change.by);
    let mark = DialMark { axis, reading, finest, on_diameter, positive };
    show::reading(&mark) + &divisions(change)
}

/// How far to move a dial, to where, and how well that is known.
pub(in crate::text) fn dial(change: &DialChange) -> String {
    let to =
        change.to.as_ref().map_or_else(String::new, |to| format!(", to {}", show::reading(to)));
    let counts = if change.on_diameter { ", dial on diameter" } else { "" };
    format!(
        "\"{}\" by {}{to} (worked out {}{counts}), {}",
        change.axis,
        moved_by(change),
        exact(change),
        change.way
    )
}

const fn without_sign(quantity: Quantity) -> Quantity {
    match quantity {
        Quantity::Length(length) => Quantity::Length(length.abs()),
        Quantity::Angle(angle) => Quantity::Angle(angle.abs()),
    }
}

/// The change in divisions of its dial.
fn divisions(change: &DialChange) -> String {
    let count = match (change.by, change.finest) {
        (Quantity::Length(by), Quantity::Length(step)) => by / step,
        (Quantity::Angle(by), Quantity::Angle(step)) => by.radians() / step.radians(),
        _ => return String::new(),
    };
    match count.abs().round() {
        1.0 => ", 1 mark".to_owned(),
        marks => format!(", {marks:.0} marks"),
    }
}

/// The change before it was brought to a mark, with its band, in the dial's own system.
fn exact(change: &DialChange) -> String {
    match (change.exact, change.within, change.finest) {
        (Quantity::Length(exact), Quantity::Length(within), Quantity::Length(step)) => {
            match system_of(step) {
                System::Inch => {
                    format!("{:.5} ±{:.5} in", exact.inches().abs(), within.inches())
                }
                System::Millimetre => format!("{:.4} ±{:.4} mm", exact.mm().abs(), within.mm()),
            }
        }
        (Quantity::Angle(exact), Quantity::Angle(within), Quantity::Angle(step)) => {
            turned(exact.abs(), within, step)
        }
        _ => String::new(),
    }
}

/// An angle as its scale is divided: in minutes on a vernier of minutes.
fn turned(exact: Angle, within: Angle, step: Angle) -> String {
    let minute = Angle::from_minutes(1.0);
    if step.show_to(step).as_str().ends_with("min") {
        format!("{:.1} ±{:.1} min", exact / minute, within / minute)
    } else {
        format!("{:.2} ±{:.2} deg", exact.degrees(), within.degrees())
    }
}

#[cfg(test)]
mod tests {
    use geometry::Length;

    use super::*;

    fn change(by: Quantity, finest: Quantity) -> DialChange {
        DialChange {
            axis: "saddle".to_owned(),
            by,
            exact: by,
            within: finest,
            to: None,
            finest,
            on_diameter: false,
            way: "in".to_owned(),
        }
    }

    #[test]
    fn divisions_are_counted_as_a_hand_counts_them() {
        let thou = |count: f64| Quantity::Length(Length::from_thou(count));
        assert_eq!(divisions(&change(thou(1.5), thou(0.5))), ", 3 marks");
        assert_eq!(divisions(&change(thou(-0.5), thou(0.5))), ", 1 mark");
        let minutes = |count: f64| Quantity::Angle(Angle::from_minutes(count));
        let words = dial(&change(minutes(-15.0), minutes(5.0)));
        assert_eq!(words, "\"saddle\" by 15 min, 3 marks (worked out 15.0 ±5.0 min), in");
    }
}

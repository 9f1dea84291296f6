//! What is wrong, in plain words, and how sure that is.

use shop::check::{Check, Explanation, Finding, Judgement, Outcome, Standing};

use super::super::page::Page;
use super::super::show::Units;
use super::{seen, words};

pub(super) fn part(page: &mut Page, check: &Check, units: Units) {
    page.part("VERDICT");
    match check.outcome {
        Outcome::Sound => sound(page, check, units),
        Outcome::Named => check.findings.iter().for_each(|one| named(page, check, one, units)),
        Outcome::Unclear => unclear(page, check, units),
        Outcome::NotRead => page.text(
            "NOTHING WAS READ on this grind: signs of wear alone do not say how it came out.",
        ),
    }
    check.remarks.iter().for_each(|remark| page.hanging("* ", remark));
}

fn sound(page: &mut Page, check: &Check, units: Units) {
    let nothing = |one: &&Explanation| one.faults.is_empty();
    let sure = check.explanations.iter().find(nothing).map_or(1.0, |one| one.probability);
    let lands = words::lands_alike(check, units)
        .map_or_else(String::new, |within| format!(" Lands alike on every tooth, to {within}."));
    let how_far = if seen::is_blind(check) { "SOUND AS FAR AS READ" } else { "SOUND" };
    page.text(&format!(
        "{how_far}. The readings show nothing wrong ({}).{lands} What they could show at all \
         stands under SEEN FROM.",
        words::odds(sure)
    ));
    beyond(page, check);
}

/// Whether a quality is more than is allowed, or likely so.
pub(super) const fn is_beyond(one: &Judgement) -> bool {
    matches!(one.standing, Standing::Beyond | Standing::LikelyBeyond)
}

/// A grind that came out as planned may still be beyond what is allowed.
fn beyond(page: &mut Page, check: &Check) {
    let beyond = check.judgements.iter().filter(|one| is_beyond(one));
    let names: Vec<&str> = beyond.map(|one| one.quality.name()).collect();
    if !names.is_empty() {
        let names = names.join(" and ");
        page.text(&format!(
            "BUT it is as planned, and the {names} planned is not what is allowed."
        ));
    }
}

fn named(page: &mut Page, check: &Check, finding: &Finding, units: Units) {
    let pattern =
        words::pattern(check, finding).map_or_else(String::new, |words| format!(" {words}"));
    let both = if finding.is_shared { " The secondary shares it." } else { "" };
    page.text(&format!(
        "{}: {} ({}).{pattern}{both}",
        words::headline(finding.fault),
        words::size(finding, units),
        words::odds(finding.probability)
    ));
}

/// Where the explanations shown leave more than this open, that is said.
const TOLD_MOST: f64 = 0.95;

fn unclear(page: &mut Page, check: &Check, units: Units) {
    if !check.findings.is_empty() {
        page.text("Sure so far:");
        check.findings.iter().for_each(|one| named(page, check, one, units));
    }
    if check.contradicted {
        page.text("CANNOT TELL: the readings contradict each other. What comes nearest:");
        explanations(page, check, units);
        return;
    }
    let beside = if check.findings.is_empty() { "" } else { ", beside that" };
    page.text(&format!("CANNOT TELL{beside}: either"));
    explanations(page, check, units);
    let known: f64 = check.explanations.iter().map(|one| one.probability).sum();
    if known < TOLD_MOST {
        page.text(&format!("or something else ({}).", words::odds(1.0 - known)));
    }
}

fn explanations(page: &mut Page, check: &Check, units: Units) {
    let last = check.explanations.len();
    for (number, one) in (1..).zip(&check.explanations) {
        let end = if number < last { "; or" } else { "." };
        let what = explained(check, one, units);
        let odds = words::odds(one.probability);
        page.hanging(&format!("{number}. "), &format!("{what} ({odds}){end}"));
    }
}

/// The faults of an explanation beside those that are sure anyway.
fn explained(check: &Check, one: &Explanation, units: Units) -> String {
    let is_sure = |fault| check.findings.iter().any(|finding| finding.fault == fault);
    let open = one.faults.iter().filter(|finding| !is_sure(finding.fault));
    let words: Vec<String> = open
        .map(|one| format!("{}: {}", words::headline(one.fault), words::size(one, units)))
        .collect();
    match (words.is_empty(), check.findings.is_empty()) {
        (true, true) => "nothing wrong at all".to_owned(),
        (true, false) => "nothing more".to_owned(),
        _ => words.join(", and "),
    }
}

//! What would tell the explanations apart.

use geometry::Length;
use shop::check::{Check, Further};

use super::super::page::Page;
use super::super::show::Units;
use super::words;

pub(super) fn part(page: &mut Page, check: &Check, units: Units) {
    page.part("TELL APART");
    if let Some(further) = &check.further {
        reading(page, further, units);
    }
    if let Some(trial) = &check.trial {
        let lead = if check.further.is_some() { "Or try: " } else { "Try: " };
        page.text(&format!("{lead}{}.", trial.words()));
    }
}

fn reading(page: &mut Page, further: &Further, units: Units) {
    let what = words::reading(further.kind, further.tooth, further.from_end, units);
    let groups = foretold(&further.foretold, units);
    if let [(_, figure)] = &groups[..] {
        page.text(&format!(
            "Read the {what}: {figure} goes with all of these; a figure well off it speaks for \
             what is hardly known."
        ));
        return;
    }
    page.text(&format!("Read the {what}:"));
    let parts: Vec<String> =
        groups.iter().map(|(numbers, figure)| format!("if {numbers}, {figure}")).collect();
    page.hanging("   ", &format!("{}.", parts.join("; ")));
}

/// What is foretold, those explanations together that foretell the same.
fn foretold(lengths: &[Length], units: Units) -> Vec<(String, String)> {
    let mut groups: Vec<(String, String)> = Vec::new();
    for (number, length) in (1..).zip(lengths) {
        let figure = units.length(*length);
        match groups.iter_mut().find(|(_, other)| *other == figure) {
            Some((numbers, _)) => *numbers = format!("{numbers} or {number}"),
            None => groups.push((number.to_string(), figure)),
        }
    }
    groups
}

#[cfg(test)]
mod tests {
    use geometry::quantity::System;

    use super::*;

    #[test]
    fn explanations_that_foretell_the_same_stand_together() {
        let lengths = [0.5, 0.6, 0.5].map(Length::from_mm);
        let units = Units { system: System::Millimetre, both: false };
        let shown = |numbers: &str, figure: &str| (numbers.to_owned(), figure.to_owned());
        let expected = [shown("1 or 3", "0.500 mm"), shown("2", "0.600 mm")];
        assert_eq!(foretold(&lengths, units), expected);
    }
}

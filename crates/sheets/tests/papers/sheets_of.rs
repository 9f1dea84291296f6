//! What each kind of sheet must say, read back from its PDF.

use geometry::System;
use sheets::paper::Paper;
use sheets::text::{Units, reading};
use shop::plan::SetupItem;
use shop::record::Named;

use crate::given::{LONG, all_plans, all_sheets};
use crate::poppler::Opened;

/// The text with single blanks, as a search sees it.
fn searched(opened: &Opened) -> String {
    opened.text().split_whitespace().collect::<Vec<_>>().join(" ")
}

#[test]
fn every_page_carries_date_record_revision_units_and_number() {
    for (name, imprint, pages) in all_sheets() {
        let opened = Opened::of(name, &pages.to_pdf().unwrap());
        let text = opened.text();
        let read: Vec<&str> = text.split('\u{c}').filter(|page| !page.trim().is_empty()).collect();
        assert_eq!(read.len(), pages.scenes().len(), "{name}");
        for (at, page) in read.iter().enumerate() {
            let number = format!("page {} of {}", at + 1, read.len());
            let units = match imprint.system {
                System::Inch => "lengths in inches",
                System::Millimetre => "lengths in millimetres",
            };
            for fact in ["2031-03-05", "entry 14", LONG, units, &number] {
                assert!(page.contains(fact), "{name}: {fact} is not on {page}");
            }
        }
    }
}

/// The plan's own figures, found in the text of the paper.
#[test]
fn a_set_up_sheet_has_every_mark_and_caution_of_its_plan() {
    for (name, plan) in all_plans() {
        for system in [System::Inch, System::Millimetre] {
            let key = format!("set-up of {name} {} {}", Paper::A4.name(), system.unit());
            let (_, _, pages) = all_sheets().iter().find(|(name, ..)| *name == key).unwrap();
            let text = searched(&Opened::of(&key, &pages.to_pdf().unwrap()));
            let Some(work) = &plan.peripheral else { continue };
            for caution in plan.cautions.iter().filter_map(|caution| caution.short.as_deref()) {
                let first: Vec<&str> = caution.split_whitespace().take(3).collect();
                assert!(text.contains(&first.join(" ")), "{key}: {caution}");
            }
            // What the rest stands on is no setting, and stands on the longer sheet alone.
            let set = work.setup.iter().filter(|line| line.item != SetupItem::RestStand);
            for line in set {
                assert!(text.contains(line.item.name()), "{key}: {:?}", line.item);
                let mark = line.dial.as_ref().map(reading).unwrap_or_default();
                assert!(text.contains(&mark), "{key}: {mark}");
            }
            let units = Units { system, both: false };
            assert!(text.contains(&units.length(work.expected.diameter)), "{key}");
            assert!(text.contains("scale ") && text.contains(":1"), "{key}");
        }
    }
}

#[test]
fn long_lists_repeat_their_headings_and_lose_no_row() {
    for (name, _, pages) in all_sheets().iter().filter(|(name, ..)| name.starts_with("long")) {
        let text = Opened::of(name, &pages.to_pdf().unwrap()).text();
        let read: Vec<&str> = text.split('\u{c}').filter(|page| !page.trim().is_empty()).collect();
        assert!(read.len() > 1, "{name}");
        let headings = if name.contains("card") { ["entry", "regrind"] } else { ["cutter", "why"] };
        for page in &read[..read.len() - 1] {
            let body = page.lines().skip(3).collect::<Vec<_>>().join("\n");
            let has = headings.iter().any(|heading| body.contains(heading));
            assert!(has, "{name}: no {headings:?} on {page}");
        }
        if name.contains("card") {
            let rows = text.matches("saddle").count();
            assert_eq!(rows, 120, "{name}");
        } else {
            let last = if name.contains("quote") { "K-119" } else { "K-089" };
            assert!(text.contains(last), "{name}");
        }
    }
}

//! A wheel as a file.

use geometry::Length;
use geometry::quantity::System;
use shop::record::{Wheel, WheelDraft};

use super::page::Page;
use super::quantity::made_in;
use crate::files::speed::{SurfaceSpeed, speed};

/// A wheel as a file that [`read_wheels`](crate::files::read_wheels) reads back as an equal wheel.
pub fn wheel_text(wheel: &Wheel) -> String {
    let draft = wheel.draft();
    let system = made_in(draft.diameter);
    let mut page = Page::new(system);
    page.section("[wheel]");
    marking(&mut page, &draft);
    body(&mut page, &draft);
    page.bare("marked_rpm", draft.marked_rpm);
    let speed = draft.marked_speed_m_per_s.map(|m_per_s| speed_words(m_per_s, system));
    page.maybe_words("marked_speed", speed.as_deref());
    page.maybe_words("coolant", draft.coolant.map(|coolant| coolant.name()));
    page.finish()
}

fn marking(page: &mut Page, draft: &WheelDraft) {
    page.words("number", &draft.number);
    page.words("shape", draft.shape.name());
    page.words("abrasive", draft.abrasive.name());
    page.words("grit", &draft.grit);
    if let Some(concentration) = draft.concentration {
        page.bare("concentration", concentration);
    }
    if let Some(grade) = draft.grade {
        page.words("grade", &grade.to_string());
    }
    page.words("bond", draft.bond.name());
}

fn body(page: &mut Page, draft: &WheelDraft) {
    page.length("diameter", draft.diameter);
    page.length("face_width", draft.face_width);
    page.maybe_length("rim_width", draft.rim_width);
    page.length_if_any("corner_radius", draft.corner_radius);
    page.length("bore", draft.bore);
    page.length("depth", draft.depth);
    page.maybe_angle("wall_angle", draft.wall_angle);
}

/// A speed as it was likely marked: in whole feet to the minute on a wheel of the inch system.
fn speed_words(m_per_s: f64, system: System) -> String {
    let feet = Length::from_mm(m_per_s * 60_000.0).inches() / 12.0;
    let marked = format!("{feet:.0} ft/min");
    let reads_back = speed(&marked) == Some(SurfaceSpeed { m_per_s });
    if system == System::Inch && reads_back { marked } else { format!("{m_per_s} m/s") }
}

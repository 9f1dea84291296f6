//! A cutter's grinds, out of its own history.

use geometry::{Angle, Length};

use super::OfBook;
use crate::book::event::{Event, Ground, WearSeen};
use crate::book::{Entry, counting};
use crate::learn::grinds::{CutterGrind, CutterHistory};
use crate::plan::Route;
use crate::record::AsGround;

/// A diameter that shrank by less than this was not ground, where no plan says what was done (own
/// choice, no source).
const SHRUNK_MM_MIN: f64 = 0.005;

/// A cutter's regrinds on the diameter, one for each time it was handed back ground, from its
/// entries in the order of their numbers.
///
/// The size before is the last sharp size that the book knows; the dull size and the wear land are
/// what was seen since the cutter came in, the widest land of its teeth; the relief on which it
/// wore is that of its last sharp state. A regrind by another route is left out, and so is one that
/// contradicts itself.
pub fn cutter_history(entries: &[Entry]) -> OfBook<CutterHistory> {
    let mut told = Told::default();
    for (entry, event) in counting(entries) {
        told.step(entry.number, event);
    }
    told.found
}

/// What was seen since the cutter came in.
#[derive(Default)]
struct Visit {
    dull: Option<Length>,
    wear_land: Option<Length>,
    route: Option<String>,
}

#[derive(Default)]
struct Told {
    found: OfBook<CutterHistory>,
    sharp: Option<(Length, Angle)>,
    visit: Visit,
}

impl Told {
    fn step(&mut self, number: u64, event: &Event) {
        match event {
            Event::CutterEntered(entered) => {
                self.sharp = entered.cutter.as_ground().map(sharp_state);
            }
            Event::Received(_) => self.visit = Visit::default(),
            Event::WearSeen(seen) => self.visit.see(seen),
            // A corrective grind belongs to the regrind that it corrects.
            Event::Planned(planned) if planned.follows.is_some() => {}
            Event::Planned(planned) => self.visit.route = Some(planned.route.clone()),
            Event::Ground(ground) => self.visit.begin(ground),
            Event::HandedBack(back) => {
                if let Some(ground) = back.as_ground {
                    self.hand_back(&format!("entry {number}"), &ground);
                }
                self.visit = Visit::default();
            }
            _ => {}
        }
    }

    fn hand_back(&mut self, entry: &str, ground: &AsGround) {
        let visit = std::mem::take(&mut self.visit);
        let before = self.sharp.replace(sharp_state(ground));
        let grind = CutterGrind {
            entry: entry.to_owned(),
            sharp_before: before.map(|(diameter, _)| diameter),
            dull: visit.dull,
            after: ground.diameter,
            wear_land: visit.wear_land,
            worn_on: before.map(|(_, primary)| primary),
        };
        match visit.other_way(&grind) {
            Some(why) => self.found.leave_out(entry, why),
            None => {
                let taken = self.found.history.push(grind);
                self.found.note(entry, taken);
            }
        }
    }
}

impl Visit {
    fn see(&mut self, seen: &WearSeen) {
        self.dull = seen.wear.measured_diameter().or(self.dull);
        let lands = seen.wear.teeth().iter().map(|tooth| tooth.wear_land);
        self.wear_land = lands.reduce(Length::max).or(self.wear_land);
    }

    /// Only before the first grind is what was measured the dull size.
    fn begin(&mut self, ground: &Ground) {
        self.dull = self.dull.or(ground.diameter_before);
    }

    /// Why this was no regrind on the diameter, if it was none.
    fn other_way(&self, grind: &CutterGrind) -> Option<String> {
        let on_diameter = [Route::Diameter, Route::CutBack].map(Route::name);
        if let Some(route) = &self.route {
            let other = !on_diameter.contains(&route.as_str());
            return other.then(|| format!("it was planned to {route}"));
        }
        let before = grind.sharp_before.or(grind.dull)?;
        let kept = (before - grind.after).mm() < SHRUNK_MM_MIN;
        kept.then(|| "its diameter did not shrink, and no plan says what was done".to_owned())
    }
}

fn sharp_state(ground: &AsGround) -> (Length, Angle) {
    (ground.diameter, ground.primary)
}

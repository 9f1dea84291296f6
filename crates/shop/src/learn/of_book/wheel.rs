//! A wheel's grinds, out of its own history and those of the cutters it ground.

use geometry::Length;

use super::OfBook;
use crate::book::event::{Dressed, Event, Ground, Planned, WheelSize};
use crate::book::{Entry, Id, Moment, counting};
use crate::learn::wheel_grinds::{WheelGrind, WheelHistory};
use crate::plan::SizesLeft;
use crate::record::{Wheel, WheelForm};

/// A wheel's own grinds, from its entries and those of the cutters that it ground, each history in
/// the order of its numbers.
///
/// What came off for what was fed is taken from each cutter's first grind on a plan of which the
/// book keeps the figures. What the face lost is taken between two measured heights or diameters of
/// the wheel, over the cutters ground between them, dressing left out. A grind or a span that says
/// nothing is left out and told.
pub fn wheel_history(wheel: &[Entry], cutters: &[Vec<Entry>]) -> OfBook<WheelHistory> {
    let mut found = OfBook::default();
    let Some(id) = wheel.first().map(|entry| &entry.subject.id) else { return found };
    let mut ground_at = Vec::new();
    for cutter in cutters {
        ground_at.extend(fed_by(cutter, id, &mut found));
    }
    lost_by(wheel, &ground_at, &mut found);
    found
}

fn put(found: &mut OfBook<WheelHistory>, grind: WheelGrind) {
    let entry = grind.entry.clone();
    let taken = found.history.push(grind);
    found.note(&entry, taken);
}

/// Puts what one cutter says of the feed, and returns when this wheel ground it for each plan.
fn fed_by(cutter: &[Entry], wheel: &Id, found: &mut OfBook<WheelHistory>) -> Vec<Moment> {
    let counting = counting(cutter);
    let name = counting.iter().find_map(|(_, event)| match event {
        Event::CutterEntered(entered) => Some(entered.cutter.number()),
        _ => None,
    });
    let (mut moments, mut begun) = (Vec::new(), Vec::new());
    for (entry, event) in &counting {
        let Event::Ground(ground) = event else { continue };
        let is_first = ground.plan.is_none_or(|plan| !begun.contains(&plan));
        begun.extend(ground.plan);
        let planned = counting.iter().find_map(|(earlier, event)| match event {
            Event::Planned(planned) if Some(earlier.number) == ground.plan => Some(planned),
            _ => None,
        });
        // A corrective grind is no cutter more, and its feed takes off what the check found.
        let is_corrective = planned.is_some_and(|planned| planned.follows.is_some());
        if ground.wheel.as_ref() != Some(wheel) || !is_first || is_corrective {
            continue;
        }
        moments.push(entry.stamp.at);
        let entry = format!("{}, entry {}", name.unwrap_or("a cutter"), entry.number);
        match came_off(ground, planned) {
            Ok((fed, came_off)) => put(
                found,
                WheelGrind {
                    entry,
                    fed: Some(fed),
                    came_off: Some(came_off),
                    face_lost: None,
                    cutters: 1,
                },
            ),
            Err(why) => found.leave_out(&entry, why),
        }
    }
    moments
}

/// What should have come off the radius by the dial, and what did.
///
/// **Source** \[own-derivation\] the plan foretells the stock from the first touch and the size
/// that is then left; what came off is that stock and half of what the cutter came out smaller.
/// **Departs** nowhere. **Error** that of the two sizes, and of the feel for the first touch.
/// **Domain** the first grind on a plan, its travel counted from the first touch.
fn came_off(ground: &Ground, planned: Option<&Planned>) -> Result<(Length, Length), &'static str> {
    let planned = planned.ok_or("no plan stands before it")?;
    if planned.wheel != ground.wheel {
        return Err("it was planned with another wheel");
    }
    let rate =
        planned.radius_per_travel.ok_or("its plan says not what the dial should take off")?;
    let (stock, size) = planned.stock.zip(planned.diameter_after).ok_or("its plan has no size")?;
    let travel = ground.travel.ok_or("its travel was not written down")?;
    let after = ground.diameter_after.ok_or("the size after it was not written down")?;
    if !SizesLeft::of(size, stock).has(after) {
        return Err(
            "the size after it is none that its plan could leave: amend it if it is a slip",
        );
    }
    Ok((travel * rate, stock + (size - after) / 2.0))
}

/// A span between two measured sizes of a wheel.
struct Span {
    from: Moment,
    size: Length,
    /// What dressing took off since; none where that was not written down.
    dressed: Option<Length>,
}

impl Span {
    fn begun(from: Moment, size: Length) -> Self {
        Self { from, size, dressed: Some(Length::ZERO) }
    }

    fn dress(&mut self, dressed: &Dressed) {
        self.dressed = self.dressed.zip(dressed.taken).map(|(before, taken)| before + taken);
    }
}

/// What tells of a wheel's wear, and since when.
#[derive(Default)]
struct Watched {
    /// How much of the face is lost for each length that the radius shrinks; none where the
    /// diameter does not tell.
    per_radius: Option<f64>,
    /// Whether the face lies at the end of the height, as that of a cup or dish does.
    has_height: bool,
    by_diameter: Option<Span>,
    by_height: Option<Span>,
}

/// What the face has lost since the last measurement that tells, and since when.
type Loss = (Moment, Result<Length, &'static str>);

impl Watched {
    fn of(wheel: &Wheel, at: Moment) -> Self {
        Self {
            per_radius: face_per_radius(wheel),
            has_height: wheel.shape().form() != WheelForm::Straight,
            by_diameter: Some(Span::begun(at, wheel.diameter())),
            by_height: Some(Span::begun(at, wheel.depth())),
        }
    }

    /// Takes a measurement; the height tells before the diameter. What one of them has told is not
    /// told again by the other.
    fn measured(&mut self, at: Moment, size: &WheelSize) -> Option<Loss> {
        let height = size.depth.filter(|_| self.has_height);
        if height.is_none() && size.diameter.is_none() {
            return None;
        }
        let begun = |size: Option<Length>| size.map(|size| Span::begun(at, size));
        let by_height = height.and_then(|now| Some((self.by_height.take()?, now)));
        let by_diameter = size.diameter.and_then(|now| Some((self.by_diameter.take()?, now)));
        let told = match (by_height, by_diameter) {
            (Some((span, now)), _) => (span.from, lost(&span, span.size - now)),
            (None, Some((span, now))) => (span.from, self.lost_by_diameter(&span, now)),
            (None, None) => {
                // It begins to be watched by what was measured now.
                self.by_height = begun(height).or(self.by_height.take());
                self.by_diameter = begun(size.diameter).or(self.by_diameter.take());
                return None;
            }
        };
        // A straight cup's diameter alone tells nothing, so that its height is still watched.
        let keeps_height = height.is_none() && self.per_radius.is_none();
        self.by_height = begun(height).or(self.by_height.take().filter(|_| keeps_height));
        self.by_diameter = begun(size.diameter);
        Some(told)
    }

    fn lost_by_diameter(&self, span: &Span, now: Length) -> Result<Length, &'static str> {
        let unsaid = "the diameter of such a wheel does not tell its wear; measure its height";
        let per_radius = self.per_radius.ok_or(unsaid)?;
        lost(span, (span.size - now) / 2.0 * per_radius)
    }
}

/// Puts what the face lost between measurements.
fn lost_by(wheel: &[Entry], ground_at: &[Moment], found: &mut OfBook<WheelHistory>) {
    let mut watched = Watched::default();
    for (entry, event) in counting(wheel) {
        let at = entry.stamp.at;
        let size = match event {
            Event::WheelEntered(entered) => {
                watched = Watched::of(&entered.wheel, at);
                continue;
            }
            Event::Dressed(dressed) => {
                let spans = [&mut watched.by_diameter, &mut watched.by_height];
                spans.into_iter().flatten().for_each(|span| span.dress(dressed));
                dressed.size
            }
            Event::Measured(measured) => measured.size,
            _ => continue,
        };
        let Some((from, lost)) = watched.measured(at, &size) else { continue };
        let within = |moment: &&Moment| from < **moment && **moment <= at;
        let cutters = ground_at.iter().filter(within).count() as u32;
        if cutters == 0 {
            continue;
        }
        let name = format!("the wheel's entry {}", entry.number);
        match lost {
            Ok(face_lost) => put(
                found,
                WheelGrind {
                    entry: name,
                    fed: None,
                    came_off: None,
                    face_lost: Some(face_lost),
                    cutters,
                },
            ),
            Err(why) => found.leave_out(&name, why),
        }
    }
}

/// What was lost of the face in a span, dressing left out.
fn lost(span: &Span, gone: Length) -> Result<Length, &'static str> {
    let dressed = span.dressed.ok_or("what dressing took off was not written down")?;
    Ok(gone - dressed)
}

/// How much of its face a wheel has lost for each length that its radius has shrunk.
///
/// **Source** \[own-derivation\] a straight wheel's face is its periphery; a leaning wall loses
/// height by the shrinking of its rim over the tangent of its angle from the axis. **Departs** in
/// taking the wall as a cone. **Error** that of the wall's angle. **Domain** wheels whose diameter
/// shrinks as they wear, which a straight cup's does not.
fn face_per_radius(wheel: &Wheel) -> Option<f64> {
    match wheel.shape().form() {
        WheelForm::Straight => Some(1.0),
        WheelForm::StraightCup => None,
        WheelForm::FlaringCup | WheelForm::Dish => {
            let tangent = wheel.wall_angle()?.tan();
            (tangent > 0.0).then(|| tangent.recip())
        }
    }
}

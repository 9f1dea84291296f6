//! Words with a leader, set where nothing else stands.
//!
//! Every cutter makes another picture, so nobody can say beforehand where its figures find room.
//! A callout is given the areas in which it may stand; it looks at what has been drawn and takes
//! the place that covers least and whose leader is short and crosses least. What must not be
//! covered is therefore drawn first.

use kurbo::{Line, Point, Rect, Vec2};

use super::drawn::Drawn;
use super::room::{CELL_MM, Room, Sieve};
use super::strokes::{COVERS_LEAST, COVERS_WORDS, Strokes};
use super::{Anchor, Paint, Scene, Weight, Words, width_mm};

/// Words that point at something.
#[derive(Clone, Debug, PartialEq)]
pub struct Callout<'a> {
    /// Its lines with their sizes, in millimetres.
    pub lines: &'a [(String, f64)],
    /// What it may point at; it takes the one that suits its place best. Without any no leader is
    /// drawn and any place will do.
    pub targets: &'a [Point],
    /// Whether its leader ends in an arrowhead.
    pub arrow: bool,
    /// Where it may stand.
    pub zones: &'a [Rect],
}

/// Distance between the places that are tried: a cell, so that those of a zone are told together.
const STEP_MM: f64 = CELL_MM;

/// Gap between words and their leader.
const GAP_MM: f64 = 0.9;

/// A leader shorter than this would not be seen as one, and costs so much more for each length
/// that it lacks.
const LEADER_MM_MIN: f64 = 4.0;
const TOO_SHORT: f64 = 6.0;

/// Within these distances of what is pointed at places are looked at first.
const WITHIN_MM: [f64; 3] = [6.0, 14.0, 40.0];

/// Costs that differ by less are the same but for rounding.
const SAME: f64 = 1e-9;

impl Callout<'_> {
    fn size(&self) -> (f64, f64) {
        let width = self.lines.iter().map(|(text, size)| width_mm(text, *size));
        let height = self.lines.iter().map(|(_, size)| size * LEADING).sum::<f64>();
        (width.fold(0.0, f64::max), height)
    }

    /// The best leader to a box of words, with what it costs: the first of those that cost the
    /// same. None where all are longer than a limit; without end where all cost more.
    fn leader(&self, strokes: &Strokes, area: &Rect, limit: f64) -> Option<(f64, Line)> {
        let mut best: Option<(f64, Line)> = None;
        for leader in self.targets.iter().flat_map(|target| leaders(area, *target)) {
            let alone = leader_cost(leader.length());
            let least = best.map_or(f64::INFINITY, |(least, _)| least);
            if alone > limit || (best.is_some() && alone >= least) {
                continue;
            }
            let left = limit.min(least) - alone;
            let cost = alone + strokes.crossing_below(leader, left).unwrap_or(f64::INFINITY);
            if best.is_none_or(|(least, _)| cost < least) {
                best = Some((cost, leader));
            }
        }
        best
    }

    /// What a place costs, or at least a limit where that is no less.
    fn cost(&self, strokes: &Strokes, place: &Place, limit: f64) -> f64 {
        let pointing = match self.leader(strokes, &place.area, limit - place.covers) {
            Some((cost, _)) => cost,
            // It would have to point at what it covers, or from too far off.
            None if !self.targets.is_empty() => COVERS_WORDS,
            None => 0.0,
        };
        place.covers + pointing
    }

    /// No leader to a place is shorter than this.
    fn nearness(&self, area: &Rect) -> f64 {
        let away = |target: &Point| {
            let aside = (area.x0 - target.x).max(target.x - area.x1).max(0.0);
            let above = (area.y0 - target.y).max(target.y - area.y1).max(0.0);
            aside.hypot(above) - GAP_MM
        };
        let nearest = self.targets.iter().map(away).fold(f64::INFINITY, f64::min);
        if self.targets.is_empty() { 0.0 } else { nearest.max(0.0) }
    }

    /// The best place. Those within some distance of what is pointed at are looked at first, and
    /// others only where they could be better. Where nothing can be had for less, places are
    /// looked at too that surely cover something.
    fn best(&self, drawn: &Drawn) -> Option<Rect> {
        let (width, height) = self.size();
        let sieve = |zone: &Rect| {
            let first = Rect::from_origin_size(zone.origin(), (width, height));
            drawn.sieve(first, steps_within(zone.height() - height))
        };
        let sheet = Sheet { sieves: self.zones.iter().map(sieve).collect(), all: drawn.strokes() };
        let within = WITHIN_MM.into_iter().filter(|_| !self.targets.is_empty());
        // Farther off all places are looked at again, so that the best cannot cost more.
        let mut limit = f64::INFINITY;
        for within_mm in within.chain([f64::INFINITY]) {
            let found = self.cheapest(&sheet, (within_mm, limit), false);
            let enough = (within_mm - GAP_MM).min(COVERS_LEAST) - SAME;
            if let Some((area, cost)) = found {
                if cost <= enough {
                    return Some(area);
                }
                limit = limit.min(cost);
            }
        }
        self.cheapest(&sheet, (f64::INFINITY, limit), true).map(|best| best.0)
    }

    /// The places within a distance of what is pointed at that could cost no more than a limit;
    /// among them those that surely cover something where that is said.
    fn likely(&self, sheet: &Sheet<'_>, (within_mm, limit): (f64, f64), all: bool) -> Vec<Place> {
        let mut places: Vec<Place> = Vec::new();
        let is_near = |least: f64| self.targets.is_empty() || least <= limit + SAME;
        for (index, spot) in self.places(within_mm).enumerate() {
            let Spot { zone, moved, area } = spot;
            let room = sheet.sieves[zone].about(moved);
            let at_least = if room == Room::Taken { COVERS_LEAST } else { 0.0 };
            if (room == Room::Taken && !all) || !is_near(at_least + LEADER_MM_MIN) {
                continue;
            }
            let nearness = self.nearness(&area);
            // No leader costs less than one of that length, nor than the shortest that is seen.
            let leader = nearness.max(LEADER_MM_MIN);
            if !is_near(at_least + leader) {
                continue;
            }
            let covers = if room == Room::Free { 0.0 } else { sheet.all.covering(area) };
            if !is_near(covers + leader) {
                continue;
            }
            places.push(Place { covers, nearness, index, area });
            if covers == 0.0 && self.targets.is_empty() {
                break;
            }
        }
        places
    }

    /// The cheapest of the places within a distance of what is pointed at, with what it costs,
    /// where that is no more than a limit; of all places where that is said, else of those that may
    /// cover nothing.
    fn cheapest(
        &self,
        sheet: &Sheet<'_>,
        (within_mm, mut limit): (f64, f64),
        all: bool,
    ) -> Option<(Rect, f64)> {
        let places = self.likely(sheet, (within_mm, limit), all);
        let pointed_at = self.targets.iter().map(|at| Rect::from_points(*at, *at));
        let about = places.iter().map(|place| place.area).chain(pointed_at);
        let near = sheet.all.about(about.reduce(|one, other| one.union(other))?);
        let mut places: Vec<((f64, f64), Place)> =
            places.into_iter().map(|place| (self.at_least(&place), place)).collect();
        places.sort_unstable_by(|(a, _), (b, _)| a.0.total_cmp(&b.0).then(a.1.total_cmp(&b.1)));
        let mut best = Vec::new();
        for ((at_least, _), place) in places {
            if at_least > limit + SAME {
                break;
            }
            let cost = self.cost(&near, &place, limit + SAME);
            if cost <= limit + SAME {
                limit = limit.min(cost);
                best.push((place, cost));
            }
        }
        first_of(best, limit)
    }

    /// What a place costs at least; and about, where its leader is as short as it can be.
    fn at_least(&self, place: &Place) -> (f64, f64) {
        if self.targets.is_empty() {
            return (place.covers, place.covers);
        }
        let Place { covers, nearness, .. } = *place;
        (covers + nearness.max(LEADER_MM_MIN), covers + leader_cost(nearness))
    }

    /// The places that are tried, row by row: those within a distance of the box that holds all
    /// that can be pointed at.
    fn places(&self, within_mm: f64) -> impl Iterator<Item = Spot> + '_ {
        let (width, height) = self.size();
        let about = self.targets.iter().map(|at| Rect::from_points(*at, *at));
        let about = about.reduce(|one, other| one.union(other)).unwrap_or(Rect::ZERO);
        self.zones.iter().enumerate().flat_map(move |(number, zone)| {
            let (right, down) = (zone.width() - width, zone.height() - height);
            let corner = zone.origin();
            let rows = steps(down, about.y0 - corner.y - height, about.y1 - corner.y, within_mm);
            rows.flat_map(move |row| {
                let from = about.x0 - corner.x - width;
                steps(right, from, about.x1 - corner.x, within_mm).map(move |column| {
                    let x = corner.x + f64::from(column) * STEP_MM;
                    let y = corner.y + f64::from(row) * STEP_MM;
                    let area = Rect::new(x, y, x + width, y + height);
                    Spot { zone: number, moved: (column, row), area }
                })
            })
        })
    }
}

/// What a leader of some length costs that crosses nothing; the least is that of the shortest that
/// is seen.
fn leader_cost(length_mm: f64) -> f64 {
    length_mm + TOO_SHORT * (LEADER_MM_MIN - length_mm).max(0.0)
}

/// What has been drawn, and what its cells tell of the places in each zone.
struct Sheet<'a> {
    sieves: Vec<Sieve>,
    all: &'a Strokes,
}

/// A place in a zone.
struct Spot {
    /// Which of the zones.
    zone: usize,
    /// How many steps right of the zone's first place it stands, and below.
    moved: (u32, u32),
    area: Rect,
}

/// A place that is tried.
struct Place {
    covers: f64,
    nearness: f64,
    /// How many places stand before it.
    index: usize,
    area: Rect,
}

/// Of places that cost the same but for rounding, the one that is met first where the nearest are
/// tried first, until no other can be better.
fn first_of(mut best: Vec<(Place, f64)>, least: f64) -> Option<(Rect, f64)> {
    best.retain(|(_, cost)| *cost <= least + SAME);
    best.sort_by(|(a, _), (b, _)| a.nearness.total_cmp(&b.nearness).then(a.index.cmp(&b.index)));
    let mut first: Option<(Rect, f64)> = None;
    for (place, cost) in best {
        let limit = first.map_or(f64::INFINITY, |(_, cost)| cost);
        if place.nearness >= limit {
            break;
        }
        if place.covers + place.nearness < limit && cost < limit {
            first = Some((place.area, cost));
        }
    }
    first
}

/// How many steps a room has.
fn steps_within(room_mm: f64) -> u32 {
    if room_mm < 0.0 { 0 } else { (room_mm / STEP_MM) as u32 + 1 }
}

/// The steps up to a room's end that lie within a distance of a stretch.
fn steps(room_mm: f64, from_mm: f64, to_mm: f64, within_mm: f64) -> std::ops::Range<u32> {
    let count = steps_within(room_mm);
    let first = ((from_mm - within_mm) / STEP_MM).floor().max(0.0) as u32;
    let after = ((to_mm + within_mm) / STEP_MM).ceil().max(-1.0) + 1.0;
    first..count.min(after as u32)
}

/// The leaders that can run from a box of words to a target, each from a side that looks at it.
fn leaders(area: &Rect, target: Point) -> impl Iterator<Item = Line> {
    let middle = area.center();
    let within = |value: f64, low: f64, high: f64| {
        let inset = 0.15 * (high - low);
        value.clamp(low + inset, high - inset)
    };
    let x = within(target.x, area.x0, area.x1);
    let starts = [
        Point::new(area.x0 - GAP_MM, middle.y),
        Point::new(area.x1 + GAP_MM, middle.y),
        Point::new(x, area.y0 - GAP_MM),
        Point::new(x, area.y1 + GAP_MM),
    ];
    let outward = [(-1.0, 0.0), (1.0, 0.0), (0.0, -1.0), (0.0, 1.0)].map(Vec2::from);
    let looks = move |(start, outward): &(Point, Vec2)| {
        let way = target - *start;
        way.dot(*outward) > 0.4 * way.hypot()
    };
    let sides = starts.into_iter().zip(outward).filter(looks);
    sides.map(move |(start, _)| Line::new(start, target))
}

/// Distance from line to line of words, as a share of their size.
const LEADING: f64 = 1.2;

/// How far the baseline lies below the upper edge of its line, as a share of the size.
const BASELINE: f64 = 0.9;

impl Scene {
    /// Sets a callout in the best place of its zones; false where no zone is large enough, and
    /// nothing is drawn then.
    pub fn callout(&mut self, callout: &Callout<'_>) -> bool {
        self.take_in();
        let Some(area) = callout.best(&self.drawn) else { return false };
        let leader =
            callout.leader(self.drawn.strokes(), &area, f64::INFINITY).map(|(_, leader)| leader);
        let covers = self.drawn.strokes().covering(area) > 0.0;
        if let Some(leader) = leader {
            self.line(leader.p0, leader.p1, Weight::Thin);
            if callout.arrow {
                self.arrowhead(leader.p1, leader.p1 - leader.p0);
            }
        }
        if covers {
            let corners = [(area.x0, area.y0), (area.x1, area.y0), (area.x1, area.y1)];
            let corners = corners.into_iter().chain([(area.x0, area.y1)]).map(Point::from);
            self.fill(&corners.collect::<Vec<_>>(), Paint::White);
        }
        let is_left = leader.is_none_or(|leader| leader.p1.x <= area.center().x);
        let (x, anchor) = if is_left { (area.x0, Anchor::Start) } else { (area.x1, Anchor::End) };
        self.set_lines(callout.lines, Point::new(x, area.y0), anchor);
        true
    }

    /// Sets lines of words below one another, the upper edge of the first at a place.
    fn set_lines(&mut self, lines: &[(String, f64)], from: Point, anchor: Anchor) {
        let mut top = from.y;
        for (text, size_mm) in lines {
            let at = Point::new(from.x, top + size_mm * BASELINE);
            self.text(Words { anchor, ..Words::starting(at, *size_mm, text.as_str()) });
            top += size_mm * LEADING;
        }
    }
}

#[cfg(test)]
mod tests {
    use super::super::strokes::overlap;
    use super::*;

    fn sheet() -> Scene {
        Scene::new(String::new(), String::new(), 100.0, 60.0)
    }

    #[test]
    fn a_callout_keeps_clear_of_words_and_lines() {
        let mut scene = sheet();
        scene.line(Point::new(0.0, 30.0), Point::new(100.0, 30.0), Weight::Outline);
        let lines = [("stock 0.004 in".to_owned(), 4.0)];
        for _ in 0..4 {
            let targets = [Point::new(50.0, 30.0)];
            let zones = [Rect::new(2.0, 2.0, 98.0, 58.0)];
            assert!(scene.callout(&Callout {
                lines: &lines,
                targets: &targets,
                arrow: true,
                zones: &zones
            }));
        }
        let boxes: Vec<Rect> = scene.words().map(Words::bounds).collect();
        for (index, one) in boxes.iter().enumerate() {
            assert!(one.y1 < 30.0 || one.y0 > 30.0, "{one:?}");
            assert!(boxes[index + 1..].iter().all(|other| !overlap(one, other)), "{boxes:?}");
        }
    }

    fn crossing(drawn: &Drawn, leader: Line) -> f64 {
        drawn.strokes().crossing_below(leader, f64::INFINITY).unwrap_or(f64::INFINITY)
    }

    /// The plain search over every place, the nearest first, that the quick one must agree with.
    fn plainly(callout: &Callout<'_>, drawn: &Drawn) -> Option<Rect> {
        let all = callout.places(f64::INFINITY);
        let mut places: Vec<(f64, Rect)> =
            all.map(|spot| (callout.nearness(&spot.area), spot.area)).collect();
        places.sort_by(|a, b| a.0.total_cmp(&b.0));
        let (mut best, mut limit) = (None, f64::INFINITY);
        for (nearness, area) in places {
            if nearness >= limit {
                break;
            }
            let covers = drawn.strokes().covering(area);
            if covers + nearness >= limit {
                continue;
            }
            let leaders = callout.targets.iter().flat_map(|target| leaders(&area, *target));
            let cost = |leader: Line| leader_cost(leader.length()) + crossing(drawn, leader);
            let least = leaders.map(cost).min_by(f64::total_cmp);
            let none = if callout.targets.is_empty() { 0.0 } else { COVERS_WORDS };
            let cost = covers + least.unwrap_or(none);
            if cost < limit {
                (best, limit) = (Some(area), cost);
            }
        }
        best
    }

    /// Sheets from nearly empty to crowded, callouts with no, one and several targets, in zones of
    /// all sizes: the quick search takes the very place that the plain one takes.
    #[test]
    fn the_quick_search_finds_what_the_plain_one_does() {
        let mut random = 20_261_130_u64;
        let mut up_to = |most: f64| {
            random = random.wrapping_mul(6_364_136_223_846_793_005).wrapping_add(1);
            // Round figures make places that cost the same.
            ((random >> 11) as f64 / (1_u64 << 53) as f64 * most * 2.0).round() / 2.0
        };
        let mut seen = [0; 2];
        for case in 0..150 {
            let mut scene = sheet();
            for _ in 0..case % 30 {
                let mut point = || Point::new(up_to(100.0), up_to(60.0));
                let (from, to) = (point(), point());
                let weight = if case % 2 == 0 { Weight::Outline } else { Weight::Thin };
                scene.line(from, to, weight);
                if case % 3 == 0 {
                    scene.text(Words::starting(point(), 3.4, "words"));
                }
            }
            scene.take_in();
            let targets: Vec<Point> =
                (0..case % 4).map(|_| Point::new(up_to(100.0), up_to(60.0))).collect();
            let zone = Rect::new(up_to(40.0), up_to(20.0), 50.0 + up_to(50.0), 35.0 + up_to(25.0));
            let zones = [zone, Rect::new(1.0, 1.0, 99.0, 59.0)];
            let zones = &zones[..1 + case % 2];
            let lines = [("0.0123 in".to_owned(), 4.6), ("of something".to_owned(), 3.4)];
            let callout = Callout { lines: &lines, targets: &targets, arrow: true, zones };
            let found = callout.best(&scene.drawn);
            assert_eq!(found, plainly(&callout, &scene.drawn), "case {case}");
            seen[usize::from(found.is_some_and(|at| scene.drawn.strokes().covering(at) > 0.0))] +=
                1;
        }
        assert!(seen[0] > 20 && seen[1] > 20, "{seen:?}");
    }

    #[test]
    fn a_callout_that_finds_no_room_says_so() {
        let lines = [("much too long for so small a zone".to_owned(), 4.0)];
        let zones = [Rect::new(0.0, 0.0, 20.0, 10.0)];
        let mut scene = sheet();
        assert!(!scene.callout(&Callout {
            lines: &lines,
            targets: &[],
            arrow: false,
            zones: &zones
        }));
        assert_eq!(scene.marks().count(), 0);
    }
}

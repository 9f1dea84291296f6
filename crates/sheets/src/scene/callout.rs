//! Words with a leader, set where nothing else stands.
//!
//! Every cutter makes another picture, so nobody can say beforehand where its figures find room.
//! A callout is given the areas in which it may stand; it looks at what has been drawn and takes
//! the place that covers least and whose leader is short and crosses least. What must not be
//! covered is therefore drawn first.

use kurbo::{Line, Point, Rect, Vec2};

use super::drawn::{COVERS_WORDS, Drawn};
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

/// Distance between the places that are tried.
const STEP_MM: f64 = 1.0;

/// Gap between words and their leader.
const GAP_MM: f64 = 0.9;

/// A leader shorter than this would not be seen as one.
const LEADER_MM_MIN: f64 = 4.0;

impl Callout<'_> {
    fn size(&self) -> (f64, f64) {
        let width = self.lines.iter().map(|(text, size)| width_mm(text, *size));
        let height = self.lines.iter().map(|(_, size)| size * LEADING).sum::<f64>();
        (width.fold(0.0, f64::max), height)
    }

    /// The best leader to a box of words, with what it costs.
    fn leader(&self, drawn: &Drawn, area: &Rect) -> Option<(f64, Line)> {
        let leaders = self.targets.iter().flat_map(|target| leaders(area, *target));
        let costs = leaders.map(|leader| {
            let length = leader.length();
            let too_short = 6.0 * (LEADER_MM_MIN - length).max(0.0);
            (length + too_short + drawn.crossing(leader), leader)
        });
        costs.min_by(|a, b| a.0.total_cmp(&b.0))
    }

    /// What a place costs; nothing where that is no less than a limit.
    fn cost(&self, drawn: &Drawn, area: Rect, limit: f64) -> Option<f64> {
        let covers = drawn.covering(area);
        if covers + self.nearness(area) >= limit {
            return None;
        }
        let pointing = match self.leader(drawn, &area) {
            Some((cost, _)) => cost,
            // It would have to point at what it covers.
            None if !self.targets.is_empty() => COVERS_WORDS,
            None => 0.0,
        };
        Some(covers + pointing).filter(|cost| *cost < limit)
    }

    /// No leader to a place is shorter than this.
    fn nearness(&self, area: Rect) -> f64 {
        let away = |target: &Point| {
            let aside = (area.x0 - target.x).max(target.x - area.x1).max(0.0);
            let above = (area.y0 - target.y).max(target.y - area.y1).max(0.0);
            aside.hypot(above) - GAP_MM
        };
        let nearest = self.targets.iter().map(away).fold(f64::INFINITY, f64::min);
        if self.targets.is_empty() { 0.0 } else { nearest.max(0.0) }
    }

    /// The best place: the nearest are tried first, until no other can be better.
    fn best(&self, drawn: &Drawn) -> Option<Rect> {
        let mut places: Vec<(f64, Rect)> =
            self.places().map(|area| (self.nearness(area), area)).collect();
        places.sort_by(|a, b| a.0.total_cmp(&b.0));
        let (mut best, mut limit) = (None, f64::INFINITY);
        for (nearness, area) in places {
            if nearness >= limit {
                break;
            }
            if let Some(cost) = self.cost(drawn, area, limit) {
                (best, limit) = (Some(area), cost);
            }
        }
        best
    }

    /// The places that are tried, row by row.
    fn places(&self) -> impl Iterator<Item = Rect> + '_ {
        let (width, height) = self.size();
        self.zones.iter().flat_map(move |zone| {
            let (right, down) = (zone.width() - width, zone.height() - height);
            let count = |room: f64| if room < 0.0 { 0 } else { (room / STEP_MM) as u32 + 1 };
            let (columns, rows) = (count(right), count(down));
            let corner = zone.origin();
            (0..rows).flat_map(move |row| {
                (0..columns).map(move |column| {
                    let x = corner.x + f64::from(column) * STEP_MM;
                    let y = corner.y + f64::from(row) * STEP_MM;
                    Rect::new(x, y, x + width, y + height)
                })
            })
        })
    }
}

/// The leaders that can run from a box of words to a target, each from a side that looks at it.
fn leaders(area: &Rect, target: Point) -> Vec<Line> {
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
    let sides = starts.into_iter().zip(outward);
    let looks = |(start, outward): &(Point, Vec2)| {
        let way = target - *start;
        way.dot(*outward) > 0.4 * way.hypot()
    };
    sides.filter(looks).map(|(start, _)| Line::new(start, target)).collect()
}

/// Distance from line to line of words, as a share of their size.
const LEADING: f64 = 1.2;

/// How far the baseline lies below the upper edge of its line, as a share of the size.
const BASELINE: f64 = 0.9;

impl Scene {
    /// Sets a callout in the best place of its zones; false where no zone is large enough, and
    /// nothing is drawn then.
    pub fn callout(&mut self, callout: &Callout<'_>) -> bool {
        let drawn = Drawn::of(self);
        let Some(area) = callout.best(&drawn) else { return false };
        let leader = callout.leader(&drawn, &area).map(|(_, leader)| leader);
        if let Some(leader) = leader {
            self.line(leader.p0, leader.p1, Weight::Thin);
            if callout.arrow {
                self.arrowhead(leader.p1, leader.p1 - leader.p0);
            }
        }
        if drawn.covering(area) > 0.0 {
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
    use super::super::drawn::overlap;
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

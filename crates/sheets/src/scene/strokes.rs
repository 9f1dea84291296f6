//! Strokes and words on a sheet, and what it would cost to cover or to cross them.

use std::sync::Arc;

use kurbo::{BezPath, Line, ParamCurve, ParamCurveNearest, PathSeg, Point, Rect, Shape, segments};

use super::Weight;

/// Room that is kept free about words: aside of and above other words, and beside lines.
pub(super) const WORDS_ROOM_MM: (f64, f64) = (1.8, 0.54);
pub(super) const ROOM_TO_LINES_MM: f64 = 0.9;

/// What it costs to cover or to cross things, in millimetres of leader.
pub(super) const COVERS_WORDS: f64 = 1000.0;
const COVERS_OUTLINE: f64 = 150.0;
const COVERS_LINE: f64 = 40.0;
pub(super) const COVERS_LEAST: f64 = COVERS_LINE;
const CROSSES_WORDS: f64 = 400.0;
const CROSSES_OUTLINE: f64 = 10.0;
const CROSSES_LINE: f64 = 7.0;
const RUNS_ALONG: f64 = 60.0;

/// Lines closer than this are hard to tell apart.
const APART_MM: f64 = 1.5;

/// A stroke that is met more often than this costs no more.
const MET_MAX: usize = 4;

/// So many pieces of a stroke are looked at or passed over together.
const RUN: usize = 12;

/// A stroke as straight pieces, in runs of which each knows its bounds.
#[derive(Clone, Debug)]
struct Stroke {
    runs: Vec<(Rect, Arc<[Line]>)>,
    bounds: Rect,
    weight: Weight,
}

/// Strokes and words.
#[derive(Clone, Debug, Default)]
pub(super) struct Strokes {
    strokes: Vec<Stroke>,
    words: Vec<Rect>,
}

impl Strokes {
    pub(super) fn add_words(&mut self, bounds: Rect) {
        self.words.push(bounds);
    }

    /// Takes in a path; gives its straight pieces.
    pub(super) fn add(&mut self, path: &BezPath, weight: Weight) -> Vec<Line> {
        let mut flat = Vec::new();
        kurbo::flatten(path, 0.1, |element| flat.push(element));
        let lines = segments(flat).filter_map(|segment| match segment {
            PathSeg::Line(line) => Some(line),
            _ => None,
        });
        // A little room on all sides keeps level and upright lines from having no box at all.
        let bounds = path.bounding_box().inflate(0.1, 0.1);
        let lines: Vec<Line> = lines.collect();
        let runs = lines.chunks(RUN).map(|run| (bounds_of(run), Arc::from(run))).collect();
        self.strokes.push(Stroke { runs, bounds, weight });
        lines
    }

    /// What comes near an area: nothing else costs anything within it.
    pub(super) fn about(&self, area: Rect) -> Self {
        let area = area.inflate(WORDS_ROOM_MM.0, WORDS_ROOM_MM.0);
        let words = self.words.iter().filter(|words| overlap(words, &area)).copied().collect();
        let near = self.strokes.iter().filter(|stroke| overlap(&stroke.bounds, &area));
        let cut = |stroke: &Stroke| {
            let near = stroke.runs.iter().filter(|(bounds, _)| overlap(bounds, &area));
            Stroke { runs: near.cloned().collect(), ..*stroke }
        };
        let strokes = near.map(cut).filter(|stroke| !stroke.runs.is_empty()).collect();
        Self { strokes, words }
    }

    /// What the strokes cost that are met; `is_met` is asked of each piece near an area.
    fn met(&self, area: Rect, costs: (f64, f64), is_met: impl Fn(&Line) -> bool) -> f64 {
        let near = self.strokes.iter().filter(|stroke| overlap(&stroke.bounds, &area));
        let cost = |stroke: &Stroke| {
            // What lies beside the area cannot be met, and most of a long curve does.
            let near = stroke.runs.iter().filter(|(bounds, _)| overlap(bounds, &area));
            let pieces = near.flat_map(|(_, pieces)| pieces.iter());
            let met = pieces.filter(|piece| is_met(piece)).take(MET_MAX).count();
            let each = if stroke.weight == Weight::Outline { costs.0 } else { costs.1 };
            each * met as f64
        };
        near.map(cost).sum()
    }

    /// What it costs to cover a box.
    pub(super) fn covering(&self, area: Rect) -> f64 {
        let room = area.inflate(WORDS_ROOM_MM.0, WORDS_ROOM_MM.1);
        let words = self.words.iter().filter(|words| overlap(words, &room)).count() as f64;
        let room = area.inflate(ROOM_TO_LINES_MM, ROOM_TO_LINES_MM);
        let costs = (COVERS_OUTLINE, COVERS_LINE);
        words * COVERS_WORDS + self.met(room, costs, |piece| meets(piece, &room))
    }

    /// What it costs to draw a leader, where that is no more than a limit.
    pub(super) fn crossing_below(&self, leader: Line, limit: f64) -> Option<f64> {
        // What lies at the very target is what the leader is meant to touch.
        let short = Line::new(leader.p0, leader.eval(1.0 - 0.6 / leader.length().max(1.2)));
        let words = self.words.iter().filter(|words| meets(&short, words)).count() as f64;
        let area = Rect::from_points(short.p0, short.p1).inflate(APART_MM, APART_MM);
        let mut cost = words * CROSSES_WORDS;
        for stroke in self.strokes.iter().filter(|stroke| overlap(&stroke.bounds, &area)) {
            if cost > limit {
                return None;
            }
            cost += stroke.crossed_by(&short, &area);
        }
        (cost <= limit).then_some(cost)
    }
}

impl Stroke {
    /// What it costs that a leader crosses this stroke or runs along it.
    fn crossed_by(&self, leader: &Line, area: &Rect) -> f64 {
        let (mut crossed, mut along) = (0, 0);
        let near = self.runs.iter().filter(|(bounds, _)| overlap(bounds, area));
        for piece in near.flat_map(|(_, pieces)| pieces.iter()) {
            crossed += usize::from(cross(piece, leader));
            along += usize::from(along < MET_MAX && runs_along(piece, leader));
            if crossed >= MET_MAX && along >= MET_MAX {
                break;
            }
        }
        let is_outline = self.weight == Weight::Outline;
        let each = if is_outline { CROSSES_OUTLINE } else { CROSSES_LINE };
        each * crossed.min(MET_MAX) as f64 + RUNS_ALONG * along as f64
    }
}

/// The bounds of some pieces, with a little room on all sides.
fn bounds_of(run: &[Line]) -> Rect {
    let of = |line: &Line| Rect::from_points(line.p0, line.p1);
    let whole = run.iter().map(of).reduce(|one, other| one.union(other));
    whole.unwrap_or(Rect::ZERO).inflate(0.1, 0.1)
}

pub(super) fn overlap(one: &Rect, other: &Rect) -> bool {
    one.x0 < other.x1 && other.x0 < one.x1 && one.y0 < other.y1 && other.y0 < one.y1
}

/// Whether a line comes into a box.
fn meets(line: &Line, area: &Rect) -> bool {
    let way = line.p1 - line.p0;
    let sides = [
        (-way.x, line.p0.x - area.x0),
        (way.x, area.x1 - line.p0.x),
        (-way.y, line.p0.y - area.y0),
        (way.y, area.y1 - line.p0.y),
    ];
    let (mut enters, mut leaves) = (0.0_f64, 1.0_f64);
    for (slope, room) in sides {
        if slope == 0.0 {
            if room < 0.0 {
                return false;
            }
        } else if slope < 0.0 {
            enters = enters.max(room / slope);
        } else {
            leaves = leaves.min(room / slope);
        }
    }
    enters <= leaves
}

fn cross(one: &Line, other: &Line) -> bool {
    let side = |line: &Line, point: Point| (line.p1 - line.p0).cross(point - line.p0);
    side(one, other.p0) * side(one, other.p1) < 0.0
        && side(other, one.p0) * side(other, one.p1) < 0.0
}

/// Whether a leader would lie on a line rather than cross it.
fn runs_along(piece: &Line, leader: &Line) -> bool {
    let last = leader.eval(0.9);
    let apart = |a: f64, b: f64, at: f64| at < a.min(b) - APART_MM || at > a.max(b) + APART_MM;
    if apart(piece.p0.x, piece.p1.x, last.x) || apart(piece.p0.y, piece.p1.y, last.y) {
        return false;
    }
    let near = |share: f64| {
        let nearest = piece.nearest(leader.eval(share), 1e-9);
        nearest.distance_sq < APART_MM * APART_MM
    };
    [0.3, 0.6, 0.9].into_iter().all(near)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn lines_meet_boxes_only_where_they_come_in() {
        let area = Rect::new(10.0, 10.0, 20.0, 20.0);
        let line = |a: (f64, f64), b: (f64, f64)| Line::new(a, b);
        assert!(meets(&line((0.0, 15.0), (30.0, 15.0)), &area));
        assert!(meets(&line((12.0, 12.0), (13.0, 13.0)), &area));
        assert!(!meets(&line((0.0, 0.0), (9.0, 30.0)), &area));
        assert!(!meets(&line((0.0, 25.0), (30.0, 25.0)), &area));
    }
}

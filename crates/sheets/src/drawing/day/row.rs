//! The row of one cutter: marks that stand too close take turns on lanes one above the other.

use kurbo::{Point, Rect, Vec2};

use crate::scene::{Hatching, Paint, Scene, Weight, Words, arc, width_mm};

use super::super::frame::LEFT;
use super::super::leaf::{LINE_MM, RIGHT, SMALL, set};
use super::{DayCutter, DayStepKind, HOURS_X, Hours};

/// Where the first row begins.
pub(super) const ROWS_TOP: f64 = 32.0;

/// Half the size of a mark.
pub(super) const MARK_MM: f64 = 1.6;

/// From a mark's middle to its initials, and room kept behind these.
const INITIALS_MM: f64 = MARK_MM + 1.2;
const ROOM_MM: f64 = 1.2;

/// Initials take no more than this.
const INITIALS_MM_MAX: f64 = 14.0;

/// Height of the bar, and the room for it below the lanes.
const BAR_MM: f64 = 2.2;
const BELOW_MM: f64 = 4.4;

/// One step with its lane.
struct Placed<'a> {
    kind: DayStepKind,
    x: f64,
    /// Left end of the initials.
    by_x: f64,
    by: &'a str,
    lane: usize,
}

/// A row before it is drawn.
pub(super) struct Row<'a> {
    cutter: &'a DayCutter,
    hours: Hours,
    top: f64,
    lanes: usize,
    placed: Vec<Placed<'a>>,
}

impl<'a> Row<'a> {
    pub(super) fn of(cutter: &'a DayCutter, hours: Hours, top: f64) -> Self {
        let mut placed: Vec<Placed<'a>> = Vec::new();
        let mut ends: Vec<f64> = Vec::new();
        for step in cutter.in_order() {
            let x = hours.x(step.minute);
            let wide = width_mm(&step.by, SMALL).min(INITIALS_MM_MAX);
            // At the right end the initials stand before their mark.
            let is_before = x + INITIALS_MM + wide > RIGHT;
            let by_x = if is_before { x - INITIALS_MM - wide } else { x + INITIALS_MM };
            let (from, to) = ((x - MARK_MM).min(by_x), (x + MARK_MM).max(by_x + wide));
            let free = ends.iter().position(|end| *end + ROOM_MM <= from);
            let lane = free.unwrap_or(ends.len());
            if free.is_none() {
                ends.push(to)
            } else {
                ends[lane] = to
            }
            placed.push(Placed { kind: step.kind, x, by_x, by: &step.by, lane });
        }
        Self { cutter, hours, top, lanes: ends.len().max(1), placed }
    }

    /// Where the row ends.
    pub(super) fn foot(&self) -> f64 {
        self.top + 1.6 + LINE_MM * self.lanes as f64 + BELOW_MM
    }

    fn bar_y(&self) -> f64 {
        self.foot() - 0.5 * BELOW_MM - 0.4
    }

    pub(super) fn draw(&self, scene: &mut Scene) {
        scene.part("rows");
        let line = |y: f64| (Point::new(LEFT, y), Point::new(RIGHT, y));
        let (from, to) = line(self.top);
        scene.line(from, to, Weight::Thin);
        scene.part("numbers");
        let at = (LEFT, self.top + 1.6 + 0.5 * LINE_MM + 0.36 * SMALL);
        set(scene, Words::starting(at, SMALL, &self.cutter.number), HOURS_X.0 - LEFT - 2.0);
        self.draw_in_hand(scene);
        for placed in &self.placed {
            self.draw_step(scene, placed);
        }
    }

    /// The bar from grinding until it was handed back, open to the right where it was not.
    fn draw_in_hand(&self, scene: &mut Scene) {
        let (Some(ground), back) = self.cutter.in_hand() else { return };
        scene.part("in hand");
        let from = self.hours.x(ground);
        match back {
            Some(back) => draw_bar(scene, (from, self.hours.x(back)), self.bar_y()),
            None => {
                let last = self.placed.iter().map(|placed| placed.x).fold(from, f64::max);
                let end = (last + 6.0).min(RIGHT);
                let at = |x: f64| Point::new(x, self.bar_y());
                scene.line(at(from), at(end), Weight::Hidden);
            }
        }
    }

    fn draw_step(&self, scene: &mut Scene, placed: &Placed<'_>) {
        let y = self.top + 1.6 + LINE_MM * (placed.lane as f64 + 0.5);
        let at = Point::new(placed.x, y);
        scene.part("steps");
        let bounds_bar = matches!(placed.kind, DayStepKind::Ground | DayStepKind::HandedBack);
        if bounds_bar && self.cutter.in_hand().0.is_some() {
            scene.line(at, Point::new(placed.x, self.bar_y()), Weight::Thin);
        }
        // Bare paper keeps the hours' lines out of marks and initials.
        let wide = width_mm(placed.by, SMALL).min(INITIALS_MM_MAX);
        let room = Rect::new(placed.by_x - 0.4, y - 1.9, placed.by_x + wide + 0.4, y + 1.9);
        clear(scene, room);
        draw_mark(scene, at, placed.kind);
        let words = Words::starting((placed.by_x, y + 0.36 * SMALL), SMALL, placed.by);
        set(scene, words, INITIALS_MM_MAX);
    }
}

fn clear(scene: &mut Scene, room: Rect) {
    let corners = [(room.x0, room.y0), (room.x1, room.y0), (room.x1, room.y1), (room.x0, room.y1)];
    scene.fill(&corners.map(Point::from), Paint::White);
}

/// The hatched bar of a stretch of time about a height.
pub(super) fn draw_bar(scene: &mut Scene, (from, to): (f64, f64), y: f64) {
    let (top, foot) = (y - 0.5 * BAR_MM, y + 0.5 * BAR_MM);
    let corners = [(from, top), (to, top), (to, foot), (from, foot)].map(Point::from);
    scene.hatched(&[corners.to_vec()], Hatching::RISING);
    let [a, b, c, d] = corners;
    scene.polyline(&[a, b, c, d, a], Weight::Thin);
}

/// The mark of a step: no two kinds look alike, in form and not only in filling.
pub(super) fn draw_mark(scene: &mut Scene, at: Point, kind: DayStepKind) {
    let corner = |(x, y): (f64, f64)| at + Vec2::new(x, y) * MARK_MM;
    match kind {
        DayStepKind::Received => {
            // A wedge that points down: it comes in.
            let corners = [(-1.0, -0.9), (1.0, -0.9), (0.0, 0.9)].map(corner);
            outlined(scene, &corners);
        }
        DayStepKind::Planned => {
            let ring = arc(at, 0.85 * MARK_MM, 0.0, std::f64::consts::TAU);
            let disc: Vec<Point> = (0..24).map(|step| at + ray(step) * 0.85).collect();
            scene.fill(&disc, Paint::White);
            scene.stroke(ring, Weight::Outline);
        }
        DayStepKind::Ground => {
            let corners = [(-0.85, -0.85), (0.85, -0.85), (0.85, 0.85), (-0.85, 0.85)];
            scene.fill(&corners.map(corner), Paint::Black);
        }
        DayStepKind::Checked => {
            outlined(scene, &[(0.0, -1.1), (1.1, 0.0), (0.0, 1.1), (-1.1, 0.0)].map(corner));
        }
        DayStepKind::HandedBack => {
            // A wedge that points up: it goes out.
            let corners = [(-1.1, 0.9), (1.1, 0.9), (0.0, -1.0)].map(corner);
            scene.fill(&corners, Paint::Black);
        }
    }
}

/// The direction of one of 24 steps round, as long as half a mark.
fn ray(step: u32) -> Vec2 {
    Vec2::from_angle(f64::from(step) * std::f64::consts::TAU / 24.0) * MARK_MM
}

/// An open figure, bare within.
fn outlined(scene: &mut Scene, corners: &[Point]) {
    scene.fill(corners, Paint::White);
    let mut closed = corners.to_vec();
    closed.extend(corners.first().copied());
    scene.polyline(&closed, Weight::Outline);
}

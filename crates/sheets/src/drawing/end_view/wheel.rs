//! The wheel in the end view: a cup's face edge-on, or a disc's circle.

use geometry::wheel::{ElementShape, Part, WheelKind};
use kurbo::{Point, Rect, Vec2};
use shop::plan::Hold;

use super::super::figure;
use super::super::frame::{NOTE, point_out};
use super::{CENTRE, EndView, FIELD};
use crate::scene::{Callout, Scene, Weight};

/// How far above and below the cutter's axis a wheel is drawn before it is broken off.
const REACH_MM: f64 = 43.0;

/// From the wheel's face to the arrow of its way, and the arrow's ends above centre.
const ARROW_MM: f64 = 5.0;
const ARROW_ENDS_MM: (f64, f64) = (18.0, 34.0);

/// Points of a disc's circle.
const POINTS: u32 = 120;

impl EndView<'_> {
    /// Where the wheel's surface stands, in the plane of the rest, at a height above the cutter's
    /// axis, on paper; None where the wheel does not reach.
    fn surface_x(&self, up_mm: f64) -> Option<f64> {
        let factor = self.scale.factor();
        let above_mm = up_mm - self.stance().axis_above.mm() * factor;
        let radius_mm = self.peripheral.stanced.setup.wheel().radius_mm() * factor;
        let section = &self.peripheral.section;
        // The tooth is drawn at the rest, where a leaning face already stands back a little.
        let stance = self.stance();
        let back_mm = stance.rest_inset.mm() * stance.lean.tan() * factor;
        if above_mm.abs() > radius_mm + 1e-9 {
            return None;
        }
        Some(match self.kind() {
            WheelKind::Cup => {
                let face = CENTRE.x + section.leading_corner_from_axis().mm() * factor + back_mm;
                // A tipped cup comes nearer above the height of its axis.
                face - above_mm * stance.tilt.tan()
            }
            WheelKind::Disc => {
                let axis = CENTRE.x + section.wheel_from_axis().mm() * factor + back_mm;
                axis - (radius_mm * radius_mm - above_mm * above_mm).max(0.0).sqrt()
            }
        })
    }

    pub(super) fn draw_wheel(&self, scene: &mut Scene) {
        scene.part("wheel");
        let factor = self.scale.factor();
        let axis_mm = self.stance().axis_above.mm() * factor;
        let radius_mm = self.peripheral.stanced.setup.wheel().radius_mm() * factor;
        let (top, bottom) =
            ((axis_mm + radius_mm).min(REACH_MM), (axis_mm - radius_mm).max(-REACH_MM));
        let heights = (0..=POINTS).map(|step| {
            let share = f64::from(step) / f64::from(POINTS);
            top * (1.0 - share) + bottom * share
        });
        let point = |up: f64| self.surface_x(up).map(|x| Point::new(x, CENTRE.y - up));
        let mut face: Vec<Point> = heights.filter_map(point).collect();
        face.retain(|point| point.x < FIELD.x1 - 2.0);
        let (Some(top), Some(bottom)) = (face.first().copied(), face.last().copied()) else {
            return;
        };
        scene.polyline(&face, Weight::Outline);
        let upper = self.draw_end(scene, top, -1.0);
        let lower = self.draw_end(scene, bottom, 1.0);
        scene.break_line(upper, lower);
    }

    /// The end of the drawn part of the wheel: its own wall where it ends within the field, else
    /// a break. Gives the point at the field's right.
    fn draw_end(&self, scene: &mut Scene, from: Point, down: f64) -> Point {
        let height = (CENTRE.y + down * REACH_MM - from.y).abs();
        let right = |y: f64| Point::new(FIELD.x1, y);
        match self.wall() {
            Some((inward, back)) if height > 0.5 && self.kind() == WheelKind::Cup => {
                let run = (FIELD.x1 - from.x) / back.max(0.1);
                let end = from + Vec2::new(back, -down * inward) * run;
                scene.line(from, end, Weight::Outline);
                end
            }
            _ => {
                scene.break_line(from, right(from.y));
                right(from.y)
            }
        }
    }

    /// The run of a cup's outer wall: how far it draws in, and how far it goes back.
    fn wall(&self) -> Option<(f64, f64)> {
        let wheel = self.peripheral.stanced.setup.wheel();
        let elements = wheel.profile().elements().iter();
        let mut flanks = elements.filter(|element| element.part == Part::LeadingFlank);
        flanks.find_map(|element| match element.shape {
            ElementShape::Line { direction, .. } => Some((direction.0.abs(), direction.1.abs())),
            ElementShape::Arc { .. } => None,
        })
    }

    /// The arrow of the way in which the wheel's surface runs.
    pub(super) fn draw_way(&self, scene: &mut Scene) {
        scene.part("way of the wheel");
        let at = |up: f64| {
            let x = self.surface_x(up).unwrap_or(self.edge().x) + ARROW_MM;
            Point::new(x, CENTRE.y - up)
        };
        let (low, high) = (at(ARROW_ENDS_MM.0), at(ARROW_ENDS_MM.1));
        let direction = &self.peripheral.direction;
        let last = if direction.has_rest { "onto the rest" } else { "over the edge" };
        let (from, to, words) = match direction.hold {
            Hold::Down => (high, low, ["the wheel", "runs down", last]),
            Hold::Lifts => (low, high, ["the wheel", "runs up: it", "lifts the tooth"]),
            // Only a face is ground along the flute, and that has no such picture.
            Hold::Along => return,
        };
        scene.straight_motion(from, to);
        let lines = words.map(|words| (words.to_owned(), NOTE));
        let zone = self.wheel_zone();
        let left = low.x.min(high.x) + 2.0;
        // Beside the arrow; where a small disc leaves no room there, under the centre line.
        let beside = Rect::new(left, zone.y0, zone.x1, CENTRE.y - 3.0);
        let below = Rect::new(zone.x0, CENTRE.y + 3.0, zone.x1, zone.y1);
        let zones = [beside, below];
        point_out(scene, &Callout { lines: &lines, targets: &[], arrow: false, zones: &zones });
    }

    /// Names the wheel's face, above the cutter.
    pub(super) fn name_wheel(&self, scene: &mut Scene) {
        scene.part("name of the wheel");
        let wheel = &self.peripheral.wheel.wheel;
        let name = match self.kind() {
            WheelKind::Cup => "face of the cup".to_owned(),
            WheelKind::Disc => format!("disc {}", wheel.number()),
        };
        let lean = match self.is_leaning() {
            true => format!("leans {}", figure::angle(self.stance().lean)),
            false => "without lean".to_owned(),
        };
        let lines = [name, lean];
        let lines = lines.map(|words| (words, NOTE));
        let heights = [0.6, 0.75, 0.9].map(|share| share * REACH_MM);
        let point = |up: f64| self.surface_x(up).map(|x| Point::new(x, CENTRE.y - up));
        let targets: Vec<Point> = heights.into_iter().filter_map(point).collect();
        let right = targets.iter().map(|target| target.x).fold(FIELD.x1, f64::min) - 3.0;
        let bottom = CENTRE.y - self.circle_mm();
        let zones = [Rect::new(CENTRE.x - 20.0, FIELD.y0, right, bottom)];
        let callout = Callout { lines: &lines, targets: &targets, arrow: true, zones: &zones };
        point_out(scene, &callout);
    }

    /// The paper within the wheel's outline.
    pub(super) fn wheel_zone(&self) -> Rect {
        let left = self.surface_x(0.0).unwrap_or(self.edge().x) + 2.0;
        let (top, bottom) = (CENTRE.y - REACH_MM + 2.0, CENTRE.y + REACH_MM - 2.0);
        Rect::new(left, top, FIELD.x1 - 1.0, bottom)
    }
}

//! The words about a ring: every tooth's number and figures beside it, where they find room.

use kurbo::{Point, Rect, Vec2};

use crate::scene::{Scene, Weight, Words, width_mm};

/// Size of the figures about a ring.
const FIGURE: f64 = 3.2;

/// From line to line.
const LINE_MM: f64 = 4.0;

/// Room between the labels of two teeth, sideways and upright.
const ROOM_MM: Vec2 = Vec2::new(1.2, 0.5);

/// A label that finds no room beside its tooth is tried farther out in these steps, so often.
const STEP_MM: f64 = 1.0;
const STEPS: u32 = 60;

/// A label that stands farther out than this is joined to its tooth by a line.
const LEADER_MM_MIN: f64 = 1.5;

/// The words of one tooth.
#[derive(Clone, Debug)]
pub(super) struct Label {
    /// Where the tooth stands, from +x toward +y of the paper.
    pub(super) paper_rad: f64,
    /// Its lines, the number first.
    pub(super) lines: Vec<String>,
}

impl Label {
    fn size(&self) -> Vec2 {
        let width = self.lines.iter().map(|line| width_mm(line, FIGURE)).fold(0.0, f64::max);
        Vec2::new(width, LINE_MM * self.lines.len() as f64)
    }

    /// Its box about a centre at the origin, just outside a circle.
    fn outside(&self, radius_mm: f64) -> Rect {
        let (out, half) = (Vec2::from_angle(self.paper_rad), self.size() / 2.0);
        let support = out.x.abs() * half.x + out.y.abs() * half.y;
        let middle = (out * (radius_mm + support)).to_point();
        Rect::from_points(middle - half, middle + half)
    }
}

/// The boxes of labels about a centre at the origin, outside a circle and no farther aside than
/// so: none upon another as long as there is room.
pub(super) fn placed(labels: &[Label], radius_mm: f64, aside_mm: f64) -> Vec<Rect> {
    let mut boxes: Vec<Rect> = Vec::with_capacity(labels.len());
    for label in labels {
        let tried = |step: u32| label.outside(radius_mm + STEP_MM * f64::from(step));
        let fits = |area: &Rect| {
            let room = area.inflate(ROOM_MM.x, ROOM_MM.y);
            area.x0 >= -aside_mm
                && area.x1 <= aside_mm
                && boxes.iter().all(|other| room.intersect(*other).area() <= 0.0)
        };
        boxes.push((0..STEPS).map(tried).find(fits).unwrap_or_else(|| tried(0)));
    }
    boxes
}

/// Sets the labels of a ring in their boxes.
pub(super) fn draw(
    scene: &mut Scene,
    centre: Point,
    radius_mm: f64,
    labels: &[Label],
    boxes: &[Rect],
) {
    scene.part("labels");
    for (label, area) in labels.iter().zip(boxes) {
        let moved = *area + centre.to_vec2();
        let moved_mm = area.center().distance(label.outside(radius_mm).center());
        if moved_mm > LEADER_MM_MIN {
            let out = Vec2::from_angle(label.paper_rad);
            let end = centre + out * (radius_mm + moved_mm - 0.4);
            scene.line(centre + out * radius_mm, end, Weight::Thin);
        }
        for (row, line) in label.lines.iter().enumerate() {
            let baseline = moved.y0 + LINE_MM * row as f64 + 0.92 * FIGURE;
            scene.text(Words::about((moved.center().x, baseline), FIGURE, line.as_str()));
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use std::f64::consts::TAU;

    fn labels(count: u32, lines: usize) -> Vec<Label> {
        let words = ["tooth 12", "0.0202", "+0.0007"].map(str::to_owned);
        let lines = || words[3 - lines..].to_vec();
        let turn = |tooth: u32| TAU * f64::from(tooth) / f64::from(count);
        (0..count).map(|tooth| Label { paper_rad: turn(tooth) + 0.1, lines: lines() }).collect()
    }

    #[test]
    fn labels_keep_apart_and_beside_their_teeth() {
        let (half, whole, largest) = ((26.8, 42.2), (50.9, 85.0), (67.0, 85.0));
        let many = [(2, 3, half), (8, 3, half), (12, 3, half), (18, 3, whole), (28, 3, largest)];
        for (count, lines, (radius_mm, aside_mm)) in many.into_iter().chain([(40, 2, largest)]) {
            let boxes = placed(&labels(count, lines), radius_mm, aside_mm);
            for (index, one) in boxes.iter().enumerate() {
                assert!(one.x0 >= -aside_mm && one.x1 <= aside_mm, "{count}: {one:?}");
                for other in &boxes[index + 1..] {
                    assert!(one.intersect(*other).area() <= 0.0, "{count}: {one:?} {other:?}");
                }
            }
        }
    }
}

//! The sizes beside the side view.

use kurbo::{Point, Vec2};
use shop::record::EndForm;

use crate::scene::{LengthDimension, Scene, Words, width_mm};

use super::super::leaf::{SMALL, signed, size};
use super::{AXIS_Y, CutterView, TIP_X};

/// From the body to the dimension lines beside it, and from one line to the next.
const AWAY_MM: f64 = 8.0;
const APART_MM: f64 = 7.5;

/// From the tip and from the shank's end to the dimension lines of diameters.
const BESIDE_MM: f64 = 5.0;

/// Room that the arrows of a short dimension need beside it.
const ARROWS_MM: f64 = 6.0;

/// Where the scale of the side view stands.
const SCALE_Y: f64 = 93.6;

impl CutterView<'_> {
    /// Half of what the side view takes of the leaf's height.
    pub(super) fn half_high_mm(&self) -> f64 {
        0.5 * self.body.diameter_mm.max(self.body.shank_mm) * self.scale.factor()
    }

    pub(super) fn draw_sizes(&self, scene: &mut Scene) {
        self.draw_lengths(scene);
        self.draw_diameter(scene);
        self.draw_shank(scene);
        self.name_corner(scene);
        self.draw_scale(scene);
    }

    fn draw_lengths(&self, scene: &mut Scene) {
        scene.part("lengths");
        let flute = size(self.cutter.flute_length(), self.system);
        let overall = size(self.cutter.overall_length(), self.system);
        let y = AXIS_Y + self.half_high_mm() + AWAY_MM;
        let has_shank = self.body.flute_mm < self.body.overall_mm;
        if has_shank {
            self.draw_length(scene, self.body.flute_mm, y, &format!("flutes {flute}"));
        }
        let overall = if has_shank {
            format!("overall {overall}")
        } else {
            format!("flutes and overall {overall}")
        };
        self.draw_length(scene, self.body.overall_mm, y + APART_MM, &overall);
    }

    /// A length from the tip, its figure above its line where there is room, else behind it.
    fn draw_length(&self, scene: &mut Scene, from_end_mm: f64, y: f64, words: &str) {
        let at = |from_end_mm: f64| Point::new(self.body.x(from_end_mm), y);
        let (from, to) = (at(0.0), at(from_end_mm));
        let (up_mm, away) = (0.5 * self.body.diameter_mm * self.scale.factor(), AXIS_Y);
        let down = y - away - up_mm;
        let lift = Vec2::new(0.0, -down);
        let away = Vec2::new(0.0, down);
        scene.dimension(LengthDimension { from: from + lift, to: to + lift, away });
        if width_mm(words, SMALL) + 2.0 < from.distance(to) {
            scene.text(Words::about((from.midpoint(to).x, y - 1.2), SMALL, words));
        } else {
            scene.text(Words::starting((to.x + ARROWS_MM, y + 1.2), SMALL, words));
        }
    }

    /// A diameter as a line across the body, `aside_mm` from one of its ends; gives its upper end.
    fn draw_across(&self, scene: &mut Scene, x: f64, across_mm: f64, aside_mm: f64) -> Point {
        let half = Vec2::new(0.0, 0.5 * across_mm * self.scale.factor());
        let end = Point::new(x, AXIS_Y);
        let (from, to, away) = (end + half, end - half, Vec2::new(aside_mm, 0.0));
        scene.dimension(LengthDimension { from, to, away });
        to + away
    }

    fn draw_diameter(&self, scene: &mut Scene) {
        scene.part("diameter");
        let upper = self.draw_across(scene, TIP_X, self.body.diameter_mm, -BESIDE_MM);
        self.point(scene, upper, &self.diameter_words());
    }

    /// The diameter as last ground beside the nominal one.
    pub(super) fn diameter_words(&self) -> [String; 2] {
        let nominal = format!("nominal {}", size(self.cutter.diameter(), self.system));
        let Some(ground) = self.ground() else {
            return [format!("⌀ {nominal}"), "as ground: not noted".to_owned()];
        };
        let change = signed(ground - self.cutter.diameter(), self.system);
        let change = change.map_or_else(String::new, |change| format!(" ({change})"));
        [format!("⌀ {} as last ground", ground.show(self.system)), format!("{nominal}{change}")]
    }

    fn draw_shank(&self, scene: &mut Scene) {
        if self.body.neck_mm() >= self.body.overall_mm {
            return;
        }
        scene.part("shank");
        let right = self.body.x(self.body.overall_mm);
        let upper = self.draw_across(scene, right, self.body.shank_mm, BESIDE_MM);
        let shank = size(self.cutter.shank_diameter(), self.system);
        self.point(scene, upper, &[format!("shank ⌀ {shank}")]);
    }

    fn name_corner(&self, scene: &mut Scene) {
        let corner_mm = self.body.corner_mm();
        let words = match self.cutter.end() {
            EndForm::Square => return,
            EndForm::CornerRadius(radius) => format!("corner R {}", size(radius, self.system)),
            EndForm::Ball => format!("ball R {}", self.ball(|length| size(length, self.system))),
        };
        scene.part("corner");
        // The middle of the rounding's arc, on the lower half of the side view.
        let along = corner_mm * (1.0 - std::f64::consts::FRAC_1_SQRT_2);
        let down = self.body.radius_mm(along) * self.scale.factor();
        self.point(scene, Point::new(self.body.x(along), AXIS_Y + down), &[words]);
    }

    /// The ball's radius as it is drawn.
    fn ball(&self, shown: impl Fn(geometry::Length) -> String) -> String {
        shown(self.ground().unwrap_or(self.cutter.diameter()) / 2.0)
    }

    fn draw_scale(&self, scene: &mut Scene) {
        scene.part("scale bar");
        let bar = Point::new(TIP_X + 24.0, SCALE_Y);
        scene.scale_bar(bar, self.scale, self.system, 20.0);
        scene.part("scale");
        let words = format!("side {}", self.scale.name());
        scene.text(Words::starting((TIP_X, SCALE_Y), SMALL, words));
    }
}

//! The axes of a graph: a step that people count in, and a frame that maps values to paper.

use geometry::{Length, System};
use kurbo::{Point, Rect, Vec2};

use super::frame::NOTE;
use crate::scene::{Scene, Weight, Words};

/// Length of a tick.
const TICK_MM: f64 = 1.5;

/// What the lengths of a graph are counted in.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(super) struct Unit {
    /// Its name.
    pub(super) name: &'static str,
    size: Length,
}

impl Unit {
    /// Thou where people work in inches, else millimetres.
    pub(super) const fn of(system: System) -> Self {
        match system {
            System::Inch => Self { name: "thou", size: Length::from_thou(1.0) },
            System::Millimetre => Self { name: "mm", size: Length::from_mm(1.0) },
        }
    }
}

/// The ticks of an axis from nothing to its end.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(super) struct Ticks {
    step: f64,
    count: u32,
    unit: Unit,
}

impl Ticks {
    /// The finest ticks, in steps of 1, 2 or 5, that are no more than so many up to a length.
    pub(super) fn up_to(end: Length, unit: Unit, most: u32) -> Self {
        let end = (end / unit.size).max(1e-9);
        let ten = 10.0_f64.powi((end / f64::from(most)).log10().floor() as i32);
        let enough = |step: &f64| end / step <= f64::from(most) * (1.0 + 1e-9);
        let step = [ten, 2.0 * ten, 5.0 * ten].into_iter().find(enough).unwrap_or(10.0 * ten);
        Self { step, count: (end / step + 1e-9).floor() as u32, unit }
    }

    /// Each tick with its figure.
    pub(super) fn each(self) -> impl Iterator<Item = (Length, String)> {
        let decimals = (-self.step.log10() - 1e-9).ceil().max(0.0) as usize;
        (0..=self.count).map(move |tick| {
            let value = self.step * f64::from(tick);
            (self.unit.size * value, format!("{value:.decimals$}"))
        })
    }
}

/// A graph's field: distances to the right from its left upper corner, drops down from it.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(super) struct Axes {
    /// Its paper below the line of no drop.
    pub(super) field: Rect,
    /// Distance at its right edge.
    pub(super) distance: Length,
    /// Drop at its lower edge.
    pub(super) drop: Length,
}

impl Axes {
    /// The place of a distance and a drop.
    pub(super) fn at(&self, distance: Length, drop: Length) -> Point {
        let right = distance / self.distance * self.field.width();
        self.field.origin() + Vec2::new(right, drop / self.drop * self.field.height())
    }

    /// Draws both axes with their ticks and names.
    pub(super) fn draw(&self, scene: &mut Scene, unit: Unit) {
        let Rect { x0, y0, x1, y1 } = self.field;
        scene.line(Point::new(x0, y0), Point::new(x1, y0), Weight::Thin);
        scene.line(Point::new(x0, y0), Point::new(x0, y1), Weight::Thin);
        for (distance, figure) in Ticks::up_to(self.distance, unit, 10).each() {
            let at = self.at(distance, Length::ZERO);
            scene.line(at, at - Vec2::new(0.0, TICK_MM), Weight::Thin);
            scene.text(Words::about(at - Vec2::new(0.0, TICK_MM + 1.2), NOTE, figure));
        }
        for (drop, figure) in Ticks::up_to(self.drop, unit, 8).each() {
            let at = self.at(Length::ZERO, drop);
            scene.line(at, at - Vec2::new(TICK_MM, 0.0), Weight::Thin);
            let beside = at + Vec2::new(-TICK_MM - 1.0, 0.36 * NOTE);
            scene.text(Words::ending(beside, NOTE, figure));
        }
        let name = format!("distance behind the edge, {}", unit.name);
        scene.text(Words::ending((x1, y0 - 8.0), NOTE, name));
        scene.text(Words::starting((5.0, y1 + 6.0), NOTE, format!("drop, {}", unit.name)));
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn figures(end: Length, system: System) -> Vec<String> {
        Ticks::up_to(end, Unit::of(system), 10).each().map(|(_, figure)| figure).collect()
    }

    #[test]
    fn ticks_are_counted_in_round_figures() {
        let thou = figures(Length::from_thou(32.0), System::Inch);
        assert_eq!(thou, ["0", "5", "10", "15", "20", "25", "30"]);
        let mm = figures(Length::from_mm(0.8), System::Millimetre);
        assert_eq!(mm, ["0.0", "0.1", "0.2", "0.3", "0.4", "0.5", "0.6", "0.7", "0.8"]);
        let fine = figures(Length::from_mm(0.15), System::Millimetre);
        assert_eq!(fine.last().map(String::as_str), Some("0.14"));
        assert_eq!(figures(Length::from_thou(3.1), System::Inch)[1], "0.5");
    }

    #[test]
    fn drops_run_down_and_distances_to_the_right() {
        let axes = Axes {
            field: Rect::new(20.0, 30.0, 120.0, 80.0),
            distance: Length::from_mm(1.0),
            drop: Length::from_mm(0.1),
        };
        assert_eq!(axes.at(Length::ZERO, Length::ZERO), Point::new(20.0, 30.0));
        assert_eq!(axes.at(Length::from_mm(0.5), Length::from_mm(0.1)), Point::new(70.0, 80.0));
    }
}

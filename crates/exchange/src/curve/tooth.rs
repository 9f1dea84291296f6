//! The section of a tooth as a drawing: dull, as the wheel leaves it, and the wheel's own curves.

use geometry::outline::Outline;
use geometry::section::GroundSection;
use geometry::{Angle, Length};
use shop::plan::{Peripheral, RegrindPlan};

use super::dxf::{Drawing, Layer};
use super::shape::{Point, Shape};

/// Points on each piece of a section, so many that the chords between them stand off by less than
/// the error on any cutter of the house.
const STEPS: u32 = 400;

/// The least error that is of use, in millimetres: what the section itself is computed to.
const ERROR_MM_MIN: f64 = 1e-5;

/// The section of the tooth that the plan grinds, square to the cutter's axis: the axis at zero,
/// the new edge straight above it, the heel to the right. None where the plan grinds no periphery.
///
/// Every curve is the simplest of line, arc and polyline from which no point stands off by more
/// than `error`.
pub fn tooth_drawing(plan: &RegrindPlan, error: Length) -> Option<Drawing> {
    let peripheral = plan.peripheral.as_ref()?;
    let error_mm = error.mm().max(ERROR_MM_MIN);
    let layer = |name, colour, shapes| Layer { name, colour, shapes };
    let heel = peripheral.outline_before.heel().heelward;
    Some(Drawing {
        title: format!("Cutter {}: section of a tooth", plan.request.cutter.number()),
        notes: notes(plan, error_mm),
        layers: vec![
            layer("DULL", 8, outlined(&peripheral.outline_before)),
            layer("GROUND", 7, after(peripheral, error_mm)),
            layer("PRIMARY_WHEEL", 5, pieces(&peripheral.section, heel, error_mm)),
            layer("SECONDARY_WHEEL", 4, pieces(&peripheral.secondary.section, heel, error_mm)),
            layer("CIRCLE", 1, vec![circle(peripheral, heel)]),
        ],
    })
}

fn notes(plan: &RegrindPlan, error_mm: f64) -> Vec<String> {
    let cutter = &plan.request.cutter;
    let mut notes = vec![
        format!("Curves within {error_mm:.4} mm of the computed section"),
        "Square to the axis, which lies at 0, 0; the new edge stands straight above it".to_owned(),
    ];
    if cutter.unequal_index() || cutter.unequal_helix() {
        notes.push("The teeth are unalike: this is the one that the set-up is made for".to_owned());
    }
    if cutter.taper() > Angle::ZERO {
        let taper = cutter.taper().show();
        notes.push(format!("Tapered by {taper} a side: elsewhere along it the section is another"));
    }
    notes
}

/// An outline is straight between its points.
fn outlined(outline: &Outline) -> Vec<Shape> {
    let points = outline.points().iter().map(|point| plane(point.heelward, point.radius));
    vec![Shape::Polyline { points: points.collect() }]
}

/// What is left of the tooth: the pieces of both sections as far as they lie lowest, and what the
/// wheel did not touch.
fn after(peripheral: &Peripheral, error_mm: f64) -> Vec<Shape> {
    let points: Vec<Point> = peripheral
        .outline_after
        .points()
        .iter()
        .map(|point| plane(point.heelward, point.radius))
        .collect();
    runs(&points, error_mm)
}

/// Points parted into the fewest runs, each of which one line or arc fits; the longest that fits is
/// taken first.
fn runs(points: &[Point], error_mm: f64) -> Vec<Shape> {
    let mut shapes = Vec::new();
    let mut from = 0;
    while from + 1 < points.len() {
        let fits = |to: usize| {
            let shape = Shape::through(&points[from..=to], error_mm);
            shape.is_some_and(|shape| !matches!(shape, Shape::Polyline { .. }))
        };
        let mut step = 1;
        while from + 2 * step < points.len() && fits(from + 2 * step) {
            step *= 2;
        }
        let most = (2 * step).min(points.len() - 1 - from);
        let to = (step..=most).rev().find(|to| fits(from + to)).unwrap_or(1);
        shapes.extend(Shape::through(&points[from..=from + to], error_mm));
        from += to;
    }
    shapes
}

/// The curves that a wheel would leave, piece by piece, from the edge to the heel.
fn pieces(section: &GroundSection, heel: Angle, error_mm: f64) -> Vec<Shape> {
    let within = section.pieces().into_iter().filter_map(|piece| {
        let from_rad = piece.from.radians().max(0.0);
        let to_rad = piece.to.radians().min(heel.radians());
        (from_rad < to_rad).then(|| points(section, from_rad, to_rad))
    });
    within.flat_map(|points| runs(&points, error_mm)).collect()
}

fn points(section: &GroundSection, from_rad: f64, to_rad: f64) -> Vec<Point> {
    let at = |step: u32| from_rad + (to_rad - from_rad) * f64::from(step) / f64::from(STEPS);
    let angles = (0..=STEPS).map(|step| Angle::from_radians(at(step)));
    let found = angles.filter_map(|angle| Some(plane(angle, section.radius_at(angle)?)));
    found.collect()
}

/// The cutting circle over the tooth.
fn circle(peripheral: &Peripheral, heel: Angle) -> Shape {
    let radius_mm = peripheral.section.circle_radius().mm();
    let from_deg = 90.0 - heel.degrees();
    Shape::Arc { centre: [0.0, 0.0], radius_mm, from_deg, to_deg: 90.0 }
}

/// Heelward of the edge's radius to the right, and outward along it.
fn plane(heelward: Angle, radius: Length) -> Point {
    [radius.mm() * heelward.sin(), radius.mm() * heelward.cos()]
}

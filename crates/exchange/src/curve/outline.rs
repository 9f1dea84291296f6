//! The outline of a cutter as a drawing: what it sweeps when it turns, and its shank.

use geometry::{Angle, Length};
use shop::record::{Cutter, EndForm, Wear};

use super::dxf::{Drawing, Layer};
use super::shape::{Point, Shape};

/// The outline of a cutter seen from its side: its tip at zero, its axis to the right toward the
/// shank. The diameter is the one measured last, else the one it was ground to, else nominal.
///
/// Behind the flutes the shank begins at once: no record says how the one runs into the other.
pub fn outline_drawing(cutter: &Cutter) -> Drawing {
    let (radius, whence) = diameter(cutter);
    let radius_mm = radius.mm() / 2.0;
    let above = half(cutter, radius_mm);
    let below = above.iter().map(mirrored).collect();
    let overall_mm = cutter.overall_length().mm();
    let axis = Shape::Line { from: [0.0, 0.0], to: [overall_mm, 0.0] };
    let layer = |name, colour, shapes| Layer { name, colour, shapes };
    Drawing {
        title: format!("Cutter {}: outline", cutter.number()),
        notes: notes(cutter, radius, whence),
        layers: vec![
            layer("OUTLINE_ABOVE", 7, above),
            layer("OUTLINE_BELOW", 7, below),
            layer("AXIS", 1, vec![axis]),
        ],
    }
}

fn notes(cutter: &Cutter, diameter: Length, whence: &str) -> Vec<String> {
    let mut notes = vec![
        format!("Diameter {whence}, {:.4} mm", diameter.mm()),
        "The tip lies at 0, 0 and the axis runs toward the shank".to_owned(),
    ];
    if cutter.taper() > Angle::ZERO {
        let taper = cutter.taper().show();
        notes.push(format!("Tapered by {taper} a side; the diameter is at the tip"));
    }
    notes
}

fn diameter(cutter: &Cutter) -> (Length, &'static str) {
    let measured = cutter.wear().and_then(Wear::measured_diameter);
    let ground = cutter.as_ground().map(|ground| ground.diameter);
    match (measured, ground) {
        (Some(measured), _) => (measured, "measured over dull edges"),
        (None, Some(ground)) => (ground, "as last ground"),
        (None, None) => (cutter.diameter(), "nominal"),
    }
}

/// The half above the axis, from the tip to the shank's end. The side of a tapered cutter begins
/// where it would meet the tip's plane at the stated diameter, and a corner's round lies against
/// both.
fn half(cutter: &Cutter, radius_mm: f64) -> Vec<Shape> {
    let taper = cutter.taper();
    let (sine, cosine, slope) = (taper.sin(), taper.cos(), taper.tan());
    // A ball lies against the side with its centre on the axis: R/cos − R·tan is the tip's radius.
    let ball_mm = radius_mm * cosine / (1.0 - sine);
    let rounding_mm = match cutter.end() {
        EndForm::Square => 0.0,
        EndForm::CornerRadius(radius) => radius.mm().min(ball_mm),
        EndForm::Ball => ball_mm,
    };
    let centre_mm = radius_mm + rounding_mm * slope - rounding_mm / cosine;
    let (flutes_mm, overall_mm) = (cutter.flute_length().mm(), cutter.overall_length().mm());
    let shank_mm = cutter.shank_diameter().mm() / 2.0;
    let face = Shape::Line { from: [0.0, 0.0], to: [0.0, centre_mm] };
    let corner = Shape::Arc {
        centre: [rounding_mm, centre_mm],
        radius_mm: rounding_mm,
        from_deg: 90.0 + taper.degrees(),
        to_deg: 180.0,
    };
    let along: [Point; 5] = [
        [rounding_mm * (1.0 - sine), centre_mm + rounding_mm * cosine],
        [flutes_mm, radius_mm + flutes_mm * slope],
        [flutes_mm, shank_mm],
        [overall_mm, shank_mm],
        [overall_mm, 0.0],
    ];
    let lines = along.windows(2).filter(|pair| pair[0] != pair[1]);
    let lines = lines.map(|pair| Shape::Line { from: pair[0], to: pair[1] });
    let has_face = rounding_mm < ball_mm;
    let end = has_face.then_some(face).into_iter();
    end.chain((rounding_mm > 0.0).then_some(corner)).chain(lines).collect()
}

fn mirrored(shape: &Shape) -> Shape {
    let point = |point: &Point| [point[0], -point[1]];
    match shape {
        Shape::Line { from, to } => Shape::Line { from: point(from), to: point(to) },
        Shape::Polyline { points } => {
            Shape::Polyline { points: points.iter().map(point).collect() }
        }
        Shape::Arc { centre, radius_mm, from_deg, to_deg } => Shape::Arc {
            centre: point(centre),
            radius_mm: *radius_mm,
            from_deg: (-to_deg).rem_euclid(360.0),
            to_deg: (-from_deg).rem_euclid(360.0),
        },
    }
}

//! Bodies of revolution: wheels, from their own half sections.

use std::f64::consts::TAU;

use nalgebra::Vector3;

use super::error::{SolidError, check_over_zero, check_size, chord_error_mm};
use super::mesh::{Mesh, Surface};
use crate::quantity::Length;
use crate::wheel::{ElementShape, Pose, ProfilePoint, WheelBody, WheelKind};

/// Fewest facets round a body.
const FACETS_MIN: f64 = 12.0;

/// The thickness of a cup's back, as a share of its depth (own choice, no source).
const BACK_SHARE: f64 = 0.25;

/// The body that a closed half section leaves when it is turned about the axis of a pose. The
/// section runs with the body on its left and must not cross itself or the axis.
///
/// **Source** \[own-derivation\] the sagitta r (1 − cos(π/n)) of n chords round the largest radius.
/// **Departs** nowhere. **Error** the chord error, beyond that of the section's own chords.
/// **Domain** radii of 0 and more; stretches that lie on the axis leave no surface.
///
/// # Errors
/// Where a radius is negative or no number, there are fewer than three points, or the chord error
/// asks for too many triangles.
pub fn revolution(
    half_section: &[ProfilePoint],
    pose: &Pose,
    chord_error: Length,
) -> Result<Mesh, SolidError> {
    let error_mm = chord_error_mm(chord_error)?;
    check(half_section)?;
    let radius_mm = half_section.iter().map(|point| point.radius_mm).fold(0.0, f64::max);
    let half_rad = (1.0 - (error_mm / radius_mm).min(1.0)).acos();
    let facets = (std::f64::consts::PI / half_rad).ceil().max(FACETS_MIN);
    check_size(2.0 * facets * half_section.len() as f64, error_mm)?;
    Ok(turned(half_section, pose, facets as u32))
}

fn check(half_section: &[ProfilePoint]) -> Result<(), SolidError> {
    let is_sound =
        |point: &ProfilePoint| (0.0..1e4).contains(&point.radius_mm) && point.axial_mm.abs() < 1e4;
    if !half_section.iter().all(is_sound) {
        return Err(SolidError::invalid("half_section", "a point is not within 0 to 10 m"));
    }
    let off_axis = half_section.iter().filter(|point| point.radius_mm > 0.0).count();
    if half_section.len() < 3 || off_axis == 0 {
        return Err(SolidError::invalid("half_section", "it has no area"));
    }
    Ok(())
}

fn turned(half_section: &[ProfilePoint], pose: &Pose, facets: u32) -> Mesh {
    let mut points = Vec::with_capacity(half_section.len() * facets as usize);
    let mut starts = Vec::with_capacity(half_section.len());
    for point in half_section {
        starts.push(points.len() as u32);
        let centre = pose.origin + pose.axis * point.axial_mm;
        // A point on the axis stays one.
        let around = if point.radius_mm > 0.0 { facets } else { 1 };
        points.extend((0..around).map(|facet| {
            let (sin, cos) = (TAU * f64::from(facet) / f64::from(facets)).sin_cos();
            let outward: Vector3<f64> = pose.near * cos + pose.side * sin;
            centre + outward * point.radius_mm
        }));
    }
    let is_pole = |at: usize| half_section[at].radius_mm <= 0.0;
    let place = |at: usize, facet: u32| starts[at] + if is_pole(at) { 0 } else { facet % facets };
    let mut mesh = Mesh::with_points(points);
    for at in 0..half_section.len() {
        let next = (at + 1) % half_section.len();
        for facet in 0..facets {
            let (a, b) = (place(at, facet), place(next, facet));
            let (c, d) = (place(next, facet + 1), place(at, facet + 1));
            mesh.add(Surface::Whole, (!is_pole(at)).then_some([a, d, c]));
            mesh.add(Surface::Whole, (!is_pole(next)).then_some([a, c, b]));
        }
    }
    mesh
}

/// A wheel's half section as a closed line, for [`revolution`]: its own profile as far as its
/// depth, a cup closed behind by a plain back, with a bore. Back and bore are a picture.
///
/// # Errors
/// Where a size is not more than 0, or the bore is no less than the wheel.
pub fn wheel_half_section(
    body: &WheelBody,
    depth: Length,
    bore: Length,
    chord_error: Length,
) -> Result<Vec<ProfilePoint>, SolidError> {
    let error_mm = chord_error_mm(chord_error)?;
    check_over_zero("depth", depth)?;
    check_over_zero("bore", bore)?;
    let line = polyline(body, error_mm);
    let bore_mm = 0.5 * bore.mm();
    let last = line.len() - 1;
    let ends = match body.kind() {
        WheelKind::Disc => [
            vec![ProfilePoint::new(bore_mm, line[0].axial_mm)],
            vec![ProfilePoint::new(bore_mm, line[last].axial_mm)],
        ],
        WheelKind::Cup => {
            let depth_mm = depth.mm();
            let floor_mm = depth_mm * (1.0 - BACK_SHARE);
            let inner = toward(line[1], line[0], floor_mm, bore_mm);
            let outer = toward(line[last - 1], line[last], depth_mm, bore_mm);
            [
                vec![ProfilePoint::new(bore_mm, inner.axial_mm), inner],
                vec![outer, ProfilePoint::new(bore_mm, outer.axial_mm)],
            ]
        }
    };
    if line[1..last].iter().any(|point| point.radius_mm <= bore_mm) {
        let reason = format!("{} mm leaves nothing of the wheel", bore.mm());
        return Err(SolidError::invalid("bore", reason));
    }
    let [head, tail] = ends;
    let mut all = [&head[..], &line[1..last], &tail].concat();
    all.dedup_by(|a, b| (a.radius_mm - b.radius_mm).hypot(a.axial_mm - b.axial_mm) < 1e-9);
    Ok(all)
}

/// From the face's end of a wall to where it is as deep as the wheel, or as near the axis as the
/// bore.
fn toward(from: ProfilePoint, to: ProfilePoint, axial_mm: f64, radius_mm: f64) -> ProfilePoint {
    let (radial, axial) = (to.radius_mm - from.radius_mm, to.axial_mm - from.axial_mm);
    // A wall that never comes to the bore is as long as the depth says, and the other way round.
    let share = |wanted: f64, run: f64| if run.abs() > 1e-9 { wanted / run } else { f64::MAX };
    let by_depth = share(axial_mm - from.axial_mm, axial);
    let by_bore = share(radius_mm - from.radius_mm, radial);
    let nearest = [by_depth, by_bore].into_iter().filter(|share| *share > 0.0);
    let share = nearest.fold(f64::MAX, f64::min);
    let share = if share < f64::MAX { share } else { 1.0 };
    ProfilePoint::new(from.radius_mm + radial * share, from.axial_mm + axial * share)
}

/// The profile's lines and arcs as points; arcs by chords that stand off by no more than the error.
fn polyline(body: &WheelBody, error_mm: f64) -> Vec<ProfilePoint> {
    let mut points = Vec::new();
    for element in body.profile().elements() {
        match element.shape {
            ElementShape::Line { from, direction, length_mm } => {
                let (radial, axial) = (direction.0 * length_mm, direction.1 * length_mm);
                points.push(from);
                points.push(ProfilePoint::new(from.radius_mm + radial, from.axial_mm + axial));
            }
            ElementShape::Arc { centre, radius_mm, from_rad, to_rad } => {
                let step_rad = 2.0 * (1.0 - (error_mm / radius_mm).min(1.0)).acos();
                let parts = ((to_rad - from_rad) / step_rad).ceil().max(1.0);
                points.extend((0..=parts as u32).map(|part| {
                    let at_rad = from_rad + (to_rad - from_rad) * f64::from(part) / parts;
                    let (sin, cos) = at_rad.sin_cos();
                    let radial_mm = centre.radius_mm + radius_mm * cos;
                    ProfilePoint::new(radial_mm.max(0.0), centre.axial_mm + radius_mm * sin)
                }));
            }
        }
    }
    points.dedup_by(|a, b| (a.radius_mm - b.radius_mm).hypot(a.axial_mm - b.axial_mm) < 1e-9);
    points
}

//! The half section of a wheel: lines and arcs in the plane of its axis.
//!
//! A point has a radius from the wheel's axis and a place along it. The outline runs with the
//! wheel's body on its left, so the outward normal lies to the right of the way it runs.

use thiserror::Error;

use super::corner::Corner;

/// A point of a profile, in millimetres.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct ProfilePoint {
    /// Distance from the wheel's axis.
    pub radius_mm: f64,
    /// Place along the wheel's axis, from the leading corner's face into the body.
    pub axial_mm: f64,
}

impl ProfilePoint {
    /// A point from its two coordinates in millimetres.
    pub const fn new(radius_mm: f64, axial_mm: f64) -> Self {
        Self { radius_mm, axial_mm }
    }

    pub(crate) fn toward(self, direction: (f64, f64), by_mm: f64) -> Self {
        Self::new(self.radius_mm + direction.0 * by_mm, self.axial_mm + direction.1 * by_mm)
    }
}

/// Which part of a wheel a stretch of its profile is.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub enum Part {
    /// The surface meant to grind: a cup's rim face or a disc's periphery.
    Face,
    /// The corner nearest the cutter because of the lean.
    LeadingCorner,
    /// The other corner of the face.
    TrailingCorner,
    /// The flank behind the leading corner: a cup's outer wall or a disc's leading end.
    LeadingFlank,
    /// The flank behind the trailing corner: a cup's inner wall or a disc's trailing end.
    TrailingFlank,
}

/// A line or an arc of a profile.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum ElementShape {
    /// A straight stretch.
    Line {
        /// Where it starts.
        from: ProfilePoint,
        /// Unit direction (radial, axial) in which it runs.
        direction: (f64, f64),
        /// How long it is.
        length_mm: f64,
    },
    /// An arc, given by its centre; its outward normal turns from one angle to the other.
    Arc {
        /// Its centre.
        centre: ProfilePoint,
        /// Its radius.
        radius_mm: f64,
        /// Angle of the outward normal at its start, from the radial direction toward +axial.
        from_rad: f64,
        /// Angle of the outward normal at its end; not less than at its start.
        to_rad: f64,
    },
}

impl ElementShape {
    /// How long it is.
    pub(crate) const fn length_mm(&self) -> f64 {
        match *self {
            Self::Line { length_mm, .. } => length_mm,
            Self::Arc { radius_mm, from_rad, to_rad, .. } => radius_mm * (to_rad - from_rad),
        }
    }

    /// The point so far along it from its start.
    pub(crate) fn at(&self, along_mm: f64) -> ProfilePoint {
        match *self {
            Self::Line { from, direction, .. } => from.toward(direction, along_mm),
            Self::Arc { centre, radius_mm, from_rad, .. } => {
                let (sin, cos) = (from_rad + along_mm / radius_mm).sin_cos();
                centre.toward((cos, sin), radius_mm)
            }
        }
    }
}

/// One stretch of a profile and the part of the wheel that it is.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Element {
    /// The part.
    pub part: Part,
    /// The line or arc.
    pub shape: ElementShape,
}

/// A point where two stretches meet; turned about the axis it is a circle of the wheel.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Vertex {
    /// The part to which a cut by this circle is ascribed.
    pub part: Part,
    /// Where it is.
    pub at: ProfilePoint,
}

/// The half section of a wheel, at least the part of it that can meet a cutter.
#[derive(Clone, Debug, PartialEq)]
pub struct Profile {
    elements: Vec<Element>,
    vertices: Vec<Vertex>,
}

/// Why an outline is not a wheel's profile.
#[derive(Clone, Copy, Debug, Error, PartialEq)]
pub enum ProfileError {
    /// A size is negative, zero or not a number.
    #[error("the wheel's {what} is {value_mm} mm: it must be {needs}")]
    Size {
        /// The size in question.
        what: &'static str,
        /// Its value.
        value_mm: f64,
        /// What it must be.
        needs: &'static str,
    },
    /// A corner takes away more than its flanks have.
    #[error(
        "the wheel's corners take {taken_mm:.4} mm of a stretch that is {length_mm:.4} mm long: \
         make the corner smaller or the face wider"
    )]
    CornerTooLarge {
        /// What the corners take.
        taken_mm: f64,
        /// What there is.
        length_mm: f64,
    },
}

/// A wheel's face between its two flanks, before its corners are finished.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(crate) struct Outline {
    /// The ends of the three stretches.
    pub(crate) points: [ProfilePoint; 4],
    /// The parts of the three stretches, in order: a flank, the face, the other flank.
    pub(crate) parts: [Part; 3],
    /// The two corners between them: their part and finish.
    pub(crate) corners: [(Part, Corner); 2],
}

impl Profile {
    /// The stretches, in order.
    pub fn elements(&self) -> &[Element] {
        &self.elements
    }

    /// The points where stretches meet.
    pub fn vertices(&self) -> &[Vertex] {
        &self.vertices
    }

    /// Whether a point lies in the wheel's body.
    pub(crate) fn holds(&self, point: ProfilePoint) -> bool {
        self.elements.iter().all(|element| match element.shape {
            ElementShape::Line { from, direction, .. } => {
                let (radial, axial) = outward(direction);
                let (r, a) = (point.radius_mm - from.radius_mm, point.axial_mm - from.axial_mm);
                r * radial + a * axial <= 0.0
            }
            ElementShape::Arc { centre, radius_mm, from_rad, to_rad } => {
                let (r, a) = (point.radius_mm - centre.radius_mm, point.axial_mm - centre.axial_mm);
                let beside = (a.atan2(r) - from_rad).rem_euclid(std::f64::consts::TAU);
                beside > to_rad - from_rad || r.hypot(a) <= radius_mm
            }
        })
    }

    /// Finishes the corners of a three-stretch outline.
    pub(crate) fn from_outline(outline: &Outline) -> Result<Self, ProfileError> {
        let stretches = stretches(&outline.points);
        let taken = [0, 1].map(|corner| {
            let turn_rad = turn_between(&stretches[corner], &stretches[corner + 1]);
            let (face_mm, flank_mm) = outline.corners[corner].1.taken_mm(turn_rad);
            if corner == 0 { (flank_mm, face_mm) } else { (face_mm, flank_mm) }
        });
        let start_mm = [0.0, taken[0].1, taken[1].1];
        let end_mm = [taken[0].0, taken[1].0, 0.0];
        let mut profile = Self { elements: Vec::with_capacity(5), vertices: Vec::with_capacity(4) };
        for index in 0..3 {
            let stretch = &stretches[index];
            profile.add_line(outline.parts[index], stretch, start_mm[index], end_mm[index])?;
            if index < 2 {
                let after = &stretches[index + 1];
                profile.add_corner(outline.corners[index], taken[index], stretch, after);
            }
        }
        Ok(profile)
    }

    fn add_line(
        &mut self,
        part: Part,
        stretch: &Stretch,
        start_mm: f64,
        end_mm: f64,
    ) -> Result<(), ProfileError> {
        let length_mm = stretch.length_mm - start_mm - end_mm;
        if length_mm < 0.0 {
            let taken_mm = start_mm + end_mm;
            return Err(ProfileError::CornerTooLarge { taken_mm, length_mm: stretch.length_mm });
        }
        let from = stretch.from.toward(stretch.direction, start_mm);
        let shape = ElementShape::Line { from, direction: stretch.direction, length_mm };
        self.elements.push(Element { part, shape });
        Ok(())
    }

    fn add_corner(
        &mut self,
        (part, corner): (Part, Corner),
        (back_mm, forward_mm): (f64, f64),
        before: &Stretch,
        after: &Stretch,
    ) {
        let first = before.end().toward(before.direction, -back_mm);
        let second = after.from.toward(after.direction, forward_mm);
        self.vertices.push(Vertex { part, at: first });
        match corner {
            Corner::Sharp => return,
            Corner::Round { radius_mm } => {
                let normal = outward(before.direction);
                let from_rad = normal.1.atan2(normal.0);
                let centre = first.toward(normal, -radius_mm);
                let to_rad = from_rad + turn_between(before, after);
                let shape = ElementShape::Arc { centre, radius_mm, from_rad, to_rad };
                self.elements.push(Element { part, shape });
            }
            Corner::Worn { .. } => {
                let Stretch { direction, length_mm, .. } = Stretch::between(first, second);
                let shape = ElementShape::Line { from: first, direction, length_mm };
                self.elements.push(Element { part, shape });
            }
        }
        self.vertices.push(Vertex { part, at: second });
    }
}

/// The outward normal of a stretch that runs in `direction` with the body on its left.
pub(crate) const fn outward(direction: (f64, f64)) -> (f64, f64) {
    (direction.1, -direction.0)
}

struct Stretch {
    from: ProfilePoint,
    direction: (f64, f64),
    length_mm: f64,
}

impl Stretch {
    fn between(from: ProfilePoint, to: ProfilePoint) -> Self {
        let (radial, axial) = (to.radius_mm - from.radius_mm, to.axial_mm - from.axial_mm);
        let length_mm = radial.hypot(axial);
        let scale = if length_mm > 0.0 { 1.0 / length_mm } else { 0.0 };
        Self { from, direction: (radial * scale, axial * scale), length_mm }
    }

    fn end(&self) -> ProfilePoint {
        self.from.toward(self.direction, self.length_mm)
    }
}

fn stretches(points: &[ProfilePoint; 4]) -> [Stretch; 3] {
    [
        Stretch::between(points[0], points[1]),
        Stretch::between(points[1], points[2]),
        Stretch::between(points[2], points[3]),
    ]
}

fn turn_between(before: &Stretch, after: &Stretch) -> f64 {
    let (a, b) = (before.direction, after.direction);
    (a.0 * b.1 - a.1 * b.0).atan2(a.0 * b.0 + a.1 * b.1)
}

//! The turns between the two bodies of a relation, with everything that stands still folded away.

use nalgebra::{Unit, UnitQuaternion, Vector3};

use super::joint::{Joint, Settings, Side};
use super::linkage::Linkage;
use super::relation::{Arrow, Body, Relation, Sense};

/// A free swivel on the way from one body to the other.
#[derive(Clone, Copy, Debug)]
pub(super) struct Step {
    /// Its place in the list of free joints.
    pub(super) which: usize,
    /// Its axis in the outer body's frame, with all free swivels at 0; turned round where the
    /// swivel carries the outer body.
    pub(super) axis: Vector3<f64>,
}

/// What is wanted of the turned arrow.
#[derive(Clone, Copy, Debug)]
pub(super) enum Aim {
    /// To lie along the target, or against it, or either.
    Along(Sense),
    /// To stand at an angle to it, in radians.
    AtAngle(f64),
}

/// A relation as turns: `start`, turned by the last step first, is to meet `target`.
#[derive(Clone, Debug)]
pub(super) struct Path {
    pub(super) steps: Vec<Step>,
    pub(super) start: Vector3<f64>,
    pub(super) target: Vector3<f64>,
    pub(super) aim: Aim,
    /// The bodies, the inner first.
    pub(super) bodies: (Body, Body),
}

/// An angle nearer than this to 0 or 180 degrees is asked for as a parallel.
const PARALLEL_RAD: f64 = 1e-9;

impl Path {
    /// The path of a relation. Its arrows are put in a fixed order of bodies, so that relations of
    /// the same two bodies have the same steps.
    pub(super) fn new(
        linkage: &Linkage,
        relation: &Relation,
        free: &[usize],
        stand: &Settings,
    ) -> Self {
        let (inner, outer) = in_order(relation.arrows());
        let mut steps = Vec::new();
        let mut turned = home(linkage, outer.body).inverse();
        for (index, joint) in carriers(linkage, outer.body).rev() {
            pass(&mut steps, &mut turned, (index, joint, -1.0), free, stand);
        }
        for (index, joint) in carriers(linkage, inner.body) {
            pass(&mut steps, &mut turned, (index, joint, 1.0), free, stand);
        }
        let start = turned * home(linkage, inner.body) * inner.direction.vector();
        let target = outer.direction.vector();
        Self { steps, start, target, aim: aim(relation), bodies: (inner.body, outer.body) }
    }

    /// Where the free swivels' stands put the arrow.
    pub(super) fn reached(&self, stands: &[f64]) -> Vector3<f64> {
        let turn = |arrow, step: &Step| turned(&step.axis, stands[step.which], &arrow);
        self.steps.iter().rev().fold(self.start, turn)
    }

    /// The turned arrow, and how it moves as each step turns.
    pub(super) fn moved(&self, stands: &[f64], moves: &mut Vec<Vector3<f64>>) -> Vector3<f64> {
        moves.clear();
        let mut arrow = self.start;
        for step in self.steps.iter().rev() {
            let stand = stands[step.which];
            arrow = turned(&step.axis, stand, &arrow);
            for earlier in moves.iter_mut() {
                *earlier = turned(&step.axis, stand, earlier);
            }
            moves.push(step.axis.cross(&arrow));
        }
        moves.reverse();
        arrow
    }

    /// The direction that the arrow is to meet, the nearer one where either way will do.
    pub(super) fn wanted(&self, arrow: &Vector3<f64>) -> Vector3<f64> {
        match self.aim {
            Aim::Along(Sense::Opposite) => -self.target,
            Aim::Along(Sense::Either) if arrow.dot(&self.target) < 0.0 => -self.target,
            _ => self.target,
        }
    }

    /// The angle by which stands miss the relation, in radians.
    pub(super) fn miss_rad(&self, stands: &[f64]) -> f64 {
        let arrow = self.reached(stands);
        let between = angle_rad(&arrow, &self.wanted(&arrow));
        match self.aim {
            Aim::Along(_) => between,
            Aim::AtAngle(angle) => (between - angle).abs(),
        }
    }
}

/// The angle between two unit vectors.
pub(super) fn angle_rad(first: &Vector3<f64>, second: &Vector3<f64>) -> f64 {
    first.cross(second).norm().atan2(first.dot(second))
}

/// A vector turned about a unit axis by the right-hand rule.
pub(super) fn turned(axis: &Vector3<f64>, by_rad: f64, vector: &Vector3<f64>) -> Vector3<f64> {
    let (sin, cos) = by_rad.sin_cos();
    vector * cos + axis.cross(vector) * sin + axis * (axis.dot(vector) * (1.0 - cos))
}

fn aim(relation: &Relation) -> Aim {
    match *relation {
        Relation::Along { sense, .. } => Aim::Along(sense),
        Relation::AtAngle { angle, .. } if angle.radians().abs() < PARALLEL_RAD => {
            Aim::Along(Sense::Same)
        }
        Relation::AtAngle { angle, .. }
            if (angle.radians() - std::f64::consts::PI).abs() < PARALLEL_RAD =>
        {
            Aim::Along(Sense::Opposite)
        }
        Relation::AtAngle { angle, .. } => Aim::AtAngle(angle.radians()),
    }
}

fn in_order<'a>((one, other): (&'a Arrow, &'a Arrow)) -> (&'a Arrow, &'a Arrow) {
    let rank = |body| match body {
        Body::Cutter => 0,
        Body::Wheel => 1,
        Body::Floor => 2,
    };
    if rank(one.body) <= rank(other.body) { (one, other) } else { (other, one) }
}

fn home(linkage: &Linkage, body: Body) -> UnitQuaternion<f64> {
    let side = linkage.of_body(body);
    side.map_or_else(UnitQuaternion::identity, |(_, home)| home.motion.rotation)
}

/// The joints that carry a body, from the floor outward.
fn carriers(
    linkage: &Linkage,
    body: Body,
) -> impl DoubleEndedIterator<Item = (usize, &Joint)> + use<'_> {
    let side: Option<Side> = linkage.of_body(body).map(|(side, _)| side);
    let carries = move |(_, joint): &(usize, &Joint)| Some(joint.side()) == side;
    linkage.joints().iter().enumerate().filter(carries)
}

/// Goes past one joint: a free swivel becomes a step, any other joint is turned by as it stands.
fn pass(
    steps: &mut Vec<Step>,
    turned: &mut UnitQuaternion<f64>,
    (index, joint, sense): (usize, &Joint, f64),
    free: &[usize],
    stand: &Settings,
) {
    let Some(axis) = joint.axis() else { return };
    match free.iter().position(|&one| one == index) {
        Some(which) => steps.push(Step { which, axis: *turned * axis * sense }),
        None => {
            let by_rad = sense * stand.stand(index);
            *turned *= UnitQuaternion::from_axis_angle(&Unit::new_unchecked(axis), by_rad);
        }
    }
}

//! Chains of swivels: formulas in print, and random chains turned by a library of rotations that
//! shares nothing with the house's own.

use geometry::Angle;
use geometry::chain::{
    Arrow, Direction, Joint, Linkage, Relation, Sense, Settings, Side, Solution,
};
use glam::{DQuat, DVec3};

use crate::bench::degrees;
use crate::ledger::{Grade, Topic};

/// A direction of these parts.
fn direction(x: f64, y: f64, z: f64) -> Direction {
    Direction::new(x, y, z).unwrap_or(Direction::UP)
}

/// Everything that meets relations by some swivels, from home; nothing where they are refused.
fn solved(linkage: &Linkage, relations: &[Relation], free: &[usize]) -> Vec<Solution> {
    linkage.solve(relations, free, &linkage.home()).unwrap_or_default()
}

/// The turns of the first solution whose first swivel stands where a hand would have it.
fn turns(found: &[Solution], joints: usize) -> Option<Vec<f64>> {
    let handy = found.iter().min_by(|one, other| {
        let way = |it: &Solution| (0..joints).map(|at| it.settings.turn(at).degrees().abs()).sum();
        let (one, other): (f64, f64) = (way(one), way(other));
        one.total_cmp(&other)
    })?;
    Some((0..joints).map(|at| handy.settings.turn(at).degrees()).collect())
}

fn angle_at(turns: &Option<Vec<f64>>, at: usize) -> f64 {
    turns.as_ref().map_or(f64::NAN, |turns| turns[at].abs())
}

/// A plate that is to be machined at angles A and B, measured in two upright planes square to each
/// other, is turned by R on its base and tipped by C about the pivot of the vise:
/// tan R = tan B / tan A, tan C = tan A / cos R.
pub(crate) fn a_plate_in_a_vise() -> Topic {
    let source = ("machinerys-handbook", "31st ed., p. 121, compound angles, fig. 4 (read)");
    let topic = Topic::new("Compound angle in a swivel vise", source, Grade::B, "deg");
    let cases = [(10.0, 10.0), (5.0, 20.0), (30.0, 15.0), (1.0, 7.0), (45.0, 45.0)];
    cases.into_iter().fold(topic, |topic, (a, b)| {
        let (tan_a, tan_b) = (degrees(a).tan(), degrees(b).tan());
        let r = (tan_b / tan_a).atan();
        let c = (tan_a / r.cos()).atan();
        let linkage = Linkage::facing(vec![
            Joint::swivel(Side::Cutter, Direction::TOWARD_WHEEL),
            Joint::swivel(Side::Cutter, Direction::UP),
        ]);
        // At home the plate's own x lies along Y, its y up and its z along X, so that the plate
        // slopes by A along X and by B along Y.
        let normal = direction(-tan_b, 1.0, -tan_a);
        let level = Relation::Along {
            of: Arrow::of_cutter(normal),
            to: Arrow::of_floor(Direction::UP),
            sense: Sense::Same,
        };
        let found = turns(&solved(&linkage, &[level], &[0, 1]), 2);
        topic
            .near(format!("A {a}, B {b}: turned by R"), r.to_degrees(), 1e-9, angle_at(&found, 1))
            .near(format!("A {a}, B {b}: tipped by C"), c.to_degrees(), 1e-9, angle_at(&found, 0))
    })
}

/// Two hinges square to each other, the second carried by the first. A plate that slopes by A along
/// one and by B along the other is made level by B on the hinge next to it, and by the compound
/// angle of tan A · cos B on the base.
pub(crate) fn two_hinges() -> Topic {
    let source = ("machinerys-handbook", "compound sine plate, tan A cos B (from memory)");
    let topic = Topic::new("Base hinge of a compound plate", source, Grade::B, "deg");
    let cases = [(10.0, 10.0), (5.0, 20.0), (30.0, 15.0), (1.0, 7.0), (45.0, 45.0)];
    cases.into_iter().fold(topic, |topic, (a, b)| {
        let (tan_a, tan_b) = (degrees(a).tan(), degrees(b).tan());
        let linkage = Linkage::facing(vec![
            Joint::swivel(Side::Cutter, Direction::TOWARD_WHEEL),
            Joint::swivel(Side::Cutter, Direction::ALONG),
        ]);
        let level = Relation::Along {
            of: Arrow::of_cutter(direction(-tan_b, 1.0, -tan_a)),
            to: Arrow::of_floor(Direction::UP),
            sense: Sense::Same,
        };
        let found = turns(&solved(&linkage, &[level], &[0, 1]), 2);
        let base = (tan_a * degrees(b).cos()).atan().to_degrees();
        topic.near(format!("A {a}, B {b}: base"), base, 1e-9, angle_at(&found, 0)).near(
            format!("A {a}, B {b}: next to the plate"),
            b,
            1e-9,
            angle_at(&found, 1),
        )
    })
}

/// tan W = tan R · tan H for a wheel whose head tips by the relief on a swivel that leans by W: its
/// face then lies along the tooth's helix and falls behind the edge by R, with the tooth on centre.
pub(crate) fn a_tipped_head_along_a_helix() -> Topic {
    let source = ("machinerys-handbook", "eccentric relief (from memory), as a chain");
    let topic = Topic::new("Lean and tilt of a head along a helix", source, Grade::B, "deg");
    let cases = [(10.0, 30.0), (6.0, 30.0), (7.0, 45.0), (12.0, 20.0), (8.0, 38.0)];
    cases.into_iter().fold(topic, |topic, (relief, helix)| {
        let linkage = Linkage::facing(vec![
            Joint::swivel(Side::Wheel, Direction::UP),
            Joint::swivel(Side::Wheel, Direction::ALONG),
        ]);
        // Heelward along the relief, and along the edge: the cutter's own x is the radius, y the
        // heel, z toward the shank.
        let (sin, cos) = (degrees(relief).sin(), degrees(relief).cos());
        let back = DVec3::new(-sin, cos, 0.0);
        let edge = DVec3::new(0.0, degrees(helix).tan(), 1.0);
        let normal = back.cross(edge);
        let wish = Relation::plane_in_face(direction(normal.x, normal.y, normal.z));
        let found = turns(&solved(&linkage, &[wish], &[0, 1]), 2);
        let lean = (degrees(relief).tan() * degrees(helix).tan()).atan().to_degrees();
        topic.near(format!("R {relief}, H {helix}: lean"), lean, 1e-9, angle_at(&found, 0))
    })
}

/// Random numbers by Knuth's congruential generator, the same on every run.
struct Random(u64);

impl Random {
    /// Between −1 and 1.
    fn part(&mut self) -> f64 {
        self.0 =
            self.0.wrapping_mul(6_364_136_223_846_793_005).wrapping_add(1_442_695_040_888_963_407);
        ((self.0 >> 33) as f64 / (1_u64 << 30) as f64) - 1.0
    }

    /// A direction, all alike likely.
    fn direction(&mut self) -> DVec3 {
        loop {
            let vector = DVec3::new(self.part(), self.part(), self.part());
            if (0.1..1.0).contains(&vector.length()) {
                return vector.normalize();
            }
        }
    }

    /// A turn short of half a circle.
    fn turn(&mut self) -> f64 {
        3.1 * self.part()
    }
}

/// How near a chain stands to where its swivels cannot tell each other apart.
#[derive(Clone, Copy, PartialEq)]
enum Kind {
    /// Anything at all, with neighbouring axes 10 degrees apart or more.
    Plain,
    /// Two neighbouring axes within a hundredth of a degree of each other.
    AxesInLine,
    /// The two solutions within a few hundredths of a degree of each other.
    AtTheLimit,
}

/// A hundredth of a degree.
const LITTLE: f64 = 1.745e-4;

/// A chain drawn at random with the settings that it shall be found at.
struct Drawn {
    axes: Vec<DVec3>,
    on_wheel: Vec<bool>,
    turns: Vec<f64>,
    normal: DVec3,
    edge: DVec3,
}

impl Drawn {
    fn new(random: &mut Random, kind: Kind, count: usize) -> Self {
        loop {
            let mut axes: Vec<DVec3> = (0..count).map(|_| random.direction()).collect();
            if kind == Kind::AxesInLine {
                axes[1] = (axes[0] + LITTLE * random.direction()).normalize();
            }
            // The path runs through the wheel's swivels first, from the wheel to the floor.
            let on_wheel: Vec<bool> = (0..count).map(|_| random.part() > 0.0).collect();
            let turns = (0..count).map(|_| random.turn()).collect();
            let (mut normal, edge) = (random.direction(), random.direction());
            let drawn = |normal| Self {
                axes: axes.clone(),
                on_wheel: if kind == Kind::Plain { on_wheel.clone() } else { vec![false; count] },
                turns,
                normal,
                edge,
            };
            if kind == Kind::AtTheLimit {
                // Turned by the inner swivel the direction comes near the plane of both axes, where
                // the two solutions fall together.
                let turn: f64 = random.turn();
                let mut made = drawn(normal);
                made.turns[count - 1] = turn;
                let across = made.axes[count - 2].cross(made.axes[count - 1]).normalize();
                let in_plane = (DQuat::from_axis_angle(across, random.turn())
                    * made.axes[count - 1]
                    + LITTLE * across)
                    .normalize();
                let back = DQuat::from_axis_angle(made.axes[count - 1], -turn);
                normal = made.own(back * in_plane);
                made.normal = normal;
                return made;
            }
            let apart = axes.windows(2).all(|pair| pair[0].cross(pair[1]).length() > 0.17);
            if kind == Kind::AxesInLine || apart {
                return drawn(normal);
            }
        }
    }

    /// A direction of the floor in the frame of a cutter at home: x along Y, y along Z, z along X.
    fn own(&self, floor: DVec3) -> DVec3 {
        DVec3::new(floor.y, floor.z, floor.x)
    }

    /// The machine's turn of one side, by the other library.
    fn turned(&self, of_wheel: bool, turns: &[f64]) -> DQuat {
        let ours = (0..self.axes.len()).filter(|&at| self.on_wheel[at] == of_wheel);
        ours.fold(DQuat::IDENTITY, |turned, at| {
            turned * DQuat::from_axis_angle(self.axes[at], turns[at])
        })
    }

    /// A direction of the cutter in the wheel's frame: x along X, y along Z, z along −Y at home.
    fn on_the_wheel(&self, own: DVec3, turns: &[f64]) -> DVec3 {
        let floor = self.turned(false, turns) * DVec3::new(own.z, own.x, own.y);
        let seen = self.turned(true, turns).inverse() * floor;
        DVec3::new(seen.x, seen.z, -seen.y)
    }

    fn linkage(&self) -> Linkage {
        let joint = |at: usize| {
            let side = if self.on_wheel[at] { Side::Wheel } else { Side::Cutter };
            Joint::swivel(side, plain(self.axes[at]))
        };
        Linkage::facing((0..self.axes.len()).map(joint).collect())
    }

    /// What the settings drawn make of the normal, and of the edge where three swivels are drawn.
    fn relations(&self, kept: Kept) -> Vec<Relation> {
        let seen = |own: DVec3| self.on_the_wheel(own, &self.turns);
        let along = |own: DVec3| Relation::cutter_along_wheel(plain(own), plain(seen(own)));
        let between = seen(self.edge).angle_between(DVec3::Z);
        let at_angle = Relation::AtAngle {
            of: Arrow::of_cutter(plain(self.edge)),
            to: Arrow::of_wheel(Direction::OWN_AXIS),
            angle: Angle::from_radians(between),
        };
        match kept {
            Kept::Normal => vec![along(self.normal)],
            Kept::NormalAndEdge => vec![along(self.normal), along(self.edge)],
            Kept::NormalAndAngle => vec![along(self.normal), at_angle],
        }
    }

    /// How far settings leave the normal from where it was, in degrees.
    fn direction_miss(&self, settings: &Settings) -> f64 {
        let turns: Vec<f64> = (0..self.axes.len()).map(|at| settings.turn(at).radians()).collect();
        let (now, then) =
            (self.on_the_wheel(self.normal, &turns), self.on_the_wheel(self.normal, &self.turns));
        now.cross(then).length().atan2(now.dot(then)).to_degrees()
    }

    /// How far settings are from those drawn, in degrees, by the worst swivel.
    fn settings_miss(&self, settings: &Settings) -> f64 {
        let miss = |at: usize| {
            let off = settings.turn(at).radians() - self.turns[at];
            off.sin().atan2(off.cos()).abs().to_degrees()
        };
        (0..self.axes.len()).map(miss).fold(0.0, f64::max)
    }
}

fn plain(vector: DVec3) -> Direction {
    direction(vector.x, vector.y, vector.z)
}

/// What the settings are to be found again from.
#[derive(Clone, Copy)]
enum Kept {
    Normal,
    NormalAndEdge,
    NormalAndAngle,
}

/// Chains of each kind.
const CHAINS: usize = 200;

/// Draws chains, finds their settings again and holds what is found to the other library: `within`
/// degrees for the direction, `again` for the settings nearest to those drawn.
fn round_trip(
    title: &'static str,
    (kind, count, kept): (Kind, usize, Kept),
    within: f64,
    again: f64,
) -> [Topic; 2] {
    let source = ("glam, a library of rotations", "random chains, worst of all solutions");
    let nearest = ("glam, a library of rotations", "random chains, solution nearest to the drawn");
    let mut random = Random(2026);
    let mut topics =
        [Topic::new(title, source, Grade::C, "deg"), Topic::new(title, nearest, Grade::C, "deg")];
    for number in 0..CHAINS {
        let drawn = Drawn::new(&mut random, kind, count);
        let free: Vec<usize> = (0..count).collect();
        let found = solved(&drawn.linkage(), &drawn.relations(kept), &free);
        let direction = found.iter().map(|one| drawn.direction_miss(&one.settings));
        let settings = found.iter().map(|one| drawn.settings_miss(&one.settings));
        let worst = if found.is_empty() { f64::NAN } else { direction.fold(0.0, f64::max) };
        let best = settings.fold(f64::INFINITY, f64::min);
        let [first, second] = topics;
        topics = [
            first.near(format!("chain {number}"), 0.0, within, worst),
            second.near(format!("chain {number}"), 0.0, again, best),
        ];
    }
    topics
}

macro_rules! strata {
    ($(
        $title:literal: $direction:ident, $settings:ident = $of:expr, $within:expr, $again:expr;
    )+) => {
        $(
            pub(crate) fn $direction() -> Topic {
                let [topic, _] = round_trip($title, $of, $within, $again);
                topic
            }

            pub(crate) fn $settings() -> Topic {
                let [_, topic] = round_trip($title, $of, $within, $again);
                topic
            }
        )+
    };
}

strata! {
    "Two swivels": two, two_again =
        (Kind::Plain, 2, Kept::Normal), 1e-9, 1e-6;
    "Two swivels, axes 0.01 deg from in line": in_line, in_line_again =
        (Kind::AxesInLine, 2, Kept::Normal), 1e-8, 1e-2;
    "Two swivels, 0.01 deg from their limit": at_limit, at_limit_again =
        (Kind::AtTheLimit, 2, Kept::Normal), 1e-9, 1e-5;
    "Three swivels, plane and edge": three, three_again =
        (Kind::Plain, 3, Kept::NormalAndEdge), 1e-9, 1e-6;
    "Three swivels, axes 0.01 deg from in line": three_in_line, three_in_line_again =
        (Kind::AxesInLine, 3, Kept::NormalAndEdge), 1e-9, 1e-5;
    "Three swivels by search, plane and an angle": searched, searched_again =
        (Kind::Plain, 3, Kept::NormalAndAngle), 1e-7, 1e-3;
}

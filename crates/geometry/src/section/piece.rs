//! Pieces of a ground section: which part of the wheel left each, and of what kind it is.

use super::envelope::{Owned, cursor};
use super::ground::GroundSection;
use super::place::EXACT_AHEAD_RAD;
use super::trace::TRACE_ERROR_MM;
use crate::quantity::Angle;
use crate::wheel::Part;

/// How a ground surface is curved, seen in the tooth's section.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub enum PieceKind {
    /// Straight to within one part in fifty of the cutter's own curvature.
    Flat,
    /// Hollow, as a wheel's periphery leaves it.
    Hollow,
    /// Convex, as a wide leaning face leaves it along a helix (eccentric relief).
    Convex,
}

impl PieceKind {
    /// The word used on sheets.
    pub const fn name(self) -> &'static str {
        match self {
            Self::Flat => "flat",
            Self::Hollow => "hollow",
            Self::Convex => "convex",
        }
    }
}

/// One piece of a ground section.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Piece {
    /// The part of the wheel that left it.
    pub part: Part,
    /// Where it starts, heelward of the edge.
    pub from: Angle,
    /// Where it ends.
    pub to: Angle,
    /// How it is curved, judged within the first twenty degrees behind the edge.
    pub kind: PieceKind,
}

/// Curvature, as a share of the cutter's own, below which a piece counts as flat.
const FLAT_SHARE: f64 = 0.02;

/// Pieces shorter than this are where two parts of the wheel meet smoothly, and are left out.
const SHORTEST_RAD: f64 = 1e-9;

/// Slivers that were left out may lie between two pieces that are one, up to so much of them.
const ALIKE_GAP_RAD: f64 = 1e-8;

/// The stretch behind the edge in which a piece's kind is judged.
const JUDGED_RAD: f64 = 0.35;

/// Places over a piece at which two curves are compared.
const ALIKE_STEPS: u32 = 8;

/// Two parts count as having cut alike where their curves, each off by its interpolation, stand no
/// farther apart at the cutting circle.
const ALIKE_MM: f64 = 2.0 * TRACE_ERROR_MM;

impl GroundSection {
    /// The pieces of the section from the tooth before to the next tooth, in order. Where two parts
    /// of the wheel cut alike, as the two corners of a level cup do on a straight tooth, one of
    /// them has it all: there is nothing to choose between them but rounding.
    pub fn pieces(&self) -> Vec<Piece> {
        let pitch_rad = self.setup.flutes().pitch_rad().min(std::f64::consts::PI);
        let within = |owned: &Owned| Owned {
            from_rad: owned.from_rad.max(-pitch_rad),
            to_rad: owned.to_rad.min(pitch_rad),
            ..*owned
        };
        let mut lasting: Vec<Owned> = Vec::with_capacity(self.traced.owned.len());
        for owned in self.traced.owned.iter().map(within) {
            if owned.to_rad - owned.from_rad <= SHORTEST_RAD {
                continue;
            }
            match lasting.last_mut() {
                Some(last) if self.is_alike(last, &owned) => last.to_rad = owned.to_rad,
                _ => lasting.push(owned),
            }
        }
        lasting.iter().map(|owned| self.piece(owned)).collect()
    }

    /// Whether the run of the piece before could as well have cut all of the next one.
    fn is_alike(&self, before: &Owned, next: &Owned) -> bool {
        if next.from_rad - before.to_rad > ALIKE_GAP_RAD {
            return false;
        }
        if self.traced.runs[before.run].end_rad() < next.to_rad {
            return false;
        }
        (0..=ALIKE_STEPS).all(|step| {
            let share = f64::from(step) / f64::from(ALIKE_STEPS);
            let at_rad = next.from_rad + (next.to_rad - next.from_rad) * share;
            let [one_mm, other_mm] = [before, next].map(|owned| self.run_mm(owned.run, at_rad));
            let outside = (other_mm / self.circle_mm).max(1.0).powi(3);
            (one_mm - other_mm).abs() <= ALIKE_MM * outside
        })
    }

    /// Radius of a run at an angle. Well ahead of the edge, where runs are followed less closely
    /// than parts of a wheel can lie together, it is that of the contact itself.
    fn run_mm(&self, index: usize, at_rad: f64) -> f64 {
        let run = &self.traced.runs[index];
        let stretch = &run.stretches[cursor(run, at_rad)];
        if stretch.cubic.to_rad < -EXACT_AHEAD_RAD {
            return self.traced.touch(index, at_rad).0.radius_mm;
        }
        1.0 / stretch.cubic.value(at_rad)
    }

    fn piece(&self, owned: &Owned) -> Piece {
        let curve = &self.traced.curves[self.traced.runs[owned.run].curve];
        let from = Angle::from_radians(owned.from_rad);
        let to = Angle::from_radians(owned.to_rad);
        Piece { part: curve.part, from, to, kind: self.kind(owned) }
    }

    /// **Source** \[docarmo-curves-surfaces\] curvature of a plane curve in polar coordinates; with
    /// u = 1/r it is (u + u″) u³ / (u² + u′²)^1.5. **Departs** nowhere. **Error** that of the
    /// cubics' second derivative, below 0.5 % of the cutter's own curvature. **Domain** every
    /// piece.
    fn kind(&self, owned: &Owned) -> PieceKind {
        let low = owned.from_rad.max(0.0).min(owned.to_rad);
        let high = owned.to_rad.min(low + JUDGED_RAD);
        let middle = 0.5 * (low + high);
        let run = &self.traced.runs[owned.run];
        let stretch = &run.stretches[cursor(run, middle)].cubic;
        let centre = 0.5 * (stretch.from_rad + stretch.to_rad);
        let (u, slope, bend) = (stretch.value(centre), stretch.slope(centre), stretch.bend(centre));
        let curvature = (u + bend) * u.powi(3) / (u * u + slope * slope).powf(1.5);
        let share = curvature * self.circle_mm;
        if share > FLAT_SHARE {
            PieceKind::Convex
        } else if share < -FLAT_SHARE {
            PieceKind::Hollow
        } else {
            PieceKind::Flat
        }
    }

    /// How the relief just behind the edge is curved; None where the wheel leaves no surface.
    pub fn relief_kind(&self) -> Option<PieceKind> {
        self.owner(0.0).map(|owned| self.kind(owned))
    }
}

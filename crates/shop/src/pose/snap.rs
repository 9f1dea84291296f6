//! Settings rounded to the marks that can be set.

use geometry::Angle;
use geometry::chain::{Relation, Settings};

use super::chain::MachineChain;

/// The marks on either side of where some swivels should stand that together come nearest to what
/// is wanted, and by how much they miss it.
///
/// Rounding each by itself is not always best: two swivels that turn the same way can make up for
/// each other.
pub(super) fn snapped(
    chain: &MachineChain,
    relations: &[Relation],
    exact: &Settings,
    moved: &[usize],
) -> (Settings, Angle) {
    let mut best = (exact.clone(), Angle::from_degrees(180.0));
    for choice in 0..(1_usize << moved.len()) {
        let set = |settings: Settings, (at, &joint): (usize, &usize)| {
            let up = choice >> at & 1 == 1;
            settings.with_turn(joint, mark(chain, exact, joint, up))
        };
        let settings = moved.iter().enumerate().fold(exact.clone(), set);
        let miss = worst(chain, relations, &settings);
        if miss < best.1 {
            best = (settings, miss);
        }
    }
    best
}

/// The stand at the mark below or above, or at the other one where the stop lies between.
fn mark(chain: &MachineChain, exact: &Settings, joint: usize, up: bool) -> Angle {
    let (finest, reading) = (chain.finest(joint), chain.reading(joint, exact));
    let whole = reading / finest;
    // A stand that lies on a mark is not rounded away from it.
    let nearest = whole.round();
    let (below, above) = if (whole - nearest).abs() < ON_MARK {
        (nearest, nearest)
    } else {
        (whole.floor(), whole.ceil())
    };
    let (wished, other) = if up { (above, below) } else { (below, above) };
    let within = |count: f64| {
        let ends = chain.linkage().joints().get(joint).and_then(|joint| joint.turn_ends());
        let stand = chain.stand(joint, finest * count);
        ends.is_none_or(|(low, high)| {
            stand.radians() >= low.radians() - 1e-9 && stand.radians() <= high.radians() + 1e-9
        })
    };
    chain.stand(joint, finest * if within(wished) { wished } else { other })
}

/// Share of a step within which a stand lies on its mark.
const ON_MARK: f64 = 1e-6;

/// The largest miss of all relations.
pub(super) fn worst(chain: &MachineChain, relations: &[Relation], settings: &Settings) -> Angle {
    let misses = relations.iter().map(|relation| chain.linkage().miss(relation, settings));
    misses.fold(Angle::ZERO, Angle::max)
}

//! Turns that can be written down: one, two or three swivels that bring directions together.
//!
//! Every axis and direction here is a unit vector in one frame, every angle in radians by the
//! right-hand rule. A swivel about the very direction that it turns may stand anywhere; it is then
//! left where it stands.

use std::f64::consts::PI;

use nalgebra::Vector3;

use super::path::turned;

/// A part of a unit vector shorter than this has no direction.
const SHORT: f64 = 1e-9;

/// How far outside its limit a sine squared may lie and still be taken as on it.
const LIMIT_SLACK: f64 = 1e-12;

/// The turn about `axis` that brings `from` over the meridian of `to`; `stand` where any turn does.
///
/// **Source** \[murray-li-sastry-1994\] ch. 3, the first subproblem of Paden and Kahan, with its
/// letters: u the axis' projection. **Departs** from it only where the direction lies along the
/// axis, which it excludes. **Error** rounding over the sine of the angle between axis and
/// direction. **Domain** any; that both directions stand alike to the axis is for the caller.
pub(super) fn one_turn(
    axis: &Vector3<f64>,
    from: &Vector3<f64>,
    to: &Vector3<f64>,
    stand: f64,
) -> f64 {
    let u = from - axis * axis.dot(from);
    let v = to - axis * axis.dot(to);
    if u.norm() < SHORT || v.norm() < SHORT {
        return stand;
    }
    axis.dot(&u.cross(&v)).atan2(u.dot(&v))
}

/// The turns about an `outer` and an `inner` axis, the inner first, that bring `from` to `to`: no
/// pair, one or two, each told outer first.
///
/// **Source** \[murray-li-sastry-1994\] ch. 3, the second subproblem of Paden and Kahan, with its
/// letters α, β, γ for the direction between the two turns. **Departs** axes need not meet, since
/// directions have no place; parallel axes, which it excludes, count as one, the inner left where
/// it stands. **Error** rounding over the sine of the angle between the axes and over γ: half of
/// the figures are lost where the two pairs become one, and the caller refines them. **Domain**
/// any.
pub(super) fn two_turns(
    [outer, inner]: [&Vector3<f64>; 2],
    from: &Vector3<f64>,
    to: &Vector3<f64>,
    [outer_stand, inner_stand]: [f64; 2],
) -> Vec<[f64; 2]> {
    let c = outer.dot(inner);
    let across = outer.cross(inner);
    let square = across.norm_squared();
    if square < SHORT * SHORT {
        let held = turned(inner, inner_stand, from);
        return vec![[one_turn(outer, &held, to, outer_stand), inner_stand]];
    }
    let (p, q) = (inner.dot(from), outer.dot(to));
    let (alpha, beta) = ((q - c * p) / square, (p - c * q) / square);
    let left = 1.0 - alpha * alpha - beta * beta - 2.0 * alpha * beta * c;
    if left < -LIMIT_SLACK {
        return Vec::new();
    }
    let gamma = (left.max(0.0) / square).sqrt();
    let pair = |gamma: f64| {
        let between = outer * alpha + inner * beta + across * gamma;
        [-one_turn(outer, to, &between, -outer_stand), one_turn(inner, from, &between, inner_stand)]
    };
    if gamma < SHORT { vec![pair(0.0)] } else { vec![pair(gamma), pair(-gamma)] }
}

/// The turns about `axis` that bring `from` to where its part along `to` is `cosine`: none, one or
/// two.
///
/// **Source** \[own-derivation\] A cos s + B sin s = C, with A and B the parts along `to` of the
/// direction's projection and of the direction a quarter turn on. **Departs** nowhere. **Error**
/// rounding over the sine of the two solutions' half distance. **Domain** any; None at all where no
/// turn changes the part.
pub(super) fn turns_to_part(
    axis: &Vector3<f64>,
    from: &Vector3<f64>,
    to: &Vector3<f64>,
    cosine: f64,
) -> Vec<f64> {
    let along = axis * axis.dot(from);
    let (a, b) = (to.dot(&(from - along)), to.dot(&axis.cross(from)));
    let (reach, c) = (a.hypot(b), cosine - to.dot(&along));
    if reach < SHORT || c.abs() > reach * (1.0 + LIMIT_SLACK) {
        return Vec::new();
    }
    let (middle, half) = (b.atan2(a), (c / reach).clamp(-1.0, 1.0).acos());
    if !(SHORT..=PI - SHORT).contains(&half) {
        vec![middle + half]
    } else {
        vec![middle + half, middle - half]
    }
}

/// The turns about three axes, the last first, that bring two directions to two others at once;
/// none, one or two triples. The directions of each pair must stand at the same angle to each
/// other, and not along one line.
///
/// **Source** \[own-derivation\] the middle turn from the part of the last axis along the first,
/// which neither outer turn changes, then the outer turns one by one. **Departs** nowhere.
/// **Error** rounding over the sine of the angle between first and last axis as turned; where they
/// fall together the first stays where it stands. **Domain** any three axes.
pub(super) fn three_turns(
    axes: [&Vector3<f64>; 3],
    from: [&Vector3<f64>; 2],
    to: [&Vector3<f64>; 2],
    stands: [f64; 3],
) -> Vec<[f64; 3]> {
    let [first, middle, last] = axes;
    let Some(last_wanted) = carried(last, from, to) else { return Vec::new() };
    let part = first.dot(&last_wanted);
    let mut middles = turns_to_part(middle, last, first, part);
    if middles.is_empty() {
        middles.push(stands[1]);
    }
    let whole = |b: f64| {
        let a = one_turn(first, &turned(middle, b, last), &last_wanted, stands[0]);
        let back = |v: &Vector3<f64>| turned(middle, -b, &turned(first, -a, v));
        // The direction that stands more across the last axis shows its turn better.
        let across = |v: &Vector3<f64>| last.cross(v).norm();
        let shown = if across(from[0]) >= across(from[1]) { 0 } else { 1 };
        [a, b, one_turn(last, from[shown], &back(to[shown]), stands[2])]
    };
    middles.into_iter().map(whole).collect()
}

/// Where the turn that brings two directions to two others carries a third; None where the two lie
/// along one line.
fn carried(
    third: &Vector3<f64>,
    from: [&Vector3<f64>; 2],
    to: [&Vector3<f64>; 2],
) -> Option<Vector3<f64>> {
    let frame = |[x, towards]: [&Vector3<f64>; 2]| {
        let z = x.cross(towards).try_normalize(SHORT)?;
        Some([*x, z.cross(x), z])
    };
    let (before, after) = (frame(from)?, frame(to)?);
    let part = |(own, outer): (&Vector3<f64>, &Vector3<f64>)| outer * own.dot(third);
    Some(before.iter().zip(&after).map(part).sum())
}

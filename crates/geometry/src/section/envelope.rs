//! The lower envelope of runs: at every angle the run that stands nearest the cutter's axis.

use super::cubic::Cubic;
use super::trace::{Run, Stretch};

/// A stretch of the envelope that one run owns.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(super) struct Owned {
    pub(super) run: usize,
    pub(super) from_rad: f64,
    pub(super) to_rad: f64,
}

/// Merges all runs into their lower envelope, in order of angle; gaps stay gaps.
pub(super) fn envelope(runs: &[Run]) -> Vec<Owned> {
    let mut result: Vec<Owned> = Vec::new();
    for (index, run) in runs.iter().enumerate() {
        result = merged(runs, &result, index, run);
    }
    result
}

fn merged(runs: &[Run], owned: &[Owned], index: usize, run: &Run) -> Vec<Owned> {
    let mut result = Vec::with_capacity(owned.len() + 3);
    let (mut from, to) = (run.start_rad(), run.end_rad());
    for piece in owned {
        if piece.to_rad <= from || piece.from_rad >= to {
            add_gap(&mut result, index, &mut from, to, piece.from_rad);
            push(&mut result, *piece);
            continue;
        }
        add_gap(&mut result, index, &mut from, to, piece.from_rad);
        if piece.from_rad < from {
            push(&mut result, Owned { to_rad: from, ..*piece });
        }
        let low = piece.from_rad.max(from);
        let high = piece.to_rad.min(to);
        contest(runs, piece.run, index, (low, high), &mut result);
        from = high;
        if piece.to_rad > to {
            push(&mut result, Owned { from_rad: to, ..*piece });
        }
    }
    if from < to {
        push(&mut result, Owned { run: index, from_rad: from, to_rad: to });
    }
    result
}

/// Gives the newcomer what lies free before the next piece.
fn add_gap(result: &mut Vec<Owned>, index: usize, from: &mut f64, to: f64, next_rad: f64) {
    let end = next_rad.min(to);
    if end > *from {
        push(result, Owned { run: index, from_rad: *from, to_rad: end });
        *from = end;
    }
}

fn push(result: &mut Vec<Owned>, piece: Owned) {
    if piece.to_rad <= piece.from_rad {
        return;
    }
    match result.last_mut() {
        Some(last) if last.run == piece.run && last.to_rad == piece.from_rad => {
            last.to_rad = piece.to_rad;
        }
        _ => result.push(piece),
    }
}

/// Shares a range between two runs that both cover it. Between knots the difference of the two is
/// one cubic, so that no crossing is missed.
fn contest(
    runs: &[Run],
    holder: usize,
    newcomer: usize,
    (low, high): (f64, f64),
    result: &mut Vec<Owned>,
) {
    let (mut old, mut new) = (cursor(&runs[holder], low), cursor(&runs[newcomer], low));
    let mut from = low;
    while from < high {
        let (a, b) = (cubic(&runs[holder], old), cubic(&runs[newcomer], new));
        let to = a.to_rad.min(b.to_rad).min(high).max(from);
        let mut start = from;
        for end in a.crossings(b, from, to).chain([to]) {
            let middle = 0.5 * (start + end);
            let winner = if b.value(middle) > a.value(middle) { newcomer } else { holder };
            push(result, Owned { run: winner, from_rad: start, to_rad: end });
            start = end;
        }
        let (old_done, new_done) = (a.to_rad <= to, b.to_rad <= to);
        if !(old_done || new_done) {
            break;
        }
        old = (old + usize::from(old_done)).min(runs[holder].stretches.len() - 1);
        new = (new + usize::from(new_done)).min(runs[newcomer].stretches.len() - 1);
        if to <= from && to >= runs[holder].end_rad().min(runs[newcomer].end_rad()) {
            break;
        }
        from = to;
    }
}

fn cubic(run: &Run, stretch: usize) -> &Cubic {
    &run.stretches[stretch].cubic
}

/// The stretch of a run that holds an angle.
pub(super) fn cursor(run: &Run, at_rad: f64) -> usize {
    let after = run.stretches.partition_point(|stretch: &Stretch| stretch.cubic.to_rad <= at_rad);
    after.min(run.stretches.len() - 1)
}

//! The least value of a function that may have kinks, jumps and gaps.

/// How many of the lowest grid cells are searched more closely.
const CELLS_SEARCHED: usize = 12;

/// Values closer than this count as level, so that a flat stretch is searched once only.
const LEVEL: f64 = 1e-12;

/// Where the least value was found, and the value.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Least {
    /// Place of the least value.
    pub at: f64,
    /// The least value.
    pub value: f64,
}

/// The least value of `function` over the ascending `grid`, refined between grid points by
/// golden section in the lowest cells. `function` returns infinity where it has no value, and
/// the search closes in on the border of such a gap too. `None` where every grid point is in a
/// gap.
pub fn least(grid: &[f64], function: &impl Fn(f64) -> f64) -> Option<Least> {
    let values: Vec<f64> = grid.iter().map(|&at| function(at)).collect();
    let mut cells: Vec<usize> = (0..grid.len()).filter(|&i| is_valley(&values, i)).collect();
    cells.extend(lowest(&values));
    cells.sort_by(|&a, &b| values[a].total_cmp(&values[b]));
    cells.dedup();
    let found = cells.iter().take(CELLS_SEARCHED).map(|&i| {
        let low = grid[i.saturating_sub(1)];
        let high = grid[(i + 1).min(grid.len() - 1)];
        golden(function, low, Least { at: grid[i], value: values[i] }, high)
    });
    found.min_by(|a, b| a.value.total_cmp(&b.value))
}

fn lowest(values: &[f64]) -> Option<usize> {
    let finite = (0..values.len()).filter(|&i| values[i].is_finite());
    finite.min_by(|&a, &b| values[a].total_cmp(&values[b]))
}

/// True for a grid point clearly below the one before it and not above the one after it: the
/// first point of a valley, or of its level floor.
fn is_valley(values: &[f64], i: usize) -> bool {
    let before = if i == 0 { f64::INFINITY } else { values[i - 1] };
    let after = values.get(i + 1).copied().unwrap_or(f64::INFINITY);
    values[i].is_finite() && values[i] < before - LEVEL && values[i] <= after + LEVEL
}

/// Golden section about a known best point. Only values below the best so far move it, so a gap
/// beside the valley merely narrows the bracket.
fn golden(function: &impl Fn(f64) -> f64, low: f64, best: Least, high: f64) -> Least {
    let ratio = 0.381_966_011_250_105_1;
    let (mut low, mut best, mut high) = (low, best, high);
    for _ in 0..120 {
        if high - low <= 1e-13 * (1.0 + best.at.abs()) {
            break;
        }
        let upward = high - best.at > best.at - low;
        let reach = if upward { high - best.at } else { low - best.at };
        let probe = best.at + ratio * reach;
        let value = function(probe);
        let lower = value < best.value;
        match (lower, upward) {
            (true, true) => low = best.at,
            (true, false) => high = best.at,
            (false, true) => high = probe,
            (false, false) => low = probe,
        }
        if lower {
            best = Least { at: probe, value };
        }
    }
    best
}

/// An ascending grid of `cells` equal cells over each of the stretches between `borders`.
pub fn graded_grid(borders: &[(f64, usize)], end: f64) -> Vec<f64> {
    let mut grid = Vec::new();
    for (i, &(from, cells)) in borders.iter().enumerate() {
        let to = borders.get(i + 1).map_or(end, |next| next.0);
        if to > from {
            let pitch = (to - from) / cells as f64;
            grid.extend((0..cells).map(|cell| from + pitch * cell as f64));
        }
    }
    grid.push(end);
    grid
}

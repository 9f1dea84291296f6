//! The edges before and after the corrections.

use geometry::System;
use shop::check::Check;

use super::edges::EdgesPage;
use crate::scene::Scene;

/// The edges' stands at the tip and at the shank end of the flute, magnified round the planned
/// circle: as found with their bands, and beside them as they will be when the corrections worth
/// making have been made and all teeth have come down to the lowest edge. Where no correction
/// moves an edge, as found alone; None where no reading shows where the edges stand.
///
/// The cutter is seen from its tip, tooth 1's edge at the tip uppermost.
pub fn before_after(check: &Check, system: System) -> Option<Scene> {
    EdgesPage::with_after(check, system).map(|page| page.draw())
}

//! What holds for every cutter of a drawer, where a list does not say it.

use exchange::list::CutterColumn;

/// The facts that short lists do not give.
pub(crate) const REST: [(CutterColumn, &str); 9] = [
    (CutterColumn::Hand, "right"),
    (CutterColumn::HelixHand, "right"),
    (CutterColumn::Rake, "10"),
    (CutterColumn::Profile, "plain"),
    (CutterColumn::End, "square"),
    (CutterColumn::Material, "HSS"),
    (CutterColumn::FluteLength, "20 mm"),
    (CutterColumn::OverallLength, "80 mm"),
    (CutterColumn::ShankDiameter, "12 mm"),
];

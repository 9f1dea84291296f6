//! What the wear of a cutter in use says of its clearance.

use geometry::Angle;
use trade::PracticeItem;

use crate::context::{Cited, Ctx};
use crate::record::{Cutter, WearSign};

/// A change of clearance that wear asks for.
pub(crate) struct Change {
    /// The clearance to give next.
    pub(crate) primary: Cited<Angle>,
    /// Why, in a sentence.
    pub(crate) remark: String,
}

/// Reads the signs of wear: metal built up on the primary, or a rubbed heel, asks for more
/// clearance, an edge broken down for less. The change stays within the tables' range;
/// None where nothing is asked, or where the signs contradict each other.
///
/// **Source** \[common-practice\] the two rules. **Departs** in the amount, which the practice
/// table gives. **Error** a rule of thumb. **Domain** cutters whose wear was recorded.
pub(crate) fn change(
    ctx: &Ctx<'_>,
    cutter: &Cutter,
    now: Angle,
    range: Option<(Angle, Angle)>,
) -> Option<Change> {
    let wear = cutter.wear()?;
    let rubbed = wear.shows(WearSign::MetalBuiltUpOnLand) || wear.shows(WearSign::HeelRubbed);
    // An edge rounded but whole is how every dull cutter looks, and asks for nothing.
    let weak = wear.shows(WearSign::EdgeBrokenDown);
    let (item, sign, sense) = match (rubbed, weak) {
        (true, false) => (PracticeItem::MetalBuiltUp, "the land rubbed", 1.0),
        (false, true) => (PracticeItem::EdgeBrokenDown, "the edge broke down", -1.0),
        _ => return None,
    };
    let row = ctx.tables.practice(item)?.chosen;
    let amount = row.value.amount?.angle()?.middle();
    let (least, greatest) = range?;
    let wanted = (now + amount * sense).degrees().clamp(least.degrees(), greatest.degrees());
    let change_deg = wanted - now.degrees();
    if change_deg * sense <= 1e-9 {
        return None;
    }
    let remark = format!(
        "{sign} in use: {:.1} deg of clearance instead of {:.1} (common practice)",
        wanted,
        now.degrees()
    );
    let source = "the cutter's own record, changed for its wear";
    Some(Change { primary: Cited::new(Angle::from_degrees(wanted), source), remark })
}

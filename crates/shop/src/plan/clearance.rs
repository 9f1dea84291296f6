//! What the wear of a cutter in use says of its clearance.

use geometry::Angle;
use trade::PracticeItem;

use super::RegrindPlan;
use crate::context::{Cited, Ctx};
use crate::record::{Cutter, WearSign};

/// A change of clearance that wear asks for.
#[derive(Clone, Debug, PartialEq)]
pub struct NextClearance {
    /// The clearance now.
    pub now: Angle,
    /// The clearance to give next, with why.
    pub next: Cited<Angle>,
    /// The signs that ask for it; none that asks for nothing.
    pub signs: Vec<WearSign>,
    /// Why, in a sentence.
    pub remark: String,
}

/// Which way a sign asks the clearance to go.
#[derive(Clone, Copy, PartialEq)]
enum Sense {
    More,
    Less,
}

/// What a sign asks for.
struct Asks {
    sense: Sense,
    item: PracticeItem,
    words: &'static str,
    /// Whether it asks for no less than the tables recommend.
    is_mild: bool,
}

/// Every sign is read by one row of the practice table, which gives the amount.
const fn asks(sign: WearSign) -> Asks {
    let (sense, item, words, is_mild) = match sign {
        WearSign::MetalBuiltUpOnLand => {
            (Sense::More, PracticeItem::MetalBuiltUp, "metal built up on the land", false)
        }
        WearSign::HeelRubbed => (Sense::More, PracticeItem::HeelRubbed, "the heel rubbed", false),
        WearSign::EdgeBrokenDown => {
            (Sense::Less, PracticeItem::EdgeBrokenDown, "the edge broke down", false)
        }
        // Every dull edge is rounded: the sign takes back what is above the tables' middle, and
        // no more, or each regrind would take off a little again.
        WearSign::EdgeRounded => {
            (Sense::Less, PracticeItem::EdgeRounded, "the edge rounded over", true)
        }
        WearSign::Chipped => (Sense::Less, PracticeItem::Chipped, "the edge chipped", false),
        WearSign::CornerGone => (Sense::Less, PracticeItem::CornerGone, "the corners went", true),
    };
    Asks { sense, item, words, is_mild }
}

/// What the tables give for the clearance.
#[derive(Clone, Copy, Debug)]
pub(crate) struct TableRange {
    pub(crate) least: Angle,
    pub(crate) recommended: Angle,
    pub(crate) greatest: Angle,
}

/// Reads the signs of wear: metal built up on the primary, or a rubbed heel, asks for more
/// clearance; an edge rounded or broken down, chipped, or gone at the corner, for less. The
/// strongest sign gives the amount. The change stays within the tables' range; None where nothing
/// is asked, or where the signs contradict each other.
///
/// **Source** \[common-practice\] the rules of metal built up and of the edge. **Departs** in
/// reading heel, chips and corners likewise, and in the amounts, which the practice table gives.
/// **Error** a rule of thumb. **Domain** cutters whose wear was seen.
pub(crate) fn change(
    ctx: &Ctx<'_>,
    signs: &[WearSign],
    now: Angle,
    range: Option<TableRange>,
) -> Option<NextClearance> {
    let asked: Vec<(WearSign, Asks)> = signs.iter().map(|sign| (*sign, asks(*sign))).collect();
    // A sign that any dull cutter shows does not speak against a strong one.
    let is_strong = |asks: &Asks| !asks.is_mild;
    let has_strong = asked.iter().any(|(_, asks)| is_strong(asks));
    let counted: Vec<(WearSign, Asks)> =
        asked.into_iter().filter(|(_, asks)| is_strong(asks) || !has_strong).collect();
    let sense = counted.first()?.1.sense;
    if counted.iter().any(|(_, asks)| asks.sense != sense) {
        return None;
    }
    let amount = |asks: &Asks| {
        let row = ctx.tables.practice(asks.item)?.chosen;
        Some(row.value.amount?.angle()?.middle().degrees())
    };
    let amounts = counted.iter().filter_map(|(_, asks)| amount(asks));
    let amount_deg = amounts.fold(0.0, f64::max);
    let range = range?;
    let least = if has_strong { range.least } else { range.recommended };
    let change_deg = if sense == Sense::More { amount_deg } else { -amount_deg };
    let bounded = (now.degrees() + change_deg).clamp(least.degrees(), range.greatest.degrees());
    if (bounded - now.degrees()) * change_deg <= 1e-9 {
        return None;
    }
    let words: Vec<&str> = counted.iter().map(|(_, asks)| asks.words).collect();
    let remark = format!(
        "{} in use: {bounded:.1} deg of clearance instead of {:.1} (common practice)",
        words.join(", "),
        now.degrees()
    );
    let next = Cited::new(Angle::from_degrees(bounded), CHANGED_FOR_WEAR);
    let signs = counted.into_iter().map(|(sign, _)| sign).collect();
    Some(NextClearance { now, next, signs, remark })
}

/// The source named for a clearance that wear changed.
const CHANGED_FOR_WEAR: &str = "the cutter's own record, changed for its wear";

/// What the tables give for the clearance of a cutter.
pub(crate) fn table_range(ctx: &Ctx<'_>, cutter: &Cutter) -> Option<TableRange> {
    let work = super::wanted::work_group(cutter);
    let lookup = ctx.tables.relief(cutter.diameter(), cutter.material(), work)?;
    let row = &lookup.chosen.value;
    let (least, greatest) = (row.primary.least, row.primary.greatest);
    Some(TableRange { least, recommended: row.recommended(), greatest })
}

/// What wear seen in use asks for beyond what this plan has changed for it already: signs that the
/// cutter's record gave were read when the plan was made.
pub(crate) fn next_clearance(
    ctx: &Ctx<'_>,
    plan: &RegrindPlan,
    signs: &[WearSign],
) -> Option<NextClearance> {
    let cutter = &plan.request.cutter;
    let is_new = |sign: &&WearSign| !cutter.wear().is_some_and(|wear| wear.shows(**sign));
    let fresh: Vec<WearSign> = signs.iter().filter(is_new).copied().collect();
    change(ctx, &fresh, plan.wanted.primary.value, table_range(ctx, cutter))
}

//! The gash: whether it still frees the edge, and how it is ground anew.

use geometry::Length;
use geometry::end::{EndPlane, EndStroke, EndTeeth, Gash, GashShape};
use geometry::wheel::WheelKind;

use super::grind::EndJob;
use super::stock::EndStock;
use super::swivels::{Swung, swung_to};
use crate::bridge;
use crate::context::Ctx;
use crate::error::ShopError;
use crate::plan::dial::DialMark;
use crate::plan::wheel::suits_material;
use crate::plan::{RegrindPlan, Route};
use crate::record::{AxisRole, Wheel};

/// What becomes of the gash.
#[derive(Clone, Debug)]
pub struct GashPlan {
    /// The gash as it shall be.
    pub gash: Gash,
    /// The gash as the end leaves it, where what it was is known.
    pub left: Option<Gash>,
    /// Whether it is ground anew.
    pub is_needed: bool,
    /// Why, or why not.
    pub why: String,
    /// How, where it is ground and this bench can.
    pub grind: Option<GashGrind>,
    /// Why it is not planned, where it is needed and is not.
    pub refused: Option<String>,
}

/// The grinding of every gash.
#[derive(Clone, Debug)]
pub struct GashGrind {
    /// The wheel's number.
    pub wheel: String,
    /// The radius to dress on the wheel's corner.
    pub corner: Length,
    /// The swivels.
    pub swung: Swung,
    /// Whether the tip points down and the wheel stands below it; else up, with the wheel above.
    pub wheel_below: bool,
    /// How deep the root lies at the periphery, below the corner.
    pub depth_at_rim: Length,
    /// How far the rim is fed across the travel from its touch of the corner.
    pub fed: Length,
    /// The mark of the wheel's height for that, where the machine has a scale for it.
    pub fed_mark: Option<DialMark>,
    /// How far the wheel's lowest point goes inward along the travel from the corner.
    pub along: Length,
    /// How near the wheel comes to another tooth's edge outside the middle, with the tooth.
    pub gap: Option<(u32, Length)>,
}

/// Plans the gash.
pub(super) fn gash(
    job: &EndJob<'_>,
    plan: &RegrindPlan,
    primary: EndPlane,
    stock: &EndStock,
    teeth: &EndTeeth,
) -> Result<GashPlan, ShopError> {
    let wanted = &job.wanted.gash;
    let shape = GashShape {
        primary,
        diameter: job.diameter,
        floor: wanted.floor.value,
        rake: wanted.rake.value,
        root: wanted.root.value,
        from_centre: job.wanted.inner.value,
        ahead: job.wanted.ahead,
    };
    let gash = Gash::new(shape)?;
    let before = wanted.from_centre.map(|from_centre| GashShape { from_centre, ..shape });
    let before = before.map(Gash::new).transpose()?;
    let left = before.map(|gash| gash.after_end_ground(stock.shorter())).transpose();
    let (is_needed, why) = need(job, plan, left.as_ref().ok().and_then(Option::as_ref));
    let left = left.ok().flatten();
    let (grind, refused) = match is_needed.then(|| ground(job, plan, &gash, teeth)) {
        Some(Ok(grind)) => (Some(grind), None),
        Some(Err(error)) => (None, Some(error.to_string())),
        None => (None, None),
    };
    Ok(GashPlan { gash, left, is_needed, why, grind, refused })
}

/// How much of the edge may stand unfreed at its inner end, as a share of the diameter, before the
/// gash is ground anew (own choice, no source).
const UNFREED_SHARE: f64 = 0.06;

fn need(job: &EndJob<'_>, plan: &RegrindPlan, left: Option<&Gash>) -> (bool, String) {
    let shown = |length: Length| length.show_both(job.cutter.system()).to_string();
    if plan.verdict.route == Route::CutBack {
        return (true, "the end is cut off, and its gashes with it".to_owned());
    }
    let known = job.wanted.gash.from_centre.is_some();
    match left {
        Some(left) => {
            let free = left.free_from();
            let most = job.wanted.inner.value + job.diameter * UNFREED_SHARE;
            let words = format!("it will free the edge from {} off the centre", shown(free));
            (free > most, words)
        }
        None if known => (true, "the end takes it away".to_owned()),
        None => {
            let words = "look whether it still frees the edge to its inner end; if not, it comes \
                         first (gash_from_centre in the cutter's file lets the plan tell)";
            (false, words.to_owned())
        }
    }
}

/// The gash with the first wheel that grinds on its rim and suits the cutter.
fn ground(
    job: &EndJob<'_>,
    plan: &RegrindPlan,
    gash: &Gash,
    teeth: &EndTeeth,
) -> Result<GashGrind, ShopError> {
    let wheel = rim_wheel(job.ctx, plan).ok_or_else(|| {
        ShopError::refused(
            "a gash needs a thin wheel that grinds on its rim",
            "none of the wheels given is a straight wheel that suits this cutter: add one",
        )
    })?;
    let body = bridge::body(wheel, wheel.face_width())?;
    // Turned half round about the way to the wheel, tip down instead of up, it is the same cut.
    let [along, toward, up] = gash.axis_for();
    let above = swung_to(job.machine, job.cutter, [along, toward, up], None);
    let below = || swung_to(job.machine, job.cutter, [-along, toward, -up], None);
    let (swung, wheel_below) = match above {
        Ok(swung) => (swung, false),
        Err(error) => (below().map_err(|_| error)?, true),
    };
    let (fed, along) = gash.fed_from_corner();
    let height = job.machine.axis(AxisRole::WheelHeadHeight);
    let travel = if wheel_below { fed } else { -fed };
    let fed_mark = height.and_then(|axis| Some(DialMark::slide(axis, axis.slide()?, travel)));
    let stroke = EndStroke::of_gash(gash, &body, teeth);
    let protected = job.wanted.short.value.max(job.diameter * 0.05);
    let gap = stroke.and_then(|stroke| stroke.gap_to_others(protected, Length::ZERO));
    Ok(GashGrind {
        wheel: wheel.number().to_owned(),
        corner: gash.shape().root,
        swung,
        wheel_below,
        depth_at_rim: gash.depth_at(job.diameter / 2.0),
        fed,
        fed_mark,
        along,
        gap,
    })
}

fn rim_wheel<'a>(ctx: &Ctx<'_>, plan: &'a RegrindPlan) -> Option<&'a Wheel> {
    let cutter = &plan.request.cutter;
    let mut wheels = plan.request.wheels.iter();
    wheels
        .find(|wheel| bridge::kind(wheel) == WheelKind::Disc && suits_material(ctx, cutter, wheel))
}

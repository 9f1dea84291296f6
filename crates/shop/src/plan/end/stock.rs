//! How much comes off the length, and which tooth decides it.

use geometry::Length;
use trade::EndItem;

use super::wanted::practice_length;
use crate::context::{Cited, Ctx};
use crate::error::ShopError;
use crate::plan::{Route, Verdict};
use crate::record::Cutter;

/// How far one tooth's corner is gone.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct CornerWear {
    /// The tooth.
    pub tooth: u32,
    /// How far along the cutter its corner is gone.
    pub gone: Length,
}

/// What comes off the length.
#[derive(Clone, Debug, PartialEq)]
pub struct EndStock {
    /// What is cut off first.
    pub cut_back: Length,
    /// What is then ground off along the axis, from the highest tooth, with its reason.
    pub off: Cited<Length>,
    /// The tooth whose corner decides, where one does.
    pub governing: Option<u32>,
    /// The tooth that stands out farthest, where corners were read: the wheel meets it first.
    pub highest: Option<u32>,
    /// The corners as they were read.
    pub corners: Vec<CornerWear>,
    /// What a reader should know.
    pub remarks: Vec<String>,
}

impl EndStock {
    /// What the cutter is shorter afterwards, by this plan.
    pub fn shorter(&self) -> Length {
        self.cut_back + self.off.value
    }
}

/// Works out the stock on length; `asked` is what the hand wants to take, if it says so.
pub(in crate::plan) fn end_stock(
    ctx: &Ctx<'_>,
    cutter: &Cutter,
    verdict: &Verdict,
    asked: Option<Length>,
) -> Result<EndStock, ShopError> {
    let corners = corners(cutter);
    let worst = corners.iter().max_by(|a, b| a.gone.mm().total_cmp(&b.gone.mm())).copied();
    let least = corners.iter().min_by(|a, b| a.gone.mm().total_cmp(&b.gone.mm())).copied();
    let is_cut = verdict.route == Route::CutBack;
    let past = practice_length(ctx, EndItem::PastCorners)?;
    let fresh = practice_length(ctx, EndItem::FreshEnd)?;
    let worn = worst.filter(|corner| corner.gone > Length::ZERO && !is_cut);
    let needed = match worn {
        Some(corner) => {
            let why = format!("tooth {}'s corner, and a little past it", corner.tooth);
            Cited::new(corner.gone + past.value, why)
        }
        None => fresh,
    };
    let off = match asked {
        Some(asked) => Cited::new(asked, "as asked for"),
        None => needed.clone(),
    };
    check((cutter, verdict), &off, &needed)?;
    Ok(EndStock {
        cut_back: verdict.cut_back,
        governing: worn.map(|corner| corner.tooth),
        highest: worn.and(least).map(|corner| corner.tooth),
        remarks: remarks(cutter, &off, &needed, is_cut),
        corners,
        off,
    })
}

fn corners(cutter: &Cutter) -> Vec<CornerWear> {
    let wear = cutter.wear();
    let teeth = wear.map(|wear| wear.teeth()).unwrap_or_default();
    teeth.iter().map(|tooth| CornerWear { tooth: tooth.tooth, gone: tooth.corner_wear }).collect()
}

/// Refuses a stock that leaves no flute.
fn check(
    (cutter, verdict): (&Cutter, &Verdict),
    off: &Cited<Length>,
    needed: &Cited<Length>,
) -> Result<(), ShopError> {
    let system = cutter.system();
    let shown = |length: Length| length.show_both(system).to_string();
    let flute = cutter.flute_length() - verdict.cut_back;
    if off.value <= Length::ZERO || off.value >= flute * 0.5 {
        let reason = format!(
            "{} cannot come off an end with {} of flute: ask for {} or so",
            shown(off.value),
            shown(flute),
            shown(needed.value)
        );
        return Err(ShopError::invalid("length to take off", reason));
    }
    Ok(())
}

fn remarks(
    cutter: &Cutter,
    off: &Cited<Length>,
    needed: &Cited<Length>,
    is_cut: bool,
) -> Vec<String> {
    let system = cutter.system();
    let shown = |length: Length| length.show_both(system).to_string();
    let mut remarks = Vec::new();
    if off.value < needed.value - Length::from_um(1.0) && !is_cut {
        remarks.push(format!(
            "{} leaves the worst corner dull: it wants {}",
            shown(off.value),
            shown(needed.value)
        ));
    }
    if is_cut {
        remarks.push("the parted end is flat: gash it before its teeth are relieved".to_owned());
    }
    if corners(cutter).is_empty() {
        remarks.push("no corner was read: what such an end ordinarily takes".to_owned());
    }
    remarks
}

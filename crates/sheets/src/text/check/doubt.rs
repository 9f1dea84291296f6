//! What is in doubt, and whether it matters.

use shop::check::{Check, Fault, Quality};

use super::seen;

/// The quality that a fault spoils.
const fn spoils(fault: Fault) -> Quality {
    match fault {
        Fault::Size => Quality::Size,
        Fault::Taper => Quality::Taper,
        Fault::Runout | Fault::Drift | Fault::Slip(_) => Quality::Runout,
        Fault::Clearance | Fault::Corner => Quality::Relief,
    }
}

/// Whether everything in doubt spoils only what is within its limits with the whole of its band.
pub fn is_harmless(check: &Check) -> bool {
    let is_sure = |fault: Fault| check.findings.iter().any(|finding| finding.fault == fault);
    let all = check.explanations.iter().flat_map(|one| &one.faults);
    let mut open = all.map(|one| one.fault).filter(|fault| !is_sure(*fault));
    open.all(|fault| is_within(check, fault))
}

fn is_within(check: &Check, fault: Fault) -> bool {
    let quality = spoils(fault);
    let Some(judged) = check.judgements.iter().find(|one| one.quality == quality) else {
        return false;
    };
    let Some((least, greatest)) = judged.allowed.as_ref().map(|cited| cited.value) else {
        return false;
    };
    let found = seen::with_band(check, fault, judged.found);
    // Nothing runs out by less than nothing, so that only the upper end of that band counts.
    let low = if quality == Quality::Runout { least } else { found.value - found.half_width };
    low >= least && found.value + found.half_width <= greatest
}

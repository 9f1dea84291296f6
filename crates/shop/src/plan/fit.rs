//! Whether a wheel can be used on a machine at all, and a machine with any wheel: what can be said
//! before there is a cutter.

use geometry::wheel::WheelKind;

use super::head::check_head_of;
use super::refusal::loose_nut;
use super::rotation::loosens_always;
use super::stance::lean_of_practice;
use super::wheel::speed;
use crate::bridge;
use crate::context::Ctx;
use crate::error::ShopError;
use crate::record::{Machine, Wheel};

/// Why no cutter can be ground with a wheel on a machine; empty where nothing is known against it,
/// which says nothing of whether it may run.
pub fn wheel_on_machine(ctx: &Ctx<'_>, machine: &Machine, wheel: &Wheel) -> Vec<String> {
    let mut why = kind_on_machine(ctx, machine, bridge::kind(wheel));
    why.extend(speed(ctx, machine, wheel).err());
    why
}

/// Why a machine grinds with no cup, or with no straight wheel, as it is described; empty where
/// nothing is known against it.
pub fn machine_alone(ctx: &Ctx<'_>, machine: &Machine) -> Vec<String> {
    let [cup, disc] = [WheelKind::Cup, WheelKind::Disc].map(|kind| {
        let why = kind_on_machine(ctx, machine, kind);
        why.into_iter().map(move |why| (kind, why))
    });
    let (cup, disc): (Vec<_>, Vec<_>) = (cup.collect(), disc.collect());
    let is_of_both = |why: &String| cup.iter().chain(&disc).filter(|(_, w)| w == why).count() > 1;
    let words = |(kind, why): &(WheelKind, String)| match kind {
        _ if is_of_both(why) => format!("with any wheel: {why}"),
        WheelKind::Cup => format!("with a cup or dish: {why}"),
        WheelKind::Disc => format!("with a straight wheel: {why}"),
    };
    let mut told: Vec<String> = cup.iter().chain(&disc).map(words).collect();
    told.dedup();
    told
}

fn kind_on_machine(ctx: &Ctx<'_>, machine: &Machine, kind: WheelKind) -> Vec<String> {
    let nut = loosens_always(machine.spindle(), kind).then(loose_nut);
    let head = check_head_of(machine, kind, lean_of_practice(ctx, machine)).err();
    nut.into_iter().chain(head).map(in_words).collect()
}

/// The rule first, then why.
pub(crate) fn in_words(error: ShopError) -> String {
    match error {
        ShopError::Refused { rule, why } => format!("{rule}: {why}"),
        other => other.to_string(),
    }
}

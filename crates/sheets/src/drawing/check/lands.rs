//! The lands that were read, place by place and tooth by tooth.

use geometry::Length;
use shop::check::{Check, Observed, ReadingKind};
use shop::record::LandStage;

/// What is known of the land of one tooth at one place.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(super) enum Land {
    /// Nobody looked.
    NotRead,
    /// Read, but it cannot come of this grind.
    LeftOut,
    /// Read.
    Read {
        /// Its width.
        measured: Length,
        /// What the others say it would be, where it was set aside.
        others_say: Option<Length>,
    },
}

/// The lands at one place, read at one stage.
#[derive(Clone, Debug)]
pub(super) struct LandPlace {
    pub(super) stage: LandStage,
    pub(super) from_end: Length,
    pub(super) expected: Length,
    /// The largest standard deviation of its readings, as the fit took it.
    pub(super) deviation: Length,
    /// By tooth from 1.
    pub(super) lands: Vec<Land>,
}

/// The stage of a reading of a land.
const fn stage(one: &Observed) -> Option<LandStage> {
    match one.kind {
        ReadingKind::Land(stage) => Some(stage),
        _ => None,
    }
}

/// Every stage and place at which lands were read, from the tip to the shank.
pub(super) fn land_places(check: &Check) -> Vec<LandPlace> {
    let mut keys: Vec<(LandStage, Length)> = Vec::new();
    for one in &check.observed {
        if let Some(key) = stage(one).zip(one.from_end)
            && !keys.contains(&key)
        {
            keys.push(key);
        }
    }
    keys.sort_by(|a, b| a.0.cmp(&b.0).then(a.1.mm().total_cmp(&b.1.mm())));
    keys.into_iter().map(|(stage, from_end)| land_place(check, stage, from_end)).collect()
}

fn land_place(check: &Check, at_stage: LandStage, from_end: Length) -> LandPlace {
    let teeth = check.request.plan.request.cutter.teeth();
    let is_here = |one: &Observed| stage(one) == Some(at_stage) && one.from_end == Some(from_end);
    let here: Vec<(usize, &Observed)> =
        check.observed.iter().enumerate().filter(|(_, one)| is_here(one)).collect();
    let land = |tooth: u32| {
        let found = here.iter().find(|(_, one)| one.tooth == Some(tooth));
        match found {
            Some((at, one)) => {
                let aside = check.set_aside.iter().find(|aside| aside.reading == *at);
                Land::Read {
                    measured: one.measured,
                    others_say: aside.map(|aside| aside.others_say),
                }
            }
            None if was_written(check, at_stage, from_end, tooth) => Land::LeftOut,
            None => Land::NotRead,
        }
    };
    let deviation = here.iter().map(|(_, one)| one.deviation).fold(Length::ZERO, Length::max);
    LandPlace {
        stage: at_stage,
        from_end,
        expected: here.first().map_or(Length::ZERO, |(_, one)| one.expected),
        deviation: deviation * check.noise_factor,
        lands: (1..=teeth).map(land).collect(),
    }
}

/// Whether the hand wrote a land down, whatever became of it.
fn was_written(check: &Check, stage: LandStage, from_end: Length, tooth: u32) -> bool {
    let groups = check.request.readings.lands().iter().filter(|group| group.stage == stage);
    let mut readings = groups.flat_map(|group| &group.readings);
    readings.any(|one| one.tooth == tooth && one.from_end == from_end)
}

impl LandPlace {
    /// The lands that were read, with their teeth.
    pub(super) fn read(&self) -> impl Iterator<Item = (u32, Length, Option<Length>)> + '_ {
        (1..).zip(&self.lands).filter_map(|(tooth, land)| match land {
            Land::Read { measured, others_say } => Some((tooth, *measured, *others_say)),
            _ => None,
        })
    }

    /// The same without those that were set aside.
    pub(super) fn kept(&self) -> impl Iterator<Item = (u32, Length)> + '_ {
        self.read().filter(|(_, _, aside)| aside.is_none()).map(|(tooth, land, _)| (tooth, land))
    }
}

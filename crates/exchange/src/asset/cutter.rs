//! One cutter of the book as an asset.

use geometry::{Angle, Length};
use shop::book::{CutterState, Id, Moment, Stage};
use shop::record::{Cutter, Wear};

use super::status::{CutterStatus, KnownStatus, Past, PastAtRest, Service};

/// A cutter's state as an asset.
#[derive(Clone, Debug, PartialEq)]
pub struct CutterAsset {
    /// The id that never changes, under which the book keeps it.
    pub id: Id,
    /// The shop's number for it.
    pub number: String,
    /// When it was last written to.
    pub at: Moment,
    /// Words on it.
    pub about: String,
    /// Its status.
    pub status: CutterStatus,
    /// How often it was reground.
    pub regrinds: u32,
    /// How often it can be at all: those it had and those it is expected to have yet.
    pub regrinds_max: Option<u32>,
    /// How far its diameter stands below nominal, and how far it may.
    pub shrunk: Shrunk,
    /// What was measured on it, and what it should be.
    pub measurements: Vec<Measurement>,
    /// Its teeth.
    pub teeth: u32,
}

/// How far a diameter has come down.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Shrunk {
    /// Nominal less what it is now, not below nothing; none where that was not measured.
    pub now: Option<Length>,
    /// Nominal less the smallest useful diameter, where one is known.
    pub most: Option<Length>,
}

/// A measurement by its code in ISO 13399.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Measurement {
    /// Which.
    pub code: MeasurementCode,
    /// What was measured; none where only the nominal size is known.
    pub value: Option<Length>,
    /// What it should be.
    pub nominal: Length,
    /// The least that is useful.
    pub minimum: Option<Length>,
    /// The most there can be.
    pub maximum: Option<Length>,
}

/// The measurements that are told, in the order in which they are written.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum MeasurementCode {
    /// DC, the cutting diameter.
    CuttingDiameter,
    /// LF, the functional length: of a cutter without a holder, from the shank's end to the tip.
    FunctionalLength,
    /// APMX, the greatest depth of cut: the length of the flutes.
    DepthOfCut,
    /// OAL, the whole length.
    OverallLength,
    /// DMM, the diameter of the shank.
    ShankDiameter,
}

/// What is known of a cutter beyond its history.
#[derive(Clone, Copy, Debug, Default, PartialEq)]
pub struct Outlook {
    /// Regrinds that are left, as the bench expects them.
    pub lives_left: Option<u32>,
    /// The smallest useful diameter.
    pub smallest: Option<Length>,
}

/// When and how a cutter's history ended.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct AtRest {
    /// Whether it is done with.
    pub is_gone: bool,
    /// When its history was last written to.
    pub at: Moment,
}

impl CutterAsset {
    /// The asset of a cutter as its history leaves it.
    pub fn of(id: &Id, state: &CutterState, rest: AtRest, outlook: Outlook) -> Self {
        let cutter = &state.cutter;
        let now = diameter_now(cutter);
        let nominal = cutter.diameter();
        let most = outlook.smallest.map(|smallest| (nominal - smallest).max(Length::ZERO));
        Self {
            id: id.clone(),
            number: cutter.number().to_owned(),
            at: rest.at,
            about: about(cutter),
            status: status(state, rest.is_gone),
            regrinds: cutter.regrinds(),
            regrinds_max: outlook.lives_left.map(|left| left.saturating_add(cutter.regrinds())),
            shrunk: Shrunk { now: now.map(|now| (nominal - now).max(Length::ZERO)), most },
            measurements: measurements(cutter, now, outlook.smallest),
            teeth: cutter.teeth(),
        }
    }
}

/// The diameter that was measured last, else the one it was ground to.
fn diameter_now(cutter: &Cutter) -> Option<Length> {
    let measured = cutter.wear().and_then(Wear::measured_diameter);
    measured.or_else(|| cutter.as_ground().map(|ground| ground.diameter))
}

fn about(cutter: &Cutter) -> String {
    let (teeth, material, end) = (cutter.teeth(), cutter.material().name(), cutter.end().name());
    let taper = cutter.taper();
    let tapered = if taper > Angle::ZERO {
        format!(", tapered by {} a side, DC at the tip", taper.show())
    } else {
        String::new()
    };
    let unlike = cutter.unequal_index() || cutter.unequal_helix();
    let teeth_are = if unlike { ", teeth unalike" } else { "" };
    let hand = cutter.hand().name();
    format!("End mill, {hand} hand, {teeth} teeth, {material}, {end}{tapered}{teeth_are}")
}

/// The book says where a cutter stands; that it is new it does not say, so that is not claimed. One
/// that went back as worn as it came cannot be asked for.
fn status(state: &CutterState, is_gone: bool) -> CutterStatus {
    let cutter = &state.cutter;
    let is_here =
        matches!(state.stage, Stage::Waiting | Stage::Planned | Stage::Ground | Stage::Checked);
    let (is_used, is_reconditioned) = (cutter.wear().is_some(), cutter.regrinds() > 0);
    let is_dull = state.stage == Stage::Back && is_used;
    let service = if is_here || is_gone || is_dull {
        let past = PastAtRest::Lived { is_used, is_reconditioned, is_expired: is_gone };
        Service::Unavailable { past, is_broken: false, is_unregistered: false }
    } else {
        Service::Available(Past::Lived { is_used, is_reconditioned })
    };
    CutterStatus::Known(KnownStatus {
        service,
        allocation: None,
        is_measured: diameter_now(cutter).is_some(),
        is_tagged_out: is_here && !is_gone,
    })
}

fn measurements(
    cutter: &Cutter,
    diameter: Option<Length>,
    smallest: Option<Length>,
) -> Vec<Measurement> {
    let of_record =
        |code, nominal| Measurement { code, value: None, nominal, minimum: None, maximum: None };
    let nominal = cutter.diameter();
    vec![
        Measurement {
            code: MeasurementCode::CuttingDiameter,
            value: diameter,
            nominal,
            minimum: smallest,
            // A new cutter may stand above its nominal size, so that is no bound.
            maximum: None,
        },
        of_record(MeasurementCode::FunctionalLength, cutter.overall_length()),
        of_record(MeasurementCode::DepthOfCut, cutter.flute_length()),
        of_record(MeasurementCode::OverallLength, cutter.overall_length()),
        of_record(MeasurementCode::ShankDiameter, cutter.shank_diameter()),
    ]
}

impl MeasurementCode {
    /// The code, as ISO 13399 has it.
    pub const fn code(self) -> &'static str {
        match self {
            Self::CuttingDiameter => "DC",
            Self::FunctionalLength => "LF",
            Self::DepthOfCut => "APMX",
            Self::OverallLength => "OAL",
            Self::ShankDiameter => "DMM",
        }
    }

    /// The element of MTConnect.
    pub(super) const fn element(self) -> &'static str {
        match self {
            Self::CuttingDiameter => "CuttingDiameterMax",
            Self::FunctionalLength => "FunctionalLength",
            Self::DepthOfCut => "DepthOfCutMax",
            Self::OverallLength => "OverallToolLength",
            Self::ShankDiameter => "ShankDiameter",
        }
    }
}

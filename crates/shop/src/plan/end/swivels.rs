//! The swivels that bring the cutter to the wheel for a plane of the end, on this machine's marks.

use geometry::Angle;
use geometry::chain::{Arrow, Body, Direction, Relation, Sense, Settings};
use geometry::end::{EndPlane, WorkAngles};

use crate::error::ShopError;
use crate::plan::DialMark;
use crate::pose::{MachineChain, SetUp, set_ups};
use crate::record::{AxisRole, Cutter, Fixture, Hand, Machine};

/// Where the swivels stand, and what that comes to.
#[derive(Clone, Debug, PartialEq)]
pub struct Swung {
    /// The swivels that are moved, each with its mark and what it is for, from the floor outward.
    pub marks: Vec<SwungMark>,
    /// The dish that the marks give.
    pub dish: Angle,
    /// How far the marks point the tip down.
    pub tilt: Angle,
    /// By how much the marks miss what was wanted, as an angle between axes.
    pub miss: Angle,
    /// How far the tooth must be turned about the cutter's axis from where its edge lay level
    /// before the swivels were set; found by levelling the edge.
    pub turn: Angle,
    /// How many other ways of setting the swivels there are.
    pub other_ways: usize,
    /// Where every swivel of the machine then stands.
    pub set: Settings,
}

/// One swivel and where it stands.
#[derive(Clone, Debug, PartialEq)]
pub struct SwungMark {
    /// What kind of swivel it is.
    pub role: AxisRole,
    /// What it should read, were every mark there.
    pub exact: Angle,
    /// The mark to set.
    pub mark: DialMark,
}

/// The swivels for an edge that lies along the travel, with its dish and the tooth's tilt, from
/// where they `stand`.
pub(super) fn swung(
    machine: &Machine,
    cutter: &Cutter,
    (dish, tilt): (Angle, Angle),
    stand: Option<&Swung>,
) -> Result<Swung, ShopError> {
    let plane = EndPlane::of_square_relief(dish, tilt)?;
    swung_to(machine, cutter, WorkAngles::axis_for(&plane, Angle::ZERO), stand)
}

/// The swivels that bring the cutter's axis there: toward its shank, right hand.
pub(super) fn swung_to(
    machine: &Machine,
    cutter: &Cutter,
    shank: [f64; 3],
    stand: Option<&Swung>,
) -> Result<Swung, ShopError> {
    check_end_is_free(machine)?;
    let chain = MachineChain::of(machine, cutter.hand());
    let wanted = mirrored(shank, cutter.hand());
    let to = Direction::new(wanted[0], wanted[1], wanted[2]).ok_or_else(|| {
        ShopError::invalid("end", "the direction of the cutter's axis is no direction")
    })?;
    let axis = Relation::Along {
        of: Arrow::of_cutter(Direction::OWN_AXIS),
        to: Arrow::of_floor(to),
        sense: Sense::Same,
    };
    let free: Vec<usize> =
        chain.swivels().into_iter().filter(|&joint| carries_cutter(&chain, joint)).collect();
    if free.is_empty() {
        return Err(ShopError::refused(
            "the work head must swing to bring the end to the wheel",
            "no swivel of this machine swings or tilts the work: use a bench whose work head does, \
             or write it into the machine's file as an axis of role \"work head swivel\"",
        ));
    }
    let stand = stand.map_or_else(|| chain.linkage().home(), |swung| swung.set.clone());
    let found = set_ups(&chain, &[axis], &stand, &free)?;
    let other_ways = found.len().saturating_sub(1);
    let best = found.into_iter().next().ok_or_else(|| {
        ShopError::refused("the swivels must reach it", "no set-up of them points the end there")
    })?;
    told(&chain, cutter.hand(), (&best, &stand), other_ways)
}

/// Refuses a fixture that stands in front of the end.
fn check_end_is_free(machine: &Machine) -> Result<(), ShopError> {
    if machine.holding().fixture() == Fixture::Centres {
        return Err(ShopError::refused(
            "the end must be free",
            "between centres one centre stands in the end: hold it by the shank in a collet or a \
             chuck",
        ));
    }
    Ok(())
}

/// Whether a joint swings or tilts the cutter's axis.
fn carries_cutter(chain: &MachineChain, joint: usize) -> bool {
    chain.axis(joint).is_some_and(|axis| {
        matches!(
            axis.role(),
            AxisRole::TableSwivel
                | AxisRole::WorkHeadSwivel
                | AxisRole::WorkHeadUpperSwivel
                | AxisRole::WorkHeadTilt
        )
    })
}

/// A left-hand cutter is the mirror image of a right-hand one.
fn mirrored([along, toward, up]: [f64; 3], hand: Hand) -> [f64; 3] {
    [if hand == Hand::Right { along } else { -along }, toward, up]
}

/// A swivel that its mark would turn by less, in minutes, stays where it stands.
const STAYS_MIN: f64 = 0.1;

fn told(
    chain: &MachineChain,
    hand: Hand,
    (best, stand): (&SetUp, &Settings),
    other_ways: usize,
) -> Result<Swung, ShopError> {
    let axis = axis_at(chain, &best.set);
    let [along, toward, up] = mirrored(axis, hand);
    let dish = Angle::from_radians((-along).clamp(-1.0, 1.0).asin());
    let tilt = Angle::from_radians(up.atan2(-toward));
    let level = EndPlane::of_square_relief(dish, tilt)
        .map(|plane| WorkAngles::swing_carries_tilt(&plane, Angle::ZERO).turn);
    // A swivel that its marks leave where it stands is not moved.
    let marks = best.moved.iter().filter_map(|moved| {
        let way = best.set.turn(moved.joint) - stand.turn(moved.joint);
        if way.abs() < Angle::from_minutes(STAYS_MIN) {
            return None;
        }
        let role = chain.axis(moved.joint)?.role();
        Some(SwungMark { role, exact: moved.exact, mark: moved.mark.clone() })
    });
    Ok(Swung {
        marks: marks.collect(),
        dish,
        tilt,
        miss: best.miss,
        turn: level.unwrap_or(Angle::ZERO),
        other_ways,
        set: best.set.clone(),
    })
}

fn axis_at(chain: &MachineChain, settings: &Settings) -> [f64; 3] {
    let cutter = chain.linkage().placement(Body::Cutter, settings);
    cutter.direction(&Direction::OWN_AXIS).parts()
}

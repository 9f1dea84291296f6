//! A machine's axes as a chain of joints, each counted by its own scale.

use geometry::Angle;
use geometry::chain::{Body, Linkage, Relation, Settings};

use super::sense::{Counted, carries, counted, turns_cutter_only};
use super::untold::Untold;
use crate::error::ShopError;
use crate::plan::DialMark;
use crate::record::{Axis, Hand, Machine, Side};

/// The axes of a machine that carry wheel or cutter, as joints that grow with their scales'
/// readings. With every joint at 0 the machine stands straight: the wheel faces the work squarely,
/// the cutter lies along the travel, the tooth at the rest on centre.
#[derive(Clone, Debug)]
pub struct MachineChain {
    hand: Hand,
    linkage: Linkage,
    scales: Vec<Scale>,
    untold: Vec<Untold>,
    /// What is carried by a swivel whose words do not say how it stands.
    doubtful: Vec<Body>,
}

/// The scale of one joint.
#[derive(Clone, Debug)]
struct Scale {
    axis: Axis,
    /// What it reads where the joint stands at 0.
    home: Angle,
}

impl MachineChain {
    /// The chain of a machine with a cutter of some hand in it: a right-hand cutter is held with
    /// its shank to the right, a left-hand one with its shank to the left.
    pub fn of(machine: &Machine, hand: Hand) -> Self {
        let (mut joints, mut scales) = (Vec::new(), Vec::new());
        let (mut untold, mut doubtful) = (Vec::new(), Vec::new());
        let carrying = |(_, axis): &(usize, &Axis)| carries(axis.role());
        for (place, axis) in machine.axes().iter().enumerate().filter(carrying) {
            if let Some(Counted { joint, home }) = counted(axis, hand) {
                joints.push(joint);
                scales.push(Scale { axis: axis.clone(), home });
                continue;
            }
            untold.extend(Untold::of(place, axis));
            // A slide turns nothing, and a dial of the spindle is taken to have its tooth on
            // centre.
            if axis.swivel().is_some() && !turns_cutter_only(axis.role()) {
                doubtful.push(match axis.side() {
                    Side::Wheel => Body::Wheel,
                    Side::Work => Body::Cutter,
                });
            }
        }
        let linkage = match hand {
            Hand::Right => Linkage::facing(joints),
            Hand::Left => Linkage::facing_left_hand(joints),
        };
        Self { hand, linkage, scales, untold, doubtful }
    }

    /// The hand of the cutter that is held.
    pub const fn hand(&self) -> Hand {
        self.hand
    }

    /// The joints.
    pub const fn linkage(&self) -> &Linkage {
        &self.linkage
    }

    /// The axes whose words do not say how they stand; they are no joints here.
    pub fn untold(&self) -> &[Untold] {
        &self.untold
    }

    /// The axis of a joint.
    pub fn axis(&self, joint: usize) -> Option<&Axis> {
        self.scales.get(joint).map(|scale| &scale.axis)
    }

    /// Every swivel, from the floor outward.
    pub fn swivels(&self) -> Vec<usize> {
        let joints = self.linkage.joints().iter().enumerate();
        joints.filter(|(_, joint)| joint.turns()).map(|(index, _)| index).collect()
    }

    /// The swivel of that name, without regard to case.
    ///
    /// # Errors
    /// Where there is none, or where its words do not say how it stands.
    pub fn swivel(&self, name: &str) -> Result<usize, ShopError> {
        let is_named = |axis: &str| axis.eq_ignore_ascii_case(name.trim());
        let found = self.swivels().into_iter().find(|&joint| is_named(self.name(joint)));
        found.ok_or_else(|| {
            if let Some(untold) = self.untold.iter().find(|untold| is_named(&untold.axis)) {
                return ShopError::refused(UNTOLD, untold.to_string());
            }
            let names = self.swivels().into_iter().map(|joint| format!("\"{}\"", self.name(joint)));
            let names = names.collect::<Vec<_>>().join(", ");
            ShopError::invalid(name, format!("no swivel has this name; the machine has {names}"))
        })
    }

    /// What people at the machine call a joint.
    pub(super) fn name(&self, joint: usize) -> &str {
        self.axis(joint).map_or("", Axis::name)
    }

    /// What a swivel's scale reads where the joint has some stand.
    pub fn reading(&self, joint: usize, settings: &Settings) -> Angle {
        settings.turn(joint) + self.home(joint)
    }

    /// The stand at which a swivel's scale has some reading.
    pub fn stand(&self, joint: usize, reading: Angle) -> Angle {
        reading - self.home(joint)
    }

    fn home(&self, joint: usize) -> Angle {
        self.scales.get(joint).map_or(Angle::ZERO, |scale| scale.home)
    }

    /// A swivel's mark where it has some stand.
    pub fn mark(&self, joint: usize, settings: &Settings) -> Option<DialMark> {
        let axis = self.axis(joint)?;
        Some(DialMark::swivel(axis, axis.swivel()?, self.reading(joint, settings)))
    }

    /// The smallest step of a swivel.
    pub(super) fn finest(&self, joint: usize) -> Angle {
        let scale = self.axis(joint).and_then(Axis::swivel);
        scale.map_or(Angle::ZERO, |scale| scale.finest())
    }

    /// A reading in its scale's own divisions.
    pub(super) fn shown(&self, joint: usize, settings: &Settings) -> String {
        self.reading(joint, settings).show_to(self.finest(joint)).to_string()
    }

    /// Refuses relations that hang on a swivel whose words do not say how it stands.
    pub(super) fn check_told(&self, relations: &[Relation]) -> Result<(), ShopError> {
        let hangs = |body: &Body| {
            let has = |relation: &Relation| {
                let (one, other) = relation.arrows();
                one.body == *body || other.body == *body
            };
            relations.iter().any(has)
        };
        if !self.doubtful.iter().any(hangs) {
            return Ok(());
        }
        let turning = self.untold.iter().filter(|untold| untold.turns);
        let told: Vec<String> = turning.map(ToString::to_string).collect();
        Err(ShopError::refused(UNTOLD, told.join("; ")))
    }
}

/// The rule by which a machine whose words say too little is refused.
const UNTOLD: &str = "the machine's file must say how its swivels stand";

//! A tool and cutter grinder as it stands on the bench.

use super::axis::{Axis, AxisRole, HeadZero};
use super::error::RecordErrors;
use super::faults::{Faults, fault, quoted};
use super::holding::{Rest, WorkHolding};
use super::named::named;
use super::scale::{SlideScale, SwivelScale};
use super::spindle::Spindle;

named! {
    /// Whether coolant runs.
    Coolant {
        /// With coolant.
        Wet = "wet",
        /// Without.
        Dry = "dry",
    }
}

/// A machine before it is checked; its parts are sound already.
#[derive(Clone, Debug, PartialEq)]
pub struct MachineDraft {
    /// What the shop calls it.
    pub name: String,
    /// The wheel spindle.
    pub spindle: Spindle,
    /// Every axis, from the floor to the wheel and from the floor to the work, in order.
    pub axes: Vec<Axis>,
    /// What holds the work.
    pub holding: WorkHolding,
    /// The tooth rest.
    pub rest: Rest,
    /// Whether coolant runs.
    pub coolant: Coolant,
    /// Whether dust or mist is drawn off.
    pub extraction: bool,
}

/// A sound machine.
#[derive(Clone, Debug, PartialEq)]
pub struct Machine {
    facts: MachineDraft,
    cross_feed: SlideScale,
    head_swivel: SwivelScale,
    head_zero: HeadZero,
}

impl MachineDraft {
    /// Checks what the parts must be to one another.
    ///
    /// # Errors
    /// All facts that are violated: two axes of one name, too many of a role, no cross feed, no
    /// head swivel, no way of setting relief.
    pub fn build(self) -> Result<Machine, RecordErrors> {
        let mut faults = Faults::default();
        faults.name("name", &self.name);
        for (index, axis) in self.axes.iter().enumerate() {
            self.check_single(index, axis, &mut faults);
        }
        self.check_relief(&mut faults);
        let cross_feed = faults.absorb(self.cross_feed());
        let head = faults.absorb(self.head());
        match cross_feed.zip(head) {
            Some((cross_feed, (head_swivel, head_zero))) => faults.verdict().map(|()| Machine {
                facts: self,
                cross_feed,
                head_swivel,
                head_zero,
            }),
            None => Err(faults.into_errors()),
        }
    }

    fn cross_feed(&self) -> Result<SlideScale, RecordErrors> {
        let axis = self.axis(AxisRole::CrossFeed);
        axis.and_then(Axis::slide).copied().ok_or_else(|| absent(AxisRole::CrossFeed))
    }

    fn head(&self) -> Result<(SwivelScale, HeadZero), RecordErrors> {
        let axis = self.axis(AxisRole::HeadSwivel);
        let head = axis.and_then(|axis| Some((*axis.swivel()?, axis.head_zero()?)));
        head.ok_or_else(|| absent(AxisRole::HeadSwivel))
    }

    fn axis(&self, role: AxisRole) -> Option<&Axis> {
        self.axes.iter().find(|axis| axis.role() == role)
    }

    fn check_single(&self, index: usize, axis: &Axis, faults: &mut Faults) {
        let earlier = &self.axes[..index];
        let role = axis.role();
        let alike = earlier.iter().filter(|other| other.role() == role).count();
        let allowed = if role.may_stand_twice() { 2 } else { 1 };
        let field = format!("axis[{index}].role");
        faults.require(alike < allowed, &field, quoted(role.name()), || {
            let right =
                if allowed == 1 { "write each role once" } else { "write it twice at most" };
            let others = if alike == 1 { "another axis is" } else { "two other axes are" };
            fault(format!("{others} the {role}"), right)
        });
        let name_single = earlier.iter().all(|other| other.name() != axis.name());
        faults.require(name_single, &format!("axis[{index}].name"), quoted(axis.name()), || {
            fault("another axis has this name", "write a name of its own for each axis")
        });
    }

    fn check_relief(&self, faults: &mut Faults) {
        let settable = self.axes.iter().any(|axis| axis.role().sets_relief());
        faults.require(settable, "axis", "no way of setting relief", || {
            fault(
                "relief is set by turning the tooth or by a difference of height",
                "write an axis of role \"relief dial\", \"rest height\" or \"wheel head height\"",
            )
        });
    }
}

/// The complaint that an axis no machine can do without is not there.
fn absent(role: AxisRole) -> RecordErrors {
    let mut faults = Faults::default();
    faults.require(false, "axis", format!("no {role}"), || {
        fault(format!("every machine has a {role}"), format!("write an axis of role \"{role}\""))
    });
    faults.into_errors()
}

impl Machine {
    /// What the shop calls it.
    pub fn name(&self) -> &str {
        &self.facts.name
    }

    /// The wheel spindle.
    pub const fn spindle(&self) -> &Spindle {
        &self.facts.spindle
    }

    /// Every axis in order.
    pub fn axes(&self) -> &[Axis] {
        &self.facts.axes
    }

    /// The axis of that role, if it has one; the one nearest the floor where it has two.
    pub fn axis(&self, role: AxisRole) -> Option<&Axis> {
        self.facts.axis(role)
    }

    /// The axes relief can be set by, in the machine's order; at least one.
    pub fn relief_axes(&self) -> impl Iterator<Item = &Axis> {
        self.facts.axes.iter().filter(|axis| axis.role().sets_relief())
    }

    /// The dial of the cross feed, which every machine has.
    pub const fn cross_feed(&self) -> &SlideScale {
        &self.cross_feed
    }

    /// The circle of the head swivel, which every machine has.
    pub const fn head_swivel(&self) -> &SwivelScale {
        &self.head_swivel
    }

    /// Where the head swivel reads 0.
    pub const fn head_zero(&self) -> HeadZero {
        self.head_zero
    }

    /// What holds the work.
    pub const fn holding(&self) -> &WorkHolding {
        &self.facts.holding
    }

    /// The tooth rest.
    pub const fn rest(&self) -> &Rest {
        &self.facts.rest
    }

    /// Whether coolant runs.
    pub const fn coolant(&self) -> Coolant {
        self.facts.coolant
    }

    /// Whether dust or mist is drawn off.
    pub const fn extraction(&self) -> bool {
        self.facts.extraction
    }
}

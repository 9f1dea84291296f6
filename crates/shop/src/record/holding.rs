//! What holds the work, and the rest the tooth slides on.

use geometry::Length;

use super::dividing::Dividing;
use super::error::RecordErrors;
use super::faults::{Faults, fault, shown};
use super::named::named;

/// Air pressures at which air spindles run, in pounds per square inch.
const AIR_PSI: (u32, u32) = (15, 150);
/// Highest and farthest centres of a bench machine, in mm.
const CENTRES_MM_MAX: f64 = 1500.0;
/// Thickest shank or arbor that a work head takes, in mm.
const SHANK_MM_MAX: f64 = 150.0;
/// Thickest nose of a work head, in mm.
const NOSE_MM_MAX: f64 = 300.0;
/// Widest finger of a tooth rest, in mm.
const FINGER_MM_MAX: f64 = 50.0;

/// What carries the cutter while its tooth slides on the rest.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Fixture {
    /// A spindle floating on air, free to turn and slide.
    AirSpindle {
        /// Pressure of the air, pounds per square inch above the room's.
        psi: u32,
    },
    /// A collet spindle in plain bearings.
    ColletFixture,
    /// Two centres.
    Centres,
    /// A head that indexes from tooth to tooth.
    IndexHead,
}

impl Fixture {
    /// The name used in files and on sheets.
    pub const fn name(self) -> &'static str {
        match self {
            Self::AirSpindle { .. } => "air spindle",
            Self::ColletFixture => "collet fixture",
            Self::Centres => "centres",
            Self::IndexHead => "index head",
        }
    }
}

/// How high the centres or the work spindle stand, and how long a cutter goes between centres.
#[derive(Clone, Copy, Debug, Default, PartialEq)]
pub struct Centres {
    /// Height of the cutter's axis above the table.
    pub height: Option<Length>,
    /// Longest cutter that goes between the centres.
    pub longest: Option<Length>,
}

impl Centres {
    fn check(&self, faults: &mut Faults) {
        let most = Length::from_mm(CENTRES_MM_MAX);
        for (field, value) in [("centre_height", self.height), ("longest", self.longest)] {
            if let Some(value) = value {
                faults.length_over_zero(field, value, most);
            }
        }
    }
}

/// Work holding before it is checked.
#[derive(Clone, Debug, PartialEq)]
pub struct HoldingDraft {
    /// What carries the cutter.
    pub fixture: Fixture,
    /// Thinnest shank it holds.
    pub shank_min: Length,
    /// Thickest shank it holds.
    pub shank_max: Length,
    /// The surface the fixture is squared by, in words.
    pub squaring: String,
    /// What an index head divides by, as far as it is known.
    pub dividing: Dividing,
    /// How high and how far apart the centres stand.
    pub centres: Centres,
    /// The greatest diameter of the nose, collet nut or dog that the cutter stands out of.
    pub nose_diameter: Option<Length>,
}

/// Sound work holding.
#[derive(Clone, Debug, PartialEq)]
pub struct WorkHolding {
    facts: HoldingDraft,
}

impl HoldingDraft {
    /// Checks every fact.
    ///
    /// # Errors
    /// All facts that are violated, each with its field and value.
    pub fn build(self) -> Result<WorkHolding, RecordErrors> {
        let mut faults = Faults::default();
        if let Fixture::AirSpindle { psi } = self.fixture {
            faults.count("psi", psi, AIR_PSI.0, AIR_PSI.1);
        }
        faults.length_over_zero("shank_min", self.shank_min, Length::from_mm(SHANK_MM_MAX));
        faults.length_over_zero("shank_max", self.shank_max, Length::from_mm(SHANK_MM_MAX));
        let rising = self.shank_min <= self.shank_max;
        let thinnest = shown(self.shank_min);
        faults.require_with(rising, ("shank_max", &["shank_min"]), shown(self.shank_max), || {
            fault(format!("less than shank_min, {thinnest}"), format!("write at least {thinnest}"))
        });
        faults.name("squaring", &self.squaring);
        self.dividing.check(self.fixture == Fixture::IndexHead, &mut faults);
        self.centres.check(&mut faults);
        if let Some(nose) = self.nose_diameter {
            faults.length_over_zero("nose_diameter", nose, Length::from_mm(NOSE_MM_MAX));
        }
        faults.verdict().map(|()| WorkHolding { facts: self })
    }
}

impl WorkHolding {
    /// What carries the cutter.
    pub const fn fixture(&self) -> Fixture {
        self.facts.fixture
    }

    /// Thinnest and thickest shank it holds.
    pub const fn shanks(&self) -> (Length, Length) {
        (self.facts.shank_min, self.facts.shank_max)
    }

    /// Whether it holds a shank of this diameter.
    pub fn holds(&self, shank: Length) -> bool {
        (self.facts.shank_min..=self.facts.shank_max).contains(&shank)
    }

    /// What an index head divides by.
    pub const fn dividing(&self) -> &Dividing {
        &self.facts.dividing
    }

    /// How high and how far apart the centres stand.
    pub const fn centres(&self) -> &Centres {
        &self.facts.centres
    }

    /// The greatest diameter of the nose that the cutter stands out of, if known.
    pub const fn nose_diameter(&self) -> Option<Length> {
        self.facts.nose_diameter
    }

    /// The surface the fixture is squared by, in words.
    pub fn squaring(&self) -> &str {
        &self.facts.squaring
    }
}

named! {
    /// What the tooth rest stands on, which decides whether it follows the wheel or the work.
    RestStand {
        /// On the table: it travels with the work.
        Table = "table",
        /// On the wheel head: it stays with the wheel, as a helical tooth needs.
        WheelHead = "wheel head",
    }
}

named! {
    /// The form of a finger of the tooth rest.
    FingerKind {
        /// A plain blade.
        Plain = "plain",
        /// Hooked, for small or closely spaced teeth.
        Hooked = "hooked",
        /// Offset to one side, to reach past the wheel.
        Offset = "offset",
    }
}

/// A finger of the tooth rest.
#[derive(Clone, Debug, PartialEq)]
pub struct Finger {
    /// What people call it.
    pub name: String,
    /// Width of its bearing edge along the cutter.
    pub width: Length,
    /// Its form.
    pub kind: FingerKind,
}

/// A tooth rest before it is checked.
#[derive(Clone, Debug, PartialEq)]
pub struct RestDraft {
    /// What it stands on.
    pub stands_on: RestStand,
    /// The fingers that fit it.
    pub fingers: Vec<Finger>,
}

/// A sound tooth rest.
#[derive(Clone, Debug, PartialEq)]
pub struct Rest {
    facts: RestDraft,
}

impl RestDraft {
    /// Checks every fact.
    ///
    /// # Errors
    /// All facts that are violated, each with its field and value.
    pub fn build(self) -> Result<Rest, RecordErrors> {
        let mut faults = Faults::default();
        faults.require(!self.fingers.is_empty(), "finger", "none", || {
            fault("a rest needs a finger", "write a [[rest.finger]] with its name and width")
        });
        for (index, finger) in self.fingers.iter().enumerate() {
            let field = format!("finger[{index}].name");
            faults.name(&field, &finger.name);
            let widest = Length::from_mm(FINGER_MM_MAX);
            faults.length_over_zero(&format!("finger[{index}].width"), finger.width, widest);
            let single = self.fingers[..index].iter().all(|earlier| earlier.name != finger.name);
            faults.require(single, &field, format!("{:?}", finger.name), || {
                fault("another finger has this name", "write a name of its own for each finger")
            });
        }
        faults.verdict().map(|()| Rest { facts: self })
    }
}

impl Rest {
    /// What it stands on.
    pub const fn stands_on(&self) -> RestStand {
        self.facts.stands_on
    }

    /// The fingers that fit it; at least one.
    pub fn fingers(&self) -> &[Finger] {
        &self.facts.fingers
    }

    /// The finger of that name.
    pub fn finger(&self, name: &str) -> Option<&Finger> {
        self.facts.fingers.iter().find(|finger| finger.name == name)
    }
}

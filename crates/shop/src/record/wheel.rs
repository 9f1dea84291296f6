//! A grinding wheel as it is now, with what its maker marked on it.

use std::f64::consts::PI;

use geometry::{Angle, Length};
use trade::Abrasive;

use super::error::RecordErrors;
use super::faults::{Faults, degrees, fault, quoted, shown};
use super::machine::Coolant;
use super::shape::{Bond, WheelShape};

/// Smallest and largest wheels of bench machines, in mm.
const DIAMETER_MM: (f64, f64) = (10.0, 400.0);
/// Slowest and fastest marked speeds, in revolutions per minute.
const RPM: (u32, u32) = (500, 100_000);
/// Concentrations in which wheels are sold; 100 is 4.4 carats per cubic centimetre.
const CONCENTRATION: (u32, u32) = (10, 250);
/// Slowest and fastest marked surface speeds, in metres per second.
const SURFACE_SPEED_M_PER_S: (f64, f64) = (5.0, 200.0);
/// How far the two marked speeds may disagree, for marks rounded to whole numbers.
const SPEED_ROUNDING_RATIO: f64 = 1.05;

/// A wheel before it is checked.
#[derive(Clone, Debug, PartialEq)]
pub struct WheelDraft {
    /// The shop's own number for this very wheel.
    pub number: String,
    /// The symbol its shape is marked with.
    pub shape: WheelShape,
    /// Its grain.
    pub abrasive: Abrasive,
    /// Its grit in the maker's words: a mesh number or a FEPA designation such as B126.
    pub grit: String,
    /// Concentration, of diamond and CBN.
    pub concentration: Option<u32>,
    /// Grade, a letter from A (soft) to Z (hard) as ISO 525 marks it.
    pub grade: Option<char>,
    /// What holds the grains together.
    pub bond: Bond,
    /// Diameter now, over the rim that grinds.
    pub diameter: Length,
    /// Width of the face that grinds, now.
    pub face_width: Length,
    /// Width of the whole rim, which the face can grow to as the wheel wears.
    pub rim_width: Option<Length>,
    /// Radius that wear has left on the leading corner; 0 for a sharp one.
    pub corner_radius: Length,
    /// Diameter of the hole.
    pub bore: Length,
    /// Depth of a cup or dish, thickness of a straight wheel.
    pub depth: Length,
    /// Angle of a flaring cup's or dish's wall from its axis.
    pub wall_angle: Option<Angle>,
    /// Highest speed marked on the wheel, revolutions per minute.
    pub marked_rpm: u32,
    /// Highest surface speed marked on the wheel, metres per second.
    pub marked_speed_m_per_s: Option<f64>,
    /// Whether its bond is meant for wet or for dry work; none where it takes both.
    pub coolant: Option<Coolant>,
}

/// A sound wheel. That its record is sound says nothing about the wheel on the bench: looking at
/// it, ringing it and reading its mark remain the hand's own work.
#[derive(Clone, Debug, PartialEq)]
pub struct Wheel {
    facts: WheelDraft,
}

/// The fastest surface of a bench's wheels, in metres per second, with much to spare: vitrified CBN
/// on machines made for it runs at 125 (from memory; own choice, no source).
const SURFACE_MAX: f64 = 160.0;

impl WheelDraft {
    /// Checks every fact.
    ///
    /// # Errors
    /// All facts that are violated, each with its field and value.
    pub fn build(self) -> Result<Wheel, RecordErrors> {
        let mut faults = Faults::default();
        faults.name("number", &self.number);
        faults.name("grit", &self.grit);
        self.check_marking(&mut faults);
        self.check_body(&mut faults);
        self.check_rim(&mut faults);
        self.check_wall(&mut faults);
        self.check_speeds(&mut faults);
        faults.verdict().map(|()| Wheel { facts: self })
    }

    fn check_marking(&self, faults: &mut Faults) {
        let is_super = self.abrasive.is_super();
        let marked = self.shape.is_of_super_abrasive() == is_super;
        faults.require_with(marked, ("shape", &["abrasive"]), quoted(self.shape.name()), || {
            let standard = if is_super { "ISO 6104" } else { "ISO 525" };
            let names: Vec<_> = WheelShape::marking(is_super).map(|s| quoted(s.name())).collect();
            let fact = format!("{} is marked with the shapes of {standard}", self.abrasive.name());
            fault(fact, format!("write one of {}", names.join(", ")))
        });
        let bonded = is_super || !self.bond.holds_super_abrasive_only();
        faults.require_with(bonded, ("bond", &["abrasive"]), quoted(self.bond.name()), || {
            let fact = format!("{} is not bonded in metal", self.abrasive.name());
            fault(fact, "write \"vitrified\" or \"resin\"")
        });
        self.check_structure(is_super, faults);
    }

    fn check_structure(&self, is_super: bool, faults: &mut Faults) {
        if let Some(concentration) = self.concentration {
            faults.count("concentration", concentration, CONCENTRATION.0, CONCENTRATION.1);
            let blamed: (&str, &[&str]) = ("concentration", &["abrasive"]);
            faults.require_with(is_super, blamed, concentration, || {
                fault("only diamond and CBN have a concentration", "leave it out")
            });
        }
        if let Some(grade) = self.grade {
            faults.require(grade.is_ascii_uppercase(), "grade", quoted(&grade.to_string()), || {
                fault("a grade is one letter", "write one letter from \"A\" (soft) to \"Z\" (hard)")
            });
        }
    }

    fn check_body(&self, faults: &mut Faults) {
        let (least, largest) = (Length::from_mm(DIAMETER_MM.0), Length::from_mm(DIAMETER_MM.1));
        faults.length("diameter", self.diameter, least, largest);
        faults.length_over_zero("bore", self.bore, largest);
        faults.length_over_zero("depth", self.depth, largest);
        let hollow = self.bore < self.diameter;
        faults.require_with(hollow, ("bore", &["diameter"]), shown(self.bore), || {
            let diameter = shown(self.diameter);
            fault(
                format!("not smaller than the wheel, {diameter}"),
                format!("write under {diameter}"),
            )
        });
    }

    /// A cup's face is a ring and lies within the radius; a straight wheel's face is its width.
    fn check_rim(&self, faults: &mut Faults) {
        let cup = self.shape.form().grinds_on_face();
        let (room, place, other) = if cup {
            (self.diameter / 2.0, "radius", "diameter")
        } else {
            (self.depth, "thickness", "depth")
        };
        faults.length_over_zero("face_width", self.face_width, Length::from_mm(DIAMETER_MM.1));
        let fits = self.face_width <= room;
        let blamed: (&str, &[&str]) = ("face_width", &[other, "shape"]);
        faults.require_with(fits, blamed, shown(self.face_width), || {
            let room = shown(room);
            fault(
                format!("wider than the wheel's {place}, {room}"),
                format!("write at most {room}"),
            )
        });
        if let Some(rim) = self.rim_width {
            let holds = rim >= self.face_width && rim <= room;
            let blamed: (&str, &[&str]) = ("rim_width", &["face_width", other, "shape"]);
            faults.require_with(holds, blamed, shown(rim), || {
                let fact = format!("the rim holds the face and lies within the wheel's {place}");
                let (face, room) = (shown(self.face_width), shown(room));
                fault(fact, format!("write a width from {face} to {room}"))
            });
        }
        let worn = self.corner_radius >= Length::ZERO && self.corner_radius <= self.face_width;
        let blamed: (&str, &[&str]) = ("corner_radius", &["face_width"]);
        faults.require_with(worn, blamed, shown(self.corner_radius), || {
            let face = shown(self.face_width);
            fault("a worn corner lies on the face", format!("write 0 mm to {face}"))
        });
    }

    fn check_wall(&self, faults: &mut Faults) {
        let Some(angle) = self.wall_angle else { return };
        faults.angle("wall_angle", angle, Angle::ZERO, Angle::from_degrees(85.0));
        let form = self.shape.form();
        let blamed: (&str, &[&str]) = ("wall_angle", &["shape"]);
        faults.require_with(form.has_leaning_wall(), blamed, degrees(angle), || {
            fault(format!("the wall of a {} does not lean", form.name()), "leave it out")
        });
    }

    /// The marked revolutions, on the diameter of now, must not exceed the marked surface speed.
    ///
    /// **Source** \[own-derivation\] π D n. **Departs** in allowing 5 % for marks rounded to whole
    /// numbers. **Error** rounding. **Domain** every wheel that is marked with both speeds.
    fn check_speeds(&self, faults: &mut Faults) {
        faults.count("marked_rpm", self.marked_rpm, RPM.0, RPM.1);
        let Some(speed) = self.marked_speed_m_per_s else { return };
        let (low, high) = SURFACE_SPEED_M_PER_S;
        faults.require(
            (low..=high).contains(&speed),
            "marked_speed",
            format!("{speed} m/s"),
            || {
                fault(
                    "no wheel for a bench is marked so",
                    format!("write a speed from {low} m/s to {high} m/s"),
                )
            },
        );
        let turning = PI * self.diameter.mm() / 1000.0 * f64::from(self.marked_rpm) / 60.0;
        faults.require_with(
            turning <= SURFACE_MAX,
            ("marked_rpm", &["diameter"]),
            self.marked_rpm,
            || {
                let fact =
                    format!("at this size that is {turning:.0} m/s, more than any such wheel runs");
                fault(fact, "read the mark on the wheel again, and its diameter")
            },
        );
        let agrees = turning <= speed * SPEED_ROUNDING_RATIO;
        let blamed: (&str, &[&str]) = ("marked_rpm", &["marked_speed", "diameter"]);
        faults.require_with(agrees, blamed, self.marked_rpm, || {
            fault(
                format!("{turning:.1} m/s on this diameter, but the mark says {speed} m/s"),
                "read both speeds on the wheel again",
            )
        });
    }
}

impl Wheel {
    /// Every fact, for whoever needs to change one and build again.
    pub fn draft(&self) -> WheelDraft {
        self.facts.clone()
    }

    /// The shop's own number for this wheel.
    pub fn number(&self) -> &str {
        &self.facts.number
    }

    /// The symbol its shape is marked with.
    pub const fn shape(&self) -> WheelShape {
        self.facts.shape
    }

    /// Its grain.
    pub const fn abrasive(&self) -> Abrasive {
        self.facts.abrasive
    }

    /// Its grit in the maker's words.
    pub fn grit(&self) -> &str {
        &self.facts.grit
    }

    /// Concentration, of diamond and CBN.
    pub const fn concentration(&self) -> Option<u32> {
        self.facts.concentration
    }

    /// Grade, a letter from A (soft) to Z (hard).
    pub const fn grade(&self) -> Option<char> {
        self.facts.grade
    }

    /// What holds the grains together.
    pub const fn bond(&self) -> Bond {
        self.facts.bond
    }

    /// Diameter now.
    pub const fn diameter(&self) -> Length {
        self.facts.diameter
    }

    /// Width of the face that grinds, now.
    pub const fn face_width(&self) -> Length {
        self.facts.face_width
    }

    /// Width of the whole rim, if known.
    pub const fn rim_width(&self) -> Option<Length> {
        self.facts.rim_width
    }

    /// Radius that wear has left on the leading corner; 0 for a sharp one.
    pub const fn corner_radius(&self) -> Length {
        self.facts.corner_radius
    }

    /// Diameter of the hole.
    pub const fn bore(&self) -> Length {
        self.facts.bore
    }

    /// Depth of a cup or dish, thickness of a straight wheel.
    pub const fn depth(&self) -> Length {
        self.facts.depth
    }

    /// Angle of a flaring cup's or dish's wall from its axis, if known.
    pub const fn wall_angle(&self) -> Option<Angle> {
        self.facts.wall_angle
    }

    /// Highest speed marked on the wheel, revolutions per minute.
    pub const fn marked_rpm(&self) -> u32 {
        self.facts.marked_rpm
    }

    /// Highest surface speed marked on the wheel, metres per second, if it is marked.
    pub const fn marked_speed_m_per_s(&self) -> Option<f64> {
        self.facts.marked_speed_m_per_s
    }

    /// Whether its bond is meant for wet or for dry work; none where it takes both.
    pub const fn coolant(&self) -> Option<Coolant> {
        self.facts.coolant
    }
}

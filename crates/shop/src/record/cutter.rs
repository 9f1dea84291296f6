//! A milling cutter as the shop knows it.

use std::f64::consts::PI;

use geometry::quantity::System;
use geometry::{Angle, Length};
use trade::ToolMaterial;

use super::as_ground::AsGround;
use super::end_teeth::EndTeeth;
use super::error::RecordErrors;
use super::faults::{Faults, fault, shown};
use super::form::{EndForm, Hand, Profile};
use super::special::Special;
use super::wear::Wear;

/// Teeth of a cutter that can be reached one by one on a rest.
const TEETH: (u32, u32) = (2, 40);
/// Cutter diameters that a manual cutter grinder takes; beyond them a slip of unit is likelier.
const DIAMETER_MM: (f64, f64) = (0.5, 250.0);
/// Longest cutter a bench machine takes between its work head and its tailstock, in mm.
const LONGEST_MM: f64 = 1000.0;
/// Regrinds beyond this number are a slip of the pen.
const REGRINDS_MAX: u32 = 200;

/// A cutter's facts before they are checked.
#[derive(Clone, Debug, PartialEq)]
pub struct CutterDraft {
    /// The shop's own number for this very cutter.
    pub number: String,
    /// Nominal diameter, which with the helix angle fixes the lead for the cutter's whole life.
    pub diameter: Length,
    /// Number of teeth.
    pub teeth: u32,
    /// Hand of cut.
    pub hand: Hand,
    /// Helix angle; 0 is a straight tooth.
    pub helix: Angle,
    /// Hand of helix; none for a straight tooth.
    pub helix_hand: Option<Hand>,
    /// Radial rake at the edge, positive for a hooked tooth.
    pub rake: Angle,
    /// Material of the teeth.
    pub material: ToolMaterial,
    /// Form of the end.
    pub end: EndForm,
    /// Profile of the teeth.
    pub profile: Profile,
    /// Length of the flutes from the end.
    pub flute_length: Length,
    /// Length of the whole cutter.
    pub overall_length: Length,
    /// Diameter of the shank.
    pub shank_diameter: Length,
    /// Diameter of the core under the flutes.
    pub core_diameter: Option<Length>,
    /// Width of a tooth's back from its edge, along the circle.
    pub tooth_thickness: Option<Length>,
    /// Whether end teeth reach the centre.
    pub centre_cutting: bool,
    /// Coating, in the words on its box.
    pub coating: Option<String>,
    /// The group of work it cuts; "any" where it is not kept for one.
    pub work: String,
    /// How often it has been reground.
    pub regrinds: u32,
    /// Whether its teeth are spaced unequally on purpose; none where nobody said.
    pub unequal_index: Option<bool>,
    /// The cutter when it was last sharp, if that is known.
    pub as_ground: Option<AsGround>,
    /// Its end teeth, as far as they are known.
    pub end_teeth: Option<EndTeeth>,
    /// Where and how its teeth stand, where they stand unalike, and its taper.
    pub special: Special,
}

/// A sound record of one cutter.
#[derive(Clone, Debug, PartialEq)]
pub struct Cutter {
    facts: CutterDraft,
    wear: Option<Wear>,
}

impl CutterDraft {
    /// Checks every fact.
    ///
    /// # Errors
    /// All facts that are violated, each with its field and value.
    pub fn build(self) -> Result<Cutter, RecordErrors> {
        let mut faults = Faults::default();
        self.check_names(&mut faults);
        self.check_teeth(&mut faults);
        self.check_end(&mut faults);
        self.check_lengths(&mut faults);
        self.check_core(&mut faults);
        self.special.check(&self, &mut faults);
        if let Some(ground) = &self.as_ground {
            self.check_as_ground(ground, &mut faults);
        }
        if let Some(end) = &self.end_teeth {
            self.check_end_teeth(end, &mut faults);
        }
        faults.verdict().map(|()| Cutter { facts: self, wear: None })
    }

    fn check_names(&self, faults: &mut Faults) {
        faults.name("number", &self.number);
        faults.name("work", &self.work);
        if let Some(coating) = &self.coating {
            faults.name("coating", coating);
        }
        faults.count("regrinds", self.regrinds, 0, REGRINDS_MAX);
    }

    fn check_teeth(&self, faults: &mut Faults) {
        faults.count("teeth", self.teeth, TEETH.0, TEETH.1);
        faults.angle("helix", self.helix, Angle::ZERO, Angle::from_degrees(60.0));
        let handed = self.helix_hand.is_some() || self.helix <= Angle::ZERO;
        faults.require_with(handed, ("helix_hand", &["helix"]), "none", || {
            fault("a helix needs its hand", "write \"right\" or \"left\"")
        });
        faults.angle("rake", self.rake, Angle::from_degrees(-30.0), Angle::from_degrees(45.0));
    }

    fn check_end(&self, faults: &mut Faults) {
        let EndForm::CornerRadius(radius) = self.end else { return };
        let half = self.diameter / 2.0;
        let fits = radius > Length::ZERO && radius < half;
        faults.require_with(fits, ("corner_radius", &["diameter", "end"]), shown(radius), || {
            if radius == half {
                fault("a corner of half the diameter is a ball end", "write end = \"ball\"")
            } else {
                let right = format!("write a radius over 0 and under {}", shown(half));
                fault("a corner must fit the end", right)
            }
        });
    }

    fn check_lengths(&self, faults: &mut Faults) {
        let longest = Length::from_mm(LONGEST_MM);
        let (least, greatest) = (Length::from_mm(DIAMETER_MM.0), Length::from_mm(DIAMETER_MM.1));
        faults.length("diameter", self.diameter, least, greatest);
        faults.length("shank_diameter", self.shank_diameter, least, greatest);
        faults.length_over_zero("overall_length", self.overall_length, longest);
        faults.length_over_zero("flute_length", self.flute_length, longest);
        let shorter = self.flute_length <= self.overall_length;
        let blamed: (&str, &[&str]) = ("flute_length", &["overall_length"]);
        faults.require_with(shorter, blamed, shown(self.flute_length), || {
            let whole = shown(self.overall_length);
            fault(
                format!("longer than the whole cutter, {whole}"),
                format!("write at most {whole}"),
            )
        });
    }

    fn check_core(&self, faults: &mut Faults) {
        if let Some(core) = self.core_diameter {
            let inside = core > Length::ZERO && core < self.diameter;
            faults.require_with(inside, ("core_diameter", &["diameter"]), shown(core), || {
                let right = format!("write a diameter over 0 and under {}", shown(self.diameter));
                fault("a core lies inside the cutter", right)
            });
        }
        if let Some(back) = self.tooth_thickness {
            let pitch = self.pitch();
            let fits = back > Length::ZERO && back < pitch;
            let blamed: (&str, &[&str]) = ("tooth_thickness", &["diameter", "teeth"]);
            faults.require_with(fits, blamed, shown(back), || {
                let fact = format!("one tooth and its gap share {} of the circle", shown(pitch));
                fault(fact, format!("write a width over 0 and under {}", shown(pitch)))
            });
        }
    }

    /// Distance from one edge to the next along the nominal circle, were the teeth equal.
    pub(super) fn pitch(&self) -> Length {
        self.diameter * (PI / f64::from(self.teeth.max(1)))
    }
}

impl Cutter {
    /// The same cutter with this wear instead of any it had.
    ///
    /// # Errors
    /// Facts of the wear that cannot be true of this cutter: a tooth it does not have, a chip
    /// deeper than its radius, wear beyond its flutes. Fields are relative to the wear.
    pub fn with_wear(self, wear: Wear) -> Result<Self, RecordErrors> {
        let mut faults = Faults::default();
        if let Some(measured) = wear.measured_diameter() {
            self.facts.check_diameter_over_edges("measured_diameter", measured, &mut faults);
        }
        faults.absorb(wear.check_against(&self));
        faults.verdict().map(|()| Self { wear: Some(wear), ..self })
    }

    /// The same cutter, wear forgotten: what it is after a regrind.
    pub fn without_wear(self) -> Self {
        Self { wear: None, ..self }
    }

    /// Every fact but the wear, for whoever needs to change one and build again.
    pub fn draft(&self) -> CutterDraft {
        self.facts.clone()
    }

    /// The shop's own number for this cutter.
    pub fn number(&self) -> &str {
        &self.facts.number
    }

    /// Nominal diameter.
    pub const fn diameter(&self) -> Length {
        self.facts.diameter
    }

    /// The system it was made in: inch where its nominal diameter is a whole number of 64ths of an
    /// inch, else millimetre.
    pub fn system(&self) -> System {
        let sixty_fourths = self.diameter().inches() * 64.0;
        let is_whole = (sixty_fourths - sixty_fourths.round()).abs() < 1e-6;
        if is_whole { System::Inch } else { System::Millimetre }
    }

    /// Number of teeth, 2 to 40.
    pub const fn teeth(&self) -> u32 {
        self.facts.teeth
    }

    /// Hand of cut.
    pub const fn hand(&self) -> Hand {
        self.facts.hand
    }

    /// Helix angle, 0 to 60 degrees; 0 is a straight tooth.
    pub const fn helix(&self) -> Angle {
        self.facts.helix
    }

    /// Hand of helix; none for a straight tooth.
    pub fn helix_hand(&self) -> Option<Hand> {
        self.facts.helix_hand.filter(|_| !self.is_straight())
    }

    /// Whether the teeth are straight.
    pub fn is_straight(&self) -> bool {
        self.facts.helix == Angle::ZERO
    }

    /// +1 where hand of cut and hand of helix agree, −1 where they differ, +1 for a straight
    /// tooth, on which it has no effect.
    pub fn helix_sign(&self) -> f64 {
        if self.helix_hand().is_none_or(|hand| hand == self.facts.hand) { 1.0 } else { -1.0 }
    }

    /// Lead of the helix; none for a straight tooth.
    ///
    /// **Source** \[machinerys-handbook\] lead of a helix: π D / tan H. **Departs** nowhere; D is
    /// the nominal diameter, since a regrind changes the diameter but not the lead. **Error**
    /// rounding. **Domain** helix over 0 and up to 60 degrees.
    pub fn lead(&self) -> Option<Length> {
        (!self.is_straight()).then(|| self.facts.diameter * (PI / self.facts.helix.tan()))
    }

    /// Distance from one edge to the next along the nominal circle.
    ///
    /// **Source** \[own-derivation\] π D / teeth. **Departs** in taking the teeth as equally
    /// spaced. **Error** rounding, and the cutter's own unequal index where it has one. **Domain**
    /// every cutter.
    pub fn pitch(&self) -> Length {
        self.facts.pitch()
    }

    /// Radial rake at the edge.
    pub const fn rake(&self) -> Angle {
        self.facts.rake
    }

    /// Material of the teeth.
    pub const fn material(&self) -> ToolMaterial {
        self.facts.material
    }

    /// Form of the end.
    pub const fn end(&self) -> EndForm {
        self.facts.end
    }

    /// Profile of the teeth.
    pub const fn profile(&self) -> Profile {
        self.facts.profile
    }

    /// Length of the flutes from the end.
    pub const fn flute_length(&self) -> Length {
        self.facts.flute_length
    }

    /// Length of the whole cutter.
    pub const fn overall_length(&self) -> Length {
        self.facts.overall_length
    }

    /// Diameter of the shank.
    pub const fn shank_diameter(&self) -> Length {
        self.facts.shank_diameter
    }

    /// Diameter of the core under the flutes, if known.
    pub const fn core_diameter(&self) -> Option<Length> {
        self.facts.core_diameter
    }

    /// Width of a tooth's back from its edge along the circle, if known.
    pub const fn tooth_thickness(&self) -> Option<Length> {
        self.facts.tooth_thickness
    }

    /// Whether end teeth reach the centre.
    pub const fn centre_cutting(&self) -> bool {
        self.facts.centre_cutting
    }

    /// Coating, in the words on its box.
    pub fn coating(&self) -> Option<&str> {
        self.facts.coating.as_deref()
    }

    /// The group of work it cuts; "any" where it is not kept for one.
    pub fn work(&self) -> &str {
        &self.facts.work
    }

    /// How often it has been reground.
    pub const fn regrinds(&self) -> u32 {
        self.facts.regrinds
    }

    /// Whether its teeth are spaced unequally on purpose.
    pub fn unequal_index(&self) -> bool {
        self.facts.unequal_index == Some(true) || self.facts.special.is_unequal()
    }

    /// Whether somebody said how its teeth are spaced: equally, unequally, or where each stands.
    pub fn is_index_told(&self) -> bool {
        self.facts.unequal_index.is_some() || !self.facts.special.index.is_empty()
    }

    /// Where and how its teeth stand, where they stand unalike, and its taper.
    pub const fn special(&self) -> &Special {
        &self.facts.special
    }

    /// How far the side leans from the axis, wider toward the shank; 0 on a cylinder.
    pub const fn taper(&self) -> Angle {
        self.facts.special.taper
    }

    /// Helix of a tooth: its own where the record gives it, else the cutter's.
    pub fn helix_of(&self, tooth: u32) -> Angle {
        let own = (tooth as usize).checked_sub(1).and_then(|at| self.special().tooth_helix.get(at));
        own.copied().unwrap_or(self.facts.helix)
    }

    /// Whether its teeth have helices of their own.
    pub fn unequal_helix(&self) -> bool {
        self.special().tooth_helix.iter().any(|helix| *helix != self.facts.helix)
    }

    /// The diameter that was measured last, else the one it was ground to, else the nominal one.
    pub fn known_diameter(&self) -> Length {
        let measured = self.wear().and_then(Wear::measured_diameter);
        let ground = self.as_ground().map(|ground| ground.diameter);
        measured.or(ground).unwrap_or_else(|| self.diameter())
    }

    /// The cutter when it was last sharp, if that is known.
    pub const fn as_ground(&self) -> Option<&AsGround> {
        self.facts.as_ground.as_ref()
    }

    /// Its end teeth, as far as they are known.
    pub const fn end_teeth(&self) -> Option<&EndTeeth> {
        self.facts.end_teeth.as_ref()
    }

    /// Its wear, if somebody has looked at it.
    pub const fn wear(&self) -> Option<&Wear> {
        self.wear.as_ref()
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::record::{ToothWear, WearDraft};

    fn draft() -> CutterDraft {
        CutterDraft {
            number: "T-1".to_owned(),
            diameter: Length::from_mm(12.0),
            teeth: 4,
            hand: Hand::Right,
            helix: Angle::from_degrees(30.0),
            helix_hand: Some(Hand::Right),
            rake: Angle::from_degrees(10.0),
            material: ToolMaterial::HighSpeedSteel,
            end: EndForm::Square,
            profile: Profile::Plain,
            flute_length: Length::from_mm(26.0),
            overall_length: Length::from_mm(83.0),
            shank_diameter: Length::from_mm(12.0),
            core_diameter: None,
            tooth_thickness: None,
            centre_cutting: true,
            coating: None,
            work: "any".to_owned(),
            regrinds: 0,
            unequal_index: None,
            as_ground: None,
            end_teeth: None,
            special: Special::default(),
        }
    }

    fn fields(errors: &RecordErrors) -> Vec<&str> {
        errors.errors().iter().map(|error| error.field.as_str()).collect()
    }

    #[test]
    fn every_violated_fact_is_told_at_once() {
        let spoilt = CutterDraft {
            teeth: 1,
            helix_hand: None,
            rake: Angle::from_degrees(f64::NAN),
            flute_length: Length::from_mm(90.0),
            regrinds: 201,
            ..draft()
        };
        let errors = spoilt.build().unwrap_err();
        assert_eq!(fields(&errors), ["regrinds", "teeth", "helix_hand", "rake", "flute_length"]);
        let flute = &errors.errors()[4];
        assert_eq!(flute.depends_on, ["overall_length"]);
        assert_eq!(
            flute.to_string(),
            "flute_length = 90 mm (3.5433 in): longer than the whole cutter, 83 mm (3.2677 in); \
             write at most 83 mm (3.2677 in)"
        );
    }

    #[test]
    fn the_ends_of_each_range_are_within_it() {
        for teeth in [2, 40] {
            assert!(CutterDraft { teeth, ..draft() }.build().is_ok(), "{teeth} teeth");
        }
        for degrees in [0.0, 60.0] {
            let helix = Angle::from_degrees(degrees);
            assert!(CutterDraft { helix, ..draft() }.build().is_ok(), "{degrees} degrees");
        }
        for mm in [0.5, 250.0] {
            let diameter = Length::from_mm(mm);
            assert!(CutterDraft { diameter, ..draft() }.build().is_ok(), "{mm} mm");
        }
    }

    #[test]
    fn the_sign_of_the_helix_says_whether_the_hands_agree() {
        let sign = |hand, helix_hand| {
            let helix_hand = Some(helix_hand);
            CutterDraft { hand, helix_hand, ..draft() }.build().unwrap().helix_sign()
        };
        assert_eq!(sign(Hand::Right, Hand::Right), 1.0);
        assert_eq!(sign(Hand::Left, Hand::Left), 1.0);
        assert_eq!(sign(Hand::Right, Hand::Left), -1.0);
        assert_eq!(sign(Hand::Left, Hand::Right), -1.0);
    }

    #[test]
    fn a_straight_tooth_has_neither_lead_nor_hand_of_helix() {
        let straight = CutterDraft { helix: Angle::ZERO, ..draft() }.build().unwrap();
        assert_eq!((straight.lead(), straight.helix_hand()), (None, None));
    }

    #[test]
    fn a_draft_taken_back_builds_the_same_cutter() {
        let cutter = draft().build().unwrap();
        assert_eq!(cutter.draft().build().unwrap(), cutter);
    }

    #[test]
    fn wear_must_fit_the_cutter_and_can_be_forgotten() {
        let cutter = draft().build().unwrap();
        let wear = |tooth, chip_mm| {
            let chip_depth = Length::from_mm(chip_mm);
            let teeth = vec![ToothWear { tooth, chip_depth, ..ToothWear::default() }];
            let measured_diameter = Some(Length::from_mm(11.9));
            WearDraft { measured_diameter, teeth, ..WearDraft::default() }.build().unwrap()
        };
        let errors = cutter.clone().with_wear(wear(5, 6.5)).unwrap_err();
        assert_eq!(fields(&errors), ["tooth[0].tooth", "tooth[0].chip_depth"]);
        let worn = cutter.clone().with_wear(wear(4, 6.0)).unwrap();
        assert_eq!(worn.wear().unwrap().tooth(4).unwrap().chip_depth.mm(), 6.0);
        assert_eq!(worn.without_wear(), cutter);
    }
}

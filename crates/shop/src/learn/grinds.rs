//! A cutter's own grinds, as the book kept them.

use geometry::quantity::System;
use geometry::{Angle, Length};

use crate::error::ShopError;

/// Two readings of the same diameter may differ by this much before they contradict each other
/// (own choice, no source).
const READING_SLACK_MM: f64 = 0.03;

/// Widest wear land that is taken for one (own choice, no source).
const WEAR_LAND_MM_MAX: f64 = 5.0;

/// One regrind on the diameter. A regrind by another route, on the face or at the end only, is none
/// and does not belong here.
#[derive(Clone, Debug, PartialEq)]
pub struct CutterGrind {
    /// What the book calls the entry.
    pub entry: String,
    /// Diameter over the edges when they were last sharp; where it is not known, that after the
    /// grind before stands in.
    pub sharp_before: Option<Length>,
    /// Diameter over the dull edges.
    pub dull: Option<Length>,
    /// Diameter over the sharp edges after the grind.
    pub after: Length,
    /// Width of the widest wear land before the grind.
    pub wear_land: Option<Length>,
    /// The primary relief on which that wear land was worn.
    pub worn_on: Option<Angle>,
}

/// A cutter's grinds on the diameter, oldest first, each checked.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct CutterHistory {
    grinds: Vec<CutterGrind>,
}

impl CutterHistory {
    /// Takes the grinds, oldest first.
    ///
    /// # Errors
    /// `Invalid` where an entry contradicts itself: a diameter that is none, one that grew in the
    /// grind, a wear land or a relief out of all measure.
    pub fn new(grinds: Vec<CutterGrind>) -> Result<Self, ShopError> {
        let mut history = Self::default();
        grinds.into_iter().try_for_each(|grind| history.push(grind))?;
        Ok(history)
    }

    /// Takes one grind more, the latest.
    ///
    /// # Errors
    /// `Invalid` where it contradicts itself; the history is then as it was.
    pub fn push(&mut self, mut grind: CutterGrind) -> Result<(), ShopError> {
        grind.sharp_before = grind.sharp_before.or(self.grinds.last().map(|last| last.after));
        check(&grind, self.grinds.len())?;
        self.grinds.push(grind);
        Ok(())
    }

    /// The grinds, oldest first.
    pub fn grinds(&self) -> &[CutterGrind] {
        &self.grinds
    }
}

fn check(grind: &CutterGrind, at: usize) -> Result<(), ShopError> {
    let diameters =
        [("sharp_before", grind.sharp_before), ("dull", grind.dull), ("after", Some(grind.after))];
    for (name, diameter) in diameters {
        let is_sound = |diameter: Length| diameter.is_finite() && diameter > Length::ZERO;
        if let Some(wrong) = diameter.filter(|diameter| !is_sound(*diameter)) {
            return Err(invalid(grind, at, name, wrong, "a diameter is above zero"));
        }
    }
    let most = grind.after - Length::from_mm(READING_SLACK_MM);
    for (name, before) in &diameters[..2] {
        if before.is_some_and(|before| before < most) {
            let fact = format!("{name} is smaller, and no grind makes a cutter grow");
            return Err(invalid(grind, at, "after", grind.after, &fact));
        }
    }
    check_wear(grind, at)
}

fn check_wear(grind: &CutterGrind, at: usize) -> Result<(), ShopError> {
    let widest = Length::from_mm(WEAR_LAND_MM_MAX);
    let is_wear = |land: &Length| land.is_finite() && *land >= Length::ZERO && *land <= widest;
    if let Some(wrong) = grind.wear_land.filter(|land| !is_wear(land)) {
        return Err(invalid(grind, at, "wear_land", wrong, "a wear land is from 0 to 5 mm wide"));
    }
    let is_relief = |relief: &Angle| {
        relief.is_finite() && *relief >= Angle::ZERO && *relief <= Angle::from_degrees(45.0)
    };
    match grind.worn_on.filter(|relief| !is_relief(relief)) {
        None => Ok(()),
        Some(_) => {
            let (field, entry) = (format!("grinds[{at}].worn_on"), &grind.entry);
            Err(ShopError::invalid(field, format!("entry {entry}: a relief is from 0 to 45 deg")))
        }
    }
}

fn invalid(grind: &CutterGrind, at: usize, name: &str, value: Length, fact: &str) -> ShopError {
    let shown = value.show_both(System::Inch);
    let reason = format!("entry {}: {shown}, but {fact}", grind.entry);
    ShopError::invalid(format!("grinds[{at}].{name}"), reason)
}

#[cfg(test)]
mod tests {
    use super::*;

    fn grind(after_mm: f64) -> CutterGrind {
        CutterGrind {
            entry: "g".to_owned(),
            sharp_before: None,
            dull: None,
            after: Length::from_mm(after_mm),
            wear_land: None,
            worn_on: None,
        }
    }

    fn field(grinds: Vec<CutterGrind>) -> String {
        match CutterHistory::new(grinds) {
            Err(ShopError::Invalid { field, .. }) => field,
            other => format!("{other:?}"),
        }
    }

    #[test]
    fn the_size_after_one_grind_is_the_sharp_size_before_the_next() {
        let history = CutterHistory::new(vec![grind(12.5), grind(12.2)]).unwrap();
        let before: Vec<_> = history.grinds().iter().map(|grind| grind.sharp_before).collect();
        assert_eq!(before, [None, Some(Length::from_mm(12.5))]);
    }

    #[test]
    fn entries_that_contradict_themselves_are_refused() {
        assert_eq!(field(vec![grind(12.2), grind(12.3)]), "grinds[1].after");
        assert_eq!(field(vec![grind(f64::NAN)]), "grinds[0].after");
        let dull = Some(Length::from_mm(12.0));
        assert_eq!(field(vec![CutterGrind { dull, ..grind(12.3) }]), "grinds[0].after");
        let wear_land = Some(Length::from_mm(-0.1));
        assert_eq!(field(vec![CutterGrind { wear_land, ..grind(12.3) }]), "grinds[0].wear_land");
        let worn_on = Some(Angle::from_degrees(60.0));
        assert_eq!(field(vec![CutterGrind { worn_on, ..grind(12.3) }]), "grinds[0].worn_on");
    }

    #[test]
    fn readings_that_differ_by_a_hair_are_no_contradiction() {
        assert!(CutterHistory::new(vec![grind(12.2), grind(12.21)]).is_ok());
    }
}

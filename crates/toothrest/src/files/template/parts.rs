//! What there is to read after a plan, whatever form it is written in.

use geometry::Length;
use geometry::quantity::System;
use shop::plan::{Expected, Peripheral, RegrindPlan, SecondaryGrind};
use shop::record::{Cutter, EndForm, Holding, LandStage, Over};

/// A plan's readings, still open.
pub(crate) struct Sheet<'p> {
    pub(crate) cutter: &'p Cutter,
    /// The order of the last round of the plan.
    pub(crate) order: &'p [u32],
    /// A width that anvils often have, as written.
    pub(crate) anvil_width: &'static str,
    pub(crate) parts: Vec<Part>,
}

/// Readings of one kind, with one instrument.
pub(crate) struct Part {
    /// How they are taken, and what to expect.
    pub(crate) remarks: Vec<String>,
    pub(crate) kind: PartKind,
    /// The smallest step of the instrument that is usual for them, as written.
    pub(crate) resolution: &'static str,
    /// Where, as written: places from the end, or distances behind the edge.
    pub(crate) places: Vec<String>,
    /// The teeth to read at each place.
    pub(crate) teeth: u32,
}

/// The kinds of part.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(crate) enum PartKind {
    Land(LandStage),
    Diameter(Over),
    Indicator(Holding),
    ShankRunout(Holding),
    Drop,
}

impl<'p> Sheet<'p> {
    /// The readings of a plan that grinds the periphery.
    pub(crate) fn of(plan: &'p RegrindPlan) -> Option<Self> {
        let peripheral = plan.peripheral.as_ref()?;
        let cutter = &plan.request.cutter;
        let system = system_of(cutter.diameter());
        let stations = stations(cutter, cutter.flute_length() - plan.verdict.cut_back, system);
        let writer = Writer { cutter, system, stations };
        let order = &peripheral.grinding.second_round;
        let anvil_width = writer.either("1/4 in", "6 mm");
        Some(Self { cutter, order, anvil_width, parts: writer.parts(peripheral) })
    }
}

/// What every part is made from.
struct Writer<'p> {
    cutter: &'p Cutter,
    system: System,
    stations: Vec<String>,
}

impl Writer<'_> {
    fn parts(&self, peripheral: &Peripheral) -> Vec<Part> {
        let mut parts = self.lands(&peripheral.secondary);
        parts.extend(self.diameters(&peripheral.expected));
        parts.push(self.indicator(&peripheral.expected));
        parts.push(self.shank());
        parts.extend(self.drops(&peripheral.expected));
        parts
    }

    fn lands(&self, secondary: &SecondaryGrind) -> Vec<Part> {
        let before = "Lands after the primary, before the secondary is ground: stop the wheel, \
                      wipe the cutter, read from the edge back to the old secondary with a glass.";
        let after = "Lands after the secondary: from the edge back to where the secondary begins.";
        let is_fresh = secondary.grinding.is_some() || secondary.stands_already;
        let after = secondary.land_after.filter(|_| is_fresh).map(|land| (after, land));
        let before = secondary.land_before.map(|land| (before, land));
        let stages = [(LandStage::AfterPrimary, before), (LandStage::AfterSecondary, after)];
        let part = |(stage, found): (LandStage, Option<(&str, Length)>)| {
            let (how, land) = found?;
            let remarks = vec![how.to_owned(), format!("Expect {}.", self.shown(land))];
            Some(self.at_stations(PartKind::Land(stage), remarks, self.glass()))
        };
        stages.into_iter().filter_map(part).collect()
    }

    fn diameters(&self, expected: &Expected) -> Vec<Part> {
        let part = |over, how: String, reading| {
            let remarks = vec![how, format!("Expect {}.", self.shown(reading))];
            self.at_stations(PartKind::Diameter(over), remarks, self.micrometer())
        };
        let (Some(flat), Some(vee)) = (expected.flat_anvils, expected.vee_anvil) else {
            let how = "Diameters: close the micrometer softly, fresh edges mark its anvils. By the \
                       tooth on the fixed anvil; the opposite tooth gives the same, leave it open.";
            return vec![part(Over::Micrometer, how.to_owned(), expected.diameter)];
        };
        let flats = "Odd teeth between flat anvils, by the tooth that stands alone on its anvil. \
                     Fill in this or the vee, whichever you have.";
        let vees = format!(
            "Odd teeth in a {:.0} deg vee, which reads the diameter; by the tooth on the spindle.",
            vee.degrees()
        );
        vec![
            part(Over::FlatAnvils, flats.to_owned(), flat),
            part(Over::VeeAnvil, vees, expected.diameter),
        ]
    }

    fn indicator(&self, expected: &Expected) -> Part {
        let how = "Rounds of an indicator over the edges: hold the cutter by its shank so that it \
                   runs true, turn it by the shank (fresh edges are knives) and against the cut, \
                   and read each tooth where it stands highest. Each place has a zero of its own.";
        let alike = expected.runout.as_ref().map_or_else(
            || "Expect all teeth alike.".to_owned(),
            |runout| format!("Expect all teeth alike within {}.", self.shown(runout.value)),
        );
        let remarks = vec![how.to_owned(), alike];
        self.at_stations(PartKind::Indicator(Holding::ByShank), remarks, self.indicator_step())
    }

    fn shank(&self) -> Part {
        let how = "Runout of the shank, before the cutter is taken out: the full swing of an \
                   indicator on the shank, as it was held for grinding.";
        Part {
            remarks: vec![how.to_owned()],
            kind: PartKind::ShankRunout(Holding::AsGround),
            resolution: self.indicator_step(),
            places: Vec::new(),
            teeth: 0,
        }
    }

    fn drops(&self, expected: &Expected) -> Option<Part> {
        let how = "Drops: zero the indicator on the edge, turn the tooth by the distance along the \
                   circle, and read how far the land has fallen away.";
        let figure = |drop: &shop::plan::ExpectedDrop| {
            format!("Expect {} at {}.", self.shown(drop.drop), self.shown(drop.distance))
        };
        let mut remarks = vec![how.to_owned()];
        remarks.extend(expected.drops.iter().map(figure));
        let places: Vec<_> = expected.drops.iter().map(|drop| self.shown(drop.distance)).collect();
        let (kind, resolution) = (PartKind::Drop, self.indicator_step());
        (!places.is_empty()).then_some(Part { remarks, kind, resolution, places, teeth: 1 })
    }

    fn at_stations(&self, kind: PartKind, remarks: Vec<String>, resolution: &'static str) -> Part {
        let (places, teeth) = (self.stations.clone(), self.cutter.teeth());
        Part { remarks, kind, resolution, places, teeth }
    }

    fn shown(&self, length: Length) -> String {
        length.show(self.system).to_string()
    }

    /// The step of a measuring glass (common practice, no source).
    const fn glass(&self) -> &'static str {
        self.either("0.001 in", "0.02 mm")
    }

    /// The step of a micrometer with a vernier (common practice, no source).
    const fn micrometer(&self) -> &'static str {
        self.either("0.0001 in", "0.001 mm")
    }

    /// The step of a lever indicator (common practice, no source).
    const fn indicator_step(&self) -> &'static str {
        self.either("0.0001 in", "0.002 mm")
    }

    const fn either(&self, inch: &'static str, millimetre: &'static str) -> &'static str {
        match self.system {
            System::Inch => inch,
            System::Millimetre => millimetre,
        }
    }
}

/// The system a cutter was made in: inches where its diameter is a whole number of 64ths.
fn system_of(diameter: Length) -> System {
    let parts = diameter.inches() * 64.0;
    let whole = (parts - parts.round()).abs() < 1e-6;
    if whole { System::Inch } else { System::Millimetre }
}

/// Steps on which a rule is easily read, the coarsest first.
fn handy_steps(system: System) -> Vec<Length> {
    match system {
        System::Inch => [8.0, 16.0, 32.0, 64.0].map(|part| Length::from_inches(1.0 / part)).into(),
        System::Millimetre => [5.0, 2.0, 1.0, 0.5, 0.2, 0.1].map(Length::from_mm).into(),
    }
}

/// Two places at about a tenth and nine tenths of the straight part of the ground flute, on handy
/// marks of a rule.
fn stations(cutter: &Cutter, flute: Length, system: System) -> Vec<String> {
    let start = match cutter.end() {
        EndForm::Square => Length::ZERO,
        EndForm::CornerRadius(radius) => radius,
        EndForm::Ball => cutter.diameter() / 2.0,
    };
    let straight = flute - start;
    let steps = handy_steps(system);
    let fits = |step: &&Length| **step <= straight / 20.0;
    let step = steps.iter().find(fits).or(steps.last()).copied().unwrap_or(straight / 20.0);
    let mut places = [0.1, 0.9].map(|share| (start + straight * share).snapped_to(step)).to_vec();
    places.dedup();
    places.into_iter().map(|place| handy(place, step, system)).collect()
}

fn handy(place: Length, step: Length, system: System) -> String {
    match place.show_fraction(64).filter(|_| system == System::Inch) {
        Some(fraction) => fraction.to_string(),
        None => place.show_to(system, step).to_string().replace(".0 mm", " mm"),
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_cutter_is_read_in_the_system_it_was_made_in() {
        let inch = |text: &str| system_of(text.parse().unwrap()) == System::Inch;
        assert!(inch("1/2 in") && inch("12.7 mm") && inch("33/64 in"));
        assert!(!inch("12 mm") && !inch("0.51 in") && !inch("3 mm"));
    }

    #[test]
    fn places_stand_on_handy_marks() {
        let mm = Length::from_mm;
        let inch = System::Inch;
        for (place, step, system, shown) in [
            (mm(3.175), mm(3.175), inch, "1/8 in"),
            (mm(28.575), mm(3.175), inch, "1-1/8 in"),
            (mm(5.0), mm(5.0), System::Millimetre, "5 mm"),
            (mm(1.5), mm(0.5), System::Millimetre, "1.5 mm"),
            (mm(6.35), mm(0.5), System::Millimetre, "6.5 mm"),
            (mm(7.2), mm(0.5), System::Millimetre, "7 mm"),
            (mm(10.1), mm(0.1), System::Millimetre, "10.1 mm"),
        ] {
            assert_eq!(handy(place.snapped_to(step), step, system), shown);
        }
    }
}

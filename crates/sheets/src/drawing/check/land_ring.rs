//! Rings of lands: every land beside what it was to be, where it stands round the cutter.

use std::f64::consts::TAU;

use geometry::{Length, System};
use kurbo::Point;
use shop::check::Check;

use super::super::figure;
use super::super::frame::{LEFT, NOTE, RIGHT};
use super::edges::EdgesPage;
use super::labels::Label;
use super::lands::{Land, LandPlace, land_places};
use super::page::{
    BAR_HALF_MM, EXPECTED, FOOT_MM, Key, LINE_MM, closed, cross, keys, page, set_notes, wrapped,
};
use super::ring::{Columns, Draft, Ring, TEETH_IN_LARGEST, place_notes};
use super::round::Round;
use super::show;
use crate::scene::{Hatching, Paint, Scale, Scene, Weight, Words, arc};

/// Radius of the cutting circle; the measured land lies outside it, the expected one inside.
const CIRCLE: f64 = 23.0;

/// The two bands.
const MEASURED: (f64, f64) = (23.2, 25.0);
const WANTED: (f64, f64) = (21.0, 22.8);

/// The heavy line of an edge.
const EDGE: (f64, f64) = (20.4, 25.8);

/// The circle of no difference, and how far the magnified differences reach from it.
const ZERO: f64 = 12.3;
const REACH: f64 = 7.0;

/// From the middle to the labels.
const LABELS: f64 = 26.8;

/// A land takes no more of the pitch than so, nor more paper than so.
const PITCH_SHARE: f64 = 0.6;
const LAND_MM_MAX: f64 = 18.0;

/// Where the drawing's scales stand.
const SCALES_X: f64 = 133.0;

/// More rings than this are no picture any more.
const RINGS_MAX: usize = 12;

/// What is drawn.
struct Lands<'a> {
    check: &'a Check,
    system: System,
    round: Round,
    places: Vec<LandPlace>,
    columns: Columns,
    /// Of the lands along the circle.
    scale: Scale,
    /// Of the differences.
    magnified: Scale,
}

/// The lands of every tooth round the cutter, one ring for each place along the flute, from the
/// tip to the shank: measured beside expected, and their difference magnified. Where no lands were
/// read, the edges' stands at both ends of the flute as [`super::before_after`] draws them; None
/// where no reading shows where the edges stand.
///
/// The cutter is seen from its tip, tooth 1's edge at the tip uppermost.
pub fn land_ring(check: &Check, system: System) -> Option<Scene> {
    let peripheral = check.request.plan.peripheral.as_ref()?;
    let places = land_places(check);
    if places.is_empty() {
        return EdgesPage::as_found(check, system).map(|page| page.draw());
    }
    let round = Round::of(check, peripheral);
    Some(Lands::of(check, system, round, places).draw())
}

impl<'a> Lands<'a> {
    fn of(check: &'a Check, system: System, round: Round, places: Vec<LandPlace>) -> Self {
        let columns = Columns::for_teeth(round.teeth(), LABELS);
        let pitch_mm = TAU * CIRCLE * columns.large / f64::from(round.teeth());
        let kept = places.iter().flat_map(|place| place.kept().map(|(_, land)| land));
        let widest = kept.chain(places.iter().map(|p| p.expected)).fold(Length::ZERO, Length::max);
        let paper_mm = (PITCH_SHARE * pitch_mm).min(LAND_MM_MAX);
        let off = |place: &LandPlace| {
            let off = place.kept().map(|(_, land)| (land - place.expected).abs());
            off.fold(place.deviation * 2.0, Length::max)
        };
        let off = places.iter().map(off).fold(Length::from_um(0.5), Length::max);
        let magnified = Scale::fitting(off.mm(), REACH * columns.large);
        let scale = Scale::fitting(widest.mm().max(1e-3), paper_mm);
        Self { check, system, round, places, columns, scale, magnified }
    }

    fn draw(&self) -> Scene {
        let drafts = self.places.iter().take(RINGS_MAX).map(|place| self.draft(place)).collect();
        let (rings, bottom) = self.columns.laid_out(drafts);
        let notes = self.notes();
        let rows = 4 + usize::from(self.has_aside());
        let height_mm = bottom + LINE_MM * (rows + notes.len()) as f64 + FOOT_MM;
        let note = format!("{}, {}", show::cutter(self.check), self.round.note());
        let notes_above = [note.as_str(), &self.unit_note()];
        let mut scene = page("Lands round the cutter", notes_above, self.tell(), height_mm);
        for (place, ring) in self.places.iter().zip(&rings) {
            self.draw_ring(&mut scene, place, ring);
        }
        self.draw_legend(&mut scene, bottom);
        scene.part("notes");
        set_notes(&mut scene, bottom + LINE_MM * rows as f64 + 3.0, &notes);
        scene
    }

    fn unit_note(&self) -> String {
        let unit = show::unit_name(self.system);
        if self.is_crowded() {
            format!("By each tooth its land, in {unit}.")
        } else {
            format!(
                "By each tooth its land and, below it, the difference from the expected, in {unit}."
            )
        }
    }

    /// Whether there are too many teeth to write the difference beside each.
    const fn is_crowded(&self) -> bool {
        self.round.teeth() > TEETH_IN_LARGEST
    }

    /// The same in words.
    fn tell(&self) -> String {
        let of = |place: &LandPlace| {
            let lands: Vec<String> = place
                .read()
                .map(|(tooth, land, aside)| {
                    let aside = if aside.is_some() { " (set aside)" } else { "" };
                    format!("tooth {tooth} {}{aside}", figure::length(land, self.system))
                })
                .collect();
            format!(
                " {} from the end, {}, {} expected: {}.",
                show::place(place.from_end, self.system),
                show::stage(place.stage),
                figure::length(place.expected, self.system),
                lands.join(", ")
            )
        };
        let places: String = self.places.iter().map(of).collect();
        format!("Lands of every tooth round the cutter, {}.{places}", self.round.note())
    }

    fn title(&self, place: &LandPlace) -> Vec<String> {
        let at = show::place(place.from_end, self.system);
        let same = || self.places.iter().filter(|other| other.stage == place.stage);
        let end = match (same().next(), same().next_back()) {
            (Some(first), Some(last)) if first.from_end == last.from_end => "",
            (Some(first), _) if first.from_end == place.from_end => "tip: ",
            (_, Some(last)) if last.from_end == place.from_end => "shank: ",
            _ => "",
        };
        let expected = figure::length(place.expected, self.system);
        let mut lines = vec![
            format!("{end}{at} from the end"),
            format!("{}, {expected} expected", show::stage(place.stage)),
        ];
        lines.extend(place_notes(&self.round, place.from_end));
        lines
    }

    fn draft(&self, place: &LandPlace) -> Draft {
        let label = |(tooth, land): (u32, &Land)| {
            let crowded = self.is_crowded();
            let name = if crowded { tooth.to_string() } else { format!("tooth {tooth}") };
            let mut lines = vec![name];
            match land {
                Land::NotRead => lines.push("not read".to_owned()),
                Land::LeftOut => lines.push("left out".to_owned()),
                Land::Read { measured, others_say } => {
                    lines.push(show::bare(*measured, self.system));
                    let off = show::signed(*measured - place.expected, self.system);
                    let aside = || "set aside".to_owned();
                    lines.push(others_say.map_or(off, |_| aside()));
                }
            }
            lines.truncate(if crowded { 2 } else { 3 });
            Label { paper_rad: self.round.paper_rad(tooth, place.from_end), lines }
        };
        Draft { title: self.title(place), labels: (1..).zip(&place.lands).map(label).collect() }
    }

    /// The angle that a land takes round a ring, heelward of its edge on paper.
    fn land_rad(&self, ring: &Ring, land: Length) -> f64 {
        let pitch_rad = TAU / f64::from(self.round.teeth());
        let rad = land.mm() * self.scale.factor() / (CIRCLE * ring.large);
        self.round.heel_sign() * rad.min(0.9 * pitch_rad)
    }

    fn edges<'b>(&'b self, place: &'b LandPlace) -> impl Iterator<Item = (f64, &'b Land)> {
        let at = |tooth: u32| self.round.paper_rad(tooth, place.from_end);
        (1..).zip(&place.lands).map(move |(tooth, land)| (at(tooth), land))
    }

    fn draw_ring(&self, scene: &mut Scene, place: &LandPlace, ring: &Ring) {
        scene.part("cutting circle");
        scene.stroke(arc(ring.centre, CIRCLE * ring.large, 0.0, TAU), Weight::Thin);
        self.draw_bands(scene, place, ring);
        self.draw_differences(scene, place, ring);
        scene.part("set aside");
        for (at_rad, land) in self.edges(place) {
            if let Land::Read { measured, others_say: Some(_) } = land {
                let middle_rad = at_rad + 0.5 * self.land_rad(ring, *measured);
                cross(scene, ring.at(middle_rad, 0.5 * (MEASURED.0 + MEASURED.1)));
            }
        }
        ring.draw_words(scene);
    }

    fn draw_bands(&self, scene: &mut Scene, place: &LandPlace, ring: &Ring) {
        scene.part("expected lands");
        let expected_rad = self.land_rad(ring, place.expected);
        for (at_rad, _) in self.edges(place) {
            let band = ring.band(WANTED, at_rad, expected_rad);
            // Lines across the band, however it lies.
            let turn_rad = at_rad + 0.5 * expected_rad + std::f64::consts::FRAC_PI_4;
            scene.hatched(std::slice::from_ref(&band), Hatching { turn_rad, ..EXPECTED });
            scene.polyline(&closed(band), Weight::Thin);
        }
        scene.part("measured lands");
        for (at_rad, land) in self.edges(place) {
            match land {
                Land::Read { measured, others_say } => {
                    let band = ring.band(MEASURED, at_rad, self.land_rad(ring, *measured));
                    match others_say {
                        None => scene.fill(&band, Paint::Black),
                        Some(_) => scene.polyline(&closed(band), Weight::Thin),
                    }
                }
                Land::NotRead | Land::LeftOut => {}
            }
        }
        scene.part("edges");
        for (at_rad, _) in self.edges(place) {
            scene.line(ring.at(at_rad, EDGE.0), ring.at(at_rad, EDGE.1), Weight::Outline);
        }
    }

    /// The radius at which a difference ends, no farther out than they reach.
    fn difference_at(&self, ring: &Ring, off: Length) -> f64 {
        let paper_mm = off.mm() * self.magnified.factor() / ring.large;
        ZERO + paper_mm.clamp(-1.05 * REACH, 1.05 * REACH)
    }

    fn draw_differences(&self, scene: &mut Scene, place: &LandPlace, ring: &Ring) {
        scene.part("no difference");
        scene.stroke(arc(ring.centre, ZERO * ring.large, 0.0, TAU), Weight::Centre);
        scene.part("doubt of a reading");
        for side in [-2.0, 2.0] {
            let radius_mm = self.difference_at(ring, place.deviation * side) * ring.large;
            scene.stroke(arc(ring.centre, radius_mm, 0.0, TAU), Weight::Thin);
        }
        scene.part("differences");
        let pitch_mm = TAU * ZERO * ring.large / f64::from(self.round.teeth());
        let half_mm = BAR_HALF_MM.min(0.25 * pitch_mm);
        for (at_rad, land) in self.edges(place) {
            let Land::Read { measured, others_say } = land else { continue };
            let to = self.difference_at(ring, *measured - place.expected);
            let bar = ring.bar(at_rad, (ZERO, to), half_mm);
            match others_say {
                None => scene.fill(&bar, Paint::Black),
                Some(_) => scene.polyline(&closed(bar), Weight::Thin),
            }
        }
    }

    fn draw_legend(&self, scene: &mut Scene, top: f64) {
        scene.part("legend");
        let row = |row: u32| Point::new(LEFT, top + LINE_MM * f64::from(row) + 3.0);
        let mut first = vec![(Key::Solid, "land measured"), (Key::Hatched, "expected")];
        first.push((Key::Line(Weight::Outline), "its edge"));
        keys(scene, row(0), &first);
        keys(scene, row(1), &[(Key::Solid, "bar inside: wider outward, narrower inward")]);
        let doubt = "no difference";
        let mut third = vec![(Key::Line(Weight::Centre), doubt)];
        third.push((Key::Line(Weight::Thin), "two standard deviations off"));
        keys(scene, row(2), &third);
        let circle = "Lands are to scale along the circle, the circle is not.";
        scene.text(Words::starting(row(3), NOTE, circle));
        if self.has_aside() {
            keys(scene, row(4), &[(Key::Cross, "set aside: the other readings speak against it")]);
        }
        let at = |line: u32| Point::new(SCALES_X, row(line).y);
        let scales = [(self.scale, "lands"), (self.magnified, "differences")];
        for ((scale, name), line) in scales.into_iter().zip([0, 2]) {
            scene.part("scale");
            let words = format!("{name} {}", scale.name());
            scene.text(Words::starting(at(line), NOTE, words));
            scene.part("scale bar");
            scene.scale_bar(at(line + 1), scale, self.system, RIGHT - SCALES_X - 19.0);
        }
    }

    fn has_aside(&self) -> bool {
        self.places.iter().any(|place| place.read().any(|(_, _, aside)| aside.is_some()))
    }

    /// What was set aside, and what the picture cannot show.
    fn notes(&self) -> Vec<String> {
        let mut notes = Vec::new();
        for place in &self.places {
            for (tooth, land, aside) in place.read() {
                let Some(others_say) = aside else { continue };
                let note = format!(
                    "Set aside: tooth {tooth} at {}, read {}; the others say {}.",
                    show::place(place.from_end, self.system),
                    figure::length(land, self.system),
                    figure::length(others_say, self.system)
                );
                notes.extend(wrapped(&note));
            }
        }
        let more = self.places.len().saturating_sub(RINGS_MAX);
        if more > 0 {
            notes.push(format!("Lands at {more} more places are not drawn."));
        }
        if self.check.request.plan.request.cutter.unequal_index() {
            notes.push("The teeth are spaced unequally; they are drawn as if equal.".to_owned());
        }
        notes
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn bands_and_bars_keep_apart() {
        let inward = [ZERO - 1.05 * REACH, ZERO + 1.05 * REACH, EDGE.0, WANTED.0, WANTED.1, CIRCLE];
        let outward = [CIRCLE, MEASURED.0, MEASURED.1, EDGE.1, LABELS];
        assert!(inward.is_sorted() && outward.is_sorted() && inward[0] > 2.0);
    }
}

//! The edges round the planned circle: where they were found, and where they will come to.

use geometry::{Length, System};
use kurbo::Point;
use shop::check::{Action, Check, Correction, Fault, Figure, Outcome, ReadingKind, Worth};

use super::super::figure;
use super::super::frame::{LEFT, NOTE, RIGHT};
use super::after::{After, moves_edges};
use super::labels::Label;
use super::page::{FOOT_MM, Key, LINE_MM, keys, page, set_notes, wrapped};
use super::ring::{Columns, Draft, TEETH_IN_HALF, place_notes};
use super::round::Round;
use super::show;
use super::stands::{LABELS, REACH, Stands};
use crate::scene::{Scale, Scene, Weight, Words};

/// Where the scale stands.
const SCALE_X: f64 = 133.0;

/// A band is drawn in full up to so many times the largest stand.
const BAND_SHARE: f64 = 1.5;

/// Circles closer than this on paper are one.
const APART_MM: f64 = 0.7;

/// Without any stand the scale is that of so much, in mm.
const LEAST_MM: f64 = 0.002;

/// A page of edges.
pub(super) struct EdgesPage<'a> {
    check: &'a Check,
    system: System,
    round: Round,
    radius: Length,
    /// Whether the corrections are told of.
    with_after: bool,
    after: Option<After>,
    scale: Scale,
}

/// Whether any reading shows where edges stand.
fn shows_edges(check: &Check) -> bool {
    check.observed.iter().any(|one| !matches!(one.kind, ReadingKind::Drop(_)))
}

impl<'a> EdgesPage<'a> {
    fn of(check: &'a Check, system: System, with_after: bool) -> Option<Self> {
        let peripheral = check.request.plan.peripheral.as_ref()?;
        if !shows_edges(check) || check.edges.places.is_empty() {
            return None;
        }
        let round = Round::of(check, peripheral);
        let after = with_after.then(|| After::of(check, &round)).flatten();
        let radius = peripheral.section.circle_radius();
        let scale = Scale::fitting(reach_mm(check, after.as_ref()), REACH);
        Some(Self { check, system, round, radius, with_after, after, scale })
    }

    /// The edges as they were found.
    pub(super) fn as_found(check: &'a Check, system: System) -> Option<Self> {
        Self::of(check, system, false)
    }

    /// The same beside what the corrections make of them, where there are any to make.
    pub(super) fn with_after(check: &'a Check, system: System) -> Option<Self> {
        Self::of(check, system, true)
    }

    fn length(&self, length: Length) -> String {
        figure::length(length, self.system)
    }

    pub(super) fn draw(&self) -> Scene {
        let stands = self.stands();
        let columns = Columns { count: 2, large: 1.0, labels_from_mm: LABELS };
        let drafts = stands.iter().map(|one| self.draft(one)).collect();
        let (rings, bottom) = columns.laid_out(drafts);
        let notes = self.notes();
        let rows = 2 + usize::from(stands.iter().any(|one| one.lowest_mm.is_some()));
        let height_mm = bottom + LINE_MM * (rows + notes.len()) as f64 + FOOT_MM;
        let note = format!("{}, {}", show::cutter(self.check), self.round.note());
        let mut scene = page(self.heading(), [&note, &self.unit_note()], self.tell(), height_mm);
        for (one, ring) in stands.iter().zip(&rings) {
            one.draw(&mut scene, ring, &self.round, self.scale);
        }
        self.draw_legend(&mut scene, &stands, bottom);
        scene.part("notes");
        set_notes(&mut scene, bottom + LINE_MM * rows as f64 + 3.0, &notes);
        scene
    }

    const fn heading(&self) -> &'static str {
        match self.after {
            Some(_) => "Edges as found, and after the corrections",
            None => "Edges as found",
        }
    }

    fn unit_note(&self) -> String {
        let unit = show::unit_name(self.system);
        if self.is_crowded() {
            format!("How far each edge stands out of the planned circle, in {unit} of radius.")
        } else {
            format!(
                "By each tooth how far it stands out of the planned circle, in {unit} of radius."
            )
        }
    }

    /// Whether there are too many teeth to write a figure beside each.
    const fn is_crowded(&self) -> bool {
        self.round.teeth() > TEETH_IN_HALF
    }

    fn stands(&self) -> Vec<Stands> {
        let indexed = self.check.edges.places.iter().zip(&self.check.edges.stands).enumerate();
        let of = |(index, (place, found)): (usize, (&Length, &Vec<Figure>))| {
            let end = if index == 0 { "tip" } else { "shank end" };
            let lowest_mm = self.lowest_mm(index);
            let before = Stands {
                title: vec![format!("{end}, as found"), self.range(found)],
                from_end: *place,
                figures: found.clone(),
                lowest_mm,
            };
            let after = self.after.as_ref().map(|after| self.after_at(after, index, end, *place));
            std::iter::once(before).chain(after)
        };
        indexed.flat_map(of).collect()
    }

    /// The circle to which all come down, where it can be told from the planned one.
    fn lowest_mm(&self, index: usize) -> Option<f64> {
        let common_mm = self.after.as_ref()?.common_mm(index)?;
        (common_mm.abs() * self.scale.factor() > APART_MM).then_some(common_mm)
    }

    fn after_at(&self, after: &After, index: usize, end: &str, place: Length) -> Stands {
        let (diameter, within) = after.diameter(self.radius, index);
        let exact = |stand: &f64| Figure { value: *stand, half_width: 0.0 };
        let diameter = format!(
            "diameter {} ±{}",
            show::bare(diameter, self.system),
            figure::length(within, self.system)
        );
        Stands {
            title: vec![format!("{end}, corrected"), diameter],
            from_end: place,
            figures: after.stands_mm.get(index).into_iter().flatten().map(exact).collect(),
            lowest_mm: self.lowest_mm(index),
        }
    }

    /// What rounds to nothing on this page, in mm.
    const fn written_mm(&self) -> f64 {
        match self.system {
            System::Inch => 0.05 * 0.0254,
            System::Millimetre => 0.0005,
        }
    }

    /// The highest and the lowest edge.
    fn range(&self, found: &[Figure]) -> String {
        let numbered = || (1..).zip(found).map(|(tooth, figure): (u32, _)| (tooth, figure.value));
        let highest = numbered().max_by(|a, b| a.1.total_cmp(&b.1));
        let lowest = numbered().min_by(|a, b| a.1.total_cmp(&b.1));
        match highest.zip(lowest) {
            Some((high, low)) if high.1 - low.1 > self.written_mm() => format!(
                "tooth {} stands {} over tooth {}",
                high.0,
                self.length(Length::from_mm(high.1 - low.1)),
                low.0
            ),
            _ => "all edges stand alike".to_owned(),
        }
    }

    fn draft(&self, stands: &Stands) -> Draft {
        let label = |(tooth, figure): (u32, &Figure)| {
            let paper_rad = self.round.paper_rad(tooth, stands.from_end);
            if self.is_crowded() {
                return Label { paper_rad, lines: vec![tooth.to_string()] };
            }
            let mut lines = vec![format!("tooth {tooth}")];
            lines.push(show::signed(figure.length(), self.system));
            if figure.half_width > self.written_mm() {
                lines.push(format!("±{}", show::bare(figure.within(), self.system)));
            }
            Label { paper_rad, lines }
        };
        let mut title = stands.title.clone();
        title.extend(place_notes(&self.round, stands.from_end));
        Draft { title, labels: (1..).zip(&stands.figures).map(label).collect() }
    }

    fn draw_legend(&self, scene: &mut Scene, stands: &[Stands], top: f64) {
        scene.part("legend");
        let row = |row: u32| Point::new(LEFT, top + LINE_MM * f64::from(row) + 3.0);
        let planned = format!("planned circle, diameter {}", self.length(self.radius * 2.0));
        keys(scene, row(0), &[(Key::Edge, "edge, with the band that holds it 95 times in 100")]);
        keys(scene, row(1), &[(Key::Line(Weight::Centre), planned.as_str())]);
        if stands.iter().any(|one| one.lowest_mm.is_some()) {
            keys(scene, row(2), &[(Key::Line(Weight::Hidden), "circle to which all come down")]);
        }
        scene.part("scale");
        let words = format!("stands {}", self.scale.name());
        scene.text(Words::starting((SCALE_X, row(0).y), NOTE, words));
        scene.part("scale bar");
        let at = Point::new(SCALE_X, row(1).y);
        scene.scale_bar(at, self.scale, self.system, RIGHT - SCALE_X - 19.0);
    }

    fn notes(&self) -> Vec<String> {
        let mut notes = Vec::new();
        if let Some(after) = &self.after {
            let names: Vec<String> = after.corrected.iter().map(|fault| fault.name()).collect();
            let names = show::listed(&names).unwrap_or_default();
            let then = match after.corrected[..] {
                [Fault::Size] => "fed on to size",
                _ => "then all teeth ground to the lowest edge",
            };
            notes.push(format!("Corrected: {names}; {then}."));
        }
        let corrections = self.check.corrections.iter();
        let left = corrections.filter(|one| self.with_after && !moves_edges(one));
        let left: Vec<String> = left.filter_map(left_words).collect();
        notes.extend(show::listed(&left).map(|left| format!("Left as it is: {left}.")));
        if self.after.is_none() && self.check.outcome == Outcome::Sound {
            notes.push("The readings show nothing wrong.".to_owned());
        }
        if self.check.outcome == Outcome::Unclear {
            let open = "The readings leave more than one explanation: this is the likeliest.";
            notes.push(open.to_owned());
        }
        notes.iter().flat_map(|note| wrapped(note)).collect()
    }

    /// The same in words.
    fn tell(&self) -> String {
        let place = |(index, at): (usize, &Length)| {
            let figures = self.check.edges.stands.get(index).into_iter().flatten();
            let one = |(tooth, figure): (u32, &Figure)| {
                format!("tooth {tooth} {}", show::signed(figure.length(), self.system))
            };
            let found: Vec<String> = (1..).zip(figures).map(one).collect();
            let after = self.after.as_ref().map_or_else(String::new, |after| {
                let (diameter, _) = after.diameter(self.radius, index);
                format!("; corrected, diameter {}", self.length(diameter))
            });
            let at = show::place(*at, self.system);
            format!(" At {at} from the end: {}{after}.", found.join(", "))
        };
        let places: String = self.check.edges.places.iter().enumerate().map(place).collect();
        format!("How far the edges stand out of the planned circle, {}.{places}", self.round.note())
    }
}

/// Why an edge's fault is left.
fn left_words(correction: &Correction) -> Option<String> {
    let name = correction.fault.name();
    match (&correction.worth, correction.fault) {
        (_, Fault::Clearance | Fault::Corner) => None,
        (Worth::Make, _) => Some(format!("{name} (goes on the tag)")),
        (Worth::GoodEnough(_), _) => Some(format!("{name} (good enough)")),
        (Worth::TooSmall(_), _) if correction.action == Action::Swivel => {
            Some(format!("{name} (too small for the dial: set by an indicator)"))
        }
        (Worth::TooSmall(_), _) => Some(format!("{name} (too small for the dial)")),
    }
}

/// The largest stand that the scale has room for.
fn reach_mm(check: &Check, after: Option<&After>) -> f64 {
    let found = || check.edges.stands.iter().flatten();
    let after = after.into_iter().flat_map(|after| after.stands_mm.iter().flatten());
    let stands = found().map(|figure| figure.value).chain(after.copied());
    let stand_mm = stands.map(f64::abs).fold(0.0, f64::max);
    let band_mm = found().map(|figure| figure.half_width).fold(0.0, f64::max);
    let room_mm = if stand_mm > LEAST_MM { BAND_SHARE * stand_mm } else { f64::INFINITY };
    (stand_mm + band_mm.min(room_mm)).max(LEAST_MM)
}

//! Rings on a page: one for each place along the flute, each with its title and its labels.

use geometry::Length;
use kurbo::{Point, Rect, Vec2};

use super::super::frame::{LEFT, NOTE, RIGHT};
use super::labels::{self, Label, placed};
use super::page::FIELD_TOP;
use super::round::Round;
use crate::scene::{Scene, Weight, Words};

/// Size of the first line of a title.
const TITLE: f64 = 4.2;

/// From line to line of a title.
const TITLE_LINE_MM: f64 = 4.8;

/// Room below a ring and its labels.
const BELOW_MM: f64 = 3.0;

/// How far labels may stand from the middle of a column.
const ASIDE_MM: f64 = 42.2;

/// The largest number of teeth whose figures find room about a ring in half of a page's width,
/// about one in the whole width, and about the largest there.
pub(super) const TEETH_IN_HALF: u32 = 12;
const TEETH_IN_WHOLE: u32 = 18;
pub(super) const TEETH_IN_LARGEST: u32 = 28;

/// How much larger a ring is that has the page's width for itself.
const WHOLE_WIDTH: f64 = 1.9;
const LARGEST: f64 = 2.5;

/// Points of an arc stand no farther apart than this.
const POINTS_MM: f64 = 0.4;

/// A ring before it has its place.
pub(super) struct Draft {
    pub(super) title: Vec<String>,
    pub(super) labels: Vec<Label>,
}

/// A ring on its page.
pub(super) struct Ring {
    pub(super) centre: Point,
    /// How much larger it is than in half of a page's width.
    pub(super) large: f64,
    title: Vec<String>,
    title_y: f64,
    labels: Vec<Label>,
    boxes: Vec<Rect>,
    labels_from_mm: f64,
}

/// How rings are laid out.
#[derive(Clone, Copy, Debug)]
pub(super) struct Columns {
    pub(super) count: usize,
    /// How much larger rings are than in half of a page's width.
    pub(super) large: f64,
    /// From the middle of a ring to its labels, in half of a page's width.
    pub(super) labels_from_mm: f64,
}

impl Columns {
    /// Rings with all their figures, for so many teeth.
    pub(super) const fn for_teeth(teeth: u32, labels_from_mm: f64) -> Self {
        let (count, large) = if teeth <= TEETH_IN_HALF {
            (2, 1.0)
        } else if teeth <= TEETH_IN_WHOLE {
            (1, WHOLE_WIDTH)
        } else {
            (1, LARGEST)
        };
        Self { count, large, labels_from_mm }
    }

    fn aside_mm(self) -> f64 {
        if self.count == 1 { 0.5 * (RIGHT - LEFT) } else { ASIDE_MM }
    }

    /// The middles of a row of rings; one alone stands in the middle of the page.
    fn middles(self, in_row: usize) -> impl Iterator<Item = f64> {
        let width = (RIGHT - LEFT) / in_row as f64;
        (0..in_row).map(move |column| LEFT + width * (column as f64 + 0.5))
    }

    /// Lays rings out row by row; gives them with the lower end of the last row.
    pub(super) fn laid_out(self, drafts: Vec<Draft>) -> (Vec<Ring>, f64) {
        let (mut rings, mut top) = (Vec::new(), FIELD_TOP);
        let from_mm = self.labels_from_mm * self.large;
        let mut drafts = drafts.into_iter().peekable();
        while drafts.peek().is_some() {
            let row: Vec<Draft> = drafts.by_ref().take(self.count).collect();
            let boxes: Vec<Vec<Rect>> =
                row.iter().map(|d| placed(&d.labels, from_mm, self.aside_mm())).collect();
            let areas = || boxes.iter().flatten();
            let up_mm = areas().map(|area| -area.y0).fold(from_mm, f64::max);
            let down_mm = areas().map(|area| area.y1).fold(from_mm, f64::max);
            let lines = row.iter().map(|draft| draft.title.len()).max().unwrap_or(0) as f64;
            let y = top + TITLE_LINE_MM * lines + 2.0 + up_mm;
            let middles: Vec<f64> = self.middles(row.len()).collect();
            for ((draft, boxes), x) in row.into_iter().zip(boxes).zip(middles) {
                rings.push(Ring {
                    centre: Point::new(x, y),
                    large: self.large,
                    title: draft.title,
                    title_y: top,
                    labels: draft.labels,
                    boxes,
                    labels_from_mm: from_mm,
                });
            }
            top = y + down_mm + BELOW_MM;
        }
        (rings, top)
    }
}

impl Ring {
    /// The place in a direction at a radius, as it is in half of a page's width.
    pub(super) fn at(&self, paper_rad: f64, radius_mm: f64) -> Point {
        self.centre + Vec2::from_angle(paper_rad) * (radius_mm * self.large)
    }

    /// A band between two radii that runs from a direction by an angle.
    pub(super) fn band(&self, radii_mm: (f64, f64), from_rad: f64, by_rad: f64) -> Vec<Point> {
        let length_mm = by_rad.abs() * radii_mm.1 * self.large;
        let steps = (length_mm / POINTS_MM).ceil().max(1.0) as u32;
        let arc = |radius_mm: f64| {
            let turn = move |step: u32| from_rad + by_rad * f64::from(step) / f64::from(steps);
            (0..=steps).map(move |step| self.at(turn(step), radius_mm))
        };
        let inner: Vec<Point> = arc(radii_mm.0).collect();
        arc(radii_mm.1).chain(inner.into_iter().rev()).collect()
    }

    /// A bar from one radius to another, of a breadth on paper.
    pub(super) fn bar(&self, paper_rad: f64, radii_mm: (f64, f64), half_mm: f64) -> Vec<Point> {
        let (from, to) = (self.at(paper_rad, radii_mm.0), self.at(paper_rad, radii_mm.1));
        let across = across(paper_rad) * half_mm;
        vec![from - across, to - across, to + across, from + across]
    }

    /// A line across a direction at a radius.
    pub(super) fn tick(&self, scene: &mut Scene, paper_rad: f64, radius_mm: f64, half_mm: f64) {
        let (at, across) = (self.at(paper_rad, radius_mm), across(paper_rad) * half_mm);
        scene.line(at - across, at + across, Weight::Outline);
    }

    /// The title, the labels and the cross in the middle.
    pub(super) fn draw_words(&self, scene: &mut Scene) {
        scene.part("title");
        for (row, line) in self.title.iter().enumerate() {
            let y = self.title_y + TITLE_LINE_MM * (row as f64 + 1.0) - 0.8;
            let size = if row == 0 { TITLE } else { NOTE };
            scene.text(Words::about((self.centre.x, y), size, line.as_str()));
        }
        labels::draw(scene, self.centre, self.labels_from_mm, &self.labels, &self.boxes);
        scene.part("centre");
        for reach in [Vec2::new(MIDDLE_MM, 0.0), Vec2::new(0.0, MIDDLE_MM)] {
            scene.line(self.centre - reach, self.centre + reach, Weight::Thin);
        }
    }
}

/// Half the size of the cross in the middle.
const MIDDLE_MM: f64 = 1.6;

/// Square to a direction.
pub(super) fn across(paper_rad: f64) -> Vec2 {
    Vec2::from_angle(paper_rad + std::f64::consts::FRAC_PI_2)
}

/// The title of a place: which end it is near, and how far the helix has brought the edges on.
pub(super) fn place_notes(round: &Round, from_end: Length) -> Option<String> {
    let degrees = round.twist_rad(from_end).abs().to_degrees();
    let way = if round.twist_rad(from_end) * round.heel_sign() > 0.0 {
        "clockwise"
    } else {
        "counterclockwise"
    };
    (degrees >= 0.5).then(|| format!("the helix has turned it {degrees:.0}° {way}"))
}

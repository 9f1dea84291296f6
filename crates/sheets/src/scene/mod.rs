//! One scene in millimetres of paper.
//!
//! A picture is drawn once, as lines, fills and words on a sheet whose origin is its upper left
//! corner, x to the right and y down. Dimensions, hatching, arrows and scale bars are taken apart
//! into these three when they are drawn, so that whoever writes a scene, as SVG or as PDF, needs
//! to know nothing else. Everything is black on white: a line is told from
//! another by its weight and its dashes, an area by its hatching.

mod arrow;
mod bar;
mod callout;
mod dimension;
mod drawn;
mod face;
mod hatch;
mod line;
mod pdf;
mod room;
mod scale;
mod strokes;
mod svg;
mod words;

use kurbo::{Affine, BezPath, Line, ParamCurveNearest, Point, Rect, Shape, Vec2};

use drawn::Drawn;

pub use arrow::ARROW_MM;
pub use callout::Callout;
pub use dimension::{AngleDimension, LengthDimension};
pub use face::Face;
pub use hatch::{Hatching, hatch};
pub use line::Weight;
pub use pdf::{PdfError, to_pdf};
pub use scale::Scale;
pub use words::{Anchor, Words, width_mm};

/// What is laid on a closed area.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub enum Paint {
    /// Ink.
    Black,
    /// Bare paper, to keep lines away from what stands above them.
    White,
}

/// One mark on the paper.
#[derive(Clone, Debug, PartialEq)]
pub enum Mark {
    /// A line or curve.
    Stroke {
        /// Where it runs.
        path: BezPath,
        /// How it is drawn.
        weight: Weight,
    },
    /// A closed area.
    Fill {
        /// Its outline.
        path: BezPath,
        /// What is laid on it.
        paint: Paint,
    },
    /// One line of words.
    Text(Words),
}

impl Mark {
    /// The same mark elsewhere.
    fn moved(&self, way: Vec2) -> Self {
        let along = Affine::translate(way);
        match self {
            Self::Stroke { path, weight } => {
                Self::Stroke { path: along * path.clone(), weight: *weight }
            }
            Self::Fill { path, paint } => Self::Fill { path: along * path.clone(), paint: *paint },
            Self::Text(words) => Self::Text(Words { at: words.at + way, ..words.clone() }),
        }
    }

    /// The paper that the mark covers, the width of its line left out.
    pub fn bounds(&self) -> Rect {
        match self {
            Self::Stroke { path, .. } | Self::Fill { path, .. } => path.bounding_box(),
            Self::Text(words) => words.bounds(),
        }
    }
}

/// Marks that belong together, under a name that whoever reads the file can look for.
#[derive(Clone, Debug, PartialEq)]
pub struct Part {
    /// Its name: small words, single spaces.
    pub name: &'static str,
    /// Its marks, the lowest first.
    pub marks: Vec<Mark>,
}

/// A picture.
#[derive(Clone, Debug)]
pub struct Scene {
    title: String,
    description: String,
    paper: Rect,
    parts: Vec<Part>,
    /// What words have to keep clear of, as far as it was asked for.
    drawn: Drawn,
}

impl PartialEq for Scene {
    /// What was looked at while it was drawn makes no other picture.
    fn eq(&self, other: &Self) -> bool {
        let Self { title, description, paper, parts, drawn: _ } = self;
        (title, description, paper) == (&other.title, &other.description, &other.paper)
            && *parts == other.parts
    }
}

impl Scene {
    /// An empty sheet. The title and the description serve readers who cannot see the picture.
    pub fn new(title: String, description: String, width_mm: f64, height_mm: f64) -> Self {
        let paper = Rect::new(0.0, 0.0, width_mm, height_mm);
        Self { title, description, paper, parts: Vec::new(), drawn: Drawn::on(paper) }
    }

    /// Its title.
    pub fn title(&self) -> &str {
        &self.title
    }

    /// What it shows, in words.
    pub fn description(&self) -> &str {
        &self.description
    }

    /// The sheet, from its upper left corner at 0, 0.
    pub const fn paper(&self) -> Rect {
        self.paper
    }

    /// Its parts, the lowest first.
    pub fn parts(&self) -> &[Part] {
        &self.parts
    }

    /// The marks of all parts, the lowest first.
    pub fn marks(&self) -> impl Iterator<Item = &Mark> {
        self.parts.iter().flat_map(|part| &part.marks)
    }

    /// The words of all parts.
    pub fn words(&self) -> impl Iterator<Item = &Words> {
        self.marks().filter_map(|mark| match mark {
            Mark::Text(words) => Some(words),
            _ => None,
        })
    }

    /// Starts a part; what is drawn from now on belongs to it.
    pub fn part(&mut self, name: &'static str) {
        self.parts.push(Part { name, marks: Vec::new() });
    }

    /// Takes the parts of a name away.
    pub(crate) fn take_away(&mut self, name: &str) {
        self.parts.retain(|part| part.name != name);
    }

    /// Takes what was drawn into account where words are placed from now on.
    fn take_in(&mut self) {
        self.drawn.take_in(self.parts.iter().flat_map(|part| &part.marks));
    }

    fn add(&mut self, mark: Mark) {
        if self.parts.is_empty() {
            self.part("drawing");
        }
        if let Some(part) = self.parts.last_mut() {
            part.marks.push(mark);
        }
    }

    /// Draws a path.
    pub fn stroke(&mut self, path: BezPath, weight: Weight) {
        self.add(Mark::Stroke { path, weight });
    }

    /// Draws a straight line.
    pub fn line(&mut self, from: Point, to: Point, weight: Weight) {
        self.stroke(Line::new(from, to).to_path(PATH_ERROR_MM), weight);
    }

    /// Draws straight lines from point to point; nothing for fewer than two points.
    pub fn polyline(&mut self, points: &[Point], weight: Weight) {
        if points.len() > 1 {
            self.stroke(path_through(points), weight);
        }
    }

    /// Fills a closed polygon.
    pub fn fill(&mut self, points: &[Point], paint: Paint) {
        if points.len() > 2 {
            let mut path = path_through(points);
            path.close_path();
            self.add(Mark::Fill { path, paint });
        }
    }

    /// Fills what a closed path holds.
    pub fn fill_path(&mut self, path: BezPath, paint: Paint) {
        if !path.is_empty() {
            self.add(Mark::Fill { path, paint });
        }
    }

    /// Sets one line of words.
    pub fn text(&mut self, words: Words) {
        self.add(Mark::Text(words));
    }

    /// Lays another picture on this one, its upper left corner at a place, its size kept.
    pub fn lay(&mut self, other: &Self, at: Point) {
        let way = at.to_vec2();
        for part in &other.parts {
            let marks = part.marks.iter().map(|mark| mark.moved(way)).collect();
            self.parts.push(Part { name: part.name, marks });
        }
    }

    /// Hatches the inside of closed polygons.
    pub fn hatched(&mut self, polygons: &[Vec<Point>], hatching: Hatching) {
        let mut path = BezPath::new();
        for (from, to) in hatch(polygons, hatching) {
            path.move_to(from);
            path.line_to(to);
        }
        if !path.is_empty() {
            self.stroke(path, Weight::Thin);
        }
    }
}

/// How far a curve may stand from the shape that it is made from.
const PATH_ERROR_MM: f64 = 0.01;

/// The path of straight lines through points.
pub fn path_through(points: &[Point]) -> BezPath {
    let mut path = BezPath::new();
    for (index, point) in points.iter().enumerate() {
        if index == 0 { path.move_to(*point) } else { path.line_to(*point) }
    }
    path
}

/// The points of a line of many points that are needed to stay within an error of it.
pub fn thinned(points: &[Point], error_mm: f64) -> Vec<Point> {
    let (Some(first), Some(last)) = (points.first(), points.last()) else { return Vec::new() };
    if points.len() < 3 {
        return points.to_vec();
    }
    let chord = Line::new(*first, *last);
    let away = |point: &Point| chord.nearest(*point, 1e-9).distance_sq;
    let inner = points[1..points.len() - 1].iter().enumerate();
    let farthest = inner.max_by(|a, b| away(a.1).total_cmp(&away(b.1)));
    match farthest {
        Some((index, point)) if away(point) > error_mm * error_mm => {
            let mut kept = thinned(&points[..=index + 1], error_mm);
            kept.pop();
            kept.extend(thinned(&points[index + 1..], error_mm));
            kept
        }
        _ => vec![*first, *last],
    }
}

/// The arc about a centre, angles counted from +x toward +y of the paper, which is clockwise to
/// the eye.
pub fn arc(centre: Point, radius_mm: f64, from_rad: f64, to_rad: f64) -> BezPath {
    let arc = kurbo::Arc::new(centre, (radius_mm, radius_mm), from_rad, to_rad - from_rad, 0.0);
    arc.to_path(PATH_ERROR_MM)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn thinning_keeps_corners_and_the_error() {
        let bent = |x: f64| Point::new(x, (x - 5.0).max(0.0));
        let points: Vec<Point> = (0..=100).map(|step| bent(f64::from(step) * 0.1)).collect();
        assert_eq!(thinned(&points, 0.01), [(0.0, 0.0), (5.0, 0.0), (10.0, 5.0)].map(Point::from));
        let circle =
            |step: i32| Point::new(0.0, 0.0) + kurbo::Vec2::from_angle(f64::from(step) * 0.01);
        let points: Vec<Point> = (0..=300).map(circle).collect();
        let kept = thinned(&points, 0.01);
        assert!(kept.len() > 8 && kept.len() < 60, "{}", kept.len());
        for point in points {
            let near = kept.windows(2).map(|pair| Line::new(pair[0], pair[1]).nearest(point, 1e-9));
            assert!(near.map(|near| near.distance_sq).fold(1.0, f64::min) < 0.011 * 0.011);
        }
    }

    #[test]
    fn an_arc_runs_clockwise_to_the_eye() {
        let path = arc(Point::new(10.0, 10.0), 5.0, 0.0, std::f64::consts::FRAC_PI_2);
        let bounds = path.bounding_box();
        assert!((bounds.x1 - 15.0).abs() < 1e-3 && (bounds.y1 - 15.0).abs() < 1e-3);
        assert!((bounds.x0 - 10.0).abs() < 1e-3 && (bounds.y0 - 10.0).abs() < 1e-3);
    }
}

//! A sheet as it is written from top to bottom, page after page.

use kurbo::{Point, Rect};

use super::words::wrapped;
use super::{Imprint, Pages, units_words};
use crate::scene::{Face, Scene, Weight, Words};

/// Margins: left (wide enough to be punched), right, above the head, below the foot.
const LEFT: f64 = 16.0;
const RIGHT: f64 = 12.0;
const TOP: f64 = 10.0;
const FOOT: f64 = 9.0;

/// From the top of the paper to where the head ends and the sheet begins.
const BEGIN: f64 = 27.5;

/// A point in millimetres.
const POINT_MM: f64 = 25.4 / 72.0;

/// No word of a sheet is set smaller than 7 points, but for a set-up that is kept on one page; no
/// figure that is set or read smaller than 12, and no result smaller than 14: a sheet lies at arm's
/// length (own choice, no source).
pub const WORDS_LEAST_MM: f64 = 7.0 * POINT_MM;
/// Words of a set-up sheet that is kept on one page may be as small as they are on a drawing: its
/// figures stay as large as anywhere (own choice, no source).
pub const WORDS_ONE_PAGE_LEAST_MM: f64 = 5.4 * POINT_MM;
/// A sheet that is set smaller than this is kept on one page.
pub(super) const ROOMY_LEAST: f64 = 0.714;
/// The least size of a figure that is set or read.
pub const FIGURES_LEAST_MM: f64 = 12.0 * POINT_MM;
/// The least size of a result.
pub const RESULTS_LEAST_MM: f64 = 14.0 * POINT_MM;

/// Sizes of type: of results, of figures that are set or read, of words.
pub(super) const RESULT: f64 = 5.4;
pub(super) const MARK: f64 = 4.8;
pub(super) const HEADING: f64 = 4.0;
pub(super) const BODY: f64 = 3.0;
pub(super) const SMALL: f64 = 2.5;

/// From line to line, as a share of the size of the type; closer on a sheet that is kept on one
/// page.
const LEADING: f64 = 1.32;
const LEADING_CLOSE: f64 = 1.18;

/// Sizes that a title is tried in, and the height that it may take.
const TITLES: [f64; 5] = [6.2, 5.2, 4.2, 3.4, 2.6];
const TITLE_LEAST: f64 = 1.8;
const TITLE_ROOM: f64 = 14.0;

/// Something that is drawn again at the head of each page that a list runs over.
type Again<'a> = Box<dyn Fn(&mut Flow<'a>) + 'a>;

/// A sheet that is being written.
pub(super) struct Flow<'a> {
    imprint: &'a Imprint,
    title: String,
    description: String,
    closing: &'a str,
    pages: Vec<Scene>,
    y: f64,
    shrink: f64,
    again: Option<Again<'a>>,
}

impl<'a> Flow<'a> {
    /// Starts the first page. The closing words stand at the foot of every page.
    pub(super) fn new(
        imprint: &'a Imprint,
        title: String,
        description: String,
        closing: &'a str,
    ) -> Self {
        let (pages, y, shrink, again) = (Vec::new(), BEGIN, 1.0, None);
        let mut flow = Self { imprint, title, description, closing, pages, y, shrink, again };
        flow.new_page();
        flow
    }

    /// The same with all type and room smaller by a factor.
    pub(super) fn shrunk(self, shrink: f64) -> Self {
        Self { shrink, ..self }
    }

    /// A length of the sheet, by how much it is shrunk.
    pub(super) fn sized(&self, mm: f64) -> f64 {
        mm * self.shrink
    }

    /// A size of type, by how much the sheet is shrunk, and not below the least of its kind.
    pub(super) fn type_mm(&self, size_mm: f64) -> f64 {
        let least = match size_mm {
            size if size >= RESULT => RESULTS_LEAST_MM,
            size if size >= MARK => FIGURES_LEAST_MM,
            _ if self.shrink < ROOMY_LEAST => WORDS_ONE_PAGE_LEAST_MM,
            _ => WORDS_LEAST_MM,
        };
        self.sized(size_mm).max(least)
    }

    /// From line to line of a type.
    pub(super) fn line_mm(&self, size_mm: f64) -> f64 {
        let leading = if self.shrink < ROOMY_LEAST { LEADING_CLOSE } else { LEADING };
        self.type_mm(size_mm) * leading
    }

    /// Left and right end of what is written.
    pub(super) const fn sides(&self) -> (f64, f64) {
        (LEFT, self.imprint.paper.size_mm().0 - RIGHT)
    }

    /// How wide that is.
    pub(super) const fn width(&self) -> f64 {
        let (left, right) = self.sides();
        right - left
    }

    /// Where the next thing goes.
    pub(super) const fn y(&self) -> f64 {
        self.y
    }

    /// Goes on at a height of this page.
    pub(super) const fn set_y(&mut self, y: f64) {
        self.y = y;
    }

    /// Leaves room.
    pub(super) fn skip(&mut self, mm: f64) {
        self.y += self.sized(mm);
    }

    const fn end(&self) -> f64 {
        self.imprint.paper.size_mm().1 - FOOT - 6.0
    }

    /// The page that is being written.
    pub(super) fn scene(&mut self) -> &mut Scene {
        if self.pages.is_empty() {
            self.new_page();
        }
        let last = self.pages.len() - 1;
        &mut self.pages[last]
    }

    /// Turns the page where it has no more room for something so high.
    pub(super) fn need(&mut self, high_mm: f64) {
        if self.y + high_mm > self.end() && self.y > BEGIN + 1e-6 {
            self.new_page();
            if let Some(again) = self.again.take() {
                again(self);
                self.again = Some(again);
            }
        }
    }

    /// What is drawn again on each further page until it is let go.
    pub(super) fn repeat(&mut self, again: Option<Again<'a>>) {
        self.again = again;
    }

    fn new_page(&mut self) {
        let (width, height) = self.imprint.paper.size_mm();
        let mut scene = Scene::new(self.title.clone(), self.description.clone(), width, height);
        scene.part("head");
        self.draw_head(&mut scene);
        scene.part("sheet");
        self.pages.push(scene);
        self.y = BEGIN;
    }

    fn draw_head(&self, scene: &mut Scene) {
        let (left, right) = self.sides();
        let Imprint { record, revision, date, system, .. } = self.imprint;
        let facts = [
            format!("record {record}"),
            revision.clone(),
            date.clone(),
            units_words(*system).into(),
        ];
        let room = 0.42 * self.width();
        for (row, fact) in facts.iter().enumerate() {
            let y = TOP + 2.4 + 3.9 * row as f64;
            let fact = fitted(fact, Face::Plain, SMALL + 0.3, room);
            scene.text(Words {
                anchor: crate::scene::Anchor::End,
                at: Point::new(right, y),
                ..fact
            });
        }
        let (size_mm, lines) = self.title_lines();
        for (row, line) in lines.iter().enumerate() {
            let y = TOP + size_mm + 1.2 * size_mm * row as f64;
            scene.text(Words::starting((left, y), size_mm, line.as_str()).bold());
        }
        let rule = BEGIN - 2.4;
        scene.line(Point::new(left, rule), Point::new(right, rule), Weight::Outline);
    }

    /// The title in the largest type in which it has room in the head, line by line.
    fn title_lines(&self) -> (f64, Vec<String>) {
        let room = 0.56 * self.width();
        let set = |size_mm: f64| (size_mm, wrapped(&self.title, Face::Bold, size_mm, room));
        let has_room = |(size_mm, lines): &(f64, Vec<String>)| {
            1.2 * size_mm * lines.len() as f64 <= TITLE_ROOM
        };
        TITLES.into_iter().map(set).find(has_room).unwrap_or_else(|| set(TITLE_LEAST))
    }

    /// A heading in bold, kept together with something below it so high.
    pub(super) fn heading(&mut self, words: &str, with_mm: f64) {
        self.need(self.line_mm(HEADING) + with_mm);
        self.set(Face::Bold, HEADING, words);
        self.skip(0.4);
    }

    /// A paragraph over the whole width.
    pub(super) fn paragraph(&mut self, size_mm: f64, text: &str) {
        self.set(Face::Plain, size_mm, text);
    }

    /// The same in bold.
    pub(super) fn strong(&mut self, size_mm: f64, text: &str) {
        self.set(Face::Bold, size_mm, text);
    }

    fn set(&mut self, face: Face, size_mm: f64, text: &str) {
        let (left, right) = self.sides();
        self.set_within(face, size_mm, text, (left, right));
    }

    /// A paragraph between two sides.
    pub(super) fn set_within(
        &mut self,
        face: Face,
        size_mm: f64,
        text: &str,
        (left, right): (f64, f64),
    ) {
        let size = self.type_mm(size_mm);
        for line in wrapped(text, face, size, right - left) {
            self.need(self.line_mm(size_mm));
            self.y += self.line_mm(size_mm);
            let at = Point::new(left, self.y - 0.32 * size);
            let words = Words { face, ..Words::starting(at, size, line) };
            self.scene().text(words);
        }
    }

    /// A paragraph that begins with a mark, its lines drawn in under the text.
    pub(super) fn marked(&mut self, mark: &str, size_mm: f64, text: &str) {
        let (left, right) = self.sides();
        self.need(self.line_mm(size_mm));
        let size = self.type_mm(size_mm);
        let at = Point::new(left, self.y + self.line_mm(size_mm) - 0.32 * size);
        self.scene().text(Words::starting(at, size, mark).bold());
        let indent = Face::Bold.width_mm(mark, size) + 1.4;
        self.set_within(Face::Plain, size_mm, text, (left + indent, right));
    }

    /// A rule across the page.
    pub(super) fn rule(&mut self, weight: Weight) {
        let (left, right) = self.sides();
        let y = self.y;
        self.scene().line(Point::new(left, y), Point::new(right, y), weight);
    }

    /// Lays a picture below what is written, in the middle, its size kept.
    pub(super) fn picture(&mut self, picture: &Scene) {
        self.need(picture.paper().height());
        let left = self.sides().0 + 0.5 * (self.width() - picture.paper().width()).max(0.0);
        let at = Point::new(left, self.y);
        self.scene().lay(picture, at);
        self.scene().part("sheet");
        self.y += picture.paper().height();
    }

    /// Writes something that the turn of a page shall not cut: where it does not fit below what is
    /// written and would on a page of its own, it begins a new page.
    pub(super) fn together(&mut self, write: impl Fn(&mut Self)) {
        let (before, y) = (self.pages.clone(), self.y);
        write(self);
        if self.pages.len() == before.len() || y <= BEGIN + 1e-6 {
            return;
        }
        let cut = (std::mem::replace(&mut self.pages, before), self.y);
        self.new_page();
        let count = self.pages.len();
        write(self);
        if self.pages.len() > count {
            (self.pages, self.y) = cut;
        }
    }

    /// The pages, each with its number and with the closing words at its foot.
    pub(super) fn finish(mut self) -> Pages {
        let (left, right) = self.sides();
        let y = self.imprint.paper.size_mm().1 - FOOT;
        let (right, room) = (right, right - left - NUMBER_ROOM);
        for scene in &mut self.pages {
            scene.part("foot");
            let rule = y - 4.0;
            scene.line(Point::new(left, rule), Point::new(right, rule), Weight::Thin);
            let closing = fitted(self.closing, Face::Plain, SMALL, room);
            scene.text(Words { at: Point::new(left, y), ..closing });
        }
        Pages::numbered(self.title, self.pages, Point::new(right, y))
    }
}

/// Room for the number of a page beside the closing words.
const NUMBER_ROOM: f64 = 30.0;

/// Words on one line, set as much smaller as they must.
pub(super) fn fitted(text: &str, face: Face, size_mm: f64, room_mm: f64) -> Words {
    let wide = face.width_mm(text, size_mm);
    let size_mm = if wide > room_mm { size_mm * room_mm / wide } else { size_mm };
    Words { face, ..Words::starting(Point::ZERO, size_mm, text) }
}

/// An empty box for a figure in pencil.
pub(super) fn pencil_box(scene: &mut Scene, area: Rect) {
    scene.stroke(kurbo::Shape::to_path(&area, 0.01), Weight::Thin);
}

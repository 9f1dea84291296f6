//! Writing scenes as the pages of a PDF, the same bytes for the same scenes.
//!
//! Lines and areas stay lines and areas, words stay words: they can be searched and copied, and
//! the faces travel with the file. Nothing in it hangs on a clock.

use krilla::color::luma;
use krilla::geom::{PathBuilder, Point as PdfPoint, Transform};
use krilla::metadata::Metadata;
use krilla::num::NormalizedF32;
use krilla::page::PageSettings;
use krilla::paint::{Fill, FillRule, LineCap, LineJoin, Stroke, StrokeDash};
use krilla::surface::Surface;
use krilla::text::{Font, GlyphId, KrillaGlyph};
use krilla::{Document, SerializeSettings};
use kurbo::{BezPath, PathEl, Point, Shape};
use thiserror::Error;

use super::{Anchor, Face, Mark, Paint, Scene, Weight, Words};

/// Points of a PDF in a millimetre: ISO 32000-1, 8.3.2.3, has 72 of them in an inch.
const POINTS_PER_MM: f64 = 72.0 / 25.4;

/// Why scenes could not be written as a PDF.
#[derive(Debug, Error)]
pub enum PdfError {
    /// There is no page.
    #[error("a PDF needs at least one page")]
    NoPage,
    /// The paper of a page has no size.
    #[error("page {page}: the paper is {width_mm} by {height_mm} mm; both must be above zero")]
    Paper {
        /// Which page, counted from one.
        page: usize,
        /// Its width.
        width_mm: f64,
        /// Its height.
        height_mm: f64,
    },
    /// A vendored face cannot be read.
    #[error("the vendored face {0:?} cannot be read")]
    Face(Face),
    /// The writer of the format gave up.
    #[error("the PDF could not be put together: {0}")]
    Writer(String),
}

/// The faces of a document.
struct Faces {
    plain: Font,
    bold: Font,
}

impl Faces {
    fn load() -> Result<Self, PdfError> {
        let face =
            |face: Face| Font::new(face.file().to_vec().into(), 0).ok_or(PdfError::Face(face));
        Ok(Self { plain: face(Face::Plain)?, bold: face(Face::Bold)? })
    }

    fn font(&self, face: Face) -> Font {
        match face {
            Face::Plain => self.plain.clone(),
            Face::Bold => self.bold.clone(),
        }
    }
}

/// Scenes as the pages of one PDF, each page as large as its scene's paper.
///
/// # Errors
/// Where there is no page, a page has no size, or the writer of the format gives up.
pub fn to_pdf(title: &str, scenes: &[Scene]) -> Result<Vec<u8>, PdfError> {
    if scenes.is_empty() {
        return Err(PdfError::NoPage);
    }
    let faces = Faces::load()?;
    // The date of an XMP packet would come from a clock, and its ids from chance: it is left out.
    let settings = SerializeSettings { xmp_metadata: false, ..SerializeSettings::default() };
    let mut document = Document::new_with(settings);
    let described: Vec<&str> = scenes.iter().map(Scene::description).collect();
    document.set_metadata(
        Metadata::new()
            .title(title.to_owned())
            .description(described.join(" "))
            .language("en".to_owned())
            .creator("Toothrest".to_owned()),
    );
    for (index, scene) in scenes.iter().enumerate() {
        push_page(&mut document, index + 1, scene, &faces)?;
    }
    document.finish().map_err(|error| PdfError::Writer(format!("{error:?}")))
}

impl Scene {
    /// The picture as a PDF of one page, as large as its paper.
    ///
    /// # Errors
    /// As [`to_pdf`].
    pub fn to_pdf(&self) -> Result<Vec<u8>, PdfError> {
        to_pdf(self.title(), std::slice::from_ref(self))
    }
}

fn push_page(
    document: &mut Document,
    number: usize,
    scene: &Scene,
    faces: &Faces,
) -> Result<(), PdfError> {
    let (width_mm, height_mm) = (scene.paper().width(), scene.paper().height());
    let points = |mm: f64| (mm * POINTS_PER_MM) as f32;
    let settings = PageSettings::from_wh(points(width_mm), points(height_mm));
    let settings = settings.ok_or(PdfError::Paper { page: number, width_mm, height_mm })?;
    let mut page = document.start_page_with(settings);
    let mut surface = page.surface();
    let scale = POINTS_PER_MM as f32;
    surface.push_transform(&Transform::from_scale(scale, scale));
    scene.marks().for_each(|mark| push_mark(&mut surface, mark, faces));
    surface.pop();
    surface.finish();
    page.finish();
    Ok(())
}

fn push_mark(surface: &mut Surface<'_>, mark: &Mark, faces: &Faces) {
    match mark {
        Mark::Stroke { path, weight } => {
            surface.set_fill(None);
            surface.set_stroke(Some(stroke(*weight)));
            draw(surface, path);
        }
        Mark::Fill { path, paint } => {
            surface.set_stroke(None);
            surface.set_fill(Some(fill(*paint)));
            draw(surface, path);
        }
        Mark::Text(words) => push_words(surface, words, faces),
    }
}

fn draw(surface: &mut Surface<'_>, path: &BezPath) {
    if let Some(path) = pdf_path(path) {
        surface.draw_path(&path);
    }
}

fn fill(paint: Paint) -> Fill {
    let colour = match paint {
        Paint::Black => luma::Color::black(),
        Paint::White => luma::Color::white(),
    };
    Fill { paint: colour.into(), opacity: NormalizedF32::ONE, rule: FillRule::NonZero }
}

fn stroke(weight: Weight) -> Stroke {
    let dashes: Vec<f32> = weight.dashes_mm().iter().map(|dash| *dash as f32).collect();
    // A round cap would fill half of each gap.
    let line_cap = if dashes.is_empty() { LineCap::Round } else { LineCap::Butt };
    Stroke {
        paint: luma::Color::black().into(),
        width: weight.width_mm() as f32,
        line_cap,
        line_join: LineJoin::Round,
        dash: (!dashes.is_empty()).then_some(StrokeDash { array: dashes, offset: 0.0 }),
        ..Stroke::default()
    }
}

/// A path in the writer's own terms; none where it holds nothing that can be drawn.
fn pdf_path(path: &BezPath) -> Option<krilla::geom::Path> {
    if !path.bounding_box().is_finite() {
        return None;
    }
    let mut builder = PathBuilder::new();
    let at = |point: &Point| (point.x as f32, point.y as f32);
    for element in path.elements() {
        match element {
            PathEl::MoveTo(to) => builder.move_to(at(to).0, at(to).1),
            PathEl::LineTo(to) => builder.line_to(at(to).0, at(to).1),
            PathEl::QuadTo(one, to) => builder.quad_to(at(one).0, at(one).1, at(to).0, at(to).1),
            PathEl::CurveTo(one, two, to) => {
                let (one, two, to) = (at(one), at(two), at(to));
                builder.cubic_to(one.0, one.1, two.0, two.1, to.0, to.1);
            }
            PathEl::ClosePath => builder.close(),
        }
    }
    builder.finish()
}

fn push_words(surface: &mut Surface<'_>, words: &Words, faces: &Faces) {
    if words.text.is_empty() || !words.at.is_finite() {
        return;
    }
    let width = words.width_mm();
    let x = match words.anchor {
        Anchor::Start => words.at.x,
        Anchor::Middle => words.at.x - width / 2.0,
        Anchor::End => words.at.x - width,
    };
    surface.set_stroke(None);
    surface.set_fill(Some(fill(Paint::Black)));
    let start = PdfPoint::from_xy(x as f32, words.at.y as f32);
    let font = faces.font(words.face);
    let glyphs = glyphs(words);
    surface.draw_glyphs(start, &glyphs, font, &words.text, words.size_mm as f32, false);
}

/// One shape for each letter, so that what is copied is letter for letter what was written.
fn glyphs(words: &Words) -> Vec<KrillaGlyph> {
    let glyph = |(at, letter): (usize, char)| {
        let known = words.face.letter(letter);
        let range = at..at + letter.len_utf8();
        KrillaGlyph::new(
            GlyphId::new(known.glyph),
            known.advance as f32,
            0.0,
            0.0,
            0.0,
            range,
            None,
        )
    };
    words.text.char_indices().map(glyph).collect()
}

#[cfg(test)]
mod tests {
    use super::*;

    fn scene() -> Scene {
        let mut scene = Scene::new("A page".into(), "Words and a line.".into(), 210.0, 297.0);
        scene.text(Words::starting((10.0, 20.0), 5.0, "land 0.020 in"));
        scene.text(Words::about((100.0, 20.0), 9.0, "⌀ 12.700 mm").bold());
        scene.line(Point::new(10.0, 30.0), Point::new(200.0, 30.0), Weight::Centre);
        scene
    }

    #[test]
    fn the_same_scene_gives_the_same_bytes() {
        let (once, again) = (scene().to_pdf().unwrap(), scene().to_pdf().unwrap());
        assert!(once == again && once.starts_with(b"%PDF-"));
    }

    #[test]
    fn a_document_without_a_page_or_a_page_without_a_size_is_refused() {
        assert!(matches!(to_pdf("none", &[]), Err(PdfError::NoPage)));
        let flat = Scene::new(String::new(), String::new(), 210.0, 0.0);
        let error = flat.to_pdf().unwrap_err().to_string();
        assert!(error.contains("page 1: the paper is 210 by 0 mm"), "{error}");
    }

    #[test]
    fn what_is_no_number_is_left_out() {
        let mut scene = scene();
        let lost = Point::new(f64::NAN, 1.0);
        scene.line(lost, Point::new(1.0, 1.0), Weight::Thin);
        scene.text(Words::starting(lost, 3.0, "nowhere"));
        assert!(scene.to_pdf().is_ok());
    }
}

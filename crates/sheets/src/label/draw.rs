//! What is written on a tag: sizes first, and that they are not the nominal ones.

use geometry::System;
use kurbo::{Point, Rect};

use super::LabelError;
use super::codes::{Code, Kind};
use crate::drawing::Tag;
use crate::scene::{Face, Paint, Scene, Weight, Words};

/// Modules are a whole number of dots of a printer with 8 dots to the millimetre, the coarsest
/// that is common for labels (common practice, no source); the largest that leaves half of the
/// label to the words is taken.
const MODULES_MM: [f64; 4] = [0.625, 0.5, 0.375, 0.25];

/// The codes take no more than this share of the label's width.
const CODES_SHARE: f64 = 0.4;

/// Between the words and the codes.
const GAP: f64 = 1.5;

/// The part that says whether the sizes are nominal, and its share of the height in a frame.
const WARNING: &str = "warning";
const FRAMED: f64 = 1.8;

/// One line of a tag.
struct Line {
    part: &'static str,
    text: String,
    /// Its share of the height.
    share: f64,
    face: Face,
}

/// A tag as large as the inside of a label.
pub(super) fn draw(tag: &Tag, system: System, size: (f64, f64)) -> Result<Scene, LabelError> {
    let (wide, high) = size;
    let codes = [Code::of(Kind::Qr, &tag.number)?, Code::of(Kind::DataMatrix, &tag.number)?];
    let (module_mm, stacked) =
        modules(&codes, size).ok_or_else(|| LabelError::Number { number: tag.number.clone() })?;
    let title = format!("Tag of cutter {}", tag.number);
    let mut scene = Scene::new(title, tag.description(system), wide, high);
    let left = draw_codes(&mut scene, &codes, module_mm, stacked, wide);
    draw_words(&mut scene, &lines(tag, system), (left - GAP, high), !tag.is_nominal(system));
    Ok(scene)
}

/// The size of a module, and whether the codes stand one above the other.
fn modules(codes: &[Code; 2], (wide, high): (f64, f64)) -> Option<(f64, bool)> {
    let [qr, data_matrix] = codes.each_ref().map(|code| code.modules() as f64);
    MODULES_MM.into_iter().find_map(|module_mm| {
        let most = CODES_SHARE * wide / module_mm;
        let tall = high / module_mm;
        let stacked = qr + data_matrix <= tall && qr <= most;
        let beside = qr.max(data_matrix) <= tall && qr + data_matrix <= most;
        (stacked || beside).then_some((module_mm, stacked))
    })
}

/// Draws the codes at the right; gives their left end.
fn draw_codes(
    scene: &mut Scene,
    [qr, data_matrix]: &[Code; 2],
    module_mm: f64,
    stacked: bool,
    wide: f64,
) -> f64 {
    let mm = |code: &Code| code.modules() as f64 * module_mm;
    let (first, second) = if stacked {
        let x = wide - mm(qr);
        (Point::new(x, 0.0), Point::new(wide - 0.5 * (mm(qr) + mm(data_matrix)), mm(qr)))
    } else {
        let x = wide - mm(data_matrix);
        (Point::new(x - mm(qr), 0.0), Point::new(x, 0.0))
    };
    scene.part("qr code");
    qr.draw(scene, first, module_mm);
    scene.part("data matrix");
    data_matrix.draw(scene, second, module_mm);
    first.x.min(second.x)
}

fn lines(tag: &Tag, system: System) -> Vec<Line> {
    let line =
        |part: &'static str, share: f64, face: Face, text: String| Line { part, text, share, face };
    let mut lines = vec![
        line("number", 1.35, Face::Bold, tag.number.clone()),
        line(WARNING, 1.3, Face::Bold, tag.warning(system).to_owned()),
        line("diameter", 2.0, Face::Bold, format!("⌀ {}", tag.diameter.show(system))),
        line("half", 1.4, Face::Bold, format!("radius {}", (tag.diameter / 2.0).show(system))),
        line("change", 1.0, Face::Plain, tag.change_words(system)),
    ];
    if tag.radius.is_some() || tag.chamfer.is_some() {
        lines.push(line("corner", 1.0, Face::Plain, tag.radius_words(system)));
    }
    if let Some(taper) = tag.taper_words() {
        lines.push(line("taper", 1.0, Face::Plain, taper));
    }
    lines.push(line("rest", 1.0, Face::Plain, tag.flute_words(system)));
    lines.push(line("date", 1.0, Face::Plain, format!("{}  {}", tag.date, tag.initials)));
    lines
}

/// Sizes of type as a share of a line's room: of an ordinary line, and within the frame.
const OF_ROOM: f64 = 0.8;
const OF_FRAME: f64 = 0.58;

fn draw_words(scene: &mut Scene, lines: &[Line], (wide, high): (f64, f64), is_warned: bool) {
    let share = |line: &Line| if is_warned && line.part == WARNING { FRAMED } else { line.share };
    let whole: f64 = lines.iter().map(share).sum();
    let mut top = 0.0;
    for line in lines {
        let room = high * share(line) / whole;
        let is_framed = is_warned && line.part == WARNING;
        let (of_room, indent) = if is_framed { (OF_FRAME, 1.6) } else { (OF_ROOM, 0.0) };
        let inner = wide - 2.0 * indent;
        let natural = line.face.width_mm(&line.text, of_room * room);
        let size_mm = of_room * room * (inner / natural.max(inner));
        scene.part(line.part);
        if is_framed {
            frame(scene, Rect::new(0.0, top, wide, top + 0.95 * room));
        }
        let at = Point::new(indent, top + 0.475 * room + 0.36 * size_mm);
        let words = Words::starting(at, size_mm, line.text.as_str());
        scene.text(Words { face: line.face, ..words });
        top += room;
    }
}

/// A heavy frame with a bar at either end: it is seen before it is read.
fn frame(scene: &mut Scene, area: Rect) {
    scene.stroke(kurbo::Shape::to_path(&area.inset(-0.25), 0.01), Weight::Outline);
    let bar = |x0: f64, x1: f64| {
        [(x0, area.y0), (x1, area.y0), (x1, area.y1), (x0, area.y1)].map(Point::from)
    };
    scene.fill(&bar(area.x0, area.x0 + 1.0), Paint::Black);
    scene.fill(&bar(area.x1 - 1.0, area.x1), Paint::Black);
}

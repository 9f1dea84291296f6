//! Pictures measured with a ruler: what they show must be what they were given.

use geometry::{Length, System};
use kurbo::{BezPath, Point, Rect, Shape, Vec2};
use sheets::drawing::{cutter_view, day_view, dial_view, life_scale, wheel_view};
use sheets::scene::{Mark, Paint, Scene, Weight};
use shop::plan::{DialMark, Quantity};
use shop::record::{Cutter, EndForm, Hand};

use crate::cutters::cutters;
use crate::others::{days, dials, lives, wheels};
use crate::paper::{pieces, texts};

/// Millimetres of paper to a millimetre of the thing, as a part of the picture states it.
pub(crate) fn factor(scene: &Scene, part: &str) -> f64 {
    let text = texts(scene, part).remove(0);
    let (_, ratio) = text.rsplit_once(' ').unwrap();
    let (paper_side, thing_side) = ratio.split_once(':').unwrap();
    paper_side.parse::<f64>().unwrap() / thing_side.parse::<f64>().unwrap()
}

fn cutter(name: &str) -> Cutter {
    cutters().into_iter().find(|(found, _)| *found == name).unwrap().1
}

fn marks<'a>(scene: &'a Scene, part: &str) -> Vec<&'a Mark> {
    let parts = scene.parts().iter().filter(|found| found.name == part);
    parts.flat_map(|part| &part.marks).collect()
}

fn strokes(scene: &Scene, part: &str, weight: Weight) -> Vec<BezPath> {
    let paths = marks(scene, part).into_iter().filter_map(|mark| match mark {
        Mark::Stroke { path, weight: found } if *found == weight => Some(path.clone()),
        _ => None,
    });
    paths.collect()
}

fn bounds(scene: &Scene, part: &str) -> Rect {
    let all = marks(scene, part).into_iter().map(Mark::bounds);
    all.reduce(|one, other| one.union(other)).unwrap()
}

#[test]
fn a_cutter_is_drawn_to_its_scale() {
    for (name, cutter) in cutters() {
        let scene = cutter_view(&cutter, System::Millimetre);
        let scale = factor(&scene, "scale");
        let outline = bounds(&scene, "outline");
        let ground = cutter.as_ground().map_or(cutter.diameter(), |ground| ground.diameter);
        let high = ground.max(cutter.shank_diameter());
        let has_shank = cutter.flute_length() < cutter.overall_length();
        let high = if has_shank { high } else { ground };
        assert!((outline.height() - high.mm() * scale).abs() < 0.01, "{name}");
        let is_broken = scene.parts().iter().any(|part| part.name == "break");
        let whole = cutter.overall_length().mm() * scale;
        assert!(is_broken || (outline.width() - whole).abs() < 0.01, "{name}");
        assert!(!is_broken || outline.width() < whole - 5.0, "{name}");
        let end = bounds(&scene, "end circle");
        assert!((end.width() - ground.mm() * factor(&scene, "end scale")).abs() < 0.02, "{name}");
    }
}

/// On the near side of a lying right-hand screw the thread falls to the right, by the helix angle
/// where it crosses the axis (own drawing rule: a right-hand thread held upright rises to the
/// right, and lies so after a quarter turn; common practice, no source).
#[test]
fn a_helix_runs_by_its_hand_and_angle() {
    for (name, cutter) in cutters() {
        if cutter.is_straight() {
            continue;
        }
        let scene = cutter_view(&cutter, System::Inch);
        let outline = bounds(&scene, "outline");
        let axis_y = outline.center().y;
        let is_square = cutter.end() == EndForm::Square;
        let round_mm = if is_square { 0.0 } else { 0.6 * outline.height() };
        let sign = if cutter.helix_hand() == Some(Hand::Left) { -1.0 } else { 1.0 };
        // The edge runs on the circle as ground, by the lead of the nominal one.
        let ground = cutter.as_ground().map_or(cutter.diameter(), |ground| ground.diameter);
        let slope = cutter.helix().tan() * (ground / cutter.diameter());
        let mut crossed = 0;
        for edge in strokes(&scene, "edges", Weight::Outline) {
            for piece in pieces(&edge) {
                let run = piece.p1 - piece.p0;
                let crosses = (piece.p0.y - axis_y) * (piece.p1.y - axis_y) < 0.0;
                // A rounded end bends the edges on it.
                let is_clear = piece.p0.x > outline.x0 + round_mm;
                if crosses && is_clear && run.x > 0.3 {
                    crossed += 1;
                    let found = run.y / run.x * sign;
                    assert!((found / slope - 1.0).abs() < 0.05, "{name}: {found} {slope}");
                }
            }
        }
        let is_short = cutter.flute_length() < cutter.diameter();
        assert!(crossed > 0 || is_short || cutter.teeth() < 4, "{name}");
    }
}

/// The number of edges that meet the end's outline is the number of teeth.
#[test]
fn all_teeth_are_in_the_end_view() {
    for (name, cutter) in cutters() {
        let scene = cutter_view(&cutter, System::Inch);
        let circle = bounds(&scene, "end circle");
        let radius = 0.5 * circle.width();
        let weights = [Weight::Outline, Weight::Thin];
        let outline = weights.iter().flat_map(|weight| strokes(&scene, "end", *weight)).next();
        let outline = outline.unwrap();
        let at_rim = |piece: &kurbo::Line| piece.p0.distance(circle.center()) > 0.9995 * radius;
        let edges = pieces(&outline).into_iter().filter(at_rim).count();
        assert_eq!(edges as u32, cutter.teeth(), "{name}");
    }
}

/// A right-hand cutter turns clockwise seen from its shank (common practice, no source), so
/// counterclockwise from its tip: metal lies clockwise of an edge there and the flute before it.
#[test]
fn teeth_lie_behind_their_edges_and_are_counted_that_way() {
    for (name, cutter) in cutters().iter().filter(|(_, cutter)| cutter.teeth() == 4) {
        let scene = cutter_view(cutter, System::Inch);
        let heelward = if cutter.hand() == Hand::Right { 1.0 } else { -1.0 };
        let circle = bounds(&scene, "end circle");
        let second = scene.words().find(|words| words.text == "2").unwrap().bounds().center();
        assert!((second.x - circle.center().x) * heelward > 0.5 * circle.width(), "{name}");
        let outline = strokes(&scene, "end", Weight::Outline).remove(0);
        let near_top = |clockwise_deg: f64| {
            let way = Vec2::from_angle((clockwise_deg - 90.0).to_radians());
            circle.center() + way * (0.45 * circle.width())
        };
        assert!(outline.contains(near_top(12.0 * heelward)), "{name}");
        assert!(!outline.contains(near_top(-12.0 * heelward)), "{name}");
    }
}

/// The chip of K-130 sits on tooth 4, 3/4 in from the end; tooth 1 has none.
#[test]
fn a_chip_is_marked_at_its_height_and_its_tooth() {
    let cutter = cutter("chipped two inch");
    let scene = cutter_view(&cutter, System::Inch);
    let chip = bounds(&scene, "wear from the side").center();
    let tip = bounds(&scene, "outline").x0;
    let from_end_mm = (chip.x - tip) / factor(&scene, "scale");
    assert!((from_end_mm - 19.05).abs() < 0.1, "{from_end_mm}");
    let in_end = bounds(&scene, "wear from the tip").center();
    let number = scene.words().find(|words| words.text == "4").unwrap().bounds().center();
    let others = ["1", "2", "3", "5", "6"].map(|text| {
        let words = scene.words().find(|words| words.text == text).unwrap();
        words.bounds().center().distance(in_end)
    });
    let own = number.distance(in_end);
    assert!(others.iter().all(|other| *other > 2.0 * own), "{own} {others:?}");
}

/// Marks of a life lie as far along the rule as their sizes do between its ends.
#[test]
fn a_life_is_true_to_its_sizes() {
    for (name, life) in lives() {
        let scene = life_scale(&life, System::Millimetre);
        let rule = marks(&scene, "rule")[0].bounds();
        let sizes: Vec<f64> = life.ground.iter().map(|one| one.diameter.mm()).collect();
        let all = [life.nominal.mm(), life.now.mm(), life.smallest.mm()];
        let largest = sizes.iter().chain(&all).copied().fold(0.0, f64::max);
        let least = sizes.iter().chain(&all).copied().fold(largest, f64::min);
        let x = |size: f64| rule.x0 + (largest - size) / (largest - least) * rule.width();
        let ticks = strokes(&scene, "past regrinds", Weight::Thin);
        assert_eq!(ticks.len(), sizes.len(), "{name}");
        for (tick, size) in ticks.iter().zip(&sizes) {
            assert!((Mark::bounds(&stroke(tick)).x0 - x(*size)).abs() < 1e-6, "{name}: {size}");
        }
        let pointer = filled(&scene, "now")[0].center().x;
        assert!((pointer - x(life.now.mm())).abs() < 1e-6, "{name}");
    }
}

fn stroke(path: &BezPath) -> Mark {
    Mark::Stroke { path: path.clone(), weight: Weight::Thin }
}

fn filled(scene: &Scene, part: &str) -> Vec<Rect> {
    let fills = marks(scene, part).into_iter();
    fills
        .filter(|mark| matches!(mark, Mark::Fill { paint: Paint::Black, .. }))
        .map(Mark::bounds)
        .collect()
}

/// Four regrinds to come fill the way from now to the smallest, one border after each.
#[test]
fn regrinds_to_come_are_hatched_from_now_on() {
    let life = lives().remove(0).1;
    let scene = life_scale(&life, System::Inch);
    let future = bounds(&scene, "future regrinds");
    let rule = marks(&scene, "rule")[0].bounds();
    assert!((future.x0 - filled(&scene, "now")[0].center().x).abs() < 1e-6);
    assert!((future.x1 - rule.x1).abs() < 1e-6);
    let upright = |path: &BezPath| {
        let bounds = Mark::bounds(&stroke(path));
        bounds.width() < 1e-9 && (bounds.height() - rule.height()).abs() < 1e-9
    };
    let borders = strokes(&scene, "future regrinds", Weight::Thin);
    assert_eq!(borders.iter().filter(|path| upright(path)).count(), 4);
}

/// Half past seven lies half way between the lines of seven and eight, and the bar runs from
/// grinding to handing back.
#[test]
fn a_day_is_true_to_its_hours() {
    let day = days().remove(0).1;
    let scene = day_view(&day);
    let hour = |text: &str| {
        let hours = marks(&scene, "hours").into_iter();
        let mut found = hours.filter_map(|mark| match mark {
            Mark::Text(words) if words.text == text => Some(words.bounds().center().x),
            _ => None,
        });
        found.next().unwrap()
    };
    let at = |hours: f64| hour("7") + (hours - 7.0) * (hour("8") - hour("7"));
    let mut first = marks(&scene, "steps").into_iter().filter_map(|mark| match mark {
        Mark::Stroke { weight: Weight::Outline, .. } => Some(mark.bounds().center().x),
        _ => None,
    });
    assert!((first.next().unwrap() - at(7.5)).abs() < 1e-6);
    let bar = marks(&scene, "in hand").into_iter().take(2).map(Mark::bounds);
    let bar = bar.reduce(|one, other| one.union(other)).unwrap();
    assert!((bar.x0 - at(8.0 + 40.0 / 60.0)).abs() < 1e-6, "{bar:?}");
    assert!((bar.x1 - at(10.25)).abs() < 1e-6, "{bar:?}");
}

/// The mark that is drawn heavy stands under the index, and the figures beside it are those of the
/// reading, left and right of the top.
#[test]
fn the_wanted_mark_stands_under_the_index() {
    for (name, mark, motion) in dials() {
        let scene = dial_view(&mark, &motion);
        let index = bounds(&scene, "index").center().x;
        let heavy = strokes(&scene, "wanted mark", Weight::Outline);
        let is_between = ["vernier", "halves", "minutes"].contains(&name);
        assert_eq!(heavy.len(), usize::from(!is_between), "{name}");
        for path in heavy {
            assert!((Mark::bounds(&stroke(&path)).center().x - index).abs() < 1e-6, "{name}");
        }
    }
    let scene = dial_view(&dials()[0].1, &dials()[0].2);
    // Of 12.34 mm on a dial of 4 mm a turn, 0.34 mm stand under the index: 0.4 lies 3 marks of
    // 200 to its right. Own arithmetic.
    let ring = marks(&scene, "ring")[0].bounds();
    let figure = scene.words().find(|words| words.text == "0.4").unwrap();
    let way = figure.bounds().center() - ring.center();
    let turned = way.x.atan2(-way.y) / std::f64::consts::TAU * 200.0;
    assert!((turned - 3.0).abs() < 0.3, "{turned}");
    assert_eq!(strokes(&scene, "graduations", Weight::Thin).len(), 200);
}

/// A hand sets what it reads: a reading that is rounded to a mark stands at that mark.
#[test]
fn a_reading_is_drawn_at_the_mark_that_is_read() {
    let (_, mark, motion) = dials().remove(0);
    for reading_mm in [12.3437, 12.3363] {
        let reading = Quantity::Length(Length::from_mm(reading_mm));
        let scene = dial_view(&DialMark { reading, ..mark.clone() }, &motion);
        let says = |what: &str| scene.words().any(|words| words.text.contains(what));
        assert!(says("mark 0.34") && !says("past mark"), "{reading_mm}");
    }
}

#[test]
fn a_wheel_is_drawn_to_its_scale() {
    for (name, wheel) in wheels() {
        let scene = wheel_view(&wheel, System::Inch);
        let scale = factor(&scene, "scale");
        let section = bounds(&scene, "section");
        let all = section.union(bounds(&scene, "outside"));
        assert!((all.height() - wheel.diameter().mm() * scale).abs() < 0.01, "{name}");
        assert!((all.width() - wheel.depth().mm() * scale).abs() < 0.01, "{name}");
        let wall = 0.5 * (wheel.diameter() - wheel.bore()).mm() * scale;
        assert!((section.height() - wall).abs() < 0.01, "{name}");
    }
}

/// No border of a section crosses another of its borders.
#[test]
fn sections_of_wheels_are_simple() {
    for (name, wheel) in wheels() {
        let scene = wheel_view(&wheel, System::Inch);
        let outline = strokes(&scene, "section", Weight::Outline).remove(0);
        let lines = pieces(&outline);
        for (index, one) in lines.iter().enumerate() {
            for other in lines.iter().skip(index + 2) {
                assert!(!cross(one, other), "{name}: {one:?} {other:?}");
            }
        }
    }
}

/// Whether two lines cross well within both.
fn cross(one: &kurbo::Line, other: &kurbo::Line) -> bool {
    let side = |line: &kurbo::Line, point: Point| (line.p1 - line.p0).cross(point - line.p0);
    let apart = |line: &kurbo::Line, other: &kurbo::Line| {
        side(line, other.p0) * side(line, other.p1) < -1e-9
    };
    apart(one, other) && apart(other, one)
}

//! Drawings measured with a ruler: what they show must be what the plan computed.

use crate::paper;
use crate::plans::{Case, cases};
use geometry::{Angle, Length, System};
use kurbo::{Point, Shape};
use sheets::drawing::{drop_run, end_view, tooth_section};
use sheets::scene::{Hatching, Mark, Scene};
use shop::plan::Peripheral;

fn case(name: &str) -> &'static Case {
    cases().iter().find(|case| case.name == name).unwrap()
}

fn peripheral(case: &Case) -> &Peripheral {
    case.plan.peripheral.as_ref().unwrap()
}

fn strokes(scene: &Scene, part: &str) -> Vec<kurbo::BezPath> {
    let parts = scene.parts().iter().filter(|found| found.name == part);
    let marks = parts.flat_map(|part| &part.marks);
    let paths = marks.filter_map(|mark| match mark {
        Mark::Stroke { path, .. } => Some(path.clone()),
        _ => None,
    });
    paths.collect()
}

/// Millimetres of paper to a millimetre of the thing, as the drawing states it.
fn factor(scene: &Scene) -> f64 {
    let text = paper::texts(scene, "scale").remove(0);
    let (paper_side, thing_side) = text.trim_start_matches("scale ").split_once(':').unwrap();
    paper_side.parse::<f64>().unwrap() / thing_side.parse::<f64>().unwrap()
}

/// Area between the tooth as it came and as the primary leaves it, in square millimetres: half the
/// integral of the squared radii behind the edge, and the corner before it.
fn stock_area(peripheral: &Peripheral) -> f64 {
    let (before, section) = (&peripheral.outline_before, &peripheral.section);
    let heel_rad = before.heel().heelward.radians();
    let steps = 20_000;
    let step_rad = heel_rad / f64::from(steps);
    let slice = |step: u32| {
        let at = Angle::from_radians((f64::from(step) + 0.5) * step_rad);
        let outer = before.radius_at(at).unwrap().mm();
        let inner = section.radius_at(at).map_or(outer, Length::mm).min(outer);
        0.5 * (outer * outer - inner * inner) * step_rad
    };
    let behind: f64 = (0..steps).map(slice).sum();
    let plane = |radius: f64, at: f64| Point::new(radius * at.sin(), radius * at.cos());
    let first = before.points()[0];
    let old = plane(first.radius.mm(), first.heelward.radians());
    let above = plane(before.radius_at(Angle::ZERO).unwrap().mm(), 0.0);
    let edge = plane(section.circle_radius().mm(), 0.0);
    behind + 0.5 * (above - edge).cross(old - edge).abs()
}

/// The hatching of the stock covers the stock: the sum of its lines' lengths times their spacing
/// is a Riemann sum of the area. Because the lines are 1.1 mm apart it is good to a few per cent.
#[test]
fn the_hatched_area_is_the_stock() {
    let mut checked = 0;
    for case in cases() {
        let (peripheral, scene) = (peripheral(case), tooth_section(&case.plan, System::Inch));
        let scene = scene.unwrap();
        let heel = peripheral.outline_before.heel().heelward / Angle::from_radians(1.0);
        let back = peripheral.section.circle_radius() * heel;
        if back > peripheral.expected.land * 7.0 {
            continue;
        }
        let hatched = strokes(&scene, "stock of the primary").remove(0);
        let lines = paper::pieces(&hatched);
        let length: f64 = lines.iter().map(|line| (line.p1 - line.p0).hypot()).sum();
        let drawn = length * Hatching::RISING.spacing_mm;
        let computed = stock_area(peripheral) * factor(&scene).powi(2);
        let miss = (drawn / computed - 1.0).abs();
        assert!(miss < 0.08, "{}: {drawn} against {computed}", case.name);
        checked += 1;
    }
    assert!(checked >= 3, "only {checked} drawings show the whole back");
}

#[test]
fn the_dimension_of_the_land_is_the_land() {
    for name in ["half inch", "two inch", "left hand", "eccentric"] {
        let case = case(name);
        let scene = tooth_section(&case.plan, System::Inch).unwrap();
        let line = strokes(&scene, "land").remove(2);
        let piece = paper::pieces(&line).remove(0);
        let drawn = (piece.p1 - piece.p0).hypot() / factor(&scene);
        let computed = peripheral(case).secondary.land_after.unwrap().mm();
        assert!((drawn - computed).abs() < 0.002, "{name}: {drawn} {computed}");
    }
}

/// The tooth's back in the section, measured from the axis, is no less than what is left.
#[test]
fn the_finished_outline_lies_on_the_ground_surface() {
    for case in cases() {
        let scene = tooth_section(&case.plan, System::Inch).unwrap();
        let peripheral = peripheral(case);
        let radius = peripheral.section.circle_radius().mm();
        let scale = factor(&scene);
        let outline = strokes(&scene, "tooth as it will be").remove(1);
        let edge = outline.elements()[0].end_point().unwrap();
        let axis = Point::new(edge.x, edge.y + radius * scale);
        for element in &outline.elements()[1..] {
            let way = axis - element.end_point().unwrap();
            let at = Angle::from_radians(way.x.atan2(way.y));
            let drawn = way.hypot() / scale;
            let (primary, secondary) = (&peripheral.section, &peripheral.secondary.section);
            let ground = [primary, secondary].map(|section| section.radius_at(at));
            let before = peripheral.outline_before.radius_at(at);
            let left = ground.into_iter().chain([before]).flatten().map(Length::mm);
            let left = left.fold(f64::INFINITY, f64::min);
            // Close to the heel the outline of before may end a hair sooner than the drawing's.
            assert!((drawn - left).abs() < 1e-3, "{}: {drawn} {left}", case.name);
        }
    }
}

/// Every edge stands on the drawn circle, and the edge on the rest as far below centre as said.
#[test]
fn the_end_view_is_true() {
    for case in cases() {
        let scene = end_view(&case.plan, System::Inch).unwrap();
        let peripheral = peripheral(case);
        let scale = factor(&scene);
        let circle = strokes(&scene, "cutting circle").remove(0).bounding_box();
        let radius = peripheral.section.circle_radius().mm() * scale;
        assert!((circle.width() - 2.0 * radius).abs() < 0.05, "{}", case.name);
        let cutter = strokes(&scene, "cutter").remove(0);
        let points: Vec<Point> = cutter.elements().iter().filter_map(|e| e.end_point()).collect();
        let on_circle = |point: &&Point| (point.distance(circle.center()) - radius).abs() < 0.02;
        let edges: Vec<&Point> = points.iter().filter(on_circle).collect();
        let teeth = peripheral.stanced.setup.flutes().teeth;
        let setting = peripheral.stanced.stance().relief_setting;
        for tooth in 0..teeth {
            let turn =
                setting.radians() - f64::from(tooth) * std::f64::consts::TAU / f64::from(teeth);
            let place = circle.center() + kurbo::Vec2::from_angle(turn) * radius;
            let found = edges.iter().any(|edge| edge.distance(place) < 0.05);
            assert!(found, "{}: no edge {tooth}", case.name);
        }
    }
}

/// The leading corner is the one nearest the cutter, and the face runs from it the way it says.
#[test]
fn the_plan_leans_the_right_way() {
    for case in cases() {
        let scene = end_view(&case.plan, System::Inch).unwrap();
        let stance = peripheral(case).stanced.stance();
        let wheel = strokes(&scene, "plan of the wheel").remove(0);
        let corner = |index: usize| wheel.elements()[index].end_point().unwrap();
        let (leading, trailing) = (corner(1), corner(2));
        let leans = stance.lean.degrees() > 0.0;
        // The cutter lies below the wheel on paper, so the nearer corner is the lower one.
        assert_eq!(leading.y > trailing.y + 0.1, leans, "{}", case.name);
        let x = |name: &str| {
            scene.words().find(|words| words.text == name).unwrap().bounds().center().x
        };
        let to_tip = (x("tip") - x("shank")).signum() * stance.face_toward.sign();
        assert!((trailing.x - leading.x) * to_tip > 0.0, "{}", case.name);
    }
}

/// Reads a graph's own ticks, to turn paper back into lengths.
struct Ruler {
    zero: Point,
    thou_per_mm: (f64, f64),
}

impl Ruler {
    fn of(scene: &Scene) -> Self {
        let part = scene.parts().iter().find(|part| part.name == "axes").unwrap();
        let figures = part.marks.windows(2).filter_map(|pair| match pair {
            [Mark::Stroke { path, .. }, Mark::Text(words)] => {
                let start = path.elements()[0].end_point()?;
                Some((start, words.text.parse::<f64>().ok()?))
            }
            _ => None,
        });
        let figures: Vec<(Point, f64)> = figures.collect();
        let zero = figures[0].0;
        let (mut right, mut down) = ((0.0, 1.0), (0.0, 1.0));
        for (at, value) in figures {
            if at.x > zero.x + 1.0 {
                right = (value, at.x - zero.x);
            } else if at.y > zero.y + 1.0 {
                down = (value, at.y - zero.y);
            }
        }
        Self { zero, thou_per_mm: (right.0 / right.1, down.0 / down.1) }
    }

    fn read(&self, at: Point) -> (Length, Length) {
        let (right, down) = (at.x - self.zero.x, at.y - self.zero.y);
        let thou = Length::from_thou;
        (thou(right * self.thou_per_mm.0), thou(down * self.thou_per_mm.1))
    }
}

/// On a straight tooth a cup leaves a plane, so the run must be R − R cos a / cos(c/R − a), the
/// polar equation of a line (own derivation). Because a point of the curve may lie 0.02 mm of
/// paper off, and that is about 1 µm here, it is checked to 2 µm.
#[test]
fn the_run_of_a_plane_is_a_plane() {
    let case = case("straight, flat");
    let peripheral = peripheral(case);
    let scene = drop_run(&case.plan, System::Inch).unwrap();
    let ruler = Ruler::of(&scene);
    let relief = peripheral.stanced.edge_relief.radians();
    let radius = peripheral.section.circle_radius().mm();
    let curve = strokes(&scene, "drop of the primary").remove(0);
    assert!(curve.elements().len() > 5);
    for element in curve.elements() {
        let (distance, drop) = ruler.read(element.end_point().unwrap());
        let plane = radius - radius * relief.cos() / (distance.mm() / radius - relief).cos();
        assert!((drop.mm() - plane).abs() < 0.002, "{} {plane}", drop.mm());
    }
}

#[test]
fn the_stated_drop_is_marked_where_it_is() {
    for case in cases() {
        let scene = drop_run(&case.plan, System::Inch).unwrap();
        let ruler = Ruler::of(&scene);
        let stated = *peripheral(case).expected.drops.last().unwrap();
        let line = strokes(&scene, "stated drop").remove(0);
        let (distance, drop) = ruler.read(line.elements()[1].end_point().unwrap());
        assert!((distance - stated.distance).abs().mm() < 1e-6, "{}", case.name);
        assert!((drop - stated.drop).abs().mm() < 1e-6, "{}", case.name);
    }
}

/// The end of the land is marked where the secondary crosses the primary: both surfaces drop the
/// same there. Because what lies less than 0.1 µm lower counts as level, to 0.2 µm.
#[test]
fn the_land_ends_where_the_surfaces_cross() {
    for case in cases() {
        let scene = drop_run(&case.plan, System::Inch).unwrap();
        let ruler = Ruler::of(&scene);
        let line = strokes(&scene, "end of the land").remove(0);
        let (distance, drop) = ruler.read(line.elements()[1].end_point().unwrap());
        let peripheral = peripheral(case);
        let radius = peripheral.section.circle_radius();
        let at = Angle::from_radians(distance / radius);
        for section in [&peripheral.section, &peripheral.secondary.section] {
            let left = radius - section.radius_at(at).unwrap();
            assert!((left - drop).abs().mm() < 2e-4, "{}: {left:?} {drop:?}", case.name);
        }
    }
}

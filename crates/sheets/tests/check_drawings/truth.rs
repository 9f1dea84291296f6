//! Drawings measured with a ruler: what they show must be what was read and what the check found.

use std::f64::consts::{FRAC_PI_2, PI, TAU};

use geometry::{Length, System};
use kurbo::{BezPath, Point, Shape};
use sheets::drawing::{before_after, land_ring, residuals};
use sheets::scene::{Mark, Part, Scene, Weight};
use shop::check::{Check, Fault, Observed, ReadingKind};
use shop::record::{Hand, LandStage};

use crate::cases::{Case, case, cases};
use crate::paper::texts;

fn peripheral(check: &Check) -> &shop::plan::Peripheral {
    check.request.plan.peripheral.as_ref().unwrap()
}

fn parts<'a>(scene: &'a Scene, name: &'static str) -> Vec<&'a Part> {
    scene.parts().iter().filter(|part| part.name == name).collect()
}

fn strokes(part: &Part) -> Vec<&BezPath> {
    let mut paths = Vec::new();
    for mark in &part.marks {
        if let Mark::Stroke { path, .. } = mark {
            paths.push(path);
        }
    }
    paths
}

fn fills(part: &Part) -> Vec<&BezPath> {
    let mut paths = Vec::new();
    for mark in &part.marks {
        if let Mark::Fill { path, .. } = mark {
            paths.push(path);
        }
    }
    paths
}

fn points(path: &BezPath) -> Vec<Point> {
    path.elements().iter().filter_map(|element| element.end_point()).collect()
}

/// The middles of all rings, in order.
fn centres(scene: &Scene) -> Vec<Point> {
    parts(scene, "centre").iter().map(|part| part.marks[0].bounds().center()).collect()
}

/// Millimetres of paper to a millimetre of the thing, as a drawing states it by a name.
fn factor(scene: &Scene, name: &str) -> f64 {
    let all = texts(scene, "scale");
    let stated = all.iter().find(|text| text.starts_with(name)).unwrap();
    let (paper_side, thing_side) = stated.rsplit_once(' ').unwrap().1.split_once(':').unwrap();
    paper_side.parse::<f64>().unwrap() / thing_side.parse::<f64>().unwrap()
}

/// The smallest turn from one direction to another.
fn turn(from_rad: f64, to_rad: f64) -> f64 {
    (to_rad - from_rad + PI).rem_euclid(TAU) - PI
}

/// Where an edge stands on paper, from the record alone: a tooth's share of the turn, and the turn
/// of a helix whose lead is π D / tan H. Seen from its tip a right-hand cutter turns against the
/// clock, so that its heels, and with them the shank end of a right-hand helix, lie clockwise.
fn edge_rad(case: &Case, tooth: u32, from_end: Length) -> f64 {
    let cutter = &case.check.request.plan.request.cutter;
    let lead_mm = PI * cutter.diameter().mm() / cutter.helix().tan();
    let agrees = if cutter.helix_hand() == Some(cutter.hand()) { 1.0 } else { -1.0 };
    let helix_rad = if cutter.is_straight() { 0.0 } else { agrees * TAU * from_end.mm() / lead_mm };
    let numbers = if case.name.contains("the other way") { -1.0 } else { 1.0 };
    let tooth_rad = numbers * TAU * f64::from(tooth - 1) / f64::from(cutter.teeth());
    let clockwise = if cutter.hand() == Hand::Right { 1.0 } else { -1.0 };
    clockwise * (tooth_rad + helix_rad) - FRAC_PI_2
}

/// The lands at one place, with their places among the observed.
type LandRing<'a> = (LandStage, Length, Vec<(usize, &'a Observed)>);

/// The lands of a check in the order of the rings: by stage, then by place.
fn rings(check: &Check) -> Vec<LandRing<'_>> {
    let mut rings: Vec<LandRing<'_>> = Vec::new();
    for (at, one) in check.observed.iter().enumerate() {
        let ReadingKind::Land(stage) = one.kind else { continue };
        let from_end = one.from_end.unwrap();
        match rings.iter_mut().find(|ring| (ring.0, ring.1) == (stage, from_end)) {
            Some(ring) => ring.2.push((at, one)),
            None => rings.push((stage, from_end, vec![(at, one)])),
        }
    }
    rings.sort_by(|a, b| a.0.cmp(&b.0).then(a.1.mm().total_cmp(&b.1.mm())));
    rings
}

fn is_aside(check: &Check, at: usize) -> bool {
    check.set_aside.iter().any(|aside| aside.reading == at)
}

fn with_lands() -> impl Iterator<Item = &'static Case> {
    cases().iter().filter(|case| !rings(&case.check).is_empty())
}

#[test]
fn every_land_lies_at_its_tooth_and_is_to_scale() {
    for case in with_lands() {
        let scene = land_ring(&case.check, System::Millimetre).unwrap();
        let (rings, centres) = (rings(&case.check), centres(&scene));
        let scale = factor(&scene, "lands");
        let (edges, bands) = (parts(&scene, "edges"), parts(&scene, "measured lands"));
        let circles = parts(&scene, "cutting circle");
        assert_eq!((rings.len(), rings.len()), (centres.len(), edges.len()), "{}", case.name);
        for (index, (_, from_end, lands)) in rings.iter().enumerate() {
            let centre = centres[index];
            let circle_mm = 0.5 * circles[index].marks[0].bounds().width();
            let drawn = strokes(edges[index]);
            assert_eq!(drawn.len(), case.check.request.plan.request.cutter.teeth() as usize);
            for (tooth, path) in (1..).zip(drawn) {
                let at = (points(path)[1] - centre).atan2();
                let off = turn(edge_rad(case, tooth, *from_end), at);
                assert!(off.abs() < 1e-6, "{} tooth {tooth}: {off}", case.name);
            }
            let kept: Vec<_> = lands.iter().filter(|(at, _)| !is_aside(&case.check, *at)).collect();
            let drawn = fills(bands[index]);
            assert_eq!(drawn.len(), kept.len(), "{}", case.name);
            for ((_, one), band) in kept.into_iter().zip(drawn) {
                let outer = points(band);
                let ends = [outer[0], outer[outer.len() / 2 - 1]].map(|p| (p - centre).atan2());
                let edge = edge_rad(case, one.tooth.unwrap(), *from_end);
                assert!(turn(edge, ends[0]).abs() < 1e-6, "{}", case.name);
                let width_mm = turn(ends[0], ends[1]).abs() * circle_mm / scale;
                assert!((width_mm - one.measured.mm()).abs() < 1e-6, "{} {width_mm}", case.name);
            }
        }
    }
}

/// Lands lie heelward of their edges: with the hands of a clock on a right-hand cutter.
#[test]
fn lands_lie_behind_their_edges() {
    for case in with_lands() {
        let scene = land_ring(&case.check, System::Inch).unwrap();
        let is_right = case.check.request.plan.request.cutter.hand() == Hand::Right;
        for (part, centre) in parts(&scene, "measured lands").iter().zip(centres(&scene)) {
            for band in fills(part) {
                let outer = points(band);
                let ends = [outer[0], outer[outer.len() / 2 - 1]].map(|p| (p - centre).atan2());
                assert_eq!(turn(ends[0], ends[1]) > 0.0, is_right, "{}", case.name);
            }
        }
    }
}

#[test]
fn differences_are_magnified_as_stated() {
    for case in with_lands() {
        let scene = land_ring(&case.check, System::Inch).unwrap();
        let scale = factor(&scene, "differences");
        let (circles, bars) = (parts(&scene, "no difference"), parts(&scene, "differences"));
        let doubts = parts(&scene, "doubt of a reading");
        for (index, (_, from_end, lands)) in rings(&case.check).iter().enumerate() {
            let (centre, zero) = (centres(&scene)[index], circles[index].marks[0].bounds());
            let zero_mm = 0.5 * zero.width();
            let kept: Vec<_> = lands.iter().filter(|(at, _)| !is_aside(&case.check, *at)).collect();
            let drawn = fills(bars[index]);
            assert_eq!(drawn.len(), kept.len(), "{}", case.name);
            for ((_, one), bar) in kept.into_iter().zip(drawn) {
                let corners = points(bar);
                let end = corners[1].midpoint(corners[2]) - centre;
                let off_mm = (end.hypot() - zero_mm) / scale;
                let off = one.measured - one.expected;
                assert!((off_mm - off.mm()).abs() < 1e-6, "{}: {off_mm} {off:?}", case.name);
                let edge = edge_rad(case, one.tooth.unwrap(), *from_end);
                assert!(turn(edge, end.atan2()).abs() < 1e-6, "{}", case.name);
            }
            let twice_mm = 2.0 * lands[0].1.deviation.mm() * case.check.noise_factor;
            let outer_mm = 0.5 * doubts[index].marks[1].bounds().width();
            assert!(((outer_mm - zero_mm) / scale - twice_mm).abs() < 1e-4, "{}", case.name);
        }
    }
}

#[test]
fn every_figure_stands_by_its_tooth() {
    for case in with_lands() {
        for (system, unit_mm, decimals) in [(System::Inch, 25.4, 4), (System::Millimetre, 1.0, 3)] {
            let scene = land_ring(&case.check, system).unwrap();
            for (labels, (_, _, lands)) in parts(&scene, "labels").iter().zip(rings(&case.check)) {
                let said: Vec<&str> = labels
                    .marks
                    .iter()
                    .filter_map(|mark| match mark {
                        Mark::Text(words) => Some(words.text.as_str()),
                        _ => None,
                    })
                    .collect();
                for (at, one) in lands {
                    let tooth = format!("tooth {}", one.tooth.unwrap());
                    let first = said.iter().position(|text| *text == tooth).unwrap();
                    let shown: f64 = said[first + 1].parse().unwrap();
                    let half = 0.5 * 10.0_f64.powi(-decimals) * 1.000_001;
                    assert!((shown - one.measured.mm() / unit_mm).abs() <= half, "{}", case.name);
                    let aside = said[first + 2] == "set aside";
                    assert_eq!(aside, is_aside(&case.check, at), "{} {tooth}", case.name);
                    if !aside {
                        let off: f64 = said[first + 2].parse().unwrap();
                        let exact = (one.measured - one.expected).mm() / unit_mm;
                        assert!((off - exact).abs() <= half, "{} {tooth}", case.name);
                    }
                }
            }
        }
    }
}

#[test]
fn a_reading_set_aside_is_crossed_and_named() {
    let case = case("six straight, one bad");
    assert_eq!(case.check.set_aside.len(), 1);
    for system in [System::Inch, System::Millimetre] {
        let lands = land_ring(&case.check, system).unwrap();
        let crosses: usize = parts(&lands, "set aside").iter().map(|p| strokes(p).len()).sum();
        assert_eq!(crosses, 2);
        let notes = texts(&lands, "notes");
        assert!(notes.iter().any(|note| note.starts_with("Set aside: tooth 3 at")), "{notes:?}");
        let left = residuals(&case.check, system).unwrap();
        let notes = texts(&left, "notes");
        assert!(notes[0].starts_with("Set aside: land of tooth 3"), "{notes:?}");
    }
}

#[test]
fn what_was_not_read_is_said() {
    let case = case("four, half empty");
    let scene = land_ring(&case.check, System::Inch).unwrap();
    let labels = texts(&scene, "labels");
    let missing = labels.iter().filter(|text| *text == "not read").count();
    assert_eq!(missing, 8 - case.check.observed.len());
    assert!(missing > 0);
}

/// The zero line of each strip and the paper of one deviation, from the lines' own figures.
fn ruled(part: &Part) -> (f64, f64) {
    let pairs = part.marks.windows(2).filter_map(|pair| match pair {
        [Mark::Stroke { path, .. }, Mark::Text(words)] => {
            Some((words.text.parse::<f64>().ok()?, path.bounding_box().y0))
        }
        _ => None,
    });
    let lines: Vec<(f64, f64)> = pairs.collect();
    let at = |value: f64| lines.iter().find(|line| line.0 == value).unwrap().1;
    assert!((at(0.0) - at(3.0) - 1.5 * (at(0.0) - at(2.0))).abs() < 1e-9);
    (at(0.0), 0.5 * (at(0.0) - at(2.0)))
}

#[test]
fn residuals_are_measured_less_fitted_in_deviations() {
    for case in cases().iter().filter(|case| !case.check.observed.is_empty()) {
        let check = &case.check;
        let scene = residuals(check, System::Millimetre).unwrap();
        let mut drawn = Vec::new();
        let mut ruler = (0.0, 1.0);
        for part in scene.parts() {
            if part.name == "lines" {
                ruler = ruled(part);
            }
            if part.name == "readings" {
                let stems = part.marks.iter().filter_map(|mark| match mark {
                    Mark::Stroke { path, weight: Weight::Thin } => Some(points(path)[1]),
                    _ => None,
                });
                drawn.extend(stems.map(|end| (ruler.0 - end.y) / ruler.1));
            }
        }
        assert_eq!(drawn.len(), check.observed.len(), "{}", case.name);
        let mut left: Vec<f64> = check
            .observed
            .iter()
            .zip(&check.fitted)
            .map(|(one, fitted)| (one.measured - *fitted).mm() / one.deviation.mm())
            .map(|off| (off / check.noise_factor).clamp(-3.5, 3.5))
            .collect();
        drawn.sort_by(f64::total_cmp);
        left.sort_by(f64::total_cmp);
        for (one, other) in drawn.iter().zip(&left) {
            assert!((one - other).abs() < 1e-6, "{}: {one} {other}", case.name);
        }
    }
}

#[test]
fn residuals_are_grouped_by_kind() {
    let scene = residuals(&case("eight, everything").check, System::Inch).unwrap();
    let mut kinds = texts(&scene, "kinds");
    kinds.dedup();
    let order = ["lands after the primary", "lands after the secondary", "diameters"];
    let order = order.into_iter().chain(["indicator, by the shank", "runout", "drops"]);
    assert_eq!(kinds, order.collect::<Vec<_>>());
}

/// The stands of the edges of each ring of a drawing, in mm, by tooth.
fn drawn_stands(scene: &Scene) -> Vec<Vec<f64>> {
    let scale = factor(scene, "stands");
    let rings = parts(scene, "edges").into_iter().zip(parts(scene, "planned circle"));
    let of = |(centre, (edges, circle)): (Point, (&Part, &Part))| {
        let radius_mm = 0.5 * circle.marks[0].bounds().width();
        let stand = |path: &&BezPath| {
            let middle = path.bounding_box().center();
            (middle.distance(centre) - radius_mm) / scale
        };
        strokes(edges).iter().map(stand).collect()
    };
    centres(scene).into_iter().zip(rings).map(of).collect()
}

#[test]
fn edges_stand_where_they_were_found() {
    let shown = |case: &&Case| before_after(&case.check, System::Inch).is_some();
    for case in cases().iter().filter(shown) {
        let scene = before_after(&case.check, System::Inch).unwrap();
        let drawn = drawn_stands(&scene);
        let each = if scene.title().contains("after") { 2 } else { 1 };
        assert_eq!(drawn.len(), 2 * each, "{}", case.name);
        for (index, found) in case.check.edges.stands.iter().enumerate() {
            assert_eq!(drawn[each * index].len(), found.len(), "{}", case.name);
            for (stand, figure) in drawn[each * index].iter().zip(found) {
                assert!((stand - figure.value).abs() < 2e-5, "{}: {stand} {figure:?}", case.name);
            }
        }
    }
}

/// The diameter that a corrected ring states, in mm.
fn diameters_mm(scene: &Scene) -> Vec<f64> {
    let titles = texts(scene, "title");
    let stated = titles.iter().filter_map(|text| text.strip_prefix("diameter "));
    stated.map(|text| text.split_once(' ').unwrap().0.parse().unwrap()).collect()
}

/// When all that was found is corrected, every edge stands at the lowest that was found.
#[test]
fn corrected_edges_stand_alike_at_the_lowest() {
    let names = ["four, runout", "four, numbered the other way", "two, taper", "three, slip"];
    let more = ["six straight, one bad", "eight, drift", "left hand, runout and taper"];
    for name in names.into_iter().chain(more) {
        let check = &case(name).check;
        let scene = before_after(check, System::Millimetre).unwrap();
        let drawn = drawn_stands(&scene);
        let found = check.edges.stands.iter().flatten().map(|figure| figure.value);
        let lowest = found.fold(f64::INFINITY, f64::min);
        for stand in drawn[1].iter().chain(&drawn[3]) {
            assert!((stand - lowest).abs() < 2e-5, "{name}: {stand} {lowest}");
        }
        let radius = peripheral(check).section.circle_radius().mm();
        for diameter in diameters_mm(&scene) {
            assert!((diameter - 2.0 * (radius + lowest)).abs() <= 0.0005, "{name}: {diameter}");
        }
    }
}

/// What is left as it is keeps its shape: after the corrections every edge of both ends stands off
/// that shape, worked out here anew, by one and the same amount.
#[test]
fn what_is_kept_keeps_its_shape() {
    for (name, kept) in [("four, kept runout", Fault::Runout), ("eight, kept drift", Fault::Drift)]
    {
        let case = case(name);
        let check = &case.check;
        let scene = before_after(check, System::Millimetre).unwrap();
        let left = format!("Left as it is: {} (good enough).", kept.name());
        assert!(texts(&scene, "notes").contains(&left), "{name}: {:?}", check.corrections);
        let finding = check.findings.iter().find(|finding| finding.fault == kept).unwrap();
        let order = &peripheral(check).grinding.second_round;
        let shape = |tooth: u32, from_end: Length| match finding.offset {
            Some(offset) => {
                let along = from_end / *check.edges.places.last().unwrap();
                let first = offset.toward_first.value + along * offset.growth_toward_first.value;
                let heelward = offset.heelward.value + along * offset.growth_heelward.value;
                let (sin, cos) = (edge_rad(case, tooth, from_end) + FRAC_PI_2).sin_cos();
                first * cos + heelward * sin
            }
            None => {
                let place = order.iter().position(|one| *one == tooth).unwrap() as f64;
                finding.size.value * place / (order.len() - 1) as f64
            }
        };
        let drawn = drawn_stands(&scene);
        let mut off = Vec::new();
        for (ring, place) in [&drawn[1], &drawn[3]].into_iter().zip(&check.edges.places) {
            off.extend((1..).zip(ring).map(|(tooth, stand)| stand - shape(tooth, *place)));
        }
        assert!(off.iter().all(|one| (one - off[0]).abs() < 4e-5), "{name}: {off:?}");
    }
}

/// A cutter that is to be ground to a size is fed down to it.
#[test]
fn a_feed_brings_the_edges_to_the_planned_circle() {
    let check = &case("four, over size").check;
    let scene = before_after(check, System::Millimetre).unwrap();
    let drawn = drawn_stands(&scene);
    assert!(drawn[0].iter().chain(&drawn[2]).all(|stand| (stand - 0.012).abs() < 0.002));
    assert!(drawn[1].iter().chain(&drawn[3]).all(|stand| stand.abs() < 2e-5), "{drawn:?}");
    let planned = 2.0 * peripheral(check).section.circle_radius().mm();
    let stated = diameters_mm(&scene);
    assert!(stated.iter().all(|diameter| (diameter - planned).abs() <= 0.0005), "{stated:?}");
}

/// A taper that is good enough stays: the shank end comes out larger by twice its size.
#[test]
fn what_is_good_enough_is_left() {
    let check = &case("eight, everything").check;
    let scene = before_after(check, System::Millimetre).unwrap();
    let taper = check.findings.iter().find(|finding| finding.fault == Fault::Taper).unwrap();
    let stated = diameters_mm(&scene);
    let grown = stated[1] - stated[0];
    assert!((grown - 2.0 * taper.size.value).abs() < 0.0011, "{grown} {:?}", taper.size);
    let notes = texts(&scene, "notes");
    assert!(notes.iter().any(|note| note == "Left as it is: taper (good enough)."), "{notes:?}");
    // No edge can grow.
    let drawn = drawn_stands(&scene);
    for (found, after) in [(0, 1), (2, 3)] {
        for (found, after) in drawn[found].iter().zip(&drawn[after]) {
            assert!(*after <= found + 2e-5, "{found} {after}");
        }
    }
}

#[test]
fn bands_are_drawn_as_wide_as_they_are() {
    let check = &case("four, runout").check;
    let scene = before_after(check, System::Inch).unwrap();
    let scale = factor(&scene, "stands");
    let bands = parts(&scene, "bands");
    for (index, found) in check.edges.stands.iter().enumerate() {
        // A band and its two caps for each tooth; none on what is to come.
        let lines = strokes(bands[2 * index]);
        assert_eq!(lines.len(), 3 * found.len());
        assert!(strokes(bands[2 * index + 1]).is_empty());
        for (line, figure) in lines.iter().step_by(3).zip(found) {
            let ends = points(line);
            let wide_mm = ends[0].distance(ends[1]) / scale;
            assert!((wide_mm - 2.0 * figure.half_width).abs() < 1e-6, "{wide_mm} {figure:?}");
        }
    }
}

#[test]
fn the_run_of_the_numbers_is_told() {
    let noted = |name: &str| {
        let scene = land_ring(&case(name).check, System::Inch).unwrap();
        texts(&scene, "heading").remove(1)
    };
    assert!(noted("four, runout").contains("numbered clockwise (heelward)"));
    let found = noted("four, numbered the other way");
    assert!(found.contains("counterclockwise (edgeward, as found)"), "{found}");
    assert!(noted("left hand, runout and taper").contains("counterclockwise (heelward)"));
}

#[test]
fn without_lands_the_edges_are_drawn_instead() {
    for name in ["four, no lands", "three, no lands", "twenty, no lands"] {
        let scene = land_ring(&case(name).check, System::Millimetre).unwrap();
        assert_eq!(scene.title(), "Edges as found");
        assert_eq!(drawn_stands(&scene).len(), 2, "{name}");
        assert!(texts(&scene, "notes").is_empty(), "{name}");
    }
    let sound = before_after(&case("four, sound").check, System::Inch).unwrap();
    assert_eq!(sound.title(), "Edges as found");
    assert_eq!(texts(&sound, "notes"), ["The readings show nothing wrong."]);
}

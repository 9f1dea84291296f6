//! The run of the drop behind the edge, as a graph: what the wheel really leaves beside what a
//! handbook's plane would leave.

use geometry::closed_form::plane_drop;
use geometry::section::{GroundSection, Stance};
use geometry::{Length, System};
use kurbo::{Point, Rect};
use shop::plan::{ExpectedDrop, Peripheral, RegrindPlan};

use super::axes::{Axes, Unit};
use super::figure;
use super::frame::{LEFT, NOTE, RIGHT, Sample, key, legend, point_out, sheet};
use super::profile::{Profile, ground};
use crate::scene::{Callout, Scene, Weight, thinned};

/// The graph's paper.
const FIELD: Rect = Rect::new(21.0, 33.0, 172.0, 97.0);

/// How far the graph runs, in widths of the land.
const LANDS: f64 = 1.6;

/// Points of a curve.
const POINTS: u32 = 320;

/// Room that is kept below the deepest curve, as a share of it.
const ROOM_SHARE: f64 = 0.06;

/// A curve of comparison that differs by less than this share of the drop teaches nothing.
const TAUGHT_SHARE: f64 = 0.02;

/// What is drawn of the run.
struct Run<'a> {
    peripheral: &'a Peripheral,
    system: System,
    land: Length,
    axes: Axes,
    at_corner: Option<GroundSection>,
}

/// The drop against the distance behind the edge, from the edge to past the end of the land; None
/// where the plan grinds no periphery.
///
/// The cutting circle is laid out straight along the top, and the surface falls away below it.
pub fn drop_run(plan: &RegrindPlan, system: System) -> Option<Scene> {
    let peripheral = plan.peripheral.as_ref()?;
    let run = Run::of(plan, peripheral, system);
    let number = plan.request.cutter.number();
    let note = format!("cutter {number}: the cutting circle laid out straight, the tooth below it");
    let mut scene = sheet("Drop behind the edge", &note, run.description());
    scene.part("axes");
    run.axes.draw(&mut scene, Unit::of(system));
    run.draw_curves(&mut scene);
    run.draw_legend(&mut scene);
    run.draw_marks(&mut scene);
    Some(scene)
}

impl<'a> Run<'a> {
    fn of(plan: &RegrindPlan, peripheral: &'a Peripheral, system: System) -> Self {
        let land = peripheral.expected.land.max(plan.wanted.land.value * 0.5);
        let at_corner = at_corner(peripheral);
        let drop = Length::from_mm(1.0);
        let axes = Axes { field: FIELD, distance: land * LANDS, drop };
        let mut run = Self { peripheral, system, land, axes, at_corner };
        let finished = run.points(|at| run.finished(at));
        let drops = finished.chain(run.points(|at| run.handbook(at)));
        let deepest = drops.map(|(_, drop)| drop).fold(Length::from_um(1.0), Length::max);
        run.axes.drop = deepest * (1.0 + ROOM_SHARE);
        run
    }

    fn length(&self, value: Length) -> String {
        figure::length(value, self.system)
    }

    fn radius(&self) -> Length {
        self.peripheral.section.circle_radius()
    }

    fn drop_of(&self, section: &GroundSection, distance: Length) -> Length {
        self.radius() - Length::from_mm(ground(section, distance / self.radius()))
    }

    /// The primary's surface, whether or not the secondary cuts it away.
    fn primary(&self, distance: Length) -> Length {
        self.drop_of(&self.peripheral.section, distance)
    }

    /// The finished tooth.
    fn finished(&self, distance: Length) -> Length {
        let secondary = self.drop_of(&self.peripheral.secondary.section, distance);
        let heelward = geometry::Angle::from_radians(distance / self.radius());
        let old = self.peripheral.outline_before.radius_at(heelward);
        let old = old.map_or(secondary, |old| self.radius() - old);
        self.primary(distance).max(secondary).max(old)
    }

    /// The plane of the handbooks at the wanted relief.
    fn handbook(&self, distance: Length) -> Length {
        plane_drop(self.radius() * 2.0, self.peripheral.stanced.target.relief, distance)
    }

    /// A curve's points, those that are numbers.
    fn points(&self, drop: impl Fn(Length) -> Length) -> impl Iterator<Item = (Length, Length)> {
        let step = self.axes.distance / f64::from(POINTS);
        let all = (0..=POINTS).map(move |count| step * f64::from(count));
        all.map(move |at| (at, drop(at))).filter(|(_, drop)| drop.is_finite())
    }

    /// The drop at the distance at which it is to be read.
    fn stated(&self) -> Option<&ExpectedDrop> {
        self.peripheral.expected.drops.last()
    }

    fn description(&self) -> String {
        let stated = self.stated().map_or_else(String::new, |stated| {
            format!(
                " At {} it is {}; a plane at {} would drop {}.",
                self.length(stated.distance),
                self.length(stated.drop),
                figure::angle(self.peripheral.stanced.target.relief),
                self.length(stated.handbook)
            )
        });
        format!(
            "Graph of the drop below the cutting circle against the distance behind the \
             edge.{stated} The land ends at {}.",
            self.length(self.land)
        )
    }

    fn curve(&self, scene: &mut Scene, weight: Weight, drop: impl Fn(Length) -> Length) {
        let place = |(distance, drop): (Length, Length)| self.axes.at(distance, drop);
        let is_inside = |point: &Point| (FIELD.y0 - 0.5..=FIELD.y1 + 0.5).contains(&point.y);
        let points: Vec<Point> = self.points(drop).map(place).filter(is_inside).collect();
        scene.polyline(&thinned(&points, 0.02), weight);
    }

    fn draw_curves(&self, scene: &mut Scene) {
        scene.part("drop with the rest at the corner");
        if let Some(section) = &self.at_corner {
            self.curve(scene, Weight::Centre, |at| self.drop_of(section, at));
        }
        scene.part("drop of the handbook's plane");
        self.curve(scene, Weight::Hidden, |at| self.handbook(at));
        scene.part("drop of the primary");
        self.curve(scene, Weight::Thin, |at| self.primary(at));
        scene.part("drop of the finished tooth");
        self.curve(scene, Weight::Outline, |at| self.finished(at));
    }

    fn draw_legend(&self, scene: &mut Scene) {
        scene.part("legend");
        let wanted = figure::angle(self.peripheral.stanced.target.relief);
        let plane = format!("handbook's plane at {wanted}");
        let mut entries = vec![
            (Weight::Outline, "finished tooth"),
            (Weight::Thin, "primary, were there no secondary"),
            (Weight::Hidden, plane.as_str()),
        ];
        if self.at_corner.is_some() {
            entries.push((Weight::Centre, "same setting, rest at the wheel's corner"));
        }
        for (index, (weight, words)) in entries.into_iter().enumerate() {
            let at = Point::new([LEFT, 85.0][index % 2], 111.0 + 5.4 * (index / 2) as f64);
            legend(scene, at, Sample::Line(weight), words);
        }
    }

    /// Marks: first all lines, so that the words keep clear of them.
    fn draw_marks(&self, scene: &mut Scene) {
        scene.part("stated drop");
        if let Some(stated) = self.stated() {
            let at = self.axes.at(stated.distance, stated.drop);
            scene.line(Point::new(at.x, FIELD.y0), at, Weight::Thin);
            scene.line(Point::new(FIELD.x0, at.y), at, Weight::Thin);
        }
        scene.part("end of the land");
        let end = self.land_end();
        scene.line(Point::new(end.x, FIELD.y0), end, Weight::Centre);
        self.name_stated(scene);
        self.name_land(scene);
        self.name_drag(scene);
    }

    /// Where the primary ends. A land is measured straight across and this axis along the circle,
    /// so the end is taken from the surfaces themselves.
    fn land_end(&self) -> Point {
        let end = Profile::to(self.peripheral, self.axes.distance).land_end();
        let at = end.map_or(self.land, |end| self.radius() * end.heelward_rad);
        self.axes.at(at, self.primary(at))
    }

    fn name_stated(&self, scene: &mut Scene) {
        let Some(stated) = self.stated() else { return };
        scene.part("stated drop");
        let at = self.axes.at(stated.distance, stated.drop);
        let mut lines = key(
            format!("drop {}", self.length(stated.drop)),
            format!("at {} behind the edge", self.length(stated.distance)),
        );
        lines.push((format!("handbook's plane {}", self.length(stated.handbook)), NOTE));
        let zones = [FIELD.inset(-2.0)];
        point_out(scene, &Callout { lines: &lines, targets: &[at], arrow: true, zones: &zones });
    }

    fn name_land(&self, scene: &mut Scene) {
        scene.part("end of the land");
        let lines = ["end of the land".to_owned(), self.length(self.land)];
        let lines = lines.map(|words| (words, NOTE));
        let (targets, zones) = ([self.land_end()], [FIELD.inset(-2.0)]);
        point_out(scene, &Callout { lines: &lines, targets: &targets, arrow: true, zones: &zones });
    }

    /// Where the primary alone would come back to the circle and drag.
    fn name_drag(&self, scene: &mut Scene) {
        let drag = self.peripheral.section.heel_drag_from();
        let Some(from) = drag.filter(|from| *from <= self.axes.distance) else { return };
        scene.part("heel drag");
        let at = self.axes.at(from, Length::ZERO);
        let lines = [
            ("without a secondary".to_owned(), NOTE),
            (format!("the heel drags from {}", self.length(from)), NOTE),
        ];
        let zones = [Rect::new(FIELD.x0 + 2.0, FIELD.y0 + 2.0, RIGHT, FIELD.y1)];
        point_out(scene, &Callout { lines: &lines, targets: &[at], arrow: true, zones: &zones });
    }
}

/// The section of the same setting with the rest at the wheel's leading corner, where that shows
/// something: on a helix, with a rest that stands inside the face.
fn at_corner(peripheral: &Peripheral) -> Option<GroundSection> {
    let setup = &peripheral.stanced.setup;
    let stance = Stance { rest_inset: Length::ZERO, ..*setup.stance() };
    if setup.flutes().helix.tan() <= 0.0 || setup.stance().rest_inset.mm() < 1e-3 {
        return None;
    }
    let diameter = peripheral.section.circle_radius() * 2.0;
    let section = setup.with_stance(stance).and_then(|setup| setup.section(diameter)).ok()?;
    let stated = peripheral.expected.drops.last()?;
    let change = section.drop_at(stated.distance)? - stated.drop;
    (change.abs() > stated.drop.abs() * TAUGHT_SHARE).then_some(section)
}

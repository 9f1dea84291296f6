//! The figures of the section: land, stock, drop, reliefs and rake.

use std::f64::consts::{FRAC_PI_2, PI};

use geometry::Angle;
use kurbo::{Point, Rect, Vec2};
use shop::plan::Stanced;

use super::super::figure;
use super::super::frame::{KEY, LEFT, NOTE, RIGHT, key, point_out};
use super::super::profile::Polar;
use super::{FIELD, Tooth};
use crate::scene::{AngleDimension, Callout, LengthDimension, Scene, Weight, Words, width_mm};

/// From the highest metal to the dimension line of the land.
const LAND_UP_MM: f64 = 7.5;

/// From the edge to the dimension line of the stock.
const STOCK_BESIDE_MM: f64 = 15.0;

/// Radius of the arc of the rake.
const RAKE_MM: f64 = 33.0;

/// How far behind the end of the land the arcs of the two reliefs stand.
const PRIMARY_MM: f64 = 17.0;
const SECONDARY_MM: f64 = 40.0;

/// A relief at the edge that differs by less from the relief over its distance is not told.
const TOLD_DEG: f64 = 0.3;

/// The least land that is dimensioned on paper; less is no land.
const LAND_MM_MIN: f64 = 1.0;

/// Places on a dimension arc from which a leader can run to its figure.
type ArcPlaces = [Point; 3];

impl Tooth<'_> {
    pub(super) fn draw_figures(&self, scene: &mut Scene) {
        self.draw_rake(scene);
        self.draw_stock(scene);
        self.draw_land(scene);
        let primary = self.draw_primary(scene);
        let secondary = self.draw_secondary(scene);
        self.draw_drop(scene);
        self.name_primary(scene, primary);
        self.name_secondary(scene, secondary);
        self.name_wheel(scene);
    }

    /// The paper above the tooth, left of the land's dimension.
    pub(super) fn above(&self) -> Rect {
        Rect::new(LEFT, FIELD.y0, self.view.edge().x - 12.0, self.view.edge().y + 30.0)
    }

    /// The paper of the tooth's own metal.
    fn inside(&self) -> Rect {
        Rect::new(LEFT, self.view.edge().y + 6.0, self.view.edge().x - 6.0, FIELD.y1)
    }

    fn draw_rake(&self, scene: &mut Scene) {
        scene.part("rake");
        let (edge, rake_rad) = (self.view.edge(), self.view.rake_rad());
        let down = Vec2::new(0.0, 1.0);
        scene.line(edge + down, edge + down * (RAKE_MM + 4.0), Weight::Centre);
        let (from_rad, to_rad) = (FRAC_PI_2, FRAC_PI_2 + rake_rad);
        let arc = AngleDimension { centre: edge, radius_mm: RAKE_MM, from_rad, to_rad };
        let target = scene.angle_dimension(arc);
        let lines = key(format!("rake {}", figure::angle(Angle::from_radians(rake_rad))), "");
        let zone = Rect::new(edge.x + 3.0, edge.y + 18.0, RIGHT, 97.0);
        let callout = Callout { lines: &lines, targets: &[target], arrow: true, zones: &[zone] };
        point_out(scene, &callout);
    }

    fn draw_stock(&self, scene: &mut Scene) {
        scene.part("stock on the radius");
        let edge = self.view.edge();
        let stock = self.view.profile().stock();
        let first = self.view.profile().before_from_face().first().copied();
        let Some(old) = first.map(|first| self.view.at(first)) else { return };
        let away = Vec2::new(STOCK_BESIDE_MM, 0.0);
        let target = scene.dimension(LengthDimension { from: edge, to: old, away });
        let lines = key(self.length(stock), "off the radius");
        let zone = Rect::new(edge.x + 8.0, FIELD.y0, RIGHT, edge.y + 4.0);
        let callout = Callout { lines: &lines, targets: &[target], arrow: false, zones: &[zone] };
        point_out(scene, &callout);
    }

    fn draw_land(&self, scene: &mut Scene) {
        scene.part("land");
        let edge = self.view.edge();
        let Some(end) = self.view.profile().land_end() else { return };
        let to = self.view.at(end);
        let chord = edge - to;
        if chord.hypot() < LAND_MM_MIN {
            return self.tell_no_land(scene);
        }
        let out = Vec2::new(chord.y, -chord.x) / chord.hypot();
        let stock_mm = self.view.paper_mm(self.view.profile().stock());
        let away = out * (stock_mm + LAND_UP_MM);
        let middle = scene.dimension(LengthDimension { from: edge, to, away });
        let words = format!("land {}", self.length(self.peripheral.expected.land));
        // The words end above the edge: the stock has its figure to the right of it.
        let right = edge.x.max(middle.x + 0.5 * width_mm(&words, KEY) - 8.0).min(edge.x + 2.0);
        let rise = (right - middle.x) * (chord.y / chord.x).abs();
        scene.text(Words::ending((right, middle.y - rise - 1.8), KEY, words));
    }

    fn tell_no_land(&self, scene: &mut Scene) {
        let lines = key("no land left".to_owned(), "the secondary reaches the edge");
        let (targets, zones) = ([self.view.edge()], [self.above()]);
        point_out(scene, &Callout { lines: &lines, targets: &targets, arrow: true, zones: &zones });
    }

    /// Draws the angle of the primary; gives places on its arc.
    fn draw_primary(&self, scene: &mut Scene) -> ArcPlaces {
        scene.part("primary relief");
        let land = self.view.profile().land_end().map(|end| self.view.at(end));
        let land_mm = land.map_or(0.0, |end| end.distance(self.view.edge()));
        let radius_mm = (land_mm + PRIMARY_MM).min(90.0);
        let relief = self.peripheral.stanced.relief;
        self.draw_relief(scene, self.view.edge(), radius_mm, relief)
    }

    /// Draws the angle of the secondary, where one is ground; gives places on its arc.
    fn draw_secondary(&self, scene: &mut Scene) -> Option<ArcPlaces> {
        self.peripheral.secondary.grinding.as_ref()?;
        scene.part("secondary relief");
        let end = self.view.at(self.view.profile().land_end()?);
        let relief = self.peripheral.secondary.stanced.relief;
        Some(self.draw_relief(scene, end, SECONDARY_MM, relief))
    }

    /// An angle below the direction of the edge's tangent.
    fn draw_relief(
        &self,
        scene: &mut Scene,
        at: Point,
        radius_mm: f64,
        relief: Angle,
    ) -> ArcPlaces {
        let reach = radius_mm + 3.0;
        let below = self.view.below_tangent(relief.radians());
        scene.line(at, at - Vec2::new(reach, 0.0), Weight::Thin);
        scene.line(at, at + below * reach, Weight::Thin);
        let (from_rad, to_rad) = (PI, PI - relief.radians());
        scene.angle_dimension(AngleDimension { centre: at, radius_mm, from_rad, to_rad });
        [0.5, 0.3, 0.7]
            .map(|share| at + self.view.below_tangent(share * relief.radians()) * radius_mm)
    }

    fn name_primary(&self, scene: &mut Scene, targets: ArcPlaces) {
        scene.part("primary relief");
        let Stanced { relief, edge_relief, .. } = &self.peripheral.stanced;
        let differs = (*relief - *edge_relief).abs().degrees() > TOLD_DEG;
        let at_edge = format!("{} at the edge itself", figure::angle(*edge_relief));
        let note = if differs { at_edge } else { String::new() };
        let lines = key(format!("primary {}", figure::angle(*relief)), note);
        let zones = [self.above()];
        let callout = Callout { lines: &lines, targets: &targets, arrow: true, zones: &zones };
        point_out(scene, &callout);
    }

    fn name_secondary(&self, scene: &mut Scene, targets: Option<ArcPlaces>) {
        scene.part("secondary relief");
        let zones = [self.inside(), self.above()];
        let Some(targets) = targets else {
            let lines = [("the old secondary stays".to_owned(), NOTE)];
            let callout = Callout { lines: &lines, targets: &[], arrow: false, zones: &zones };
            return point_out(scene, &callout);
        };
        let relief = self.peripheral.secondary.stanced.relief;
        let lines = key(format!("secondary {}", figure::angle(relief)), "");
        let callout = Callout { lines: &lines, targets: &targets, arrow: true, zones: &zones };
        point_out(scene, &callout);
    }

    /// The drop at the distance at which it is to be read.
    fn draw_drop(&self, scene: &mut Scene) {
        let Some(drop) = self.peripheral.expected.drops.last() else { return };
        scene.part("drop");
        let radius = self.peripheral.section.circle_radius();
        let heelward_rad = drop.distance / radius;
        let (circle, _) = self.view.on_circle(heelward_rad);
        let radius_mm = (radius - drop.drop).mm();
        let surface = self.view.at(Polar { heelward_rad, radius_mm });
        let tails = scene.gap(circle, surface);
        let lines = key(
            format!("drop {}", self.length(drop.drop)),
            format!("at {} behind the edge", self.length(drop.distance)),
        );
        let zones = [self.inside(), self.above()];
        let callout = Callout { lines: &lines, targets: &tails, arrow: false, zones: &zones };
        point_out(scene, &callout);
    }
}

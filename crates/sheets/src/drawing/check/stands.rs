//! One ring of edges, each standing out of the planned circle or in, magnified.

use std::f64::consts::TAU;

use geometry::Length;
use shop::check::Figure;

use super::page::{BAR_HALF_MM, closed, whisker};
use super::ring::{Ring, across};
use super::round::Round;
use crate::scene::{Scale, Scene, Weight, arc};

/// The planned circle, and how far stands reach from it.
const CIRCLE: f64 = 18.5;
pub(super) const REACH: f64 = 7.0;

/// From the middle to the labels.
pub(super) const LABELS: f64 = 26.8;

/// Half the length of an edge's mark.
const TICK_HALF_MM: f64 = 2.0;

/// The edges at one place.
pub(super) struct Stands {
    pub(super) title: Vec<String>,
    pub(super) from_end: Length,
    /// By tooth from 1.
    pub(super) figures: Vec<Figure>,
    /// The circle to which all come down, over the planned one.
    pub(super) lowest_mm: Option<f64>,
}

impl Stands {
    pub(super) fn draw(&self, scene: &mut Scene, ring: &Ring, round: &Round, scale: Scale) {
        scene.part("planned circle");
        scene.stroke(arc(ring.centre, CIRCLE * ring.large, 0.0, TAU), Weight::Centre);
        scene.part("lowest circle");
        let radius = |mm: f64| CIRCLE + (mm * scale.factor() / ring.large).clamp(-REACH, REACH);
        if let Some(lowest_mm) = self.lowest_mm {
            let circle = arc(ring.centre, radius(lowest_mm) * ring.large, 0.0, TAU);
            scene.stroke(circle, Weight::Hidden);
        }
        let pitch_mm = TAU * CIRCLE * ring.large / f64::from(round.teeth());
        let half_mm = |most_mm: f64, share: f64| most_mm.min(share * pitch_mm);
        let edges = || {
            let at = |tooth: u32| round.paper_rad(tooth, self.from_end);
            (1..).zip(&self.figures).map(move |(tooth, figure)| (at(tooth), figure))
        };
        scene.part("stands");
        for (at_rad, figure) in edges() {
            let half_mm = half_mm(BAR_HALF_MM, 0.15);
            let bar = ring.bar(at_rad, (CIRCLE, radius(figure.value)), half_mm);
            scene.polyline(&closed(bar), Weight::Thin);
        }
        scene.part("bands");
        for (at_rad, figure) in edges().filter(|(_, figure)| figure.half_width > 0.0) {
            let ends = [figure.value - figure.half_width, figure.value + figure.half_width];
            let [from, to] = ends.map(|mm| ring.at(at_rad, radius(mm)));
            whisker(scene, from, to, across(at_rad));
        }
        scene.part("edges");
        for (at_rad, figure) in edges() {
            ring.tick(scene, at_rad, radius(figure.value), half_mm(TICK_HALF_MM, 0.35));
        }
        ring.draw_words(scene);
    }
}

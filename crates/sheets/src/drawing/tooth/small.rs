//! The section of the tooth in little, for a sheet that has its figures elsewhere.

use geometry::System;
use kurbo::Point;
use shop::plan::RegrindPlan;

use super::super::figure;
use super::super::frame::{Sample, legend};
use super::view::{Frame, View};
use super::{PRIMARY, SECONDARY, Tooth};
use crate::scene::{Scene, Weight, Words};

/// Its width and height in millimetres.
const SMALL_MM: (f64, f64) = (86.0, 52.0);

/// Where the tooth has room on it.
const FRAME: Frame =
    Frame { paper_mm: (74.0, 20.0), top_mm: 7.0, edge_x_mm: 79.0, bottom_mm: 34.5 };

/// Size of its words.
const WORDS: f64 = 2.8;

/// The section of the tooth at the rest, to scale, without figures; None where the plan grinds no
/// periphery. It lies as in [`tooth_section`](super::tooth_section).
pub fn tooth_small(plan: &RegrindPlan, system: System) -> Option<Scene> {
    let peripheral = plan.peripheral.as_ref()?;
    let view = View::of(plan, peripheral, FRAME);
    let tooth = Tooth { plan, peripheral, system, view };
    let title = "Section of the tooth at the rest".to_owned();
    let mut scene = Scene::new(title, tooth.description(), SMALL_MM.0, SMALL_MM.1);
    scene.part("heading");
    let seen = figure::seen_from(plan);
    let words = format!("tooth at the rest, {seen}, a quarter round");
    scene.text(Words::starting((0.0, 3.0), WORDS, words));
    tooth.draw_body(&mut scene);
    tooth.draw_small_legend(&mut scene);
    scene.part("scale bar");
    let (scale, y) = (tooth.view.scale(), SMALL_MM.1 - 1.4);
    scene.scale_bar(Point::new(34.0, y), scale, system, 16.0);
    scene.part("scale");
    scene.text(Words::starting((0.0, y), WORDS + 0.6, format!("scale {}", scale.name())));
    Some(scene)
}

impl Tooth<'_> {
    fn draw_small_legend(&self, scene: &mut Scene) {
        scene.part("legend");
        let entries = [
            (Sample::Line(Weight::Outline), "as it will be"),
            (Sample::Line(Weight::Thin), "as it came"),
            (Sample::Hatch(PRIMARY), "primary"),
            (Sample::Hatch(SECONDARY), "secondary"),
        ];
        let is_ground = self.peripheral.secondary.grinding.is_some();
        for (index, (sample, words)) in entries.into_iter().enumerate() {
            if words == "secondary" && !is_ground {
                continue;
            }
            let (column, row) = ((index % 2) as f64, (index / 2) as f64);
            legend(scene, Point::new(43.0 * column, 40.0 + 4.6 * row), sample, words);
        }
    }
}

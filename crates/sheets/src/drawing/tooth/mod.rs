//! The section of the tooth at the rest: what is there, what comes off and what it must become.

mod body;
mod figures;
mod small;
mod surroundings;
mod view;

use geometry::System;
use kurbo::{Point, Rect};
use shop::plan::{Peripheral, RegrindPlan};

use super::figure;
use super::frame::{NOTE, RIGHT, Sample, legend, scale_corner, sheet};
use crate::scene::{Hatching, Scene, Weight, Words};
use view::{Frame, View};

pub use small::tooth_small;

/// Hatching of what the primary takes off.
const PRIMARY: Hatching = Hatching::RISING;

/// Hatching of what the secondary takes off.
const SECONDARY: Hatching = Hatching::FALLING;

/// What is drawn of one tooth.
struct Tooth<'a> {
    plan: &'a RegrindPlan,
    peripheral: &'a Peripheral,
    system: System,
    view: View<'a>,
}

/// The section of the tooth at the rest, to scale; None where the plan grinds no periphery.
///
/// The tooth lies as in the end view turned a quarter round: the wheel comes from above, the edge
/// stands at the right and the heel at the left.
pub fn tooth_section(plan: &RegrindPlan, system: System) -> Option<Scene> {
    let peripheral = plan.peripheral.as_ref()?;
    let view = View::of(plan, peripheral, Frame::SHEET);
    let tooth = Tooth { plan, peripheral, system, view };
    let note = format!(
        "cutter {}, {}, a quarter round: the wheel comes from above",
        plan.request.cutter.number(),
        figure::seen_from(plan)
    );
    let mut scene = sheet("Section of the tooth at the rest", &note, tooth.description());
    scale_corner(&mut scene, tooth.view.scale(), system);
    tooth.draw_legend(&mut scene);
    tooth.draw_body(&mut scene);
    tooth.draw_surroundings(&mut scene);
    tooth.draw_figures(&mut scene);
    Some(scene)
}

impl Tooth<'_> {
    fn length(&self, value: geometry::Length) -> String {
        figure::length(value, self.system)
    }

    fn description(&self) -> String {
        let Peripheral { stanced, secondary, expected, .. } = self.peripheral;
        let drop = expected.drops.last().map_or_else(String::new, |drop| {
            format!(" Drop {} at {}.", self.length(drop.drop), self.length(drop.distance))
        });
        format!(
            "Section of one tooth at the tooth rest, {}. Primary relief {}, secondary {}, land \
             {}.{} {} come off the radius.",
            self.view.scale().name(),
            figure::angle(stanced.relief),
            figure::angle(secondary.stanced.relief),
            self.length(expected.land),
            drop,
            self.length(self.view.profile().stock())
        )
    }

    fn draw_legend(&self, scene: &mut Scene) {
        scene.part("legend");
        let entries = [
            (Sample::Line(Weight::Outline), "as it will be"),
            (Sample::Line(Weight::Thin), "as it came"),
            (Sample::Hatch(PRIMARY), "primary takes off"),
            (Sample::Hatch(SECONDARY), "secondary takes off"),
            (Sample::Line(Weight::Centre), "cutting circle"),
            (Sample::Line(Weight::Hidden), "wheel, secondary"),
        ];
        let is_ground = self.peripheral.secondary.grinding.is_some();
        for (index, (sample, words)) in entries.into_iter().enumerate() {
            if words.contains("secondary") && !is_ground {
                continue;
            }
            let (column, row) = (index / 2, index % 2);
            let x = [5.0, 44.0, 91.0][column];
            legend(scene, Point::new(x, 112.2 + 4.6 * row as f64), sample, words);
        }
    }
}

/// The way the tooth moves when it cuts, in the right lower corner above the scale.
fn draw_cut(scene: &mut Scene) {
    scene.part("way of the cut");
    let y = 104.0;
    scene.straight_motion(Point::new(RIGHT - 26.0, y), Point::new(RIGHT - 4.0, y));
    scene.text(Words::ending((RIGHT, y - 3.4), NOTE, "way of the cut"));
}

/// The sheet between heading and legend.
const FIELD: Rect = Rect::new(5.0, 16.0, 175.0, 107.0);

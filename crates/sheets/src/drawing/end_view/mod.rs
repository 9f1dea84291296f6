//! The end view: wheel, cutter and rest seen along the cutter's axis, with a plan from above.

mod cutter;
mod figures;
mod inset;
mod inset_figures;
mod wheel;

use geometry::section::Stance;
use geometry::wheel::WheelKind;
use geometry::{Length, System};
use kurbo::{Point, Rect, Vec2};
use shop::plan::{Held, Hold, Peripheral, RegrindPlan, ReliefBy};

use super::figure;
use super::frame::{LEFT, NOTE, scale_corner, sheet};
use crate::scene::{Scale, Scene, Words};

/// Where the cutter's axis stands on the sheet.
const CENTRE: Point = Point::new(59.0, 61.0);

/// Paper for the cutter's diameter.
const PAPER_MM: f64 = 53.0;

/// The field of the end view.
const FIELD: Rect = Rect::new(5.0, 16.0, 117.5, 106.0);

/// What is drawn of the end view.
struct EndView<'a> {
    plan: &'a RegrindPlan,
    peripheral: &'a Peripheral,
    system: System,
    scale: Scale,
}

/// The end view of wheel, cutter and rest, to scale, with a plan from above that is not; None
/// where the plan grinds no periphery.
///
/// Y runs to the right, toward the wheel, and Z up; the tooth on the rest has its heel up.
pub fn end_view(plan: &RegrindPlan, system: System) -> Option<Scene> {
    let peripheral = plan.peripheral.as_ref()?;
    let scale = Scale::fitting(2.0 * peripheral.section.circle_radius().mm(), PAPER_MM);
    let view = EndView { plan, peripheral, system, scale };
    let number = plan.request.cutter.number();
    let note = format!("cutter {number}, {}, its heel up", figure::seen_from(plan));
    let shown = if view.has_rest() { "wheel, cutter and rest" } else { "wheel and cutter" };
    let mut scene = sheet(&format!("End view of {shown}"), &note, view.description());
    scale_corner(&mut scene, scale, system);
    view.draw_notes(&mut scene);
    view.draw_wheel(&mut scene);
    view.draw_cutter(&mut scene);
    if view.has_rest() {
        view.draw_rest(&mut scene);
    }
    view.draw_figures(&mut scene);
    view.draw_inset(&mut scene);
    Some(scene)
}

impl EndView<'_> {
    /// Whether a rest bears under the tooth; an index head holds it by itself.
    fn has_rest(&self) -> bool {
        Held::on(&self.plan.request.machine).has_rest()
    }

    /// What bears the edge, as pictures name it.
    fn bearer(&self) -> &'static str {
        if self.has_rest() { "rest" } else { "edge" }
    }

    fn stance(&self) -> &Stance {
        self.peripheral.stanced.stance()
    }

    fn kind(&self) -> WheelKind {
        self.peripheral.stanced.setup.wheel().kind()
    }

    fn length(&self, value: Length) -> String {
        figure::length(value, self.system)
    }

    fn radius(&self) -> Length {
        self.peripheral.section.circle_radius()
    }

    /// Radius of the cutting circle on paper.
    fn circle_mm(&self) -> f64 {
        self.radius().mm() * self.scale.factor()
    }

    /// A point across the cutter's axis and up from it, in millimetres of the machine.
    fn at(&self, across_mm: f64, up_mm: f64) -> Point {
        CENTRE + Vec2::new(across_mm, -up_mm) * self.scale.factor()
    }

    /// The edge of the tooth on the rest.
    fn edge(&self) -> Point {
        let setting = self.stance().relief_setting;
        let radius_mm = self.radius().mm();
        self.at(radius_mm * setting.cos(), -radius_mm * setting.sin())
    }

    /// How far the edge on the rest stands below the cutter's axis.
    fn below(&self) -> Length {
        self.radius() * self.stance().relief_setting.sin()
    }

    /// Whether the tooth on the rest is turned below centre at all.
    fn is_on_centre(&self) -> bool {
        self.below().abs().mm() < 1e-3
    }

    fn runs(&self) -> &'static str {
        let direction = &self.peripheral.direction;
        match (direction.hold, direction.has_rest) {
            (Hold::Down, true) => "down over the edge, onto the rest",
            (Hold::Down, false) => "down over the edge",
            (Hold::Lifts, true) => "up from the edge and lifts the tooth: hold it down",
            (Hold::Lifts, false) => "up from the edge and lifts the tooth: lock the head",
            (Hold::Along, _) => "along the edge",
        }
    }

    fn description(&self) -> String {
        let bearer = self.bearer();
        let rest = if self.is_on_centre() {
            format!("The {bearer} stands on centre.")
        } else {
            format!("The {bearer} stands {} below centre.", self.length(self.below()))
        };
        let inset = if self.has_rest() {
            format!("Rest inset {}, face", self.length(self.stance().rest_inset))
        } else {
            "Face".to_owned()
        };
        format!(
            "End view, {}. {rest} The relief setting is {}. The wheel's surface runs {}. {} \
             {inset} toward the {}.",
            self.scale.name(),
            figure::angle(self.stance().relief_setting),
            self.runs(),
            self.wheel_note(),
            self.stance().face_toward.name()
        )
    }

    /// The wheel, its size and its lean.
    fn wheel_note(&self) -> String {
        let wheel = &self.peripheral.wheel.wheel;
        let lean = match self.is_leaning() {
            true => format!("leaning {}", figure::angle(self.stance().lean)),
            false => "without lean".to_owned(),
        };
        let (number, form) = (wheel.number(), wheel.shape().form().name());
        format!("Wheel {number}, {form}, ⌀{}, {lean}.", self.length(wheel.diameter()))
    }

    fn relief_note(&self) -> &'static str {
        match self.peripheral.stanced.relief_by {
            ReliefBy::Dial => "Relief is set by turning the tooth below centre on its dial.",
            ReliefBy::RestHeight => "Relief is set by lowering the rest below centre.",
            ReliefBy::WheelAbove => "Relief is set by raising the wheel above centre.",
            ReliefBy::HeadWithRest => "Relief is set by lowering the head with its rest.",
        }
    }

    fn draw_notes(&self, scene: &mut Scene) {
        scene.part("notes");
        scene.text(Words::starting((LEFT, 112.2), NOTE, self.wheel_note()));
        scene.text(Words::starting((LEFT, 116.8), NOTE, self.relief_note()));
    }
}

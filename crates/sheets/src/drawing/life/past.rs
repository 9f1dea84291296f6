//! The marks of past regrinds below the rule, with size and date in steps that run down from right
//! to left, so that no mark's line runs through another's words.

use kurbo::Point;

use crate::scene::{Scene, Weight, Words, width_mm};

use super::super::leaf::{LINE_MM, RIGHT, SMALL, counted, fitted};
use super::{RULE, Scaled, TICK_MM};

/// Room between the words of one mark and the line of the next.
const GAP_MM: f64 = 1.6;

/// Words stand so far right of their mark's line.
const ASIDE_MM: f64 = 1.2;

/// Words have two lines; from step to step.
const STEP_MM: f64 = 2.0 * LINE_MM + 1.0;

/// So many of the last marks have words, and the first.
const LAST_TOLD: usize = 6;

/// The words of one mark.
struct Label {
    mark_x: f64,
    step: usize,
    lines: [String; 2],
}

/// The words of all marks that have any.
pub(super) struct Labels {
    labels: Vec<Label>,
}

impl Label {
    fn right(&self) -> f64 {
        let wide = self.lines.iter().map(|line| width_mm(line, SMALL)).fold(0.0, f64::max);
        self.mark_x + ASIDE_MM + wide
    }
}

impl Labels {
    /// Where they end.
    pub(super) fn foot_mm(&self) -> f64 {
        let steps = self.labels.iter().map(|label| label.step + 1).max().unwrap_or(0);
        RULE.y1 + TICK_MM + STEP_MM * steps as f64
    }
}

impl Scaled<'_> {
    /// Whether a regrind has words: the first and the last ones.
    fn is_told(&self, index: usize) -> bool {
        index == 0 || index + LAST_TOLD >= self.life.ground.len()
    }

    /// Says how many regrinds are marked without words, where there are any.
    pub(super) fn untold(&self) -> Option<String> {
        let count = (0..self.life.ground.len()).filter(|index| !self.is_told(*index)).count();
        let marks = counted(count as u32, "regrind is", "regrinds are");
        (count > 0).then(|| format!("{marks} marked without a date, after the first."))
    }

    pub(super) fn past_labels(&self) -> Labels {
        let told = (0..self.life.ground.len()).filter(|index| self.is_told(*index));
        let mut labels: Vec<Label> = told.map(|index| self.label(index)).collect();
        labels.sort_by(|a, b| b.mark_x.total_cmp(&a.mark_x));
        for index in 0..labels.len() {
            let right = labels[index].right() + GAP_MM;
            let met = labels[..index].iter().filter(|other| other.mark_x < right);
            labels[index].step = met.map(|other| other.step + 1).max().unwrap_or(0);
        }
        Labels { labels }
    }

    fn label(&self, index: usize) -> Label {
        let ground = &self.life.ground[index];
        let room = RIGHT - self.x(ground.diameter) - ASIDE_MM;
        let words = |text: &str| fitted(Words::starting((0.0, 0.0), SMALL, text), room, SMALL).text;
        let lines = [words(&self.size(ground.diameter)), words(&ground.when)];
        Label { mark_x: self.x(ground.diameter), step: 0, lines }
    }

    pub(super) fn draw_past(&self, scene: &mut Scene, labels: &Labels) {
        scene.part("past regrinds");
        for ground in &self.life.ground {
            let x = self.x(ground.diameter);
            scene.line(Point::new(x, RULE.y0), Point::new(x, RULE.y1 + TICK_MM), Weight::Thin);
        }
        scene.part("dates");
        for label in &labels.labels {
            let (x, top) = (label.mark_x, RULE.y1 + TICK_MM + STEP_MM * label.step as f64);
            let foot = Point::new(x, top + 2.0 * LINE_MM - 0.6);
            scene.line(Point::new(x, RULE.y1 + TICK_MM), foot, Weight::Thin);
            for (row, line) in label.lines.iter().enumerate() {
                let at = Point::new(x + ASIDE_MM, top + LINE_MM * (row as f64 + 0.8));
                scene.text(Words::starting(at, SMALL, line.as_str()));
            }
        }
    }
}

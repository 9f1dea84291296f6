//! The life of a cutter as a rule: from its nominal size on the left to its smallest useful one.

mod past;

use geometry::{Length, System};
use kurbo::{Point, Rect};

use super::frame::LEFT;
use super::leaf::{
    LARGE, LINE_MM, RIGHT, SMALL, all_broken, counted, leaf, lines_mm, set_lines, signed, size,
};
use crate::scene::{Hatching, Paint, Scene, Weight, Words, width_mm};

/// A cutter's life as it is drawn.
#[derive(Clone, Debug, PartialEq)]
pub struct Life {
    /// The shop's own number for the cutter.
    pub cutter: String,
    /// Its nominal diameter.
    pub nominal: Length,
    /// What each regrind left, the oldest first.
    pub ground: Vec<GroundTo>,
    /// The last known diameter: over dull edges where they were measured, else as ground.
    pub now: Length,
    /// What that size is, and since when, in plain words; empty where nothing is on record.
    pub now_is: String,
    /// The sharp diameter from which the regrinds to come are counted.
    pub counted_from: Length,
    /// The smallest diameter at which it is still useful.
    pub smallest: Length,
    /// What a regrind is expected to take off the diameter.
    pub per_grind: Length,
    /// Regrinds that are left.
    pub expected: u32,
    /// So many are left at the least.
    pub least: u32,
    /// So many are left at the most.
    pub greatest: u32,
}

/// What one regrind left.
#[derive(Clone, Debug, PartialEq)]
pub struct GroundTo {
    /// Diameter after it.
    pub diameter: Length,
    /// When it was, in plain words.
    pub when: String,
}

/// The rule's body on the leaf. Right of it there is room for the label of a mark at its end.
const RULE: Rect = Rect::new(LEFT + 3.0, 41.0, 125.0, 53.0);

/// How far marks of regrinds reach below the rule.
const TICK_MM: f64 = 2.4;

/// Half the breadth of the pointer and its height.
const POINTER_MM: (f64, f64) = (2.2, 4.4);

/// Future regrinds that stand closer on paper are not told apart.
const GRIND_MM_MIN: f64 = 0.7;

/// How high above the rule the names of its ends stand, over the figure of now.
const NAMES_MM: f64 = 20.0;

/// From the picture to the words below it.
const WORDS_GAP_MM: f64 = 8.0;

/// What is drawn of a life.
struct Scaled<'a> {
    life: &'a Life,
    system: System,
    largest: Length,
    least: Length,
}

/// The life left in a cutter as a rule from new to smallest: what past regrinds took is empty,
/// what those to come may take is hatched, a pointer stands at the size of now.
///
/// Sizes run from the largest on the left to the smallest on the right, true to each other.
pub fn life_scale(life: &Life, system: System) -> Scene {
    let scaled = Scaled::of(life, system);
    let labels = scaled.past_labels();
    let words = all_broken(&scaled.words());
    let words_y = labels.foot_mm() + WORDS_GAP_MM;
    let height_mm = words_y + lines_mm(&words);
    let heading = format!("Life left in cutter {}", life.cutter);
    let note = "diameter over the edges, from nominal down to the smallest useful";
    let mut scene = leaf(&heading, note, scaled.description(), height_mm);
    scaled.draw_future(&mut scene);
    scaled.draw_rule(&mut scene);
    scaled.draw_now(&mut scene);
    scaled.draw_past(&mut scene, &labels);
    scene.part("words");
    set_lines(&mut scene, Point::new(LEFT, words_y), &words);
    scene
}

impl<'a> Scaled<'a> {
    fn of(life: &'a Life, system: System) -> Self {
        let past = life.ground.iter().map(|ground| ground.diameter);
        let all = || past.clone().chain([life.nominal, life.now, life.smallest]);
        let all = || all().filter(|size| size.is_finite());
        let largest = all().fold(Length::ZERO, Length::max);
        let least = all().fold(largest, Length::min);
        Self { life, system, largest, least }
    }

    /// Where a diameter stands on the rule; one beyond its ends stands at the end.
    fn x(&self, diameter: Length) -> f64 {
        let run_mm = (self.largest - self.least).mm();
        let down_mm = (self.largest - diameter).mm();
        let share = if run_mm > 1e-9 { down_mm / run_mm } else { 0.0 };
        let share = if share.is_finite() { share.clamp(0.0, 1.0) } else { 0.0 };
        RULE.x0 + share * RULE.width()
    }

    fn size(&self, diameter: Length) -> String {
        size(diameter, self.system)
    }

    fn draw_rule(&self, scene: &mut Scene) {
        scene.part("rule");
        let corners = [(RULE.x0, RULE.y0), (RULE.x1, RULE.y0), (RULE.x1, RULE.y1)];
        let corners = corners.into_iter().chain([(RULE.x0, RULE.y1), (RULE.x0, RULE.y0)]);
        scene.polyline(&corners.map(Point::from).collect::<Vec<_>>(), Weight::Outline);
        let clear = self.now_words().bounds().inflate(0.8, 0.8);
        let after = self.draw_end(scene, self.life.nominal, "nominal", (LEFT, clear));
        self.draw_end(scene, self.life.smallest, "smallest useful", (after + 2.0, clear));
    }

    /// The name and figure of one of the rule's ends, high above it and right of its line, which
    /// leaves out what must stay clear; gives the right end of the words.
    fn draw_end(
        &self,
        scene: &mut Scene,
        diameter: Length,
        name: &str,
        (left, clear): (f64, Rect),
    ) -> f64 {
        scene.part("ends");
        let x = self.x(diameter);
        let at = |y: f64| Point::new(x, y);
        let top = RULE.y0 - NAMES_MM;
        if clear.x0 < x && x < clear.x1 {
            scene.line(at(top), at(clear.y0), Weight::Thin);
            scene.line(at(clear.y1.min(RULE.y0)), at(RULE.y1), Weight::Outline);
        } else {
            scene.line(at(top), at(RULE.y0), Weight::Thin);
            scene.line(at(RULE.y0), at(RULE.y1), Weight::Outline);
        }
        let lines = [name.to_owned(), self.size(diameter)];
        let wide = lines.iter().map(|line| width_mm(line, SMALL)).fold(0.0, f64::max);
        let x = (x + 1.2).max(left).min(RIGHT - wide);
        for (row, line) in lines.into_iter().enumerate() {
            let y = top + 2.8 + LINE_MM * row as f64;
            scene.text(Words::starting((x, y), SMALL, line));
        }
        x + wide
    }

    /// From where to where the regrinds to come stand, as far as the rule goes; where they stand
    /// too close to be told apart, all as one.
    fn future(&self) -> Vec<(f64, f64)> {
        let step = self.life.per_grind.max(Length::ZERO);
        // What a dull cutter has lost already is no more there to be taken by the next regrind.
        let now = self.x(self.life.now);
        let after = |count: u32| self.x(self.life.counted_from - step * f64::from(count)).max(now);
        let is_close = after(2) - after(1) < GRIND_MM_MIN;
        let each = if is_close { self.life.expected } else { 1 }.max(1);
        let count = self.life.expected / each;
        let edges = (0..count).map(|at| (after(at * each), after((at + 1) * each)));
        edges.filter(|(from, to)| to - from > 1e-6).collect()
    }

    /// The regrinds to come, hatched in turn.
    fn draw_future(&self, scene: &mut Scene) {
        scene.part("future regrinds");
        for (index, (from, to)) in self.future().iter().enumerate() {
            let corners = [(*from, RULE.y0), (*to, RULE.y0), (*to, RULE.y1), (*from, RULE.y1)];
            let rising = index.is_multiple_of(2);
            let hatching = if rising { Hatching::RISING } else { Hatching::FALLING };
            scene.hatched(&[corners.map(Point::from).to_vec()], hatching);
            scene.line(Point::new(*to, RULE.y0), Point::new(*to, RULE.y1), Weight::Thin);
        }
    }

    /// The figure of now, beside its pointer on the side that has more room.
    fn now_words(&self) -> Words {
        let x = self.x(self.life.now);
        let (y, words) = (RULE.y0 - 2.0, format!("now {}", self.size(self.life.now)));
        if x < RULE.center().x {
            Words::starting((x + 1.4 * POINTER_MM.0, y), LARGE, words)
        } else {
            Words::ending((x - 1.4 * POINTER_MM.0, y), LARGE, words)
        }
    }

    /// The pointer at the size of now.
    fn draw_now(&self, scene: &mut Scene) {
        scene.part("now");
        let x = self.x(self.life.now);
        let (half, high) = POINTER_MM;
        let tip = Point::new(x, RULE.y0);
        let corners = [(x - half, RULE.y0 - high), (x + half, RULE.y0 - high)].map(Point::from);
        scene.fill(&[tip, corners[0], corners[1]], Paint::Black);
        scene.line(tip, Point::new(x, RULE.y1), Weight::Outline);
        scene.text(self.now_words());
    }

    /// The count of what is left, in words.
    fn left(&self) -> String {
        let life = self.life;
        let count = match life.expected {
            0 => "No regrind".to_owned(),
            count => counted(count, "regrind", "regrinds"),
        };
        if life.least == life.greatest {
            return format!("{count} left");
        }
        format!("{count} left, {} at the least and {} at the most", life.least, life.greatest)
    }

    fn words(&self) -> Vec<String> {
        let life = self.life;
        let room = (life.now - life.smallest).show(self.system);
        let below = (life.smallest - life.now).show(self.system);
        let room = if life.now > life.smallest {
            format!("{room} of the diameter are left")
        } else if signed(life.smallest - life.now, self.system).is_none() {
            "It stands at its smallest useful size".to_owned()
        } else {
            format!("It stands {below} below its smallest useful size")
        };
        let per = life.per_grind.show(self.system);
        let change = signed(life.now - life.nominal, self.system);
        let change =
            change.map_or_else(|| "at nominal".to_owned(), |c| format!("{c} from nominal"));
        let hatched = match life.expected {
            0 => "Empty: ground away.",
            _ => "Empty: ground away. Hatched: regrinds to come.",
        };
        let untold = self.untold().unwrap_or_default();
        vec![
            format!("{}.", self.left()),
            format!("{room}; a regrind is expected to take {per}. Now {change}{}.", self.since()),
            [untold, hatched.to_owned()].join(" "),
        ]
    }

    /// What the size of now is, and since when.
    fn since(&self) -> String {
        if self.life.now_is.is_empty() { String::new() } else { format!(": {}", self.life.now_is) }
    }

    fn description(&self) -> String {
        let life = self.life;
        let each =
            life.ground.iter().map(|one| format!("{} {}", one.when, self.size(one.diameter)));
        let past = match each.collect::<Vec<_>>().join("; ") {
            past if past.is_empty() => "No regrind is on record.".to_owned(),
            past => format!("Past regrinds: {past}."),
        };
        let now = format!("a pointer at {}, the size of now", self.size(life.now));
        format!(
            "A rule from nominal {} to smallest useful {}; {now}. {past} {}",
            self.size(life.nominal),
            self.size(life.smallest),
            self.words().join(" "),
        )
    }
}

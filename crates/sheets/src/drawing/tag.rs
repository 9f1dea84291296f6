//! The tag that goes back with a cutter: what it is now, and that it is not what its shank says.

use geometry::{Angle, Length, System};
use kurbo::{Point, Rect};

use super::leaf::{counted, fitted, signed, size};
use crate::scene::{Scene, Weight, Words, arc, width_mm};

/// What is written on a tag.
#[derive(Clone, Debug, PartialEq)]
pub struct Tag {
    /// The shop's own number for the cutter.
    pub number: String,
    /// Nominal diameter, as it stands on the shank.
    pub nominal: Length,
    /// Diameter as ground.
    pub diameter: Length,
    /// The corner's or ball's radius as ground and as it was nominally; none for a square end.
    pub radius: Option<TagRadius>,
    /// Width of the chamfer over the corners of a square end.
    pub chamfer: Option<Length>,
    /// Taper of a side; where there is any, the diameter is that at the tip.
    pub taper: Angle,
    /// Length of flute that is left.
    pub flute: Length,
    /// The whole length.
    pub overall: Length,
    /// How often it has been reground, this time counted.
    pub regrind: u32,
    /// The date in plain words.
    pub date: String,
    /// Who ground it.
    pub initials: String,
}

/// The rounding of a cutter's end.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct TagRadius {
    /// As ground.
    pub ground: Length,
    /// As it was nominally.
    pub nominal: Length,
    /// Whether it is a ball's.
    pub is_ball: bool,
}

/// Width and height of a tag, in millimetres.
const TAG_MM: (f64, f64) = (70.0, 36.0);

/// Its edge within the sheet, the radius of its corners, and the hole for the wire.
const EDGE_MM: f64 = 0.8;
const CORNER_MM: f64 = 2.5;
const HOLE: (Point, f64) = (Point::new(5.2, 18.0), 1.8);

/// Left and right edge of the words.
const WORDS_X: (f64, f64) = (9.5, 66.5);

/// Sizes of type: the diameter, the number and the warning, the rest; none is set smaller than the
/// least.
const DIAMETER: f64 = 6.4;
const NUMBER: f64 = 4.4;
const NUMBER_MIN: f64 = 2.9;
const WARNING: f64 = 3.8;
const REST: f64 = 2.9;
const LEAST: f64 = 2.2;

/// Initials take no more than this.
const INITIALS_MM_MAX: f64 = 16.0;

/// The warning.
const NOT_NOMINAL: &str = "NOT NOMINAL";

/// Baselines from the top.
const NUMBER_Y: f64 = 7.6;
const DIAMETER_Y: f64 = 16.6;
const CHANGE_Y: f64 = 20.8;
const RADIUS_Y: f64 = 24.6;
const FLUTE_Y: f64 = 28.6;
const DATE_Y: f64 = 32.8;

/// The tag of a reground cutter, 70 by 36 millimetres, to be printed at its size.
pub fn tag_view(tag: &Tag, system: System) -> Scene {
    let heading = format!("Tag of cutter {}", tag.number);
    let mut scene = Scene::new(heading, tag.description(system), TAG_MM.0, TAG_MM.1);
    draw_body(&mut scene);
    let left = draw_warning(&mut scene, tag.warning(system));
    draw_number(&mut scene, &tag.number, left - 1.5 - WORDS_X.0);
    scene.part("diameter");
    let diameter = format!("⌀ {}", tag.diameter.show(system));
    line(&mut scene, DIAMETER_Y, DIAMETER, &diameter);
    line(&mut scene, CHANGE_Y, REST, &tag.change_words(system));
    scene.part("radius");
    let radius = tag.radius_words(system);
    let radius = tag.taper_words().map_or(radius.clone(), |taper| format!("{radius}; {taper}"));
    line(&mut scene, RADIUS_Y, REST, &radius);
    scene.part("rest");
    line(&mut scene, FLUTE_Y, REST, &tag.flute_words(system));
    let initials = Words::ending((WORDS_X.1, DATE_Y), REST, &tag.initials);
    let initials = fitted(initials, INITIALS_MM_MAX, LEAST);
    let room = initials.bounds().x0 - 2.0 - WORDS_X.0;
    scene.text(initials);
    scene.text(fitted(Words::starting((WORDS_X.0, DATE_Y), REST, &tag.date), room, LEAST));
    scene
}

/// The cutter's number, in two lines where it is too long for one.
fn draw_number(scene: &mut Scene, number: &str, room_mm: f64) {
    scene.part("number");
    let one = Words::starting((WORDS_X.0, NUMBER_Y), NUMBER, number);
    if width_mm(number, NUMBER_MIN) <= room_mm {
        return scene.text(fitted(one, room_mm, NUMBER_MIN));
    }
    let fits = |text: &str| width_mm(text, LEAST) <= room_mm;
    let mut ends = number.char_indices().map(|(at, _)| at).filter(|at| fits(&number[..*at]));
    let longest = ends.next_back().unwrap_or(0);
    // Between words where there are any, else where the line is full.
    let at = number[..longest].rfind(' ').filter(|at| *at > 0).unwrap_or(longest);
    let (first, second) = number.split_at(at);
    for (words, y) in [(first, NUMBER_Y - 2.2), (second, NUMBER_Y + 1.0)] {
        let words = Words::starting((WORDS_X.0, y), LEAST, words.trim());
        scene.text(fitted(words, room_mm, LEAST));
    }
}

/// One line of words, set smaller where it must.
fn line(scene: &mut Scene, y: f64, size_mm: f64, words: &str) {
    let words = Words::starting((WORDS_X.0, y), size_mm, words);
    scene.text(fitted(words, WORDS_X.1 - WORDS_X.0, LEAST));
}

fn draw_body(scene: &mut Scene) {
    scene.part("tag");
    let edge = Rect::new(0.0, 0.0, TAG_MM.0, TAG_MM.1).inset(-EDGE_MM);
    let path = kurbo::Shape::to_path(&edge.to_rounded_rect(CORNER_MM), 0.01);
    scene.stroke(path, Weight::Outline);
    scene.part("hole");
    scene.stroke(arc(HOLE.0, HOLE.1, 0.0, std::f64::consts::TAU), Weight::Thin);
}

/// The warning in the right upper corner, in a heavy frame unless all is nominal; gives its left
/// edge.
fn draw_warning(scene: &mut Scene, warning: &str) -> f64 {
    scene.part("warning");
    let half = 0.5 * width_mm(warning, WARNING) + 0.8;
    let middle = WORDS_X.1 - half;
    scene.text(Words::about((middle, NUMBER_Y), WARNING, warning));
    let frame = Rect::new(middle - half, NUMBER_Y - 4.2, middle + half, NUMBER_Y + 1.6);
    // Two heavy lines about a warning: a tag is read at a glance.
    if warning == NOT_NOMINAL {
        for frame in [frame, frame.inset(0.8)] {
            scene.stroke(kurbo::Shape::to_path(&frame, 0.01), Weight::Outline);
        }
    }
    frame.x0 - 0.8
}

impl Tag {
    /// Whether every size shows as its nominal one.
    pub(crate) fn is_nominal(&self, system: System) -> bool {
        let radius = self.radius.map(|radius| radius.ground - radius.nominal);
        let changes = [Some(self.diameter - self.nominal), radius];
        changes.into_iter().flatten().all(|change| signed(change, system).is_none())
    }

    pub(crate) fn warning(&self, system: System) -> &'static str {
        if self.is_nominal(system) { "NOMINAL SIZE" } else { NOT_NOMINAL }
    }

    pub(crate) fn change_words(&self, system: System) -> String {
        let nominal = size(self.nominal, system);
        match signed(self.diameter - self.nominal, system) {
            Some(change) => format!("{change} from nominal {nominal}"),
            None => format!("nominal {nominal}"),
        }
    }

    pub(crate) fn radius_words(&self, system: System) -> String {
        let Some(radius) = self.radius else {
            let chamfer =
                self.chamfer.map(|chamfer| format!(", chamfer {}", size(chamfer, system)));
            return format!("square end{}", chamfer.unwrap_or_default());
        };
        let which = if radius.is_ball { "ball" } else { "corner" };
        let ground = radius.ground.show(system);
        let nominal = size(radius.nominal, system);
        match signed(radius.ground - radius.nominal, system) {
            Some(change) => format!("{which} R {ground}, {change} from {nominal}"),
            None => format!("{which} R {ground}, nominal {nominal}"),
        }
    }

    /// What the diameter holds for, where it is not the same all along.
    pub(crate) fn taper_words(&self) -> Option<String> {
        let taper = self.taper.show();
        (self.taper > Angle::ZERO).then(|| format!("at the tip, taper {taper} a side"))
    }

    pub(crate) fn flute_words(&self, system: System) -> String {
        let (flute, overall) = (size(self.flute, system), size(self.overall, system));
        let lengths = format!("flute left {flute}, overall {overall}");
        match self.regrind {
            0 => format!("{lengths}, not reground"),
            1 => format!("{lengths}, first regrind"),
            count => format!("{lengths}, regrind {count}"),
        }
    }

    pub(crate) fn description(&self, system: System) -> String {
        format!(
            "Tag of cutter {}: {}. Diameter {}{}, {}. {}. {}; {}. {}, {}.",
            self.number,
            self.warning(system).to_lowercase(),
            self.diameter.show(system),
            self.taper_words().map(|taper| format!(" {taper}")).unwrap_or_default(),
            self.change_words(system),
            self.radius_words(system),
            self.flute_words(system),
            counted(self.regrind, "regrind", "regrinds"),
            self.date,
            self.initials
        )
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn tag() -> Tag {
        Tag {
            number: "K-117".to_owned(),
            nominal: Length::from_inches(0.5),
            diameter: Length::from_inches(0.487),
            radius: None,
            chamfer: None,
            taper: Angle::ZERO,
            flute: Length::from_inches(1.0),
            overall: Length::from_inches(3.25),
            regrind: 2,
            date: "3 May".to_owned(),
            initials: "AB".to_owned(),
        }
    }

    #[test]
    fn only_a_cutter_whose_sizes_all_show_as_nominal_is_called_so() {
        let inch = System::Inch;
        assert_eq!(tag().warning(inch), "NOT NOMINAL");
        let full = Tag { diameter: Length::from_inches(0.5), ..tag() };
        assert_eq!(full.warning(inch), "NOMINAL SIZE");
        let radius = |ground: f64| TagRadius {
            ground: Length::from_thou(ground),
            nominal: Length::from_thou(30.0),
            is_ball: false,
        };
        let worn = Tag { radius: Some(radius(28.0)), ..full.clone() };
        assert_eq!(worn.warning(inch), "NOT NOMINAL");
        let kept = Tag { radius: Some(radius(30.0)), ..full };
        assert_eq!(kept.warning(inch), "NOMINAL SIZE");
    }

    /// Nobody recorded that a corner is sharp, so the tag does not say so; it names the form.
    #[test]
    fn an_end_is_named_by_its_form() {
        assert_eq!(tag().radius_words(System::Inch), "square end");
        let chamfer = Tag { chamfer: Some(Length::from_mm(0.25)), ..tag() };
        assert_eq!(chamfer.radius_words(System::Millimetre), "square end, chamfer 0.25 mm");
        let (ground, nominal) = (Length::from_mm(2.9), Length::from_mm(3.0));
        let ball = TagRadius { ground, nominal, is_ball: true };
        let ball = Tag { radius: Some(ball), ..tag() };
        assert!(ball.radius_words(System::Millimetre).starts_with("ball R 2.900 mm"));
    }

    /// A diameter that holds at one end alone says at which.
    #[test]
    fn a_tapered_cutter_says_where_its_diameter_holds() {
        assert_eq!(tag().taper_words(), None);
        let tapered = Tag { taper: Angle::from_degrees(1.5), ..tag() };
        let words = tapered.description(System::Inch);
        assert!(words.contains("Diameter 0.4870 in at the tip, taper 1.50 deg a side"), "{words}");
    }
}

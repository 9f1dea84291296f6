//! The bar by which a drawing is measured, however large it is printed.

use geometry::{Length, System};
use kurbo::Point;

use super::{Paint, Scale, Scene, Weight, Words};

/// Height of a bar.
const BAR_MM: f64 = 1.6;

/// Size of the words at a bar.
const WORDS_MM: f64 = 3.4;

/// Number of fields, black and white in turn.
const FIELDS: u32 = 4;

/// The longest whole length, in the leading figures that people count in, that takes no more than
/// so much paper.
fn whole_length(scale: Scale, system: System, paper_mm: f64) -> Length {
    let unit = match system {
        System::Inch => Length::from_inches(1.0),
        System::Millimetre => Length::from_mm(1.0),
    };
    let most = paper_mm / scale.factor() / unit.mm();
    let ten = 10.0_f64.powi(most.log10().floor() as i32);
    let figure = [5.0, 2.0, 1.0].into_iter().find(|figure| figure * ten <= most * (1.0 + 1e-9));
    unit * (figure.unwrap_or(1.0) * ten)
}

/// A length without the zeros that say nothing.
fn plain(length: Length, system: System) -> String {
    let value = match system {
        System::Inch => length.inches(),
        System::Millimetre => length.mm(),
    };
    let digits = format!("{value:.6}");
    format!("{} {}", digits.trim_end_matches('0').trim_end_matches('.'), system.unit())
}

impl Scene {
    /// Draws a bar whose left lower corner stands at a place, with its length above its end; gives
    /// the length that it stands for.
    pub fn scale_bar(&mut self, at: Point, scale: Scale, system: System, most_mm: f64) -> Length {
        let length = whole_length(scale, system, most_mm);
        let paper_mm = length.mm() * scale.factor();
        let corner = |share: f64, up_mm: f64| Point::new(at.x + share * paper_mm, at.y - up_mm);
        let frame = [(0.0, 0.0), (1.0, 0.0), (1.0, BAR_MM), (0.0, BAR_MM), (0.0, 0.0)];
        self.polyline(&frame.map(|(share, up)| corner(share, up)), Weight::Thin);
        for field in (0..FIELDS).step_by(2) {
            let (from, to) = (share(field), share(field + 1));
            let field = [(from, 0.0), (to, 0.0), (to, BAR_MM), (from, BAR_MM)];
            self.fill(&field.map(|(share, up)| corner(share, up)), Paint::Black);
        }
        let beside = Point::new(at.x + paper_mm + 1.5, at.y);
        self.text(Words::starting(beside, WORDS_MM, plain(length, system)));
        length
    }
}

fn share(field: u32) -> f64 {
    f64::from(field) / f64::from(FIELDS)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_bar_is_as_long_as_it_says() {
        for (thing, system) in
            [(3.0, System::Inch), (0.7, System::Millimetre), (60.0, System::Inch)]
        {
            let scale = Scale::fitting(thing, 120.0);
            let mut scene = Scene::new(String::new(), String::new(), 180.0, 20.0);
            let length = scene.scale_bar(Point::new(5.0, 15.0), scale, system, 40.0);
            let drawn = scene.marks().next().map_or(0.0, |mark| mark.bounds().width());
            assert!((drawn - length.mm() * scale.factor()).abs() < 1e-9);
            assert!((15.0..=40.0 + 1e-9).contains(&drawn), "{drawn}");
            let said: Length = scene.words().next().unwrap().text.parse().unwrap();
            assert!((said - length).abs().mm() < 1e-9);
        }
    }
}

//! Writing a scene as SVG, the same bytes for the same scene.

use std::fmt::{self, Display, Formatter, Write};

use kurbo::{BezPath, PathEl, Point};

use super::{Anchor, Face, Mark, Paint, Part, Scene, Weight, Words};

/// Decimals of a millimetre that are written; a thousandth is far finer than any printer's dot.
const DECIMALS: usize = 3;

impl Scene {
    /// The picture as an SVG file: millimetres throughout, a white sheet below, the title and the
    /// description for readers who cannot see it.
    pub fn to_svg(&self) -> String {
        let (width, height) = (Number(self.paper.width()), Number(self.paper.height()));
        let mut svg = format!(
            "<svg xmlns=\"http://www.w3.org/2000/svg\" width=\"{width}mm\" height=\"{height}mm\" \
             viewBox=\"0 0 {width} {height}\" role=\"img\">\n<title>{}</title>\n<desc>{}</desc>\n\
             <rect width=\"{width}\" height=\"{height}\" fill=\"white\"/>\n",
            escaped(&self.title),
            escaped(&self.description),
        );
        svg.push_str(
            "<g fill=\"none\" stroke=\"black\" stroke-linecap=\"round\" \
             stroke-linejoin=\"round\" font-family=\"DejaVu Sans, sans-serif\">\n",
        );
        self.parts.iter().for_each(|part| push_part(&mut svg, part));
        svg.push_str("</g>\n</svg>\n");
        svg
    }
}

/// Writing to a text cannot fail, so its answer says nothing.
macro_rules! push {
    ($svg:expr, $($what:tt)*) => {
        let _ = writeln!($svg, $($what)*);
    };
}

fn push_part(svg: &mut String, part: &Part) {
    push!(svg, "<g class=\"{}\">", escaped(&part.name.replace(' ', "-")));
    part.marks.iter().for_each(|mark| push_mark(svg, mark));
    svg.push_str("</g>\n");
}

fn push_mark(svg: &mut String, mark: &Mark) {
    match mark {
        Mark::Stroke { path, weight } => {
            push!(svg, "<path d=\"{}\"{}/>", Data(path), stroke(*weight));
        }
        Mark::Fill { path, paint } => {
            let fill = match paint {
                Paint::Black => "black",
                Paint::White => "white",
            };
            push!(svg, "<path d=\"{}\" fill=\"{fill}\" stroke=\"none\"/>", Data(path));
        }
        Mark::Text(words) => push_words(svg, words),
    }
}

fn stroke(weight: Weight) -> String {
    let width = Number(weight.width_mm());
    let dashes: Vec<String> =
        weight.dashes_mm().iter().map(|dash| Number(*dash).to_string()).collect();
    if dashes.is_empty() {
        format!(" stroke-width=\"{width}\"")
    } else {
        // A round cap would fill half of each gap.
        let dashes = dashes.join(" ");
        format!(" stroke-width=\"{width}\" stroke-dasharray=\"{dashes}\" stroke-linecap=\"butt\"")
    }
}

fn push_words(svg: &mut String, words: &Words) {
    let anchor = match words.anchor {
        Anchor::Start => "start",
        Anchor::Middle => "middle",
        Anchor::End => "end",
    };
    let bold = if words.face == Face::Bold { " font-weight=\"bold\"" } else { "" };
    push!(
        svg,
        "<text x=\"{}\" y=\"{}\" font-size=\"{}\" text-anchor=\"{anchor}\"{bold} fill=\"black\" \
         stroke=\"none\">{}</text>",
        Number(words.at.x),
        Number(words.at.y),
        Number(words.size_mm),
        escaped(&words.text)
    );
}

/// A path in the letters of SVG.
struct Data<'a>(&'a BezPath);

impl Display for Data<'_> {
    fn fmt(&self, f: &mut Formatter<'_>) -> fmt::Result {
        for element in self.0.elements() {
            let (letter, points): (char, &[Point]) = match element {
                PathEl::MoveTo(to) => ('M', &[*to]),
                PathEl::LineTo(to) => ('L', &[*to]),
                PathEl::QuadTo(control, to) => ('Q', &[*control, *to]),
                PathEl::CurveTo(first, second, to) => ('C', &[*first, *second, *to]),
                PathEl::ClosePath => ('Z', &[]),
            };
            f.write_char(letter)?;
            for (index, point) in points.iter().enumerate() {
                let space = if index == 0 { "" } else { " " };
                write!(f, "{space}{} {}", Number(point.x), Number(point.y))?;
            }
        }
        Ok(())
    }
}

/// A number with fixed decimals, its trailing zeros cut; zero has no sign, and what is no number
/// is written as zero rather than as an attribute that no reader accepts.
struct Number(f64);

impl Display for Number {
    fn fmt(&self, f: &mut Formatter<'_>) -> fmt::Result {
        match thousandths(self.0) {
            Some(thousandths) => write_thousandths(f, thousandths),
            None => f.write_str(&rounded(self.0)),
        }
    }
}

/// A number in thousandths, rounded; none where it is no number, too large, or so near the middle
/// between two that only all of its digits tell which one is nearer.
fn thousandths(value: f64) -> Option<i64> {
    let scaled = value * 1e3;
    let whole = scaled.round();
    (scaled.abs() < 1e9 && (scaled - whole).abs() < 0.4999).then_some(whole as i64)
}

fn write_thousandths(f: &mut Formatter<'_>, thousandths: i64) -> fmt::Result {
    if thousandths < 0 {
        f.write_char('-')?;
    }
    let (whole, rest) = (thousandths.unsigned_abs() / 1000, thousandths.unsigned_abs() % 1000);
    match (rest, rest % 10, rest % 100) {
        (0, ..) => write!(f, "{whole}"),
        (_, _, 0) => write!(f, "{whole}.{}", rest / 100),
        (_, 0, _) => write!(f, "{whole}.{:02}", rest / 10),
        _ => write!(f, "{whole}.{rest:03}"),
    }
}

/// The same by all of a number's digits.
fn rounded(value: f64) -> String {
    let value = if value.is_finite() { value } else { 0.0 };
    let text = format!("{value:.DECIMALS$}");
    let text = text.trim_end_matches('0').trim_end_matches('.');
    if text == "-0" { "0".to_owned() } else { text.to_owned() }
}

/// A text in which XML reads nothing else; letters that XML does not know are left out.
fn escaped(text: &str) -> String {
    let mut safe = String::with_capacity(text.len());
    for letter in text.chars() {
        match letter {
            '&' => safe.push_str("&amp;"),
            '<' => safe.push_str("&lt;"),
            '>' => safe.push_str("&gt;"),
            '"' => safe.push_str("&quot;"),
            '\n' | '\t' => safe.push(' '),
            '\u{FFFE}' | '\u{FFFF}' => {}
            other if other < ' ' => {}
            other => safe.push(other),
        }
    }
    safe
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn numbers_are_fixed_and_plain() {
        let numbers = [1.0, -0.0001, 12.34567, 100.0, f64::NAN, -2.5, 7.05, 0.0625, 1e10];
        let written = numbers.map(|number| Number(number).to_string());
        assert_eq!(
            written,
            ["1", "0", "12.346", "100", "0", "-2.5", "7.05", "0.062", "10000000000"]
        );
    }

    /// The short way to the digits writes what the standard library's rounding of all digits does.
    #[test]
    fn thousandths_are_those_of_all_digits() {
        let mut random = 20_261_130_u64;
        for _ in 0..20_000 {
            random = random.wrapping_mul(6_364_136_223_846_793_005).wrapping_add(1);
            let value = (random >> 33) as f64 / 1e6 - 1000.0;
            for value in [value, (value * 16.0).round() / 16.0, value / 1e4] {
                assert_eq!(Number(value).to_string(), rounded(value), "{value}");
            }
        }
    }

    #[test]
    fn words_cannot_break_out() {
        let mut scene = Scene::new("a < b".into(), "\"c\" & d\u{1}".into(), 10.0, 5.0);
        scene.text(Words::starting((1.0, 4.0), 3.0, "</text><script>"));
        let svg = scene.to_svg();
        assert!(svg.contains("<title>a &lt; b</title>\n<desc>&quot;c&quot; &amp; d</desc>"));
        assert!(svg.contains(">&lt;/text&gt;&lt;script&gt;</text>"));
        assert!(svg.starts_with("<svg xmlns=\"http://www.w3.org/2000/svg\" width=\"10mm\""));
        assert!(svg.contains("viewBox=\"0 0 10 5\""));
    }

    #[test]
    fn a_path_is_written_in_full() {
        let mut path = BezPath::new();
        path.move_to((0.0, 1.0));
        path.line_to((2.0, 3.5));
        path.quad_to((4.0, 5.0), (6.0, 7.0));
        path.curve_to((1.0, 1.0), (2.0, 2.0), (3.0, 3.0));
        path.close_path();
        assert_eq!(Data(&path).to_string(), "M0 1L2 3.5Q4 5 6 7C1 1 2 2 3 3Z");
    }
}

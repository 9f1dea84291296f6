//! Reading drawings back.

use kurbo::{BezPath, Line, ParamCurve, PathSeg, Point, Rect, segments};
use sheets::scene::{Mark, Scene};

/// The words of the parts of a name.
pub(crate) fn texts(scene: &Scene, part: &str) -> Vec<String> {
    let parts = scene.parts().iter().filter(|found| found.name == part);
    let marks = parts.flat_map(|part| &part.marks);
    let words = marks.filter_map(|mark| match mark {
        Mark::Text(words) => Some(words.text.clone()),
        _ => None,
    });
    words.collect()
}

/// A path as straight pieces.
pub(crate) fn pieces(path: &BezPath) -> Vec<Line> {
    let mut flat = Vec::new();
    kurbo::flatten(path, 0.02, |element| flat.push(element));
    let lines = segments(flat).filter_map(|segment| match segment {
        PathSeg::Line(line) => Some(line),
        _ => None,
    });
    lines.collect()
}

/// Whether a path comes into an area; it is looked at every twentieth of a millimetre.
pub(crate) fn comes_into(path: &BezPath, area: Rect) -> bool {
    let near = |piece: &Line| {
        let bounds = Rect::from_points(piece.p0, piece.p1).inflate(0.1, 0.1);
        bounds.intersect(area).area() > 0.0
    };
    pieces(path).into_iter().filter(near).any(|piece| {
        let steps = ((piece.p1 - piece.p0).hypot() / 0.05).ceil().max(1.0);
        let at = |step: u32| -> Point { piece.eval(f64::from(step) / steps) };
        (0..=steps as u32).any(|step| area.contains(at(step)))
    })
}

/// The names of a file's elements in order, or what is wrong with it as XML.
pub(crate) fn elements(xml: &str) -> Result<Vec<String>, String> {
    let (mut names, mut open) = (Vec::new(), Vec::<String>::new());
    let mut rest = xml;
    while let Some(start) = rest.find('<') {
        check_text(&rest[..start])?;
        let end = rest.find('>').ok_or("a tag is not closed")?;
        let tag = &rest[start + 1..end];
        rest = &rest[end + 1..];
        if let Some(name) = tag.strip_prefix('/') {
            if open.pop().as_deref() != Some(name) {
                return Err(format!("</{name}> closes nothing"));
            }
            continue;
        }
        let body = tag.strip_suffix('/').unwrap_or(tag);
        let name = body.split(' ').next().unwrap_or_default().to_owned();
        check_attributes(&body[name.len()..])?;
        if open.is_empty() && !names.is_empty() {
            return Err(format!("<{name}> stands outside the root"));
        }
        names.push(name.clone());
        if !tag.ends_with('/') {
            open.push(name);
        }
    }
    if !open.is_empty() || !rest.trim().is_empty() {
        return Err(format!("left open: {open:?}, left over: {rest:?}"));
    }
    Ok(names)
}

fn check_text(text: &str) -> Result<(), String> {
    if text.contains('>') || text.chars().any(|letter| letter < ' ' && letter != '\n') {
        return Err(format!("mark-up in {text:?}"));
    }
    let known = ["&amp;", "&lt;", "&gt;", "&quot;"];
    let mut pieces = text.split('&').skip(1);
    let is_known = |piece: &str| known.iter().any(|name| piece.starts_with(&name[1..]));
    if pieces.all(is_known) { Ok(()) } else { Err(format!("a bare & in {text:?}")) }
}

fn check_attributes(mut rest: &str) -> Result<(), String> {
    let mut seen = Vec::new();
    while !rest.trim().is_empty() {
        let (name, after) = rest.split_once("=\"").ok_or(format!("no value in {rest:?}"))?;
        let (value, after) = after.split_once('"').ok_or(format!("no end in {after:?}"))?;
        let name = name.trim().to_owned();
        let is_name = name.chars().all(|letter| letter.is_ascii_alphanumeric() || letter == '-');
        if name.is_empty() || !is_name || value.contains('<') || seen.contains(&name) {
            return Err(format!("attribute {name:?} = {value:?}"));
        }
        check_text(value)?;
        seen.push(name);
        rest = after;
    }
    Ok(())
}

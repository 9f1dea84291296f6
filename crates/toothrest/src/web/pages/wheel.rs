//! One wheel: its size now, what its maker marked on it, what was done to it and with it.

use askama::Template;
use axum::extract::Path;
use axum::response::Response;
use sheets::text::Units;
use shop::book::{Stage, whole_history};
use shop::record::{Wheel, WheelForm};

use super::cutter::Figure;
use super::record::{Line, lines, wrong};
use super::wheel_use::{Use, grinds, learned, left_out, uses};
use super::wheels::{form_words, grain_words, looked_words, mark_words, place_words, system_of};
use crate::desk::WheelAt;
use crate::web::fault::Fault;
use crate::web::page::{Frame, drawn};
use crate::web::visit::Visit;

#[derive(Template)]
#[template(path = "wheel.html")]
struct WheelPage {
    frame: Frame,
    id: String,
    number: String,
    about: String,
    place: String,
    is_gone: bool,
    is_mounted: bool,
    seen: u64,
    figures: Vec<Figure>,
    marked: Vec<Figure>,
    marks: Vec<String>,
    picture: String,
    learned: Vec<Figure>,
    left_out: Vec<String>,
    uses: Vec<Use>,
    history: Vec<Line>,
    wrong: Vec<String>,
    /// Machines that it is of no use on, and why.
    not_on: Vec<(String, String)>,
}

/// Shows a wheel.
pub(super) async fn show(visit: Visit, Path(id): Path<String>) -> Result<Response, Fault> {
    let wheel = visit.desk.wheel(&id).await?;
    let record = &wheel.state.wheel;
    let system = system_of(&visit, record);
    let frame = Frame::new(&visit, "wheels", record.number()).in_system(system);
    let units = frame.units();
    let latest = visit.desk.latest(&wheel.subject).await?;
    let history = whole_history(visit.desk.book(), &wheel.subject).await?;
    let grinds = grinds(&visit, &wheel).await?;
    drawn(&WheelPage {
        number: record.number().to_owned(),
        about: format!("{}; {}", form_words(record), grain_words(record)),
        place: place_words(&visit, &wheel).await?,
        is_gone: wheel.is_gone,
        is_mounted: wheel.state.stage == Stage::Mounted,
        seen: wheel.seen,
        figures: figures(&visit, &wheel, units).await?,
        marked: marked(record, units),
        marks: wheel.state.marks.clone(),
        picture: super::scale::wheel_picture(record, system),
        learned: learned(&visit, &wheel, units).await?,
        left_out: left_out(&visit, &wheel).await?,
        uses: uses(&visit, &grinds, units).await?,
        history: lines(&visit, &history, units).await?,
        wrong: wrong(&latest),
        not_on: match wheel.is_gone {
            true => Vec::new(),
            false => visit.desk.benches().await?.against_wheel(record),
        },
        frame,
        id,
    })
}

async fn figures(visit: &Visit, wheel: &WheelAt, units: Units) -> Result<Vec<Figure>, Fault> {
    let record = &wheel.state.wheel;
    let rim = record.rim_width().map(|rim| format!("of a rim of {}", units.length(rim)));
    let corner = record.corner_radius();
    let sharp = if corner.mm() > 0.0 { "its radius" } else { "as dressed" };
    let looked = looked_words(visit, wheel).await?;
    Ok(vec![
        Figure::new("diameter now", units.length(record.diameter()), ""),
        Figure::new(depth_words(record), units.length(record.depth()), ""),
        Figure::new("face", units.length(record.face_width()), rim.unwrap_or_default()),
        Figure::new("worn corner", units.length(corner), sharp),
        Figure::new("dressed", times(wheel.state.dressings), ""),
        Figure::new("last looked over", looked, ""),
    ])
}

/// What the depth of such a wheel is called.
fn depth_words(wheel: &Wheel) -> &'static str {
    match wheel.shape().form() {
        WheelForm::Straight => "thickness",
        WheelForm::StraightCup | WheelForm::FlaringCup | WheelForm::Dish => "height now",
    }
}

fn times(count: u32) -> String {
    match count {
        0 => "not yet".to_owned(),
        1 => "once".to_owned(),
        count => format!("{count} times"),
    }
}

fn marked(wheel: &Wheel, units: Units) -> Vec<Figure> {
    let most = "the spindle never faster than this";
    let mut figures = vec![Figure::new("highest speed", mark_words(wheel), most)];
    if let Some(speed) = wheel.marked_speed_m_per_s() {
        figures.push(Figure::new("highest surface speed", units.surface(speed), ""));
    }
    let bore = units.nominal(wheel.bore());
    figures.push(Figure::new("bore", bore, ""));
    let wall = wheel.wall_angle().map(|angle| angle.show().to_string());
    let meant = wheel.coolant().map(|coolant| coolant.to_string());
    figures.extend(wall.map(|wall| Figure::new("wall", wall, "from the axis")));
    figures.extend(meant.map(|meant| Figure::new("to be ground", meant, "")));
    figures
}

//! What a wheel has ground, and what its grinds say of the next one.

use geometry::Length;
use sheets::text::Units;
use shop::Ctx;
use shop::book::{Entry, Event, Store, SubjectKind};
use shop::learn::{Learned, LeftOut, dial_to_stock, wheel_wear};

use super::cutter::Figure;
use super::record::name_of;
use crate::desk::WheelAt;
use crate::web::fault::Fault;
use crate::web::visit::Visit;

/// So many grinds are shown.
const GRINDS: u32 = 40;

/// One cutter that the wheel ground.
pub(super) struct Use {
    pub(super) id: String,
    pub(super) number: String,
    pub(super) at: String,
    pub(super) size: String,
    pub(super) travel: String,
}

/// The last grinds with this wheel.
pub(super) async fn grinds(visit: &Visit, wheel: &WheelAt) -> Result<Vec<Entry>, Fault> {
    Ok(visit.desk.book().ground_with(&wheel.subject.id, GRINDS).await?)
}

/// The grinds as rows.
pub(super) async fn uses(visit: &Visit, grinds: &[Entry], units: Units) -> Result<Vec<Use>, Fault> {
    let mut uses = Vec::new();
    for entry in grinds {
        let Event::Ground(ground) = &entry.event else { continue };
        let shown = |length: Option<Length>| length.map(|length| units.length(length));
        let id = &entry.subject.id;
        uses.push(Use {
            id: id.to_string(),
            number: name_of(visit, SubjectKind::Cutter, id).await?,
            at: visit.zone.day(entry.stamp.at),
            size: shown(ground.diameter_after).unwrap_or_default(),
            travel: shown(ground.travel).unwrap_or_default(),
        });
    }
    Ok(uses)
}

/// What the wheel's own grinds say, as figures.
pub(super) async fn learned(
    visit: &Visit,
    wheel: &WheelAt,
    units: Units,
) -> Result<Vec<Figure>, Fault> {
    let tables = visit.desk.tables().await?;
    let ctx = Ctx { tables: &tables };
    let history = &visit.desk.wheel_history(wheel).await?.history;
    let ratio = dial_to_stock(&ctx, history)?;
    let wear = wheel_wear(&ctx, wheel.state.wheel.abrasive(), history)?;
    Ok(vec![ratio_figure(&ratio), wear_figure(&wear, units)])
}

/// The grinds that teach the shop nothing of this wheel, each with why.
pub(super) async fn left_out(visit: &Visit, wheel: &WheelAt) -> Result<Vec<String>, Fault> {
    let history = visit.desk.wheel_history(wheel).await?;
    let words = |one: &LeftOut| format!("{}: {}", one.entry, one.why);
    Ok(history.left_out.iter().map(words).collect())
}

fn ratio_figure(ratio: &Learned<f64>) -> Figure {
    let band = format!("{:.2} to {:.2}; {}", ratio.least, ratio.greatest, ratio.words());
    Figure::new("comes off for 1 on the dial", format!("{:.2}", ratio.value), band)
}

fn wear_figure(wear: &Learned<Length>, units: Units) -> Figure {
    let least = wear.least.max(Length::ZERO);
    let band = format!("{} to {}", units.length(least), units.length(wear.greatest));
    let words = format!("{band}; {}", wear.words());
    Figure::new("its face loses over a cutter", units.length(wear.value), words)
}

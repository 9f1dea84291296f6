//! What a regrind costs against a new cutter, and at which wear land to pull the next.

use std::iter::once;

use askama::Template;
use axum::extract::{Path, Query};
use axum::response::Response;
use geometry::{Length, System};
use sheets::paper::comes_off;
use sheets::text::{Units, describe};
use shop::book::whole_history;
use shop::cost::{
    LotCutter, LotQuote, Money, Prices, Pull, PullBound, PullCutter, Quote, WearReading,
    pull_cutter, quote_lot,
};
use shop::learn::{CutterHistory, cutter_history};
use shop::{Ctx, ShopError};

use super::cutter::Figure;
use super::units;
use crate::desk::CutterAt;
use crate::web::fault::Fault;
use crate::web::form::{Entries, Field, Form, Group};
use crate::web::page::{Frame, drawn};
use crate::web::visit::Visit;

/// So many readings of wear can be typed.
const READINGS: usize = 4;

#[derive(Template)]
#[template(path = "cost.html")]
struct CostPage {
    frame: Frame,
    id: String,
    number: String,
    about: String,
    has_prices: bool,
    problem: String,
    figures: Vec<Figure>,
    form: Form,
    pull: Vec<Figure>,
}

/// Shows what it costs; with readings of wear in the address, when to pull the next one.
pub(super) async fn show(
    visit: Visit,
    Path(id): Path<String>,
    Query(typed): Query<Vec<(String, String)>>,
) -> Result<Response, Fault> {
    let cutter = visit.desk.cutter(&id).await?;
    let record = &cutter.state.cutter;
    let entries = Entries::of(typed);
    let switched = entries.switch();
    let system = switched.unwrap_or_else(|| visit.system_of(record));
    let form = form(&id, system).fill(&entries).switched(system);
    let heading = format!("Cost of {}", record.number());
    let frame = Frame::new(&visit, "tray", heading).with_form().in_system(system);
    let mut page = CostPage {
        number: record.number().to_owned(),
        about: describe(record, frame.units()),
        has_prices: false,
        problem: String::new(),
        figures: Vec::new(),
        pull: Vec::new(),
        frame,
        id,
        form,
    };
    if let Some(prices) = visit.desk.prices().await? {
        page.has_prices = true;
        reckon(&visit, &cutter, &prices, &mut page).await?;
    }
    let page = drawn(&page)?;
    Ok(match switched {
        Some(to) => units::with(to, page),
        None => page,
    })
}

fn form(id: &str, system: System) -> Form {
    let reading = |at: usize| {
        [
            Field::text(format!("parts[{at}]"), format!("parts, reading {}", at + 1)),
            Field::length(format!("wear[{at}]"), format!("wear land, reading {}", at + 1)),
        ]
    };
    let readings = (0..READINGS).flat_map(reading).collect();
    let rows = (1..=READINGS).map(|at| at.to_string()).collect();
    let change =
        Field::text("change", "A change costs").hint("the machine's standing, a new offset");
    Form::new(format!("/cutters/{id}/cost"), "When to pull it?")
        .shown_in(system)
        .group(Group::new("", vec![change]))
        .group(
            Group::new("", readings)
                .table(vec!["Parts since sharp".to_owned(), "Wear land".to_owned()], rows),
        )
}

async fn reckon(
    visit: &Visit,
    cutter: &CutterAt,
    prices: &Prices,
    page: &mut CostPage,
) -> Result<(), Fault> {
    let tables = visit.desk.tables().await?;
    let ctx = Ctx { tables: &tables };
    let record = &cutter.state.cutter;
    let history = whole_history(visit.desk.book(), &cutter.subject).await?;
    let known = cutter_history(&history).history;
    let end_asked = visit.desk.plans_end(cutter).await?;
    let lot = [LotCutter { cutter: record, wheel: None, history: &known, end_asked }];
    match quote_lot(&ctx, prices, &lot) {
        Ok(quote) => {
            page.figures = figures(&prices.currency, &quote, page.frame.units());
        }
        Err(error) => page.problem = error.to_string(),
    }
    match asked(&page.form) {
        Ok(None) => {}
        Ok(Some((change, readings))) => {
            let found = pulled(&ctx, prices, cutter, &known, change, &readings);
            match found {
                Ok(pull) => page.pull = pull_figures(&prices.currency, &pull, page.frame.units()),
                Err(error) => page.form.blame_key("", &error.to_string()),
            }
        }
        Err((field, words)) => page.form.blame_key(&field, &words),
    }
    Ok(())
}

fn pulled(
    ctx: &Ctx<'_>,
    prices: &Prices,
    cutter: &CutterAt,
    known: &CutterHistory,
    change: Money,
    readings: &[WearReading],
) -> Result<Pull, ShopError> {
    let cutter = &cutter.state.cutter;
    pull_cutter(ctx, prices, &PullCutter { cutter, known, wheel: None, change, readings })
}

/// What was typed: what a change costs, and the readings; nothing where nothing was typed, and
/// which field is wrong where one is.
type Asked = Option<(Money, Vec<WearReading>)>;

fn asked(form: &Form) -> Result<Asked, (String, String)> {
    let of = |name: &str| form.fields().find(|field| field.name == name);
    let typed = |name: &str| of(name).map(|field| field.value.trim()).unwrap_or_default();
    let number = |name: &str| {
        let read = typed(name).replace(',', ".").parse::<f64>().ok();
        let fits = read.filter(|number| number.is_finite() && *number >= 0.0);
        fits.ok_or_else(|| (name.to_owned(), "write a number, 0 or more".to_owned()))
    };
    let mut readings = Vec::new();
    for at in 0..READINGS {
        let (parts, wear) = (format!("parts[{at}]"), format!("wear[{at}]"));
        if typed(&parts).is_empty() && typed(&wear).is_empty() {
            continue;
        }
        let text = of(&wear).map(|field| field.with_unit(form.system)).unwrap_or_default();
        let wear_land: Result<Length, _> = text.parse();
        let wear_land = wear_land.map_err(|error| (wear.clone(), error.to_string()))?;
        readings.push(WearReading { parts: number(&parts)?, wear_land });
    }
    if readings.is_empty() {
        return Ok(None);
    }
    let change = if typed("change").is_empty() { 0.0 } else { number("change")? };
    Ok(Some((Money::from_amount(change), readings)))
}

fn money(currency: &str, amount: Money) -> String {
    format!("{:.2} {currency}", amount.amount())
}

fn figures(currency: &str, quoted: &LotQuote, units: Units) -> Vec<Figure> {
    let Quote { lines, per_lot, to_least_charge, total, remarks, .. } = &quoted.quote;
    let (Some(one), Some(line)) = (quoted.cutters.first(), lines.first()) else {
        return Vec::new();
    };
    let alone = once(format!("off: {}; set up for it alone", comes_off(&one.parts, units)));
    let more: Vec<String> = alone.chain(remarks.iter().cloned()).collect();
    let mut figures =
        vec![Figure::new("a regrind costs", money(currency, line.each), more.join("; "))];
    if *per_lot + *to_least_charge > Money::ZERO {
        let more = "with what the lot costs, and up to the least charge";
        figures.push(Figure::new("as a lot of its own", money(currency, *total), more));
    }
    if let Some(worth) = &one.worth {
        let (verdict, saved) = if worth.is_worth { ("yes", "saved") } else { ("no", "lost") };
        let amount = Money::from_amount(worth.saved.amount().abs());
        let more = format!("{} {saved} against a new one", money(currency, amount));
        figures.push(Figure::new("worth it", verdict, more));
        let most = money(currency, worth.grind_at_most);
        figures.push(Figure::new("a regrind may cost", most, "at most, to be worth it"));
        let life = money(currency, worth.per_edge_over_life);
        let new = format!("a new one used once: {}", money(currency, worth.per_edge_new));
        figures.push(Figure::new("an edge over its life", life, new));
    }
    figures
}

fn pull_figures(currency: &str, pull: &Pull, units: Units) -> Vec<Figure> {
    let bound = match pull.bound {
        PullBound::Inside => "sooner and later both cost more",
        PullBound::WorkAllows => "the widest that is allowed; later would cost less",
        PullBound::LeastLookedAt => "sooner would cost less still",
    };
    let guess = if pull.is_guess { "; beyond what was read, so a guess" } else { "" };
    let flat = format!("{} to {}", units.length(pull.flat.0), units.length(pull.flat.1));
    let share = format!("costs within {:.0} % of the least", pull.within * 100.0);
    vec![
        Figure::new(
            "pull it at a wear land of",
            units.length(pull.wear_land),
            format!("{bound}{guess}"),
        ),
        Figure::new("anywhere from", flat, share),
        Figure::new(
            "a part then costs",
            money(currency, pull.cost_per_part),
            "in cutter, regrinds and changes",
        ),
        Figure::new("parts per edge", format!("{:.0}", pull.parts_per_edge), ""),
        Figure::new(
            "regrinds in its life",
            format!("{:.1}", pull.regrinds),
            format!("{} each", units.length(pull.stock)),
        ),
    ]
}

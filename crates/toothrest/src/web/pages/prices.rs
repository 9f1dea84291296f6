//! What the shop reckons with: its rates, its terms, its wheels and what new cutters cost.

use askama::Template;
use axum::extract::Path;
use axum::response::Response;
use shop::book::SubjectKind;
use shop::cost::Prices;

use super::paper::{Paper, Sent, Standing, Version, line_of, switched};
use crate::files::read_prices;
use crate::web::fault::Fault;
use crate::web::form::{Entries, Form};
use crate::web::page::{Frame, blamed, drawn};
use crate::web::visit::Visit;

/// The shop's prices.
const PRICES: Paper = Paper { kind: SubjectKind::Prices, name: "prices", path: "/prices", faults };

/// What to write.
const HINT: &str = "Rates by the hour, set-up and handling, terms, wheels, and what new cutters \
                    cost, as in the pattern above.";

/// A whole list, invented, to write one's own over.
const PATTERN: &str =
    include_str!(concat!(env!("CARGO_MANIFEST_DIR"), "/../../examples/prices/bench-rates.toml"));

#[derive(Template)]
#[template(path = "prices.html")]
struct PricesPage {
    frame: Frame,
    form: Form,
    versions: Vec<Version>,
    rates: Vec<(&'static str, String)>,
    pattern: &'static str,
}

/// Shows them.
pub(super) async fn show(visit: Visit) -> Result<Response, Fault> {
    let standing = PRICES.standing(&visit).await?;
    let form = PRICES.form(&visit, &standing, HINT);
    drawn(&page(&visit, form, standing))
}

/// Keeps what was written.
pub(super) async fn keep(visit: Visit, entries: Entries) -> Result<Response, Fault> {
    match PRICES.keep(&visit, &entries, HINT).await? {
        Sent::Kept(response) => Ok(response),
        Sent::Switched(to, form, standing) => {
            Ok(switched(to, drawn(&page(&visit, *form, standing))?))
        }
        Sent::Wrong(form, standing) => blamed(&page(&visit, *form, standing)),
    }
}

fn page(visit: &Visit, form: Form, standing: Standing) -> PricesPage {
    let frame = Frame::new(visit, "tables", "Prices").with_form().in_system(form.system);
    let text = standing.at.map(|paper| paper.state.text).unwrap_or_default();
    let prices = read_prices(PRICES.name, &text).ok();
    let rates = prices.map(|prices| rates(&prices)).unwrap_or_default();
    PricesPage { frame, form, versions: standing.versions, rates, pattern: PATTERN }
}

/// The rates that were kept, in words.
fn rates(prices: &Prices) -> Vec<(&'static str, String)> {
    let coin = &prices.currency;
    let (rates, terms) = (prices.rates.draft(), &prices.terms);
    let money = |amount: shop::cost::Money| format!("{amount} {coin}");
    let minutes = |time: trade::Minutes| format!("{} min", time.minutes());
    vec![
        ("An hour of a hand", money(rates.labour_per_hour)),
        ("An hour of the machine", money(rates.machine_per_hour)),
        ("A set-up", minutes(rates.setup)),
        ("Handling a cutter", minutes(rates.handling)),
        ("Margin", format!("{} %", terms.margin.percent())),
        ("The least that is charged", money(terms.least_charge)),
        ("Wheels with a price", prices.wheels.len().to_string()),
        ("Prices of new cutters", prices.new.len().to_string()),
    ]
}

/// Shows an older version.
pub(super) async fn version(visit: Visit, Path(number): Path<u64>) -> Result<Response, Fault> {
    PRICES.show_version(&visit, "tables", number).await
}

/// What is wrong with a list of prices.
fn faults(text: &str) -> Vec<String> {
    let Err(problems) = read_prices(PRICES.name, text) else { return Vec::new() };
    let told = problems.problems().iter().map(|problem| {
        let said = problem.line.map(|line| line_of(text, line)).unwrap_or_default();
        format!("{problem}{said}")
    });
    told.collect()
}

//! The trade tables, and the shop's own rows over them.

use askama::Template;
use axum::extract::Path;
use axum::response::Response;
use shop::book::SubjectKind;
use trade::{ListedRow, Source, Tables, Topic};

use super::paper::{Paper, Sent, Standing, Version, line_of, switched};
use crate::web::fault::Fault;
use crate::web::form::{Entries, Form};
use crate::web::page::{Frame, blamed, drawn};
use crate::web::visit::Visit;

/// The shop's own rows.
const OWN: Paper = Paper { kind: SubjectKind::Tables, name: "shop table", path: "/tables", faults };

/// What to write.
const HINT: &str = "One [[topic]] for each row, with the key of the row that it stands above and \
                    what is other in your shop. Emptied, the trade's rows count alone.";

/// The page of every source.
const BIBLIOGRAPHY: &str = "bibliography";

#[derive(Template)]
#[template(path = "tables.html")]
struct TablesPage {
    frame: Frame,
    topics: Vec<TopicLine>,
    form: Form,
    versions: Vec<Version>,
    problem: String,
}

/// A topic with how much it holds.
struct TopicLine {
    name: &'static str,
    rows: usize,
    own: usize,
}

#[derive(Template)]
#[template(path = "topic.html")]
struct TopicPage {
    frame: Frame,
    name: &'static str,
    rows: Vec<ListedRow>,
}

#[derive(Template)]
#[template(path = "bibliography.html")]
struct BibliographyPage {
    frame: Frame,
    sources: Vec<Source>,
}

/// Shows all topics and the shop's own rows.
pub(super) async fn show(visit: Visit) -> Result<Response, Fault> {
    let standing = OWN.standing(&visit).await?;
    let form = OWN.form(&visit, &standing, HINT);
    drawn(&page(&visit, form, standing).await?)
}

/// Keeps what was written.
pub(super) async fn keep(visit: Visit, entries: Entries) -> Result<Response, Fault> {
    match OWN.keep(&visit, &entries, HINT).await? {
        Sent::Kept(response) => Ok(response),
        Sent::Switched(to, form, standing) => {
            Ok(switched(to, drawn(&page(&visit, *form, standing).await?)?))
        }
        Sent::Wrong(form, standing) => blamed(&page(&visit, *form, standing).await?),
    }
}

async fn page(visit: &Visit, form: Form, standing: Standing) -> Result<TablesPage, Fault> {
    let (tables, problem) = tables_or_trades(visit).await?;
    let frame = Frame::new(visit, "tables", "Tables").with_form().in_system(form.system);
    Ok(TablesPage { frame, topics: topics(&tables), form, versions: standing.versions, problem })
}

/// The tables that plans use. Where the shop's own rows cannot be read, as after a change of the
/// program, the trade's alone, with what is wrong.
async fn tables_or_trades(visit: &Visit) -> Result<(Tables, String), Fault> {
    match visit.desk.tables().await {
        Ok(tables) => Ok((tables.as_ref().clone(), String::new())),
        Err(failure) => {
            let trades = Tables::bundled().map_err(|error| Fault::Page(error.to_string()))?;
            Ok((trades.clone(), failure.to_string()))
        }
    }
}

fn topics(tables: &Tables) -> Vec<TopicLine> {
    let line = |topic: &Topic| {
        let rows = tables.listing(*topic);
        let own = rows.iter().filter(|row| row.source_id == trade::SHOP).count();
        TopicLine { name: topic.name(), rows: rows.len(), own }
    };
    tables.topics().iter().map(line).collect()
}

/// Shows every row of a topic, or every source.
pub(super) async fn topic(visit: Visit, Path(name): Path<String>) -> Result<Response, Fault> {
    let (tables, _) = tables_or_trades(&visit).await?;
    if name == BIBLIOGRAPHY {
        let frame = Frame::new(&visit, "tables", "Sources");
        let sources = tables.bibliography().sources().to_vec();
        return drawn(&BibliographyPage { frame, sources });
    }
    let topic = Topic::from_name(&name).ok_or(Fault::NoPage)?;
    let frame = Frame::new(&visit, "tables", format!("Tables: {}", topic.name()));
    drawn(&TopicPage { frame, name: topic.name(), rows: tables.listing(topic) })
}

/// Shows an older version.
pub(super) async fn version(visit: Visit, Path(number): Path<u64>) -> Result<Response, Fault> {
    OWN.show_version(&visit, "tables", number).await
}

/// What is wrong with the shop's rows.
fn faults(text: &str) -> Vec<String> {
    match Tables::bundled().and_then(|tables| tables.with_shop(text)) {
        Ok(_) => Vec::new(),
        Err(error) => vec![format!("{error}{}", line_of(text, error.place.line))],
    }
}

//! The cutter in space, to be turned by finger.

use askama::Template;
use axum::extract::{Path, Query};
use axum::http::header::CONTENT_TYPE;
use axum::response::{IntoResponse, Response};
use geometry::Angle;
use serde::Deserialize;
use sheets::model::{GrindState, cutter_model, ground_model, regrind_model};

use crate::desk::CutterAt;
use crate::web::fault::Fault;
use crate::web::page::{Frame, drawn};
use crate::web::visit::Visit;
use crate::wire::model_bytes;

/// What is asked to be seen.
#[derive(Debug, Deserialize)]
pub(super) struct Asked {
    /// "before" for the cutter as it came in.
    #[serde(default)]
    state: String,
}

impl Asked {
    fn is_before(&self) -> bool {
        self.state == "before"
    }
}

#[derive(Template)]
#[template(path = "view.html")]
struct ViewPage {
    frame: Frame,
    id: String,
    number: String,
    about: String,
    /// Whether wheel and rest stand in the picture.
    has_plan: bool,
    /// Whether it is shown as it came in.
    is_before: bool,
    /// Whether the picture leaves out a taper, or how its teeth differ.
    is_simpler: bool,
    picture: String,
}

/// Shows the page; without scripts it has the drawing from the side.
pub(super) async fn show(
    visit: Visit,
    Path(id): Path<String>,
    Query(asked): Query<Asked>,
) -> Result<Response, Fault> {
    let cutter = visit.desk.cutter(&id).await?;
    let record = &cutter.state.cutter;
    let heading = format!("{} in space", record.number());
    let frame = Frame::of_cutter(&visit, "tray", heading, record);
    drawn(&ViewPage {
        number: record.number().to_owned(),
        about: sheets::text::describe(record, frame.units()),
        has_plan: cutter.state.planned.is_some(),
        is_before: cutter.state.planned.is_some() && asked.is_before(),
        is_simpler: record.taper() > Angle::ZERO
            || record.unequal_index()
            || record.unequal_helix(),
        picture: super::scale::cutter_picture(record, frame.system),
        frame,
        id,
    })
}

/// The model's bytes: as planned with wheel and rest, or as it came in, else as the record says.
pub(super) async fn model(
    visit: Visit,
    Path(id): Path<String>,
    Query(asked): Query<Asked>,
) -> Result<Response, Fault> {
    let cutter = visit.desk.cutter(&id).await?;
    let bytes = bytes(&visit, &cutter, &asked).await?.ok_or(Fault::NoPage)?;
    Ok(([(CONTENT_TYPE, "application/octet-stream")], bytes).into_response())
}

async fn bytes(visit: &Visit, cutter: &CutterAt, asked: &Asked) -> Result<Option<Vec<u8>>, Fault> {
    if let Some(plan) = cutter.state.planned {
        let made = visit.desk.kept(&cutter.subject, plan).await?;
        let model = match asked.is_before() {
            true => ground_model(&made.plan, GrindState::Before, None),
            false => regrind_model(&made.plan),
        };
        if let Some(model) = model {
            return Ok(Some(model_bytes(&model)));
        }
    }
    Ok(cutter_model(&cutter.state.cutter).map(|model| model_bytes(&model)))
}

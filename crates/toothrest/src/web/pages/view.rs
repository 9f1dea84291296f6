//! The cutter in space, to be turned by finger.

use askama::Template;
use axum::extract::Path;
use axum::http::header::CONTENT_TYPE;
use axum::response::{IntoResponse, Response};
use geometry::Angle;
use sheets::model::{cutter_model, regrind_model};

use crate::desk::CutterAt;
use crate::web::fault::Fault;
use crate::web::page::{Frame, drawn};
use crate::web::visit::Visit;
use crate::wire::model_bytes;

#[derive(Template)]
#[template(path = "view.html")]
struct ViewPage {
    frame: Frame,
    id: String,
    number: String,
    about: String,
    /// Whether wheel and rest stand in the picture.
    has_plan: bool,
    /// Whether the picture leaves out a taper, or how its teeth differ.
    is_simpler: bool,
    picture: String,
}

/// Shows the page; without scripts it has the drawing from the side.
pub(super) async fn show(visit: Visit, Path(id): Path<String>) -> Result<Response, Fault> {
    let cutter = visit.desk.cutter(&id).await?;
    let record = &cutter.state.cutter;
    let heading = format!("{} in space", record.number());
    let frame = Frame::of_cutter(&visit, "tray", heading, record);
    drawn(&ViewPage {
        number: record.number().to_owned(),
        about: sheets::text::describe(record, frame.units()),
        has_plan: cutter.state.planned.is_some(),
        is_simpler: record.taper() > Angle::ZERO
            || record.unequal_index()
            || record.unequal_helix(),
        picture: super::scale::cutter_picture(record, frame.system),
        frame,
        id,
    })
}

/// The model's bytes: as planned with wheel and rest, else as the record says.
pub(super) async fn model(visit: Visit, Path(id): Path<String>) -> Result<Response, Fault> {
    let cutter = visit.desk.cutter(&id).await?;
    let bytes = bytes(&visit, &cutter).await?.ok_or(Fault::NoPage)?;
    Ok(([(CONTENT_TYPE, "application/octet-stream")], bytes).into_response())
}

async fn bytes(visit: &Visit, cutter: &CutterAt) -> Result<Option<Vec<u8>>, Fault> {
    if let Some(plan) = cutter.state.planned {
        let made = visit.desk.kept(&cutter.subject, plan).await?;
        if let Some(model) = regrind_model(&made.plan) {
            return Ok(Some(model_bytes(&model)));
        }
    }
    Ok(cutter_model(&cutter.state.cutter).map(|model| model_bytes(&model)))
}

//! What a browser loads beside the pages: style, scripts, the mark of the bench. All of it is
//! compiled in, and nothing comes from anywhere else.

use axum::extract::Path;
use axum::http::header::{CACHE_CONTROL, CONTENT_TYPE};
use axum::response::{IntoResponse, Response};

use super::fault::Fault;

/// Name, type and bytes.
const ASSETS: [(&str, &str, &[u8]); 5] = [
    ("bench.css", "text/css; charset=utf-8", include_bytes!("static/bench.css")),
    ("bench.js", "text/javascript; charset=utf-8", include_bytes!("static/bench.js")),
    ("htmx.min.js", "text/javascript; charset=utf-8", include_bytes!("static/htmx.min.js")),
    ("view3d.js", "text/javascript; charset=utf-8", include_bytes!("static/view3d.js")),
    ("mark.svg", "image/svg+xml", include_bytes!("static/mark.svg")),
];

/// One of them. They change with the program only, and their addresses carry its version.
pub(crate) async fn asset(Path(name): Path<String>) -> Result<Response, Fault> {
    let found = ASSETS.iter().find(|(known, _, _)| *known == name);
    let (_, kind, bytes) = found.ok_or(Fault::NoPage)?;
    let headers = [(CONTENT_TYPE, *kind), (CACHE_CONTROL, "public, max-age=3600")];
    Ok((headers, *bytes).into_response())
}

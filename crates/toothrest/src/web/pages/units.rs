//! Switching between inches and millimetres.

use axum::http::header::SET_COOKIE;
use axum::response::{AppendHeaders, IntoResponse, Redirect, Response};
use geometry::System;

use crate::web::form::{Entries, system_name};
use crate::web::page::own_path;
use crate::web::visit::{UNITS, set_cookie};

/// A year, in seconds.
pub(super) const YEAR_S: u64 = 31_536_000;

/// Switches, and goes back to the page.
pub(super) async fn switch(entries: Entries) -> Response {
    let back = Redirect::to(own_path(entries.get("then")));
    match entries.switch() {
        Some(system) => (AppendHeaders([(SET_COOKIE, kept(system))]), back).into_response(),
        None => back.into_response(),
    }
}

/// The cookie that keeps the choice.
pub(super) fn kept(system: System) -> String {
    set_cookie(UNITS, system_name(system), YEAR_S)
}

/// A page drawn in another system, which from then on is the chosen one.
pub(super) fn with(system: System, page: Response) -> Response {
    (AppendHeaders([(SET_COOKIE, kept(system))]), page).into_response()
}

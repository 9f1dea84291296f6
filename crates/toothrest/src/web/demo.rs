//! Looking round the demo shop, and leaving it.

use axum::Router;
use axum::extract::State;
use axum::http::header::SET_COOKIE;
use axum::response::{AppendHeaders, IntoResponse, Redirect, Response};

use super::fault::Fault;
use super::serve::router;
use super::state::{Bench, Settings};
use super::visit::{DEMO, set_cookie};
use crate::cli::Failure;
use crate::desk::Desk;

/// How long a browser stays in the demo shop unless it leaves: a day, in seconds.
const STAY_S: u64 = 86_400;

/// Sets up the demo shop, once.
pub(super) async fn set_up(bench: &Bench) -> Result<(), Failure> {
    if bench.demo().is_none() {
        bench.set_demo(crate::demo::demo_desk().await?);
    }
    Ok(())
}

/// A bench that nobody listens for, with the demo shop set up.
pub(crate) async fn demo_bench(desk: Desk) -> Result<Router, Failure> {
    let hosts = vec!["localhost".to_owned()];
    let bench = Bench::new(desk, Settings { has_sign_in: false, hosts, copies: None });
    set_up(&bench).await?;
    Ok(router(bench))
}

/// Takes the browser into the demo shop.
pub(super) async fn open(State(bench): State<Bench>) -> Result<Response, Fault> {
    set_up(&bench).await?;
    let cookie = set_cookie(DEMO, "yes", STAY_S);
    Ok((AppendHeaders([(SET_COOKIE, cookie)]), Redirect::to("/")).into_response())
}

/// Takes the browser back to the book.
pub(super) async fn leave() -> Response {
    let cookie = set_cookie(DEMO, "", 0);
    (AppendHeaders([(SET_COOKIE, cookie)]), Redirect::to("/")).into_response()
}

//! What every request passes: who may call, who may write, and what a browser may do with a page.

use axum::body::{Body, to_bytes};
use axum::extract::{Request, State};
use axum::http::header::{
    CACHE_CONTROL, CONTENT_SECURITY_POLICY, HOST, HeaderName, HeaderValue, ORIGIN, REFERRER_POLICY,
    X_CONTENT_TYPE_OPTIONS, X_FRAME_OPTIONS,
};
use axum::http::{HeaderMap, Method};
use axum::middleware::Next;
use axum::response::{IntoResponse, Response};

use super::fault::{self, Fault, dressed};
use super::interface;
use super::page::{leading_back, own_path};
use super::serve::BODY_BYTES_MAX;
use super::state::Bench;
use super::visit::own_referer;

/// A page may load what this bench serves, and nothing else.
const POLICY: &str = "default-src 'none'; script-src 'self'; style-src 'self'; \
                      img-src 'self' data:; connect-src 'self'; \
                      form-action 'self'; base-uri 'none'; frame-ancestors 'none'";

/// Turns away requests from elsewhere, and tells the browser what it may do with the answer.
pub(crate) async fn guarded(State(bench): State<Bench>, request: Request, next: Next) -> Response {
    let back = came_from(&request);
    let is_for_programs = request.uri().path().starts_with(interface::PATH);
    let only_looks = is_look(request.method());
    let mut response = match passed(&bench, request).await {
        Ok(request) => next.run(request).await,
        Err(fault) => fault.into_response(),
    };
    if only_looks {
        fault::nothing_entered(&mut response);
    }
    let mut response = if is_for_programs {
        interface::dressed(response)
    } else {
        leading_back(dressed(response), &back)
    };
    let headers = response.headers_mut();
    let fixed = [
        (CONTENT_SECURITY_POLICY, POLICY),
        (X_CONTENT_TYPE_OPTIONS, "nosniff"),
        (X_FRAME_OPTIONS, "DENY"),
        (REFERRER_POLICY, "same-origin"),
        (HeaderName::from_static("cross-origin-opener-policy"), "same-origin"),
        (HeaderName::from_static("cross-origin-resource-policy"), "same-origin"),
        (HeaderName::from_static("permissions-policy"), "camera=(), microphone=(), geolocation=()"),
    ];
    for (name, value) in fixed {
        headers.insert(name, HeaderValue::from_static(value));
    }
    headers.entry(CACHE_CONTROL).or_insert(HeaderValue::from_static("no-store"));
    response
}

/// The page of this bench that a request comes from; empty where the browser names none, or where
/// it is the very page that is asked for.
fn came_from(request: &Request) -> String {
    let headers = request.headers();
    let referer = own_referer(headers).unwrap_or_default();
    let is_asked_again = is_look(request.method())
        && request.uri().path_and_query().is_some_and(|path| path.as_str() == referer);
    let is_own = own_path(&referer) == referer;
    Some(referer).filter(|_| is_own && !is_asked_again).unwrap_or_default()
}

const fn is_look(method: &Method) -> bool {
    matches!(*method, Method::GET | Method::HEAD)
}

/// A request that may pass, with all that was sent behind its head: nothing is done for one that
/// never ends, or that is longer than any form here, even where nobody reads what it sends.
async fn passed(bench: &Bench, request: Request) -> Result<Request, Fault> {
    check(bench, &request)?;
    if is_look(request.method()) {
        return Ok(request);
    }
    let (parts, body) = request.into_parts();
    match to_bytes(body, BODY_BYTES_MAX).await {
        Ok(bytes) => Ok(Request::from_parts(parts, Body::from(bytes))),
        Err(error) if fault::is_late(&error) => Err(Fault::Late),
        Err(_) => Err(Fault::TooLong),
    }
}

fn check(bench: &Bench, request: &Request) -> Result<(), Fault> {
    let (method, headers) = (request.method(), request.headers());
    let host = text(headers, &HOST).unwrap_or_default();
    let other = |at: &axum::http::uri::Authority| at.as_str() != host;
    if headers.get_all(HOST).iter().count() > 1 || request.uri().authority().is_some_and(other) {
        return Err(Fault::Foreign("It names more than one host."));
    }
    let named = bench.hosts();
    if !named.is_empty() && !named.iter().any(|known| *known == without_port(host)) {
        return Err(Fault::Foreign("It names a host that this bench does not go by."));
    }
    // The interface is only read, whatever is asked of it.
    if is_look(method) || request.uri().path().starts_with(interface::PATH) {
        return Ok(());
    }
    let comes_from = text(headers, &ORIGIN)
        .map(|origin| origin.split_once("://").map_or(origin, |(_, host)| host));
    match comes_from {
        Some(origin) if origin == host => Ok(()),
        Some(_) => Err(Fault::Foreign("It was sent from a page of another site.")),
        None if is_same_site(headers) => Ok(()),
        None => Err(Fault::Foreign("It does not say from which page it was sent.")),
    }
}

/// A browser that gives no origin may still say that the page is of this site.
fn is_same_site(headers: &HeaderMap) -> bool {
    text(headers, &HeaderName::from_static("sec-fetch-site")) == Some("same-origin")
}

fn text<'h>(headers: &'h HeaderMap, name: &HeaderName) -> Option<&'h str> {
    headers.get(name).and_then(|value| value.to_str().ok())
}

/// The host without its port; an IPv6 address keeps its brackets.
fn without_port(host: &str) -> &str {
    match host.rsplit_once(':') {
        Some((name, port)) if port.bytes().all(|byte| byte.is_ascii_digit()) => name,
        _ => host,
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn ports_are_left_out() {
        for (host, name) in [
            ("localhost:8080", "localhost"),
            ("127.0.0.1", "127.0.0.1"),
            ("[::1]:8080", "[::1]"),
            ("[::1]", "[::1]"),
        ] {
            assert_eq!(without_port(host), name);
        }
    }
}

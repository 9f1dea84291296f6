//! What every request passes: who may call, who may write, and what a browser may do with a page.

use axum::extract::{Request, State};
use axum::http::header::{
    CACHE_CONTROL, CONTENT_SECURITY_POLICY, HOST, HeaderName, HeaderValue, ORIGIN, REFERRER_POLICY,
    X_CONTENT_TYPE_OPTIONS, X_FRAME_OPTIONS,
};
use axum::http::{HeaderMap, Method};
use axum::middleware::Next;
use axum::response::{IntoResponse, Response};

use super::fault::{Fault, dressed};
use super::page::{leading_back, own_path};
use super::state::Bench;
use super::visit::own_referer;

/// A page may load what this bench serves, and nothing else.
const POLICY: &str = "default-src 'none'; script-src 'self'; style-src 'self'; \
                      img-src 'self' data:; connect-src 'self'; \
                      form-action 'self'; base-uri 'none'; frame-ancestors 'none'";

/// Turns away requests from elsewhere, and tells the browser what it may do with the answer.
pub(crate) async fn guarded(State(bench): State<Bench>, request: Request, next: Next) -> Response {
    let back = came_from(&request);
    let mut response = match check(&bench, request.method(), request.headers()) {
        Ok(()) => leading_back(dressed(next.run(request).await), &back),
        Err(fault) => fault.into_response(),
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
    let is_asked_again = matches!(*request.method(), Method::GET | Method::HEAD)
        && request.uri().path_and_query().is_some_and(|path| path.as_str() == referer);
    let is_own = own_path(&referer) == referer;
    Some(referer).filter(|_| is_own && !is_asked_again).unwrap_or_default()
}

fn check(bench: &Bench, method: &Method, headers: &HeaderMap) -> Result<(), Fault> {
    let host = text(headers, &HOST).unwrap_or_default();
    let named = bench.hosts();
    if !named.is_empty() && !named.iter().any(|known| *known == without_port(host)) {
        return Err(Fault::Foreign("It names a host that this bench does not go by."));
    }
    if matches!(*method, Method::GET | Method::HEAD) {
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

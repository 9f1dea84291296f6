//! One request's surroundings: which book, who, and in which units.

use std::net::{IpAddr, SocketAddr};
use std::sync::Arc;

use axum::extract::{ConnectInfo, FromRequestParts};
use axum::http::header::{COOKIE, HOST, REFERER};
use axum::http::request::Parts;
use axum::http::{HeaderMap, Method};
use geometry::System;
use shop::book::Initials;
use shop::record::Cutter;

use super::fault::Fault;
use super::form::system;
use super::state::Bench;
use crate::desk::{Desk, Door};
use crate::surroundings::Zone;

/// The cookie with the system of units.
pub(crate) const UNITS: &str = "units";
/// The cookie with the initials of whoever is at the bench, where nobody has to sign in.
pub(crate) const WHO: &str = "who";
/// The cookie that says that the demo shop is looked at.
pub(crate) const DEMO: &str = "demo";
/// The cookie with the machine that this browser stands beside: the one last planned for.
pub(crate) const MACHINE: &str = "machine";
/// What the cookies begin with that hold the marks of people who signed in at this browser.
pub(crate) const MARK: &str = "known-";
/// The cookie with the token of a session.
pub(crate) const SESSION: &str = "session";

/// What a handler knows of a request before it looks at it.
#[derive(Clone)]
pub(crate) struct Visit {
    /// The book that is looked at.
    pub(crate) desk: Arc<Desk>,
    /// The system of units, where the hand has chosen one.
    pub(crate) units: Option<System>,
    /// Who is at the bench.
    pub(crate) who: Option<Initials>,
    /// The id of the machine that this browser stands beside; empty where nothing was planned yet.
    pub(crate) machine: String,
    /// Whether one has to sign in here.
    pub(crate) has_sign_in: bool,
    /// Whether this is the demo shop.
    pub(crate) is_demo: bool,
    /// The zone in which times are shown.
    pub(crate) zone: Zone,
    /// The path and query of the page that is looked at.
    pub(crate) here: String,
    /// What is to be said of this machine's clock.
    pub(crate) clock: Option<String>,
    /// From where the request comes.
    pub(crate) door: Door,
}

impl Visit {
    /// Who writes.
    ///
    /// # Errors
    /// `WhoIsIt`, which sends the browser to the page that asks.
    pub(crate) fn writer(&self) -> Result<&Initials, Fault> {
        self.who.as_ref().ok_or_else(|| Fault::WhoIsIt { then: self.here.clone() })
    }

    pub(crate) fn initials(&self) -> String {
        self.who.as_ref().map(ToString::to_string).unwrap_or_default()
    }

    /// The system that a page is shown in which is about no cutter and no wheel.
    pub(crate) fn system(&self) -> System {
        self.units.unwrap_or(System::Millimetre)
    }

    /// The system that a page on this cutter is shown in.
    pub(crate) fn system_of(&self, cutter: &Cutter) -> System {
        self.units.unwrap_or_else(|| cutter.system())
    }
}

impl FromRequestParts<Bench> for Visit {
    type Rejection = Fault;

    async fn from_request_parts(parts: &mut Parts, bench: &Bench) -> Result<Self, Fault> {
        let headers = &parts.headers;
        let signed_in = parts.extensions.get::<SignedIn>();
        // Whoever still has to sign in must not be asked by the demo shop's door.
        let may_look = signed_in.is_some() || !bench.has_sign_in();
        let is_demo = may_look && cookie(headers, DEMO).is_some() && bench.demo().is_some();
        let desk = match bench.demo() {
            Some(demo) if is_demo => demo,
            _ => bench.desk(),
        };
        let who = signed_in.map(|signed| signed.0.clone());
        let who = who.or_else(|| {
            let said = cookie(headers, WHO).filter(|_| is_demo || !bench.has_sign_in());
            said.and_then(|said| Initials::new(&said).ok())
        });
        let clock = if may_look { desk.clock_remark(bench.zone()).await } else { None };
        Ok(Self {
            desk,
            units: cookie(headers, UNITS).as_deref().and_then(system),
            who,
            machine: cookie(headers, MACHINE).unwrap_or_default(),
            has_sign_in: bench.has_sign_in(),
            is_demo,
            zone: bench.zone().clone(),
            here: page_of(parts),
            clock,
            door: door(parts),
        })
    }
}

/// The path of the page that a request comes from or goes to: what is posted to is no page, so then
/// it is the page with the form, as far as the browser names it.
pub(crate) fn page_of(parts: &Parts) -> String {
    if matches!(parts.method, Method::GET | Method::HEAD) {
        return parts.uri.path_and_query().map_or("/", |path| path.as_str()).to_owned();
    }
    own_referer(&parts.headers).unwrap_or_else(|| "/".to_owned())
}

/// The path of the page of this bench that a request comes from, as far as the browser names it.
pub(crate) fn own_referer(headers: &HeaderMap) -> Option<String> {
    let text = |name| headers.get(name).and_then(|value| value.to_str().ok());
    let (referer, host) = text(REFERER).zip(text(HOST))?;
    let (_, rest) = referer.split_once("://")?;
    rest.strip_prefix(host).filter(|path| path.starts_with('/')).map(str::to_owned)
}

/// What tries from the other end are counted under; a name that none has where it is not known.
pub(crate) fn peer(parts: &Parts) -> String {
    door(parts).peer
}

/// The other end, and the marks that its browser carries; a name that none has where the other end
/// is not known.
fn door(parts: &Parts) -> Door {
    let connected = parts.extensions.get::<ConnectInfo<SocketAddr>>();
    let address = connected.map(|ConnectInfo(peer)| peer.ip().to_canonical());
    Door {
        peer: address.map_or_else(|| "unknown".to_owned(), place),
        is_here: address.is_some_and(|address| address.is_loopback()),
        marks: marks(&parts.headers),
    }
}

/// What tries from an address are counted under. Whoever has one address of the later protocol has
/// all that share its first half, so these are one place.
fn place(address: IpAddr) -> String {
    match address {
        IpAddr::V6(address) if !address.is_loopback() => {
            let [a, b, c, d, ..] = address.segments();
            format!("{a:x}:{b:x}:{c:x}:{d:x}::/64")
        }
        address => address.to_string(),
    }
}

/// A browser carries the marks of as many people as this; a shop's tablet has fewer.
const MARKS_MAX: usize = 32;

fn marks(headers: &HeaderMap) -> Vec<String> {
    let is_mark = |(name, value): (&str, &str)| {
        name.trim().starts_with(MARK).then(|| value.trim().to_owned())
    };
    let all = headers.get_all(COOKIE).iter().filter_map(|value| value.to_str().ok());
    let pairs = all.flat_map(|line| line.split(';')).filter_map(|pair| pair.split_once('='));
    pairs.filter_map(is_mark).take(MARKS_MAX).collect()
}

/// Whoever the session of a request belongs to.
#[derive(Clone)]
pub(crate) struct SignedIn(pub(crate) Initials);

/// The value of a cookie.
pub(crate) fn cookie(headers: &HeaderMap, name: &str) -> Option<String> {
    let all = headers.get_all(COOKIE).iter().filter_map(|value| value.to_str().ok());
    let mut pairs = all.flat_map(|line| line.split(';')).filter_map(|pair| pair.split_once('='));
    let found = pairs.find(|(key, _)| key.trim() == name);
    found.map(|(_, value)| value.trim().to_owned())
}

/// A cookie for this bench alone, for as many seconds; none to take it away.
pub(crate) fn set_cookie(name: &str, value: &str, seconds: u64) -> String {
    format!("{name}={value}; Path=/; Max-Age={seconds}; HttpOnly; SameSite=Strict")
}

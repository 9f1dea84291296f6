//! What was typed into a form and sent.

use axum::extract::{Form, FromRequest, Request};
use axum::http::StatusCode;
use geometry::System;

use crate::web::fault::Fault;

/// Names and values in the order in which they came.
#[derive(Clone, Debug, Default)]
pub(crate) struct Entries(Vec<(String, String)>);

/// A form has no more things to fill in than this.
const ENTRIES_MAX: usize = 2_000;

impl<S: Send + Sync> FromRequest<S> for Entries {
    type Rejection = Fault;

    async fn from_request(request: Request, state: &S) -> Result<Self, Fault> {
        let sent = Form::<Vec<(String, String)>>::from_request(request, state).await;
        let Form(sent) = sent.map_err(|rejection| match rejection.status() {
            StatusCode::PAYLOAD_TOO_LARGE => Fault::TooLong,
            _ => Fault::form(&rejection.body_text()),
        })?;
        if sent.len() > ENTRIES_MAX {
            return Err(Fault::form("it has more entries than any form here"));
        }
        Ok(Self(sent))
    }
}

impl Entries {
    /// What stands in an address.
    pub(crate) const fn of(entries: Vec<(String, String)>) -> Self {
        Self(entries)
    }

    /// The first value of that name, without the space around it; empty where there is none.
    pub(crate) fn get(&self, name: &str) -> &str {
        let found = self.0.iter().find(|(other, _)| other == name);
        found.map_or("", |(_, value)| value.trim())
    }

    pub(crate) fn has(&self, name: &str) -> bool {
        self.0.iter().any(|(other, _)| other == name)
    }

    /// Every value of that name that is not empty.
    pub(crate) fn all(&self, name: &str) -> Vec<&str> {
        let of = self.0.iter().filter(|(other, _)| other == name);
        of.map(|(_, value)| value.trim()).filter(|value| !value.is_empty()).collect()
    }

    /// The text of that name; none where it is empty.
    pub(crate) fn maybe(&self, name: &str) -> Option<String> {
        Some(self.get(name)).filter(|value| !value.is_empty()).map(str::to_owned)
    }

    /// The system under which the page was shown.
    pub(crate) fn shown_in(&self) -> Option<System> {
        system(self.get("shown_in"))
    }

    /// The system that the hand wants to switch to.
    pub(crate) fn switch(&self) -> Option<System> {
        system(self.get("switch"))
    }

    /// The number of the last entry that the page had seen.
    pub(crate) fn seen(&self) -> Option<u64> {
        self.get("seen").parse().ok()
    }
}

/// The system of that short name.
pub(crate) fn system(name: &str) -> Option<System> {
    match name {
        "in" => Some(System::Inch),
        "mm" => Some(System::Millimetre),
        _ => None,
    }
}

/// The short name of a system.
pub(crate) const fn system_name(system: System) -> &'static str {
    match system {
        System::Inch => "in",
        System::Millimetre => "mm",
    }
}

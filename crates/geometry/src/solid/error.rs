//! Why a solid cannot be made.

use thiserror::Error;

use crate::quantity::Length;

/// Why a solid cannot be made.
#[derive(Clone, Debug, Error, PartialEq)]
pub enum SolidError {
    /// A value is outside what a solid can have.
    #[error("{field}: {reason}")]
    Invalid {
        /// The value in question.
        field: &'static str,
        /// What is wrong with it and what would be right.
        reason: String,
    },
    /// The chord error asks for more triangles than a mesh may have.
    #[error("a chord error of {chord_error_mm} mm needs more than {most} triangles; take a larger")]
    TooFine {
        /// The chord error that was asked for.
        chord_error_mm: f64,
        /// The most triangles of a mesh.
        most: usize,
    },
}

/// The most triangles of one mesh: what a picture or a file can still carry.
const TRIANGLES_MAX: usize = 4_000_000;

/// Least and largest chord error, in millimetres.
const CHORD_ERROR_MM: (f64, f64) = (1e-5, 10.0);

impl SolidError {
    pub(super) fn invalid(field: &'static str, reason: impl Into<String>) -> Self {
        Self::Invalid { field, reason: reason.into() }
    }
}

/// A sound chord error in millimetres.
pub(super) fn chord_error_mm(chord_error: Length) -> Result<f64, SolidError> {
    let error_mm = chord_error.mm();
    if (CHORD_ERROR_MM.0..=CHORD_ERROR_MM.1).contains(&error_mm) {
        return Ok(error_mm);
    }
    let (least, most) = CHORD_ERROR_MM;
    let reason = format!("{error_mm} mm is outside {least} to {most} mm");
    Err(SolidError::invalid("chord_error", reason))
}

/// Refuses a mesh of more triangles than can be carried.
pub(super) fn check_size(triangles: f64, chord_error_mm: f64) -> Result<(), SolidError> {
    if triangles <= TRIANGLES_MAX as f64 {
        return Ok(());
    }
    Err(SolidError::TooFine { chord_error_mm, most: TRIANGLES_MAX })
}

/// Refuses a size that is no number or not over zero.
pub(super) fn check_over_zero(field: &'static str, value: Length) -> Result<(), SolidError> {
    if value.mm().is_finite() && value.mm() > 0.0 {
        return Ok(());
    }
    Err(SolidError::invalid(field, format!("{} mm is not more than 0", value.mm())))
}

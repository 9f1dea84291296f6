//! What a look-up answers: the chosen row, the rows beside it, and how well it fits the question.

use crate::row::{Noun, Row};
use crate::span::Span;
use crate::table::Table;
use geometry::Length;
use geometry::quantity::System;

/// How far, as a ratio, a diameter may lie from a listed one for that row to stand in. The
/// smallest listed relief is for 1/8 in, and cutters of 1 mm come to the bench.
const LISTED_REACH: f64 = 4.0;

/// How far, as a ratio, a diameter may lie outside a printed range for that row to stand in: it
/// bridges the gaps that sources leave between ranges, such as 5/8 to 3/4 in, and no more.
const RANGE_REACH: f64 = 1.1;

/// The answer of a table.
#[derive(Clone, Debug, PartialEq)]
pub struct Lookup<'t, T> {
    /// The row that plans use.
    pub chosen: &'t Row<T>,
    /// The other rows that bear on the question: conflicting ones and more general ones.
    pub others: Vec<&'t Row<T>>,
    /// How well the chosen row fits.
    pub fit: Fit,
}

/// How well a row fits the question.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Fit {
    /// The diameters of the row, where the diameter asked for is not among them.
    pub nearest: Option<Nearest>,
    /// Whether it is a general row, standing in because none speaks of the kind asked for.
    pub general: bool,
}

/// A row that stands in for a diameter that no row lists.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Nearest {
    /// The diameter asked for.
    pub asked: Length,
    /// The diameters that the row speaks of.
    pub listed: Span<Length>,
    /// The ratio between the two, above 1.
    pub ratio: f64,
}

impl<T: Noun> Lookup<'_, T> {
    /// What the reader should know of the fit, as one sentence; none where it is exact.
    pub fn remark(&self) -> Option<String> {
        let general = self.fit.general.then(|| "the general row stands in".to_owned());
        let nearest = self.fit.nearest.map(|nearest| {
            let asked = nearest.asked.show_both(System::Inch);
            format!("no row lists {asked}, and this is the nearest")
        });
        let parts: Vec<_> = [nearest, general].into_iter().flatten().collect();
        let (topic, key) = (T::TOPIC.name(), &self.chosen.key);
        (!parts.is_empty()).then(|| format!("{topic} of {key}: {}", parts.join("; ")))
    }
}

/// How a row bears on a question.
#[derive(Clone, Copy, Debug, PartialEq, PartialOrd)]
pub(crate) struct Bearing {
    /// Whether it is a general row where a kind was asked for; special rows go first.
    pub(crate) general: bool,
    /// The ratio by which the diameter lies outside, 1 where it lies inside.
    pub(crate) ratio: f64,
}

impl Bearing {
    /// A row that is exactly what was asked for.
    pub(crate) const EXACT: Self = Self { general: false, ratio: 1.0 };

    /// A row for these diameters; none where they are out of its reach.
    pub(crate) fn of_diameter(diameters: Span<Length>, asked: Length) -> Option<Self> {
        let reach = if diameters.is_listed_value() { LISTED_REACH } else { RANGE_REACH };
        let ratio = diameters.ratio_outside(asked);
        (ratio <= reach).then_some(Self { general: false, ratio })
    }

    /// The same row, marked as one that is general.
    pub(crate) const fn or_general(self, general: bool) -> Self {
        Self { general, ..self }
    }
}

impl<T: Noun> Table<T> {
    /// The row of exactly this kind, with those that conflict with it.
    pub(crate) fn exact(&self, is: impl Fn(&T) -> bool) -> Option<Lookup<'_, T>> {
        self.pick(|value| is(value).then_some(Bearing::EXACT))
    }

    /// The chosen row that bears best, with the others that bear on the question.
    pub(crate) fn pick(&self, bearing: impl Fn(&T) -> Option<Bearing>) -> Option<Lookup<'_, T>> {
        let bearings: Vec<(&Row<T>, Bearing)> =
            self.rows().iter().filter_map(|row| Some((row, bearing(&row.value)?))).collect();
        let chosen_ones = bearings.iter().filter(|(row, _)| row.chosen);
        let (chosen, best) =
            chosen_ones.copied().reduce(|best, next| if next.1 < best.1 { next } else { best })?;
        let others = bearings
            .iter()
            .filter(|(row, one)| !std::ptr::eq(*row, chosen) && is_nearest(*one, &bearings))
            .map(|(row, _)| *row)
            .collect();
        let fit = Fit { nearest: None, general: best.general };
        Some(Lookup { chosen, others, fit })
    }

    /// The chosen row for a diameter, saying so where no row lists that diameter.
    pub(crate) fn pick_by_diameter(
        &self,
        asked: Length,
        diameters: impl Fn(&T) -> Span<Length>,
        general: impl Fn(&T) -> Option<bool>,
    ) -> Option<Lookup<'_, T>> {
        let bearing = |value: &T| {
            let general = general(value)?;
            Some(Bearing::of_diameter(diameters(value), asked)?.or_general(general))
        };
        let mut lookup = self.pick(bearing)?;
        let listed = diameters(&lookup.chosen.value);
        let ratio = listed.ratio_outside(asked);
        lookup.fit.nearest = (ratio > 1.0).then_some(Nearest { asked, listed, ratio });
        Some(lookup)
    }
}

/// Whether no row that is as general lies nearer.
fn is_nearest<T>(one: Bearing, all: &[(&Row<T>, Bearing)]) -> bool {
    !all.iter().any(|(_, other)| other.general == one.general && other.ratio < one.ratio)
}

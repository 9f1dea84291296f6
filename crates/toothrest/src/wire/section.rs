//! The answer of `toothrest section`.

use std::fmt::Write;

use geometry::quantity::System;
use geometry::section::{GroundSection, Piece};
use geometry::wheel::Part;
use geometry::{Angle, Length};
use serde::Serialize;

use super::SCHEMA_VERSION;
use crate::files::SettingFile;

/// The answer.
#[derive(Clone, Debug, Serialize)]
pub(crate) struct SectionAnswer {
    schema: u32,
    edge_relief_deg: f64,
    relief_kind: &'static str,
    wheel_from_axis_mm: f64,
    leading_corner_from_axis_mm: f64,
    drops: Vec<DropAnswer>,
    heel_drag_from_mm: Option<f64>,
    next_tooth_clear: bool,
    next_tooth_gap_mm: Option<f64>,
    far_side_gap_mm: Option<f64>,
    pieces: Vec<PieceAnswer>,
}

#[derive(Clone, Debug, Serialize)]
struct DropAnswer {
    distance_mm: f64,
    drop_mm: Option<f64>,
    chord_relief_deg: Option<f64>,
}

#[derive(Clone, Debug, Serialize)]
struct PieceAnswer {
    part: &'static str,
    kind: &'static str,
    from_mm: f64,
    to_mm: f64,
}

/// The answer for a section; None where it has no edge.
pub(crate) fn section(file: &SettingFile, section: &GroundSection) -> Option<SectionAnswer> {
    let gap = section.next_tooth_gap();
    Some(SectionAnswer {
        schema: SCHEMA_VERSION,
        // Adding nothing turns a minus nought into nought.
        edge_relief_deg: section.edge_relief()?.degrees() + 0.0,
        relief_kind: section.relief_kind()?.name(),
        wheel_from_axis_mm: section.wheel_from_axis().mm(),
        leading_corner_from_axis_mm: section.leading_corner_from_axis().mm(),
        drops: file.distances.iter().map(|distance| drop_answer(section, *distance)).collect(),
        heel_drag_from_mm: section.heel_drag_from().map(Length::mm),
        next_tooth_clear: gap.is_none_or(|gap| gap > Length::ZERO),
        next_tooth_gap_mm: gap.map(Length::mm),
        far_side_gap_mm: section.far_side_gap().map(Length::mm),
        pieces: pieces(section),
    })
}

fn drop_answer(section: &GroundSection, distance: Length) -> DropAnswer {
    DropAnswer {
        distance_mm: distance.mm(),
        drop_mm: section.drop_at(distance).map(Length::mm),
        chord_relief_deg: section
            .mean_relief(distance)
            .filter(|_| distance > Length::ZERO)
            .map(Angle::degrees),
    }
}

/// The pieces from the edge to the next tooth, in millimetres along the cutting circle.
fn pieces(section: &GroundSection) -> Vec<PieceAnswer> {
    let radius_mm = section.circle_radius().mm();
    let behind = |piece: &Piece| piece.to.radians() > 0.0;
    section
        .pieces()
        .iter()
        .filter(|piece| behind(piece))
        .map(|piece| PieceAnswer {
            part: part_name(piece.part),
            kind: piece.kind.name(),
            from_mm: piece.from.radians().max(0.0) * radius_mm,
            to_mm: piece.to.radians() * radius_mm,
        })
        .collect()
}

const fn part_name(part: Part) -> &'static str {
    match part {
        Part::Face => "face",
        Part::LeadingCorner => "leading corner",
        Part::TrailingCorner => "trailing corner",
        Part::LeadingFlank => "leading flank",
        Part::TrailingFlank => "trailing flank",
    }
}

fn both(mm: f64) -> String {
    Length::from_mm(mm).show_both(System::Millimetre).to_string()
}

impl SectionAnswer {
    /// The answer for a person.
    pub(crate) fn as_text(&self) -> String {
        let mut text = String::new();
        // Writing into a string cannot fail.
        let _ = writeln!(
            text,
            "Relief at the edge   {:.3} deg, {}",
            self.edge_relief_deg, self.relief_kind
        );
        let _ = writeln!(text, "Wheel from axis      {}", both(self.wheel_from_axis_mm));
        for drop in &self.drops {
            let _ = writeln!(text, "{}", drop.as_text());
        }
        let drag = match self.heel_drag_from_mm {
            Some(from) => format!("from {} behind the edge, where metal is left there", both(from)),
            None => "none up to the next tooth".to_owned(),
        };
        let _ = writeln!(text, "Heel drag            {drag}");
        let _ = writeln!(text, "Next tooth           {}", self.next_tooth());
        if let Some(gap) = self.far_side_gap_mm {
            let says = if gap > 0.0 { "clear by" } else { "CUTS by" };
            let _ = writeln!(text, "Far side of the cup  {says} {}", both(gap.abs()));
        }
        for piece in &self.pieces {
            let _ = writeln!(
                text,
                "  {:<16} {:<7} {:8.3} to {:8.3} mm behind the edge",
                piece.part, piece.kind, piece.from_mm, piece.to_mm
            );
        }
        text
    }

    fn next_tooth(&self) -> String {
        match (self.next_tooth_clear, self.next_tooth_gap_mm) {
            (true, Some(gap)) => format!("clear by {}", both(gap)),
            (true, None) => "clear: the wheel does not come over it".to_owned(),
            (false, gap) => {
                format!("NOT clear: the wheel cuts it by {}", both(-gap.unwrap_or(0.0)))
            }
        }
    }
}

impl DropAnswer {
    fn as_text(&self) -> String {
        let at = both(self.distance_mm);
        match (self.drop_mm, self.chord_relief_deg) {
            (Some(drop), Some(relief)) => {
                format!("Drop at {at}: {}, its chord stands at {relief:.3} deg", both(drop))
            }
            (Some(drop), None) => format!("Drop at {at}: {}", both(drop)),
            (None, _) => format!("Drop at {at}: the wheel leaves no surface there"),
        }
    }
}

//! What the end shall be: dish, reliefs, gash and corner, each with its source.

use geometry::{Angle, Length};
use trade::{Amount, CornerForm, EndItem, EndTeeth as Teeth, Range, WorkGroup};

use crate::context::{Cited, Ctx, OWN_RECORD};
use crate::error::ShopError;
use crate::plan::wanted::{Wanted, work_group};
use crate::record::{Cutter, EndForm, EndTeeth};

/// The wanted corner.
#[derive(Clone, Debug, PartialEq)]
pub enum CornerWanted {
    /// None: end and periphery meet.
    Sharp,
    /// A flat.
    Chamfer {
        /// Width along its own edge.
        width: Cited<Length>,
        /// Angle against the end.
        angle: Cited<Angle>,
        /// Its relief.
        relief: Cited<Angle>,
    },
    /// A round; half the diameter on a ball.
    Round {
        /// Its radius.
        radius: Length,
        /// Its relief.
        relief: Cited<Angle>,
    },
}

/// The wanted gash.
#[derive(Clone, Debug, PartialEq)]
pub struct GashWanted {
    /// How steeply its root falls outward, against the plane of the end.
    pub floor: Cited<Angle>,
    /// How far its face leans back under the edge.
    pub rake: Cited<Angle>,
    /// The radius in its root.
    pub root: Cited<Length>,
    /// Where its root came out on the end when the end was last ground, if that is known.
    pub from_centre: Option<Length>,
}

/// The wanted end.
#[derive(Clone, Debug, PartialEq)]
pub struct EndWanted {
    /// How much the edges sink toward the centre.
    pub dish: Cited<Angle>,
    /// Primary relief along the axis.
    pub relief: Cited<Angle>,
    /// Secondary clearance along the axis.
    pub secondary: Cited<Angle>,
    /// Width of the primary land.
    pub land: Cited<Length>,
    /// How far the edges run ahead of the centre.
    pub ahead: Length,
    /// How far from the axis the edges end: 0 where they run to the centre.
    pub inner: Cited<Length>,
    /// How far from the axis those edges end that are short on purpose; as `inner` where all are
    /// alike.
    pub short: Cited<Length>,
    /// The gash.
    pub gash: GashWanted,
    /// The corner.
    pub corner: CornerWanted,
    /// What a reader should know of how these were found.
    pub remarks: Vec<String>,
}

/// Diameter of the hole in an end that is not centre-cutting, as a share of the cutter's, where its
/// record does not give it (own choice, no source).
const HOLE_SHARE: f64 = 0.25;

/// The amount of a point of practice at the end; the middle of its range.
pub(super) fn practice(ctx: &Ctx<'_>, item: EndItem) -> Result<Cited<Amount>, ShopError> {
    let found = ctx.tables.end_practice(item).ok_or_else(|| missing("end-practice"))?;
    Ok(Cited::new(found.chosen.value.amount, &found.chosen.source))
}

/// A length of practice at the end; the middle of its range.
pub(super) fn practice_length(ctx: &Ctx<'_>, item: EndItem) -> Result<Cited<Length>, ShopError> {
    let found = practice(ctx, item)?;
    let length = found.value.length().ok_or_else(|| {
        let reason =
            format!("\"{}\" must be a length: write one such as \"0.005 in\"", item.name());
        ShopError::invalid("end-practice", reason)
    })?;
    Ok(Cited::new(length.middle(), found.source))
}

fn missing(table: &str) -> ShopError {
    ShopError::invalid(table, format!("no row of the table {table} speaks of this cutter"))
}

/// What asks the tables about one cutter.
struct Asking<'a> {
    ctx: &'a Ctx<'a>,
    cutter: &'a Cutter,
    own: EndTeeth,
    work: WorkGroup,
}

/// Finds the wanted end: the cutter's own geometry where its record gives it, else the tables'.
pub(super) fn wanted(
    ctx: &Ctx<'_>,
    cutter: &Cutter,
    periphery: &Wanted,
) -> Result<EndWanted, ShopError> {
    let own = cutter.end_teeth().copied().unwrap_or_default();
    let asking = Asking { ctx, cutter, own, work: work_group(cutter) };
    let mut remarks = Vec::new();
    let dish = asking.dish(&mut remarks)?;
    let relief = asking.relief(&mut remarks)?;
    let secondary = asking.secondary(relief.value)?;
    let land = match own.land {
        Some(land) => Cited::new(land, OWN_RECORD),
        None => Cited::new(periphery.land.value, "as wide as on the periphery"),
    };
    let inner = asking.inner(&mut remarks);
    let short = asking.short(&inner)?;
    Ok(EndWanted {
        dish,
        relief,
        secondary,
        land,
        ahead: own.ahead_of_centre.unwrap_or(Length::ZERO),
        inner,
        short,
        gash: asking.gash()?,
        corner: asking.corner()?,
        remarks,
    })
}

/// A value of the record's, or the middle of a table's range.
fn or_middle(own: Option<Angle>, range: Range<Angle>, source: &str) -> Cited<Angle> {
    match own {
        Some(value) => Cited::new(value, OWN_RECORD),
        None => Cited::new(range.middle(), source),
    }
}

impl Asking<'_> {
    /// The dish: an angle, or the angle that a depth at the centre comes to.
    fn dish(&self, remarks: &mut Vec<String>) -> Result<Cited<Angle>, ShopError> {
        let found = self.ctx.tables.dish(Teeth::EndMill).ok_or_else(|| missing("dish"))?;
        let half = self.cutter.diameter() / 2.0;
        let angle = |amount: Amount| match (amount.angle(), amount.length()) {
            (Some(range), _) => Some(range.middle()),
            (_, Some(depth)) => Some(Angle::from_tangent(depth.middle() / half)),
            _ => None,
        };
        let shown = |depth: Range<Length>| {
            let both = |length: Length| length.show_both(self.cutter.system()).to_string();
            format!("{} to {} at the centre", both(depth.least), both(depth.greatest))
        };
        let others = found.others.iter().filter_map(|row| {
            let depth = row.value.dish.length()?;
            let angle = Angle::from_tangent(depth.middle() / half);
            Some(format!("{} gives {}, here {}", row.source, shown(depth), angle.show()))
        });
        if self.own.dish.is_none() {
            remarks.extend(others.take(1).map(|text| format!("dish: sources disagree; {text}")));
        }
        if let Some(own) = self.own.dish {
            return Ok(Cited::new(own, OWN_RECORD));
        }
        let value = angle(found.chosen.value.dish).ok_or_else(|| {
            ShopError::invalid("dish", "it must be an angle, or a depth at the centre")
        })?;
        Ok(Cited::new(value, &found.chosen.source))
    }

    fn relief(&self, remarks: &mut Vec<String>) -> Result<Cited<Angle>, ShopError> {
        let found = self.ctx.tables.end_relief(Teeth::EndMill, self.work);
        let found = found.ok_or_else(|| missing("end-relief"))?;
        if self.own.relief.is_none() {
            let other =
                found.others.iter().find(|row| row.value.relief != found.chosen.value.relief);
            remarks.extend(other.map(|row| {
                let range = row.value.relief;
                let ends = format!("{} to {}", range.least.show(), range.greatest.show());
                format!("axial relief: sources disagree; others give {ends}")
            }));
        }
        let range = found.chosen.value.relief;
        Ok(or_middle(self.own.relief, range, &found.chosen.source))
    }

    fn secondary(&self, primary: Angle) -> Result<Cited<Angle>, ShopError> {
        let found = self.ctx.tables.end_secondary(Teeth::EndMill, self.work);
        let found = found.ok_or_else(|| missing("end-secondary"))?;
        let range = found.chosen.value.secondary.for_primary(primary);
        Ok(or_middle(self.own.secondary, range, &found.chosen.source))
    }

    fn inner(&self, remarks: &mut Vec<String>) -> Cited<Length> {
        if let Some(hole) = self.own.centre_hole {
            return Cited::new(hole / 2.0, OWN_RECORD);
        }
        if self.cutter.centre_cutting() {
            return Cited::new(Length::ZERO, "its edges run to the centre");
        }
        let hole = self.cutter.diameter() * HOLE_SHARE;
        remarks.push(format!(
            "the hole in the end is taken as {}: measure it, and put centre_hole into its file",
            hole.show_both(self.cutter.system())
        ));
        Cited::new(hole / 2.0, "taken as a quarter of the diameter; measure it")
    }

    /// Where the short edges end: of two teeth both are long, of more one pair, or the one.
    fn short(&self, inner: &Cited<Length>) -> Result<Cited<Length>, ShopError> {
        if inner.value > Length::ZERO || self.cutter.teeth() < 3 {
            return Ok(inner.clone());
        }
        let found = practice(self.ctx, EndItem::ShortOfCentre)?;
        let share = found.value.share().ok_or_else(|| {
            let reason = "\"short of the centre\" must be a share: write one such as \"15 %\"";
            ShopError::invalid("end-practice", reason)
        })?;
        let length = self.cutter.diameter() * (share.middle().percent() / 100.0);
        Ok(Cited::new(length, found.source))
    }

    fn gash(&self) -> Result<GashWanted, ShopError> {
        let found = self.ctx.tables.gash(Teeth::EndMill).ok_or_else(|| missing("gash"))?;
        let (row, source) = (&found.chosen.value, &found.chosen.source);
        // A root for a middling cutter is too large for a small one.
        let largest = self.cutter.diameter() * ROOT_SHARE_MAX;
        let root = match self.own.gash_root {
            Some(root) => Cited::new(root, OWN_RECORD),
            None => Cited::new(row.root.middle().min(largest), source),
        };
        Ok(GashWanted {
            floor: or_middle(self.own.gash_angle, row.floor, source),
            rake: or_middle(self.own.gash_rake, row.rake, source),
            root,
            from_centre: self.own.gash_from_centre,
        })
    }

    fn corner(&self) -> Result<CornerWanted, ShopError> {
        let form = if self.cutter.end() == EndForm::Square {
            CornerForm::Chamfer
        } else {
            CornerForm::Radius
        };
        let found = self.ctx.tables.corner(form, self.work).ok_or_else(|| missing("corner"))?;
        let (row, source) = (&found.chosen.value, &found.chosen.source);
        let relief = or_middle(self.own.corner_relief, row.relief, source);
        let half = self.cutter.diameter() / 2.0;
        Ok(match (self.cutter.end(), self.own.corner_chamfer) {
            (EndForm::CornerRadius(radius), _) => CornerWanted::Round { radius, relief },
            (EndForm::Ball, _) => CornerWanted::Round { radius: half, relief },
            (EndForm::Square, Some(width)) if width > Length::ZERO => {
                let usual = row.angle.ok_or_else(|| missing("corner"))?;
                let angle = or_middle(self.own.corner_angle, usual, source);
                CornerWanted::Chamfer { width: Cited::new(width, OWN_RECORD), angle, relief }
            }
            (EndForm::Square, _) => CornerWanted::Sharp,
        })
    }
}

/// Largest radius of a gash's root, as a share of the diameter (own choice, no source).
const ROOT_SHARE_MAX: f64 = 0.05;

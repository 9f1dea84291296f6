//! What the tooth shall be: relief, land and secondary, each with its source.

use geometry::{Angle, Length};
use trade::{Lookup, ReliefRow, WorkGroup};

use super::clearance;
use super::doubt::teeth_doubt;
use crate::context::{Cited, Ctx, OWN_RECORD};
use crate::error::ShopError;
use crate::record::{Cutter, Wear};

/// The kind of relief wanted.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub enum ReliefKind {
    /// Straight, by the face of a cup.
    Flat,
    /// Hollow, by the periphery of a disc.
    Hollow,
    /// Convex and constant along the helix, by a wide leaning face.
    Eccentric,
}

impl ReliefKind {
    /// Every kind.
    pub const ALL: [Self; 3] = [Self::Flat, Self::Hollow, Self::Eccentric];

    /// The word used on the command line and on sheets.
    pub const fn name(self) -> &'static str {
        match self {
            Self::Flat => "flat",
            Self::Hollow => "hollow",
            Self::Eccentric => "eccentric",
        }
    }
}

/// The wanted tooth.
#[derive(Clone, Debug, PartialEq)]
pub struct Wanted {
    /// Primary relief.
    pub primary: Cited<Angle>,
    /// Relief on which the cutter has worn: what it was ground with, as far as is known.
    pub ground_primary: Angle,
    /// Distance behind the edge over which the relief is meant and the drop is read.
    pub over: Cited<Length>,
    /// Secondary relief.
    pub secondary: Cited<Angle>,
    /// Width of the primary land.
    pub land: Cited<Length>,
    /// Width of the tooth's back along the circle.
    pub tooth_thickness: Cited<Length>,
    /// What a reader should know of how these were found.
    pub remarks: Vec<String>,
}

/// Share of the tooth pitch that a tooth's back takes where its width was not measured (own choice,
/// no source).
const BACK_SHARE_OF_PITCH: f64 = 0.35;

/// Largest share of the back's width that a land may take (own choice, no source).
const LAND_SHARE_OF_BACK: f64 = 0.6;

/// The tables' group for the work named in a cutter's record.
pub(crate) fn work_group(cutter: &Cutter) -> WorkGroup {
    let named = |group: &&WorkGroup| group.name().eq_ignore_ascii_case(cutter.work());
    WorkGroup::ALL.iter().find(named).copied().unwrap_or(WorkGroup::Any)
}

/// Finds the wanted tooth: the cutter's own geometry where its record gives it, else the tables'.
pub(crate) fn wanted(ctx: &Ctx<'_>, cutter: &Cutter) -> Result<Wanted, ShopError> {
    let mut remarks: Vec<String> = teeth_doubt(ctx, cutter).into_iter().collect();
    let work = work_group(cutter);
    let lookup = ctx.tables.relief(cutter.diameter(), cutter.material(), work);
    let mut primary = primary(cutter, lookup.as_ref(), &mut remarks)?;
    let ground_primary = cutter.as_ground().map_or(primary.value, |ground| ground.primary);
    let signs = cutter.wear().map_or(&[][..], Wear::signs);
    let range = clearance::table_range(ctx, cutter);
    if let Some(change) = clearance::change(ctx, signs, primary.value, range) {
        primary = change.next;
        remarks.push(change.remark);
    }
    let thickness = thickness(cutter);
    let land = land(ctx, cutter, work, thickness.value, &mut remarks)?;
    let distance = lookup.and_then(|found| {
        let distance = found.chosen.value.distance?;
        Some(Cited::new(distance.min(land.value * 0.9), &found.chosen.source))
    });
    let over =
        distance.unwrap_or_else(|| Cited::new(land.value * 0.75, "three quarters of the land"));
    let secondary = secondary(ctx, cutter, work, primary.value)?;
    let tooth_thickness = thickness;
    Ok(Wanted { primary, ground_primary, over, secondary, land, tooth_thickness, remarks })
}

/// The primary: asked for at the last check, or as it was ground, or from the tables.
fn primary(
    cutter: &Cutter,
    lookup: Option<&Lookup<'_, ReliefRow>>,
    remarks: &mut Vec<String>,
) -> Result<Cited<Angle>, ShopError> {
    if let Some(ground) = cutter.as_ground() {
        let (primary, source) = match ground.next_primary {
            Some(next) => (next, "the cutter's own record, asked for at its last check"),
            None => (ground.primary, OWN_RECORD),
        };
        remarks.extend(lookup.and_then(|found| outside(primary, found)));
        return Ok(Cited::new(primary, source));
    }
    let found = lookup.ok_or_else(|| {
        let reason = "no row of the relief table speaks of this diameter: give as_ground in the \
                      cutter's file";
        ShopError::invalid("relief", reason)
    })?;
    remarks.extend(found.remark());
    Ok(Cited::new(found.chosen.value.recommended(), &found.chosen.source))
}

/// What to say of a primary outside the tables' range.
fn outside(own: Angle, found: &Lookup<'_, ReliefRow>) -> Option<String> {
    let range = found.chosen.value.primary;
    let (least, greatest) = (range.least.degrees(), range.greatest.degrees());
    let within = (least - 1e-9..=greatest + 1e-9).contains(&own.degrees());
    let source = &found.chosen.source;
    let own = own.degrees();
    (!within).then(|| {
        format!("ground with {own:.1} deg; {source} gives {least:.1} to {greatest:.1} deg")
    })
}

fn thickness(cutter: &Cutter) -> Cited<Length> {
    match cutter.tooth_thickness() {
        Some(measured) => Cited::new(measured, OWN_RECORD),
        None => Cited::new(
            cutter.pitch() * BACK_SHARE_OF_PITCH,
            "taken as 0.35 of the tooth pitch; measure it",
        ),
    }
}

fn land(
    ctx: &Ctx<'_>,
    cutter: &Cutter,
    work: WorkGroup,
    thickness: Length,
    remarks: &mut Vec<String>,
) -> Result<Cited<Length>, ShopError> {
    if let Some(ground) = cutter.as_ground() {
        return Ok(Cited::new(ground.land, OWN_RECORD));
    }
    let lookup = ctx.tables.land(cutter.diameter(), work).ok_or_else(|| {
        let reason = "no row of the land table speaks of this diameter: give as_ground in the \
                      cutter's file";
        ShopError::invalid("land", reason)
    })?;
    remarks.extend(lookup.remark());
    let span = lookup.chosen.value.land;
    let greatest = span.greatest.or(span.least).unwrap_or(thickness);
    let least = span.least.unwrap_or(greatest * LAND_OF_GREATEST);
    let land = ((least + greatest) / 2.0).min(thickness * LAND_SHARE_OF_BACK);
    Ok(Cited::new(land, &lookup.chosen.source))
}

/// Where a table gives only the greatest land, the least that is still ordinary as a share of it
/// (own choice, no source).
pub(crate) const LAND_OF_GREATEST: f64 = 0.6;

fn secondary(
    ctx: &Ctx<'_>,
    cutter: &Cutter,
    work: WorkGroup,
    primary: Angle,
) -> Result<Cited<Angle>, ShopError> {
    if let Some(ground) = cutter.as_ground() {
        return Ok(Cited::new(ground.secondary, OWN_RECORD));
    }
    let lookup = ctx.tables.secondary(work).ok_or_else(|| {
        ShopError::invalid("secondary", "no row of the secondary table speaks of this work")
    })?;
    let range = lookup.chosen.value.secondary.for_primary(primary);
    let clear = Angle::from_degrees(primary.degrees() + 4.0);
    let middle = range.middle();
    let value = if middle > clear { middle } else { clear };
    Ok(Cited::new(value, &lookup.chosen.source))
}

//! What to do about what was found, in the marks of this machine's dials.

use geometry::quantity::System;
use geometry::{Angle, Length};

use super::fault::Fault;
use super::finding::{Edges, Figure, Finding};
use super::judgement::{Judgement, Quality, Standing};
use super::nominal::{Nominal, changed_relief};
use crate::context::{Cited, Ctx};
use crate::plan::{DialMark, Held, Quantity, SetupItem, Stanced, primary_setup};
use crate::record::{Axis, AxisRole, Cutter, Fixture, Hand, Machine};

/// What to do.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub enum Action {
    /// Swing the table, or square the fixture.
    Swivel,
    /// Take the cutter out, clean, turn the shank and seat it again.
    Reseat,
    /// Go round once more with no feed.
    SecondRound,
    /// Grind one tooth again.
    RegrindTooth,
    /// Set the relief anew.
    SetRelief,
    /// Dress the wheel.
    Dress,
    /// Feed on.
    Feed,
    /// Write the size that was found on the tag.
    TagSize,
}

impl Action {
    /// The words used on sheets.
    pub const fn name(self) -> &'static str {
        match self {
            Self::Swivel => "table",
            Self::Reseat => "shank",
            Self::SecondRound => "second round",
            Self::RegrindTooth => "tooth",
            Self::SetRelief => "relief",
            Self::Dress => "wheel",
            Self::Feed => "feed",
            Self::TagSize => "tag",
        }
    }
}

/// A change of one dial.
#[derive(Clone, Debug, PartialEq)]
pub struct DialChange {
    /// What people at the machine call the axis.
    pub axis: String,
    /// How far to move it, as its dial counts, to the nearest mark; above nothing where the reading
    /// grows. Where the machine's file does not say which way it grows, the bare amount.
    pub by: Quantity,
    /// The same before it was brought to a mark, with half of its band.
    pub exact: Quantity,
    /// Half of the band of the exact change.
    pub within: Quantity,
    /// Where to, if the sheet gave a reading to start from.
    pub to: Option<DialMark>,
    /// The smallest step of that dial.
    pub finest: Quantity,
    /// Whether the dial counts on diameter.
    pub on_diameter: bool,
    /// Which way, in words that need no sign.
    pub way: String,
}

/// Whether a correction is worth making.
#[derive(Clone, Debug, PartialEq)]
pub enum Worth {
    /// Make it.
    Make,
    /// Leave it: good enough against this tolerance.
    GoodEnough(Cited<String>),
    /// The dial cannot be set to so little: why, and what sets it instead where something does.
    TooSmall(String),
}

/// A correction.
#[derive(Clone, Debug, PartialEq)]
pub struct Correction {
    /// The fault it is for.
    pub fault: Fault,
    /// What to do.
    pub action: Action,
    /// On which dial, where it is done on one.
    pub dial: Option<DialChange>,
    /// In words.
    pub how: String,
    /// Whether to.
    pub worth: Worth,
}

/// Everything that corrections are worked out from.
pub(super) struct Corrections<'a> {
    pub(super) ctx: &'a Ctx<'a>,
    pub(super) cutter: &'a Cutter,
    pub(super) machine: &'a Machine,
    pub(super) nominal: &'a Nominal<'a>,
    pub(super) edges: &'a Edges,
    pub(super) judgements: &'a [Judgement],
    pub(super) flute: Length,
    pub(super) order: &'a [u32],
    pub(super) asked_size: Option<Length>,
}

/// The order in which corrections are made: what unseats the cutter first, the feed last.
const fn rank(action: Action) -> u32 {
    match action {
        Action::Reseat => 0,
        Action::Dress => 1,
        Action::Swivel => 2,
        Action::SetRelief => 3,
        Action::Feed => 4,
        Action::RegrindTooth => 5,
        Action::SecondRound => 6,
        Action::TagSize => 7,
    }
}

impl Corrections<'_> {
    /// The corrections for these findings, in the order in which they are made.
    pub(super) fn all(&self, findings: &[Finding]) -> Vec<Correction> {
        let mut all: Vec<Correction> = findings.iter().flat_map(|one| self.of(one)).collect();
        all.sort_by_key(|one| rank(one.action));
        all
    }

    fn of(&self, finding: &Finding) -> Vec<Correction> {
        match finding.fault {
            Fault::Size => vec![self.size(finding)],
            Fault::Taper => vec![self.taper(finding)],
            Fault::Runout => vec![self.runout(finding)],
            Fault::Drift => vec![self.drift(finding)],
            Fault::Slip(tooth) => vec![self.slip(finding, tooth)],
            Fault::Clearance => vec![self.clearance(finding)],
            Fault::Corner => vec![self.corner(finding)],
        }
    }

    fn make(&self, fault: Fault, action: Action, how: String) -> Correction {
        Correction { fault, action, dial: None, how, worth: Worth::Make }
    }

    /// Good enough where the quality that the fault spoils is within what is allowed.
    fn worth(&self, quality: Quality) -> Worth {
        let judgement = self.judgements.iter().find(|one| one.quality == quality);
        let Some(Judgement { found, allowed: Some(allowed), standing, .. }) = judgement else {
            return Worth::Make;
        };
        let bound = allowed.value.1;
        let figures = if quality == Quality::Relief {
            let off = found.value - 0.5 * (allowed.value.0 + allowed.value.1);
            format!("{off:+.2} deg off, {:.2} deg allowed", bound - found.value + off)
        } else {
            let (found, bound) = (Length::from_mm(found.value.abs()), Length::from_mm(bound));
            format!("{} of {} allowed", self.shown(found), self.shown(bound))
        };
        match standing {
            Standing::Within => Worth::GoodEnough(Cited::new(figures, &allowed.source)),
            Standing::LikelyWithin | Standing::NotSeen => {
                let words = format!("{figures}, though the readings leave room for more");
                Worth::GoodEnough(Cited::new(words, &allowed.source))
            }
            _ => Worth::Make,
        }
    }

    /// The largest diameter to which every edge can be brought.
    fn lowest_diameter(&self) -> Length {
        let stands = self.edges.stands.iter().flatten().map(|figure| figure.value);
        let lowest_mm = stands.fold(0.0, f64::min);
        Length::from_mm(2.0 * (self.nominal.radius_mm() + lowest_mm))
    }

    fn system(&self) -> System {
        self.cutter.system()
    }

    /// A small length in the cutter's own system.
    fn shown(&self, length: Length) -> String {
        match self.system() {
            System::Inch => format!("{:.4} in", length.inches()),
            System::Millimetre => format!("{:.4} mm", length.mm()),
        }
    }

    fn banded(&self, figure: Figure) -> String {
        let (size, within) = (Length::from_mm(figure.value.abs()), figure.within());
        match self.system() {
            System::Inch => format!("{:.5} ±{:.5} in", size.inches(), within.inches()),
            System::Millimetre => format!("{:.4} ±{:.4} mm", size.mm(), within.mm()),
        }
    }

    fn taper(&self, finding: &Finding) -> Correction {
        let slope = finding.size.times(1.0 / self.flute.mm());
        let angle = Angle::from_tangent(slope.value.abs());
        let within = Angle::from_tangent(slope.half_width);
        let stands_out = finding.size.value > 0.0;
        let way = if stands_out { "toward the wheel" } else { "away from the wheel" };
        let dress = if stands_out { "" } else { " Dress the wheel before the next pass." };
        let swivels = [AxisRole::TableSwivel, AxisRole::WorkHeadSwivel];
        let axis = swivels.into_iter().find_map(|role| self.machine.axis(role));
        let mut made = self.make(Fault::Taper, Action::Swivel, String::new());
        made.worth = self.worth(Quality::Taper);
        let over = match self.system() {
            System::Inch => Length::from_inches(4.0),
            System::Millimetre => Length::from_mm(100.0),
        };
        let at_length = |figure: Figure| self.banded(figure.times(over.mm()));
        match axis.and_then(|axis| Some((axis, axis.swivel()?))) {
            Some((axis, scale)) => {
                let by = angle.snapped_to(scale.finest());
                made.dial = Some(self.swung(axis, by, (angle, within), stands_out));
                let left = self.left_by_mark(angle - by);
                let between = left.map_or_else(String::new, |(left, allowed)| {
                    format!(
                        " The nearest mark leaves {left} of taper on diameter, {allowed} is \
                         allowed: set it between the marks, by an indicator over a test bar, {} in \
                         {}.",
                        at_length(slope),
                        self.shown(over)
                    )
                });
                made.how = format!("the shank's end {way}.{dress}{between}");
                if by == Angle::ZERO && made.worth == Worth::Make {
                    let words = format!(
                        "it is less than half a mark of \"{}\": set it by an indicator over a test \
                         bar, {} in {}",
                        axis.name(),
                        at_length(slope),
                        self.shown(over)
                    );
                    made.worth = Worth::TooSmall(words);
                }
            }
            None => {
                made.how = format!(
                    "no swivel has a scale here: loosen the fixture and tap the shank's end {way} \
                     until an indicator along a test bar, or along {}, shows {} less in {} of \
                     travel.{dress}",
                    self.machine.holding().squaring(),
                    at_length(slope),
                    self.shown(over)
                );
            }
        }
        made
    }

    /// What taper a mark leaves that stands off the worked-out angle by so much, and what is
    /// allowed of it over the flute, where it is more than that.
    ///
    /// **Source** \[own-derivation\] a side that leans by an angle stands off by its tangent over
    /// the flute, and both sides do. **Departs** nowhere. **Error** rounding. **Domain** angles of
    /// some minutes, a flute above nothing.
    fn left_by_mark(&self, off: Angle) -> Option<(String, String)> {
        let (most, over) = self.nominal.peripheral.expected.taper.as_ref()?.value;
        let allowed = most * (self.flute / over);
        let left = self.flute * (2.0 * off.abs().tan());
        (left > allowed).then(|| (self.shown(left), self.shown(allowed)))
    }

    /// A swing of a swivel. Seen from above, with the wheel beyond the cutter, a right-hand
    /// cutter's shank lies to the right: its end goes away from the wheel where the table turns
    /// clockwise.
    fn swung(
        &self,
        axis: &Axis,
        by: Angle,
        (exact, within): (Angle, Angle),
        toward_wheel: bool,
    ) -> DialChange {
        let clockwise = (self.cutter.hand() == Hand::Right) != toward_wheel;
        let sign = match crate::plan::grows_clockwise(axis, self.cutter.hand()) {
            Some(grows) if grows != clockwise => -1.0,
            _ => 1.0,
        };
        let finest = axis.swivel().map_or(Angle::ZERO, |scale| scale.finest());
        let turn = if clockwise { "clockwise" } else { "counterclockwise" };
        DialChange {
            axis: axis.name().to_owned(),
            by: Quantity::Angle(by * sign),
            exact: Quantity::Angle(exact * sign),
            within: Quantity::Angle(within),
            to: None,
            finest: Quantity::Angle(finest),
            on_diameter: false,
            way: format!("{turn} seen from above"),
        }
    }

    fn runout(&self, finding: &Finding) -> Correction {
        let allowed = self.nominal.peripheral.expected.runout.as_ref();
        let limit = allowed.map_or(String::new(), |cited| {
            format!(", {} at most [{}]", self.shown(cited.value), cited.source)
        });
        let clean = match self.machine.holding().fixture() {
            Fixture::Centres => "clean both centres and centre holes, take out any burr",
            _ => "clean collet, bore and shank, take off any burr",
        };
        let how = format!(
            "take it out, {clean}, turn the shank about half round in it and seat it again; \
             indicate the shank before grinding{limit}. It ran out {} in all. Then kiss the \
             highest tooth and go round every tooth to one depth: all come alike at about {}.",
            self.banded(finding.size.times(2.0)),
            self.shown(self.lowest_diameter())
        );
        let mut made = self.make(Fault::Runout, Action::Reseat, how);
        made.worth = self.worth(Quality::Runout);
        made
    }

    fn drift(&self, finding: &Finding) -> Correction {
        let rises = finding.size.value > 0.0;
        let teeth = self.cutter.teeth();
        let first = self.order.first().copied().unwrap_or(1);
        let start = (first - 1 + teeth / 2) % teeth + 1;
        let grown = if rises {
            "the wheel wore on the way round"
        } else {
            "the teeth fall off in the order given: was it written down backwards, or did the \
             slide creep?"
        };
        let how = format!(
            "{grown}: {} from first to last. Dress if the face is glazed, then go round once more, \
             beginning at tooth {start}, half a turn from where you began, fed from the kiss of \
             the highest tooth until the lowest sparks.",
            self.banded(finding.size)
        );
        let mut made = self.make(Fault::Drift, Action::SecondRound, how);
        made.worth = self.worth(Quality::Runout);
        made
    }

    fn slip(&self, finding: &Finding, tooth: u32) -> Correction {
        let amount = self.banded(finding.size);
        let (held, slipped) = if Held::on(self.machine).has_rest() {
            ("held down on its rest from tip to shank", "it left its rest")
        } else {
            ("the head pinned and locked", "the head was not locked, or turned too far")
        };
        let how = if finding.size.value > 0.0 {
            format!(
                "tooth {tooth} stands out {amount}: go over it again at the same mark with no \
                 feed, {held}."
            )
        } else {
            format!(
                "tooth {tooth} was ground {amount} deeper: {slipped}. Nothing goes back on: \
                 feed the others down to it, or leave it where one tooth that does not cut may be \
                 borne."
            )
        };
        let mut made = self.make(Fault::Slip(tooth), Action::RegrindTooth, how);
        made.worth = self.worth(Quality::Runout);
        if finding.size.value < 0.0 && made.worth == Worth::Make {
            made.dial = Some(self.fed(finding.size.times(-1.0)));
        }
        made
    }

    /// A feed that takes this much off the radius.
    fn fed(&self, off: Figure) -> DialChange {
        let scale = self.machine.cross_feed();
        let axis = self.machine.axis(AxisRole::CrossFeed);
        let grinding = &self.nominal.peripheral.grinding;
        let per_feed = grinding.feed.radius_per_feed * grinding.ratio;
        let travel = |mm: f64| scale.reading(Length::from_mm(mm / per_feed));
        let exact = travel(off.value);
        DialChange {
            axis: axis.map_or("cross feed", |axis| axis.name()).to_owned(),
            by: Quantity::Length(exact.snapped_to(scale.finest())),
            exact: Quantity::Length(exact),
            within: Quantity::Length(travel(off.half_width)),
            to: None,
            finest: Quantity::Length(scale.finest()),
            on_diameter: scale.reads == crate::record::Reads::Diameter,
            way: "in, from where the last pass stood".to_owned(),
        }
    }

    fn size(&self, finding: &Finding) -> Correction {
        let judged = self.judgements.iter().find(|one| one.quality == Quality::Size);
        let by_fault_mm = 2.0 * (self.nominal.radius_mm() + finding.size.value);
        let diameter_mm = judged.map_or(by_fault_mm, |one| one.found.value);
        let found = self.shown(Length::from_mm(diameter_mm));
        let amount = self.banded(finding.size.times(2.0));
        let large = finding.size.value > 0.0;
        let tag = format!("write {found} on the tag.");
        if self.asked_size.is_some() && large {
            let how = format!("it is {amount} over size on the diameter: feed on.");
            let mut made = self.make(Fault::Size, Action::Feed, how);
            let change = self.fed(finding.size);
            let nothing = change.by == Quantity::Length(Length::ZERO);
            made.worth = self.worth(Quality::Size);
            if nothing && made.worth == Worth::Make {
                let words = format!("less than half a mark of \"{}\"; {tag}", change.axis);
                made.worth = Worth::TooSmall(words);
            }
            made.dial = Some(change);
            return made;
        }
        let side = if large { "larger" } else { "smaller" };
        let how = format!("{amount} {side} on the diameter than planned; {tag}");
        let mut made = self.make(Fault::Size, Action::TagSize, how);
        if self.asked_size.is_some() {
            made.worth = self.worth(Quality::Size);
        }
        made
    }

    fn clearance(&self, finding: &Finding) -> Correction {
        let side = if finding.size.value > 0.0 { "more" } else { "less" };
        let Figure { value, half_width } = finding.size;
        let see = if Held::on(self.machine).has_rest() {
            "the rest bears where the sheet says"
        } else {
            "the tooth was on centre when the head was locked"
        };
        let how = format!(
            "the relief is {:.2} ±{half_width:.2} deg {side} than planned; see first that {see} \
             and that backlash is taken up.",
            value.abs()
        );
        let mut made = self.make(Fault::Clearance, Action::SetRelief, how);
        made.worth = self.worth(Quality::Relief);
        if let Some(change) = self.relief_change(finding.size) {
            let nothing = match change.by {
                Quantity::Angle(by) => by == Angle::ZERO,
                Quantity::Length(by) => by == Length::ZERO,
            };
            if nothing && made.worth == Worth::Make {
                let words = format!("less than half a mark of \"{}\"", change.axis);
                made.worth = Worth::TooSmall(words);
            }
            made.dial = Some(change);
        }
        made
    }

    /// The relief's own line of the set-up with the relief set lower by what was found too much.
    fn relief_change(&self, found: Figure) -> Option<DialChange> {
        let planned: &Stanced = &self.nominal.peripheral.stanced;
        let per_setting = self.nominal.relief_per_setting()?;
        let mark = |degrees: f64| {
            let setup = changed_relief(
                planned,
                &planned.setup,
                self.nominal.radius_mm(),
                degrees / per_setting,
            )?;
            let stanced = Stanced { setup, ..planned.clone() };
            let diameter = Length::from_mm(2.0 * self.nominal.radius_mm());
            let (cutter, machine) = (self.cutter, self.machine);
            let lines = primary_setup(self.ctx, cutter, machine, &stanced, diameter, self.flute);
            let line = lines.into_iter().find(|line| line.item == SetupItem::Relief)?;
            Some((line.dial?, line.how))
        };
        let (before, _) = mark(0.0)?;
        let (after, how) = mark(-found.value)?;
        let (wide, _) = mark(-found.value - found.half_width)?;
        let more = if found.value > 0.0 { "less" } else { "more" };
        let way = format!("{more} relief than now ({how})");
        changed(&before, &after, &wide, way)
    }

    fn corner(&self, finding: &Finding) -> Correction {
        let how = format!(
            "the leading corner is {} rounder than planned: dress the face back at least that far, \
             from the outside in, then kiss anew.",
            self.banded(finding.size)
        );
        self.make(Fault::Corner, Action::Dress, how)
    }
}

/// The change from one mark to another, to the nearest mark of the dial.
fn changed(
    before: &DialMark,
    after: &DialMark,
    wide: &DialMark,
    way: String,
) -> Option<DialChange> {
    let (by, exact, within, reading) =
        match (before.reading, after.reading, wide.reading, before.finest) {
            (
                Quantity::Length(from),
                Quantity::Length(to),
                Quantity::Length(wide),
                Quantity::Length(step),
            ) => {
                let by = (to - from).snapped_to(step);
                let within = Quantity::Length((wide - to).abs());
                (
                    Quantity::Length(by),
                    Quantity::Length(to - from),
                    within,
                    Quantity::Length(from + by),
                )
            }
            (
                Quantity::Angle(from),
                Quantity::Angle(to),
                Quantity::Angle(wide),
                Quantity::Angle(step),
            ) => {
                let by = (to - from).snapped_to(step);
                let off = (wide - to).degrees().abs();
                let within = Quantity::Angle(Angle::from_degrees(off));
                (
                    Quantity::Angle(by),
                    Quantity::Angle(to - from),
                    within,
                    Quantity::Angle(from + by),
                )
            }
            _ => return None,
        };
    Some(DialChange {
        axis: before.axis.clone(),
        by,
        exact,
        within,
        to: Some(DialMark { reading, ..before.clone() }),
        finest: before.finest,
        on_diameter: before.on_diameter,
        way,
    })
}

//! What room the wheel has: how near it comes, over the whole stroke, to what it must not grind.

use geometry::clearance::{Begin, Finger, Nearest, Passage, Travel, WheelBack};
use geometry::outline::Outline;
use geometry::section::GroundSection;
use geometry::{Angle, Length};
use trade::PracticeItem;

use super::held::Held;
use super::rest::{finger_for, past_tip};
use super::secondary::SecondaryGrind;
use super::stance::Stanced;
use crate::context::{Cited, Ctx};
use crate::error::ShopError;
use crate::record::{Cutter, Fixture, Machine, Wheel};

/// What the wheel must not grind.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub enum Beside {
    /// The teeth that are not on the rest.
    OtherTeeth,
    /// The cutter under the far side of a cup's rim.
    FarSide,
    /// The round of the shank.
    Shank,
    /// The nose of the work head.
    WorkHead,
    /// The finger of the tooth rest.
    Finger,
    /// The tailstock and its centre, before the tip.
    Tailstock,
}

impl Beside {
    /// The words used on sheets.
    pub const fn name(self) -> &'static str {
        match self {
            Self::OtherTeeth => "next tooth",
            Self::FarSide => "far side",
            Self::Shank => "shank",
            Self::WorkHead => "work head",
            Self::Finger => "finger",
            Self::Tailstock => "tailstock",
        }
    }
}

/// What was found of the room beside one thing.
#[derive(Clone, Debug, PartialEq)]
pub enum RoomFound {
    /// The least distance over the whole stroke, to 0.01 mm; below zero it would cut so deep.
    Gap {
        /// Where that is.
        nearest: Nearest,
        /// How far from the tip the rest stands when it first comes to that.
        rest_from_tip: Length,
        /// The tooth, so many places heelward from the one on the rest, where it is a tooth.
        tooth: Option<u32>,
    },
    /// Where the round of the shank begins is not known: it must be no nearer to the tip.
    MayBegin {
        /// From the tip.
        from_tip: Length,
        /// How far behind the flutes' end that is.
        behind_flutes: Length,
    },
    /// The nose of the head may stand no nearer to the tip.
    HoldAtMost {
        /// From the tip.
        from_tip: Length,
        /// How much of the shank is behind that; below zero the wheel reaches past all of it.
        held: Length,
    },
    /// The wheel clears it wherever it begins.
    Free,
    /// The wheel, or what stands on its spindle, comes nearer than it should wherever it begins.
    Never,
    /// It must end so far behind the edge.
    SetBack {
        /// Along the tooth's face.
        behind_edge: Length,
    },
    /// It could not be looked at.
    NotChecked {
        /// What the records lack, and where it would be written.
        why: String,
    },
}

/// The room beside one thing.
#[derive(Clone, Debug, PartialEq)]
pub struct Room {
    /// What stands there.
    pub beside: Beside,
    /// What was found.
    pub found: RoomFound,
    /// The room that should be left.
    pub wanted: Cited<Length>,
}

impl Room {
    /// The least distance, where there is one.
    pub const fn gap(&self) -> Option<Length> {
        match &self.found {
            RoomFound::Gap { nearest, .. } => Some(nearest.gap),
            _ => None,
        }
    }

    /// Whether the wheel comes nearer than it should.
    pub fn is_tight(&self) -> bool {
        match &self.found {
            RoomFound::Never => true,
            RoomFound::HoldAtMost { held, .. } => *held <= Length::ZERO,
            _ => self.gap().is_some_and(|gap| gap < self.wanted.value),
        }
    }

    /// What was found, and what to do about it, in words; lengths as `show` writes them.
    pub fn words(&self, show: impl Fn(Length) -> String) -> String {
        let name = self.beside.name();
        let wanted = show(self.wanted.value);
        match &self.found {
            RoomFound::Gap { nearest, rest_from_tip, .. } if self.is_tight() => format!(
                "{name} {} free, less than {wanted}, first with the rest {} from the tip",
                show(nearest.gap),
                show(*rest_from_tip)
            ),
            RoomFound::Gap { nearest, .. } => format!("{name} {} free", show(nearest.gap)),
            RoomFound::MayBegin { behind_flutes, .. } => format!(
                "stop the wheel before the {name}'s round, which must begin {} behind the flutes: \
                 measure it, or stop sooner",
                show(*behind_flutes)
            ),
            RoomFound::HoldAtMost { from_tip, held } if *held <= Length::ZERO => format!(
                "over the whole stroke the wheel reaches {} behind the tip, and the cutter is {} \
                 long: keep the {name}'s nose behind that, with the cutter in a longer arbor, or \
                 use a smaller wheel",
                show(*from_tip),
                show(*from_tip + *held)
            ),
            RoomFound::HoldAtMost { held, .. } => {
                format!(
                    "{name} free if it holds at most {} of the shank: put no more into it",
                    show(*held)
                )
            }
            RoomFound::Free => format!("{name} free wherever it begins"),
            RoomFound::Never => format!(
                "{name} nearer than {wanted} to the wheel or its flange wherever it begins: use a \
                 larger wheel or a smaller flange"
            ),
            RoomFound::SetBack { behind_edge } => format!(
                "let the {name} end {} behind the edge, {wanted} from the wheel",
                show(*behind_edge)
            ),
            RoomFound::NotChecked { why } => format!("{name} not checked: {why}"),
        }
    }
}

/// What the room is asked of.
pub(crate) struct RoomAsked<'a> {
    pub(crate) ctx: &'a Ctx<'a>,
    pub(crate) cutter: &'a Cutter,
    pub(crate) machine: &'a Machine,
    pub(crate) wheel: &'a Wheel,
    /// A tooth as it stands before it is ground.
    pub(crate) outline: &'a Outline,
    /// Radius of the circle on which the old edges stood.
    pub(crate) old_radius: Length,
    /// Length of flute that is ground.
    pub(crate) flute: Length,
}

impl RoomAsked<'_> {
    /// The room beside everything, at the tightest of the wheel's places: that of the primary, and
    /// that of the secondary where one is ground.
    ///
    /// # Errors
    /// `Refused` where the wheel would cut another tooth, or comes near the work head wherever that
    /// stands.
    pub(crate) fn look(
        &self,
        primary: (&Stanced, &GroundSection),
        secondary: &SecondaryGrind,
    ) -> Result<Vec<Room>, ShopError> {
        let mut rooms = self.beside(primary.0, primary.1);
        if secondary.grinding.is_some() {
            for other in self.beside(&secondary.stanced, &secondary.section) {
                match rooms.iter_mut().find(|room| room.beside == other.beside) {
                    Some(room) => *room = tighter(room.clone(), other),
                    None => rooms.push(other),
                }
            }
        }
        rooms.iter().try_for_each(|room| self.check(room))?;
        Ok(rooms.into_iter().map(|room| self.as_far_as_known(room)).collect())
    }

    /// The stroke as the rest's contact sees it. Where the tooth does not turn on its way, the
    /// stops count from the leading corner, which stands beside the rest by its inset.
    fn travel(&self, stanced: &Stanced) -> Travel {
        let held = Held::on(self.machine);
        let past = past_tip(held, stanced);
        if held.lets_turn() {
            return Travel { past_tip: past, from_tip: self.flute };
        }
        let stance = stanced.stance();
        let behind = stance.rest_inset * stance.face_toward.sign();
        Travel { past_tip: past + behind, from_tip: self.flute - behind }
    }

    /// The radius of the widest circle on which old edges stood.
    fn widest(&self) -> Length {
        self.old_radius + self.flute * self.cutter.taper().tan()
    }

    /// A finding without what the records do not tell: gaps between teeth are those of teeth that
    /// stand alike on a cylinder, and a wheel's own body is not all that turns.
    fn as_far_as_known(&self, room: Room) -> Room {
        let system = self.cutter.system();
        let show = |length: Length| length.show(system).to_string();
        let is_alike = !self.cutter.unequal_index()
            && !self.cutter.unequal_helix()
            && self.cutter.taper() == Angle::ZERO;
        let unlike = match self.cutter.taper() > Angle::ZERO {
            true => "it tapers",
            false => "its teeth do not stand alike",
        };
        let has_spindle = self.machine.spindle().flange_diameter().is_some();
        let why = match (&room.found, room.beside) {
            (RoomFound::Gap { nearest, .. }, Beside::OtherTeeth) if !is_alike => format!(
                "{unlike}; alike on a cylinder, {} free: try every tooth by hand, wheel stopped",
                show(nearest.gap)
            ),
            (RoomFound::HoldAtMost { held, .. }, Beside::WorkHead)
                if !has_spindle && *held > Length::ZERO =>
            {
                format!(
                    "flange_diameter is not in the machine's file; the wheel alone clears it if \
                     it holds at most {} of the shank",
                    show(*held)
                )
            }
            (RoomFound::Free, Beside::WorkHead) if !has_spindle => {
                "flange_diameter is not in the machine's file; the wheel alone clears it".to_owned()
            }
            _ => return room,
        };
        Room { found: RoomFound::NotChecked { why }, ..room }
    }

    fn beside(&self, stanced: &Stanced, section: &GroundSection) -> Vec<Room> {
        let held = Held::on(self.machine);
        let travel = self.travel(stanced);
        let back = WheelBack {
            depth: self.wheel.depth(),
            spindle_diameter: self.machine.spindle().flange_diameter(),
        };
        let passage = Passage::new(section, &back, travel, self.flute);
        let teeth = passage.other_teeth(self.outline);
        let far = passage.far_side(self.widest());
        let gap = |tooth: Option<u32>, nearest: Nearest| RoomFound::Gap {
            rest_from_tip: passage.rest_from_tip_at(nearest.along),
            nearest,
            tooth,
        };
        let teeth = teeth.map(|(tooth, nearest)| gap(Some(tooth), nearest));
        let far = far.map(|nearest| gap(None, nearest));
        let found = [
            (Beside::OtherTeeth, teeth),
            (Beside::FarSide, far),
            (Beside::Shank, Some(self.shank(&passage))),
            (Beside::WorkHead, Some(self.head(&passage))),
            (Beside::Finger, held.has_rest().then(|| self.finger(&passage, stanced))),
            (Beside::Tailstock, self.tailstock()),
        ];
        let room = |(beside, found): (Beside, Option<RoomFound>)| {
            found.map(|found| Room { beside, found, wanted: self.wanted(beside) })
        };
        found.into_iter().filter_map(room).collect()
    }

    /// The room that practice leaves beside something.
    fn wanted(&self, beside: Beside) -> Cited<Length> {
        let item = match beside {
            Beside::OtherTeeth | Beside::FarSide | Beside::Shank => PracticeItem::WheelFromTeeth,
            Beside::WorkHead | Beside::Tailstock => PracticeItem::WheelFromHead,
            Beside::Finger => PracticeItem::FingerFromWheel,
        };
        let row = self.ctx.tables.practice(item);
        let told = row.and_then(|row| {
            let amount = row.chosen.value.amount?.length()?.middle();
            Some(Cited::new(amount, &row.chosen.source))
        });
        told.unwrap_or_else(|| Cited::new(Length::ZERO, "no row"))
    }

    /// Where the round of the shank begins behind the flutes is not recorded, so the answer is how
    /// far behind them it must begin.
    fn shank(&self, passage: &Passage<'_>) -> RoomFound {
        let wanted = self.wanted(Beside::Shank).value;
        match passage.may_begin(self.cutter.shank_diameter() / 2.0, wanted) {
            Begin::From(from_tip) if from_tip > self.flute => {
                RoomFound::MayBegin { from_tip, behind_flutes: from_tip - self.flute }
            }
            Begin::From(_) | Begin::Anywhere => RoomFound::Free,
            Begin::Nowhere => RoomFound::Never,
        }
    }

    /// How much of the shank a hand puts into the head is its own choice, so the answer is how much
    /// it may be.
    fn head(&self, passage: &Passage<'_>) -> RoomFound {
        let Some(nose) = self.machine.holding().nose_diameter() else {
            let why = "its nose_diameter is not in the machine's file".to_owned();
            return RoomFound::NotChecked { why };
        };
        let wanted = self.wanted(Beside::WorkHead).value;
        // What is cut off the end makes flute and whole shorter alike.
        let cut_off = self.cutter.flute_length() - self.flute;
        let overall = self.cutter.overall_length() - cut_off;
        match passage.may_begin(nose / 2.0, wanted) {
            Begin::From(from_tip) => RoomFound::HoldAtMost { from_tip, held: overall - from_tip },
            Begin::Anywhere => RoomFound::Free,
            Begin::Nowhere => RoomFound::Never,
        }
    }

    /// Of what stands before the tip between centres nothing is on record.
    fn tailstock(&self) -> Option<RoomFound> {
        let is_there = self.machine.holding().fixture() == Fixture::Centres;
        is_there.then(|| RoomFound::NotChecked {
            why: "what stands before the tip is not on record: try the stroke past the tip by \
                  hand, wheel stopped"
                .to_owned(),
        })
    }

    fn finger(&self, passage: &Passage<'_>, stanced: &Stanced) -> RoomFound {
        let stance = stanced.stance();
        let chosen = finger_for(self.cutter, self.machine, stance.face_toward, stance.rest_inset);
        let Some(chosen) = chosen else {
            return RoomFound::NotChecked { why: "the machine has no finger".to_owned() };
        };
        // A finger that travels with the work is passed by the wheel over the whole stroke.
        let travels = Held::on(self.machine) == Held::RestWithWork;
        let width = if travels { self.flute * 2.0 } else { chosen.width };
        let finger = Finger {
            width,
            height: self.wheel.diameter() / 2.0,
            behind_edge: Length::ZERO,
            rake: self.cutter.rake(),
        };
        match passage.finger_behind(finger, self.wanted(Beside::Finger).value) {
            Some(behind_edge) => RoomFound::SetBack { behind_edge },
            None => RoomFound::NotChecked {
                why: "no place on the tooth's face keeps it off the wheel; look at it".to_owned(),
            },
        }
    }

    /// Refuses what the wheel would cut.
    fn check(&self, room: &Room) -> Result<(), ShopError> {
        let system = self.cutter.system();
        let show = |length: Length| length.show_both(system).to_string();
        match &room.found {
            RoomFound::Gap { nearest, rest_from_tip, tooth } if nearest.gap < Length::ZERO => {
                let (rule, right) = match room.beside {
                    Beside::FarSide => (
                        "the far side of the cup must clear the cutter",
                        "use a smaller cup, or lean the head further",
                    ),
                    _ => (
                        "the wheel must clear the next tooth",
                        "dress the face narrower or use a smaller wheel",
                    ),
                };
                let which = tooth.map_or_else(String::new, |tooth| {
                    format!(", {tooth} heelward of the one on the rest,")
                });
                let (deep, at) = (show(-nearest.gap), show(*rest_from_tip));
                let why = format!(
                    "it would cut {deep} into it{which} with the rest {at} from the tip: {right}"
                );
                Err(ShopError::refused(rule, why))
            }
            RoomFound::Never if room.beside == Beside::WorkHead => {
                let why = "the wheel or its flange comes too near to the head's nose wherever it \
                           stands: use a larger wheel, a smaller flange or a slimmer nose";
                Err(ShopError::refused("the wheel must clear the work head", why))
            }
            _ => Ok(()),
        }
    }
}

/// The tighter of two findings about one thing. What could not be looked at in one place is not
/// known at all, unless what was found in the other needs a change by itself.
fn tighter(one: Room, other: Room) -> Room {
    let is_one = match (&one.found, &other.found) {
        (RoomFound::Gap { nearest: a, .. }, RoomFound::Gap { nearest: b, .. }) => a.gap <= b.gap,
        (RoomFound::MayBegin { from_tip: a, .. }, RoomFound::MayBegin { from_tip: b, .. }) => {
            a >= b
        }
        (RoomFound::HoldAtMost { held: a, .. }, RoomFound::HoldAtMost { held: b, .. }) => a <= b,
        (RoomFound::SetBack { behind_edge: a }, RoomFound::SetBack { behind_edge: b }) => a >= b,
        (a, b) => weight(a) >= weight(b),
    };
    if is_one { one } else { other }
}

/// How much a finding of one kind outweighs one of another.
fn weight(found: &RoomFound) -> u32 {
    match found {
        RoomFound::Never => 3,
        RoomFound::Gap { nearest, .. } if nearest.gap < Length::ZERO => 3,
        RoomFound::HoldAtMost { held, .. } if *held <= Length::ZERO => 3,
        RoomFound::NotChecked { .. } => 2,
        RoomFound::Gap { .. }
        | RoomFound::MayBegin { .. }
        | RoomFound::HoldAtMost { .. }
        | RoomFound::SetBack { .. } => 1,
        RoomFound::Free => 0,
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn room(found: RoomFound) -> Room {
        let wanted = Cited::new(Length::from_mm(1.0), "a test");
        Room { beside: Beside::WorkHead, found, wanted }
    }

    fn holds(held_mm: f64) -> RoomFound {
        let held = Length::from_mm(held_mm);
        RoomFound::HoldAtMost { from_tip: Length::from_mm(100.0) - held, held }
    }

    #[test]
    fn of_two_findings_the_tighter_stays_whichever_comes_first() {
        let unknown = || RoomFound::NotChecked { why: "nobody looked".to_owned() };
        for (tight, loose) in [
            (holds(10.0), holds(20.0)),
            (unknown(), holds(20.0)),
            (unknown(), RoomFound::Free),
            (holds(20.0), RoomFound::Free),
            (holds(-1.0), unknown()),
        ] {
            for (one, other) in [(&tight, &loose), (&loose, &tight)] {
                assert_eq!(tighter(room(one.clone()), room(other.clone())).found, tight);
            }
        }
    }

    /// What a shank must leave free is no finding: it says what to measure and what to do.
    #[test]
    fn what_is_asked_of_the_shank_is_said_as_a_demand() {
        let (from_tip, behind_flutes) = (Length::from_mm(31.0), Length::from_mm(0.41));
        let wanted = Cited::new(Length::from_mm(1.0), "a test");
        let found = RoomFound::MayBegin { from_tip, behind_flutes };
        let room = Room { beside: Beside::Shank, found, wanted };
        let words = room.words(|length| format!("{:.2} mm", length.mm()));
        assert!(words.contains("stop the wheel before the shank's round"), "{words}");
        assert!(words.contains("begin 0.41 mm behind the flutes: measure it"), "{words}");
    }

    /// A head that must stand behind the whole cutter is a caution that says how far back.
    #[test]
    fn a_head_behind_the_whole_cutter_is_tight_and_says_what_to_do() {
        let show = |length: Length| format!("{:.0} mm", length.mm());
        let behind = room(holds(-20.0));
        assert!(behind.is_tight());
        let words = behind.words(show);
        assert!(words.contains("reaches 120 mm") && words.contains("is 100 mm"), "{words}");
        assert!(words.contains("a longer arbor"), "{words}");
        assert!(!room(holds(20.0)).is_tight());
    }
}

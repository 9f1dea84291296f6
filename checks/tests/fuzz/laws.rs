//! What must hold of everything that the kernel says.

use checks::reference::random::Splitmix;
use geometry::chain::{Direction, Joint, Linkage, Relation, Side};
use geometry::clearance::{Begin, Passage, Travel, WheelBack};
use geometry::end::{EndPlane, EndSetup, EndStance, EndStroke, EndTeeth, EndTeethShape};
use geometry::section::{GroundSection, Setup};
use geometry::solid::{Fluted, ToothForm};
use geometry::solve::{Adjusted, ReliefTarget, sensitivities, solve_relief};
use geometry::wheel::WheelBody;
use geometry::{Angle, Length};

use super::draw::Drawn;
use super::swept;

/// How much was asked, and how often there was an answer.
#[derive(Clone, Copy, Debug, Default)]
pub(crate) struct Tally {
    pub(crate) wheels: u64,
    pub(crate) sections: u64,
    pub(crate) kisses: u64,
    pub(crate) solved: u64,
    pub(crate) ends: u64,
    pub(crate) chains: u64,
    pub(crate) solids: u64,
    pub(crate) rooms: u64,
    /// Points of wheels that came before a section.
    pub(crate) points: u64,
    pub(crate) pieces_most: usize,
}

impl Tally {
    pub(crate) fn with(self, other: Self) -> Self {
        Self {
            wheels: self.wheels + other.wheels,
            sections: self.sections + other.sections,
            kisses: self.kisses + other.kisses,
            solved: self.solved + other.solved,
            ends: self.ends + other.ends,
            chains: self.chains + other.chains,
            solids: self.solids + other.solids,
            rooms: self.rooms + other.rooms,
            points: self.points + other.points,
            pieces_most: self.pieces_most.max(other.pieces_most),
        }
    }
}

pub(crate) type Held = Result<(), String>;

pub(crate) fn holds(is_so: bool, what: impl FnOnce() -> String) -> Held {
    if is_so { Ok(()) } else { Err(what()) }
}

/// A number that is one, and of the size that anything on a bench can have.
fn sound(what: &str, value: f64) -> Held {
    holds(value.is_finite() && value.abs() < 1e6, || format!("{what} is {value}"))
}

fn length(what: &str, value: Option<Length>) -> Held {
    value.map_or(Ok(()), |value| sound(what, value.mm()))
}

fn angle(what: &str, value: Option<Angle>) -> Held {
    value.map_or(Ok(()), |value| sound(what, value.degrees()))
}

/// A refusal is a sentence.
fn refusal(error: &dyn std::fmt::Display) -> Held {
    let words = error.to_string();
    holds(words.len() > 15 && !words.contains("NaN"), || format!("refused with {words:?}"))
}

/// Everything that is asked of one set-up; the dearer questions of some only.
pub(crate) fn hold(drawn: &Drawn, random: &mut Splitmix, tally: &mut Tally) -> Held {
    if random.once_in(40) {
        chain(random, tally)?;
    }
    let body = match drawn.wheel.body() {
        Ok(body) => body,
        Err(error) => return refusal(&error),
    };
    tally.wheels += 1;
    if random.once_in(20) {
        end(drawn, body.clone(), random, tally)?;
    }
    let setup = match drawn.setup(body) {
        Ok(setup) => setup,
        Err(error) => return refusal(&error),
    };
    let section = match setup.section(drawn.diameter) {
        Ok(section) => section,
        Err(error) => return refusal(&error),
    };
    tally.sections += 1;
    curve(&section, random, tally)?;
    readings(&section)?;
    if random.once_in(4) {
        kiss(drawn, &setup, &section, tally)?;
    }
    if random.once_in(10) {
        backward(drawn, &setup, random, tally)?;
    }
    if random.once_in(60) {
        room(drawn, &section, tally)?;
        solid(drawn, &section, tally)?;
    }
    Ok(())
}

/// The curve passes through the edge, its pieces lie in order and are few, and what is interpolated
/// is what the wheel leaves.
fn curve(section: &GroundSection, random: &mut Splitmix, tally: &mut Tally) -> Held {
    let radius_mm = section.circle_radius().mm();
    let Some(edge) = section.contact_at(Angle::ZERO) else {
        return Err("no surface at the edge".to_owned());
    };
    swept::lies_on_wheel(section, &edge, 0.0, radius_mm)?;
    sound("the wheel's place", section.wheel_from_axis().mm())?;
    let pieces = section.pieces();
    tally.pieces_most = tally.pieces_most.max(pieces.len());
    holds((1..=PIECES_MAX).contains(&pieces.len()), || format!("{} pieces", pieces.len()))?;
    let order =
        pieces.windows(2).all(|pair| pair[0].to.radians() <= pair[1].from.radians() + 1e-12);
    holds(order, || format!("pieces out of order: {pieces:?}"))?;
    tally.points += swept::stays_outside(section, random)?;
    let pitch_rad = section.setup().flutes().pitch_rad().min(std::f64::consts::PI);
    for _ in 0..6 {
        let at_rad = random.even(-0.02, pitch_rad);
        let at = Angle::from_radians(at_rad);
        let (Some(curve), Some(contact)) = (section.radius_at(at), section.contact_at(at)) else {
            continue;
        };
        let (curve_mm, contact_mm) = (curve.mm(), contact.radius.mm());
        sound("a radius", contact_mm)?;
        sound("a slope", contact.slope_mm_per_rad)?;
        swept::lies_on_wheel(section, &contact, at_rad, contact_mm)?;
        let outside = (contact_mm / radius_mm).max(1.0);
        if outside < 2.0 {
            let off_mm = (curve_mm - contact_mm).abs();
            holds(off_mm <= 2e-5 * outside.powi(3), || format!("{off_mm} mm off at {at_rad} rad"))?;
        }
    }
    let mut rays = [0.0; 64];
    let ends = [-pitch_rad, pitch_rad].map(Angle::from_radians);
    section.fill_radii_mm(ends[0], ends[1], &mut rays);
    let is_sound = |ray: &f64| ray.is_nan() || (*ray > 0.0 && *ray < 7.0 * radius_mm);
    holds(rays.iter().all(is_sound), || format!("rays {rays:?}"))
}

/// A section has no more pieces: some parts of a wheel, each before and after the other.
const PIECES_MAX: usize = 40;

/// Everything that is read off a section is a number.
fn readings(section: &GroundSection) -> Held {
    let radius = section.circle_radius();
    angle("the relief", section.edge_relief())?;
    angle("the mean relief", section.mean_relief(radius * 0.05))?;
    length("a drop", section.drop_at(radius * 0.1))?;
    length("heel drag", section.heel_drag_from())?;
    length("the next tooth's gap", section.next_tooth_gap())?;
    length("the far side's gap", section.far_side_gap())
}

/// A tooth that is turned farther below centre than this, or above it, can be kissed at several
/// stands.
const KISS_DEG: std::ops::RangeInclusive<f64> = -10.0..=45.0;

/// A kiss overlaps by no more than its error, and what is left of the outline is no more than was.
fn kiss(drawn: &Drawn, setup: &Setup, section: &GroundSection, tally: &mut Tally) -> Held {
    let outline = drawn.tooth.outline(section.circle_radius());
    for point in outline.points() {
        sound("an outline's angle", point.heelward.radians())?;
        sound("an outline's radius", point.radius.mm())?;
    }
    length("a land", outline.land_left_by(section))?;
    // What is left is at every point the lower of the two, the wheel's side by the contact itself.
    for point in outline.cut_by(section).points() {
        let was = outline.radius_at(point.heelward).map_or(f64::INFINITY, Length::mm);
        let cut = section.contact_at(point.heelward).map(|contact| contact.radius.mm());
        let expected_mm = cut.map_or(was, |cut| cut.min(was));
        let outside = (expected_mm / section.circle_radius().mm()).max(1.0).powi(3);
        let off_mm = (point.radius.mm() - expected_mm).abs();
        holds(off_mm <= 2e-5 * outside, || format!("a cut leaves {off_mm} mm too much or little"))?;
    }
    let Ok(kissing) = outline.kissed_by(setup, section) else { return Ok(()) };
    // Beyond these only that it gives a section is held.
    if swept::is_askew(section) || !KISS_DEG.contains(&setup.stance().relief_setting.degrees()) {
        return Ok(());
    }
    tally.kisses += 1;
    let (from, to) = (outline.points()[0].heelward, outline.heel().heelward);
    let overlap = (0..=100).filter_map(|step| {
        let at = from + (to - from) * (f64::from(step) / 100.0);
        let near = at.radians() > -0.02;
        let (was, cut) = (outline.radius_at(at)?.mm(), kissing.contact_at(at)?.radius.mm());
        near.then_some(was - cut)
    });
    let most_mm = overlap.fold(0.0, f64::max);
    holds(most_mm < 1e-4, || format!("a kiss overlaps by {most_mm} mm"))
}

/// A solved setting leaves the relief that was asked for.
fn backward(drawn: &Drawn, setup: &Setup, random: &mut Splitmix, tally: &mut Tally) -> Held {
    let over = random.once_in(2).then(|| drawn.diameter * 0.02);
    let target = ReliefTarget { relief: Angle::from_degrees(random.even(0.0, 25.0)), over };
    let adjusted = match random.bits() % 3 {
        0 => Adjusted::ReliefSetting,
        1 => Adjusted::AxisAbove,
        _ => Adjusted::RestWithAxis,
    };
    match solve_relief(setup, drawn.diameter, target, adjusted) {
        Ok(stance) => {
            tally.solved += 1;
            let section = setup.with_stance(stance).and_then(|setup| setup.section(drawn.diameter));
            if let Err(error) = &section {
                // What is followed farther can be refused where the relief alone was found.
                return refusal(error);
            }
            let found = section.ok().and_then(|section| target.of(&section));
            let off_deg = found.map_or(f64::NAN, |it| (it - target.relief).degrees().abs());
            holds(off_deg < 1e-4, || format!("{adjusted:?} {target:?}: off by {off_deg} deg"))?;
        }
        Err(error) => refusal(&error)?,
    }
    let slopes = sensitivities(setup, drawn.diameter, target);
    let per = [slopes.per_inset_mm, slopes.per_lean_degree, slopes.per_rest_height_mm];
    per.into_iter()
        .flatten()
        .try_for_each(|slope| holds(slope.is_finite(), || "a slope".to_owned()))
}

/// The end of a cutter under the same wheel.
fn end(drawn: &Drawn, body: WheelBody, random: &mut Splitmix, tally: &mut Tally) -> Held {
    let dish = Angle::from_degrees(random.even(-80.0, 30.0));
    let relief = Angle::from_degrees(random.even(-2.0, 25.0));
    let stance = EndStance {
        lean: drawn.stance.lean,
        axis_above_edge: drawn.stance.axis_above,
        wheel_tilt: drawn.stance.tilt,
        tilt: Angle::ZERO,
    };
    let land = Length::from_mm(random.even(0.0, 1.5));
    let setup =
        match EndSetup::new(body, dish, stance).and_then(|it| it.tilted_for(relief, Some(land))) {
            Ok(setup) => setup,
            Err(error) => return refusal(&error),
        };
    let section = match setup.section() {
        Ok(section) => section,
        Err(error) => return refusal(&error),
    };
    tally.ends += 1;
    angle("relief of the end", section.square_relief(Some(land)))?;
    length("depth behind an end's edge", section.depth_at(land))?;
    let primary = EndPlane::new(dish, relief).map_err(|error| error.to_string())?;
    let shape = EndTeethShape {
        diameter: drawn.diameter,
        teeth: drawn.flutes.teeth,
        primary,
        ahead: Length::ZERO,
        inner: Length::ZERO,
    };
    let Ok(teeth) = EndTeeth::new(shape) else { return Ok(()) };
    let Some(stroke) = EndStroke::new(&section, &teeth) else { return Ok(()) };
    if drawn.flutes.teeth > 8 {
        return Ok(());
    }
    let reach = stroke.reach(Length::from_mm(0.01), drawn.diameter * 0.1);
    length("the stroke", reach.map(|reach| reach.stop))
}

/// Swivels of any axes, and what they are solved for is met.
fn chain(random: &mut Splitmix, tally: &mut Tally) -> Held {
    let direction = |random: &mut Splitmix| {
        let mut part = || random.even(-1.0, 1.0);
        Direction::new(part(), part(), part()).unwrap_or(Direction::UP)
    };
    let joints = (0..3).map(|_| {
        let side = if random.once_in(2) { Side::Wheel } else { Side::Cutter };
        let plain = [Direction::UP, Direction::ALONG, Direction::TOWARD_WHEEL];
        let axis =
            if random.once_in(2) { plain[(random.bits() % 3) as usize] } else { direction(random) };
        Joint::swivel(side, axis)
    });
    let linkage = Linkage::facing(joints.collect());
    let normal = direction(random);
    let mut relations = vec![Relation::plane_in_face(normal)];
    let free: &[usize] = if random.once_in(2) { &[0, 1] } else { &[0, 1, 2] };
    if free.len() == 3
        && let Some(edge) = normal.square_to(&direction(random))
    {
        relations.push(Relation::along_travel(edge));
    }
    match linkage.solve(&relations, free, &linkage.home()) {
        Ok(found) => {
            tally.chains += 1;
            holds(found.len() <= 64, || format!("{} solutions", found.len()))?;
            for solution in &found {
                sound("a gain", solution.gain_least)?;
                for relation in &relations {
                    let miss_deg = linkage.miss(relation, &solution.settings).degrees().abs();
                    holds(miss_deg < 1e-5, || format!("{relation:?} missed by {miss_deg} deg"))?;
                }
            }
            Ok(())
        }
        Err(error) => refusal(&error),
    }
}

/// What else the wheel comes near.
fn room(drawn: &Drawn, section: &GroundSection, tally: &mut Tally) -> Held {
    let flute = drawn.diameter * 2.0;
    let travel = Travel { past_tip: drawn.stance.rest_inset, from_tip: flute };
    let wheel_mm = 2.0 * section.setup().wheel().radius_mm();
    let back = WheelBack {
        depth: Length::from_mm(0.4 * wheel_mm),
        spindle_diameter: Some(Length::from_mm(0.3 * wheel_mm)),
    };
    let passage = Passage::new(section, &back, travel, flute);
    let outline = drawn.tooth.outline(section.circle_radius());
    tally.rooms += 1;
    if drawn.flutes.teeth <= 12 {
        let teeth = passage.other_teeth(&outline);
        length("the room to other teeth", teeth.map(|(_, nearest)| nearest.gap))?;
    }
    length("the far side's room", passage.far_side(drawn.diameter / 2.0).map(|it| it.gap))?;
    let behind = passage.behind(drawn.diameter / 2.0, flute, flute * 3.0);
    length("the shank's room", behind.map(|nearest| nearest.gap))?;
    let begin = match passage.may_begin(drawn.diameter, Length::from_mm(1.0)) {
        Begin::From(begin) => Some(begin),
        Begin::Anywhere | Begin::Nowhere => None,
    };
    length("where a head may begin", begin)
}

/// The tooth as a solid: closed, and every corner of it a number.
fn solid(drawn: &Drawn, section: &GroundSection, tally: &mut Tally) -> Held {
    let outline = drawn.tooth.outline(section.circle_radius()).cut_by(section);
    let back: Vec<_> = outline.points().to_vec();
    if back.len() < 3 || drawn.flutes.teeth < 2 || drawn.flutes.teeth > 12 {
        return Ok(());
    }
    let fluted = Fluted {
        tooth: ToothForm {
            back: &back,
            land_end: outline.heel().heelward * 0.3,
            rake: drawn.tooth.rake,
            core_diameter: drawn.diameter * 0.6,
        },
        flutes: drawn.flutes,
        edge_at_end: Angle::ZERO,
        fluted_length: drawn.diameter,
        overall_length: drawn.diameter * 2.0,
        shank_diameter: drawn.diameter,
    };
    match fluted.mesh(drawn.diameter * 0.003) {
        Ok(mesh) => {
            tally.solids += 1;
            let is_sound =
                mesh.points().iter().all(|point| point.iter().all(|part| part.is_finite()));
            holds(is_sound, || "a corner that is no number".to_owned())?;
            let open = mesh.open_edges();
            holds(open == 0, || format!("{open} open edges"))
        }
        Err(error) => refusal(&error),
    }
}

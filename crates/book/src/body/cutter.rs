//! A cutter and its wear.

use shop::book::Angle;
use shop::record::{
    AsGround, Cutter, CutterDraft, EndForm, EndTeeth, Special, ToothWear, Wear, WearDraft, WearSign,
};

use super::fields::{Body, Fields, Taken, Taker};

impl Body for Cutter {
    fn put(&self, to: &mut Fields) {
        let draft = self.draft();
        to.value("number", draft.number);
        to.length("diameter", draft.diameter);
        to.value("teeth", draft.teeth);
        to.named("hand", draft.hand);
        to.angle("helix", draft.helix);
        if let Some(hand) = draft.helix_hand {
            to.named("helix_hand", hand);
        }
        to.angle("rake", draft.rake);
        to.named("material", draft.material);
        put_end(draft.end, to);
        to.named("profile", draft.profile);
        to.length("flute_length", draft.flute_length);
        to.length("overall_length", draft.overall_length);
        to.length("shank_diameter", draft.shank_diameter);
        to.maybe_length("core_diameter", draft.core_diameter);
        to.maybe_length("tooth_thickness", draft.tooth_thickness);
        to.value("centre_cutting", draft.centre_cutting);
        to.maybe("coating", draft.coating);
        to.value("work", draft.work);
        to.value("regrinds", draft.regrinds);
        to.value("unequal_index", draft.unequal_index == Some(true));
        if draft.unequal_index == Some(false) {
            to.value("equal_index", true);
        }
        put_special(&draft.special, to);
        if let Some(ground) = &draft.as_ground {
            to.object("as_ground", ground);
        }
        if let Some(end) = &draft.end_teeth {
            to.object("end_teeth", end);
        }
    }

    fn take(from: &Taker<'_>) -> Taken<Self> {
        let draft = CutterDraft {
            number: from.text("number")?,
            diameter: from.length("diameter")?,
            teeth: from.count("teeth")?,
            hand: from.named("hand")?,
            helix: from.angle("helix")?,
            helix_hand: from.maybe_named("helix_hand")?,
            rake: from.angle("rake")?,
            material: from.named("material")?,
            end: take_end(from)?,
            profile: from.named("profile")?,
            flute_length: from.length("flute_length")?,
            overall_length: from.length("overall_length")?,
            shank_diameter: from.length("shank_diameter")?,
            core_diameter: from.maybe_length("core_diameter")?,
            tooth_thickness: from.maybe_length("tooth_thickness")?,
            centre_cutting: from.flag("centre_cutting")?,
            coating: from.maybe_text("coating")?,
            work: from.text("work")?,
            regrinds: from.count("regrinds")?,
            unequal_index: take_index(from)?,
            as_ground: from.maybe_object("as_ground")?,
            end_teeth: from.maybe_object("end_teeth")?,
            special: take_special(from)?,
        };
        draft.build().map_err(|errors| from.wrong("cutter", &errors.to_string()))
    }
}

/// Whether its teeth are spaced unequally. Before version 3 a no and an unasked question were kept
/// alike, so that neither says anything now.
fn take_index(from: &Taker<'_>) -> Taken<Option<bool>> {
    let is_equal = from.flag("equal_index")?;
    let is_unequal = from.flag("unequal_index")?;
    Ok((is_equal || is_unequal).then_some(is_unequal))
}

fn put_special(special: &Special, to: &mut Fields) {
    to.angles("index", &special.index);
    to.angles("tooth_helix", &special.tooth_helix);
    to.maybe_angle("taper", Some(special.taper).filter(|taper| *taper != Angle::ZERO));
}

fn take_special(from: &Taker<'_>) -> Taken<Special> {
    Ok(Special {
        index: from.angles("index")?,
        tooth_helix: from.angles("tooth_helix")?,
        taper: from.maybe_angle("taper")?.unwrap_or(Angle::ZERO),
    })
}

fn put_end(end: EndForm, to: &mut Fields) {
    to.value("end", end.name());
    if let EndForm::CornerRadius(radius) = end {
        to.length("corner_radius", radius);
    }
}

fn take_end(from: &Taker<'_>) -> Taken<EndForm> {
    let name = from.text("end")?;
    if name == EndForm::Square.name() {
        Ok(EndForm::Square)
    } else if name == EndForm::Ball.name() {
        Ok(EndForm::Ball)
    } else if let Some(radius) = from.maybe_length("corner_radius")? {
        Ok(EndForm::CornerRadius(radius))
    } else {
        Err(from.wrong("end", "is not a form that is known here"))
    }
}

impl Body for AsGround {
    fn put(&self, to: &mut Fields) {
        to.length("diameter", self.diameter);
        to.angle("primary", self.primary);
        to.angle("secondary", self.secondary);
        to.length("land", self.land);
        to.maybe_angle("next_primary", self.next_primary);
    }

    fn take(from: &Taker<'_>) -> Taken<Self> {
        Ok(Self {
            diameter: from.length("diameter")?,
            primary: from.angle("primary")?,
            secondary: from.angle("secondary")?,
            land: from.length("land")?,
            next_primary: from.maybe_angle("next_primary")?,
        })
    }
}

impl Body for EndTeeth {
    fn put(&self, to: &mut Fields) {
        to.maybe_angle("dish", self.dish);
        to.maybe_angle("relief", self.relief);
        to.maybe_angle("secondary", self.secondary);
        to.maybe_length("land", self.land);
        to.maybe_length("ahead_of_centre", self.ahead_of_centre);
        to.maybe_length("centre_hole", self.centre_hole);
        to.maybe_angle("gash_angle", self.gash_angle);
        to.maybe_angle("gash_rake", self.gash_rake);
        to.maybe_length("gash_root", self.gash_root);
        to.maybe_length("gash_from_centre", self.gash_from_centre);
        to.maybe_length("corner_chamfer", self.corner_chamfer);
        to.maybe_angle("corner_angle", self.corner_angle);
        to.maybe_angle("corner_relief", self.corner_relief);
    }

    fn take(from: &Taker<'_>) -> Taken<Self> {
        Ok(Self {
            dish: from.maybe_angle("dish")?,
            relief: from.maybe_angle("relief")?,
            secondary: from.maybe_angle("secondary")?,
            land: from.maybe_length("land")?,
            ahead_of_centre: from.maybe_length("ahead_of_centre")?,
            centre_hole: from.maybe_length("centre_hole")?,
            gash_angle: from.maybe_angle("gash_angle")?,
            gash_rake: from.maybe_angle("gash_rake")?,
            gash_root: from.maybe_length("gash_root")?,
            gash_from_centre: from.maybe_length("gash_from_centre")?,
            corner_chamfer: from.maybe_length("corner_chamfer")?,
            corner_angle: from.maybe_angle("corner_angle")?,
            corner_relief: from.maybe_angle("corner_relief")?,
        })
    }
}

impl Body for Wear {
    fn put(&self, to: &mut Fields) {
        to.maybe_length("measured_diameter", self.measured_diameter());
        to.maybe_length("shank_runout", self.shank_runout());
        put_signs(self.signs(), to);
        to.list("teeth", self.teeth());
    }

    fn take(from: &Taker<'_>) -> Taken<Self> {
        let draft = WearDraft {
            measured_diameter: from.maybe_length("measured_diameter")?,
            shank_runout: from.maybe_length("shank_runout")?,
            signs: take_signs(from)?,
            teeth: from.list("teeth")?,
        };
        draft.build().map_err(|errors| from.wrong("wear", &errors.to_string()))
    }
}

pub(super) fn put_signs(signs: &[WearSign], to: &mut Fields) {
    let names: Vec<String> = signs.iter().map(|sign| sign.name().to_owned()).collect();
    to.texts("signs", &names);
}

pub(super) fn take_signs(from: &Taker<'_>) -> Taken<Vec<WearSign>> {
    use shop::record::Named;
    let sign = |name: String| {
        let unknown = || from.wrong("signs", &format!("{name:?} is not known here"));
        WearSign::from_name(&name).ok_or_else(unknown)
    };
    from.texts("signs")?.into_iter().map(sign).collect()
}

impl Body for ToothWear {
    fn put(&self, to: &mut Fields) {
        to.value("tooth", self.tooth);
        to.length("wear_land", self.wear_land);
        to.length("chip_depth", self.chip_depth);
        to.length("chip_from_end", self.chip_from_end);
        to.maybe_length("wear_from_end", self.wear_from_end);
        to.length("corner_wear", self.corner_wear);
        to.maybe_length("runout", self.runout);
    }

    fn take(from: &Taker<'_>) -> Taken<Self> {
        Ok(Self {
            tooth: from.count("tooth")?,
            wear_land: from.length("wear_land")?,
            chip_depth: from.length("chip_depth")?,
            chip_from_end: from.length("chip_from_end")?,
            wear_from_end: from.maybe_length("wear_from_end")?,
            corner_wear: from.length("corner_wear")?,
            runout: from.maybe_length("runout")?,
        })
    }
}

//! What is done to a cutter.

use shop::book::event::{
    Checked, Corrected, CutterEntered, DialStood, Found, Ground, HandedBack, Input, Planned, Read,
    Received, StepDone, WearSeen,
};

use shop::plan::PlannedSetup;

use super::fields::{Body, Fields, Taken, Taker};

impl Body for CutterEntered {
    fn put(&self, to: &mut Fields) {
        to.object("cutter", &self.cutter);
        to.texts("marks", &self.marks);
    }

    fn take(from: &Taker<'_>) -> Taken<Self> {
        Ok(Self { cutter: from.object("cutter")?, marks: from.texts("marks")? })
    }
}

impl Body for Received {
    fn put(&self, to: &mut Fields) {
        to.maybe_id("tray", self.tray.as_ref());
        to.maybe("from", self.from.clone());
        to.maybe("wanted", self.wanted.clone());
    }

    fn take(from: &Taker<'_>) -> Taken<Self> {
        Ok(Self {
            tray: from.maybe_id("tray")?,
            from: from.maybe_text("from")?,
            wanted: from.maybe_text("wanted")?,
        })
    }
}

impl Body for WearSeen {
    fn put(&self, to: &mut Fields) {
        to.object("wear", &self.wear);
    }

    fn take(from: &Taker<'_>) -> Taken<Self> {
        Ok(Self { wear: from.object("wear")? })
    }
}

impl Body for Input {
    fn put(&self, to: &mut Fields) {
        to.value("role", self.role.clone());
        to.value("file", self.file.clone());
        to.value("text", self.text.clone());
    }

    fn take(from: &Taker<'_>) -> Taken<Self> {
        Ok(Self { role: from.text("role")?, file: from.text("file")?, text: from.text("text")? })
    }
}

impl Body for PlannedSetup {
    fn put(&self, to: &mut Fields) {
        to.angle("head_angle", self.head_angle);
        to.angle("relief_setting", self.relief_setting);
        to.maybe("finger", self.finger.clone());
    }

    fn take(from: &Taker<'_>) -> Taken<Self> {
        Ok(Self {
            head_angle: from.angle("head_angle")?,
            relief_setting: from.angle("relief_setting")?,
            finger: from.maybe_text("finger")?,
        })
    }
}

impl Body for Planned {
    fn put(&self, to: &mut Fields) {
        to.value("program", self.program.clone());
        to.list("inputs", &self.inputs);
        to.value("route", self.route.clone());
        to.maybe_id("wheel", self.wheel.as_ref());
        to.maybe_id("machine", self.machine.as_ref());
        to.maybe_length("stock", self.stock);
        to.maybe_length("diameter_after", self.diameter_after);
        to.maybe_length("travel", self.travel);
        to.maybe("radius_per_travel", self.radius_per_travel);
        to.maybe("follows", self.follows);
        to.list("setup", self.setup.as_slice());
    }

    fn take(from: &Taker<'_>) -> Taken<Self> {
        Ok(Self {
            program: from.text("program")?,
            inputs: from.list("inputs")?,
            route: from.text("route")?,
            wheel: from.maybe_id("wheel")?,
            machine: from.maybe_id("machine")?,
            stock: from.maybe_length("stock")?,
            diameter_after: from.maybe_length("diameter_after")?,
            travel: from.maybe_length("travel")?,
            radius_per_travel: from.maybe_number("radius_per_travel")?,
            follows: from.maybe_entry("follows")?,
            setup: from.list("setup")?.pop(),
        })
    }
}

impl Body for DialStood {
    fn put(&self, to: &mut Fields) {
        to.value("axis", self.axis.clone());
        to.maybe_quantity("reading", Some(self.reading));
    }

    fn take(from: &Taker<'_>) -> Taken<Self> {
        Ok(Self { axis: from.text("axis")?, reading: from.quantity("reading")? })
    }
}

impl Body for StepDone {
    fn put(&self, to: &mut Fields) {
        to.value("plan", self.plan);
        to.value("step", self.step.clone());
        to.list("stood", self.stood.as_slice());
        to.maybe("words", self.words.clone());
    }

    fn take(from: &Taker<'_>) -> Taken<Self> {
        Ok(Self {
            plan: from.entry("plan")?,
            step: from.text("step")?,
            stood: from.list("stood")?.pop(),
            words: from.maybe_text("words")?,
        })
    }
}

impl Body for Ground {
    fn put(&self, to: &mut Fields) {
        to.maybe("plan", self.plan);
        to.maybe_id("wheel", self.wheel.as_ref());
        to.maybe_id("machine", self.machine.as_ref());
        to.list("dials", &self.dials);
        to.maybe_length("travel", self.travel);
        to.maybe("passes", self.passes);
        to.maybe_length("diameter_before", self.diameter_before);
        to.maybe_length("diameter_after", self.diameter_after);
        to.maybe("minutes", self.minutes);
    }

    fn take(from: &Taker<'_>) -> Taken<Self> {
        Ok(Self {
            plan: from.maybe_entry("plan")?,
            wheel: from.maybe_id("wheel")?,
            machine: from.maybe_id("machine")?,
            dials: from.list("dials")?,
            travel: from.maybe_length("travel")?,
            passes: from.maybe_count("passes")?,
            diameter_before: from.maybe_length("diameter_before")?,
            diameter_after: from.maybe_length("diameter_after")?,
            minutes: from.maybe_number("minutes")?,
        })
    }
}

impl Body for Read {
    fn put(&self, to: &mut Fields) {
        to.maybe("plan", self.plan);
        to.object("readings", &self.readings);
    }

    fn take(from: &Taker<'_>) -> Taken<Self> {
        Ok(Self { plan: from.maybe_entry("plan")?, readings: from.object("readings")? })
    }
}

impl Body for Found {
    fn put(&self, to: &mut Fields) {
        to.value("fault", self.fault.clone());
        to.maybe_quantity("size", self.size);
        to.maybe_quantity("within", self.within);
        to.value("words", self.words.clone());
    }

    fn take(from: &Taker<'_>) -> Taken<Self> {
        Ok(Self {
            fault: from.text("fault")?,
            size: from.maybe_quantity("size")?,
            within: from.maybe_quantity("within")?,
            words: from.text_or_none("words")?,
        })
    }
}

impl Body for Checked {
    fn put(&self, to: &mut Fields) {
        to.maybe("read", self.read);
        to.value("program", self.program.clone());
        to.value("outcome", self.outcome.clone());
        to.list("found", &self.found);
    }

    fn take(from: &Taker<'_>) -> Taken<Self> {
        Ok(Self {
            read: from.maybe_entry("read")?,
            program: from.text("program")?,
            outcome: from.text("outcome")?,
            found: from.list("found")?,
        })
    }
}

impl Body for Corrected {
    fn put(&self, to: &mut Fields) {
        to.maybe("check", self.check);
        to.value("fault", self.fault.clone());
        to.maybe("axis", self.axis.clone());
        to.maybe_quantity("by", self.by);
        to.value("words", self.words.clone());
    }

    fn take(from: &Taker<'_>) -> Taken<Self> {
        Ok(Self {
            check: from.maybe_entry("check")?,
            fault: from.text("fault")?,
            axis: from.maybe_text("axis")?,
            by: from.maybe_quantity("by")?,
            words: from.text_or_none("words")?,
        })
    }
}

impl Body for HandedBack {
    fn put(&self, to: &mut Fields) {
        if let Some(ground) = &self.as_ground {
            to.object("as_ground", ground);
        }
        to.maybe("to", self.to.clone());
        to.maybe_length("shorter", self.shorter);
    }

    fn take(from: &Taker<'_>) -> Taken<Self> {
        Ok(Self {
            as_ground: from.maybe_object("as_ground")?,
            to: from.maybe_text("to")?,
            shorter: from.maybe_length("shorter")?,
        })
    }
}

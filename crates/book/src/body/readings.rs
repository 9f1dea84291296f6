//! Readings, each group as its instrument gave it.

use shop::record::{
    DiameterGroup, DiameterReading, DropGroup, DropReading, IndicatorGroup, IndicatorReading,
    Instrument, LandGroup, LandReading, ReadingsDraft, RunoutReading,
};

use super::cutter::{put_signs, take_signs};
use super::fields::{Body, Fields, Taken, Taker};

impl Body for ReadingsDraft {
    fn put(&self, to: &mut Fields) {
        to.maybe("cutter", self.cutter.clone());
        if let Some(run) = self.teeth_run {
            to.named("teeth_run", run);
        }
        if !self.ground_order.is_empty() {
            to.value("ground_order", self.ground_order.clone());
        }
        to.list("lands", &self.lands);
        to.list("diameters", &self.diameters);
        to.list("indicator", &self.indicator);
        to.list("runouts", &self.runouts);
        to.list("drops", &self.drops);
        put_signs(&self.signs, to);
        to.value("looked_again", self.looked_again);
    }

    fn take(from: &Taker<'_>) -> Taken<Self> {
        Ok(Self {
            cutter: from.maybe_text("cutter")?,
            teeth_run: from.maybe_named("teeth_run")?,
            ground_order: from.counts("ground_order")?,
            lands: from.list("lands")?,
            diameters: from.list("diameters")?,
            indicator: from.list("indicator")?,
            runouts: from.list("runouts")?,
            drops: from.list("drops")?,
            signs: take_signs(from)?,
            looked_again: from.flag("looked_again")?,
        })
    }
}

impl Body for Instrument {
    fn put(&self, to: &mut Fields) {
        to.length("resolution", self.resolution);
        to.maybe_length("repeatability", self.repeatability);
    }

    fn take(from: &Taker<'_>) -> Taken<Self> {
        let (resolution, repeatability) =
            (from.length("resolution")?, from.maybe_length("repeatability")?);
        Ok(Self { resolution, repeatability })
    }
}

impl Body for LandGroup {
    fn put(&self, to: &mut Fields) {
        to.named("stage", self.stage);
        to.object("instrument", &self.instrument);
        to.list("readings", &self.readings);
    }

    fn take(from: &Taker<'_>) -> Taken<Self> {
        Ok(Self {
            stage: from.named("stage")?,
            instrument: from.object("instrument")?,
            readings: from.list("readings")?,
        })
    }
}

impl Body for LandReading {
    fn put(&self, to: &mut Fields) {
        to.value("tooth", self.tooth);
        to.length("from_end", self.from_end);
        to.length("width", self.width);
    }

    fn take(from: &Taker<'_>) -> Taken<Self> {
        Ok(Self {
            tooth: from.count("tooth")?,
            from_end: from.length("from_end")?,
            width: from.length("width")?,
        })
    }
}

impl Body for DiameterGroup {
    fn put(&self, to: &mut Fields) {
        to.named("over", self.over);
        to.maybe_length("anvil_width", self.anvil_width);
        to.object("instrument", &self.instrument);
        to.list("readings", &self.readings);
    }

    fn take(from: &Taker<'_>) -> Taken<Self> {
        Ok(Self {
            over: from.named("over")?,
            anvil_width: from.maybe_length("anvil_width")?,
            instrument: from.object("instrument")?,
            readings: from.list("readings")?,
        })
    }
}

impl Body for DiameterReading {
    fn put(&self, to: &mut Fields) {
        to.length("from_end", self.from_end);
        to.maybe("tooth", self.tooth);
        to.length("reading", self.reading);
    }

    fn take(from: &Taker<'_>) -> Taken<Self> {
        Ok(Self {
            from_end: from.length("from_end")?,
            tooth: from.maybe_count("tooth")?,
            reading: from.length("reading")?,
        })
    }
}

impl Body for IndicatorGroup {
    fn put(&self, to: &mut Fields) {
        to.named("held", self.held);
        to.object("instrument", &self.instrument);
        to.list("readings", &self.readings);
    }

    fn take(from: &Taker<'_>) -> Taken<Self> {
        Ok(Self {
            held: from.named("held")?,
            instrument: from.object("instrument")?,
            readings: from.list("readings")?,
        })
    }
}

impl Body for IndicatorReading {
    fn put(&self, to: &mut Fields) {
        to.value("tooth", self.tooth);
        to.length("from_end", self.from_end);
        to.length("height", self.height);
    }

    fn take(from: &Taker<'_>) -> Taken<Self> {
        Ok(Self {
            tooth: from.count("tooth")?,
            from_end: from.length("from_end")?,
            height: from.length("height")?,
        })
    }
}

impl Body for RunoutReading {
    fn put(&self, to: &mut Fields) {
        to.named("of", self.of);
        to.named("held", self.held);
        to.maybe_length("from_end", self.from_end);
        to.length("reading", self.reading);
        to.object("instrument", &self.instrument);
    }

    fn take(from: &Taker<'_>) -> Taken<Self> {
        Ok(Self {
            of: from.named("of")?,
            held: from.named("held")?,
            from_end: from.maybe_length("from_end")?,
            reading: from.length("reading")?,
            instrument: from.object("instrument")?,
        })
    }
}

impl Body for DropGroup {
    fn put(&self, to: &mut Fields) {
        to.object("instrument", &self.instrument);
        to.list("readings", &self.readings);
    }

    fn take(from: &Taker<'_>) -> Taken<Self> {
        Ok(Self { instrument: from.object("instrument")?, readings: from.list("readings")? })
    }
}

impl Body for DropReading {
    fn put(&self, to: &mut Fields) {
        to.maybe("tooth", self.tooth);
        to.length("distance", self.distance);
        to.length("drop", self.drop);
    }

    fn take(from: &Taker<'_>) -> Taken<Self> {
        Ok(Self {
            tooth: from.maybe_count("tooth")?,
            distance: from.length("distance")?,
            drop: from.length("drop")?,
        })
    }
}

//! Readings as TOML: `[[lands]]`, `[[diameters]]`, `[[indicator]]`, `[[runout]]` and `[[drops]]`,
//! each with its places as `[[….at]]`.

use std::cell::RefCell;

use geometry::Length;
use shop::record::{
    Cutter, DiameterGroup, DiameterReading, DropGroup, DropReading, Holding, IndicatorGroup,
    IndicatorReading, Instrument, LandGroup, LandReading, LandStage, Named, Over, Readings,
    ReadingsDraft, RunoutOf, RunoutReading,
};

use super::looked::{ByTooth, Looked};
use super::origins::Origins;
use crate::files::problem::FileProblems;
use crate::files::reading::Reading;
use crate::files::section::Section;
use crate::files::value::{Readable, choice, wrong};

/// Reads a TOML file of readings.
pub(super) fn read(file: &str, text: &str, cutter: &Cutter) -> Result<Readings, FileProblems> {
    let reading = Reading::open(file, text);
    let top = reading.top();
    let mut groups = Groups { teeth: cutter.teeth(), ..Groups::default() };
    groups.read(&top);
    top.close();
    let Groups { draft, origins, .. } = groups;
    let readings = reading.settle(draft.build(cutter), |field| origins.path(field));
    reading.finish(readings)
}

/// What has been read so far.
#[derive(Default)]
struct Groups {
    teeth: u32,
    draft: ReadingsDraft,
    origins: Origins,
}

/// One reading of a list by teeth.
struct Spot {
    tooth: u32,
    from_end: Length,
    length: Length,
}

impl Groups {
    fn read(&mut self, top: &Section<'_, '_>) {
        self.draft.cutter = top.maybe("cutter");
        self.draft.teeth_run = top.may_choose("teeth_run", "a way for the numbers to run");
        self.draft.ground_order = top.many("ground_order", u32::read);
        self.draft.signs = top.many("signs", |value| choice(value, "a sign of wear"));
        self.draft.looked_again = top.maybe("looked_again").unwrap_or(false);
        top.sections("lands").into_iter().for_each(|section| self.lands(section));
        top.sections("diameters").into_iter().for_each(|section| self.diameters(section));
        top.sections("indicator").into_iter().for_each(|section| self.indicator(section));
        top.sections("runout").into_iter().for_each(|section| self.runout(section));
        top.sections("drops").into_iter().for_each(|section| self.drops(section));
    }

    fn lands(&mut self, section: Section<'_, '_>) {
        let field = format!("lands[{}]", self.draft.lands.len());
        self.origins.note(&field, section.path());
        let stage = section.may_choose("stage", "a stage of the work");
        let instrument = instrument(&section);
        let mut readings = Vec::new();
        for at in section.sections("at") {
            let spots = self.by_tooth(&at, &field, readings.len(), "width");
            readings.extend(spots.into_iter().map(|Spot { tooth, from_end, length }| {
                LandReading { tooth, from_end, width: length }
            }));
            at.close();
        }
        // At a stage in doubt, lands of both stages would look like readings taken twice.
        if section.is_doubted("stage") {
            readings.clear();
        }
        let stage = stage.unwrap_or(LandStage::AfterPrimary);
        self.draft.lands.push(LandGroup { stage, instrument, readings });
        section.close();
    }

    fn diameters(&mut self, section: Section<'_, '_>) {
        let field = format!("diameters[{}]", self.draft.diameters.len());
        self.origins.note(&field, section.path());
        let over = self.over(&section);
        let anvil_width = section.maybe("anvil_width");
        let instrument = instrument(&section);
        let mut readings = Vec::new();
        for at in section.sections("at") {
            let found = self.diameters_at(&at, &field, readings.len());
            readings.extend(found);
            at.close();
        }
        self.draft.diameters.push(DiameterGroup { over, anvil_width, instrument, readings });
        section.close();
    }

    /// Even teeth leave only one way; for odd ones it must be said.
    fn over(&self, section: &Section<'_, '_>) -> Over {
        if self.teeth.is_multiple_of(2) || section.has("over") {
            section.may_choose("over", OVER).unwrap_or(Over::Micrometer)
        } else {
            section.choose("over", OVER, OverOdd::FlatAnvils).over()
        }
    }

    /// One reading with no tooth noted, or a list by the tooth on the one anvil.
    fn diameters_at(
        &mut self,
        at: &Section<'_, '_>,
        field: &str,
        first: usize,
    ) -> Vec<DiameterReading> {
        if at.has("teeth") {
            at.forbid("reading", "the readings stand in \"teeth\" already");
            let spots = self.by_tooth(at, field, first, "reading");
            let noted = |Spot { tooth, from_end, length }| DiameterReading {
                from_end,
                tooth: Some(tooth),
                reading: length,
            };
            return spots.into_iter().map(noted).collect();
        }
        at.know("teeth");
        let from_end: Length = at.need("from_end");
        let Looked(Some(reading)) = at.need("reading") else { return Vec::new() };
        if at.is_doubted("from_end") {
            return Vec::new();
        }
        let field = format!("{field}.reading[{first}]");
        self.origins.note(&field, at.at("from_end"));
        self.origins.note(format!("{field}.from_end"), at.at("from_end"));
        self.origins.note(format!("{field}.reading"), at.at("reading"));
        vec![DiameterReading { from_end, tooth: None, reading }]
    }

    fn indicator(&mut self, section: Section<'_, '_>) {
        let field = format!("indicator[{}]", self.draft.indicator.len());
        self.origins.note(&field, section.path());
        let held = section.may_choose("held", HELD).unwrap_or(Holding::ByShank);
        let instrument = instrument(&section);
        let mut readings = Vec::new();
        for at in section.sections("at") {
            let spots = self.by_tooth(&at, &field, readings.len(), "height");
            readings.extend(spots.into_iter().map(|Spot { tooth, from_end, length }| {
                IndicatorReading { tooth, from_end, height: length }
            }));
            at.close();
        }
        self.draft.indicator.push(IndicatorGroup { held, instrument, readings });
        section.close();
    }

    fn runout(&mut self, section: Section<'_, '_>) {
        let of = section.choose("of", "what runs out", RunoutOf::Shank);
        let held = section.may_choose("held", HELD).unwrap_or(usual_holding(of));
        let from_end = section.maybe("from_end");
        let instrument = instrument(&section);
        let Looked(reading) = section.need("reading");
        let doubted = section.is_doubted("of") || section.is_doubted("from_end");
        if let Some(reading) = reading.filter(|_| !doubted) {
            let field = format!("runout[{}]", self.draft.runouts.len());
            self.origins.note(field, section.path());
            let runout = RunoutReading { of, held, from_end, reading, instrument };
            self.draft.runouts.push(runout);
        }
        section.close();
    }

    fn drops(&mut self, section: Section<'_, '_>) {
        let field = format!("drops[{}]", self.draft.drops.len());
        self.origins.note(&field, section.path());
        let instrument = instrument(&section);
        let mut readings = Vec::new();
        for at in section.sections("at") {
            let (tooth, distance) = (at.maybe("tooth"), at.need("distance"));
            if let Looked(Some(drop)) = at.need("drop") {
                self.origins.note(format!("{field}.reading[{}]", readings.len()), at.path());
                readings.push(DropReading { tooth, distance, drop });
            }
            at.close();
        }
        self.draft.drops.push(DropGroup { instrument, readings });
        section.close();
    }

    /// The readings of one place, tooth by tooth; those behind `first` of their group.
    fn by_tooth(
        &mut self,
        at: &Section<'_, '_>,
        field: &str,
        first: usize,
        value: &str,
    ) -> Vec<Spot> {
        let from_end: Length = at.need("from_end");
        let teeth = teeth(at, self.teeth);
        if at.is_doubted("from_end") {
            return Vec::new();
        }
        let read = (1..).zip(0_usize..).zip(teeth);
        let read = read.filter_map(|((tooth, index), length)| Some((tooth, index, length?)));
        let mut spots = Vec::new();
        for (tooth, index, length) in read {
            let field = format!("{field}.reading[{}]", first + spots.len());
            let cell = at.at(&format!("teeth[{index}]"));
            // Within one list a tooth stands once, so a reading taken twice is a place named twice.
            self.origins.note(&field, at.at("from_end"));
            self.origins.note(format!("{field}.from_end"), at.at("from_end"));
            self.origins.note(format!("{field}.tooth"), &cell);
            self.origins.note(format!("{field}.{value}"), &cell);
            spots.push(Spot { tooth, from_end, length });
        }
        spots
    }
}

/// What a holding is called where another word stands.
pub(super) const HELD: &str = "a way to hold the cutter";

/// What a way to take a diameter is called where another word stands.
pub(super) const OVER: &str = "a way to take a diameter";

/// How a cutter is held for a runout where nothing is said.
pub(super) const fn usual_holding(of: RunoutOf) -> Holding {
    match of {
        RunoutOf::Shank => Holding::AsGround,
        RunoutOf::Edges => Holding::ByShank,
    }
}

fn instrument(section: &Section<'_, '_>) -> Instrument {
    Instrument {
        resolution: section.need("resolution"),
        repeatability: section.maybe("repeatability"),
    }
}

/// The members of the list `teeth`, by tooth; what could not be read counts as not looked at.
fn teeth(at: &Section<'_, '_>, count: u32) -> Vec<Option<Length>> {
    if !at.has("teeth") {
        return at.need::<ByTooth>("teeth").teeth;
    }
    let teeth = RefCell::new(Vec::new());
    at.many("teeth", |value| {
        let looked = Looked::read(value);
        teeth.borrow_mut().push(looked.as_ref().ok().and_then(|looked| looked.0));
        looked
    });
    let teeth = teeth.into_inner();
    let is_list = !teeth.is_empty() || !at.is_doubted("teeth");
    if is_list && u32::try_from(teeth.len()) != Ok(count) {
        at.refuse("teeth", wrong_count(teeth.len(), count));
    }
    teeth
}

fn wrong_count(found: usize, count: u32) -> crate::files::value::Wrong {
    let plural = if found == 1 { "" } else { "s" };
    let right = "write one for each tooth, from tooth 1 on, and \"-\" for teeth nobody looked at";
    wrong(format!("{found} reading{plural} for {count} teeth"), right)
}

/// The ways that odd teeth leave.
#[derive(Clone, Copy)]
pub(super) enum OverOdd {
    FlatAnvils,
    VeeAnvil,
}

impl OverOdd {
    const fn over(self) -> Over {
        match self {
            Self::FlatAnvils => Over::FlatAnvils,
            Self::VeeAnvil => Over::VeeAnvil,
        }
    }
}

impl Named for OverOdd {
    const ALL: &'static [Self] = &[Self::FlatAnvils, Self::VeeAnvil];

    fn name(self) -> &'static str {
        self.over().name()
    }
}

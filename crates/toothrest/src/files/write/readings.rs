//! Readings as a file.

use geometry::Length;
use geometry::quantity::System;
use shop::record::{
    DiameterGroup, DropGroup, IndicatorGroup, Instrument, LandGroup, Named, ReadingsDraft,
    RunoutReading,
};

use super::page::Page;

/// Readings as a file that [`read_readings`](crate::files::read_readings) reads back as equal ones;
/// lengths in this system where both would do.
pub fn readings_text(readings: &ReadingsDraft, system: System) -> String {
    let mut page = Page::new(system);
    page.maybe_words("cutter", readings.cutter.as_deref());
    page.maybe_words("teeth_run", readings.teeth_run.map(Named::name));
    if !readings.ground_order.is_empty() {
        let order: Vec<String> = readings.ground_order.iter().map(u32::to_string).collect();
        page.bare("ground_order", format!("[{}]", order.join(", ")));
    }
    if !readings.signs.is_empty() {
        page.list("signs", readings.signs.iter().map(|sign| sign.name()));
    }
    if readings.looked_again {
        page.bare("looked_again", true);
    }
    readings.lands.iter().for_each(|group| lands(&mut page, group));
    readings.diameters.iter().for_each(|group| diameters(&mut page, group));
    readings.indicator.iter().for_each(|group| indicator(&mut page, group));
    readings.runouts.iter().for_each(|runout| one_runout(&mut page, runout));
    readings.drops.iter().for_each(|group| drops(&mut page, group));
    page.finish()
}

/// A reading of one tooth at one place.
struct Spot {
    tooth: u32,
    from_end: Length,
    reading: Length,
}

fn lands(page: &mut Page, group: &LandGroup) {
    page.section("[[lands]]");
    page.words("stage", group.stage.name());
    instrument(page, &group.instrument);
    let spots = group.readings.iter().map(|land| Spot {
        tooth: land.tooth,
        from_end: land.from_end,
        reading: land.width,
    });
    places(page, "[[lands.at]]", spots);
}

fn indicator(page: &mut Page, group: &IndicatorGroup) {
    page.section("[[indicator]]");
    page.words("held", group.held.name());
    instrument(page, &group.instrument);
    let spots = group.readings.iter().map(|one| Spot {
        tooth: one.tooth,
        from_end: one.from_end,
        reading: one.height,
    });
    places(page, "[[indicator.at]]", spots);
}

fn diameters(page: &mut Page, group: &DiameterGroup) {
    page.section("[[diameters]]");
    page.words("over", group.over.name());
    page.maybe_length("anvil_width", group.anvil_width);
    instrument(page, &group.instrument);
    let mut noted: Vec<Spot> = Vec::new();
    let header = "[[diameters.at]]";
    for one in &group.readings {
        match one.tooth {
            Some(tooth) => {
                noted.push(Spot { tooth, from_end: one.from_end, reading: one.reading });
            }
            None => {
                places(page, header, noted.drain(..));
                page.section(header);
                page.length("from_end", one.from_end);
                page.length("reading", one.reading);
            }
        }
    }
    places(page, header, noted.into_iter());
}

fn one_runout(page: &mut Page, runout: &RunoutReading) {
    page.section("[[runout]]");
    page.words("of", runout.of.name());
    page.words("held", runout.held.name());
    page.maybe_length("from_end", runout.from_end);
    instrument(page, &runout.instrument);
    page.length("reading", runout.reading);
}

fn drops(page: &mut Page, group: &DropGroup) {
    page.section("[[drops]]");
    instrument(page, &group.instrument);
    for one in &group.readings {
        page.section("[[drops.at]]");
        if let Some(tooth) = one.tooth {
            page.bare("tooth", tooth);
        }
        page.length("distance", one.distance);
        page.length("drop", one.drop);
    }
}

fn instrument(page: &mut Page, instrument: &Instrument) {
    page.length("resolution", instrument.resolution);
    page.maybe_length("repeatability", instrument.repeatability);
}

/// Readings by place; a tooth that was not looked at there is a dash.
fn places(page: &mut Page, header: &str, spots: impl Iterator<Item = Spot>) {
    let mut row: Vec<Option<Length>> = Vec::new();
    let mut place = None;
    for Spot { tooth, from_end, reading } in spots {
        let at = tooth.saturating_sub(1) as usize;
        if place != Some(from_end) || at < row.len() {
            one_place(page, header, place, &row);
            (place, row) = (Some(from_end), Vec::new());
        }
        row.resize(at, None);
        row.push(Some(reading));
    }
    one_place(page, header, place, &row);
}

fn one_place(page: &mut Page, header: &str, place: Option<Length>, row: &[Option<Length>]) {
    if let Some(from_end) = place {
        page.section(header);
        page.length("from_end", from_end);
        page.looked_at("teeth", row);
    }
}

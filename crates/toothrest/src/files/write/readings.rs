//! Readings as a file.

use geometry::Length;
use shop::record::{
    Cutter, DiameterGroup, DropGroup, IndicatorGroup, Instrument, LandGroup, Named, ReadingsDraft,
    RunoutReading,
};

use super::page::Page;

/// Readings of a cutter as a file that [`read_readings`](crate::files::read_readings) reads back as
/// equal ones.
pub fn readings_text(readings: &ReadingsDraft, cutter: &Cutter) -> String {
    let teeth = cutter.teeth() as usize;
    let mut page = Page::new(cutter.system());
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
    readings.lands.iter().for_each(|group| lands(&mut page, group, teeth));
    readings.diameters.iter().for_each(|group| diameters(&mut page, group, teeth));
    readings.indicator.iter().for_each(|group| indicator(&mut page, group, teeth));
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

fn lands(page: &mut Page, group: &LandGroup, teeth: usize) {
    page.section("[[lands]]");
    page.words("stage", group.stage.name());
    instrument(page, &group.instrument);
    let spots = group.readings.iter().map(|land| Spot {
        tooth: land.tooth,
        from_end: land.from_end,
        reading: land.width,
    });
    places(page, "[[lands.at]]", teeth, spots);
}

fn indicator(page: &mut Page, group: &IndicatorGroup, teeth: usize) {
    page.section("[[indicator]]");
    page.words("held", group.held.name());
    instrument(page, &group.instrument);
    let spots = group.readings.iter().map(|one| Spot {
        tooth: one.tooth,
        from_end: one.from_end,
        reading: one.height,
    });
    places(page, "[[indicator.at]]", teeth, spots);
}

fn diameters(page: &mut Page, group: &DiameterGroup, teeth: usize) {
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
                places(page, header, teeth, noted.drain(..));
                page.section(header);
                page.length("from_end", one.from_end);
                page.length("reading", one.reading);
            }
        }
    }
    places(page, header, teeth, noted.into_iter());
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
fn places(page: &mut Page, header: &str, teeth: usize, spots: impl Iterator<Item = Spot>) {
    let mut row: Vec<Option<Length>> = Vec::new();
    let mut place = None;
    for Spot { tooth, from_end, reading } in spots {
        let at = tooth.saturating_sub(1) as usize;
        if place != Some(from_end) || at < row.len() {
            one_place(page, header, place, (row, teeth));
            (place, row) = (Some(from_end), Vec::new());
        }
        row.resize(at, None);
        row.push(Some(reading));
    }
    one_place(page, header, place, (row, teeth));
}

fn one_place(
    page: &mut Page,
    header: &str,
    place: Option<Length>,
    (mut row, teeth): (Vec<Option<Length>>, usize),
) {
    if let Some(from_end) = place {
        row.resize(teeth.max(row.len()), None);
        page.section(header);
        page.length("from_end", from_end);
        page.looked_at("teeth", &row);
    }
}

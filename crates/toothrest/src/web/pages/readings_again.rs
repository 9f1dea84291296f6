//! The readings of last time, standing in the form again to be changed.

use geometry::{Length, System};
use shop::ShopError;
use shop::book::event::Read;
use shop::book::{Event, Store};
use shop::record::{Instrument, ReadingsDraft};

use crate::desk::CutterAt;
use crate::files::length_words;
use crate::web::form::Form;
use crate::web::visit::Visit;

/// Two places along a flute this near are one.
const SAME_PLACE_MM: f64 = 1e-6;

/// What was last read on the plan that a cutter has now.
pub(super) async fn last_read(
    visit: &Visit,
    cutter: &CutterAt,
) -> Result<Option<Box<Read>>, ShopError> {
    let Some(number) = cutter.state.read else { return Ok(None) };
    let history = visit.desk.book().history(&cutter.subject, number - 1, 1).await?;
    Ok(match history.into_iter().next().map(|entry| entry.event) {
        Some(Event::Read(read)) if read.plan == cutter.state.planned => Some(read),
        _ => None,
    })
}

/// The form with these readings in it, as they were typed.
pub(super) fn with_readings(mut form: Form, readings: &ReadingsDraft) -> Form {
    let mut sheet = Filled { form: &mut form };
    for group in &readings.lands {
        let places = group.readings.iter().map(|one| (one.from_end, one.tooth, one.width));
        sheet.grid("lands", ("stage", group.stage.name()), &group.instrument, places);
    }
    for group in &readings.diameters {
        let places = group.readings.iter();
        let places = places.map(|one| (one.from_end, one.tooth.unwrap_or(1), one.reading));
        sheet.grid("diameters", ("over", group.over.name()), &group.instrument, places);
    }
    for group in &readings.indicator {
        let places = group.readings.iter().map(|one| (one.from_end, one.tooth, one.height));
        sheet.grid("indicator", ("held", group.held.name()), &group.instrument, places);
    }
    sheet.single(readings);
    sheet.about_the_grind(readings);
    form
}

struct Filled<'f> {
    form: &'f mut Form,
}

impl Filled<'_> {
    fn put(&mut self, name: &str, words: String) {
        if let Some(field) = self.form.field(name) {
            field.value = words;
        }
    }

    fn length(&mut self, name: &str, length: Length) {
        let system = self.form.system;
        let words = length_words(length, system);
        let unit = match system {
            System::Inch => " in",
            System::Millimetre => " mm",
        };
        let bare = words.strip_suffix(unit).map(str::to_owned);
        self.put(name, bare.unwrap_or(words));
    }

    fn value(&self, name: &str) -> Option<&str> {
        self.form.fields().find(|field| field.name == name).map(|field| &*field.value)
    }

    /// The part of the sheet whose fact stands so.
    fn part(&self, list: &str, (fact, name): (&str, &str)) -> Option<String> {
        let keys = (0..).map(|at| format!("{list}[{at}]"));
        let mut known = keys.map_while(|key| {
            let value = self.value(&format!("{key}.{fact}"))?;
            Some((value == name, key))
        });
        known.find_map(|(is_it, key)| is_it.then_some(key))
    }

    /// Fills a table with a place in each row and a tooth in each column.
    fn grid(
        &mut self,
        list: &str,
        fact: (&str, &str),
        instrument: &Instrument,
        readings: impl Iterator<Item = (Length, u32, Length)>,
    ) {
        let Some(key) = self.part(list, fact) else { return };
        self.length(&format!("{key}.resolution"), instrument.resolution);
        let readings: Vec<_> = readings.collect();
        let rows = self.rows(&key, readings.iter().map(|(place, _, _)| *place));
        for (place, tooth, width) in readings {
            let row = rows.iter().find(|(_, of)| is_same(*of, place));
            if let (Some((row, _)), Some(column)) = (row, tooth.checked_sub(1)) {
                self.length(&format!("{key}.at[{row}].teeth[{column}]"), width);
            }
        }
    }

    /// The row of each place: the one that names it already, else the next that names none.
    fn rows(&mut self, key: &str, places: impl Iterator<Item = Length>) -> Vec<(usize, Length)> {
        let system = self.form.system;
        let named = |field: &crate::web::form::Field| field.with_unit(system).parse::<Length>();
        let name = |row: usize| format!("{key}.at[{row}].from_end");
        let mut distinct: Vec<Length> = Vec::new();
        for place in places {
            if !distinct.iter().any(|known| is_same(*known, place)) {
                distinct.push(place);
            }
        }
        let offered: Vec<Option<Length>> = (0..)
            .map_while(|row| {
                let field = self.form.fields().find(|field| field.name == name(row))?;
                Some(named(field).ok())
            })
            .collect();
        let is_read = |row: &Option<Length>| {
            row.is_some_and(|row| distinct.iter().any(|place| is_same(*place, row)))
        };
        let mut free = (0..offered.len()).filter(|row| !is_read(&offered[*row]));
        let row_of = |place: Length| {
            let known = offered.iter().position(|row| row.is_some_and(|row| is_same(row, place)));
            known.or_else(|| free.next()).map(|row| (row, place))
        };
        let rows: Vec<(usize, Length)> = distinct.iter().copied().filter_map(row_of).collect();
        for (row, place) in &rows {
            if !offered[*row].is_some_and(|offered| is_same(offered, *place)) {
                self.length(&name(*row), *place);
            }
        }
        rows
    }

    /// The runout of the shank, and the drops behind the edge.
    fn single(&mut self, readings: &ReadingsDraft) {
        for one in &readings.runouts {
            if let Some(key) = self.part("runout", ("held", one.held.name())) {
                self.length(&format!("{key}.resolution"), one.instrument.resolution);
                self.length(&format!("{key}.reading"), one.reading);
            }
        }
        if let Some(group) = readings.drops.first() {
            self.length("drops[0].resolution", group.instrument.resolution);
            for (at, one) in group.readings.iter().enumerate() {
                self.length(&format!("drops[0].at[{at}].distance"), one.distance);
                self.length(&format!("drops[0].at[{at}].drop"), one.drop);
                if let Some(tooth) = one.tooth {
                    self.put(&format!("drops[0].at[{at}].tooth"), tooth.to_string());
                }
            }
        }
    }

    fn about_the_grind(&mut self, readings: &ReadingsDraft) {
        if !readings.ground_order.is_empty() {
            let order: Vec<String> = readings.ground_order.iter().map(u32::to_string).collect();
            self.put("ground_order", order.join(" "));
        }
        if let Some(run) = readings.teeth_run {
            self.put("teeth_run", run.name().to_owned());
        }
        let signs: Vec<&str> = readings.signs.iter().map(|sign| sign.name()).collect();
        self.put("signs", signs.join("\n"));
    }
}

fn is_same(one: Length, other: Length) -> bool {
    (one - other).abs() < Length::from_mm(SAME_PLACE_MM)
}

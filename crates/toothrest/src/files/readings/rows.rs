//! The shape of CSV that has one reading a row.

use std::collections::BTreeMap;

use geometry::Length;
use shop::record::{
    Cutter, DiameterGroup, DiameterReading, DropGroup, DropReading, Holding, IndicatorGroup,
    IndicatorReading, LandGroup, LandReading, LandStage, Named, Over, RunoutOf, RunoutReading,
    WearSign,
};

use super::cells::{Cells, Refused, TOOTH, Under};
use super::column::Column;
use super::headings::{self, Heading};
use super::kind::Kind;
use super::lines::Row;
use super::looked::{empty, is_unread};
use super::notes::Notes;
use super::sections::{HELD, OVER, OverOdd, usual_holding};
use super::tool::Tool;
use crate::files::value::{choices, wrong};

/// Reads the rows into the draft.
pub(super) fn read(
    header: usize,
    headings: &[Heading],
    rows: &[Row],
    notes: &Notes,
    cutter: &Cutter,
    cells: &mut Cells<'_>,
) {
    if !headings::check(header, headings, cells) {
        return;
    }
    let columns = headings.iter().enumerate();
    let columns = columns.filter_map(|(place, heading)| Some((heading.column?, place))).collect();
    let (teeth, latest, hows) = (cutter.teeth(), BTreeMap::new(), BTreeMap::new());
    let mut reader = Reader { headings, columns, notes, teeth, latest, hows, cells };
    rows.iter().for_each(|row| reader.row(row));
}

/// The rows being read.
struct Reader<'a, 't> {
    headings: &'a [Heading],
    columns: BTreeMap<Column, usize>,
    notes: &'a Notes,
    teeth: u32,
    /// With what the latest row of each kind was read that said so.
    latest: BTreeMap<Kind, Result<Tool, Refused>>,
    /// How the latest row of each kind was read that said so.
    hows: BTreeMap<Kind, &'static str>,
    cells: &'a mut Cells<'t>,
}

impl<'a> Reader<'a, '_> {
    fn row(&mut self, row: &Row) {
        let Ok(kind) = self.kind(row) else { return };
        self.refuse_surplus(row, kind);
        // What could not be read has been noted; there is nothing more to do with such a row.
        let _ = match kind {
            Kind::Land => self.land(row),
            Kind::Diameter => self.diameter(row),
            Kind::Indicator => self.indicator(row),
            Kind::ShankRunout => self.runout(row, kind, RunoutOf::Shank),
            Kind::EdgeRunout => self.runout(row, kind, RunoutOf::Edges),
            Kind::Drop => self.drop(row),
            Kind::Sign | Kind::Cutter | Kind::GroundOrder => self.words(row, kind),
        };
    }

    fn kind(&mut self, row: &Row) -> Result<Kind, Refused> {
        let (path, text) = self.cell(row, Column::Kind);
        self.cells.choose(&path, text, "a kind of row")
    }

    /// What stands in a column of a row, and its path; nothing where there is no such column.
    fn cell<'r>(&mut self, row: &'r Row, column: Column) -> (String, &'r str) {
        let place = self.columns.get(&column);
        let text = place.and_then(|&place| row.cells.get(place)).map_or("", String::as_str);
        (self.cells.place(column.name(), row.line, text), text)
    }

    /// What stands in a column of a row, if anything does.
    fn written<'r>(&mut self, row: &'r Row, column: Column) -> (String, Option<&'r str>) {
        let (path, text) = self.cell(row, column);
        (path, Some(text).filter(|text| !text.is_empty() && !is_unread(text)))
    }

    fn refuse_surplus(&mut self, row: &Row, kind: Kind) {
        for column in Column::ALL.iter().copied().filter(|&column| !kind.takes(column)) {
            if let (path, Some(_)) = self.written(row, column) {
                let message = format!("a row of \"{}\" has none", kind.name());
                self.cells.refuse(&path, wrong(message, "leave it empty"));
            }
        }
    }

    fn land(&mut self, row: &Row) -> Result<(), Refused> {
        let kind = Kind::Land;
        let stage = self.stage(row);
        let (tooth, from_end) = (self.need_tooth(row, kind), self.need_from_end(row, kind));
        let (width, tool) = (self.looked(row), self.tool(row, kind));
        let (stage, tooth, from_end, tool) = (stage?, tooth?, from_end?, tool?);
        let instrument = tool.instrument;
        let groups = &mut self.cells.draft.lands;
        let same = |group: &LandGroup| group.stage == stage && group.instrument == instrument;
        let (index, is_new) =
            place_in(groups, same, || LandGroup { stage, instrument, readings: Vec::new() });
        let readings = &mut groups[index].readings;
        let (field, count) = (format!("lands[{index}]"), readings.len());
        readings.extend(width?.map(|width| LandReading { tooth, from_end, width }));
        self.note_group(row, &field, is_new.then_some(&tool));
        self.note_spot(row, &format!("{field}.reading[{count}]"), "width");
        Ok(())
    }

    fn diameter(&mut self, row: &Row) -> Result<(), Refused> {
        let kind = Kind::Diameter;
        let (over, tooth) = (self.over(row), self.tooth(row));
        let from_end = self.need_from_end(row, kind);
        let (reading, tool) = (self.looked(row), self.tool(row, kind));
        let (over, tooth, from_end, tool) = (over?, tooth?, from_end?, tool?);
        let Tool { instrument, anvil_width, .. } = tool;
        let groups = &mut self.cells.draft.diameters;
        let same = |group: &DiameterGroup| {
            (group.over, group.instrument, group.anvil_width) == (over, instrument, anvil_width)
        };
        let (index, is_new) = place_in(groups, same, || DiameterGroup {
            over,
            anvil_width,
            instrument,
            readings: Vec::new(),
        });
        let readings = &mut groups[index].readings;
        let (field, count) = (format!("diameters[{index}]"), readings.len());
        readings.extend(reading?.map(|reading| DiameterReading { from_end, tooth, reading }));
        self.note_group(row, &field, is_new.then_some(&tool));
        self.note_spot(row, &format!("{field}.reading[{count}]"), "reading");
        Ok(())
    }

    fn indicator(&mut self, row: &Row) -> Result<(), Refused> {
        let kind = Kind::Indicator;
        let held = self.held(row, kind, Holding::ByShank);
        let (tooth, from_end) = (self.need_tooth(row, kind), self.need_from_end(row, kind));
        let (height, tool) = (self.looked(row), self.tool(row, kind));
        let (held, tooth, from_end, tool) = (held?, tooth?, from_end?, tool?);
        let instrument = tool.instrument;
        let groups = &mut self.cells.draft.indicator;
        let same = |group: &IndicatorGroup| group.held == held && group.instrument == instrument;
        let (index, is_new) =
            place_in(groups, same, || IndicatorGroup { held, instrument, readings: Vec::new() });
        let readings = &mut groups[index].readings;
        let (field, count) = (format!("indicator[{index}]"), readings.len());
        readings.extend(height?.map(|height| IndicatorReading { tooth, from_end, height }));
        self.note_group(row, &field, is_new.then_some(&tool));
        self.note_spot(row, &format!("{field}.reading[{count}]"), "height");
        Ok(())
    }

    fn runout(&mut self, row: &Row, kind: Kind, of: RunoutOf) -> Result<(), Refused> {
        let held = self.held(row, kind, usual_holding(of));
        let from_end = match of {
            RunoutOf::Shank => self.length(row, Column::FromEnd),
            RunoutOf::Edges => self.need_from_end(row, kind).map(Some),
        };
        let (reading, tool) = (self.looked(row), self.tool(row, kind));
        let (held, from_end, tool) = (held?, from_end?, tool?);
        let instrument = tool.instrument;
        let Some(reading) = reading? else { return Ok(()) };
        let field = format!("runout[{}]", self.cells.draft.runouts.len());
        let runout = RunoutReading { of, held, from_end, reading, instrument };
        self.cells.draft.runouts.push(runout);
        self.note_group(row, &field, Some(&tool));
        self.note_spot(row, &field, "reading");
        Ok(())
    }

    fn drop(&mut self, row: &Row) -> Result<(), Refused> {
        let kind = Kind::Drop;
        let (tooth, distance) = (self.tooth(row), self.need_length(row, Column::Distance, kind));
        let (drop, tool) = (self.looked(row), self.tool(row, kind));
        let (tooth, distance, tool) = (tooth?, distance?, tool?);
        let instrument = tool.instrument;
        let groups = &mut self.cells.draft.drops;
        let same = |group: &DropGroup| group.instrument == instrument;
        let (index, is_new) =
            place_in(groups, same, || DropGroup { instrument, readings: Vec::new() });
        let readings = &mut groups[index].readings;
        let (field, count) = (format!("drops[{index}]"), readings.len());
        readings.extend(drop?.map(|drop| DropReading { tooth, distance, drop }));
        self.note_group(row, &field, is_new.then_some(&tool));
        self.note_spot(row, &format!("{field}.reading[{count}]"), "drop");
        Ok(())
    }

    fn words(&mut self, row: &Row, kind: Kind) -> Result<(), Refused> {
        let (path, text) = self.cell(row, Column::Reading);
        match kind {
            _ if text.is_empty() => return Err(self.cells.refuse(&path, empty())),
            _ if is_unread(text) => {}
            Kind::Cutter => self.cells.name_cutter(&path, text),
            Kind::GroundOrder => self.cells.order_teeth(&path, text),
            _ => {
                let sign: WearSign = self.cells.choose(&path, text, "a sign of wear")?;
                self.cells.see_sign(&path, sign);
            }
        }
        Ok(())
    }

    fn over(&mut self, row: &Row) -> Result<Over, Refused> {
        match self.written(row, Column::How) {
            (path, Some(text)) => self.cells.choose(&path, text, OVER),
            _ if self.teeth.is_multiple_of(2) => Ok(Over::Micrometer),
            _ => Err(self.missing(row, Column::How, Kind::Diameter)),
        }
    }

    fn stage(&mut self, row: &Row) -> Result<LandStage, Refused> {
        let usual = self.notes.stage.unwrap_or(Ok(LandStage::AfterPrimary));
        self.how(row, Kind::Land, "a stage of the work", usual)
    }

    fn held(&mut self, row: &Row, kind: Kind, usual: Holding) -> Result<Holding, Refused> {
        self.how(row, kind, HELD, Ok(usual))
    }

    /// How a row was read; where that is left out, in the usual way. Below a row of its kind that
    /// was read in another way an empty cell may mean either, so it is refused.
    fn how<T: Named>(
        &mut self,
        row: &Row,
        kind: Kind,
        noun: &str,
        usual: Result<T, Refused>,
    ) -> Result<T, Refused> {
        let (path, written) = self.written(row, Column::How);
        if let Some(text) = written {
            let how: T = self.cells.choose(&path, text, noun)?;
            self.hows.insert(kind, how.name());
            return Ok(how);
        }
        let usual = usual?;
        match self.hows.get(&kind) {
            Some(&above) if above != usual.name() => {
                let usual = usual.name();
                let message =
                    format!("is \"{usual}\" where it is left out, and \"{above}\" in a row above");
                Err(self.cells.refuse(&path, wrong(message, "write which of them is meant")))
            }
            _ => Ok(usual),
        }
    }

    fn tooth(&mut self, row: &Row) -> Result<Option<u32>, Refused> {
        match self.written(row, Column::Tooth) {
            (path, Some(text)) => self.cells.tooth(&path, text).map(Some),
            _ => Ok(None),
        }
    }

    fn need_tooth(&mut self, row: &Row, kind: Kind) -> Result<u32, Refused> {
        self.tooth(row)?.ok_or_else(|| self.missing(row, Column::Tooth, kind))
    }

    fn looked(&mut self, row: &Row) -> Result<Option<Length>, Refused> {
        let (path, text) = self.cell(row, Column::Reading);
        let under = self.under(Column::Reading);
        self.cells.looked(&path, text, under)
    }

    fn length(&mut self, row: &Row, column: Column) -> Result<Option<Length>, Refused> {
        let under = self.under(column);
        match self.written(row, column) {
            (path, Some(text)) => self.cells.length(&path, text, Some(under)).map(Some),
            _ => Ok(None),
        }
    }

    fn need_length(&mut self, row: &Row, column: Column, kind: Kind) -> Result<Length, Refused> {
        self.length(row, column)?.ok_or_else(|| self.missing(row, column, kind))
    }

    fn need_from_end(&mut self, row: &Row, kind: Kind) -> Result<Length, Refused> {
        self.need_length(row, Column::FromEnd, kind)
    }

    /// The heading that lengths of a column stand under.
    fn under(&self, column: Column) -> Under<'a> {
        let heading = self.columns.get(&column).and_then(|&place| self.headings.get(place));
        Under { heading: column.name(), unit: heading.and_then(|heading| heading.unit.as_deref()) }
    }

    /// A needed value that is not there: once for the file where it has no such column.
    fn missing(&mut self, row: &Row, column: Column, kind: Kind) -> Refused {
        let (path, _) = self.cell(row, column);
        let needs = format!("a row of \"{}\" needs it", kind.name());
        if self.columns.contains_key(&column) {
            return self.cells.refuse(&path, wrong(needs, example(column)));
        }
        let message = format!("{needs}, and there is no such column");
        let right = format!("add the column, and {}", example(column));
        let refused = self.cells.refuse(&path, wrong(message, right));
        self.cells.doubt(column.name());
        refused
    }

    /// With what a row was read: where it leaves the resolution out, with what the latest row of
    /// its kind was read that did not, or else with what a note says.
    fn tool(&mut self, row: &Row, kind: Kind) -> Result<Tool, Refused> {
        let resolution = self.length(row, Column::Resolution);
        let repeatability = self.length(row, Column::Repeatability);
        let anvil_width = match kind {
            Kind::Diameter => self.length(row, Column::AnvilWidth),
            _ => Ok(None),
        };
        let Some(resolution) = resolution.transpose() else {
            let latest = self.latest(row, kind);
            return Ok(latest?.with(row.line, repeatability?, anvil_width?));
        };
        let own = || {
            let tool = Tool::new(row.line, resolution?);
            Ok(tool.with(row.line, repeatability?, anvil_width?))
        };
        let tool: Result<Tool, Refused> = own();
        self.latest.insert(kind, tool.clone());
        tool
    }

    fn latest(&mut self, row: &Row, kind: Kind) -> Result<Tool, Refused> {
        if let Some(latest) = self.latest.get(&kind).or(self.notes.tool.as_ref()) {
            return latest.clone();
        }
        let (path, _) = self.cell(row, Column::Resolution);
        let message = format!("no row of \"{}\" above gives one", kind.name());
        let refused = self.cells.refuse(&path, wrong(message, example(Column::Resolution)));
        self.latest.insert(kind, Err(refused));
        Err(refused)
    }

    /// Notes where a group was begun, if this row begins one.
    fn note_group(&mut self, row: &Row, field: &str, tool: Option<&Tool>) {
        let Some(tool) = tool else { return };
        let (how, _) = self.cell(row, Column::How);
        tool.note(field, &mut self.cells.origins);
        self.cells.origins.note(format!("{field}.over"), how);
    }

    /// Notes where a reading was written.
    fn note_spot(&mut self, row: &Row, field: &str, value: &str) {
        let (reading, _) = self.cell(row, Column::Reading);
        for (part, column) in [
            ("tooth", Column::Tooth),
            ("from_end", Column::FromEnd),
            ("distance", Column::Distance),
        ] {
            let (path, _) = self.cell(row, column);
            self.cells.origins.note(format!("{field}.{part}"), path);
        }
        self.cells.origins.note(field, &reading);
        self.cells.origins.note(format!("{field}.{value}"), &reading);
    }
}

/// What to write into a column where it is needed.
fn example(column: Column) -> String {
    match column {
        Column::How => choices::<OverOdd>(None),
        Column::Tooth => TOOTH.to_owned(),
        Column::Distance => "write the distance behind the edge, such as 0.5 mm".to_owned(),
        Column::Resolution => {
            "write the smallest step read, such as 0.02 mm, here or as # resolution: 0.02 mm"
                .to_owned()
        }
        _ => "write the distance from the end, such as 3 mm".to_owned(),
    }
}

/// Where in a list of groups a reading belongs, and whether that group is a new one.
fn place_in<G>(
    groups: &mut Vec<G>,
    same: impl Fn(&G) -> bool,
    new: impl FnOnce() -> G,
) -> (usize, bool) {
    if let Some(index) = groups.iter().position(same) {
        return (index, false);
    }
    groups.push(new());
    (groups.len() - 1, true)
}

//! A sheet of open readings as CSV, one reading a row.

use shop::record::{Named, WearSign};

use super::as_toml::remark;
use super::parts::{Part, PartKind, Sheet};

/// Stands where nothing has been read yet.
const OPEN: &str = "-";

const HEAD: &str = "\
Stop the wheel before you read and wipe the cutter: grit under an anvil reads as size. Write what \
the instrument shows, with its unit, under \"reading\"; leave - where you did not look. Write the \
smallest step you really read under \"resolution\". Lines with # are for you.";

/// What can be said in lines of its own. The reader takes a line for what it begins with.
const MORE: [&str; 2] = [
    "To say which way the numbers of the teeth run, add a line # teeth run: heelward, or edgeward.",
    "When you have looked again at what seemed out of place, add a line # looked again: yes.",
];

const HEADINGS: [&str; 7] =
    ["kind", "how", "tooth", "from_end", "distance", "reading", "resolution"];

/// One row of a reading.
#[derive(Default)]
struct Row<'p> {
    kind: &'p str,
    how: &'p str,
    tooth: String,
    from_end: &'p str,
    distance: &'p str,
    reading: &'p str,
    resolution: &'p str,
}

pub(super) fn write(sheet: &Sheet<'_>) -> String {
    let number = sheet.cutter.number();
    let mut text = remark(&format!("Bench readings of {number}. {HEAD}"));
    text += &cells(HEADINGS);
    text += &words("cutter", number);
    let order: Vec<_> = sheet.order.iter().map(u32::to_string).collect();
    text += &remark("The order of the last round, as planned; write your own if it was other.");
    text += &words("ground order", &order.join(" "));
    for part in &sheet.parts {
        part.remarks.iter().for_each(|line| text += &remark(line));
        text.extend(rows(part).into_iter().map(Row::text));
    }
    let signs: Vec<_> = WearSign::ALL.iter().map(|sign| sign.name()).collect();
    text +=
        &remark(&format!("Wear seen before this regrind, a row for each: {}.", signs.join(", ")));
    text += &words("sign", OPEN);
    MORE.iter().for_each(|line| text += &remark(line));
    text
}

/// A row that carries words.
fn words(kind: &str, reading: &str) -> String {
    Row { kind, reading, ..Row::default() }.text()
}

fn rows(part: &Part) -> Vec<Row<'_>> {
    let row = Row { reading: OPEN, resolution: part.resolution, ..Row::default() };
    let at = |kind, how, teeth| by_teeth(part, kind, how, teeth);
    match part.kind {
        PartKind::Land(stage) => at("land", stage.name(), part.teeth),
        // The opposite tooth of an even number gives the same diameter.
        PartKind::Diameter(over) if part.teeth.is_multiple_of(2) => {
            at("diameter", over.name(), part.teeth / 2)
        }
        PartKind::Diameter(over) => at("diameter", over.name(), part.teeth),
        PartKind::Indicator(held) => at("indicator", held.name(), part.teeth),
        PartKind::ShankRunout(held) => {
            vec![Row { kind: "shank runout", how: held.name(), ..row }]
        }
        PartKind::Drop => {
            let drop = |distance| Row {
                kind: "drop",
                distance,
                reading: OPEN,
                resolution: part.resolution,
                ..Row::default()
            };
            part.places.iter().map(String::as_str).map(drop).collect()
        }
    }
}

fn by_teeth<'p>(part: &'p Part, kind: &'p str, how: &'p str, teeth: u32) -> Vec<Row<'p>> {
    let places = part.places.iter();
    let spots = places.flat_map(|place| (1..=teeth).map(move |tooth| (place, tooth)));
    let row = |(place, tooth): (&'p String, u32)| Row {
        kind,
        how,
        tooth: tooth.to_string(),
        from_end: place,
        distance: "",
        reading: OPEN,
        resolution: part.resolution,
    };
    spots.map(row).collect()
}

impl Row<'_> {
    fn text(self) -> String {
        cells([
            self.kind,
            self.how,
            &self.tooth,
            self.from_end,
            self.distance,
            self.reading,
            self.resolution,
        ])
    }
}

/// One line of cells.
fn cells(texts: [&str; 7]) -> String {
    let texts: Vec<_> = texts.iter().map(|text| cell(text)).collect();
    texts.join(",") + "\n"
}

/// A cell, in quotation marks where it holds something that would end it.
fn cell(text: &str) -> String {
    if text.contains([',', ';', '"']) {
        format!("\"{}\"", text.replace('"', "\"\""))
    } else {
        text.to_owned()
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn what_would_end_a_cell_is_kept_inside() {
        assert_eq!(words("cutter", "K-1"), "cutter,,,,,K-1,\n");
        assert_eq!(words("cutter", "K \"1\", 2"), "cutter,,,,,\"K \"\"1\"\", 2\",\n");
    }
}

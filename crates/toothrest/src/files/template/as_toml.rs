//! A sheet of open readings as TOML.

use shop::record::{Named, TeethRun, WearSign};

use super::parts::{Part, PartKind, Sheet};
use crate::files::write::quoted;

/// Stands where nothing has been read yet.
const OPEN: &str = "\"-\"";

/// As many columns a line of remarks has at most.
const COLUMNS: usize = 98;

const HEAD: &str = "\
Stop the wheel before you read, and wipe the cutter: grit under an anvil reads as size. Write what \
the instrument shows, with its unit; leave \"-\" where you did not look. Write the smallest step \
you really read as the resolution.";

pub(super) fn write(sheet: &Sheet<'_>) -> String {
    let number = sheet.cutter.number();
    let mut text = remark(&format!("Bench readings of {number}. {HEAD}"));
    text += &format!("\ncutter = {}\n\n", quoted(number));
    text += &top(sheet);
    for part in &sheet.parts {
        text.push('\n');
        part.remarks.iter().for_each(|line| text += &remark(line));
        text += &section(part, sheet.anvil_width);
    }
    text
}

fn top(sheet: &Sheet<'_>) -> String {
    let order: Vec<_> = sheet.order.iter().map(u32::to_string).collect();
    let runs = choices::<TeethRun>();
    let signs = choices::<WearSign>();
    let mut text =
        remark("The order of the last round, as planned: write your own if it was other.");
    text += &format!("ground_order = [{}]\n\n", order.join(", "));
    text +=
        &remark(&format!("Tooth 2 lies behind the heel of tooth 1, or before its edge: {runs}."));
    text += "# teeth_run = \"heelward\"\n\n";
    text += &remark(&format!("Wear seen before this regrind: {signs}."));
    text += "# signs = [\"metal built up on land\"]\n\n";
    text += &remark("When you have looked again at what seemed out of place, and stand by it:");
    text + "# looked_again = true\n"
}

fn section(part: &Part, anvil_width: &str) -> String {
    let resolution = format!("resolution = \"{}\"\n", part.resolution);
    match part.kind {
        PartKind::Land(stage) => {
            let head = format!("[[lands]]\nstage = \"{stage}\"\n{resolution}");
            head + &by_teeth("lands", part)
        }
        PartKind::Diameter(over) => {
            let head = format!("[[diameters]]\nover = \"{over}\"\n{resolution}");
            let width =
                format!("# anvil_width = \"{anvil_width}\"   # where they are not narrow\n");
            head + &width + &by_teeth("diameters", part)
        }
        PartKind::Indicator(held) => {
            let head = format!("[[indicator]]\nheld = \"{held}\"\n{resolution}");
            head + &by_teeth("indicator", part)
        }
        PartKind::ShankRunout(held) => {
            format!("[[runout]]\nof = \"shank\"\nheld = \"{held}\"\n{resolution}reading = {OPEN}\n")
        }
        PartKind::Drop => {
            let at = |distance| {
                format!("[[drops.at]]\n# tooth = 1\ndistance = \"{distance}\"\ndrop = {OPEN}\n")
            };
            format!("[[drops]]\n{resolution}") + &part.places.iter().map(at).collect::<String>()
        }
    }
}

fn by_teeth(section: &str, part: &Part) -> String {
    let teeth: Vec<_> = (0..part.teeth).map(|_| OPEN).collect();
    let teeth = teeth.join(", ");
    let at = |place| format!("[[{section}.at]]\nfrom_end = \"{place}\"\nteeth = [{teeth}]\n");
    part.places.iter().map(at).collect()
}

fn choices<T: Named>() -> String {
    let names: Vec<_> = T::ALL.iter().map(|member| quoted(member.name())).collect();
    names.join(", ")
}

/// Words behind `#`, on as many lines as they need.
pub(super) fn remark(words: &str) -> String {
    let mut lines: Vec<String> = Vec::new();
    for word in words.split_whitespace() {
        match lines.last_mut() {
            Some(line) if line.chars().count() + word.chars().count() < COLUMNS => {
                line.push(' ');
                line.push_str(word);
            }
            _ => lines.push(word.to_owned()),
        }
    }
    lines.iter().map(|line| format!("# {line}\n")).collect()
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn remarks_break_where_a_line_is_full() {
        assert_eq!(remark("a b"), "# a b\n");
        let lines = remark(&"knife ".repeat(40));
        assert!(lines.lines().all(|line| line.len() <= 100) && lines.lines().count() == 3);
    }
}

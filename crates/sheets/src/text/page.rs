//! What stands on a page, and the page as text: headings in the margin, text wrapped beside them.

use shop::plan::{Grinding, SetupLine};

use super::setup;
use super::show::Units;

/// Width of a page in characters.
pub const COLUMNS: usize = 100;

/// Width of the margin in which headings stand.
const MARGIN: usize = 11;

/// What stands on a page, in the order in which it is read.
#[derive(Clone, Debug, PartialEq)]
pub(crate) enum Item {
    /// A rule across the page.
    Rule(char),
    /// Text without a margin, left and right.
    Spread(String, String),
    /// The name of the part that follows.
    Part(&'static str),
    /// A paragraph that begins with a mark, which may be empty.
    Hanging(String, String),
    /// A line of a set-up.
    Setup(Box<SetupLine>),
    /// The marks of a feed, to be ticked off; on paper alone, for the text has them in words.
    Marks(Box<Grinding>),
    /// Boxes for readings, by name; on paper alone.
    Boxes(Vec<String>),
    /// Figures to be set one after another, each with a note; on paper alone.
    Steps(Vec<(String, String)>),
    /// A figure at which the work stops or by which it is judged; on paper alone.
    Result(String),
}

/// A page that is being written.
#[derive(Default)]
pub(crate) struct Page {
    items: Vec<Item>,
}

impl Page {
    /// A rule across the page.
    pub(super) fn rule(&mut self, mark: char) {
        self.items.push(Item::Rule(mark));
    }

    /// Starts a part of the sheet; its name stands beside the first line that follows.
    pub(super) fn part(&mut self, name: &'static str) {
        self.items.push(Item::Part(name));
    }

    /// Text without a margin, left and right on one line; on two where one does not hold both.
    pub(super) fn spread(&mut self, left: &str, right: &str) {
        self.items.push(Item::Spread(left.to_owned(), right.to_owned()));
    }

    /// A paragraph beside the margin.
    pub(super) fn text(&mut self, text: &str) {
        self.hanging("", text);
    }

    /// A paragraph that begins with a mark, its further lines drawn in under the text.
    pub(super) fn hanging(&mut self, mark: &str, text: &str) {
        self.items.push(Item::Hanging(mark.to_owned(), text.to_owned()));
    }

    /// Columns beside the margin, each of a width; the last one wraps.
    pub(super) fn columns(&mut self, cells: &[(&str, usize)], last: &str) {
        self.hanging(&padded(cells), last);
    }

    /// A line of a set-up.
    pub(super) fn setup(&mut self, line: &SetupLine) {
        self.items.push(Item::Setup(Box::new(line.clone())));
    }

    /// The marks of a feed, to be ticked off on paper.
    pub(super) fn marks(&mut self, grinding: &Grinding) {
        self.items.push(Item::Marks(Box::new(grinding.clone())));
    }

    /// Figures to be set one after another, on paper.
    pub(super) fn steps(&mut self, steps: Vec<(String, String)>) {
        self.items.push(Item::Steps(steps));
    }

    /// A figure at which the work stops or by which it is judged, large on paper.
    pub(super) fn result(&mut self, figure: String) {
        self.items.push(Item::Result(figure));
    }

    /// Boxes for readings, on paper.
    pub(super) fn boxes(&mut self, names: impl IntoIterator<Item = String>) {
        self.items.push(Item::Boxes(names.into_iter().collect()));
    }

    /// What stands on the page, to be set on paper.
    pub(crate) fn into_items(self) -> Vec<Item> {
        self.items
    }

    /// The finished page as text.
    pub(super) fn finish(self, units: Units) -> String {
        let mut lines = Lines::default();
        self.items.iter().for_each(|item| lines.write(item, units));
        let mut text = lines.lines.join("\n");
        text.push('\n');
        text
    }
}

/// The lines of a page as text.
#[derive(Default)]
struct Lines {
    lines: Vec<String>,
    heading: Option<&'static str>,
}

impl Lines {
    fn write(&mut self, item: &Item, units: Units) {
        match item {
            Item::Rule(mark) => self.lines.push(mark.to_string().repeat(COLUMNS)),
            Item::Spread(left, right) => self.spread(left, right),
            Item::Part(name) => self.heading = Some(name),
            Item::Hanging(mark, text) => self.hanging(mark, text),
            Item::Setup(line) => {
                let (cells, words) = setup::cells(line, units);
                let cells: Vec<(&str, usize)> =
                    cells.iter().map(|(text, size)| (text.as_str(), *size)).collect();
                self.hanging(&padded(&cells), &words);
            }
            Item::Marks(_) | Item::Boxes(_) | Item::Steps(_) | Item::Result(_) => {}
        }
    }

    fn spread(&mut self, left: &str, right: &str) {
        let used = width(left) + width(right);
        if used < COLUMNS {
            self.lines.push(format!("{left}{}{right}", " ".repeat(COLUMNS - used)));
        } else {
            self.lines.push(left.to_owned());
            self.lines.extend(wrap(right, COLUMNS));
        }
    }

    fn hanging(&mut self, mark: &str, text: &str) {
        let indent = width(mark);
        let room = COLUMNS - MARGIN - indent;
        for (index, line) in wrap(text, room).into_iter().enumerate() {
            let lead = if index == 0 { mark.to_owned() } else { " ".repeat(indent) };
            let margin = self.heading.take().unwrap_or("");
            let body = format!("{margin:<MARGIN$}{lead}{line}");
            self.lines.push(body.trim_end().to_owned());
        }
    }
}

fn padded(cells: &[(&str, usize)]) -> String {
    cells.iter().map(|(text, size)| pad(text, *size)).collect()
}

fn width(text: &str) -> usize {
    text.chars().count()
}

/// Fills a cell up to its width; one that is too long keeps one blank behind it.
fn pad(text: &str, size: usize) -> String {
    let blanks = size.saturating_sub(width(text)).max(1);
    format!("{text}{}", " ".repeat(blanks))
}

fn wrap(text: &str, room: usize) -> Vec<String> {
    let mut lines = vec![String::new()];
    for word in text.split_whitespace() {
        let Some(line) = lines.last_mut() else { break };
        if !line.is_empty() && width(line) + 1 + width(word) > room {
            lines.push(word.to_owned());
        } else {
            if !line.is_empty() {
                line.push(' ');
            }
            line.push_str(word);
        }
    }
    lines
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn no_line_is_longer_than_the_page() {
        let mut page = Page::default();
        page.part("SET UP");
        page.columns(&[("head angle", 18), ("89.50 deg", 14)], &"word ".repeat(60));
        let text = page.finish(Units { system: geometry::System::Inch, both: false });
        assert!(text.lines().count() > 3);
        assert!(text.lines().all(|line| width(line) <= COLUMNS), "{text}");
        assert!(text.starts_with("SET UP     head angle        89.50 deg     word"), "{text}");
    }
}

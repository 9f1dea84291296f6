//! Lines of a page: headings in the margin, text wrapped beside them.

/// Width of a page in characters.
pub const COLUMNS: usize = 100;

/// Width of the margin in which headings stand.
const MARGIN: usize = 11;

/// A page that is being written.
#[derive(Default)]
pub(super) struct Page {
    lines: Vec<String>,
    heading: Option<&'static str>,
}

impl Page {
    /// A rule across the page.
    pub(super) fn rule(&mut self, mark: char) {
        self.lines.push(mark.to_string().repeat(COLUMNS));
    }

    /// Starts a part of the sheet; its name stands beside the first line that follows.
    pub(super) fn part(&mut self, name: &'static str) {
        self.heading = Some(name);
    }

    /// Text without a margin, left and right on one line; on two where one does not hold both.
    pub(super) fn spread(&mut self, left: &str, right: &str) {
        let used = width(left) + width(right);
        if used < COLUMNS {
            self.lines.push(format!("{left}{}{right}", " ".repeat(COLUMNS - used)));
        } else {
            self.lines.push(left.to_owned());
            self.lines.extend(wrap(right, COLUMNS));
        }
    }

    /// A paragraph beside the margin.
    pub(super) fn text(&mut self, text: &str) {
        self.hanging("", text);
    }

    /// A paragraph that begins with a mark, its further lines drawn in under the text.
    pub(super) fn hanging(&mut self, mark: &str, text: &str) {
        let indent = width(mark);
        let room = COLUMNS - MARGIN - indent;
        for (index, line) in wrap(text, room).into_iter().enumerate() {
            let lead = if index == 0 { mark.to_owned() } else { " ".repeat(indent) };
            let margin = self.heading.take().unwrap_or("");
            let body = format!("{margin:<MARGIN$}{lead}{line}");
            self.lines.push(body.trim_end().to_owned());
        }
    }

    /// Columns beside the margin, each of a width; the last one wraps.
    pub(super) fn columns(&mut self, cells: &[(&str, usize)], last: &str) {
        let mark: String = cells.iter().map(|(text, size)| pad(text, *size)).collect();
        self.hanging(&mark, last);
    }

    /// The finished page.
    pub(super) fn finish(self) -> String {
        let mut text = self.lines.join("\n");
        text.push('\n');
        text
    }
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
        let text = page.finish();
        assert!(text.lines().count() > 3);
        assert!(text.lines().all(|line| width(line) <= COLUMNS), "{text}");
        assert!(text.starts_with("SET UP     head angle        89.50 deg     word"), "{text}");
    }
}

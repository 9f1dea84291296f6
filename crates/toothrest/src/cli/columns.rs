//! Text in columns, for the terminal.

/// What stands between two columns.
const GAP: &str = "  ";

/// Rows of the same number of cells under a heading.
pub(super) struct Columns<const COUNT: usize> {
    heading: [&'static str; COUNT],
    rows: Vec<[String; COUNT]>,
}

impl<const COUNT: usize> Columns<COUNT> {
    /// No rows yet. A heading of nothing is not shown.
    pub(super) const fn new(heading: [&'static str; COUNT]) -> Self {
        Self { heading, rows: Vec::new() }
    }

    pub(super) fn row(&mut self, row: [String; COUNT]) {
        self.rows.push(row);
    }

    /// Every row as a line. The last column is as wide as it is, and lines end without blanks.
    pub(super) fn text(&self) -> String {
        let has_heading = self.heading.iter().any(|cell| !cell.is_empty());
        let heading = has_heading.then(|| self.heading.map(str::to_owned));
        let lines: Vec<&[String; COUNT]> = heading.iter().chain(&self.rows).collect();
        let width = |column: usize| {
            lines.iter().map(|line| line[column].chars().count()).max().unwrap_or_default()
        };
        let widths: [usize; COUNT] = std::array::from_fn(width);
        lines.iter().map(|line| one_line(line.as_slice(), &widths)).collect()
    }
}

fn one_line(cells: &[String], widths: &[usize]) -> String {
    let padded = cells.iter().zip(widths).map(|(cell, width)| format!("{cell:<width$}"));
    let line = padded.collect::<Vec<_>>().join(GAP);
    format!("{}\n", line.trim_end())
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn columns_are_as_wide_as_their_widest_cell() {
        let mut columns = Columns::new(["number", "what"]);
        columns.row(["½".to_owned(), "a".to_owned()]);
        columns.row(["K-1017".to_owned(), String::new()]);
        assert_eq!(columns.text(), "number  what\n½       a\nK-1017\n");
        let mut bare = Columns::new(["", ""]);
        assert_eq!(bare.text(), "");
        bare.row(["a".to_owned(), "b".to_owned()]);
        assert_eq!(bare.text(), "a  b\n");
    }
}

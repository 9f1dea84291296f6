//! The rows of one topic, and how a shop's own row takes the place of one.

use crate::bibliography::Bibliography;
use crate::cell::RawRow;
use crate::fault::{Fault, TableError};
use crate::row::{Noun, Row};
use crate::tables::{ListedRow, Topic};

/// The rows of one topic, in the order of its file. The order tells: an end that two ranges share
/// belongs to the row that stands first.
#[derive(Clone, Debug, PartialEq)]
pub struct Table<T> {
    rows: Vec<Row<T>>,
}

impl<T: Noun> Table<T> {
    /// Every row, chosen or not.
    pub fn rows(&self) -> &[Row<T>] {
        &self.rows
    }

    /// Reads the rows of the trade's own table.
    pub(crate) fn of_trade(raws: Vec<RawRow>) -> Result<Self, TableError> {
        let rows: Vec<_> = raws.into_iter().map(Row::of_trade).collect::<Result<_, _>>()?;
        let table = Self { rows };
        table.rows.iter().try_for_each(|row| table.check_one_chosen(row))?;
        Ok(table)
    }

    fn check_one_chosen(&self, row: &Row<T>) -> Result<(), TableError> {
        let chosen = self.of_key(&row.key).filter(|other| other.chosen).count();
        if chosen == 1 { Ok(()) } else { Err(Fault::NotOneChosen(chosen).at(row.raw.place())) }
    }

    fn of_key<'t>(&'t self, key: &'t str) -> impl Iterator<Item = &'t Row<T>> {
        self.rows.iter().filter(move |row| same_key(&row.key, key))
    }
}

/// A table whose row type is not known to the caller.
pub(crate) trait AnyTable {
    /// The topic.
    fn topic(&self) -> Topic;

    /// Puts a shop's row above the row of the same key.
    fn put_shop_row(&mut self, raw: RawRow) -> Result<(), TableError>;

    /// Its rows as texts.
    fn listing(&self, bibliography: &Bibliography) -> Vec<ListedRow>;

    /// The source of every row, with the place where the row stands.
    fn check_sources(&self, bibliography: &Bibliography) -> Result<(), TableError>;
}

impl<T: Noun> AnyTable for Table<T> {
    fn topic(&self) -> Topic {
        T::TOPIC
    }

    fn put_shop_row(&mut self, raw: RawRow) -> Result<(), TableError> {
        let key: String = raw.field("key")?;
        let known = || self.rows.iter().map(|row| row.key.as_str());
        let unknown = || Fault::unknown("key", &key, known()).at(raw.place_of("key"));
        let former = self.of_key(&key).find(|row| row.chosen).ok_or_else(unknown)?;
        let row = Row::of_shop(raw, former)?;
        for former in self.rows.iter_mut().filter(|former| former.key == row.key) {
            former.chosen = false;
        }
        let after = self.rows.iter().rposition(|former| former.key == row.key);
        self.rows.insert(after.map_or(self.rows.len(), |place| place + 1), row);
        Ok(())
    }

    fn listing(&self, bibliography: &Bibliography) -> Vec<ListedRow> {
        self.rows.iter().map(|row| listed(row, bibliography)).collect()
    }

    fn check_sources(&self, bibliography: &Bibliography) -> Result<(), TableError> {
        let stray = self.rows.iter().find(|row| bibliography.source(&row.source).is_none());
        stray.map_or(Ok(()), |row| {
            let place = row.raw.place_of("source");
            Err(Fault::unknown("source", &row.source, bibliography.ids()).at(place))
        })
    }
}

fn listed<T: Noun>(row: &Row<T>, bibliography: &Bibliography) -> ListedRow {
    let source = bibliography.source(&row.source);
    ListedRow {
        topic: T::TOPIC,
        key: row.key.clone(),
        value: row.shown(),
        source_id: row.source.clone(),
        source_title: source.map_or_else(String::new, |source| source.title.clone()),
        read: row.read,
        page: row.page.clone(),
        chosen: row.chosen,
        note: row.note.clone(),
    }
}

/// Whether two keys are the same but for case and spacing.
pub(crate) fn same_key(one: &str, other: &str) -> bool {
    let letters = |key: &str| {
        key.chars().filter(|letter| !letter.is_whitespace()).collect::<String>().to_lowercase()
    };
    letters(one) == letters(other)
}

//! All tables together: the trade's own, which travel with the program, and a shop's above them.

use crate::bibliography::{Bibliography, Source};
use crate::cell::RawRow;
use crate::fault::{Fault, TableError};
use crate::reader;
use crate::row::Noun;
use crate::rows::*;
use crate::table::{AnyTable, Table, same_key};
use crate::words::{HowRead, named};
use std::sync::LazyLock;

/// Declares the topics: one enum for their names, one struct that holds their tables.
macro_rules! topics {
    ($($(#[$about:meta])* $topic:ident = $name:literal: $slot:ident of $row:ident,)+) => {
        named! {
            /// A topic of the tables.
            pub enum Topic as "topic" {
                $($(#[$about])* $topic = $name,)+
            }
        }

        /// Every table, with the bibliography that its rows cite.
        #[derive(Clone, Debug, PartialEq)]
        pub struct Tables {
            bibliography: Bibliography,
            $(pub(crate) $slot: Table<$row>,)+
        }

        impl Tables {
            fn of_trade() -> Result<Self, TableError> {
                let tables = Self {
                    bibliography: Bibliography::parse(include_str!("../data/bibliography.toml"))?,
                    $($slot: of_file(include_str!(concat!("../data/", $name, ".toml")), $name)?,)+
                };
                tables.any().try_for_each(|table| table.check_sources(&tables.bibliography))?;
                Ok(tables)
            }

            fn any(&self) -> impl Iterator<Item = &dyn AnyTable> {
                let all: [&dyn AnyTable; Topic::ALL.len()] = [$(&self.$slot),+];
                all.into_iter()
            }

            fn any_mut(&mut self) -> impl Iterator<Item = &mut dyn AnyTable> {
                let all: [&mut dyn AnyTable; Topic::ALL.len()] = [$(&mut self.$slot),+];
                all.into_iter()
            }
        }
    };
}

topics! {
    /// Primary relief on peripheral teeth, with the indicator drops that check it.
    Relief = "relief": relief of ReliefRow,
    /// Secondary relief on peripheral teeth.
    Secondary = "secondary": secondary of SecondaryRow,
    /// Widths of the primary land.
    Lands = "lands": lands of LandRow,
    /// Dish of end and side teeth.
    Dish = "dish": dish of DishRow,
    /// Relief of end and side teeth.
    EndRelief = "end-relief": end_relief of EndReliefRow,
    /// Secondary relief of end and side teeth.
    EndSecondary = "end-secondary": end_secondary of EndSecondaryRow,
    /// The gash in front of an end tooth.
    Gash = "gash": gash of GashRow,
    /// The corner between end and periphery.
    Corner = "corner": corner of CornerRow,
    /// Practice at the end of a cutter.
    EndPractice = "end-practice": end_practice of EndPracticeRow,
    /// The abrasive for each tool material.
    Abrasives = "abrasives": abrasives of AbrasiveRow,
    /// Wheel shapes and the part that grinds.
    Shapes = "shapes": shapes of ShapeRow,
    /// Grit sizes of superabrasives.
    Grits = "grits": grits of GritRow,
    /// Concentrations of superabrasives.
    Concentrations = "concentrations": concentrations of ConcentrationRow,
    /// Surface speeds of wheels.
    Speeds = "speeds": speeds of SpeedRow,
    /// The greatest depth of cut by grit of a superabrasive.
    Infeeds = "infeeds": infeeds of InfeedRow,
    /// Depths of ordinary and finishing passes.
    Passes = "passes": passes of PassRow,
    /// How much of a cutter's diameter may go before it is worn out.
    Shrink = "shrink": shrink of ShrinkRow,
    /// Wear lands at which to pull a cutter.
    Wear = "wear": wear of WearRow,
    /// Tolerances of a reground cutter.
    Tolerances = "tolerances": tolerances of ToleranceRow,
    /// Truing and dressing of wheels.
    Dressing = "dressing": dressing of DressingRow,
    /// Practice in setting up.
    Practice = "practice": practice of PracticeRow,
    /// How far the teeth of a cutter stand apart.
    Teeth = "teeth": teeth of TeethRow,
    /// Stock that a regrind takes.
    Stock = "stock": stock of StockRow,
    /// How much of the wheel a cutter costs.
    WheelWear = "wheel-wear": wheel_wear of WheelWearRow,
    /// How far a shop's own entries are trusted against the tables.
    Learning = "learning": learning of LearningRow,
    /// How long each change of a set-up takes.
    Minutes = "minutes": minutes of MinutesRow,
    /// How far a hand is ordinarily off with each setting.
    Habits = "habits": habits of HabitRow,
    /// Cautions for hands, eyes, lungs and wheels.
    Cautions = "cautions": cautions of CautionRow,
}

/// A row of any topic as texts, for a list of what is known and from where.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct ListedRow {
    /// The topic.
    pub topic: Topic,
    /// What the row is about.
    pub key: String,
    /// What it says, as the source writes it.
    pub value: String,
    /// The source's id.
    pub source_id: String,
    /// The source's title.
    pub source_title: String,
    /// How the source was read for this row.
    pub read: HowRead,
    /// The page, clause or table.
    pub page: Option<String>,
    /// Whether plans use this row.
    pub chosen: bool,
    /// A remark.
    pub note: Option<String>,
}

static BUNDLED: LazyLock<Result<Tables, TableError>> = LazyLock::new(Tables::of_trade);

impl Tables {
    /// The tables that travel with the program.
    ///
    /// # Errors
    /// Names the line of a bundled file that cannot be read; the tests of this crate rule it out.
    pub fn bundled() -> Result<&'static Self, TableError> {
        BUNDLED.as_ref().map_err(TableError::clone)
    }

    /// These tables with a shop's rows above them. A shop's row names a key that stands in the
    /// tables already, becomes the chosen one, and leaves the former rows visible beside it.
    ///
    /// # Errors
    /// An unknown topic, key, field, word or unit, each with its line, its key and the nearest
    /// that is known; a value that cannot be read; a key that stands twice.
    pub fn with_shop(&self, shop_toml: &str) -> Result<Self, TableError> {
        let mut tables = self.clone();
        let raws = reader::rows(shop_toml)?;
        raws.iter().enumerate().try_for_each(|(place, raw)| check_once(raw, &raws[..place]))?;
        for raw in raws {
            tables.put_shop_row(raw)?;
        }
        Ok(tables)
    }

    fn put_shop_row(&mut self, raw: RawRow) -> Result<(), TableError> {
        let topic = topic_of(&raw)?;
        match self.any_mut().find(|table| table.topic() == topic) {
            Some(table) => table.put_shop_row(raw),
            None => Ok(()),
        }
    }

    /// Every topic, in the order in which they are listed.
    pub const fn topics(&self) -> &'static [Topic] {
        Topic::ALL
    }

    /// Every row of a topic as texts, chosen or not.
    pub fn listing(&self, topic: Topic) -> Vec<ListedRow> {
        let of_topic = self.any().filter(|table| table.topic() == topic);
        of_topic.flat_map(|table| table.listing(&self.bibliography)).collect()
    }

    /// The rows of one type.
    pub fn table<T: Noun>(&self) -> &Table<T> {
        T::table(self)
    }

    /// The bibliography.
    pub const fn bibliography(&self) -> &Bibliography {
        &self.bibliography
    }

    /// The source of that id.
    pub fn source(&self, id: &str) -> Option<&Source> {
        self.bibliography.source(id)
    }
}

/// Reads the file of one topic.
fn of_file<T: Noun>(text: &str, name: &str) -> Result<Table<T>, TableError> {
    let raws = reader::rows(text)?;
    match raws.iter().find(|raw| raw.topic != name) {
        Some(stray) => Err(Fault::unknown("topic", &stray.topic, [name]).at(stray.place())),
        None => Table::of_trade(raws),
    }
}

fn topic_of(raw: &RawRow) -> Result<Topic, TableError> {
    let names = Topic::ALL.iter().map(|topic| topic.name());
    let unknown = || {
        let place = crate::fault::Place { line: raw.line, ..Default::default() };
        Fault::unknown("topic", &raw.topic, names).at(place)
    };
    Topic::from_name(&raw.topic).ok_or_else(unknown)
}

/// Refuses a shop's row whose key stands higher up in the same text.
fn check_once(raw: &RawRow, above: &[RawRow]) -> Result<(), TableError> {
    let key = raw.shown("key").unwrap_or_default();
    let same = |other: &RawRow| {
        other.topic == raw.topic && same_key(&other.shown("key").unwrap_or_default(), &key)
    };
    if above.iter().any(same) { Err(Fault::Twice.at(raw.place_of("key"))) } else { Ok(()) }
}

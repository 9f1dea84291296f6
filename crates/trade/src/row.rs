//! A row of any table: what it says, where that comes from, and whether it is the one chosen.

use crate::cell::RawRow;
use crate::fault::{Fault, TableError};
use crate::table::Table;
use crate::tables::{Tables, Topic};
use crate::words::HowRead;

/// A row with its source.
#[derive(Clone, Debug, PartialEq)]
pub struct Row<T> {
    /// What the row is about, as one text; conflicting rows share it.
    pub key: String,
    /// What the row says.
    pub value: T,
    /// The source's id in the bibliography.
    pub source: String,
    /// How the source was read for this row.
    pub read: HowRead,
    /// The page, clause or table of the source.
    pub page: Option<String>,
    /// A remark on the row.
    pub note: Option<String>,
    /// Whether this row is the one that plans use.
    pub chosen: bool,
    /// The row as written.
    pub(crate) raw: RawRow,
}

/// What a row of one topic says. Implemented by the row types of this crate only.
pub trait Noun: Sized + Clone + sealed::Read + 'static {
    /// Its topic.
    const TOPIC: Topic;
    /// The fields that make the key.
    const KEYS: &'static [&'static str];
    /// Further fields that are settled by the key.
    const SETTLED: &'static [&'static str];
    /// The fields that rows may differ in, and a shop may give.
    const VALUES: &'static [&'static str];

    /// Its table.
    fn table(tables: &Tables) -> &Table<Self>;
}

pub(crate) mod sealed {
    use crate::cell::RawRow;
    use crate::fault::TableError;

    /// Reading, kept from other crates because written rows are this crate's own affair.
    pub trait Read {
        /// Reads the row's own fields.
        #[expect(private_interfaces, reason = "the trait cannot be reached from outside")]
        fn read(raw: &RawRow) -> Result<Self, TableError>
        where
            Self: Sized;
    }
}

/// The fields that every row of the trade's own tables may have.
const COMMON: [&str; 5] = ["source", "read", "page", "note", "chosen"];

/// The fields that every row of a shop's table may have.
const COMMON_OF_SHOP: [&str; 3] = ["key", "page", "note"];

/// The id of a shop's own table in the bibliography.
pub const SHOP: &str = "shop";

impl<T: Noun> Row<T> {
    /// Reads a row of the trade's own tables.
    pub(crate) fn of_trade(mut raw: RawRow) -> Result<Self, TableError> {
        raw.key = key_of::<T>(&raw);
        check_names(&raw, &[T::KEYS, T::SETTLED, T::VALUES, &COMMON])?;
        Ok(Self {
            key: raw.key.clone(),
            value: T::read(&raw)?,
            source: raw.field("source")?,
            read: raw.field("read")?,
            page: raw.field("page")?,
            note: raw.field("note")?,
            chosen: raw.field::<Option<bool>>("chosen")?.unwrap_or(true),
            raw,
        })
    }

    /// Reads a shop's row that takes the place of `former`.
    pub(crate) fn of_shop(mut raw: RawRow, former: &Self) -> Result<Self, TableError> {
        raw.key.clone_from(&former.key);
        let settled = |name: &str| T::KEYS.contains(&name) || T::SETTLED.contains(&name);
        if let Some(value) = raw.values.iter().find(|value| settled(&value.name)) {
            return Err(Fault::SettledByKey.at(raw.place_of(&value.name)));
        }
        check_names(&raw, &[T::VALUES, &COMMON_OF_SHOP])?;
        let inherited = former.raw.values.iter().filter(|value| settled(&value.name));
        raw.values.extend(inherited.cloned());
        Ok(Self {
            key: raw.key.clone(),
            value: T::read(&raw)?,
            source: SHOP.to_owned(),
            read: HowRead::Read,
            page: raw.field("page")?,
            note: raw.field("note")?,
            chosen: true,
            raw,
        })
    }

    /// What the row says, as the source writes it.
    pub fn shown(&self) -> String {
        let fields = T::SETTLED.iter().chain(T::VALUES);
        let given: Vec<_> =
            fields.filter_map(|name| Some((*name, self.raw.shown(name)?))).collect();
        match given.as_slice() {
            [(_, text)] => text.clone(),
            several => several.iter().map(named).collect::<Vec<_>>().join("; "),
        }
    }
}

fn named((name, text): &(&str, String)) -> String {
    format!("{} {text}", name.replace('_', " "))
}

/// The key: what was written in the fields that make it.
fn key_of<T: Noun>(raw: &RawRow) -> String {
    T::KEYS.iter().filter_map(|name| raw.shown(name)).collect::<Vec<_>>().join(", ")
}

/// Refuses a field that no list knows.
pub(crate) fn check_names(raw: &RawRow, known: &[&[&str]]) -> Result<(), TableError> {
    let names = || known.iter().flat_map(|list| list.iter().copied());
    match raw.values.iter().find(|value| !names().any(|name| name == value.name)) {
        Some(value) => {
            let place = raw.place_of(&value.name);
            Err(Fault::unknown("field", &value.name, names()).at(place))
        }
        None => Ok(()),
    }
}

/// Declares the row type of one topic: the fields that make its key, those that the key settles
/// besides, and those that a row gives.
macro_rules! noun {
    (
        $(#[$about:meta])*
        pub struct $name:ident in $topic:ident / $slot:ident {
            key { $($(#[$key_doc:meta])* $key:ident: $key_type:ty,)+ }
            $(settled { $($(#[$settled_doc:meta])* $settled:ident: $settled_type:ty,)+ })?
            value { $($(#[$value_doc:meta])* $value:ident: $value_type:ty,)+ }
        }
    ) => {
        $(#[$about])*
        #[derive(Clone, Debug, PartialEq)]
        pub struct $name {
            $($(#[$key_doc])* pub $key: $key_type,)+
            $($($(#[$settled_doc])* pub $settled: $settled_type,)+)?
            $($(#[$value_doc])* pub $value: $value_type,)+
        }

        impl $crate::row::Noun for $name {
            const TOPIC: $crate::tables::Topic = $crate::tables::Topic::$topic;
            const KEYS: &'static [&'static str] = &[$(stringify!($key)),+];
            const SETTLED: &'static [&'static str] = &[$($(stringify!($settled)),+)?];
            const VALUES: &'static [&'static str] = &[$(stringify!($value)),+];

            fn table(tables: &$crate::tables::Tables) -> &$crate::table::Table<Self> {
                &tables.$slot
            }
        }

        impl $crate::row::sealed::Read for $name {
            #[expect(private_interfaces, reason = "the trait cannot be reached from outside")]
            fn read(raw: &$crate::cell::RawRow) -> Result<Self, $crate::fault::TableError> {
                Ok(Self {
                    $($key: raw.field(stringify!($key))?,)+
                    $($($settled: raw.field(stringify!($settled))?,)+)?
                    $($value: raw.field(stringify!($value))?,)+
                })
            }
        }
    };
}
pub(crate) use noun;

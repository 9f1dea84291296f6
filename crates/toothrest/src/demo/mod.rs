//! The demo shop: an invented shop at work, in a book of its own that goes away with the program.

mod history;
mod stock;

use std::collections::BTreeMap;
use std::path::PathBuf;

use book::{Book, Place};
use geometry::Length;
use shop::ShopError;
use shop::book::event::{PersonEntered, WheelEntered, Written};
use shop::book::{Event, Id, Initials, SubjectKind};
use trade::ToolMaterial;

use crate::cli::Failure;
use crate::desk::Desk;
use crate::files::{read_cutter, read_wheels};

/// The invented people who work there.
const PEOPLE: [(&str, &str); 3] = [("IV", "I. Vance"), ("OB", "O. Brandt"), ("TK", "T. Kessel")];

/// Sets up the demo shop.
pub(crate) async fn demo_desk() -> Result<Desk, Failure> {
    let folder = folder()?;
    let book = Book::open(&Place::File(folder.join("demo.sqlite"))).await?;
    let desk = Desk::new(book).gone_with(folder);
    let by = Initials::new(PEOPLE[0].0)?;
    people(&desk, &by).await?;
    let machine = papers(&desk, &by).await?;
    let wheels = wheels(&desk, &by).await?;
    for (at, (file, text)) in stock::CUTTERS.iter().enumerate() {
        let cutter = read_cutter(file, text)?;
        let wheel = wheels.get(wheel_for(cutter.material())).cloned();
        let age = history::Age { place: at, wheel, machine: machine.clone() };
        history::put(&desk, &cutter, &age).await?;
    }
    Ok(desk)
}

/// The wheel that such a cutter is ground with there.
const fn wheel_for(material: ToolMaterial) -> &'static str {
    match material {
        ToolMaterial::Carbide => "W-07",
        ToolMaterial::HighSpeedSteel => "W-01",
        ToolMaterial::CobaltHighSpeedSteel | ToolMaterial::PowderHighSpeedSteel => "W-05",
    }
}

/// A folder that nobody else has.
fn folder() -> Result<PathBuf, Failure> {
    let mut bytes = [0; 8];
    getrandom::fill(&mut bytes).map_err(|error| ShopError::store("set up the demo shop", error))?;
    let name = format!("toothrest-demo-{:016x}", u64::from_le_bytes(bytes));
    let folder = std::env::temp_dir().join(name);
    let made = std::fs::create_dir(&folder);
    made.map_err(|error| ShopError::store("set up the demo shop", error))?;
    Ok(folder)
}

async fn people(desk: &Desk, by: &Initials) -> Result<(), ShopError> {
    for (initials, name) in PEOPLE {
        let entered = PersonEntered { initials: initials.to_owned(), name: name.to_owned() };
        let subject = desk.fresh(SubjectKind::Person);
        desk.write(by, &subject, 0, vec![Event::PersonEntered(entered)]).await?;
    }
    Ok(())
}

/// Enters the machines and the prices, and gives the first machine.
async fn papers(desk: &Desk, by: &Initials) -> Result<Option<Id>, ShopError> {
    let mut first = None;
    for (name, text) in stock::MACHINES {
        let written = Written { name: name.to_owned(), text: text.to_owned() };
        let subject = desk.fresh(SubjectKind::Machine);
        desk.write(by, &subject, 0, vec![Event::Written(written)]).await?;
        first.get_or_insert(subject.id);
    }
    let written = Written { name: "prices".to_owned(), text: stock::PRICES.to_owned() };
    let subject = desk.fresh(SubjectKind::Prices);
    desk.write(by, &subject, 0, vec![Event::Written(written)]).await?;
    Ok(first)
}

/// Enters the wheels, and gives them by number.
async fn wheels(desk: &Desk, by: &Initials) -> Result<BTreeMap<String, Id>, Failure> {
    let mut ids = BTreeMap::new();
    for (file, text) in stock::WHEELS {
        for wheel in read_wheels(file, text)? {
            let subject = desk.fresh(SubjectKind::Wheel);
            let number = wheel.number().to_owned();
            let entered = WheelEntered { wheel, marks: Vec::new() };
            let event = Event::WheelEntered(Box::new(entered));
            desk.write(by, &subject, 0, vec![event]).await?;
            ids.insert(number, subject.id);
        }
    }
    Ok(ids)
}

/// The size between two, by the share of the way.
fn between(from: Length, to: Length, share: f64) -> Length {
    from + (to - from) * share
}

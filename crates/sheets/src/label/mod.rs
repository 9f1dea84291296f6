//! Tags as labels: on a roll or on sheets of them, each with the cutter's number as two codes.

mod codes;
mod draw;
mod stock;

use geometry::System;
use thiserror::Error;

use crate::drawing::Tag;
use crate::paper::Pages;
use crate::scene::Scene;

pub use stock::{LABEL_MIN_MM, LabelSheet, LabelStock, Roll};

/// Why tags cannot be printed so.
#[derive(Clone, Debug, PartialEq, Eq, Error)]
pub enum LabelError {
    /// A figure of the labels does not fit.
    #[error("{key} = {value}: {why}")]
    Stock {
        /// Its key.
        key: &'static str,
        /// Its value.
        value: String,
        /// What is wrong and what would be right.
        why: String,
    },
    /// The number is too long for a code on labels of this size.
    #[error(
        "cutter {number:?}: its number is too long for a code on labels of this size; take larger \
         labels or a shorter number"
    )]
    Number {
        /// The number.
        number: String,
    },
    /// The first label to be used is not on the sheet.
    #[error("first label = {first}: a page has {of} labels; write a number from 1 to {of}")]
    First {
        /// What was asked for.
        first: u32,
        /// How many there are.
        of: u32,
    },
    /// There is no tag to print.
    #[error("no tag is to be printed: name at least one cutter that was handed back")]
    NoTag,
}

/// Tags on labels, from the first label that is still on the sheet, counted row by row from one.
///
/// # Errors
/// Where the labels do not fit their paper, a number is too long for a code of its label, or there
/// is nothing to print.
pub fn tags(
    tags: &[Tag],
    system: System,
    stock: &LabelStock,
    first: u32,
) -> Result<Pages, LabelError> {
    stock.check()?;
    let of = stock.per_page();
    if !(1..=of).contains(&first) {
        return Err(LabelError::First { first, of });
    }
    if tags.is_empty() {
        return Err(LabelError::NoTag);
    }
    let (wide, high) = stock.page_mm();
    let mut pages: Vec<Scene> = Vec::new();
    for (tag, at) in tags.iter().zip(first - 1..) {
        if pages.is_empty() || at % of == 0 {
            pages.push(Scene::new("Tags".to_owned(), String::new(), wide, high));
        }
        let label = draw::draw(tag, system, stock.room())?;
        if let Some(page) = pages.last_mut() {
            page.lay(&label, stock.place(at % of));
        }
    }
    let numbers: Vec<&str> = tags.iter().map(|tag| tag.number.as_str()).collect();
    Ok(Pages::of(format!("Tags {}", numbers.join(", ")), pages))
}

//! Finding what a hand means by a number.

use book::Book;
use shop::ShopError;
use shop::book::{Order, PAGE_MAX, Query, Store, SubjectKind, Summary, key};
use shop::record::Named;

use crate::cli::failure::Failure;

/// The one thing that has this number, of this kind where one is named. What is done with is found
/// where nothing in use has the number.
pub(in crate::cli) async fn one(
    book: &Book,
    number: &str,
    kind: Option<SubjectKind>,
) -> Result<Summary, Failure> {
    let kinds: Vec<SubjectKind> = kind.map_or_else(|| SubjectKind::ALL.to_vec(), |kind| vec![kind]);
    let mut found = Vec::new();
    for kind in &kinds {
        found.extend(book.find(*kind, number).await?);
    }
    if found.is_empty() {
        for kind in &kinds {
            found.extend(gone(book, *kind, number).await?);
        }
    }
    let names: Vec<&str> = found.iter().map(|row| row.subject.kind.name()).collect();
    let names = names.join(", ");
    let mut found = found.into_iter();
    match (found.next(), found.next()) {
        (Some(only), None) => Ok(only),
        (None, _) => {
            let kind = kind.map_or_else(String::new, |kind| format!("{kind} "));
            Err(ShopError::NotFound { what: format!("{kind}{number:?}") }.into())
        }
        (Some(_), Some(_)) => Err(Failure::Argument {
            argument: "NUMBER",
            value: format!("{number:?}"),
            message: format!("it names more than one thing; write --kind, of {names}"),
        }),
    }
}

/// The one that was done with last.
async fn gone(book: &Book, kind: SubjectKind, number: &str) -> Result<Option<Summary>, Failure> {
    let words = number.split_whitespace().next().unwrap_or_default().to_owned();
    let (order, limit) = (Order::LatestFirst, PAGE_MAX);
    let query = Query { live_only: false, words, order, limit, ..Query::of(kind) };
    let rows = book.list(&query).await?.rows;
    Ok(rows.into_iter().find(|row| key(&row.number) == key(number)))
}

//! What is too long, no number, or no plain text.

use geometry::Length;
use shop::ShopError;
use shop::book::event::{Ground, Noted, Written};
use shop::book::{Event, Id, Moment, Query, Span, Store, SubjectKind, whole_history};

use crate::Twice;
use crate::common::samples::cutter_entered;
use crate::common::{subject, write};

fn noted(words: String) -> Event {
    Event::Noted(Noted { words })
}

pub(crate) async fn text_and_numbers_are_bounded<S: Store>(books: Twice<S>) {
    let cutter = subject(SubjectKind::Cutter);
    books.one.append(vec![write(&cutter, 0, vec![cutter_entered("L-1")])]).await.unwrap();
    let ground = |mm| {
        let travel = Some(Length::from_mm(mm));
        Event::Ground(Ground { travel, ..Ground::default() })
    };
    let wrong = [
        noted("é".repeat(4001)),
        noted("a\0b".to_owned()),
        ground(f64::NAN),
        ground(f64::INFINITY),
        ground(1e6),
        Event::Ground(Ground { minutes: Some(-1.0), ..Ground::default() }),
    ];
    for event in wrong {
        let refused = books.one.append(vec![write(&cutter, 1, vec![event.clone()])]).await;
        assert!(matches!(refused, Err(ShopError::Invalid { .. })), "{event:?}: {refused:?}");
    }
    let longest = vec![noted("é".repeat(4000)), ground(-0.0)];
    books.one.append(vec![write(&cutter, 1, longest)]).await.unwrap();

    let paper = subject(SubjectKind::Prices);
    let text =
        |bytes| Event::Written(Written { name: "rates".to_owned(), text: "x".repeat(bytes) });
    let too_long = books.one.append(vec![write(&paper, 0, vec![text((1 << 20) + 1)])]).await;
    assert!(matches!(too_long, Err(ShopError::Invalid { .. })));
    books.one.append(vec![write(&paper, 0, vec![text(1 << 20)])]).await.unwrap();
    let kept = whole_history(&*books.other, &paper).await.unwrap();
    assert_eq!(kept[0].event, text(1 << 20));
}

pub(crate) async fn pages_and_searches_are_bounded<S: Store>(books: Twice<S>) {
    let cutter = subject(SubjectKind::Cutter);
    let (from, until) = (Moment::EPOCH, Moment::LAST);
    for (limit, fits) in [(0, false), (1, true), (500, true), (501, false)] {
        let query = Query { limit, ..Query::of(SubjectKind::Cutter) };
        assert_eq!(books.one.list(&query).await.is_ok(), fits, "{limit}");
        assert_eq!(books.one.history(&cutter, 0, limit).await.is_ok(), fits, "{limit}");
        let span = Span { from, until, after: None, limit };
        assert_eq!(books.one.written(&span).await.is_ok(), fits, "{limit}");
        assert_eq!(books.one.ground_with(&Id::from_bits(0), limit).await.is_ok(), fits, "{limit}");
    }
    for (words, fits) in [("a b c d", true), ("a b c d e", false), ("a\0b", false)] {
        let query = Query { words: words.to_owned(), ..Query::of(SubjectKind::Cutter) };
        assert_eq!(books.one.list(&query).await.is_ok(), fits, "{words:?}");
    }
    assert_eq!(books.one.find(SubjectKind::Cutter, "a\0b").await.unwrap(), None);
}

pub(crate) async fn odd_text_comes_back_as_it_was<S: Store>(books: Twice<S>) {
    let cutter = subject(SubjectKind::Cutter);
    let number = "Ø 12′ ⅜″ – ½ “x” \\ ' \" %_ ß 日本 🛠";
    books.one.append(vec![write(&cutter, 0, vec![cutter_entered(number)])]).await.unwrap();
    let texts = ["", " ", "\n\t\r\n", "\u{10FFFF}\u{FEFF}e\u{301}", "$1 ?1 ; -- /* \\0 */", "null"];
    let events = texts.map(|text| noted(text.to_owned())).to_vec();
    books.one.append(vec![write(&cutter, 1, events.clone())]).await.unwrap();
    let kept = whole_history(&*books.other, &cutter).await.unwrap();
    let kept: Vec<Event> = kept.into_iter().skip(1).map(|entry| entry.event).collect();
    assert_eq!(kept, events);
    let found = books.other.find(SubjectKind::Cutter, &number.to_lowercase()).await.unwrap();
    assert_eq!(found.unwrap().number, number);
}

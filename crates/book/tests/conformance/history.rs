//! Histories: their order, their conflicts, their amendments.

use shop::ShopError;
use shop::book::event::{Amended, HandedBack, Noted, Received, Retired, WearSeen};
use shop::book::{
    Append, Entry, Event, Moment, Span, Stage, State, Store, Subject, SubjectKind, latest,
    whole_history,
};

use crate::Twice;
use crate::common::samples::{self, cutter_entered};
use crate::common::{stamp, subject, write};

fn noted(words: &str) -> Event {
    Event::Noted(Noted { words: words.to_owned() })
}

fn amended(entry: u64, instead: Option<Event>) -> Event {
    let why = "a slip of the pen".to_owned();
    Event::Amended(Amended { entry, why, instead: instead.map(Box::new) })
}

/// Subjects with the ids that the sample events speak of.
async fn house(store: &impl Store) -> [Subject; 4] {
    let fixed = |kind, bits| Subject::new(kind, samples::id(bits));
    let house = [
        (fixed(SubjectKind::Wheel, 1), samples::wheel_entered("W-1")),
        (fixed(SubjectKind::Machine, 2), written("M-1")),
        (fixed(SubjectKind::Tray, 3), tray("blue")),
        (fixed(SubjectKind::Cutter, 4), cutter_entered("K-1")),
    ];
    let writes = house.iter().map(|(subject, event)| write(subject, 0, vec![event.clone()]));
    store.append(writes.collect()).await.unwrap();
    house.map(|(subject, _)| subject)
}

fn written(name: &str) -> Event {
    let text = "[machine]\n".to_owned();
    Event::Written(shop::book::event::Written { name: name.to_owned(), text })
}

fn tray(name: &str) -> Event {
    Event::TrayOpened(shop::book::event::TrayOpened { name: name.to_owned(), whose: None })
}

pub(crate) async fn entries_come_back_in_order_as_they_were<S: Store>(books: Twice<S>) {
    let [wheel, _, _, cutter] = house(&*books.one).await;
    for (of, skip, count) in [(&cutter, 1, 8), (&wheel, 10, 5)] {
        let events: Vec<Event> =
            samples::every_event().into_iter().skip(skip).take(count).collect();
        let mut answered = Vec::new();
        for event in &events {
            let seen = u64::try_from(answered.len()).unwrap() + 1;
            let entry = books.one.append(vec![write(of, seen, vec![event.clone()])]).await;
            answered.extend(entry.unwrap());
        }
        let read = whole_history(&*books.other, of).await.unwrap();
        assert_eq!(read[1..], answered);
        let kept: Vec<&Event> = read[1..].iter().map(|entry| &entry.event).collect();
        assert_eq!(kept, events.iter().collect::<Vec<_>>());
        let numbers: Vec<u64> = read.iter().map(|entry| entry.number).collect();
        assert_eq!(numbers, (1..=u64::try_from(count).unwrap() + 1).collect::<Vec<_>>());
        let behind = books.other.history(of, 2, 2).await.unwrap();
        assert_eq!(behind, read[2..4]);
    }
    let none = books.one.history(&subject(SubjectKind::Cutter), 0, 10).await.unwrap();
    assert_eq!(none, Vec::<Entry>::new());
}

pub(crate) async fn a_late_writer_meets_a_conflict<S: Store>(books: Twice<S>) {
    let cutter = subject(SubjectKind::Cutter);
    books.one.append(vec![write(&cutter, 0, vec![cutter_entered("K-9")])]).await.unwrap();
    let mut first = write(&cutter, 1, vec![noted("one"), noted("two")]);
    first.stamp = stamp("CD", 77);
    books.one.append(vec![first]).await.unwrap();
    for seen in [0, 1, 2, 4] {
        let event = if seen == 0 { cutter_entered("K-9") } else { noted("late") };
        let late = books.other.append(vec![write(&cutter, seen, vec![event])]).await;
        let expected = ShopError::Conflict {
            what: "cutter K-9".to_owned(),
            seen,
            now: 3,
            by: stamp("CD", 77).by,
            at: stamp("CD", 77).at,
        };
        assert_eq!(late, Err(expected));
    }
    assert_eq!(whole_history(&*books.one, &cutter).await.unwrap().len(), 3);
    let nowhere = write(&subject(SubjectKind::Cutter), 5, vec![noted("lost")]);
    let lost = books.one.append(vec![nowhere]).await;
    assert!(matches!(lost, Err(ShopError::NotFound { .. })), "{lost:?}");
}

pub(crate) async fn all_writes_or_none<S: Store>(books: Twice<S>) {
    let (one, two) = (subject(SubjectKind::Cutter), subject(SubjectKind::Cutter));
    books.one.append(vec![write(&one, 0, vec![cutter_entered("A-1")])]).await.unwrap();
    let both = vec![
        write(&two, 0, vec![cutter_entered("A-2"), noted("fresh")]),
        write(&one, 7, vec![noted("late")]),
    ];
    assert!(matches!(books.one.append(both).await, Err(ShopError::Conflict { .. })));
    assert_eq!(books.other.summary(&two).await.unwrap(), None);
    let both = vec![
        write(&one, 1, vec![noted("fits")]),
        write(&two, 0, vec![cutter_entered("A-2"), noted("\u{0}")]),
    ];
    assert!(matches!(books.one.append(both).await, Err(ShopError::Invalid { .. })));
    assert_eq!(books.other.summary(&one).await.unwrap().unwrap().seen, 1);
    let twice = vec![write(&one, 1, vec![noted("a")]), write(&one, 2, vec![noted("b")])];
    assert!(matches!(books.one.append(twice).await, Err(ShopError::Invalid { .. })));
    assert_eq!(books.one.append(Vec::new()).await, Ok(Vec::new()));
}

pub(crate) async fn an_amendment_counts_and_the_entry_stays<S: Store>(books: Twice<S>) {
    let cutter = subject(SubjectKind::Cutter);
    let worn = Event::WearSeen(WearSeen { wear: samples::wear() });
    let back = |mm| {
        let as_ground = Some(samples::as_ground(mm));
        Event::HandedBack(HandedBack { as_ground, ..HandedBack::default() })
    };
    let events = vec![cutter_entered("B-1"), worn, back(12.3), back(12.2)];
    books.one.append(vec![write(&cutter, 0, events)]).await.unwrap();
    let before = whole_history(&*books.one, &cutter).await.unwrap();
    let mend = vec![amended(4, Some(back(12.25))), amended(3, None)];
    books.one.append(vec![write(&cutter, 4, mend)]).await.unwrap();

    let after = whole_history(&*books.other, &cutter).await.unwrap();
    assert_eq!(after[..4], before, "what was written stays as it was");
    let state = latest(&*books.other, &cutter).await.unwrap();
    let Some(State::Cutter(now)) = &state.state else { panic!("{state:?}") };
    assert_eq!(now.cutter.as_ground().unwrap().diameter.mm(), 12.25);
    assert_eq!((now.grinds, now.cutter.regrinds(), now.stage), (1, 2, Stage::Back));

    let again = vec![amended(4, Some(back(12.21)))];
    books.one.append(vec![write(&cutter, 6, again)]).await.unwrap();
    let state = latest(&*books.other, &cutter).await.unwrap();
    let Some(State::Cutter(now)) = &state.state else { panic!("{state:?}") };
    assert_eq!(now.cutter.as_ground().unwrap().diameter.mm(), 12.21);
}

pub(crate) async fn what_does_not_fit_is_refused<S: Store>(books: Twice<S>) {
    let cutter = subject(SubjectKind::Cutter);
    let begin = |events| write(&cutter, 0, events);
    let refuse = async |append, about: &str| {
        let refused = books.one.append(vec![append]).await;
        let Err(ShopError::Invalid { field, reason }) = &refused else { panic!("{refused:?}") };
        assert!(format!("{field}: {reason}").contains(about), "{field}: {reason}");
    };
    refuse(begin(vec![noted("early")]), "cannot begin").await;
    refuse(begin(vec![samples::wheel_entered("W-9")]), "nothing that happens to a cutter").await;
    refuse(begin(Vec::new()), "0 entries").await;
    refuse(begin(vec![noted("x"); 101]), "101 entries").await;
    let events = vec![cutter_entered("C-1"), Event::WearSeen(WearSeen { wear: samples::wear() })];
    books.one.append(vec![begin(events)]).await.unwrap();

    let add = |events| write(&cutter, 2, events);
    refuse(add(vec![cutter_entered("C-1")]), "begins a history").await;
    refuse(add(vec![amended(1, None)]), "cannot be struck out").await;
    refuse(add(vec![amended(3, None)]), "does not stand before it").await;
    refuse(add(vec![amended(2, Some(noted("x")))]), "write the same kind").await;
    refuse(add(vec![amended(2, None), amended(3, None)]), "cannot be amended").await;
    let ground = shop::book::event::Ground { plan: Some(2), ..Default::default() };
    refuse(add(vec![Event::Ground(ground)]), "is not \"planned\"").await;
    let readings = samples::readings("another");
    let read = shop::book::event::Read { plan: None, readings };
    refuse(add(vec![Event::Read(Box::new(read))]), "the plan is for C-1").await;
    // The wear names tooth 2, so the cutter cannot have had fewer; and a chip must be in it.
    let mut draft = samples::cutter_draft("C-1");
    (draft.flute_length, draft.as_ground) = (geometry::Length::from_mm(2.0), None);
    let entered =
        shop::book::event::CutterEntered { cutter: draft.build().unwrap(), marks: Vec::new() };
    let shorter = amended(1, Some(Event::CutterEntered(Box::new(entered))));
    refuse(add(vec![shorter]), "with this it would fit no longer").await;
    let retired = Event::Retired(Retired { why: "broken".to_owned() });
    let back = Event::Received(Received::default());
    refuse(add(vec![retired, back]), "done with since entry 3").await;
    assert_eq!(books.one.summary(&cutter).await.unwrap().unwrap().seen, 2);
}

pub(crate) async fn a_number_is_held_once_while_it_is_in_use<S: Store>(books: Twice<S>) {
    let (one, two) = (subject(SubjectKind::Cutter), subject(SubjectKind::Cutter));
    let wheel = subject(SubjectKind::Wheel);
    let enter = |of: &Subject, number: &str| write(of, 0, vec![cutter_entered(number)]);
    books.one.append(vec![enter(&one, "Ä-1")]).await.unwrap();
    books.one.append(vec![write(&wheel, 0, vec![samples::wheel_entered("ä-1")])]).await.unwrap();
    let taken = books.other.append(vec![enter(&two, " ä-1 ")]).await;
    let Err(ShopError::Invalid { field, reason }) = &taken else { panic!("{taken:?}") };
    assert_eq!(field, "number", "{reason}");

    let retired = Event::Retired(Retired { why: "worn out".to_owned() });
    books.one.append(vec![write(&one, 1, vec![retired])]).await.unwrap();
    assert_eq!(books.other.find(SubjectKind::Cutter, "ä-1").await.unwrap(), None);
    books.other.append(vec![enter(&two, "ä-1")]).await.unwrap();
    let found = books.one.find(SubjectKind::Cutter, "Ä-1").await.unwrap().unwrap();
    assert_eq!((found.subject, found.number.as_str()), (two, "ä-1"));
    let revived = books.one.append(vec![write(&one, 2, vec![amended(2, None)])]).await;
    assert!(matches!(revived, Err(ShopError::Invalid { .. })), "{revived:?}");
}

pub(crate) async fn what_is_spoken_of_must_be_there<S: Store>(books: Twice<S>) {
    let (cutter, box_) = (subject(SubjectKind::Cutter), subject(SubjectKind::Tray));
    let lie = |tray: &Subject| {
        Event::Received(Received { tray: Some(tray.id.clone()), ..Received::default() })
    };
    let come = write(&cutter, 0, vec![cutter_entered("D-1"), lie(&box_)]);
    let refused = books.one.append(vec![come.clone()]).await;
    let Err(ShopError::Invalid { field, .. }) = &refused else { panic!("{refused:?}") };
    assert_eq!(field, "tray");
    assert_eq!(books.other.summary(&cutter).await.unwrap(), None);
    let both = vec![come, write(&box_, 0, vec![tray("red")])];
    books.one.append(both).await.unwrap();
    let found = books.other.summary(&cutter).await.unwrap().unwrap();
    assert_eq!((found.tray, found.stage), (Some(box_.id), Stage::Waiting));
    // A wheel's id is no tray's.
    let wheel = subject(SubjectKind::Wheel);
    books.one.append(vec![write(&wheel, 0, vec![samples::wheel_entered("W-2")])]).await.unwrap();
    let wrong = books.one.append(vec![write(&cutter, 2, vec![lie(&wheel)])]).await;
    assert!(matches!(wrong, Err(ShopError::Invalid { .. })), "{wrong:?}");
}

/// A clock that jumps back by a year and on by ten: the order is that of the numbers, each entry
/// keeps the time that was said, and a stretch of time finds each of them once.
pub(crate) async fn a_clock_that_jumps_loses_nothing<S: Store>(books: Twice<S>) {
    let cutter = subject(SubjectKind::Cutter);
    let year_us: i64 = 365 * 24 * 3_600 * 1_000_000;
    let times = [0, -year_us, 10 * year_us, 1];
    for (seen, micros) in (0..).zip(times) {
        let event = match seen {
            0 => cutter_entered("J-1"),
            _ => Event::Noted(Noted { words: format!("word {seen}") }),
        };
        let stamp = stamp("AB", micros);
        let one = Append { subject: cutter.clone(), seen, stamp, events: vec![event] };
        books.one.append(vec![one]).await.unwrap();
    }
    let history = whole_history(&*books.other, &cutter).await.unwrap();
    let kept: Vec<_> = history.iter().map(|entry| (entry.number, entry.stamp.at)).collect();
    let said: Vec<_> = (1..).zip(times.map(|micros| stamp("AB", micros).at)).collect();
    assert_eq!(kept, said);
    let span = Span { from: Moment::EPOCH, until: Moment::LAST, after: None, limit: 10 };
    let mut found: Vec<u64> =
        books.other.written(&span).await.unwrap().iter().map(|entry| entry.number).collect();
    found.sort_unstable();
    assert_eq!(found, [1, 2, 3, 4]);
    let summary = books.other.summary(&cutter).await.unwrap().unwrap();
    assert_eq!((summary.seen, summary.number.as_str()), (4, "J-1"));
}

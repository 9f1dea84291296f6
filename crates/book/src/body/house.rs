//! Papers, trays, people, notes and amendments.

use shop::book::event::{
    Amended, Noted, PersonEntered, PinSet, Retired, TrayOpened, TrayOrdered, Written,
};
use shop::book::{Event, Id};

use super::fields::{Body, Fields, Taken, Taker};
use super::{put_event, take_event};

impl Body for Written {
    fn put(&self, to: &mut Fields) {
        to.value("name", self.name.clone());
        to.value("text", self.text.clone());
    }

    fn take(from: &Taker<'_>) -> Taken<Self> {
        Ok(Self { name: from.text("name")?, text: from.text("text")? })
    }
}

impl Body for TrayOpened {
    fn put(&self, to: &mut Fields) {
        to.value("name", self.name.clone());
        to.maybe("whose", self.whose.clone());
    }

    fn take(from: &Taker<'_>) -> Taken<Self> {
        Ok(Self { name: from.text("name")?, whose: from.maybe_text("whose")? })
    }
}

impl Body for TrayOrdered {
    fn put(&self, to: &mut Fields) {
        let ids: Vec<String> = self.cutters.iter().map(Id::to_string).collect();
        to.texts("cutters", &ids);
    }

    fn take(from: &Taker<'_>) -> Taken<Self> {
        let id = |text: String| Id::from_text(&text).map_err(|_| from.wrong("cutters", "no id"));
        let cutters = from.texts("cutters")?.into_iter().map(id).collect::<Taken<_>>()?;
        Ok(Self { cutters })
    }
}

impl Body for PersonEntered {
    fn put(&self, to: &mut Fields) {
        to.value("initials", self.initials.clone());
        to.value("name", self.name.clone());
    }

    fn take(from: &Taker<'_>) -> Taken<Self> {
        Ok(Self { initials: from.text("initials")?, name: from.text("name")? })
    }
}

impl Body for PinSet {
    fn put(&self, to: &mut Fields) {
        to.value("hash", self.hash.clone());
    }

    fn take(from: &Taker<'_>) -> Taken<Self> {
        Ok(Self { hash: from.text("hash")? })
    }
}

impl Body for Noted {
    fn put(&self, to: &mut Fields) {
        to.value("words", self.words.clone());
    }

    fn take(from: &Taker<'_>) -> Taken<Self> {
        Ok(Self { words: from.text("words")? })
    }
}

impl Body for Retired {
    fn put(&self, to: &mut Fields) {
        to.value("why", self.why.clone());
    }

    fn take(from: &Taker<'_>) -> Taken<Self> {
        Ok(Self { why: from.text("why")? })
    }
}

impl Body for Amended {
    fn put(&self, to: &mut Fields) {
        to.value("entry", self.entry);
        to.value("why", self.why.clone());
        if let Some(event) = &self.instead {
            to.object("instead", &Instead(event.as_ref().clone()));
        }
    }

    fn take(from: &Taker<'_>) -> Taken<Self> {
        let entry = from.maybe_entry("entry")?;
        let instead: Option<Instead> = from.maybe_object("instead")?;
        Ok(Self {
            entry: entry.ok_or_else(|| from.wrong("entry", "is missing"))?,
            why: from.text("why")?,
            instead: instead.map(|Instead(event)| Box::new(event)),
        })
    }
}

/// An event inside another, with its kind and version beside its body.
struct Instead(Event);

impl Body for Instead {
    fn put(&self, to: &mut Fields) {
        if let Some((kind, version, body)) = put_event(&self.0) {
            to.named("kind", kind);
            to.value("version", version);
            to.value("body", body);
        }
    }

    fn take(from: &Taker<'_>) -> Taken<Self> {
        let (kind, version) = (from.text("kind")?, from.count("version")?);
        let body = from.raw("body").ok_or_else(|| from.wrong("body", "is missing"))?;
        take_event(&kind, version, body).map(Self)
    }
}

//! One entry as one line of JSON.

use serde_json::{Map, Value};
use shop::book::{Entry, Id, Initials, Moment, Stamp, Subject, SubjectKind};
use shop::shortened;

use crate::body::{self, Stored};
use crate::rows::Raw;

/// The line of an entry, without its end.
pub(super) fn written(raw: &Raw) -> Result<String, serde_json::Error> {
    let body: Value = serde_json::from_str(&raw.stored.body)?;
    let mut line = Map::new();
    let mut put = |key: &str, value: Value| line.insert(key.to_owned(), value);
    put("subject", raw.subject.id.as_str().into());
    put("number", raw.number.into());
    put("at", raw.stamp.at.to_string().into());
    put("by", raw.stamp.by.as_str().into());
    put("kind", raw.stored.kind.as_str().into());
    put("version", raw.stored.version.into());
    put("body", body);
    Ok(Value::Object(line).to_string())
}

/// An entry that was read from a line, with what is stored of it.
pub(super) struct Line {
    pub(super) entry: Entry,
    pub(super) stored: Stored,
}

/// The longest reason for which a line is refused, in characters: it may repeat what stands there.
const WHY_CHARACTERS_MAX: usize = 300;

/// The entry of a line.
pub(super) fn read(kind: SubjectKind, text: &str) -> Result<Line, String> {
    whole_line(kind, text).map_err(|why| shortened(&why, WHY_CHARACTERS_MAX))
}

fn whole_line(kind: SubjectKind, text: &str) -> Result<Line, String> {
    let value: Value =
        serde_json::from_str(text).map_err(|error| format!("is no JSON: {error}"))?;
    let fields = value.as_object().ok_or("is no JSON object")?;
    let id = Id::from_text(text_of(fields, "subject")?).map_err(|error| error.to_string())?;
    let at = Moment::from_text(text_of(fields, "at")?).map_err(|error| error.to_string())?;
    let by = Initials::new(text_of(fields, "by")?).map_err(|error| error.to_string())?;
    let stored = Stored {
        kind: text_of(fields, "kind")?.to_owned(),
        version: u32::try_from(whole(fields, "version")?)
            .map_err(|_| "version: is too large".to_owned())?,
        body: fields.get("body").ok_or("body: is missing")?.to_string(),
    };
    let entry = Entry {
        subject: Subject::new(kind, id),
        number: whole(fields, "number")?,
        stamp: Stamp { at, by },
        event: body::decode(&stored),
    };
    Ok(Line { entry, stored })
}

fn text_of<'a>(fields: &'a Map<String, Value>, key: &str) -> Result<&'a str, String> {
    let text = fields.get(key).and_then(Value::as_str);
    text.ok_or_else(|| format!("{key}: is missing or no text"))
}

fn whole(fields: &Map<String, Value>, key: &str) -> Result<u64, String> {
    let whole = fields.get(key).and_then(Value::as_u64);
    whole.ok_or_else(|| format!("{key}: is missing or no whole number"))
}

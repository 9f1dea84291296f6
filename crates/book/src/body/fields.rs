//! Keys of a body, written and read one by one.

use serde_json::{Map, Value};
use shop::book::{Angle, Id, Length};
use shop::plan::Quantity;
use shop::record::Named;

/// Why a body cannot be read.
#[derive(Debug)]
pub(super) struct Wrong(pub(super) String);

pub(super) type Taken<T> = Result<T, Wrong>;

/// What can stand in a body.
pub(super) trait Body: Sized {
    /// Writes every key.
    fn put(&self, to: &mut Fields);

    /// Reads every key.
    fn take(from: &Taker<'_>) -> Taken<Self>;
}

/// A body that is being written.
#[derive(Default)]
pub(super) struct Fields(Map<String, Value>);

impl Fields {
    pub(super) fn of(body: &impl Body) -> Value {
        let mut fields = Self::default();
        body.put(&mut fields);
        Value::Object(fields.0)
    }

    pub(super) fn into_value(self) -> Value {
        Value::Object(self.0)
    }

    pub(super) fn value(&mut self, key: &str, value: impl Into<Value>) {
        self.0.insert(key.to_owned(), value.into());
    }

    pub(super) fn maybe(&mut self, key: &str, value: Option<impl Into<Value>>) {
        if let Some(value) = value {
            self.value(key, value);
        }
    }

    pub(super) fn texts(&mut self, key: &str, texts: &[String]) {
        if !texts.is_empty() {
            self.value(key, texts.to_vec());
        }
    }

    pub(super) fn named(&mut self, key: &str, choice: impl Named) {
        self.value(key, choice.name());
    }

    /// A length, in millimetres.
    pub(super) fn length(&mut self, key: &str, length: Length) {
        self.value(&format!("{key}_mm"), length.mm());
    }

    pub(super) fn maybe_length(&mut self, key: &str, length: Option<Length>) {
        self.maybe(&format!("{key}_mm"), length.map(Length::mm));
    }

    /// An angle, in degrees that give the very angle back.
    pub(super) fn angle(&mut self, key: &str, angle: Angle) {
        self.value(&format!("{key}_deg"), degrees(angle));
    }

    pub(super) fn angles(&mut self, key: &str, angles: &[Angle]) {
        if !angles.is_empty() {
            let degrees: Vec<f64> = angles.iter().map(|angle| degrees(*angle)).collect();
            self.value(&format!("{key}_deg"), degrees);
        }
    }

    pub(super) fn maybe_angle(&mut self, key: &str, angle: Option<Angle>) {
        if let Some(angle) = angle {
            self.angle(key, angle);
        }
    }

    pub(super) fn maybe_quantity(&mut self, key: &str, quantity: Option<Quantity>) {
        match quantity {
            Some(Quantity::Length(length)) => self.length(key, length),
            Some(Quantity::Angle(angle)) => self.angle(key, angle),
            None => {}
        }
    }

    pub(super) fn maybe_id(&mut self, key: &str, id: Option<&Id>) {
        self.maybe(key, id.map(Id::as_str));
    }

    pub(super) fn list(&mut self, key: &str, items: &[impl Body]) {
        if !items.is_empty() {
            self.value(key, items.iter().map(Self::of).collect::<Vec<_>>());
        }
    }

    pub(super) fn object(&mut self, key: &str, item: &impl Body) {
        self.value(key, Self::of(item));
    }
}

/// Degrees that give the very angle back where there are such: the twelve-digit ones first, so that
/// 30 degrees are written as 30.
fn degrees(angle: Angle) -> f64 {
    let exact = angle.degrees();
    let short = (exact * 1e12).round() / 1e12;
    let near = [short, exact, exact.next_up(), exact.next_down()];
    near.into_iter().find(|&degrees| Angle::from_degrees(degrees) == angle).unwrap_or(exact)
}

/// A body that is being read, and where in the whole it lies.
pub(super) struct Taker<'a> {
    fields: &'a Map<String, Value>,
    path: String,
}

impl<'a> Taker<'a> {
    /// A body's outermost keys.
    pub(super) fn of(value: &'a Value) -> Taken<Self> {
        Self::below(value, String::new())
    }

    fn below(value: &'a Value, path: String) -> Taken<Self> {
        let fields = value.as_object().ok_or_else(|| Wrong(format!("{path} is no object")))?;
        Ok(Self { fields, path })
    }

    pub(super) fn wrong(&self, key: &str, what: &str) -> Wrong {
        Wrong(format!("{}{key}: {what}", self.path))
    }

    fn maybe<T>(
        &self,
        key: &str,
        what: &str,
        read: impl Fn(&'a Value) -> Option<T>,
    ) -> Taken<Option<T>> {
        let Some(value) = self.fields.get(key) else { return Ok(None) };
        read(value).map(Some).ok_or_else(|| self.wrong(key, what))
    }

    fn must<T>(&self, key: &str, found: Option<T>) -> Taken<T> {
        found.ok_or_else(|| self.wrong(key, "is missing"))
    }

    pub(super) fn maybe_text(&self, key: &str) -> Taken<Option<String>> {
        self.maybe(key, "is no text", |value| value.as_str().map(str::to_owned))
    }

    pub(super) fn text(&self, key: &str) -> Taken<String> {
        self.must(key, self.maybe_text(key)?)
    }

    /// A text that is left out where it is empty.
    pub(super) fn text_or_none(&self, key: &str) -> Taken<String> {
        Ok(self.maybe_text(key)?.unwrap_or_default())
    }

    pub(super) fn texts(&self, key: &str) -> Taken<Vec<String>> {
        let read = |value: &'a Value| {
            let items = value.as_array()?.iter();
            items.map(|item| item.as_str().map(str::to_owned)).collect::<Option<Vec<_>>>()
        };
        Ok(self.maybe(key, "is no list of texts", read)?.unwrap_or_default())
    }

    pub(super) fn maybe_count(&self, key: &str) -> Taken<Option<u32>> {
        self.maybe(key, "is no count", |value| u32::try_from(value.as_u64()?).ok())
    }

    pub(super) fn count(&self, key: &str) -> Taken<u32> {
        self.must(key, self.maybe_count(key)?)
    }

    pub(super) fn counts(&self, key: &str) -> Taken<Vec<u32>> {
        let read = |value: &'a Value| {
            let items = value.as_array()?.iter();
            items.map(|item| u32::try_from(item.as_u64()?).ok()).collect::<Option<Vec<_>>>()
        };
        Ok(self.maybe(key, "is no list of counts", read)?.unwrap_or_default())
    }

    pub(super) fn angles(&self, key: &str) -> Taken<Vec<Angle>> {
        let read = |value: &'a Value| {
            let items = value.as_array()?.iter();
            items.map(|item| item.as_f64().map(Angle::from_degrees)).collect::<Option<Vec<_>>>()
        };
        let found = self.maybe(&format!("{key}_deg"), "is no list of angles", read)?;
        Ok(found.unwrap_or_default())
    }

    /// The number of an entry.
    pub(super) fn maybe_entry(&self, key: &str) -> Taken<Option<u64>> {
        self.maybe(key, "is no number of an entry", Value::as_u64)
    }

    pub(super) fn entry(&self, key: &str) -> Taken<u64> {
        self.must(key, self.maybe_entry(key)?)
    }

    pub(super) fn flag(&self, key: &str) -> Taken<bool> {
        Ok(self.maybe(key, "is neither true nor false", Value::as_bool)?.unwrap_or_default())
    }

    pub(super) fn maybe_number(&self, key: &str) -> Taken<Option<f64>> {
        self.maybe(key, "is no number", Value::as_f64)
    }

    pub(super) fn maybe_length(&self, key: &str) -> Taken<Option<Length>> {
        Ok(self.maybe_number(&format!("{key}_mm"))?.map(Length::from_mm))
    }

    pub(super) fn length(&self, key: &str) -> Taken<Length> {
        self.must(&format!("{key}_mm"), self.maybe_length(key)?)
    }

    pub(super) fn maybe_angle(&self, key: &str) -> Taken<Option<Angle>> {
        Ok(self.maybe_number(&format!("{key}_deg"))?.map(Angle::from_degrees))
    }

    pub(super) fn angle(&self, key: &str) -> Taken<Angle> {
        self.must(&format!("{key}_deg"), self.maybe_angle(key)?)
    }

    pub(super) fn maybe_quantity(&self, key: &str) -> Taken<Option<Quantity>> {
        let length = self.maybe_length(key)?.map(Quantity::Length);
        Ok(length.or(self.maybe_angle(key)?.map(Quantity::Angle)))
    }

    pub(super) fn quantity(&self, key: &str) -> Taken<Quantity> {
        self.must(key, self.maybe_quantity(key)?)
    }

    pub(super) fn maybe_named<T: Named>(&self, key: &str) -> Taken<Option<T>> {
        self.maybe(key, "is not a name that is known here", |value| T::from_name(value.as_str()?))
    }

    pub(super) fn named<T: Named>(&self, key: &str) -> Taken<T> {
        self.must(key, self.maybe_named(key)?)
    }

    pub(super) fn maybe_id(&self, key: &str) -> Taken<Option<Id>> {
        self.maybe(key, "is no id", |value| Id::from_text(value.as_str()?).ok())
    }

    pub(super) fn object<T: Body>(&self, key: &str) -> Taken<T> {
        self.must(key, self.maybe_object(key)?)
    }

    pub(super) fn maybe_object<T: Body>(&self, key: &str) -> Taken<Option<T>> {
        let Some(value) = self.fields.get(key) else { return Ok(None) };
        T::take(&Self::below(value, format!("{}{key}.", self.path))?).map(Some)
    }

    pub(super) fn list<T: Body>(&self, key: &str) -> Taken<Vec<T>> {
        let items = self.maybe(key, "is no list", Value::as_array)?.into_iter().flatten();
        let item =
            |(at, value)| T::take(&Self::below(value, format!("{}{key}[{at}].", self.path))?);
        items.enumerate().map(item).collect()
    }

    /// The value itself, for what is read in its own way.
    pub(super) fn raw(&self, key: &str) -> Option<&'a Value> {
        self.fields.get(key)
    }
}

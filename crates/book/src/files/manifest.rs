//! What an export says of itself.

use serde_json::{Map, Value, json};
use shop::book::SubjectKind;
use shop::record::Named;
use shop::shortened;

/// The name of the manifest in its folder.
pub(super) const NAME: &str = "manifest.json";

/// What the manifest says it is.
const FORMAT: &str = "toothrest book";

/// The version of the folder's form, not of the bodies within.
const VERSION: u64 = 1;

/// The most that a message repeats of what stands in a manifest, in characters.
const SHOWN_CHARACTERS_MAX: usize = 200;

/// One file of an export.
#[derive(Clone, Debug, PartialEq, Eq)]
pub(super) struct Part {
    pub(super) kind: SubjectKind,
    pub(super) entries: u64,
    /// The digest of the file; taken out by whoever changes the file on purpose.
    pub(super) sha256: Option<String>,
}

impl Part {
    /// The name of the file.
    pub(super) fn file(&self) -> String {
        format!("{}.jsonl", self.kind.name())
    }

    fn written(&self) -> Value {
        json!({
            "file": self.file(), "kind": self.kind.name(), "entries": self.entries,
            "sha256": self.sha256,
        })
    }

    fn read(value: &Value) -> Result<Self, String> {
        let kind = value.get("kind").and_then(Value::as_str).and_then(SubjectKind::from_name);
        let entries = value.get("entries").and_then(Value::as_u64);
        let sha256 = value.get("sha256").and_then(Value::as_str).map(str::to_owned);
        match (kind, entries) {
            (Some(kind), Some(entries)) => Ok(Self { kind, entries, sha256 }),
            _ => {
                let value = shortened(&value.to_string(), SHOWN_CHARACTERS_MAX);
                Err(format!("{value}: a file needs a kind that is known here, and its entries"))
            }
        }
    }
}

/// The text of a manifest.
pub(super) fn written(parts: &[Part]) -> String {
    let parts: Vec<Value> = parts.iter().map(Part::written).collect();
    let whole = json!({
        "format": FORMAT, "version": VERSION, "program": env!("CARGO_PKG_VERSION"),
        "files": parts,
    });
    format!("{whole:#}\n")
}

/// The files that a manifest names.
pub(super) fn read(text: &str) -> Result<Vec<Part>, String> {
    let value: Value =
        serde_json::from_str(text).map_err(|error| format!("is no JSON: {error}"))?;
    let whole: &Map<String, Value> = value.as_object().ok_or("is no JSON object")?;
    if whole.get("format").and_then(Value::as_str) != Some(FORMAT) {
        return Err(format!("this is no export of a book: its format is not {FORMAT:?}"));
    }
    let version = whole.get("version").and_then(Value::as_u64).unwrap_or_default();
    if version != VERSION {
        return Err(format!("its version is {version}, and this program reads {VERSION}"));
    }
    let files = whole.get("files").and_then(Value::as_array).ok_or("files: is missing")?;
    files.iter().map(Part::read).collect()
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_long_value_is_not_repeated_whole() {
        let long = "x".repeat(5_000);
        let text = json!({ "format": FORMAT, "version": VERSION, "files": [{ "kind": long }] });
        let told = read(&text.to_string()).unwrap_err();
        assert!(told.len() < 400 && told.ends_with("and its entries"), "{told}");
    }
}

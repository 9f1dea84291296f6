//! Sound files to begin from: the examples of this project, and what the program writes itself.

use std::path::{Path, PathBuf};

use exchange::list::{Table, TableColumn, Value, table_workbook};
use shop::book::SubjectKind;
use shop::record::Named;

use super::workbook::workbook_of;

/// The folder of this project's files, from wherever below it this was built.
fn root() -> &'static Path {
    let from = Path::new(env!("CARGO_MANIFEST_DIR"));
    from.ancestors().find(|folder| folder.join("examples/cutters").is_dir()).unwrap_or(from)
}

/// The folder of examples.
pub(crate) fn examples() -> PathBuf {
    root().join("examples")
}

/// The files of a folder of the examples, in the order of their names.
pub(crate) fn files(folder: &str) -> Vec<PathBuf> {
    files_in(&examples().join(folder))
}

fn files_in(folder: &Path) -> Vec<PathBuf> {
    let entries = std::fs::read_dir(folder).into_iter().flatten().flatten();
    let mut files: Vec<PathBuf> = entries.map(|entry| entry.path()).collect();
    files.sort();
    files
}

fn texts(folder: &Path) -> Vec<String> {
    files_in(folder).iter().filter_map(|file| std::fs::read_to_string(file).ok()).collect()
}

/// The bundled tables of the trade, as a shop would write its own.
pub(crate) fn tables() -> Vec<String> {
    texts(&root().join("crates/trade/data"))
}

/// Quantities as people write them.
pub(crate) fn quantities() -> Vec<String> {
    let written = [
        "1/2 in",
        "3-1/4 in",
        "12.7 mm",
        ".0005\"",
        "0,02 mm",
        "6 µm",
        "2 thou",
        "1e3 mm",
        "30 deg",
        "30° 15′",
        "7°30'20\"",
        "45 min",
        "-1.5 deg",
        "⅜ in",
        "1 ½ in",
        "0.5 rad",
    ];
    written.map(str::to_owned).into()
}

/// The samples of every kind and version of a body, with a line that says which.
pub(crate) fn bodies() -> Vec<String> {
    let samples = files_in(&root().join("crates/book/tests/samples"));
    let sample = |file: &PathBuf| {
        let (kind, version) = file.file_stem()?.to_str()?.rsplit_once('_')?;
        let body = std::fs::read_to_string(file).ok()?;
        Some(format!("{} {version}\n{body}", kind.replace('_', " ")))
    };
    samples.iter().filter_map(sample).chain(super::kept::kinds()).collect()
}

/// A line of an export for each of the samples, under the file that would hold it.
pub(crate) fn lines() -> Vec<String> {
    let line = |body: String| {
        let (head, body) = body.split_once('\n')?;
        let (kind, version) = head.rsplit_once(' ')?;
        Some(format!(
            "a{{\"subject\":\"01890a5d-ac96-774b-bcce-b302099a8057\",\"number\":1,\
             \"at\":\"2026-01-05T08:00:00.000000Z\",\"by\":\"IV\",\"kind\":\"{kind}\",\
             \"version\":{version},\"body\":{body}}}"
        ))
    };
    let of_a_manifest = char::from(b'a' + u8::try_from(SubjectKind::ALL.len()).unwrap_or(0));
    let manifest = format!(
        "{of_a_manifest}{{\"format\":\"toothrest book\",\"version\":1,\"files\":\
         [{{\"kind\":\"cutter\",\"entries\":3,\"sha256\":null}}]}}"
    );
    bodies().into_iter().filter_map(line).chain([manifest]).collect()
}

fn named(file: &str) -> String {
    let text = std::fs::read_to_string(examples().join(file)).unwrap_or_default();
    serde_json::json!({ "file": file, "text": text }).to_string()
}

/// What a plan's answer says that it was made from; it can be planned.
fn inputs() -> String {
    format!(
        "{{\"cutter\":{},\"machine\":{},\"wheels\":[{}],\"relief\":\"flat\",\"end\":true,\
         \"to_size\":\"0.99 in\",\"wear\":{},\"off_length\":\"0.1 mm\"}}",
        named("cutters/k-126-one-inch-powder.toml"),
        named("machines/universal-bench.toml"),
        named("wheels/w-05-flaring-cup-cbn.toml"),
        named("wear/k-126.toml"),
    )
}

/// Answers of plans, one of which is short.
pub(crate) fn plan_answers() -> Vec<String> {
    let short = "{\"cutter\":{\"file\":\"c\",\"text\":\"x\"},\"machine\":{\"file\":\"m\",\
                 \"text\":\"\"},\"wheels\":[],\"after\":[{\"readings\":{\"file\":\"r\",\
                 \"text\":\"\"},\"left\":[\"size\"],\"fed\":\"0.001 in\"}]}";
    [inputs(), short.to_owned()]
        .map(|inputs| format!("{{\"schema\":1,\"inputs\":{inputs},\"verdict\":{{}}}}"))
        .into()
}

/// Answers of checks.
pub(crate) fn check_answers() -> Vec<String> {
    let (plan, readings) = (inputs(), named("readings/k-117-as-planned.toml"));
    vec![format!(
        "{{\"schema\":1,\"inputs\":{{\"plan\":{plan},\"readings\":{readings}}},\
         \"outcome\":\"weighed\"}}"
    )]
}

/// The drawer of the examples as a workbook.
pub(crate) fn workbooks() -> Vec<Vec<u8>> {
    let list = std::fs::read_to_string(examples().join("lists/drawer.csv")).unwrap_or_default();
    let mut rows = list.lines().map(|line| line.split(','));
    let headings = rows.next().into_iter().flatten();
    let columns = headings.map(|name| TableColumn { heading: name.to_owned(), decimals: 0 });
    let columns: Vec<TableColumn> = columns.collect();
    let cells = rows.map(|row| row.map(|cell| Value::Text(cell.to_owned())).collect());
    let table = Table { name: "cutters", columns, rows: cells.collect() };
    table_workbook(&table).into_iter().chain([workbook_of(sheets()[0].as_bytes())]).collect()
}

/// The cells of a sheet, as a workbook holds them.
pub(crate) fn sheets() -> Vec<String> {
    let cell = |text: &&str| format!("<c t=\"inlineStr\"><is><t>{text}</t></is></c>");
    let row =
        |cells: &[&str]| format!("<row>{}</row>", cells.iter().map(&cell).collect::<String>());
    let head = row(&["number", "DC (mm)", "NOF", "FHA"]);
    let plain = "<row r=\"2\"><c r=\"A2\" t=\"str\"><v>K-1</v></c><c r=\"B2\"><v>12.7</v></c>\
                 <c r=\"C2\"><v>4</v></c><c r=\"D2\" t=\"b\"><v>1</v></c></row>";
    let start = "<?xml version=\"1.0\" encoding=\"UTF-8\"?>\n<worksheet xmlns=\
                 \"http://schemas.openxmlformats.org/spreadsheetml/2006/main\">\
                 <dimension ref=\"A1:D2\"/><sheetData>";
    let end = "</sheetData></worksheet>";
    vec![
        format!("{start}{head}{plain}{end}"),
        format!("{start}{head}{}{end}", row(&["K-2", "1/2 in", "4", "30"])),
    ]
}

//! Assets, held against a schema of our own that has the rules read in MTConnectAssets 2.4. The
//! official schema is not part of this repository; whoever has its `MTConnectAssets_2.4_1.0.xsd`,
//! with `xlink.xsd` beside it, names it in `ASSETS_SCHEMA`, and assets are held against both.

#![expect(clippy::unwrap_used, reason = "a test that cannot make its case must stop")]

mod common;

use std::env;
use std::fs;
use std::path::{Path, PathBuf};
use std::process::Command;

use common::cutter;
use exchange::asset::{Answerer, AtRest, CutterAsset, Outlook, Shrunk, assets_xml};
use geometry::Length;
use shop::book::event::{CutterEntered, HandedBack, Received, WearSeen};
use shop::book::{Entry, Event, Id, Initials, Latest, Moment, Stamp, State, Subject, SubjectKind};
use shop::record::WearDraft;

fn asset(events: Vec<Event>, is_gone: bool) -> CutterAsset {
    let id = Id::from_bits(0x1234);
    let at = Moment::from_micros(1_764_057_600_000_000).unwrap();
    let stamp = Stamp { at, by: Initials::new("AB").unwrap() };
    let subject = Subject::new(SubjectKind::Cutter, id.clone());
    let entered = CutterEntered { cutter: cutter("K 1 & 2"), marks: Vec::new() };
    let all = std::iter::once(Event::CutterEntered(Box::new(entered))).chain(events);
    let entries: Vec<Entry> = (1_u64..)
        .zip(all)
        .map(|(number, event)| Entry {
            subject: subject.clone(),
            number,
            stamp: stamp.clone(),
            event,
        })
        .collect();
    let Some(State::Cutter(state)) = Latest::of(&entries).unwrap().state else {
        unreachable!("an entered cutter")
    };
    let outlook = Outlook { lives_left: Some(3), smallest: Some(Length::from_inches(0.425)) };
    CutterAsset::of(&id, &state, AtRest { is_gone, at }, outlook)
}

fn document(assets: &[CutterAsset]) -> String {
    let at = Moment::from_micros(1_764_057_600_000_000).unwrap();
    assets_xml(&Answerer { sender: "bench".to_owned(), device: "D-1".to_owned(), at }, assets)
}

/// Our own schema, and the official one where somebody named it.
fn schemas() -> Vec<PathBuf> {
    let own = Path::new(env!("CARGO_MANIFEST_DIR")).join("tests/assets.xsd");
    [own].into_iter().chain(env::var_os("ASSETS_SCHEMA").map(PathBuf::from)).collect()
}

/// Whether a document is valid by a schema, by the general-purpose tool xmllint (Debian's
/// libxml2-utils). A schema that cannot be read is no answer.
fn is_valid_by(schema: &Path, name: &str, text: &str) -> bool {
    let folder = Path::new(env!("CARGO_TARGET_TMPDIR"));
    let file = folder.join(name);
    fs::write(&file, text).unwrap();
    let run = Command::new("xmllint")
        .args(["--nonet", "--noout", "--schema"])
        .args([schema, &file])
        .output()
        .expect("xmllint checks assets: install Debian's package libxml2-utils");
    let said = String::from_utf8_lossy(&run.stderr);
    assert!([0, 3].contains(&run.status.code().unwrap()), "{}: {said}", schema.display());
    run.status.success()
}

fn is_valid(name: &str, text: &str) -> bool {
    schemas().iter().all(|schema| is_valid_by(schema, name, text))
}

#[test]
fn assets_are_valid_and_the_schema_can_fail() {
    let worn =
        WearDraft { measured_diameter: Some(Length::from_inches(0.49)), ..WearDraft::default() };
    let waiting = vec![
        Event::Received(Received::default()),
        Event::WearSeen(WearSeen { wear: worn.build().unwrap() }),
    ];
    let text =
        document(&[asset(Vec::new(), false), asset(waiting, false), asset(Vec::new(), true)]);
    assert!(is_valid("assets.xml", &text), "{text}");
    assert!(is_valid("no-assets.xml", &document(&[])));
    let renamed = text.replace("<Status>UNAVAILABLE", "<Status>AWAY");
    assert!(renamed != text && !is_valid("assets-renamed.xml", &renamed));
    let count = "    <ReconditionCount maximumCount=\"5\">2</ReconditionCount>\n";
    assert!(text.contains(count), "{text}");
    let life = "      <ToolLife ";
    assert!(text.contains(life), "{text}");
    let swapped = text.replace(count, "").replace(
        "        <Measurements>",
        &format!("{}        <Measurements>", count.trim_start()),
    );
    assert!(!is_valid("assets-swapped.xml", &swapped), "the order of the children is checked");
    let token = text.replace("toolId=\"K_1___2\"", "toolId=\"K 1 2\"");
    assert!(token != text && !is_valid("assets-token.xml", &token), "toolId is a name token");
    for (name, right, wrong) in [
        ("units", "units=\"MILLIMETER\"", "units=\"MM\""),
        ("direction", "countDirection=\"UP\"", "countDirection=\"up\""),
        ("places", "assetBufferSize=\"3\"", "assetBufferSize=\"0\""),
        ("number", ">12.5476<", ">12,5476<"),
        ("device", " deviceUuid=\"D-1\"", ""),
        ("count", "maximumCount=\"5\"", "maximumCount=\"five\""),
    ] {
        let spoilt = text.replace(right, wrong);
        assert!(spoilt != text && !is_valid(&format!("assets-{name}.xml"), &spoilt), "{name}");
    }
}

#[test]
fn an_asset_says_what_the_book_says() {
    let text = document(&[asset(vec![Event::Received(Received::default())], false)]);
    for part in [
        "<Status>UNAVAILABLE</Status>",
        "<Status>RECONDITIONED</Status>",
        "<Status>TAGGED_OUT</Status>",
        "<Status>MEASURED</Status>",
        "serialNumber=\"K 1 &amp; 2\"",
        // 0.5 in less 0.494 in, and less 0.425 in.
        "<ToolLife type=\"WEAR\" countDirection=\"UP\" limit=\"1.905\" initial=\"0\">0.1524<",
        "code=\"DC\" units=\"MILLIMETER\" minimum=\"10.795\"",
        " nominal=\"12.7\">12.5476<",
        "<DepthOfCutMax code=\"APMX\" units=\"MILLIMETER\" nominal=\"31.75\"/>",
    ] {
        assert!(text.contains(part), "{part} in {text}");
    }
    assert!(!text.contains(">AVAILABLE<") && !text.contains("NEW"));
    let gone = document(&[asset(Vec::new(), true)]);
    assert!(gone.contains(">EXPIRED<") && gone.contains(">UNAVAILABLE<"));
    let shelf = document(&[asset(Vec::new(), false)]);
    assert!(shelf.contains(">AVAILABLE<") && !shelf.contains("TAGGED_OUT"));
}

#[test]
fn what_was_not_measured_is_not_told_and_what_is_dull_is_not_offered() {
    let unmeasured = asset(Vec::new(), false);
    let shrunk = Shrunk { now: None, ..unmeasured.shrunk };
    let text = document(&[CutterAsset { shrunk, ..unmeasured }]);
    assert!(!text.contains("<ToolLife") && text.contains("</CuttingToolLifeCycle>"), "{text}");
    assert!(is_valid("assets-unmeasured.xml", &text), "{text}");
    let measured_diameter = Some(Length::from_inches(0.49));
    let wear = WearDraft { measured_diameter, ..WearDraft::default() };
    let back = vec![
        Event::Received(Received::default()),
        Event::WearSeen(WearSeen { wear: wear.build().unwrap() }),
        Event::HandedBack(HandedBack { as_ground: None, to: None, shorter: None }),
    ];
    let text = document(&[asset(back, false)]);
    assert!(text.contains(">UNAVAILABLE<") && text.contains(">USED<"), "{text}");
}

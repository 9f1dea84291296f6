//! Tags: what they say, and both codes read by a general reader from the picture of the page.

use geometry::System;
use kurbo::Rect;
use rxing::BarcodeFormat;
use sheets::drawing::Tag;
use sheets::label::{LabelSheet, LabelStock, Roll, tags};
use sheets::paper::{Pages, Paper};
use sheets::scene::{Mark, Scene};

use crate::given::tag;
use crate::poppler::Opened;

/// Dots per inch of an ordinary label printer.
const PER_INCH: u32 = 203;

fn roll() -> LabelStock {
    LabelStock::Roll(Roll { width_mm: 62.0, length_mm: 32.0, margin_mm: 2.0 })
}

fn least() -> LabelStock {
    LabelStock::Roll(Roll { width_mm: 49.0, length_mm: 26.0, margin_mm: 2.0 })
}

fn sheet() -> LabelSheet {
    LabelSheet {
        paper: Paper::A4,
        columns: 3,
        rows: 7,
        width_mm: 63.5,
        height_mm: 38.1,
        left_mm: 7.2,
        top_mm: 15.1,
        column_gap_mm: 2.5,
        row_gap_mm: 0.0,
        margin_mm: 2.5,
    }
}

/// Cutters in plenty, with numbers of every kind.
fn cutters() -> Vec<Tag> {
    let numbers = ["K-117", "7", "Ø 12 / 4Z", "BLUE TRAY 0000000017", "Fräser 3"];
    let sizes = [12.39, 11.8, 12.7, 12.01, 12.7];
    numbers.into_iter().zip(sizes).map(|(number, mm)| tag(number, mm)).collect()
}

/// The grey dots of a part of a page.
fn cut_out(opened: &Opened, page: u32, area: Rect, per_inch: u32) -> (Vec<u8>, u32, u32) {
    let (dots, wide, high) = opened.dots(page, per_inch);
    let at = |mm: f64, most: u32| ((mm / 25.4 * f64::from(per_inch)).round() as u32).min(most);
    let (x0, x1) = (at(area.x0, wide), at(area.x1, wide));
    let (y0, y1) = (at(area.y0, high), at(area.y1, high));
    let row = |y: u32| {
        let from = (y * wide) as usize;
        &dots[from + x0 as usize..from + x1 as usize]
    };
    let part: Vec<u8> = (y0..y1).flat_map(|y| row(y).to_vec()).collect();
    (part, x1 - x0, y1 - y0)
}

fn read(opened: &Opened, page: u32, area: Rect, format: BarcodeFormat, per_inch: u32) -> String {
    let (dots, wide, high) = cut_out(opened, page, area, per_inch);
    let found = rxing::helpers::detect_in_luma(dots, wide, high, Some(format));
    found.unwrap_or_else(|error| panic!("{format:?} on page {page}: {error}")).getText().to_owned()
}

/// The paper that a part's marks cover, the n-th of that name.
fn area_of(scene: &Scene, name: &str, at: usize) -> Rect {
    let part = scene.parts().iter().filter(|part| part.name == name).nth(at).unwrap();
    part.marks.iter().map(Mark::bounds).reduce(|one, other| one.union(other)).unwrap()
}

fn check_codes(pages: &Pages, cutters: &[Tag], places: impl Fn(usize) -> (usize, usize)) {
    let opened = Opened::of(pages.title(), &pages.to_pdf().unwrap());
    for (at, cutter) in cutters.iter().enumerate() {
        let (page, nth) = places(at);
        let scene = &pages.scenes()[page];
        for (part, format) in
            [("qr code", BarcodeFormat::QR_CODE), ("data matrix", BarcodeFormat::DATA_MATRIX)]
        {
            // The reader gets what a camera over the label would see, the other code included.
            let area = area_of(scene, part, nth).inflate(3.0, 3.0);
            for per_inch in [PER_INCH, 300] {
                let text = read(&opened, page as u32 + 1, area, format, per_inch);
                assert_eq!(text, cutter.number, "{part} of {}", cutter.number);
            }
        }
    }
}

#[test]
fn both_codes_are_read_from_a_roll() {
    for stock in [roll(), least()] {
        let cutters = cutters();
        let pages = tags(&cutters, System::Inch, &stock, 1).unwrap();
        assert_eq!(pages.scenes().len(), cutters.len());
        check_codes(&pages, &cutters, |at| (at, 0));
    }
}

#[test]
fn both_codes_are_read_from_a_sheet_begun_at_its_last_but_one_label() {
    let cutters = cutters();
    let stock = LabelStock::Sheet(sheet());
    let pages = tags(&cutters, System::Millimetre, &stock, 20).unwrap();
    assert_eq!(pages.scenes().len(), 2);
    check_codes(&pages, &cutters, |at| if at < 2 { (0, at) } else { (1, at - 2) });
    let first = area_of(&pages.scenes()[0], "number", 0);
    assert!(first.x0 > 7.2 + 66.0 && first.y0 > 15.1 + 6.0 * 38.1, "{first:?}");
}

/// ISO/IEC 18004 asks for four free modules about a QR code and ISO/IEC 16022 for one about a Data
/// Matrix (from memory). A QR code of version 1 has 21 modules.
#[test]
fn quiet_zones_are_free() {
    for cutter in cutters() {
        for stock in [roll(), least()] {
            let pages = tags(std::slice::from_ref(&cutter), System::Inch, &stock, 1).unwrap();
            let scene = &pages.scenes()[0];
            let qr = area_of(scene, "qr code", 0);
            let matrix = area_of(scene, "data matrix", 0);
            let module_mm = if cutter.number.len() <= 14 { qr.width() / 21.0 } else { 0.25 };
            for (area, free, own) in [(qr, 4.0, "qr code"), (matrix, 1.0, "data matrix")] {
                let kept = area.inflate(free * module_mm - 1e-6, free * module_mm - 1e-6);
                let others = scene.parts().iter().filter(|part| part.name != own);
                for mark in others.flat_map(|part| &part.marks) {
                    let meets = mark.bounds().intersect(kept);
                    assert!(meets.area() <= 0.0, "{own} of {}: {mark:?}", cutter.number);
                }
                let page = scene.paper().inflate(1e-6, 1e-6);
                assert!(page.union(kept) == page, "{own} of {}: {kept:?}", cutter.number);
            }
        }
    }
}

#[test]
fn a_tag_says_diameter_and_radius_and_that_it_is_not_nominal() {
    let said = |mm: f64, system: System| {
        let pages = tags(&[tag("K-117", mm)], system, &roll(), 1).unwrap();
        let opened = Opened::of("tag", &pages.to_pdf().unwrap());
        opened.text().split_whitespace().collect::<Vec<_>>().join(" ")
    };
    let metric = said(12.39, System::Millimetre);
    for words in [
        "K-117",
        "NOT NOMINAL",
        "⌀ 12.390 mm",
        "radius 6.195 mm",
        "−0.310 mm from nominal 12.7 mm",
        "flute left 31.75 mm, overall 82.55 mm, regrind 2",
        "2031-03-05",
    ] {
        assert!(metric.contains(words), "{words}: {metric}");
    }
    let inch = said(11.8, System::Inch);
    for words in ["⌀ 0.4646 in", "radius 0.2323 in", "from nominal 1/2 in", "corner R 0.0283 in"]
    {
        assert!(inch.contains(words), "{words}: {inch}");
    }
    let full = said(12.7, System::Inch);
    assert!(full.contains("NOMINAL SIZE") && !full.contains("NOT"), "{full}");
}

/// The frame stands clear of the words in it.
#[test]
fn the_warning_stands_in_a_frame() {
    for stock in [roll(), least()] {
        let pages = tags(&[tag("K-117", 12.39)], System::Inch, &stock, 1).unwrap();
        let scene = &pages.scenes()[0];
        let part = scene.parts().iter().find(|part| part.name == "warning").unwrap();
        let frame = part.marks.iter().find(|mark| matches!(mark, Mark::Stroke { .. })).unwrap();
        let words = part.marks.iter().find(|mark| matches!(mark, Mark::Text(_))).unwrap();
        let inside = frame.bounds().inset(-0.25);
        assert!(inside.union(words.bounds()) == inside, "{words:?} in {frame:?}");
    }
}

#[test]
fn nothing_on_a_tag_overlaps_or_leaves_it() {
    for cutter in cutters() {
        for stock in [roll(), least()] {
            let pages = tags(std::slice::from_ref(&cutter), System::Inch, &stock, 1).unwrap();
            let scene = &pages.scenes()[0];
            let inner = scene.paper().inset(-1.9);
            assert!(scene.marks().all(|mark| inner.union(mark.bounds()) == inner));
            let words: Vec<Rect> = scene.words().map(|words| words.bounds()).collect();
            for (at, one) in words.iter().enumerate() {
                for other in &words[at + 1..] {
                    let common = one.intersect(*other);
                    assert!(common.area() <= 0.0, "{one:?} on {other:?}");
                }
            }
        }
    }
}

#[test]
fn what_cannot_be_printed_is_refused() {
    let stock = LabelStock::Sheet(sheet());
    let said = |first: u32, cutters: &[Tag]| {
        tags(cutters, System::Inch, &stock, first).unwrap_err().to_string()
    };
    assert!(said(22, &cutters()).contains("write a number from 1 to 21"));
    assert!(said(0, &cutters()).contains("first label = 0"));
    assert!(said(1, &[]).contains("no tag is to be printed"));
    let long = tag(&"K-".repeat(200), 12.0);
    assert!(said(1, &[long]).contains("too long for a code"));
}

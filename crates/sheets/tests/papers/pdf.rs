//! What every PDF must be, whatever it shows.

use geometry::System;
use sheets::paper::{OtherPages, setup_sheet};

use crate::given::{all_plans, all_sheets, imprint};
use crate::poppler::Opened;
use sheets::paper::Paper;

/// ISO 216: A4 is 210 by 297 mm. ANSI/ASME Y14.1: size A is 8.5 by 11 in, 612 by 792 points.
#[test]
fn pages_have_the_size_of_their_paper() {
    for (name, imprint, pages) in all_sheets() {
        let opened = Opened::of(name, &pages.to_pdf().unwrap());
        assert_eq!(opened.info("Pages"), pages.scenes().len().to_string(), "{name}");
        let size = opened.info("Page size");
        let sides: Vec<f64> =
            size.split_whitespace().filter_map(|word| word.parse().ok()).collect();
        let (wide, high) = match imprint.paper {
            Paper::A4 => (210.0 / 25.4 * 72.0, 297.0 / 25.4 * 72.0),
            Paper::Letter => (612.0, 792.0),
        };
        let near = |found: f64, wanted: f64| (found - wanted).abs() < 0.02;
        assert!(near(sides[0], wide) && near(sides[1], high), "{name}: {size}");
        assert_eq!(opened.info("Title"), pages.title(), "{name}");
        assert!(opened.info("CreationDate").is_empty(), "{name}");
    }
}

#[test]
fn faces_travel_with_the_file() {
    for (name, _, pages) in all_sheets() {
        let fonts = Opened::of(name, &pages.to_pdf().unwrap()).fonts();
        assert!(!fonts.is_empty() && fonts.len() <= 2, "{name}: {fonts:?}");
        assert!(fonts.iter().all(|(font, all)| font.contains("DejaVuSans") && *all), "{fonts:?}");
    }
}

#[test]
fn the_same_records_give_the_same_bytes() {
    let (_, plan) = &all_plans()[0];
    let imprint = imprint(Paper::A4, System::Inch);
    let once = setup_sheet(plan, &OtherPages::default(), &imprint).to_pdf().unwrap();
    let again = setup_sheet(plan, &OtherPages::default(), &imprint).to_pdf().unwrap();
    assert!(once == again && once.len() > 10_000);
}

/// Words stand in the file where the scene says: the reader's boxes lie on the scene's. Poppler
/// takes the face's own ascent for a box's height, so only the sides are compared.
#[test]
fn words_stand_where_the_scene_has_them() {
    for (name, _, pages) in all_sheets().iter().filter(|(name, ..)| name.contains("half inch")) {
        let opened = Opened::of(name, &pages.to_pdf().unwrap());
        let found = opened.words();
        let numbered = (1..).zip(pages.scenes());
        let all = numbered.flat_map(|(page, scene)| scene.words().map(move |one| (page, one)));
        let single = all.filter(|(_, words)| !words.text.trim().contains(' '));
        let mut compared = 0;
        for (page, words) in single.filter(|(_, words)| words.text.chars().count() > 1) {
            let bounds = words.bounds();
            let is_it = |word: &&crate::poppler::Word| {
                word.page == page
                    && word.text == words.text
                    && (word.area.x0 - bounds.x0).abs() < 0.1
                    && (word.area.x1 - bounds.x1).abs() < 0.1
                    && word.area.y0 < words.at.y
                    && word.area.y1 > words.at.y
            };
            assert!(found.iter().any(|word| is_it(&word)), "{name}: {words:?}");
            compared += 1;
        }
        assert!(compared >= 10, "{name}: {compared}");
    }
}

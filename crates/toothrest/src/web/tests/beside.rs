//! What the bench shows beside a plain regrind of the periphery: the face, teeth that need set-ups
//! of their own, a taper, the room that the wheel has; and a machine that is no longer there.

use shop::book::event::{CutterEntered, Received, Retired, WearSeen, WheelEntered, Written};
use shop::book::{Event, Initials, Store, SubjectKind};

use super::bench::{Answer, Browser};
use super::cutters::{demo, hidden};
use crate::files::{read_cutter, read_wheels};

const FORM: &str = include_str!("../../../../../examples/cutters/k-172-form-relieved.toml");
const TWO_HELICES: &str = include_str!("../../../../../examples/cutters/k-168-two-helices.toml");
const TAPERED: &str = include_str!("../../../../../examples/cutters/k-164-tapered.toml");
const INDEX_BENCH: &str = include_str!("../../../../../examples/machines/index-bench.toml");
const DISH: &str = include_str!("../../../../../examples/wheels/w-11-dish-oxide.toml");

fn by() -> Initials {
    Initials::new("IV").unwrap()
}

/// Receives a cutter as its file has it, with its wear.
async fn received(browser: &Browser, text: &str) -> String {
    let desk = browser.desk();
    let cutter = read_cutter("cutter.toml", text).unwrap();
    let wear = cutter.wear().cloned().unwrap();
    let entered = CutterEntered { cutter: cutter.without_wear(), marks: Vec::new() };
    let subject = desk.fresh(SubjectKind::Cutter);
    let events = vec![
        Event::CutterEntered(Box::new(entered)),
        Event::Received(Received::default()),
        Event::WearSeen(WearSeen { wear }),
    ];
    desk.write(&by(), &subject, 0, events).await.unwrap();
    subject.id.to_string()
}

/// The id of a machine of the demo shop.
async fn machine(browser: &Browser, name: &str) -> String {
    let found = browser.desk().book().find(SubjectKind::Machine, name).await.unwrap();
    found.unwrap().subject.id.to_string()
}

async fn keep(browser: &mut Browser, id: &str, machine: &str) -> Answer {
    let plan = browser.get(&format!("/cutters/{id}/plan?machine={machine}")).await;
    let seen = plan.value("seen");
    let keep = vec![("shown_in", "mm"), ("seen", &*seen), ("machine", machine)];
    browser.enter(&format!("/cutters/{id}/plan"), &keep).await.1
}

#[tokio::test]
async fn a_face_is_ground_from_its_sheet_and_handed_back() {
    let mut browser = demo().await;
    let desk = browser.desk();
    let bench = desk.fresh(SubjectKind::Machine);
    let name = "an index bench".to_owned();
    let text = INDEX_BENCH.replace("\"index bench\"", "\"an index bench\"");
    desk.write(&by(), &bench, 0, vec![Event::Written(Written { name, text })]).await.unwrap();
    for wheel in read_wheels("dish.toml", DISH).unwrap() {
        let entered = Event::WheelEntered(Box::new(WheelEntered { wheel, marks: Vec::new() }));
        // The demo shop may have it on its rack already.
        drop(desk.write(&by(), &desk.fresh(SubjectKind::Wheel), 0, vec![entered]).await);
    }
    let id = received(&browser, FORM).await;
    let plan = browser.get(&format!("/cutters/{id}/plan?machine={}", bench.id)).await;
    for words in ["regrind on the face", "THE FACE  K-172", "deg) to finish, then no feed"] {
        assert!(plan.has(words), "{words} is missing from {}", plan.main());
    }
    assert!(!plan.has("nothing to grind"), "{}", plan.main());

    let step = keep(&mut browser, &id, bench.id.as_str()).await;
    assert!(step.has("face, by its sheet") && step.has("1 of 1 steps are left"), "{}", step.main());
    let sheet = browser.get(&format!("/cutters/{id}/sheet")).await;
    assert!(sheet.has("THE FACE  K-172"), "{}", sheet.main());
    let (seen, key) = (hidden(&step, "seen"), hidden(&step, "step"));
    let form = vec![("seen", &*seen), ("step", &*key), ("shown_in", "mm")];
    let (_, ground) = browser.enter(&format!("/cutters/{id}/grind/done"), &form).await;
    let seen = hidden(&ground, "seen");
    let finish = vec![("seen", &*seen), ("shown_in", "mm")];
    let (to, back) = browser.enter(&format!("/cutters/{id}/grind/finish"), &finish).await;
    assert_eq!(to, format!("/cutters/{id}/back"));
    let said = back.main();
    assert!(said.contains("what the plan of the face expects"), "{said}");
}

#[tokio::test]
async fn teeth_in_groups_are_led_to_the_sheet() {
    let mut browser = demo().await;
    let left = machine(&browser, "left bench").await;
    let alike = received(&browser, &TWO_HELICES.replace("K-168", "T-168")).await;
    let plan = browser.get(&format!("/cutters/{alike}/plan?machine={left}")).await;
    // The lines of the sheet: each tooth's gap, and what a micrometer reads over a pair.
    assert!(plan.has("the next edge") && plan.has("Micrometer at the tip"), "{}", plan.main());
    assert!(!plan.has("One set-up does not do for all teeth"), "{}", plan.main());

    // As in the tests of the command line: helices so far apart that one set-up serves not both.
    let apart = TWO_HELICES
        .replace("K-168", "T-169")
        .replace("helix = \"37 deg\"", "helix = \"35 deg\"")
        .replace("\"38 deg\"", "\"44 deg\"")
        .replace("1-1/4 in\"\no", "1/2 in\"\no");
    let id = received(&browser, &apart).await;
    let plan = browser.get(&format!("/cutters/{id}/plan?machine={left}")).await;
    for words in ["One set-up does not do for all teeth", "have a set-up of their own: relief"] {
        assert!(plan.has(words), "{words} is missing from {}", plan.main());
    }
    let step = keep(&mut browser, &id, &left).await;
    assert!(step.has("periphery, by its sheet") && step.has("of 1 steps"), "{}", step.main());
    assert!(!step.has("primary, pass"), "{}", step.main());
    assert!(step.has("have a set-up of their own: relief"), "{}", step.main());
}

#[tokio::test]
async fn a_taper_and_the_room_stand_on_the_plan() {
    let mut browser = demo().await;
    let universal = machine(&browser, "universal bench").await;
    let id = received(&browser, &TAPERED.replace("K-164", "T-164")).await;
    let plan = browser.get(&format!("/cutters/{id}/plan?machine={universal}")).await;
    assert!(plan.has("Sizes move") && plan.has("square to the side"), "{}", plan.main());
    assert!(plan.has("<p>Room: "), "{}", plan.main());
    let space = browser.get(&format!("/cutters/{id}/view")).await;
    assert!(space.has("equal teeth on a cylinder, and this cutter has not"), "{}", space.main());
}

/// The cutter in space as it came in and as it is to be, each with a way to the other.
#[tokio::test]
async fn a_planned_cutter_is_seen_before_and_after() {
    let mut browser = demo().await;
    let universal = machine(&browser, "universal bench").await;
    let id = received(&browser, &TAPERED.replace("K-164", "S-164")).await;
    let model = format!("/cutters/{id}/model");
    let unplanned = browser.get(&format!("/cutters/{id}/view?state=before")).await;
    assert!(unplanned.has("As its record says") && !unplanned.has("state=before"));
    keep(&mut browser, &id, &universal).await;
    let before = browser.get(&format!("/cutters/{id}/view?state=before")).await;
    assert!(before.has("dull all round") && before.has(&format!("{model}?state=before")));
    assert!(!before.has("data-view=\"wheel\""), "{}", before.main());
    let after = browser.get(&format!("/cutters/{id}/view")).await;
    assert!(after.has("with wheel and rest") && after.has("view?state=before"));
    let (dull, ground) =
        (browser.get(&format!("{model}?state=before")).await, browser.get(&model).await);
    assert!(dull.page.contains("before the grind") && !dull.page.contains("\"wheel\""));
    assert!(ground.page.contains("the wheel and the rest"));
}

#[tokio::test]
async fn a_machine_that_is_gone_stands_in_for_no_other() {
    let mut browser = demo().await;
    let id = received(&browser, &TWO_HELICES.replace("K-168", "T-168")).await;
    let never = "0191f2a0-0000-7000-8000-000000000000";
    let plan = browser.get(&format!("/cutters/{id}/plan?machine={never}")).await;
    assert!(plan.has("the machine that was asked for is not in the book now"), "{}", plan.main());
    assert_eq!(plan.value("machine"), never, "the hand chooses, and no other is put in its place");
    let seen = plan.value("seen");
    let keep = vec![("shown_in", "in"), ("seen", &*seen), ("machine", never)];
    let kept = browser.post(&format!("/cutters/{id}/plan"), &keep).await;
    assert_eq!(kept.status, axum::http::StatusCode::UNPROCESSABLE_ENTITY, "{}", kept.main());
    let wheel = browser.get(&format!("/cutters/{id}/plan?wheel={never}")).await;
    assert!(wheel.has("the wheel that was asked for is not on the rack now"), "{}", wheel.main());

    // One that this browser only stood beside is no wish: it is passed over.
    let left = machine(&browser, "left bench").await;
    super::cutters::worn(&mut browser, "T-1").await;
    let subject = browser.desk().document(SubjectKind::Machine, &left).await.unwrap();
    let gone = Event::Retired(Retired { why: "sold".to_owned() });
    browser.desk().write(&by(), &subject.subject, subject.seen, vec![gone]).await.unwrap();
    let plan = browser.get(&format!("/cutters/{id}/plan")).await;
    assert!(!plan.has("not in the book now"), "{}", plan.main());
}

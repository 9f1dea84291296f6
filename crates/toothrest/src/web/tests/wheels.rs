//! Wheels: entered, dressed, looked over, mounted, and two people at one of them.

use axum::http::StatusCode;
use geometry::Length;
use shop::book::{Event, SubjectKind};
use shop::record::Wheel;

use super::bench::{Answer, Browser, Sent, clear, sent};

/// The marks and sizes of an invented flaring cup, bare numbers in inches.
fn cup() -> Sent<'static> {
    vec![
        ("shown_in", "in"),
        ("seen", "0"),
        ("wheel.number", "W-21"),
        ("wheel.marked_rpm", "5730"),
        ("wheel.marked_speed", "6000 ft/min"),
        ("wheel.shape", "type 11"),
        ("wheel.abrasive", "aluminium oxide"),
        ("wheel.grit", "60"),
        ("wheel.grade", "K"),
        ("wheel.bond", "vitrified"),
        ("wheel.diameter", "4"),
        ("wheel.face_width", "1/16"),
        ("wheel.rim_width", "3/8"),
        ("wheel.bore", "1-1/4"),
        ("wheel.depth", "1-1/2"),
        ("wheel.wall_angle", "18"),
        ("_marks", "made for the tool room"),
    ]
}

fn with<'a>(mut form: Sent<'a>, changes: &[(&'a str, &'a str)]) -> Sent<'a> {
    form.retain(|(name, _)| changes.iter().all(|(other, _)| other != name));
    form.extend(changes);
    form
}

async fn wheel(browser: &Browser, path: &str) -> Wheel {
    let id = path.rsplit('/').next().unwrap();
    browser.desk().wheel(id).await.unwrap().state.wheel
}

#[tokio::test]
async fn a_wrong_value_is_told_beside_it_and_what_was_typed_stays() {
    let mut browser = Browser::new().await;
    let wrong = with(cup(), &[("wheel.face_width", "2-1/4"), ("wheel.grade", "KK")]);
    let answer = browser.post("/wheels/new", &wrong).await;
    assert_eq!(answer.status, StatusCode::UNPROCESSABLE_ENTITY);
    let told = answer.problem("wheel.grade");
    assert!(told.contains("a grade is one letter"), "{told}");
    let wrong = with(cup(), &[("wheel.face_width", "2-1/4"), ("wheel.rim_width", "")]);
    let answer = browser.post("/wheels/new", &wrong).await;
    let told = answer.problem("wheel.face_width");
    assert!(told.contains("wider than the wheel's radius"), "{told}");
    for (name, value) in wrong.iter().filter(|(name, _)| name.starts_with("wheel.")) {
        assert_eq!(answer.value(name), *value, "{name}");
    }
    assert_eq!(answer.value("_marks"), "made for the tool room");
    assert!(browser.desk().wheels().await.unwrap().is_empty());
}

#[tokio::test]
async fn switching_units_keeps_what_was_typed_and_what_it_meant() {
    let mut browser = Browser::new().await;
    let switched = browser.post("/wheels/new", &with(cup(), &[("switch", "mm")])).await;
    assert_eq!(switched.status, StatusCode::OK);
    assert_eq!(switched.value("shown_in"), "mm");
    assert_eq!(switched.value("wheel.diameter"), "4 in");
    assert_eq!(switched.value("wheel.grit"), "60");
    let (path, _) = browser.enter("/wheels/new", &sent(&switched.fields())).await;
    let entered = wheel(&browser, &path).await;
    assert_eq!(entered.diameter(), Length::from_inches(4.0));
    assert_eq!(entered.face_width(), Length::from_inches(1.0 / 16.0));
}

#[tokio::test]
async fn dressing_changes_the_size_and_leaves_open_what_was_not_measured() {
    let mut browser = Browser::new().await;
    let (path, _) = browser.enter("/wheels/new", &cup()).await;
    let form = browser.get(&format!("{path}/enter/dress")).await;
    let filled = form.filled(&[
        ("wheel.diameter", "3.98"),
        ("wheel.face_width", "0.05"),
        ("_taken", ".012"),
        ("_words", "with the diamond"),
    ]);
    let (_, page) = browser.enter(&format!("{path}/enter/dress"), &sent(&filled)).await;
    assert!(page.has("3.98") && page.has("with the diamond"), "{}", page.main());
    let dressed = wheel(&browser, &path).await;
    assert_eq!(dressed.diameter(), Length::from_inches(3.98));
    assert_eq!(dressed.face_width(), Length::from_inches(0.05));
    assert_eq!(dressed.corner_radius(), Length::ZERO);
    let history = browser.history(SubjectKind::Wheel, &path).await;
    let Event::Dressed(entry) = &history[1].event else { panic!("{:?}", history[1]) };
    assert_eq!(entry.taken, Some(Length::from_inches(0.012)));
    assert_eq!(entry.size.corner_radius, None);
}

#[tokio::test]
async fn a_size_that_cannot_be_is_not_dressed() {
    let mut browser = Browser::new().await;
    let (path, _) = browser.enter("/wheels/new", &cup()).await;
    let form = browser.get(&format!("{path}/enter/dress")).await;
    let filled = form.filled(&[("wheel.corner_radius", "0.2"), ("_taken", "-1")]);
    let answer = browser.post(&format!("{path}/enter/dress"), &sent(&filled)).await;
    assert_eq!(answer.status, StatusCode::UNPROCESSABLE_ENTITY);
    assert!(answer.problem("wheel.corner_radius").contains("a worn corner lies on the face"));
    assert!(answer.problem("_taken").contains("below 0"));
    let form = browser.get(&format!("{path}/enter/measure")).await;
    let grown = form.filled(&[("wheel.diameter", "4.1")]);
    let answer = browser.post(&format!("{path}/enter/measure"), &sent(&grown)).await;
    assert!(answer.problem("wheel.diameter").contains("no wheel grows"), "{}", answer.main());
    let answer = browser.post(&format!("{path}/enter/measure"), &sent(&form.fields())).await;
    assert!(answer.has("Nothing is measured yet"), "{}", answer.main());
    assert_eq!(browser.history(SubjectKind::Wheel, &path).await.len(), 1);
}

#[tokio::test]
async fn the_later_of_two_writers_is_told_and_keeps_what_was_typed() {
    let mut browser = Browser::new().await;
    let (path, _) = browser.enter("/wheels/new", &cup()).await;
    let at = format!("{path}/enter/measure");
    let form = browser.get(&at).await;
    browser.enter(&at, &sent(&form.filled(&[("wheel.diameter", "3.99")]))).await;
    let late = form.filled(&[("wheel.diameter", "3.97"), ("wheel.face_width", "0.06")]);
    let answer = browser.post(&at, &sent(&late)).await;
    assert_eq!(answer.status, StatusCode::CONFLICT);
    assert!(answer.has("Somebody else wrote first"), "{}", answer.main());
    assert_eq!(answer.value("wheel.diameter"), "3.97");
    assert_eq!(answer.value("seen"), "2");
    assert_eq!(wheel(&browser, &path).await.diameter(), Length::from_inches(3.99));
    browser.enter(&at, &sent(&answer.fields())).await;
    assert_eq!(wheel(&browser, &path).await.diameter(), Length::from_inches(3.97));
    assert_eq!(browser.history(SubjectKind::Wheel, &path).await.len(), 3);
}

#[tokio::test]
async fn looking_over_shows_the_cautions_and_says_nothing_more_than_was_written() {
    let mut browser = Browser::new().await;
    let (path, _) = browser.enter("/wheels/new", &cup()).await;
    let form = browser.get(&format!("{path}/enter/inspect")).await;
    assert!(form.has("Ring-test it before mounting"), "{}", form.main());
    assert!(form.has("A clear ring alone does not prove a wheel whole"));
    let nothing = browser.post(&form_path(&path), &sent(&form.fields())).await;
    assert_eq!(nothing.status, StatusCode::UNPROCESSABLE_ENTITY);
    let filled = form.filled(&[("_rung", "yes"), ("_words", "clear")]);
    let (_, page) = browser.enter(&form_path(&path), &sent(&filled)).await;
    assert!(page.has("by ringing it, clear"), "{}", page.main());
    assert!(!vouches(&page), "{}", page.main());
}

fn form_path(path: &str) -> String {
    format!("{path}/enter/inspect")
}

/// Whether a page calls a wheel safe or fit.
fn vouches(page: &Answer) -> bool {
    let words = page.main().split(|c: char| !c.is_ascii_alphabetic());
    let mut words = words.map(str::to_lowercase);
    words.any(|word| ["safe", "fit", "fine", "sound", "ok"].contains(&word.as_str()))
}

#[tokio::test]
async fn a_wheel_is_mounted_only_where_a_speed_lies_within_its_mark() {
    let mut browser = Browser::new().await;
    let file = include_str!("../../../../../examples/machines/left-bench.toml");
    let machine = [("seen", "0"), ("shown_in", "in"), ("_file", file)].to_vec();
    let (machine, _) = browser.enter("/machines/new", &machine).await;
    let machine = machine.rsplit('/').next().unwrap().to_owned();
    let slow = with(cup(), &[("wheel.marked_rpm", "3000"), ("wheel.marked_speed", "")]);
    let (path, _) = browser.enter("/wheels/new", &slow).await;
    let at = format!("{path}/mount");
    let form = browser.get(&at).await;
    assert!(form.has("all above its mark"), "{}", form.main());
    let filled = form.filled(&[("_machine", &machine)]);
    let refused = browser.post(&at, &sent(&filled)).await;
    assert_eq!(refused.status, StatusCode::UNPROCESSABLE_ENTITY);
    assert!(clear(refused.main()).contains("above the 3000 rpm marked on this wheel"));

    let (path, _) = browser.enter("/wheels/new", &with(cup(), &[("wheel.number", "W-22")])).await;
    let at = format!("{path}/mount");
    let form = browser.get(&at).await;
    assert!(form.has("3600, 4800 rpm; above its mark: 6200 rpm"), "{}", form.main());
    let (_, page) = browser.enter(&at, &sent(&form.filled(&[("_machine", &machine)]))).await;
    assert!(page.has("on left bench"), "{}", page.main());
    let (_, page) = browser.enter(&format!("{path}/shelve"), &vec![("seen", "2")]).await;
    assert!(page.has("on the shelf"));
}

#[tokio::test]
async fn putting_right_amends_how_it_was_entered_and_keeps_what_was_measured_since() {
    let mut browser = Browser::new().await;
    let (path, _) = browser.enter("/wheels/new", &cup()).await;
    let measured = vec![("seen", "1"), ("shown_in", "in"), ("wheel.diameter", "3.9")];
    browser.enter(&format!("{path}/enter/measure"), &measured).await;
    let form = browser.get(&format!("{path}/change")).await;
    assert_eq!(form.value("wheel.diameter"), "4 in");
    let filled = form.filled(&[("wheel.grade", "J"), ("_why", "misread")]);
    browser.enter(&format!("{path}/change"), &sent(&filled)).await;
    let right = wheel(&browser, &path).await;
    assert_eq!((right.grade(), right.diameter()), (Some('J'), Length::from_inches(3.9)));
    let without_reason = browser.get(&format!("{path}/change")).await;
    let sent_again = without_reason.filled(&[("wheel.grade", "I")]);
    let answer = browser.post(&format!("{path}/change"), &sent(&sent_again)).await;
    assert_eq!(answer.status, StatusCode::UNPROCESSABLE_ENTITY);
    assert!(answer.problem("_why").contains("say what was wrong"), "{}", answer.main());
}

#[tokio::test]
async fn another_like_it_reads_its_own_mark() {
    let mut browser = Browser::new().await;
    let (path, _) = browser.enter("/wheels/new", &cup()).await;
    let id = path.rsplit('/').next().unwrap();
    let form = browser.get(&format!("/wheels/new?like={id}")).await;
    assert_eq!(form.value("wheel.grit"), "60");
    assert_eq!(form.value("wheel.shape"), "type 11");
    for open in ["wheel.number", "wheel.marked_rpm", "wheel.marked_speed"] {
        assert_eq!(form.value(open), "", "{open}");
    }
    let taken = browser.post("/wheels/new", &cup()).await;
    assert!(taken.problem("wheel.number").contains("another wheel is"), "{}", taken.main());
    browser.enter(&format!("{path}/retire"), &vec![("seen", "1"), ("why", "cracked")]).await;
    let rack = browser.get("/wheels").await;
    assert!(!rack.has("W-21"), "{}", rack.main());
    assert!(browser.get("/wheels?gone=yes").await.has("W-21"));
}

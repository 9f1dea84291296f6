//! Cutters: received, looked at, planned, ground step by step, and handed back.

use axum::http::StatusCode;
use shop::book::{Event, Store, SubjectKind};

use super::bench::{Browser, Sent};

/// An invented half-inch end mill, bare numbers in inches.
pub(super) fn end_mill(number: &str) -> Sent<'_> {
    vec![
        ("shown_in", "in"),
        ("seen", "0"),
        ("cutter.number", number),
        ("cutter.diameter", "1/2"),
        ("cutter.teeth", "4"),
        ("cutter.hand", "right"),
        ("cutter.helix", "30"),
        ("cutter.helix_hand", "right"),
        ("cutter.rake", "10"),
        ("cutter.material", "HSS"),
        ("cutter.end", "square"),
        ("cutter.profile", "plain"),
        ("cutter.flute_length", "1-1/4"),
        ("cutter.overall_length", "3-1/4"),
        ("cutter.shank_diameter", "1/2"),
        ("_tray", "blue"),
        ("_from", "mill 2"),
    ]
}

/// The demo shop, where machines and wheels are.
pub(super) async fn demo() -> Browser {
    let mut browser = Browser::new().await;
    let answer = browser.post("/demo", &vec![]).await;
    assert_eq!(answer.status, StatusCode::SEE_OTHER);
    browser
}

pub(super) fn cutter_of(path: &str) -> String {
    path.split('/').nth(2).unwrap().to_owned()
}

/// Received and looked at: the id of a cutter that can be planned.
pub(super) async fn worn(browser: &mut Browser, number: &str) -> String {
    let (to, _) = browser.enter("/receive/new", &end_mill(number)).await;
    let id = cutter_of(&to);
    let page = browser.get(&to).await;
    let seen = page.value("seen");
    let wear = vec![
        ("shown_in", "in"),
        ("seen", &*seen),
        ("wear.measured_diameter", "0.4950"),
        ("wear.tooth[0].tooth", "1"),
        ("wear.tooth[1].tooth", "2"),
        ("wear.tooth[1].wear_land", ".009"),
        ("wear.tooth[3].wear_land", "0.2 mm"),
        ("wear.tooth[3].tooth", "4"),
    ];
    browser.enter(&to, &wear).await;
    id
}

#[tokio::test]
async fn cutters_of_one_name_of_tray_lie_in_one_tray() {
    let mut browser = Browser::new().await;
    browser.enter("/receive/new", &end_mill("T-1")).await;
    browser.enter("/receive/new", &end_mill("T-2")).await;
    let mut other = end_mill("T-3");
    other.retain(|(name, _)| *name != "_tray");
    browser.enter("/receive/new", &other).await;
    let trays = browser.desk().all(SubjectKind::Tray).await.unwrap();
    assert_eq!(trays.len(), 1, "{trays:?}");
    let page = browser.get(&format!("/?tray={}", trays[0].subject.id)).await;
    assert!(page.has("T-1") && page.has("T-2") && !page.has("T-3"), "{}", page.main());
    assert!(browser.get("/").await.has("T-3"));
}

#[tokio::test]
async fn a_number_that_is_scanned_leads_to_its_cutter() {
    let mut browser = Browser::new().await;
    let (to, _) = browser.enter("/receive/new", &end_mill("T-1")).await;
    let id = cutter_of(&to);
    for scanned in ["T-1", "t-1", "%20T-1%20", "http://bench/search/T-1"] {
        let answer = browser.get(&format!("/search?q={scanned}")).await;
        assert_eq!(answer.to, format!("/cutters/{id}"), "{scanned}");
    }
    let again = browser.get("/receive?number=T-1").await;
    assert_eq!(again.to, format!("/cutters/{id}/receive"));
    let twice = browser.post("/receive/new", &end_mill("T-1")).await;
    assert_eq!(twice.status, StatusCode::UNPROCESSABLE_ENTITY);
    assert!(twice.problem("cutter.number").contains("in the book already"));
}

#[tokio::test]
async fn the_switch_of_units_keeps_what_was_typed() {
    let mut browser = Browser::new().await;
    let mut form = end_mill("T-1");
    form.push(("switch", "mm"));
    let page = browser.post("/receive/new", &form).await;
    assert_eq!(page.status, StatusCode::OK);
    assert_eq!(page.value("cutter.diameter"), "1/2 in");
    assert_eq!(page.value("shown_in"), "mm");
    assert_eq!(page.value("cutter.number"), "T-1");
    assert!(
        browser.desk().all(SubjectKind::Cutter).await.unwrap().is_empty(),
        "nothing is written"
    );
    let mut planner = demo().await;
    let id = worn(&mut planner, "T-1").await;
    let path = format!("/cutters/{id}/plan?shown_in=in&to_size=0.48&switch=mm");
    assert_eq!(planner.get(&path).await.value("to_size"), "0.48 in");
}

#[tokio::test]
async fn teeth_that_nobody_looked_at_are_left_out_and_the_others_keep_their_numbers() {
    let mut browser = demo().await;
    let id = worn(&mut browser, "T-1").await;
    let page = browser.get(&format!("/cutters/{id}/wear")).await;
    assert_eq!(page.value("wear.tooth[0].wear_land"), "");
    assert_eq!(page.value("wear.tooth[1].wear_land"), "0.009 in");
    assert_eq!(page.value("wear.tooth[3].wear_land"), "0.2 mm");
    let seen = page.value("seen");
    let wrong = vec![("shown_in", "in"), ("seen", &*seen), ("wear.measured_diameter", "2")];
    let answer = browser.post(&format!("/cutters/{id}/wear"), &wrong).await;
    assert_eq!(answer.status, StatusCode::UNPROCESSABLE_ENTITY);
    assert!(answer.problem("wear.measured_diameter").contains("more than the nominal"));
}

#[tokio::test]
async fn steps_are_written_one_by_one_and_can_be_undone() {
    let mut browser = demo().await;
    let id = worn(&mut browser, "T-1").await;
    let plan = browser.get(&format!("/cutters/{id}/plan")).await;
    let (seen, machine) = (plan.value("seen"), plan.value("machine"));
    let keep = vec![("shown_in", "in"), ("seen", &*seen), ("machine", &*machine)];
    let (to, step) = browser.enter(&format!("/cutters/{id}/plan"), &keep).await;
    assert_eq!(to, format!("/cutters/{id}/grind"));
    let done = format!("{to}/done");
    let sent = |page: &super::bench::Answer| (hidden(page, "seen"), hidden(page, "step"));
    let (seen, key) = sent(&step);
    assert_eq!(key, "wheel");
    let form = vec![("seen", &*seen), ("step", &*key), ("shown_in", "in")];
    let (_, next) = browser.enter(&done, &form).await;
    let stale = browser.post(&done, &form).await;
    assert_eq!(stale.status, StatusCode::CONFLICT, "a second tap writes nothing");
    assert_eq!(sent(&next).1, "truing");
    let seen = hidden(&next, "seen");
    browser.enter(&format!("{to}/undo"), &vec![("seen", &*seen)]).await;
    assert_eq!(sent(&browser.get(&to).await).1, "wheel");
    let record = browser.get(&format!("/cutters/{id}/record")).await;
    assert!(record.has("undone") && record.has("step done"), "{}", record.main());
}

/// What a form without fields of its own carries along.
pub(super) fn hidden(page: &super::bench::Answer, name: &str) -> String {
    let mark = format!("name=\"{name}\" value=\"");
    let behind = page.main().split_once(&mark).map(|(_, behind)| behind);
    behind.and_then(|behind| behind.split('"').next()).unwrap_or_default().to_owned()
}

#[tokio::test]
async fn handing_back_makes_the_size_of_the_tag() {
    let mut browser = Browser::new().await;
    let (to, _) = browser.enter("/receive/new", &end_mill("T-1")).await;
    let id = cutter_of(&to);
    let path = format!("/cutters/{id}/back");
    let seen = browser.get(&path).await.value("seen");
    let mut form = vec![
        ("shown_in", "in"),
        ("seen", &*seen),
        ("as_ground.diameter", "0.4878"),
        ("as_ground.primary", "10"),
        ("as_ground.secondary", "8"),
        ("as_ground.land", "0.02"),
    ];
    let wrong = browser.post(&path, &form).await;
    assert_eq!(wrong.status, StatusCode::UNPROCESSABLE_ENTITY);
    assert!(wrong.problem("as_ground.secondary").contains("clears the primary's heel"));
    form.retain(|(name, _)| *name != "as_ground.secondary");
    form.push(("as_ground.secondary", "20"));
    let (tag, page) = browser.enter(&path, &form).await;
    assert_eq!(tag, format!("/cutters/{id}/tag"));
    assert!(page.has("NOT NOMINAL") && page.has("0.4878 in") && page.has("-0.0122 in"));
    let history = browser.history(SubjectKind::Cutter, &format!("/cutters/{id}")).await;
    let Some(Event::HandedBack(back)) = history.last().map(|entry| entry.event.clone()) else {
        panic!("the last entry is no hand-back")
    };
    assert!((back.as_ground.unwrap().diameter.inches() - 0.4878).abs() < 1e-9);
    let cutter = browser.desk().cutter(&id).await.unwrap();
    assert_eq!(cutter.state.cutter.regrinds(), 1);
    let found = browser.desk().book().find(SubjectKind::Cutter, "T-1").await.unwrap();
    assert!(found.is_some_and(|found| found.seen == cutter.seen));
}

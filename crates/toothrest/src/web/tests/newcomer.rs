//! What somebody new at the bench stumbled on, each once.

use axum::http::StatusCode;
use shop::book::event::{WheelEntered, Written};
use shop::book::{Event, Initials, SubjectKind};

use super::bench::{Answer, Browser, sent};
use super::cutters::{cutter_of, demo, end_mill, hidden, worn};
use crate::files::read_wheels;

const MACHINE: &str = include_str!("../../../../../examples/machines/left-bench.toml");
const CUP: &str = include_str!("../../../../../examples/wheels/w-02-straight-cup-oxide.toml");

/// A cutter with a kept plan, and the page of its first step.
async fn planned(browser: &mut Browser, number: &str) -> (String, Answer) {
    let id = worn(browser, number).await;
    let plan = browser.get(&format!("/cutters/{id}/plan")).await;
    let (seen, machine) = (plan.value("seen"), plan.value("machine"));
    let keep = vec![("shown_in", "in"), ("seen", &*seen), ("machine", &*machine)];
    let (_, step) = browser.enter(&format!("/cutters/{id}/plan"), &keep).await;
    (id, step)
}

#[tokio::test]
async fn a_step_without_a_reading_says_so_and_takes_one_tap() {
    let mut browser = demo().await;
    let (id, mut page) = planned(&mut browser, "T-1").await;
    let (mut told, mut read) = (Vec::new(), 0);
    while page.has("/grind/done") || page.has("/grind/read") {
        if page.has("/grind/read") {
            (_, page) =
                browser.enter(&format!("/cutters/{id}/grind/read"), &sent(&page.fields())).await;
            continue;
        }
        let (seen, step) = (hidden(&page, "seen"), hidden(&page, "step"));
        let asks = page.has("id=\"stood\"");
        assert_ne!(asks, page.has("nothing to enter here: one tap"), "{step}");
        if asks {
            read += 1
        } else {
            told.push(step.clone())
        }
        let tap = vec![("seen", &*seen), ("step", &*step), ("shown_in", "in")];
        (_, page) = browser.enter(&format!("/cutters/{id}/grind/done"), &tap).await;
    }
    assert!(read > 3, "dials are read off");
    for step in ["wheel", "truing", "primary: kiss", "secondary: kiss"] {
        assert!(told.iter().any(|one| one == step), "{step} of {told:?}");
    }
}

/// What the primary measures can only be read before the secondary is ground over it: it is asked
/// for there, and stands on the page of readings afterwards.
#[tokio::test]
async fn the_primary_is_read_where_it_can_be_read_and_is_kept() {
    let mut browser = demo().await;
    let (id, page) = planned(&mut browser, "T-1").await;
    let title = page.main().split_once(", read the primary").unwrap().0;
    let number = title.rsplit_once("aria-label=\"step ").unwrap().1;
    let path = format!("/cutters/{id}/grind?step={number}");
    let read = browser.get(&path).await;
    assert!(read.has("Wheel still, cutter wiped"), "{}", read.main());
    assert!(!read.has("after secondary"), "{}", read.main());
    let typed = lands(&read, "after primary", "0.0395");
    assert!(!typed.is_empty());
    let typed: Vec<_> = typed.iter().map(|(name, value)| (&**name, &**value)).collect();
    let wrong = read.filled(&[(typed[0].0, "wide")]);
    let post = format!("/cutters/{id}/grind/read");
    let told = browser.post(&post, &sent(&wrong)).await;
    assert_eq!(told.status, StatusCode::UNPROCESSABLE_ENTITY);
    let (_, next) = browser.enter(&post, &sent(&read.filled(&typed))).await;
    assert_eq!(hidden(&next, "step"), "secondary: relief");
    let check = browser.get(&format!("/cutters/{id}/check")).await;
    assert_eq!(check.value(typed[0].0), "0.0395", "{}", check.main());
    // With nothing typed it is a step like any other.
    let again = browser.get(&path).await;
    assert!(again.has("0.0395"));
}

/// A decimal point in the wrong place is asked about, and a hand that stands by it is believed.
#[tokio::test]
async fn a_size_that_the_plan_cannot_leave_is_asked_about() {
    let mut browser = demo().await;
    let (id, _) = planned(&mut browser, "T-1").await;
    let page = browser.get(&format!("/cutters/{id}/grind?step=999")).await;
    let seen = hidden(&page, "seen");
    let path = format!("/cutters/{id}/grind/finish");
    let form = vec![("seen", &*seen), ("shown_in", "in"), ("diameter", "0.0487")];
    let told = browser.post(&path, &form).await;
    assert_eq!(told.status, StatusCode::UNPROCESSABLE_ENTITY);
    assert!(told.has("can hardly be meant: the plan leaves 0.49"), "{}", told.main());
    assert!(told.has("I have measured again") && told.has("value=\"0.0487\""));
    let sure: Vec<_> = form.iter().copied().chain([("sure", "yes")]).collect();
    let (to, _) = browser.enter(&path, &sure).await;
    assert_eq!(to, format!("/cutters/{id}/check"));
    let tag = format!("/cutters/{id}/back");
    let size = browser.get(&tag).await;
    // What was measured goes before what the plan expects.
    assert_eq!(size.value("as_ground.diameter"), "0.0487 in", "{}", size.main());
    assert!(size.has("what you measured when it was ground"), "{}", size.main());
    let odd = go_on(&mut browser, &tag, &size, &[("as_ground.diameter", "0.0487")]).await;
    assert!(odd.problem("as_ground.diameter").contains("can hardly be meant"), "{}", odd.main());
    let sure = [("as_ground.diameter", "0.0487"), ("_size_sure", "yes")];
    let on = go_on(&mut browser, &tag, &odd, &sure).await;
    assert!(on.has("How its teeth are ground now"), "{}", on.main());
    assert!(on.has("_size_sure"), "the word is carried along");
    // It was meant, and still it says nothing of the wheel: that is told on the wheel's own page.
    let wheels = browser.get("/wheels").await;
    let mut is_told = false;
    for (at, _) in wheels.main().match_indices("href=\"/wheels/") {
        let path = wheels.main()[at + 6..].split('"').next().unwrap().to_owned();
        let wheel = browser.get(&path).await;
        is_told |= wheel.has("none that its plan could leave");
    }
    assert!(is_told, "the grind is named where it is left out");
}

/// Which way the wheel turns, and what that does, stands in the same words on page and sheet.
#[tokio::test]
async fn the_plan_says_which_way_the_wheel_turns() {
    let mut browser = demo().await;
    let (id, step) = planned(&mut browser, "T-1").await;
    let cutter = browser.desk().cutter(&id).await.unwrap();
    let plan = cutter.state.planned.unwrap();
    let made = browser.desk().kept(&cutter.subject, plan).await.unwrap();
    let words = made.plan.peripheral.as_ref().unwrap().direction.words();
    let page = browser.get(&format!("/cutters/{id}/plan")).await;
    let flat = |text: &str| text.split_whitespace().collect::<Vec<_>>().join(" ");
    assert!(page.has(&words) && step.has(&words), "{words}: {}", page.main());
    let sheet = browser.get(&format!("/cutters/{id}/sheet")).await;
    assert!(flat(sheet.main()).contains(&words), "{words}: {}", sheet.main());
    assert!(flat(sheet.main()).contains("Wheel off, cutter drawn clear"));
}

/// A form opens in the system in which the page stands.
#[tokio::test]
async fn a_form_opens_in_the_unit_of_its_page() {
    let mut browser = demo().await;
    for path in ["/receive/new?number=T-9", "/receive?number=T-9", "/wheels/new", "/machines/new"] {
        let page = browser.get(path).await;
        if page.page.contains("name=\"shown_in\"") {
            assert!(page.page.contains("name=\"shown_in\" value=\"mm\""), "{path}");
            assert!(page.page.contains("aria-label=\"mm / in"), "{path}: the head says otherwise");
        } else {
            assert!(path == "/receive?number=T-9", "{path} has no form");
        }
    }
}

/// What is typed into the table of lands of one stage.
fn lands(page: &Answer, stage: &str, width: &str) -> Vec<(String, String)> {
    let fields = page.fields();
    let is_stage = |(name, value): &&(String, String)| name.ends_with(".stage") && value == stage;
    let (name, _) = fields.iter().find(is_stage).unwrap();
    let key = name.trim_end_matches(".stage").to_owned();
    let is_cell = |name: &str| name.starts_with(&format!("{key}.at[")) && name.contains("teeth");
    let cells = fields.iter().filter(|(name, _)| is_cell(name));
    cells.map(|(name, _)| (name.clone(), width.to_owned())).collect()
}

#[tokio::test]
async fn what_was_read_last_time_stands_there_to_be_changed() {
    let mut browser = demo().await;
    let (id, _) = planned(&mut browser, "T-1").await;
    let path = format!("/cutters/{id}/check");
    let empty = browser.get(&path).await;
    assert!(!empty.has("What you read last time"));
    let mut typed = lands(&empty, "after secondary", "0.0235");
    typed[1].1 = "0.61 mm".to_owned();
    typed[2].1 = String::new();
    let order = empty.value("ground_order");
    let typed: Vec<_> = typed.into_iter().chain([("ground_order".to_owned(), order)]).collect();
    let changed: Vec<_> = typed.iter().map(|(name, value)| (&**name, &**value)).collect();
    let form = empty.filled(&changed);
    browser.enter(&path, &sent(&form)).await;
    let again = browser.get(&path).await;
    assert!(again.has("What you read last time stands below"));
    for (name, value) in &typed {
        assert_eq!(&again.value(name), value, "{name}");
    }
    // In the other system everything still means what it meant, and is weighed as before.
    let fields = again.filled(&[("switch", "mm")]);
    let metric = browser.post(&path, &sent(&fields)).await;
    assert_eq!(metric.value(&typed[0].0), "0.0235 in");
    browser.enter(&path, &sent(&again.fields())).await;
    let history = browser.history(SubjectKind::Cutter, &format!("/cutters/{id}")).await;
    let read: Vec<_> = history
        .iter()
        .filter_map(|entry| match &entry.event {
            Event::Read(read) => Some(read.readings.lands.clone()),
            _ => None,
        })
        .collect();
    assert_eq!(read.len(), 2);
    assert_eq!(read[0], read[1], "the same readings again");
    let fresh = browser.get(&format!("{path}?empty=yes")).await;
    assert_eq!(fresh.value(&typed[0].0), "", "an empty sheet is there for whoever wants one");
}

/// Sends the page on as it stands, with some of it changed.
async fn go_on(browser: &mut Browser, path: &str, page: &Answer, with: &[(&str, &str)]) -> Answer {
    let fields = page.filled(with);
    browser.post(path, &sent(&fields)).await
}

#[tokio::test]
async fn handing_back_asks_one_thing_after_the_other() {
    let mut browser = demo().await;
    let (id, _) = planned(&mut browser, "T-1").await;
    let path = format!("/cutters/{id}/back");
    let size = browser.get(&path).await;
    assert!(size.has("The size for its tag") && size.has("The machinist sets this size"));
    assert!(size.has("what the plan expects: measure it"), "{}", size.main());
    let visible = |page: &Answer| page.main().matches("type=\"text\"").count();
    assert_eq!(visible(&size), 1, "one thing is asked");
    let wrong = go_on(&mut browser, &path, &size, &[("as_ground.diameter", "0.4x")]).await;
    assert_eq!(wrong.status, StatusCode::UNPROCESSABLE_ENTITY);
    assert!(!wrong.problem("as_ground.diameter").is_empty());
    assert_eq!(wrong.value("as_ground.diameter"), "0.4x");
    let grown = go_on(&mut browser, &path, &size, &[("as_ground.diameter", "0.4999")]).await;
    assert!(grown.problem("as_ground.diameter").contains("a grind adds no metal"));
    let ground = go_on(&mut browser, &path, &size, &[("as_ground.diameter", "0.4871")]).await;
    assert_eq!(ground.status, StatusCode::OK);
    assert!(ground.has("How its teeth are ground now"), "{}", ground.main());
    for name in ["as_ground.primary", "as_ground.secondary", "as_ground.land"] {
        assert!(!ground.value(name).is_empty(), "{name} stands there as planned");
    }
    let flat = go_on(&mut browser, &path, &ground, &[("as_ground.secondary", "2")]).await;
    assert!(flat.problem("as_ground.secondary").contains("clears the primary's heel"));
    let before = go_on(&mut browser, &path, &flat, &[("_before", "1")]).await;
    assert_eq!(before.value("as_ground.diameter"), "0.4871", "nothing is lost on the way back");
    let to = go_on(&mut browser, &path, &ground, &[]).await;
    assert!(to.has("Where it goes"));
    assert_eq!(to.value("_to"), "mill 2", "back to where it came from");
    let done = go_on(&mut browser, &path, &to, &[("_to", "tool crib")]).await;
    assert_eq!(done.to, format!("/cutters/{id}/tag"), "{}", done.main());
    let cutter = browser.desk().cutter(&id).await.unwrap();
    let ground = cutter.state.cutter.as_ground().copied().unwrap();
    assert!((ground.diameter.inches() - 0.4871).abs() < 1e-9);
}

#[tokio::test]
async fn what_was_typed_is_given_back_where_somebody_else_wrote_first() {
    let mut browser = demo().await;
    let id = worn(&mut browser, "T-1").await;
    let path = format!("/cutters/{id}/wear");
    let (mine, theirs) = (browser.get(&path).await, browser.get(&path).await);
    browser.enter(&path, &sent(&theirs.filled(&[("wear.measured_diameter", "0.4945")]))).await;
    let typed = mine.filled(&[("wear.measured_diameter", "0.4940")]);
    let late = browser.post(&path, &sent(&typed)).await;
    assert_eq!(late.status, StatusCode::CONFLICT);
    assert_eq!(late.value("wear.measured_diameter"), "0.4940");
    assert!(late.has("what you typed still stands here"), "{}", late.main());
    browser.enter(&path, &sent(&late.fields())).await;
    let cutter = browser.desk().cutter(&id).await.unwrap();
    let size = cutter.state.cutter.wear().and_then(|wear| wear.measured_diameter());
    assert!((size.unwrap().inches() - 0.4940).abs() < 1e-9, "sent once more, it counts");
}

#[tokio::test]
async fn a_size_that_is_none_is_told_where_it_was_typed() {
    let mut browser = demo().await;
    let (id, _) = planned(&mut browser, "T-1").await;
    let page = browser.get(&format!("/cutters/{id}/grind?step=999")).await;
    let seen = hidden(&page, "seen");
    let form = vec![("seen", &*seen), ("shown_in", "in"), ("diameter", "4.87")];
    let told = browser.post(&format!("/cutters/{id}/grind/finish"), &form).await;
    assert_eq!(told.status, StatusCode::UNPROCESSABLE_ENTITY);
    assert!(told.has("is it ground?") && told.has("value=\"4.87\""), "{}", told.main());
    assert!(told.has("is no size of T-1"), "{}", told.main());
}

#[tokio::test]
async fn a_page_that_says_no_leads_back_to_where_the_hand_was() {
    let mut browser = demo().await;
    let (id, _) = planned(&mut browser, "T-1").await;
    let from = format!("/cutters/{id}/grind?step=3");
    let form = vec![("seen", "1"), ("step", "no such step")];
    let told = browser.post_from(&from, &format!("/cutters/{id}/grind/done"), &form).await;
    assert!(told.status.is_client_error());
    let back = format!("href=\"{from}\">Back to where you were");
    assert!(told.has(&back), "{}", told.main());
    for elsewhere in ["http://elsewhere.example/x", "http://localhost//elsewhere.example"] {
        let told = browser.post_from(elsewhere, &format!("/cutters/{id}/grind/done"), &form).await;
        assert!(!told.has("Back to where you were") && told.has("To the tray"), "{elsewhere}");
    }
    assert!(!browser.get("/nowhere").await.has("Back to where you were"));
}

#[tokio::test]
async fn a_count_of_teeth_that_can_hardly_be_meant_is_asked_about() {
    let mut browser = Browser::new().await;
    let mut form = end_mill("T-1");
    form.retain(|(name, _)| *name != "cutter.teeth");
    form.push(("cutter.teeth", "24"));
    let asked = browser.post("/receive/new", &form).await;
    assert_eq!(asked.status, StatusCode::UNPROCESSABLE_ENTITY);
    let told = asked.problem("cutter.teeth");
    assert!(told.contains("24 teeth would stand 0.065 in apart"), "{told}");
    assert!(asked.has("I have counted again: it has that many teeth"));
    assert_eq!(asked.value("cutter.diameter"), "1/2");
    let sure = asked.filled(&[("_teeth_sure", "yes")]);
    let (to, _) = browser.enter("/receive/new", &sent(&sure)).await;
    let cutter = browser.desk().cutter(&cutter_of(&to)).await.unwrap();
    assert_eq!(cutter.state.cutter.teeth(), 24, "it is not refused");
    let (_, page) = browser.enter("/receive/new", &end_mill("T-2")).await;
    assert!(page.has("Wear of T-2"), "four teeth are not asked about");
}

/// Puts a machine and a wheel in the book, and gives the paths of both.
async fn stand(browser: &Browser, machine: &str, wheel: &str) -> (String, String) {
    let desk = browser.desk();
    let by = Initials::new("IV").unwrap();
    let paper = desk.fresh(SubjectKind::Machine);
    let written = Written { name: "left bench".to_owned(), text: machine.to_owned() };
    desk.write(&by, &paper, 0, vec![Event::Written(written)]).await.unwrap();
    let subject = desk.fresh(SubjectKind::Wheel);
    let wheel = read_wheels("example", wheel).unwrap().remove(0);
    let entered = WheelEntered { wheel, marks: Vec::new() };
    let event = Event::WheelEntered(Box::new(entered));
    desk.write(&by, &subject, 0, vec![event]).await.unwrap();
    (format!("/machines/{}", paper.id), format!("/wheels/{}", subject.id))
}

/// A machine that cannot grind says so where it is described, where the wheel is entered and
/// chosen, and in the tray, and not only when somebody plans.
#[tokio::test]
async fn what_stands_against_a_machine_is_said_before_anybody_plans() {
    let loose = MACHINE
        .replace("nut_thread = \"left\"", "nut_thread = \"right\"")
        .replace("rotation = [\"clockwise\", \"counterclockwise\"]", "rotation = [\"clockwise\"]");
    let short =
        MACHINE.replace("range = [\"0 deg\", \"180 deg\"]", "range = [\"-30 deg\", \"45 deg\"]");
    assert!(loose != MACHINE && short != MACHINE);
    for (machine, words) in [
        (MACHINE.to_owned(), ""),
        (loose, "the nut must tighten under the wheel"),
        (short, "beyond the end of &#34;head circle&#34;"),
    ] {
        let mut browser = Browser::new().await;
        let (at_machine, at_wheel) = stand(&browser, &machine, CUP).await;
        let id = worn(&mut browser, "T-1").await;
        for path in [&*at_machine, &at_wheel, &format!("{at_wheel}/mount"), "/"] {
            let page = browser.get(path).await;
            let is_said = page.has(words) && !words.is_empty();
            let said = ["It does not grind with", "No use on", "no use there", "not on left bench"];
            let is_against = said.iter().any(|words| page.has(words));
            assert_eq!(is_said, !words.is_empty(), "{path}: {}", page.main());
            assert_eq!(is_against, !words.is_empty(), "{path}: {}", page.main());
        }
        let page = browser.get(&format!("/cutters/{id}")).await;
        assert_eq!(page.has("not on left bench"), !words.is_empty(), "{}", page.main());
        let plan = browser.get(&format!("/cutters/{id}/plan")).await;
        assert_eq!(plan.has("role=\"alert\""), !words.is_empty(), "as the plan says: {words}");
    }
}

#[tokio::test]
async fn a_cups_height_is_kept_and_cannot_grow() {
    let mut browser = Browser::new().await;
    let (_, wheel) = stand(&browser, MACHINE, CUP).await;
    let path = format!("{wheel}/enter/measure");
    let page = browser.get(&path).await;
    assert!(page.has("Height over all"), "{}", page.main());
    let depth = {
        let id = wheel.rsplit('/').next().unwrap();
        browser.desk().wheel(id).await.unwrap().state.wheel.depth()
    };
    let taller = format!("{} mm", depth.mm() + 1.0);
    let grown = browser.post(&path, &sent(&page.filled(&[("wheel.depth", &taller)]))).await;
    assert!(grown.problem("wheel.depth").contains("no wheel grows"), "{}", grown.main());
    let worn = format!("{} mm", depth.mm() - 0.25);
    let (_, page) = browser.enter(&path, &sent(&page.filled(&[("wheel.depth", &worn)]))).await;
    assert!(page.has("height now") && page.has("measured"), "{}", page.main());
    let id = wheel.rsplit('/').next().unwrap();
    let now = browser.desk().wheel(id).await.unwrap().state.wheel.depth();
    assert!((depth.mm() - 0.25 - now.mm()).abs() < 1e-9);
}

//! The end at the bench: asked for by hand, kept open behind a corrective grind, and taken off the
//! lengths in the record.

use geometry::System;
use sheets::paper::{corrective_setup_sheet, end_setup_sheet};
use shop::book::{Store, SubjectKind};

use super::again::{finish, weigh};
use super::bench::Browser;
use super::cutters::{demo, hidden, worn};
use crate::paper;

/// The demo shop, and its machine whose work head swings.
async fn with_universal_bench() -> (Browser, String) {
    let browser = demo().await;
    let found = browser.desk().book().find(SubjectKind::Machine, "universal bench").await.unwrap();
    (browser, found.unwrap().subject.id.to_string())
}

/// Sends that a step is done; gives the step behind it.
async fn done(browser: &mut Browser, id: &str, number: usize) -> super::bench::Answer {
    let step = browser.get(&format!("/cutters/{id}/grind?step={number}")).await;
    let (seen, key) = (hidden(&step, "seen"), hidden(&step, "step"));
    let form = vec![("seen", &*seen), ("step", &*key), ("shown_in", "in")];
    browser.enter(&format!("/cutters/{id}/grind/done"), &form).await.1
}

/// The number of the step of that title.
fn step_of(page: &super::bench::Answer, title: &str) -> usize {
    let mark = format!(", {title}");
    let (before, _) = page.main().split_once(&mark).unwrap_or_else(|| panic!("{}", page.main()));
    before.rsplit_once("aria-label=\"step ").unwrap().1.parse().unwrap()
}

#[tokio::test]
async fn an_end_that_is_asked_for_stays_open_behind_a_corrective_grind() {
    let (mut browser, machine) = with_universal_bench().await;
    let id = worn(&mut browser, "T-1").await;
    let asked = format!("/cutters/{id}/plan?machine={machine}&end=ground+too&off_length=0.010");
    let plan = browser.get(&asked).await;
    assert!(plan.has("the end is planned too"), "{}", plan.main());
    let seen = plan.value("seen");
    let keep = vec![
        ("shown_in", "in"),
        ("seen", &*seen),
        ("machine", &*machine),
        ("end", "ground too"),
        ("off_length", "0.010"),
    ];
    browser.enter(&format!("/cutters/{id}/plan"), &keep).await;
    let sheet = browser.get(&format!("/cutters/{id}/sheet")).await;
    assert!(sheet.has("THE END  T-1"), "{}", sheet.main());

    let first = browser.get(&format!("/cutters/{id}/grind")).await;
    let [wheel, pass] = ["wheel for the end", "end, pass 1"].map(|title| step_of(&first, title));
    done(&mut browser, &id, wheel).await;
    done(&mut browser, &id, pass).await;
    finish(&mut browser, &id).await;
    let checked = weigh(&mut browser, &id, 0.012).await;
    let seen = hidden(&checked, "seen");
    let (_, step) = browser.enter(&format!("/cutters/{id}/again"), &vec![("seen", &*seen)]).await;
    assert!(step.has("Do not grind it again"), "nothing of it is done: {}", step.main());
    // The metal is off; the wheel that took it off has made room for another since.
    assert!(!step.has("wheel for the end, done"), "{}", step.main());
    let done_pass = step_of(&step, "end, pass 1");
    let (_, behind) = step.main().split_once(&format!("step {done_pass}, end, pass 1")).unwrap();
    let (title, _) = behind.split_once('"').unwrap();
    assert!(title.ends_with(", done"), "{title}");
    let sheet = browser.get(&format!("/cutters/{id}/sheet")).await;
    assert!(sheet.has("CORRECTIVE GRIND") && sheet.has("THE END  T-1"), "{}", sheet.main());
    has_both_on_paper(&browser, &id).await;

    done(&mut browser, &id, 1).await;
    let step = browser.get(&format!("/cutters/{id}/grind")).await;
    assert!(!step.has("Do not grind it again"), "a step of it is done");
    finish(&mut browser, &id).await;
    weigh(&mut browser, &id, 0.0).await;
    hand_back(&mut browser, &id).await;
}

/// The paper of a corrective grind has the pages of the end that is still open behind it.
async fn has_both_on_paper(browser: &Browser, id: &str) {
    let cutter = browser.desk().cutter(id).await.unwrap();
    let plan = cutter.state.planned.unwrap();
    let made = browser.desk().kept(&cutter.subject, plan).await.unwrap();
    let date = "2031-03-05".to_owned();
    let imprint = paper::imprint(None, "T-1", paper::of_entry(plan), date, System::Inch);
    let corrective = made.corrective.as_ref().unwrap();
    let pages = paper::set_up(&made.plan, &made.beside, Some(corrective), &imprint);
    let alone = corrective_setup_sheet(corrective, &imprint);
    let end = end_setup_sheet(&made.plan, made.beside.end.planned().unwrap(), &imprint);
    assert_eq!(pages.scenes().len(), alone.scenes().len() + end.scenes().len());
}

/// Says that every step is done whose title has these words, up to so many of them.
async fn all_done(browser: &mut Browser, id: &str, title: &str, up_to: usize) -> usize {
    let page = browser.get(&format!("/cutters/{id}/grind?step=1")).await;
    let places = page.main().match_indices("aria-label=\"step ");
    let labels = places.map(|(at, mark)| &page.main()[at + mark.len()..]);
    let titled = labels.filter_map(|label| {
        let (number, rest) = label.split_once(", ")?;
        rest.split('"').next()?.contains(title).then(|| number.parse().unwrap())
    });
    let numbers: Vec<usize> = titled.collect();
    assert!(!numbers.is_empty(), "a step is called {title}");
    for number in numbers.iter().take(up_to) {
        done(browser, id, *number).await;
    }
    numbers.len()
}

/// Hands it back with what the form proposes: the end's loss comes off both lengths. It is proposed
/// once its last pass is done: a wheel that was mounted took nothing, and a first pass not all.
async fn hand_back(browser: &mut Browser, id: &str) {
    let path = format!("/cutters/{id}/back");
    let form = browser.get(&path).await;
    assert!(form.has("steps of the end are not marked as done"), "{}", form.main());
    assert_eq!(form.value("_shorter"), "", "only the wheel is mounted");
    let passes = all_done(browser, id, "end, pass", 1).await;
    assert!(passes > 1, "{passes} passes");
    assert_eq!(browser.get(&path).await.value("_shorter"), "", "one of {passes} passes is done");
    all_done(browser, id, "end, pass", passes).await;
    let form = browser.get(&path).await;
    let before = browser.desk().cutter(id).await.unwrap().state.cutter;
    assert_eq!(form.value("_shorter"), "0.0100 in");
    let mut fields = form.fields();
    for (wrong, why) in [("2", "something must be left"), ("-0.01", "adds no length")] {
        set(&mut fields, "_shorter", wrong);
        let refused = browser.post(&path, &sent(&fields)).await;
        assert!(refused.problem("_shorter").contains(why), "{}", refused.main());
    }
    set(&mut fields, "_shorter", "0.010");
    browser.enter(&path, &sent(&fields)).await;
    let after = browser.desk().cutter(id).await.unwrap().state.cutter;
    let lost = |before: geometry::Length, after: geometry::Length| (before - after).inches();
    assert!((lost(before.flute_length(), after.flute_length()) - 0.010).abs() < 1e-9);
    assert!((lost(before.overall_length(), after.overall_length()) - 0.010).abs() < 1e-9);
    let record = browser.get(&format!("/cutters/{id}/record")).await;
    assert!(record.has("shorter by 0.0100 in"), "{}", record.main());
}

fn set(fields: &mut [(String, String)], name: &str, value: &str) {
    let field = fields.iter_mut().find(|(other, _)| other == name).unwrap();
    value.clone_into(&mut field.1);
}

fn sent(fields: &[(String, String)]) -> super::bench::Sent<'_> {
    let is_meant = |name: &str| !["_ask", "_unground", "_before"].contains(&name);
    let all = fields.iter().filter(|(name, _)| is_meant(name));
    all.map(|(name, value)| (name.as_str(), value.as_str())).collect()
}

//! The corrective grind at the bench: planned at a tap, given up, done step by step, and the next
//! readings held against it.

use axum::http::StatusCode;

use super::bench::{Answer, Browser};
use super::cutters::{demo, hidden, worn};

/// A cutter whose plan is kept and that is ground, up to its page of readings.
async fn ground(browser: &mut Browser) -> String {
    let id = worn(browser, "T-1").await;
    let plan = browser.get(&format!("/cutters/{id}/plan")).await;
    let (seen, machine) = (plan.value("seen"), plan.value("machine"));
    let keep = vec![("shown_in", "in"), ("seen", &*seen), ("machine", &*machine)];
    browser.enter(&format!("/cutters/{id}/plan"), &keep).await;
    finish(browser, &id).await;
    id
}

pub(super) async fn finish(browser: &mut Browser, id: &str) {
    let end = browser.get(&format!("/cutters/{id}/grind?step=99")).await;
    let seen = hidden(&end, "seen");
    let path = format!("/cutters/{id}/grind/finish");
    browser.enter(&path, &vec![("seen", &*seen), ("shown_in", "in")]).await;
}

/// Weighs lands after the secondary that are so much wider, in inches, at the shank's end than the
/// plan that counts foretells.
pub(super) async fn weigh(browser: &mut Browser, id: &str, wider: f64) -> Answer {
    let form = browser.get(&format!("/cutters/{id}/check")).await;
    let land = expected_land(&form);
    let fields = form.fields();
    let stage = fields.iter().find(|(_, value)| value == "after secondary").unwrap();
    let key = stage.0.replace(".stage", "");
    let is_land = |name: &str| name.starts_with(&format!("{key}.at[")) && name.contains(".teeth[");
    let widths: Vec<(String, String)> = fields
        .iter()
        .map(|(name, value)| {
            let share = if name.contains(".at[0]") { 0.0 } else { 1.0 };
            let width = || format!("{:.4}", land + wider * share);
            (name.clone(), if is_land(name) { width() } else { value.clone() })
        })
        .collect();
    let sent: Vec<(&str, &str)> = widths.iter().map(|(n, v)| (n.as_str(), v.as_str())).collect();
    let (to, page) = browser.enter(&format!("/cutters/{id}/check"), &sent).await;
    assert_eq!(to, format!("/cutters/{id}/checked"));
    page
}

/// The land after the secondary, in inches, that the page of readings says to expect.
fn expected_land(form: &Answer) -> f64 {
    let (_, behind) = form.main().split_once("Lands after the secondary").unwrap();
    let (_, expect) = behind.split_once("Expect ").unwrap();
    let number = expect.split(' ').next().unwrap();
    assert!(expect[number.len()..].starts_with(" in"), "{expect:.40}");
    number.parse().unwrap()
}

#[tokio::test]
async fn a_check_leads_to_a_corrective_grind_and_that_to_a_sound_check() {
    let mut browser = demo().await;
    let id = ground(&mut browser).await;
    let checked = weigh(&mut browser, &id, 0.012).await;
    assert!(checked.has("Set up the corrective grind"), "{}", checked.main());
    assert!(checked.has("Leave it as it is"));

    let again = format!("/cutters/{id}/again");
    let seen = hidden(&checked, "seen");
    let (to, step) = browser.enter(&again, &vec![("seen", &*seen)]).await;
    assert_eq!(to, format!("/cutters/{id}/grind"));
    assert!(step.has("draw clear") && step.has("Do not grind it again"), "{}", step.main());
    assert!(browser.get(&format!("/cutters/{id}/sheet")).await.has("CORRECTIVE GRIND"));

    let (seen, key) = (hidden(&step, "seen"), hidden(&step, "step"));
    let form = vec![("seen", &*seen), ("step", &*key), ("shown_in", "in")];
    let (_, next) = browser.enter(&format!("{to}/done"), &form).await;
    assert!(next.has("taper: table"), "{}", next.main());
    assert!(!next.has("Do not grind it again"), "a step is done");
    let given_up = browser.post(&format!("{again}/undo"), &vec![]).await;
    assert_eq!(given_up.status, StatusCode::UNPROCESSABLE_ENTITY);

    finish(&mut browser, &id).await;
    let record = browser.get(&format!("/cutters/{id}/record")).await;
    assert!(record.has("after the check of entry") && record.has("corrected"), "{}", record.main());
    let before = browser.get(&format!("/cutters/{id}/checked")).await;
    assert_eq!(before.status, StatusCode::NOT_FOUND, "what was read before counts no longer");
    let sound = weigh(&mut browser, &id, 0.0).await;
    assert!(sound.has("Sound as far as read"), "{}", sound.main());
}

#[tokio::test]
async fn a_corrective_grind_can_be_given_up_or_left_out() {
    let mut browser = demo().await;
    let id = ground(&mut browser).await;
    let checked = weigh(&mut browser, &id, 0.012).await;
    let again = format!("/cutters/{id}/again");
    let seen = hidden(&checked, "seen");
    let nothing = browser.post(&again, &vec![("seen", &*seen), ("leave_1", "yes")]).await;
    assert_eq!(nothing.status, StatusCode::UNPROCESSABLE_ENTITY);
    assert!(nothing.has("left as it is"), "{}", nothing.main());

    let (_, step) = browser.enter(&again, &vec![("seen", &*seen)]).await;
    let seen = hidden(&step, "seen");
    let (to, page) = browser.enter(&format!("{again}/undo"), &vec![("seen", &*seen)]).await;
    assert_eq!(to, format!("/cutters/{id}/checked"));
    assert!(page.has("Set up the corrective grind"), "{}", page.main());
}

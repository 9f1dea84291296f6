//! Machines: described by questions, by their file, and turned from one into the other.

use axum::http::StatusCode;
use shop::book::SubjectKind;
use shop::record::Machine;

use super::bench::{Answer, Browser, Sent, clear, sent};
use crate::files::read_machine;

const CENTRES: &str = include_str!("../../../../../examples/machines/centres-bench.toml");
const INDEX: &str = include_str!("../../../../../examples/machines/index-bench.toml");
const LEFT: &str = include_str!("../../../../../examples/machines/left-bench.toml");
const RIGHT: &str = include_str!("../../../../../examples/machines/right-bench.toml");

fn read(text: &str) -> Machine {
    read_machine("example", text).unwrap()
}

async fn machine(browser: &Browser, path: &str) -> Machine {
    let id = path.rsplit('/').next().unwrap();
    read(&browser.desk().document(SubjectKind::Machine, id).await.unwrap().state.text)
}

/// What somebody in front of the left bench answers, in the order of the page's own axes.
fn answers() -> Sent<'static> {
    let mut answers = vec![
        ("machine.name", "left bench"),
        ("machine.coolant", "dry"),
        ("machine.extraction", "yes"),
        ("spindle.nut_thread", "left"),
        ("spindle.rotation", "clockwise"),
        ("spindle.rotation", "counterclockwise"),
        ("spindle.nut_end", "right"),
        ("spindle.flange_diameter", "1-3/4"),
        ("spindle.speed[0].rpm", "3600"),
        ("spindle.speed[0].belt", "large pulley"),
        ("spindle.speed[2].rpm", "4800"),
        ("spindle.speed[2].belt", "middle pulley"),
        ("spindle.speed[3].rpm", "6200"),
        ("spindle.speed[3].belt", "small pulley"),
        ("work_holding.fixture", "air spindle"),
        ("work_holding.psi", "60"),
        ("work_holding.shank_min", "1/8"),
        ("work_holding.shank_max", "1-1/4"),
        ("work_holding.squaring", "ground edge along the right side of the base"),
        ("work_holding.nose_diameter", "1-5/8"),
        ("rest.stands_on", "wheel head"),
        ("rest.finger[0].name", "wide"),
        ("rest.finger[0].width", "3/16"),
        ("rest.finger[0].kind", "plain"),
        ("rest.finger[1].name", "narrow"),
        ("rest.finger[1].width", ".040"),
        ("rest.finger[1].kind", "hooked"),
    ];
    answers.extend(slides());
    answers.extend(swivels());
    answers
}

fn slides() -> Sent<'static> {
    vec![
        ("axis[0].name", "column wheel"),
        ("axis[0].graduation", ".001"),
        ("axis[0].per_turn", ".1"),
        ("axis[0].backlash", ".004"),
        ("axis[0].range[0]", "-3"),
        ("axis[0].range[1]", "5"),
        ("axis[4].name", "saddle handwheel"),
        ("axis[4].graduation", ".0005"),
        ("axis[4].per_turn", ".1"),
        ("axis[4].reads", "radius"),
        ("axis[4].backlash", ".003"),
        ("axis[4].range[0]", "0"),
        ("axis[4].range[1]", "9"),
        ("axis[4].zero", "saddle full back"),
        ("axis[5].name", "table"),
        ("axis[5].graduation", "1/16"),
        ("axis[5].range[0]", "0"),
        ("axis[5].range[1]", "16"),
    ]
}

fn swivels() -> Sent<'static> {
    vec![
        ("axis[2].name", "head circle"),
        ("axis[2].graduation", "1"),
        ("axis[2].vernier", "5 min"),
        ("axis[2].range[0]", "0"),
        ("axis[2].range[1]", "180"),
        ("axis[2].zero", "parallel to travel"),
        ("axis[6].name", "table top"),
        ("axis[6].graduation", "1"),
        ("axis[6].vernier", "10 min"),
        ("axis[6].range[0]", "-45"),
        ("axis[6].range[1]", "45"),
        ("axis[7].name", "work head circle"),
        ("axis[7].graduation", "1"),
        ("axis[7].range[0]", "-180"),
        ("axis[7].range[1]", "180"),
        ("axis[8].name", "work head tilt"),
        ("axis[8].graduation", "1"),
        ("axis[8].halves", "yes"),
        ("axis[8].range[0]", "-30"),
        ("axis[8].range[1]", "30"),
        ("axis[10].name", "relief dial"),
        ("axis[10].graduation", "1"),
        ("axis[10].vernier", "15 min"),
        ("axis[10].range[0]", "0"),
        ("axis[10].range[1]", "40"),
    ]
}

/// The form of a new machine for a hand that has chosen inches.
async fn in_inches(browser: &mut Browser) -> Answer {
    let form = vec![("switch", "in"), ("then", "/machines/new")];
    browser.enter("/units", &form).await.1
}

#[tokio::test]
async fn the_questions_give_the_machine_that_the_example_file_gives() {
    let mut browser = Browser::new().await;
    let open = in_inches(&mut browser).await;
    assert_eq!(open.value("shown_in"), "in");
    let (path, page) = browser.enter("/machines/new", &sent(&open.filled(&answers()))).await;
    assert_eq!(machine(&browser, &path).await, read(LEFT));
    for shown in ["saddle handwheel", "5 min", "-45 deg to 45 deg", "0.0005 in", "30 min"] {
        assert!(page.has(shown), "{shown}: {}", page.main());
    }
}

#[tokio::test]
async fn switching_units_keeps_every_answer() {
    let mut browser = Browser::new().await;
    let open = in_inches(&mut browser).await;
    let mut fields = open.filled(&answers());
    fields.push(("switch".to_owned(), "mm".to_owned()));
    let switched = browser.post("/machines/new", &sent(&fields)).await;
    assert_eq!(switched.value("shown_in"), "mm");
    assert_eq!(switched.value("axis[4].graduation"), ".0005 in");
    let (path, _) = browser.enter("/machines/new", &sent(&switched.fields())).await;
    assert_eq!(machine(&browser, &path).await, read(LEFT));
}

#[tokio::test]
async fn a_missing_or_wrong_answer_is_told_beside_its_question() {
    let mut browser = Browser::new().await;
    let open = browser.get("/machines/new").await;
    let mut fields = open.filled(&answers());
    for (name, value) in &mut fields {
        match name.as_str() {
            "axis[10].vernier" => "7 min".clone_into(value),
            "axis[8].graduation" => value.clear(),
            "axis[6].range[1]" => value.clear(),
            "axis[5].range[1]" => "-1".clone_into(value),
            "axis[4].name" => value.clear(),
            _ => {}
        }
    }
    let answer = browser.post("/machines/new", &sent(&fields)).await;
    assert_eq!(answer.status, StatusCode::UNPROCESSABLE_ENTITY);
    for (name, words) in [
        ("axis[10].vernier", "must hold a whole number of these"),
        ("axis[8].graduation", "is missing"),
        ("axis[6].range[1]", ""),
        ("axis[5].range[0]", "the first end is not below the second"),
        ("axis[4].name", "is missing"),
    ] {
        let told = answer.problem(name);
        assert!(!told.is_empty() && told.contains(words), "{name}: {told:?}");
    }
    assert_eq!(answer.value("axis[0].name"), "column wheel");
}

#[tokio::test]
async fn a_broken_file_names_line_and_key_and_stays_as_it_was_typed() {
    let mut browser = Browser::new().await;
    let broken = LEFT.replace("nut_thread = \"left\" ", "nut_thread = \"lefty\" ");
    let broken = broken.replace("per_turn = \"0.1 in\"\nreads", "per_tern = \"0.1 in\"\nreads");
    let line = |key: &str| broken.lines().position(|line| line.starts_with(key)).unwrap() + 1;
    // A browser ends its lines so.
    let typed = broken.replace('\n', "\r\n");
    let form = vec![("seen", "0"), ("shown_in", "in"), ("_file", typed.as_str())];
    let answer = browser.post("/machines/new", &form).await;
    assert_eq!(answer.status, StatusCode::UNPROCESSABLE_ENTITY);
    let page = clear(answer.main());
    let thread = line("nut_thread");
    assert!(page.contains(&format!("line {thread}: spindle.nut_thread = \"lefty\"")), "{page}");
    let turn = line("per_tern");
    let told = format!("line {turn}: axis.per_tern = \"0.1 in\": no such key");
    assert!(page.contains(&told), "{page}");
    assert_eq!(answer.value("_file"), broken.trim_end());
    assert!(browser.desk().documents(SubjectKind::Machine).await.unwrap().is_empty());
}

#[tokio::test]
async fn a_file_is_kept_as_it_was_written_and_a_new_version_stands_beside_it() {
    let mut browser = Browser::new().await;
    let form = vec![("seen", "0"), ("shown_in", "in"), ("_file", RIGHT)];
    let (path, page) = browser.enter("/machines/new", &form).await;
    assert!(page.has("Forgetting that halves or doubles every cut"), "{}", page.main());
    // The page opens with what the file says, in the file's own order.
    let change = browser.get(&format!("{path}/change")).await;
    assert_eq!(change.value("axis[2].role"), "head tilt");
    let filled = change.filled(&[("axis[3].backlash", "0.06 mm")]);
    let (_, page) = browser.enter(&format!("{path}/change"), &sent(&filled)).await;
    assert!(page.has("see entry 2"), "{}", page.main());
    let changed = machine(&browser, &path).await;
    assert_eq!(changed.cross_feed().backlash, geometry::Length::from_mm(0.06));
    assert_eq!(changed.axes().len(), read(RIGHT).axes().len());
    let first = browser.get(&format!("{path}?version=1")).await;
    assert!(first.has("backlash = &#34;0.08 mm&#34;"), "{}", first.main());

    // Whoever still looks at the first version is told, and loses nothing.
    let late = browser.post(&format!("{path}/change"), &sent(&filled)).await;
    assert_eq!(late.status, StatusCode::CONFLICT);
    assert_eq!(late.value("axis[3].backlash"), "0.06 mm");
    assert_eq!(late.value("seen"), "2");
}

#[tokio::test]
async fn questions_and_file_turn_into_one_another() {
    let mut browser = Browser::new().await;
    for example in [LEFT, RIGHT, CENTRES, INDEX] {
        let form =
            vec![("seen", "0"), ("shown_in", "in"), ("_file", example), ("_turn", "questions")];
        let questions = browser.post("/machines/new", &form).await;
        let mut fields = questions.fields();
        fields.push(("_turn".to_owned(), "file".to_owned()));
        let file = browser.post("/machines/new", &sent(&fields)).await;
        assert_eq!(read(&file.value("_file")), read(example));
    }
    // What is not yet whole can be looked at as a file too.
    let open = browser.get("/machines/new").await;
    let mut fields = open.filled(&[("machine.name", "half told")]);
    fields.push(("_turn".to_owned(), "file".to_owned()));
    let file = browser.post("/machines/new", &sent(&fields)).await;
    assert!(file.value("_file").contains("name = \"half told\""), "{}", file.main());
}

#[tokio::test]
async fn two_machines_of_one_name_are_not_kept() {
    let mut browser = Browser::new().await;
    let form = vec![("seen", "0"), ("shown_in", "in"), ("_file", LEFT)];
    let (path, _) = browser.enter("/machines/new", &form).await;
    let answer = browser.post("/machines/new", &form).await;
    assert_eq!(answer.status, StatusCode::UNPROCESSABLE_ENTITY);
    assert!(answer.has("another machine has this name"), "{}", answer.main());
    browser.enter(&format!("{path}/retire"), &vec![("seen", "1"), ("why", "sold")]).await;
    assert!(!browser.get("/machines").await.has("left bench"));
    assert!(browser.get("/machines?gone=yes").await.has("left bench"));
}

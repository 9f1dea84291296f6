//! What the interface answers, held against its description.

use std::collections::BTreeSet;

use axum::body::Body;
use axum::http::header::{AUTHORIZATION, HOST};
use axum::http::{Request, StatusCode};
use serde_json::Value;
use shop::book::event::{CutterEntered, Ground, Received};
use shop::book::{Event, Initials, Sessions, Store, SubjectKind};

use crate::desk::make_token;
use crate::files::read_cutter;
use crate::web::testing::{AT, Answer, Shop};

const CUTTER: &str = include_str!(concat!(
    env!("CARGO_MANIFEST_DIR"),
    "/../../examples/cutters/k-117-half-inch-dull.toml"
));

/// A shop with one cutter that was ground and came in again, and a token.
async fn shop() -> (Shop, String) {
    let shop = Shop::open(true).await;
    let desk = shop.bench.desk();
    let by = Initials::new("CRIB").unwrap();
    let cutter = read_cutter("k.toml", CUTTER).unwrap();
    let subject = desk.fresh(SubjectKind::Cutter);
    let entered = CutterEntered { cutter: cutter.without_wear(), marks: Vec::new() };
    let ground = Ground { passes: Some(3), minutes: Some(14.5), ..Ground::default() };
    let events = vec![
        Event::CutterEntered(Box::new(entered)),
        Event::Received(Received::default()),
        Event::Ground(ground),
        Event::Received(Received::default()),
    ];
    desk.write(&by, &subject, 0, events).await.unwrap();
    let person = desk.fresh(SubjectKind::Person);
    let entered = shop::book::event::PersonEntered {
        initials: "CRIB".to_owned(),
        name: "the crib's program".to_owned(),
    };
    desk.write(&by, &person, 0, vec![Event::PersonEntered(entered)]).await.unwrap();
    let token = make_token(desk.book(), &person.id, desk.now(), 1).await.unwrap();
    (shop, token)
}

async fn ask(shop: &mut Shop, path: &str, token: &str) -> Answer {
    let request = Request::get(path).header(HOST, AT);
    let request = if token.is_empty() {
        request
    } else {
        request.header(AUTHORIZATION, format!("Bearer {token}"))
    };
    shop.send(request.body(Body::empty()).unwrap()).await
}

fn read(answer: &Answer) -> Value {
    assert!(answer.header("content-type").starts_with("application/json"), "{}", answer.page);
    serde_json::from_str(&answer.page).unwrap()
}

/// Holds a value against a schema, key by key.
fn hold(whole: &Value, schema: &Value, value: &Value, at: &str) {
    if let Some(name) = schema["$ref"].as_str() {
        let pointer = name.trim_start_matches('#');
        return hold(whole, whole.pointer(pointer).expect(name), value, at);
    }
    let kinds: Vec<&str> = match &schema["type"] {
        Value::Array(kinds) => kinds.iter().filter_map(Value::as_str).collect(),
        kind => vec![kind.as_str().expect(at)],
    };
    let kind = match value {
        Value::Null => "null",
        Value::String(_) => "string",
        Value::Number(number) if number.is_u64() && kinds.contains(&"integer") => "integer",
        Value::Number(_) => "number",
        Value::Array(_) => "array",
        Value::Object(_) => "object",
        Value::Bool(_) => "boolean",
    };
    assert!(kinds.contains(&kind), "{at} is {kind}, not {kinds:?}");
    if let Value::Object(members) = value {
        let keys: BTreeSet<&str> = members.keys().map(String::as_str).collect();
        let described: BTreeSet<&str> =
            schema["properties"].as_object().unwrap().keys().map(String::as_str).collect();
        assert_eq!(keys, described, "{at}");
        let needed = schema["required"].as_array().unwrap().iter().filter_map(Value::as_str);
        assert_eq!(needed.collect::<BTreeSet<_>>(), described, "{at}");
        for (key, value) in members {
            hold(whole, &schema["properties"][key], value, &format!("{at}.{key}"));
        }
    }
    if let Value::Array(members) = value {
        members.iter().for_each(|member| hold(whole, &schema["items"], member, at));
    }
}

#[tokio::test]
async fn answers_are_what_the_description_says() {
    let (mut shop, token) = shop().await;
    let description = read(&ask(&mut shop, "/interface/openapi.json", "").await);
    assert_eq!(description["openapi"], "3.1.0");
    let paths = description["paths"].as_object().unwrap();
    assert_eq!(paths.len(), 4);
    for (path, described) in paths {
        let path = path.replace("{number}", "K-117");
        let answer = ask(&mut shop, &path, &token).await;
        assert_eq!(answer.status, StatusCode::OK, "{path}: {}", answer.page);
        let answers = &described["get"]["responses"];
        let value = read(&answer);
        hold(&description, &answers["200"]["content"]["application/json"]["schema"], &value, &path);
        assert!(value.to_string().contains("K-117"), "{path}: {value}");
        let none = ask(&mut shop, &path, "").await;
        assert_eq!(none.status, StatusCode::UNAUTHORIZED);
        assert_eq!(none.header("www-authenticate"), "Bearer");
        hold(
            &description,
            &answers["401"]["content"]["application/json"]["schema"],
            &read(&none),
            &path,
        );
        let code = if path.contains("K-117") { "404" } else { "400" };
        let wrong = if code == "404" { path.replace("K-117", "K-0") } else { path + "?after=x" };
        let refused = ask(&mut shop, &wrong, &token).await;
        assert_eq!(refused.status.as_str(), code, "{wrong}");
        let schema = &answers[code]["content"]["application/json"]["schema"];
        hold(&description, schema, &read(&refused), &wrong);
    }
    let records = read(&ask(&mut shop, "/interface/v1/records/k-117", &token).await);
    assert_eq!(records["grinds"][0]["passes"], 3);
    let sizes = read(&ask(&mut shop, "/interface/v1/sizes", &token).await);
    assert_eq!(sizes["sizes"][0]["nominal_mm"], 12.7);
    let shelf = ask(&mut shop, "/interface/v1/cutters?stage=on%20the%20shelf", &token).await;
    assert_eq!(read(&shelf)["cutters"].as_array().unwrap().len(), 0);
    let other = ask(&mut shop, "/interface/v1/cutters?stage=lost", &token).await;
    assert_eq!(other.status, StatusCode::BAD_REQUEST);
}

#[tokio::test]
async fn errors_are_answers_to_programs_too() {
    let (mut shop, token) = shop().await;
    let behind = "/interface/v1/cutters";
    for (method, path, status) in [
        ("GET", "/interface/v1/nope", 404),
        ("GET", "/interface/", 404),
        ("POST", "/interface/v1/nope", 404),
        ("POST", behind, 405),
        ("DELETE", behind, 405),
        ("POST", "/interface/openapi.json", 405),
        ("GET", "/interface/v1/cutters?stage=waiting", 200),
        ("GET", "/interface/v1/cutters?limit=-1", 400),
        ("GET", "/interface/v1/cutters?stage=waiting&stage=planned", 400),
        ("GET", "/interface/v1/cutters/%FF", 400),
    ] {
        let request = Request::builder().method(method).uri(path).header(HOST, AT);
        let request = request.header(AUTHORIZATION, format!("Bearer {token}"));
        let answer = shop.send(request.body(Body::from("{}")).unwrap()).await;
        assert_eq!(answer.status.as_u16(), status, "{method} {path}: {}", answer.page);
        let has_error = read(&answer)["error"].is_string();
        assert_eq!(has_error, status != 200, "{method} {path}: {}", answer.page);
        assert_eq!(answer.header("allow").contains("GET"), status == 405, "{method} {path}");
    }
    let foreign = Request::get(behind).header(HOST, "elsewhere.example");
    let answer = shop.send(foreign.body(Body::empty()).unwrap()).await;
    assert_eq!(answer.status, StatusCode::FORBIDDEN);
    assert!(read(&answer)["error"].as_str().unwrap().contains("host"), "{}", answer.page);
}

#[tokio::test]
async fn a_token_reads_and_does_nothing_else() {
    let (mut shop, token) = shop().await;
    shop.cookie("session", &token);
    let page = shop.get("/").await;
    assert!(page.to().starts_with("/who"), "a token signs nobody in: {}", page.status);
    let desk = shop.bench.desk();
    let person = desk.book().find(SubjectKind::Person, "CRIB").await.unwrap().unwrap();
    assert_eq!(desk.book().close_sessions_of(&person.subject.id).await.unwrap(), 1);
    let withdrawn = ask(&mut shop, "/interface/v1/sizes", &token).await;
    assert_eq!(withdrawn.status, StatusCode::UNAUTHORIZED);
}

#[tokio::test]
async fn who_asks_too_often_must_wait() {
    let (mut shop, token) = shop().await;
    let path = "/interface/v1/cutters/K-117";
    let mut last = StatusCode::OK;
    for _ in 0..121 {
        last = ask(&mut shop, path, &token).await.status;
    }
    assert_eq!(last, StatusCode::TOO_MANY_REQUESTS);
    for _ in 0..21 {
        last = ask(&mut shop, path, "none").await.status;
    }
    assert_eq!(last, StatusCode::TOO_MANY_REQUESTS);
}

/// A client that was made from the description escapes what it sends and sends back what it got:
/// page after page every cutter comes once, whichever way it writes its addresses.
#[tokio::test]
async fn pages_follow_each_other_by_the_word_that_was_given() {
    let (mut shop, token) = shop().await;
    let desk = shop.bench.desk();
    let by = Initials::new("CRIB").unwrap();
    for at in 0..150 {
        let text = CUTTER.replacen("K-117", &format!("t {at:04}/ü+1"), 1);
        let cutter = read_cutter("k.toml", &text).unwrap().without_wear();
        let entered = CutterEntered { cutter, marks: Vec::new() };
        let subject = desk.fresh(SubjectKind::Cutter);
        let events = vec![Event::CutterEntered(Box::new(entered))];
        desk.write(&by, &subject, 0, events).await.unwrap();
    }
    let mut numbers = BTreeSet::new();
    let mut after = String::new();
    loop {
        let page = read(&ask(&mut shop, &format!("/interface/v1/sizes{after}"), &token).await);
        for one in page["sizes"].as_array().unwrap() {
            assert!(numbers.insert(one["number"].as_str().unwrap().to_owned()), "{one}");
        }
        let Some(next) = page["next"].as_str() else { break };
        assert!(next.chars().all(|letter| letter.is_ascii_alphanumeric()), "{next}");
        after = format!("?after={next}");
    }
    assert_eq!(numbers.len(), 151);
}

/// Whoever asks for what is not known would take the answer for one that heeds it.
#[tokio::test]
async fn a_query_that_is_not_known_is_refused() {
    let (mut shop, token) = shop().await;
    for (query, said) in [
        ("sizes?stage=waiting", "stage is not known here; after can be asked for"),
        ("cutters?stages=ground", "stages is not known here; stage and after can be asked for"),
        ("cutters?stage=waiting&stage=ground", "stage stands there twice; write it once"),
        ("cutters/K-117?full=yes", "full is not known here; nothing can be asked for"),
        ("records/K-117?after=1", "after is not known here"),
        ("cutters?after=0g", "after is what stood under"),
        ("cutters?after=c3a", "after is what stood under"),
    ] {
        let answer = ask(&mut shop, &format!("/interface/v1/{query}"), &token).await;
        assert_eq!(answer.status, StatusCode::BAD_REQUEST, "{query}");
        assert!(read(&answer)["error"].as_str().unwrap().contains(said), "{}", answer.page);
    }
}

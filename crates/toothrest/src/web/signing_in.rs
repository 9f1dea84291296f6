//! The door of a bench that others can reach.

use std::net::SocketAddr;

use axum::body::Body;
use axum::extract::ConnectInfo;
use axum::http::StatusCode;
use axum::http::header::SET_COOKIE;
use shop::book::event::{PersonEntered, PinSet};
use shop::book::{Event, FailedAttempt, Initials, Sessions, SubjectKind};

use super::testing::{Answer, Shop, body, posted};
use crate::desk::pin_hash;

const PIN: &str = "31415";

/// A bench at which AB and OB have the PIN.
async fn shop() -> Shop {
    let shop = Shop::open(true).await;
    for initials in ["AB", "OB"] {
        let desk = shop.bench.desk();
        let entered = PersonEntered { initials: initials.to_owned(), name: initials.to_owned() };
        let pin = PinSet { hash: pin_hash(PIN).unwrap() };
        let events = vec![Event::PersonEntered(entered), Event::PinSet(pin)];
        let by = Initials::new(initials).unwrap();
        desk.write(&by, &desk.fresh(SubjectKind::Person), 0, events).await.unwrap();
    }
    shop
}

async fn tries(shop: &mut Shop, initials: &str, pin: &str, peer: [u8; 4]) -> Answer {
    let form = [("initials", initials), ("pin", pin), ("then", "/day")];
    let mut request = posted("/who").body(Body::from(body(&form))).unwrap();
    let peer = SocketAddr::from((peer, 40_000));
    request.extensions_mut().insert(ConnectInfo(peer));
    shop.send(request).await
}

#[tokio::test]
async fn nothing_is_shown_before_somebody_has_signed_in() {
    let mut shop = shop().await;
    shop.cookie("who", "AB");
    for path in [
        "/",
        "/tables",
        "/prices",
        "/day",
        "/book",
        "/people",
        "/order",
        "/jobs/1",
        "/nowhere",
        "/search?q=k",
        "/receive",
        "/cutters/1",
        "/who/leave",
    ] {
        let answer = shop.get(path).await;
        assert_eq!(answer.status, StatusCode::SEE_OTHER, "{path}: {}", answer.page);
        assert!(answer.to().starts_with("/who?then=/"), "{path}: {}", answer.to());
        assert!(answer.page.is_empty(), "{path}: {}", answer.page);
    }
    for path in ["/book/copy", "/order", "/tables", "/demo", "/people"] {
        let answer = shop.post(path, &[("text", "")]).await;
        assert_eq!(answer.status, StatusCode::SEE_OTHER, "{path}");
        assert!(answer.to().starts_with("/who"), "{path}: {}", answer.to());
    }
    assert!(shop.bench.demo().is_none() && shop.bench.jobs().last().is_none());
    let who = shop.get("/who").await;
    assert_eq!(who.status, StatusCode::OK);
    assert!(!who.page.contains(">AB<"), "who works here is not told");
    assert_eq!(shop.get("/static/bench.css").await.status, StatusCode::OK);
}

#[tokio::test]
async fn signing_in_and_out() {
    let mut shop = shop().await;
    let open = tries(&mut shop, "ab", PIN, [10, 0, 0, 1]).await;
    assert_eq!((open.status.as_u16(), open.to()), (303, "/day"));
    let cookie = open.headers.get(SET_COOKIE).unwrap().to_str().unwrap().to_owned();
    for part in ["session=", "; Path=/", "; HttpOnly", "; SameSite=Strict", "; Max-Age=43200"] {
        assert!(cookie.contains(part), "{cookie}");
    }
    let token = cookie.split(';').next().unwrap().trim_start_matches("session=").to_owned();
    assert_eq!(token.len(), 64, "256 bits at random");
    assert_eq!(shop.get("/day").await.status, StatusCode::OK);
    let gone = shop.post("/who/leave", &[]).await;
    assert_eq!(gone.to(), "/who");
    shop.cookie("session", &token);
    assert_eq!(shop.get("/day").await.status, StatusCode::SEE_OTHER, "the token is dead");
    for made_up in ["", "x", &"0".repeat(64), "../../etc"] {
        shop.cookie("session", made_up);
        assert_eq!(shop.get("/day").await.status, StatusCode::SEE_OTHER, "{made_up:?}");
    }
}

#[tokio::test]
async fn wrong_pins_must_wait_whoever_they_are_for() {
    let mut shop = shop().await;
    let here = [10, 0, 0, 1];
    let unknown = tries(&mut shop, "ZZ", PIN, here).await;
    let wrong = tries(&mut shop, "AB", "11111", here).await;
    let words = "initials and PIN do not belong together";
    assert!(unknown.page.contains(words) && wrong.page.contains(words), "both are told the same");
    assert!(!wrong.page.contains("11111"), "a PIN is never shown again");
    for _ in 0..4 {
        assert_eq!(tries(&mut shop, "AB", "11111", here).await.status.as_u16(), 422);
    }
    let waits = tries(&mut shop, "AB", PIN, here).await;
    assert_eq!(waits.status.as_u16(), 429, "the right one too");
    assert!(waits.page.contains("Wait") && waits.page.contains("seconds"), "{}", waits.page);
    assert_eq!(tries(&mut shop, "OB", PIN, here).await.to(), "/day", "others are let in");
}

/// Notes wrong PINs for somebody as if they had been tried so many seconds ago.
async fn failed(shop: &Shop, initials: &str, peer: &str, count: u64, seconds_ago: u64) {
    let desk = shop.bench.desk();
    let attempt = FailedAttempt {
        initials: Initials::new(initials).unwrap(),
        peer: peer.to_owned(),
        at: desk.now().earlier(seconds_ago),
    };
    for _ in 0..count {
        desk.book().note_failure(&attempt).await.unwrap();
    }
}

#[tokio::test]
async fn nobody_elsewhere_keeps_a_person_from_their_bench() {
    let mut shop = shop().await;
    let (bench, elsewhere) = ([10, 0, 0, 1], [10, 0, 0, 66]);
    for _ in 0..5 {
        tries(&mut shop, "AB", "11111", elsewhere).await;
    }
    assert_eq!(tries(&mut shop, "AB", PIN, elsewhere).await.status.as_u16(), 429);
    assert_eq!(tries(&mut shop, "AB", PIN, bench).await.to(), "/day", "at the bench");
    // Whoever is signed in goes on working, however often it is tried elsewhere.
    failed(&shop, "AB", "10.0.0.66", 500, 1).await;
    assert_eq!(shop.get("/day").await.status, StatusCode::OK);
}

#[tokio::test]
async fn a_wait_grows_and_passes() {
    let mut shop = shop().await;
    let here = [10, 0, 0, 1];
    failed(&shop, "AB", "10.0.0.1", 5, 31).await;
    assert_eq!(tries(&mut shop, "AB", "11111", here).await.status.as_u16(), 422, "half a minute");
    failed(&shop, "AB", "10.0.0.1", 1, 40).await;
    assert_eq!(tries(&mut shop, "AB", PIN, here).await.status.as_u16(), 429, "seven wrong");
    let mut later = self::shop().await;
    failed(&later, "AB", "10.0.0.1", 40, 3_500).await;
    assert_eq!(tries(&mut later, "AB", PIN, here).await.status.as_u16(), 429, "up to an hour");
    let mut passed = self::shop().await;
    failed(&passed, "AB", "10.0.0.1", 40, 3_601).await;
    assert_eq!(tries(&mut passed, "AB", PIN, here).await.to(), "/day");
    assert_eq!(tries(&mut passed, "AB", "11111", here).await.status.as_u16(), 422, "forgiven");
}

/// Whoever has many places to try from is stopped too, but not the bench itself, nor a browser at
/// which the person signed in before.
#[tokio::test]
async fn guessing_from_many_places_stops_strangers_only() {
    let mut shop = shop().await;
    assert_eq!(tries(&mut shop, "AB", PIN, [10, 0, 0, 1]).await.to(), "/day");
    for place in 0..12 {
        failed(&shop, "AB", &format!("10.0.1.{place}"), 5, 1).await;
    }
    let known = tries(&mut shop, "AB", PIN, [10, 0, 0, 1]).await;
    assert_eq!(known.to(), "/day", "its browser has the mark: {}", known.page);
    let same_place = tries(&mut shop, "AB", PIN, [10, 0, 1, 3]).await;
    assert_eq!(same_place.to(), "/day", "wherever it stands");
    shop.no_cookies();
    assert_eq!(tries(&mut shop, "AB", PIN, [10, 0, 0, 2]).await.status.as_u16(), 429, "a stranger");
    assert_eq!(tries(&mut shop, "AB", PIN, [127, 0, 0, 1]).await.to(), "/day", "the machine");
    shop.no_cookies();
    let ab = Initials::new("AB").unwrap();
    shop.bench.desk().book().forgive(&ab, None).await.unwrap();
    assert_eq!(tries(&mut shop, "AB", PIN, [10, 0, 0, 2]).await.to(), "/day", "lifted");
}

/// A browser that is known is still stopped when it guesses.
#[tokio::test]
async fn a_known_browser_has_no_more_tries_than_others() {
    let mut shop = shop().await;
    let here = [10, 0, 0, 1];
    assert_eq!(tries(&mut shop, "AB", PIN, here).await.to(), "/day");
    for at in 0..5 {
        let elsewhere = [10, 0, 0, 10 + at];
        assert_eq!(tries(&mut shop, "AB", "11111", elsewhere).await.status.as_u16(), 422);
    }
    assert_eq!(tries(&mut shop, "AB", PIN, [10, 0, 0, 99]).await.status.as_u16(), 429);
}

#[tokio::test]
async fn many_wrong_pins_from_one_place_must_wait_too() {
    let mut shop = shop().await;
    let there = [10, 0, 0, 9];
    for at in 0..20 {
        let answer = tries(&mut shop, &format!("Z{at}"), "1111", there).await;
        assert_eq!(answer.status.as_u16(), 422);
    }
    assert_eq!(tries(&mut shop, "AB", PIN, there).await.status.as_u16(), 429);
    assert_eq!(tries(&mut shop, "AB", PIN, [10, 0, 0, 1]).await.to(), "/day", "not from elsewhere");
}

#[tokio::test]
async fn nobody_becomes_somebody_else_and_who_leaves_is_signed_out() {
    let mut shop = shop().await;
    let here = [10, 0, 0, 1];
    tries(&mut shop, "AB", PIN, here).await;
    let people = shop.get("/people").await;
    let mut pages = people.page.split("href=\"/people/").skip(1);
    let at = pages.find(|rest| rest.split('<').next().unwrap().ends_with(">OB")).unwrap();
    let of_ob = format!("/people/{}", at.split('"').next().unwrap());
    let seen = shop.get(&of_ob).await.seen();
    let set = |so_far: &'static str, seen: String| {
        vec![("so_far", so_far), ("pin", "99999"), ("again", "99999")]
            .into_iter()
            .map(|(name, value)| (name, value.to_owned()))
            .chain([("seen", seen)])
            .collect::<Vec<_>>()
    };
    let sent = |form: &[(&'static str, String)]| {
        form.iter().map(|(name, value)| (*name, value.clone())).collect::<Vec<_>>()
    };
    let path = format!("{of_ob}/pin");
    let wrong = sent(&set("0000", seen.clone()));
    let wrong: Vec<_> = wrong.iter().map(|(name, value)| (*name, value.as_str())).collect();
    assert_eq!(shop.post(&path, &wrong).await.status.as_u16(), 422, "without the PIN so far");
    let left = shop.post(&format!("{of_ob}/leave"), &[("seen", &seen), ("why", "left")]).await;
    assert_eq!(left.to(), "/people", "{}", left.page);
    assert_eq!(tries(&mut shop, "OB", PIN, here).await.status.as_u16(), 422);
    let stale = shop.post(&format!("{of_ob}/leave"), &[("seen", &seen)]).await;
    assert_eq!(stale.status, StatusCode::CONFLICT);
}

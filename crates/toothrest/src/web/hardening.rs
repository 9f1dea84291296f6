//! Requests that no page of the bench would send, and what every answer must carry.

use axum::body::Body;
use axum::http::header::{ALLOW, HOST, ORIGIN, REFERER};
use axum::http::{Request, StatusCode};

use super::testing::{AT, Answer, Shop, body, posted};

/// Every main page and some that are not there.
const PATHS: [&str; 16] = [
    "/",
    "/who",
    "/search?q=k",
    "/receive",
    "/receive/new",
    "/tables",
    "/tables/relief",
    "/tables/bibliography",
    "/prices",
    "/day",
    "/book",
    "/people",
    "/order",
    "/nowhere",
    "/static/bench.css",
    "/cutters/none",
];

fn check_headers(path: &str, answer: &Answer) {
    let policy = answer.header("content-security-policy");
    for part in ["default-src 'none'", "script-src 'self'", "form-action 'self'", "base-uri 'none'"]
    {
        assert!(policy.contains(part), "{path}: {policy}");
    }
    assert!(!policy.contains("unsafe"), "{path}: {policy}");
    for (name, value) in [
        ("x-content-type-options", "nosniff"),
        ("x-frame-options", "DENY"),
        ("referrer-policy", "same-origin"),
        ("cross-origin-opener-policy", "same-origin"),
        ("cross-origin-resource-policy", "same-origin"),
    ] {
        assert_eq!(answer.header(name), value, "{path}: {name}");
    }
    let kept = answer.header("cache-control");
    assert_eq!(kept.contains("no-store"), !path.starts_with("/static/bench"), "{path}: {kept}");
}

#[tokio::test]
async fn every_page_carries_its_headers_and_nothing_that_they_forbid() {
    let mut shop = Shop::with_hand().await;
    for path in PATHS {
        let answer = shop.get(path).await;
        check_headers(path, &answer);
        if path.starts_with("/static") {
            continue;
        }
        for forbidden in [" style=\"", "javascript:", " onclick=", "http://", "https://"] {
            let page = answer.page.replace("http://www.w3.org/2000/svg", "");
            assert!(!page.contains(forbidden), "{path} has {forbidden}");
        }
    }
}

#[tokio::test]
async fn errors_are_pages_too() {
    let mut shop = Shop::with_hand().await;
    let odd = "/cutters/%FF%FE";
    for (path, status) in [
        ("/nowhere", 404),
        ("/static/../../etc/passwd", 404),
        ("/static/..%2f..%2fetc%2fpasswd", 404),
        ("/static/%2e%2e/x", 404),
        ("/book/copies/book-1.sqlite", 404),
        ("/day/2026-02-30", 404),
        ("/day/..%2f..%2fetc", 404),
        ("/day?date=soon", 404),
        ("/tables/none", 404),
        ("/tables/versions/7", 404),
        ("/jobs/1", 404),
        ("/jobs/x", 400),
        ("/units", 405),
        ("/book/copy", 405),
        ("/search?q=a&q=b", 400),
        (odd, 400),
        ("/cutters/none", 422),
        ("/people/00000000-0000-7000-8000-000000000000", 404),
        ("/cutters/00000000-0000-7000-8000-000000000000", 404),
    ] {
        let answer = shop.get(path).await;
        assert_eq!(answer.status.as_u16(), status, "{path}: {}", answer.page);
        assert!(answer.page.starts_with("<!doctype html>"), "{path}: {}", answer.page);
        check_headers(path, &answer);
    }
    let answer = shop.get("/book/copy").await;
    assert_eq!(answer.headers.get(ALLOW).unwrap(), "POST");
}

#[tokio::test]
async fn long_and_odd_queries_are_answered() {
    let mut shop = Shop::with_hand().await;
    let long = "x".repeat(20_000);
    for query in
        ["%00", "%FF%FE", "%3Cscript%3E", "%E2%80%AE", "a+b+c+d+e+f", "'%20OR%201=1;--", &long]
    {
        let answer = shop.get(&format!("/search?q={query}")).await;
        assert!(answer.status.as_u16() < 500, "{query}: {}", answer.page);
        assert!(!answer.page.contains("<script>"), "{query}");
    }
    let answer = shop.get("/?stage=none&after=1%202%203&more=1").await;
    assert_eq!(answer.status, StatusCode::OK);
}

#[tokio::test]
async fn only_pages_of_this_bench_may_write() {
    let mut shop = Shop::with_hand().await;
    let form = [("switch", "in"), ("then", "/")];
    assert_eq!(shop.post("/units", &form).await.status, StatusCode::SEE_OTHER);
    for origin in [
        "http://elsewhere.example",
        "null",
        "http://localhost:9999",
        "http://localhost",
        "http://localhost:8817.elsewhere.example",
        "",
    ] {
        let mut request = posted("/units").body(Body::from(body(&form))).unwrap();
        request.headers_mut().insert(ORIGIN, origin.parse().unwrap());
        let answer = shop.send(request).await;
        assert_eq!(answer.status, StatusCode::FORBIDDEN, "{origin:?}");
        check_headers("/units", &answer);
    }
    let without = |site: &str| {
        let mut request = posted("/units").body(Body::from(body(&form))).unwrap();
        request.headers_mut().remove(ORIGIN);
        request.headers_mut().insert("sec-fetch-site", site.parse().unwrap());
        request
    };
    assert_eq!(shop.send(without("same-origin")).await.status, StatusCode::SEE_OTHER);
    for site in ["cross-site", "same-site", "none", ""] {
        assert_eq!(shop.send(without(site)).await.status, StatusCode::FORBIDDEN, "{site}");
    }
}

#[tokio::test]
async fn the_bench_answers_to_its_own_names_only() {
    let mut shop = Shop::with_hand().await;
    for (host, status) in [
        (AT, 200),
        ("localhost", 200),
        ("elsewhere.example", 403),
        ("localhost.elsewhere.example", 403),
        ("", 403),
        ("localhost:x", 403),
    ] {
        let request = Request::get("/who").header(HOST, host).body(Body::empty()).unwrap();
        assert_eq!(shop.send(request).await.status.as_u16(), status, "{host:?}");
    }
    let mut twice = Request::get("/who").header(HOST, AT).body(Body::empty()).unwrap();
    twice.headers_mut().append(HOST, "localhost".parse().unwrap());
    assert_eq!(shop.send(twice).await.status, StatusCode::FORBIDDEN, "two hosts");
    for (whole, status) in [(AT, 200), ("elsewhere.example", 403), ("localhost:1", 403)] {
        let request = Request::get(format!("http://{whole}/who")).header(HOST, AT);
        let answer = shop.send(request.body(Body::empty()).unwrap()).await;
        assert_eq!(answer.status.as_u16(), status, "http://{whole}/who");
    }
    let nameless = Request::get("/who").body(Body::empty()).unwrap();
    assert_eq!(shop.send(nameless).await.status, StatusCode::FORBIDDEN);
}

#[tokio::test]
async fn a_form_that_is_too_long_or_no_form_is_refused() {
    let mut shop = Shop::with_hand().await;
    let long = "x".repeat(3 << 20);
    let answer = shop.post("/tables", &[("text", &long)]).await;
    assert_eq!(answer.status, StatusCode::PAYLOAD_TOO_LARGE, "{}", answer.page);
    assert!(answer.page.contains("too long"));
    let odd = shop.post("/tables", &[("other", "")]).await;
    assert_eq!(odd.status, StatusCode::BAD_REQUEST, "no text is not an empty text");
    let many = vec![("a", "b"); 2_001];
    assert_eq!(shop.post("/tables", &many).await.status, StatusCode::BAD_REQUEST);
    for (bytes, kind) in [
        (&b"text=%FF%FE"[..], "application/x-www-form-urlencoded"),
        (b"{\"text\":1}", "application/json"),
        (b"\xff\xfe", "application/x-www-form-urlencoded"),
    ] {
        let mut request = posted("/tables").body(Body::from(bytes)).unwrap();
        request.headers_mut().insert("content-type", kind.parse().unwrap());
        let answer = shop.send(request).await;
        let status = answer.status.as_u16();
        assert!((400..500).contains(&status), "{bytes:?}: {status}");
        assert!(answer.page.starts_with("<!doctype html>"), "{}", answer.page);
    }
}

/// What nobody reads is read all the same, and not taken for agreement where it is too long.
#[tokio::test]
async fn a_button_is_not_pressed_by_a_letter() {
    let mut shop = Shop::with_hand().await;
    for path in ["/book/copy", "/book/files", "/book/check", "/demo", "/who/leave"] {
        let request = posted(path).body(Body::from(vec![b'x'; 3 << 20])).unwrap();
        let answer = shop.send(request).await;
        assert_eq!(answer.status, StatusCode::PAYLOAD_TOO_LARGE, "{path}: {}", answer.page);
    }
    assert!(shop.bench.jobs().last().is_none(), "nothing was begun");
    assert_eq!(shop.post("/book/check", &[]).await.status, StatusCode::SEE_OTHER);
}

#[tokio::test]
async fn nobody_is_sent_elsewhere() {
    let mut shop = Shop::with_hand().await;
    for then in [
        "//elsewhere.example/",
        "https://elsewhere.example/",
        "/\\elsewhere.example",
        "/\t/elsewhere",
        "/a\r\nSet-Cookie: session=b",
        "javascript:alert(1)",
        "\u{1}/x",
    ] {
        for path in ["/units", "/who"] {
            let answer =
                shop.post(path, &[("initials", "IV"), ("switch", "mm"), ("then", then)]).await;
            assert_eq!((answer.status.as_u16(), answer.to()), (303, "/"), "{path} {then:?}");
        }
    }
    let answer = shop.post("/who", &[("initials", "IV"), ("then", "/day?date=2026-11-25")]).await;
    assert_eq!(answer.to(), "/day?date=2026-11-25");
    let twice = [("initials", "IV"), ("then", "/day"), ("then", "//elsewhere.example")];
    assert_eq!(shop.post("/who", &twice).await.to(), "/day", "of two the first counts");
}

#[tokio::test]
async fn whoever_is_not_known_comes_back_to_the_page_with_the_form() {
    let mut shop = Shop::open(false).await;
    let form = [("initials", "OB"), ("name", "O. Brandt")];
    let mut request = posted("/people").body(Body::from(body(&form))).unwrap();
    request.headers_mut().insert(REFERER, format!("http://{AT}/people?a=b").parse().unwrap());
    assert_eq!(shop.send(request).await.to(), "/who?then=/people%3Fa%3Db");
    let mut request = posted("/people").body(Body::from(body(&form))).unwrap();
    request.headers_mut().insert(REFERER, "http://elsewhere.example/people".parse().unwrap());
    assert_eq!(shop.send(request).await.to(), "/who?then=/");
}

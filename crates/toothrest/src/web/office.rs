//! The pages of the office: tables, prices, day, book, people and order.

use std::time::Duration;

use axum::http::StatusCode;

use super::testing::{Answer, Shop};

const OWN_ROW: &str = "[[shrink]]\r\nkey = \"0.250 to 0.500 in\"\r\nshrink = \"10 %\"";
const PRICES: &str =
    include_str!(concat!(env!("CARGO_MANIFEST_DIR"), "/../../examples/prices/bench-rates.toml"));

/// The end of the job that an answer leads to.
async fn ended(shop: &mut Shop, begun: &Answer) -> String {
    assert_eq!(begun.status, StatusCode::SEE_OTHER, "{}", begun.page);
    let to = begun.to().to_owned();
    for _ in 0..400 {
        let page = shop.get(&to).await.page;
        if !page.contains("data-again") {
            return page;
        }
        tokio::time::sleep(Duration::from_millis(25)).await;
    }
    panic!("{to} never ends");
}

#[tokio::test]
async fn the_shops_own_rows_are_kept_version_by_version() {
    let mut shop = Shop::with_hand().await;
    let first = shop.get("/tables").await;
    let wrong =
        [("text", "[[shrink]]\nkey = \"0.250 to 0.500 in\"\nshrnk = \"10 %\""), ("seen", "0")];
    let told = shop.post("/tables", &wrong).await;
    assert_eq!(told.status, StatusCode::UNPROCESSABLE_ENTITY);
    assert!(told.page.contains("line 3") && told.page.contains("shrnk"), "{}", told.page);
    let kept = shop.post("/tables", &[("text", OWN_ROW), ("seen", &first.seen())]).await;
    assert_eq!(kept.to(), "/tables", "{}", kept.page);
    let topic = shop.get("/tables/shrink").await.page;
    assert!(topic.contains("10 %") && topic.contains("[shop]"), "{topic}");
    let stale = shop.post("/tables", &[("text", ""), ("seen", "0")]).await;
    assert!(stale.status.is_client_error(), "somebody wrote first");
    let second = shop.get("/tables").await;
    let emptied = shop.post("/tables", &[("text", ""), ("seen", &second.seen())]).await;
    assert_eq!(emptied.to(), "/tables", "{}", emptied.page);
    assert!(!shop.get("/tables/shrink").await.page.contains("[shop]"));
    let old = shop.get("/tables/versions/1").await.page;
    assert!(old.contains("10 %") && !old.contains('\r'), "{old}");
}

#[tokio::test]
async fn every_row_is_shown_with_its_source() {
    let mut shop = Shop::with_hand().await;
    let page = shop.get("/tables").await.page;
    for topic in trade::Topic::ALL {
        assert!(page.contains(&format!("/tables/{}\"", topic.name())), "{}", topic.name());
        let rows = trade::Tables::bundled().unwrap().listing(*topic);
        let shown = shop.get(&format!("/tables/{}", topic.name())).await.page;
        assert_eq!(shown.matches("<th scope=\"row\">").count(), rows.len(), "{}", topic.name());
    }
}

#[tokio::test]
async fn switching_units_keeps_what_was_typed() {
    let mut shop = Shop::with_hand().await;
    for path in ["/tables", "/prices"] {
        let form =
            [("text", "half a thought"), ("seen", "0"), ("shown_in", "mm"), ("switch", "in")];
        let page = shop.post(path, &form).await;
        assert_eq!(page.status, StatusCode::OK);
        assert!(page.page.contains("half a thought") && page.page.contains("show millimetres"));
    }
}

#[tokio::test]
async fn prices_are_read_like_the_files() {
    let mut shop = Shop::with_hand().await;
    let spoilt = PRICES.replace("setup = \"12 min\"", "setup = \"12 miles\"");
    let told = shop.post("/prices", &[("text", &spoilt), ("seen", "0")]).await.page;
    assert!(told.contains("rates.setup") && told.contains("miles"), "{told}");
    let kept = shop.post("/prices", &[("text", PRICES), ("seen", "0")]).await;
    assert_eq!(kept.to(), "/prices", "{}", kept.page);
    let page = shop.get("/prices").await.page;
    assert!(page.contains("48.00 EUR") && page.contains("15 %"), "{page}");
}

#[tokio::test]
async fn a_copy_of_the_book_is_made_and_listed() {
    let mut shop = Shop::with_hand().await;
    let begun = shop.post("/book/copy", &[("to", "/etc/book-x"), ("name", "../x")]).await;
    assert!(ended(&mut shop, &begun).await.contains("The copy is"));
    let begun = shop.post("/book/files", &[]).await;
    assert!(ended(&mut shop, &begun).await.contains("histories lie in"));
    let begun = shop.post("/book/check", &[]).await;
    assert!(ended(&mut shop, &begun).await.contains("No fault was found"));
    let page = shop.get("/book").await.page;
    let day = shop.bench.zone().day(shop.bench.desk().now());
    assert!(
        page.contains(&format!("book-{day}")) && page.contains(&format!("files-{day}")),
        "{page}"
    );
    let copies = std::fs::read_dir(shop.folder.path().join("copies")).unwrap().count();
    assert_eq!(copies, 3, "a copy with its sum and a folder of files, and nothing elsewhere");
}

#[tokio::test]
async fn the_day_shows_what_was_done_and_by_whom() {
    let mut shop = Shop::open(false).await;
    crate::web::demo::set_up(&shop.bench).await.unwrap();
    shop.cookie("demo", "yes");
    let demo = shop.bench.demo().unwrap();
    let (zone, now) = (shop.bench.zone().clone(), demo.now());
    let day = zone.local_day(&zone.day(now)).unwrap();
    let span = shop::book::Span { from: day.from, until: day.until, after: None, limit: 500 };
    let written = shop::book::Store::written(demo.book(), &span).await.unwrap();
    let received =
        |entry: &&shop::book::Entry| matches!(entry.event, shop::book::Event::Received(_));
    let received = written.iter().filter(received).count();
    let page = shop.get(&format!("/day/{}", day.date)).await;
    assert_eq!(page.status, StatusCode::OK);
    let told = format!("<dt>received</dt><dd>{received}</dd>");
    assert!(page.page.contains(&told), "{}", page.page);
    let before = day.before.unwrap();
    assert!(page.page.contains(&format!("href=\"/day/{before}\"")));
    assert_eq!(shop.get(&format!("/day?date={before}")).await.to(), format!("/day/{before}"));
}

#[tokio::test]
async fn the_order_of_work_is_worked_out_kept_and_shown_in_the_tray() {
    let mut shop = Shop::open(false).await;
    crate::web::demo::set_up(&shop.bench).await.unwrap();
    shop.cookie("demo", "yes");
    shop.cookie("who", "IV");
    assert_eq!(shop.post("/order/keep", &[("seen", "0")]).await.status.as_u16(), 422);
    let begun = shop.post("/order", &[]).await;
    assert!(ended(&mut shop, &begun).await.contains("set-ups"));
    let order = shop.get("/order").await;
    let (flagged, stops) = (order.page.find("Decide on these first"), order.page.find("set-up by"));
    assert!(flagged.unwrap() < stops.unwrap(), "what will not clean up comes first");
    let kept = shop.post("/order/keep", &[("seen", &order.seen())]).await;
    assert_eq!(kept.to(), "/order", "{}", kept.page);
    assert!(shop.get("/").await.page.contains("No. 1 in the"));
    let again = shop.post("/order/keep", &[("seen", &order.seen())]).await;
    assert!(again.status.is_client_error(), "another was kept since");
}

#[tokio::test]
async fn a_person_is_entered_once() {
    let mut shop = Shop::with_hand().await;
    let form = [("initials", "OB"), ("name", "O. <Brandt>")];
    let entered = shop.post("/people", &form).await;
    let page = shop.get(entered.to()).await.page;
    assert!(page.contains("O. &#60;Brandt&#62;"), "{page}");
    let again = shop.post("/people", &form).await;
    assert!(again.page.contains("somebody here has them already"));
    let pin = format!("{}/pin", entered.to());
    let two = [("pin", "1793"), ("again", "1794"), ("seen", "1")];
    assert!(shop.post(&pin, &two).await.page.contains("the two are not the same"));
    let stale = [("pin", "1793"), ("again", "1793"), ("seen", "9")];
    assert_eq!(shop.post(&pin, &stale).await.status, StatusCode::CONFLICT);
    let set = [("pin", "1793"), ("again", "1793"), ("seen", "1")];
    assert_eq!(shop.post(&pin, &set).await.to(), entered.to());
}

//! A list of cutters on the page: uploaded, looked at, put right, kept.

use axum::body::Body;
use axum::http::StatusCode;
use axum::http::header::CONTENT_TYPE;
use shop::book::{Query, Store, SubjectKind};

use crate::web::testing::{Answer, Shop, posted};

const LIST: &str = "number,DC (in),NOF,FHA,price\nK-9,1/2,4,30,12\nK-10,3/8,4,30,9\n";

/// The file as a browser sends it.
async fn upload(shop: &mut Shop, text: &str) -> Answer {
    let body = format!(
        "--part\r\nContent-Disposition: form-data; name=\"list\"; filename=\"a.csv\"\r\n\
         Content-Type: text/csv\r\n\r\n{text}\r\n--part--\r\n"
    );
    let mut request = posted("/take-in").body(Body::from(body)).unwrap();
    let kind = "multipart/form-data; boundary=part".parse().unwrap();
    request.headers_mut().insert(CONTENT_TYPE, kind);
    shop.send(request).await
}

/// What the page carries along.
fn carried(answer: &Answer) -> String {
    let (_, behind) = answer.page.split_once("name=\"list\" value=\"").unwrap();
    behind.split('"').next().unwrap().to_owned()
}

#[tokio::test]
async fn a_list_is_put_right_on_its_page_and_kept_whole() {
    let mut shop = Shop::with_hand().await;
    assert!(shop.get("/take-in").await.page.contains("enctype=\"multipart/form-data\""));
    let looked = upload(&mut shop, LIST).await;
    assert_eq!(looked.status, StatusCode::UNPROCESSABLE_ENTITY, "{}", looked.page);
    for part in ["<td>diameter, in</td>", "nothing of that name is kept", "nothing says the hand"] {
        assert!(looked.page.contains(part), "{part}");
    }
    let list = carried(&looked);
    let said = [
        ("list", list.as_str()),
        ("out.", "price"),
        ("all.hand", "right"),
        ("all.helix_hand", "right"),
        ("all.rake", "10"),
        ("all.profile", "plain"),
        ("all.end", "square"),
        ("all.material", "HSS"),
        ("all.flute_length", "20 mm"),
        ("all.overall_length", "80 mm"),
        ("all.shank_diameter", "12 mm"),
        ("tray", "blue"),
    ];
    let sound = shop.post("/take-in/look", &said).await;
    assert_eq!(sound.status, StatusCode::OK, "{}", sound.page);
    assert!(sound.page.contains("Keep 2 cutters") && sound.page.contains("<td>left out</td>"));
    let desk = shop.bench.desk();
    let count = desk.book().list(&Query::of(SubjectKind::Cutter)).await.unwrap().rows.len();
    assert_eq!(count, 0, "nothing is kept before somebody says so");
    let keep: Vec<_> = said.into_iter().chain([("keep", "yes")]).collect();
    let kept = shop.post("/take-in/look", &keep).await;
    assert_eq!(kept.to(), "/?stage=waiting");
    let rows = desk.book().list(&Query::of(SubjectKind::Cutter)).await.unwrap().rows;
    assert_eq!(rows.len(), 2);
    let again = shop.post("/take-in/look", &keep).await;
    assert!(again.page.contains("the book has a cutter of this number"));
    let spoilt = shop.post("/take-in/look", &[("list", "4g")]).await;
    assert_eq!(spoilt.status, StatusCode::BAD_REQUEST);
}

//! Writers to one book are killed at random moments, a thousand of them or as many as `KILLS` says;
//! nothing that they acknowledged may be lost. `./test` does the same with a few.

#[path = "../../crates/book/tests/kill/harness.rs"]
mod harness;

const KILLS: u32 = 1000;

fn main() {
    if harness::write_if_asked() {
        return;
    }
    let kills = std::env::var("KILLS").ok().and_then(|kills| kills.parse().ok()).unwrap_or(KILLS);
    let folder = tempfile::tempdir().unwrap();
    let place = folder.path().join("book.sqlite");
    let tally = harness::kill(place.to_str().unwrap(), kills);
    println!("SQLite: {tally:?}");
    if let Ok(address) = std::env::var("BOOK_POSTGRES") {
        println!("PostgreSQL: {:?}", harness::kill(&address, kills / 10));
    }
}

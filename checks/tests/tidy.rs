//! The tidy test: the laws of the house, read from the sources themselves.
//!
//! Every area has one `check()` that takes the whole house and answers with misses, each at a
//! file and a line and each saying what to do. Every area also carries planted violations, so
//! that no law is unable to fail. The laws are told in words in `CONTRIBUTING.md`.

#[path = "tidy/arrows.rs"]
mod arrows;
#[path = "tidy/formulas.rs"]
mod formulas;
#[path = "tidy/functions.rs"]
mod functions;
#[path = "tidy/house.rs"]
mod house;
#[path = "tidy/lexer.rs"]
mod lexer;
#[path = "tidy/links.rs"]
mod links;
#[path = "tidy/members.rs"]
mod members;
#[path = "tidy/miss.rs"]
mod miss;
#[path = "tidy/prose.rs"]
mod prose;
#[path = "tidy/purity.rs"]
mod purity;
#[path = "tidy/quantities.rs"]
mod quantities;
#[path = "tidy/sizes.rs"]
mod sizes;
#[path = "tidy/stubs.rs"]
mod stubs;
#[path = "tidy/surroundings.rs"]
mod surroundings;
#[path = "tidy/tests_of.rs"]
mod tests_of;
#[path = "tidy/tokens.rs"]
mod tokens;
#[path = "tidy/top.rs"]
mod top;
#[path = "tidy/words.rs"]
mod words;

use house::House;
use miss::{Miss, report};

/// Runs one area's check on the real house.
fn law(check: impl Fn(&House) -> Vec<Miss>) {
    report(&check(surroundings::here()));
}

#[test]
fn arrows_between_crates() {
    law(arrows::check);
}

#[test]
fn pure_crates_stay_pure() {
    law(purity::check);
}

#[test]
fn quantities_of_the_trade_are_data() {
    law(quantities::check);
}

#[test]
fn sizes_of_files_functions_and_lines() {
    law(sizes::check);
}

#[test]
fn formulas_name_their_sources() {
    law(formulas::check);
}

#[test]
fn no_stubs_and_no_unwraps() {
    law(stubs::check);
}

#[test]
fn no_words_that_do_not_belong_here() {
    law(words::check);
}

#[test]
fn members_of_the_workspace() {
    law(members::check);
}

#[test]
fn links_lead_somewhere() {
    law(links::check);
}

#[test]
fn top_of_the_house() {
    law(top::check);
}

#[test]
fn the_house_was_really_read() {
    let house = surroundings::here();
    assert!(house.members.len() >= 6, "cargo metadata lists the workspace's members");
    let shop = house.members.iter().find(|member| member.name == "shop");
    let knows_geometry = shop.is_some_and(|shop| shop.needs.iter().any(|n| n.name == "geometry"));
    assert!(knows_geometry, "cargo metadata lists a member's dependencies");
    for path in ["Cargo.toml", "crates/geometry/src/lib.rs", "checks/tests/tidy.rs"] {
        assert!(house.file(path).is_some(), "{path} is among the files read");
    }
}

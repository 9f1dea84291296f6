//! The kernel and the closed forms against published tables and worked examples.
//!
//! Each topic names its source, page or table and how that was read. Grades: A standard ·
//! B handbook, manual or published table · C general-purpose library · D own derivation. The
//! tolerance is half of the last printed place; a row that is let pass by more says why. Sampled
//! rows only. A check shares neither numbers nor code with what it checks.
//!
//! All go through `ledger::check`, whose account stands at the end of `docs/NUMBERS.md`.

#[path = "handbook/bench.rs"]
mod bench;
#[path = "handbook/chains.rs"]
mod chains;
mod common;
#[path = "handbook/drops.rs"]
mod drops;
#[path = "handbook/eccentric.rs"]
mod eccentric;
#[path = "handbook/lands.rs"]
mod lands;
#[path = "handbook/ledger.rs"]
mod ledger;
#[path = "handbook/measuring.rs"]
mod measuring;
#[path = "handbook/offsets.rs"]
mod offsets;
#[path = "handbook/page.rs"]
mod page;
#[path = "handbook/scans.rs"]
mod scans;

use ledger::{Record, check};

/// Makes each topic a test of its own and puts it into the account, so that none is in one only.
macro_rules! topics {
    ($($module:ident::$topic:ident),+ $(,)?) => {
        $(
            #[test]
            fn $topic() {
                check(&$module::$topic());
            }
        )+

        fn account() -> Vec<Record> {
            vec![$(check(&$module::$topic())),+]
        }
    };
}

topics!(
    offsets::worked_example_of_the_circular,
    offsets::clearance_at_the_printed_offset,
    offsets::which_diameter_counts,
    offsets::constant_of_the_navy,
    offsets::offset_table_closed,
    offsets::offset_table_backwards,
    offsets::offset_table_on_the_kernel,
    offsets::clearance_falls_as_the_wheel_grows,
    drops::drops_closed,
    drops::drops_on_the_kernel,
    drops::the_circle_counts,
    eccentric::the_handbooks_identity,
    eccentric::the_identity_on_the_kernel,
    eccentric::the_support_function,
    lands::where_a_land_ends,
    lands::how_a_land_grows,
    lands::what_an_inset_costs,
    lands::how_deep_a_wear_land_is,
    lands::why_the_head_stands_at_89,
    measuring::odd_teeth_over_flat_anvils,
    measuring::odd_teeth_turned,
    measuring::vees_of_micrometers,
    measuring::speeds_in_other_units,
    measuring::speed_of_a_bench_wheel,
    scans::sections_against_a_dense_scan,
    scans::reliefs_against_a_dense_scan,
    scans::sections_against_polygon_booleans,
    chains::a_plate_in_a_vise,
    chains::two_hinges,
    chains::a_tipped_head_along_a_helix,
    chains::two,
    chains::two_again,
    chains::in_line,
    chains::in_line_again,
    chains::at_limit,
    chains::at_limit_again,
    chains::three,
    chains::three_again,
    chains::three_in_line,
    chains::three_in_line_again,
    chains::searched,
    chains::searched_again,
);

/// The page of numbers ends with this account. To write it anew:
/// `UPDATE_NUMBERS=1 cargo test -p checks --test handbook`.
#[test]
fn the_page_of_numbers_holds_the_account() {
    page::hold(&account());
}

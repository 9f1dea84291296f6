//! How long it takes to find every setting of a machine's swivels; the goal is a millisecond each.

use geometry::Angle;
use geometry::chain::{Arrow, Direction, Joint, Linkage, Relation, Sense, Side};
use std::hint::black_box;

fn main() {
    divan::main();
}

/// A universal grinder: head swivel and tilt; table, work head base, tilt and spindle.
fn universal() -> Linkage {
    Linkage::facing(vec![
        Joint::swivel(Side::Wheel, Direction::UP),
        Joint::swivel(Side::Wheel, Direction::ALONG),
        Joint::slide(Side::Cutter, Direction::TOWARD_WHEEL),
        Joint::swivel(Side::Cutter, Direction::UP),
        Joint::swivel(Side::Cutter, -Direction::UP),
        Joint::swivel(Side::Cutter, -Direction::TOWARD_WHEEL),
        Joint::swivel(Side::Cutter, Direction::ALONG),
    ])
}

/// The end of a tooth with a degree of dish and seven of relief, about.
fn plane() -> Relation {
    Relation::plane_in_face(Direction::new(-0.0174, 0.1219, -0.9924).unwrap_or(Direction::UP))
}

fn solve(bencher: divan::Bencher, relations: Vec<Relation>, free: &[usize]) {
    let linkage = universal();
    let home = linkage.home();
    let found = linkage.solve(&relations, free, &home);
    assert!(found.is_ok_and(|found| !found.is_empty()), "nothing to measure");
    bencher.bench(|| linkage.solve(black_box(&relations), black_box(free), &home));
}

/// Two swivels in closed form.
#[divan::bench]
fn plane_by_two_swivels(bencher: divan::Bencher) {
    solve(bencher, vec![plane()], &[4, 5]);
}

/// Three swivels in closed form.
#[divan::bench]
fn plane_and_edge_by_three_swivels(bencher: divan::Bencher) {
    let normal = Direction::new(-0.0174, 0.1219, -0.9924).unwrap_or(Direction::UP);
    let edge = normal.square_to(&Direction::TOWARD_WHEEL).unwrap_or(Direction::UP);
    let along = Relation::Along {
        of: Arrow::of_cutter(edge),
        to: Arrow::of_wheel(Direction::ALONG),
        sense: Sense::Either,
    };
    solve(bencher, vec![plane(), along], &[4, 5, 6]);
}

/// Three swivels of both sides, by a walk and a search.
#[divan::bench]
fn plane_and_angle_by_search(bencher: divan::Bencher) {
    let level = Relation::AtAngle {
        of: Arrow::of_cutter(Direction::OWN_AXIS),
        to: Arrow::of_floor(Direction::UP),
        angle: Angle::from_degrees(84.0),
    };
    solve(bencher, vec![plane(), level], &[1, 4, 5]);
}

/// A plane that cannot be reached: the nearest is looked for.
#[divan::bench]
fn refusal(bencher: divan::Bencher) {
    let linkage = universal();
    let home = linkage.home().with_turn(5, Angle::from_degrees(9.0));
    let wish = [Relation::plane_in_face(-Direction::OWN_AXIS)];
    bencher.bench(|| linkage.solve(black_box(&wish), black_box(&[3, 4]), &home));
}

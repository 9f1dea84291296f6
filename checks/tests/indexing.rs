//! Plain indexing against worked examples in print.

use shop::record::{Dividing, Division};

fn head(circles: &[u32]) -> Dividing {
    Dividing { ratio: Some(40), circles: circles.to_vec(), direct: vec![] }
}

fn crank(turns: u32, holes: u32, circle: u32) -> Division {
    Division::Crank { turns, holes, circle }
}

/// Divisions of a whole turn that are so many minutes of angle each.
fn divisions(minutes: u32) -> u32 {
    360 * 60 / minutes
}

/// OD 1644, Milling Machine Operations, indexing in degrees and minutes (read): a turn of the crank
/// is 540 minutes; 54 minutes are 2 holes on the circle of 20.
#[test]
fn the_ordnance_subcourse_divides_by_54_minutes() {
    // A whole turn comes back to the same hole of any circle.
    assert_eq!(head(&[20]).divide(divisions(540)).unwrap(), crank(1, 0, 1));
    assert_eq!(head(&[20]).divide(divisions(54)).unwrap(), crank(0, 2, 20));
}

/// OD 1644, the same page (read): 24 minutes would be one hole on a circle of 22.5 holes, which no
/// plate has, so that the division is refused and not rounded.
#[test]
fn what_no_circle_divides_is_not_rounded() {
    assert_eq!(head(&[15, 20, 21, 23, 33, 49]).divide(divisions(24)), None);
}

/// Common practice, no source at hand, from memory: 40 to 1, 24 divisions are 1 turn and 10 holes
/// on 15; 7 are 5 turns and 15 on 21; 9 are 4 turns and 8 on 18; 28 are 1 turn and 9 on 21.
#[test]
fn the_usual_examples_come_out() {
    for (divisions, circles, expected) in [
        (24, [15], crank(1, 10, 15)),
        (7, [21], crank(5, 15, 21)),
        (9, [18], crank(4, 8, 18)),
        (28, [21], crank(1, 9, 21)),
    ] {
        assert_eq!(head(&circles).divide(divisions).unwrap(), expected, "{divisions} divisions");
    }
}

/// Own derivation, grade D: after as many moves as there are divisions the spindle has made one
/// whole turn, counted in holes and gear teeth; and what is refused no circle of the head divides.
#[test]
fn every_division_closes_its_turn() {
    let circles = [15, 16, 17, 18, 19, 20, 21, 23, 27, 29, 31, 33, 37, 39, 41, 43, 47, 49];
    let mut refused = 0;
    for divisions in 1..=360_u32 {
        match head(&circles).divide(divisions) {
            Some(Division::Crank { turns, holes, circle }) => {
                // Whole turns come back to the same hole, whatever circle that is on.
                let is_whole = holes == 0 && circle == 1;
                assert!(is_whole || circles.contains(&circle), "{divisions}");
                assert!(holes < circle, "{divisions}");
                let moved = u64::from(divisions) * u64::from(turns * circle + holes);
                assert_eq!(moved, 40 * u64::from(circle), "{divisions} divisions");
            }
            Some(Division::Direct { .. }) => panic!("{divisions}: the head has no direct plate"),
            None => {
                let closes =
                    |circle: &u32| (1..=40 * circle).any(|all| all * divisions == 40 * circle);
                assert!(!circles.iter().any(closes), "{divisions} divisions can be had");
                refused += 1;
            }
        }
    }
    assert!(refused > 0 && refused < 300, "{refused}");
}

//! Plain indexing against worked examples in print.

use shop::record::{Dividing, Division};

fn head(circles: &[u32]) -> Dividing {
    Dividing { ratio: Some(40), circles: circles.to_vec(), direct: vec![] }
}

fn crank(turns: u32, holes: u32, circle: u32) -> Division {
    Division::Crank { turns, holes, circle }
}

/// OD 1644, Milling Machine Operations, indexing in degrees and minutes (read): a turn of the crank
/// is 540 minutes; 54 minutes are 2 holes on the circle of 20. There are 400 of them in a turn.
#[test]
fn the_ordnance_subcourse_divides_by_54_minutes() {
    assert_eq!(400 * 54, 360 * 60);
    assert_eq!(head(&[20]).divide(400).unwrap(), crank(0, 2, 20));
}

/// OD 1644, the same page (read): 24 minutes would be one hole on a circle of 22.5 holes, which no
/// plate has, so that the division is refused and not rounded.
#[test]
fn what_no_circle_divides_is_not_rounded() {
    assert_eq!(900 * 24, 360 * 60);
    assert_eq!(head(&[15, 20, 21, 23, 33, 49]).divide(900), None);
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

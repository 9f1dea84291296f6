//! The order in which teeth are ground.

/// The order of the first round: far from tooth to tooth, so that no part of the cutter heats up
/// and the wheel's wear is spread round it.
///
/// **Source** \[common-practice\] go on to a tooth far from the last. **Departs** nowhere.
/// **Error** none. **Domain** any number of teeth; each tooth comes once.
pub(crate) fn first_round(teeth: u32) -> Vec<u32> {
    if teeth.is_multiple_of(2) {
        let half = teeth / 2;
        return (0..half).flat_map(|tooth| [tooth + 1, tooth + half + 1]).collect();
    }
    // An odd count and the step next below its half share no divisor, so that every tooth comes.
    let step = teeth.saturating_sub(1) / 2;
    (0..teeth).map(|count| count * step.max(1) % teeth + 1).collect()
}

/// The order of the second round, with no feed: it begins at the tooth opposite to where the first
/// began and runs the other way, so that the wear of the first round is evened out.
///
/// **Source** \[navy-machinery-repairman\] turn the cutter half round and go over it again, because
/// teeth grow round the cutter as the wheel wears. **Departs** in running backwards as well.
/// **Error** none. **Domain** any number of teeth.
pub(crate) fn second_round(teeth: u32) -> Vec<u32> {
    let opposite = teeth / 2;
    let mirrored = |tooth: u32| (opposite + teeth - (tooth - 1)) % teeth + 1;
    first_round(teeth).into_iter().map(mirrored).collect()
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn every_tooth_comes_once_in_each_round() {
        for teeth in 1..=60 {
            for mut round in [first_round(teeth), second_round(teeth)] {
                round.sort_unstable();
                assert_eq!(round, (1..=teeth).collect::<Vec<_>>(), "{teeth} teeth");
            }
        }
    }

    #[test]
    fn rounds_start_half_a_turn_apart() {
        assert_eq!((first_round(4), second_round(4)), (vec![1, 3, 2, 4], vec![3, 1, 2, 4]));
        assert_eq!((first_round(6)[0], second_round(6)[0]), (1, 4));
        assert_eq!((first_round(3), second_round(3)), (vec![1, 2, 3], vec![2, 1, 3]));
    }
}

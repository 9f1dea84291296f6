//! Every way of setting a machine's swivels to what is wanted, the handiest first.

use geometry::Angle;
use geometry::chain::{ChainError, Relation, Settings, Solution};

use super::chain::MachineChain;
use super::snap::{snapped, worst};
use crate::error::ShopError;
use crate::plan::DialMark;

/// One swivel that a set-up moves.
#[derive(Clone, Debug, PartialEq)]
pub struct Moved {
    /// The joint in the machine's chain.
    pub joint: usize,
    /// What its scale should read.
    pub exact: Angle,
    /// The mark it is set to.
    pub mark: DialMark,
}

/// One way of setting the swivels.
#[derive(Clone, Debug, PartialEq)]
pub struct SetUp {
    /// The swivels to be moved from where they stand, from the floor outward; all others stay.
    pub moved: Vec<Moved>,
    /// Where every joint would have to stand.
    pub exact: Settings,
    /// Where every joint stands on its mark.
    pub set: Settings,
    /// By how much the marks miss what is wanted.
    pub miss: Angle,
    /// How far what is wanted moves for each degree of the moved swivels, in the direction in which
    /// they move it least. Near 0 they fight each other.
    pub gain_least: f64,
    /// The same in the direction in which they move it most.
    pub gain_most: f64,
}

/// The miss that counts as much as one more scale to move, in degrees (own choice, no source).
const SCALE_WORTH_DEG: f64 = 0.1;

/// A swivel that need turn less than this stays where it stands, in degrees.
const STAYS_DEG: f64 = 1e-6;

/// The most swivels that are moved for one set-up.
const MOVED_MAX: usize = 3;

/// Every set-up that meets the relations by moving some of the `free` swivels from where they
/// `stand`, with as few as will do and one more: one or two, and three only where no two will.
/// They are ranked by how many scales are moved and what the marks miss, a tenth of a degree
/// counting as much as a scale, then by how far the scales are turned.
///
/// # Errors
/// Where a swivel's words do not say how it stands, and where no set-up gives what is wanted: then
/// the nearest one is told, with the swivel that stops it and by how much.
pub fn set_ups(
    chain: &MachineChain,
    relations: &[Relation],
    stand: &Settings,
    free: &[usize],
) -> Result<Vec<SetUp>, ShopError> {
    chain.check_told(relations)?;
    if worst(chain, relations, stand).degrees() < STAYS_DEG {
        return Ok(vec![standing(stand)]);
    }
    let mut found: Vec<SetUp> = Vec::new();
    let mut refused: Vec<ChainError> = Vec::new();
    for count in 1..=MOVED_MAX.min(free.len()) {
        if count == MOVED_MAX && !found.is_empty() {
            break;
        }
        for some in choices(free, count) {
            match chain.linkage().solve(relations, &some, stand) {
                Ok(solutions) => {
                    let all = solutions.iter().filter(|one| moves_all(one, stand, &some));
                    found.extend(all.map(|one| set_up(chain, relations, one, &some)));
                }
                Err(error) => refused.push(error),
            }
        }
    }
    if found.is_empty() {
        return Err(unreachable(chain, &refused));
    }
    found.sort_by(|one, other| rank(one, stand).total_cmp(&rank(other, stand)));
    Ok(found)
}

/// Nothing need be moved.
fn standing(stand: &Settings) -> SetUp {
    SetUp {
        moved: Vec::new(),
        exact: stand.clone(),
        set: stand.clone(),
        miss: Angle::ZERO,
        gain_least: 1.0,
        gain_most: 1.0,
    }
}

fn set_up(
    chain: &MachineChain,
    relations: &[Relation],
    solution: &Solution,
    moved: &[usize],
) -> SetUp {
    let exact = &solution.settings;
    let (set, miss) = snapped(chain, relations, exact, moved);
    let told = |&joint: &usize| {
        let mark = chain.mark(joint, &set)?;
        Some(Moved { joint, exact: chain.reading(joint, exact), mark })
    };
    SetUp {
        moved: moved.iter().filter_map(told).collect(),
        exact: exact.clone(),
        miss,
        gain_least: solution.gain_least,
        gain_most: solution.gain_most,
        set,
    }
}

/// Whether a solution moves each of some swivels; one that leaves any alone is found without it.
fn moves_all(solution: &Solution, stand: &Settings, some: &[usize]) -> bool {
    let moves = |&joint: &usize| {
        (solution.settings.turn(joint) - stand.turn(joint)).degrees().abs() > STAYS_DEG
    };
    some.iter().all(moves)
}

/// How handy a set-up is; less is better. How far its scales are turned decides among those that
/// are alike otherwise.
fn rank(set_up: &SetUp, stand: &Settings) -> f64 {
    let way = |one: &Moved| (set_up.set.turn(one.joint) - stand.turn(one.joint)).degrees().abs();
    let turned: f64 = set_up.moved.iter().map(way).sum();
    set_up.moved.len() as f64 + set_up.miss.degrees() / SCALE_WORTH_DEG + turned * 1e-3
}

/// Every choice of so many joints, in order.
fn choices(free: &[usize], count: usize) -> Vec<Vec<usize>> {
    let Some((&first, rest)) = free.split_first() else {
        return if count == 0 { vec![Vec::new()] } else { Vec::new() };
    };
    if count == 0 {
        return vec![Vec::new()];
    }
    let with = choices(rest, count - 1).into_iter().map(|mut some| {
        some.insert(0, first);
        some
    });
    with.chain(choices(rest, count)).collect()
}

/// The refusal that comes nearest to being none.
fn unreachable(chain: &MachineChain, refused: &[ChainError]) -> ShopError {
    const RULE: &str = "the swivels must reach the angle";
    let short = |error: &&ChainError| match error {
        // A stop can be seen and the work clamped otherwise, so it is told before bare geometry.
        ChainError::BeyondStop { by, .. } => Some(by.degrees()),
        ChainError::OutOfReach { short, .. } => Some(short.degrees() + 360.0),
        _ => None,
    };
    let told = refused.iter().filter(|error| short(error).is_some());
    let nearest = told.min_by(|one, other| {
        short(one).partial_cmp(&short(other)).unwrap_or(std::cmp::Ordering::Equal)
    });
    match nearest {
        Some(ChainError::BeyondStop { joint, by, nearest }) => ShopError::refused(
            RULE,
            format!(
                "\"{}\" would have to stand at {}, {} beyond its stop, in the set-up that comes \
                 nearest: {}",
                chain.name(*joint),
                chain.shown(*joint, nearest),
                by.show(),
                stands(chain, nearest)
            ),
        ),
        Some(ChainError::OutOfReach { free, short, .. }) => ShopError::refused(
            RULE,
            format!(
                "{} no nearer than {} to it, whatever their stops: it takes another swivel, or the \
                 work held otherwise",
                names(chain, free),
                short.show()
            ),
        ),
        Some(other) => ShopError::refused(RULE, other.to_string()),
        None => ShopError::refused(
            RULE,
            "none of the swivels that may be moved turns what is asked about".to_owned(),
        ),
    }
}

/// Some swivels with what they do: one comes, several together come.
fn names(chain: &MachineChain, joints: &[usize]) -> String {
    let names: Vec<String> = joints.iter().map(|&at| format!("\"{}\"", chain.name(at))).collect();
    let verb = if names.len() == 1 { "comes" } else { "together come" };
    format!("{} {verb}", names.join(" and "))
}

/// Every swivel that does not stand straight, with its reading.
fn stands(chain: &MachineChain, settings: &Settings) -> String {
    let turned = |&joint: &usize| settings.turn(joint).degrees().abs() > STAYS_DEG;
    let told = chain.swivels().into_iter().filter(turned);
    let told =
        told.map(|joint| format!("\"{}\" {}", chain.name(joint), chain.shown(joint, settings)));
    told.collect::<Vec<_>>().join(", ")
}

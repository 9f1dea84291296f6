//! Which corrections are carried out.

use super::Chosen;
use crate::check::{Action, Check, Correction, Fault, Outcome, Worth};
use crate::error::ShopError;

/// Why a correction is left.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum WhyLeft {
    /// The check says that it is good enough, or less than can be set.
    ByCheck(String),
    /// The hand leaves it as it is.
    ByHand,
    /// Grinding again makes it go away by itself, or there is nothing to grind for it.
    NothingToDo,
}

/// Whether a correction is carried out.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum Carried {
    /// It is, by the marks that the check gave.
    Made,
    /// It is, by an indicator where the dial is too coarse.
    ByIndicator(String),
    /// It is not.
    Left(WhyLeft),
}

impl Carried {
    /// Whether it is carried out.
    pub const fn is_made(&self) -> bool {
        !matches!(self, Self::Left(_))
    }
}

const RULE: &str = "a corrective grind needs something to correct";

/// What becomes of every correction of a check.
///
/// # Errors
/// `Refused` where none of them is ground.
pub(super) fn chosen(check: &Check, left: &[Fault]) -> Result<Vec<Chosen>, ShopError> {
    let choose = |one: &Correction| Chosen { correction: one.clone(), carried: carried(one, left) };
    let chosen: Vec<Chosen> = check.corrections.iter().map(choose).collect();
    if chosen.iter().any(|one| one.carried.is_made()) {
        return Ok(chosen);
    }
    let why = match check.outcome {
        Outcome::Unclear => {
            "the readings do not tell what is wrong: take the reading that the check asks for first"
        }
        Outcome::NotRead => "nothing was read on this grind",
        Outcome::Sound => "the readings show nothing wrong",
        Outcome::Named => {
            "nothing that was found asks for grinding, or all of it is left as it is: write the \
             size that was found on the tag"
        }
    };
    Err(ShopError::refused(RULE, why))
}

fn carried(one: &Correction, left: &[Fault]) -> Carried {
    if one.action == Action::TagSize {
        return Carried::Left(WhyLeft::NothingToDo);
    }
    if left.contains(&one.fault) {
        return Carried::Left(WhyLeft::ByHand);
    }
    match &one.worth {
        Worth::Make => Carried::Made,
        Worth::GoodEnough(why) => Carried::Left(WhyLeft::ByCheck(why.value.clone())),
        // An indicator over a test bar sets what the swivel's marks cannot.
        Worth::TooSmall(how) if one.action == Action::Swivel => Carried::ByIndicator(how.clone()),
        Worth::TooSmall(why) => Carried::Left(WhyLeft::ByCheck(why.clone())),
    }
}

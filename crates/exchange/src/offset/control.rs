//! A control, described once: which register holds what, and how it is written to.
//!
//! The G10 of ISO 6983 leaves to each control what its words mean. None of that is guessed: every
//! fact is asked, and a description that lacks one is refused.

use geometry::quantity::System;
use shop::record::Named;

/// What a register holds.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum HeldSize {
    /// Half the diameter.
    Radius,
    /// The diameter.
    Diameter,
}

/// Whether what is written replaces what was there or is added to it.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Mode {
    /// It replaces it.
    Absolute,
    /// It is added to it.
    Increment,
}

/// Which register is written to.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Written {
    /// The one that holds the size itself.
    Geometry,
    /// The one that holds how far the size has come off nominal.
    Wear,
}

/// A register.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Register {
    /// The word that chooses it, such as L12.
    pub select: String,
    /// What it holds.
    pub holds: HeldSize,
}

/// A control as it was described.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct ControlDraft {
    /// What the shop calls it.
    pub name: String,
    /// The unit that its registers count in.
    pub units: System,
    /// The word that says so at the head of the lines.
    pub units_word: String,
    /// Decimals that it takes.
    pub decimals: u32,
    /// Whether values replace or are added.
    pub mode: Mode,
    /// The word that says so.
    pub mode_word: String,
    /// The letter before the offset's number.
    pub number_letter: String,
    /// The letter before the value.
    pub value_letter: String,
    /// The first and the last number of an offset.
    pub numbers: (u32, u32),
    /// The register of sizes.
    pub geometry: Register,
    /// The register of wear, where there is one.
    pub wear: Option<Register>,
    /// Which of them a regrind is written to.
    pub written: Written,
    /// Whether the wear register is set to nothing where the size itself is written.
    pub clears_wear: bool,
}

/// A control that can be written for.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Control {
    pub(super) facts: ControlDraft,
}

/// A fact of a control that cannot be.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct ControlFault {
    /// The key in a control's file.
    pub key: &'static str,
    /// What is written there.
    pub value: String,
    /// What is wrong.
    pub fact: String,
    /// What would be right.
    pub right: String,
}

/// Decimals that any control takes.
const DECIMALS: (u32, u32) = (2, 6);
/// The highest number of an offset.
const NUMBER_MAX: u32 = 9_999;
/// The longest word.
const LETTERS_MAX: usize = 12;

impl ControlDraft {
    /// Checks every fact.
    ///
    /// # Errors
    /// All that cannot be.
    pub fn build(self) -> Result<Control, Vec<ControlFault>> {
        let mut faults = self.word_faults();
        faults.extend(self.number_faults());
        faults.extend(self.register_faults());
        if faults.is_empty() { Ok(Control { facts: self }) } else { Err(faults) }
    }

    fn word_faults(&self) -> Vec<ControlFault> {
        let wear = self.wear.as_ref().map(|wear| ("wear.select", wear.select.as_str()));
        let words = [
            ("words.units", self.units_word.as_str()),
            ("words.mode", &self.mode_word),
            ("geometry.select", &self.geometry.select),
        ];
        let words = words.into_iter().chain(wear).filter(|(_, word)| !is_word(word));
        let words = words.map(|(key, word)| {
            let right = "write a letter and digits, such as L12 or G90";
            fault(key, word, "not a word of a program", right)
        });
        let letters =
            [("words.number", self.number_letter.as_str()), ("words.value", &self.value_letter)];
        let letters = letters.into_iter().filter(|(_, letter)| !is_letter(letter));
        let letters = letters
            .map(|(key, letter)| fault(key, letter, "not one letter", "write one, such as P"));
        words.chain(letters).collect()
    }

    fn number_faults(&self) -> Vec<ControlFault> {
        let mut faults = Vec::new();
        if !(DECIMALS.0..=DECIMALS.1).contains(&self.decimals) {
            let (least, most) = DECIMALS;
            let right = format!("write {least} to {most}");
            faults.push(fault("decimals", &self.decimals.to_string(), "no such number", right));
        }
        let (first, last) = self.numbers;
        if first > last || last > NUMBER_MAX {
            let right = format!("write the first and the last, up to {NUMBER_MAX}");
            faults.push(fault("numbers", &format!("{first} to {last}"), "no such range", right));
        }
        faults
    }

    fn register_faults(&self) -> Option<ControlFault> {
        let needs_wear = self.written == Written::Wear || self.clears_wear;
        (needs_wear && self.wear.is_none()).then(|| {
            let right = "write [wear] with select and holds, or write = \"geometry\" and \
                         clears_wear = false";
            fault("wear", "", "this control's wear register is not described", right)
        })
    }
}

fn fault(
    key: &'static str,
    value: &str,
    fact: impl Into<String>,
    right: impl Into<String>,
) -> ControlFault {
    ControlFault { key, value: value.to_owned(), fact: fact.into(), right: right.into() }
}

/// A letter and digits: nothing else may reach a control.
fn is_word(word: &str) -> bool {
    let mut letters = word.chars();
    let is_short = word.len() <= LETTERS_MAX;
    let first = letters.next().is_some_and(|letter| letter.is_ascii_uppercase());
    first && is_short && word.len() > 1 && letters.all(|c| c.is_ascii_digit() || c == '.')
}

fn is_letter(letter: &str) -> bool {
    letter.len() == 1 && letter.chars().all(|letter| letter.is_ascii_uppercase())
}

impl Control {
    /// What the shop calls it.
    pub fn name(&self) -> &str {
        &self.facts.name
    }

    /// The unit that its registers count in.
    pub const fn units(&self) -> System {
        self.facts.units
    }

    /// The register that is written to.
    pub(super) fn register(&self) -> &Register {
        match (self.facts.written, &self.facts.wear) {
            (Written::Wear, Some(wear)) => wear,
            _ => &self.facts.geometry,
        }
    }
}

impl Named for HeldSize {
    const ALL: &'static [Self] = &[Self::Radius, Self::Diameter];

    fn name(self) -> &'static str {
        match self {
            Self::Radius => "radius",
            Self::Diameter => "diameter",
        }
    }
}

impl Named for Mode {
    const ALL: &'static [Self] = &[Self::Absolute, Self::Increment];

    fn name(self) -> &'static str {
        match self {
            Self::Absolute => "absolute",
            Self::Increment => "increment",
        }
    }
}

impl Named for Written {
    const ALL: &'static [Self] = &[Self::Geometry, Self::Wear];

    fn name(self) -> &'static str {
        match self {
            Self::Geometry => "geometry",
            Self::Wear => "wear",
        }
    }
}

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
    /// The word that ends the lines, where one must, so that the mode does not stay in force.
    pub last_word: Option<String>,
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

/// The most decimals that any control takes.
const DECIMALS_MAX: u32 = 6;

/// With fewer a size is rounded by more than a cutter's tolerance: half of the last place is half
/// a micrometre then, or half of a tenth of a thousandth of an inch (own choice, no source).
const fn decimals_min(units: System) -> u32 {
    match units {
        System::Inch => 4,
        System::Millimetre => 3,
    }
}

/// What these words mean: G70, G71, G90 and G91 by ISO 6983-1 (table of preparatory functions,
/// from memory), G20 and G21 where a control counts units by them (common practice, no source).
const UNITS_WORDS: [(&str, System); 4] = [
    ("G20", System::Inch),
    ("G70", System::Inch),
    ("G21", System::Millimetre),
    ("G71", System::Millimetre),
];
const MODE_WORDS: [(&str, Mode); 2] = [("G90", Mode::Absolute), ("G91", Mode::Increment)];

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
        faults.extend(self.meaning_faults());
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
        let last = self.last_word.as_ref().map(|word| ("words.last", word.as_str()));
        let words = words.into_iter().chain(wear).chain(last).filter(|(_, word)| !is_word(word));
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

    /// A word that everywhere means one thing beside a fact that says the other: half of a
    /// description was changed, and what would be written is wrong by a factor of 25 or a sign.
    fn meaning_faults(&self) -> Vec<ControlFault> {
        let clash = |key, fact: &str, word: &str, means: &str| {
            let right =
                format!("make {fact} and this word agree, as the control's manual has them");
            fault(key, word, format!("it stands for {means}, and {fact} says not"), right)
        };
        let units = UNITS_WORDS.iter().find(|(word, _)| *word == self.units_word);
        let units = units.filter(|(_, means)| *means != self.units).map(|(word, means)| {
            let means = match means {
                System::Inch => "inches",
                System::Millimetre => "millimetres",
            };
            clash("words.units", "units", word, means)
        });
        let mode = MODE_WORDS.iter().find(|(word, _)| *word == self.mode_word);
        let mode = mode.filter(|(_, means)| *means != self.mode).map(|(word, means)| {
            let means = match means {
                Mode::Absolute => "values that replace",
                Mode::Increment => "values that are added",
            };
            clash("words.mode", "mode", word, means)
        });
        units.into_iter().chain(mode).collect()
    }

    fn number_faults(&self) -> Vec<ControlFault> {
        let mut faults = Vec::new();
        let least = decimals_min(self.units);
        if !(least..=DECIMALS_MAX).contains(&self.decimals) {
            let fact = "no number of decimals for a cutter's size in this unit";
            let right = format!("write {least} to {DECIMALS_MAX}");
            faults.push(fault("decimals", &self.decimals.to_string(), fact, right));
        }
        let (first, last) = self.numbers;
        if first > last || last > NUMBER_MAX {
            let right = format!("write the first and the last, up to {NUMBER_MAX}");
            faults.push(fault("numbers", &format!("{first} to {last}"), "no such range", right));
        }
        faults
    }

    fn register_faults(&self) -> Vec<ControlFault> {
        let mut faults = Vec::new();
        let needs_wear = self.written == Written::Wear || self.clears_wear;
        if needs_wear && self.wear.is_none() {
            let right = "write [wear] with select and holds, or write = \"geometry\" and \
                         clears_wear = false";
            faults.push(fault("wear", "", "this control's wear register is not described", right));
        }
        let same = self.wear.as_ref().filter(|wear| wear.select == self.geometry.select);
        if let Some(wear) = same {
            let fact = "it chooses the geometry register too, and one would overwrite the other";
            let right = "write the word of the wear register";
            faults.push(fault("wear.select", &wear.select, fact, right));
        }
        if self.clears_wear && (self.mode, self.written) != (Mode::Absolute, Written::Geometry) {
            let fact = "a wear is cleared only where the size itself is written and replaces";
            let right = "write clears_wear = false, and set the wear to 0 at the control";
            faults.push(fault("clears_wear", "true", fact, right));
        }
        faults
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

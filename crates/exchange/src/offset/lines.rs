//! The lines that tell a control the size of a cutter that was ground, and a listing to look over
//! before.

use geometry::quantity::System;
use geometry::{Angle, Length};
use shop::record::{Cutter, EndForm};

use super::control::{Control, HeldSize, Mode, Written};

/// A cutter and the offset that stands for it on the control.
#[derive(Clone, Debug, PartialEq)]
pub struct Assigned {
    /// The cutter.
    pub cutter: Cutter,
    /// The number of its offset.
    pub number: u32,
    /// What the register holds now, as it stands on the screen of the control, in its unit.
    pub old: Option<f64>,
    /// Whether another cutter stood for this offset before, so that the size may have grown.
    pub was_other: bool,
}

/// One offset, old and new.
#[derive(Clone, Debug, PartialEq)]
pub struct OffsetLine {
    /// The cutter's number.
    pub cutter: String,
    /// The offset's number.
    pub number: u32,
    /// The diameter that it is set for.
    pub diameter: Length,
    /// What the register holds now, where somebody read it.
    pub old: Option<f64>,
    /// What it will hold.
    pub new: f64,
    /// What is written: the new value, or what is added to the old one.
    pub written: f64,
    /// What the other register of this offset must hold for it to be right, and what else one
    /// number does not say of the cutter.
    pub besides: Vec<String>,
}

/// Lines for a control.
#[derive(Clone, Debug, PartialEq)]
pub struct Offsets {
    /// The offsets, in the order given.
    pub lines: Vec<OffsetLine>,
    /// The program.
    pub program: String,
}

/// Why no line can be written for a cutter.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct OffsetRefusal {
    /// The cutter's number.
    pub cutter: String,
    /// What is missing or wrong.
    pub why: String,
    /// What would be right.
    pub right: String,
}

/// A cutter that reads larger than before by more than this on diameter was not ground: instruments
/// differ by less (own choice, no source).
const GROWTH_MAX: Length = Length::from_um(20.0);

/// A change of diameter beyond this share of nominal is no regrind.
const CHANGE_SHARE_MAX: f64 = 0.2;

/// What to heed before the lines are run.
pub const OFFSET_CAUTIONS: [&str; 3] = [
    "Compare every number and value with the cutter in hand and with the control's screen before \
     these lines are run",
    "They hold for the control as it was described and for no other; prove the program clear of \
     the work first",
    "A cutter that was ground may be shorter too: touch off its length anew",
];

/// Writes the lines for these cutters.
///
/// # Errors
/// Everything that is missing or wrong, cutter by cutter; then there is no line at all.
pub fn offsets(control: &Control, assigned: &[Assigned]) -> Result<Offsets, Vec<OffsetRefusal>> {
    let mut lines = Vec::new();
    let mut refusals = twice(assigned);
    for one in assigned {
        match line(control, one) {
            Ok(line) => lines.push(line),
            Err((why, right)) => {
                refusals.push(OffsetRefusal { cutter: one.cutter.number().to_owned(), why, right });
            }
        }
    }
    if refusals.is_empty() {
        Ok(Offsets { program: program(control, &lines), lines })
    } else {
        Err(refusals)
    }
}

fn twice(assigned: &[Assigned]) -> Vec<OffsetRefusal> {
    let is_second = |(place, one): &(usize, &Assigned)| {
        assigned[..*place].iter().any(|other| other.number == one.number)
    };
    let told = |(_, one): (usize, &Assigned)| OffsetRefusal {
        cutter: one.cutter.number().to_owned(),
        why: format!("offset {} is named for another cutter too", one.number),
        right: "give each cutter its own offset".to_owned(),
    };
    assigned.iter().enumerate().filter(is_second).map(told).collect()
}

fn line(control: &Control, one: &Assigned) -> Result<OffsetLine, (String, String)> {
    let facts = &control.facts;
    let (first, last) = facts.numbers;
    if !(first..=last).contains(&one.number) {
        let why = format!("{} has no offset {}", facts.name, one.number);
        return Err((why, format!("name one of {first} to {last}")));
    }
    let diameter = ground_diameter(&one.cutter)?;
    let new = rounded(held(control, &one.cutter, diameter), facts.decimals);
    let written = match (facts.mode, one.old) {
        (Mode::Absolute, _) => new,
        (Mode::Increment, Some(old)) => rounded(new - old, facts.decimals),
        (Mode::Increment, None) => {
            let why = "this control adds what is written, and nobody says what is there".to_owned();
            let right = format!("write the value beside it, as in K-1={}:0.2500", one.number);
            return Err((why, right));
        }
    };
    check_change(control, one, new)?;
    let cutter = one.cutter.number().to_owned();
    let besides = besides(control, one);
    Ok(OffsetLine { cutter, number: one.number, diameter, old: one.old, new, written, besides })
}

/// What must stand in the register that is not written, and what one number does not say.
fn besides(control: &Control, one: &Assigned) -> Vec<String> {
    let facts = &control.facts;
    let (cutter, number, places) = (&one.cutter, one.number, facts.decimals as usize);
    let mut besides = Vec::new();
    match (facts.written, &facts.wear) {
        (Written::Wear, _) => {
            let nominal = counted(control, facts.geometry.holds, cutter.diameter());
            besides.push(format!("geometry of offset {number} must hold {nominal:.places$}"));
        }
        (Written::Geometry, Some(_)) if !facts.clears_wear => {
            besides.push(format!("wear of offset {number} must read {:.places$}", 0.0));
        }
        (Written::Geometry, _) => {}
    }
    if cutter.taper() != Angle::ZERO {
        besides.push("it tapers: this is its size at the tip".to_owned());
    }
    if cutter.end() == EndForm::Ball {
        besides.push("a ball: its radius is half of this diameter now".to_owned());
    }
    besides
}

/// The size as it was ground and handed back; of a cutter that was seen to be worn since, it is no
/// size to cut by.
fn ground_diameter(cutter: &Cutter) -> Result<Length, (String, String)> {
    if cutter.wear().is_some() {
        let why = "it is dull: wear was seen on it since it was ground".to_owned();
        return Err((why, "grind it and hand it back first".to_owned()));
    }
    let ground = cutter.as_ground().map(|ground| ground.diameter);
    ground.ok_or_else(|| {
        let why = "its record does not say to which diameter it was ground".to_owned();
        (why, "hand it back with its size, or write [as_ground] into its file".to_owned())
    })
}

/// What the register is to hold, in the unit of the control.
///
/// **Source** \[own-derivation\] a geometry register holds the size, a wear register the size less
/// nominal; a radius is half of either. **Departs** nowhere. **Error** rounding to the control's
/// decimals. **Domain** wear that counts positive where the cutter is larger than nominal.
fn held(control: &Control, cutter: &Cutter, diameter: Length) -> f64 {
    let whole = match control.facts.written {
        Written::Geometry => diameter,
        Written::Wear => diameter - cutter.diameter(),
    };
    in_register(control, whole)
}

/// A difference of diameters as the register counts it.
fn in_register(control: &Control, whole: Length) -> f64 {
    counted(control, control.register().holds, whole)
}

fn counted(control: &Control, holds: HeldSize, whole: Length) -> f64 {
    let length = match holds {
        HeldSize::Diameter => whole,
        HeldSize::Radius => whole / 2.0,
    };
    match control.facts.units {
        System::Inch => length.inches(),
        System::Millimetre => length.mm(),
    }
}

/// A value that is far from the one before is of another unit, a diameter for a radius, or of
/// another cutter; and no grind makes a cutter larger.
fn check_change(control: &Control, one: &Assigned, new: f64) -> Result<(), (String, String)> {
    let Some(old) = one.old.filter(|_| !one.was_other) else { return Ok(()) };
    let nominal = match control.facts.units {
        System::Inch => one.cutter.diameter().inches(),
        System::Millimetre => one.cutter.diameter().mm(),
    };
    let places = control.facts.decimals as usize;
    let compare = "compare the offset's number, its unit, and whether it holds radius or diameter";
    if (new - old).abs() > CHANGE_SHARE_MAX * nominal {
        let why = format!("from {old:.places$} to {new:.places$} is no regrind");
        return Err((why, compare.to_owned()));
    }
    if new - old > in_register(control, GROWTH_MAX) {
        let why = format!(
            "from {old:.places$} to {new:.places$} the cutter would grow, and no grind does that"
        );
        let right = format!(
            "{compare}; where another cutter stood for it before, say so \
             with --other-before"
        );
        return Err((why, right));
    }
    Ok(())
}

fn rounded(value: f64, decimals: u32) -> f64 {
    let places = decimals as usize;
    // Minus nothing is nothing.
    format!("{value:.places$}").parse().map_or(value, |value: f64| value + 0.0)
}

fn program(control: &Control, lines: &[OffsetLine]) -> String {
    let facts = &control.facts;
    let mut text = String::new();
    let mut remark = |words: &str| text.push_str(&remarks(words));
    remark(&format!("CUTTER OFFSETS FOR {}", facts.name));
    remark(&meaning(control));
    OFFSET_CAUTIONS.iter().for_each(|caution| remark(caution));
    text.push_str(&format!("{} {}\n", facts.units_word, facts.mode_word));
    for line in lines {
        text.push_str(&block(control, line));
    }
    if let Some(word) = &facts.last_word {
        text.push_str(&format!("{word}\n"));
    }
    text
}

/// Words as remarks, each on a line that any control takes.
fn remarks(words: &str) -> String {
    let mut lines = vec![String::new()];
    for word in plain(words).split_whitespace() {
        let is_full = |line: &String| !line.is_empty() && line.len() + word.len() >= REMARK_MAX;
        if lines.last().is_some_and(is_full) {
            lines.push(String::new());
        }
        if let Some(line) = lines.last_mut() {
            *line += if line.is_empty() { "" } else { " " };
            *line += word;
        }
    }
    lines.iter().map(|line| format!("({line})\n")).collect()
}

/// Letters of a remark on one line: fewer than any control takes (own choice, no source).
const REMARK_MAX: usize = 64;

/// What the values mean, as a remark.
fn meaning(control: &Control) -> String {
    let facts = &control.facts;
    let register = match facts.written {
        Written::Geometry => "GEOMETRY",
        Written::Wear => "WEAR",
    };
    let holds = match control.register().holds {
        HeldSize::Radius => "RADIUS",
        HeldSize::Diameter => "DIAMETER",
    };
    let unit = match facts.units {
        System::Inch => "INCHES",
        System::Millimetre => "MILLIMETRES",
    };
    let mode = match facts.mode {
        Mode::Absolute => "VALUES REPLACE WHAT IS THERE".to_owned(),
        Mode::Increment => {
            let (word, last) = (&facts.mode_word, facts.last_word.as_ref());
            let after = last.map_or_else(
                || format!("{word} STAYS IN FORCE AFTERWARDS"),
                |last| format!("{last} IS IN FORCE AFTERWARDS"),
            );
            format!("VALUES ARE ADDED TO WHAT IS THERE, AND {after}")
        }
    };
    format!("{register} REGISTER HOLDS THE {holds} IN {unit}, {mode}")
}

fn block(control: &Control, line: &OffsetLine) -> String {
    let facts = &control.facts;
    let places = facts.decimals as usize;
    let (number, value) = (&facts.number_letter, &facts.value_letter);
    let was = line.old.map_or_else(|| "NOT SAID".to_owned(), |old| format!("{old:.places$}"));
    let remark = format!(
        "{} DIAMETER {}, OFFSET {} WAS {was}, WILL BE {:.places$}",
        line.cutter,
        line.diameter.show(facts.units),
        line.number,
        line.new,
    );
    let besides: String = line.besides.iter().map(|words| remarks(words)).collect();
    let select = &control.register().select;
    let own = format!("G10 {select} {number}{} {value}{:.places$}", line.number, line.written);
    let cleared = facts.wear.as_ref().filter(|_| facts.clears_wear);
    let cleared = cleared.map_or_else(String::new, |wear| {
        format!("G10 {} {number}{} {value}{:.places$}\n", wear.select, line.number, 0.0)
    });
    format!("{}{besides}{own}\n{cleared}", remarks(&remark))
}

/// Words as a remark of a program may hold them: capitals, digits and plain marks, no brackets.
fn plain(words: &str) -> String {
    let letter = |letter: char| match letter {
        '(' | ')' | '%' | '\n' | '\r' | '"' => ' ',
        // On some controls these end a block or begin a program.
        ';' | ':' => ',',
        letter if letter.is_ascii() && !letter.is_ascii_control() => letter.to_ascii_uppercase(),
        _ => '?',
    };
    words.chars().filter(|letter| *letter != '\'').map(letter).collect()
}

//! Readings that can hardly be meant: asked about before anything is fitted.

use geometry::Length;

use super::observed::{Observed, ReadingKind};

/// A question to the hand.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Question {
    /// What it is about, in words.
    pub about: String,
    /// What seems out of place.
    pub doubt: String,
    /// What to do.
    pub ask: String,
}

/// A slip of a unit or of a reading, by what it multiplies the true reading with.
struct Slip {
    factor: f64,
    words: &'static str,
    ask: &'static str,
}

const SLIPS: [Slip; 8] = [
    Slip {
        factor: 1.0 / 25.4,
        words: "about a 25th of what the plan foretells",
        ask: "were these inches, written as millimetres?",
    },
    Slip {
        factor: 25.4,
        words: "some 25 times what the plan foretells",
        ask: "were these millimetres, written as inches?",
    },
    Slip {
        factor: 1000.0,
        words: "some 1000 times what the plan foretells",
        ask: "were these micrometres, or thousandths of an inch, written as whole ones?",
    },
    Slip {
        factor: 0.001,
        words: "about a 1000th of what the plan foretells",
        ask: "were these whole units, written as thousandths?",
    },
    Slip {
        factor: 10.0,
        words: "some 10 times what the plan foretells",
        ask: "has the decimal point slipped?",
    },
    Slip {
        factor: 0.1,
        words: "about a tenth of what the plan foretells",
        ask: "has the decimal point slipped?",
    },
    Slip {
        factor: 0.5,
        words: "about half of what the plan foretells",
        ask: "were these radii, where diameters belong?",
    },
    Slip {
        factor: 2.0,
        words: "about twice what the plan foretells",
        ask: "were these diameters, where half of that belongs?",
    },
];

/// A reading is out of place beyond this ratio to what the plan foretells, either way.
struct Bounds {
    least: f64,
    greatest: f64,
    /// How near, in ratio, a slip must come to be named.
    near: f64,
}

/// How far a reading of a kind may lie from the plan before it is asked about (own choice, no
/// source): wide of anything that a bad grind leaves, narrow of any slip of a unit.
const fn bounds(kind: ReadingKind) -> Bounds {
    match kind {
        ReadingKind::Diameter(_) => Bounds { least: 0.93, greatest: 1.05, near: 1.05 },
        ReadingKind::Drop(_) => Bounds { least: 0.12, greatest: 6.0, near: 1.9 },
        _ => Bounds { least: 0.12, greatest: 6.0, near: 1.9 },
    }
}

/// A height or a total indicator reading beyond this is a slip, in mm (own choice, no source).
const SPREAD_MM_MAX: f64 = 0.6;

/// What a group of readings is called.
pub(super) fn group_name(kind: ReadingKind) -> String {
    match kind {
        ReadingKind::Land(stage) => format!("lands {stage}"),
        ReadingKind::Diameter(over) => format!("diameters over the {over}"),
        ReadingKind::Height(_) => "indicator heights".to_owned(),
        ReadingKind::Runout(of) => format!("runout of the {of}"),
        ReadingKind::Drop(_) => "drops".to_owned(),
    }
}

/// A reading as the plan foretells it, beside what was written down.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(super) struct Written {
    pub(super) kind: ReadingKind,
    pub(super) measured: Length,
    pub(super) expected: Length,
    /// What the same reading would be at the other stage, of a land.
    pub(super) otherwise: Option<Length>,
}

impl From<&Observed> for Written {
    fn from(one: &Observed) -> Self {
        Self { kind: one.kind, measured: one.measured, expected: one.expected, otherwise: None }
    }
}

/// Everything to ask about. Readings of one kind are judged together: where most of them are off by
/// the same slip, it is one question; a single one off is left to the fit, which can set it aside.
/// Of diameters every one is asked about: no grind leaves one so far off, and there are often too
/// few to set it aside.
pub(super) fn questions(written: &[Written]) -> Vec<Question> {
    let mut groups: Vec<(String, Vec<Written>)> = Vec::new();
    for one in written {
        let name = group_name(one.kind);
        match groups.iter_mut().find(|(other, _)| *other == name) {
            Some((_, group)) => group.push(*one),
            None => groups.push((name, vec![*one])),
        }
    }
    let mut asked: Vec<Question> = Vec::new();
    for (name, group) in &groups {
        asked.extend(doubt(name, group, written));
    }
    asked
}

fn doubt(name: &str, group: &[Written], all: &[Written]) -> Option<Question> {
    let kind = group.first()?.kind;
    if matches!(kind, ReadingKind::Height(_) | ReadingKind::Runout(_)) {
        return spread_doubt(name, group);
    }
    if let Some(question) = some_slipped(name, group) {
        return Some(question);
    }
    let bounds = bounds(kind);
    let ratio_of = |one: &Written| one.measured / one.expected;
    let is_out = |one: &&Written| !(bounds.least..=bounds.greatest).contains(&ratio_of(one));
    let out: Vec<Written> = group.iter().filter(is_out).copied().collect();
    let (count, are_most) = (out.len(), out.len() * 2 > group.len());
    if count == 0 || !(are_most || matches!(kind, ReadingKind::Diameter(_))) {
        return None;
    }
    let doubted = if are_most { group } else { &out[..] };
    let of_all = |part: fn(&Written) -> f64| median(doubted.iter().map(part).collect());
    let ratio = of_all(|one| one.measured / one.expected);
    let (measured, expected) = (of_all(|one| one.measured.mm()), of_all(|one| one.expected.mm()));
    let how_many = if are_most { String::new() } else { format!("{count} of {}: ", group.len()) };
    let figures = format!("{how_many}{} where about {} belongs", both(measured), both(expected));
    if let Some(other) = swapped_with(kind, measured, all).filter(|_| are_most) {
        let doubt = format!("{figures}; that would suit {other}");
        let ask = "have two columns changed places?".to_owned();
        return Some(Question { about: name.to_owned(), doubt, ask });
    }
    let near = |slip: &&Slip| (ratio / slip.factor).ln().abs() < bounds.near.ln();
    let nearest = SLIPS.iter().filter(near).min_by(|a, b| {
        let far = |slip: &Slip| (ratio / slip.factor).ln().abs();
        far(a).total_cmp(&far(b))
    });
    let (words, ask) = match nearest {
        Some(slip) => (slip.words, slip.ask),
        None if are_most => ("far from what the plan foretells", "is this the cutter of the plan?"),
        None => ("far from what the plan foretells", "read it again, or leave it out"),
    };
    let doubt = format!("{figures}: {words}");
    Some(Question { about: name.to_owned(), doubt, ask: ask.to_owned() })
}

/// Lands this much nearer to what the other stage leaves are remarked on, as ratios: how far off
/// their own stage, and how near to the other.
const STAGE_FAR: f64 = 1.3;
const STAGE_NEAR: f64 = 1.12;

/// Some of a group that were written in the other system, and the rest was not.
fn some_slipped(name: &str, group: &[Written]) -> Option<Question> {
    let bounds = bounds(group.first()?.kind);
    for slip in &SLIPS[..2] {
        let is_slipped = |one: &&Written| {
            let ratio = one.measured / one.expected;
            let is_out = !(bounds.least..=bounds.greatest).contains(&ratio);
            is_out && (ratio / slip.factor).ln().abs() < bounds.near.ln()
        };
        let count = group.iter().filter(is_slipped).count();
        if count >= 2 && count * 2 <= group.len() {
            let doubt = format!("{count} of {} are {}", group.len(), slip.words);
            return Some(Question { about: name.to_owned(), doubt, ask: slip.ask.to_owned() });
        }
    }
    None
}

/// A word on lands that look as if they had been put down at the wrong stage. It is no question: a
/// cutter that was ground too deep or too shallow looks the same until its diameter is measured.
pub(super) fn stage_remark(written: &[Written]) -> Option<String> {
    let lands: Vec<&Written> = written.iter().filter(|one| one.otherwise.is_some()).collect();
    let first = lands.first()?;
    let otherwise = first.otherwise?;
    let measured = median(lands.iter().map(|one| one.measured.mm()).collect());
    let off = |other: Length| (measured / other.mm()).ln().abs();
    let is_other = off(first.expected) > STAGE_FAR.ln() && off(otherwise) < STAGE_NEAR.ln();
    is_other.then(|| {
        format!(
            "{} of about {} are what the plan foretells for the other stage ({}): were they read \
             before, or after, the secondary was ground?",
            group_name(first.kind),
            both(measured),
            both(otherwise.mm())
        )
    })
}

/// Another kind of reading that such a figure would suit.
fn swapped_with(kind: ReadingKind, measured_mm: f64, all: &[Written]) -> Option<String> {
    let own = group_name(kind);
    let suits = |one: &&Written| {
        let comparable = matches!(one.kind, ReadingKind::Land(_) | ReadingKind::Diameter(_));
        let bounds = bounds(ReadingKind::Diameter(crate::record::Over::Micrometer));
        let ratio = measured_mm / one.expected.mm();
        let near = match one.kind {
            ReadingKind::Diameter(_) => (bounds.least..=bounds.greatest).contains(&ratio),
            _ => (0.5..=2.0).contains(&ratio),
        };
        let own_ratio = one.measured / one.expected;
        let is_out_too = !(0.2..=5.0).contains(&own_ratio);
        comparable && group_name(one.kind) != own && near && is_out_too
    };
    all.iter().find(suits).map(|one| group_name(one.kind))
}

fn spread_doubt(name: &str, group: &[Written]) -> Option<Question> {
    let values = || group.iter().map(|one| one.measured.mm());
    let least = values().fold(f64::INFINITY, f64::min);
    let greatest = values().fold(f64::NEG_INFINITY, f64::max);
    let is_runout = matches!(group.first()?.kind, ReadingKind::Runout(_));
    let spread = if is_runout { greatest } else { greatest - least };
    (spread > SPREAD_MM_MAX).then(|| Question {
        about: name.to_owned(),
        doubt: format!("{} from the lowest to the highest", both(spread)),
        ask: "has a unit or the decimal point slipped?".to_owned(),
    })
}

fn median(mut values: Vec<f64>) -> f64 {
    values.sort_by(f64::total_cmp);
    values.get(values.len() / 2).copied().unwrap_or(0.0)
}

fn both(mm: f64) -> String {
    let length = Length::from_mm(mm);
    format!("{:.4} mm ({:.5} in)", length.mm(), length.inches())
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::record::Over;

    fn diameters(measured_mm: &[f64]) -> Vec<Question> {
        let kind = ReadingKind::Diameter(Over::Micrometer);
        let expected = Length::from_mm(11.71);
        let written = |mm: &f64| {
            let measured = Length::from_mm(*mm);
            Written { kind, measured, expected, otherwise: None }
        };
        questions(&measured_mm.iter().map(written).collect::<Vec<_>>())
    }

    #[test]
    fn one_diameter_with_its_point_slipped_is_asked_about() {
        assert!(diameters(&[11.68, 11.74]).is_empty());
        for few in [&[11.70, 1.17][..], &[11.70, 11.71, 11.70, 117.0]] {
            let asked = diameters(few);
            let [one] = &asked[..] else { unreachable!("one question, not {asked:?}") };
            assert!(one.ask.contains("decimal point"), "{one:?}");
            assert!(one.doubt.starts_with(&format!("1 of {}: ", few.len())), "{one:?}");
        }
        let lone = diameters(&[11.70, 9.1]);
        assert!(lone[0].ask.contains("read it again"), "{lone:?}");
        assert!(diameters(&[1.170, 1.171])[0].doubt.starts_with("1.17"));
    }
}

//! The words of a study, as its sheet, its pictures and its page say them.

use shop::plan::Quantity;
use shop::study::{Allowance, Causes, Closer, Habit, Measure, Spread, Study, Widest};

use super::show::{Units, source};

/// Causes below this share are not named.
const NAMED: f64 = 0.01;

/// A gain below this is not shown.
const GAIN: f64 = 0.002;

/// A share in percent, with a decimal where it is small or nearly all.
pub fn percent(share: f64) -> String {
    let percent = 100.0 * share;
    if percent > 0.0 && percent < 0.05 {
        "under 0.1 %".to_owned()
    } else if (0.05..9.95).contains(&percent) || (90.05..99.95).contains(&percent) {
        format!("{percent:.1} %")
    } else {
        format!("{percent:.0} %")
    }
}

/// What holds, and which setting is worth setting better.
pub fn verdicts(study: &Study, units: Units) -> Vec<String> {
    let held = format!(
        "{} of teeth come out with relief and land both as wanted, every setting as far off as a \
         hand ordinarily is.",
        percent(study.held)
    );
    let closer = study.closer.as_ref().map(|closer| together(study, closer, units));
    [Some(held), closer.or_else(|| Some(better(study)))].into_iter().flatten().collect()
}

/// How all other settings are met where one is at its limit.
pub const fn others(study: &Study) -> &'static str {
    match study.closer {
        Some(_) => "the settings named above that close, all else as a hand sets it",
        None => "all else as a hand sets it",
    }
}

/// What must be set more closely so that enough teeth hold.
fn together(study: &Study, closer: &Closer, units: Units) -> String {
    let each = closer.within.iter().filter_map(|(setting, within)| {
        let habit = study.habits.habit(*setting)?;
        let usual = tolerance(habit.within(), units);
        let within = with_divisions(habit, *within, units);
        Some(format!("{} {within} (usually ±{usual})", setting.name()))
    });
    let list = each.collect::<Vec<_>>().join("; ");
    format!("To have {} hold, set these closer: {list}.", percent(closer.held))
}

fn better(study: &Study) -> String {
    match study.set_better() {
        Some(one) => format!(
            "Set one thing better: the {}. Twice as close, and {} more of teeth hold.",
            one.setting.name(),
            percent(one.gain)
        ),
        None => "No single setting made twice as close would gain anything to speak of.".to_owned(),
    }
}

/// Values of a result, to what a reading shows.
pub fn shown(measure: Measure, value: f64, units: Units) -> String {
    units.amount(measure.quantity(value))
}

/// The band that is wanted, where it comes from, and how many teeth lie in it.
pub fn wanted(spread: &Spread, units: Units) -> String {
    let (Some(cited), Some(within)) = (&spread.wanted, spread.within) else {
        return "-".to_owned();
    };
    let (least, most) = cited.value;
    let least = shown(spread.measure, least, units);
    let most = shown(spread.measure, most, units);
    // One unit is enough for a pair.
    let least = least.split_once(' ').map_or(least.clone(), |(number, _)| number.to_owned());
    format!("{least} to {most}: {}{}", percent(within), source(&cited.source))
}

/// The causes in words, the greatest first.
pub fn listed(causes: &Causes) -> String {
    let named = causes.causes.iter().filter(|cause| cause.share.total >= NAMED);
    let each = named.map(|cause| {
        let bent = if cause.is_linear() { "" } else { " (bent: not by its slope alone)" };
        format!("{} {}{bent}", cause.setting.name(), percent(cause.share.total.min(1.0)))
    });
    each.collect::<Vec<_>>().join(", ")
}

/// What making a setting twice as close gains.
pub fn gain(gain: f64) -> String {
    if gain > GAIN { format!("+{}", percent(gain)) } else { "-".to_owned() }
}

/// What a hand ordinarily keeps to.
pub fn usual(habit: &Habit, units: Units) -> String {
    with_divisions(habit, habit.within(), units)
}

/// How loosely it may be set.
pub fn widest(habit: &Habit, allowance: &Allowance, units: Units) -> String {
    match allowance.widest {
        Widest::NotEvenExact => "not even exact will do".to_owned(),
        Widest::NoLimit => "hardly matters".to_owned(),
        Widest::Within(amount) => with_divisions(habit, amount, units),
    }
}

fn with_divisions(habit: &Habit, amount: Quantity, units: Units) -> String {
    let shown = tolerance(amount, units);
    match habit.divisions(amount) {
        Some(count) => format!("±{shown}, {count:.1} div."),
        None => format!("±{shown}"),
    }
}

/// A small amount to two figures that mean something.
pub fn tolerance(amount: Quantity, units: Units) -> String {
    match amount {
        Quantity::Angle(angle) if angle.degrees() < 0.1 => {
            format!("{:.1} min", angle.degrees() * 60.0)
        }
        Quantity::Angle(angle) => format!("{:.2} deg", angle.degrees()),
        Quantity::Length(_) => units.tolerance(amount),
    }
}

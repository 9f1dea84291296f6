//! The tally over all simulated cases, what it must hold, and its table.

use std::thread;

use super::page;
use super::trial::{Came, Kind, Manner, case};

/// Seeds of each kind with careful readings; nothing planted gets twice as many.
const SEEDS: u64 = 245;

/// Seeds of each kind with each of the other manners.
const SEEDS_OTHERWISE: u64 = 35;

/// What came of one kind of case.
#[derive(Clone, Copy, Debug, Default)]
struct Line {
    cases: usize,
    plain: usize,
    named: usize,
    wrong: usize,
    unclear: usize,
    sized: usize,
    in_band: usize,
}

impl Line {
    fn add(&mut self, came: &Came) {
        self.cases += 1;
        self.wrong += usize::from(came.names_wrong());
        self.unclear += usize::from(came.is_unclear());
        for truth in came.plain() {
            self.plain += 1;
            self.named += usize::from(came.names_right(truth.fault));
        }
        let in_band = came.in_band();
        self.sized += in_band.len();
        self.in_band += in_band.iter().filter(|held| **held).count();
    }

    fn with(mut self, other: &Self) -> Self {
        self.cases += other.cases;
        self.plain += other.plain;
        self.named += other.named;
        self.wrong += other.wrong;
        self.unclear += other.unclear;
        self.sized += other.sized;
        self.in_band += other.in_band;
        self
    }

    fn shown(&self, name: &str) -> String {
        let share = |part: usize, of: usize| match of {
            0 => "–".to_owned(),
            of => format!("{:.1} %", 100.0 * part as f64 / of as f64),
        };
        format!(
            "| {name} | {} | {} | {} | {} | {} | {} | {} |\n",
            self.cases,
            self.plain,
            share(self.named, self.plain),
            share(self.wrong, self.cases),
            share(self.unclear, self.cases),
            self.sized,
            share(self.in_band, self.sized)
        )
    }
}

/// Runs the seeds of one kind on two threads.
fn run(kind: Kind, manner: Manner, seeds: u64) -> Line {
    let half = |first: u64| {
        let mut line = Line::default();
        for seed in (first..seeds).step_by(2) {
            let seed = seed * 31 + kind as u64 * 100_003 + manner as u64 * 7_000_003;
            if let Some(came) = case(seed, kind, manner) {
                line.add(&came);
            }
        }
        line
    };
    thread::scope(|scope| {
        let other = scope.spawn(|| half(1));
        half(0).with(&other.join().unwrap())
    })
}

#[test]
fn faults_are_named_and_sized_as_stated() {
    let careful = |kind: Kind| {
        let seeds = if kind == Kind::Nothing { 2 * SEEDS } else { SEEDS };
        (kind, run(kind, Manner::Careful, seeds))
    };
    let lines: Vec<(Kind, Line)> = Kind::ALL.into_iter().map(careful).collect();
    let of = |kind: Kind| lines.iter().find(|line| line.0 == kind).unwrap().1;
    let (nothing, two) = (of(Kind::Nothing), of(Kind::Two));
    let is_single = |kind: &Kind| !matches!(kind, Kind::Nothing | Kind::Two);
    let singles = lines.iter().filter(|line| is_single(&line.0));
    let singles = singles.fold(Line::default(), |sum, line| sum.with(&line.1));
    let otherwise = |manner: Manner| {
        let all = Kind::ALL.into_iter().map(|kind| run(kind, manner, SEEDS_OTHERWISE));
        all.fold(Line::default(), |sum, line| sum.with(&line))
    };
    let (misread, not_noted) = (otherwise(Manner::Misread), otherwise(Manner::NotNoted));
    let after = otherwise(Manner::AfterSecondary);

    let mut table: String = lines.iter().map(|(kind, line)| line.shown(kind.name())).collect();
    table += &singles.shown("**every single fault**");
    table += &misread.shown("all kinds, one land misread");
    table += &not_noted.shown("all kinds, numbering not noted");
    table += &after.shown("all kinds, lands read after the secondary");
    println!("{table}");
    page::hold("diagnosis", &format!("{HEAD}{table}"));

    let all = singles.cases + nothing.cases + two.cases;
    assert!(all >= 2000, "only {all} cases could be run");
    let share = |part: usize, of: usize| part as f64 / of as f64;
    assert!(share(nothing.wrong, nothing.cases) < 0.03, "false alarms: {nothing:?}");
    assert!(share(singles.named, singles.plain) >= 0.97, "named right: {singles:?}");
    assert!(share(two.named, two.plain) >= 0.95, "named right, two at once: {two:?}");
    let band = share(singles.in_band, singles.sized);
    assert!((0.93..=0.97).contains(&band), "in the band: {singles:?}");
    for line in [misread, not_noted, after] {
        assert!(share(line.named, line.plain) >= 0.95, "named right: {line:?}");
        assert!(share(line.wrong, line.cases) < 0.03, "named wrong: {line:?}");
    }
}

const HEAD: &str = "\
| planted | cases | above 3× its band | of those named right | a wrong one named | said it cannot \
tell | sizes told | of those in their 95 % band |
|---|---|---|---|---|---|---|---|
";

//! Corrections that are followed exactly as printed, and the grind after them read and checked
//! against the corrective plan.
//!
//! What the wheel then leaves is worked out here from the printed marks alone: where it sparks
//! first on the teeth as they really stand, how far the dial then brings it, and where the rest
//! really stands. Only the ground section is the kernel's.

use std::f64::consts::TAU;
use std::thread;

use checks::reference::random::Splitmix;
use geometry::section::{Setup, Stance};
use geometry::{Angle, Length};
use sheets::text::is_harmless;
use shop::Ctx;
use shop::check::{Action, Check, Fault, Finding, Outcome, Worth};
use shop::plan::{
    Carried, Chosen, CorrectivePlan, CorrectiveWish, FeedFrom, Quantity, ReliefBy, SecondaryNext,
    plan_corrective,
};
use trade::Tables;

use super::bench::{normal, readings};
use super::grind::{Behind, Job, Planted, radius_at};
use super::page;
use super::trial::{Kind, Manner, Planned, planned, weighed};

/// Seeds of each kind.
const SEEDS: u64 = 24;

/// How surely a hand feels the first spark, as one standard deviation (own choice, no source).
const KISS_MM: f64 = 0.0015;

/// How far off a shank sits that was cleaned and seated again, at most (own choice, no source).
const SEATED_MM: f64 = 0.002;

/// Stations along the flute at which the wheel may touch first.
const STATIONS: u32 = 8;

/// What came of a corrective grind.
#[derive(Clone, Debug)]
struct Came {
    verdict: Verdict,
    /// Whether every edge was reached.
    is_clean: bool,
    secondary: &'static str,
}

/// What the second check says.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
enum Verdict {
    /// Sound.
    AsPlanned,
    /// What it names is really there, and goes on the tag or is good enough.
    GoodEnough,
    /// What it names is really there, and is to be ground.
    Remains,
    /// It names something that is not there.
    False,
    /// It says that it cannot tell.
    CannotTell,
}

/// Takes a case through check, corrective grind and second check; None where there is nothing to
/// grind again.
fn again(seed: u64, kind: Kind, manner: Manner) -> Option<Came> {
    let Planned { mut draw, plan, planted, taken, .. } = planned(seed, kind, manner)?;
    let job = Job::of(&plan);
    let first = readings(&mut draw, &job, &planted, taken)?;
    let check = weighed(&plan, first).ok()?;
    let tables = Tables::bundled().unwrap();
    let corrective = plan_corrective(&Ctx { tables }, &check, &CorrectiveWish::default()).ok()?;
    let order = job.grinds.grinding.second_round.clone();
    let mut after = Job::of(&corrective.plan);
    let followed = Followed { job: &job, check: &check, plan: &corrective, planted };
    let path = followed.path(&mut draw, &order);
    after.behind = Some(Behind { radius_mm: job.radius_mm, planted, order: order.clone() });
    if matches!(corrective.secondary, SecondaryNext::Stays(_)) {
        after.fresh = job.fresh;
    }
    if corrective.rounds[0].len() < job.teeth as usize {
        after.only.clone_from(&corrective.rounds[0]);
    }
    let is_clean = corners(&after).all(|(tooth, z)| {
        let passed = after.only.is_empty() || after.only.contains(&tooth);
        let reached = after.path_mm(&path, &order, tooth, z);
        !passed || after.stand_mm(&path, &order, tooth, z) > reached - 0.0005
    });
    let second = readings(&mut draw, &after, &path, taken)?;
    let check = weighed(&corrective.plan, second)
        .unwrap_or_else(|asked| panic!("seed {seed}, {kind:?}, asked after: {asked:?}"));
    let verdict = verdict(&check, &after, &path, is_clean);
    let secondary = match corrective.secondary {
        SecondaryNext::Follows => "follows",
        SecondaryNext::Again(_) => "again",
        SecondaryNext::Stays(_) => "stays",
    };
    Some(Came { verdict, is_clean, secondary })
}

/// Every tooth at every station.
fn corners(job: &Job<'_>) -> impl Iterator<Item = (u32, f64)> {
    let flute_mm = job.flute_mm;
    let at = move |station: u32| flute_mm * f64::from(station) / f64::from(STATIONS);
    (1..=job.teeth).flat_map(move |tooth| (0..=STATIONS).map(move |station| (tooth, at(station))))
}

/// A correction carried out by its printed marks.
struct Followed<'a> {
    job: &'a Job<'a>,
    check: &'a Check,
    plan: &'a CorrectivePlan,
    planted: Planted,
}

impl Followed<'_> {
    fn made(&self, action: Action) -> Option<&Chosen> {
        let is = |one: &&Chosen| one.correction.action == action && one.carried.is_made();
        self.plan.chosen.iter().find(is)
    }

    fn finding(&self, fault: Fault) -> Option<&Finding> {
        self.check.findings.iter().find(|finding| finding.fault == fault)
    }

    /// The wheel's new way over the teeth, against the corrective plan's radius.
    fn path(&self, draw: &mut Splitmix, order: &[u32]) -> Planted {
        let planted = self.planted;
        let mut path = Planted { taper: self.taper(draw), size: 0.0, drift: 0.0, ..planted };
        path.slip = None;
        if self.made(Action::Reseat).is_some() {
            let (length, angle) = (draw.even(0.0, SEATED_MM), draw.even(0.0, TAU));
            path.offset = (length * angle.cos(), length * angle.sin());
            path.tilt = (0.0, 0.0);
        }
        let drop_mm = self.drop_mm();
        let touched_mm = self.touched_mm(&path, order, drop_mm);
        let kiss_mm = match self.plan.from {
            FeedFrom::Kiss(_) => KISS_MM * normal(draw),
            FeedFrom::LastPass => 0.0,
        };
        let fed_mm = self.fed_mm(touched_mm + kiss_mm, drop_mm);
        let new_mm = 0.5 * self.plan.peripheral().unwrap().expected.diameter.mm();
        path.size = fed_mm - new_mm;
        let planned = self.plan.peripheral().unwrap().stanced.stance().relief_setting;
        path.setting_deg = (self.set(drop_mm, fed_mm) - planned).degrees();
        path
    }

    /// The taper that is left: a swivel goes to the nearest mark, an indicator nearer.
    fn taper(&self, draw: &mut Splitmix) -> f64 {
        let Some(one) = self.made(Action::Swivel) else { return self.planted.taper };
        if matches!(one.carried, Carried::ByIndicator(_)) {
            let found = self.finding(Fault::Taper).unwrap().size.value;
            return self.planted.taper - found + 0.0005 * normal(draw);
        }
        let Some(Quantity::Angle(by)) = one.correction.dial.as_ref().map(|dial| dial.by) else {
            panic!("a swivel turns");
        };
        let toward = one.correction.how.contains("toward the wheel");
        let swung_mm = by.radians().abs().tan() * self.job.flute_mm;
        self.planted.taper + if toward { -swung_mm } else { swung_mm }
    }

    /// How far the rest really stands below centre.
    fn drop_mm(&self) -> f64 {
        let stood = self.job.setup(&self.planted).stance().relief_setting;
        let drop_mm = self.job.radius_mm * stood.radians().sin();
        let Some(one) = self.made(Action::SetRelief) else { return drop_mm };
        let change = one.correction.dial.as_ref().unwrap();
        let Quantity::Length(by) = change.by else { panic!("a height slides") };
        // The rest's own scale grows downward here, the column's upward.
        drop_mm + if change.axis == "rest" { by.mm() } else { -by.mm() }
    }

    fn set(&self, drop_mm: f64, radius_mm: f64) -> Angle {
        Angle::from_radians((drop_mm / radius_mm).asin())
    }

    fn setup(&self, drop_mm: f64, radius_mm: f64) -> Setup {
        let stanced = &self.job.grinds.stanced;
        let mut stance: Stance = *stanced.stance();
        stance.relief_setting = self.set(drop_mm, radius_mm);
        if stanced.relief_by == ReliefBy::HeadWithRest {
            stance.axis_above = Length::from_mm(-drop_mm);
        }
        stanced.setup.with_stance(stance).unwrap()
    }

    /// The radius that the wheel would leave where it just touches, or where the last pass stood.
    fn touched_mm(&self, path: &Planted, order: &[u32], drop_mm: f64) -> f64 {
        let FeedFrom::Kiss(tooth) = self.plan.from else {
            let drift = if self.planted.drift > 0.0 { self.planted.drift } else { 0.0 };
            return self.job.radius_mm + self.planted.size + drift;
        };
        let over = |(_, z): (u32, f64)| {
            let stands = self.job.stand_mm(&self.planted, order, tooth, z);
            stands - self.job.path_mm(path, order, tooth, z)
        };
        let own = corners(self.job).filter(|(other, _)| *other == tooth);
        let edge_mm = self.job.radius_mm + own.map(over).fold(f64::NEG_INFINITY, f64::max);
        self.kissed_mm(edge_mm, drop_mm)
    }

    /// The radius that the wheel, as it is set now, would leave where it touches a tooth that was
    /// ground to `edge_mm` as the wheel was set then: higher than that where it touches behind the
    /// edge.
    fn kissed_mm(&self, edge_mm: f64, drop_mm: f64) -> f64 {
        let section = |setup: &Setup, mm: f64| setup.section(Length::from_mm(2.0 * mm)).unwrap();
        let was = section(&self.job.setup(&self.planted), edge_mm);
        let land = self.job.grinds.expected.land.mm() / edge_mm;
        let bites = |radius_mm: f64| {
            let new = section(&self.setup(drop_mm, radius_mm), radius_mm);
            (0..=40).any(|ray| {
                let at = land * f64::from(ray) / 40.0;
                radius_at(&new, at) < radius_at(&was, at)
            })
        };
        let (mut deep, mut clear) = (edge_mm - 0.1, edge_mm + 0.2);
        while clear - deep > 1e-5 {
            let middle = 0.5 * (deep + clear);
            if bites(middle) { deep = middle } else { clear = middle }
        }
        clear
    }

    /// The radius that is left when the dial has been fed to the last mark.
    fn fed_mm(&self, touched_mm: f64, drop_mm: f64) -> f64 {
        let grinding = &self.plan.peripheral().unwrap().grinding;
        let mark = grinding.passes.last().map(|pass| pass.dial.reading);
        let Some(Quantity::Length(mark)) = mark else { panic!("a feed is a length") };
        let stands = |radius_mm: f64| {
            let setup = self.setup(drop_mm, radius_mm);
            let section = setup.section(Length::from_mm(2.0 * radius_mm)).unwrap();
            section.leading_corner_from_axis().mm()
        };
        let wanted = stands(touched_mm) - mark.mm();
        let (mut deep, mut high) = (touched_mm - 2.0 * mark.mm() - 0.01, touched_mm + 0.001);
        while high - deep > 1e-7 {
            let middle = 0.5 * (deep + high);
            if stands(middle) < wanted { deep = middle } else { high = middle }
        }
        0.5 * (deep + high)
    }
}

/// What the second check says, against what is really there.
fn verdict(check: &Check, after: &Job<'_>, path: &Planted, is_clean: bool) -> Verdict {
    let remains = |finding: &Finding| remains(finding, after, path, is_clean);
    if !check.findings.iter().all(remains) {
        return Verdict::False;
    }
    let stays = check
        .corrections
        .iter()
        .all(|one| one.action == Action::TagSize || matches!(one.worth, Worth::GoodEnough(_)));
    match check.outcome {
        Outcome::Sound => Verdict::AsPlanned,
        Outcome::Unclear if !is_harmless(check) => Verdict::CannotTell,
        _ if stays => Verdict::GoodEnough,
        _ => Verdict::Remains,
    }
}

/// Smaller than these, nothing is there to be named: mm, degrees.
const THERE_MM: f64 = 0.0008;
const THERE_DEG: f64 = 0.05;

/// Whether what is named is there, about as large: within twice its band.
fn remains(finding: &Finding, after: &Job<'_>, path: &Planted, is_clean: bool) -> bool {
    let truth = match finding.fault {
        Fault::Size => path.size,
        Fault::Taper => path.taper,
        Fault::Runout => {
            let end = (path.offset.0 + path.tilt.0, path.offset.1 + path.tilt.1);
            path.offset.0.hypot(path.offset.1).max(end.0.hypot(end.1))
        }
        Fault::Clearance => after.relief_off_deg(path),
        // A tooth that alone was ground again stands where the spark was felt.
        Fault::Slip(tooth) if after.only.contains(&tooth) => {
            let others = after.behind.as_ref().unwrap();
            path.size - (others.planted.size + others.radius_mm - after.radius_mm)
        }
        Fault::Drift | Fault::Slip(_) | Fault::Corner => 0.0,
    };
    let least = if finding.fault.is_angle() { THERE_DEG } else { THERE_MM };
    let is_there =
        truth.abs() > least && (finding.size.value - truth).abs() <= 2.0 * finding.size.half_width;
    // Where the wheel did not reach every edge, some teeth still stand as they stood before.
    is_there || (!is_clean && finding.fault != Fault::Clearance)
}

/// What came of one kind of case.
#[derive(Clone, Copy, Debug, Default)]
struct Line {
    cases: usize,
    as_planned: usize,
    good_enough: usize,
    remains: usize,
    wrong: usize,
    unclear: usize,
    not_clean: usize,
    secondary_stays: usize,
}

impl Line {
    fn add(&mut self, came: &Came) {
        self.cases += 1;
        self.as_planned += usize::from(came.verdict == Verdict::AsPlanned);
        self.good_enough += usize::from(came.verdict == Verdict::GoodEnough);
        self.remains += usize::from(came.verdict == Verdict::Remains);
        self.wrong += usize::from(came.verdict == Verdict::False);
        self.unclear += usize::from(came.verdict == Verdict::CannotTell);
        self.not_clean += usize::from(!came.is_clean);
        self.secondary_stays += usize::from(came.secondary == "stays");
    }

    fn with(self, other: &Self) -> Self {
        Self {
            cases: self.cases + other.cases,
            as_planned: self.as_planned + other.as_planned,
            good_enough: self.good_enough + other.good_enough,
            remains: self.remains + other.remains,
            wrong: self.wrong + other.wrong,
            unclear: self.unclear + other.unclear,
            not_clean: self.not_clean + other.not_clean,
            secondary_stays: self.secondary_stays + other.secondary_stays,
        }
    }

    fn shown(&self, name: &str) -> String {
        let Self { cases, as_planned, good_enough, remains, wrong, unclear, not_clean, .. } = self;
        format!(
            "| {name} | {cases} | {as_planned} | {good_enough} | {remains} | {wrong} | {unclear} | \
             {not_clean} |\n"
        )
    }
}

fn run(kind: Kind, manner: Manner) -> Line {
    let half = |first: u64| {
        let mut line = Line::default();
        for seed in (first..SEEDS).step_by(2) {
            let seed = seed * 37 + kind as u64 * 200_003 + manner as u64 * 9_000_011 + 11;
            if let Some(came) = again(seed, kind, manner) {
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
fn a_correction_that_is_followed_is_found_as_planned() {
    let kinds = Kind::ALL.into_iter().filter(|kind| *kind != Kind::Nothing);
    let lines: Vec<(Kind, Line)> =
        kinds.clone().map(|kind| (kind, run(kind, Manner::Careful))).collect();
    let asked = [Kind::Size, Kind::Two].map(|kind| run(kind, Manner::SizeAsked));
    let asked = asked[0].with(&asked[1]);
    let fresh = kinds.map(|kind| run(kind, Manner::AfterSecondary));
    let fresh = fresh.fold(Line::default(), |sum, line| sum.with(&line));
    let mut all = lines.iter().fold(Line::default(), |sum, line| sum.with(&line.1));
    all = all.with(&fresh).with(&asked);
    let mut table: String = lines.iter().map(|(kind, line)| line.shown(kind.name())).collect();
    table += &fresh.shown("all kinds, the secondary ground and read");
    table += &asked.shown("size and two at once, a size asked for");
    table += &all.shown("**all**");
    println!("{table}\nsecondary stays in {} of {}", fresh.secondary_stays, fresh.cases);
    page::hold("again", &format!("{HEAD}{table}"));

    assert!(all.cases >= 150, "only {} cases were ground again", all.cases);
    let share = |part: usize| part as f64 / all.cases as f64;
    assert!(share(all.wrong) < 0.02, "false faults: {all:?}");
    assert!(share(all.remains) < 0.05, "to be ground a third time: {all:?}");
    assert!(share(all.as_planned + all.good_enough) >= 0.8, "done: {all:?}");
}

const HEAD: &str = "\
| planted | ground again | as planned | what is off is good enough | names what remains | a false \
fault named | cannot tell | edges not reached |
|---|---|---|---|---|---|---|---|
";

//! What a spread is caused by: the share of every setting.

use geometry::sampling::{Share, Shares};
use trade::StudiedSetting;

use super::design::{Design, Mixed, Tell, values};
use super::habit::{Habits, Scatter};
use super::outcome::{Measure, Outcome};
use super::regrind::StudyProgress;

/// What one result's spread is caused by.
#[derive(Clone, Debug, PartialEq)]
pub struct Causes {
    /// The result.
    pub measure: Measure,
    /// Its standard deviation, in degrees or millimetres.
    pub deviation: f64,
    /// Every setting that bears on it, the greatest cause first.
    pub causes: Vec<Cause>,
}

/// The share of one setting.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Cause {
    /// The setting.
    pub setting: StudiedSetting,
    /// Its share of the variance, by sampling.
    pub share: Share,
    /// What the result gains for one deviation of the setting, in degrees or millimetres, about
    /// the plan.
    pub per_deviation: f64,
    /// The share that follows from that slope alone.
    pub linear: f64,
}

/// Shares that differ by less than this agree.
const AGREE: f64 = 0.05;

/// A setting with a smaller share than this is not named.
const NAMED: f64 = 0.0005;

impl Cause {
    /// Whether the slope about the plan tells the same as the sampling.
    pub fn is_linear(&self) -> bool {
        (self.linear - self.share.total).abs() < AGREE + self.share.total_error
    }
}

/// The outcomes from which shares are estimated.
pub(super) struct Mixtures {
    a: Vec<Outcome>,
    b: Vec<Outcome>,
    /// One for each setting.
    ab: Vec<Vec<Outcome>>,
}

impl Mixtures {
    /// Works them out; None where it was stopped. `of_a` are the outcomes at A that are there
    /// already.
    pub(super) fn of(design: &Design<'_>, of_a: &[Outcome], tell: Tell<'_>) -> Option<Self> {
        let settings = design.settings();
        let count = of_a.len() as u64;
        let of = count * (settings as u64 + 1);
        let mut done = 0;
        let mut work = |mixed: Mixed| {
            let mut is_stopped = false;
            let worked = design.worked(of_a.len() as u32, mixed, &mut |block| {
                done += block.len() as u64;
                let flow = tell(StudyProgress { doing: StudyProgress::CAUSES, done, of });
                is_stopped = flow.is_break();
                flow
            });
            (!is_stopped).then_some(worked.outcomes)
        };
        let b = work(Mixed::B)?;
        let ab = (0..settings).map(|one| work(Mixed::AWithB(one))).collect::<Option<Vec<_>>>()?;
        Some(Self { a: of_a.to_vec(), b, ab })
    }
}

impl Causes {
    /// The causes of every result that spreads.
    pub(super) fn of_all(design: &Design<'_>, habits: &Habits, mixtures: &Mixtures) -> Vec<Self> {
        let slopes: Vec<Slopes> =
            (0..habits.0.len()).map(|place| Slopes::about_plan(design, habits, place)).collect();
        let one = |measure: &Measure| Self::of(*measure, habits, mixtures, &slopes);
        Measure::ALL.iter().filter_map(one).collect()
    }

    fn of(
        measure: Measure,
        habits: &Habits,
        mixtures: &Mixtures,
        slopes: &[Slopes],
    ) -> Option<Self> {
        let (a, b) = (values(&mixtures.a, measure), values(&mixtures.b, measure));
        let shares = Shares::new(&a, &b)?;
        let part = |place: usize| {
            let habit = &habits.0[place];
            let in_deviations = habit.variance() / habit.deviation().powi(2);
            slopes[place].of(measure).powi(2) * in_deviations
        };
        let all: f64 = (0..habits.0.len()).map(part).sum();
        let cause = |(place, ab): (usize, &Vec<Outcome>)| Cause {
            setting: habits.0[place].setting,
            share: shares.of(&values(ab, measure)),
            per_deviation: slopes[place].of(measure),
            linear: if all > 0.0 { part(place) / all } else { 0.0 },
        };
        let mut causes: Vec<Cause> = mixtures.ab.iter().enumerate().map(cause).collect();
        causes.retain(|cause| cause.share.total > NAMED);
        causes.sort_by(|one, other| other.share.total.total_cmp(&one.share.total));
        Some(Self { measure, deviation: shares.variance().sqrt(), causes })
    }
}

/// What each result gains for one deviation of one setting.
struct Slopes([f64; Measure::ALL.len()]);

impl Slopes {
    /// **Source** \[own-derivation\] central difference over one deviation to either side; to the
    /// one side to which a one-sided error goes. **Departs** nowhere. **Error** of second order
    /// (first, one-sided) in the deviation. **Domain** settings whose neighbours are possible;
    /// where one is not, the plan stands in for it.
    fn about_plan(design: &Design<'_>, habits: &Habits, place: usize) -> Self {
        let habit = &habits.0[place];
        let step = habit.deviation();
        let at = |error: f64| design.alone(place, error).unwrap_or(design.planned);
        let (more, less, steps) = match habit.scatter {
            Scatter::OneSided => (at(step), design.planned, 1.0),
            Scatter::Normal | Scatter::Turning => (at(step), at(-step), 2.0),
        };
        Self(Measure::ALL.map(|measure| (more.of(measure) - less.of(measure)) / steps))
    }

    const fn of(&self, measure: Measure) -> f64 {
        self.0[measure as usize]
    }
}

//! The tolerance study of a plan: which setting matters.

use std::ops::ControlFlow;
use std::sync::Arc;

use shop::book::{Id, Moment};
use shop::study::{Study, StudyRegrind, study_regrind};
use shop::{Ctx, ShopError};

use super::order::Tell;
use super::{Desk, Made, locked};
use crate::cli::Failure;

/// So many teeth a study at the bench works out.
const SAMPLES: u32 = 4096;

/// The seed of every study at the bench, so that the same plan has the same answer.
const SEED: u32 = 1;

/// A study as it was worked out.
pub(crate) struct StudyAt {
    pub(crate) at: Moment,
    pub(crate) cutter: Id,
    pub(crate) study: Study,
}

impl Desk {
    /// Studies a plan, and remembers the answer.
    pub(crate) async fn work_out_study(
        &self,
        cutter: &Id,
        made: Arc<Made>,
        tell: impl Tell,
    ) -> Result<Arc<StudyAt>, Failure> {
        let studied = tokio::task::spawn_blocking(move || {
            let request = StudyRegrind { plan: made.plan.clone(), samples: SAMPLES, seed: SEED };
            study_regrind(&Ctx { tables: &made.tables }, request, &mut |progress| match tell(
                progress.doing,
                progress.done,
                progress.of,
            ) {
                true => ControlFlow::Continue(()),
                false => ControlFlow::Break(()),
            })
        });
        let study = studied.await.map_err(|error| ShopError::store("study the plan", error))?;
        let study = StudyAt { at: self.now(), cutter: cutter.clone(), study: study? };
        let study = Arc::new(study);
        *locked(&self.study) = Some(study.clone());
        Ok(study)
    }

    /// The study that was worked out last, as long as the program runs.
    pub(crate) fn studied(&self) -> Option<Arc<StudyAt>> {
        locked(&self.study).clone()
    }
}

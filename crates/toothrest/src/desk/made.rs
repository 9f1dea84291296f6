//! Plans, made from what the book knows and remembered by what they were made from.

use std::sync::Arc;

use sha2::{Digest, Sha256};
use sheets::text::{Units, group_in_words};
use shop::book::event::Planned;
use shop::book::{Event, Store, Subject, SubjectKind};
use shop::check::{CheckRegrind, Checked, check_regrind};
use shop::cost::Prices;
use shop::plan::{
    BenchStep, CorrectivePlan, FacePlan, HelixGroup, PlanStep, RegrindPlan, SizesLeft,
    ball_bench_steps, bench_steps, corrective_steps, end_bench_steps, end_first_steps,
};
use shop::record::Readings;
use shop::{Ctx, ShopError};
use trade::Tables;

use super::{CutterAt, Desk, DocumentAt, WheelAt, inputs_of, locked};
use crate::cli::{Beside, Failure, Remade, remade, tables};
use crate::files::{cutter_text, history_text, read_prices, wheel_text};
use crate::wire::{Inputs, NamedText};

/// What a hand asks of a plan, beyond the cutter.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub(crate) struct Asked {
    /// The id of the machine's paper; the first there is where it is empty.
    pub(crate) machine: String,
    /// The id of the one wheel to use; every wheel is weighed where it is empty.
    pub(crate) wheel: String,
    /// The kind of relief; empty where it is left to the wheel.
    pub(crate) relief: String,
    /// The size to grind to, with its unit; empty where it is left to the wear.
    pub(crate) to_size: String,
    /// Whether the end is to be ground too, though the verdict may not ask for it.
    pub(crate) end: bool,
    /// What is to come off the length, with its unit; empty where it is left to the corners.
    pub(crate) off_length: String,
}

/// A plan with what it was made from.
pub(crate) struct Made {
    pub(crate) inputs: Inputs,
    pub(crate) plan: RegrindPlan,
    /// What leads to that plan, where it is of a corrective grind.
    pub(crate) corrective: Option<CorrectivePlan>,
    /// The end and the face, where the verdict or the hand asks for them.
    pub(crate) beside: Beside,
    pub(crate) tables: Arc<Tables>,
}

impl Desk {
    /// The trade tables with the shop's own rows over them.
    pub(crate) async fn tables(&self) -> Result<Arc<Tables>, Failure> {
        self.tables_of(self.own_rows().await?.as_ref())
    }

    /// The text of the shop's own rows, where it has any.
    pub(crate) async fn own_rows(&self) -> Result<Option<NamedText>, ShopError> {
        let papers = self.documents(SubjectKind::Tables).await?;
        let named = |paper: &DocumentAt| NamedText {
            file: paper.state.name.clone(),
            text: paper.state.text.clone(),
        };
        Ok(papers.first().map(named).filter(|named| !named.text.trim().is_empty()))
    }

    /// The shop's prices, where there are some.
    pub(crate) async fn prices(&self) -> Result<Option<Prices>, Failure> {
        let papers = self.documents(SubjectKind::Prices).await?;
        let read = |paper: &DocumentAt| read_prices(&paper.state.name, &paper.state.text);
        Ok(papers.first().map(read).transpose()?)
    }

    fn tables_of(&self, rows: Option<&NamedText>) -> Result<Arc<Tables>, Failure> {
        let text = rows.map(|rows| rows.text.clone()).unwrap_or_default();
        if let Some((known, tables)) = locked(&self.tables).as_ref()
            && *known == text
        {
            return Ok(tables.clone());
        }
        let read = Arc::new(tables(rows)?);
        *locked(&self.tables) = Some((text, read.clone()));
        Ok(read)
    }

    /// The machine that is asked for; the first one where none is.
    ///
    /// # Errors
    /// `Invalid` where the book has no machine, or not the one that is asked for: another one's
    /// marks would be set on a machine that they are not of.
    pub(crate) async fn machine(&self, asked: &Asked) -> Result<DocumentAt, ShopError> {
        let is_asked = |paper: &DocumentAt| {
            asked.machine.is_empty() || paper.subject.id.as_str() == asked.machine
        };
        let known = self.documents(SubjectKind::Machine).await?;
        if let Some(machine) = known.into_iter().find(is_asked) {
            return Ok(machine);
        }
        // Another bench may have entered it a moment ago.
        let now = self.documents_now(SubjectKind::Machine).await?;
        let reason = if now.is_empty() {
            "no machine is in the book; describe yours on the page of machines"
        } else {
            "the machine that was asked for is not in the book now; choose one of those there are"
        };
        now.into_iter().find(is_asked).ok_or_else(|| ShopError::invalid("machine", reason))
    }

    /// Gathers what a plan for a cutter is made from.
    pub(crate) async fn inputs(&self, cutter: &CutterAt, asked: &Asked) -> Result<Inputs, Failure> {
        let machine = self.machine(asked).await?;
        let wheels = self.wheels().await?;
        let is_chosen =
            |wheel: &&WheelAt| asked.wheel.is_empty() || wheel.subject.id.as_str() == asked.wheel;
        let wheels: Vec<&WheelAt> = wheels.iter().filter(is_chosen).collect();
        if wheels.is_empty() {
            let reason = if asked.wheel.is_empty() {
                "no wheel is in the book; enter those on your rack on the page of wheels"
            } else {
                "the wheel that was asked for is not on the rack now; choose another, or whichever \
                 suits"
            };
            return Err(ShopError::invalid("wheel", reason).into());
        }
        let record = &cutter.state.cutter;
        let known = self.known(cutter, &wheels).await?;
        let history = (!known.is_empty()).then(|| NamedText {
            file: "history.toml".to_owned(),
            text: history_text(Some(record.number()), &known),
        });
        Ok(Inputs {
            end: asked.end || !asked.off_length.is_empty(),
            off_length: Some(asked.off_length.clone()).filter(|off| !off.is_empty()),
            cutter: NamedText {
                file: format!("{}.toml", record.number()),
                text: cutter_text(record),
            },
            machine: NamedText {
                file: format!("{}.toml", machine.state.name),
                text: machine.state.text.clone(),
            },
            wheels: wheels.iter().map(|wheel| wheel_input(&wheel.state.wheel)).collect(),
            history,
            wear: None,
            tables: self.own_rows().await?,
            relief: Some(asked.relief.clone()).filter(|relief| !relief.is_empty()),
            to_size: Some(asked.to_size.clone()).filter(|size| !size.is_empty()),
            after: Vec::new(),
        })
    }

    /// The plan that these inputs give; a plan made before is remembered.
    pub(crate) fn made(&self, inputs: Inputs) -> Result<Arc<Made>, Failure> {
        let key = fingerprint(&inputs)?;
        if let Some(made) = locked(&self.plans).get(&key) {
            return Ok(made.clone());
        }
        let tables = self.tables_of(inputs.tables.as_ref())?;
        let ctx = Ctx { tables: &tables };
        let Remade { plan, corrective } = remade(&ctx, &inputs)?;
        let beside = Beside::of(&ctx, &plan, &inputs)?;
        let made = Arc::new(Made { inputs, plan, corrective, beside, tables });
        locked(&self.plans).put(key, made.clone());
        Ok(made)
    }

    /// The plan that a cutter's history holds under this number, made again.
    pub(crate) async fn kept(&self, of: &Subject, number: u64) -> Result<Arc<Made>, Failure> {
        self.made(inputs_of(&self.planned(of, number).await?))
    }

    /// Whether the plan that is kept of a cutter grinds its end too.
    pub(crate) async fn plans_end(&self, cutter: &CutterAt) -> Result<bool, ShopError> {
        match cutter.state.planned {
            Some(number) => Ok(inputs_of(&self.planned(&cutter.subject, number).await?).end),
            None => Ok(false),
        }
    }

    /// The entry of a plan.
    pub(crate) async fn planned(&self, of: &Subject, number: u64) -> Result<Planned, ShopError> {
        let after = number.saturating_sub(1);
        let found = self.book().history(of, after, 1).await?.into_iter().next();
        match found.map(|entry| entry.event) {
            Some(Event::Planned(planned)) => Ok(planned),
            _ => Err(ShopError::NotFound { what: format!("plan {number} of {}", of.id) }),
        }
    }
}

impl Made {
    /// What a hand does, step by step: a worn end off and gashed, the periphery or its corrective
    /// grind, the end; the face by its sheet.
    pub(crate) fn steps(&self) -> Vec<BenchStep> {
        let periphery = match &self.corrective {
            Some(corrective) => corrective_steps(corrective),
            None if !self.groups().is_empty() => vec![by_groups(self)],
            None => bench_steps(&self.plan),
        };
        let end = self.beside.end.planned();
        let first = end.into_iter().flat_map(end_first_steps);
        let last = end.into_iter().flat_map(|end| end_bench_steps(&self.plan, end));
        let ball = self.beside.ball.planned();
        let ball = ball.into_iter().flat_map(|ball| ball_bench_steps(&self.plan, ball));
        let face = self.beside.face.planned().map(|face| by_face(face, self.units()));
        first.chain(periphery).chain(last).chain(ball).chain(face).collect()
    }

    /// The sizes over the edges that this grind can leave; none where nothing foretells one.
    pub(crate) fn sizes_left(&self) -> Option<SizesLeft> {
        let by_face = self.beside.face.planned().map(|face| &face.expected);
        let of_face = by_face.map(|face| SizesLeft::of(face.diameter, face.lost / 2.0));
        SizesLeft::of_plan(&self.plan).or(of_face)
    }

    /// Teeth that need a set-up of their own beside that of the others.
    pub(crate) fn groups(&self) -> &[HelixGroup] {
        let unlike = self.plan.peripheral.as_ref().and_then(|work| work.unlike.as_ref());
        unlike.map_or(&[], |unlike| &unlike.groups)
    }

    /// The units that its cutter was made in.
    fn units(&self) -> Units {
        Units { system: self.plan.request.cutter.system(), both: false }
    }

    /// The set-up sheet, or that of the corrective grind, with those of end and face behind it.
    pub(crate) fn sheet(&self, units: Units) -> String {
        self.beside.sheets(&self.plan, self.corrective.as_ref(), units).concat()
    }

    /// Holds readings against the plan.
    pub(crate) fn check(&self, readings: Readings) -> Result<Checked, ShopError> {
        let plan = self.plan.clone();
        check_regrind(&Ctx { tables: &self.tables }, CheckRegrind { plan, readings })
    }
}

/// The key of the step that grinds the periphery from its sheet.
pub(crate) const BY_GROUPS: &str = "periphery: by its sheet";

/// The key of the step that grinds the face from its sheet.
pub(crate) const BY_FACE: &str = "face: by its sheet";

/// A hand that is led from dial to dial with one set-up would grind some teeth to a wrong relief,
/// so that it is led to the sheet, which has every group.
fn by_groups(made: &Made) -> BenchStep {
    let groups = made.groups().iter().map(group_in_words);
    let groups: Vec<String> = groups.collect();
    let how = format!(
        "Grind the periphery from the whole sheet below, one group of teeth after the other: {}",
        groups.join(" ")
    );
    let why = "one set-up does not do for all teeth, and these screens have only one";
    by_sheet(BY_GROUPS, "periphery, by its sheet", how, why)
}

fn by_face(face: &FacePlan, units: Units) -> BenchStep {
    let how = format!(
        "Grind the face of every tooth from the whole sheet below, with {}: {} off each face",
        face.wheel.wheel.number(),
        units.length(face.stock.off_face)
    );
    by_sheet(BY_FACE, "face, by its sheet", how, "its set-up and its feeds by turns stand there")
}

fn by_sheet(key: &str, title: &str, how: String, why: &str) -> BenchStep {
    BenchStep {
        key: key.to_owned(),
        title: title.to_owned(),
        how,
        why: why.to_owned(),
        of: PlanStep::Grind,
        dial: None,
        change: None,
        value: None,
        figure: "",
        tolerance: None,
        sets_zero: false,
    }
}

fn wheel_input(wheel: &shop::record::Wheel) -> NamedText {
    NamedText { file: format!("{}.toml", wheel.number()), text: wheel_text(wheel) }
}

/// What tells one set of inputs from any other.
fn fingerprint(inputs: &Inputs) -> Result<[u8; 32], Failure> {
    Ok(Sha256::digest(serde_json::to_vec(inputs)?).into())
}

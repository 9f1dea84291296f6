//! The form of a cutter: who it is and how it is made.

use askama::Template;
use axum::extract::Path;
use axum::response::Response;
use geometry::System;
use shop::Ctx;
use shop::book::Event;
use shop::book::event::{Amended, CutterEntered};
use shop::plan::teeth_doubt;
use shop::record::{Cutter, EndForm, Hand, Profile};
use trade::ToolMaterial;

use super::{entering, units};
use crate::files::{cutter_text, read_cutter};
use crate::web::fault::Fault;
use crate::web::form::{Choice, Entries, Field, Form, Group, Kind};
use crate::web::page::{Frame, blamed, drawn, go_on};
use crate::web::visit::Visit;

/// An open form of a cutter.
pub(super) fn form(action: &str, submit: &str, system: System) -> Form {
    Form::new(action, submit)
        .shown_in(system)
        .group(Group::new("", identity()))
        .group(Group::new("Teeth", teeth()))
        .group(Group::new("Lengths", lengths()))
        .group(
            Group::new("When it was last sharp", last_sharp())
                .words("From its tag or its last sheet. Leave all of it open where nobody knows.")
                .folded(),
        )
        .group(
            Group::new("The end, where it is known", end_teeth())
                .words("Whatever is left open is taken from the tables.")
                .folded(),
        )
        .group(Group::new("More, where it is known", more()).folded())
}

fn identity() -> Vec<Field> {
    vec![
        Field::text("cutter.number", "Number").needed().hint("the shop's own, as on the tag"),
        Field::length("cutter.diameter", "Nominal diameter")
            .needed()
            .hint("as new; a regrind never changes it. Fractions will do: 1/2 in"),
    ]
}

fn teeth() -> Vec<Field> {
    vec![
        Field::count("cutter.teeth", "Teeth").needed(),
        Field::named::<Hand>("cutter.hand", "Hand of cut").value("right"),
        Field::angle("cutter.helix", "Helix").needed().hint("0 for straight teeth"),
        Field::named::<Hand>("cutter.helix_hand", "Hand of helix").value("right"),
        Field::angle("cutter.rake", "Radial rake").needed().hint("a hooked tooth is positive"),
        Field::named::<ToolMaterial>("cutter.material", "Material"),
        Field::choice("cutter.end", "End", ends()).value("square"),
        Field::length("cutter.corner_radius", "Corner radius").hint("of such an end only"),
        Field::named::<Profile>("cutter.profile", "Teeth are").value("plain"),
    ]
}

fn ends() -> Vec<Choice> {
    let radius = EndForm::CornerRadius(geometry::Length::ZERO);
    [EndForm::Square, radius, EndForm::Ball].map(|end| Choice::plain(end.name())).to_vec()
}

fn lengths() -> Vec<Field> {
    vec![
        Field::length("cutter.flute_length", "Flute length").needed(),
        Field::length("cutter.overall_length", "Overall length").needed(),
        Field::length("cutter.shank_diameter", "Shank diameter").needed(),
    ]
}

fn last_sharp() -> Vec<Field> {
    vec![
        Field::length("as_ground.diameter", "Diameter over sharp edges"),
        Field::angle("as_ground.primary", "Primary relief"),
        Field::angle("as_ground.secondary", "Secondary clearance"),
        Field::length("as_ground.land", "Land"),
    ]
}

fn end_teeth() -> Vec<Field> {
    vec![
        Field::angle("end_teeth.dish", "Dish").hint("how much the edges sink toward the centre"),
        Field::angle("end_teeth.relief", "Axial relief"),
        Field::angle("end_teeth.secondary", "Secondary clearance"),
        Field::length("end_teeth.land", "Land"),
        Field::length("end_teeth.ahead_of_centre", "Edges ahead of centre")
            .hint("below zero behind it"),
        Field::length("end_teeth.centre_hole", "Hole in the end").hint("that no edge reaches"),
        Field::angle("end_teeth.gash_angle", "Gash, its root").hint("how steeply it falls outward"),
        Field::angle("end_teeth.gash_rake", "Gash, its face").hint("how far it leans back"),
        Field::length("end_teeth.gash_root", "Gash, radius in the root"),
        Field::length("end_teeth.gash_from_centre", "Gash, its mouth")
            .hint("from the centre; below zero past it"),
        Field::length("end_teeth.corner_chamfer", "Corner chamfer").hint("along its own edge"),
        Field::angle("end_teeth.corner_angle", "Corner chamfer, its angle"),
        Field::angle("end_teeth.corner_relief", "Corner, its relief"),
    ]
}

fn more() -> Vec<Field> {
    vec![
        Field::length("cutter.core_diameter", "Core diameter").hint("under the flutes"),
        Field::length("cutter.tooth_thickness", "Tooth thickness").hint("along the circle"),
        Field::flag("cutter.centre_cutting", "End teeth reach the centre"),
        Field::looked("cutter.unequal_index", "Teeth stand", ["unequally on purpose", "equally"])
            .hint("an index head asks for it"),
        Field::new(Kind::Angles, "cutter.index", "Places of the edges")
            .hint("heelward from tooth 1 at the tip: 0, 88, 180, 268"),
        Field::new(Kind::Angles, "cutter.tooth_helix", "Helix, tooth by tooth")
            .hint("where they differ: 35, 38, 35, 38"),
        Field::angle("cutter.taper", "Taper of a side").hint("wider toward the shank"),
        Field::text("cutter.coating", "Coating"),
        Field::text("cutter.work", "Kept for").hint("such as steel, aluminium; any"),
        Field::count("cutter.regrinds", "Regrinds so far"),
        Field::new(Kind::Lines, "_marks", "Marked on it").hint("line by line, as it stands there"),
    ]
}

/// The form with what a record holds.
pub(super) fn filled(form: Form, cutter: &Cutter, marks: &[String]) -> Form {
    let mut form = form.load(&cutter_text(&cutter.clone().without_wear()));
    if cutter.is_straight()
        && let Some(field) = form.field("cutter.helix_hand")
    {
        "right".clone_into(&mut field.value);
    }
    if let Some(field) = form.field("_marks") {
        field.value = marks.join("\n");
    }
    form
}

/// The record that a form gives; where there is none, the form says why.
pub(super) fn read(form: &mut Form) -> Option<CutterEntered> {
    let text = without_idle_hand(form).toml();
    match read_cutter("this form", &text) {
        Ok(cutter) => Some(CutterEntered { cutter, marks: marks(form) }),
        Err(problems) => {
            form.blame(&problems);
            None
        }
    }
}

/// The name of the answer to the question after the teeth.
const TEETH_SURE: &str = "_teeth_sure";

/// The form with the question whether the count of teeth is meant, where it was asked before.
pub(super) fn asked_again(form: Form, entries: &Entries) -> Form {
    if entries.has(TEETH_SURE) { with_teeth_question(form) } else { form }
}

fn with_teeth_question(form: Form) -> Form {
    let sure = Field::flag(TEETH_SURE, "I have counted again: it has that many teeth");
    form.group(Group::new("", vec![sure]))
}

/// Whether a count of teeth that can hardly be meant must be asked about; the form then asks. It
/// is not refused: whoever has counted again is believed.
pub(super) async fn asks_after_teeth(
    visit: &Visit,
    form: &mut Form,
    cutter: &Cutter,
    entries: &Entries,
) -> Result<bool, Fault> {
    let tables = visit.desk.tables().await?;
    let doubt = teeth_doubt(&Ctx { tables: &tables }, cutter);
    let Some(doubt) = doubt.filter(|_| !entries.has(TEETH_SURE)) else { return Ok(false) };
    form.blame_key("cutter.teeth", &format!("{doubt}, or say at the foot that it is so"));
    *form = with_teeth_question(form.clone());
    Ok(true)
}

/// A straight tooth has no hand of helix, whatever the form still shows.
fn without_idle_hand(form: &Form) -> Form {
    let mut form = form.clone();
    let helix = form.field("cutter.helix").map(|field| field.value.clone()).unwrap_or_default();
    let is_straight = helix.trim_end_matches("deg").trim().parse() == Ok(0.0);
    let has_radius = form.field("cutter.end").is_some_and(|field| field.value == "corner radius");
    for (name, is_idle) in
        [("cutter.helix_hand", is_straight), ("cutter.corner_radius", !has_radius)]
    {
        if let Some(field) = form.field(name).filter(|_| is_idle) {
            field.value.clear();
        }
    }
    form
}

/// What is marked on it, line by line.
pub(super) fn marks(form: &Form) -> Vec<String> {
    let lines = form.fields().find(|field| field.name == "_marks");
    let lines = lines.map(|field| field.value.lines()).into_iter().flatten();
    lines.map(|line| line.trim().to_owned()).filter(|line| !line.is_empty()).collect()
}

#[derive(Template)]
#[template(path = "simple_form.html")]
pub(super) struct CutterForm {
    pub(super) frame: Frame,
    pub(super) heading: String,
    pub(super) words: String,
    pub(super) form: Form,
}

/// Shows the record of a cutter, to be put right.
pub(super) async fn show(visit: Visit, Path(id): Path<String>) -> Result<Response, Fault> {
    visit.writer()?;
    let cutter = visit.desk.cutter(&id).await?;
    let record = &cutter.state.cutter;
    let form = form(&format!("/cutters/{id}/change"), "Put it right", visit.system_of(record));
    let form = with_reason(filled(form, record, &cutter.state.marks));
    drawn(&page(&visit, record.number(), form.having_seen(cutter.seen)))
}

fn with_reason(form: Form) -> Form {
    let why = Field::text("_why", "What was wrong").needed().hint("it stands in the history");
    form.group(Group::new("Why", vec![why]))
}

fn page(visit: &Visit, number: &str, form: Form) -> CutterForm {
    let heading = format!("Put {number} right");
    let frame = Frame::new(visit, "tray", &heading).with_form().in_system(form.system);
    let words = "What was entered first stays in the history; from now on this counts instead. \
                 What a regrind changes is entered when the cutter is handed back.";
    CutterForm { frame, heading, words: words.to_owned(), form }
}

/// Amends the entry with which the cutter came into the book.
pub(super) async fn change(
    visit: Visit,
    Path(id): Path<String>,
    entries: Entries,
) -> Result<Response, Fault> {
    let by = visit.writer()?;
    let cutter = visit.desk.cutter(&id).await?;
    let number = cutter.state.cutter.number().to_owned();
    let empty = form(&format!("/cutters/{id}/change"), "Put it right", System::Millimetre);
    let seen = entries.seen().unwrap_or(cutter.seen);
    let form = asked_again(with_reason(empty), &entries);
    let mut form = form.fill(&entries).having_seen(seen);
    if let Some(to) = entries.switch() {
        return Ok(units::with(to, drawn(&page(&visit, &number, form.switched(to)))?));
    }
    let Some(entered) = read(&mut form) else {
        return blamed(&page(&visit, &number, form));
    };
    if asks_after_teeth(&visit, &mut form, &entered.cutter, &entries).await? {
        return blamed(&page(&visit, &number, form));
    }
    let why = entries.get("_why").to_owned();
    let instead = Some(Box::new(Event::CutterEntered(Box::new(entered))));
    let amended = Event::Amended(Amended { entry: 1, why, instead });
    let write = visit.desk.append(by, &cutter.subject, seen, vec![amended]);
    let written = entering::enter(&visit, &mut form, cutter.seen, vec![write]).await?;
    if written.is_written() {
        return Ok(go_on(&format!("/cutters/{id}")));
    }
    written.back(&page(&visit, &number, form))
}

#[cfg(test)]
mod tests {
    use super::*;

    /// What a form does not show would be lost when a record is changed through it.
    #[test]
    fn a_record_comes_out_of_its_form_as_it_went_in() {
        for text in [
            include_str!("../../../../../examples/cutters/k-138-unequal-index.toml"),
            include_str!("../../../../../examples/cutters/k-145-straight-tooth.toml"),
            include_str!("../../../../../examples/cutters/k-164-tapered.toml"),
            include_str!("../../../../../examples/cutters/k-168-two-helices.toml"),
        ] {
            let cutter = read_cutter("example", text).unwrap().without_wear();
            let open = form("/", "Keep", cutter.system());
            let mut filled = filled(open, &cutter, &[]);
            assert_eq!(read(&mut filled).unwrap().cutter, cutter);
        }
    }
}

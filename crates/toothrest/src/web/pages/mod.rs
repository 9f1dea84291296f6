//! The pages of the bench, one file for each.

mod again;
mod back;
mod book;
mod check;
mod cost;
mod cutter;
mod cutter_form;
mod day;
mod download;
mod entering;
mod grind;
mod machine;
mod machine_axes;
mod machine_form;
mod machines;
mod order;
mod paper;
mod people;
mod plan;
mod prices;
mod primary_read;
mod readings_again;
mod readings_form;
mod receive;
mod record;
mod scale;
mod search;
mod study;
mod tables;
mod take_in;
pub(super) mod tray;
mod tried;
mod units;
mod view;
mod wear;
mod wheel;
mod wheel_form;
mod wheel_mount;
mod wheel_use;
mod wheel_work;
mod wheels;
mod who;

use axum::Router;
use axum::routing::{get, post};

use super::assets::asset;
use super::demo;
use super::state::Bench;

pub(crate) use tried::{Bench as TriedBench, FormKind};
pub(super) use who::signed_in;

/// Every address of the bench.
pub(super) fn routes() -> Router<Bench> {
    Router::new()
        .route("/", get(tray::show))
        .route("/static/{name}", get(asset))
        .route("/units", post(units::switch))
        .route("/who", get(who::ask).post(who::told))
        .route("/who/leave", post(who::leave))
        .route("/search", get(search::show))
        .route("/receive", get(receive::show))
        .route("/receive/new", get(receive::form).post(receive::enter))
        .route("/take-in", get(take_in::show).post(take_in::upload))
        .route("/take-in/look", post(take_in::look))
        .route("/demo", post(demo::open))
        .route("/demo/leave", post(demo::leave))
        .merge(of_a_cutter())
        .merge(of_the_office())
        .merge(of_wheels())
        .merge(of_machines())
}

fn of_the_office() -> Router<Bench> {
    Router::new()
        .route("/tables", get(tables::show).post(tables::keep))
        .route("/tables/{topic}", get(tables::topic))
        .route("/tables/versions/{number}", get(tables::version))
        .route("/prices", get(prices::show).post(prices::keep))
        .route("/prices/versions/{number}", get(prices::version))
        .route("/day", get(day::today))
        .route("/day/{date}", get(day::show))
        .route("/day/{date}/note.pdf", get(download::note))
        .route("/book", get(book::show))
        .route("/book/copy", post(book::back_up))
        .route("/book/files", post(book::write_files))
        .route("/book/check", post(book::examine))
        .route("/jobs/{number}", get(book::job))
        .route("/jobs/{number}/stop", post(book::stop))
        .route("/people", get(people::show).post(people::enter))
        .route("/people/{id}", get(people::show_one))
        .route("/people/{id}/pin", post(people::pin))
        .route("/people/{id}/leave", post(people::gone))
        .route("/order", get(order::show).post(order::work_out))
        .route("/order/keep", post(order::keep))
        .route("/study", get(study::show))
        .route("/order/list.pdf", get(download::tray))
}

fn of_a_cutter() -> Router<Bench> {
    Router::new()
        .route("/cutters/{id}", get(cutter::show))
        .route("/cutters/{id}/change", get(cutter_form::show).post(cutter_form::change))
        .route("/cutters/{id}/receive", get(receive::again).post(receive::receive))
        .route("/cutters/{id}/wear", get(wear::show).post(wear::see))
        .route("/cutters/{id}/plan", get(plan::show).post(plan::keep))
        .route("/cutters/{id}/plan/live", get(plan::live))
        .route("/cutters/{id}/study", post(study::begin))
        .route("/cutters/{id}/sheet", get(plan::sheet))
        .route("/cutters/{id}/sheet.pdf", get(download::setup))
        .route("/cutters/{id}/grind", get(grind::show))
        .route("/cutters/{id}/grind/done", post(grind::done))
        .route("/cutters/{id}/grind/read", post(primary_read::done))
        .route("/cutters/{id}/grind/undo", post(grind::undo))
        .route("/cutters/{id}/grind/finish", post(grind::finish))
        .route("/cutters/{id}/check", get(check::show).post(check::weigh))
        .route("/cutters/{id}/checked", get(check::outcome))
        .route("/cutters/{id}/correct", post(check::corrected))
        .route("/cutters/{id}/again", post(again::plan))
        .route("/cutters/{id}/again/undo", post(again::undo))
        .route("/cutters/{id}/back", get(back::show).post(back::hand_back))
        .route("/cutters/{id}/tag", get(back::tag))
        .route("/cutters/{id}/tag.pdf", get(download::tag))
        .route("/cutters/{id}/quote.pdf", get(download::quote))
        .route("/cutters/{id}/cost", get(cost::show))
        .route("/cutters/{id}/view", get(view::show))
        .route("/cutters/{id}/model", get(view::model))
        .route("/cutters/{id}/record", get(record::show))
        .route("/cutters/{id}/record.pdf", get(download::card))
        .route("/cutters/{id}/note", post(cutter::note))
        .route("/cutters/{id}/retire", post(cutter::retire))
        .route("/cutters/{id}/strike", post(record::strike))
}

fn of_wheels() -> Router<Bench> {
    Router::new()
        .route("/wheels", get(wheels::show))
        .route("/wheels/new", get(wheel_form::new).post(wheel_form::enter))
        .route("/wheels/{id}", get(wheel::show))
        .route("/wheels/{id}/change", get(wheel_form::show).post(wheel_form::change))
        .route("/wheels/{id}/enter/{work}", get(wheel_work::show).post(wheel_work::done))
        .route("/wheels/{id}/mount", get(wheel_mount::show).post(wheel_mount::mount))
        .route("/wheels/{id}/shelve", post(wheel_work::shelve))
        .route("/wheels/{id}/note", post(wheel_work::note))
        .route("/wheels/{id}/retire", post(wheel_work::retire))
        .route("/wheels/{id}/strike", post(wheel_work::strike))
}

fn of_machines() -> Router<Bench> {
    Router::new()
        .route("/machines", get(machines::show))
        .route("/machines/new", get(machine::new).post(machine::enter))
        .route("/machines/{id}", get(machine::show))
        .route("/machines/{id}/change", get(machine::change_form).post(machine::change))
        .route("/machines/{id}/retire", post(machine::retire))
}

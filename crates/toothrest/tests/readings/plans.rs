//! Plans of the example cutters, to have something to read.

use std::collections::BTreeSet;
use std::path::PathBuf;

use shop::Ctx;
use shop::learn::Known;
use shop::plan::{PlanRegrind, RegrindPlan, plan_regrind};
use shop::record::{Cutter, Machine, Wheel};
use toothrest::files::{load, read_cutter, read_machine, read_wheels};
use trade::Tables;

/// A folder of the examples.
pub(crate) fn folder(name: &str) -> PathBuf {
    [env!("CARGO_MANIFEST_DIR"), "..", "..", "examples", name].iter().collect()
}

/// The files of a folder of the examples, in the order of their names.
pub(crate) fn files(name: &str) -> BTreeSet<PathBuf> {
    std::fs::read_dir(folder(name)).unwrap().map(|entry| entry.unwrap().path()).collect()
}

/// One example cutter.
pub(crate) fn cutter(file: &str) -> Cutter {
    load(&folder("cutters").join(file), read_cutter).unwrap()
}

fn machines() -> Vec<Machine> {
    files("machines").iter().map(|path| load(path, read_machine).unwrap()).collect()
}

fn wheels() -> Vec<Wheel> {
    files("wheels").iter().flat_map(|path| load(path, read_wheels).unwrap()).collect()
}

/// A plan on the first of the machines that will do, if one will.
fn plan(cutter: &Cutter, machines: &[Machine], wheels: &[Wheel]) -> Option<RegrindPlan> {
    let ctx = Ctx { tables: Tables::bundled().unwrap() };
    machines.iter().find_map(|machine| {
        let request = PlanRegrind {
            cutter: cutter.clone(),
            machine: machine.clone(),
            wheels: wheels.to_vec(),
            relief: None,
            to_size: None,
            known: Known::default(),
        };
        plan_regrind(&ctx, request).ok()
    })
}

/// A plan for every example cutter.
pub(crate) fn plans() -> Vec<RegrindPlan> {
    let (machines, wheels) = (machines(), wheels());
    let cutters = files("cutters");
    let cutters = cutters.iter().map(|path| load(path, read_cutter).unwrap());
    cutters.map(|cutter| plan(&cutter, &machines, &wheels).unwrap()).collect()
}

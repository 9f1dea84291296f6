//! The set-up by practice beside the one that the whole plan works out.

use std::fs;
use std::path::{Path, PathBuf};

use shop::Ctx;
use shop::learn::{CutterHistory, Known};
use shop::plan::{Held, Judged, PlanRegrind, Quantity, SetupItem, judge_cutter, plan_regrind};
use shop::record::{Cutter, Machine, Wheel};
use shop::tray::{KeptPlan, TrayBench, tray_job};
use toothrest::files::{read_cutter, read_machine, read_wheels};
use trade::Tables;

fn files(folder: &str) -> Vec<PathBuf> {
    let folder = Path::new(env!("CARGO_MANIFEST_DIR")).join("../../examples").join(folder);
    let mut files: Vec<PathBuf> =
        fs::read_dir(folder).unwrap().map(|entry| entry.unwrap().path()).collect();
    files.sort();
    files
}

fn text(path: &Path) -> String {
    fs::read_to_string(path).unwrap()
}

fn cutters() -> Vec<Cutter> {
    files("cutters").iter().map(|path| read_cutter("c", &text(path)).unwrap()).collect()
}

fn machines() -> Vec<Machine> {
    files("machines").iter().map(|path| read_machine("m", &text(path)).unwrap()).collect()
}

fn wheels() -> Vec<Wheel> {
    files("wheels").iter().flat_map(|path| read_wheels("w", &text(path)).unwrap()).collect()
}

/// What a plan says of a line of its set-up.
fn line(plan: &shop::plan::RegrindPlan, item: SetupItem) -> shop::plan::SetupLine {
    let setup = &plan.peripheral.as_ref().unwrap().setup;
    setup.iter().find(|line| line.item == item).unwrap().clone()
}

/// A plan may take the next wheel, where the geometry of the first is refused, and lean the head
/// further; else practice and plan agree on wheel, head and finger.
#[test]
fn practice_agrees_with_the_plan() {
    let ctx = Ctx { tables: Tables::bundled().unwrap() };
    let (wheels, mut agreed, mut planned) = (wheels(), 0, 0);
    for machine in machines() {
        for cutter in cutters() {
            let bench = TrayBench { machine: &machine, wheels: &wheels };
            let job = tray_job(&ctx, bench, &cutter, None);
            let number = cutter.number().to_owned();
            let request = PlanRegrind {
                cutter,
                machine: machine.clone(),
                wheels: wheels.clone(),
                relief: None,
                to_size: None,
                known: Known::default(),
            };
            let plan = plan_regrind(&ctx, request).ok().filter(|plan| plan.peripheral.is_some());
            let Some(plan) = plan else { continue };
            assert_eq!(job.will_not_clean_up, None, "{number} on {}", machine.name());
            planned += 1;
            let wheel = &plan.peripheral.as_ref().unwrap().wheel.wheel;
            if wheel.number() != job.setup.wheel {
                continue;
            }
            if Held::on(&machine).has_rest() {
                let finger = line(&plan, SetupItem::Finger).how;
                assert!(finger.contains(&job.setup.rest_finger), "{number}: {finger}");
            }
            let Some(Quantity::Angle(head)) = line(&plan, SetupItem::Head).value else {
                unreachable!("a head has an angle")
            };
            let square = (job.setup.head_angle.degrees() - 90.0).abs();
            let lean = (90.0 - head.degrees()).abs();
            assert!(lean >= square - 1e-9, "{number}: {lean} {square}");
            agreed += u32::from((lean - square).abs() < 1e-9);
        }
    }
    assert!(planned >= 10 && agreed * 4 >= planned * 3, "{agreed} of {planned}");
}

#[test]
fn a_kept_plans_wheel_is_taken_where_it_may_be() {
    let ctx = Ctx { tables: Tables::bundled().unwrap() };
    let (machines, wheels, cutters) = (machines(), wheels(), cutters());
    let machine = machines.iter().find(|machine| machine.name() == "left bench").unwrap();
    let cutter = cutters.iter().find(|cutter| cutter.number() == "K-117").unwrap();
    let bench = TrayBench { machine, wheels: &wheels };
    let wheel = |planned: Option<&str>| {
        let kept = planned.map(|wheel| KeptPlan { wheel, setup: None });
        tray_job(&ctx, bench, cutter, kept).setup.wheel
    };
    let best = wheel(None);
    let other = wheels.iter().map(Wheel::number).find(|number| wheel(Some(number)) != best);
    assert_eq!(wheel(other), other.unwrap());
    assert_eq!(wheel(Some("no such wheel")), best);
    assert_eq!(wheel(Some("W-07")), best, "diamond is not for steel");
}

#[test]
fn a_verdict_alone_is_that_of_the_plan() {
    let ctx = Ctx { tables: Tables::bundled().unwrap() };
    let (machines, wheels, cutters) = (machines(), wheels(), cutters());
    let machine = machines.iter().find(|machine| machine.name() == "left bench").unwrap();
    let mut compared = 0;
    for cutter in cutters {
        let alone = judge_cutter(&ctx, &cutter, &CutterHistory::default());
        let machine = machine.clone();
        let wheels = wheels.clone();
        let request = PlanRegrind {
            cutter,
            machine,
            wheels,
            relief: None,
            to_size: None,
            known: Known::default(),
        };
        if let Ok(plan) = plan_regrind(&ctx, request) {
            let Judged { wanted, stock, verdict } = alone.unwrap();
            assert_eq!((wanted, stock, verdict), (plan.wanted, plan.stock, plan.verdict));
            compared += 1;
        }
    }
    assert!(compared >= 5, "{compared}");
}

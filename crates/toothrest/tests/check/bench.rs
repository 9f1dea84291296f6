//! A bench in a folder of its own: the plan of an example, the program to run on it, and readings
//! of a grind with planted faults.

use std::f64::consts::{PI, TAU};
use std::fmt::Write;
use std::path::{Path, PathBuf};
use std::process::{Command, Output};

use geometry::Length;
use serde_json::Value;
use shop::Ctx;
use shop::learn::Known;
use shop::plan::{PlanRegrind, RegrindPlan, plan_regrind};
use tempfile::TempDir;
use toothrest::files::{read_cutter, read_machine, read_wheels};
use trade::Tables;

pub(crate) fn root() -> PathBuf {
    Path::new(env!("CARGO_MANIFEST_DIR")).join("../..")
}

/// The text of an example.
pub(crate) fn example(path: &str) -> String {
    std::fs::read_to_string(root().join("examples").join(path)).unwrap()
}

pub(crate) fn text(bytes: &[u8]) -> String {
    String::from_utf8(bytes.to_vec()).unwrap()
}

/// The example that most tests are about.
pub(crate) const HALF_INCH: &str = "k-117-half-inch-dull";

const MACHINE: &str = "machines/left-bench.toml";
const WHEELS: [&str; 2] =
    ["wheels/w-01-flaring-cup-oxide.toml", "wheels/w-02-straight-cup-oxide.toml"];

/// A plan on the disk, and the same in hand.
pub(crate) struct Bench {
    folder: TempDir,
    pub(crate) plan: RegrindPlan,
}

impl Bench {
    /// The plan of an example cutter on the left bench.
    pub(crate) fn of(cutter: &str) -> Self {
        Self::with(&example(&format!("cutters/{cutter}.toml")), None)
    }

    /// The plan of a cutter by its file's text, and of a size to grind to.
    pub(crate) fn with(cutter: &str, to_size: Option<&str>) -> Self {
        let wheels = WHEELS.iter().flat_map(|path| read_wheels(path, &example(path)).unwrap());
        let request = PlanRegrind {
            cutter: read_cutter("cutter.toml", cutter).unwrap(),
            machine: read_machine(MACHINE, &example(MACHINE)).unwrap(),
            wheels: wheels.collect(),
            relief: None,
            to_size: to_size.map(|size| size.parse().unwrap()),
            known: Known::default(),
        };
        let plan = plan_regrind(&Ctx { tables: Tables::bundled().unwrap() }, request).unwrap();
        let bench = Self { folder: tempfile::tempdir().unwrap(), plan };
        bench.write("cutter.toml", cutter);
        bench.write("plan.json", &bench.planned(to_size));
        bench
    }

    fn planned(&self, to_size: Option<&str>) -> String {
        let file = |path: &str| root().join("examples").join(path).display().to_string();
        let mut arguments = vec!["plan", "--json", "--cutter", "cutter.toml", "--machine"];
        let (machine, wheels) = (file(MACHINE), WHEELS.map(file));
        arguments.push(&machine);
        wheels.iter().for_each(|wheel| arguments.extend(["--wheel", wheel]));
        arguments.extend(to_size.iter().flat_map(|size| ["--to-size", size]));
        self.answer(&arguments)
    }

    pub(crate) fn path(&self, name: &str) -> PathBuf {
        self.folder.path().join(name)
    }

    pub(crate) fn write(&self, name: &str, text: &str) {
        std::fs::write(self.path(name), text).unwrap();
    }

    pub(crate) fn read(&self, name: &str) -> String {
        std::fs::read_to_string(self.path(name)).unwrap()
    }

    pub(crate) fn run(&self, arguments: &[&str]) -> Output {
        let program = env!("CARGO_BIN_EXE_toothrest");
        Command::new(program).current_dir(self.folder.path()).args(arguments).output().unwrap()
    }

    /// Runs the program, which must succeed and say nothing on standard error.
    pub(crate) fn answer(&self, arguments: &[&str]) -> String {
        let output = self.run(arguments);
        let said = text(&output.stderr);
        assert!(output.status.success() && said.is_empty(), "{arguments:?}: {said}");
        text(&output.stdout)
    }

    /// Runs the program, which must refuse with exit code 2, print nothing and say `reason`.
    pub(crate) fn check_refused(&self, arguments: &[&str], reason: &str) {
        let output = self.run(arguments);
        let said = text(&output.stderr);
        assert_eq!(output.status.code(), Some(2), "{arguments:?}: {said}");
        assert!(output.stdout.is_empty(), "{arguments:?} printed something beside its refusal");
        assert!(said.contains(reason), "{arguments:?} said\n{said}\nand not\n{reason}");
    }

    /// What the check says of these readings.
    pub(crate) fn sheet(&self, readings: &str) -> String {
        self.write("readings.toml", readings);
        self.answer(&["check", "--plan", "plan.json", "--readings", "readings.toml"])
    }

    /// The same in JSON.
    pub(crate) fn json(&self, readings: &str) -> Value {
        self.write("readings.toml", readings);
        let plan = ["check", "--plan", "plan.json", "--readings", "readings.toml", "--json"];
        serde_json::from_str(&self.answer(&plan)).unwrap()
    }
}

/// What is wrong with a grind, in millimetres of radius.
#[derive(Clone, Copy, Debug, Default)]
pub(crate) struct Planted {
    pub(crate) size: f64,
    /// The shank end of the flute over the tip.
    pub(crate) taper: f64,
    /// The offset toward tooth 1 at the tip, and a quarter turn heelward of it.
    pub(crate) offset: (f64, f64),
    /// The last tooth ground over the first.
    pub(crate) drift: f64,
    pub(crate) slip: Option<(u32, f64)>,
    /// By how much one land, that of tooth 3 at the far place, was misread.
    pub(crate) misread: f64,
}

/// Which readings are taken.
#[derive(Clone, Copy, Debug)]
pub(crate) struct Taken {
    /// Places, as shares of the flute.
    pub(crate) places: &'static [f64],
    pub(crate) lands: bool,
    pub(crate) diameters: bool,
    pub(crate) drops: bool,
}

/// Lands and diameters at both ends, and drops.
pub(crate) const ALL: Taken =
    Taken { places: &[0.1, 0.9], lands: true, diameters: true, drops: true };

/// A file of what would be read on a grind of this plan, to the micrometre.
pub(crate) fn readings(plan: &RegrindPlan, planted: &Planted, taken: Taken) -> String {
    let work = Work::of(plan);
    let order = &plan.peripheral.as_ref().unwrap().grinding.second_round;
    let mut file = format!("ground_order = {order:?}\n");
    if taken.lands {
        work.lands(&mut file, planted, taken.places);
    }
    if taken.diameters {
        work.diameters(&mut file, planted, taken.places);
    }
    if taken.drops {
        work.drops(&mut file);
    }
    file
}

struct Work<'a> {
    plan: &'a RegrindPlan,
    teeth: u32,
    flute_mm: f64,
    turn_per_mm: f64,
    radius_mm: f64,
}

impl<'a> Work<'a> {
    fn of(plan: &'a RegrindPlan) -> Self {
        let cutter = &plan.request.cutter;
        let agrees = cutter.helix_hand().is_none_or(|hand| hand == cutter.hand());
        let per_mm = 2.0 * cutter.helix().degrees().to_radians().tan() / cutter.diameter().mm();
        Self {
            plan,
            teeth: cutter.teeth(),
            flute_mm: (cutter.flute_length() - plan.verdict.cut_back).mm(),
            turn_per_mm: if agrees { per_mm } else { -per_mm },
            radius_mm: 0.5 * plan.peripheral.as_ref().unwrap().expected.diameter.mm(),
        }
    }

    fn stand_mm(&self, planted: &Planted, tooth: u32, place: f64) -> f64 {
        let order = &self.plan.peripheral.as_ref().unwrap().grinding.second_round;
        let turns = f64::from(tooth - 1) / f64::from(self.teeth);
        let angle = TAU * turns + self.turn_per_mm * place * self.flute_mm;
        let at = order.iter().position(|other| *other == tooth).unwrap() as f64;
        let slip = planted.slip.filter(|slip| slip.0 == tooth).map_or(0.0, |slip| slip.1);
        planted.size
            + planted.taper * place
            + planted.offset.0 * angle.cos()
            + planted.offset.1 * angle.sin()
            + planted.drift * at / f64::from(self.teeth - 1)
            + slip
    }

    /// The land up to the old secondary on the real section; where the primary leaves none of it,
    /// the finished land, which changes some five to one.
    fn land_mm(&self, stand_mm: f64) -> (&'static str, f64) {
        let peripheral = self.plan.peripheral.as_ref().unwrap();
        let diameter = Length::from_mm(2.0 * (self.radius_mm + stand_mm));
        let section = peripheral.stanced.setup.section(diameter).unwrap();
        let old = peripheral.worn.outline(diameter / 2.0).land_left_by(&section);
        match old.filter(|_| peripheral.secondary.land_before.is_some()) {
            Some(land) => ("after primary", land.mm()),
            None => ("after secondary", peripheral.expected.land.mm() - 4.0 * stand_mm),
        }
    }

    fn lands(&self, file: &mut String, planted: &Planted, places: &[f64]) {
        let stage = self.land_mm(0.0).0;
        write!(file, "[[lands]]\nstage = \"{stage}\"\nresolution = \"0.005 mm\"\n").unwrap();
        for place in places {
            let misread = |tooth| {
                let is_it = tooth == 3 && *place > 0.5;
                if is_it { planted.misread } else { 0.0 }
            };
            let of = |tooth| self.land_mm(self.stand_mm(planted, tooth, *place)).1 + misread(tooth);
            self.row(file, "lands", *place, (1..=self.teeth).map(|tooth| Some(of(tooth))));
        }
    }

    fn diameters(&self, file: &mut String, planted: &Planted, places: &[f64]) {
        let odd = !self.teeth.is_multiple_of(2);
        let over = if odd { "flat anvils" } else { "micrometer" };
        write!(file, "[[diameters]]\nover = \"{over}\"\nresolution = \"0.002 mm\"\n").unwrap();
        for place in places {
            let stand = |tooth| self.stand_mm(planted, (tooth - 1) % self.teeth + 1, *place);
            let across = |tooth: u32| {
                let opposite = tooth + self.teeth / 2;
                if odd {
                    // One tooth on one anvil, two on the other, half a pitch off the opposite.
                    let cos = (PI / f64::from(self.teeth)).cos();
                    let two = stand(opposite) + stand(opposite + 1);
                    Some(self.radius_mm * (1.0 + cos) + stand(tooth) + 0.5 * cos * two)
                } else {
                    (tooth <= self.teeth / 2)
                        .then(|| 2.0 * self.radius_mm + stand(tooth) + stand(opposite))
                }
            };
            self.row(file, "diameters", *place, (1..=self.teeth).map(across));
        }
    }

    fn row(
        &self,
        file: &mut String,
        group: &str,
        place: f64,
        figures: impl Iterator<Item = Option<f64>>,
    ) {
        let cell = |figure: Option<f64>| match figure {
            Some(mm) => format!("\"{mm:.3} mm\""),
            None => "\"-\"".to_owned(),
        };
        let cells: Vec<String> = figures.map(cell).collect();
        let at = place * self.flute_mm;
        let cells = cells.join(", ");
        write!(file, "[[{group}.at]]\nfrom_end = \"{at:.2} mm\"\nteeth = [{cells}]\n").unwrap();
    }

    fn drops(&self, file: &mut String) {
        file.push_str("[[drops]]\nresolution = \"0.002 mm\"\n");
        for drop in &self.plan.peripheral.as_ref().unwrap().expected.drops {
            let (distance, mm) = (drop.distance.mm(), drop.drop.mm());
            write!(file, "[[drops.at]]\ndistance = \"{distance:.4} mm\"\ndrop = \"{mm:.3} mm\"\n")
                .unwrap();
        }
    }
}

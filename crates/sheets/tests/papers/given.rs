//! Records to be printed, of our own making.

use std::sync::OnceLock;

use geometry::{Angle, Length, System};
use sheets::drawing::{GroundTo, Life, Tag, TagRadius};
use sheets::paper::{
    DeliveryLine, DeliveryNote, Imprint, LifeCard, LifeLine, OtherPages, Pages, Paper, QuoteSheet,
    TrayList, delivery_note, life_card, quote_sheet, setup_sheet, tray_list,
};
use shop::Ctx;
use shop::cost::{LotQuote, LotWorth, Money, NotGround, Quote, QuoteLine};
use shop::plan::{GroundPart, PartStock, RegrindPlan, plan_regrind};
use shop::record::{CutterDraft, Hand, Named, ToothWear, WearDraft};
use shop::tray::{Stop, TrayJob, TrayOrder, TraySetup};
use trade::{Minutes, SetupChange, Tables};

use crate::plans;

/// A number as long as people make them, and a longer one.
pub(crate) const LONG: &str = "K-117 SECOND CABINET THIRD DRAWER LEFT";

pub(crate) fn imprint(paper: Paper, system: System) -> Imprint {
    Imprint {
        paper,
        record: LONG.to_owned(),
        revision: "entry 14".to_owned(),
        date: "2031-03-05".to_owned(),
        system,
    }
}

/// A plan with twelve teeth and a long number.
fn crowded() -> RegrindPlan {
    let two_inch = plans::cases().iter().find(|case| case.name == "two inch").unwrap();
    let mut request = two_inch.plan.request.clone();
    let draft = CutterDraft {
        number: LONG.to_owned(),
        teeth: 12,
        work: "hard castings with sand in their skin".to_owned(),
        ..request.cutter.clone().without_wear().draft()
    };
    let wear_land = Length::from_mm(0.4);
    let tooth = |tooth| ToothWear { tooth, wear_land, ..ToothWear::default() };
    let wear = WearDraft { teeth: (1..=12).map(tooth).collect(), ..WearDraft::default() };
    request.cutter = draft.build().unwrap().with_wear(wear.build().unwrap()).unwrap();
    plan_regrind(&Ctx { tables: Tables::bundled().unwrap() }, request).unwrap()
}

/// Every plan to be printed, with a name.
pub(crate) fn all_plans() -> &'static [(&'static str, RegrindPlan)] {
    static PLANS: OnceLock<Vec<(&'static str, RegrindPlan)>> = OnceLock::new();
    PLANS.get_or_init(|| {
        let mut plans: Vec<(&'static str, RegrindPlan)> =
            plans::cases().iter().map(|case| (case.name, case.plan.clone())).collect();
        plans.push(("many teeth", crowded()));
        plans.push(("no periphery", plans::without_periphery()));
        plans
    })
}

fn life() -> Life {
    let sizes = [12.55, 12.38, 12.2, 12.05, 11.93];
    let when = |at: usize| format!("203{at}-03-05");
    let ground = sizes.iter().enumerate();
    Life {
        cutter: LONG.to_owned(),
        nominal: Length::from_mm(12.7),
        ground: ground
            .map(|(at, size)| GroundTo { diameter: Length::from_mm(*size), when: when(at) })
            .collect(),
        now: Length::from_mm(11.93),
        now_is: "as ground 2034-03-05".to_owned(),
        counted_from: Length::from_mm(11.93),
        smallest: Length::from_mm(11.4),
        per_grind: Length::from_mm(0.15),
        expected: 3,
        least: 2,
        greatest: 5,
    }
}

/// A card with so many entries.
pub(crate) fn card(entries: usize) -> LifeCard {
    let line = |at: usize| LifeLine {
        entry: at.to_string(),
        date: format!("2031-{:02}-{:02} 08:15", 1 + at / 28 % 12, 1 + at % 28),
        who: "AB".to_owned(),
        what: if at % 4 == 3 { "handed back" } else { "ground" }.to_owned(),
        words: format!(
            "wheel W-05, on left bench, from {:.4} in to {:.4} in, 7 passes, 22 min, saddle \
             handwheel 0.0035 in",
            0.5 - 0.001 * at as f64,
            0.499 - 0.001 * at as f64
        ),
        left: (at % 4 == 3).then(|| Length::from_mm(12.7 - 0.04 * at as f64)),
    };
    LifeCard {
        kind: "cutter".to_owned(),
        number: LONG.to_owned(),
        about: "1/2 in, 4 teeth, right hand, HSS; waiting".to_owned(),
        life: Some(life()),
        regrinds: 0,
        before: None,
        lines: (1..=entries).map(line).collect(),
    }
}

fn job(at: usize) -> TrayJob {
    TrayJob {
        number: if at == 3 { LONG.to_owned() } else { format!("K-{at:03}") },
        setup: TraySetup {
            wheel: format!("W-{:02}", at % 7),
            holding: "5C collet 1/2 in".to_owned(),
            head_angle: Angle::from_degrees(89.0),
            rest_finger: "narrow".to_owned(),
            hand: Hand::Right,
            relief_setting: Angle::from_degrees(10.0),
        },
        size_after: (at >= 2).then(|| Length::from_mm(12.39)),
        will_not_clean_up: (at < 2).then(|| "too small: nothing is left to grind".to_owned()),
        by_plan: at % 3 == 1,
    }
}

/// The list of a tray with so many cutters.
pub(crate) fn tray_pages(count: usize, imprint: &Imprint) -> Pages {
    let jobs: Vec<TrayJob> = (0..count).map(job).collect();
    let about: Vec<String> = jobs.iter().map(|_| "1/2 in, 4 teeth, HSS".to_owned()).collect();
    let places: Vec<usize> = (2..count).collect();
    let minutes = Minutes::from_minutes(6.0);
    let stop = |jobs: &[usize]| Stop {
        jobs: jobs.to_vec(),
        changes: SetupChange::ALL.iter().copied().take(3).collect(),
        minutes,
    };
    let order = TrayOrder {
        flagged: vec![0, 1],
        stops: places.chunks(5).map(stop).collect(),
        minutes: Minutes::from_minutes(42.0),
        at_least: Minutes::from_minutes(40.0),
        as_it_lies: Minutes::from_minutes(120.0),
        is_stopped: false,
    };
    let list = TrayList {
        name: "the blue one from the other shop",
        machine: "left bench",
        jobs: &jobs,
        about: &about,
        order: &order,
    };
    tray_list(&list, imprint)
}

fn lot(count: usize) -> LotQuote {
    let line = |at: usize| QuoteLine {
        what: format!("{at}/8 in, 4 teeth, HSS, each with its own wheel"),
        count: 3,
        each: Money::from_amount(12.5),
        sum: Money::from_amount(37.5),
        saved: Some(Money::from_amount(21.0)),
    };
    let worth = |at: usize| LotWorth {
        number: format!("K-{at:03}"),
        line: 0,
        parts: [(GroundPart::Periphery, 0.31), (GroundPart::End, 0.5)]
            .map(|(part, mm)| PartStock { part, off: Length::from_mm(mm) })
            .to_vec(),
        lives: None,
        worth: None,
    };
    let quote = Quote {
        lines: (1..=5).map(line).collect(),
        per_lot: Money::from_amount(6.0),
        to_least_charge: Money::ZERO,
        total: Money::from_amount(193.5),
        at_machine: Minutes::from_minutes(240.0),
        remarks: vec!["1/8 in: new ones cost 2.00 less than grinding these".to_owned()],
    };
    let why = "scrap: chipped below the smallest useful size".to_owned();
    let not_ground = vec![NotGround { number: LONG.to_owned(), why }];
    LotQuote { quote, cutters: (0..count).map(worth).collect(), not_ground }
}

fn note(count: usize) -> DeliveryNote {
    let line = |at: usize| DeliveryLine {
        number: if at == 1 { LONG.to_owned() } else { format!("K-{at:03}") },
        about: "1/2 in, 4 teeth, right hand, 30 deg right helix, HSS".to_owned(),
        nominal: Length::from_mm(12.7),
        ground: (at != 2).then(|| Length::from_mm(12.39)),
        flute: Length::from_mm(31.0),
        overall: Length::from_mm(82.0),
        regrind: 2,
    };
    let lines = (0..count).map(line).collect();
    DeliveryNote { lot: "tray blue".to_owned(), to: Some("the mill at the door".to_owned()), lines }
}

pub(crate) fn quote_pages(count: usize, imprint: &Imprint) -> Pages {
    let quoted = lot(count);
    quote_sheet(&QuoteSheet { lot: "tray blue", currency: "crowns", quoted: &quoted }, imprint)
}

/// Every sheet in both systems and on both papers, with a name; written once for all tests.
pub(crate) fn all_sheets() -> &'static [(String, Imprint, Pages)] {
    static SHEETS: OnceLock<Vec<(String, Imprint, Pages)>> = OnceLock::new();
    SHEETS.get_or_init(|| {
        let mut sheets = Vec::new();
        for paper in Paper::ALL.iter().copied() {
            for system in [System::Inch, System::Millimetre] {
                let imprint = imprint(paper, system);
                let mut add = |name: &str, pages: Pages| {
                    let name = format!("{name} {} {}", paper.name(), system.unit());
                    sheets.push((name, imprint.clone(), pages));
                };
                for (name, plan) in all_plans() {
                    add(
                        &format!("set-up of {name}"),
                        setup_sheet(plan, &OtherPages::default(), &imprint),
                    );
                }
                add("card", life_card(&card(9), &imprint));
                add("long card", life_card(&card(120), &imprint));
                add("tray", tray_pages(12, &imprint));
                add("long tray", tray_pages(90, &imprint));
                add("quote", quote_pages(9, &imprint));
                add("long quote", quote_pages(120, &imprint));
                add("note", delivery_note(&note(6), &imprint));
                add("long note", delivery_note(&note(90), &imprint));
            }
        }
        sheets
    })
}

/// A tag; the number decides which cutter it is.
pub(crate) fn tag(number: &str, mm: f64) -> Tag {
    let radius = (mm < 12.0).then(|| TagRadius {
        ground: Length::from_mm(0.72),
        nominal: Length::from_mm(0.762),
        is_ball: false,
    });
    Tag {
        number: number.to_owned(),
        nominal: Length::from_mm(12.7),
        diameter: Length::from_mm(mm),
        radius,
        chamfer: None,
        taper: Angle::ZERO,
        flute: Length::from_mm(31.75),
        overall: Length::from_mm(82.55),
        regrind: 2,
        date: "2031-03-05".to_owned(),
        initials: "AB".to_owned(),
    }
}

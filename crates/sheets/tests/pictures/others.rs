//! Lives, days, tags, wheels and dials to draw, of our own making.

use geometry::{Angle, Length};
use sheets::drawing::{Day, DayCutter, DayStep, DayStepKind, GroundTo, Life, Tag, TagRadius};
use shop::plan::{DialMark, Quantity};
use shop::record::{Bond, Motion, Reads, SlideScale, SwivelScale, Wheel, WheelDraft, WheelShape};
use trade::Abrasive;

use crate::cutters::mm;

fn life(nominal: f64, ground: &[f64], smallest: f64, grinds: (u32, u32, u32)) -> Life {
    let now = ground.last().copied().unwrap_or(nominal);
    let (least, expected, greatest) = grinds;
    let dates = ["4 March 2023", "19 June 2024", "7 November 2025"];
    let when = |index: usize| dates[index % dates.len()].to_owned();
    let ground = ground.iter().enumerate();
    let per_grind = (now - smallest) / f64::from(expected.max(1));
    Life {
        cutter: "K-117".to_owned(),
        nominal: mm(nominal),
        ground: ground.map(|(i, size)| GroundTo { diameter: mm(*size), when: when(i) }).collect(),
        now: mm(now),
        now_is: "as ground".to_owned(),
        counted_from: mm(now),
        smallest: mm(smallest),
        per_grind: mm(per_grind.max(0.02)),
        expected,
        least,
        greatest,
    }
}

/// Every life with a name.
pub(crate) fn lives() -> Vec<(&'static str, Life)> {
    let many: Vec<f64> = (1..=20).map(|count| 50.0 - 0.22 * f64::from(count)).collect();
    let mut over = life(12.7, &[12.72, 12.6], 11.4, (3, 5, 8));
    over.cutter = "A cutter with a number as long as a number can be".to_owned();
    vec![
        ("three grinds", life(12.7, &[12.55, 12.38, 12.2], 11.4, (2, 4, 7))),
        ("never ground", life(3.175, &[], 2.9, (1, 3, 5))),
        ("worn out", life(10.0, &[9.6, 9.3, 9.0], 9.0, (0, 0, 0))),
        ("below the smallest", life(10.0, &[9.6, 8.8], 9.0, (0, 0, 0))),
        ("twenty grinds", life(50.0, &many, 42.0, (11, 15, 22))),
        ("ground over nominal", over),
        ("endless", life(50.0, &[49.9], 40.0, (150, 200, 200))),
    ]
}

fn step(kind: DayStepKind, hour: u32, minute: u32, by: &str) -> DayStep {
    DayStep { kind, minute: hour * 60 + minute, by: by.to_owned() }
}

fn day_cutter(number: &str, steps: &[(DayStepKind, u32, u32, &str)]) -> DayCutter {
    let steps = steps.iter().map(|(kind, hour, minute, by)| step(*kind, *hour, *minute, by));
    DayCutter { number: number.to_owned(), steps: steps.collect() }
}

/// Every day with a name.
pub(crate) fn days() -> Vec<(&'static str, Day)> {
    use DayStepKind::{Checked, Ground, HandedBack, Planned, Received};
    let full = vec![
        day_cutter(
            "K-117",
            &[
                (Received, 7, 30, "JM"),
                (Planned, 7, 50, "JM"),
                (Ground, 8, 40, "TB"),
                (Checked, 9, 5, "TB"),
                (Ground, 9, 30, "TB"),
                (Checked, 9, 42, "TB"),
                (HandedBack, 10, 15, "JM"),
            ],
        ),
        day_cutter("K-130", &[(Received, 7, 31, "JM"), (Planned, 13, 2, "AHL")]),
        day_cutter("K-134", &[(Ground, 14, 0, "TB"), (Checked, 14, 4, "TB")]),
        day_cutter("A long-numbered cutter", &[(HandedBack, 15, 58, "JM")]),
        day_cutter("K-152", &[]),
    ];
    let day = |cutters| Day { date: "Tuesday 24 November 2026".to_owned(), cutters };
    let busy = (0..25).map(|row| {
        let number = format!("K-{}", 200 + row);
        let at = |minute: u32| (6 + (minute + 13 * row) / 60 % 12, (minute + 13 * row) % 60, "TB");
        let steps = [(Received, 0), (Planned, 10), (Ground, 40), (Checked, 55), (HandedBack, 90)];
        let steps = steps.map(|(kind, minute)| {
            let (hour, minute, by) = at(minute);
            (kind, hour, minute, by)
        });
        day_cutter(&number, &steps)
    });
    let night = [(Ground, 0, 0, "A very long name"), (HandedBack, 30, 0, "A very long name")];
    vec![
        ("ordinary", day(full)),
        ("nothing", day(Vec::new())),
        ("busy", day(busy.collect())),
        ("round the clock", day(vec![day_cutter("K-9", &night)])),
    ]
}

/// Every tag with a name.
pub(crate) fn tags() -> Vec<(&'static str, Tag)> {
    let tag = Tag {
        number: "K-117".to_owned(),
        nominal: mm(12.7),
        diameter: mm(12.37),
        radius: None,
        chamfer: None,
        taper: Angle::ZERO,
        flute: mm(31.0),
        overall: mm(82.0),
        regrind: 3,
        date: "24 November 2026".to_owned(),
        initials: "TB".to_owned(),
    };
    let radius = |ground: f64, nominal: f64| TagRadius {
        ground: mm(ground),
        nominal: mm(nominal),
        is_ball: nominal == 6.35,
    };
    let corner = Tag { radius: Some(radius(0.7, 0.762)), ..tag.clone() };
    let ball = Tag { radius: Some(radius(6.185, 6.35)), ..tag.clone() };
    let full = Tag { diameter: mm(12.7), regrind: 0, ..tag.clone() };
    let long = Tag {
        number: "The long cutter from the third drawer".to_owned(),
        date: "the twenty-fourth of November in 2026, in the evening".to_owned(),
        initials: "ABCDEFG".to_owned(),
        nominal: mm(250.0),
        diameter: mm(248.123),
        radius: Some(radius(12.345, 12.7)),
        ..tag.clone()
    };
    vec![("square", tag), ("corner", corner), ("ball", ball), ("full", full), ("long", long)]
}

fn wheel(number: &str, shape: WheelShape, sizes: [f64; 5], wall: Option<f64>) -> Wheel {
    let [diameter, depth, bore, face, rim] = sizes;
    let is_super = shape.is_of_super_abrasive();
    let draft = WheelDraft {
        number: number.to_owned(),
        shape,
        abrasive: if is_super { Abrasive::CubicBoronNitride } else { Abrasive::AluminiumOxide },
        grit: if is_super { "B126" } else { "60" }.to_owned(),
        concentration: is_super.then_some(100),
        grade: (!is_super).then_some('K'),
        bond: if is_super { Bond::Resin } else { Bond::Vitrified },
        diameter: mm(diameter),
        face_width: mm(face),
        rim_width: (rim > 0.0).then_some(mm(rim)),
        corner_radius: if is_super { mm(0.0) } else { mm(0.15) },
        bore: mm(bore),
        depth: mm(depth),
        wall_angle: wall.map(Angle::from_degrees),
        marked_rpm: 6000,
        marked_speed_m_per_s: (diameter < 120.0).then_some(40.0),
        coolant: None,
    };
    draft.build().unwrap()
}

/// Every wheel with a name.
pub(crate) fn wheels() -> Vec<(&'static str, Wheel)> {
    let flaring = [100.0, 35.0, 20.0, 2.0, 2.0];
    vec![
        ("flaring cup", wheel("W-05", WheelShape::Symbol11V9, flaring, Some(20.0))),
        (
            "flaring, no wall",
            wheel("W-01", WheelShape::Type11, [95.0, 38.0, 31.75, 1.6, 8.0], None),
        ),
        ("straight cup", wheel("W-02", WheelShape::Type6, [100.0, 50.0, 20.0, 2.0, 10.0], None)),
        ("straight", wheel("W-03", WheelShape::Type1, [150.0, 13.0, 31.75, 13.0, 0.0], None)),
        (
            "narrow straight",
            wheel("W-08", WheelShape::Symbol1A1, [100.0, 10.0, 20.0, 4.0, 6.0], None),
        ),
        ("dish", wheel("W-09", WheelShape::Type12, [100.0, 13.0, 20.0, 1.5, 6.0], Some(30.0))),
        (
            "blunt wall",
            wheel("W-10", WheelShape::Type11, [80.0, 40.0, 31.75, 2.0, 6.0], Some(60.0)),
        ),
        ("small", wheel("W-11", WheelShape::Symbol6A2, [20.0, 20.0, 6.0, 2.0, 2.0], None)),
        ("large", wheel("W-12", WheelShape::Type1, [180.0, 6.0, 31.75, 3.0, 0.0], None)),
    ]
}

/// A dial with a name, its scale and the mark to set.
pub(crate) type DialCase = (&'static str, DialMark, Motion);

fn mark(reading: Quantity, finest: Quantity, on_diameter: bool) -> DialMark {
    DialMark {
        axis: "cross slide".to_owned(),
        reading,
        finest,
        on_diameter,
        positive: "as the wheel comes nearer to the cutter".to_owned(),
    }
}

fn slide(name: &'static str, sizes: [f64; 3], reading: f64, halves: bool) -> DialCase {
    let [graduation, vernier, per_turn] = sizes.map(mm);
    let some = |length: Length| (length > Length::ZERO).then_some(length);
    let scale = SlideScale {
        graduation,
        vernier: some(vernier),
        per_turn: some(per_turn),
        reads: Reads::Diameter,
        backlash: Length::ZERO,
        range: None,
        halves,
    };
    let finest = Quantity::Length(scale.finest());
    (name, mark(Quantity::Length(mm(reading)), finest, true), Motion::Slide(scale))
}

fn swivel(name: &'static str, sizes: [f64; 2], reading: f64, range: Option<f64>) -> DialCase {
    let [graduation, vernier] = sizes.map(Angle::from_degrees);
    let scale = SwivelScale {
        graduation,
        vernier: (vernier > Angle::ZERO).then_some(vernier),
        backlash: Angle::ZERO,
        range: range.map(|end| (Angle::from_degrees(-end), Angle::from_degrees(end))),
        halves: false,
    };
    let finest = Quantity::Angle(scale.finest());
    let reading = Quantity::Angle(Angle::from_degrees(reading));
    (name, mark(reading, finest, false), Motion::Swivel(scale))
}

/// Every dial with its name.
pub(crate) fn dials() -> Vec<DialCase> {
    vec![
        slide("metric", [0.02, 0.0, 4.0], 12.34, false),
        slide("inch", [0.0254, 0.0, 2.54], 25.4 * 0.237, false),
        slide("half thou", [0.0127, 0.0, 2.54], 25.4 * 0.0365, false),
        slide("vernier", [0.02, 0.002, 2.0], 0.346, false),
        slide("halves", [0.05, 0.0, 2.5], 1.225, true),
        slide("back", [0.02, 0.0, 4.0], -5.3, false),
        slide("at zero", [0.02, 0.0, 4.0], 8.0, false),
        slide("very fine", [0.001, 0.0, 1.0], 2.998, false),
        slide("rule", [1.0, 0.0, 0.0], 143.0, false),
        slide("inch rule", [25.4 / 64.0, 0.0, 0.0], 25.4 * 2.5, false),
        swivel("quarter degrees", [0.25, 0.0], 89.25, None),
        swivel("minutes", [1.0, 5.0 / 60.0], -7.25, None),
        swivel("short range", [0.5, 0.0], 8.5, Some(10.0)),
        swivel("index holes", [15.0, 0.0], 90.0, None),
    ]
}

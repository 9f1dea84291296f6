//! An invented cutter, an invented wheel, and one event of each kind.

use geometry::{Angle, Length};
use shop::book::event::{
    Amended, Checked, Corrected, CutterEntered, DialStood, Dressed, Found, Ground, HandedBack,
    Input, Inspected, Measured, Mounted, Noted, PersonEntered, PinSet, Planned, Read, Received,
    Retired, StepDone, TrayOpened, TrayOrdered, WearSeen, WheelEntered, WheelSize, Written,
};
use shop::book::{Event, Id};
use shop::plan::{PlannedSetup, Quantity};
use shop::record::{
    AsGround, Bond, Coolant, Cutter, CutterDraft, DiameterGroup, DiameterReading, DropGroup,
    DropReading, EndForm, EndTeeth, Hand, Holding, IndicatorGroup, IndicatorReading, Instrument,
    LandGroup, LandReading, LandStage, Over, Profile, ReadingsDraft, RunoutOf, RunoutReading,
    Special, TeethRun, ToothWear, Wear, WearDraft, WearSign, Wheel, WheelDraft, WheelShape,
};
use trade::{Abrasive, ToolMaterial};

fn mm(mm: f64) -> Length {
    Length::from_mm(mm)
}

fn deg(degrees: f64) -> Angle {
    Angle::from_degrees(degrees)
}

/// A cutter with a number, everything else known.
pub(crate) fn cutter(number: &str) -> Cutter {
    cutter_draft(number).build().unwrap()
}

pub(crate) fn cutter_draft(number: &str) -> CutterDraft {
    CutterDraft {
        number: number.to_owned(),
        diameter: Length::from_inches(0.5),
        teeth: 4,
        hand: Hand::Right,
        helix: deg(30.0),
        helix_hand: Some(Hand::Right),
        rake: deg(10.1),
        material: ToolMaterial::CobaltHighSpeedSteel,
        end: EndForm::CornerRadius(mm(0.8)),
        profile: Profile::Plain,
        flute_length: mm(26.3),
        overall_length: mm(83.0),
        shank_diameter: mm(12.0),
        core_diameter: Some(mm(7.1)),
        tooth_thickness: Some(mm(2.9)),
        centre_cutting: true,
        coating: Some("TiN".to_owned()),
        work: "steel".to_owned(),
        regrinds: 1,
        unequal_index: Some(true),
        special: Special {
            index: [0.0, 88.0, 180.0, 268.5].map(deg).to_vec(),
            tooth_helix: [29.0, 31.0, 29.0, 31.0].map(deg).to_vec(),
            taper: deg(1.5),
        },
        end_teeth: Some(EndTeeth {
            dish: Some(Angle::from_degrees(1.0)),
            land: Some(mm(0.5)),
            corner_chamfer: None,
            gash_from_centre: Some(mm(0.25)),
            ..EndTeeth::default()
        }),
        as_ground: Some(as_ground(12.6)),
    }
}

pub(crate) fn as_ground(diameter_mm: f64) -> AsGround {
    AsGround {
        diameter: mm(diameter_mm),
        primary: deg(9.3),
        secondary: deg(21.7),
        land: mm(0.61),
        next_primary: Some(deg(9.9)),
    }
}

/// A cutter that is entered.
pub(crate) fn cutter_entered(number: &str) -> Event {
    let marks = vec!["½ × 1¼".to_owned(), "M42".to_owned()];
    Event::CutterEntered(Box::new(CutterEntered { cutter: cutter(number), marks }))
}

pub(crate) fn wheel(number: &str) -> Wheel {
    let draft = WheelDraft {
        number: number.to_owned(),
        shape: WheelShape::Symbol11V9,
        abrasive: Abrasive::CubicBoronNitride,
        grit: "B126".to_owned(),
        concentration: Some(100),
        grade: Some('N'),
        bond: Bond::Resin,
        diameter: mm(100.0),
        face_width: mm(3.0),
        rim_width: Some(mm(5.0)),
        corner_radius: mm(0.05),
        bore: mm(20.0),
        depth: mm(35.0),
        wall_angle: Some(deg(20.0)),
        marked_rpm: 6000,
        marked_speed_m_per_s: Some(32.0),
        coolant: Some(Coolant::Wet),
    };
    draft.build().unwrap()
}

/// A person who is entered.
pub(crate) fn person_entered(initials: &str) -> Event {
    let (initials, name) = (initials.to_owned(), "Ada Bench".to_owned());
    Event::PersonEntered(PersonEntered { initials, name })
}

/// A wheel that is entered.
pub(crate) fn wheel_entered(number: &str) -> Event {
    let marks = vec!["max 6000".to_owned()];
    Event::WheelEntered(Box::new(WheelEntered { wheel: wheel(number), marks }))
}

pub(crate) fn wear() -> Wear {
    let tooth = ToothWear {
        tooth: 2,
        wear_land: mm(0.18),
        chip_depth: mm(0.07),
        chip_from_end: mm(3.0),
        wear_from_end: Some(mm(19.0)),
        corner_wear: mm(0.2),
        runout: Some(mm(0.01)),
    };
    let draft = WearDraft {
        measured_diameter: Some(mm(12.55)),
        shank_runout: Some(mm(0.004)),
        signs: vec![WearSign::Chipped, WearSign::EdgeRounded],
        teeth: vec![tooth, ToothWear { tooth: 1, ..ToothWear::default() }],
    };
    draft.build().unwrap()
}

pub(crate) fn readings(cutter: &str) -> ReadingsDraft {
    let glass = Instrument { resolution: mm(0.01), repeatability: Some(mm(0.004)) };
    let dial = Instrument { resolution: mm(0.002), repeatability: None };
    let land = |tooth, width| LandReading { tooth, from_end: mm(5.0), width: mm(width) };
    let height = |tooth, height| IndicatorReading { tooth, from_end: mm(5.0), height: mm(height) };
    ReadingsDraft {
        cutter: Some(cutter.to_owned()),
        teeth_run: Some(TeethRun::Heelward),
        ground_order: vec![1, 2, 3, 4],
        lands: vec![LandGroup {
            stage: LandStage::AfterSecondary,
            instrument: glass,
            readings: vec![land(1, 0.61), land(2, 0.6)],
        }],
        diameters: vec![DiameterGroup {
            over: Over::Micrometer,
            anvil_width: Some(mm(6.5)),
            instrument: dial,
            readings: vec![DiameterReading {
                from_end: mm(8.0),
                tooth: Some(1),
                reading: mm(12.518),
            }],
        }],
        indicator: vec![IndicatorGroup {
            held: Holding::ByShank,
            instrument: dial,
            readings: vec![height(1, 0.0), height(2, -0.004)],
        }],
        runouts: vec![RunoutReading {
            of: RunoutOf::Shank,
            held: Holding::AsGround,
            from_end: None,
            reading: mm(0.006),
            instrument: dial,
        }],
        drops: vec![DropGroup {
            instrument: dial,
            readings: vec![DropReading { tooth: Some(3), distance: mm(0.3), drop: mm(0.05) }],
        }],
        signs: vec![WearSign::HeelRubbed],
        looked_again: true,
    }
}

pub(crate) fn id(bits: u128) -> Id {
    Id::from_bits(bits)
}

/// One event of each kind, every field of it filled. Ids of wheels are 1, of machines 2, of trays
/// 3, of cutters 4 and 5.
pub(crate) fn every_event() -> Vec<Event> {
    let mut every = of_cutters();
    every.extend(of_wheels());
    every.extend(of_the_house());
    every
}

fn planned_setup() -> PlannedSetup {
    PlannedSetup {
        head_angle: deg(89.25),
        relief_setting: deg(10.5),
        finger: Some("offset".to_owned()),
    }
}

fn of_cutters() -> Vec<Event> {
    let inputs = vec![Input {
        role: "cutter".to_owned(),
        file: "fräser.toml".to_owned(),
        text: "[cutter]\r\nnumber = \"K-1\"\t# \\ \u{1F6E0}\n".to_owned(),
    }];
    let dials = vec![
        DialStood { axis: "cross feed".to_owned(), reading: Quantity::Length(mm(0.14)) },
        DialStood { axis: "head".to_owned(), reading: Quantity::Angle(deg(89.25)) },
    ];
    vec![
        cutter_entered("K-1"),
        Event::Received(Received {
            tray: Some(id(3)),
            from: Some("line 2".to_owned()),
            wanted: Some("keep the size".to_owned()),
        }),
        Event::WearSeen(WearSeen { wear: wear() }),
        Event::Planned(Planned {
            program: "0.1.0".to_owned(),
            inputs,
            route: "regrind on the diameter".to_owned(),
            wheel: Some(id(1)),
            machine: Some(id(2)),
            stock: Some(mm(0.041)),
            diameter_after: Some(mm(12.518)),
            travel: Some(mm(0.14)),
            radius_per_travel: Some(0.4913),
            follows: None,
            setup: Some(planned_setup()),
        }),
        Event::Ground(Ground {
            plan: Some(4),
            wheel: Some(id(1)),
            machine: Some(id(2)),
            dials,
            travel: Some(mm(0.14)),
            passes: Some(3),
            diameter_before: Some(mm(12.55)),
            diameter_after: Some(mm(12.52)),
            minutes: Some(17.5),
        }),
        Event::Read(Box::new(Read { plan: Some(4), readings: readings("K-1") })),
        Event::Checked(Checked {
            read: Some(6),
            program: "0.1.0".to_owned(),
            outcome: "one fault".to_owned(),
            found: vec![Found {
                fault: "taper".to_owned(),
                size: Some(Quantity::Length(mm(0.006))),
                within: Some(Quantity::Length(mm(0.002))),
                words: "the shank's end stands out".to_owned(),
            }],
        }),
        Event::Corrected(Corrected {
            check: Some(7),
            fault: "taper".to_owned(),
            axis: Some("table".to_owned()),
            by: Some(Quantity::Angle(deg(-0.05))),
            words: "clockwise seen from above".to_owned(),
        }),
        Event::HandedBack(HandedBack {
            as_ground: Some(as_ground(12.52)),
            to: Some("line 2".to_owned()),
            shorter: Some(mm(0.35)),
        }),
    ]
}

fn of_wheels() -> Vec<Event> {
    let size = WheelSize {
        diameter: Some(mm(99.8)),
        face_width: Some(mm(3.1)),
        corner_radius: Some(mm(0.0)),
        depth: Some(mm(31.72)),
    };
    vec![
        wheel_entered("W-1"),
        Event::Dressed(Dressed {
            size,
            taken: Some(mm(0.03)),
            words: "with the stick,\nlightly".to_owned(),
        }),
        Event::Measured(Measured { size }),
        Event::Inspected(Inspected { looked: true, rung: true, words: "a dull sound".to_owned() }),
        Event::Mounted(Mounted { machine: Some(id(2)) }),
        Event::Shelved,
    ]
}

fn of_the_house() -> Vec<Event> {
    let noted = Event::Noted(Noted { words: "the box is gone".to_owned() });
    vec![
        Event::Written(Written { name: "M-1".to_owned(), text: "[machine]\n".to_owned() }),
        Event::TrayOpened(TrayOpened { name: "blue".to_owned(), whose: Some("line 2".to_owned()) }),
        Event::TrayOrdered(TrayOrdered { cutters: vec![id(5), id(4)] }),
        Event::PersonEntered(PersonEntered {
            initials: "AB".to_owned(),
            name: "Ada Bench".to_owned(),
        }),
        Event::PinSet(PinSet { hash: "$argon2id$v=19$m=1$c2FsdA$aGFzaA".to_owned() }),
        noted.clone(),
        Event::Retired(Retired { why: "the core shows".to_owned() }),
        Event::Amended(Amended {
            entry: 2,
            why: "another cutter was meant".to_owned(),
            instead: Some(Box::new(noted)),
        }),
        Event::StepDone(StepDone {
            plan: 4,
            step: "primary: relief".to_owned(),
            stood: Some(DialStood {
                axis: "cross feed".to_owned(),
                reading: Quantity::Length(mm(0.14)),
            }),
            words: Some("half a mark over".to_owned()),
        }),
    ]
}

//! The section against closed forms (DESIGN: mathematics), as properties.

use geometry::screw::{Flutes, Hand};
use geometry::section::{GroundSection, Setup, Stance};
use geometry::wheel::{Corner, CupShape, DiscShape, FaceToward, WheelBody};
use geometry::{Angle, Length};

fn mm(value: f64) -> Length {
    Length::from_mm(value)
}
fn deg(value: f64) -> Angle {
    Angle::from_degrees(value)
}

fn cup(diameter_mm: f64, face_width_mm: f64, corner_mm: f64) -> WheelBody {
    WheelBody::cup(&CupShape {
        diameter_mm,
        face_width_mm,
        outer_wall_rad: 0.0,
        inner_wall_rad: 0.0,
        leading: Corner::round(corner_mm),
        trailing: Corner::Sharp,
    })
    .unwrap()
}
fn disc(diameter_mm: f64, face_width_mm: f64, corner_mm: f64) -> WheelBody {
    WheelBody::disc(&DiscShape {
        diameter_mm,
        face_width_mm,
        leading: Corner::round(corner_mm),
        trailing: Corner::Sharp,
    })
    .unwrap()
}
fn flutes(diameter: f64, teeth: u32, helix: f64) -> Flutes {
    Flutes {
        nominal_diameter: mm(diameter),
        teeth,
        hand: Hand::Right,
        helix: deg(helix),
        helix_hand: Hand::Right,
    }
}
fn stance(lean: f64, toward: FaceToward, inset: f64, setting: f64, above: f64) -> Stance {
    Stance {
        lean: deg(lean),
        face_toward: toward,
        rest_inset: mm(inset),
        relief_setting: deg(setting),
        axis_above: mm(above),
    }
}

fn show(s: &GroundSection) {
    println!(
        "relief {:?} wheel {:?} kind {:?}",
        s.edge_relief().map(|a| a.degrees()),
        s.wheel_from_axis().mm(),
        s.relief_kind()
    );
    for c in [0.0635, 0.127, 0.5] {
        println!("  drop {c}: {:?}", s.drop_at(mm(c)).map(|d| d.mm()));
    }
    println!(
        "  drag {:?} gap {:?} far {:?}",
        s.heel_drag_from().map(|d| d.mm()),
        s.next_tooth_gap().map(|d| d.mm()),
        s.far_side_gap().map(|d| d.mm())
    );
    for p in s.pieces() {
        println!("   {:?} {:.3}..{:.3} {:?}", p.part, p.from.degrees(), p.to.degrees(), p.kind);
    }
}

#[test]
fn look() {
    let s = Setup::new(
        flutes(12.7, 4, 30.0),
        cup(100.0, 1.6, 0.0),
        stance(0.75, FaceToward::Tip, 0.2, 10.0, 0.0),
    )
    .unwrap()
    .section(mm(12.6))
    .unwrap();
    show(&s);
    let s = Setup::new(
        flutes(12.7, 4, 30.0),
        disc(150.0, 6.0, 0.0),
        stance(1.0, FaceToward::Tip, 0.2, 8.0, 2.0),
    )
    .unwrap()
    .section(mm(12.6))
    .unwrap();
    show(&s);
    let s = Setup::new(
        flutes(12.7, 4, 30.0),
        disc(150.0, 6.0, 0.5),
        stance(0.0, FaceToward::Shank, 2.0, 8.0, 0.0),
    )
    .unwrap()
    .section(mm(12.6))
    .unwrap();
    show(&s);
    let s = Setup::new(
        flutes(12.7, 4, 30.0),
        cup(100.0, 6.0, 0.0),
        stance(5.8, FaceToward::Shank, 2.0, 10.0, 0.0),
    )
    .unwrap()
    .section(mm(12.6))
    .unwrap();
    show(&s);
    let s = Setup::new(
        flutes(12.7, 4, 30.0),
        cup(100.0, 1.6, 0.3),
        stance(0.75, FaceToward::Tip, 0.2, 10.0, 0.0),
    )
    .unwrap()
    .section(mm(12.6))
    .unwrap();
    show(&s);
    let t = std::time::Instant::now();
    let setup = Setup::new(
        flutes(12.7, 4, 30.0),
        cup(100.0, 1.6, 0.0),
        stance(0.75, FaceToward::Tip, 0.2, 10.0, 0.0),
    )
    .unwrap();
    let mut r = vec![0.0; 400];
    let mut sum = 0.0;
    for _ in 0..2000 {
        let s = setup.section(mm(12.6)).unwrap();
        s.fill_radii_mm(deg(0.0), deg(20.0), &mut r);
        sum += r[3];
    }
    println!("{:?} per section {sum}", t.elapsed() / 2000);
}

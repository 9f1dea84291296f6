//! A fluted body: its tooth's section swept along the helix, with a flat end and a shank.

use nalgebra::Vector3;

use super::cap;
use super::error::{SolidError, check_over_zero, check_size, chord_error_mm};
use super::mesh::{Mesh, Surface};
use super::plane::{Chords, Point};
use super::ring::{Loop, Station};
use super::tooth::{ToothForm, ToothLoop};
use crate::quantity::{Angle, Length};
use crate::screw::Flutes;

/// A fluted body, to be made a mesh.
///
/// Its end is flat and stands at z = 0, its axis runs along z toward the shank. Behind the flutes
/// the section runs out into the full circle, and from there goes on to the shank; that stretch is
/// a picture and no measurement.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Fluted<'a> {
    /// The section of a tooth.
    pub tooth: ToothForm<'a>,
    /// How many there are and how they run.
    pub flutes: Flutes,
    /// Where the first edge stands at the end, heelward from x.
    pub edge_at_end: Angle,
    /// Length of the flutes from the end.
    pub fluted_length: Length,
    /// Length of the whole body; not less than that of the flutes.
    pub overall_length: Length,
    /// Diameter of the shank.
    pub shank_diameter: Length,
}

/// Length in which the flutes run out, as a share of the edge's diameter and of what length there
/// is behind them at most (own choice, no source).
const RUNOUT: (f64, f64) = (0.6, 0.4);

/// The share of the length behind the flutes that the cone to the shank takes at most (own choice,
/// no source).
const CONE_SHARE: f64 = 0.2;

/// Lengths behind the flutes below which the body ends with them.
const BEHIND_MM_MIN: f64 = 1e-6;

/// The largest slope and bend of the smooth step by which the flutes run out, over its length and
/// its square.
const STEP_SLOPE: f64 = 1.5;
const STEP_BEND: f64 = 6.0;

impl Fluted<'_> {
    /// The body as a mesh, with its land, back, flutes, run-out, shank and end told apart.
    ///
    /// **Source** \[own-derivation\] a facet over steps u, v of a surface S stands off by at most
    /// (u² |S_uu| + 2uv |S_uv| + v² |S_vv|) / 8; each of the three gets a third of the chord error.
    /// **Departs** nowhere. **Error** the chord error, on every surface with the run-out among
    /// them. **Domain** sizes over 0, 2 to 60 teeth, a heel before the next edge.
    ///
    /// # Errors
    /// Where a size is outside the domain, or the chord error asks for too many triangles.
    pub fn mesh(&self, chord_error: Length) -> Result<Mesh, SolidError> {
        let error_mm = chord_error_mm(chord_error)?;
        self.check()?;
        let pitch_rad = self.flutes.pitch_rad();
        let tooth = self.tooth.section(pitch_rad, &self.chords(error_mm));
        let section = Loop::new(&tooth, self.flutes.teeth);
        let stations = self.stations(&section, error_mm)?;
        Ok(Sweep { section: &section, tooth: &tooth, stations: &stations }.mesh())
    }

    fn check(&self) -> Result<(), SolidError> {
        if !(2..=60).contains(&self.flutes.teeth) {
            let reason = format!("{} teeth: from 2 to 60 can be drawn", self.flutes.teeth);
            return Err(SolidError::invalid("teeth", reason));
        }
        check_over_zero("fluted_length", self.fluted_length)?;
        check_over_zero("shank_diameter", self.shank_diameter)?;
        check_over_zero("nominal_diameter", self.flutes.nominal_diameter)?;
        if !(self.overall_length >= self.fluted_length && self.overall_length.mm() < 1e4) {
            let reason = "it is shorter than the flutes, or longer than 10 m";
            return Err(SolidError::invalid("overall_length", reason));
        }
        if !(self.twist_rad_per_mm().is_finite() && self.edge_at_end.radians().is_finite()) {
            return Err(SolidError::invalid("helix", "it is not a number"));
        }
        self.tooth.check(self.flutes.pitch_rad())
    }

    fn twist_rad_per_mm(&self) -> f64 {
        self.flutes.twist_rad_per_mm()
    }

    /// A third of the chord error for the chords across; their length so that as many stations
    /// come along the helix as the twist needs by itself.
    fn chords(&self, error_mm: f64) -> Chords {
        let edge_mm = self.tooth.edge_mm();
        let larger = (0.5 * self.shank_diameter.mm() / edge_mm).max(1.0);
        let length_mm = (2.0 / 3.0 * error_mm * edge_mm / larger).sqrt();
        Chords { off_mm: error_mm / 3.0, length_mm }
    }

    /// The stations from the end to the shank's end.
    fn stations(&self, section: &Loop, error_mm: f64) -> Result<Vec<Station>, SolidError> {
        let (fluted_mm, overall_mm) = (self.fluted_length.mm(), self.overall_length.mm());
        let (edge_mm, shank_mm) = (self.tooth.edge_mm(), 0.5 * self.shank_diameter.mm());
        let behind_mm = overall_mm - fluted_mm;
        let runout_mm = (RUNOUT.0 * 2.0 * edge_mm).min(RUNOUT.1 * behind_mm);
        let flute_step_mm = self.step_mm(section, error_mm, None);
        let runout_step_mm = self.step_mm(section, error_mm, Some(runout_mm));
        let has_shank = behind_mm > BEHIND_MM_MIN;
        let parts = |length_mm: f64, step_mm: f64| (length_mm / step_mm).ceil().max(1.0);
        let flute_parts = parts(fluted_mm, flute_step_mm);
        let runout_parts = if has_shank { parts(runout_mm, runout_step_mm) } else { 0.0 };
        let rings = flute_parts + runout_parts + 3.0;
        check_size(2.0 * rings * section.points.len() as f64, error_mm)?;
        let at = |z_mm: f64, share: f64, radius_mm: f64| {
            let turning_mm = z_mm.min(fluted_mm + runout_mm);
            let turn_rad = self.edge_at_end.radians() + self.twist_rad_per_mm() * turning_mm;
            Station { z_mm, turn_rad, share, radius_mm }
        };
        let flute = |part: u32| at(fluted_mm * f64::from(part) / flute_parts, 0.0, edge_mm);
        let mut stations: Vec<Station> = (0..=flute_parts as u32).map(flute).collect();
        if !has_shank {
            return Ok(stations);
        }
        stations.extend((1..=runout_parts as u32).map(|part| {
            let way = f64::from(part) / runout_parts;
            at(fluted_mm + runout_mm * way, way * way * (3.0 - 2.0 * way), edge_mm)
        }));
        let cone_mm = (shank_mm - edge_mm).abs().min(CONE_SHARE * behind_mm);
        if cone_mm > BEHIND_MM_MIN {
            stations.push(at(fluted_mm + runout_mm + cone_mm, 1.0, shank_mm));
        }
        stations.push(at(overall_mm, 1.0, stations[stations.len() - 1].radius_mm));
        Ok(stations)
    }

    /// The step along the axis that keeps within the error, along the flutes or in the run-out.
    fn step_mm(&self, section: &Loop, error_mm: f64, runout_mm: Option<f64>) -> f64 {
        let edge_mm = self.tooth.edge_mm();
        let twist = self.twist_rad_per_mm().abs();
        let (stride_mm, change_mm) = section.strides(edge_mm);
        let (mut bend, mut shear) = (twist * twist * edge_mm, twist * stride_mm);
        if let Some(length_mm) = runout_mm.filter(|length_mm| *length_mm > 0.0) {
            let way_mm = section.way_mm(edge_mm);
            let (slope, bent) = (STEP_SLOPE / length_mm, STEP_BEND / (length_mm * length_mm));
            bend += 2.0 * twist * slope * way_mm + bent * way_mm;
            shear += slope * change_mm;
        }
        let by_bend = (8.0 * error_mm / 3.0 / bend.max(1e-12)).sqrt();
        by_bend.min(4.0 * error_mm / 3.0 / shear.max(1e-12))
    }
}

/// A section and the stations at which it becomes rings.
struct Sweep<'a> {
    section: &'a Loop,
    tooth: &'a ToothLoop,
    stations: &'a [Station],
}

impl Sweep<'_> {
    fn mesh(&self) -> Mesh {
        let count = self.section.points.len();
        let rings = self.stations.len();
        let mut points = Vec::with_capacity(count * rings + 2);
        self.stations.iter().for_each(|station| points.extend(self.section.ring(*station)));
        let last_z_mm = self.stations[rings - 1].z_mm;
        points.extend([Vector3::zeros(), Vector3::new(0.0, 0.0, last_z_mm)]);
        let mut mesh = Mesh::with_points(points);
        mesh.reserve(2 * count * rings + 2 * count);
        for surface in [Surface::Land, Surface::Back, Surface::Flute] {
            self.add_sides(surface, &mut mesh);
        }
        for surface in [Surface::Runout, Surface::Shank] {
            self.add_rings(surface, &mut mesh);
        }
        self.add_ends(&mut mesh);
        mesh
    }

    /// What the stretch behind a station is, where its surfaces are not told apart by tooth.
    fn behind(&self, station: usize) -> Option<Surface> {
        let (from, to) = (&self.stations[station], &self.stations[station + 1]);
        match (from.share, to.share) {
            (_, 0.0) => None,
            (1.0, _) => Some(Surface::Shank),
            _ => Some(Surface::Runout),
        }
    }

    /// The two triangles between a point of a ring, its neighbour, and the next ring.
    fn quad(&self, station: usize, at: usize) -> [[u32; 3]; 2] {
        let count = self.section.points.len();
        let next = (at + 1) % count;
        let (ring, beyond) = (station * count, (station + 1) * count);
        let [a, b, c, d] =
            [ring + at, ring + next, beyond + next, beyond + at].map(|place| place as u32);
        [[a, b, c], [a, c, d]]
    }

    fn add_sides(&self, surface: Surface, mesh: &mut Mesh) {
        let surfaces = &self.section.surfaces;
        for station in (0..self.stations.len() - 1).filter(|at| self.behind(*at).is_none()) {
            let own = (0..surfaces.len()).filter(|at| surfaces[*at] == surface);
            mesh.add(surface, own.flat_map(|at| self.quad(station, at)));
        }
    }

    fn add_rings(&self, surface: Surface, mesh: &mut Mesh) {
        let stations = 0..self.stations.len() - 1;
        for station in stations.filter(|station| self.behind(*station) == Some(surface)) {
            let all = 0..self.section.points.len();
            mesh.add(surface, all.flat_map(|at| self.quad(station, at)));
        }
    }

    fn add_ends(&self, mesh: &mut Mesh) {
        let count = self.section.points.len();
        let last = (self.stations.len() - 1) * count;
        let (centre, far_centre) = ((last + count) as u32, (last + count + 1) as u32);
        let place = |at: usize, first: usize, hub: u32| {
            if at == usize::MAX { hub } else { (first + at) as u32 }
        };
        let flat = self.flat_end();
        let ahead = flat.iter().map(|ear| ear.map(|at| place(at, 0, centre)));
        mesh.add(Surface::End, ahead.map(|[a, b, c]| [a, c, b]));
        if self.stations[self.stations.len() - 1].share > 0.0 {
            let fan = (0..count).map(|at| [last + at, last + (at + 1) % count]);
            let fan = fan.map(|[a, b]| [far_centre, a as u32, b as u32]);
            mesh.add(Surface::Shank, fan);
        } else {
            let far = flat.iter().map(|ear| ear.map(|at| place(at, last, far_centre)));
            mesh.add(Surface::Shank, far);
        }
    }

    /// The triangles of the section itself: tooth by tooth, each from the centre to the roots on
    /// either side of it. The centre is told by a place beyond all.
    fn flat_end(&self) -> Vec<[usize; 3]> {
        let (own, count) = (self.tooth.points.len(), self.section.points.len());
        let teeth = count / own;
        if teeth == 2 {
            // Both roots and the centre lie on one line, so the halves cannot be told apart.
            return cap::triangles(&self.section.points);
        }
        let root = self.tooth.root;
        let places: Vec<usize> = (root..=own + root).map(|at| at % count).collect();
        let points = places.iter().map(|at| self.section.points[*at]);
        let sector: Vec<Point> = std::iter::once(Point::zeros()).chain(points).collect();
        let ears = cap::triangles(&sector);
        let turned = |corner: usize, tooth: usize| match corner {
            0 => usize::MAX,
            corner => (places[corner - 1] + tooth * own) % count,
        };
        let every = (0..teeth).flat_map(|tooth| ears.iter().map(move |ear| (tooth, ear)));
        every.map(|(tooth, ear)| ear.map(|corner| turned(corner, tooth))).collect()
    }
}

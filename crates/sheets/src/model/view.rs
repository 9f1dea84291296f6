//! From where a model is looked at.

/// What a view shows.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub enum ViewName {
    /// Where one begins: from the end and above.
    Start,
    /// From the end of the cutter.
    End,
    /// From the side, square to the cutter, over against the wheel.
    Side,
    /// Along the face of the wheel, from above.
    Wheel,
}

/// A view: unit directions, and how near.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct View {
    /// What it shows.
    pub name: ViewName,
    /// From the model toward the eye.
    pub eye: [f32; 3],
    /// What is up for the eye, square to that or nearly so.
    pub up: [f32; 3],
    /// How many times larger than a first view.
    pub zoom: f32,
}

/// What to look at.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Focus {
    /// The place about which the model turns, in millimetres.
    pub centre_mm: [f32; 3],
    /// How far on either side of it a first view reaches, in millimetres.
    pub reach_mm: f32,
}

impl ViewName {
    /// The word for it.
    pub const fn name(self) -> &'static str {
        match self {
            Self::Start => "start",
            Self::End => "end",
            Self::Side => "side",
            Self::Wheel => "wheel",
        }
    }
}

impl View {
    /// The views of a cutter whose tip lies toward −z, or toward +z where it is mirrored; without
    /// a wheel none of it.
    pub(super) fn all(is_mirrored: bool, has_wheel: bool, end_zoom: f32) -> Vec<Self> {
        let tip = if is_mirrored { 1.0 } else { -1.0 };
        let up = [0.0, 1.0, 0.0];
        let view = |name, eye, up| Self { name, eye: unit(eye), up, zoom: 1.0 };
        let mut views = vec![
            view(ViewName::Start, [-0.55, 0.6, 0.7 * tip], up),
            Self { zoom: end_zoom, ..view(ViewName::End, [0.0, 0.0, tip], up) },
            view(ViewName::Side, [-1.0, 0.0, 0.0], up),
        ];
        views.extend(has_wheel.then(|| view(ViewName::Wheel, up, [1.0, 0.0, 0.0])));
        views
    }
}

fn unit(way: [f32; 3]) -> [f32; 3] {
    let length = way.iter().map(|part| part * part).sum::<f32>().sqrt();
    way.map(|part| part / length)
}

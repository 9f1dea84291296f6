//! What cutters and wheels are made of.

/// The material of a cutter's teeth.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash, PartialOrd, Ord)]
pub enum ToolMaterial {
    /// Conventional high-speed steel.
    HighSpeedSteel,
    /// High-speed steel with cobalt, harder when hot and dearer to grind.
    CobaltHighSpeedSteel,
    /// High-speed steel made from powder: fine, even carbides.
    PowderHighSpeedSteel,
    /// Cemented tungsten carbide.
    Carbide,
}

impl ToolMaterial {
    /// Every material, in the order in which tables list them.
    pub const ALL: [Self; 4] = [
        Self::HighSpeedSteel,
        Self::CobaltHighSpeedSteel,
        Self::PowderHighSpeedSteel,
        Self::Carbide,
    ];

    /// The name used in files and on sheets.
    pub const fn name(self) -> &'static str {
        match self {
            Self::HighSpeedSteel => "HSS",
            Self::CobaltHighSpeedSteel => "cobalt HSS",
            Self::PowderHighSpeedSteel => "powder HSS",
            Self::Carbide => "carbide",
        }
    }

    /// The material of that name, without regard to case.
    pub fn from_name(name: &str) -> Option<Self> {
        Self::ALL.into_iter().find(|material| material.name().eq_ignore_ascii_case(name.trim()))
    }
}

/// The grain that does the cutting in a wheel.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash, PartialOrd, Ord)]
pub enum Abrasive {
    /// Aluminium oxide, marked A in ISO 525.
    AluminiumOxide,
    /// Silicon carbide, marked C in ISO 525.
    SiliconCarbide,
    /// Cubic boron nitride, marked B in ISO 6104.
    CubicBoronNitride,
    /// Diamond, marked D in ISO 6104.
    Diamond,
}

impl Abrasive {
    /// Every abrasive, in the order in which tables list them.
    pub const ALL: [Self; 4] =
        [Self::AluminiumOxide, Self::SiliconCarbide, Self::CubicBoronNitride, Self::Diamond];

    /// The name used in files and on sheets.
    pub const fn name(self) -> &'static str {
        match self {
            Self::AluminiumOxide => "aluminium oxide",
            Self::SiliconCarbide => "silicon carbide",
            Self::CubicBoronNitride => "CBN",
            Self::Diamond => "diamond",
        }
    }

    /// The abrasive of that name, without regard to case.
    pub fn from_name(name: &str) -> Option<Self> {
        Self::ALL.into_iter().find(|abrasive| abrasive.name().eq_ignore_ascii_case(name.trim()))
    }

    /// Whether it is one of the two superabrasives, which are trued and dressed differently.
    pub const fn is_super(self) -> bool {
        matches!(self, Self::CubicBoronNitride | Self::Diamond)
    }
}

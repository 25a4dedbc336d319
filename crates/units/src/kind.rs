//! The kinds of quantity and their units, as one table that a checker of files can walk without types.

use crate::parse::{self, ParseError};
use crate::show::rounded;

/// A unit that people may write behind a number: its spellings, and `value = number · factor + offset`
/// in the kind's bare unit.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(crate) struct Unit {
    /// The first is the one that messages use.
    pub(crate) spellings: &'static [&'static str],
    pub(crate) factor: f64,
    pub(crate) offset: f64,
}

const fn unit(spellings: &'static [&'static str], factor: f64) -> Unit {
    Unit { spellings, factor, offset: 0.0 }
}

/// A kind of quantity: what it is called and the units it is written in.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Kind {
    /// What the quantity is called in messages: `length`.
    pub name: &'static str,
    /// The unit of a bare number: `mm`.
    pub bare_unit: &'static str,
    /// A value with a unit, for messages: `36 1/4 in`.
    pub example: &'static str,
    pub(crate) units: &'static [Unit],
}

/// International inch, exact. NIST SP 811 (2008), B.8: inch to metre, 2.54 E-02.
pub const MM_PER_IN: f64 = 25.4;
/// International foot, exact. NIST SP 811 (2008), B.8: foot to metre, 3.048 E-01.
const MM_PER_FT: f64 = 304.8;
/// US gallon of 231 in³, exact by the inch. NIST SP 811 (2008), B.8: gallon (U.S.) to litre, 3.785 412.
pub(crate) const L_PER_GAL: f64 = 3.785_411_784;
/// Imperial gallon, exact. NIST SP 811 (2008), B.8: gallon [Canadian and U.K. (Imperial)] to litre, 4.546 09.
const L_PER_IMP_GAL: f64 = 4.546_09;
/// Avoirdupois pound, exact. NIST SP 811 (2008), B.8: pound (avoirdupois) to kilogram, 4.535 923 7 E-01.
pub const KG_PER_LB: f64 = 0.453_592_37;
/// Newtons in a pound-force. NIST SP 811 (2008), B.8: pound-force to newton, 4.448 222.
pub const N_PER_LBF: f64 = 4.448_222;
/// Reference salinity of seawater per unit of practical salinity, g/kg, for practical salinities of 2
/// to 42. IOC, SCOR and IAPSO (2010), *The international thermodynamic equation of seawater*, eq. 2.4.1.
const G_PER_KG_PER_PSU: f64 = 35.165_04 / 35.0;
/// A day of 24 hours. NIST SP 811 (2008), B.8: day to second, 8.64 E+04.
const HOURS_PER_DAY: f64 = 24.0;
/// A minute of 60 seconds. NIST SP 811 (2008), B.8: minute to second, 6.0 E+01.
const SECONDS_PER_MINUTE: f64 = 60.0;

/// Lengths, in millimetres.
pub(crate) static LENGTH: Kind = Kind {
    name: "length",
    bare_unit: "mm",
    example: "36 1/4 in",
    units: &[
        unit(&["mm", "millimetre", "millimetres", "millimeter", "millimeters"], 1.0),
        unit(&["cm", "centimetre", "centimetres", "centimeter", "centimeters"], 10.0),
        unit(&["m", "metre", "metres", "meter", "meters"], 1000.0),
        unit(&["in", "in.", "inch", "inches", "\"", "″"], MM_PER_IN),
        unit(&["ft", "ft.", "foot", "feet", "'", "′"], MM_PER_FT),
    ],
};

/// Volumes, in litres.
pub(crate) static VOLUME: Kind = Kind {
    name: "volume",
    bare_unit: "L",
    example: "30 gal",
    units: &[
        unit(&["L", "l", "litre", "litres", "liter", "liters"], 1.0),
        unit(&["mL", "ml"], 1e-3),
        unit(&["m3", "m³"], 1000.0),
        unit(&["gal", "gallon", "gallons", "US gal"], L_PER_GAL),
        unit(&["imp gal"], L_PER_IMP_GAL),
    ],
};

/// Flows, in litres per hour.
pub(crate) static FLOW: Kind = Kind {
    name: "flow",
    bare_unit: "L/h",
    example: "400 gph",
    units: &[
        unit(&["L/h", "l/h", "L/hr", "l/hr", "lph", "LPH"], 1.0),
        unit(&["L/min", "l/min", "lpm", "LPM"], 60.0),
        unit(&["L/s", "l/s"], 3600.0),
        unit(&["m3/h", "m³/h"], 1000.0),
        unit(&["gph", "gal/h", "gal/hr", "GPH"], L_PER_GAL),
        unit(&["gpm", "gal/min", "GPM"], L_PER_GAL * 60.0),
        unit(&["L/day", "l/day", "L/d", "l/d"], 1.0 / HOURS_PER_DAY),
        unit(&["gal/day", "gpd", "GPD"], L_PER_GAL / HOURS_PER_DAY),
    ],
};

/// Temperatures, in degrees Celsius. NIST SP 811 (2008), B.8: t/°C = (t/°F − 32)/1.8 = T/K − 273.15.
pub(crate) static TEMPERATURE: Kind = Kind {
    name: "temperature",
    bare_unit: "°C",
    example: "78 F",
    units: &[
        unit(&["C", "°C", "degC", "celsius"], 1.0),
        Unit {
            spellings: &["F", "°F", "degF", "fahrenheit"],
            factor: 5.0 / 9.0,
            offset: -160.0 / 9.0,
        },
        Unit { spellings: &["K", "kelvin"], factor: 1.0, offset: -273.15 },
    ],
};

/// Salinities, in grams of salt per kilogram of seawater.
pub(crate) static SALINITY: Kind = Kind {
    name: "salinity",
    bare_unit: "g/kg",
    example: "35 g/kg",
    units: &[unit(&["g/kg", "ppt", "‰"], 1.0), unit(&["psu", "PSU"], G_PER_KG_PER_PSU)],
};

/// Angles, in degrees.
pub(crate) static ANGLE: Kind = Kind {
    name: "angle",
    bare_unit: "deg",
    example: "15 deg",
    units: &[unit(&["deg", "°", "degrees"], 1.0), unit(&["rad"], 180.0 / std::f64::consts::PI)],
};

/// Masses, in kilograms.
pub(crate) static MASS: Kind = Kind {
    name: "mass",
    bare_unit: "kg",
    example: "12 lb",
    units: &[
        unit(&["kg"], 1.0),
        unit(&["g"], 1e-3),
        unit(&["lb", "lbs"], KG_PER_LB),
        unit(&["oz"], KG_PER_LB / 16.0),
    ],
};

/// Speeds of a tool through sheet, in millimetres per minute.
pub(crate) static SPEED: Kind = Kind {
    name: "speed",
    bare_unit: "mm/min",
    example: "80 in/min",
    units: &[
        unit(&["mm/min"], 1.0),
        unit(&["mm/s"], SECONDS_PER_MINUTE),
        unit(&["m/min"], 1000.0),
        unit(&["in/min", "ipm"], MM_PER_IN),
        unit(&["ft/min", "fpm"], MM_PER_FT),
    ],
};

static KINDS: [&Kind; 8] =
    [&LENGTH, &VOLUME, &FLOW, &TEMPERATURE, &SALINITY, &ANGLE, &MASS, &SPEED];

impl Kind {
    /// All kinds.
    pub fn all() -> [&'static Self; 8] {
        KINDS
    }

    /// The kind that [`Kind::name`] names.
    pub fn named(name: &str) -> Option<&'static Self> {
        KINDS.into_iter().find(|kind| kind.name == name)
    }

    /// The units, each as messages write it.
    pub fn units(&self) -> impl Iterator<Item = &'static str> {
        self.units.iter().map(|unit| unit.spellings[0])
    }

    /// All spellings of all units.
    pub fn spellings(&self) -> impl Iterator<Item = &'static str> {
        self.units.iter().flat_map(|unit| unit.spellings.iter().copied())
    }

    /// Reads a number with an optional unit: `12`, `12.5 mm`, `1/4 in`, `36 1/4 in`, `36-1/4"`, `36¼ in`.
    ///
    /// # Errors
    ///
    /// No number, a unit of another kind, or a number that is not finite.
    pub fn read(&'static self, text: &str) -> Result<Reading, ParseError> {
        parse::read(self, text)
    }

    /// A reading of a number without a unit.
    pub fn bare(&self, number: f64) -> Reading {
        Reading { number, unit: self.bare_unit, factor: 1.0, offset: 0.0 }
    }

    /// A regular expression (ECMA 262) of what [`Kind::read`] accepts, for editors that complete and
    /// check files. It does not know that a number can be too great for a computer, nor that no number
    /// can be divided by zero.
    pub fn pattern(&self) -> String {
        let space = format!("[{}]*", String::from_iter(parse::SPACES));
        let number = r"([0-9]+\.?[0-9]*|\.[0-9]+)([eE][+-]?[0-9]+)?";
        let sign = "[¼½¾⅛⅜⅝⅞]";
        let fraction = format!(
            "(/[0-9]+|({space}-|{space_once}){space}[0-9]+/[0-9]+|{space}{sign})?",
            space_once = space.trim_end_matches('*')
        );
        let units: Vec<_> = self.spellings().map(|s| s.replace('.', r"\.")).collect();
        format!("^{space}[+-]?({number}{fraction}|{sign}){space}({})?{space}$", units.join("|"))
    }
}

/// A quantity as somebody wrote it: the number and its unit.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Reading {
    /// The number in front of the unit.
    pub number: f64,
    /// The unit, as messages write it.
    pub unit: &'static str,
    pub(crate) factor: f64,
    pub(crate) offset: f64,
}

impl Reading {
    /// The value in the kind's bare unit.
    pub fn to_bare(self) -> f64 {
        self.number * self.factor + self.offset
    }

    /// A value in the kind's bare unit as a number of this reading's unit.
    pub fn in_same_unit(self, bare: f64) -> f64 {
        (bare - self.offset) / self.factor
    }

    /// A value in the kind's bare unit, written in this reading's unit: `36.25 in`. To four decimals.
    pub fn show(self, bare: f64) -> String {
        format!("{} {}", rounded(self.in_same_unit(bare), 4), self.unit)
    }
}

impl std::fmt::Display for Reading {
    /// As it was written: `36.25 in`.
    fn fmt(&self, f: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
        let is_handy = self.number == 0.0 || (1e-4..1e9).contains(&self.number.abs());
        if is_handy {
            write!(f, "{} {}", self.number, self.unit)
        } else {
            write!(f, "{:e} {}", self.number, self.unit)
        }
    }
}

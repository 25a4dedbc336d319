//! The quantities. Each keeps the number in the unit that a bare number in the parameter file has, so
//! that a value written in that unit stays exact.

use std::ops::{Add, Mul, Neg, Sub};

/// A unit that people may write behind a number: its spellings, and `value = number · factor + offset`
/// in the quantity's own unit.
#[derive(Clone, Copy, Debug)]
pub(crate) struct Unit {
    pub(crate) spellings: &'static [&'static str],
    pub(crate) factor: f64,
    pub(crate) offset: f64,
}

pub(crate) const fn unit(spellings: &'static [&'static str], factor: f64) -> Unit {
    Unit { spellings, factor, offset: 0.0 }
}

/// A number with a unit, kept in one fixed unit of its own.
pub trait Quantity: Copy + PartialOrd + std::fmt::Debug {
    /// What the quantity is called in messages: `length`.
    const NAME: &'static str;
    /// The unit of a bare number: `mm`.
    const BARE_UNIT: &'static str;
    /// A value with a unit, for messages: `"36 1/4 in"`.
    const EXAMPLE: &'static str;
    #[doc(hidden)]
    #[expect(private_interfaces, reason = "the table of units is this crate's own")]
    const UNITS: &'static [Unit];

    /// From a number in the bare unit.
    fn from_bare(value: f64) -> Self;
    /// As a number in the bare unit.
    fn to_bare(self) -> f64;
}

macro_rules! quantity {
    ($(#[$doc:meta])* $type:ident, $name:literal, $bare:literal, $example:literal, $units:expr) => {
        $(#[$doc])*
        #[derive(Clone, Copy, Debug, Default, PartialEq, PartialOrd)]
        pub struct $type(f64);

        #[expect(private_interfaces, reason = "the table of units is this crate's own")]
        impl Quantity for $type {
            const NAME: &'static str = $name;
            const BARE_UNIT: &'static str = $bare;
            const EXAMPLE: &'static str = $example;
            const UNITS: &'static [Unit] = $units;
            fn from_bare(value: f64) -> Self {
                Self(value)
            }
            fn to_bare(self) -> f64 {
                self.0
            }
        }
    };
}

quantity!(
    /// A length, kept in millimetres.
    Length, "length", "mm", "36 1/4 in",
    &[
        unit(&["mm"], 1.0),
        unit(&["cm"], 10.0),
        unit(&["m"], 1000.0),
        unit(&["in", "inch", "inches", "\""], 25.4),
        unit(&["ft", "foot", "feet", "'"], 304.8),
    ]
);
quantity!(
    /// A volume, kept in litres.
    Volume, "volume", "L", "30 gal",
    &[
        unit(&["L", "l", "litre", "litres", "liter", "liters"], 1.0),
        unit(&["ml", "mL"], 1e-3),
        unit(&["m3", "m³"], 1000.0),
        unit(&["gal", "gallon", "gallons", "US gal"], 3.785_411_784),
        unit(&["imp gal"], 4.546_09),
    ]
);
quantity!(
    /// A volume per time, kept in litres per hour.
    Flow, "flow", "L/h", "400 gph",
    &[
        unit(&["L/h", "l/h", "lph", "LPH"], 1.0),
        unit(&["L/min", "l/min", "lpm"], 60.0),
        unit(&["L/s", "l/s"], 3600.0),
        unit(&["m3/h", "m³/h"], 1000.0),
        unit(&["gph", "gal/h", "GPH"], 3.785_411_784),
        unit(&["gpm", "gal/min", "GPM"], 3.785_411_784 * 60.0),
    ]
);
quantity!(
    /// A temperature, kept in degrees Celsius.
    Temperature, "temperature", "°C", "78 F",
    &[
        unit(&["C", "°C", "degC", "celsius"], 1.0),
        Unit { spellings: &["F", "°F", "degF", "fahrenheit"], factor: 5.0 / 9.0, offset: -160.0 / 9.0 },
        Unit { spellings: &["K"], factor: 1.0, offset: -273.15 },
    ]
);
quantity!(
    /// Mass of salt in a mass of water, kept in grams per kilogram.
    Salinity, "salinity", "g/kg", "35 g/kg",
    &[unit(&["g/kg", "ppt", "‰", "psu", "PSU"], 1.0)]
);
quantity!(
    /// An angle, kept in degrees.
    Angle, "angle", "deg", "15 deg",
    &[unit(&["deg", "°"], 1.0), unit(&["rad"], 180.0 / std::f64::consts::PI)]
);
quantity!(
    /// A mass, kept in kilograms.
    Mass, "mass", "kg", "12 lb",
    &[unit(&["kg"], 1.0), unit(&["g"], 1e-3), unit(&["lb", "lbs"], 0.453_592_37), unit(&["oz"], 0.028_349_523_125)]
);

impl Length {
    /// No length.
    pub const ZERO: Self = Self(0.0);
    /// From millimetres.
    pub const fn mm(value: f64) -> Self {
        Self(value)
    }
    /// In millimetres.
    pub const fn to_mm(self) -> f64 {
        self.0
    }
    /// In metres.
    pub const fn to_m(self) -> f64 {
        self.0 * 1e-3
    }
    /// In inches.
    pub const fn to_in(self) -> f64 {
        self.0 / 25.4
    }
}

impl Volume {
    /// From litres.
    pub const fn l(value: f64) -> Self {
        Self(value)
    }
    /// In litres.
    pub const fn to_l(self) -> f64 {
        self.0
    }
    /// In cubic metres.
    pub const fn to_m3(self) -> f64 {
        self.0 * 1e-3
    }
}

impl Flow {
    /// From litres per hour.
    pub const fn l_per_h(value: f64) -> Self {
        Self(value)
    }
    /// In litres per hour.
    pub const fn to_l_per_h(self) -> f64 {
        self.0
    }
    /// In cubic metres per second.
    pub const fn to_m3_per_s(self) -> f64 {
        self.0 / 3.6e6
    }
}

impl Temperature {
    /// From degrees Celsius.
    pub const fn celsius(value: f64) -> Self {
        Self(value)
    }
    /// In degrees Celsius.
    pub const fn to_celsius(self) -> f64 {
        self.0
    }
}

impl Salinity {
    /// From grams per kilogram.
    pub const fn g_per_kg(value: f64) -> Self {
        Self(value)
    }
    /// In grams per kilogram.
    pub const fn to_g_per_kg(self) -> f64 {
        self.0
    }
}

impl Angle {
    /// From degrees.
    pub const fn deg(value: f64) -> Self {
        Self(value)
    }
    /// In degrees.
    pub const fn to_deg(self) -> f64 {
        self.0
    }
}

impl Mass {
    /// From kilograms.
    pub const fn kg(value: f64) -> Self {
        Self(value)
    }
    /// In kilograms.
    pub const fn to_kg(self) -> f64 {
        self.0
    }
}

macro_rules! arithmetic {
    ($($type:ident),*) => {$(
        impl Add for $type {
            type Output = Self;
            fn add(self, rhs: Self) -> Self {
                Self(self.0 + rhs.0)
            }
        }
        impl Sub for $type {
            type Output = Self;
            fn sub(self, rhs: Self) -> Self {
                Self(self.0 - rhs.0)
            }
        }
        impl Neg for $type {
            type Output = Self;
            fn neg(self) -> Self {
                Self(-self.0)
            }
        }
        impl Mul<f64> for $type {
            type Output = Self;
            fn mul(self, rhs: f64) -> Self {
                Self(self.0 * rhs)
            }
        }
    )*};
}
arithmetic!(Length, Volume, Flow, Angle, Mass);

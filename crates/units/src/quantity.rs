//! The quantities. Each keeps the number in the unit that a bare number in the parameter file has, so
//! that a value written in that unit stays exact.

use std::ops::{Add, Mul, Neg, Sub};

use crate::kind::{self, Kind, MM_PER_IN};

/// A number with a unit, kept in one fixed unit of its own.
pub trait Quantity: Copy + PartialOrd + std::fmt::Debug {
    /// What the quantity is called and the units it is written in.
    const KIND: &'static Kind;

    /// From a number in the kind's bare unit.
    fn from_bare(value: f64) -> Self;
    /// As a number in the kind's bare unit.
    fn to_bare(self) -> f64;
}

macro_rules! quantity {
    ($(#[$doc:meta])* $type:ident, $kind:path) => {
        $(#[$doc])*
        #[derive(Clone, Copy, Debug, Default, PartialEq, PartialOrd)]
        pub struct $type(f64);

        impl Quantity for $type {
            const KIND: &'static Kind = &$kind;
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
    Length,
    kind::LENGTH
);
quantity!(
    /// A volume, kept in litres.
    Volume,
    kind::VOLUME
);
quantity!(
    /// A volume per time, kept in litres per hour.
    Flow,
    kind::FLOW
);
quantity!(
    /// A temperature, kept in degrees Celsius.
    Temperature,
    kind::TEMPERATURE
);
quantity!(
    /// Mass of salt in a mass of water, kept in grams per kilogram.
    Salinity,
    kind::SALINITY
);
quantity!(
    /// An angle, kept in degrees.
    Angle,
    kind::ANGLE
);
quantity!(
    /// A mass, kept in kilograms.
    Mass,
    kind::MASS
);
quantity!(
    /// A length per time, kept in millimetres per minute.
    Speed,
    kind::SPEED
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
        self.0 / MM_PER_IN
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

impl Speed {
    /// From millimetres per minute.
    pub const fn mm_per_min(value: f64) -> Self {
        Self(value)
    }
    /// In millimetres per minute.
    pub const fn to_mm_per_min(self) -> f64 {
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
arithmetic!(Length, Volume, Flow, Angle, Mass, Speed);

//! Why a fitting cannot be made, with the numbers.

use plate::{Defect, TurnedError};

use crate::kind::Of;
use crate::printer::Printer;

/// Why a fitting cannot be made or printed. Lengths in mm.
#[derive(Clone, Debug, PartialEq, thiserror::Error)]
#[non_exhaustive]
pub enum Error {
    /// A measure is zero, negative, or no number.
    #[error("the {what} is {mm} mm; it must be positive")]
    NotPositive {
        /// The measure.
        what: &'static str,
        /// Its value.
        mm: f64,
    },
    /// A clearance is negative or so large that nothing is held.
    #[error("a clearance of {clearance_mm} mm is not between 0 and {most_mm} mm")]
    Clearance {
        /// The clearance given, each side.
        clearance_mm: f64,
        /// The largest.
        most_mm: f64,
    },
    /// The band of a measured sheet does not run from small to large.
    #[error("a sheet cannot measure from {least_mm} to {most_mm} mm")]
    SheetBand {
        /// The smallest measure given.
        least_mm: f64,
        /// The largest measure given.
        most_mm: f64,
    },
    /// A wall is thinner than can be printed well.
    #[error("the {what} would be {wall_mm:.2} mm thick; at least {least_mm:.2} mm can be printed")]
    ThinWall {
        /// The wall.
        what: &'static str,
        /// The measure that makes it so thin, where it is one.
        measure: Option<&'static str>,
        /// How thick it would be.
        wall_mm: f64,
        /// The least thickness.
        least_mm: f64,
    },
    /// A measure that the kind of fitting has not.
    #[error("it has no measure `{name}`; it has {}", known.join(", "))]
    UnknownMeasure {
        /// The name given.
        name: String,
        /// Those that it has.
        known: Vec<&'static str>,
    },
    /// A measure beyond its limits, or not whole where pieces are counted.
    #[error("{}", out_of_range(name, *of, *value, [*least, *most]))]
    OutOfRange {
        /// The measure.
        name: &'static str,
        /// What its number counts.
        of: Of,
        /// The value given.
        value: f64,
        /// Least.
        least: f64,
        /// Most.
        most: f64,
    },
    /// Stop and lead-in leave no channel between them.
    #[error(
        "a guide {length_mm} mm long has no room for a stop and a lead-in of {ends_mm} mm together"
    )]
    TooShort {
        /// The length given.
        length_mm: f64,
        /// What stop and lead-in take.
        ends_mm: f64,
    },
    /// The part does not stand on the bed with a flat face.
    #[error("the part has no flat face on the print bed: its lowest point is at {lowest_mm} mm")]
    NoFlatFace {
        /// Height of its lowest point above the bed.
        lowest_mm: f64,
    },
    /// A face would be printed into the air.
    #[error(
        "a face at {height_mm:.2} mm above the bed overhangs by {overhang_deg:.0}°; up to {most_deg}° print without support"
    )]
    Overhang {
        /// Height of its lower end.
        height_mm: f64,
        /// Angle between face and vertical; 90° is a ceiling.
        overhang_deg: f64,
        /// The largest angle.
        most_deg: f64,
    },
    /// An edge on the bed cannot be drawn in.
    #[error(
        "the edge at ({x_mm:.2}, {y_mm:.2}) mm is too short or too sharp to be drawn in by {foot_mm} mm on the print bed"
    )]
    Foot {
        /// Where it is.
        x_mm: f64,
        /// Where it is.
        y_mm: f64,
        /// How far it would be drawn in.
        foot_mm: f64,
    },
    /// What bends would be bent more than the filament stands.
    #[error(
        "the {what} would be strained by {percent:.1} %, and {filament} stands {most_percent:.1} % {how_long}; {remedy}"
    )]
    Strain {
        /// What bends.
        what: &'static str,
        /// The measure that bends it so far, where it is one.
        measure: Option<&'static str>,
        /// How much its outer lines would be stretched.
        percent: f64,
        /// The filament.
        filament: &'static str,
        /// How much it stands.
        most_percent: f64,
        /// For how long.
        how_long: &'static str,
        /// Which measures to change.
        remedy: &'static str,
    },
    /// The outline and cuts make no part.
    #[error("the fitting's outline makes no part: {0}")]
    Outline(#[from] plate::Error),
    /// The part is no sound solid.
    #[error("the fitting is no sound part: {0}")]
    Defect(Defect),
    /// The profile makes no body.
    #[error("the fitting's profile makes no body: {0}")]
    Profile(#[from] TurnedError),
}

impl Error {
    /// The measure of the kind that is at fault, if it is one: to be changed first.
    pub const fn measure(&self) -> Option<&'static str> {
        match self {
            Self::OutOfRange { name, .. } => Some(*name),
            Self::ThinWall { measure, .. } | Self::Strain { measure, .. } => *measure,
            Self::TooShort { .. } => Some("length"),
            _ => None,
        }
    }
}

/// A measure and its limits, with their unit.
fn out_of_range(name: &str, of: Of, value: f64, [least, most]: [f64; 2]) -> String {
    let shown = |value: f64| match of {
        Of::Mm => format!("{value} mm"),
        Of::Degrees => format!("{value}°"),
        Of::Screw => format!("M{value}"),
        Of::Count | Of::Choice => format!("{value}"),
    };
    let goes = match of {
        // Limits in one unit carry it once.
        Of::Mm => format!("it goes from {least} to {most} mm"),
        _ if least <= value && value <= most => {
            format!("it is a whole number from {} to {}", shown(least), shown(most))
        }
        _ => format!("it goes from {} to {}", shown(least), shown(most)),
    };
    format!("`{name}` is {}; {goes}", shown(value))
}

/// Checks that each measure is a positive number.
pub(crate) fn check_positive(measures: &[(&'static str, f64)]) -> Result<(), Error> {
    match measures.iter().find(|(_, mm)| !(0.0 < *mm && mm.is_finite())) {
        Some(&(what, mm)) => Err(Error::NotPositive { what, mm }),
        None => Ok(()),
    }
}

/// Checks a clearance, each side. More than a millimetre is no clearance but a mistake.
pub(crate) fn check_clearance(clearance_mm: f64) -> Result<(), Error> {
    let most_mm = 1.0;
    if (0.0..=most_mm).contains(&clearance_mm) {
        Ok(())
    } else {
        Err(Error::Clearance { clearance_mm, most_mm })
    }
}

/// Checks that a sheet's band runs from small to large.
pub(crate) fn check_band([least_mm, most_mm]: [f64; 2]) -> Result<(), Error> {
    if 0.0 < least_mm && least_mm <= most_mm && most_mm.is_finite() {
        Ok(())
    } else {
        Err(Error::SheetBand { least_mm, most_mm })
    }
}

/// Checks a wall against the least one of the printer; the measure is that at fault where it is too thin.
pub(crate) fn check_wall(
    what: &'static str,
    measure: Option<&'static str>,
    wall_mm: f64,
    printer: &Printer,
) -> Result<(), Error> {
    let least_mm = printer.least_wall_mm();
    // A hair of rounding is no reason to refuse a wall of just that size.
    if wall_mm > least_mm - 1e-9 {
        Ok(())
    } else {
        Err(Error::ThinWall { what, measure, wall_mm, least_mm })
    }
}

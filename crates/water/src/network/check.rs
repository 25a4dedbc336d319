//! What must hold before a network can be solved.

use std::collections::BTreeSet;

use crate::network::{Network, Tank};
use crate::solve::MAX_TANKS;

/// A network that cannot be solved.
#[derive(Clone, Debug, PartialEq, thiserror::Error)]
#[non_exhaustive]
pub enum NetworkError {
    /// More tanks than the widest solver takes.
    #[error(
        "{count} chambers and other tanks are more than the {limit} that can be solved together"
    )]
    TooManyTanks {
        /// How many there are.
        count: usize,
        /// How many there may be.
        limit: usize,
    },
    /// A tank without any area.
    #[error("tank `{tank}` has no area at any height")]
    NoSteps {
        /// The tank.
        tank: String,
    },
    /// A tank with an area that is not a positive number.
    #[error("tank `{tank}` has an area of {area_m2} m² from {z_m} m upwards; it must be positive")]
    Area {
        /// The tank.
        tank: String,
        /// From this height, m.
        z_m: f64,
        /// Its area there, m².
        area_m2: f64,
    },
    /// A tank whose steps do not rise.
    #[error("tank `{tank}` changes its area at {above_m} m after {below_m} m; heights must rise")]
    Order {
        /// The tank.
        tank: String,
        /// The step before, m.
        below_m: f64,
        /// The step that does not lie above it, m.
        above_m: f64,
    },
    /// An element that leads to no tank, or from a tank to itself.
    #[error("`{element}` leads from tank {up} to tank {down} of {count}")]
    Ends {
        /// The element.
        element: String,
        /// Index of its upstream tank.
        up: usize,
        /// Index of its downstream tank.
        down: usize,
        /// How many tanks there are.
        count: usize,
    },
    /// An element whose scale is not a number from zero upwards, or whose lean lies outside -1 to 1.
    #[error(
        "`{element}` passes {scale} of its discharge with a lean of {lean}; the first must not be negative, the second lie from -1 to 1"
    )]
    Share {
        /// The element.
        element: String,
        /// Its scale.
        scale: f64,
        /// Its lean.
        lean: f64,
    },
    /// Two elements of the same name.
    #[error("two elements are called `{element}`")]
    Twice {
        /// The name.
        element: String,
    },
    /// A list with another number of entries than there are tanks.
    #[error("{what} were given for {given} tanks of {count}")]
    Length {
        /// What was given.
        what: &'static str,
        /// For how many tanks.
        given: usize,
        /// How many tanks there are.
        count: usize,
    },
    /// A level or volume that is not a number.
    #[error("{what} of tank `{tank}` is {value}, which is not a finite number")]
    NotFinite {
        /// What was given.
        what: &'static str,
        /// The tank.
        tank: String,
        /// The value.
        value: f64,
    },
}

impl Network {
    /// Whether it can be solved: tanks with positive areas whose steps rise, and elements that lead from
    /// one of them to another.
    ///
    /// # Errors
    /// The first thing that does not hold.
    pub fn check(&self) -> Result<(), NetworkError> {
        let (count, limit) = (self.tanks.len(), MAX_TANKS);
        if limit < count {
            return Err(NetworkError::TooManyTanks { count, limit });
        }
        self.tanks.iter().try_for_each(check_tank)?;
        self.check_elements()?;
        let mut names = BTreeSet::new();
        match self.elements.iter().find(|e| !names.insert(e.name.as_str())) {
            Some(e) => Err(NetworkError::Twice { element: e.name.clone() }),
            None => Ok(()),
        }
    }

    /// The part of [`Network::check`] that an event can spoil.
    pub(crate) fn check_elements(&self) -> Result<(), NetworkError> {
        let count = self.tanks.len();
        for e in &self.elements {
            let (up, down) = (e.up, e.down);
            if count <= up.max(down) || up == down {
                return Err(NetworkError::Ends { element: e.name.clone(), up, down, count });
            }
            let is_share = 0.0 <= e.scale && e.scale.is_finite() && e.lean.abs() <= 1.0;
            if !is_share {
                let (scale, lean) = (e.scale, e.lean);
                return Err(NetworkError::Share { element: e.name.clone(), scale, lean });
            }
        }
        Ok(())
    }

    /// Whether a list has one finite number for every tank.
    pub(crate) fn check_values(
        &self,
        what: &'static str,
        values: &[f64],
    ) -> Result<(), NetworkError> {
        self.check_length(what, values.len())?;
        for (tank, &value) in self.tanks.iter().zip(values) {
            if !value.is_finite() {
                return Err(NetworkError::NotFinite { what, tank: tank.name.clone(), value });
            }
        }
        Ok(())
    }

    /// Whether a list has one entry for every tank.
    pub(crate) fn check_length(
        &self,
        what: &'static str,
        given: usize,
    ) -> Result<(), NetworkError> {
        let count = self.tanks.len();
        if given == count { Ok(()) } else { Err(NetworkError::Length { what, given, count }) }
    }
}

fn check_tank(tank: &Tank) -> Result<(), NetworkError> {
    let name = || tank.name.clone();
    if tank.steps.is_empty() {
        return Err(NetworkError::NoSteps { tank: name() });
    }
    for s in &tank.steps {
        let is_area = s.area_m2.is_finite() && 0.0 < s.area_m2 && s.z_m.is_finite();
        if !is_area {
            return Err(NetworkError::Area { tank: name(), z_m: s.z_m, area_m2: s.area_m2 });
        }
    }
    for pair in tank.steps.windows(2) {
        let (below_m, above_m) = (pair[0].z_m, pair[1].z_m);
        if above_m <= below_m {
            return Err(NetworkError::Order { tank: name(), below_m, above_m });
        }
    }
    Ok(())
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::network::Step;

    fn with(tank: Tank) -> Result<(), NetworkError> {
        Network { tanks: vec![Tank::prism("a", 0.0, 0.1), tank], elements: vec![] }.check()
    }

    #[test]
    fn areas_must_be_positive() {
        assert!(with(Tank::prism("b", 0.0, 0.1)).is_ok());
        for area_m2 in [0.0, -1.0, f64::NAN, f64::INFINITY] {
            let error = with(Tank::prism("b", 0.0, area_m2));
            assert!(matches!(error, Err(NetworkError::Area { tank, .. }) if tank == "b"));
        }
    }

    #[test]
    fn steps_must_rise() {
        let step = |z_m| Step { z_m, area_m2: 0.1 };
        let tank = |steps| Tank { steps, ..Tank::prism("b", 0.0, 0.1) };
        assert!(with(tank(vec![step(0.0), step(0.1)])).is_ok());
        let error = with(tank(vec![step(0.1), step(0.1)]));
        assert!(matches!(error, Err(NetworkError::Order { .. })));
        assert!(matches!(with(tank(vec![])), Err(NetworkError::NoSteps { .. })));
    }

    #[test]
    fn there_is_a_most_of_tanks() {
        let tanks = |n| (0..n).map(|i| Tank::prism(i.to_string(), 0.0, 0.1)).collect();
        assert!(Network { tanks: tanks(MAX_TANKS), elements: vec![] }.check().is_ok());
        let error = Network { tanks: tanks(MAX_TANKS + 1), elements: vec![] }.check();
        assert_eq!(error, Err(NetworkError::TooManyTanks { count: 129, limit: 128 }));
    }
}

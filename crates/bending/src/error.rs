//! Why a plate could not be computed.

/// Why a plate could not be computed.
#[derive(Clone, Debug, PartialEq, thiserror::Error)]
#[non_exhaustive]
pub enum Error {
    /// The supports leave the plate, or a part of it, free to move without bending.
    #[error(
        "the plate can move at x = {:.4} m, y = {:.4} m: hold it there, or add a support",
        at[0], at[1]
    )]
    Moves {
        /// Where it was noticed, m.
        at: [f64; 2],
    },
    /// A number of the model that makes no plate.
    #[error("{what} is {value}; it must be {must}")]
    Value {
        /// Which number, with its unit.
        what: &'static str,
        /// What it is.
        value: f64,
        /// What it must be.
        must: &'static str,
    },
    /// A support, an opening or a load that does not lie on the plate, or has no extent.
    #[error("{what} {index} does not lie on the plate, or has no extent")]
    Outside {
        /// `line`, `point`, `opening` or `load`.
        what: &'static str,
        /// Which of them, from 0; of loads, which case.
        index: usize,
    },
    /// So many different places of supports and openings that the equations would need too much memory.
    #[error("the mesh needs {entries} coefficients, more than {limit}: leave out small openings")]
    TooFine {
        /// Coefficients of the equations.
        entries: usize,
        /// How many are allowed.
        limit: usize,
    },
    /// Where the plate touches supports that only push was not settled.
    #[error("where the plate touches its supports was not settled after {rounds} rounds")]
    Unsettled {
        /// Rounds that were tried.
        rounds: usize,
    },
}

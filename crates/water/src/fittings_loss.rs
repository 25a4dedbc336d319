//! Losses in fittings, as K on `v²/2g` of the pipe they sit in.

use serde::Serialize;

/// What a pipe line is put together from.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize)]
#[serde(rename_all = "kebab-case")]
pub enum Fitting {
    /// Mouth flush with a wall, sharp edge.
    Entrance,
    /// Mouth of a pipe that stands out into the water.
    EntranceProjecting,
    /// Outlet into standing water, or the jet of a free outlet.
    Exit,
    /// Elbow of 90°, short, as glued or screwed.
    Elbow90,
    /// Elbow of 45°.
    Elbow45,
    /// Straight through a tee.
    TeeRun,
    /// Through the branch of a tee.
    TeeBranch,
    /// Ball valve of full bore, open.
    BallValveOpen,
    /// Swing check valve.
    CheckValve,
    /// Union or bulkhead of full bore.
    Union,
}

impl Fitting {
    /// All fittings.
    pub const ALL: [Self; 10] = [
        Self::Entrance,
        Self::EntranceProjecting,
        Self::Exit,
        Self::Elbow90,
        Self::Elbow45,
        Self::TeeRun,
        Self::TeeBranch,
        Self::BallValveOpen,
        Self::CheckValve,
        Self::Union,
    ];

    /// Loss coefficient in a pipe of this bore, m.
    ///
    /// Source: Crane, *Flow of Fluids*, Technical Paper 410, pages A-26 to A-29: entrance 0.5,
    /// projecting 0.78, exit 1.0; elbow 30 f, 45° 16 f, tee run 20 f, tee branch 60 f, ball valve 3 f,
    /// swing check 100 f, with f = [`crane_friction`]. Union and bulkhead: 0.08, common practice.
    /// Crane's are steel fittings; plastic ones scatter by half of it either way (our judgement).
    pub fn loss(self, bore_m: f64) -> f64 {
        let f = crane_friction(bore_m);
        match self {
            Self::Entrance => 0.5,
            Self::EntranceProjecting => 0.78,
            Self::Exit => 1.0,
            Self::Elbow90 => 30.0 * f,
            Self::Elbow45 => 16.0 * f,
            Self::TeeRun => 20.0 * f,
            Self::TeeBranch => 60.0 * f,
            Self::BallValveOpen => 3.0 * f,
            Self::CheckValve => 100.0 * f,
            Self::Union => 0.08,
        }
    }

    /// What is said about the source where it is shown.
    pub fn source(self) -> &'static str {
        match self {
            Self::Union => "common practice",
            _ => "Crane, Technical Paper 410, A-26 to A-29",
        }
    }
}

/// Crane's friction factor of clean steel pipe in full turbulence, by which the losses of its fittings
/// are given; straight between the sizes, the nearest end outside 15.8 to 102 mm.
///
/// Source: Crane, Technical Paper 410, page A-26, from memory; bores of schedule 40 pipe (ASME B36.10).
pub fn crane_friction(bore_m: f64) -> f64 {
    const BY_BORE_MM: [(f64, f64); 9] = [
        (15.8, 0.027),
        (20.9, 0.025),
        (26.6, 0.023),
        (35.1, 0.022),
        (40.9, 0.021),
        (52.5, 0.019),
        (62.7, 0.018),
        (77.9, 0.018),
        (102.3, 0.017),
    ];
    let d = bore_m * 1e3;
    let after = BY_BORE_MM.iter().position(|&(bore, _)| d < bore);
    match after {
        Some(0) => 0.027,
        None => 0.017,
        Some(i) => {
            let ((d0, f0), (d1, f1)) = (BY_BORE_MM[i - 1], BY_BORE_MM[i]);
            f0 + (f1 - f0) * (d - d0) / (d1 - d0)
        }
    }
}

/// Loss of a hose barb or reducer narrower than its pipe, on `v²/2g` of the pipe: a sudden contraction
/// `0.5·(1 − β²)` and a sudden enlargement `(1 − β²)²` on the barb's velocity, β = barb's bore / pipe's.
///
/// Source: Crane, Technical Paper 410, page A-26, formulas 1 and 2 at 180°.
pub fn barb(barb_bore_m: f64, bore_m: f64) -> f64 {
    let share = (barb_bore_m / bore_m).powi(2);
    if share >= 1.0 {
        return 0.0;
    }
    (0.5 * (1.0 - share) + (1.0 - share) * (1.0 - share)) / (share * share)
}

/// Loss of a valve that leaves this share of the bore open, 0 to 1, on `v²/2g` of the pipe.
///
/// Borda and Carnot's loss behind the narrowest section of the jet, `K = (1/(C·σ) − 1)²`, where the jet
/// contracts to `C = 0.63 + 0.37·σ³` of the opening. Source: Weisbach's measurements behind orifices in
/// tubes, table beside figure 90 of Unwin, "Hydraulics", *Encyclopædia Britannica*, 11th ed., 14 (1911);
/// the cubic is the common fit to it (within 1 %; both from memory). A ball valve's passage is no thin plate: the opening found is
/// the one of an orifice with the same loss, a place to begin from.
///
/// ```
/// assert!(water::fittings_loss::valve(1.0).abs() < 1e-12);
/// ```
pub fn valve(open_share: f64) -> f64 {
    let s = open_share.clamp(0.0, 1.0);
    let jet = s * (0.63 + 0.37 * s * s * s);
    (1.0 / jet - 1.0).powi(2)
}

/// Share of the bore that a valve must leave open to have this loss; the inverse of [`valve`].
pub fn valve_opening(loss: f64) -> f64 {
    // C·σ = 1/(1 + √K) rises with σ from 0 to 1.
    let jet = 1.0 / (1.0 + loss.max(0.0).sqrt());
    let (mut low, mut high) = (0.0, 1.0);
    while high - low > 1e-15 {
        let s = 0.5 * (low + high);
        if s <= low || s >= high {
            break;
        }
        if s * (0.63 + 0.37 * s * s * s) < jet {
            low = s;
        } else {
            high = s;
        }
    }
    0.5 * (low + high)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn valve_follows_weisbach() {
        // Orifice in a tube: share of area, contraction. Weisbach, as given by Unwin (1911); from memory.
        let measured = [(0.1, 0.624), (0.3, 0.643), (0.5, 0.681), (0.7, 0.755), (0.9, 0.892)];
        for (s, contraction) in measured {
            let k = (1.0_f64 / (s * contraction) - 1.0).powi(2);
            assert!((valve(s) / k - 1.0).abs() < 0.1, "{s}: {} {k}", valve(s));
        }
    }

    #[test]
    fn opening_is_the_inverse() {
        for s in [0.05, 0.2, 0.5, 0.9, 1.0] {
            assert!((valve_opening(valve(s)) - s).abs() < 1e-9, "{s}");
        }
    }

    #[test]
    fn fittings_are_cranes() {
        // Crane TP-410, A-26: 1 inch standard elbow 30 · 0.023 = 0.69; 2 inch 30 · 0.019 = 0.57.
        assert!((Fitting::Elbow90.loss(0.0266) - 0.69).abs() < 1e-12);
        assert!((Fitting::Elbow90.loss(0.0525) - 0.57).abs() < 1e-12);
        assert!((barb(0.02, 0.025) - (0.5 * 0.36 + 0.36 * 0.36) / 0.4096).abs() < 1e-12);
        assert!(barb(0.03, 0.025).abs() < 1e-12);
    }
}

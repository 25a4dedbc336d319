//! Screws that a door hangs on when water pushes it off its leaf.

use glam::DVec2;
use params::ScrewSize;
use serde::Serialize;

use crate::ladder;
use crate::panel::Duration;

/// Share of its load at break in a short test that a plastic screw may carry for years, in water; our judgement. Cast acrylic
/// gets 4 % of its strength here.
const LASTING_SHARE: f64 = 0.05;
/// Load at which a screw of nylon (PA 6.6) breaks in a short test, N: 400 for M4, 700 for M5, 1000 for M6, by a dealer's table
/// ("General information – plastic fasteners", with 53 N/mm² of tensile strength, which is that of PA 6.6 that has taken up
/// moisture). Dry ones are stronger, wet and warm ones weaker.
pub(crate) fn breaking_n(size: ScrewSize) -> f64 {
    match size {
        ScrewSize::M4 => 400.0,
        ScrewSize::M5 => 700.0,
        ScrewSize::M6 => 1000.0,
    }
}

/// What the screws of a door carry while water pushes it off its leaf.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct Screws {
    /// Their thread.
    pub size: ScrewSize,
    /// Where they stand in the panel's frame, mm.
    pub at_mm: Vec<DVec2>,
    /// Load at which one of plastic breaks in a short test, N.
    pub breaking_n: f64,
    /// What one may carry for years, N.
    pub lasting_n: f64,
    /// What one may carry for hours, N.
    pub brief_n: f64,
    /// What a head presses on, of the leaf, mm².
    pub head_mm2: f64,
    /// What a knob presses on, of the door beside its slot, mm².
    pub knob_mm2: f64,
    /// What the leaf's sheet may carry for years, MPa: pressure is held to what is allowed in tension (our judgement).
    pub leaf_mpa: f64,
    /// The same of the door's sheet.
    pub door_mpa: f64,
    /// Under each of the panel's loads, in their order.
    pub loads: Vec<ScrewLoad>,
}

/// What the screws carry under one load.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct ScrewLoad {
    /// All that pushes the door off, N.
    pub thrust_n: f64,
    /// What each screw carries, N: at most, for they are taken not to stretch at all.
    pub pulls_n: Vec<f64>,
    /// What the hardest would carry if they stretched so much that the door turned about them freely, N.
    pub soft_n: f64,
    /// What the leaf pushes back where the door levers on it, N: the screws carry this too, and it is part of
    /// [`Self::pulls_n`].
    pub prying_n: f64,
    /// How long it bears.
    pub duration: Duration,
}

impl ScrewLoad {
    /// What the screw carries that carries most, N.
    pub fn most_n(&self) -> f64 {
        self.pulls_n.iter().copied().fold(0.0, f64::max)
    }
}

impl Screws {
    pub(crate) fn lasting_n(size: ScrewSize) -> f64 {
        LASTING_SHARE * breaking_n(size)
    }

    pub(crate) fn brief_n(size: ScrewSize) -> f64 {
        let lasting = Self::lasting_n(size);
        ladder::limit(lasting, breaking_n(size), Duration::Hours)
    }

    /// How many times what the hardest screw does fits into what may be borne for years, of its pull and the pressure under
    /// head and knob.
    pub fn factor(&self) -> f64 {
        self.factor_of(self.loads.iter())
    }

    /// The same of the loads that bear for years alone; infinite where none does.
    pub fn lasting_factor(&self) -> f64 {
        self.factor_of(self.loads.iter().filter(|load| load.duration == Duration::Years))
    }

    fn factor_of<'a>(&self, loads: impl Iterator<Item = &'a ScrewLoad>) -> f64 {
        1.0 / loads.map(|load| self.share_of(load)).fold(0.0, f64::max)
    }

    /// What may be borne for so long, by what may be borne for years.
    pub(crate) fn limit(&self, duration: Duration) -> f64 {
        ladder::limit(self.lasting_n, self.breaking_n, duration) / self.lasting_n
    }

    /// How much of what may be borne for years a load is, of the pull and the pressure under head and knob.
    pub fn share_of(&self, load: &ScrewLoad) -> f64 {
        let most = load.most_n();
        let [head, knob] = self.pressures_mpa(most);
        let shares = [most / self.lasting_n, head / self.leaf_mpa, knob / self.door_mpa];
        shares.into_iter().fold(0.0, f64::max)
    }

    /// Pressure under the head of a screw that is pulled so hard, on the leaf, and under its knob, on the door, MPa.
    pub fn pressures_mpa(&self, pull_n: f64) -> [f64; 2] {
        [pull_n / self.head_mm2, pull_n / self.knob_mm2]
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    /// Stress areas of M4, M5 and M6 with coarse thread, mm²: ISO 898-1, table of least tensile loads.
    #[test]
    fn screws_break_at_the_strength_of_wet_nylon() {
        for (size, area) in [(ScrewSize::M4, 8.78), (ScrewSize::M5, 14.2), (ScrewSize::M6, 20.1)] {
            let mpa = breaking_n(size) / area;
            assert!((44.0..=53.0).contains(&mpa), "{size:?}: {mpa} MPa");
        }
    }

    #[test]
    fn the_hardest_of_screw_head_and_knob_counts() {
        let load = |pull: f64, duration| ScrewLoad {
            thrust_n: pull,
            pulls_n: vec![0.5 * pull, pull],
            soft_n: pull,
            prying_n: 0.5 * pull,
            duration,
        };
        let screws = Screws {
            size: ScrewSize::M5,
            at_mm: vec![DVec2::ZERO; 2],
            breaking_n: breaking_n(ScrewSize::M5),
            lasting_n: Screws::lasting_n(ScrewSize::M5),
            brief_n: Screws::brief_n(ScrewSize::M5),
            head_mm2: 50.0,
            knob_mm2: 70.0,
            leaf_mpa: 3.0,
            door_mpa: 3.0,
            loads: vec![load(7.0, Duration::Years), load(70.0, Duration::Hours)],
        };
        assert!((screws.lasting_factor() - 5.0).abs() < 1e-9, "7 of 35 N");
        assert!((screws.factor() - 0.5).abs() < 1e-9);
        let soft = Screws { leaf_mpa: 0.1, ..screws.clone() };
        assert!((soft.lasting_factor() - 0.1 / 0.14).abs() < 1e-9, "7 N on 50 mm²");
        let idle = Screws { loads: Vec::new(), ..screws };
        assert!(idle.factor().is_infinite());
    }
}

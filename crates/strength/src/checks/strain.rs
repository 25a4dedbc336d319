//! How hard each load strains a panel, and how far it bends it: one ladder for the findings and for the verdict.

use std::cmp::{Ordering, Reverse};

use findings::Grade;

use crate::ladder;
use crate::panel::{Duration, Load, Panel, Theory};

/// Least factor, of loads that bear for years, without a word of warning; our judgement.
pub(crate) const AMPLE: f64 = 1.25;

/// How a load stands to what may be carried for as long as it bears, the worst first.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub(crate) enum Rung {
    /// It is more than that.
    TooMuch,
    /// It bears for years and leaves less than [`AMPLE`].
    Scant,
    /// It is borne as long as it bears, and never for years.
    Brief,
    /// The theory does not reach so far; the bound that it gives is below what may be carried.
    Unknown,
    /// It could stay for years.
    Ample,
}

impl Rung {
    /// Of something that carries so much.
    pub(crate) fn of(much: f64, lasting: f64, limit: f64, duration: Duration) -> Self {
        match duration {
            _ if much > limit => Self::TooMuch,
            Duration::Years if AMPLE * much > limit => Self::Scant,
            Duration::Days | Duration::Hours if much > lasting => Self::Brief,
            _ => Self::Ample,
        }
    }
}

/// What of a panel is stressed.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(crate) enum What {
    /// The panel away from its openings.
    Panel,
    /// The rim along it.
    Rim,
    /// Index into [`Panel::corners`].
    Corner(usize),
}

/// The stress of one load at one place.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(crate) struct Strained {
    pub(crate) what: What,
    /// Index into [`Panel::loads`].
    pub(crate) load: usize,
    pub(crate) duration: Duration,
    pub(crate) mpa: f64,
    /// What may be carried there for years.
    pub(crate) lasting_mpa: f64,
    /// What may be carried there for as long as it bears.
    pub(crate) limit_mpa: f64,
    /// Whether it is only a bound: the load bends the panel further than the theory reaches.
    pub(crate) is_bound: bool,
}

impl Strained {
    /// Of every load: the panel, its rim, corners of its openings.
    pub(crate) fn all(panel: &Panel) -> Vec<Self> {
        let rim = panel.rim.as_ref();
        let of_load = |(load, of): (usize, &Load)| {
            let strained = |what: What, mpa: f64, lasting_mpa: f64, strength_mpa: f64| Self {
                what,
                load,
                duration: of.duration,
                mpa,
                lasting_mpa,
                limit_mpa: ladder::limit(lasting_mpa, strength_mpa, of.duration),
                is_bound: of.theory == Theory::Refused,
            };
            let own = strained(What::Panel, of.stress_mpa, of.allowable_mpa, panel.strength_mpa);
            let along = rim.and_then(|rim| {
                let mpa = *rim.loads_mpa.get(load)?;
                Some(strained(What::Rim, mpa, rim.allowable_mpa, rim.strength_mpa))
            });
            let corners = panel.corners.iter().enumerate().filter_map(move |(index, corner)| {
                let mpa = *corner.loads_mpa.get(load)?;
                Some(strained(What::Corner(index), mpa, panel.wet_mpa, panel.strength_mpa))
            });
            let corners: Vec<Self> = corners.collect();
            [own].into_iter().chain(along).chain(corners)
        };
        panel.loads.iter().enumerate().flat_map(of_load).collect()
    }

    /// The one that decides.
    pub(crate) fn worst(panel: &Panel) -> Option<Self> {
        Self::all(panel).into_iter().min_by(Self::order)
    }

    /// The greatest of all by what may be carried for years.
    pub(crate) fn greatest(panel: &Panel) -> Option<Self> {
        let all = Self::all(panel).into_iter();
        all.max_by(|a, b| (a.mpa / a.lasting_mpa).total_cmp(&(b.mpa / b.lasting_mpa)))
    }

    pub(crate) fn rung(&self) -> Rung {
        match Rung::of(self.mpa, self.lasting_mpa, self.limit_mpa, self.duration) {
            // A stress that is told too high excuses nothing.
            rung if rung == Rung::TooMuch || !self.is_bound => rung,
            _ => Rung::Unknown,
        }
    }

    /// How much of what may be carried it is: for as long as it bears, and of what is ample for years.
    pub(crate) fn share(&self) -> f64 {
        match self.rung() {
            Rung::Ample => self.mpa / self.lasting_mpa,
            _ => self.mpa / self.limit_mpa,
        }
    }

    pub(crate) fn grade(&self, keeps_water_in: bool) -> Grade {
        match self.rung() {
            Rung::TooMuch if self.duration == Duration::Years || keeps_water_in => Grade::Fails,
            Rung::TooMuch | Rung::Scant | Rung::Brief => Grade::Tight,
            Rung::Unknown => Grade::NotChecked,
            Rung::Ample => Grade::Holds,
        }
    }

    /// The worse rung, then years before days before hours, then the greater share.
    fn order(&self, other: &Self) -> Ordering {
        let key = |strained: &Self| {
            let rung = strained.rung();
            (rung, (rung != Rung::Ample).then_some(Reverse(strained.duration)))
        };
        key(self).cmp(&key(other)).then_with(|| other.share().total_cmp(&self.share()))
    }
}

/// How far a load bends a panel, the worst first.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub(crate) enum Reach {
    /// Further than the theory reaches.
    Refused,
    /// Further than is wanted.
    TooFar,
    /// No further.
    Within,
}

/// The bend of one load.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(crate) struct Bent {
    /// Index into [`Panel::loads`].
    pub(crate) load: usize,
    pub(crate) duration: Duration,
    pub(crate) mm: f64,
    pub(crate) reach: Reach,
}

impl Bent {
    /// Of every load.
    pub(crate) fn all(panel: &Panel) -> impl Iterator<Item = Self> + '_ {
        panel.loads.iter().enumerate().map(|(load, of)| Self {
            load,
            duration: of.duration,
            mm: of.deflection_mm,
            reach: match of.theory {
                Theory::Refused => Reach::Refused,
                _ if of.deflection_mm > panel.deflection_limit_mm => Reach::TooFar,
                _ => Reach::Within,
            },
        })
    }

    /// The one that decides: of loads that bend it too far the longest, the further one of two.
    pub(crate) fn worst(panel: &Panel) -> Option<Self> {
        let key = |bent: &Self| {
            (bent.reach, (bent.reach != Reach::Within).then_some(Reverse(bent.duration)))
        };
        Self::all(panel).min_by(|a, b| key(a).cmp(&key(b)).then_with(|| b.mm.total_cmp(&a.mm)))
    }

    /// The furthest after years, where that is further than wanted.
    pub(crate) fn too_far_for_years(panel: &Panel) -> Option<Self> {
        let years = Self::all(panel)
            .filter(|bent| bent.duration == Duration::Years && bent.mm > panel.deflection_limit_mm);
        years.max_by(|a, b| a.mm.total_cmp(&b.mm))
    }

    /// `is_limit`: whether the file itself gives the limit.
    pub(crate) fn grade(&self, keeps_water_in: bool, is_limit: bool) -> Grade {
        let is_lasting = self.duration == Duration::Years;
        match self.reach {
            Reach::Refused if is_lasting || keeps_water_in => Grade::Fails,
            Reach::TooFar if is_lasting && is_limit => Grade::Fails,
            Reach::Refused | Reach::TooFar => Grade::Tight,
            Reach::Within => Grade::Holds,
        }
    }
}

/// How long a load bears, in words.
pub(crate) fn for_how_long(duration: Duration) -> &'static str {
    match duration {
        Duration::Hours => "for hours",
        Duration::Days => "for days, until somebody comes",
        Duration::Years => "for years",
    }
}

/// How long what only [`Rung::Brief`] allows may last: `for hours, a day at most, never for longer`.
pub(crate) fn never_longer(duration: Duration) -> &'static str {
    match duration {
        Duration::Hours => "for hours, a day at most, never for longer",
        Duration::Days => "for some days, until somebody mends what failed, never for longer",
        Duration::Years => "for years",
    }
}

/// Why a loose part that may break is no flood.
pub(crate) const LOOSE: &str =
    "It is loose: if it breaks, water of two chambers mixes, none leaves the box";

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn each_duration_has_its_rungs() {
        // 2 MPa for years, 6 for hours, 4 for days.
        let hours = |mpa: f64| Rung::of(mpa, 2.0, 6.0, Duration::Hours);
        assert_eq!(
            [1.9, 2.1, 5.9, 6.1].map(hours),
            [Rung::Ample, Rung::Brief, Rung::Brief, Rung::TooMuch]
        );
        let days = |mpa: f64| Rung::of(mpa, 2.0, 4.0, Duration::Days);
        assert_eq!([1.9, 3.9, 4.1].map(days), [Rung::Ample, Rung::Brief, Rung::TooMuch]);
        let years = |mpa: f64| Rung::of(mpa, 2.0, 2.0, Duration::Years);
        assert_eq!([1.5, 1.7, 2.1].map(years), [Rung::Ample, Rung::Scant, Rung::TooMuch]);
    }

    #[test]
    fn a_bound_above_the_limit_counts_and_one_below_says_nothing() {
        let of = |mpa: f64, is_bound| Strained {
            what: What::Panel,
            load: 0,
            duration: Duration::Hours,
            mpa,
            lasting_mpa: 2.0,
            limit_mpa: 6.0,
            is_bound,
        };
        assert_eq!(of(7.0, true).rung(), Rung::TooMuch);
        assert_eq!(of(7.0, true).grade(true), Grade::Fails);
        assert_eq!(of(7.0, true).grade(false), Grade::Tight, "loose, for hours");
        assert_eq!(of(1.0, true).grade(true), Grade::NotChecked);
        assert_eq!(of(1.0, false).grade(true), Grade::Holds);
        let years = Strained { duration: Duration::Years, limit_mpa: 2.0, ..of(2.1, true) };
        assert_eq!(years.grade(false), Grade::Fails, "loose too, for years");
    }
}

//! Moments of the rehearsals at which water presses from one basin towards another.

use design::BasinId;
use strength::{Head, Levels};
use water::Outcome;

use super::SAME_MM;

/// Moments of which one basin's level differs by less are told as one, mm.
const STEP_MM: f64 = 1.0;
/// Most moments that are told of two basins; our judgement.
const MOST: usize = 24;

/// Levels of two basins at one moment, mm.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(super) struct Moment<'a> {
    pub(super) high: f64,
    pub(super) low: f64,
    pub(super) name: &'a str,
}

/// For every two basins, all moments that no other one outdoes, with a higher level in the one and a lower level in the other:
/// which of them presses a board hardest hangs on where the board stands. Those that flow outdoes are left out.
pub(super) fn heads(in_flow_mid_m: &[f64], flow: &[Levels], outcomes: &[Outcome]) -> Vec<Head> {
    let of_pair = |[a, b]: [BasinId; 2]| {
        let (mut moments, mids) = (Vec::new(), [a, b].map(|basin| 1e3 * in_flow_mid_m[basin]));
        for outcome in outcomes {
            let up = Doubt::above(&flow[a], mids[0], outcome, a);
            let down = Doubt::below(&flow[b], mids[1], outcome, b);
            moments.extend(outcome.samples.iter().map(|sample| Moment {
                high: up.high_mm(1e3 * sample.levels_m[a]),
                low: down.low_mm(1e3 * sample.levels_m[b]),
                name: &outcome.name,
            }));
        }
        let is_more = |m: &Moment<'_>| {
            let is_above = m.high > flow[a].running_mm + SAME_MM;
            m.high > m.low && (is_above || m.low < flow[b].running_low_mm - SAME_MM)
        };
        moments.retain(is_more);
        let head = move |m: Moment<'_>| Head {
            basins: [a, b],
            levels_mm: [m.high, m.low],
            name: m.name.to_owned(),
        };
        thinned(front(moments)).into_iter().map(head).collect::<Vec<_>>()
    };
    let n = flow.len();
    let pairs = (0..n).flat_map(|a| (0..n).map(move |b| [a, b]));
    pairs.filter(|[a, b]| a != b).flat_map(of_pair).collect()
}

/// How far a level may lie off its best estimate, mm.
///
/// A rehearsal tells a band of the highest level of a basin alone, and of the return chamber's lowest. Above its level in flow a
/// basin is taken to lie off as far as at its highest, below it as far as at its lowest; where no such band is known, and up to
/// there, as far as in flow. That both basins of a pair lie off in the ways that press hardest is safe: they share most of what
/// is doubtful.
#[derive(Clone, Copy, Debug, PartialEq)]
struct Doubt {
    /// Best estimate in flow.
    flow_mm: f64,
    /// As far as it may lie off in flow.
    in_flow: f64,
    /// Beyond that level.
    beyond: f64,
}

impl Doubt {
    fn above(levels: &Levels, flow_mm: f64, outcome: &Outcome, basin: BasinId) -> Self {
        let in_flow = (levels.running_mm - flow_mm).max(0.0);
        let reach = outcome.reaches.iter().find(|reach| reach.tank == basin);
        let told = reach.map(|reach| 1e3 * (reach.highest_m.high - reach.highest_m.mid));
        let beyond = told.filter(|mm| outcome.band_is_known && mm.is_finite()).unwrap_or(in_flow);
        Self { flow_mm, in_flow, beyond }
    }

    fn below(levels: &Levels, flow_mm: f64, outcome: &Outcome, basin: BasinId) -> Self {
        let in_flow = (flow_mm - levels.running_low_mm).max(0.0);
        let reach = outcome.reaches.iter().find(|reach| reach.tank == basin);
        let told = reach.map(|reach| 1e3 * (reach.lowest_m.mid - reach.lowest_m.low));
        // Of most basins the lowest level has no band of its own, which is told as one without width.
        let beyond = told.filter(|mm| mm.is_finite()).map_or(in_flow, |mm| mm.max(in_flow));
        Self { flow_mm, in_flow, beyond }
    }

    fn high_mm(&self, level_mm: f64) -> f64 {
        level_mm + if level_mm > self.flow_mm + SAME_MM { self.beyond } else { self.in_flow }
    }

    fn low_mm(&self, level_mm: f64) -> f64 {
        let down = if level_mm < self.flow_mm - SAME_MM { self.beyond } else { self.in_flow };
        (level_mm - down).max(0.0)
    }
}

/// Those that no other one outdoes, the highest first.
fn front(mut moments: Vec<Moment<'_>>) -> Vec<Moment<'_>> {
    moments.sort_by(|a, b| b.high.total_cmp(&a.high).then(a.low.total_cmp(&b.low)));
    let mut front: Vec<Moment<'_>> = Vec::new();
    for moment in moments {
        if front.last().is_none_or(|last| moment.low < last.low) {
            front.push(moment);
        }
    }
    front
}

/// Neighbours told as one, with the higher of the higher levels and the lower of the lower ones, which is safe: those that are
/// nearly alike, and then those that are most alike until no more than [`MOST`] are left.
fn thinned(front: Vec<Moment<'_>>) -> Vec<Moment<'_>> {
    let mut few: Vec<Moment<'_>> = Vec::new();
    for moment in front {
        match few.last_mut() {
            Some(last) if last.high - moment.high < STEP_MM && last.low - moment.low < STEP_MM => {
                *last = one(last, &moment);
            }
            _ => few.push(moment),
        }
    }
    while few.len() > MOST {
        // What it adds to is what no moment reached.
        let added = |k: &usize| (few[*k].high - few[k + 1].high) * (few[*k].low - few[k + 1].low);
        let pairs = 0..few.len() - 1;
        let Some(k) = pairs.min_by(|a, b| added(a).total_cmp(&added(b))) else { break };
        few[k] = one(&few[k], &few[k + 1]);
        few.remove(k + 1);
    }
    few
}

/// Two neighbours of a front, the higher one first, with the name of that whose levels differ more.
fn one<'a>(first: &Moment<'a>, next: &Moment<'a>) -> Moment<'a> {
    let head = |moment: &Moment<'_>| moment.high - moment.low;
    let name = if head(first) >= head(next) { first.name } else { next.name };
    Moment { high: first.high, low: next.low, name }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn moments(levels: &[[f64; 2]]) -> Vec<Moment<'static>> {
        levels.iter().map(|&[high, low]| Moment { high, low, name: "" }).collect()
    }

    #[test]
    fn what_another_moment_outdoes_is_left_out() {
        let all = moments(&[[200.0, 100.0], [300.0, 150.0], [250.0, 160.0], [200.0, 90.0]]);
        assert_eq!(front(all), moments(&[[300.0, 150.0], [200.0, 90.0]]));
    }

    /// Whatever the front, few are told, in its order, and none of it goes beyond what is told.
    #[test]
    fn thinned_moments_outdo_all_of_the_front() {
        let at = |k: u32| [300.0 - 0.3 * f64::from(k), 200.0 - f64::from(k * k) * 5e-4];
        let levels: Vec<[f64; 2]> = (0..600).map(at).collect();
        let all = front(moments(&levels));
        let few = thinned(all.clone());
        assert!(all.len() == 600 && few.len() <= MOST, "{}", few.len());
        for moment in &all {
            let is_outdone = |f: &Moment<'_>| f.high >= moment.high && f.low <= moment.low;
            assert!(few.iter().any(is_outdone), "{moment:?}");
        }
        let apart = moments(&[[300.0, 200.0], [250.0, 100.0]]);
        assert_eq!(thinned(apart.clone()), apart);
    }

    #[test]
    fn levels_lie_off_as_far_as_their_bands_say() {
        let doubt = Doubt { flow_mm: 200.0, in_flow: 4.0, beyond: 9.0 };
        let near = |a: f64, b: f64| (a - b).abs() < 1e-9;
        assert!(near(doubt.high_mm(200.0), 204.0) && near(doubt.high_mm(230.0), 239.0));
        assert!(near(doubt.low_mm(210.0), 206.0) && near(doubt.low_mm(150.0), 141.0));
        assert!(near(doubt.low_mm(3.0), 0.0), "no lower than the bottom");
    }
}

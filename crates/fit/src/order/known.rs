//! What is known of every removable.

use design::RemovableId;
use rayon::prelude::*;

use super::rounds::{self, Rounds};
use super::shorter::{pruned, shorter};
use super::{Out, Search, Tries, before, take};
use crate::motion::Motion;
use crate::way::Verdict;

/// What is known of the way of one removable.
#[derive(Clone, Debug, PartialEq)]
pub(crate) struct Known {
    /// With everything else in place; of one that never came out, with everything out that comes out.
    pub(crate) alone: Verdict,
    /// What comes out and in which order, itself last; none when no way is known.
    pub(crate) order: Vec<Out>,
    /// Whether everything shorter was tried and gives no way; one that only has a way that is hard to follow
    /// counts as none.
    pub(crate) is_shortest: bool,
}

/// Empties the sump, and finds for every removable what comes out before it.
pub(crate) fn all(search: &impl Search) -> (Vec<Out>, Vec<Known>) {
    let everyone = || (0..search.count()).into_par_iter();
    let alone: Vec<Verdict> =
        everyone().map(|k| search.way(k, &before(search, k), Tries::Plain)).collect();
    let rounds = rounds::empty(search, &alone);
    let known = everyone().map(|k| known(search, k, &alone, &rounds)).collect();
    (rounds.outs, known)
}

fn known(search: &impl Search, which: RemovableId, alone: &[Verdict], rounds: &Rounds) -> Known {
    let at_once = |way: Vec<_>| Known {
        alone: Verdict::Found(way.clone()),
        order: vec![Out { which, way }],
        is_shortest: true,
    };
    let none = |alone| Known { alone, order: Vec::new(), is_shortest: false };
    match &alone[which] {
        Verdict::Found(way) => return at_once(way.clone()),
        Verdict::ProvedNone(_) => return none(alone[which].clone()),
        _ => {}
    }
    if let Some((_, verdict)) = rounds.left.iter().find(|(left, _)| *left == which) {
        return none(verdict.clone());
    }
    let order = match some_order(search, which, rounds) {
        Ok(order) => pruned(search, order),
        Err(verdict) => return none(verdict),
    };
    // It may come out with everything in place, only not by plain moves. Where those are hard to follow, to take
    // something out first is easier.
    match search.way(which, &before(search, which), Tries::BRIEF) {
        Verdict::Found(way)
            if is_easy(&way) || !order.last().is_some_and(|out| is_easy(&out.way)) =>
        {
            at_once(way)
        }
        verdict => {
            let (order, is_shortest) = shorter(search, order, alone);
            Known { alone: verdict, order, is_shortest }
        }
    }
}

/// How many moves a person follows; our judgement: about as many as are kept in mind without a list.
pub(crate) const EASY_MOVES: usize = 6;

/// Whether a person can follow a way: few moves, each a slide or a turn.
fn is_easy(way: &[Motion]) -> bool {
    let is_screw =
        |motion: &Motion| EASY_TURN < motion.angle() && EASY_SLIDE_MM < motion.distance();
    way.len() <= EASY_MOVES && !way.iter().any(is_screw)
}

/// What goes for no turn and for no slide, rad and mm. Our judgement: less than a hand feels or does.
const EASY_TURN: f64 = 0.005;
const EASY_SLIDE_MM: f64 = 0.25;

/// An order that works, however long: emptying up to it.
fn some_order(
    search: &impl Search,
    which: RemovableId,
    rounds: &Rounds,
) -> Result<Vec<Out>, Verdict> {
    if let Some(place) = rounds.place(which) {
        let begin = rounds.begin_of(place);
        let first = rounds.outs[..begin].iter();
        return Ok(first.chain([&rounds.outs[place]]).cloned().collect());
    }
    // A spare, or a part that its whole took with it: not among what came out.
    let others: Vec<(usize, &Out)> = rounds
        .outs
        .iter()
        .enumerate()
        .filter(|(_, out)| {
            let takes_it = search.wholes(which).contains(&out.which);
            !takes_it && search.instead_of(which) != Some(out.which) && !search.is_last(out.which)
        })
        .collect();
    let gone_with = |n_out: usize| {
        let mut gone = before(search, which);
        for (_, out) in others.iter().filter(|(place, _)| *place < n_out) {
            take(search, out.which, &mut gone);
        }
        gone
    };
    let up_to = |n_out: usize, way| {
        let first =
            others.iter().filter(|(place, _)| *place < n_out).map(|(_, out)| (*out).clone());
        first.chain([Out { which, way }]).collect()
    };
    let everything = rounds.outs.len();
    let ends = rounds.begins.iter().copied().filter(|begin| *begin > 0).chain([everything]);
    for n_out in ends {
        if let Verdict::Found(way) = search.way(which, &gone_with(n_out), Tries::Plain) {
            return Ok(up_to(n_out, way));
        }
    }
    match search.way(which, &gone_with(everything), Tries::FULL) {
        Verdict::Found(way) => Ok(up_to(everything, way)),
        verdict => Err(verdict),
    }
}

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
            // One that does not pass is a mistake of ours, and not told.
            if !holds(search, &order) {
                return none(verdict);
            }
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
    // A spare, or a part that its whole took with it: not among what came out. As in emptying, but what takes it along
    // stays; what that had freed may be stuck now, and stays too.
    let mut gone = before(search, which);
    let mut order: Vec<Out> = Vec::new();
    for (place, out) in rounds.outs.iter().enumerate() {
        if 0 < place
            && rounds.begins.contains(&place)
            && let Verdict::Found(way) = search.way(which, &gone, Tries::Plain)
        {
            order.push(Out { which, way });
            return Ok(order);
        }
        let takes_it = search.wholes(which).contains(&out.which);
        if takes_it || gone[out.which] || out.which == which || search.is_last(out.which) {
            continue;
        }
        let way = if search.is_free(out.which, &gone, &out.way) {
            Some(out.way.clone())
        } else {
            match search.way(out.which, &gone, Tries::Plain) {
                Verdict::Found(way) => Some(way),
                _ => None,
            }
        };
        if let Some(way) = way {
            take(search, out.which, &mut gone);
            order.push(Out { which: out.which, way });
        }
    }
    match search.way(which, &gone, Tries::FULL) {
        Verdict::Found(way) => {
            order.push(Out { which, way });
            Ok(order)
        }
        verdict => Err(verdict),
    }
}

/// Whether every step of an order passes the second check with what is gone when it is made.
fn holds(search: &impl Search, order: &[Out]) -> bool {
    let Some(target) = order.last() else { return true };
    let mut gone = before(search, target.which);
    order.iter().all(|out| {
        let holds = search.holds(out.which, &gone, &out.way);
        take(search, out.which, &mut gone);
        holds
    })
}

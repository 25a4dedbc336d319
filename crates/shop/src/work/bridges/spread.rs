//! Which of the places for bridges are taken: as many as the part's free edge asks for, evenly around it.
//!
//! The way around a part is that around its convex hull: teeth and notches make its edge longer, not the part larger.

use glam::DVec2;
use plate::Contour;

use super::glued::GluedEdges;
use super::{Bridge, FEWEST, MOST, SPACING_MM};

/// Two bridges are at least so far apart, mm (our judgement), and at least twice as far as the tool is lifted.
const APART_MM: f64 = 60.0;
/// Of the even distance of bridges, the share that is left at least where one must move aside to a place that has room (our
/// judgement).
const APART_SHARE: f64 = 0.5;
/// Between two places of the way around that are looked at, mm.
const STEP_MM: f64 = 5.0;
/// Arcs are looked at in so many pieces.
const ARC_PIECES: u32 = 16;

/// Takes places for bridges, evenly along what is not glued; in what is glued only the fewest, if no others do.
pub(super) fn spread(
    places: &[Bridge],
    edge: &Contour,
    glued: &GluedEdges,
    thickness_mm: f64,
) -> Vec<Bridge> {
    let round = Round::of(edge);
    let (stained, free): (Vec<Bridge>, Vec<Bridge>) =
        places.iter().copied().partition(|place| place.is_on_glued_edge);
    let looked = round.stations(STEP_MM);
    let free_way: Vec<f64> = looked
        .into_iter()
        .filter(|(_, at, out)| !glued.is_at(*at, *out, thickness_mm))
        .map(|(s, ..)| s)
        .collect();
    let mut chosen = evenly(&round, &free, &free_way);
    // Where fewer than the fewest are free: the farthest from those that there are.
    for others in [free, stained] {
        while chosen.len() < FEWEST {
            let Some(next) = farthest(&round, &others, &chosen) else { break };
            chosen.push(next);
        }
    }
    chosen
}

/// The places nearest to even ones along the free way, of which all `stations` stand for equal lengths.
fn evenly(round: &Round, places: &[Bridge], stations: &[f64]) -> Vec<Bridge> {
    let wanted = wanted(stations.len());
    let apart = APART_SHARE * STEP_MM * count(stations.len()) / count(wanted);
    let targets =
        (0..wanted).filter_map(|k| stations.get((2 * k + 1) * stations.len() / (2 * wanted)));
    let nearest = |target: &f64| {
        let off = |place: &Bridge| round.between(round.at(place.at), *target);
        let place = places.iter().min_by(|a, b| off(a).total_cmp(&off(b)))?;
        Some((off(place), *place))
    };
    // Those that stand well go first; what would crowd them is left out.
    let mut near: Vec<(f64, Bridge)> = targets.filter_map(nearest).collect();
    near.sort_by(|a, b| a.0.total_cmp(&b.0));
    let mut chosen: Vec<Bridge> = Vec::new();
    for (_, place) in near {
        let least = apart.max(least_apart(&place));
        if chosen.iter().all(|other| round.distance(other, &place) >= least) {
            chosen.push(place);
        }
    }
    chosen
}

/// The place that is farthest from those that are taken, if it is far enough.
fn farthest(round: &Round, places: &[Bridge], chosen: &[Bridge]) -> Option<Bridge> {
    let room = |place: &Bridge| {
        let to = |other: &Bridge| round.distance(other, place);
        chosen.iter().map(to).fold(f64::INFINITY, f64::min)
    };
    let best = places.iter().max_by(|a, b| room(a).total_cmp(&room(b)))?;
    (room(best) >= least_apart(best)).then_some(*best)
}

fn least_apart(place: &Bridge) -> f64 {
    APART_MM.max(2.0 * place.lifted[0].distance(place.lifted[1]))
}

/// How many bridges a free way of so many steps asks for.
#[expect(
    clippy::cast_possible_truncation,
    clippy::cast_sign_loss,
    reason = "no panel is longer than 10 m"
)]
fn wanted(steps: usize) -> usize {
    ((STEP_MM * count(steps) / SPACING_MM).round() as usize).clamp(FEWEST, MOST)
}

#[expect(clippy::cast_precision_loss, reason = "steps of 5 mm around a panel")]
fn count(n: usize) -> f64 {
    n as f64
}

/// The longest way around a part from one of its bridges to the next, mm; all of it, where there is one bridge or none.
pub(crate) fn longest_unheld_mm(edge: &Contour, bridges: &[Bridge]) -> f64 {
    let round = Round::of(edge);
    let mut at: Vec<f64> = bridges.iter().map(|bridge| round.at(bridge.at)).collect();
    at.sort_by(f64::total_cmp);
    let (Some(first), Some(last)) = (at.first(), at.last()) else { return round.length };
    let over_the_start = round.length - last + first;
    at.windows(2).map(|pair| pair[1] - pair[0]).fold(over_the_start, f64::max)
}

/// The way around the convex hull of an edge.
struct Round {
    /// Its corners, the part on the left.
    corners: Vec<DVec2>,
    length: f64,
}

impl Round {
    fn of(edge: &Contour) -> Self {
        let points = edge.0.iter().flat_map(|piece| {
            let n = if piece.arc.is_some() { ARC_PIECES } else { 1 };
            (0..n).map(move |k| piece.point_at(f64::from(k) / f64::from(n)))
        });
        let corners = hull(points.collect());
        let mut round = Self { corners, length: 0.0 };
        round.length = round.sides().map(|[a, b]| a.distance(b)).sum();
        round
    }

    fn sides(&self) -> impl Iterator<Item = [DVec2; 2]> + '_ {
        let next = self.corners.iter().cycle().skip(1);
        self.corners.iter().zip(next).map(|(a, b)| [*a, *b])
    }

    /// How far along the way the place of it is that is nearest to a point, mm.
    fn at(&self, p: DVec2) -> f64 {
        let mut best = (f64::INFINITY, 0.0);
        let mut before = 0.0;
        for [a, b] in self.sides() {
            let (side, length) = (b - a, a.distance(b));
            let along = ((p - a).dot(side) / (length * length)).clamp(0.0, 1.0);
            let off = p.distance(a + along * side);
            if off < best.0 {
                best = (off, before + along * length);
            }
            before += length;
        }
        best.1
    }

    /// From one place of the way to another, the shorter way round, mm.
    fn between(&self, a: f64, b: f64) -> f64 {
        let way = (a - b).abs();
        way.min(self.length - way)
    }

    fn distance(&self, a: &Bridge, b: &Bridge) -> f64 {
        self.between(self.at(a.at), self.at(b.at))
    }

    /// Places along it, in the middle of equal steps about so long: how far along, where, and which way is out.
    fn stations(&self, step_mm: f64) -> Vec<(f64, DVec2, DVec2)> {
        let mut stations = Vec::new();
        let mut before = 0.0;
        let mut next = 0.5 * step_mm;
        for [a, b] in self.sides() {
            let length = a.distance(b);
            let along = (b - a) / length;
            while next < before + length {
                stations.push((next, a + along * (next - before), -along.perp()));
                next += step_mm;
            }
            before += length;
        }
        stations
    }
}

/// The corners of the convex hull, anticlockwise, by two monotone chains (Andrew 1979, Inf. Process. Lett. 9, 216–219).
fn hull(mut points: Vec<DVec2>) -> Vec<DVec2> {
    points.sort_by(|a, b| a.x.total_cmp(&b.x).then(a.y.total_cmp(&b.y)));
    points.dedup();
    let chain = |points: &mut dyn Iterator<Item = DVec2>| {
        let mut chain: Vec<DVec2> = Vec::new();
        for p in points {
            while let [.., a, b] = chain[..] {
                if (b - a).perp_dot(p - a) > 0.0 {
                    break;
                }
                chain.pop();
            }
            chain.push(p);
        }
        // Its end is the beginning of the other.
        chain.pop();
        chain
    };
    let mut corners = chain(&mut points.iter().copied());
    corners.extend(chain(&mut points.iter().rev().copied()));
    corners
}

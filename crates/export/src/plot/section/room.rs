//! Where there is room in the section: past bodies, shelves, pipes and arrows, through water or air alone.

use design::Role;

use super::Sump;
use super::cuts::Cut;
use super::frame::{Frame, rim_mm};
use super::leaves;
use super::parts;
use super::things::{self, PIPE_OVER_RIM};
use crate::plot::paper::Area;

/// What stands or hangs in the chambers and is no leaf.
const BODIES: [Role; 6] = [
    Role::Equipment,
    Role::WallFitting,
    Role::DrainPipe,
    Role::Sock,
    Role::SockHolder,
    Role::Ledge,
];

/// Everything that text and upright lines should stay off, as areas on the paper.
pub(super) fn bodies(sump: &Sump<'_>, cut: &Cut, frame: &Frame) -> Vec<Area> {
    let cap = rim_mm(sump.design) + PIPE_OVER_RIM * frame.scale;
    let mut all: Vec<Area> = things::here(sump, cut, &BODIES)
        .iter()
        .map(|part| {
            let top = if part.role == Role::DrainPipe { cap } else { part.hi.z };
            Area::between(frame.at(part.lo.x, part.lo.z), frame.at(part.hi.x, top))
        })
        .collect();
    let doors = parts::of(sump.design, &[Role::Door]);
    all.extend(
        doors
            .iter()
            .filter(|d| d.crosses(cut.y_mm))
            .map(|d| Area::between(frame.at(d.lo.x, d.lo.z), frame.at(d.hi.x, d.hi.z))),
    );
    all.extend(leaves::arrow_areas(sump, cut, frame));
    all
}

/// Where the upright lines of one basin run, on the paper.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(super) struct Uprights {
    /// Dimension of the level.
    pub(super) level: f64,
    /// Dimension of the freeboard.
    pub(super) freeboard: f64,
    /// Leader from the words above the box.
    pub(super) leader: f64,
}

/// Half the width of an upright dimension with its number, mm.
pub(super) const HALF_NUMBER: f64 = 1.4;
/// From the side of a basin to its dimensions where nothing is in the way, mm.
const OFFSET: f64 = 4.6;
/// More room than this beside a dimension or a leader is no better, mm.
const ENOUGH: [f64; 2] = [2.4, 1.8];
/// Nearer to a side than this no upright line runs, unless the basin is as narrow as that, mm.
const LEAST: f64 = 1.7;
/// A body that is nearer than this counts as crossed, mm.
const TOUCH: f64 = 0.8;
/// Share of a basin's length at which its leader ends where nothing is in the way.
const LEADER_SHARE: f64 = 0.58;

/// Places in every basin of the cut, in its order.
pub(super) fn uprights(sump: &Sump<'_>, cut: &Cut, x0: f64) -> Vec<Uprights> {
    // Heights are only compared with each other, so the bottom may lie anywhere.
    let frame = Frame { x0, y0: 0.0, scale: sump.scale };
    let bodies = bodies(sump, cut, &frame);
    let top = frame.y(rim_mm(sump.design)) - things::headroom(sump, cut);
    let of = |&i: &usize| {
        let (basin, report) = (&sump.design.waterworks.basins[i], &sump.report.basins[i]);
        let sides = [frame.x(basin.min.x), frame.x(basin.max.x)];
        let level = frame.y(report.level_m.mid * 1e3);
        let rim = frame.y(report.rim_m * 1e3);
        let wanted = sides[0] + OFFSET.min(0.35 * (sides[1] - sides[0]));
        let find = |bodies: &[Area], span: [f64; 2]| {
            Stretch { bodies, sides, span }.best(wanted, ENOUGH[0])
        };
        // One line over the other where both have room for their numbers.
        let both = find(&bodies, [rim, 0.0]);
        let [level_x, freeboard_x] = if both.crossed < 0.01 && both.clear >= HALF_NUMBER {
            [both.x; 2]
        } else {
            [find(&bodies, [level, 0.0]).x, find(&bodies, [rim, level]).x]
        };
        let mut taken = bodies.clone();
        taken.push(Area {
            min: [freeboard_x - HALF_NUMBER, rim],
            max: [freeboard_x + HALF_NUMBER, level],
        });
        let wanted = sides[0] + LEADER_SHARE * (sides[1] - sides[0]);
        let leader = Stretch { bodies: &taken, sides, span: [top, level] }.best(wanted, ENOUGH[1]);
        Uprights { level: level_x, freeboard: freeboard_x, leader: leader.x }
    };
    cut.basins.iter().map(of).collect()
}

/// A stretch of height between the sides of a basin, through which an upright line shall run.
struct Stretch<'a> {
    bodies: &'a [Area],
    sides: [f64; 2],
    /// Upper and lower end.
    span: [f64; 2],
}

/// A place and how good it is.
#[derive(Clone, Copy, Debug, PartialEq)]
struct Place {
    x: f64,
    /// Length that runs over bodies.
    crossed: f64,
    /// To the next body or side.
    clear: f64,
}

impl Stretch<'_> {
    fn place(&self, x: f64) -> Place {
        let mut clear = (x - self.sides[0]).min(self.sides[1] - x);
        let mut crossed = 0.0;
        for body in self.bodies {
            let shared = body.max[1].min(self.span[1]) - body.min[1].max(self.span[0]);
            if shared > 0.0 {
                let off = (body.min[0] - x).max(x - body.max[0]);
                clear = clear.min(off.max(0.0));
                crossed += if off < TOUCH { shared } else { 0.0 };
            }
        }
        Place { x, crossed, clear }
    }

    /// The place that crosses least, then has most room up to `enough`, then is nearest to `wanted`.
    fn best(&self, wanted: f64, enough: f64) -> Place {
        const STEP: f64 = 0.2;
        let from_side = LEAST.min(0.4 * (self.sides[1] - self.sides[0]));
        let [lo, hi] = [self.sides[0] + from_side, self.sides[1] - from_side];
        let rest = std::iter::successors(Some(lo), |x| Some(x + STEP));
        let mut best = self.place(wanted);
        for x in rest.take_while(|x| *x <= hi) {
            let place = self.place(x);
            let is_better = (place.crossed - best.crossed)
                .total_cmp(&0.0)
                .then(best.clear.min(enough).total_cmp(&place.clear.min(enough)))
                .then((x - wanted).abs().total_cmp(&(best.x - wanted).abs()));
            if is_better.is_lt() {
                best = place;
            }
        }
        best
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn an_upright_line_takes_the_middle_of_what_is_free() {
        let body = Area { min: [4.0, 0.0], max: [30.0, 40.0] };
        let shelf = Area { min: [0.0, 50.0], max: [40.0, 52.0] };
        let bodies = [body, shelf];
        let stretch = Stretch { bodies: &bodies, sides: [0.0, 40.0], span: [0.0, 45.0] };
        let place = stretch.best(3.0, 9.0);
        assert!((place.x - 35.0).abs() < 0.11 && place.crossed.abs() < 1e-9, "{place:?}");
        // Where more room is not wanted it stays near to its own place.
        let near = stretch.best(3.0, 1.0);
        assert!((near.x - 3.0).abs() < 0.11, "{near:?}");
        // A shelf over the whole basin is crossed, and the body is not.
        let over = Stretch { span: [0.0, 60.0], ..stretch }.best(20.0, 1.0);
        assert!((over.crossed - 2.0).abs() < 1e-9 && over.x > 30.0, "{over:?}");
    }
}

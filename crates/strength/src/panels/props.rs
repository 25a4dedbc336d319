//! What holds a board: where other parts meet it, along lines.

use std::collections::BTreeMap;

use design::{Block, Design, JointKind, PlacedId, Role};
use glam::{DAffine3, DVec2, DVec3};

use super::board::Board;
use crate::panel::Held;

/// A support along a line of a board, mm in its frame.
#[derive(Clone, Debug, PartialEq)]
pub(crate) struct Prop {
    /// The part that holds.
    pub(crate) by: PlacedId,
    /// Its joint in the design, if it is one.
    pub(crate) joint: Option<usize>,
    pub(crate) held: Held,
    /// Along x, at one y; or along y, at one x.
    pub(crate) along_x: bool,
    pub(crate) at: f64,
    pub(crate) span: [f64; 2],
    /// Which edge it runs along, if any: 0 left, 1 right, 2 lower, 3 upper.
    pub(crate) edge: Option<usize>,
    /// Of what meets a face of the board: 1 on the upper face, −1 on the lower. A load that lifts the board off pulls at
    /// the joint. `None` of what meets its edge: the load shears the joint.
    pub(crate) face: Option<f64>,
}

impl Prop {
    /// Whether it is a glued seam that can be clamped in a run.
    pub(crate) fn is_seam(&self) -> bool {
        match self.held {
            Held::Glued => true,
            Held::Rests => self.joint.is_some() && self.edge.is_some(),
            _ => false,
        }
    }
}

/// A support nearer to an edge than so many thicknesses runs along it: in between lies the joint itself.
const AT_EDGE: f64 = 1.5;
/// Heights that differ by less than this share of the panel's are alike; our judgement.
const ALIKE: f64 = 0.1;
/// What touches less than this holds nothing, mm.
const LEAST_MM: f64 = 5.0;

/// All that holds a board; its rectangle is drawn in to the middles of the supports at its edges.
pub(crate) fn props(design: &Design, board: &mut Board) -> Vec<Prop> {
    let mut props: Vec<Prop> = Vec::new();
    for (index, joint) in design.joints.iter().enumerate() {
        let by = match board.placed {
            a if joint.a == a => joint.b,
            b if joint.b == b => joint.a,
            _ => continue,
        };
        let Some(held) = held(design, joint.kind, board.placed, by) else { continue };
        if let Some(prop) = prop(design, board, index, by, held) {
            props.push(prop);
        }
    }
    props.extend(door_rest(design, board));
    let props = joined(props);
    draw_in(board, props)
}

/// How a part holds another that it meets.
fn held(design: &Design, kind: JointKind, placed: PlacedId, by: PlacedId) -> Option<Held> {
    let role = |placed: PlacedId| design.pieces[design.placed[placed].piece].role;
    match (kind, role(by)) {
        (JointKind::Slides, Role::GuideStrip | Role::GuideChannel) => Some(Held::Guided),
        (kind, Role::Bottom | Role::Wall | Role::Leaf) if kind.is_glued() => {
            // A leaf that is glued to a loose one hangs on nothing.
            design.placed[by].loose.is_none().then_some(Held::Glued)
        }
        (kind, Role::Rim) if kind.is_glued() && role(placed) == Role::Wall => Some(Held::Rim),
        // Strips, channels and ledges stiffen a little; that is not counted.
        _ => None,
    }
}

fn local(pose: &DAffine3, block: &Block) -> [DVec3; 2] {
    let block = Block::moved(&pose.inverse(), [block.lo, block.hi]);
    [block.lo, block.hi]
}

fn prop(design: &Design, board: &Board, joint: usize, by: PlacedId, held: Held) -> Option<Prop> {
    let pose = &design.placed[board.placed].pose;
    let shared = local(pose, &design.block(board.placed).shared(&design.block(by)));
    let size = (shared[1] - shared[0]).abs();
    let toward = local(pose, &design.block(by));
    let is_above = 0.5 * (toward[0].z + toward[1].z) > 0.5 * board.least_mm;
    let face = (size.z < size.x.min(size.y)).then_some(if is_above { 1.0 } else { -1.0 });
    let [lo, hi] = match held {
        // A channel holds what is in it over its own length, whatever the clearance.
        Held::Guided => local(pose, &design.block(by)),
        _ => shared,
    };
    let (lo, hi) = (lo.truncate().min(hi.truncate()), hi.truncate().max(lo.truncate()));
    let (from, to) = (lo.max(board.lo), hi.min(board.hi));
    let size = to - from;
    let along_x = size.x >= size.y;
    let [at, start, end] = if along_x {
        [0.5 * (lo.y + hi.y), from.x, to.x]
    } else {
        [0.5 * (lo.x + hi.x), from.y, to.y]
    };
    let (least, most) = if along_x { (board.lo.y, board.hi.y) } else { (board.lo.x, board.hi.x) };
    let at = at.clamp(least, most);
    (end - start >= LEAST_MM).then_some(Prop {
        by,
        joint: Some(joint),
        held,
        along_x,
        at,
        span: [start, end],
        edge: None,
        face,
    })
}

/// A door lies against its leaf all around the opening, where the water pushes it on.
fn door_rest(design: &Design, board: &Board) -> Vec<Prop> {
    let role = |placed: PlacedId| design.pieces[design.placed[placed].piece].role;
    if role(board.placed) != Role::Door {
        return Vec::new();
    }
    let mut rests = Vec::new();
    for joint in &design.joints {
        let leaf = match (joint.a, joint.b) {
            (a, b) if a == board.placed && role(b) == Role::Leaf => b,
            (a, b) if b == board.placed && role(a) == Role::Leaf => a,
            _ => continue,
        };
        let Some(open) = opening_behind(design, board, leaf) else { continue };
        let (lo, hi) = (board.lo, board.hi);
        let sides = [
            (false, 0.5 * (lo.x + open[0].x), [lo.y, hi.y], open[0].x > lo.x),
            (false, 0.5 * (hi.x + open[1].x), [lo.y, hi.y], open[1].x < hi.x),
            (true, 0.5 * (lo.y + open[0].y), [lo.x, hi.x], open[0].y > lo.y),
        ];
        for (along_x, at, span, overlaps) in sides {
            if overlaps {
                rests.push(Prop {
                    by: leaf,
                    // It is not glued.
                    joint: None,
                    held: Held::Rests,
                    along_x,
                    at,
                    span,
                    edge: None,
                    face: None,
                });
            }
        }
    }
    rests
}

/// The opening of a leaf that a door lies over, in the door's frame.
pub(super) fn opening_behind(design: &Design, door: &Board, leaf: PlacedId) -> Option<[DVec2; 2]> {
    let open = Board::of(design, leaf)?;
    let all = open.openings.iter().chain(&open.small);
    let moved = all.map(|o| in_frame(design, door, leaf, [o.lo, o.hi]));
    let overlap = |o: &[DVec2; 2]| {
        let size = o[1].min(door.hi) - o[0].max(door.lo);
        size.max(DVec2::ZERO).element_product()
    };
    let best = moved.max_by(|a, b| overlap(a).total_cmp(&overlap(b)))?;
    (overlap(&best) > 0.0).then_some(best)
}

/// A rectangle of a part in the frame of a board that lies flat on it.
pub(super) fn in_frame(
    design: &Design,
    of: &Board,
    from: PlacedId,
    corners: [DVec2; 2],
) -> [DVec2; 2] {
    let moves = of.pose(design).inverse() * design.placed[from].pose;
    let [p, q] = corners.map(|corner| moves.transform_point3(corner.extend(0.0)).truncate());
    [p.min(q), p.max(q)]
}

/// Channels in pieces, one above the other, as one each.
fn joined(props: Vec<Prop>) -> Vec<Prop> {
    let mut sides: BTreeMap<(bool, i64), Vec<Prop>> = BTreeMap::new();
    let mut others = Vec::new();
    for prop in props {
        if prop.held == Held::Guided {
            #[expect(clippy::cast_possible_truncation, reason = "millimetres of a sump")]
            let place = (prop.at / 20.0).round() as i64;
            sides.entry((prop.along_x, place)).or_default().push(prop);
        } else {
            others.push(prop);
        }
    }
    for (_, mut pieces) in sides {
        pieces.sort_by(|a, b| a.span[0].total_cmp(&b.span[0]));
        let mut pieces = pieces.into_iter();
        let Some(mut one) = pieces.next() else { continue };
        for next in pieces {
            if next.span[0] <= one.span[1] + LEAST_MM {
                one.span[1] = one.span[1].max(next.span[1]);
                // Strips before and behind: the leaf stands between them.
                one.at = 0.5 * (one.at + next.at);
            } else {
                others.push(std::mem::replace(&mut one, next));
            }
        }
        others.push(one);
    }
    others
}

/// Moves the board's edges in to the supports along them.
fn draw_in(board: &mut Board, mut props: Vec<Prop>) -> Vec<Prop> {
    let near = AT_EDGE * board.least_mm.max(1.0);
    let reach = |prop: &Prop| if prop.held == Held::Guided { 4.0 * near } else { near };
    for prop in &mut props {
        let (lo, hi) =
            if prop.along_x { (board.lo.y, board.hi.y) } else { (board.lo.x, board.hi.x) };
        let base = if prop.along_x { 2 } else { 0 };
        let (to_lo, to_hi) = (prop.at - lo, hi - prop.at);
        prop.edge = match () {
            () if to_lo <= reach(prop) && to_lo <= to_hi => Some(base),
            () if to_hi <= reach(prop) => Some(base + 1),
            () => None,
        };
    }
    let middle = |edge: usize, worst: fn(f64, f64) -> f64| {
        props.iter().filter(|p| p.edge == Some(edge)).map(|p| p.at).reduce(worst)
    };
    let [left, right] = [middle(0, f64::min), middle(1, f64::max)];
    let [lower, upper] = [middle(2, f64::min), middle(3, f64::max)];
    board.lo = DVec2::new(left.unwrap_or(board.lo.x), lower.unwrap_or(board.lo.y));
    board.hi = DVec2::new(right.unwrap_or(board.hi.x), upper.unwrap_or(board.hi.y));
    for prop in &mut props {
        let (run, across) = if prop.along_x { (0, 1) } else { (1, 0) };
        prop.at = prop.at.clamp(board.lo[across], board.hi[across]);
        prop.span = [prop.span[0].max(board.lo[run]), prop.span[1].min(board.hi[run])];
        // What ends within a joint's reach of the edge goes to it.
        if prop.span[0] - board.lo[run] < near {
            prop.span[0] = board.lo[run];
        }
        if board.hi[run] - prop.span[1] < near {
            prop.span[1] = board.hi[run];
        }
    }
    level_off(board, &mut props);
    for opening in board.openings.iter_mut().chain(&mut board.small) {
        opening.lo = opening.lo.max(board.lo);
        opening.hi = opening.hi.min(board.hi);
    }
    let has_size = |o: &super::board::Opening| (o.hi - o.lo).min_element() > 0.0;
    board.openings.retain(has_size);
    board.small.retain(has_size);
    props.retain(|p| p.span[1] - p.span[0] >= LEAST_MM);
    props
}

/// Lets supports that end at nearly the same height end at the lowest of them, which is safe: each other height makes the mesh
/// of the whole panel finer.
fn level_off(board: &Board, props: &mut [Prop]) {
    let near = ALIKE * board.size().y;
    let mut upright: Vec<&mut Prop> = props
        .iter_mut()
        .filter(|p| !p.along_x && p.edge.is_none() && p.held == Held::Glued)
        .collect();
    upright.sort_by(|a, b| a.span[1].total_cmp(&b.span[1]));
    let mut level = f64::NEG_INFINITY;
    for prop in upright {
        if prop.span[1] - level > near {
            level = prop.span[1];
        }
        prop.span[1] = level;
    }
}

/// The four edges of a bottom that lies on a frame. The frame holds it up; the walls that are glued on there may keep it from
/// turning, so their joints stay.
pub(crate) fn frame(board: &Board, walls: &[Prop]) -> Vec<Prop> {
    let (lo, hi) = (board.lo, board.hi);
    let edges = [
        (0, false, lo.x, [lo.y, hi.y]),
        (1, false, hi.x, [lo.y, hi.y]),
        (2, true, lo.y, [lo.x, hi.x]),
        (3, true, hi.y, [lo.x, hi.x]),
    ];
    let prop = |(edge, along_x, at, span)| {
        let wall = walls.iter().find(|p| p.edge == Some(edge));
        Prop {
            by: wall.map_or(board.placed, |p| p.by),
            joint: wall.and_then(|p| p.joint),
            held: Held::Rests,
            along_x,
            at,
            span,
            edge: Some(edge),
            face: None,
        }
    };
    edges.map(prop).to_vec()
}

/// How each edge is held, left, right, lower, upper: by what holds most of it.
pub(crate) fn edges(board: &Board, props: &[Prop]) -> [Held; 4] {
    std::array::from_fn(|edge| {
        let run = usize::from(edge < 2);
        let length = board.size()[run];
        let share = |p: &Prop| (p.span[1] - p.span[0]) / length;
        let along = props.iter().filter(|p| p.edge == Some(edge));
        let best = along.max_by(|a, b| share(a).total_cmp(&share(b)));
        best.filter(|p| share(p) > 0.0).map_or(Held::Free, |p| p.held)
    })
}

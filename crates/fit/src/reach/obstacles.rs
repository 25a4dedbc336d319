//! What a limb may run into, and which of it can be taken out.

use std::collections::BTreeMap;
use std::ops::Range;

use design::RemovableId;
use glam::{DQuat, DVec3};

use super::removal::Removal;
use crate::convex::Convex;
use crate::plan::cloud::Cloud;
use crate::plan::cluster::{Block, clusters};
use crate::plan::separate::are_apart;
use crate::world::{Origin, ThingId, World};

/// A set of groups of loose things, one bit each.
pub(crate) type Groups = u128;

/// How far apart two bodies are at least that do not share room, mm.
const APART_MM: f64 = 1e-6;

/// Convex pieces of everything in the way.
#[derive(Clone, Debug, Default)]
pub(crate) struct Obstacles<'a> {
    fixed: Vec<Piece<'a>>,
    /// Of what is fixed: what lies together follows each other, with the box around it.
    groups: Vec<(Range<usize>, [DVec3; 2])>,
    loose: Vec<(Piece<'a>, Groups)>,
    /// Of each group, the removables that take it out.
    owners: Vec<Vec<RemovableId>>,
}

/// A piece of what is in the way.
#[derive(Clone, Copy, Debug)]
struct Piece<'a> {
    hull: &'a Convex,
    /// Whether it fills the box around it.
    is_box: bool,
}

impl<'a> Piece<'a> {
    fn new(hull: &'a Convex) -> Self {
        let is_corner = |p: &DVec3| (p.cmpeq(hull.min) | p.cmpeq(hull.max)).all();
        let block = Convex::block([hull.min, hull.max]).points;
        let is_box =
            hull.points.iter().all(is_corner) && block.iter().all(|p| hull.points.contains(p));
        Self { hull, is_box }
    }
}

impl<'a> Obstacles<'a> {
    /// Everything that is in place. Things that the same removables take out make one group; beyond the 128th group
    /// they are held for fixed.
    pub(crate) fn of(world: &'a World, removals: &[Removal]) -> Self {
        let mut owners: BTreeMap<ThingId, Vec<RemovableId>> = BTreeMap::new();
        for (id, removal) in removals.iter().enumerate() {
            for thing in &removal.things {
                owners.entry(*thing).or_default().push(id);
            }
        }
        let mut obstacles = Self::default();
        for (id, thing) in world.things.iter().enumerate() {
            if matches!(thing.origin, Origin::Spare(_)) {
                continue;
            }
            match owners.get(&id).and_then(|who| obstacles.group(who)) {
                Some(group) => obstacles
                    .loose
                    .extend(thing.coarse.iter().map(|hull| (Piece::new(hull), group))),
                None => obstacles.fixed.extend(thing.coarse.iter().map(Piece::new)),
            }
        }
        obstacles.grouped()
    }

    /// The same with what lies together in groups, so that most of it is passed over at once.
    fn grouped(mut self) -> Self {
        let blocks: Vec<Block> = self
            .fixed
            .iter()
            .map(|p| Block::around([p.hull.min, p.hull.max].into_iter()))
            .collect();
        let mut ordered = Vec::with_capacity(self.fixed.len());
        for cluster in clusters(&blocks) {
            let from = ordered.len();
            ordered.extend(cluster.pieces.iter().map(|k| self.fixed[*k as usize]));
            let Block { middle, half } = cluster.around;
            self.groups.push((from..ordered.len(), [middle - half, middle + half]));
        }
        self.fixed = ordered;
        self
    }

    /// The bit of the group that these take out.
    fn group(&mut self, who: &[RemovableId]) -> Option<Groups> {
        let known = self.owners.iter().position(|owners| owners == who);
        let place = known.unwrap_or_else(|| {
            self.owners.push(who.to_vec());
            self.owners.len() - 1
        });
        Groups::checked_shl(1, u32::try_from(place).ok()?)
    }

    /// The groups that are gone when these are out.
    pub(crate) fn gone(&self, out: &[bool]) -> Groups {
        let is_out = |owners: &Vec<RemovableId>| owners.iter().any(|id| out[*id]);
        let bits = (0..Groups::BITS).zip(&self.owners).filter(|(_, owners)| is_out(owners));
        bits.fold(0, |groups, (bit, _)| groups | 1 << bit)
    }

    /// Those of them that come into a box.
    pub(crate) fn within(&self, min: DVec3, max: DVec3) -> Self {
        let comes_in =
            |piece: &Piece<'_>| piece.hull.min.cmplt(max).all() && piece.hull.max.cmpgt(min).all();
        Self {
            fixed: self.fixed.iter().copied().filter(comes_in).collect(),
            groups: Vec::new(),
            loose: self.loose.iter().copied().filter(|(piece, _)| comes_in(piece)).collect(),
            owners: Vec::new(),
        }
        .grouped()
    }

    /// The groups that share room with these bars, moved by `by`; `None` when something fixed does. `recent` remembers
    /// what it was, since it is likely in the way of the next pose, too.
    pub(crate) fn blocking(&self, bars: &[Bar], by: DVec3, recent: &mut usize) -> Option<Groups> {
        let meets = |piece: &Piece<'_>| bars.iter().any(|bar| bar.meets(by, piece));
        if self.fixed.get(*recent).is_some_and(meets) {
            return None;
        }
        let around = bars.iter().map(Bar::bounds);
        let around = around.fold([DVec3::INFINITY, DVec3::NEG_INFINITY], |[min, max], [lo, hi]| {
            [min.min(lo + by), max.max(hi + by)]
        });
        let near = self
            .groups
            .iter()
            .filter(|(_, [min, max])| min.cmplt(around[1]).all() && max.cmpgt(around[0]).all());
        for place in near.flat_map(|(members, _)| members.clone()) {
            if meets(&self.fixed[place]) {
                *recent = place;
                return None;
            }
        }
        let mut groups = 0;
        for (piece, group) in &self.loose {
            if groups & group == 0 && meets(piece) {
                groups |= group;
            }
        }
        Some(groups)
    }
}

/// A convex body to be tried in many places.
#[derive(Clone, Debug)]
pub(crate) struct Bar {
    /// Near the origin.
    hull: Convex,
    /// How far it reaches along three directions that part it from most things.
    spans: [(DVec3, [f64; 2]); 3],
    /// A line within it.
    spine: [DVec3; 2],
}

impl Bar {
    /// The hull of these corners, which belong to something that was turned so. The spine lies within.
    pub(crate) fn new(corners: Vec<DVec3>, spine: [DVec3; 2], turn: DQuat) -> Self {
        let spans = DVec3::AXES.map(|axis| (turn * axis, span(&corners, turn * axis)));
        Self { hull: Convex::new(corners), spans, spine }
    }

    /// Least and greatest corner of the box around it.
    pub(crate) fn bounds(&self) -> [DVec3; 2] {
        [self.hull.min, self.hull.max]
    }

    /// Whether it shares room with a piece when moved by `by`. Cheap answers first.
    fn meets(&self, by: DVec3, piece: &Piece<'_>) -> bool {
        let Piece { hull, is_box } = *piece;
        let (min, max) = (self.hull.min + by, self.hull.max + by);
        if max.cmple(hull.min).any() || min.cmpge(hull.max).any() {
            return false;
        }
        if is_box && goes_through(self.spine.map(|p| p + by), [hull.min, hull.max]) {
            return true;
        }
        let parts = |(axis, [lo, hi]): &(DVec3, [f64; 2])| {
            let ([from, to], shift) = (span(&hull.points, *axis), axis.dot(by));
            to <= lo + shift || hi + shift <= from
        };
        if self.spans.iter().any(parts) {
            return false;
        }
        let mut axis = DVec3::ZERO;
        let here: Vec<DVec3> = self.hull.points.iter().map(|p| *p + by).collect();
        !are_apart(&Cloud::of(&here), &Cloud::of(&hull.points), APART_MM, &mut axis)
    }
}

/// Whether a line comes into the inside of a box: the shares of it between each pair of sides have some in common.
fn goes_through([from, to]: [DVec3; 2], [min, max]: [DVec3; 2]) -> bool {
    let along = to - from;
    let (mut enter, mut leave) = (0.0, 1.0);
    for k in 0..3 {
        if along[k].abs() < 1e-12 {
            if from[k] <= min[k] || max[k] <= from[k] {
                return false;
            }
            continue;
        }
        let [a, b] = [min[k], max[k]].map(|side| (side - from[k]) / along[k]);
        (enter, leave) = (f64::max(enter, a.min(b)), f64::min(leave, a.max(b)));
    }
    enter < leave
}

/// Least and greatest of points along a direction.
fn span(points: &[DVec3], axis: DVec3) -> [f64; 2] {
    points.iter().fold([f64::INFINITY, f64::NEG_INFINITY], |[lo, hi], p| {
        let along = axis.dot(*p);
        [lo.min(along), hi.max(along)]
    })
}

#[cfg(test)]
mod tests {
    use super::*;

    fn block(min: [f64; 3], max: [f64; 3]) -> Convex {
        Convex::block([min.into(), max.into()])
    }

    fn unit() -> Bar {
        Bar::new(block([-1.0; 3], [1.0; 3]).points, [DVec3::ZERO; 2], DQuat::IDENTITY)
    }

    #[test]
    fn touching_is_free_and_sharing_is_not() {
        let piece = block([0.0, -5.0, -5.0], [1.0, 5.0, 5.0]);
        assert!(!unit().meets(DVec3::new(-1.0, 0.0, 0.0), &Piece::new(&piece)));
        assert!(unit().meets(DVec3::new(-0.9, 0.0, 0.0), &Piece::new(&piece)));
        assert!(!unit().meets(DVec3::new(2.0, 0.0, 0.0), &Piece::new(&piece)));
    }

    #[test]
    fn a_turned_bar_passes_the_corner_of_a_box() {
        let turn = DQuat::from_rotation_z(core::f64::consts::FRAC_PI_4);
        let bar = Bar::new(
            block([-1.0; 3], [1.0; 3]).points.iter().map(|p| turn * *p).collect(),
            [DVec3::ZERO; 2],
            turn,
        );
        let piece = block([-1.0; 3], [0.0; 3]);
        // The nearest side of the turned square lies 1 from its middle.
        let at = |distance: f64| DVec3::new(1.0, 1.0, 0.0) * (distance / core::f64::consts::SQRT_2);
        assert!(!bar.meets(at(1.001), &Piece::new(&piece)));
        assert!(bar.meets(at(0.999), &Piece::new(&piece)));
    }

    #[test]
    fn pieces_of_one_owner_are_one_group_and_bits_are_found_again() {
        let mut obstacles = Obstacles::default();
        assert_eq!(obstacles.group(&[3]), Some(1));
        assert_eq!(obstacles.group(&[1, 3]), Some(2));
        assert_eq!(obstacles.group(&[3]), Some(1));
        assert_eq!(obstacles.gone(&[false, true, false, false]), 2);
        assert_eq!(obstacles.gone(&[false, false, false, true]), 3);
        for other in 10..136 {
            assert!(obstacles.group(&[other]).is_some());
        }
        assert_eq!(obstacles.group(&[136]), None);
    }

    #[test]
    fn what_is_fixed_blocks_and_what_is_loose_is_named() {
        let (wall, pump) =
            (block([0.0, -9.0, -9.0], [1.0, 9.0, 9.0]), block([-9.0, 2.0, -9.0], [0.0, 3.0, 9.0]));
        let obstacles = Obstacles {
            fixed: vec![Piece::new(&wall)],
            loose: vec![(Piece::new(&pump), 4)],
            ..Obstacles::default()
        }
        .grouped();
        assert_eq!(obstacles.blocking(&[unit()], DVec3::new(0.5, 0.0, 0.0), &mut 0), None);
        assert_eq!(obstacles.blocking(&[unit()], DVec3::new(-3.0, 2.0, 0.0), &mut 0), Some(4));
        assert_eq!(obstacles.blocking(&[unit()], DVec3::new(-3.0, -2.0, 0.0), &mut 0), Some(0));
    }

    #[test]
    fn a_line_goes_through_a_box_or_passes_it() {
        let unit = [DVec3::ZERO, DVec3::ONE];
        let goes = |from: [f64; 3], to: [f64; 3]| goes_through([from.into(), to.into()], unit);
        assert!(goes([-1.0, 0.5, 0.5], [2.0, 0.5, 0.5]));
        assert!(goes([0.4, 0.5, 0.5], [0.6, 0.5, 0.5]));
        assert!(goes([-0.4, 0.5, 0.5], [0.5, 1.4, 0.5]));
        assert!(!goes([-0.6, 0.5, 0.5], [0.5, 1.6, 0.5]));
        assert!(!goes([-1.0, 0.5, 0.5], [0.0, 0.5, 0.5]));
        assert!(!goes([-1.0, 1.0, 0.5], [2.0, 1.0, 0.5]));
    }
}

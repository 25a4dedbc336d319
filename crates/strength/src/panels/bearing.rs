//! What bears on a board: water on one face, on both, or over all of it.

use design::{BasinId, Design, Role};
use glam::DVec2;

use super::board::Board;
use super::heads::{self, Push};
use super::mount::Mount;
use crate::panel::{Duration, Held};
use crate::waters::{Head, Waters};

/// A basin lies against a face when it begins within this, mm: a leaf has play in its channel.
const AGAINST_MM: f64 = 30.0;
/// A leaf that begins no higher above the bottom stands on it, mm.
const STANDS_MM: f64 = 5.0;
/// Head on a leaf that water passes beneath while levels are not known, or differ less, mm; our judgement.
const LEAST_HEAD_MM: f64 = 50.0;

/// Water on a board. Heights in mm above the inside of the sump's bottom; 0 is none.
#[derive(Clone, Debug, PartialEq)]
pub(crate) struct Bearing {
    pub(crate) words: String,
    /// On the upper face.
    pub(crate) before_mm: f64,
    /// On the lower face.
    pub(crate) behind_mm: f64,
    pub(crate) duration: Duration,
}

impl Bearing {
    /// Whether it bears for years.
    pub(crate) fn is_lasting(&self) -> bool {
        self.duration == Duration::Years
    }
}

/// What can bear on it.
pub(crate) fn bearings(
    design: &Design,
    waters: &Waters,
    board: &Board,
    edges: &[Held; 4],
) -> Vec<Bearing> {
    let role = design.pieces[design.placed[board.placed].piece].role;
    let sides = Sides::of(design, waters, board);
    match role {
        Role::Bottom => sides.under(design),
        Role::Wall => sides.one(),
        Role::Leaf => sides.both(edges),
        _ => Vec::new(),
    }
}

/// Which way water pushes a door.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(crate) enum Way {
    /// On to the leaf that it lies on.
    On,
    /// Off it.
    Off,
}

/// What pushes a door one way. `board` is the door where it is set.
pub(crate) fn on_door(
    design: &Design,
    waters: &Waters,
    board: &Board,
    mount: &Mount<'_>,
    way: Way,
) -> Vec<Bearing> {
    // Between door and leaf there is no basin: both sides are the leaf's.
    let leaf = Sides::of(design, waters, &mount.on);
    let upper_edge_mm = leaf.top_mm;
    let one_sided = leaf.one_sided(leaf.gap_mm <= STANDS_MM);
    let door = Sides { basins: leaf.basins, ..Sides::of(design, waters, board) };
    door.pushed(mount, way, [upper_edge_mm, one_sided.low_mm])
}

/// One side full and the other not.
struct OneSided {
    words: String,
    /// Where water stands on the other side, mm.
    low_mm: f64,
}

/// What stands at both faces.
struct Sides<'a> {
    design: &'a Design,
    waters: &'a Waters,
    /// Basins against the upper and the lower face.
    basins: [Vec<BasinId>; 2],
    /// Height of the board's upper end, mm above the inside of the bottom.
    top_mm: f64,
    /// Height of its lower end.
    gap_mm: f64,
}

impl<'a> Sides<'a> {
    fn of(design: &'a Design, waters: &'a Waters, board: &Board) -> Self {
        let height =
            |p: DVec2| board.pose(design).transform_point3(p.extend(0.0)).z - design.floor_z;
        // Water stands up to the tips of teeth; what presses on the teeth themselves is left out.
        let (top_mm, gap_mm) = (height(DVec2::new(board.hi.x, board.top)), height(board.lo));
        let basins = [1.0, -1.0].map(|side| against(design, board, side));
        Self { design, waters, basins, top_mm, gap_mm }
    }

    fn rim_mm(&self, face: usize) -> f64 {
        let rims = self.basins[face].iter().map(|&b| self.design.waterworks.basins[b].rim_mm);
        rims.reduce(f64::max).unwrap_or(self.top_mm)
    }

    /// Least and greatest level in flow of the basins at a face, mm.
    fn in_flow(&self, face: usize) -> Option<[f64; 2]> {
        let levels = self.basins[face].iter().filter_map(|&b| self.waters.basins.get(b));
        let low = levels.clone().map(|l| l.running_low_mm).reduce(f64::min)?;
        let high = levels.map(|l| l.running_mm).reduce(f64::max)?;
        Some([low, high])
    }

    /// Highest level of any rehearsal, with its name.
    fn highest(&self, face: usize) -> Option<(f64, &'a str)> {
        let levels = self.basins[face].iter().filter_map(|&b| self.waters.basins.get(b));
        let highest = levels.max_by(|a, b| a.highest_mm.total_cmp(&b.highest_mm))?;
        Some((highest.highest_mm, &highest.highest_in))
    }

    /// A wall: water inside, none outside.
    fn one(&self) -> Vec<Bearing> {
        let inside = |words: String, before_mm: f64, duration: Duration| Bearing {
            words,
            before_mm,
            behind_mm: 0.0,
            duration,
        };
        let rim = "water to the rim".to_owned();
        let (Some([_, running]), Some((highest, name))) = (self.in_flow(0), self.highest(0)) else {
            // Where no level is known the rim is all that can be reckoned with for years.
            let words = format!("{rim}, as levels in flow are not computed");
            return vec![inside(words, self.rim_mm(0), Duration::Years)];
        };
        let mut all = vec![inside(rim, self.rim_mm(0), Duration::Hours)];
        if highest > running {
            let words = format!("the highest level of any rehearsal ({name})");
            all.push(inside(words, highest, Duration::Days));
        }
        all.push(inside("the level in flow".to_owned(), running, Duration::Years));
        all
    }

    /// A leaf: one side full and the other empty, the levels in flow, and what rehearsals make of them. Of several basins at
    /// a face the highest level counts where it presses and the lowest where it holds against.
    fn both(&self, edges: &[Held; 4]) -> Vec<Bearing> {
        let bearing = |words: &str, before_mm: f64, behind_mm: f64, duration: Duration| Bearing {
            words: words.to_owned(),
            before_mm,
            behind_mm,
            duration,
        };
        let mut all = Vec::new();
        for [from, to] in [[0, 1], [1, 0]] {
            if let Some([high, low]) = self.flow(from, to) {
                let (before, behind) = if from == 0 { (high, low) } else { (low, high) };
                all.push(bearing("the levels in flow", before, behind, Duration::Years));
            }
        }
        for [from, to] in [[0, 1], [1, 0]] {
            for (words, [high, low]) in self.in_rehearsals(from, to) {
                let (before, behind) = if from == 0 { (high, low) } else { (low, high) };
                all.push(bearing(&words, before, behind, Duration::Days));
            }
        }
        let OneSided { words, low_mm } =
            self.one_sided(edges[2] != Held::Free || self.gap_mm <= STANDS_MM);
        all.push(bearing(&words, self.top_mm, low_mm, Duration::Hours));
        all.push(bearing(&words, low_mm, self.top_mm, Duration::Hours));
        all
    }

    /// A leaf that is filled on one side alone; one that does not stand on the bottom lets water through.
    fn one_sided(&self, stands: bool) -> OneSided {
        if stands {
            let words = "water to its upper edge on one side and none on the other".to_owned();
            return OneSided { words, low_mm: 0.0 };
        }
        let head = units::Length::mm(LEAST_HEAD_MM).show(self.design.report);
        let words = format!(
            "{head} more water on one side than on the other (our judgement: water passes beneath)"
        );
        OneSided { words, low_mm: self.top_mm - LEAST_HEAD_MM }
    }

    /// Levels in flow, the higher end of the band on the side that presses and the lower one on the other; `None` where water
    /// does not press that way.
    fn flow(&self, from: usize, to: usize) -> Option<[f64; 2]> {
        let (Some([_, high]), Some([low, _])) = (self.in_flow(from), self.in_flow(to)) else {
            return None;
        };
        (high > low && high > self.gap_mm).then_some([high, low])
    }

    /// The moments of all rehearsals that press it hardest from one face to the other, and harder than flow does: in words, with
    /// the levels on either side.
    fn in_rehearsals(&self, from: usize, to: usize) -> Vec<(String, [f64; 2])> {
        let is_between = |head: &&Head| {
            let [a, b] = head.basins;
            self.basins[from].contains(&a) && self.basins[to].contains(&b)
        };
        let span = [self.gap_mm, self.top_mm];
        let flow = Push::of(self.flow(from, to).unwrap_or_default(), span);
        let chosen = heads::hardest(self.waters.heads.iter().filter(is_between), span, &flow);
        let ways = ["the greatest head of any rehearsal", "what presses highest in any rehearsal"];
        let told = |(head, way): (&Head, &str)| (format!("{way} ({})", head.name), head.levels_mm);
        chosen.into_iter().zip(ways).map(told).collect()
    }

    /// A door, one way: levels in flow, rehearsals, and its leaf filled to the upper edge on one side alone.
    fn pushed(&self, mount: &Mount<'_>, way: Way, [high_mm, low_mm]: [f64; 2]) -> Vec<Bearing> {
        let own = mount.own;
        let (from, to) = if way == Way::On { (own, 1 - own) } else { (1 - own, own) };
        // Water that presses it on stands at the face away from the leaf.
        let is_before = (way == Way::On) == (mount.face < 0.0);
        let bearing = |words: &str, [high, low]: [f64; 2], duration: Duration| {
            let (before_mm, behind_mm) = if is_before { (high, low) } else { (low, high) };
            Bearing { words: words.to_owned(), before_mm, behind_mm, duration }
        };
        let mut all = Vec::new();
        all.extend(
            self.flow(from, to).map(|flow| bearing("the levels in flow", flow, Duration::Years)),
        );
        for (words, levels) in self.in_rehearsals(from, to) {
            all.push(bearing(&words, levels, Duration::Days));
        }
        // Where no level is known, what flow pushes may be pushed so for years.
        let is_known = self.in_flow(from).is_some() && self.in_flow(to).is_some();
        let is_with_flow = (way == Way::On) != mount.is_downstream();
        let duration = if is_with_flow && !is_known { Duration::Years } else { Duration::Hours };
        let [own, other] = ["its own side", "the other side"];
        let [full, empty] = if way == Way::On { [own, other] } else { [other, own] };
        let words = if low_mm > 0.0 {
            let head = units::Length::mm(LEAST_HEAD_MM).show(self.design.report);
            format!(
                "water to the leaf's upper edge on {full} of it and {head} less on {empty} (our judgement: water passes beneath)"
            )
        } else {
            format!("water to the leaf's upper edge on {full} of it and none on {empty}")
        };
        if high_mm > self.gap_mm {
            all.push(bearing(&words, [high_mm, low_mm.max(0.0)], duration));
        }
        all
    }

    /// The bottom: all the water above it.
    fn under(&self, design: &Design) -> Vec<Bearing> {
        let rims = design.waterworks.basins.iter().map(|basin| basin.rim_mm);
        let Some(rim) = rims.reduce(f64::max) else { return Vec::new() };
        vec![Bearing {
            words: "water to the rim, on a frame under its edges".to_owned(),
            before_mm: rim,
            behind_mm: 0.0,
            duration: Duration::Years,
        }]
    }
}

/// Basins that lie against a face of a board that stands: the upper one for `side` 1, the lower one for −1.
fn against(design: &Design, board: &Board, side: f64) -> Vec<BasinId> {
    let out = design.placed[board.placed].pose.matrix3.z_axis * side;
    let block = design.block(board.placed);
    let (axis, run) = if out.x.abs() > 0.5 { (0, 1) } else { (1, 0) };
    if out.z.abs() > 0.5 {
        return Vec::new();
    }
    let of = |p: DVec2, axis: usize| p[axis];
    let is_against = |b: &BasinId| {
        let basin = &design.waterworks.basins[*b];
        let gap = if out[axis] > 0.0 {
            of(basin.min, axis) - block.hi[axis]
        } else {
            block.lo[axis] - of(basin.max, axis)
        };
        let shared = of(basin.max, run).min(block.hi[run]) - of(basin.min, run).max(block.lo[run]);
        (-AGAINST_MM..=AGAINST_MM).contains(&gap) && shared > 1.0
    };
    (0..design.waterworks.basins.len()).filter(is_against).collect()
}

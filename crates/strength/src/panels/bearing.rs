//! What bears on a board: water on one face, on both, or over all of it.

use design::{BasinId, Design, Role};
use glam::DVec2;

use super::board::Board;
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
        Role::Door => sides.pressed_on(design, board),
        _ => Vec::new(),
    }
}

/// What pushes a door off the leaf that it lies on. `own` is the leaf's face that it lies on, 0 for the upper one, and
/// `own_is_before` whether water on that side stands at the door's upper face.
pub(crate) fn pushing_off(
    design: &Design,
    waters: &Waters,
    [door, leaf]: [&Board; 2],
    own: usize,
    own_is_before: bool,
    is_downstream: bool,
) -> Vec<Bearing> {
    let of_door = Sides::of(design, waters, door);
    // Between door and leaf there is no basin: both sides are the leaf's.
    let sides = Sides { basins: Sides::of(design, waters, leaf).basins, ..of_door };
    sides.pushed_off(own, own_is_before, is_downstream)
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
        let height = |p: DVec2| {
            design.placed[board.placed].pose.transform_point3(p.extend(0.0)).z - design.floor_z
        };
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
            return vec![inside(rim, self.rim_mm(0), Duration::Years)];
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
        if let (Some(before), Some(behind)) = (self.in_flow(0), self.in_flow(1)) {
            let words = "the levels in flow";
            if before[1] > behind[0] {
                all.push(bearing(words, before[1], behind[0], Duration::Years));
            }
            if behind[1] > before[0] {
                all.push(bearing(words, before[0], behind[1], Duration::Years));
            }
        }
        for [from, to] in [[0, 1], [1, 0]] {
            if let Some(head) = self.head(from, to) {
                let words = format!("the greatest head of any rehearsal ({})", head.name);
                let [a, b] = head.levels_mm;
                let (before, behind) = if from == 0 { (a, b) } else { (b, a) };
                all.push(bearing(&words, before, behind, Duration::Days));
            }
        }
        let stands = edges[2] != Held::Free || self.gap_mm <= STANDS_MM;
        let head = units::Length::mm(LEAST_HEAD_MM).show(self.design.report);
        let (words, low) = if stands {
            ("water to its upper edge on one side and none on the other".to_owned(), 0.0)
        } else {
            let words = format!(
                "{head} more water on one side than on the other (our judgement: water passes beneath)"
            );
            (words, self.top_mm - LEAST_HEAD_MM)
        };
        all.push(bearing(&words, self.top_mm, low, Duration::Hours));
        all.push(bearing(&words, low, self.top_mm, Duration::Hours));
        all
    }

    /// The greatest head of any rehearsal from one face to the other.
    fn head(&self, from: usize, to: usize) -> Option<&'a Head> {
        let is_between = |head: &&Head| {
            let [a, b] = head.basins;
            self.basins[from].contains(&a) && self.basins[to].contains(&b) && !head.name.is_empty()
        };
        let thrust = |head: &Head| {
            let [a, b] = head.levels_mm;
            a * a - b * b
        };
        let heads = self.waters.heads.iter().filter(is_between);
        heads.max_by(|a, b| thrust(a).total_cmp(&thrust(b))).filter(|head| thrust(head) > 0.0)
    }

    /// A door: water on its own side of the leaf to its upper edge, none behind.
    fn pressed_on(&self, design: &Design, board: &Board) -> Vec<Bearing> {
        let leaf = design.joints.iter().find_map(|joint| {
            let other = match board.placed {
                a if joint.a == a => joint.b,
                b if joint.b == b => joint.a,
                _ => return None,
            };
            (design.pieces[design.placed[other].piece].role == Role::Leaf).then_some(other)
        });
        let Some(leaf) = leaf else { return Vec::new() };
        let pose = &design.placed[board.placed].pose;
        let towards_leaf = design.block(leaf).middle() - design.block(board.placed).middle();
        let words = "water to its upper edge on its own side of the leaf".to_owned();
        let is_below = pose.matrix3.z_axis.dot(towards_leaf) < 0.0;
        let (before_mm, behind_mm) = if is_below { (self.top_mm, 0.0) } else { (0.0, self.top_mm) };
        // It closes its opening as long as the sump stands.
        vec![Bearing { words, before_mm, behind_mm, duration: Duration::Years }]
    }

    /// A door: more water on the other side of its leaf than on its own.
    fn pushed_off(&self, own: usize, own_is_before: bool, is_downstream: bool) -> Vec<Bearing> {
        let other = 1 - own;
        let bearing = |words: String, own_mm: f64, other_mm: f64, duration: Duration| {
            let (before_mm, behind_mm) =
                if own_is_before { (own_mm, other_mm) } else { (other_mm, own_mm) };
            let pushes_off = other_mm > own_mm && other_mm > self.gap_mm;
            pushes_off.then_some(Bearing { words, before_mm, behind_mm, duration })
        };
        let mut all = Vec::new();
        let mut drained = Duration::Hours;
        match (self.in_flow(own), self.in_flow(other)) {
            (Some([low, _]), Some([_, high])) => {
                let words = "the levels in flow".to_owned();
                all.extend(bearing(words, low, high, Duration::Years));
            }
            // Where no level is known, a door that flow pushes off may be pushed so for years.
            _ if is_downstream => drained = Duration::Years,
            _ => {}
        }
        if let Some(head) = self.head(other, own) {
            let words = format!("the greatest head of any rehearsal ({})", head.name);
            let [high, low] = head.levels_mm;
            all.extend(bearing(words, low, high, Duration::Days));
        }
        let words =
            "water to its upper edge on the other side of the leaf and none on its own".to_owned();
        all.extend(bearing(words, 0.0, self.top_mm, drained));
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

//! Parts cut by a plane across the sump: what of them is material there, as rectangles.
//!
//! Parts stand along the axes. A sheet part cut across its sheet shows a stretch of each cell of its
//! arrangement, a turned part cut along its axis shows its rings from the side: rectangles, in both
//! cases. Along a part's own z axis, which is its depth, it is never cut.

use glam::{DAffine3, DVec2, DVec3};
use plate::{Arrangement, Segment, Turned};

/// Material in a plane: from where to where along both other axes of the sump, x before y before z.
pub(crate) type Rectangle = [[f64; 2]; 2];

/// A part in its place.
#[derive(Clone, Copy, Debug)]
pub(crate) struct Body<'a> {
    shape: BodyShape<'a>,
    frame: Frame,
}

#[derive(Clone, Copy, Debug)]
enum BodyShape<'a> {
    Sheet(&'a Arrangement),
    Turned(&'a Turned),
}

impl<'a> Body<'a> {
    pub(crate) fn of_sheet(arrangement: &'a Arrangement, pose: &DAffine3) -> Self {
        Self { shape: BodyShape::Sheet(arrangement), frame: Frame::of(pose) }
    }

    pub(crate) fn of_turned(turned: &'a Turned, pose: &DAffine3) -> Self {
        Self { shape: BodyShape::Turned(turned), frame: Frame::of(pose) }
    }

    /// The sump's axis of its depth: 0 for x, 1 for y, 2 for z.
    pub(crate) fn depth_axis(&self) -> usize {
        self.frame.axes[2]
    }

    /// The turned shape and the middle of its foot, if it is one.
    pub(crate) fn turned(&self) -> Option<(&'a Turned, DVec3)> {
        match self.shape {
            BodyShape::Turned(turned) => Some((turned, self.frame.origin)),
            BodyShape::Sheet(_) => None,
        }
    }

    /// Height in its own frame of a place on its depth axis.
    pub(crate) fn depth_of(&self, at: f64) -> f64 {
        self.frame.local(2, at)
    }

    /// The place on its depth axis of a height in its own frame.
    pub(crate) fn depth_at(&self, height: f64) -> f64 {
        self.frame.sump(2, height)
    }

    /// Places on an axis of the sump at which the form of its slices changes, within a room.
    pub(crate) fn breaks(&self, axis: usize, room: [DVec3; 2]) -> Vec<f64> {
        let k = self.frame.local_axis(axis);
        let local: Vec<f64> = match self.shape {
            BodyShape::Sheet(arrangement) => {
                let [lo, hi] = room.map(|corner| self.frame.in_plane(corner));
                let (lo, hi) = (lo.min(hi), lo.max(hi));
                let boxes = arrangement.edges.iter().map(|e| arrangement.segment(e).bounds());
                boxes
                    .filter(|[a, c]| a.cmple(hi).all() && c.cmpge(lo).all())
                    .flat_map(|ends| ends.map(|p| p[k]))
                    .collect()
            }
            BodyShape::Turned(turned) => {
                let radii = turned.profile.iter().map(|p| p.x);
                radii.flat_map(|r| [-r, r]).chain([0.0]).collect()
            }
        };
        local.into_iter().map(|at| self.frame.sump(k, at)).collect()
    }

    /// What is material in the plane across `axis`, which must not be the depth axis, at a place that
    /// is none of its breaks.
    pub(crate) fn slice(&self, axis: usize, at: f64) -> Vec<Rectangle> {
        let k = self.frame.local_axis(axis);
        let local = self.frame.local(k, at);
        let stretches = match self.shape {
            BodyShape::Sheet(arrangement) => sheet_slice(arrangement, k, local),
            BodyShape::Turned(turned) => turned_slice(turned, local.abs()),
        };
        stretches.into_iter().map(|stretch| self.frame.rectangle(1 - k, stretch)).collect()
    }
}

/// Material in a slice in the part's own frame: from where to where in its plane, and in its depth.
#[derive(Clone, Copy, Debug)]
struct Stretch {
    across: [f64; 2],
    depth: [f64; 2],
}

/// Which axis of the sump each axis of a part runs along, and which way.
#[derive(Clone, Copy, Debug)]
struct Frame {
    axes: [usize; 3],
    signs: [f64; 3],
    origin: DVec3,
}

impl Frame {
    fn of(pose: &DAffine3) -> Self {
        let mut frame = Self { axes: [0, 1, 2], signs: [1.0; 3], origin: pose.translation };
        for k in 0..3 {
            let column = pose.matrix3.col(k);
            frame.axes[k] = column.abs().max_position();
            frame.signs[k] = column[frame.axes[k]].signum();
        }
        frame
    }

    /// The part's own axis along an axis of the sump.
    fn local_axis(&self, axis: usize) -> usize {
        usize::from(self.axes[1] == axis)
    }

    fn local(&self, k: usize, at: f64) -> f64 {
        (at - self.origin[self.axes[k]]) * self.signs[k]
    }

    fn sump(&self, k: usize, at: f64) -> f64 {
        self.origin[self.axes[k]] + at * self.signs[k]
    }

    /// A point of the sump in the plane of the part.
    fn in_plane(&self, p: DVec3) -> DVec2 {
        DVec2::new(self.local(0, p[self.axes[0]]), self.local(1, p[self.axes[1]]))
    }

    /// A stretch along the part's axis `k` as a rectangle of the sump.
    fn rectangle(&self, k: usize, stretch: Stretch) -> Rectangle {
        let sides = [(k, stretch.across), (2, stretch.depth)].map(|(k, [from, to])| {
            let ends = [self.sump(k, from), self.sump(k, to)];
            (self.axes[k], [ends[0].min(ends[1]), ends[0].max(ends[1])])
        });
        let [(first, a), (second, b)] = sides;
        if first < second { [a, b] } else { [b, a] }
    }
}

/// Where a slice leaves one cell and enters another.
struct Crossing {
    at: f64,
    into: usize,
}

/// The cells that the line across axis `k` of the sheet meets.
fn sheet_slice(arrangement: &Arrangement, k: usize, at: f64) -> Vec<Stretch> {
    let mut crossings = Vec::new();
    for edge in &arrangement.edges {
        let segment = arrangement.segment(edge);
        for (place, rises) in meets(&segment, k, at) {
            // Going up in y, the cell to the right follows in x; going up in x, that to the left in y.
            let into = if rises == (k == 1) { edge.right } else { edge.left };
            crossings.push(Crossing { at: place, into });
        }
    }
    crossings.sort_by(|a, b| a.at.total_cmp(&b.at));
    let stretch = |pair: &[Crossing]| {
        let depth = arrangement.cells[pair[0].into]?;
        Some(Stretch { across: [pair[0].at, pair[1].at], depth })
    };
    crossings.windows(2).filter_map(stretch).collect()
}

/// Where a segment meets the line at `at` across axis `k`, and whether it goes up along `k` there.
fn meets(segment: &Segment, k: usize, at: f64) -> Vec<(f64, bool)> {
    let Segment { start, end, arc } = segment;
    let Some(arc) = arc else {
        if (start[k] < at) == (end[k] < at) {
            return Vec::new();
        }
        let share = (at - start[k]) / (end[k] - start[k]);
        return vec![(start[1 - k] + share * (end[1 - k] - start[1 - k]), end[k] > start[k])];
    };
    let off = at - arc.centre[k];
    let half = (start.distance_squared(arc.centre) - off * off).max(0.0).sqrt();
    let place = |side: f64| {
        let mut p = arc.centre;
        p[k] = at;
        p[1 - k] += side * half;
        // Along the arc, counter-clockwise, one goes the way of the radius turned left.
        let along = (p - arc.centre).perp() * arc.sweep;
        ((0.0..=1.0).contains(&segment.parameter(p)) && half > 0.0)
            .then_some((p[1 - k], along[k] > 0.0))
    };
    [-1.0, 1.0].into_iter().filter_map(place).collect()
}

/// Parts of a cone are taken as this many cylinders.
const STEPS_OF_A_CONE: u8 = 8;

/// The rings of a turned part from the side, cut at a distance from its axis.
fn turned_slice(turned: &Turned, off: f64) -> Vec<Stretch> {
    let mut stretches = Vec::new();
    for depth in steps(turned) {
        for [inner, outer] in rings_at(turned, 0.5 * (depth[0] + depth[1])) {
            if outer <= off {
                continue;
            }
            let chord = |r: f64| (r * r - off * off).max(0.0).sqrt();
            let (hole, half) = (chord(inner), chord(outer));
            if hole > 0.0 {
                stretches.push(Stretch { across: [-half, -hole], depth });
                stretches.push(Stretch { across: [hole, half], depth });
            } else {
                stretches.push(Stretch { across: [-half, half], depth });
            }
        }
    }
    stretches
}

/// The heights of a turned part between which its rings stay the same.
pub(crate) fn steps(turned: &Turned) -> Vec<[f64; 2]> {
    let mut heights: Vec<f64> = turned.profile.iter().map(|p| p.y).collect();
    let is_sloped = |[p, q]: [DVec2; 2]| (p.x - q.x).abs() > 1e-9 && (p.y - q.y).abs() > 1e-9;
    for [p, q] in turned.sides().filter(|side| is_sloped(*side)) {
        let shares = (1..STEPS_OF_A_CONE).map(|i| f64::from(i) / f64::from(STEPS_OF_A_CONE));
        heights.extend(shares.map(|share| p.y + share * (q.y - p.y)));
    }
    heights.sort_by(f64::total_cmp);
    heights.windows(2).filter(|w| w[1] - w[0] > 1e-9).map(|w| [w[0], w[1]]).collect()
}

/// The rings of material of a turned part at one height: inner and outer radii, outwards.
pub(crate) fn rings_at(turned: &Turned, z: f64) -> Vec<[f64; 2]> {
    let crosses = |[p, q]: [DVec2; 2]| {
        let is_across = (p.y <= z) != (q.y <= z);
        is_across.then(|| p.x + (q.x - p.x) * (z - p.y) / (q.y - p.y))
    };
    let mut radii: Vec<f64> = turned.sides().filter_map(crosses).collect();
    radii.sort_by(f64::total_cmp);
    radii.chunks_exact(2).map(|pair| [pair[0], pair[1]]).collect()
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::frame::pose;
    use glam::dvec2;
    use plate::{Contour, Cut, Face, Plate, Tolerance, arrange};

    /// Sum of the areas of a body's slices, by the trapezium rule between breaks: its volume.
    fn volume(body: &Body<'_>, axis: usize, room: [DVec3; 2]) -> f64 {
        let mut breaks = body.breaks(axis, room);
        breaks.sort_by(f64::total_cmp);
        let area = |at: f64| {
            let size = |[from, to]: [f64; 2]| to - from;
            body.slice(axis, at).iter().map(|&[a, b]| size(a) * size(b)).sum::<f64>()
        };
        const STEPS: u32 = 400;
        breaks
            .windows(2)
            .map(|w| {
                let step = (w[1] - w[0]) / f64::from(STEPS);
                (0..STEPS).map(|i| step * area(w[0] + (f64::from(i) + 0.5) * step)).sum::<f64>()
            })
            .sum()
    }

    #[test]
    fn slices_of_a_sheet_add_up_to_its_volume_whichever_way_it_stands() {
        let mut plate =
            Plate::new(Contour::rounded_rectangle(dvec2(-5.0, 0.0), dvec2(60.0, 40.0), 8.0), 6.0);
        plate.cuts.push(Cut::through(Contour::circle(dvec2(20.0, 20.0), 9.0)));
        plate.cuts.push(Cut::pocket(
            Contour::rectangle(dvec2(35.0, -5.0), dvec2(42.0, 30.0)),
            Face::Top,
            2.5,
        ));
        let arrangement = arrange(&plate, &Tolerance::default()).expect("it can be cut");
        let (x, y, z) = (DVec3::X, DVec3::Y, DVec3::Z);
        for (a, b) in [(x, y), (-x, z), (y, z), (-y, z), (y, -x), (x, -y)] {
            let pose = pose(a, b, DVec3::new(100.0, 200.0, 300.0));
            let body = Body::of_sheet(&arrangement, &pose);
            let room = [DVec3::ZERO, DVec3::splat(1000.0)];
            for axis in (0..3).filter(|axis| *axis != body.depth_axis()) {
                let sum = volume(&body, axis, room);
                let exact = arrangement.volume();
                assert!((sum - exact).abs() < 1e-3 * exact, "{a} {b} {axis}: {sum}, not {exact}");
            }
        }
    }

    #[test]
    fn slices_of_a_turned_part_add_up_to_its_volume() {
        let funnel = Turned {
            profile: vec![dvec2(4.0, 0.0), dvec2(10.0, 0.0), dvec2(16.0, 12.0), dvec2(4.0, 12.0)],
        };
        let rod = Turned::cylinder(20.0, 30.0);
        let sock = Turned {
            profile: [(0., 0.), (9., 0.), (9., 20.), (7., 20.), (7., 2.), (0., 2.)]
                .map(|(r, z)| dvec2(r, z))
                .to_vec(),
        };
        for turned in [funnel, rod, sock] {
            for (a, b) in [(DVec3::X, DVec3::Y), (DVec3::Y, DVec3::Z), (DVec3::Z, DVec3::X)] {
                let pose = pose(a, b, DVec3::new(10.0, 20.0, 30.0));
                let body = Body::of_turned(&turned, &pose);
                let room = [DVec3::splat(-1000.0), DVec3::splat(1000.0)];
                for axis in (0..3).filter(|axis| *axis != body.depth_axis()) {
                    let (sum, exact) = (volume(&body, axis, room), turned.volume_mm3());
                    assert!((sum - exact).abs() < 2e-3 * exact, "{axis}: {sum}, not {exact}");
                }
            }
        }
    }
}

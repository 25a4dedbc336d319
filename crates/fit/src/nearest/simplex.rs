//! Up to four corners of the difference of two bodies, and the point of their hull nearest to the origin.

use glam::DVec3;

/// A corner of the difference and the corners that it is the difference of.
#[derive(Clone, Copy, Debug)]
struct Corner {
    w: DVec3,
    p: DVec3,
    q: DVec3,
}

/// Corners, reduced to those that the nearest point lies between, and its shares of them.
#[derive(Clone, Debug)]
pub(crate) struct Simplex {
    corners: Vec<(Corner, f64)>,
}

impl Simplex {
    pub(crate) fn of(p: DVec3, q: DVec3) -> Self {
        Self { corners: vec![(Corner { w: p - q, p, q }, 1.0)] }
    }

    /// The point nearest to the origin.
    pub(crate) fn nearest(&self) -> DVec3 {
        self.corners.iter().map(|(c, share)| c.w * *share).sum()
    }

    /// Whether the origin is within four corners.
    pub(crate) fn is_full(&self) -> bool {
        self.corners.len() == 4
    }

    /// The points of both bodies whose difference is the nearest point.
    pub(crate) fn witnesses(&self) -> [DVec3; 2] {
        let mix = |point: fn(&Corner) -> DVec3| {
            self.corners.iter().map(|(c, share)| point(c) * *share).sum()
        };
        [mix(|c| c.p), mix(|c| c.q)]
    }

    /// Takes one more corner, and leaves those out that the nearest point is not between. `false`, with nothing
    /// changed, when that brings nothing nearer.
    pub(crate) fn add(&mut self, p: DVec3, q: DVec3) -> bool {
        let new = Corner { w: p - q, p, q };
        if self.corners.iter().any(|(c, _)| c.w == new.w) {
            return false;
        }
        let mut all: Vec<Corner> = self.corners.iter().map(|(c, _)| *c).collect();
        all.push(new);
        let now = self.nearest().length_squared();
        let mut best: Option<(f64, Vec<(Corner, f64)>)> = None;
        // All corners with the new one among them, the fewer first: of equals the simplest is kept.
        let newest = 1_usize << (all.len() - 1);
        let mut subsets: Vec<usize> = (newest..2 * newest).collect();
        subsets.sort_by_key(|bits| bits.count_ones());
        for bits in subsets {
            let chosen: Vec<Corner> =
                (0..all.len()).filter(|k| bits >> k & 1 == 1).map(|k| all[k]).collect();
            let Some(shares) = shares(&chosen) else { continue };
            let point: DVec3 = chosen.iter().zip(&shares).map(|(c, s)| c.w * *s).sum();
            let far = if chosen.len() == 4 { 0.0 } else { point.length_squared() };
            if best.as_ref().is_none_or(|(least, _)| far < *least) {
                best = Some((far, chosen.into_iter().zip(shares).collect()));
            }
        }
        match best {
            Some((far, corners)) if far < now => {
                self.corners = corners;
                true
            }
            _ => false,
        }
    }
}

/// Shares of the corners that make the point of their plane (line, space) nearest to the origin; `None` when it
/// is not between them, or when they do not span it.
fn shares(corners: &[Corner]) -> Option<Vec<f64>> {
    let shares = match *corners {
        [_] => vec![1.0],
        [a, b] => {
            let ab = b.w - a.w;
            let t = -a.w.dot(ab) / ab.length_squared();
            vec![1.0 - t, t]
        }
        [a, b, c] => {
            // The foot of the origin on the plane, as areas opposite to each corner over the whole.
            let n = (b.w - a.w).cross(c.w - a.w);
            let area = n.length_squared();
            if area <= 1e-24 * longest(corners).powi(4) {
                return None;
            }
            let foot = n * (a.w.dot(n) / area);
            let part = |p: DVec3, q: DVec3| (p - foot).cross(q - foot).dot(n) / area;
            let (s, t) = (part(b.w, c.w), part(c.w, a.w));
            vec![s, t, 1.0 - s - t]
        }
        [a, b, c, d] => {
            let volume = (b.w - a.w).dot((c.w - a.w).cross(d.w - a.w));
            if volume.abs() <= 1e-18 * longest(corners).powi(3) {
                return None;
            }
            let part = |p: DVec3, q: DVec3, r: DVec3| p.dot(q.cross(r)) / volume;
            let s = [part(b.w, c.w, d.w), -part(a.w, c.w, d.w), part(a.w, b.w, d.w)];
            vec![s[0], s[1], s[2], 1.0 - s[0] - s[1] - s[2]]
        }
        _ => return None,
    };
    shares.iter().all(|share| *share >= 0.0).then_some(shares)
}

fn longest(corners: &[Corner]) -> f64 {
    corners[1..].iter().fold(0.0, |l: f64, c| l.max(c.w.distance(corners[0].w)))
}

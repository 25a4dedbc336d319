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
#[derive(Clone, Copy, Debug)]
pub(crate) struct Simplex {
    corners: [Corner; 4],
    shares: [f64; 4],
    count: usize,
}

impl Simplex {
    pub(crate) fn of(p: DVec3, q: DVec3) -> Self {
        let corner = Corner { w: p - q, p, q };
        Self { corners: [corner; 4], shares: [1.0, 0.0, 0.0, 0.0], count: 1 }
    }

    /// The point nearest to the origin.
    pub(crate) fn nearest(&self) -> DVec3 {
        self.mixed(|corner| corner.w)
    }

    /// Whether the origin is within four corners.
    pub(crate) fn is_full(&self) -> bool {
        self.count == 4
    }

    /// The points of both bodies whose difference is the nearest point.
    pub(crate) fn witnesses(&self) -> [DVec3; 2] {
        [self.mixed(|corner| corner.p), self.mixed(|corner| corner.q)]
    }

    fn mixed(&self, point: impl Fn(&Corner) -> DVec3) -> DVec3 {
        let used = self.corners.iter().zip(self.shares).take(self.count);
        used.map(|(corner, share)| point(corner) * share).sum()
    }

    /// Takes one more corner, and leaves those out that the nearest point is not between. `false`, with nothing
    /// changed, when that brings nothing nearer. Of four corners nothing is nearer.
    pub(crate) fn add(&mut self, p: DVec3, q: DVec3) -> bool {
        let new = Corner { w: p - q, p, q };
        if self.is_full() || self.corners[..self.count].iter().any(|corner| corner.w == new.w) {
            return false;
        }
        let mut all = self.corners;
        all[self.count] = new;
        let mut best = (self.nearest().length_squared(), *self);
        let mut is_nearer = false;
        // Of all choices with the new corner among them; of equals the one with the fewest corners.
        let newest = 1_usize << self.count;
        for size in 1..=self.count + 1 {
            for bits in (newest..2 * newest).filter(|bits| bits.count_ones() as usize == size) {
                let Some(chosen) = Self::spanned(&all, bits) else { continue };
                let far = if chosen.is_full() { 0.0 } else { chosen.nearest().length_squared() };
                if far < best.0 {
                    best = (far, chosen);
                    is_nearer = true;
                }
            }
        }
        *self = best.1;
        is_nearer
    }

    /// The chosen ones of these corners, if the nearest point of what they span is between them.
    fn spanned(all: &[Corner; 4], bits: usize) -> Option<Self> {
        let mut chosen = Self { corners: *all, shares: [0.0; 4], count: 0 };
        for (k, corner) in all.iter().enumerate() {
            if bits >> k & 1 == 1 {
                chosen.corners[chosen.count] = *corner;
                chosen.count += 1;
            }
        }
        chosen.shares = shares(&chosen.corners[..chosen.count])?;
        Some(chosen)
    }
}

/// Shares of the corners that make the point of their plane (line, space) nearest to the origin; `None` when it
/// is not between them, or when they do not span it.
fn shares(corners: &[Corner]) -> Option<[f64; 4]> {
    let shares = match *corners {
        [_] => [1.0, 0.0, 0.0, 0.0],
        [a, b] => {
            let ab = b.w - a.w;
            let t = -a.w.dot(ab) / ab.length_squared();
            [1.0 - t, t, 0.0, 0.0]
        }
        [a, b, c] => {
            // The foot of the origin on the plane, as areas opposite to each corner over the whole.
            let n = (b.w - a.w).cross(c.w - a.w);
            let area = n.length_squared();
            let side = longest(corners);
            if area <= 1e-24 * side * side * side * side {
                return None;
            }
            let foot = n * (a.w.dot(n) / area);
            let part = |p: DVec3, q: DVec3| (p - foot).cross(q - foot).dot(n) / area;
            let (s, t) = (part(b.w, c.w), part(c.w, a.w));
            [s, t, 1.0 - s - t, 0.0]
        }
        [a, b, c, d] => {
            let volume = (b.w - a.w).dot((c.w - a.w).cross(d.w - a.w));
            let side = longest(corners);
            if volume.abs() <= 1e-18 * side * side * side {
                return None;
            }
            let part = |p: DVec3, q: DVec3, r: DVec3| p.dot(q.cross(r)) / volume;
            let s = [part(b.w, c.w, d.w), -part(a.w, c.w, d.w), part(a.w, b.w, d.w)];
            [s[0], s[1], s[2], 1.0 - s[0] - s[1] - s[2]]
        }
        _ => return None,
    };
    shares.iter().all(|share| *share >= 0.0).then_some(shares)
}

fn longest(corners: &[Corner]) -> f64 {
    corners[1..].iter().fold(0.0, |l: f64, c| l.max(c.w.distance(corners[0].w)))
}

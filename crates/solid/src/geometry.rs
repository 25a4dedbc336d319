//! The curves and surfaces a solid may have. Every axis is vertical, every arc lies level.
use glam::{DVec2, DVec3};

/// What an edge follows from its first end to its second.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Curve {
    /// The straight line.
    Line,
    /// A circular arc in a horizontal plane.
    Arc {
        /// Centre of the circle, at the height of both ends.
        centre: DVec3,
        /// Signed angle in radians, counter-clockwise seen from above positive; `0 < |sweep| < 2π`.
        sweep: f64,
    },
}

/// What a face lies on. The normal of a surface points out of the material.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Surface {
    /// All points `origin + a·u + b·v`; the normal is `u × v`.
    Plane {
        /// A point of the plane.
        origin: DVec3,
        /// Unit vector in the plane.
        u: DVec3,
        /// Unit vector in the plane, across `u`.
        v: DVec3,
    },
    /// A vertical cylinder.
    Cylinder {
        /// A point of the axis.
        centre: DVec3,
        /// Radius in mm.
        radius: f64,
        /// Whether the normal points away from the axis (a round post) or towards it (a hole).
        outward: bool,
    },
    /// A vertical cone.
    Cone {
        /// A point of the axis.
        centre: DVec3,
        /// Radius in mm at the height of `centre`.
        radius: f64,
        /// Growth of the radius per mm of height; never 0.
        slope: f64,
        /// Whether the normal points away from the axis or towards it.
        outward: bool,
    },
}

impl Surface {
    /// Unit normal at a point of the surface, out of the material. At the tip of a cone there is
    /// none, and the result is meaningless.
    pub fn normal_at(&self, p: DVec3) -> DVec3 {
        let away = |centre: DVec3, rise: f64, outward: bool| {
            let spoke = (p - centre).truncate().normalize_or_zero();
            spoke.extend(rise).normalize_or_zero() * if outward { 1.0 } else { -1.0 }
        };
        match *self {
            Self::Plane { u, v, .. } => u.cross(v),
            Self::Cylinder { centre, outward, .. } => away(centre, 0.0, outward),
            Self::Cone { centre, slope, outward, .. } => away(centre, -slope, outward),
        }
    }

    /// Distance in mm of a point from the whole surface.
    pub fn distance(&self, p: DVec3) -> f64 {
        let from_axis = |centre: DVec3| (p - centre).truncate().length();
        match *self {
            Self::Plane { origin, u, v } => (p - origin).dot(u.cross(v)).abs(),
            Self::Cylinder { centre, radius, .. } => (from_axis(centre) - radius).abs(),
            Self::Cone { centre, radius, slope, .. } => {
                let radius_here = radius + slope * (p.z - centre.z);
                (from_axis(centre) - radius_here).abs() / (1.0 + slope * slope).sqrt()
            }
        }
    }

    /// The same surface with its normal turned round.
    pub fn reversed(self) -> Self {
        match self {
            Self::Plane { origin, u, v } => Self::Plane { origin, u: v, v: u },
            Self::Cylinder { centre, radius, outward } => {
                Self::Cylinder { centre, radius, outward: !outward }
            }
            Self::Cone { centre, radius, slope, outward } => {
                Self::Cone { centre, radius, slope, outward: !outward }
            }
        }
    }
}

/// A curve with its two ends. The ends are kept exactly; they do not follow from the sweep.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(crate) struct Stretch {
    pub(crate) start: DVec3,
    pub(crate) end: DVec3,
    pub(crate) curve: Curve,
}

impl Stretch {
    /// The point at a share `t` of the way.
    pub(crate) fn at(&self, t: f64) -> DVec3 {
        if t <= 0.0 {
            return self.start;
        }
        if t >= 1.0 {
            return self.end;
        }
        match self.curve {
            Curve::Line => self.start.lerp(self.end, t),
            Curve::Arc { centre, sweep } => {
                let spoke = (self.start - centre).truncate();
                let turned = DVec2::from_angle(sweep * t).rotate(spoke);
                centre + turned.extend(0.0)
            }
        }
    }

    pub(crate) fn reversed(self) -> Self {
        let curve = match self.curve {
            Curve::Line => Curve::Line,
            Curve::Arc { centre, sweep } => Curve::Arc { centre, sweep: -sweep },
        };
        Self { start: self.end, end: self.start, curve }
    }

    /// The shadow of a level stretch on the ground.
    pub(crate) fn shadow(&self) -> plate::Segment {
        let arc = match self.curve {
            Curve::Line => None,
            Curve::Arc { centre, sweep } => Some(plate::Arc { centre: centre.truncate(), sweep }),
        };
        plate::Segment { start: self.start.truncate(), end: self.end.truncate(), arc }
    }
}

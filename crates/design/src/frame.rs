//! Where parts stand: poses along the axes, and the faces that other parts lean on.

use glam::{DAffine3, DMat3, DVec2, DVec3};
use plate::{Face, Shape};

use crate::draft::DraftId;

/// Direction of a row of chambers.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(crate) enum Axis {
    /// Along the sump.
    X,
    /// From front to back.
    Y,
}

impl Axis {
    pub(crate) fn of(self, p: DVec2) -> f64 {
        match self {
            Self::X => p.x,
            Self::Y => p.y,
        }
    }

    pub(crate) fn across(self) -> Self {
        match self {
            Self::X => Self::Y,
            Self::Y => Self::X,
        }
    }

    pub(crate) fn unit(self) -> DVec3 {
        match self {
            Self::X => DVec3::X,
            Self::Y => DVec3::Y,
        }
    }

    /// The point at `along` on this axis and `across` on the other.
    pub(crate) fn point(self, along: f64, across: f64) -> DVec2 {
        match self {
            Self::X => DVec2::new(along, across),
            Self::Y => DVec2::new(across, along),
        }
    }
}

/// A pose whose local x, y, z axes are these unit vectors of the sump.
pub(crate) fn pose(x: DVec3, y: DVec3, origin: DVec3) -> DAffine3 {
    DAffine3::from_mat3_translation(DMat3::from_cols(x, y, x.cross(y)), origin)
}

/// Least and greatest corner of a shape in a pose along the axes.
pub(crate) fn bounds(shape: &Shape, pose: &DAffine3) -> [DVec3; 2] {
    let [lo, hi] = shape.bounds();
    let (p, q) = (pose.transform_point3(lo), pose.transform_point3(hi));
    [p.min(q), p.max(q)]
}

/// A flat face of a part that dividers, guides and ledges are fixed to.
#[derive(Clone, Copy, Debug)]
pub(crate) struct Host {
    pub(crate) draft: DraftId,
    /// Unit vector out of the face, into the chamber.
    pub(crate) inward: DVec3,
    /// Coordinate of the face along the axis of `inward`.
    pub(crate) plane: f64,
    /// The part's pose.
    pub(crate) pose: DAffine3,
    /// Least and greatest thickness of the part, mm.
    pub(crate) band_mm: [f64; 2],
    /// From which to which height of the sump the part reaches.
    pub(crate) z: [f64; 2],
    /// Whether the part is loose, so that nothing can be fixed to it.
    pub(crate) lifts_out: bool,
}

impl Host {
    /// Depth of a groove in it: 40 % of the thinnest sheet, less than half over the whole thickness band.
    pub(crate) fn groove_depth_mm(&self) -> f64 {
        (4.0 * self.band_mm[0]).floor() / 10.0
    }

    /// Which face of the part it is.
    pub(crate) fn face(&self) -> Face {
        if self.pose.matrix3.z_axis.dot(self.inward) > 0.0 { Face::Top } else { Face::Bottom }
    }

    /// A point of the sump in the part's own sheet coordinates.
    pub(crate) fn local(&self, p: DVec3) -> DVec2 {
        // The axes are unit vectors along those of the sump, so the transpose is the exact inverse.
        let turned = self.pose.matrix3.transpose() * (p - self.pose.translation);
        turned.truncate()
    }
}

/// Which edge or face of a sheet part looks in this direction of the sump, in words of the part's own
/// frame: x to the right, y upwards, z out of the upper face.
pub(crate) fn side_words(pose: &DAffine3, out: DVec3) -> &'static str {
    let [x, y, z] = (pose.matrix3.transpose() * out).to_array();
    match () {
        () if x < -0.5 => "left edge",
        () if x > 0.5 => "right edge",
        () if y < -0.5 => "lower edge",
        () if y > 0.5 => "upper edge",
        () if z < 0.0 => "lower face",
        () => "upper face",
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn sides_are_named_in_the_parts_own_frame() {
        // A wall that looks along y from inside: its own x runs against that of the sump.
        let wall = pose(-DVec3::X, DVec3::Z, DVec3::new(800.0, 0.0, 8.0));
        for (out, words) in [
            (DVec3::X, "left edge"),
            (DVec3::NEG_X, "right edge"),
            (DVec3::Y, "upper face"),
            (DVec3::NEG_Y, "lower face"),
            (DVec3::Z, "upper edge"),
            (DVec3::NEG_Z, "lower edge"),
        ] {
            assert_eq!(side_words(&wall, out), words, "{out}");
        }
    }
}

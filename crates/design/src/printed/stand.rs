//! Faces of a fitting, in its own frame, against directions of the sump.

use fittings::Side;
use glam::{DAffine3, DMat3, DVec3};

/// Out of the fitting, in the frame in which it is printed.
pub(super) fn out(side: Side) -> DVec3 {
    match side {
        Side::Left => DVec3::NEG_X,
        Side::Right => DVec3::X,
        Side::Foot => DVec3::NEG_Y,
        Side::Crown => DVec3::Y,
        Side::Bed => DVec3::NEG_Z,
        Side::Top => DVec3::Z,
    }
}

/// The rotation that turns side `a` of a fitting to look along `to_a` of the sump and side `b` along `to_b`.
pub(super) fn turned([a, b]: [Side; 2], [to_a, to_b]: [DVec3; 2]) -> DAffine3 {
    let frame = |a: DVec3, b: DVec3| DMat3::from_cols(a, b, a.cross(b));
    let own = frame(out(a), out(b));
    // Both are right-handed frames of unit vectors along the axes, so the transpose is the exact inverse.
    DAffine3::from_mat3(frame(to_a, to_b) * own.transpose())
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_clip_lies_with_its_foot_on_the_wall_and_its_pipe_upright() {
        // The wall behind: its inner face looks to the front.
        let pose = turned([Side::Foot, Side::Top], [DVec3::Y, DVec3::Z]);
        assert_eq!(pose.transform_vector3(DVec3::NEG_Y), DVec3::Y);
        assert_eq!(pose.transform_vector3(DVec3::Z), DVec3::Z);
        assert!((pose.matrix3.determinant() - 1.0).abs() < 1e-12, "nothing is mirrored");
    }
}

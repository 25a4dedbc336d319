//! How each kind of fitting stands in a sump: which of its faces lies against what.
//!
//! Kinds are drawn as they are printed, so their own frames say nothing of walls; this table does.

use glam::{DAffine3, DMat3, DVec3};

/// A face of the box around a fitting, in the frame in which it is printed.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) enum Side {
    /// At the least x.
    Left,
    /// At the greatest x.
    Right,
    /// At the least y.
    Foot,
    /// At the greatest y.
    Crown,
    /// On the print bed.
    Bed,
    /// Away from the print bed.
    Top,
}

impl Side {
    /// Out of the fitting, in its own frame.
    pub(super) fn out(self) -> DVec3 {
        match self {
            Self::Left => DVec3::NEG_X,
            Self::Right => DVec3::X,
            Self::Foot => DVec3::NEG_Y,
            Self::Crown => DVec3::Y,
            Self::Bed => DVec3::NEG_Z,
            Self::Top => DVec3::Z,
        }
    }
}

/// How a kind stands; what it has none of, it cannot.
#[derive(Clone, Copy, Debug, Default, PartialEq)]
pub(super) struct Stand {
    /// On the face of a wall or leaf.
    pub(super) on_face: Option<OnFace>,
    /// On the upper edge of a wall or leaf.
    pub(super) on_edge: Option<OnEdge>,
    /// On the bottom.
    pub(super) on_bottom: Option<OnBottom>,
    /// On a lid.
    pub(super) on_lid: Option<OnLid>,
    /// In the place of a sock in its holder.
    pub(super) in_holder: bool,
    /// Of a kind that has no place of its own: why.
    pub(super) nowhere: Option<&'static str>,
}

/// On the face of a wall or leaf.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(super) struct OnFace {
    /// The side that lies on the face.
    pub(super) by: Side,
    /// The side that looks up.
    pub(super) up: Side,
    /// How it is held.
    pub(super) held: Held,
    /// What carries something: the measure by which its upper end is above what it carries.
    pub(super) carries_below_top: Option<&'static str>,
}

/// How a fitting is held on a face.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) enum Held {
    /// Glued, all of its side on the face.
    Glued,
    /// Pressed into an opening of the sheet by what stands out beyond its flange: there it is drawn a little wider than the
    /// opening, which squeezes it.
    Pressed,
}

/// On an upper edge.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) enum OnEdge {
    /// A hook whose profile has the sheet's edge at `y = 0`, from `x = 0` on; its inner leg at greater x.
    Hook,
    /// The same, but its legs are closer than the sheet is thick: it holds by being bent open.
    Grip {
        /// Whether its lower end marks a level.
        tip_marks: bool,
    },
    /// A cap with a groove along x, its first pocket; what it holds is at greater y. Used turned over.
    Cap,
}

/// On a lid, by the side that lay up in printing.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) enum OnLid {
    /// A round foot on its upper face, glued or screwed.
    Foot,
    /// Plugged into a round hole by what stands out beyond its flange.
    Plug,
}

/// On the bottom.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(super) struct OnBottom {
    /// The side that it stands on.
    pub(super) by: Side,
    /// Whether it is glued there, or stands loose.
    pub(super) is_glued: bool,
    /// For what stacks: the choice among its measures that lets the next one stand on it.
    pub(super) stacks_by: Option<&'static str>,
}

const fn glued(by: Side, up: Side) -> Option<OnFace> {
    Some(OnFace { by, up, held: Held::Glued, carries_below_top: None })
}

const STANDS: Option<OnBottom> = Some(OnBottom { by: Side::Bed, is_glued: false, stacks_by: None });

/// How a kind stands. `is_set` says whether a choice among its measures is made.
///
/// A kind that is not named here is glued by its bed face, or stands on it.
pub(super) fn of(kind: &str, is_set: impl Fn(&str) -> bool) -> Stand {
    let nowhere = Stand::default();
    let pressed = Some(OnFace {
        by: Side::Top,
        up: Side::Crown,
        held: Held::Pressed,
        carries_below_top: None,
    });
    match kind {
        // Profiles printed on their side: the length of the print runs upright.
        "pipe-clip" => Stand { on_face: glued(Side::Foot, Side::Top), ..nowhere },
        "strip-clip" => Stand {
            on_face: glued(Side::Foot, Side::Top),
            on_bottom: Some(OnBottom { by: Side::Foot, is_glued: true, stacks_by: None }),
            ..nowhere
        },
        "egg-crate-ledge" => {
            let ledge = OnFace {
                by: Side::Left,
                up: Side::Crown,
                held: Held::Glued,
                carries_below_top: Some("grid"),
            };
            Stand { on_face: Some(ledge), ..nowhere }
        }
        "door-stop" if is_set("glued") => {
            Stand { on_face: glued(Side::Foot, Side::Top), ..nowhere }
        }
        "float-switch-holder" | "lid-clip" => Stand { on_edge: Some(OnEdge::Hook), ..nowhere },
        "probe-holder" | "nozzle-bracket" => Stand { on_edge: Some(OnEdge::Cap), ..nowhere },
        "door-stop" => Stand { on_edge: Some(OnEdge::Grip { tip_marks: false }), ..nowhere },
        "level-pointer" => Stand { on_edge: Some(OnEdge::Grip { tip_marks: true }), ..nowhere },
        "strainer" | "round-strainer" => Stand { on_face: pressed, ..nowhere },
        "drain-hole-cap" => Stand { on_face: pressed, on_lid: Some(OnLid::Plug), ..nowhere },
        "skimmer-foot" => Stand {
            on_bottom: Some(OnBottom { by: Side::Bed, is_glued: false, stacks_by: Some("nose") }),
            ..nowhere
        },
        // Its back on the wall, the end with the lead-in up.
        "guide-channel" => Stand { on_face: glued(Side::Bed, Side::Crown), ..nowhere },
        "lid-handle" => Stand { on_lid: Some(OnLid::Foot), ..nowhere },
        "reducer" => Stand { in_holder: true, ..nowhere },
        "sock-ring" => Stand {
            nowhere: Some(
                "rings are put into the holes of their holder by `ring = \"printed\"` in `[[sock_holder]]`",
            ),
            ..nowhere
        },
        "door-knob" => Stand {
            nowhere: Some("knobs are put on the screws of a door by the leaf's `door`"),
            ..nowhere
        },
        _ => Stand { on_face: glued(Side::Bed, Side::Crown), on_bottom: STANDS, ..nowhere },
    }
}

/// What a fitting holds.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) enum Holds {
    /// What is upright and round and goes through it.
    Upright,
    /// What stands on it.
    OnTop,
}

/// What a kind holds, if anything.
pub(super) fn holds(kind: &str) -> Option<Holds> {
    match kind {
        "pipe-clip" | "probe-holder" | "nozzle-bracket" => Some(Holds::Upright),
        "skimmer-foot" => Some(Holds::OnTop),
        _ => None,
    }
}

/// The rotation that turns side `a` of a fitting to look along `to_a` of the sump and side `b` along `to_b`.
pub(super) fn turned([a, b]: [Side; 2], [to_a, to_b]: [DVec3; 2]) -> DAffine3 {
    let frame = |a: DVec3, b: DVec3| DMat3::from_cols(a, b, a.cross(b));
    let own = frame(a.out(), b.out());
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

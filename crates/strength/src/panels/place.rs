//! Places on a panel in words.

use glam::DVec2;

/// A place this near to an edge, as a share of the side, is at it; our judgement.
const AT: f64 = 0.08;
/// And this near to the middle is in the middle.
const MIDDLE: f64 = 0.15;

/// Where on a rectangle, as one who looks at its upper face sees it: `middle of the upper edge`.
pub(crate) fn words([lo, hi]: [DVec2; 2], at: DVec2) -> String {
    let share = ((at - lo) / (hi - lo)).clamp(DVec2::ZERO, DVec2::ONE);
    let across = side(share.x, ["left", "middle", "right"]);
    let edge = match share {
        s if s.y <= AT => Some("lower edge"),
        s if s.y >= 1.0 - AT => Some("upper edge"),
        _ => None,
    };
    if let Some(edge) = edge {
        return match across {
            "middle" => format!("middle of the {edge}"),
            _ if share.x <= AT || share.x >= 1.0 - AT => format!("{across} end of the {edge}"),
            _ => format!("{across} part of the {edge}"),
        };
    }
    let up = side(share.y, ["low", "half way up", "high"]);
    match share.x {
        x if x <= AT => format!("left edge, {up}"),
        x if x >= 1.0 - AT => format!("right edge, {up}"),
        _ if across == "middle" && up == "half way up" => "middle".to_owned(),
        _ => format!("{across}, {up}"),
    }
}

fn side(share: f64, [below, middle, above]: [&'static str; 3]) -> &'static str {
    match share - 0.5 {
        off if off < -MIDDLE => below,
        off if off > MIDDLE => above,
        _ => middle,
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use glam::dvec2;

    #[test]
    fn places_are_told_as_one_points_at_them() {
        let rectangle = [dvec2(10.0, 0.0), dvec2(110.0, 50.0)];
        let tell = |x: f64, y: f64| words(rectangle, dvec2(x, y));
        assert_eq!(tell(60.0, 50.0), "middle of the upper edge");
        assert_eq!(tell(12.0, 1.0), "left end of the lower edge");
        assert_eq!(tell(85.0, 50.0), "right part of the upper edge");
        assert_eq!(tell(60.0, 25.0), "middle");
        assert_eq!(tell(109.0, 40.0), "right edge, high");
        assert_eq!(tell(30.0, 10.0), "left, low");
    }
}

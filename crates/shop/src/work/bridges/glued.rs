//! Which stretches of a part's edges are glued: there, and only there, another part lies against them in the box.

use design::{Design, PieceId};
use glam::{DAffine3, DVec2, DVec3};
use plate::{Contour, Shape};

/// So far beyond an edge the part that it is glued to is looked for, mm: more than the fit of a groove, less than any sheet
/// is thick (our judgement).
const LOOKED_MM: f64 = 0.5;

/// The parts that a part's edges are glued to, as they lie beside it.
#[derive(Clone, Debug, Default)]
pub(crate) struct GluedEdges(Vec<Partner>);

/// A part that another is glued to.
#[derive(Clone, Debug)]
struct Partner {
    /// From the frame of the part that is looked at to its own.
    to: DAffine3,
    body: Body,
}

#[derive(Clone, Debug)]
enum Body {
    /// Its outline, and how thick it is, mm. What is cut out of it is not looked at: nothing is glued in an opening.
    Sheet(Contour, f64),
    /// Least and greatest corner of anything else.
    Box([DVec3; 2]),
}

impl GluedEdges {
    /// Those of a part, wherever it is placed.
    pub(crate) fn of(design: &Design, piece: PieceId) -> Self {
        let mut partners = Vec::new();
        for joint in design.joints.iter().filter(|joint| joint.kind.is_glued()) {
            for (own, other) in [(joint.a, joint.b), (joint.b, joint.a)] {
                let (own, other) = (&design.placed[own], &design.placed[other]);
                if own.piece != piece {
                    continue;
                }
                let body = match &design.pieces[other.piece].shape {
                    Shape::Sheet(plate) => Body::Sheet(plate.outline.clone(), plate.thickness),
                    Shape::Turned(turned) => {
                        let (radius, [low, high]) = turned.extent();
                        let reach = DVec2::splat(radius);
                        Body::Box([(-reach).extend(low), reach.extend(high)])
                    }
                };
                partners.push(Partner { to: other.pose.inverse() * own.pose, body });
            }
        }
        Self(partners)
    }

    /// Whether an edge is glued at a place of it. `out` points out of the part there.
    pub(crate) fn is_at(&self, at: DVec2, out: DVec2, thickness_mm: f64) -> bool {
        let p = (at + out * LOOKED_MM).extend(0.5 * thickness_mm);
        self.0.iter().any(|partner| partner.has(p))
    }

    /// That edges are glued wherever they meet these outlines, which lie in the plane of the part.
    #[cfg(test)]
    pub(super) fn to_areas(areas: impl IntoIterator<Item = Contour>, thickness_mm: f64) -> Self {
        let partner =
            |outline| Partner { to: DAffine3::IDENTITY, body: Body::Sheet(outline, thickness_mm) };
        Self(areas.into_iter().map(partner).collect())
    }
}

impl Partner {
    fn has(&self, p: DVec3) -> bool {
        let p = self.to.transform_point3(p);
        match &self.body {
            Body::Sheet(outline, thickness) => {
                (0.0..=*thickness).contains(&p.z) && outline.winding(p.truncate()) != 0
            }
            Body::Box([lo, hi]) => p.cmpge(*lo).all() && p.cmple(*hi).all(),
        }
    }
}

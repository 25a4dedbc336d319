//! Openings through the walls and the bottom, through which a leak test would run out.

use design::{Design, Role};
use glam::DVec2;
use plate::Shape;

/// So near to the outline an opening is open at the edge, mm: cuts meet the outline exactly where they are meant to.
const AT_EDGE_MM: f64 = 0.1;
/// So near to a hole's middle a fitting's axis is in it, mm.
const ON_AXIS_MM: f64 = 1.0;

/// An opening through a wall or the bottom.
#[derive(Clone, Debug, PartialEq)]
pub(super) struct Opening {
    /// Name of the wall.
    pub(super) wall: String,
    /// Name of the fitting that goes through it, if one does.
    pub(super) fitting: Option<String>,
    /// Its width, mm; of a round hole the diameter.
    pub(super) width_mm: f64,
    /// Height of its lower edge above the inside of the bottom, mm.
    pub(super) lower_mm: f64,
    /// Whether it is open at an edge of the sheet, so that no plug holds in it.
    pub(super) is_notch: bool,
}

/// All openings, the lowest first.
pub(super) fn openings(design: &Design) -> Vec<Opening> {
    let is_outside = |role| matches!(role, Role::Wall | Role::Bottom);
    let mut all = Vec::new();
    for placed in &design.placed {
        let piece = &design.pieces[placed.piece];
        let Shape::Sheet(sheet) = &piece.shape else { continue };
        let Some([outer_lo, outer_hi]) = sheet.outline.bounds() else { continue };
        if !is_outside(piece.role) {
            continue;
        }
        for cut in sheet.cuts.iter().filter(|cut| cut.depth >= sheet.thickness) {
            let Some([lo, hi]) = cut.contour.bounds() else { continue };
            let corner = |at: DVec2| placed.pose.transform_point3(at.extend(0.0)).z;
            let is_notch = (lo - outer_lo).min_element() < AT_EDGE_MM
                || (outer_hi - hi).min_element() < AT_EDGE_MM;
            let middle = placed.pose.transform_point3((0.5 * (lo + hi)).extend(0.0));
            let fitting = design.placed.iter().find(|other| {
                let off = other.pose.translation - middle;
                let axis = placed.pose.matrix3.z_axis;
                let is_fitting = design.pieces[other.piece].role == Role::WallFitting;
                is_fitting
                    && (off - axis * off.dot(axis)).length() < ON_AXIS_MM
                    && off.length() < sheet.thickness + ON_AXIS_MM
            });
            all.push(Opening {
                wall: placed.name.clone(),
                fitting: fitting.map(|fitting| fitting.name.clone()),
                width_mm: micrometres((hi - lo).x.max((hi - lo).y)),
                lower_mm: micrometres((corner(lo).min(corner(hi)) - design.floor_z).max(0.0)),
                is_notch,
            });
        }
    }
    all.sort_by(|a, b| a.lower_mm.total_cmp(&b.lower_mm).then_with(|| a.wall.cmp(&b.wall)));
    all
}

/// Rounded, so that alike holes in two walls are told alike.
fn micrometres(mm: f64) -> f64 {
    (mm * 1e3).round() / 1e3
}

#[cfg(test)]
mod tests {
    use super::*;
    use plate::{Contour, Cut};

    #[test]
    fn a_notch_is_told_from_a_hole() {
        let (_, mut design, _) = crate::guide::tests::demo("stuck-leaf");
        assert_eq!(openings(&design), []);
        let wall = design.placed.iter().find(|placed| placed.name == "front wall").unwrap();
        let foot = wall.pose.translation.z - design.floor_z;
        let Shape::Sheet(sheet) = &mut design.pieces[wall.piece].shape else { panic!() };
        let [lo, hi] = sheet.outline.bounds().unwrap();
        // The wall stands upright: its own y is height.
        let middle = DVec2::new(0.5 * (lo.x + hi.x), 100.0);
        sheet.cuts.push(Cut::through(Contour::circle(middle, 10.0)));
        let notch = [DVec2::new(lo.x + 50.0, hi.y - 30.0), DVec2::new(lo.x + 90.0, hi.y)];
        sheet.cuts.push(Cut::through(Contour::rounded_rectangle(notch[0], notch[1], 2.0)));
        let all = openings(&design);
        let told: Vec<(bool, f64, f64)> =
            all.iter().map(|o| (o.is_notch, o.width_mm, o.lower_mm)).collect();
        let expected = [(false, 20.0, 90.0 + foot), (true, 40.0, hi.y - 30.0 + foot)];
        assert_eq!(told.len(), expected.len());
        for (told, expected) in told.iter().zip(expected) {
            assert_eq!(told.0, expected.0);
            assert!((told.1 - expected.1).abs() < 0.01 && (told.2 - expected.2).abs() < 0.01);
        }
    }
}

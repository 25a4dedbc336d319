//! A closed solid, and what is proved of it when it is made.
use crate::brep::Brep;
use crate::error::Error;
use crate::mesh::Mesh;
use crate::mesher;
use crate::plate_shell::shell_of_plate;
use crate::topology::Shell;
use crate::turned_shell::shell_of_turned;
use glam::DVec3;
use plate::{Arrangement, Shape, Tolerance, Turned};
use truck_topology::shell::ShellCondition;

/// A part as exact geometry: closed, oriented, of the volume that its own arithmetic says.
#[derive(Clone, Debug, PartialEq)]
pub struct Solid {
    brep: Brep,
    volume_mm3: f64,
}

/// How far two exact formulas for one volume may differ, as a share of it. Both are sums of some
/// thousand terms in double precision; 1e-9 is a thousandth of what an independent reader must agree to.
const VOLUME_SHARE: f64 = 1e-9;

impl Solid {
    /// The solid of a plate.
    ///
    /// # Errors
    /// A fatal defect of the arrangement (several bodies, contact without thickness, material that
    /// meets in a corner only), or any failed proof: closed, oriented alike, in one piece, edges on
    /// their faces, enclosing the arrangement's volume.
    pub fn of_plate(arrangement: &Arrangement) -> Result<Self, Error> {
        // Whether a defect is fatal does not depend on the tolerance.
        let fatal =
            arrangement.defects(&Tolerance::default()).into_iter().find(plate::Defect::is_fatal);
        if let Some(defect) = fatal {
            return Err(Error::Defect(defect));
        }
        Self::proved(&shell_of_plate(arrangement)?, arrangement.volume())
    }

    /// The solid of a body of revolution.
    ///
    /// # Errors
    /// An unsound profile, or any failed proof as for [`Solid::of_plate`].
    pub fn of_turned(turned: &Turned) -> Result<Self, Error> {
        turned.check()?;
        Self::proved(&shell_of_turned(turned), turned.volume_mm3())
    }

    /// The solid of any shape. A plate is arranged with the default tolerance.
    ///
    /// # Errors
    /// What [`plate::arrange`], [`Solid::of_plate`] or [`Solid::of_turned`] refuse.
    pub fn of_shape(shape: &Shape) -> Result<Self, Error> {
        match shape {
            Shape::Sheet(plate) => Self::of_plate(&plate::arrange(plate, &Tolerance::default())?),
            Shape::Turned(turned) => Self::of_turned(turned),
        }
    }

    /// Exact volume in mm³.
    pub fn volume_mm3(&self) -> f64 {
        self.volume_mm3
    }

    /// Smallest axis-parallel box in the part's own frame, `[least, greatest]` corner.
    pub fn bounds(&self) -> [DVec3; 2] {
        self.brep.bounds()
    }

    /// The solid as plain data.
    pub fn brep(&self) -> &Brep {
        &self.brep
    }

    /// A mesh that stays within `chord_error_mm` of the solid.
    ///
    /// # Errors
    /// A chord error that is not positive, or a face with arcs so close to each other that their
    /// chords cross even at a tenth of the chord error.
    pub fn mesh(&self, chord_error_mm: f64) -> Result<Mesh, Error> {
        mesher::mesh(&self.brep, chord_error_mm).map(|meshed| meshed.mesh)
    }

    /// A solid of what the shell encloses, if everything can be proved that makes it one.
    fn proved(shell: &Shell, part_mm3: f64) -> Result<Self, Error> {
        let condition = shell.shell_condition();
        if condition != ShellCondition::Closed {
            return Err(Error::NotClosed { condition });
        }
        if !shell.is_connected() {
            return Err(Error::NotConnected);
        }
        if !shell.is_geometric_consistent() {
            return Err(Error::Inconsistent);
        }
        let brep = Brep::from(shell);
        // truck does not look at the orientation as a whole: a box turned inside out is closed too.
        let faces_mm3 = brep.volume_mm3();
        if faces_mm3.is_nan() || faces_mm3 <= 0.0 {
            return Err(Error::InsideOut { volume_mm3: faces_mm3 });
        }
        if (faces_mm3 - part_mm3).abs() > VOLUME_SHARE * part_mm3 {
            return Err(Error::Volume { faces_mm3, part_mm3 });
        }
        Ok(Self { brep, volume_mm3: faces_mm3 })
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn rod() -> (Shell, f64) {
        let rod = Turned::cylinder(20.0, 7.0);
        (shell_of_turned(&rod), rod.volume_mm3())
    }

    #[test]
    fn a_shell_without_one_face_is_no_solid() {
        let (mut shell, volume_mm3) = rod();
        shell.pop();
        let condition = ShellCondition::Oriented;
        assert!(
            matches!(Solid::proved(&shell, volume_mm3), Err(Error::NotClosed { condition: c }) if c == condition)
        );
    }

    #[test]
    fn two_shells_are_no_solid() {
        let (mut shell, volume_mm3) = rod();
        shell.append(&mut rod().0);
        assert!(matches!(Solid::proved(&shell, 2.0 * volume_mm3), Err(Error::NotConnected)));
    }

    #[test]
    fn a_shell_turned_inside_out_is_no_solid() {
        // A clockwise profile turns the normals inwards.
        let mut profile = Turned::cylinder(20.0, 7.0).profile;
        profile.reverse();
        let shell = shell_of_turned(&Turned { profile });
        assert_eq!(shell.shell_condition(), ShellCondition::Closed);
        assert!(matches!(Solid::proved(&shell, 1.0), Err(Error::InsideOut { .. })));
    }

    #[test]
    fn a_shell_of_another_volume_is_another_part() {
        let (shell, volume_mm3) = rod();
        assert!(Solid::proved(&shell, volume_mm3).is_ok());
        assert!(matches!(
            Solid::proved(&shell, volume_mm3 * (1.0 + 1e-8)),
            Err(Error::Volume { .. })
        ));
    }

    #[test]
    fn an_edge_off_its_face_is_no_solid() {
        let (shell, volume_mm3) = rod();
        let surface = crate::geometry::Surface::Cylinder {
            centre: DVec3::ZERO,
            radius: 10.001,
            outward: true,
        };
        shell[1].set_surface(surface);
        assert!(matches!(Solid::proved(&shell, volume_mm3), Err(Error::Inconsistent)));
    }
}

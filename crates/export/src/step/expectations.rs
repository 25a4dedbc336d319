//! What an outside reader must find in a STEP assembly and in the files of its parts.
use super::{Assembly, Instance, Product};
use serde::Serialize;
use solid::Curve;

/// The content of `checks/solids.json`.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct Expectations {
    /// Path of the assembly in the output folder; none if there are parts only.
    pub assembly: Option<String>,
    /// Name of the assembly.
    pub title: String,
    /// The different parts, in the order of the products.
    pub parts: Vec<Part>,
    /// The placed parts, in the order of the instances.
    pub instances: Vec<Placed>,
    /// Pairs of instances, by index, that must touch.
    pub glued: Vec<[usize; 2]>,
}

/// One part and its own file.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct Part {
    /// Name of the product.
    pub name: String,
    /// Number in the cut list.
    pub number: String,
    /// Path of its STEP file in the output folder.
    pub file: String,
    /// Exact volume in mm³.
    pub volume_mm3: f64,
    /// `[least, greatest]` corner of its box in its own frame, in mm.
    pub bounds: [[f64; 3]; 2],
    /// How many faces of each kind it has.
    pub faces: Faces,
    /// How many straight edges.
    pub lines: usize,
    /// How many arcs.
    pub arcs: usize,
    /// Red, green and blue (sRGB).
    pub colour: [u8; 3],
}

/// Faces by kind.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize)]
pub struct Faces {
    /// Flat ones.
    pub plane: usize,
    /// Parts of cylinders.
    pub cylinder: usize,
    /// Parts of cones.
    pub cone: usize,
}

/// One placed part.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct Placed {
    /// Name of the instance.
    pub name: String,
    /// Index of the part.
    pub part: usize,
    /// From the part's frame to the assembly's: the rows of a 3 × 4 matrix, translation (mm) last.
    pub pose: [f64; 12],
}

impl Expectations {
    /// What is expected of an assembly written to the path `file`. `numbers_and_files` gives for
    /// every product its number in the cut list and the path of its own file.
    pub fn new(
        assembly: &Assembly,
        file: Option<&str>,
        numbers_and_files: &[(&str, &str)],
        glued: Vec<[usize; 2]>,
    ) -> Self {
        let parts = assembly.products.iter().zip(numbers_and_files);
        Self {
            assembly: file.map(str::to_owned),
            title: assembly.title.to_owned(),
            parts: parts
                .map(|(product, &(number, file))| Part::new(product, number, file))
                .collect(),
            instances: assembly.instances.iter().map(Placed::new).collect(),
            glued,
        }
    }
}

impl Part {
    /// What is expected of a part with this number in the cut list, whose own file is at `file`.
    pub fn new(product: &Product, number: &str, file: &str) -> Self {
        let brep = product.solid.brep();
        let solid::FaceCounts { plane, cylinder, cone } = brep.face_counts();
        let lines = brep.edges.iter().filter(|edge| edge.curve == Curve::Line).count();
        Self {
            name: product.name.to_owned(),
            number: number.to_owned(),
            file: file.to_owned(),
            volume_mm3: product.solid.volume_mm3(),
            bounds: product.solid.bounds().map(|corner| corner.to_array()),
            faces: Faces { plane, cylinder, cone },
            lines,
            arcs: brep.edges.len() - lines,
            colour: product.colour,
        }
    }
}

impl Placed {
    fn new(instance: &Instance) -> Self {
        let columns = instance.pose.to_cols_array();
        let [x, y, z, t] = [0, 3, 6, 9].map(|k| &columns[k..k + 3]);
        let pose = [0, 1, 2].map(|k| [x[k], y[k], z[k], t[k]]);
        let pose = std::array::from_fn(|k| pose[k / 4][k % 4]);
        Self { name: instance.name.to_owned(), part: instance.product, pose }
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use glam::{DAffine3, dvec3};
    use std::f64::consts::FRAC_PI_2;

    #[test]
    fn poses_are_rows_with_the_translation_last() {
        let pose =
            DAffine3::from_translation(dvec3(1.0, 2.0, 3.0)) * DAffine3::from_rotation_z(FRAC_PI_2);
        let placed = Placed::new(&Instance { product: 0, name: "a", pose });
        let expected = [0., -1., 0., 1., 1., 0., 0., 2., 0., 0., 1., 3.];
        for (found, expected) in placed.pose.iter().zip(expected) {
            assert!((found - expected).abs() < 1e-15, "{:?}", placed.pose);
        }
    }
}

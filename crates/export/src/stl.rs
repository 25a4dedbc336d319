//! Meshes as binary STL, in millimetres.
//!
//! STL knows no unit; the 80 bytes of its header say `millimetres` to whoever looks. The files are
//! read back by `trimesh` in `tests/outside/mesh_judge.py`.

use glam::{DAffine3, Vec3};
use solid::Mesh;
use stl_io::{Normal, Triangle, Vertex};

use crate::single::SingleMesh;

const HEADER_BYTES: usize = 80;

/// The mesh as it lies in its own frame, as the bytes of one STL file.
pub fn write(mesh: &Mesh, name: &str) -> Vec<u8> {
    write_in_pose(mesh, name, &DAffine3::IDENTITY)
}

/// The mesh moved by `pose`, for instance a printed part with its flat face on `z = 0`.
pub fn write_in_pose(mesh: &Mesh, name: &str, pose: &DAffine3) -> Vec<u8> {
    let mesh = SingleMesh::new(mesh, pose);
    let triangles = mesh.triangles.iter().map(|corners| {
        let [a, b, c] = corners.map(|i| mesh.positions[i as usize]);
        // A triangle without an area has no direction; zeros ask the reader to find one.
        let normal = (b - a).as_dvec3().cross((c - a).as_dvec3()).normalize_or_zero().as_vec3();
        Triangle {
            normal: Normal::new((normal + Vec3::ZERO).to_array()),
            vertices: [a, b, c].map(|p| Vertex::new(p.to_array())),
        }
    });
    let mut bytes = Vec::new();
    stl_io::write_stl(&mut bytes, triangles).expect("writing to memory does not fail");
    bytes[..HEADER_BYTES].copy_from_slice(&header(name));
    bytes
}

/// The header: printable ASCII, and nothing that a reader could take for a text STL (`solid`) or
/// for a setting (`COLOR=`).
fn header(name: &str) -> [u8; HEADER_BYTES] {
    let plain = |c: char| if c.is_ascii_graphic() && c != '=' || c == ' ' { c } else { '_' };
    let words: String =
        "sumpwright, unit millimetres: ".chars().chain(name.chars().map(plain)).collect();
    let mut header = [b' '; HEADER_BYTES];
    for (byte, word) in header.iter_mut().zip(words.bytes()) {
        *byte = word;
    }
    header
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::single::tests::{assert_closed, sliced_box};
    use glam::dvec3;

    fn read(bytes: &[u8]) -> stl_io::IndexedMesh {
        stl_io::read_stl(&mut std::io::Cursor::new(bytes)).expect("readable")
    }

    #[test]
    fn what_is_written_reads_back_closed() {
        let thin = sliced_box(dvec3(30.0, 20.0, 1900.0), &[1_000.0, 1_000.000_001]);
        let back = read(&write(&thin, "post"));
        assert!(back.validate().is_ok());
        let triangles: Vec<[u32; 3]> = back
            .faces
            .iter()
            .map(|f| f.vertices.map(|v| u32::try_from(v).expect("small")))
            .collect();
        assert_closed(&triangles);
    }

    #[test]
    fn the_header_says_millimetres_and_fits_any_name() {
        let header = header(&"sø=lid ".repeat(20));
        assert!(header.starts_with(b"sumpwright, unit millimetres: s__lid s__lid"));
        assert!(header.is_ascii());
    }

    #[test]
    fn the_pose_lays_a_part_on_its_printing_face() {
        let mesh = sliced_box(dvec3(30.0, 20.0, 10.0), &[]);
        let upside_down = DAffine3::from_translation(dvec3(0.0, 20.0, 10.0))
            * DAffine3::from_rotation_x(std::f64::consts::PI);
        let back = read(&write_in_pose(&mesh, "box", &upside_down));
        let lowest = back.vertices.iter().map(|v| v.0[2]).fold(f32::INFINITY, f32::min);
        assert!(lowest.abs() < 1e-6);
    }
}

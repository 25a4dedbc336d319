//! truck-meshalgo's stock tessellation of our exact faces, for tests: a second mesher, to hold ours
//! against. (It is not used otherwise: its time grows faster than the number of holes.)
use crate::brep::BrepFace;
use crate::geometry::{Curve, Stretch, Surface};
use crate::plate_shell::shell_of_plate;
use crate::solid::Solid;
use crate::topology::{Shell, glam_of, point, vector};
use crate::turned_shell::shell_of_turned;
use glam::{DVec2, DVec3};
use plate::{Tolerance, arrange, sample};
use std::f64::consts::TAU;
use truck_base::cgmath64::{Point3, Vector3, Zero};
use truck_geotrait::{
    D2, ParameterDivision1D, ParameterDivision2D, ParametricCurve, ParametricSurface,
    ParametricSurface3D, SPHint2D, SearchParameter,
};
use truck_meshalgo::prelude::{CalcVolume, MeshableShape, MeshedShape};

impl ParameterDivision1D for Stretch {
    type Point = Point3;

    fn parameter_division(
        &self,
        (from, to): (f64, f64),
        chord_error: f64,
    ) -> (Vec<f64>, Vec<Point3>) {
        let n: u32 = match self.curve {
            Curve::Line => 1,
            Curve::Arc { centre, sweep } => {
                let turn =
                    2.0 * (1.0 - (chord_error / self.start.distance(centre)).min(0.1)).acos();
                (1..)
                    .find(|&n| f64::from(n) * turn >= sweep.abs())
                    .expect("a finite number of chords")
            }
        };
        let parameters: Vec<f64> =
            (0..=n).map(|k| from + (to - from) * f64::from(k) / f64::from(n)).collect();
        let points = parameters.iter().map(|&t| self.subs(t)).collect();
        (parameters, points)
    }
}

impl Surface {
    /// Parameters are (u, v) on a plane; elsewhere the angle about the axis, turned with the normal,
    /// and the height.
    fn direction(outward: bool, angle: f64) -> DVec2 {
        DVec2::from_angle(if outward { angle } else { -angle })
    }
}

impl ParametricSurface for Surface {
    type Point = Point3;
    type Vector = Vector3;

    fn subs(&self, a: f64, b: f64) -> Point3 {
        point(match *self {
            Self::Plane { origin, u, v } => origin + a * u + b * v,
            Self::Cylinder { centre, radius, outward } => {
                (centre.truncate() + radius * Self::direction(outward, a)).extend(b)
            }
            Self::Cone { centre, radius, slope, outward } => (centre.truncate()
                + (radius + slope * (b - centre.z)) * Self::direction(outward, a))
            .extend(b),
        })
    }

    fn uder(&self, a: f64, b: f64) -> Vector3 {
        let around = |outward: bool, radius: f64| {
            let along = Self::direction(outward, a).perp() * if outward { radius } else { -radius };
            vector(along.extend(0.0))
        };
        match *self {
            Self::Plane { u, .. } => vector(u),
            Self::Cylinder { radius, outward, .. } => around(outward, radius),
            Self::Cone { centre, radius, slope, outward } => {
                around(outward, radius + slope * (b - centre.z))
            }
        }
    }

    fn vder(&self, a: f64, _: f64) -> Vector3 {
        vector(match *self {
            Self::Plane { v, .. } => v,
            Self::Cylinder { .. } => DVec3::Z,
            Self::Cone { slope, outward, .. } => (slope * Self::direction(outward, a)).extend(1.0),
        })
    }

    // The tessellation divides nothing but edges, so it never asks how faces bend.
    fn uuder(&self, _: f64, _: f64) -> Vector3 {
        Vector3::zero()
    }

    fn uvder(&self, _: f64, _: f64) -> Vector3 {
        Vector3::zero()
    }

    fn vvder(&self, _: f64, _: f64) -> Vector3 {
        Vector3::zero()
    }

    fn u_period(&self) -> Option<f64> {
        (!matches!(self, Self::Plane { .. })).then_some(TAU)
    }
}

impl ParametricSurface3D for Surface {}

impl ParameterDivision2D for Surface {
    /// Nothing is added between the edges.
    fn parameter_division(&self, (u, v): ((f64, f64), (f64, f64)), _: f64) -> (Vec<f64>, Vec<f64>) {
        (vec![u.0, u.1], vec![v.0, v.1])
    }
}

impl SearchParameter<D2> for Surface {
    type Point = Point3;

    fn search_parameter<H: Into<SPHint2D>>(&self, p: Point3, _: H, _: usize) -> Option<(f64, f64)> {
        let p = glam_of(p);
        Some(match *self {
            Self::Plane { origin, u, v } => ((p - origin).dot(u), (p - origin).dot(v)),
            Self::Cylinder { centre, outward, .. } | Self::Cone { centre, outward, .. } => {
                let angle = (p - centre).truncate().to_angle();
                (if outward { angle } else { -angle }, p.z)
            }
        })
    }
}

const CHORD_ERROR_MM: f64 = 0.01;

#[track_caller]
fn check(name: &str, shell: &Shell, solid: &Solid) -> bool {
    // Where a floor ends half way up the sides of a round wall, the stock mesher joins those corners
    // right across the arc: parts with such walls are no use here.
    let is_plain = |face: &BrepFace| {
        matches!(face.surface, Surface::Plane { .. }) || face.bounds[0].len() <= 4
    };
    if !solid.brep().faces.iter().all(is_plain) {
        return false;
    }
    let theirs = shell.triangulation(CHORD_ERROR_MM).to_polygon().volume();
    let ours = solid.checked_mesh(CHORD_ERROR_MM).expect("a sound part").volume_mm3();
    let off = (ours - theirs).abs() / solid.volume_mm3();
    assert!(off < 5e-4, "{name}: ours {ours}, theirs {theirs}");
    true
}

#[test]
fn both_meshers_find_the_same_volume() {
    let mut plates = 0;
    for seed in 0..60 {
        let Ok(arrangement) = arrange(&sample::plate(seed), &Tolerance::default()) else {
            continue;
        };
        let Ok(solid) = Solid::of_plate(&arrangement) else { continue };
        let shell = shell_of_plate(&arrangement).expect("made before");
        plates += usize::from(check(&format!("plate {seed}"), &shell, &solid));
    }
    assert!(plates > 20, "{plates}");
    for seed in 0..20 {
        let turned = sample::turned(seed);
        let solid = Solid::of_turned(&turned).expect("a sound body");
        assert!(check(&format!("body {seed}"), &shell_of_turned(&turned), &solid));
    }
}

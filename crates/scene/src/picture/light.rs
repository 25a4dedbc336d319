//! Light and colour: how bright a surface is, and how brightness becomes a byte.
//!
//! All shading is done in linear light. The numbers are chosen for the eye, not measured.

use glam::{Vec3, vec3};

/// Direction to the main light, not normalised: from above, in front, from the left.
const KEY: Vec3 = vec3(-0.42, -0.62, 0.9);
/// What is reflected from straight above and from straight below.
const SKY: [Vec3; 2] = [vec3(1.0, 1.0, 1.0), vec3(0.60, 0.62, 0.63)];

/// From an sRGB byte triple to linear light (IEC 61966-2-1).
pub(super) fn linear(srgb: [u8; 3]) -> Vec3 {
    let channel = |byte: u8| {
        let c = f64::from(byte) / 255.0;
        if c <= 0.040_45 { c / 12.92 } else { libm::pow((c + 0.055) / 1.055, 2.4) }
    };
    glam::DVec3::from(srgb.map(channel)).as_vec3()
}

/// From linear light to sRGB bytes, by a table.
#[derive(Debug)]
pub(super) struct Encoder {
    bytes: Vec<u8>,
}

/// Steps of the encoder's table: fine enough that each byte has its own step even near black, where
/// the curve is steepest (12.92 · 255 bytes per unit).
const STEPS: u16 = 4095;

impl Encoder {
    pub(super) fn new() -> Self {
        let byte = |step: u16| {
            let c = f64::from(step) / f64::from(STEPS);
            let s =
                if c <= 0.003_130_8 { 12.92 * c } else { 1.055 * libm::pow(c, 1.0 / 2.4) - 0.055 };
            super::pixel::byte(s)
        };
        Self { bytes: (0..=STEPS).map(byte).collect() }
    }

    pub(super) fn encode(&self, light: Vec3) -> [u8; 3] {
        let steps = light.clamp(Vec3::ZERO, Vec3::ONE) * f32::from(STEPS) + 0.5;
        [steps.x, steps.y, steps.z].map(|step| self.bytes[super::pixel::index(step)])
    }
}

/// What a mirror shows in the direction `to`: pale from above, greyer from below.
pub(super) fn sky(to_z: f32) -> Vec3 {
    SKY[1].lerp(SKY[0], 0.5 * to_z + 0.5)
}

/// Share of light that a smooth plastic surface reflects, after Schlick (*Comput. Graph. Forum* 13
/// (1994) 233): `F0 + (1 − F0)(1 − c)⁵`. `F0` is 0.04 for acrylic in air (refractive index 1.49);
/// `scale` takes from the rise at grazing sight, where many sheets behind one another turn milky.
pub(super) fn mirrored(cosine: f32, at_right_angle: f32, scale: f32) -> f32 {
    let x = 1.0 - cosine;
    at_right_angle + scale * (x * x) * (x * x) * x
}

/// Light that leaves an opaque surface towards the eye. `normal` and `to_eye` are unit vectors.
pub(super) fn opaque(albedo: Vec3, normal: Vec3, to_eye: Vec3) -> Vec3 {
    let key = KEY.normalize();
    let diffuse = normal.dot(key).max(0.0);
    // Light from the side that the main light does not reach keeps shapes round in the shade.
    let fill = normal.dot(vec3(0.7, -0.35, 0.1)).max(0.0);
    let ambient = 0.37 + 0.17 * normal.z;
    let cosine = normal.dot(to_eye).clamp(0.0, 1.0);
    let half = (key + to_eye).normalize();
    let gloss = power_32(normal.dot(half).max(0.0)) * 0.16;
    let rim = mirrored(cosine, 0.02, 0.35) * 0.5;
    albedo * (ambient + 0.64 * diffuse + 0.10 * fill) + Vec3::splat(gloss + rim)
}

fn power_32(x: f32) -> f32 {
    let x = x * x;
    let x = x * x;
    let x = x * x;
    let x = x * x;
    x * x
}

/// `e^x` from sums, products and bit moves alone, the same on every machine and quicker than a
/// library's; within 2e-6 of the true value for −80 ≤ x ≤ 0.
pub(super) fn exp(x: f32) -> f32 {
    let t = (x * std::f32::consts::LOG2_E).clamp(-126.0, 126.0);
    let whole = t.floor();
    let f = t - whole;
    // Taylor's series of 2^f about 1/2, to the seventh power.
    let u = (f - 0.5) * std::f32::consts::LN_2;
    let series = 1.0
        + u * (1.0
            + u * (0.5
                + u * (1.0 / 6.0 + u * (1.0 / 24.0 + u * (1.0 / 120.0 + u * (1.0 / 720.0))))));
    series * std::f32::consts::SQRT_2 * super::pixel::power_of_two(whole)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn bytes_survive_light_and_back() {
        let encoder = Encoder::new();
        for byte in 0..=255 {
            assert_eq!(encoder.encode(linear([byte; 3])), [byte; 3]);
        }
    }

    #[test]
    fn exp_is_exp() {
        for i in 0..800_u16 {
            let x = -f32::from(i) * 0.1;
            let true_value = libm::exp(f64::from(x));
            assert!((f64::from(exp(x)) / true_value - 1.0).abs() < 1e-5, "exp({x})");
        }
    }
}

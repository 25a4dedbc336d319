//! Water as lumps of mass.

use design::{Basin, Body, Design, Role};
use glam::{DVec2, DVec3};

use super::bodies::{Bodies, Lump};
use crate::place::bounds_of;
use crate::waters::Waters;

/// Density of sea water where none is told, kg/m³: 35 g/kg at 20 °C, rounded up.
const SEA_WATER_KG_M3: f64 = 1025.0;

/// Water in flow, at the higher end of its bands; `None` where levels are not known.
///
/// A body whose mass is known takes room from the water. Any other counts as heavy as the water in its place: it weighs at
/// least that if it stands on the bottom by itself. Guides, doors and socks take no room; that is a little too much water.
pub(super) fn running(design: &Design, waters: &Waters, bodies: &Bodies<'_>) -> Option<Vec<Lump>> {
    let basins = &design.waterworks.basins;
    if waters.basins.is_empty() || waters.basins.len() != basins.len() {
        return None;
    }
    let density = density(waters);
    let levels = waters.basins.iter().map(|levels| levels.running_mm);
    let lumps = basins.iter().zip(levels).flat_map(|(basin, level)| {
        let room = block(basin.min, basin.max, [0.0, level], design.floor_z, density);
        std::iter::once(room).chain(displaced(design, bodies, basin, level, density))
    });
    Some(lumps.collect())
}

/// Water to the rim in all chambers and over all leaves, but not in what is sheet.
pub(super) fn full(design: &Design, waters: &Waters, bodies: &Bodies<'_>) -> Vec<Lump> {
    let basins = &design.waterworks.basins;
    let Some(first) = basins.first() else { return Vec::new() };
    let density = density(waters);
    // Chambers and the spaces between leaves reach from wall to wall together.
    let lo = basins.iter().fold(first.min, |lo, basin| lo.min(basin.min));
    let hi = basins.iter().fold(first.max, |hi, basin| hi.max(basin.max));
    let rim_mm = basins.iter().map(|basin| basin.rim_mm).fold(0.0, f64::max);
    let mut lumps = vec![block(lo, hi, [0.0, rim_mm], design.floor_z, density)];
    let sheet =
        [Role::Leaf, Role::Door, Role::GuideStrip, Role::Ledge, Role::SockHolder, Role::Rim];
    for placed in bodies.of_roles(&sheet) {
        lumps.extend(bodies.filled(placed, -density));
    }
    // The rim covers the walls, too, where there is no water to be taken away.
    for placed in bodies.of_roles(&[Role::Rim]) {
        let [a, b] = bounds_of(design, placed);
        let z = [a.z, b.z].map(|z| z - design.floor_z);
        lumps.push(block(a.truncate(), b.truncate(), z, design.floor_z, density));
        let mut inner = block(lo, hi, z, design.floor_z, density);
        inner.kg = -inner.kg;
        lumps.push(inner);
    }
    for basin in basins {
        lumps.extend(displaced(design, bodies, basin, rim_mm, density));
    }
    lumps
}

fn density(waters: &Waters) -> f64 {
    if waters.density_kg_m3 > 0.0 { waters.density_kg_m3 } else { SEA_WATER_KG_M3 }
}

/// A box of water; heights above the inside of the bottom.
fn block(min: DVec2, max: DVec2, z_mm: [f64; 2], floor_z: f64, density_kg_m3: f64) -> Lump {
    let [low, high] = z_mm;
    let size = (max - min).extend(high - low);
    let middle = 0.5 * (min + max);
    Lump {
        kg: size.element_product() * 1e-9 * density_kg_m3,
        centre: middle.extend(floor_z + 0.5 * (low + high)),
        along_mm: [min.x, max.x],
    }
}

/// What bodies of known mass take from the water of a basin, as negative mass.
fn displaced<'a>(
    design: &'a Design,
    bodies: &'a Bodies<'_>,
    basin: &'a Basin,
    level_mm: f64,
    density_kg_m3: f64,
) -> impl Iterator<Item = Lump> + 'a {
    let known = basin.bodies.iter().filter(|body| bodies.knows(&body.name));
    known.filter_map(move |body| {
        let wet = wet_mm(body, level_mm)?;
        let placed = design.placed.iter().position(|placed| placed.name == body.name)?;
        let [lo, hi] = bounds_of(design, placed);
        let middle = 0.5 * (lo + hi);
        let z = design.floor_z + 0.5 * (wet[0] + wet[1]);
        Some(Lump {
            kg: -body.area_mm2 * (wet[1] - wet[0]) * 1e-9 * density_kg_m3,
            centre: DVec3::new(middle.x, middle.y, z),
            along_mm: [lo.x, hi.x],
        })
    })
}

/// From where to where a body is under water.
fn wet_mm(body: &Body, level_mm: f64) -> Option<[f64; 2]> {
    let [low, high] = body.z_mm;
    (level_mm > low).then(|| [low, high.min(level_mm)])
}

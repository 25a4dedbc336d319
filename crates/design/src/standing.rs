//! What the levels of water at rest say about the design: a return kept too high, a heater that stands
//! dry, a gap that is no bubble trap, sheet that should be measured first.

use findings::Finding;
use params::EquipmentKind;
use units::Length;

use crate::draft::Builder;
use crate::enclosure::Enclosure;
use crate::frame::bounds;
use crate::levels::Standing;
use crate::model::{JointKind, Role};
use crate::spaces::{Layout, Side, Space};
use crate::waterworks::WayKind;

pub(crate) fn check(
    b: &mut Builder<'_>,
    enclosure: &Enclosure,
    layout: &Layout,
    standing: &Standing,
) {
    kept_levels(b, enclosure, layout, standing);
    immersion(b, enclosure, layout, standing);
    underflows(b, layout, standing);
    shelves(b, layout, standing);
    measured(b);
}

fn level_of(layout: &Layout, standing: &Standing, chamber: &str) -> Option<f64> {
    let at = layout.spaces.iter().position(|s| s.is_chamber && s.name == chamber)?;
    standing.levels_mm.get(at).copied()
}

/// One chamber, the return, is kept at a level; it stands within the walls and below what holds back the others.
fn kept_levels(b: &mut Builder<'_>, enclosure: &Enclosure, layout: &Layout, standing: &Standing) {
    let kept: Vec<(&Space, f64)> =
        layout.spaces.iter().filter_map(|s| Some((s, s.kept_level_mm?))).collect();
    let inside = enclosure.inside_height_mm();
    for &(space, level) in &kept {
        let parameter = format!("{}.level", space.parameter);
        if level > inside {
            let message = format!(
                "chamber `{}` would be kept at {level:.0} mm; the walls are {inside:.0} mm high inside",
                space.name
            );
            b.find(
                Finding::fails("level-above-walls", &parameter, message)
                    .with_limit(inside - level, 0.0, "mm")
                    .with_hint("lower `level`"),
            );
        }
        let has_pump = |name: &str| {
            b.file.equipment.iter().any(|e| e.kind == EquipmentKind::Pump && e.chamber == name)
        };
        let other = layout.spaces.iter().find(|s| s.is_chamber && has_pump(&s.name));
        if let (false, Some(other)) = (has_pump(&space.name), other) {
            let message = format!(
                "`level` is for the return chamber, the one that the pump empties; chamber `{}` has no pump, `{}` has",
                space.name, other.name
            );
            b.find(Finding::tight("level-without-pump", &parameter, message).with_hint(
                "give `level` to the return chamber; the others stand at the crest that holds them",
            ));
        }
    }
    if let [_, (second, _), ..] = kept.as_slice() {
        let message = "more than one chamber is kept at a level; crests hold all but the return";
        b.find(
            Finding::fails("two-levels", format!("{}.level", second.parameter), message)
                .with_hint("keep `level` in the return chamber only"),
        );
    }
    for (i, space) in layout.spaces.iter().enumerate().filter(|(_, s)| s.is_chamber) {
        let (level, sill) = (standing.levels_mm[i], standing.sills_mm[i]);
        let by_return = kept.iter().find(|(s, _)| s.name != space.name);
        if let (true, Some((keeper, kept_at))) = (sill > 0.0 && level > sill, by_return) {
            let message = format!(
                "the level kept in `{}`, {kept_at:.0} mm, stands above the {sill:.0} mm that would hold chamber `{}` apart",
                keeper.name, space.name
            );
            b.find(
                Finding::tight("crest-drowned", format!("{}.level", keeper.parameter), message)
                    .with_limit(sill - level, 0.0, "mm")
                    .with_hint("lower `level`, or raise the crests before it"),
            );
        }
    }
}

/// Least water over the underside of a pump or a heater, mm: below this it counts as dry. Common practice;
/// the maker's mark for the least water goes before it.
const LEAST_IMMERSION_MM: f64 = 20.0;

/// Pumps and heaters must not stand dry: a dry heater burns, a dry pump seizes.
fn immersion(b: &mut Builder<'_>, enclosure: &Enclosure, layout: &Layout, standing: &Standing) {
    for (i, thing) in b.file.equipment.iter().enumerate() {
        if !matches!(thing.kind, EquipmentKind::Pump | EquipmentKind::Heater) {
            continue;
        }
        let Some(level) = level_of(layout, standing, &thing.chamber) else { continue };
        let parameter = format!("equipment[{i}].stand");
        let low = thing.stand.to_mm();
        let top = b
            .drafts
            .iter()
            .find(|d| d.role == Role::Equipment && d.parameter == format!("equipment[{i}]"))
            .map_or(low, |d| bounds(&d.shape, &d.pose)[1].z - enclosure.floor_z);
        let water = level - low;
        if water < LEAST_IMMERSION_MM {
            let message = format!(
                "`{}` stands dry or nearly: its underside is at {low:.0} mm, the water of chamber `{}` at {level:.0} mm",
                thing.name, thing.chamber
            );
            b.find(
                Finding::fails("stands-dry", &parameter, message)
                    .with_limit(water, LEAST_IMMERSION_MM, "mm")
                    .with_source(
                        "common practice; the maker's mark for the least water goes before it",
                    )
                    .with_hint("lower `stand`, or put it in a chamber with more water"),
            );
        } else if top > level {
            let message = format!(
                "`{}` reaches {:.0} mm out of the water of chamber `{}`",
                thing.name,
                top - level,
                thing.chamber
            );
            b.find(
                Finding::tight("partly-dry", &parameter, message)
                    .with_limit(level - top, 0.0, "mm")
                    .with_source(
                        "common practice; the maker's mark for the least water goes before it",
                    )
                    .with_hint("mind its mark for the least water, or put it lower"),
            );
        }
    }
}

/// A gap under a leaf keeps bubbles back only where it is under water.
fn underflows(b: &mut Builder<'_>, layout: &Layout, standing: &Standing) {
    for pass in layout.passes.iter().filter(|pass| pass.kind == WayKind::Underflow) {
        let leaf = &pass.leaf;
        let Some(gap) = b.file.leaf.get(leaf).and_then(|leaf| leaf.underflow) else { continue };
        let gap = gap.to_mm();
        let beside = layout.spaces.iter().zip(&standing.levels_mm);
        let level = beside
            .filter(|(space, _)| {
                [Side::Upstream, Side::Downstream].iter().any(|&side| pass.opens_into(space, side))
            })
            .map(|(_, level)| *level)
            .fold(0.0, f64::max);
        if level < gap {
            let message = format!(
                "the gap under leaf `{leaf}` is {} high and the water beside it {}: bubbles pass over the water",
                b.show(gap),
                b.show(level)
            );
            b.find(
                Finding::tight("underflow-not-drowned", format!("leaf.{leaf}.underflow"), message)
                    .with_limit(level - gap, 0.0, "mm")
                    .with_hint("lower `underflow`, or raise the crest behind it"),
            );
        }
    }
}

/// Water should fall into socks, not stand over their shelf.
fn shelves(b: &mut Builder<'_>, layout: &Layout, standing: &Standing) {
    for (i, holder) in b.file.sock_holder.iter().enumerate() {
        let Some(level) = level_of(layout, standing, &holder.chamber) else { continue };
        let clear = holder.height.to_mm() - level;
        if clear < 0.0 {
            let message = format!(
                "the sock holder lies {:.0} mm under the water of chamber `{}`",
                -clear, holder.chamber
            );
            b.find(
                Finding::tight("shelf-under-water", format!("sock_holder[{i}].height"), message)
                    .with_limit(clear, 0.0, "mm")
                    .with_hint("raise the holder, or lower the crest that holds the chamber"),
            );
        }
    }
}

/// Steps and grooves for a sheet that was not measured are made for the thickest that its standard
/// allows, and fit loosely.
fn measured(b: &mut Builder<'_>) {
    let in_groove =
        b.joints.iter().filter(|j| matches!(j.kind, JointKind::Rabbet | JointKind::Dado));
    let mut names: Vec<String> = in_groove.filter_map(|j| b.drafts[j.a].sheet.clone()).collect();
    names.sort();
    names.dedup();
    for name in names {
        let sheet = &b.sheets[&name];
        let slack = sheet.band_mm[1] - sheet.nominal_mm;
        if !sheet.is_measured && slack > MOST_GLUE_GAP_MM {
            let message = format!(
                "sheet `{name}` is not measured: steps and grooves are made for {}, up to {:.1} mm wider than yours may be",
                Length::mm(sheet.band_mm[1]).show(units::System::Metric),
                sheet.band_mm[1] - sheet.band_mm[0]
            );
            let source = format!(
                "{}; gap of capillary cements at most 0.1 mm, common practice",
                sheet.source
            );
            b.find(
                Finding::tight("sheet-not-measured", format!("sheet.{name}.thickness"), message)
                    .with_limit(MOST_GLUE_GAP_MM, slack, "mm")
                    .with_source(source)
                    .with_hint(
                        "measure it with a caliper and give `measured` before anything is cut",
                    ),
            );
        }
    }
}

/// Gap that a capillary cement bridges, mm; common practice.
const MOST_GLUE_GAP_MM: f64 = 0.1;

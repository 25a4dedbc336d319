//! Leaves as elements: their ways, what they leak, and what is open without them.

use design::{Way, WayKind, WayShape};

use super::build::Builder;
use super::parts::Part;
use super::tanks::M_PER_MM;
use crate::gravity::G;
use crate::law::{Fabric, Law, SHARP, Strip, Strips};
use crate::network::Kind;

/// Gap beside a lift-out leaf that water presses on to its guides, mm: our judgement, as for doors. A
/// leaf that rattles leaks more.
const LEAF_GAP_MM: f64 = 0.2;
/// Strips that a round hole is cut into: with eight the discharge of a hole that runs half full is within
/// 1 % of that of sixty-four.
const STRIPS_PER_CIRCLE: usize = 8;
/// Discharge coefficient of combs and slots, thin and narrow: within 0.55 to 0.75 (our judgement of
/// published tests on slit weirs: Aydin, Ger and Hincal, J. Hydraul. Eng. 128 (2002)).
pub(super) const SLOTS: f64 = 0.60;
/// Doubt about what passes a door, as a share: its edge is as thick as its sheet, which at a head of one
/// thickness passes a fifth less than a thin one (our judgement; see [`crate::weir::thick_crest_factor`]).
const DOOR_DOUBT: f64 = 0.15;
/// Discharge coefficient of a clean fine screen by the area that its slots leave free, `h = (Q / (C A))² / (2 g)`: Metcalf &
/// Eddy, *Wastewater Engineering: Treatment and Reuse*, section on fine screens, openings of 0.5 to 6 mm, 0.60 as a usual
/// value (from memory). The rack formula of Kirschmer (1926) is not
/// used: it is for bars that stand through the surface of a channel, not for a plate with slots over an opening. What the
/// opening behind the slots takes besides is left out: with half of it free a tenth of the loss at most, which the doubt
/// of slots covers.
pub(super) const SCREEN: f64 = 0.60;
/// Doubt about what passes a clean strainer, as a share: that of slots; our judgement.
const SCREEN_DOUBT: f64 = 0.12;
/// Less of a way than this is none of it.
const LEAST_SHARE: f64 = 1e-9;
/// Doubt about what passes gaps that nobody has measured, as a share.
const LEAK_DOUBT: f64 = 0.5;

/// Adds all that the leaves in their places leave for water.
pub(super) fn add(b: &mut Builder<'_>) {
    let works = b.works;
    let mut seen: Vec<(&str, usize, usize, usize)> = Vec::new();
    for (index, way) in works.ways.iter().enumerate() {
        if !b.stands(way) {
            continue;
        }
        add_way(b, index, way);
        // Once for each leaf and each pair of basins beside it.
        let here = (way.divider.as_str(), way.place, way.up, way.down);
        let is_edge = matches!(way.kind, WayKind::Crest | WayKind::Comb);
        if way.lifts_out && is_edge && !seen.contains(&here) {
            seen.push(here);
            add_lift_out(b, way);
        }
    }
}

fn add_way(b: &mut Builder<'_>, index: usize, way: &Way) {
    let words = if way.kind == WayKind::Comb { "the slots" } else { way.kind.words() };
    let name = format!("{words} of {}", way.leaf);
    let (kind, law) = match way.shape {
        WayShape::Crest { height_mm, width_mm } => {
            let law = Law::crest(
                height_mm * M_PER_MM,
                width_mm * way.share * M_PER_MM,
                way.sheet_mm * M_PER_MM,
                height_mm * M_PER_MM,
                way.channel_mm * way.share * M_PER_MM,
            );
            (Kind::Crest, law)
        }
        WayShape::Comb { sill_mm, tip_mm, gap_mm, count, width_mm } => {
            #[expect(clippy::cast_precision_loss, reason = "at most a few thousand slots")]
            let slots_mm = gap_mm * count as f64 * way.share;
            let [sill, tip, slots, width] =
                [sill_mm, tip_mm, slots_mm, width_mm * way.share].map(|mm| mm * M_PER_MM);
            (Kind::Slots, Law::Strips(Strips::comb(SLOTS, sill, tip, slots, width)))
        }
        WayShape::Rectangle { bottom_mm, top_mm, width_mm } => {
            (Kind::Opening, rectangle([bottom_mm, top_mm], width_mm * way.share))
        }
        WayShape::Slots { bottom_mm, top_mm, width_mm, count } => {
            #[expect(clippy::cast_precision_loss, reason = "at most a few thousand slots")]
            let count = count as f64 * way.share;
            let [bottom, height, width] =
                [bottom_mm, top_mm - bottom_mm, width_mm].map(|mm| mm * M_PER_MM);
            let n = STRIPS_PER_CIRCLE;
            (
                Kind::Slots,
                Law::Strips(Strips::slot_round_ends(SLOTS, bottom, height, width, count, n)),
            )
        }
        WayShape::Holes { bottom_mm, diameter_mm, spacing_mm, rows, columns } => {
            #[expect(clippy::cast_precision_loss, reason = "at most a few hundred holes")]
            let columns = columns as f64 * way.share;
            let strips: Vec<Strip> = (0..rows)
                .flat_map(|row| {
                    #[expect(clippy::cast_precision_loss, reason = "at most a hundred rows")]
                    let middle_mm = bottom_mm + row as f64 * spacing_mm;
                    let row = Strips::circles(
                        SHARP,
                        middle_mm * M_PER_MM,
                        diameter_mm * M_PER_MM,
                        columns,
                        STRIPS_PER_CIRCLE,
                    );
                    row.strips().to_vec()
                })
                .collect();
            (Kind::Opening, Law::Strips(Strips::new(SHARP, strips)))
        }
        WayShape::Door { bottom_mm, top_mm, width_mm, set_mm, .. } => {
            let set_mm = b.setting.doors.get(&way.leaf).copied().unwrap_or(set_mm);
            add_door_parts(b, way);
            let law = rectangle([set_mm.max(bottom_mm), top_mm], width_mm * way.share);
            (Kind::Opening, law.with_doubt(DOOR_DOUBT))
        }
    };
    let part = |is_strained| Part::Way { way: index, kind: way.kind, is_strained };
    let between = [way.up, way.down];
    let Some((clear, strained)) = strained(way, &law) else {
        return b.add(name, kind, between, law, 1.0, part(false));
    };
    let behind = format!("{name} behind its strainer");
    if let Some(clear) = clear {
        b.add(name, kind, between, clear, 1.0, part(false));
    }
    b.add(behind, Kind::Slots, between, strained, 1.0, part(true));
}

/// What of an opening no strainer covers, if any, and what passes those in it; `None` without strainers. Each takes its
/// share of the width at every height.
fn strained(way: &Way, law: &Law) -> Option<(Option<Law>, Law)> {
    let Law::Strips(strips) = law else { return None };
    if way.strainers.is_empty() {
        return None;
    }
    let covered = way.strainers.iter().map(|strainer| strainer.of_way).sum::<f64>().min(1.0);
    let free = way.strainers.iter().map(|s| s.of_way * s.free).sum::<f64>().min(covered);
    let share = |cd: f64, share: f64| {
        let part = |strip: &Strip| Strip { width_m: strip.width_m * share, ..*strip };
        Strips::new(cd, strips.strips().iter().map(part).collect())
    };
    let clear = 1.0 - covered;
    let clear = (clear > LEAST_SHARE)
        .then(|| Law::Strips(share(strips.cd, clear)).with_doubt(strips.doubt));
    Some((clear, Law::Strips(share(SCREEN, free)).with_doubt(SCREEN_DOUBT)))
}

/// A rectangular opening with sharp edges; nothing where its upper edge lies below its lower one.
fn rectangle([bottom_mm, top_mm]: [f64; 2], width_mm: f64) -> Law {
    let top_mm = top_mm.max(bottom_mm);
    Law::rectangle(bottom_mm * M_PER_MM, top_mm * M_PER_MM, width_mm * M_PER_MM)
}

/// The opening without its door, with the door at its highest, and what the door leaks.
fn add_door_parts(b: &mut Builder<'_>, way: &Way) {
    let WayShape::Door { bottom_mm, top_mm, width_mm, highest_mm, leak_gap_mm, lap_mm, .. } =
        way.shape
    else {
        return;
    };
    let (leaf, between, width_mm) = (&way.leaf, [way.up, way.down], width_mm * way.share);
    let off = rectangle([bottom_mm, top_mm], width_mm);
    let part = Part::DoorOff { leaf: leaf.clone() };
    b.add(
        format!("the opening of {leaf} without its door"),
        Kind::Opening,
        between,
        off,
        0.0,
        part,
    );
    let shut = rectangle([highest_mm, top_mm], width_mm);
    let part = Part::DoorShut { leaf: leaf.clone() };
    b.add(format!("the door of {leaf} at its highest"), Kind::Opening, between, shut, 0.0, part);
    let leak = seepage(b, leak_gap_mm, lap_mm, [bottom_mm, top_mm], width_mm);
    let part = Part::DoorLeak { leaf: leaf.clone() };
    b.add(format!("the leak of the door of {leaf}"), Kind::Opening, between, leak, 1.0, part);
}

/// What passes a lift-out leaf beside its guides and above them, and all that is open without it.
fn add_lift_out(b: &mut Builder<'_>, way: &Way) {
    let (divider, place, between) = (way.divider.clone(), way.place, [way.up, way.down]);
    let width_mm = way.channel_mm * way.share;
    let guided_mm = way.free_ends.map_or(way.top_mm, |free| free.from_mm.min(way.top_mm));
    let leak = seepage(b, LEAF_GAP_MM, way.sheet_mm, [0.0, guided_mm], width_mm);
    let part = Part::LeafLeak { divider: divider.clone(), place };
    b.add(format!("the leak beside {}", way.leaf), Kind::Opening, between, leak, 1.0, part.clone());
    if let Some(free) = way.free_ends {
        // Nothing presses on the ends there: all of their play is open.
        let gap = Gap {
            gap_mm: free.gap_mm,
            way_through_mm: way.sheet_mm,
            viscosity_m2_s: b.viscosity_m2_s,
        };
        let [from, top] = [guided_mm, way.top_mm].map(|mm| mm * M_PER_MM);
        let law = gap.law(from, top, 2.0 * way.share, 0.0);
        let name = format!("the free ends of {}", way.leaf);
        b.add(name, Kind::Opening, between, law, 1.0, part);
    }
    let out = Law::rectangle(0.0, f64::INFINITY, width_mm * M_PER_MM);
    let part = Part::LeafOut { divider, place };
    b.add(format!("the way without {}", way.leaf), Kind::Opening, between, out, 0.0, part);
}

/// What creeps through a narrow gap: two upright ones as high as told and a level one below.
fn seepage(
    b: &Builder<'_>,
    gap_mm: f64,
    way_through_mm: f64,
    [bottom_mm, top_mm]: [f64; 2],
    level_mm: f64,
) -> Law {
    let gap = Gap { gap_mm, way_through_mm, viscosity_m2_s: b.viscosity_m2_s };
    let [bottom, top, level] = [bottom_mm, top_mm.max(bottom_mm), level_mm].map(|mm| mm * M_PER_MM);
    gap.law(bottom, top, 2.0, level)
}

/// A gap between two sheets that nobody meant.
pub(super) struct Gap {
    pub(super) gap_mm: f64,
    pub(super) way_through_mm: f64,
    pub(super) viscosity_m2_s: f64,
}

/// Head at which it is decided how water passes a gap, m: a usual one between two chambers.
const GAP_HEAD_M: f64 = 0.1;

impl Gap {
    /// What passes it: over `upright` times the height from `bottom` to `top`, and over `level` along the
    /// bottom, m. A narrow gap is a laminar crack, a wide one an orifice; the lesser of both at a usual
    /// head is taken.
    pub(super) fn law(&self, bottom: f64, top: f64, upright: f64, level: f64) -> Law {
        let conductance = self.conductance();
        let width = self.gap_mm * M_PER_MM;
        if conductance * GAP_HEAD_M <= SHARP * width * (2.0 * G * GAP_HEAD_M).sqrt() {
            let mut law = Fabric::new(bottom, top, upright, level, conductance);
            law.doubt = LEAK_DOUBT;
            return Law::Fabric(law);
        }
        let strips = vec![
            Strip { z0_m: bottom, z1_m: top, width_m: upright * width },
            Strip { z0_m: bottom, z1_m: bottom + width, width_m: level },
        ];
        Law::Strips(Strips::new(SHARP, strips)).with_doubt(LEAK_DOUBT)
    }

    /// Discharge per length of gap and head, m/s.
    ///
    /// Laminar flow between parallel plates, `q = g w³ / (12 ν L) · Δh`, with `w` the gap, `L` the way
    /// through it. Source: Batchelor, *An Introduction to Fluid Dynamics* (1967), 4.2. Losses at the mouths
    /// are left out, so it leaks rather too much.
    fn conductance(&self) -> f64 {
        let [w, l] = [self.gap_mm, self.way_through_mm].map(|mm| mm * M_PER_MM);
        G * (w * w * w) / (12.0 * self.viscosity_m2_s * l)
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    /// `0.61 w √(2 g h)` and the laminar formula by hand at 0.25 m of head, 1 m of gap, 8 mm through.
    #[test]
    fn narrow_gaps_creep_and_wide_ones_run() {
        let flow = |gap_mm: f64| {
            let gap = Gap { gap_mm, way_through_mm: 8.0, viscosity_m2_s: 0.95e-6 };
            gap.law(0.0, 0.0, 0.0, 1.0).flow(0.25, -1.0, 0.0).q * 3.6e6
        };
        assert!((flow(0.1) - 96.8).abs() < 0.5, "{}", flow(0.1));
        assert!((flow(1.0) - 4850.0).abs() < 20.0, "{}", flow(1.0));
    }

    /// `0.61 w h √(2 g Δh)` by hand: two ends of 0.2 m, 1 mm open, drowned, 25 mm of head between.
    #[test]
    fn free_ends_of_a_leaf_let_hundreds_of_litres_past() {
        let gap = Gap { gap_mm: 1.0, way_through_mm: 8.0, viscosity_m2_s: 0.95e-6 };
        let flow = gap.law(0.1, 0.3, 2.0, 0.0).flow(0.325, 0.3, 0.0).q * 3.6e6;
        assert!((flow - 615.1).abs() < 1.0, "{flow}");
    }
}

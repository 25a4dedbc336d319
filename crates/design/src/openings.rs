//! Openings of a leaf: their contours, the sheet that must be left around them, the room of a door.

use findings::Finding;
use glam::{DVec2, dvec2};
use params::{Opening, Slots};
use plate::{Contour, Cut};

use crate::door;
use crate::draft::Builder;
use crate::leaf::{Composer, LeafPass, LeafShape};
use crate::waterworks::{WayKind, WayShape};

/// Room that something takes in a leaf.
#[derive(Clone, Debug)]
pub(crate) struct Feature {
    pub(crate) kind: WayKind,
    pub(crate) parameter: String,
    pub(crate) lo: DVec2,
    pub(crate) hi: DVec2,
}

/// Least sheet between two openings, mm; common practice.
const LEAST_LAND_MM: f64 = 4.0;
/// An opening that leaves less than this to an edge breaks out of it, mm; common practice.
const LEAST_EDGE_MM: f64 = 1.0;

/// Cuts an opening into a leaf.
pub(crate) fn add(
    b: &mut Builder<'_>,
    leaf: &Composer<'_>,
    shape: &mut LeafShape,
    opening: &Opening,
    parameter: &str,
) {
    let middle = 0.5 * leaf.place.length_mm;
    let (contours, kind, parameter) = match opening {
        Opening::Letterbox(o) => {
            let parameter = format!("{parameter}.letterbox");
            let [half, low, height] = [o.width * 0.5, o.bottom, o.height].map(units::Length::to_mm);
            let (field, narrowest) =
                if height < 2.0 * half { ("height", height) } else { ("width", 2.0 * half) };
            check_cutter(b, leaf.sheet, &format!("{parameter}.{field}"), narrowest);
            let x = middle + o.offset.to_mm();
            let r = leaf.corner.min(0.5 * narrowest);
            let contour =
                Contour::rounded_rectangle(dvec2(x - half, low), dvec2(x + half, low + height), r);
            (vec![contour], WayKind::Letterbox, parameter)
        }
        Opening::Slots(o) => {
            let parameter = format!("{parameter}.slots");
            check_cutter(b, leaf.sheet, &format!("{parameter}.width"), o.width.to_mm());
            (slots(leaf, o, middle), WayKind::Slots, parameter)
        }
        // Round holes are drilled, however wide the cutter is.
        Opening::Holes(o) => (holes(o, middle), WayKind::Holes, format!("{parameter}.holes")),
    };
    let boxes = contours.iter().filter_map(Contour::bounds);
    let Some([lo, hi]) = boxes.reduce(|a, b| [a[0].min(b[0]), a[1].max(b[1])]) else {
        let message = format!("no slot fits leaf `{}`", leaf.name);
        b.find(
            Finding::fails("opening-does-not-fit", parameter, message)
                .with_hint("make the slots or the gaps narrower, or `offset` smaller"),
        );
        return;
    };
    check_edges(b, leaf, kind, &parameter, [lo, hi]);
    shape.features.push(Feature { kind, parameter, lo, hi });
    let way = way_shape(opening, contours.len(), [lo, hi]);
    shape.plate.cuts.extend(contours.into_iter().map(Cut::through));
    shape.passes.push(LeafPass { across_mm: [lo.x, hi.x], sill_mm: lo.y, kind, shape: way });
}

/// What an opening of `count` contours within these corners is to water.
fn way_shape(opening: &Opening, count: usize, [lo, hi]: [DVec2; 2]) -> WayShape {
    match opening {
        Opening::Letterbox(_) => {
            WayShape::Rectangle { bottom_mm: lo.y, top_mm: hi.y, width_mm: hi.x - lo.x }
        }
        Opening::Slots(o) => {
            WayShape::Slots { bottom_mm: lo.y, top_mm: hi.y, width_mm: o.width.to_mm(), count }
        }
        Opening::Holes(o) => WayShape::Holes {
            bottom_mm: o.bottom.to_mm(),
            diameter_mm: o.diameter.to_mm(),
            spacing_mm: o.spacing.to_mm(),
            rows: o.rows as usize,
            columns: o.columns as usize,
        },
    }
}

/// A row of slots about its middle, as many as wanted or as fit with a sheet's thickness beside them.
fn slots(leaf: &Composer<'_>, o: &Slots, middle: f64) -> Vec<Contour> {
    let [width, gap, low, height] = [o.width, o.gap, o.bottom, o.height].map(units::Length::to_mm);
    let (middle, [a, c]) = (middle + o.offset.to_mm(), leaf.place.clear());
    let half_room = (middle - a).min(c - middle) - leaf.sheet.nominal_mm;
    #[expect(
        clippy::cast_possible_truncation,
        clippy::cast_sign_loss,
        reason = "clamped to at most a thousand"
    )]
    let fitting = ((2.0 * half_room + gap) / (width + gap)).floor().clamp(0.0, 1000.0) as u32;
    let count = o.count.unwrap_or(fitting);
    let r = 0.5 * width;
    let first = middle - 0.5 * (f64::from(count) * (width + gap) - gap) + r;
    (0..count)
        .map(|k| first + f64::from(k) * (width + gap))
        .map(|x| {
            if height > width + ROUND_MM {
                Contour::slot(dvec2(x, low + r), dvec2(x, low + height - r), r)
            } else {
                Contour::circle(dvec2(x, low + r), r)
            }
        })
        .collect()
}

/// A slot that is longer than wide by less than this is a round hole, mm.
pub(crate) const ROUND_MM: f64 = 1e-3;

fn holes(o: &params::Holes, middle: f64) -> Vec<Contour> {
    let [d, step, low] = [o.diameter, o.spacing, o.bottom].map(units::Length::to_mm);
    let first = middle + o.offset.to_mm() - 0.5 * f64::from(o.columns - 1) * step;
    (0..o.rows)
        .flat_map(|row| (0..o.columns).map(move |column| (row, column)))
        .map(|(row, column)| {
            Contour::circle(
                dvec2(first + f64::from(column) * step, low + f64::from(row) * step),
                0.5 * d,
            )
        })
        .collect()
}

/// The opening of a door lies in the leaf; nothing else lies where the door moves.
pub(crate) fn reserve_door(
    b: &mut Builder<'_>,
    leaf: &Composer<'_>,
    shape: &mut LeafShape,
    door: &params::Door,
) {
    let parameter = format!("leaf.{}.door", leaf.name);
    check_edges(b, leaf, WayKind::Door, &parameter, door::opening(door, leaf.place.length_mm));
    let [lo, hi] = door::travel(door, leaf.place.length_mm);
    shape.features.push(Feature { kind: WayKind::Door, parameter, lo, hi });
}

/// What is milled cannot be narrower than the cutter of its sheet.
pub(crate) fn check_cutter(
    b: &mut Builder<'_>,
    sheet: &crate::Sheet,
    parameter: &str,
    width_mm: f64,
) {
    let tool = b.file.cutting_of(Some(&sheet.name)).cut_width().to_mm();
    if width_mm >= tool {
        return;
    }
    let message =
        format!("a cutter of {} cannot cut an opening {} wide", b.show(tool), b.show(width_mm));
    b.find(
        Finding::fails("slot-too-narrow", parameter, message)
            .with_limit(width_mm, tool, "mm")
            .with_hint("widen it, or give the cutter's diameter in `cutting.tool` (a laser's is about 0.2 mm)"),
    );
}

/// Openings of a leaf leave sheet between them.
pub(crate) fn check_apart(b: &mut Builder<'_>, leaf: &str, features: &[Feature]) {
    for (i, one) in features.iter().enumerate() {
        for other in &features[i + 1..] {
            let gap = (other.lo - one.hi).max(one.lo - other.hi).max_element();
            if gap >= LEAST_LAND_MM {
                continue;
            }
            let pair = format!("{} and {} of leaf `{leaf}`", one.kind.words(), other.kind.words());
            let message = if gap < 0.0 {
                format!("{pair} run into each other by {}", b.show(-gap))
            } else {
                format!("{pair} leave {} of sheet between them", b.show(gap))
            };
            b.find(
                Finding::fails("openings-too-close", &other.parameter, message)
                    .with_limit(gap, LEAST_LAND_MM, "mm")
                    .with_source("common practice")
                    .with_hint(format!("move one of them; the other is `{}`", one.parameter)),
            );
        }
    }
}

/// An opening keeps clear of the guides, the lower edge and the upper edge.
pub(crate) fn check_edges(
    b: &mut Builder<'_>,
    leaf: &Composer<'_>,
    kind: WayKind,
    parameter: &str,
    [lo, hi]: [DVec2; 2],
) {
    let [a, c] = leaf.place.clear();
    let Some([across, bottom, height]) = fields(kind) else { return };
    let what = kind.words();
    // An opening that runs out below would leave knife edges beside its round corners.
    let below = lo.y - leaf.lower_edge_mm();
    let lands = [
        (lo.x - a, format!("beside {what} at its near end"), across),
        (c - hi.x, format!("beside {what} at its far end"), across),
        (below, format!("below {what}"), bottom),
        (leaf.whole_below_mm() - hi.y, format!("above {what}"), height),
    ];
    let least = leaf.sheet.nominal_mm;
    for (land, place, field) in lands {
        if land >= least {
            continue;
        }
        let message = if land < 0.0 {
            format!("leaf `{}` is {} too small {place}", leaf.name, b.show(-land))
        } else {
            format!(
                "leaf `{}` keeps {} of sheet {place}; at least its thickness, {}, is wanted",
                leaf.name,
                b.show(land),
                b.show(least)
            )
        };
        let parameter = format!("{parameter}.{field}");
        let finding = if land < LEAST_EDGE_MM {
            Finding::fails("opening-outside-leaf", parameter, message)
        } else {
            Finding::tight("opening-near-edge", parameter, message)
        };
        let hint = if field == across {
            format!("change `{field}` or `offset`")
        } else if field == bottom {
            format!("raise `{field}`; a gap along the bottom is the leaf's `underflow`")
        } else {
            format!("change `{field}`")
        };
        b.find(
            finding.with_limit(land, least, "mm").with_source("common practice").with_hint(hint),
        );
    }
}

/// The fields that set an opening's extent across the leaf, its lower end and its upper end.
fn fields(kind: WayKind) -> Option<[&'static str; 3]> {
    match kind {
        WayKind::Letterbox | WayKind::Door => Some(["width", "bottom", "height"]),
        WayKind::Slots => Some(["count", "bottom", "height"]),
        WayKind::Holes => Some(["columns", "bottom", "rows"]),
        WayKind::Crest | WayKind::Comb | WayKind::Underflow | WayKind::FingerHoles => None,
    }
}

//! A leaf's shape: composed from its mount, crest and openings; and the ways it leaves for water.

use findings::Finding;
use glam::{DAffine3, DVec2, dvec2};
use params::{Leaf, Mount, Opening, Teeth};
use plate::{Contour, Cut, Face, Plate};

use crate::draft::Builder;
use crate::model::Sheet;

/// What a leaf must know of its place. Its own frame: x along the divider from the near wall's face,
/// y upwards from the bottom.
#[derive(Clone, Copy, Debug)]
pub(crate) struct LeafPlace {
    /// Clear distance between the walls, mm.
    pub(crate) length_mm: f64,
    /// From each wall's face to the leaf's end, mm; negative in a groove.
    pub(crate) ends_mm: [f64; 2],
    /// How far guides cover the leaf from each wall's face, mm.
    pub(crate) covers_mm: [f64; 2],
    /// Width and height of a notch in the lower corners, mm.
    pub(crate) notch_mm: [f64; 2],
    /// Height of the walls' upper edge above the bottom, mm.
    pub(crate) inside_height_mm: f64,
    /// Which face looks downstream.
    pub(crate) downstream: Face,
    pub(crate) pose: DAffine3,
}

impl LeafPlace {
    /// From where to where water can pass, clear of the guides.
    pub(crate) fn clear(&self) -> [f64; 2] {
        [self.covers_mm[0], self.length_mm - self.covers_mm[1]]
    }

    fn outer(&self) -> [f64; 2] {
        [self.ends_mm[0], self.length_mm - self.ends_mm[1]]
    }
}

/// A way for water, in the leaf's own frame.
#[derive(Clone, Debug)]
pub(crate) struct LeafPass {
    pub(crate) across_mm: [f64; 2],
    pub(crate) sill_mm: f64,
    pub(crate) what: &'static str,
}

/// Room that an opening takes in a leaf.
#[derive(Clone, Debug)]
pub(crate) struct Feature {
    pub(crate) what: &'static str,
    pub(crate) parameter: String,
    pub(crate) lo: DVec2,
    pub(crate) hi: DVec2,
}

pub(crate) struct LeafShape {
    pub(crate) plate: Plate,
    pub(crate) passes: Vec<LeafPass>,
    features: Vec<Feature>,
}

/// Radius of finger holes and size of the ears that carry them, mm; common practice for a fingertip.
const FINGER_RADIUS_MM: f64 = 12.5;
const EAR_WIDTH_MM: f64 = 45.0;
const EAR_HEIGHT_MM: f64 = 40.0;
/// Least sheet between two openings, mm; common practice.
const LEAST_LAND_MM: f64 = 4.0;
/// Clear of the guide, so that a foot stands beside it.
const FOOT_MM: f64 = 12.0;

pub(crate) fn compose(
    b: &mut Builder<'_>,
    name: &str,
    spec: &Leaf,
    sheet: &Sheet,
    place: &LeafPlace,
) -> LeafShape {
    let parts = Composer { name, spec, sheet, place, corner: b.inner_corner_mm(sheet) };
    parts.check_height(b);
    let mut shape = LeafShape {
        plate: Plate::new(parts.outline(b), sheet.thickness_mm()),
        passes: Vec::new(),
        features: Vec::new(),
    };
    parts.underflow(&mut shape);
    parts.crest(b, &mut shape);
    for (i, opening) in spec.openings.iter().enumerate() {
        parts.opening(b, &mut shape, opening, &format!("leaf.{name}.openings[{i}]"));
    }
    if let Some(door) = &spec.door {
        parts.door(b, &mut shape, door);
    }
    if parts.has_ears() || parts.has_finger_holes() {
        parts.finger_holes(&mut shape);
    }
    parts.check_apart(b, &shape.features);
    shape
}

struct Composer<'a> {
    name: &'a str,
    spec: &'a Leaf,
    sheet: &'a Sheet,
    place: &'a LeafPlace,
    corner: f64,
}

impl Composer<'_> {
    fn crest_mm(&self) -> f64 {
        self.spec.crest.height.to_mm()
    }

    fn is_lift_out(&self) -> bool {
        self.spec.mount == Mount::LiftOut
    }

    fn wants_handles(&self) -> bool {
        self.spec.finger_holes.unwrap_or(self.is_lift_out())
    }

    /// Whether water passes below the upper edge, so that finger holes fit under it.
    fn passes_below(&self) -> bool {
        !self.spec.openings.is_empty() || self.spec.door.is_some()
    }

    fn has_ears(&self) -> bool {
        self.wants_handles() && !self.passes_below()
    }

    fn has_finger_holes(&self) -> bool {
        self.wants_handles() && self.passes_below()
    }

    fn top_mm(&self) -> f64 {
        self.crest_mm() + if self.has_ears() { EAR_HEIGHT_MM } else { 0.0 }
    }

    fn check_height(&self, b: &mut Builder<'_>) {
        let (top, inside) = (self.top_mm(), self.place.inside_height_mm);
        if top > inside {
            let ears = if self.has_ears() {
                format!(" with ears for finger holes ({EAR_HEIGHT_MM:.0} mm)")
            } else {
                String::new()
            };
            let message = format!(
                "leaf `{}` is {top:.1} mm high{ears}; the walls are {inside:.1} mm high inside",
                self.name
            );
            b.find(
                Finding::fails(
                    "leaf-too-high",
                    format!("leaf.{}.crest.height", self.name),
                    message,
                )
                .with_limit(inside - top, 0.0, "mm")
                .with_hint(if self.has_ears() {
                    "lower the crest, or set `finger_holes = false`"
                } else {
                    "lower the crest"
                }),
            );
        }
    }

    /// Where the crest begins and ends: clear of guides and ears.
    fn crest_span(&self) -> [f64; 2] {
        if !self.has_ears() {
            return self.place.clear();
        }
        let [a, c] = self.place.clear();
        [
            a.max(self.place.ends_mm[0] + EAR_WIDTH_MM),
            c.min(self.place.length_mm - self.place.ends_mm[1] - EAR_WIDTH_MM),
        ]
    }

    fn outline(&self, b: &Builder<'_>) -> Contour {
        let [left, right] = self.place.outer();
        let eased = if self.is_lift_out() { b.file.cutting.outer_corner.to_mm() } else { 0.0 };
        let mut corners: Vec<(DVec2, f64)> = Vec::new();
        self.lower_edge(&mut corners, left, right);
        let (h, top) = (self.crest_mm(), self.top_mm());
        corners.push((dvec2(right, top), eased));
        if self.has_ears() {
            let [a, c] = self.crest_span();
            let r = self.corner.min(0.4 * EAR_HEIGHT_MM);
            corners.extend([
                (dvec2(c, top), eased),
                (dvec2(c, h), r),
                (dvec2(a, h), r),
                (dvec2(a, top), eased),
            ]);
        }
        corners.push((dvec2(left, top), eased));
        Contour::rounded_polygon(&corners)
    }

    /// The lower edge from left to right: notches for the stops of printed guides, feet beside an underflow gap.
    fn lower_edge(&self, corners: &mut Vec<(DVec2, f64)>, left: f64, right: f64) {
        let gap = self.spec.underflow.map(units::Length::to_mm);
        if let (Some(gap), false) = (gap, self.is_lift_out()) {
            corners.extend([(dvec2(left, gap), 0.0), (dvec2(right, gap), 0.0)]);
            return;
        }
        let [notch, rise] = self.place.notch_mm;
        if notch > 0.0 {
            corners.extend([
                (dvec2(left, rise), 0.0),
                (dvec2(left + notch, rise), 0.0),
                (dvec2(left + notch, 0.0), 0.0),
            ]);
        } else {
            corners.push((dvec2(left, 0.0), 0.0));
        }
        if let Some(gap) = gap {
            let [a, c] = self.feet();
            let r = self.corner.min(0.8 * gap);
            corners.extend([
                (dvec2(a, 0.0), 0.0),
                (dvec2(a, gap), r),
                (dvec2(c, gap), r),
                (dvec2(c, 0.0), 0.0),
            ]);
        }
        if notch > 0.0 {
            corners.extend([
                (dvec2(right - notch, 0.0), 0.0),
                (dvec2(right - notch, rise), 0.0),
                (dvec2(right, rise), 0.0),
            ]);
        } else {
            corners.push((dvec2(right, 0.0), 0.0));
        }
    }

    /// Inner sides of the feet of a lift-out leaf.
    fn feet(&self) -> [f64; 2] {
        let [a, c] = self.place.clear();
        [a + FOOT_MM, c - FOOT_MM]
    }

    fn underflow(&self, shape: &mut LeafShape) {
        if self.spec.underflow.is_some() {
            let across_mm = if self.is_lift_out() { self.feet() } else { self.place.clear() };
            shape.passes.push(LeafPass {
                across_mm,
                sill_mm: 0.0,
                what: "the gap under the lower edge",
            });
        }
    }

    fn crest(&self, b: &mut Builder<'_>, shape: &mut LeafShape) {
        let span = self.crest_span();
        match self.spec.crest.teeth {
            None => shape.passes.push(LeafPass {
                across_mm: span,
                sill_mm: self.crest_mm(),
                what: "the crest",
            }),
            Some(teeth) => self.comb(b, shape, &teeth, span),
        }
    }

    /// Slots from the upper edge down, their lower ends round, as many as leave a whole tooth at either end.
    fn comb(&self, b: &mut Builder<'_>, shape: &mut LeafShape, teeth: &Teeth, span: [f64; 2]) {
        let [tooth, gap, depth] = [teeth.width, teeth.gap, teeth.depth].map(units::Length::to_mm);
        let parameter = format!("leaf.{}.crest.teeth", self.name);
        let tool = b.file.cutting.tool.to_mm();
        if gap < tool {
            let message = format!("a cutter of {tool:.1} mm cannot cut slots {gap:.1} mm wide");
            b.find(
                Finding::fails("slot-too-narrow", format!("{parameter}.gap"), message)
                    .with_limit(gap, tool, "mm")
                    .with_hint("widen `gap`, or give the cutter's diameter in `cutting.tool` (a laser's is about 0.2 mm)"),
            );
        }
        let width = span[1] - span[0];
        let count = ((width - tooth) / (tooth + gap)).floor();
        if count < 1.0 || depth <= gap {
            let message = format!(
                "no slot {gap:.1} mm wide and {depth:.1} mm deep fits a crest {width:.0} mm long with teeth of {tooth:.1} mm"
            );
            b.find(
                Finding::fails("comb-does-not-fit", parameter, message)
                    .with_hint("make the slots deeper than wide, and teeth and gaps narrower"),
            );
            return;
        }
        let first = 0.5 * (span[0] + span[1]) - 0.5 * (count * (tooth + gap) - tooth);
        let sill = self.crest_mm() - depth;
        let mut left = first;
        #[expect(
            clippy::cast_possible_truncation,
            clippy::cast_sign_loss,
            reason = "at most a few thousand, positive"
        )]
        for _ in 0..count as usize {
            shape.plate.cuts.push(Cut::through(open_slot(
                [left, left + gap],
                sill,
                self.crest_mm() + 5.0,
            )));
            left += tooth + gap;
        }
        shape.passes.push(LeafPass {
            across_mm: [first, left - tooth],
            sill_mm: sill,
            what: "the slots of the comb",
        });
    }

    fn opening(
        &self,
        b: &mut Builder<'_>,
        shape: &mut LeafShape,
        opening: &Opening,
        parameter: &str,
    ) {
        let middle = 0.5 * self.place.length_mm;
        let (contours, what, parameter) = match opening {
            Opening::Letterbox(o) => {
                let (half, low) = (0.5 * o.width.to_mm(), o.bottom.to_mm());
                let x = middle + o.offset.to_mm();
                let (lo, hi) = (dvec2(x - half, low), dvec2(x + half, low + o.height.to_mm()));
                let r = self.corner.min(0.5 * (hi - lo).min_element());
                (
                    vec![Contour::rounded_rectangle(lo, hi, r)],
                    "the letterbox",
                    format!("{parameter}.letterbox"),
                )
            }
            Opening::Slots(o) => (self.slots(o, middle), "the slots", format!("{parameter}.slots")),
            Opening::Holes(o) => (holes(o, middle), "the holes", format!("{parameter}.holes")),
        };
        let Some([lo, hi]) = bounds(&contours) else {
            let message = format!("no slot fits leaf `{}`", self.name);
            b.find(
                Finding::fails("opening-does-not-fit", parameter, message)
                    .with_hint("make the slots or the gaps narrower"),
            );
            return;
        };
        self.check_opening(b, what, &parameter, lo, hi);
        self.check_cutter(b, opening, &parameter);
        shape.features.push(Feature { what, parameter, lo, hi });
        shape.plate.cuts.extend(contours.into_iter().map(Cut::through));
        shape.passes.push(LeafPass { across_mm: [lo.x, hi.x], sill_mm: lo.y, what });
    }

    /// What is not a round hole cannot be narrower than the cutter; round holes are drilled.
    fn check_cutter(&self, b: &mut Builder<'_>, opening: &Opening, parameter: &str) {
        let (narrow, field) = match opening {
            Opening::Letterbox(o) => (o.height.to_mm().min(o.width.to_mm()), "height"),
            Opening::Slots(o) => (o.width.to_mm(), "width"),
            Opening::Holes(_) => return,
        };
        let tool = b.file.cutting.tool.to_mm();
        if narrow < tool {
            let message =
                format!("a cutter of {tool:.1} mm cannot cut an opening {narrow:.1} mm wide");
            b.find(
                Finding::fails("slot-too-narrow", format!("{parameter}.{field}"), message)
                    .with_limit(narrow, tool, "mm")
                    .with_hint("widen it, or give the cutter's diameter in `cutting.tool` (a laser's is about 0.2 mm)"),
            );
        }
    }

    fn slots(&self, o: &params::Slots, middle: f64) -> Vec<Contour> {
        let [width, gap, low, height] =
            [o.width, o.gap, o.bottom, o.height].map(units::Length::to_mm);
        let [a, c] = self.place.clear();
        let room = c - a - 2.0 * self.sheet.nominal_mm + gap;
        #[expect(
            clippy::cast_possible_truncation,
            clippy::cast_sign_loss,
            reason = "clamped to at most a thousand"
        )]
        let fitting = (room / (width + gap)).floor().clamp(0.0, 1000.0) as u32;
        let count = o.count.unwrap_or(fitting);
        let r = 0.5 * width;
        let first = middle + o.offset.to_mm() - 0.5 * (f64::from(count) * (width + gap) - gap) + r;
        (0..count)
            .map(|k| first + f64::from(k) * (width + gap))
            .map(|x| {
                if height > width + 1e-3 {
                    Contour::slot(dvec2(x, low + r), dvec2(x, low + height - r), r)
                } else {
                    Contour::circle(dvec2(x, low + r), r)
                }
            })
            .collect()
    }

    /// The opening of a door must lie in the leaf; the door's laps take the room beside it.
    fn door(&self, b: &mut Builder<'_>, shape: &mut LeafShape, door: &params::Door) {
        let parameter = format!("leaf.{}.door", self.name);
        let x = 0.5 * self.place.length_mm + door.offset.to_mm();
        let [half, low, height, lap] =
            [door.width * 0.5, door.bottom, door.height, door.lap].map(units::Length::to_mm);
        let (lo, hi) = (dvec2(x - half, low), dvec2(x + half, low + height));
        self.check_opening(b, "the opening of the door", &parameter, lo, hi);
        let (lo, hi) = (lo - dvec2(lap, 0.0), hi + dvec2(lap, 0.0));
        shape.features.push(Feature { what: "the door", parameter, lo, hi });
    }

    /// Openings of a leaf leave sheet between them.
    fn check_apart(&self, b: &mut Builder<'_>, features: &[Feature]) {
        for (i, one) in features.iter().enumerate() {
            for other in &features[i + 1..] {
                let gap = (other.lo - one.hi).max(one.lo - other.hi).max_element();
                if gap >= LEAST_LAND_MM {
                    continue;
                }
                let message = if gap < 0.0 {
                    format!(
                        "{} and {} of leaf `{}` run into each other by {:.1} mm",
                        one.what, other.what, self.name, -gap
                    )
                } else {
                    format!(
                        "{} and {} of leaf `{}` leave {gap:.1} mm of sheet between them",
                        one.what, other.what, self.name
                    )
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

    /// An opening keeps clear of the guides, the bottom and the upper edge.
    fn check_opening(
        &self,
        b: &mut Builder<'_>,
        what: &str,
        parameter: &str,
        lo: DVec2,
        hi: DVec2,
    ) {
        let [a, c] = self.place.clear();
        let floor = if self.spec.underflow.is_some() {
            self.spec.underflow.map_or(0.0, units::Length::to_mm)
        } else {
            0.0
        };
        let top = self.crest_mm() - self.spec.crest.teeth.map_or(0.0, |t| t.depth.to_mm());
        let lands = [
            (lo.x - a, "at its near end", "width` or `offset"),
            (c - hi.x, "at its far end", "width` or `offset"),
            (lo.y - floor, "below", "bottom"),
            (top - hi.y, "under the crest", "height"),
        ];
        let least = self.sheet.nominal_mm;
        for (land, place, field) in lands {
            if land >= least || (place == "below" && lo.y <= 0.0) {
                continue;
            }
            let message = if land < 0.0 {
                format!(
                    "{what} of leaf `{}` runs {:.1} mm out of the leaf {place}",
                    self.name, -land
                )
            } else {
                format!(
                    "{what} of leaf `{}` leaves a land of {land:.1} mm {place}; at least the sheet's thickness, {least:.1} mm, is wanted",
                    self.name
                )
            };
            let finding = if land < 1.0 {
                Finding::fails("opening-outside-leaf", parameter, message)
            } else {
                Finding::tight("opening-near-edge", parameter, message)
            };
            b.find(
                finding
                    .with_limit(land, least, "mm")
                    .with_source("common practice")
                    .with_hint(format!("change `{field}`")),
            );
        }
    }

    fn finger_holes(&self, shape: &mut LeafShape) {
        let [left, right] = self.place.outer();
        let y = self.top_mm() - FINGER_RADIUS_MM - 8.0;
        let inset = if self.has_ears() {
            0.5 * EAR_WIDTH_MM
        } else {
            0.5 * EAR_WIDTH_MM + self.place.covers_mm[0]
        };
        for x in [left + inset, right - inset] {
            shape.plate.cuts.push(Cut::through(Contour::circle(dvec2(x, y), FINGER_RADIUS_MM)));
            shape.features.push(Feature {
                what: "the finger holes",
                parameter: format!("leaf.{}.finger_holes", self.name),
                lo: dvec2(x, y) - FINGER_RADIUS_MM,
                hi: dvec2(x, y) + FINGER_RADIUS_MM,
            });
        }
        if !self.has_ears() {
            let (across_mm, sill_mm) = (
                [left + inset - FINGER_RADIUS_MM, right - inset + FINGER_RADIUS_MM],
                y - FINGER_RADIUS_MM,
            );
            shape.passes.push(LeafPass { across_mm, sill_mm, what: "the finger holes" });
        }
    }
}

/// A slot from `sill` upwards through the upper edge, its lower end round.
fn open_slot([left, right]: [f64; 2], sill: f64, above: f64) -> Contour {
    let r = 0.5 * (right - left);
    Contour::rounded_polygon(&[
        (dvec2(left, sill), r),
        (dvec2(right, sill), r),
        (dvec2(right, above), 0.0),
        (dvec2(left, above), 0.0),
    ])
}

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

/// Least and greatest corner of some contours.
pub(crate) fn bounds(contours: &[Contour]) -> Option<[DVec2; 2]> {
    contours.iter().filter_map(Contour::bounds).reduce(|a, b| [a[0].min(b[0]), a[1].max(b[1])])
}

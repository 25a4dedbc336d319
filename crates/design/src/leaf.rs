//! A leaf's shape: composed from its mount, crest and openings; and the ways it leaves for water.

use findings::Finding;
use glam::{DAffine3, DVec2, dvec2};
use params::{Leaf, Mount, Teeth};
use plate::{Contour, Cut, Face, Plate};

use crate::draft::Builder;
use crate::model::Sheet;
use crate::openings::{self, Feature};
use crate::waterworks::{WayKind, WayShape};

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
    pub(crate) kind: WayKind,
    pub(crate) shape: WayShape,
}

pub(crate) struct LeafShape {
    pub(crate) plate: Plate,
    pub(crate) passes: Vec<LeafPass>,
    /// What takes room in the sheet.
    pub(crate) features: Vec<Feature>,
}

/// Radius of finger holes, sheet above them, and size of the ears that carry them where water runs over
/// the upper edge, mm; common practice for a fingertip.
const FINGER_RADIUS_MM: f64 = 12.5;
const ABOVE_FINGER_MM: f64 = 8.0;
const EAR_WIDTH_MM: f64 = 45.0;
const EAR_HEIGHT_MM: f64 = 40.0;
/// Clear of the guide, so that a foot stands beside it; common practice.
const FOOT_MM: f64 = 12.0;
/// Between ears or feet at least this much is left for water, mm; common practice.
const LEAST_GAP_MM: f64 = 20.0;
/// Cuts that are open at an edge reach this far beyond it, mm, so that the cutter leaves no rib.
const BEYOND_MM: f64 = 5.0;

pub(crate) fn compose(
    b: &mut Builder<'_>,
    name: &str,
    spec: &Leaf,
    sheet: &Sheet,
    place: &LeafPlace,
) -> LeafShape {
    let corner = b.inner_corner_mm(sheet);
    let mut composer = Composer { name, spec, sheet, place, corner, handles: None };
    composer.handles = composer.handles(b);
    composer.check_height(b);
    let mut shape = LeafShape {
        plate: Plate::new(composer.outline(b), sheet.thickness_mm()),
        passes: Vec::new(),
        features: Vec::new(),
    };
    composer.underflow(b, &mut shape);
    composer.crest(b, &mut shape);
    for (i, opening) in spec.openings.iter().enumerate() {
        openings::add(b, &composer, &mut shape, opening, &format!("leaf.{name}.openings[{i}]"));
    }
    if let Some(door) = &spec.door {
        openings::reserve_door(b, &composer, &mut shape, door);
    }
    composer.finger_holes(b, &mut shape);
    openings::check_apart(b, name, &shape.features);
    shape
}

/// Where the finger holes of a leaf are.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
enum Handles {
    /// In two ears that rise above the crest, over which water runs.
    Ears,
    /// Under a plain upper edge, where water passes below it.
    UnderEdge,
}

/// A leaf while it is put together.
pub(crate) struct Composer<'a> {
    pub(crate) name: &'a str,
    pub(crate) spec: &'a Leaf,
    pub(crate) sheet: &'a Sheet,
    pub(crate) place: &'a LeafPlace,
    /// Radius of inner corners, mm.
    pub(crate) corner: f64,
    handles: Option<Handles>,
}

impl Composer<'_> {
    pub(crate) fn crest_mm(&self) -> f64 {
        self.spec.crest.height.to_mm()
    }

    /// Height below which the sheet is whole from end to end: the crest, or the ends of its teeth's slots.
    pub(crate) fn whole_below_mm(&self) -> f64 {
        self.crest_mm() - self.spec.crest.teeth.map_or(0.0, |teeth| teeth.depth.to_mm())
    }

    /// Height of the lower edge.
    pub(crate) fn lower_edge_mm(&self) -> f64 {
        self.spec.underflow.map_or(0.0, units::Length::to_mm)
    }

    fn is_lift_out(&self) -> bool {
        self.spec.mount == Mount::LiftOut
    }

    /// Where finger holes go, if they are wanted; ears need a crest that is long enough beside them.
    fn handles(&self, b: &mut Builder<'_>) -> Option<Handles> {
        if !self.spec.finger_holes.unwrap_or(self.is_lift_out()) {
            return None;
        }
        let passes_below = !self.spec.openings.is_empty() || self.spec.door.is_some();
        if passes_below && self.spec.crest.teeth.is_none() {
            return Some(Handles::UnderEdge);
        }
        let [a, c] = self.between_ears();
        let least = LEAST_GAP_MM.max(2.0 * self.ear_corner());
        if c - a >= least {
            return Some(Handles::Ears);
        }
        let message = format!(
            "leaf `{}` is {} long between its guides: two ears with finger holes leave {} of crest between them",
            self.name,
            b.show(self.place.clear()[1] - self.place.clear()[0]),
            b.show((c - a).max(0.0))
        );
        b.find(
            Finding::fails("no-room-for-ears", format!("leaf.{}.finger_holes", self.name), message)
                .with_limit(c - a, least, "mm")
                .with_source("common practice")
                .with_hint("set `finger_holes = false`, or make the chamber larger"),
        );
        None
    }

    fn has_ears(&self) -> bool {
        self.handles == Some(Handles::Ears)
    }

    fn top_mm(&self) -> f64 {
        self.crest_mm() + if self.has_ears() { EAR_HEIGHT_MM } else { 0.0 }
    }

    fn check_height(&self, b: &mut Builder<'_>) {
        let (top, inside) = (self.top_mm(), self.place.inside_height_mm);
        if top <= inside {
            return;
        }
        let (ears, hint) = if self.has_ears() {
            (
                format!(" with ears for finger holes ({})", b.show(EAR_HEIGHT_MM)),
                "lower the crest, or set `finger_holes = false`",
            )
        } else {
            (String::new(), "lower the crest")
        };
        let message = format!(
            "leaf `{}` is {} high{ears}; the walls are {} high inside",
            self.name,
            b.show(top),
            b.show(inside)
        );
        b.find(
            Finding::fails("leaf-too-high", format!("leaf.{}.crest.height", self.name), message)
                .with_limit(inside - top, 0.0, "mm")
                .with_hint(hint),
        );
    }

    fn between_ears(&self) -> [f64; 2] {
        let ([a, c], [left, right]) = (self.place.clear(), self.place.outer());
        [a.max(left + EAR_WIDTH_MM), c.min(right - EAR_WIDTH_MM)]
    }

    /// Radius of the corner between an ear and the crest.
    fn ear_corner(&self) -> f64 {
        self.corner.min(0.4 * EAR_HEIGHT_MM)
    }

    /// Where the crest begins and ends: clear of guides and ears.
    fn crest_span(&self) -> [f64; 2] {
        if self.has_ears() { self.between_ears() } else { self.place.clear() }
    }

    fn outline(&self, b: &Builder<'_>) -> Contour {
        let [left, right] = self.place.outer();
        let mut corners: Vec<(DVec2, f64)> = Vec::new();
        self.lower_edge(&mut corners, left, right);
        let (h, top) = (self.crest_mm(), self.top_mm());
        let eased = self.eased_mm(b);
        corners.push((dvec2(right, top), eased));
        if self.has_ears() {
            let [a, c] = self.between_ears();
            let r = self.ear_corner();
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

    /// Radius of the upper corners of a loose leaf: as wanted, or what there is room for.
    fn eased_mm(&self, b: &Builder<'_>) -> f64 {
        if !self.is_lift_out() {
            return 0.0;
        }
        let room = if self.has_ears() {
            (0.5 * EAR_WIDTH_MM).min(EAR_HEIGHT_MM - self.ear_corner())
        } else {
            // A comb leaves at least one tooth at either end.
            let [left, right] = self.place.outer();
            let flat = self.spec.crest.teeth.map_or(0.5 * (right - left), |t| t.width.to_mm());
            flat.min(self.whole_below_mm() - self.lower_edge_mm())
        };
        // Less than all of it, so that a straight piece remains between two roundings.
        b.file.cutting.outer_corner.to_mm().min(0.9 * room)
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
        if let Some((gap, [a, c])) = gap.zip(self.between_feet()) {
            let r = self.corner.min(0.8 * gap).min(0.5 * (c - a));
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

    /// Inner sides of the feet of a lift-out leaf, if there is room between them.
    fn between_feet(&self) -> Option<[f64; 2]> {
        let [a, c] = self.place.clear();
        let feet = [a + FOOT_MM, c - FOOT_MM];
        (feet[1] - feet[0] >= LEAST_GAP_MM).then_some(feet)
    }

    fn underflow(&self, b: &mut Builder<'_>, shape: &mut LeafShape) {
        if self.spec.underflow.is_none() {
            return;
        }
        let across =
            if self.is_lift_out() { self.between_feet() } else { Some(self.place.clear()) };
        if let Some(across_mm) = across {
            shape.passes.push(LeafPass {
                across_mm,
                sill_mm: 0.0,
                kind: WayKind::Underflow,
                shape: WayShape::Rectangle {
                    bottom_mm: 0.0,
                    top_mm: self.lower_edge_mm(),
                    width_mm: across_mm[1] - across_mm[0],
                },
            });
            return;
        }
        let [a, c] = self.place.clear();
        let message = format!(
            "leaf `{}` is {} long between its guides: two feet of {} leave no gap between them",
            self.name,
            b.show(c - a),
            b.show(FOOT_MM)
        );
        b.find(
            Finding::fails("no-room-for-feet", format!("leaf.{}.underflow", self.name), message)
                .with_limit(c - a - 2.0 * FOOT_MM, LEAST_GAP_MM, "mm")
                .with_source("common practice")
                .with_hint("leave `underflow` out, or make the chamber larger"),
        );
    }

    fn crest(&self, b: &mut Builder<'_>, shape: &mut LeafShape) {
        let across_mm = self.crest_span();
        match self.spec.crest.teeth {
            None => shape.passes.push(LeafPass {
                across_mm,
                sill_mm: self.crest_mm(),
                kind: WayKind::Crest,
                shape: WayShape::Crest {
                    height_mm: self.crest_mm(),
                    width_mm: across_mm[1] - across_mm[0],
                },
            }),
            Some(teeth) => self.comb(b, shape, &teeth, across_mm),
        }
    }

    /// Slots from the upper edge down, their lower ends round, as many as leave a whole tooth at either end.
    fn comb(&self, b: &mut Builder<'_>, shape: &mut LeafShape, teeth: &Teeth, span: [f64; 2]) {
        let [tooth, gap, depth] = [teeth.width, teeth.gap, teeth.depth].map(units::Length::to_mm);
        let parameter = format!("leaf.{}.crest.teeth", self.name);
        openings::check_cutter(b, self.sheet, &format!("{parameter}.gap"), gap);
        let width = span[1] - span[0];
        let count = ((width - tooth) / (tooth + gap)).floor();
        if count < 1.0 || depth <= gap {
            let message = format!(
                "no slot {} wide and {} deep fits a crest {} long with teeth of {}",
                b.show(gap),
                b.show(depth),
                b.show(width),
                b.show(tooth)
            );
            b.find(
                Finding::fails("comb-does-not-fit", parameter, message)
                    .with_hint("make the slots deeper than wide, and teeth and gaps narrower"),
            );
            return;
        }
        let first = 0.5 * (span[0] + span[1]) - 0.5 * (count * (tooth + gap) - tooth);
        let sill = self.whole_below_mm();
        let mut left = first;
        #[expect(
            clippy::cast_possible_truncation,
            clippy::cast_sign_loss,
            reason = "at most a few thousand, positive"
        )]
        let count = count as usize;
        for _ in 0..count {
            shape.plate.cuts.push(Cut::through(open_slot(
                [left, left + gap],
                sill,
                self.crest_mm() + BEYOND_MM,
            )));
            left += tooth + gap;
        }
        shape.passes.push(LeafPass {
            across_mm: [first, left - tooth],
            sill_mm: sill,
            kind: WayKind::Comb,
            shape: WayShape::Comb {
                sill_mm: sill,
                tip_mm: self.crest_mm(),
                gap_mm: gap,
                count,
                width_mm: width,
            },
        });
    }

    fn finger_holes(&self, b: &mut Builder<'_>, shape: &mut LeafShape) {
        let Some(handles) = self.handles else { return };
        let ([left, right], covers) = (self.place.outer(), self.place.covers_mm);
        let y = self.top_mm() - FINGER_RADIUS_MM - ABOVE_FINGER_MM;
        let inset = 0.5 * EAR_WIDTH_MM;
        let middles = match handles {
            Handles::Ears => [left + inset, right - inset],
            Handles::UnderEdge => [left + inset + covers[0], right - inset - covers[1]],
        };
        let parameter = format!("leaf.{}.finger_holes", self.name);
        for x in middles {
            shape.plate.cuts.push(Cut::through(Contour::circle(dvec2(x, y), FINGER_RADIUS_MM)));
            shape.features.push(Feature {
                kind: WayKind::FingerHoles,
                parameter: parameter.clone(),
                lo: dvec2(x, y) - FINGER_RADIUS_MM,
                hi: dvec2(x, y) + FINGER_RADIUS_MM,
            });
        }
        if handles == Handles::UnderEdge {
            let sill_mm = y - FINGER_RADIUS_MM;
            self.check_below_finger_holes(b, &parameter, sill_mm);
            // One way each: between the holes there is sheet, perhaps beside another chamber.
            shape.passes.extend(middles.map(|x| LeafPass {
                across_mm: [x - FINGER_RADIUS_MM, x + FINGER_RADIUS_MM],
                sill_mm,
                kind: WayKind::FingerHoles,
                shape: WayShape::Holes {
                    bottom_mm: y,
                    diameter_mm: 2.0 * FINGER_RADIUS_MM,
                    spacing_mm: 0.0,
                    rows: 1,
                    columns: 1,
                },
            }));
        }
    }

    /// The holes stand where this module puts them, so only a low leaf has no room for them.
    fn check_below_finger_holes(&self, b: &mut Builder<'_>, parameter: &str, sill_mm: f64) {
        let land = sill_mm - self.lower_edge_mm();
        if land >= ABOVE_FINGER_MM {
            return;
        }
        let message = format!(
            "leaf `{}` is too low for finger holes under its upper edge: {} of sheet would be left below them",
            self.name,
            b.show(land.max(0.0))
        );
        b.find(
            Finding::fails("no-room-for-finger-holes", parameter, message)
                .with_limit(land, ABOVE_FINGER_MM, "mm")
                .with_source("common practice")
                .with_hint("set `finger_holes = false`, or make the leaf higher"),
        );
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

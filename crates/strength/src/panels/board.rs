//! A sheet part in its place as a plate theory sees it: a rectangle with openings and thin places.

use design::{Design, PlacedId};
use glam::{DAffine3, DVec2, DVec3};
use plate::{Contour, Cut, Plate, Shape};

/// A row across the sheet belongs to the rectangle that bends where at least so much of it is material; what stands out
/// above (teeth of a comb, ears) or below (feet) carries nothing. Our judgement.
const WHOLE: f64 = 0.75;
/// How many places of a row are looked at.
const PROBES: u32 = 240;
/// Openings nearer to one another than so many thicknesses are taken as one: plate theory does not hold for the bars
/// between. Our judgement.
pub(crate) const BAR: f64 = 4.0;
/// A hole no larger than so many thicknesses stays by itself, however near another opening is.
const HOLE: f64 = 1.5;
/// An opening up to this share of the shorter side is not meshed: only the stress around it is reckoned, by the rule for
/// openings. Our judgement: it takes less than 2 % of the bending stiffness.
const SMALL: f64 = 0.15;

/// A sheet part, flat. Lengths in mm, in its own frame; y is up where it stands.
#[derive(Clone, Debug)]
pub(crate) struct Board {
    pub(crate) placed: PlacedId,
    /// How far it is raised above its place in the design, mm: a door can be set.
    pub(crate) raised_mm: f64,
    /// Corners of the rectangle that bends.
    pub(crate) lo: DVec2,
    pub(crate) hi: DVec2,
    /// Thickness, the least of the sheet's band.
    pub(crate) least_mm: f64,
    /// Openings that are meshed.
    pub(crate) openings: Vec<Opening>,
    /// Openings that are too small to matter to the whole.
    pub(crate) small: Vec<Opening>,
    /// Pockets within the rectangle.
    pub(crate) thin: Vec<Thin>,
    /// Upper end of all of it, teeth and ears included.
    pub(crate) top: f64,
    /// How many slots and notches are open at an edge of the rectangle.
    pub(crate) notches: usize,
}

/// An opening, as the rectangle around it.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(crate) struct Opening {
    pub(crate) lo: DVec2,
    pub(crate) hi: DVec2,
    /// Least radius of its corners; 0 where one is sharp.
    pub(crate) radius_mm: f64,
    /// Whether it is a circle.
    pub(crate) is_round: bool,
    /// How many cuts it was made of.
    pub(crate) cuts: usize,
}

/// A place where a pocket leaves less sheet.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(crate) struct Thin {
    pub(crate) lo: DVec2,
    pub(crate) hi: DVec2,
    /// Share of the sheet's least thickness that is left.
    pub(crate) left: f64,
}

impl Board {
    /// `None` of what is not cut from sheet or has no whole row.
    pub(crate) fn of(design: &Design, placed: PlacedId) -> Option<Self> {
        let piece = &design.pieces[design.placed[placed].piece];
        let Shape::Sheet(plate) = &piece.shape else { return None };
        let sheet = design.sheets.get(piece.sheet.as_ref()?)?;
        let [least, most] = plate.outline.bounds()?;
        let rows = Rows::of(plate, least, most);
        let (bottom, up) = rows.whole()?;
        let (lo, hi) = (DVec2::new(least.x, bottom), DVec2::new(most.x, up));
        let notches = notches(plate, lo, hi);
        let least_mm = sheet.band_mm[0].min(plate.thickness);
        let largest = |o: &Opening| (o.hi - o.lo).max_element();
        let (holes, openings): (Vec<_>, Vec<_>) =
            openings_in(plate, lo, hi).into_iter().partition(|o| largest(o) <= HOLE * least_mm);
        let shorter = (hi - lo).min_element();
        let (mut small, openings): (Vec<_>, Vec<_>) = merged(openings, BAR * least_mm)
            .into_iter()
            .partition(|o| largest(o) <= SMALL * shorter);
        small.extend(holes);
        Some(Self {
            placed,
            raised_mm: 0.0,
            lo,
            hi,
            least_mm,
            openings,
            small,
            thin: thin_places(plate, lo, hi, least_mm),
            top: most.y,
            notches,
        })
    }

    /// How many small holes stand nearer to another than [`BAR`] allows, where they are more than a door's pair.
    pub(crate) fn crowded(&self) -> usize {
        let bar = BAR * self.least_mm;
        let is_near = |a: &Opening, b: &Opening| {
            let gap = (a.lo - b.hi).max(b.lo - a.hi).max_element();
            (0.0..bar).contains(&gap)
        };
        let holes = &self.small;
        let n = holes.iter().filter(|a| holes.iter().any(|b| is_near(a, b))).count();
        if n > 4 { n } else { 0 }
    }

    pub(crate) fn size(&self) -> DVec2 {
        self.hi - self.lo
    }

    /// From its frame to the sump's.
    pub(crate) fn pose(&self, design: &Design) -> DAffine3 {
        DAffine3::from_translation(DVec3::Z * self.raised_mm) * design.placed[self.placed].pose
    }
}

fn goes_through(cut: &Cut, plate: &Plate) -> bool {
    cut.depth >= plate.thickness
}

/// Material along rows of a sheet.
struct Rows<'a> {
    plate: &'a Plate,
    lo: DVec2,
    hi: DVec2,
    /// Heights between which nothing changes, ascending.
    steps: Vec<f64>,
}

impl<'a> Rows<'a> {
    fn of(plate: &'a Plate, lo: DVec2, hi: DVec2) -> Self {
        let ends = |contour: &Contour| contour.0.iter().map(|s| s.start.y).collect::<Vec<_>>();
        let through = plate.cuts.iter().filter(|cut| goes_through(cut, plate));
        let mut steps: Vec<f64> = ends(&plate.outline)
            .into_iter()
            .chain(through.flat_map(|c| ends(&c.contour)))
            .collect();
        steps.retain(|&y| lo.y <= y && y <= hi.y);
        steps.extend([lo.y, hi.y]);
        steps.sort_by(f64::total_cmp);
        steps.dedup_by(|a, b| (*a - *b).abs() < 0.5);
        Self { plate, lo, hi, steps }
    }

    /// Lower and upper end of what lies between the lowest and the highest row that is whole.
    fn whole(&self) -> Option<(f64, f64)> {
        let is_whole = |pair: &&[f64]| self.share(0.5 * (pair[0] + pair[1])) >= WHOLE;
        let bottom = self.steps.windows(2).find(is_whole)?[0];
        let top = self.steps.windows(2).rev().find(is_whole)?[1];
        Some((bottom, top))
    }

    fn share(&self, y: f64) -> f64 {
        let width = self.hi.x - self.lo.x;
        let is_there = |k: u32| {
            let p = DVec2::new(self.lo.x + width * (f64::from(k) + 0.5) / f64::from(PROBES), y);
            let is_cut = |cut: &Cut| goes_through(cut, self.plate) && cut.contour.winding(p) != 0;
            self.plate.outline.winding(p) != 0 && !self.plate.cuts.iter().any(is_cut)
        };
        f64::from((0..PROBES).map(|k| u32::from(is_there(k))).sum::<u32>()) / f64::from(PROBES)
    }
}

/// What goes through within the rectangle.
fn openings_in(plate: &Plate, lo: DVec2, hi: DVec2) -> Vec<Opening> {
    let through = plate.cuts.iter().filter(|cut| goes_through(cut, plate));
    let opening = |cut: &Cut| {
        let [from, to] = cut.contour.bounds()?;
        let (from, to) = (from.max(lo), to.min(hi));
        let radius_mm = least_radius(&cut.contour);
        let is_round = cut.contour.as_circle().is_some();
        let opening = Opening { lo: from, hi: to, radius_mm, is_round, cuts: 1 };
        ((to - from).min_element() > 0.0).then_some(opening)
    };
    through.filter_map(opening).collect()
}

/// Slots that are open at an edge of the rectangle, and inner corners of the outline: ears, feet, stops.
fn notches(plate: &Plate, lo: DVec2, hi: DVec2) -> usize {
    const NEAR_MM: f64 = 0.5;
    let is_open = |cut: &&Cut| {
        goes_through(cut, plate)
            && cut.contour.bounds().is_some_and(|[from, to]| {
                let meets = from.cmple(hi).all() && to.cmpge(lo).all();
                let inside = from.cmpge(lo + NEAR_MM).all() && to.cmple(hi - NEAR_MM).all();
                meets && !inside
            })
    };
    let turn = |a: &plate::Segment, b: &plate::Segment| (a.end - a.start).perp_dot(b.end - b.start);
    let pieces = &plate.outline.0;
    let next = pieces.iter().cycle().skip(1);
    let orientation = plate.outline.signed_area().signum();
    let inner = pieces.iter().zip(next).filter(|(a, b)| turn(a, b) * orientation < -1e-6).count();
    plate.cuts.iter().filter(is_open).count() + inner
}

/// Least radius of a contour's corners; 0 where two straight pieces meet.
fn least_radius(contour: &Contour) -> f64 {
    let pieces = &contour.0;
    let next = pieces.iter().cycle().skip(1);
    let is_sharp = pieces.iter().zip(next).any(|(a, b)| a.arc.is_none() && b.arc.is_none());
    let radii = pieces.iter().filter_map(plate::Segment::radius);
    if is_sharp { 0.0 } else { radii.fold(f64::INFINITY, f64::min) }
}

/// Openings with bars of less than `bar` between them as one.
fn merged(mut openings: Vec<Opening>, bar: f64) -> Vec<Opening> {
    loop {
        let near = |a: &Opening, b: &Opening| (a.lo - b.hi).max(b.lo - a.hi).max_element() < bar;
        let pair = (0..openings.len())
            .flat_map(|i| (i + 1..openings.len()).map(move |j| (i, j)))
            .find(|&(i, j)| near(&openings[i], &openings[j]));
        let Some((i, j)) = pair else { return openings };
        let other = openings.swap_remove(j);
        let one = &mut openings[i];
        one.lo = one.lo.min(other.lo);
        one.hi = one.hi.max(other.hi);
        one.radius_mm = one.radius_mm.min(other.radius_mm);
        one.cuts += other.cuts;
        one.is_round = false;
    }
}

/// Pockets that lie in the rectangle and not along its edge: an edge is a seam's business.
fn thin_places(plate: &Plate, lo: DVec2, hi: DVec2, least_mm: f64) -> Vec<Thin> {
    let near = 2.0 * plate.thickness;
    let pockets = plate.cuts.iter().filter(|cut| !goes_through(cut, plate));
    let thin = |cut: &Cut| {
        let [from, to] = cut.contour.bounds()?;
        let (from, to) = (from.max(lo), to.min(hi));
        let along_edge = to.x - lo.x < near
            || hi.x - from.x < near
            || to.y - lo.y < near
            || hi.y - from.y < near;
        let has_size = (to - from).min_element() > 0.0;
        (has_size && !along_edge).then_some(Thin {
            lo: from,
            hi: to,
            left: 1.0 - cut.depth / least_mm,
        })
    };
    pockets.filter_map(thin).collect()
}

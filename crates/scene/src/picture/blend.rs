//! Puts the surfaces over a pixel together, from the eye backwards.

use glam::{Vec2, Vec3, vec3};

use super::backdrop::Backdrop;
use super::light;
use super::paint::Paint;
use super::sight::Sightlines;
use super::stage::{Facet, Form, Stage, Stroke};
use super::tile::{FULL, Fragment, SAMPLES, Surface};

/// Everything that decides a pixel's colour.
#[derive(Debug)]
pub(super) struct Blend<'a> {
    pub(super) stage: &'a Stage,
    pub(super) sightlines: &'a Sightlines,
    pub(super) backdrop: &'a Backdrop,
    /// What water takes from light on its way, per mm.
    pub(super) water: Vec3,
}

/// Water's colour: what it takes from light over a way of one box length.
pub(super) const WATER: Vec3 = vec3(1.75, 0.52, 0.20);

/// Light so weak is left out.
const DARK: f32 = 0.003;
/// Faces closer than this in depth touch, mm.
const TOUCHING_MM: f32 = 0.05;
/// Lines closer than this in depth are one line, mm: the same edge drawn by two neighbours.
const SAME_LINE_MM: f32 = 5.0;

/// What one sheet leaves of the lines behind it.
const VEIL: f32 = 0.84;

/// What a surface does to light.
struct Effect {
    /// Share of the light from behind that comes through.
    passed: Vec3,
    /// Light that starts here.
    light: Vec3,
    water: Water,
    /// Whether lines behind it are drawn fainter.
    veils: bool,
}

#[derive(Clone, Copy, PartialEq, Eq)]
enum Water {
    Enters,
    Leaves,
    None,
}

/// Light that has been gathered along a line of sight so far.
#[derive(Clone, Copy)]
struct Gathered {
    light: Vec3,
    /// Share of light that still comes through.
    passed: Vec3,
    /// How many bodies of water the line is in, and the depth where it entered the first.
    waters: i32,
    entered: f32,
}

impl Gathered {
    const NOTHING: Self = Self { light: Vec3::ZERO, passed: Vec3::ONE, waters: 0, entered: 0.0 };
}

impl Blend<'_> {
    /// The light of a pixel whose middle is at `place`. `fragments` are put in order.
    pub(super) fn pixel(&self, place: Vec2, fragments: &mut [Fragment]) -> Vec3 {
        if fragments.is_empty() {
            return self.backdrop.at(place, self.sightlines);
        }
        sort_nearest_first(fragments);
        let is_whole = |f: &Fragment| !matches!(f.surface(), Surface::Facet(_, c) if c != FULL);
        if fragments.iter().all(is_whole) {
            self.gather::<1>(place, fragments)
        } else {
            self.gather::<SAMPLES>(place, fragments)
        }
    }

    fn gather<const N: usize>(&self, place: Vec2, fragments: &[Fragment]) -> Vec3 {
        let ray = self.sightlines.ray(place);
        let way = Way { place, ray, stretch: self.sightlines.stretch(ray) };
        let mut gathered = [Gathered::NOTHING; N];
        let mut veil = 1.0_f32;
        let mut last_line = Line { depth: f32::NEG_INFINITY, cover: 0.0 };
        let mut contact = Contact::NONE;
        for (i, fragment) in fragments.iter().enumerate() {
            let depth = self.sightlines.depth(fragment.near);
            if i >= contact.end {
                contact = self.contact(fragments, i);
            }
            match fragment.surface() {
                Surface::Stroke(index, cover) => {
                    let stroke = &self.stage.strokes[index];
                    let shown = stroke.strength * (stroke.least + (1.0 - stroke.least) * veil);
                    let effect = last_line.over(stroke, depth, cover * shown);
                    self.apply(&effect, FULL, depth, &way, &mut gathered);
                }
                Surface::Facet(index, cover) => {
                    let facet = &self.stage.facets[index];
                    let mut effect = self.effect(facet, &way);
                    if let Paint::Film(_) = facet.paint {
                        if contact.has_opaque {
                            continue;
                        }
                        if contact.has_front && contact.has_back {
                            effect.light = Vec3::ZERO;
                        }
                    }
                    self.apply(&effect, cover, depth, &way, &mut gathered);
                    if effect.veils {
                        veil *= VEIL;
                    }
                }
            }
            if gathered.iter().all(|g| g.passed.max_element() < DARK) {
                break;
            }
        }
        let behind = self.backdrop.at(place, self.sightlines);
        let light = |g: &Gathered| (g.light + g.passed * behind).min(Vec3::ONE);
        gathered.iter().map(light).sum::<Vec3>() / N as f32
    }

    fn apply<const N: usize>(
        &self,
        effect: &Effect,
        cover: u32,
        depth: f32,
        way: &Way,
        gathered: &mut [Gathered; N],
    ) {
        let is_opaque = effect.passed.max_element() <= 0.0;
        for (sample, g) in gathered.iter_mut().enumerate() {
            if cover & (1 << sample) == 0 {
                continue;
            }
            if effect.water == Water::Leaves {
                g.waters -= 1;
            }
            let leaves = effect.water == Water::Leaves && g.waters == 0;
            if leaves || (is_opaque && g.waters > 0) {
                let length = (depth - g.entered).max(0.0) * way.stretch;
                let weakened = -self.water * length;
                g.passed *=
                    vec3(light::exp(weakened.x), light::exp(weakened.y), light::exp(weakened.z));
            }
            g.light += g.passed * effect.light;
            g.passed *= effect.passed;
            if effect.water == Water::Enters {
                if g.waters == 0 {
                    g.entered = depth;
                }
                g.waters += 1;
            }
        }
    }

    fn effect(&self, facet: &Facet, way: &Way) -> Effect {
        let normal = match facet.form {
            Form::Flat(normal) => normal,
            Form::Curved(bend) => {
                let n = self.stage.bends[bend as usize].at(way.place).normalize_or_zero();
                // On the outline a rounded normal may point a little away from the eye.
                let away = n.dot(way.ray).max(0.0);
                (n - way.ray * away).normalize_or_zero()
            }
        };
        let cosine = -normal.dot(way.ray);
        match facet.paint {
            Paint::Film(film) => {
                let passage = self.stage.paints.film_at(film).at(cosine.abs());
                let to_z = 2.0 * cosine * normal.z + way.ray.z;
                Effect {
                    passed: passage.passed,
                    light: light::sky(to_z) * passage.mirrored,
                    water: Water::None,
                    veils: facet.is_front,
                }
            }
            Paint::Opaque(albedo) => solid(light::opaque(albedo, normal, -way.ray)),
            Paint::Cut(colour) => solid(colour),
            Paint::WaterSide => Effect {
                passed: Vec3::ONE,
                light: Vec3::ZERO,
                water: if facet.is_front { Water::Enters } else { Water::Leaves },
                veils: false,
            },
            Paint::WaterTop => {
                let mirrored = light::mirrored(cosine.abs(), 0.03, 0.5);
                Effect {
                    passed: vec3(0.86, 0.955, 0.985) * (1.0 - mirrored),
                    light: vec3(0.93, 0.98, 1.0) * mirrored,
                    water: if facet.is_front { Water::Enters } else { Water::Leaves },
                    veils: true,
                }
            }
        }
    }

    /// What touches at the depth of a fragment and the ones after it.
    fn contact(&self, fragments: &[Fragment], start: usize) -> Contact {
        let limit = self.sightlines.depth(fragments[start].near) + TOUCHING_MM;
        let mut contact = Contact { end: start, ..Contact::NONE };
        for fragment in &fragments[start..] {
            if self.sightlines.depth(fragment.near) > limit {
                break;
            }
            contact.end += 1;
            if let Surface::Facet(index, _) = fragment.surface() {
                let facet = &self.stage.facets[index];
                match facet.paint {
                    Paint::Film(_) if facet.is_front => contact.has_front = true,
                    Paint::Film(_) => contact.has_back = true,
                    Paint::Opaque(_) | Paint::Cut(_) => contact.has_opaque = true,
                    Paint::WaterTop | Paint::WaterSide => {}
                }
            }
        }
        contact
    }
}

/// Faces at one depth, whose order is decided by rounding and must not show: where two sheets are
/// welded there is no air between to mirror anything, and where clear sheet lies on something opaque
/// its face cannot be told from that.
struct Contact {
    /// Index of the first fragment behind.
    end: usize,
    has_front: bool,
    has_back: bool,
    has_opaque: bool,
}

impl Contact {
    const NONE: Self = Self { end: 0, has_front: false, has_back: false, has_opaque: false };
}

/// A line of sight.
struct Way {
    place: Vec2,
    ray: Vec3,
    stretch: f32,
}

const fn solid(light: Vec3) -> Effect {
    Effect { passed: Vec3::ZERO, light, water: Water::None, veils: false }
}

/// The line that was drawn last over a pixel.
struct Line {
    depth: f32,
    cover: f32,
}

impl Line {
    /// Puts a line that hides the share `cover` behind the last one. Two that lie together count as
    /// one: the ends of a polyline's pieces, or one edge of two parts, would make dark spots.
    fn over(&mut self, stroke: &Stroke, depth: f32, cover: f32) -> Effect {
        let before = if depth - self.depth < SAME_LINE_MM { self.cover } else { 0.0 };
        let hidden = if cover > before { (cover - before) / (1.0 - before).max(1e-3) } else { 0.0 };
        *self = Self { depth, cover: cover.max(before) };
        Effect {
            passed: Vec3::splat(1.0 - hidden),
            light: stroke.colour * hidden,
            water: Water::None,
            veils: false,
        }
    }
}

/// Insertion sort: the fragments come nearly in order already, and then it takes one pass.
fn sort_nearest_first(fragments: &mut [Fragment]) {
    for i in 1..fragments.len() {
        let moved = fragments[i];
        let mut at = i;
        while at > 0 && fragments[at - 1].near < moved.near {
            fragments[at] = fragments[at - 1];
            at -= 1;
        }
        fragments[at] = moved;
    }
}

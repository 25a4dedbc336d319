//! Names and level marks over the model.
//!
//! Words are about something that shows: a part is named at a point of it that can be seen, and not at all when none
//! can. No words lie over others.

use eframe::egui::{self, Align2, Color32, FontId, Pos2, Rect, Stroke, pos2, vec2};
use glam::{DVec2, DVec3};
use scene::{Camera, Lens, Topic};

use super::App;
use super::paper::bold;
use super::timeline::flow_words;
use crate::cut::Plane;
use crate::model::Model;
use crate::sight::Sight;
use crate::state::rehearsal;

/// Names closer than this above each other run together, points.
const LINE_POINTS: f32 = 19.0;
/// Between the model and the names beside it, points.
const BESIDE_POINTS: f32 = 26.0;
/// A slip of paper is so much larger than its words, points.
const SLIP: egui::Vec2 = vec2(3.0, 1.0);

/// A name, where it points and where it stands, points.
#[derive(Clone, Debug, PartialEq)]
struct Name {
    text: String,
    anchor: Pos2,
    at: Pos2,
    is_left: bool,
    is_picked: bool,
}

/// What labels are placed by.
struct Scenery<'a> {
    model: &'a Model,
    camera: &'a Camera,
    plane: Plane,
    sight: Sight<'a>,
    rect: Rect,
    per_point: f32,
}

impl Scenery<'_> {
    fn project(&self, p: DVec3) -> Option<Pos2> {
        let is_before = self.camera.lens == Lens::Parallel || self.camera.view(p).z > 1.0;
        let to_screen = |place: DVec2| {
            let p = place.as_vec2() / self.per_point;
            self.rect.min + vec2(p.x, p.y)
        };
        is_before.then(|| to_screen(self.camera.project(p)))
    }
}

impl App {
    pub(super) fn labels(&self, ui: &egui::Ui, rect: Rect, model: &Model) {
        let painter = ui.painter().with_clip_rect(rect);
        let camera = self.state.orbit.camera(self.frame);
        let plane = self.state.plane(model);
        let sight = Sight::new(model, &self.state.places(model), &camera, plane);
        let per_point = ui.ctx().pixels_per_point();
        let scenery = Scenery { model, camera: &camera, plane, sight, rect, per_point };
        let mut taken = Vec::new();
        if self.state.has_names {
            self.names(&painter, &scenery, &mut taken);
        }
        self.chambers(&painter, &scenery, &mut taken);
    }

    /// Names of parts, in two columns beside the model; of pumps and drains in a failure what they carry too.
    fn names(&self, painter: &egui::Painter, scenery: &Scenery<'_>, taken: &mut Vec<Rect>) {
        let Scenery { model, rect, .. } = *scenery;
        let places = self.state.places(model);
        let labels = model.scene.labels.iter().filter_map(|label| {
            let thing = label.body?;
            let place = places.get(thing).copied().flatten()?;
            let is_picked = self.state.picked == Some(thing);
            let is_told = matches!(
                label.topic,
                Topic::Equipment | Topic::Leaf | Topic::SockHolder | Topic::Door | Topic::Insert
            );
            if !(is_picked || is_told) {
                return None;
            }
            let body = model.body(thing)?;
            let at = scenery.sight.point_of(body, place, label.anchor)?;
            let carried = self.carried(model, thing);
            let text = carried
                .map_or_else(|| label.text.clone(), |carried| format!("{}  {carried}", label.text));
            Some((text, scenery.project(at)?, is_picked))
        });
        let [x, y, z] = model.show.outside_mm.to_array();
        let corners = (0..8).filter_map(|k| {
            let pick = |bit: usize, most: f64| if k & bit == 0 { 0.0 } else { most };
            scenery.project(DVec3::new(pick(1, x), pick(2, y), pick(4, z)))
        });
        let names = beside(labels.collect(), corners.map(|corner| corner.x).collect(), rect);
        let font = FontId::proportional(12.0);
        let shown: Vec<_> = names
            .iter()
            .map(|name| {
                let colour = if name.is_picked { self.paper.orange } else { self.paper.ink };
                let laid = painter.layout_no_wrap(name.text.clone(), font.clone(), colour);
                let (align, off) = if name.is_left {
                    (Align2::RIGHT_CENTER, -4.0)
                } else {
                    (Align2::LEFT_CENTER, 4.0)
                };
                let own = align.anchor_size(name.at + vec2(off, 0.0), laid.size());
                (name, laid, inside(own, rect), colour)
            })
            .collect();
        for (name, _, own, colour) in &shown {
            let end = pos2(if name.is_left { own.right() } else { own.left() }, name.at.y);
            self.leader(painter, name.anchor, end, *colour);
        }
        for (_, laid, own, _) in shown {
            taken.push(own.expand2(SLIP));
            self.slip(painter, own);
            painter.galley(own.min, laid, self.paper.ink);
        }
    }

    /// What a pump or a drain carries in the failure that plays.
    fn carried(&self, model: &Model, thing: usize) -> Option<String> {
        let play = self.state.play.as_ref()?;
        let rehearsal = rehearsal(model, play.what)?;
        let name = &model.show.things.get(thing)?.name;
        let flow = rehearsal.flows.iter().find(|flow| {
            flow.name == *name || name.strip_prefix("drain ") == Some(flow.name.as_str())
        })?;
        Some(flow_words(rehearsal.at(&flow.l_h, play.clock.t_s), model.show.is_us))
    }

    /// Of each chamber its name and its level, at a line on its water where that can be seen, or on its floor.
    fn chambers(&self, painter: &egui::Painter, scenery: &Scenery<'_>, taken: &mut Vec<Rect>) {
        let Scenery { model, rect, .. } = *scenery;
        let (has_names, has_levels) =
            (self.state.has_names, self.state.has_levels && self.state.has_water);
        if !has_names && !has_levels {
            return;
        }
        let colour = self.paper.blue;
        let floor = model.show.floor_z_mm;
        let mut slips = Vec::new();
        let basins = model.show.basins.iter().zip(self.state.levels(model));
        for (basin, level) in basins.filter(|(basin, _)| basin.is_chamber) {
            let z = if has_levels { floor + level } else { floor + 12.0 };
            let lo = basin.min_mm.extend(floor);
            let corners = scenery.plane.keeps_of([lo, basin.max_mm.extend(z.max(lo.z + 1.0))]);
            let Some([lo, hi]) = corners else { continue };
            let job = self.words(basin.name.as_str(), level, [has_names, has_levels], model);
            let laid = painter.layout_job(job);
            let marks = marks([lo, hi], z, scenery);
            let fits = |mark: &Mark| slip_of(mark.tip, laid.size(), rect, taken);
            let best = marks.iter().filter_map(|mark| Some((fits(mark)?, mark)));
            // The nearest to what it is about.
            let best = best.min_by(|(a, _), (b, _)| a.0.cmp(&b.0));
            let Some(((_, own), mark)) = best else { continue };
            taken.push(own.expand2(SLIP));
            if has_levels {
                painter.line_segment(mark.line, Stroke::new(1.8, colour));
                let tip = mark.tip + vec2(0.0, -1.0);
                let arrow = vec![tip, tip + vec2(-5.0, -8.0), tip + vec2(5.0, -8.0)];
                painter.add(egui::Shape::convex_polygon(arrow, colour, Stroke::NONE));
            }
            let end = pos2(mark.tip.x.clamp(own.left(), own.right()), own.bottom());
            if 14.0 < (end - mark.tip).length() {
                self.leader(painter, mark.tip, end, colour);
            }
            slips.push((own, laid));
        }
        for (own, laid) in slips {
            self.slip(painter, own);
            painter.galley(own.min, laid, colour);
        }
    }

    /// A chamber's name in bold and its level.
    fn words(
        &self,
        name: &str,
        level_mm: f64,
        [has_name, has_level]: [bool; 2],
        model: &Model,
    ) -> egui::text::LayoutJob {
        let colour = self.paper.blue;
        let format = |font| egui::TextFormat::simple(font, colour);
        let mut job = egui::text::LayoutJob::default();
        if has_name {
            job.append(name, 0.0, format(FontId::new(12.5, bold())));
        }
        if has_level {
            let words = fit::length_words(level_mm.round(), model.system());
            let space = if has_name { 5.0 } else { 0.0 };
            job.append(&words, space, format(FontId::proportional(12.0)));
        }
        job
    }

    /// A line from what is meant to its words, on any ground.
    fn leader(&self, painter: &egui::Painter, from: Pos2, to: Pos2, colour: Color32) {
        let halo = self.paper.halo;
        painter.line_segment([from, to], Stroke::new(2.6, halo.gamma_multiply(0.7)));
        painter.line_segment([from, to], Stroke::new(0.8, colour));
        painter.circle(from, 2.4, colour, Stroke::new(1.0, halo));
    }

    /// Words on a slip of paper.
    pub(super) fn haloed(
        &self,
        painter: &egui::Painter,
        at: Pos2,
        align: Align2,
        text: &str,
        font: FontId,
        colour: Color32,
    ) {
        let laid = painter.layout_no_wrap(text.to_owned(), font, colour);
        let own = align.anchor_size(at, laid.size());
        self.slip(painter, own);
        painter.galley(own.min, laid, colour);
    }

    /// A slip of paper under words, so that they read on whatever is behind them.
    fn slip(&self, painter: &egui::Painter, words: Rect) {
        painter.rect_filled(words.expand2(SLIP), 3.0, self.paper.halo.gamma_multiply(0.82));
    }
}

/// Where the level of a chamber can be shown.
struct Mark {
    tip: Pos2,
    line: [Pos2; 2],
}

/// Places on the rim of a chamber's water, or on its floor, those nearest to the eye first; only where they can be seen.
fn marks([lo, hi]: [DVec3; 2], z: f64, scenery: &Scenery<'_>) -> Vec<Mark> {
    let half = |length: f64| (0.25 * length).min(45.0);
    let (along, across) = (DVec3::X * half(hi.x - lo.x), DVec3::Y * half(hi.y - lo.y));
    let at = |u: f64, v: f64| DVec3::new(lo.x + u * (hi.x - lo.x), lo.y + v * (hi.y - lo.y), z);
    let mut places = Vec::new();
    for share in [0.5, 0.2, 0.8] {
        places.extend([(at(share, 0.0), along), (at(share, 1.0), along)]);
        places.extend([(at(0.0, share), across), (at(1.0, share), across)]);
    }
    places.push((at(0.5, 0.5), along));
    places.sort_by(|(a, _), (b, _)| {
        let depth = |p: &DVec3| scenery.camera.view(*p).z;
        // In steps, so that of places about as near the middle one comes first.
        (depth(a) / 40.0).round().total_cmp(&(depth(b) / 40.0).round())
    });
    let shown = places.into_iter().filter(|(place, _)| scenery.sight.sees(*place));
    let mark = |(place, half): (DVec3, DVec3)| {
        let ends = [scenery.project(place - half)?, scenery.project(place + half)?];
        Some(Mark { tip: scenery.project(place)?, line: ends })
    };
    shown.filter_map(mark).collect()
}

/// Where words about a place find room: right above it, else higher and higher, or below. With how far that is.
fn slip_of(tip: Pos2, size: egui::Vec2, rect: Rect, taken: &[Rect]) -> Option<(usize, Rect)> {
    const STEPS: usize = 14;
    let step = size.y + 2.0 * SLIP.y + 1.0;
    let places = (0..STEPS).flat_map(|k| {
        let by = [0.0, 0.55, -0.55].map(move |x| (k, x));
        by.into_iter()
    });
    let found = places.filter_map(|(k, aside)| {
        let up = f32::from(u8::try_from(k / 2).unwrap_or(0)) * step;
        let y = if k % 2 == 0 { tip.y - 11.0 - up } else { tip.y + 8.0 + up + size.y };
        let at = pos2(tip.x + aside * size.x, y);
        let own = Align2::CENTER_BOTTOM.anchor_size(at, size);
        let slip = own.expand2(SLIP);
        let is_free = rect.contains_rect(slip) && !taken.iter().any(|other| other.intersects(slip));
        is_free.then_some((2 * k + usize::from(aside.abs() > 0.0), own))
    });
    found.min_by_key(|(far, _)| *far)
}

/// Moved sideways into the pane.
fn inside(own: Rect, rect: Rect) -> Rect {
    let slip = own.expand2(SLIP);
    let right = (rect.left() - slip.left()).max(0.0);
    let left = (slip.right() - rect.right()).max(0.0);
    own.translate(vec2(right - left, 0.0))
}

/// Names beside the model, which reaches over `model_x`, none over another: those of the left half in a column on the left, the others on the
/// right.
fn beside(labels: Vec<(String, Pos2, bool)>, model_x: Vec<f32>, rect: Rect) -> Vec<Name> {
    let xs = || labels.iter().map(|(_, anchor, _)| anchor.x).chain(model_x.iter().copied());
    let (least, most) = (xs().fold(f32::MAX, f32::min), xs().fold(f32::MIN, f32::max));
    let middle = 0.5 * (least + most);
    let columns = [
        (least - BESIDE_POINTS).max(rect.left() + 110.0),
        (most + BESIDE_POINTS).min(rect.right() - 110.0),
    ];
    let mut names: Vec<Name> = labels
        .into_iter()
        .map(|(text, anchor, is_picked)| {
            let is_left = anchor.x <= middle;
            let x = columns[usize::from(!is_left)];
            Name { text, anchor, at: pos2(x, anchor.y), is_left, is_picked }
        })
        .collect();
    for is_left in [true, false] {
        let mut column: Vec<&mut Name> =
            names.iter_mut().filter(|name| name.is_left == is_left).collect();
        column.sort_by(|a, b| a.anchor.y.total_cmp(&b.anchor.y));
        let ys: Vec<f32> = column.iter().map(|name| name.anchor.y).collect();
        for (name, y) in column.into_iter().zip(spread(
            &ys,
            LINE_POINTS,
            rect.top() + 14.0,
            rect.bottom() - 14.0,
        )) {
            name.at.y = y;
        }
    }
    names
}

/// Heights near the wanted ones (in order), no two nearer than a line, between two limits as far as there is room.
pub(super) fn spread(wanted: &[f32], line: f32, top: f32, bottom: f32) -> Vec<f32> {
    let mut ys: Vec<f32> = Vec::with_capacity(wanted.len());
    for y in wanted {
        let least = ys.last().map_or(top, |last| last + line);
        ys.push(y.max(least));
    }
    let mut most = bottom;
    for y in ys.iter_mut().rev() {
        *y = y.min(most);
        most = *y - line;
    }
    ys
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn names_keep_apart_and_inside() {
        let ys = spread(&[10.0, 12.0, 13.0, 300.0, 395.0, 399.0], LINE_POINTS, 20.0, 390.0);
        assert!(ys.windows(2).all(|pair| LINE_POINTS <= pair[1] - pair[0] + 1e-3), "{ys:?}");
        assert!(20.0 <= ys[0] && ys[5] <= 390.0, "{ys:?}");
        assert!((ys[3] - 300.0).abs() < 1e-3, "what has room stays: {ys:?}");
        assert_eq!(spread(&[], LINE_POINTS, 0.0, 1.0), Vec::<f32>::new());
    }

    #[test]
    fn words_find_room_over_no_others() {
        let rect = Rect::from_min_max(pos2(0.0, 0.0), pos2(300.0, 300.0));
        let (size, mut taken) = (vec2(80.0, 14.0), Vec::new());
        for k in 0..12_u8 {
            let tip = pos2(140.0 + f32::from(k), 150.0);
            let (far, own) = slip_of(tip, size, rect, &taken).expect("there is room");
            assert!(rect.contains_rect(own) && (k > 0 || far == 0));
            assert!(taken.iter().all(|other: &Rect| !other.intersects(own.expand2(SLIP))));
            taken.push(own.expand2(SLIP));
        }
        assert_eq!(slip_of(pos2(140.0, 150.0), vec2(400.0, 14.0), rect, &[]), None);
    }

    #[test]
    fn names_stand_on_their_side() {
        let rect = Rect::from_min_max(pos2(0.0, 0.0), pos2(800.0, 600.0));
        let label = |x: f32| (format!("{x}"), pos2(x, 200.0), false);
        let names =
            beside(vec![label(300.0), label(440.0), label(500.0)], vec![250.0, 600.0], rect);
        let sides: Vec<bool> = names.iter().map(|name| name.is_left).collect();
        assert_eq!(sides, [true, false, false]);
        assert!(names[0].at.x < 250.0 && 600.0 < names[1].at.x);
    }
}

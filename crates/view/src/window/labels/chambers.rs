//! Names and levels of chambers, on their water.

use eframe::egui::{self, Align2, FontId, Pos2, Rect, Stroke, pos2, vec2};
use glam::DVec3;

use super::super::App;
use super::super::paper::bold;
use super::{SLIP, Scenery};
use crate::model::Model;

impl App {
    /// Of each chamber its name and its level, at a line on its water where that can be seen, or on its floor.
    pub(super) fn chambers(
        &self,
        painter: &egui::Painter,
        scenery: &Scenery<'_>,
        taken: &mut Vec<Rect>,
    ) {
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

#[cfg(test)]
mod tests {
    use super::*;

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
}

//! The arrows of a moment: along the way of the part's middle, beside the part where that way is too short to see, and
//! round the part where it turns.

use fit::Rigid;
use glam::{DQuat, DVec2, DVec3, dvec2};
use units::System;

use super::arrow::{self, HALO, INK};
use super::cast::Cast;
use super::moments::{Leg, Moment};
use crate::annotate::canvas::Canvas;
use crate::annotate::font::{Lettering, Weight};
use crate::camera::{Camera, Frame};

/// A way that is shorter on the picture is drawn beside the part, so long, in fine lines.
const SHORT: f64 = 42.0;
/// From the part to what stands beside it.
const BESIDE: f64 = 20.0;
/// Less turning than this is not told as one, degrees.
const LEAST_DEG: f64 = 1.0;
/// Less going than this beside a turn is not drawn, mm.
const LEAST_MM: f64 = 1.0;
/// An arrow of a turn goes at least so far round: less of a circle looks straight. The measure beside it says how far
/// the part turns.
const LEAST_SWEEP_DEG: f64 = 115.0;
/// Least and greatest radius of such an arrow, in fine lines.
const RADIUS: [f64; 2] = [44.0, 80.0];
/// It is so long on the picture, where at most twice the radius is enough for that.
const LEAST_ARC: f64 = 110.0;
/// Its radius as a share of the part's size.
const RADIUS_SHARE: f64 = 0.3;

/// What is needed to draw arrows.
pub(super) struct Drawing<'a> {
    pub(super) cast: &'a Cast<'a>,
    pub(super) camera: &'a Camera,
    /// See [`super::layout::Layout::unit`].
    pub(super) unit: f64,
    /// Of the frame, px.
    pub(super) size: [usize; 2],
    /// Units of measures.
    pub(super) units: System,
}

impl Drawing<'_> {
    pub(super) fn draw(&self, canvas: &mut Canvas, moment: &Moment) {
        for leg in &moment.legs {
            let turns = leg.angle_deg >= LEAST_DEG;
            if turns {
                self.turn(canvas, leg);
            }
            if !turns || leg.distance_mm >= LEAST_MM {
                // Where it turns too, its middle swings.
                let point = if turns { leg.pivot } else { self.cast.middle() };
                let line: Vec<DVec2> = self.way(leg, point);
                if arrow::length(&line) >= SHORT * self.unit {
                    arrow::draw(canvas, &line, self.unit);
                } else {
                    self.beside(canvas, leg, point);
                }
            }
        }
    }

    /// Where a point of the part goes on the picture.
    fn way(&self, leg: &Leg, point: DVec3) -> Vec<DVec2> {
        leg.passed.iter().map(|place| self.camera.project(place.apply(point))).collect()
    }

    /// The part at a place, as points of the picture.
    fn part(&self, place: &Rigid) -> Vec<DVec2> {
        let points = self.cast.points(60);
        points.into_iter().map(|p| self.camera.project(place.apply(p))).collect()
    }

    /// An arrow of the least length beside the part, with its measure.
    fn beside(&self, canvas: &mut Canvas, leg: &Leg, point: DVec3) {
        let ends = leg.passed.first().zip(leg.passed.last());
        let Some((from, to)) = ends else { return };
        let [a, b] = [from, to].map(|place| place.apply(point));
        // As seen from the middle, however short the way is.
        let far = a + (b - a).normalize_or_zero() * 50.0;
        let way = self.camera.project(far) - self.camera.project(a);
        let Some(along) = way.try_normalize() else { return };
        let part = self.part(to);
        let length = SHORT * self.unit;
        let text = fit::length_words(leg.distance_mm, self.units);
        // Upwards and to the right first.
        let side = if along.perp().y - along.perp().x > 0.0 { -along.perp() } else { along.perp() };
        let places = [side, -side].into_iter().filter_map(|away| {
            let reach = |p: &&DVec2| p.dot(away);
            let edge = part.iter().max_by(|p, q| reach(p).total_cmp(&reach(q)))?;
            Some((*edge + away * BESIDE * self.unit, away))
        });
        let frame = self.frame();
        let mut placed: Vec<_> = places
            .map(|(middle, away)| {
                let line = [middle - 0.5 * along * length, middle + 0.5 * along * length];
                let label = self.label_at(&text, middle, away);
                let all = [label.min, label.max, line[0], line[1]];
                let is_in = all.iter().all(|p| frame.holds(*p));
                (line, label, is_in)
            })
            .collect();
        placed.sort_by_key(|(.., is_in)| !is_in);
        if let Some((line, label, _)) = placed.into_iter().next() {
            arrow::draw(canvas, &line, self.unit);
            self.write(canvas, &text, label);
        }
    }

    /// A piece of a circle about the axis of a turn, round the middle of the part, with its measure.
    fn turn(&self, canvas: &mut Canvas, leg: &Leg) {
        let ends = leg.passed.first().zip(leg.passed.last());
        let Some((from, to)) = ends else { return };
        let turn = to.turn * from.turn.inverse();
        let turn = if turn.w < 0.0 { -turn } else { turn };
        let Some(axis) = turn.xyz().try_normalize() else { return };
        let Some(half_way) = leg.passed.get(leg.passed.len() / 2) else { return };
        let centre = half_way.apply(self.cast.middle());
        let part = self.part(half_way);
        let size = Frame::around(part).map_or(0.0, |f| f.size().length());
        let px_per_mm = self.px_per_mm(centre);
        let [least, most] = RADIUS.map(|px| px * self.unit);
        let radius = (RADIUS_SHARE * size).clamp(least, most) / px_per_mm;
        let Some(towards) = self.spoke(from, centre, axis) else { return };
        let sweep = leg.angle_deg.max(LEAST_SWEEP_DEG).to_radians();
        let point = |share: f64, radius: f64| {
            let spoke = DQuat::from_axis_angle(axis, (share - 0.5) * sweep) * towards;
            self.camera.project(centre + radius * spoke)
        };
        let count = 36_u32;
        let line = |radius: f64| -> Vec<DVec2> {
            (0..=count).map(|k| point(f64::from(k) / f64::from(count), radius)).collect()
        };
        // A circle that is seen slanting is drawn larger.
        let shown = arrow::length(&line(radius)).max(1.0);
        let radius = radius * (LEAST_ARC * self.unit / shown).clamp(1.0, 2.0);
        let line = line(radius);
        arrow::draw(canvas, &line, self.unit);
        let text = format!("{:.0}°", leg.angle_deg);
        let middle = point(0.5, radius);
        let away = (middle - self.camera.project(centre)).try_normalize().unwrap_or(DVec2::Y);
        let label = self.label_at(&text, middle, away);
        self.write(canvas, &text, label);
    }

    /// From the middle of a turn towards the middle of its arrow: for a turn about an upright axis the side of the eye;
    /// of a part that is tipped its top, or the edge that rises where it lies rather than stands.
    fn spoke(&self, from: &Rigid, centre: DVec3, axis: DVec3) -> Option<DVec3> {
        const UPRIGHT: f64 = 0.7;
        if axis.z.abs() > UPRIGHT {
            return (self.camera.eye - centre).reject_from(axis).try_normalize();
        }
        let points = self.cast.points(60);
        let extent = |way: DVec3| {
            let along = points.iter().map(|p| (from.turn * *p).dot(way));
            let start = [f64::INFINITY, f64::NEG_INFINITY];
            let [lo, hi] = along.fold(start, |[lo, hi], v| [lo.min(v), hi.max(v)]);
            hi - lo
        };
        let up = DVec3::Z.reject_from(axis).try_normalize()?;
        let rising = up.cross(axis);
        Some(if extent(up) >= extent(rising) { up } else { rising })
    }

    /// How large 1 mm is on the picture, at a place.
    fn px_per_mm(&self, place: DVec3) -> f64 {
        const PROBE_MM: f64 = 10.0;
        let at = |p: DVec3| self.camera.project(p);
        let px = at(place).distance(at(place + PROBE_MM * self.camera.right));
        (px / PROBE_MM).max(1e-6)
    }

    fn frame(&self) -> Frame {
        let [w, h] = self.size.map(|v| v as f64);
        Frame { min: DVec2::ZERO, max: dvec2(w, h) }.grown(-4.0 * self.unit)
    }

    fn lettering(&self) -> Lettering {
        Lettering::new(Weight::Bold, 17.0 * self.unit)
    }

    /// Where a measure stands that is of something at `place`, on its side `away`; moved into the frame.
    fn label_at(&self, text: &str, place: DVec2, away: DVec2) -> Frame {
        let lettering = self.lettering();
        let half = 0.5 * dvec2(lettering.width(text), lettering.cap_height);
        let off = 9.0 * self.unit + half.dot(away.abs());
        let frame = self.frame();
        let middle = place + off * away;
        let middle = middle.max(frame.min + half).min(frame.max - half);
        Frame { min: middle - half, max: middle + half }
    }

    fn write(&self, canvas: &mut Canvas, text: &str, at: Frame) {
        let start = dvec2(at.min.x, at.max.y);
        canvas.text(&self.lettering(), text, start, INK, Some((2.6 * self.unit, HALO)));
    }
}

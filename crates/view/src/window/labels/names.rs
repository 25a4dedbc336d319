//! Names of parts, in two columns beside the model.

use eframe::egui::{self, Align2, FontId, Pos2, Rect, pos2, vec2};
use glam::DVec3;
use scene::Topic;

use super::super::App;
use super::super::timeline::flow_words;
use super::{SLIP, Scenery};
use crate::model::Model;
use crate::state::rehearsal;

/// Names closer than this above each other run together, points; our judgement.
const LINE_POINTS: f32 = 19.0;
/// Between the model and the names beside it, points; our judgement.
const BESIDE_POINTS: f32 = 26.0;
/// What is nearer to a chamber than this is one of its walls, mm; our judgement.
const BESIDE_MM: f64 = 1.0;

/// A name, where it points and where it stands, points.
#[derive(Clone, Debug, PartialEq)]
struct Name {
    text: String,
    anchor: Pos2,
    at: Pos2,
    is_left: bool,
    is_picked: bool,
}

impl App {
    /// Names of parts, in two columns beside the model; of pumps and drains in a failure what they carry too.
    pub(super) fn names(
        &self,
        painter: &egui::Painter,
        scenery: &Scenery<'_>,
        taken: &mut Vec<Rect>,
    ) {
        let Scenery { model, rect, .. } = *scenery;
        let places = self.state.places(model);
        let about = self.state.toured(model);
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
            // On the tour those in the chamber and around it.
            if !is_picked && about.is_some_and(|about| !is_at(model, thing, about)) {
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
                let colour = if name.is_picked { self.paper.blue } else { self.paper.ink };
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
}

/// Whether a body stands in a chamber or is a wall of it.
fn is_at(model: &Model, thing: usize, [lo, hi]: [DVec3; 2]) -> bool {
    let bounds = model.bounds.get(thing).copied().flatten();
    bounds.is_some_and(|[least, most]| {
        let (lo, hi) = (lo - BESIDE_MM, hi + BESIDE_MM);
        least.cmplt(hi).all() && lo.cmplt(most).all()
    })
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
pub(in crate::window) fn spread(wanted: &[f32], line: f32, top: f32, bottom: f32) -> Vec<f32> {
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

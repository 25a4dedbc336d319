//! Tells what the window shows to a program that drives it by pointer and keys: the option `--tell FILE`.
//!
//! Each frame that differs from the one before it is a line of JSON: what was chosen, what plays, how high the water
//! stands, where on the screen every control is and every body can be pointed at. Places are pixels of the window.

mod seen;

use std::fs::File;
use std::io::Write as _;
use std::path::Path;
use std::sync::{Arc, Mutex};

use eframe::egui::{self, accesskit};
use serde_json::{Value, json};
use study::trial::Lines;

use super::App;
use crate::canvas::Detail;
use crate::model::Model;
use crate::state::{Play, name_of};
use seen::Seen;

/// Where it is told, and what was told last.
#[derive(Debug)]
pub(super) struct Tell {
    slate: Arc<Mutex<Slate>>,
    seen: Option<Seen>,
}

/// What is written when the frame is done.
#[derive(Debug)]
struct Slate {
    file: File,
    words: Value,
    last: String,
}

impl Tell {
    /// Tells into a file from now on.
    ///
    /// # Errors
    /// When the file cannot be written.
    pub(super) fn into(path: &Path, ctx: &egui::Context) -> Result<Self, String> {
        let file = File::create(path)
            .map_err(|error| format!("cannot write `{}`: {error}", path.display()))?;
        let slate = Arc::new(Mutex::new(Slate { file, words: Value::Null, last: String::new() }));
        ctx.add_plugin(Teller(slate.clone()));
        Ok(Self { slate, seen: None })
    }
}

/// Adds the controls of a finished frame to what is told of it.
struct Teller(Arc<Mutex<Slate>>);

impl egui::Plugin for Teller {
    fn debug_name(&self) -> &'static str {
        "tell"
    }

    fn setup(&mut self, ctx: &egui::Context) {
        // The tree of controls as screen readers get it; here no more is done with it than to write it down.
        ctx.enable_accesskit();
    }

    fn output_hook(&mut self, output: &mut egui::FullOutput) {
        let Ok(mut slate) = self.0.lock() else { return };
        let per_point = f64::from(output.pixels_per_point);
        if let (Some(update), Some(words)) =
            (&output.platform_output.accesskit_update, slate.words.as_object_mut())
        {
            words.insert("controls".to_owned(), controls(update, per_point));
        }
        let line = slate.words.to_string();
        if line != slate.last {
            // Nothing can be told to one who does not listen.
            let _ = writeln!(slate.file, "{line}");
            slate.last = line;
        }
    }
}

/// Every control, with words or without, and every label that has a place, from above to below.
fn controls(update: &accesskit::TreeUpdate, per_point: f64) -> Value {
    let told = update.nodes.iter().filter_map(|(id, node)| {
        let at = node.bounds()?;
        let corners = [at.x0, at.y0, at.x1, at.y1].map(|x| rounded(x * per_point));
        let has_words = node.label().is_some() || node.value().is_some();
        let is_clicked = node.supports_action(accesskit::Action::Click);
        let is_slider = node.role() == accesskit::Role::Slider;
        (has_words || is_clicked || is_slider).then(|| {
            let value = json!({
                "role": format!("{:?}", node.role()),
                "name": node.label(),
                "value": node.value(),
                "number": node.numeric_value(),
                "at": corners,
                "is_on": node.toggled().map(|toggled| toggled == accesskit::Toggled::True),
                "is_off": node.is_disabled(),
                "has_focus": *id == update.focus,
            });
            (corners, value)
        })
    });
    let mut told: Vec<([f64; 4], Value)> = told.collect();
    let order = |a: &[f64; 4]| [a[1], a[0], a[3], a[2]];
    told.sort_by(|(a, _), (b, _)| {
        let pairs = order(a).into_iter().zip(order(b));
        pairs.fold(std::cmp::Ordering::Equal, |so_far, (a, b)| so_far.then(a.total_cmp(&b)))
    });
    told.into_iter().map(|(_, value)| value).collect()
}

/// To a hundredth: less is not seen.
fn rounded(x: f64) -> f64 {
    (x * 100.0).round() / 100.0
}

impl App {
    /// Tells of this frame, if somebody listens.
    pub(super) fn tell(&mut self, ctx: &egui::Context) {
        let Some(mut tell) = self.tell.take() else { return };
        let words = self.all_words(ctx, &mut tell);
        if let Ok(mut slate) = tell.slate.lock() {
            slate.words = words;
        }
        self.tell = Some(tell);
    }

    fn all_words(&self, ctx: &egui::Context, tell: &mut Tell) -> Value {
        let per_point = f64::from(ctx.pixels_per_point());
        let size = ctx.content_rect().size() * ctx.pixels_per_point();
        let mistakes = self.refused.iter().map(|finding| (&finding.message, finding.line));
        let mut words = json!({
            "window": [size.x, size.y],
            "pointer": Self::pointer(ctx),
            "is_scrolling": ctx.input(egui::InputState::is_scrolling),
            "has_shift": ctx.input(|input| input.modifiers.shift),
            "progress": self.progress,
            "mistakes": mistakes.collect::<Vec<_>>(),
            "is_dark": self.paper.is_dark,
            "has_help": self.has_help,
            "trouble": self.trouble.lock().ok().and_then(|trouble| trouble.clone()),
            "is_still": self.is_still(),
        });
        let (Some(model), Some(all)) = (&self.model, words.as_object_mut()) else { return words };
        if let Value::Object(chosen) = self.chosen(model) {
            all.extend(chosen);
        }
        // Cards are at the right and time runs below: the model begins in the upper left corner.
        let corner = ctx.content_rect().min;
        let corner = glam::dvec2(f64::from(corner.x), f64::from(corner.y)) * per_point;
        all.insert("model".to_owned(), self.view(corner));
        if self.is_still() {
            let seen = Seen::of(tell.seen.take(), model, &self.state, self.frame);
            all.insert("things".to_owned(), seen.told(model, &self.state, corner));
            tell.seen = Some(seen);
        }
        words
    }

    /// Where the pointer was last, px.
    fn pointer(ctx: &egui::Context) -> Option<[f32; 2]> {
        let at = ctx.input(|input| input.pointer.latest_pos())?;
        Some([at.x, at.y].map(|x| (x * ctx.pixels_per_point()).round()))
    }

    /// Whether nothing moves and the model is drawn as finely as it will be.
    fn is_still(&self) -> bool {
        self.detail() == Detail::Fine && !self.state.is_moving()
    }

    /// What the person chose, and what follows from it.
    fn chosen(&self, model: &Model) -> Value {
        let (state, show) = (&self.state, &model.show);
        let name = |thing: usize| show.things.get(thing).map(|thing| thing.name.as_str());
        let leaves = show.slots.iter().zip(&state.leaves).map(|(slot, leaf)| {
            let chosen = slot.leaves.get(*leaf).map(|(name, _)| name.as_str());
            (slot.name.as_str(), chosen)
        });
        let levels = show.basins.iter().zip(state.levels(model));
        let levels = levels.map(|(basin, level)| (basin.name.as_str(), level));
        let doors = show.doors.iter().zip(&state.doors_mm);
        let doors = doors.map(|(door, mm)| (door.leaf.as_str(), *mm));
        let kept = state.to_keep(model).into_iter();
        let kept =
            kept.map(|kept| json!({ "lines": kept.lines.map(Lines::replaced), "text": kept.text }));
        json!({
            "title": show.title,
            "ways": show.ways.iter().filter(|way| !way.steps.is_empty()).count(),
            "picked": state.picked.and_then(name),
            "moving": state.moving().into_iter().filter_map(name).collect::<Vec<_>>(),
            "play": state.play.as_ref().map(|play| played(model, play)),
            "leaves": leaves.collect::<Vec<_>>(),
            "doors_mm": doors.collect::<Vec<_>>(),
            "is_trial": !state.is_as_in_file(model),
            "to_keep": kept.collect::<Vec<_>>(),
            "levels_mm": levels.collect::<Vec<_>>(),
            "cut": state.cut.axis.map(|axis| (axis.words(), state.cut.share)),
            "off": state.off.iter().map(|group| format!("{group:?}")).collect::<Vec<_>>(),
            "has_water": state.has_water,
            "has_names": state.has_names,
            "has_bending": state.has_bending,
            "has_levels": state.has_levels,
            "is_lifted": state.is_lifted,
        })
    }

    /// From where the model is seen; `corner` is that of its picture in the window, px.
    fn view(&self, corner: glam::DVec2) -> Value {
        let orbit = self.state.orbit;
        let camera = orbit.camera(self.frame);
        json!({
            "corner": corner.to_array(),
            "size": self.frame.size().to_array(),
            "target": orbit.target.to_array(),
            "yaw": orbit.yaw,
            "pitch": orbit.pitch,
            "distance_mm": orbit.distance_mm,
            "is_parallel": orbit.lens == scene::Lens::Parallel,
            "eye": camera.eye.to_array(),
            "right": camera.right.to_array(),
            "up": camera.up.to_array(),
            "forward": camera.forward.to_array(),
            "scale": camera.scale,
            "centre": camera.centre.to_array(),
        })
    }
}

fn played(model: &Model, play: &Play) -> Value {
    json!({
        "what": name_of(model, play.what),
        "t_s": play.clock.t_s,
        "span_s": play.clock.span_s,
        "is_running": play.clock.is_running,
        "is_backwards": play.clock.is_backwards,
    })
}

#[cfg(test)]
mod tests {
    use super::*;
    use egui::accesskit::{Node, NodeId, Rect, Role, Toggled, Tree, TreeId, TreeUpdate};

    fn node(role: Role, words: Option<&str>, [x0, y0, x1, y1]: [f64; 4]) -> Node {
        let mut node = Node::new(role);
        node.set_bounds(Rect { x0, y0, x1, y1 });
        if let Some(words) = words {
            node.set_label(words);
        }
        node
    }

    #[test]
    fn controls_are_told_from_above_to_below_with_their_places() {
        let mut on = node(Role::Button, Some("water"), [10.0, 80.0, 30.0, 95.123_456]);
        on.set_toggled(Toggled::True);
        let nodes = vec![
            (NodeId(1), on),
            (NodeId(2), node(Role::Slider, None, [10.0, 20.0, 90.0, 30.0])),
            (NodeId(3), node(Role::GenericContainer, None, [0.0, 0.0, 100.0, 100.0])),
        ];
        let update = TreeUpdate {
            nodes,
            tree: Some(Tree::new(NodeId(0))),
            tree_id: TreeId::ROOT,
            focus: NodeId(1),
        };
        let told = controls(&update, 2.0);
        assert_eq!(told[0]["role"], "Slider");
        assert_eq!(told[1]["name"], "water");
        assert_eq!(told[1]["at"], json!([20.0, 160.0, 60.0, 190.25]));
        assert_eq!([&told[1]["is_on"], &told[1]["has_focus"]], [true, true]);
        assert!(told[2].is_null(), "what has no words is no control");
    }
}

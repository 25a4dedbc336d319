//! The folder `fit/`, and `checks/fit.json` by which another program can judge clearances and play every way
//! out again.

use std::collections::BTreeSet;

use design::{Design, Removable, RemovableId, RemovableKind};
use fit::{ALLOWANCE_MM, Fit, Move, Origin, Step, ThingId, Way};
use glam::DAffine3;
use plate::Shape;
use serde_json::{Value, json};
use study::Part;

use super::Output;
use crate::file_name::FileName;
use crate::files::Files;
use crate::fit_files::{self, FitFile};
use crate::fit_json;
use crate::strips::{self, instead_of};

/// Texts, motions, drawings and, `with_pictures`, a film strip of every way out.
pub(super) fn of(
    design: &Design,
    fit: &Fit,
    parts: &[Part<'_>],
    with_pictures: bool,
) -> anyhow::Result<Vec<Output>> {
    let asked = fit_files::all(design);
    let mut files = fit_files::of(fit, design, &asked);
    if with_pictures {
        files.extend(strips::of(fit, design, parts, &asked, |_, _| {})?);
    }
    let output = |file: FitFile| ("fit", file.name, file.extension, file.purpose, file.bytes);
    Ok(files.into_iter().map(output).collect())
}

/// Adds `checks/fit.json`.
pub(super) fn add_check(files: &mut Files, design: &Design, fit: &Fit, parts: &[Part<'_>]) {
    files.add_fixed(
        "checks/fit.json",
        "all bodies as convex pieces, their gaps and every way out, to be judged again",
        format!("{}\n", check(design, fit, parts)),
    );
}

fn check(design: &Design, fit: &Fit, parts: &[Part<'_>]) -> Value {
    let Fit { world, report } = fit;
    let judged = Judged { design, fit };
    let doors: Vec<Value> = world
        .exits
        .doors
        .iter()
        .map(|door| json!({ "out": door.out, "beyond": door.beyond }))
        .collect();
    let clearances: Vec<Value> = report
        .clearances
        .iter()
        .map(|c| json!({ "a": c.a, "b": c.b, "gap_mm": c.gap_mm, "at": c.at, "when": c.when }))
        .collect();
    json!({
        "about": "lengths in mm, turns as quaternions [x, y, z, w], indices count from 0; a point p of a part in its \
                  place goes to turn·p + shift, and in a move its point `pivot` goes straight while it turns about it",
        "allowance_mm": ALLOWANCE_MM,
        "things": (0..world.things.len()).map(|id| judged.thing(id, parts)).collect::<Vec<_>>(),
        "clearances": clearances,
        "touching": fit::untold(design, world),
        "near_mm": fit::NEAR_MM,
        "exits": { "rim_z": world.exits.rim_z, "doors": doors },
        "ways": report.ways.iter().map(|way| judged.way(way)).collect::<Vec<_>>(),
        "emptying": judged.steps(&report.emptying, None),
    })
}

/// What is judged.
struct Judged<'a> {
    design: &'a Design,
    fit: &'a Fit,
}

impl Judged<'_> {
    fn thing(&self, id: ThingId, parts: &[Part<'_>]) -> Value {
        let Self { design, fit } = self;
        let thing = &fit.world.things[id];
        let (kind, placed) = match thing.origin {
            Origin::Placed(k) => ("placed", design.placed.get(k)),
            Origin::Spare(k) => ("spare", design.spares.get(k)),
            Origin::Surrounding(_) => ("surrounding", None),
        };
        let shape = match thing.origin {
            Origin::Surrounding(k) => design.surroundings.as_ref().map(|s| &s.things[k].shape),
            _ => placed.map(|p| &design.pieces[p.piece].shape),
        };
        let is_planar = shape.is_some_and(is_planar);
        let stl = placed.and_then(|p| {
            Some(format!("model/stl/{}.stl", FileName::of_part(parts.get(p.piece)?.piece)))
        });
        json!({
            "name": thing.name,
            "is_in_place": kind != "spare",
            "kind": kind,
            "is_planar": is_planar,
            "chord_mm": if is_planar { 0.0 } else { fit::FINE_CHORD_MM },
            "pieces": thing.fine.iter().map(|piece| &piece.points).collect::<Vec<_>>(),
            "stl": stl,
            "pose": placed.map(|p| columns(&p.pose)),
        })
    }

    fn way(&self, way: &Way) -> Value {
        json!({
            "removable": self.design.removables[way.removable].name,
            "verdict": if way.steps.is_empty() { fit_json::verdict(&way.alone) } else { "found" },
            "alone": fit_json::verdict(&way.alone),
            "steps": self.steps(&way.steps, Some(way.removable)),
        })
    }

    /// Steps of one order, each with what is gone before it; of a spare, `of`, what stands in its place is gone from
    /// the first on.
    fn steps(&self, steps: &[Step], of: Option<RemovableId>) -> Vec<Value> {
        let mut gone: BTreeSet<ThingId> = BTreeSet::new();
        gone.extend(
            of.and_then(|of| instead_of(self.design, of)).iter().flat_map(|id| self.takes(*id)),
        );
        let mut told = Vec::new();
        for step in steps {
            let removable = &self.design.removables[step.removable];
            let mut before = gone.clone();
            before.extend(self.fit.world.undone(removable, self.design));
            if removable.kind == RemovableKind::Sump {
                before.extend(self.all_in_it());
            }
            let is_gone = |thing: &ThingId| !before.contains(thing);
            let things: Vec<ThingId> =
                self.things(step.removable).into_iter().filter(is_gone).collect();
            told.push(json!({
                "name": step.name,
                "is_sump": removable.kind == RemovableKind::Sump,
                "things": things,
                "gone": before,
                "pieces": self.pieces(removable, &things),
                "moves": step.moves.iter().map(one_move).collect::<Vec<_>>(),
            }));
            gone.extend(self.takes(step.removable));
        }
        told
    }

    /// The corners of what moves, where it is not simply its things: of a sock its flange, of the sump its block.
    fn pieces(&self, removable: &Removable, things: &[ThingId]) -> Value {
        if removable.kind != RemovableKind::Sump && removable.stiff_from_z.is_none() {
            return Value::Null;
        }
        let pieces = self.fit.world.moving(removable, things, self.design, false);
        pieces.iter().map(|piece| json!(piece.points)).collect()
    }

    /// All that is loose: the sump goes empty.
    fn all_in_it(&self) -> impl Iterator<Item = ThingId> + '_ {
        let loose = self.design.placed.iter().enumerate().filter(|(_, p)| p.loose.is_some());
        loose.map(|(id, _)| id)
    }

    fn things(&self, which: RemovableId) -> Vec<ThingId> {
        self.fit.world.part(&self.design.removables[which], self.design)
    }

    /// What is gone once it is out.
    fn takes(&self, which: RemovableId) -> Vec<ThingId> {
        let removable = &self.design.removables[which];
        let mut things = self.things(which);
        things.extend(self.fit.world.undone(removable, self.design));
        things
    }
}

/// Whether all sides of a shape are plane.
fn is_planar(shape: &Shape) -> bool {
    match shape {
        Shape::Sheet(plate) => {
            let cuts = plate.cuts.iter().map(|cut| &cut.contour);
            let mut segments = std::iter::once(&plate.outline).chain(cuts).flat_map(|c| &c.0);
            segments.all(|segment| segment.arc.is_none())
        }
        Shape::Turned(_) => false,
    }
}

fn one_move(plain: &Move) -> Value {
    json!({ "from": plain.from, "to": plain.to, "pivot": plain.pivot })
}

/// The axes and the origin of a pose.
fn columns(pose: &DAffine3) -> [f64; 12] {
    pose.to_cols_array()
}

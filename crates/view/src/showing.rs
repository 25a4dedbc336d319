//! From what is known of a sump to what is shown of it.

use design::{Design, PlacedId, Role, SpareId};
use findings::Finding;
use fit::gap_words;
use scene::Scene;
use show::{Basin, Group, PartRow, Rescue, Show, Slot, Step, Thing, ThingId, WayOut};
use study::size::{show_mass, size};
use study::{Fitted, Part, Reading};
use units::System;

/// All that is shown of a design.
pub(crate) fn show(
    reading: &Reading,
    design: &Design,
    parts: &[Part<'_>],
    scene: &Scene,
    found: &[Finding],
    fitted: Option<&Fitted>,
) -> Show {
    let things = Things { design };
    let findings = findings(reading, found);
    let step = |step: &fit::Step| things.step(step);
    let ways = fitted.map_or_else(Vec::new, |fitted| {
        let ways = fitted.fit.report.ways.iter();
        ways.map(|way| WayOut {
            name: design.removables[way.removable].name.clone(),
            verdict: verdict(way),
            steps: way.steps.iter().map(step).collect(),
        })
        .collect()
    });
    let report = fitted.map(|fitted| &fitted.fit.report);
    Show {
        title: scene.title.clone(),
        is_us: design.report == System::UsCustomary,
        outside_mm: design.outside,
        floor_z_mm: design.floor_z,
        things: things.all(reading, parts, scene, &findings, fitted.is_some()),
        basins: basins(design),
        ways,
        before_hands: format!("{}: {}", fit::BEFORE_HANDS_HEAD, fit::BEFORE_HANDS.join("; ")),
        emptying: report.map_or_else(Vec::new, |r| r.emptying.iter().map(step).collect()),
        rescue: report.and_then(|r| r.rescue.as_ref()).map(|rescue| Rescue {
            chamber: rescue.chamber.clone(),
            verdict: format!("a hand reaches {} of its floor", fit::percent(rescue.share)),
            steps: rescue.steps.iter().map(step).collect(),
        }),
        slots: things.slots(),
        doors: Vec::new(),
        rehearsals: Vec::new(),
        stops: Vec::new(),
        findings,
        parts: part_rows(parts, design.report),
    }
}

/// What was found, with its lines, the worst first.
pub(crate) fn findings(reading: &Reading, more: &[Finding]) -> Vec<show::Finding> {
    let report = reading.report(more);
    let shown = |finding: &Finding| show::Finding {
        grade: finding.grade,
        code: finding.code.to_owned(),
        message: finding.message.clone(),
        hint: finding.hint.clone(),
        parameter: finding.parameter.clone(),
        line: finding.span.as_ref().map(|span| line(&reading.source.text, span.start)),
        things: Vec::new(),
    };
    report.findings.iter().map(shown).collect()
}

/// Line of a place in a text, from 1.
fn line(text: &str, at: usize) -> usize {
    1 + text.bytes().take(at).filter(|byte| *byte == b'\n').count()
}

fn verdict(way: &fit::Way) -> String {
    match way.steps.as_slice() {
        [] => "no way out is known".to_owned(),
        [_] => "comes out by itself".to_owned(),
        [before @ .., _] => {
            let names: Vec<String> = before.iter().map(|step| format!("`{}`", step.name)).collect();
            format!("comes out after {}", fit::listed(&names))
        }
    }
}

fn basins(design: &Design) -> Vec<Basin> {
    let basin = |water: &design::WaterBody| Basin {
        name: water.name.clone(),
        parameter: String::new(),
        is_chamber: design.chambers.iter().any(|chamber| chamber.name == water.name),
        min_mm: water.min.truncate(),
        max_mm: water.max.truncate(),
        level_mm: water.max.z - design.floor_z,
    };
    design.waters.iter().map(basin).collect()
}

fn part_rows(parts: &[Part<'_>], system: System) -> Vec<PartRow> {
    let row = |part: &Part<'_>| PartRow {
        number: part.piece.number.clone(),
        name: part.piece.name.clone(),
        count: part.piece.quantity,
        size: size(part).show(system),
        stock: stock(part),
        mass: part.mass_kg().map(|kg| show_mass(Some(kg), system)),
    };
    study::parts::listed(parts).map(row).collect()
}

fn stock(part: &Part<'_>) -> String {
    match &part.piece.sheet {
        Some(sheet) => format!("{}, sheet `{sheet}`", part.piece.material),
        None => part.piece.material.clone(),
    }
}

/// The list of all bodies: those of the sump, then its spares, then the things of its cabinet.
struct Things<'a> {
    design: &'a Design,
}

impl Things<'_> {
    fn of(&self, placed: &[PlacedId], spares: &[SpareId], shelf: Option<usize>) -> Vec<ThingId> {
        let before = self.design.placed.len();
        let spares = spares.iter().map(|spare| before + spare);
        let shelf = shelf.map(|shelf| before + self.design.spares.len() + shelf);
        placed.iter().copied().chain(spares).chain(shelf).collect()
    }

    fn moved(&self, removable: design::RemovableId) -> Vec<ThingId> {
        let removable = &self.design.removables[removable];
        self.of(&removable.parts, &removable.spares, removable.shelf)
    }

    fn step(&self, step: &fit::Step) -> Step {
        let removable = &self.design.removables[step.removable];
        Step {
            name: step.name.clone(),
            things: self.moved(step.removable),
            undone: self.of(&removable.undone, &removable.undone_spares, None),
            undo: step.undo.clone(),
            moves: step.moves.clone(),
            least_gap: gap_words(step.least_gap_mm, self.design.report),
        }
    }

    /// Leaves that stand for one another.
    fn slots(&self) -> Vec<Slot> {
        let removables = self.design.removables.iter().enumerate();
        let slot = |(k, removable): (usize, &design::Removable)| {
            let others = self.design.removables.iter().enumerate();
            let others = others.filter(|(_, other)| other.instead_of == Some(k));
            let leaf = |k: usize| (self.design.removables[k].name.clone(), self.moved(k));
            let mut leaves: Vec<_> = others.map(|(other, _)| leaf(other)).collect();
            if leaves.is_empty() {
                return None;
            }
            leaves.insert(0, leaf(k));
            Some(Slot { name: removable.name.clone(), leaves })
        };
        removables.filter_map(slot).collect()
    }

    fn all(
        &self,
        reading: &Reading,
        parts: &[Part<'_>],
        scene: &Scene,
        findings: &[show::Finding],
        has_ways: bool,
    ) -> Vec<Thing> {
        let Design { placed, spares, report, .. } = self.design;
        let in_place = placed.iter().map(|thing| (thing, false));
        let all = in_place.chain(spares.iter().map(|thing| (thing, true)));
        let mut things: Vec<Thing> = all
            .map(|(thing, is_spare)| {
                let part = &parts[thing.piece];
                Thing {
                    name: thing.name.clone(),
                    group: if is_spare { Group::Spare } else { group(part.piece.role) },
                    what: part.piece.role.words().to_owned(),
                    parameter: thing.parameter.clone(),
                    line: None,
                    size: size(part).show(*report),
                    stock: Some(stock(part)),
                    mass: part.mass_kg().map(|kg| show_mass(Some(kg), *report)),
                    findings: Vec::new(),
                    way: None,
                }
            })
            .collect();
        let around = self.design.surroundings.iter().flat_map(|around| &around.things);
        let bodies = scene.cabinet.iter().flat_map(|cabinet| &cabinet.things);
        things.extend(around.zip(bodies).map(|(thing, shown)| {
            let size = shown.body.bounds().map_or(String::new(), |[lo, hi]| {
                let [x, y, z] = (hi - lo).to_array().map(|mm| fit::length_words(mm, *report));
                format!("{x} × {y} × {z}")
            });
            Thing {
                name: thing.name.clone(),
                group: Group::Cabinet,
                what: "in the cabinet".to_owned(),
                parameter: thing.parameter.clone(),
                line: None,
                size,
                stock: None,
                mass: None,
                findings: Vec::new(),
                way: None,
            }
        }));
        for thing in &mut things {
            let key = reading.spans.key(&thing.parameter);
            thing.line = key.map(|key| line(&reading.source.text, key.start));
            let about = |finding: &show::Finding| {
                let rest = finding.parameter.strip_prefix(&thing.parameter);
                !thing.parameter.is_empty()
                    && rest.is_some_and(|rest| rest.is_empty() || rest.starts_with(['.', '[']))
            };
            thing.findings = (0..findings.len()).filter(|k| about(&findings[*k])).collect();
        }
        if has_ways {
            for removable in 0..self.design.removables.len() {
                // What comes out alone goes before what comes out with something larger.
                for thing in self.moved(removable) {
                    if let Some(thing) = things.get_mut(thing) {
                        let count = |k: usize| self.moved(k).len();
                        if thing.way.is_none_or(|way| count(removable) < count(way)) {
                            thing.way = Some(removable);
                        }
                    }
                }
            }
        }
        things
    }
}

fn group(role: Role) -> Group {
    match role {
        Role::Equipment => Group::Equipment,
        Role::DrainPipe | Role::WallFitting | Role::Sock => Group::Plumbing,
        _ => Group::Sump,
    }
}

//! The list of all bodies: those of the sump, then its spares, then the things of its cabinet.

use design::{Design, PlacedId, Removable, RemovableId, RemovableKind, Role, SpareId, Surrounding};
use design::{Placed, SurroundingKind};
use glam::DVec3;
use params::EquipmentKind;
use show::{Group, Thing, ThingId};

use super::Studied;
use crate::parts::Part;
use crate::size::{show_box, show_mass, size};
use crate::stock;

/// The bodies of a design.
#[derive(Clone, Copy)]
pub(super) struct Bodies<'a> {
    pub(super) design: &'a Design,
}

impl Bodies<'_> {
    /// Where these are in the list of all.
    fn ids(&self, placed: &[PlacedId], spares: &[SpareId]) -> Vec<ThingId> {
        let before = self.design.placed.len();
        placed.iter().copied().chain(spares.iter().map(|spare| before + spare)).collect()
    }

    /// What moves when this is taken out.
    pub(super) fn moved(&self, which: RemovableId) -> Vec<ThingId> {
        let Some(removable) = self.design.removables.get(which) else { return Vec::new() };
        let mut ids = self.ids(&removable.parts, &removable.spares);
        let around = self.design.placed.len() + self.design.spares.len();
        ids.extend(removable.shelf.map(|shelf| around + shelf));
        ids
    }

    /// What is undone before, and away then. The sump is taken out empty.
    pub(super) fn undone(&self, removable: &Removable) -> Vec<ThingId> {
        let mut ids = self.ids(&removable.undone, &removable.undone_spares);
        if removable.kind == RemovableKind::Sump {
            let loose = self.design.placed.iter().enumerate().filter(|(_, p)| p.loose.is_some());
            ids.extend(loose.map(|(id, _)| id));
        }
        ids
    }

    /// Every body with all that is told of it, but its findings.
    pub(super) fn all(&self, of: &Studied<'_>) -> Vec<Thing> {
        let placed = self.design.placed.iter().map(|placed| (placed, false));
        let spares = self.design.spares.iter().map(|placed| (placed, true));
        let mut things: Vec<Thing> = placed
            .chain(spares)
            .filter_map(|(placed, is_spare)| part(of, placed, is_spare))
            .collect();
        let around = self.design.surroundings.iter().flat_map(|around| &around.things);
        let shown = of.scene.cabinet.iter().flat_map(|cabinet| &cabinet.things);
        things.extend(around.zip(shown).map(|(thing, shown)| {
            let bounds = shown.body.bounds().unwrap_or_default();
            surrounding(of, thing, bounds)
        }));
        if of.fit.is_some() {
            self.name_ways(&mut things);
        }
        things
    }

    /// What comes out alone goes before what comes out with something larger: a door before its leaf.
    fn name_ways(&self, things: &mut [Thing]) {
        let moved: Vec<Vec<ThingId>> =
            (0..self.design.removables.len()).map(|which| self.moved(which)).collect();
        for (which, ids) in moved.iter().enumerate() {
            for id in ids {
                let Some(thing) = things.get_mut(*id) else { continue };
                if thing.way.is_none_or(|other| ids.len() < moved[other].len()) {
                    thing.way = Some(which);
                }
            }
        }
    }
}

fn part(of: &Studied<'_>, placed: &Placed, is_spare: bool) -> Option<Thing> {
    let part: &Part<'_> = of.parts.get(placed.piece)?;
    let system = of.design.report;
    let group = if is_spare { Group::Spare } else { group(part.piece.role) };
    Some(Thing {
        name: placed.name.clone(),
        group,
        what: what(of, placed, part.piece.role).to_owned(),
        parameter: placed.parameter.clone(),
        line: line(of, &placed.parameter),
        size: size(part).show(system),
        stock: Some(stock::words(of.design, part.piece)),
        mass: part.mass_kg().map(|kg| show_mass(Some(kg), system)),
        findings: Vec::new(),
        way: None,
    })
}

fn surrounding(of: &Studied<'_>, thing: &Surrounding, [least, greatest]: [DVec3; 2]) -> Thing {
    let what = match thing.kind {
        SurroundingKind::Panel => "panel of the cabinet",
        SurroundingKind::Mat => "mat under the sump",
        SurroundingKind::Post => "post of the cabinet",
        SurroundingKind::Shelf => "shelf of the cabinet",
        SurroundingKind::Fixture => "fixture in the cabinet",
        SurroundingKind::PipeAbove => "pipe from the display",
    };
    Thing {
        name: thing.name.clone(),
        group: Group::Cabinet,
        what: what.to_owned(),
        parameter: thing.parameter.clone(),
        line: line(of, &thing.parameter),
        size: show_box(greatest - least, of.design.report),
        stock: None,
        mass: None,
        findings: Vec::new(),
        way: None,
    }
}

/// Line of the file where a parameter, or the nearest around it, stands.
pub(super) fn line(of: &Studied<'_>, parameter: &str) -> Option<usize> {
    let span = of.reading.spans.key(parameter)?;
    Some(of.reading.source.stretch(&span).line)
}

fn what(of: &Studied<'_>, placed: &Placed, role: Role) -> &'static str {
    let file = of.reading.file.as_ref();
    let thing = file.filter(|_| role == Role::Equipment).and_then(|file| {
        let (index, _) = placed.parameter.strip_prefix("equipment[")?.split_once(']')?;
        file.equipment.get(index.parse::<usize>().ok()?)
    });
    match thing.map(|thing| thing.kind) {
        Some(EquipmentKind::Pump) => "pump",
        Some(EquipmentKind::Skimmer) => "skimmer",
        Some(EquipmentKind::Heater) => "heater",
        Some(EquipmentKind::Probe) => "probe",
        Some(EquipmentKind::Reactor) => "reactor",
        Some(EquipmentKind::Other) | None => role.words(),
    }
}

fn group(role: Role) -> Group {
    match role {
        Role::Equipment => Group::Equipment,
        Role::DrainPipe | Role::WallFitting | Role::Sock => Group::Plumbing,
        _ => Group::Sump,
    }
}

//! A sump read from a parameter file, with as much of what is shown of it as can be had without the command line.

use std::path::Path;

use design::{Design, Removable, WaterBody};
use fit::Fit;
use glam::DVec3;
use scene::Scene;
use show::{
    Basin, Event, Flows, Group, PartRow, Rehearsal, Show, Step, Stop, Thing, ThingId, WayOut,
};
use solid::Solid;
use units::Length;
use water::{Outcome, Running, Setting};

/// Why there is nothing to show.
pub(crate) type Reason = Box<dyn std::error::Error>;

/// How far triangles may be off a curved face, mm: less than a phone shows.
const CHORD_ERROR_MM: f64 = 0.2;

/// What the examples write from.
pub(crate) struct Shown {
    /// The model.
    pub(crate) scene: Scene,
    /// What is told.
    pub(crate) show: Show,
    /// The long section.
    pub(crate) section_svg: String,
}

/// Reads and resolves a file, fills it, takes everything out.
///
/// # Errors
/// When the file gives no design, a part has no sound mesh, or no water flows.
pub(crate) fn shown(path: &Path) -> Result<Shown, Reason> {
    let file =
        params::read(&std::fs::read_to_string(path)?).file.ok_or("the file cannot be read")?;
    let mut design = design::resolve(&file).design.ok_or("the file gives no design")?;
    let works = design.waterworks.clone();
    let running = Running::new(&works, Setting::default())?;
    let report = water::report(&running);
    let section_svg = export::plot::long_section(&design, &report);
    let z = design.floor_z;
    let waters = works.basins.iter().zip(&report.basins).map(|(place, basin)| WaterBody {
        name: place.name.clone(),
        min: place.min.extend(z),
        max: place.max.extend(z + basin.level_m.mid * 1e3),
    });
    design.waters = waters.collect();
    let scene = scene(&design)?;
    let fit = Fit::of(&design);
    let (failures, _) = water::rehearsals(&works);
    let mut outcomes = Vec::new();
    for failure in &failures {
        outcomes.push(water::rehearse_once(&running, failure)?);
    }
    let basins = works.basins.iter().zip(&report.basins).map(|(place, basin)| Basin {
        name: place.name.clone(),
        parameter: basin.parameter.clone(),
        is_chamber: basin.is_chamber,
        min_mm: place.min,
        max_mm: place.max,
        level_mm: basin.level_m.mid * 1e3,
    });
    let mut findings = design::resolve(&file).findings;
    findings.extend(water::findings(&running, &report, &outcomes, design.report));
    findings.extend(fit::grade(&fit, &design));
    let show = Show {
        title: design.title.clone(),
        is_us: design.report == units::System::UsCustomary,
        outside_mm: design.outside,
        floor_z_mm: z,
        things: things(&design, &scene),
        basins: basins.collect(),
        ways: fit.report.ways.iter().map(|way| way_out(way, &design)).collect(),
        before_hands: fit::BEFORE_HANDS.join(" "),
        emptying: fit.report.emptying.iter().map(|s| step(s, &design)).collect(),
        rescue: None,
        slots: Vec::new(),
        doors: Vec::new(),
        rehearsals: outcomes.iter().map(|outcome| rehearsal(outcome, &running)).collect(),
        stops: stops(&design),
        findings: findings.iter().map(finding).collect(),
        parts: parts(&design),
    };
    Ok(Shown { scene, show, section_svg })
}

fn scene(design: &Design) -> Result<Scene, Reason> {
    let mesh = |shape: &plate::Shape| -> Result<solid::Mesh, Reason> {
        Ok(Solid::of_shape(shape)?.checked_mesh(CHORD_ERROR_MM)?)
    };
    let meshes: Result<Vec<_>, _> = design.pieces.iter().map(|p| mesh(&p.shape)).collect();
    let scene = Scene::assembled(design, &meshes?)?;
    let Some(around) = &design.surroundings else { return Ok(scene) };
    let meshes: Result<Vec<_>, _> = around.things.iter().map(|t| mesh(&t.shape)).collect();
    Ok(scene.surrounded(around, &meshes?)?)
}

fn things(design: &Design, scene: &Scene) -> Vec<Thing> {
    let size = |body: &scene::Body| {
        let [lo, hi] = body.bounds().unwrap_or_default();
        let d = hi - lo;
        [d.x, d.y, d.z].map(|mm| Length::mm(mm).show(design.report)).join(" × ")
    };
    let placed = |(placed, body): (&design::Placed, &scene::Body), is_spare: bool| {
        use design::Role;
        let piece = &design.pieces[placed.piece];
        Thing {
            name: placed.name.clone(),
            group: match piece.role {
                _ if is_spare => Group::Spare,
                Role::Equipment => Group::Equipment,
                Role::DrainPipe | Role::WallFitting | Role::Sock => Group::Plumbing,
                _ => Group::Sump,
            },
            what: piece.role.words().to_owned(),
            parameter: placed.parameter.clone(),
            line: None,
            size: size(body),
            stock: Some(piece.material.clone()),
            mass: None,
            findings: Vec::new(),
            way: None,
        }
    };
    let mut things: Vec<Thing> =
        design.placed.iter().zip(&scene.bodies).map(|pair| placed(pair, false)).collect();
    things.extend(design.spares.iter().zip(&scene.spares).map(|pair| placed(pair, true)));
    let around = scene.cabinet.iter().flat_map(|cabinet| &cabinet.things);
    things.extend(around.map(|thing| Thing {
        name: thing.body.name.clone(),
        group: Group::Cabinet,
        what: "cabinet".into(),
        parameter: "cabinet".into(),
        line: None,
        size: size(&thing.body),
        stock: None,
        mass: None,
        findings: Vec::new(),
        way: None,
    }));
    for (k, removable) in design.removables.iter().enumerate() {
        for id in moving(removable, design) {
            things[id].way = Some(k);
        }
    }
    things
}

fn moving(removable: &Removable, design: &Design) -> Vec<ThingId> {
    let (placed, spares) = (design.placed.len(), design.spares.len());
    let of_spares = removable.spares.iter().map(|id| placed + id);
    let shelf = removable.shelf.map(|id| placed + spares + id);
    removable.parts.iter().copied().chain(of_spares).chain(shelf).collect()
}

fn step(step: &fit::Step, design: &Design) -> Step {
    let removable = &design.removables[step.removable];
    let undone_spares = removable.undone_spares.iter().map(|id| design.placed.len() + id);
    Step {
        name: step.name.clone(),
        things: moving(removable, design),
        undone: removable.undone.iter().copied().chain(undone_spares).collect(),
        undo: step.undo.clone(),
        moves: step.moves.clone(),
        least_gap: format!("{} at its closest", Length::mm(step.least_gap_mm).show(design.report)),
    }
}

fn way_out(way: &fit::Way, design: &Design) -> WayOut {
    let before = way.steps.len().saturating_sub(1);
    let names: Vec<&str> = way.steps.iter().take(before).map(|s| s.name.as_str()).collect();
    let verdict = match way.steps.len() {
        0 => "no way out is known".to_owned(),
        1 => "comes out with everything in place".to_owned(),
        _ => format!("comes out after {}", names.join(", ")),
    };
    WayOut {
        name: design.removables[way.removable].name.clone(),
        verdict,
        steps: way.steps.iter().map(|s| step(s, design)).collect(),
    }
}

/// About so many instants of a rehearsal; those at which something happens stay.
const INSTANTS: usize = 200;

fn rehearsal(outcome: &Outcome, running: &Running<'_>) -> Rehearsal {
    let tanks = &running.system.tanks;
    let stride = (outcome.samples.len() / INSTANTS).max(1);
    let last = outcome.samples.len().saturating_sub(1);
    let kept = |i: usize| i.is_multiple_of(stride) || i == last;
    let samples: Vec<_> =
        outcome.samples.iter().enumerate().filter(|(i, _)| kept(*i)).map(|(_, s)| s).collect();
    let level = |tank: usize| samples.iter().map(|s| s.levels_m[tank] * 1e3).collect();
    let litres = |tank: usize| samples.iter().map(|s| s.levels_m[tank] * 1e3).collect();
    let event = |incident: &water::Incident| Event {
        t_s: incident.t_s,
        words: format!("{:?}", incident.what),
    };
    Rehearsal {
        name: outcome.name.clone(),
        words: outcome.words.clone(),
        verdict: format!("{:.1} L on the floor under the sump", outcome.spill.sump_l.mid),
        times_s: samples.iter().map(|s| s.t_s).collect(),
        levels_mm: (0..tanks.basins).map(level).collect(),
        display_mm: level(tanks.display),
        spilled_l: [litres(tanks.sump_floor), litres(tanks.display_floor)],
        flows: Vec::<Flows>::new(),
        events: outcome.events.iter().map(event).collect(),
    }
}

fn stops(design: &Design) -> Vec<Stop> {
    let stop = |chamber: &design::Chamber| Stop {
        title: chamber.name.clone(),
        text: vec![chamber.level_reason.clone()],
        findings: Vec::new(),
        about: [
            chamber.min.extend(design.floor_z),
            chamber.max.extend(design.floor_z + chamber.level_mm),
        ],
        from: DVec3::new(-0.4, -1.0, 0.6),
    };
    design.chambers.iter().map(stop).collect()
}

fn finding(finding: &findings::Finding) -> show::Finding {
    show::Finding {
        grade: finding.grade,
        code: finding.code.to_string(),
        message: finding.message.clone(),
        hint: finding.hint.clone(),
        parameter: finding.parameter.clone(),
        line: None,
        things: Vec::new(),
    }
}

fn parts(design: &Design) -> Vec<PartRow> {
    let row = |piece: &design::Piece| PartRow {
        number: piece.number.clone(),
        name: piece.name.clone(),
        count: piece.quantity,
        size: String::new(),
        stock: piece.sheet.clone().unwrap_or_else(|| piece.material.clone()),
        mass: None,
    };
    design.pieces.iter().filter(|piece| piece.body_of.is_none()).map(row).collect()
}

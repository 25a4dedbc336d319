//! What is told of one panel: the worst of all its loads and of all ways that its seams can be held.

mod corners;
mod rim;
mod screws;
mod seams;
mod shape;

use bending::{Moment, Peak as Most};
use design::{Design, PlacedId, Role};
use glam::DVec2;
use params::File;

use super::bearing::Bearing;
use super::props::Prop;
use super::solve::{Model, Moduli, Solved};
use super::{place, remedy};
use crate::material::{self, Facts};
use crate::panel::{Duration, Held, Line, Load, Panel, Peak, Remedies, Run};

pub(crate) use seams::SeamLoad;

/// A pocket may go through the thinnest sheet of the band: then nearly nothing is left.
const LEAST_LEFT: f64 = 0.02;
/// Pa in a MPa.
pub(crate) const MPA: f64 = 1e6;

/// A load of hours or days may stress a panel so many times what it may carry for years. For cast acrylic in water that is
/// 9 MPa, below the 10.3 MPa (1500 psi) that makers' data sheets give as the most for years in air; our judgement.
const BRIEF: f64 = 3.0;
/// But never more than this share of its strength in a short test; our judgement.
const BRIEF_SHARE: f64 = 0.15;

/// A panel about to be judged.
#[derive(Clone, Copy)]
pub(crate) struct Judge<'a> {
    pub(crate) file: &'a File,
    pub(crate) design: &'a Design,
    pub(crate) model: &'a Model,
    pub(crate) edges: [Held; 4],
    pub(crate) bearings: &'a [Bearing],
}

/// A stress and how much of what is allowed it is.
#[derive(Clone, Copy, Debug)]
pub(crate) struct Stressed {
    pub(crate) mpa: f64,
    pub(crate) allowable_mpa: f64,
    /// Place on the plate, m.
    pub(crate) at: [f64; 2],
    pub(crate) bearing: usize,
    pub(crate) run: Run,
}

impl Stressed {
    pub(crate) fn share(&self) -> f64 {
        self.mpa / self.allowable_mpa
    }
}

/// All runs of a panel with one set of moduli, all seams hinged first.
pub(crate) struct Runs {
    pub(crate) solved: Vec<Solved>,
}

/// How a load bends a panel, in the run in which it bends most.
#[derive(Clone, Copy, Debug)]
pub(crate) struct Bend<'a> {
    pub(crate) solved: &'a Solved,
    pub(crate) bearing: usize,
    /// Deflection by that which was solved.
    pub(crate) scale: f64,
    /// As solved, m.
    pub(crate) most: Most,
}

impl<'a> Judge<'a> {
    pub(crate) fn placed(&self) -> PlacedId {
        self.model.board.placed
    }

    pub(crate) fn role(&self) -> Role {
        self.design.pieces[self.design.placed[self.placed()].piece].role
    }

    pub(crate) fn sheet(&self) -> &'a design::Sheet {
        let piece = &self.design.pieces[self.design.placed[self.placed()].piece];
        let name = piece.sheet.as_deref().unwrap_or_default();
        &self.design.sheets[name]
    }

    pub(crate) fn facts(&self) -> Facts {
        material::of_sheet(self.file, self.sheet())
    }

    pub(crate) fn rim_facts(&self) -> Option<Facts> {
        let rim = self.model.rim.as_ref()?;
        Some(material::of_sheet(self.file, &self.design.sheets[&rim.sheet]))
    }

    /// Moduli under lasting load, and while it is new.
    pub(crate) fn moduli(&self) -> [Moduli; 2] {
        let panel = self.facts();
        let rim = self.rim_facts().unwrap_or(panel);
        [
            Moduli { panel: panel.lasting_modulus_mpa * MPA, rim: rim.lasting_modulus_mpa * MPA },
            Moduli { panel: panel.modulus_mpa * MPA, rim: rim.modulus_mpa * MPA },
        ]
    }

    /// Greatest lasting stress on the face away from the load (the plate's front) and on the other, MPa.
    pub(crate) fn allowed(&self) -> [f64; 2] {
        let facts = self.facts();
        match self.role() {
            // Water on one side only: the outer face is dry.
            Role::Wall | Role::Bottom => [facts.lasting_stress_dry_mpa, facts.lasting_stress_mpa],
            _ => [facts.lasting_stress_mpa; 2],
        }
    }

    /// Solves these runs; with two materials also while the load is new, for they creep differently.
    pub(crate) fn solve(
        &self,
        runs: &[Run],
        thickness: f64,
        bearings: &[Bearing],
    ) -> Result<Vec<Runs>, bending::Error> {
        let of_set = |moduli: Moduli| {
            let solved = runs.iter().map(|&run| self.model.solve(run, moduli, thickness, bearings));
            Ok(Runs { solved: solved.collect::<Result<_, bending::Error>>()? })
        };
        self.sets().into_iter().map(of_set).collect()
    }

    /// Moduli that it is solved with.
    pub(crate) fn sets(&self) -> Vec<Moduli> {
        let [lasting, first] = self.moduli();
        let creep_alike = (lasting.panel / first.panel - lasting.rim / first.rim).abs() < 1e-9;
        if creep_alike { vec![lasting] } else { vec![lasting, first] }
    }

    pub(crate) fn panel(&self) -> Result<(Panel, Vec<SeamLoad>), bending::Error> {
        let board = &self.model.board;
        let sets = self.solve(&self.model.runs(), board.least_mm * 1e-3, self.bearings)?;
        let all = || sets.iter().flat_map(|set| &set.solved);
        let worst: Vec<Stressed> =
            (0..self.bearings.len()).filter_map(|b| self.worst_stress(all(), b)).collect();
        let bends: Vec<Bend<'_>> = (0..self.bearings.len()).map(|b| self.bend(&sets, b)).collect();
        let by_share = |a: &&Stressed, b: &&Stressed| a.share().total_cmp(&b.share());
        let stressed = worst.iter().max_by(by_share).copied().unwrap_or(self.unstressed());
        let by_depth = |a: &&Bend<'_>, b: &&Bend<'_>| a.depth_mm().total_cmp(&b.depth_mm());
        let bent = bends.iter().max_by(by_depth).copied();
        let part = &self.design.placed[self.placed()];
        let rectangle_mm = [board.lo, board.hi];
        let peak = |value: f64, at: [f64; 2], load: usize| {
            let at_mm = self.model.place(at);
            Peak { value, at_mm, place: place::words(rectangle_mm, at_mm), load }
        };
        let panel = Panel {
            placed: self.placed(),
            piece: part.piece,
            name: part.name.clone(),
            parameter: part.parameter.clone(),
            sheet: self.sheet().name.clone(),
            thickness_mm: board.least_mm,
            rectangle_mm,
            edges: self.edges,
            supports: self.supports(),
            lines: self.lines(),
            braces_mm: self.braces_mm(),
            loads: self.loads(&worst, &bends),
            stress: peak(stressed.mpa, stressed.at, stressed.bearing),
            deflection: bent
                .map_or(peak(0.0, [0.0; 2], 0), |b| peak(b.depth_mm(), b.most.at, b.bearing)),
            deflection_limit_mm: self.deflection_limit_mm(),
            allowable_mpa: stressed.allowable_mpa,
            brief_mpa: self.brief_mpa(stressed.allowable_mpa),
            doubts: self.doubts(&sets[0].solved[0]),
            bulge_mm: self.bulge_mm(&bends),
            corners: self.corners(&sets[0].solved)?,
            rim: self.rim(&sets),
            screws: self.screws(&sets[0].solved),
            contours: bent
                .map_or(Vec::new(), |b| shape::contours(self.model, &b, self.file.report.system())),
            shape: bent.map_or(shape::nothing(), |b| shape::shape(self.model, &b)),
            remedies: bent
                .map_or(Remedies::default(), |bent| remedy::remedies(self, &stressed, &bent)),
        };
        Ok((panel, self.seam_loads(&sets)))
    }

    fn unstressed(&self) -> Stressed {
        let allowable_mpa = self.allowed()[1];
        Stressed { mpa: 0.0, allowable_mpa, at: [0.0; 2], bearing: 0, run: Run::Hinged }
    }

    /// How a load bends it: after years if it lasts so long, else at first.
    pub(crate) fn bend<'s>(&self, sets: &'s [Runs], bearing: usize) -> Bend<'s> {
        let [lasting, first] = self.moduli();
        // What creeps for days is taken to have crept for years.
        let creeps = self.bearings[bearing].duration != Duration::Hours;
        let (solved, scale) = match (creeps, sets.get(1)) {
            (true, _) => (&sets[0].solved, 1.0),
            (false, Some(at_first)) => (&at_first.solved, 1.0),
            // Of one material all stiffnesses creep alike.
            (false, None) => (&sets[0].solved, lasting.panel / first.panel),
        };
        let size = |s: &&Solved| s.bending.fields[bearing].deflection.value.abs();
        let most = solved.iter().max_by(|a, b| size(a).total_cmp(&size(b)));
        // There is always a run.
        let solved = most.unwrap_or(&solved[0]);
        Bend { solved, bearing, scale, most: solved.bending.fields[bearing].deflection }
    }

    /// What a load of hours or days may stress it where this much may be carried for years, MPa.
    fn brief_mpa(&self, allowable_mpa: f64) -> f64 {
        (BRIEF * allowable_mpa).min(BRIEF_SHARE * self.facts().strength_mpa)
    }

    /// What is doubtful of it as a thin plate, in the units of the file.
    fn doubts(&self, hinged: &Solved) -> Vec<String> {
        let mm = |m: f64| units::Length::mm(1e3 * m).show(self.design.report);
        let words = |doubt: bending::Doubt| match doubt {
            bending::Doubt::Thick { ratio, span } => format!(
                "its thickness is {ratio:.2} of a span of {}: shear adds to what is told of its deflection",
                mm(span)
            ),
            bending::Doubt::Bridge { width, needed, .. } => format!(
                "a strip beside an opening is {} wide; below {} it is a bar and no plate",
                mm(width),
                mm(needed)
            ),
            other => other.to_string(),
        };
        let mut doubts: Vec<String> =
            bending::doubts(&hinged.bending.plate).into_iter().map(words).collect();
        let n = self.model.board.crowded();
        if n > 0 {
            doubts.push(format!(
                "{n} small holes or slots stand close together: a field of them is softer and weaker than the whole sheet that it is reckoned as"
            ));
        }
        doubts
    }

    fn supports(&self) -> Vec<String> {
        let inner = self.model.props.iter().filter(|p| p.edge.is_none());
        let mut names: Vec<String> = inner.map(|p| self.design.placed[p.by].name.clone()).collect();
        names.dedup();
        let screws = self.model.screwed.as_ref().map_or(0, |screwed| screwed.at_mm.len());
        if screws > 0 {
            names.push(format!("{screws} screws"));
        }
        let braces = self.model.rim.as_ref().map_or(0, |rim| rim.braces.len());
        match braces {
            0 => {}
            1 => names.push("one brace of the rim".to_owned()),
            n => names.push(format!("{n} braces of the rim")),
        }
        names
    }

    fn lines(&self) -> Vec<Line> {
        let line = |prop: &Prop| {
            let end = |run: f64| {
                if prop.along_x { DVec2::new(run, prop.at) } else { DVec2::new(prop.at, run) }
            };
            Line {
                held: prop.held,
                by: self.design.placed[prop.by].name.clone(),
                is_edge: prop.edge.is_some(),
                ends_mm: prop.span.map(end),
            }
        };
        self.model.props.iter().map(line).collect()
    }

    fn braces_mm(&self) -> Vec<f64> {
        let rim = self.model.rim.as_ref();
        rim.map_or(Vec::new(), |rim| rim.braces.iter().map(|(at, _)| *at).collect())
    }

    fn loads(&self, worst: &[Stressed], bends: &[Bend<'_>]) -> Vec<Load> {
        let load = |(index, bearing): (usize, &Bearing)| {
            let stressed = worst.iter().find(|s| s.bearing == index).copied();
            let stressed = stressed.unwrap_or(self.unstressed());
            Load {
                words: bearing.words.clone(),
                before_mm: bearing.before_mm,
                behind_mm: bearing.behind_mm,
                is_lasting: bearing.is_lasting(),
                duration: bearing.duration,
                stress_mpa: stressed.mpa,
                allowable_mpa: stressed.allowable_mpa,
                deflection_mm: bends[index].depth_mm(),
                theory: shape::theory(&bends[index], self.model.board.least_mm),
                run: stressed.run,
            }
        };
        self.bearings.iter().enumerate().map(load).collect()
    }

    /// Where a bearing stresses the panel most, by what each face may carry; pockets included.
    pub(crate) fn worst_stress<'s>(
        &self,
        solved: impl Iterator<Item = &'s Solved>,
        bearing: usize,
    ) -> Option<Stressed> {
        let allowed = self.allowed();
        let of_run = |solved: &Solved| {
            let plate = &solved.bending.plate;
            let field = &solved.bending.fields[bearing];
            let of_face = |(peak, allowable_mpa): (Option<Most>, f64)| {
                let peak = peak?;
                let mpa = plate.stress(peak.value) / MPA;
                Some(Stressed { mpa, allowable_mpa, at: peak.at, bearing, run: solved.run })
            };
            let faces = [(field.front, allowed[0]), (field.back, allowed[1])];
            let mut all: Vec<Stressed> = faces.into_iter().filter_map(of_face).collect();
            all.extend(self.in_pockets(solved, bearing));
            all
        };
        solved.flat_map(of_run).max_by(|a, b| a.share().total_cmp(&b.share()))
    }

    /// Stress where a pocket leaves less sheet: the moment there on what is left, `6 M / t²`. What is glued into a groove
    /// helps, which is not counted.
    fn in_pockets(&self, solved: &Solved, bearing: usize) -> Vec<Stressed> {
        let (grid, field) = (&solved.bending.grid, &solved.bending.fields[bearing]);
        let allowable_mpa = self.allowed()[1];
        let in_pocket = |thin: &super::board::Thin| {
            let near = self.model.board.least_mm;
            let most = |moment: &Moment| {
                let [most, least] = moment.principal();
                most.abs().max(least.abs())
            };
            let nodes = (0..field.moments.len()).filter(|&node| {
                let at = self.model.place(grid.place(node));
                let is_near = at.cmpge(thin.lo - near).all() && at.cmple(thin.hi + near).all();
                is_near && !field.is_unbounded[node]
            });
            let node = nodes
                .max_by(|&a, &b| most(&field.moments[a]).total_cmp(&most(&field.moments[b])))?;
            let whole = solved.bending.plate.stress(most(&field.moments[node]));
            let left = thin.left.max(LEAST_LEFT);
            let mpa = whole / (left * left) / MPA;
            Some(Stressed { mpa, allowable_mpa, at: grid.place(node), bearing, run: solved.run })
        };
        self.model.board.thin.iter().filter_map(in_pocket).collect()
    }

    /// Greatest deflection of an upper edge that is free or held by the rim alone: of loads that last, and of all.
    fn bulge_mm(&self, bends: &[Bend<'_>]) -> Option<[f64; 2]> {
        let most = |only_lasting: bool| {
            let chosen =
                bends.iter().filter(|b| !only_lasting || self.bearings[b.bearing].is_lasting());
            chosen.map(Bend::edge_mm).fold(0.0, f64::max)
        };
        matches!(self.edges[3], Held::Free | Held::Rim).then(|| [most(true), most(false)])
    }

    /// Most that it may bend under lasting load, mm.
    pub(crate) fn deflection_limit_mm(&self) -> f64 {
        let given = self.file.strength.bulge.map(units::Length::to_mm);
        given.unwrap_or(crate::panel::BEND_SHARE * self.model.board.size().min_element())
    }
}

impl Bend<'_> {
    /// The greatest deflection, mm.
    pub(crate) fn depth_mm(&self) -> f64 {
        self.most.value.abs() * 1e3 * self.scale
    }

    /// The greatest deflection along the upper edge, mm.
    pub(crate) fn edge_mm(&self) -> f64 {
        const PLACES: u32 = 48;
        let bending = &self.solved.bending;
        let [width, height] = bending.plate.size;
        let at = |k: u32| [width * f64::from(k) / f64::from(PLACES), height];
        let deflections = (0..=PLACES).filter_map(|k| bending.deflection_at(self.bearing, at(k)));
        1e3 * self.scale * deflections.map(f64::abs).fold(0.0, f64::max)
    }
}

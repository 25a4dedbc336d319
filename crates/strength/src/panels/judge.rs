//! What is told of one panel: the worst of all its loads and of all ways that its seams can be held.

mod corners;
mod doubts;
mod held;
mod rim;
mod screws;
mod seams;
mod shape;
mod stressed;

use bending::Peak as Most;
use design::{Design, PlacedId, Role};
use params::File;

use super::bearing::Bearing;
use super::solve::{Model, Moduli, Solved};
use super::{place, remedy};
use crate::material::{self, Facts};
use crate::panel::{Duration, Held, Load, Panel, Peak, Remedies, Run};

pub(crate) use seams::{SeamLoad, Worst};
pub(crate) use stressed::Stressed;

/// Pa in a MPa.
pub(crate) const MPA: f64 = 1e6;

/// A panel about to be judged.
#[derive(Clone, Copy)]
pub(crate) struct Judge<'a> {
    pub(crate) file: &'a File,
    pub(crate) design: &'a Design,
    pub(crate) model: &'a Model,
    pub(crate) edges: [Held; 4],
    pub(crate) bearings: &'a [Bearing],
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
            brief_mpa: self.limit_mpa(stressed.allowable_mpa, Duration::Hours),
            wet_mpa: self.facts().lasting_stress_mpa,
            strength_mpa: self.facts().strength_mpa,
            doubts: self.doubts(&sets[0].solved[0]),
            bulge_mm: self.bulge_mm(&bends),
            corners: self.corners(&sets[0].solved)?,
            rim: self.rim(&sets),
            set: None,
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

    fn loads(&self, worst: &[Stressed], bends: &[Bend<'_>]) -> Vec<Load> {
        let load = |(index, bearing): (usize, &Bearing)| {
            let stressed = worst.iter().find(|s| s.bearing == index).copied();
            let stressed = stressed.unwrap_or(self.unstressed());
            let place = |at: [f64; 2]| {
                place::words([self.model.board.lo, self.model.board.hi], self.model.place(at))
            };
            Load {
                words: bearing.words.clone(),
                before_mm: bearing.before_mm,
                behind_mm: bearing.behind_mm,
                is_lasting: bearing.is_lasting(),
                duration: bearing.duration,
                stress_mpa: stressed.mpa,
                allowable_mpa: stressed.allowable_mpa,
                limit_mpa: self.limit_mpa(stressed.allowable_mpa, bearing.duration),
                stress_place: place(stressed.at),
                deflection_mm: bends[index].depth_mm(),
                deflection_place: place(bends[index].most.at),
                theory: shape::theory(&bends[index], self.model.board.least_mm),
                run: stressed.run,
            }
        };
        self.bearings.iter().enumerate().map(load).collect()
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

//! In which order a sheet is cut, and how far the tool travels between cuts.
//!
//! First what is worked from the lower face, for which the sheet lies turned over; then, from the upper face, all
//! engraving, all pockets, all holes; then inside cuts and outlines. A part that lies in an opening of another is cut out
//! before that opening, so that nothing is cut in what has already come loose. Within each of these stages the order is
//! the one of least travel that is found: nearest neighbour, then exchanges of two links (2-opt; Croes 1958, Oper. Res. 6,
//! 791–812) and moves of up to three cuts (Or-opt; Or 1976).

use glam::DVec2;
use plate::Face;

use crate::plan::LaidSheet;
use crate::work::{CutPath, Operation, OperationKind, Work};

mod tour;

/// The order of cuts on one sheet.
#[derive(Clone, Debug, PartialEq)]
pub struct Route {
    /// The cuts, in their order.
    pub steps: Vec<Step>,
    /// How far the tool travels between cuts, from the sheet's origin and back, mm.
    pub travel_mm: f64,
    /// How far it would travel within the same stages part by part, as they lie in the plan, mm.
    pub travel_unordered_mm: f64,
    /// Whether the sheet must be turned over.
    pub is_turned_over: bool,
}

/// One cut of a route.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Step {
    /// Which of the sheet's [`laid`](LaidSheet::laid).
    pub laid: usize,
    /// Which of the operations of its [`Work`].
    pub operation: usize,
    /// Where the tool goes in, on the sheet, mm.
    pub from_mm: DVec2,
    /// Where it comes out, mm.
    pub to_mm: DVec2,
    stage: Stage,
}

/// What comes before what.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
struct Stage {
    is_upper_face: bool,
    /// 0 to 2: engraving, pockets, holes; 3: all that lets a part come loose.
    step: u8,
    /// The parts that lie in the most openings come first.
    outwards: usize,
    kind: OperationKind,
}

/// The order of cuts on a sheet. Operations without a path are left out.
pub fn route(sheet: &LaidSheet, works: &[Work]) -> Route {
    let nested = nesting(sheet, works);
    let deepest = nested.iter().copied().max().unwrap_or(0);
    let mut steps = Vec::new();
    for (i, laid) in sheet.laid.iter().enumerate() {
        let Some(work) = works.iter().find(|work| work.piece == laid.piece) else { continue };
        for (k, operation) in work.operations.iter().enumerate() {
            let ends = (
                operation.tool.first().and_then(CutPath::start),
                operation.tool.last().and_then(CutPath::end),
            );
            let (Some(from), Some(to)) = ends else { continue };
            steps.push(Step {
                laid: i,
                operation: k,
                from_mm: laid.point(from),
                to_mm: laid.point(to),
                stage: stage(operation, deepest - nested[i]),
            });
        }
    }
    // Equal stages stay in the order of the plan.
    steps.sort_by_key(|step| step.stage);
    let travel_unordered_mm = travel(&steps);
    let is_turned_over = steps.iter().any(|step| !step.stage.is_upper_face);
    let mut ordered = Vec::with_capacity(steps.len());
    let mut at = DVec2::ZERO;
    for stage in steps.chunk_by(|a, b| a.stage == b.stage) {
        let ends: Vec<[DVec2; 2]> = stage.iter().map(|step| [step.from_mm, step.to_mm]).collect();
        ordered.extend(tour::short(&ends, at).into_iter().map(|i| stage[i]));
        at = ordered.last().map_or(at, |step: &Step| step.to_mm);
    }
    let travel_mm = travel(&ordered);
    // What is good for each stage may, at worst, be bad for all of them.
    let (steps, travel_mm) = if travel_mm <= travel_unordered_mm {
        (ordered, travel_mm)
    } else {
        (steps, travel_unordered_mm)
    };
    Route { steps, travel_mm, travel_unordered_mm, is_turned_over }
}

fn stage(operation: &Operation, outwards: usize) -> Stage {
    let (step, outwards) = match operation.kind {
        OperationKind::Engrave => (0, 0),
        OperationKind::Pocket => (1, 0),
        OperationKind::Hole => (2, 0),
        OperationKind::Inside | OperationKind::Outline => (3, outwards),
    };
    Stage { is_upper_face: operation.face == Face::Top, step, outwards, kind: operation.kind }
}

/// In how many outlines of others each part lies.
fn nesting(sheet: &LaidSheet, works: &[Work]) -> Vec<usize> {
    let outer = |i: usize| {
        let laid = &sheet.laid[i];
        let work = works.iter().find(|work| work.piece == laid.piece)?;
        Some(work.pattern.through.first()?.moved(|p| laid.point(p), false))
    };
    let outlines: Vec<_> = (0..sheet.laid.len()).map(outer).collect();
    let lies_in = |i: usize, j: usize| match (&outlines[i], &outlines[j]) {
        (Some(inner), Some(outer)) if i != j => {
            inner.0.first().is_some_and(|piece| outer.winding(piece.midpoint()) != 0)
        }
        _ => false,
    };
    let count = |i: usize| (0..outlines.len()).filter(|&j| lies_in(i, j)).count();
    (0..outlines.len()).map(count).collect()
}

/// From the sheet's origin through all steps and back, mm.
fn travel(steps: &[Step]) -> f64 {
    let mut at = DVec2::ZERO;
    let mut sum = 0.0;
    for step in steps {
        sum += at.distance(step.from_mm);
        at = step.to_mm;
    }
    sum + at.length()
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::plan::Laid;
    use crate::process::Machine;
    use crate::work::operations_of;
    use glam::dvec2;
    use params::Cutting;
    use plate::{Contour, Cut, Plate};
    use proptest::prelude::*;

    fn sheet(laid: Vec<Laid>) -> LaidSheet {
        LaidSheet {
            is_own: false,
            name: "clear-1".into(),
            stock: None,
            size_mm: dvec2(1000., 600.),
            price: None,
            laid,
            offcuts: Vec::new(),
            saw_cuts: Vec::new(),
        }
    }

    fn laid(piece: usize, at: DVec2) -> Laid {
        Laid { piece, copy: 1, at, is_turned: false, is_in_opening: false }
    }

    fn work(piece: usize, plate: &Plate) -> Work {
        let machine = Machine::new(&Cutting::default());
        let (pattern, operations) = operations_of(&machine, plate).unwrap();
        Work { piece, pattern, operations }
    }

    #[test]
    fn a_part_in_an_opening_is_cut_out_before_the_opening() {
        let mut frame = Plate::new(Contour::rectangle(dvec2(0., 0.), dvec2(500., 400.)), 8.0);
        frame.cuts.push(Cut::through(Contour::rounded_rectangle(
            dvec2(50., 50.),
            dvec2(450., 350.),
            8.0,
        )));
        let mut small = Plate::new(Contour::rectangle(dvec2(0., 0.), dvec2(100., 100.)), 8.0);
        small.cuts.push(Cut::through(Contour::circle(dvec2(50., 50.), 20.0)));
        let works = [work(0, &frame), work(1, &small)];
        let sheet = sheet(vec![laid(0, dvec2(10., 10.)), laid(1, dvec2(150., 150.))]);
        let route = route(&sheet, &works);
        let order: Vec<(usize, OperationKind)> = route
            .steps
            .iter()
            .map(|step| (step.laid, works[step.laid].operations[step.operation].kind))
            .collect();
        use OperationKind::{Hole, Inside, Outline};
        assert_eq!(order, [(1, Hole), (1, Outline), (0, Inside), (0, Outline)]);
    }

    #[test]
    fn travel_is_never_longer_than_in_the_order_of_the_plan() {
        let mut plate = Plate::new(Contour::rectangle(dvec2(0., 0.), dvec2(300., 200.)), 8.0);
        // Holes in an order that crosses the plate again and again.
        for k in 0..20 {
            let x = if k % 2 == 0 { 20.0 } else { 280.0 };
            plate
                .cuts
                .push(Cut::through(Contour::circle(dvec2(x, 10.0 + 9.0 * f64::from(k)), 3.2)));
        }
        let works = [work(0, &plate)];
        let route = route(&sheet(vec![laid(0, dvec2(10., 10.))]), &works);
        assert_eq!(route.steps.len(), works[0].operations.len());
        assert!(route.travel_mm <= route.travel_unordered_mm);
        assert!((route.travel_mm - travel(&route.steps)).abs() < 1e-9);
    }

    proptest! {
        #![proptest_config(ProptestConfig::with_cases(32))]

        /// Every cut once; of every part its outline last, and nothing in a part that has come loose.
        #[test]
        fn nothing_is_cut_in_what_is_loose(
            holes in prop::collection::vec((20.0..280.0_f64, 20.0..180.0_f64), 1..12),
            places in prop::collection::vec((0.0..2000.0_f64, 0.0..1000.0_f64), 1..5),
        ) {
            let mut plate = Plate::new(Contour::rectangle(dvec2(0., 0.), dvec2(300., 200.)), 8.0);
            plate.cuts.extend(holes.iter().map(|&(x, y)| Cut::through(Contour::circle(dvec2(x, y), 4.0))));
            let machine = Machine::new(&Cutting::default());
            // Holes that nearly touch are no part.
            if let Ok((pattern, operations)) = operations_of(&machine, &plate) {
                let works = [Work { piece: 0, pattern, operations }];
                let laid = places.iter().map(|&(x, y)| laid(0, dvec2(x, y))).collect();
                let route = route(&sheet(laid), &works);
                let cuts = works[0].operations.iter().filter(|o| !o.tool.is_empty()).count();
                prop_assert_eq!(route.steps.len(), cuts * places.len());
                prop_assert!(route.travel_mm <= route.travel_unordered_mm + 1e-9);
                for i in 0..places.len() {
                    let own: Vec<_> = route.steps.iter().filter(|step| step.laid == i).collect();
                    let kinds: Vec<_> =
                        own.iter().map(|step| works[0].operations[step.operation].kind).collect();
                    prop_assert!(kinds.is_sorted());
                    prop_assert_eq!(kinds.last(), Some(&OperationKind::Outline));
                }
            }
        }
    }
}

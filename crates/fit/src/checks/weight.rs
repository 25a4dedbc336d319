//! What is said of the weight of the empty sump and of what is lifted out of it, and of the floor that its way takes.

use design::{
    LIFTING_SOURCE, MOST_PEOPLE, Removable, RemovableKind, people_to_lift, who_lifts_alone,
};
use findings::Finding;
use units::Mass;

use super::Checks;
use crate::report::Way;
use crate::words::listed;

/// Of what is lifted out, so many are told, the heaviest first.
const MOST_NAMED: usize = 3;
/// Lighter than this nobody asks, kg; our judgement.
const LEAST_KG: f64 = 0.5;

pub(super) fn all(c: &Checks<'_>) -> Vec<Finding> {
    let sump = c.design.removables.iter().position(|r| r.kind == RemovableKind::Sump);
    sump.and_then(|sump| of_sump(c, sump)).into_iter().chain(of_parts(c)).collect()
}

fn of_sump(c: &Checks<'_>, sump: usize) -> Option<Finding> {
    let removable = &c.design.removables[sump];
    let mass = c.design.mass(removable);
    let kg = mass.at_least_kg()?;
    let alone = c.design.one_lifts_kg;
    let more = match mass.n_unknown {
        0 => String::new(),
        1 => ", and one fitting whose mass is not known".to_owned(),
        n => format!(", and {n} fittings and printed parts whose mass is not known"),
    };
    let who = match people_to_lift(kg, alone) {
        Some(1) => who_lifts_alone(kg, alone).to_owned(),
        Some(n) => format!("it takes {n} people to lift it"),
        None => format!(
            "even {MOST_PEOPLE} people should not lift it: move it on a trolley or with lifting straps, or glue it together \
             where it stands"
        ),
    };
    let floor = c.fit.report.ways.iter().find(|way| way.removable == sump);
    let floor = floor.and_then(|way| clear_floor_mm(c, way)).map_or(String::new(), |mm| {
        format!(
            "; its way takes {} of clear floor before the opening that it comes out of, and what those who carry it stand on besides",
            c.length(mm.ceil())
        )
    });
    let message =
        format!("the empty sump weighs about {}: its sheet{more}; {who}{floor}", show(c, kg));
    let finding = Finding::holds("sump-weight", removable.parameter.clone(), message);
    Some(finding.with_limit(kg, alone, "kg").with_source(LIFTING_SOURCE).with_hint(
        "carry it by its bottom, never by its rim, braces or fittings; take every loose part out first",
    ))
}

/// How far out of the opening the sump reaches when it is wholly outside, mm.
fn clear_floor_mm(c: &Checks<'_>, way: &Way) -> Option<f64> {
    let last = way.steps.last()?.moves.last()?;
    let world = &c.fit.world;
    let removable = &c.design.removables[way.removable];
    let pieces = world.moving(removable, &world.part(removable, c.design), c.design, false);
    let at = |p: &glam::DVec3| last.to.apply(*p);
    let ends = world.exits.doors.iter().filter_map(|door| {
        let along = || {
            pieces.iter().flat_map(|piece| &piece.points).map(|p| door.out.dot(at(p)) - door.beyond)
        };
        let least = along().fold(f64::INFINITY, f64::min);
        // Planned a little smaller than it is.
        (least > -1.0).then(|| along().fold(0.0, f64::max))
    });
    ends.reduce(f64::min)
}

/// What is lifted out by hand, the heaviest first, and of what the mass is not known.
fn of_parts(c: &Checks<'_>) -> Option<Finding> {
    let others = c.design.removables.iter().filter(|r| r.kind != RemovableKind::Sump);
    let (mut known, mut unknown): (Vec<(f64, &Removable)>, usize) = (Vec::new(), 0);
    for removable in others {
        match c.design.mass(removable).at_least_kg() {
            Some(kg) => known.push((kg, removable)),
            None => unknown += 1,
        }
    }
    known.retain(|(kg, _)| *kg >= LEAST_KG);
    known.sort_by(|a, b| b.0.total_cmp(&a.0));
    let (heaviest, first) = known.first()?;
    let named: Vec<String> = known
        .iter()
        .take(MOST_NAMED)
        .map(|(kg, removable)| format!("`{}` {}", removable.name, show(c, *kg)))
        .collect();
    let more = match unknown {
        0 => String::new(),
        1 => "; the mass of one that is bought is not known".to_owned(),
        n => format!("; the mass of {n} that are bought is not known: their makers tell it"),
    };
    let message =
        format!("of what is lifted out the heaviest by their sheet: {}{more}", listed(&named));
    Some(
        Finding::holds("part-weight", first.parameter.clone(), message)
            .with_limit(*heaviest, c.design.one_lifts_kg, "kg")
            .with_source("volume times density; wet, and with water in it, it is more"),
    )
}

fn show(c: &Checks<'_>, kg: f64) -> String {
    // Sheet varies in thickness by a few percent; whole kilograms are told from ten on.
    let step = if kg < 10.0 { 0.1 } else { 1.0 };
    Mass::kg((kg / step).round() * step).show(c.design.report)
}

#[cfg(test)]
mod tests {
    use super::super::grade;
    use super::*;
    use crate::report::Fit;

    #[test]
    fn who_lifts_the_sump_follows_the_file() {
        let text = include_str!("../../../../params/mangrove.toml");
        let told = |lift: f64| {
            let mut file = params::read(text).file.expect("it reads");
            file.strength.lift = lift;
            let design = design::resolve(&file).design.expect("it resolves");
            let findings = grade(&Fit::of(&design), &design);
            let told = findings.into_iter().find(|f| f.code == "sump-weight");
            told.expect("it is told").message
        };
        assert!(told(40.0).contains("one person lifts it, close to the body"));
        assert!(told(2.0).contains("even 4 people should not lift it"), "{}", told(2.0));
    }

    /// The floor against the size of the sump: it slides out at right angles, so that its depth or its length is outside.
    #[test]
    fn the_sump_is_weighed_and_has_its_floor() {
        let text = include_str!("../../../../params/mangrove.toml");
        let file = params::read(text).file.expect("it reads");
        let design = design::resolve(&file).design.expect("it resolves");
        let fit = Fit::of(&design);
        let c = Checks { fit: &fit, design: &design };
        let sump = design.removables.len() - 1;
        let way = fit.report.ways.iter().find(|way| way.removable == sump).expect("it has one");
        let floor = clear_floor_mm(&c, way).expect("it comes out");
        let out = design.outside;
        assert!(floor >= out.x.min(out.y) - 1.0 && floor < out.length(), "{floor} of {out}");
        let findings = grade(&fit, &design);
        let told = findings.iter().find(|f| f.code == "sump-weight").expect("it is told");
        // All sheet parts that are glued in, by hand: quantity of pieces that are not loose.
        let fixed = design.placed.iter().filter(|placed| placed.loose.is_none());
        let kg: f64 = fixed.filter_map(|placed| design.pieces[placed.piece].mass_kg()).sum();
        let limit = told.limit.as_ref().expect("a number");
        assert!((limit.measured - kg).abs() < 1e-9 && kg > 5.0, "{kg}");
    }
}

//! From the text of a file to models, stage by stage, each told as soon as it is there.

use std::ops::ControlFlow;
use std::sync::{Arc, Mutex, PoisonError};

use design::{Design, RemovableKind};
use findings::{Finding, Grade};
use scene::{Body, Label, Scene, Topic};
use show::Show;
use study::{Reading, Source, Studied, Trial};

use crate::bent;
use crate::model::Model;
use crate::shape::Shape;

/// What loading tells.
#[derive(Debug)]
pub enum Told {
    /// What is being done now.
    Progress(&'static str),
    /// A model that is whole as far as it goes.
    Model {
        /// The model.
        model: Box<Model>,
        /// Whether no fuller one follows.
        is_last: bool,
    },
    /// There is none, and why.
    Refused(Vec<show::Finding>),
}

/// Something that makes models.
pub trait Load: Send + Sync + 'static {
    /// Makes a model of a file's name and text, and fuller ones after it, and tells them in this order; until nobody
    /// listens any more.
    fn load(&self, name: &str, text: &str, tell: &mut Tell<'_>) -> ControlFlow<()>;
}

/// Listens to what is told, and breaks off when it is of no use any more.
pub type Tell<'a> = dyn FnMut(Told) -> ControlFlow<()> + 'a;

/// How far meshes may stay from the exact solids, mm: two pixels when one looks so near that a sheet fills a hand's width of
/// the window, and a third of the triangles of the files' meshes; our judgement.
const CHORD_ERROR_MM: f64 = 0.2;

/// Makes all that is known of a sump.
#[derive(Debug, Default)]
pub struct Stages {
    /// The shapes that were told last: what is as before is not handed to the graphics driver again.
    shapes: Mutex<Vec<Arc<Shape>>>,
}

impl Load for Stages {
    fn load(&self, name: &str, text: &str, tell: &mut Tell<'_>) -> ControlFlow<()> {
        tell(Told::Progress("Reading"))?;
        let source = Source { name: name.to_owned(), text: text.to_owned() };
        let reading = Reading::of(source);
        let has_failed = reading.findings.iter().any(|finding| finding.grade == Grade::Fails);
        let (Some(dry), false) = (&reading.design, has_failed) else {
            return tell(Told::Refused(refused(&reading, &[])));
        };
        self.tell_model(&reading, dry, &[], None, (None, None), tell)?;
        tell(Told::Progress("Letting the water run"))?;
        let wet = reading.wet();
        let of_water = reading.of_water(wet.as_ref());
        let design = wet.as_ref().map_or(dry, |wet| &wet.design);
        let known = wet.as_ref().map(|wet| &wet.known);
        self.tell_model(&reading, design, &of_water, known, (None, None), tell)?;
        tell(Told::Progress("Looking for ways out"))?;
        let fitted = reading.fitted();
        tell(Told::Progress("Laying parts on sheets"))?;
        let of_shop = reading.of_shop(reading.shopped(wet.as_ref()).as_ref());
        tell(Told::Progress("Loading the panels"))?;
        let strong = reading.strong(wet.as_ref());
        let of_strength = reading.of_strength(strong.as_ref());
        let found = [of_water, reading.of_fit(fitted.as_ref()), of_shop, of_strength].concat();
        self.tell_model(&reading, design, &found, known, (fitted.as_ref(), strong.as_ref()), tell)
    }
}

impl Stages {
    /// Builds the parts of a design and tells the model, or why there is none and no fuller one follows.
    fn tell_model(
        &self,
        reading: &Reading,
        design: &Design,
        found: &[Finding],
        known: Option<&study::Known<'_>>,
        (fitted, strong): (Option<&study::Fitted>, Option<&study::Strong>),
        tell: &mut Tell<'_>,
    ) -> ControlFlow<()> {
        let parts = match study::parts::build_within(design, CHORD_ERROR_MM) {
            Ok(parts) => parts,
            Err(refusals) => {
                tell(Told::Refused(refused(reading, &refusals)))?;
                return ControlFlow::Break(());
            }
        };
        let scene = study::scene(design, &parts)
            .and_then(|scene| study::surrounded_within(scene, design, CHORD_ERROR_MM));
        let mut scene = match scene {
            Ok(scene) => scene,
            Err(error) => {
                let refusal = Finding::fails("scene", "", error.to_string());
                tell(Told::Refused(refused(reading, &[refusal])))?;
                return ControlFlow::Break(());
            }
        };
        if let Some(fitted) = fitted {
            scene = scene.on_ways(design, &fitted.fit.report);
        }
        let fit = fitted.map(|fitted| &fitted.fit);
        let report = reading.report_of_fit(found, fit);
        let show = study::shown::show(&Studied {
            reading,
            design,
            parts: &parts,
            scene: &scene,
            report: &report,
            known,
            fit,
        });
        name_spares(&mut scene, &show);
        let whole = design.removables.iter().position(|r| r.kind == RemovableKind::Sump);
        let whole = whole.filter(|whole| *whole < show.ways.len());
        // Before its water is known nothing can be tried with it.
        let trial = known.and_then(|_| Trial::of(reading, &show)).map(Arc::new);
        // What another load that came in between has kept is as good.
        let mut shapes = self.shapes.lock().unwrap_or_else(PoisonError::into_inner);
        let mut model = Model::new(scene, show, &shapes);
        (model.trial, model.whole) = (trial, whole);
        model.bent = strong.map_or_else(Vec::new, |strong| bent::of(strong, design));
        shapes.clone_from(&model.shapes);
        drop(shapes);
        tell(Told::Model { model: Box::new(model), is_last: fitted.is_some() })
    }
}

/// What was found in a file that has no model, with its lines, the worst first.
fn refused(reading: &Reading, more: &[Finding]) -> Vec<show::Finding> {
    let report = reading.report(more);
    let shown = |finding: &Finding| study::shown::finding(finding, &reading.source);
    report.findings.iter().map(shown).collect()
}

/// Names the leaves that can take another's place as those that are in are named: seen when they stand in their slot.
fn name_spares(scene: &mut Scene, show: &Show) {
    for (name, things) in show.slots.iter().flat_map(|slot| slot.leaves.iter().skip(1)) {
        let Some(leaf) = things.first().copied() else { continue };
        let body = leaf.checked_sub(scene.bodies.len()).and_then(|spare| scene.spares.get(spare));
        let Some([lo, hi]) = body.and_then(Body::bounds) else { continue };
        // In the upper part, where the water does not hide it (our judgement).
        let anchor = (0.5 * (lo + hi)).with_z(hi.z - 0.15 * (hi.z - lo.z));
        let (text, topic) = (name.clone(), Topic::Leaf);
        scene.labels.push(Label { text, topic, anchor, body: Some(leaf) });
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn told(text: &str) -> Vec<Told> {
        let mut told = Vec::new();
        let _ = Stages::default().load("a.toml", text, &mut |t| {
            told.push(t);
            ControlFlow::Continue(())
        });
        told
    }

    #[test]
    fn a_sump_is_told_three_times_ever_fuller() {
        let text = include_str!("../../../params/brook.toml");
        let models: Vec<_> = told(text)
            .into_iter()
            .filter_map(|told| match told {
                Told::Model { model, .. } => Some(model),
                _ => None,
            })
            .collect();
        let [dry, wet, whole] = &models[..] else { panic!("{} models", models.len()) };
        assert_eq!(dry.bodies().count(), dry.show.things.len());
        let levels = |model: &Model| {
            model.show.basins.iter().map(|basin| basin.level_mm).collect::<Vec<_>>()
        };
        assert_ne!(levels(dry), levels(wet), "water in flow stands higher than at rest");
        assert!(wet.show.ways.is_empty() && !whole.show.ways.is_empty());
        let kept = |a: &Model, b: &Model| {
            a.shapes.iter().zip(&b.shapes).filter(|(a, b)| Arc::ptr_eq(a, b)).count()
        };
        assert_eq!(kept(wet, whole), whole.shapes.len(), "ways change no shape");
        let mut known = 0;
        for (k, way) in whole.show.ways.iter().enumerate() {
            assert!(!way.name.is_empty());
            let Some(last) = way.steps.last() else { continue };
            let own = |thing: &show::ThingId| whole.show.things[*thing].way == Some(k);
            assert!(last.things.iter().any(own), "`{}` comes out last", way.name);
            known += 1;
        }
        assert!(known > 1, "{known} ways are known");
    }

    #[test]
    fn where_nobody_listens_nothing_more_is_done() {
        let text = include_str!("../../../params/brook.toml");
        let mut count = 0;
        let told = Stages::default().load("a.toml", text, &mut |told| {
            count += 1;
            match told {
                Told::Model { .. } => ControlFlow::Break(()),
                _ => ControlFlow::Continue(()),
            }
        });
        assert!(told.is_break() && count == 2, "{count} were told");
    }

    #[test]
    fn a_mistake_is_told_with_its_line() {
        let text = include_str!("../../../params/brook.toml").replace("[box]", "[bx]");
        let mut told = told(&text);
        let Some(Told::Refused(findings)) = told.pop() else { panic!("it was not refused") };
        assert!(findings.iter().any(|finding| finding.line.is_some()), "{findings:?}");
    }
}

//! From the text of a file to models, stage by stage, each told as soon as it is there.

use std::sync::Arc;

use design::{Design, RemovableKind};
use findings::{Finding, Grade};
use study::{Reading, Source, Studied, Trial};

use crate::model::Model;

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
    /// Makes a model of a file's name and text, and fuller ones after it, and tells them in this order.
    fn load(&self, name: &str, text: &str, tell: &mut dyn FnMut(Told));
}

/// Makes all that is known of a sump.
#[derive(Clone, Copy, Debug, Default)]
pub struct Stages;

impl Load for Stages {
    fn load(&self, name: &str, text: &str, tell: &mut dyn FnMut(Told)) {
        tell(Told::Progress("Reading"));
        let source = Source { name: name.to_owned(), text: text.to_owned() };
        let reading = Reading::of(source);
        let has_failed = reading.findings.iter().any(|finding| finding.grade == Grade::Fails);
        let (Some(dry), false) = (&reading.design, has_failed) else {
            return tell(Told::Refused(refused(&reading, &[])));
        };
        if !tell_model(&reading, dry, &[], None, None, tell) {
            return;
        }
        tell(Told::Progress("Letting the water run"));
        let wet = reading.wet();
        let of_water = reading.of_water(wet.as_ref());
        let design = wet.as_ref().map_or(dry, |wet| &wet.design);
        let known = wet.as_ref().map(|wet| &wet.known);
        if !tell_model(&reading, design, &of_water, known, None, tell) {
            return;
        }
        tell(Told::Progress("Looking for ways out"));
        let fitted = reading.fitted();
        let found = [of_water, reading.of_fit(fitted.as_ref())].concat();
        tell_model(&reading, design, &found, known, fitted.as_ref(), tell);
    }
}

/// What was found in a file that has no model, with its lines, the worst first.
fn refused(reading: &Reading, more: &[Finding]) -> Vec<show::Finding> {
    let report = reading.report(more);
    let shown = |finding: &Finding| study::shown::finding(finding, &reading.source);
    report.findings.iter().map(shown).collect()
}

/// Builds the parts of a design and tells the model; `false` when there is none.
fn tell_model(
    reading: &Reading,
    design: &Design,
    found: &[Finding],
    known: Option<&study::Known<'_>>,
    fitted: Option<&study::Fitted>,
    tell: &mut dyn FnMut(Told),
) -> bool {
    let parts = match study::parts::build(design) {
        Ok(parts) => parts,
        Err(refusals) => {
            tell(Told::Refused(refused(reading, &refusals)));
            return false;
        }
    };
    let scene = study::scene(design, &parts).and_then(|scene| study::surrounded(scene, design));
    match scene {
        Ok(mut scene) => {
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
            let whole = design.removables.iter().position(|r| r.kind == RemovableKind::Sump);
            let whole = whole.filter(|whole| *whole < show.ways.len());
            // Before its water is known nothing can be tried with it.
            let trial = known.and_then(|_| Trial::of(reading, &show)).map(Arc::new);
            let model = Box::new(Model { scene, show, trial, whole });
            tell(Told::Model { model, is_last: fitted.is_some() });
            true
        }
        Err(error) => {
            let refusal = Finding::fails("scene", "", error.to_string());
            tell(Told::Refused(refused(reading, &[refusal])));
            false
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn told(text: &str) -> Vec<Told> {
        let mut told = Vec::new();
        Stages.load("a.toml", text, &mut |t| told.push(t));
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
        for way in &whole.show.ways {
            let named = whole.show.things.iter().any(|thing| thing.way.is_some());
            assert!(named && !way.name.is_empty());
        }
    }

    #[test]
    fn a_mistake_is_told_with_its_line() {
        let text = include_str!("../../../params/brook.toml").replace("[box]", "[bx]");
        let mut told = told(&text);
        let Some(Told::Refused(findings)) = told.pop() else { panic!("it was not refused") };
        assert!(findings.iter().any(|finding| finding.line.is_some()), "{findings:?}");
    }
}

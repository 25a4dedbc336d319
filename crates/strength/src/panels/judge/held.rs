//! What holds a panel, as it is told.

use glam::DVec2;

use super::Judge;
use crate::panel::Line;
use crate::panels::props::Prop;

impl Judge<'_> {
    pub(super) fn supports(&self) -> Vec<String> {
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

    pub(super) fn lines(&self) -> Vec<Line> {
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

    pub(super) fn braces_mm(&self) -> Vec<f64> {
        let rim = self.model.rim.as_ref();
        rim.map_or(Vec::new(), |rim| rim.braces.iter().map(|(at, _)| *at).collect())
    }
}

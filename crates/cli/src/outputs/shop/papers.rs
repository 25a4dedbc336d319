//! The papers, as PDF.

use anyhow::Context;
use documents::{CuttingSheets, GuideOf, LetterOf, PanelDrawing, cutting_sheet};
use paper::{Block, Document, Form, Page, PaperForm, flow};
use rayon::prelude::*;
use study::told::sheets::paper_form;
use study::{PanelWords, Part};

use super::sheets::Layers;
use super::{FOLDER, ShopOf};
use crate::file_name::FileName;
use crate::outputs::Output;

/// One paper: name of its file, title, what it is for, and how its pages come about.
struct Paper<'a> {
    name: &'static str,
    title: &'static str,
    purpose: &'static str,
    content: Content<'a>,
}

/// Where the pages of a paper come from. Each is worked out only when it is written, all of them side by side.
enum Content<'a> {
    /// Words that flow.
    Blocks(Box<dyn Fn() -> anyhow::Result<Vec<Block>> + Sync + 'a>),
    /// Pages that are drawn.
    Pages(Box<dyn Fn() -> Vec<Page> + Sync + 'a>),
}

/// All papers. Without a scene the guide to gluing has no pictures.
pub(super) fn of(of: &ShopOf<'_>, layers: &Layers) -> anyhow::Result<Vec<Output>> {
    let form = paper_form(of.file);
    let all = papers(of, layers, form);
    let outputs = all.par_iter().map(|paper| write(of, paper, form));
    Ok(outputs.collect::<anyhow::Result<Vec<Option<Output>>>>()?.into_iter().flatten().collect())
}

fn papers<'a>(of: &'a ShopOf<'_>, layers: &'a Layers, form: PaperForm) -> Vec<Paper<'a>> {
    let ShopOf { file, wet, shopped, parts, not_alone, .. } = of;
    let design = &wet.design;
    let words =
        |blocks: Box<dyn Fn() -> anyhow::Result<Vec<Block>> + Sync + 'a>| Content::Blocks(blocks);
    let mut papers = vec![
        Paper {
            name: "letter-to-the-shop",
            title: "To the shop",
            purpose: "one page to send with the drawings: units, layers, process, quantities, what counts",
            content: words(Box::new(move || {
                let (plans, findings) = (&shopped.plans, &shopped.findings);
                Ok(documents::letter(&LetterOf { file, design, plans, layers, findings }))
            })),
        },
        Paper {
            name: "drawings",
            title: "Panels",
            purpose: "a drawing of every panel with its dimensions",
            content: Content::Pages(Box::new(move || drawings(of, parts, form))),
        },
        Paper {
            name: "cutting-sheets",
            title: "Cutting sheets",
            purpose: "what lies where on each sheet",
            content: Content::Pages(Box::new(move || {
                let works = &shopped.works;
                let sheets = |plan| CuttingSheets { file, design, plan, works, paper: form };
                let documents = shopped.plans.iter().map(|plan| cutting_sheet(&sheets(plan)));
                documents.flat_map(|document| document.pages).collect()
            })),
        },
        Paper {
            name: "costs",
            title: "Costs",
            purpose: "an estimate as ranges, with all that it rests on",
            content: words(Box::new(move || Ok(documents::costs_of(design, &shopped.estimate)))),
        },
        Paper {
            name: "parts-and-hardware",
            title: "Parts and hardware",
            purpose: "everything to cut, print and buy",
            content: words(Box::new(move || Ok(documents::lists(design, &shopped.hardware)))),
        },
        Paper {
            name: "commissioning",
            title: "Commissioning",
            purpose: "how to set it up: doors, marks, safe levels, what to do when something fails",
            content: words(Box::new(move || {
                Ok(documents::commissioning(file, design, Some(wet), not_alone))
            })),
        },
    ];
    papers.push(Paper {
        name: "glue-up-guide",
        title: "Glue-up guide",
        purpose: match of.scene {
            Some(_) => "how to glue it, step by step with pictures, and the leak test",
            None => "how to glue it, step by step, written without its pictures, and the leak test",
        },
        content: words(Box::new(move || {
            let (glue_up, works) = (&shopped.glue_up, &shopped.works[..]);
            let (scene, wet) = (of.scene, Some(*wet));
            let of = GuideOf { file, design, scene, glue_up, works, wet, not_alone };
            let guide = documents::guide(&of);
            guide.context("cannot draw a step of the guide")
        })),
    });
    if let (Some(background), Some(film)) = (&file.background, &shopped.film) {
        let currency = &file.costs.currency;
        papers.push(Paper {
            name: "background-film",
            title: "Background film",
            purpose: "film for the background: sizes with bleed, cut-outs, how to put it on",
            content: words(Box::new(move || {
                Ok(documents::film(design, background, film, currency))
            })),
        });
    }
    papers
}

fn write(of: &ShopOf<'_>, paper: &Paper<'_>, form: PaperForm) -> anyhow::Result<Option<Output>> {
    let design = &of.wet.design;
    let title = format!("{}: {}", paper.title, design.title);
    let pages = match &paper.content {
        Content::Blocks(blocks) => flow(&blocks()?, &Form::text(form, &title, &design.title)),
        Content::Pages(pages) => pages(),
    };
    if pages.is_empty() {
        return Ok(None);
    }
    let papers = &of.file.papers;
    let date = Some(papers.date.clone()).filter(|date| !date.is_empty());
    let document = Document { title, author: papers.owner.clone(), date, language: "en", pages };
    let pdf = export::pdf::write(&document);
    let pdf = pdf.with_context(|| format!("cannot write `{}` as PDF", paper.name))?;
    let name = FileName::of(paper.name, "paper");
    Ok(Some((FOLDER, name, "pdf", paper.purpose.to_owned(), pdf)))
}

/// A drawing of every panel.
fn drawings(of: &ShopOf<'_>, parts: &[Part<'_>], paper: PaperForm) -> Vec<Page> {
    let (file, design) = (of.file, &of.wet.design);
    let drawing = |part: &Part<'_>| {
        let flat = part.flat.as_ref()?;
        let words = PanelWords::of(design, &file.cutting, part.piece);
        let document = documents::panel_drawing(&PanelDrawing {
            design,
            piece: part.piece,
            pattern: &flat.pattern,
            words: &words,
            papers: &file.papers,
            paper,
        });
        Some(document.pages)
    };
    parts.iter().filter_map(drawing).flatten().collect()
}

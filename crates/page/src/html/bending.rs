//! How panels bend under water: a line for each, and its drawing, which is unpacked when it is opened.

use serde_json::json;
use show::{Show, ThingId};

use super::cards;
use super::text::{counted, escaped};

/// A panel that bends, and its drawing.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Bending {
    /// Which thing it is.
    pub thing: ThingId,
    /// What it is called: a panel that is held in two ways, each for its own loads, has two drawings.
    pub name: String,
    /// How far it bends, in a few words.
    pub note: String,
    /// The drawing as the text of one SVG file.
    pub svg: String,
}

/// All drawings as a list in JSON, in the order of [`card`].
pub(super) fn drawings(bending: &[Bending]) -> String {
    // What stands before the drawing in a file of its own has no place within a page.
    let within =
        |svg: &str| svg.find("<svg").map_or(String::new(), |begin| svg[begin..].to_owned());
    let drawings: Vec<String> = bending.iter().map(|panel| within(&panel.svg)).collect();
    json!(drawings).to_string()
}

/// What each panel is and how far it bends, with room for its drawing; nothing when no panel does.
pub(super) fn card(show: &Show, bending: &[Bending]) -> String {
    if bending.is_empty() {
        return String::new();
    }
    let mut body = String::from(
        "<p>Each panel with lines of equal deflection under the water that bends it most. Estimates: what decides is a test \
         full of water, outdoors or in a tub. On paper stand those that are open.</p>\n\
         <noscript><p>Scripts are switched off here, so the drawings cannot be unpacked.</p></noscript>\n",
    );
    for (k, panel) in bending.iter().enumerate() {
        let Some(thing) = show.things.get(panel.thing) else { continue };
        let (name, thing) = (escaped(&panel.name), escaped(&thing.name));
        body.push_str(&format!(
            "<details class=\"group\" data-bent=\"{}\" data-drawing=\"{k}\"><summary>{name}<span>{}</span></summary>\n\
             <div class=\"section\" tabindex=\"0\" aria-label=\"How {name} bends; it can be moved sideways\"></div>\n\
             <button type=\"button\" class=\"quiet\" data-large aria-label=\"Show the drawing of {name} large\">large</button>\
             <button type=\"button\" class=\"quiet\" data-pick=\"{}\" data-needs-model>show {thing}</button></details>\n",
            panel.thing,
            escaped(&panel.note),
            panel.thing,
        ));
    }
    cards::card(
        "bending",
        "How panels bend",
        &counted(bending.len(), "panel", "panels"),
        false,
        &body,
    )
}

//! The long section and the parts list.

use show::Show;

use super::cards::card;
use super::text::{counted, escaped};

/// The long section; nothing when there is none.
pub(super) fn section(svg: &str) -> String {
    // What stands before the drawing in a file of its own has no place within a page.
    let Some(begin) = svg.find("<svg") else { return String::new() };
    let body = format!(
        "<div class=\"section\" tabindex=\"0\" aria-label=\"Long section; it can be moved sideways\">\n{}\n</div>\n",
        &svg[begin..]
    );
    card("section", "Long section", "", true, &body)
}

/// What it is made of.
pub(super) fn parts(show: &Show) -> String {
    if show.parts.is_empty() {
        return String::new();
    }
    let mut body = String::from(
        "<div class=\"wide\" tabindex=\"0\" aria-label=\"Parts list\"><table><thead><tr><th scope=\"col\">No.</th><th scope=\"col\">Part</th>\
         <th scope=\"col\">Count</th><th scope=\"col\">Size</th><th scope=\"col\">From</th><th scope=\"col\">Mass of one</th></tr></thead><tbody>\n",
    );
    for part in &show.parts {
        body.push_str(&format!(
            "<tr><td>{}</td><th scope=\"row\">{}</th><td>{}</td><td>{}</td><td>{}</td><td>{}</td></tr>\n",
            escaped(&part.number),
            escaped(&part.name),
            part.count,
            escaped(&part.size),
            escaped(&part.stock),
            escaped(part.mass.as_deref().unwrap_or(""))
        ));
    }
    body.push_str("</tbody></table></div>\n");
    card("parts", "Parts list", &counted(show.parts.len(), "kind", "kinds"), false, &body)
}

//! One page to send: the model, what is told of it and the viewer that plays it, in one file that asks nothing of the
//! network.
//!
//! All words stand in the page itself; the viewer only adds the model and what moves. So the page reads and prints also
//! where a browser draws no model.

mod bending;
mod cards;
mod change;
mod data;
mod play;
mod tables;
mod text;

use std::sync::LazyLock;

use show::Show;

pub use bending::Bending;
use text::{base64, escaped};

/// How the page looks.
const STYLE: &str = include_str!("../viewer/page.css");
/// The viewer, built from `viewer/src`.
const VIEWER: &str = include_str!("../viewer/bundle.js");
/// What unpacks and starts it.
const LOADER: &str = include_str!("../viewer/loader.js");
/// The licence of what the viewer is built with.
const LICENCE: &str = include_str!("../viewer/THREE-LICENSE.txt");

/// The browser itself keeps the page from asking anything of the network.
const POLICY: &str = "default-src 'none'; script-src 'unsafe-inline'; style-src 'unsafe-inline'; img-src data:; \
                      form-action 'none'; base-uri 'none'";

/// How hard the model and the data are packed: best.
const PACKING: u8 = 9;

/// The page of a sump. `glb` is its model as [`glb::write`](crate::glb::write) makes it, of the same scene that
/// `show` was made of; `section_svg` is the long section as the text of one SVG file, or empty when there is none; `bending`
/// are drawings of panels that bend.
pub fn write(show: &Show, glb: &[u8], section_svg: &str, bending: &[Bending]) -> String {
    let show = &thinned(show);
    let title = escaped(&show.title);
    let model = packed(glb);
    let data = packed(data::json(show).as_bytes());
    let drawings = packed(bending::drawings(bending).as_bytes());
    let about = cards::about(show);
    let cards = [
        cards::sump(show),
        cards::water(show),
        play::rehearsals(show),
        change::leaves_and_doors(show),
        play::ways(show),
        cards::findings(show),
        bending::card(show, bending),
        play::tour(show),
        tables::section(section_svg),
        tables::parts(show),
    ]
    .concat();
    format!(
        include_str!("../viewer/page.html"),
        POLICY = POLICY,
        STYLE = STYLE,
        LOADER = LOADER,
        LICENCE = LICENCE,
        title = title,
        about = about,
        cards = cards,
        data = data,
        drawings = drawings,
        model = model,
        viewer = *PACKED_VIEWER,
        version = env!("CARGO_PKG_VERSION"),
    )
}

/// So many instants of a rehearsal are more than a page can show apart; our judgement.
const MOST_INSTANTS: usize = 240;

/// The same with no more instants of rehearsals than can be told apart.
fn thinned(show: &Show) -> Show {
    let rehearsals = show.rehearsals.iter().map(|rehearsal| rehearsal.thinned(MOST_INSTANTS));
    Show { rehearsals: rehearsals.collect(), ..show.clone() }
}

/// The viewer packed; the same for every page.
static PACKED_VIEWER: LazyLock<String> = LazyLock::new(|| packed(VIEWER.as_bytes()));

/// Bytes packed (zlib, RFC 1950) and as text.
fn packed(bytes: &[u8]) -> String {
    base64(&miniz_oxide::deflate::compress_to_vec_zlib(bytes, PACKING))
}

#[cfg(test)]
mod tests;

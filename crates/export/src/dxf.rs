//! Flat panels as DXF of the version R2000 (`AC1015`), in millimetres.
//!
//! That version is the oldest that declares its unit and may name layers in words, and readers of
//! every age take it. Arcs are arcs (bulges), circles are circles; one layer for each operation.
//!
//! Format: the published *DXF Reference* of that version. The files are read back
//! by `ezdxf`, without an error and without a repair, in `tests/outside/flat_judge.py`.

mod entities;
mod frame;
mod tags;

use crate::layers::{Layer, bounds, layers};
use crate::nested::NestedSheet;
use crate::panel::Panel;
use tags::Tags;

/// The panel at true scale, in its own coordinates, as the text of one DXF file (ASCII only).
///
/// Layers are named for what is done (`cut through openings`, `pocket 4.0 mm from upper face`);
/// the layer `note not cut` carries number, name and notes as single strokes below the panel and
/// is marked as not to be plotted.
pub fn write(panel: &Panel) -> String {
    file(&layers(panel))
}

/// A whole sheet with everything that is cut from it, at true scale, as the text of one DXF file (ASCII only).
///
/// The origin is the sheet's lower left corner. Layers are named as those of single panels; the shapes stand in the order
/// in which they are cut. The edge of the sheet, offcuts, numbers and notes are on layers that are not to be plotted.
pub fn write_sheet(sheet: &NestedSheet<'_>) -> String {
    file(&sheet.layers())
}

/// All layers as one file.
fn file(layers: &[Layer]) -> String {
    let mut body = Tags::new();
    let mut handles = frame::FIRST_FREE_HANDLE..;
    for layer in layers {
        for shape in &layer.shapes {
            let handle = handles.next().expect("the range has no end");
            entities::write(&mut body, handle, &layer.name, shape);
        }
    }
    let next_handle = handles.next().expect("the range has no end");

    let mut file = Tags::new();
    frame::write_head(&mut file, layers, bounds(layers), next_handle);
    file.append(body);
    frame::write_tail(&mut file);
    file.into_text()
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::layers::tests::{panel, pattern};

    /// Values of all tags with this group code, in order.
    fn values<'a>(text: &'a str, code: &str) -> Vec<&'a str> {
        let lines: Vec<&str> = text.lines().collect();
        lines.chunks(2).filter(|tag| tag[0].trim() == code).map(|tag| tag[1]).collect()
    }

    #[test]
    fn it_declares_millimetres_and_its_version() {
        let pattern = pattern();
        let text = write(&panel(&pattern));
        assert!(text.contains("$ACADVER\n  1\nAC1015\n"));
        assert!(text.contains("$INSUNITS\n 70\n4\n"));
        assert!(text.ends_with("EOF\n"));
    }

    #[test]
    fn every_handle_is_its_own() {
        let pattern = pattern();
        let text = write(&panel(&pattern));
        let mut handles = values(&text, "5");
        handles.extend(values(&text, "105"));
        handles.sort_unstable();
        // The seed in the header, the first of them all, is the only one that nothing has.
        let count = handles.len();
        handles.dedup();
        assert_eq!(handles.len(), count);
    }

    #[test]
    fn words_beyond_ascii_stay_ascii() {
        let pattern = pattern();
        let name = "søhest\n 8 mm".to_owned();
        let text = write(&Panel { name: &name, ..panel(&pattern) });
        assert!(text.is_ascii());
        assert_eq!(text, write(&Panel { name: &name, ..panel(&pattern) }));
    }
}

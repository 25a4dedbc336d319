//! What a DXF file must hold around its entities: header, tables, blocks and objects.
//!
//! The version asks for a fixed set of tables and objects, each with a handle and an owner, even
//! where they are empty. Nothing here depends on the panel but layers, extents and the handle seed.
//! There are no dates and no random identifiers.

use glam::DVec2;

use super::tags::Tags;
use crate::layers::Layer;

/// Where entities may begin to be numbered: above all handles of the frame.
pub(super) const FIRST_FREE_HANDLE: u32 = 0x1000;
/// Owner of every entity: the block record of the model space.
pub(super) const MODEL_SPACE: u32 = 0x1F;

const PAPER_SPACE: u32 = 0x1B;
const MODEL_LAYOUT: u32 = 0x22;
const PAPER_LAYOUT: u32 = 0x1E;
const ROOT_DICTIONARY: u32 = 0xC;
const GROUPS: u32 = 0xD;
const PLOT_STYLES: u32 = 0xE;
const NORMAL_PLOT_STYLE: u32 = 0xF;
const LAYOUTS: u32 = 0x1A;
const LAYER_ZERO: u32 = 0x10;
/// Handles of the panel's own layers, upwards; there are far fewer than fit below the entities.
const FIRST_LAYER: u32 = 0x40;

/// Everything before the entities.
pub(super) fn write_head(tags: &mut Tags, layers: &[Layer], extents: [DVec2; 2], seed: u32) {
    header(tags, extents, seed);
    section(tags, "CLASSES");
    tags.word(0, "ENDSEC");
    section(tags, "TABLES");
    viewport_table(tags, extents);
    line_type_table(tags);
    layer_table(tags, layers);
    other_tables(tags);
    tags.word(0, "ENDSEC");
    blocks(tags);
    section(tags, "ENTITIES");
}

/// Everything after the entities.
pub(super) fn write_tail(tags: &mut Tags) {
    tags.word(0, "ENDSEC");
    section(tags, "OBJECTS");
    dictionaries(tags);
    layout(tags, MODEL_LAYOUT, "Model", MODEL_SPACE, 0);
    layout(tags, PAPER_LAYOUT, "Layout1", PAPER_SPACE, 1);
    tags.word(0, "ENDSEC");
    tags.word(0, "EOF");
}

fn section(tags: &mut Tags, name: &str) {
    tags.word(0, "SECTION");
    tags.word(2, name);
}

fn header(tags: &mut Tags, [lo, hi]: [DVec2; 2], seed: u32) {
    section(tags, "HEADER");
    let variable = |tags: &mut Tags, name: &str| tags.word(9, name);
    variable(tags, "$ACADVER");
    tags.word(1, "AC1015");
    variable(tags, "$DWGCODEPAGE");
    tags.word(3, "ANSI_1252");
    // Millimetres, metric, decimal.
    for (name, value) in [("$INSUNITS", 4), ("$MEASUREMENT", 1), ("$LUNITS", 2)] {
        variable(tags, name);
        tags.integer(70, value);
    }
    // Names may be words with spaces.
    variable(tags, "$EXTNAMES");
    tags.integer(290, 1);
    for (name, corner) in [("$EXTMIN", lo), ("$EXTMAX", hi)] {
        variable(tags, name);
        tags.point(10, &[corner.x, corner.y, 0.0]);
    }
    variable(tags, "$HANDSEED");
    tags.handle(5, seed);
    tags.word(0, "ENDSEC");
}

fn begin_table(tags: &mut Tags, name: &str, handle: u32, records: usize) {
    tags.word(0, "TABLE");
    tags.word(2, name);
    tags.handle(5, handle);
    tags.word(330, "0");
    tags.word(100, "AcDbSymbolTable");
    tags.integer(70, records);
}

fn begin_record(tags: &mut Tags, table: (&str, u32), handle: u32, class: &str, name: &str) {
    let (kind, owner) = table;
    tags.word(0, kind);
    // The one record whose own code for a handle is another.
    tags.handle(if kind == "DIMSTYLE" { 105 } else { 5 }, handle);
    tags.handle(330, owner);
    tags.word(100, "AcDbSymbolTableRecord");
    tags.word(100, class);
    tags.word(2, name);
}

fn end_table(tags: &mut Tags) {
    tags.word(0, "ENDTAB");
}

/// The view that shows the whole panel when the file is opened.
fn viewport_table(tags: &mut Tags, [lo, hi]: [DVec2; 2]) {
    let centre = 0.5 * (lo + hi);
    begin_table(tags, "VPORT", 0x8, 1);
    begin_record(tags, ("VPORT", 0x8), 0x29, "AcDbViewportTableRecord", "*Active");
    tags.integer(70, 0);
    tags.point(10, &[0.0, 0.0]);
    tags.point(11, &[1.0, 1.0]);
    tags.point(12, &[centre.x, centre.y]);
    tags.length(40, 1.1 * (hi.y - lo.y).max(1.0));
    tags.number(41, 1.5);
    end_table(tags);
}

fn line_type_table(tags: &mut Tags) {
    begin_table(tags, "LTYPE", 0x5, 3);
    for (handle, name) in [(0x14, "ByBlock"), (0x15, "ByLayer"), (0x16, "Continuous")] {
        begin_record(tags, ("LTYPE", 0x5), handle, "AcDbLinetypeTableRecord", name);
        tags.integer(70, 0);
        tags.word(3, "");
        tags.integer(72, 65);
        tags.integer(73, 0);
        tags.number(40, 0.0);
    }
    end_table(tags);
}

fn layer_table(tags: &mut Tags, layers: &[Layer]) {
    // In the order of cutting a layer can come more than once; it has one record all the same.
    let is_first = |(k, layer): &(usize, &Layer)| {
        layers[..*k].iter().all(|earlier| earlier.name != layer.name)
    };
    let records: Vec<&Layer> =
        layers.iter().enumerate().filter(is_first).map(|(_, layer)| layer).collect();
    begin_table(tags, "LAYER", 0x2, 1 + records.len());
    layer_record(tags, LAYER_ZERO, "0", 7, true);
    for (handle, layer) in (FIRST_LAYER..).zip(records) {
        layer_record(tags, handle, &layer.name, layer.colour.index, layer.is_made);
    }
    end_table(tags);
}

fn layer_record(tags: &mut Tags, handle: u32, name: &str, colour: u8, is_plotted: bool) {
    begin_record(tags, ("LAYER", 0x2), handle, "AcDbLayerTableRecord", name);
    tags.integer(70, 0);
    tags.integer(62, usize::from(colour));
    tags.word(6, "Continuous");
    tags.integer(290, usize::from(is_plotted));
    // The default line width.
    tags.word(370, "-3");
    tags.handle(390, NORMAL_PLOT_STYLE);
}

fn other_tables(tags: &mut Tags) {
    begin_table(tags, "STYLE", 0x3, 1);
    begin_record(tags, ("STYLE", 0x3), 0x11, "AcDbTextStyleTableRecord", "Standard");
    tags.integer(70, 0);
    for (code, value) in [(40, 0.0), (41, 1.0), (50, 0.0)] {
        tags.number(code, value);
    }
    tags.integer(71, 0);
    tags.number(42, 2.5);
    tags.word(3, "txt");
    tags.word(4, "");
    end_table(tags);

    for (name, handle) in [("VIEW", 0x6), ("UCS", 0x7)] {
        begin_table(tags, name, handle, 0);
        end_table(tags);
    }

    begin_table(tags, "APPID", 0x9, 1);
    begin_record(tags, ("APPID", 0x9), 0x12, "AcDbRegAppTableRecord", "ACAD");
    tags.integer(70, 0);
    end_table(tags);

    begin_table(tags, "DIMSTYLE", 0xA, 1);
    tags.word(100, "AcDbDimStyleTable");
    begin_record(tags, ("DIMSTYLE", 0xA), 0x27, "AcDbDimStyleTableRecord", "Standard");
    tags.integer(70, 0);
    end_table(tags);

    begin_table(tags, "BLOCK_RECORD", 0x1, 2);
    for (handle, name, layout) in
        [(MODEL_SPACE, "*Model_Space", MODEL_LAYOUT), (PAPER_SPACE, "*Paper_Space", PAPER_LAYOUT)]
    {
        begin_record(tags, ("BLOCK_RECORD", 0x1), handle, "AcDbBlockTableRecord", name);
        tags.handle(340, layout);
    }
    end_table(tags);
}

fn blocks(tags: &mut Tags) {
    section(tags, "BLOCKS");
    block(tags, "*Model_Space", MODEL_SPACE, [0x20, 0x21], false);
    block(tags, "*Paper_Space", PAPER_SPACE, [0x1C, 0x1D], true);
    tags.word(0, "ENDSEC");
}

/// An empty block with the handles of its beginning and end.
fn block(tags: &mut Tags, name: &str, owner: u32, ends: [u32; 2], is_paper: bool) {
    let entity = |tags: &mut Tags, kind: &str, handle: u32, class: &str| {
        tags.word(0, kind);
        tags.handle(5, handle);
        tags.handle(330, owner);
        tags.word(100, "AcDbEntity");
        if is_paper {
            tags.integer(67, 1);
        }
        tags.word(8, "0");
        tags.word(100, class);
    };
    entity(tags, "BLOCK", ends[0], "AcDbBlockBegin");
    tags.word(2, name);
    tags.integer(70, 0);
    tags.point(10, &[0.0; 3]);
    tags.word(3, name);
    tags.word(1, "");
    entity(tags, "ENDBLK", ends[1], "AcDbBlockEnd");
}

fn dictionaries(tags: &mut Tags) {
    let dictionary = |tags: &mut Tags, handle: u32, owner: u32, entries: &[(&str, u32)]| {
        tags.word(0, "DICTIONARY");
        tags.handle(5, handle);
        tags.handle(330, owner);
        tags.word(100, "AcDbDictionary");
        tags.integer(281, 1);
        for &(name, entry) in entries {
            tags.word(3, name);
            tags.handle(350, entry);
        }
    };
    let root =
        [("ACAD_GROUP", GROUPS), ("ACAD_LAYOUT", LAYOUTS), ("ACAD_PLOTSTYLENAME", PLOT_STYLES)];
    dictionary(tags, ROOT_DICTIONARY, 0, &root);
    dictionary(tags, GROUPS, ROOT_DICTIONARY, &[]);

    tags.word(0, "ACDBDICTIONARYWDFLT");
    tags.handle(5, PLOT_STYLES);
    tags.handle(330, ROOT_DICTIONARY);
    tags.word(100, "AcDbDictionary");
    tags.integer(281, 1);
    tags.word(3, "Normal");
    tags.handle(350, NORMAL_PLOT_STYLE);
    tags.word(100, "AcDbDictionaryWithDefault");
    tags.handle(340, NORMAL_PLOT_STYLE);
    tags.word(0, "ACDBPLACEHOLDER");
    tags.handle(5, NORMAL_PLOT_STYLE);
    tags.handle(330, PLOT_STYLES);

    dictionary(
        tags,
        LAYOUTS,
        ROOT_DICTIONARY,
        &[("Model", MODEL_LAYOUT), ("Layout1", PAPER_LAYOUT)],
    );
}

/// A page setup; all its lengths are those of an unset page.
fn layout(tags: &mut Tags, handle: u32, name: &str, block_record: u32, tab: usize) {
    tags.word(0, "LAYOUT");
    tags.handle(5, handle);
    tags.handle(330, LAYOUTS);
    tags.word(100, "AcDbPlotSettings");
    for code in [1, 2, 4, 6] {
        tags.word(code, "");
    }
    for code in (40..=49).chain([140, 141]) {
        tags.number(code, 0.0);
    }
    tags.number(142, 1.0);
    tags.number(143, 1.0);
    // Bit 1024: these are the settings of the model tab.
    tags.integer(70, if tab == 0 { 1024 } else { 0 });
    for (code, value) in [(72, 1), (73, 0), (74, 5)] {
        tags.integer(code, value);
    }
    tags.word(7, "");
    tags.integer(75, 16);
    for (code, value) in [(147, 1.0), (148, 0.0), (149, 0.0)] {
        tags.number(code, value);
    }
    tags.word(100, "AcDbLayout");
    tags.word(1, name);
    tags.integer(70, 1);
    tags.integer(71, tab);
    // Limits of the page, then the base point and extents of an empty one.
    tags.point(10, &[0.0, 0.0]);
    tags.point(11, &[420.0, 297.0]);
    tags.point(12, &[0.0; 3]);
    for (code, far) in [(14, "1e+20"), (15, "-1e+20")] {
        for code in [code, code + 10, code + 20] {
            tags.word(code, far);
        }
    }
    tags.number(146, 0.0);
    for (code, axis) in [(13, [0.0; 3]), (16, [1.0, 0.0, 0.0]), (17, [0.0, 1.0, 0.0])] {
        tags.point(code, &axis);
    }
    tags.integer(76, 0);
    tags.handle(330, block_record);
}

"""Judges the papers in `shop/`: paper sizes, fonts, words apart and on the page, drawings that measure what they say,
and whether they can be read aloud: every letter is of a heading, a paragraph, a list, a table or a figure, or marked as
decoration (ISO 32000-1, 14.7 and 14.8).

Independent reader: pdfplumber on pdfminer.six. Of a drawing its scale is read from the title block; the wide lines of the
view, measured on paper and multiplied by it, must be as large as the panel or the sheet.
"""

import json
import re
import zlib

import pdfplumber
from pdfminer.pdftypes import resolve1

import judging

SOURCE = judging.versions("pdfplumber", "pdfminer.six")
MM = 25.4 / 72.0
# ISO 216 and ANSI paper, mm.
PAPERS = {"A4": (210.0, 297.0), "A3": (420.0, 297.0), "Letter": (215.9, 279.4), "Tabloid": (431.8, 279.4)}
# A capital letter of DejaVu Sans, as a share of the em.
CAPITAL = 0.729
# Letters may touch so far, pt.
TOUCH = 0.15
# On the side of the part, mm.
SIZE_LIMIT = 0.05
WIDE_MM = 0.5
# The title block, mm.
BLOCK = (180.0, 38.0)


def judge(folder, rows):
    panels = {panel["number"]: panel for panel in judging.expectations(folder, "panels")}
    drawn = set()
    papers = sorted((folder / "shop").glob("*.pdf"))
    for path in papers:
        part = f"shop/{path.name}"
        document = rows.readable("PDF: file", part, lambda: pdfplumber.open(path))
        if document is None:
            continue
        with document:
            judge_document(document, part, panels, drawn, rows)
    if any("drawing" in path.name or "panel" in path.name for path in papers):
        rows.equal("PDF: panels with a drawing", "shop", sorted(panels), sorted(drawn))


def judge_document(document, part, panels, drawn, rows):
    rows.equal("PDF: title is there", part, True, bool(document.metadata.get("Title")))
    rows.equal("PDF: fonts without their letters in the file", part, [], sorted(bare_fonts(document)))
    judge_tags(document, part, rows)
    sheets = []
    for number, page in enumerate(document.pages, 1):
        place = f"{part}: {number}"
        judge_page(page, place, rows)
        fields = title_block(page)
        if fields.get("Document type") == "Panel drawing":
            panel = panels.get(fields["Identification number"])
            if panel is not None and fields["Sheet"].startswith("1 "):
                drawn.add(panel["number"])
                judge_drawing(page, fields, panel, place, rows)
        elif fields.get("Document type") == "Cutting sheet" and re.fullmatch(r"1:\d+", fields["Scale"]):
            sheets.append((page, fields, place))
    if sheets:
        words = " ".join(page.extract_text() for page in document.pages)
        judge_sheets(sheets, re.sub(r"\s+", " ", words), rows)


def judge_tags(document, part, rows):
    """The tree of what is what, as the reader follows it from page to page."""
    catalog = document.doc.catalog
    language = resolve1(catalog.get("Lang"))
    rows.equal("PDF: language", part, "en", language.decode() if isinstance(language, bytes) else language)
    rows.equal("PDF: is marked as tagged", part, True, bool((resolve1(catalog.get("MarkInfo")) or {}).get("Marked")))
    lost = 0
    for page in document.pages:
        known = [mcid for element in walk(page.structure_tree) for mcid in element.get("mcids", [])]
        lost += len(known) - len(set(known))
        lost += sum(char["tag"] != "Artifact" and char["mcid"] not in known for char in page.chars)
    rows.equal("PDF: letters that are of nothing, or of two things", part, 0, lost)
    elements = list(walk(document.structure_tree))
    mute = [element for element in elements if element["type"] == "Figure" and not element.get("alt_text")]
    rows.equal("PDF: figures without words for who does not see them", part, 0, len(mute))
    ragged = [element for element in elements if element["type"] == "Table" and len(set(cells(element))) != 1]
    rows.equal("PDF: tables whose rows have other numbers of cells", part, 0, len(ragged))


def walk(elements):
    for element in elements:
        yield element
        yield from walk(element.get("children", []))


def cells(table):
    """How many cells each row has."""
    return [sum(cell["type"] in ("TH", "TD") for cell in row.get("children", [])) for row in table.get("children", [])]


def judge_page(page, place, rows):
    size = (float(page.width) * MM, float(page.height) * MM)
    off = min(max(abs(a - b) for a, b in zip(size, paper)) for paper in PAPERS.values())
    rows.number("PDF: page beside the nearest paper, mm off", place, 0.0, off, 0.01)
    boxes = [box_of(char) for char in page.chars if char["text"].strip()]
    outside = [box for box in boxes if box[0] < 0 or box[1] < 0 or box[2] > page.width or box[3] > page.height]
    rows.equal("PDF: letters outside the page", place, 0, len(outside))
    rows.equal("PDF: letters over other letters", place, 0, overlaps(boxes))


def judge_drawing(page, fields, panel, place, rows):
    """The wide lines of the view are as large as the panel, and its size stands there in words."""
    scale = float(fields["Scale"].split(":")[1])
    x_min, y_min, x_max, y_max = panel["bounds"]
    size = (x_max - x_min, y_max - y_min)
    measured = view_size(page)
    for name, ours, theirs in zip(("width", "height"), size, measured):
        rows.number(f"PDF: {name} of panels by their scale, mm", place, ours, theirs * scale, SIZE_LIMIT)
    numbers = words_of(page)
    for name, length in zip(("width", "height"), size):
        rows.equal(f"PDF: {name} of the panel in words", place, True, shown(length, fields["Lengths in"]) in numbers)
    rows.equal("PDF: thickness of the panel in words", place, True, f"t = {shown(panel['thickness_mm'], fields['Lengths in'])}" in page.extract_text())


def judge_sheets(sheets, words, rows):
    """The frame of a nest is as large as one of the sheets that the list names."""
    sizes = [
        tuple(float(number) * (25.4 if unit == "in" else 1.0) for number in (x, y))
        for x, unit, y in re.findall(r"– ([\d.]+) (mm|in) × ([\d.]+) (?:mm|in)[,:]", words)
    ]
    for page, fields, place in sheets:
        scale = float(fields["Scale"].split(":")[1])
        size = [length * scale for length in view_size(page)]
        nearest = min(sizes, key=lambda other: max(abs(a - b) for a, b in zip(size, other)), default=(0.0, 0.0))
        for name, ours, theirs in zip(("length", "width"), nearest, size):
            rows.number(f"PDF: {name} of sheets by their scale, mm", place, ours, theirs, SIZE_LIMIT)


def shown(mm, unit):
    """As the drawings write a length: to 0.01 mm or 0.001 in, without zeros at its end."""
    number = f"{mm / 25.4:.3f}" if unit == "in" else f"{mm:.2f}"
    return number.rstrip("0").rstrip(".")


def view_size(page):
    """Width and height, mm, of all that is drawn in wide ink, the title block left out."""
    wide = []
    for shape in page.curves + page.rects + page.lines:
        colour = shape["stroking_color"]
        is_ink = isinstance(colour, (tuple, list)) and len(colour) == 3 and max(colour) < 0.2
        if not shape["stroke"] or not is_ink or abs(shape["linewidth"] * MM - WIDE_MM) > 0.01:
            continue
        size = ((shape["x1"] - shape["x0"]) * MM, (shape["y1"] - shape["y0"]) * MM)
        if all(abs(a - b) < 0.05 for a, b in zip(size, BLOCK)):
            continue
        wide.append((shape["x0"], shape["y0"], shape["x1"], shape["y1"]))
    if not wide:
        return (0.0, 0.0)
    lo = [min(box[axis] for box in wide) for axis in (0, 1)]
    hi = [max(box[axis] for box in wide) for axis in (2, 3)]
    return tuple((b - a) * MM for a, b in zip(lo, hi))


def title_block(page):
    """The fields of the title block: the words below each name."""
    names = ["Document type", "Identification number", "Sheet", "Scale", "Lengths in"]
    words = page.extract_words(keep_blank_chars=True, x_tolerance=1.5, y_tolerance=1)
    fields = {}
    for name in names:
        labels = [word for word in words if word["text"] == name]
        for label in labels[-1:]:
            below = [word for word in words if abs(word["x0"] - label["x0"]) < 2 and 0 < word["top"] - label["top"] < 20]
            if below:
                fields[name] = min(below, key=lambda word: word["top"])["text"]
    return fields if len(fields) == len(names) else {}


def words_of(page):
    """All words of a page, those that read upwards too."""
    words = {word["text"] for word in page.extract_words(x_tolerance=1.5)}
    turned = sorted((char for char in page.chars if abs(char["matrix"][1]) > 0.5), key=lambda char: (round(char["x0"], 1), -char["top"]))
    word, last = "", None
    for char in turned:
        is_next = last is not None and abs(char["x0"] - last["x0"]) < 0.1 and abs(char["bottom"] - last["top"]) < 0.5
        if not is_next:
            words.add(word)
            word = ""
        word += char["text"]
        last = char
    return words | {word}


def box_of(char):
    """From the base line to the height of a capital, as far as the letter moves the pen; from the lower left."""
    a, b, _, _, x, y = char["matrix"]
    height = CAPITAL * char["size"] if abs(b) < 0.5 else CAPITAL * (char["x1"] - char["x0"])
    if abs(b) < 0.5:
        return (char["x0"], y, char["x1"], y + height)
    return (x - height, char["y0"], x, char["y1"])


def overlaps(boxes):
    """How many pairs of boxes lie over each other."""
    boxes = sorted(boxes)
    count = 0
    for i, (x0, y0, x1, y1) in enumerate(boxes):
        for other in boxes[i + 1 :]:
            if other[0] >= x1 - TOUCH:
                break
            if min(other[2], x1) - other[0] > TOUCH and min(other[3], y1) - max(other[1], y0) > TOUCH:
                count += 1
    return count


def bare_fonts(document):
    for page in document.pages:
        fonts = resolve1(page.page_obj.resources.get("Font")) or {}
        for name, font in fonts.items():
            font = resolve1(font)
            for descendant in resolve1(font.get("DescendantFonts")) or [font]:
                descriptor = resolve1(resolve1(descendant).get("FontDescriptor")) or {}
                if not any(f"FontFile{kind}" in descriptor for kind in ("", "2", "3")):
                    yield str(font.get("BaseFont", name))


# Damages for the self-test. All keep the length of what they change, so that the file's table of places stays right.


def replace(old, new):
    """Other bytes of the same number in the first paper that has them."""

    def damage(folder):
        for path in sorted((folder / "shop").glob("*.pdf")):
            data = path.read_bytes()
            changed = re.sub(old, new, data, count=1)
            if changed != data:
                path.write_bytes(changed)
                return True
        return False

    return damage


def in_content(change):
    """Changes the first content of a page that lets itself be changed and packed into the same room."""

    def damage(folder):
        for path in sorted((folder / "shop").glob("*.pdf")):
            data = path.read_bytes()
            for found in re.finditer(rb"stream\r?\n(.*?)\r?\nendstream", data, re.DOTALL):
                packed = found.group(1)
                try:
                    content = zlib.decompress(packed)
                except zlib.error:
                    continue
                changed = change(content) if b" Tf" in content else None
                if changed is None or changed == content:
                    continue
                again = zlib.compress(changed, 9)
                if len(again) <= len(packed):
                    path.write_bytes(data[: found.start(1)] + again.ljust(len(packed), b"\n") + data[found.end(1) :])
                    return True
        return False

    return damage


# Where a word is put, before its letters.
MOVE = rb"1 0 0 -1 [-\d.]+ [-\d.]+ cm(?=[^\n]*\nBT)"


def one_over_the_other(content):
    """All words of a page that are moved as the first are."""
    places = re.findall(MOVE, content)
    return re.sub(MOVE, places[0], content) if len(places) > 1 else None


def off_the_page(content):
    return re.sub(MOVE, b"1 0 0 -1 -9 -9 cm", content) if re.search(MOVE, content) else None


def in_list(change):
    def damage(folder):
        path = folder / "checks" / "panels.json"
        panels = json.loads(path.read_text(encoding="utf-8"))
        change(panels)
        path.write_text(json.dumps(panels), encoding="utf-8")
        return True

    return damage


def longer(panels):
    panels[0]["bounds"][2] += 0.1


def one_more(panels):
    panels.append({**panels[0], "number": "none"})


def thinner(panels):
    panels[0]["thickness_mm"] -= 0.1


DAMAGES = {
    "a page 0.4 mm too wide": replace(rb"/MediaBox ?\[0 0 (\d+)", lambda found: found.group(0)[:-1] + (b"6" if found.group(0)[-1:] == b"5" else b"5")),
    "a font that is not in its file": replace(rb"/FontFile", lambda _: b"/FontFilm"),
    "a paper in no language": replace(rb"/Lang ?\(en\)(?=\s*/StructTreeRoot)", lambda found: found.group(0).replace(b"en", b"xx")),
    "a tree that is not found": replace(rb"/StructTreeRoot (\d+)", lambda found: found.group(0).replace(b"Root", b"Roof")),
    "a figure without words": replace(rb"/Alt(?=[ (<])", lambda _: b"/Alu"),
    "a cell that is none": replace(rb"/StructElem/S/TD", lambda _: b"/StructElem/S/LI"),
    "words over words": in_content(one_over_the_other),
    "words beside the page": in_content(off_the_page),
    "a panel 0.1 mm longer than drawn": in_list(longer),
    "a panel without a drawing": in_list(one_more),
    "a panel 0.1 mm thinner than written": in_list(thinner),
    "a paper without an end": lambda folder: [path.write_bytes(path.read_bytes()[:2000]) for path in sorted((folder / "shop").glob("*.pdf"))[:1]] != [],
}

if __name__ == "__main__":
    judging.run(judge, SOURCE, DAMAGES)

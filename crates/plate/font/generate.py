#!/usr/bin/env python3
"""Makes the glyph table of Sumpwright Stroke from the SVG font EMS Readability.

    generate.py            writes ../src/text/glyphs.rs
    generate.py --check    fails if that file is not what would be written

The SVG font is the file svg_fonts/EMSReadability.svg of the npm package hersheytext 2.0.0, SIL Open
Font License 1.1 (OFL.txt). What is changed on the way:

- Units: a thousandth of the height of H, baseline at the foot of H. The file says cap-height 500,
  but its H reaches from 22 to 652.
- Advance widths: many are smaller than the ink, so the next letter would overprint.
- Superscripts and the degree sign stand as high as capitals; in the file they stand above them.
- Strokes that run back over themselves are parted, so nothing is engraved twice.
- Letters and signs that are missing are composed of those that are there and a few lines.
"""

import html
import math
import pathlib
import re
import sys

HERE = pathlib.Path(__file__).parent
SOURCE = HERE / "EMSReadability.svg"
TARGET = HERE.parent / "src" / "text" / "glyphs.rs"

# In units of the source font.
BASELINE, CAP_TOP, X_TOP = 22.1, 652.0, 485.0
BEARING = 65.0  # blank on either side of glyphs that are spaced anew

# The ink of these lies beside or beyond their advance: they are spaced anew.
RESPACED = "²³¹°ªº¼½¾¢¦"
# These are moved down until their top is level with capitals.
LOWERED = "²³¹ªº°"

# Accents over a base whose ink is centred on 0 and whose top is at 0; `\n` parts strokes.
ABOVE = {
    "caron": [[(-75, 245), (0, 130), (75, 245)]],
    "acute": [[(65, 280), (-60, 110)]],
    "double acute": [[(10, 280), (-90, 110)], [(130, 280), (30, 110)]],
    "breve": [[(-80, 250), (-60, 185), (0, 150), (60, 185), (80, 250)]],
    "macron": [[(-95, 180), (95, 180)]],
    "dot": [[(-24, 136), (24, 136), (24, 186), (-24, 186), (-24, 136)]],
    "ring": [[(75 * math.cos(k * math.pi / 6), 190 + 75 * math.sin(k * math.pi / 6)) for k in range(13)]],
}
# Marks below a base; its foot is at 0 and the mark starts at the anchor.
BELOW = {
    "ogonek": [[(0, 0), (-45, -55), (-50, -100), (-10, -130), (45, -115)]],
    "comma": [[(10, -70), (15, -120), (-5, -170), (-40, -205)]],
    "cedilla": [[(0, 0), (-8, -45), (40, -60), (45, -95), (20, -120), (-35, -125)]],
}

COMPOSED_ABOVE = {
    "caron": "Č:C č:c Ď:D Ě:E ě:e Ň:N ň:n Ř:R ř:r Š:S š:s Ť:T Ž:Z ž:z",
    "acute": "Ć:C ć:c Ń:N ń:n Ś:S ś:s Ź:Z ź:z Ĺ:L ĺ:l Ŕ:R ŕ:r",
    "double acute": "Ő:O ő:o Ű:U ű:u",
    "breve": "Ă:A ă:a Ğ:G ğ:g",
    "macron": "Ā:A ā:a Ē:E ē:e Ī:I ī:ı Ō:O ō:o Ū:U ū:u",
    "dot": "Ż:Z ż:z Ė:E ė:e İ:I",
    "ring": "Ů:U ů:u",
}
# The anchor is a share of the base's width.
COMPOSED_BELOW = {
    "ogonek": (0.85, "Ą:A ą:a Ę:E ę:e"),
    "comma": (0.5, "Ș:S ș:s Ț:T ț:t"),
    "cedilla": (0.5, "Ş:S ş:s"),
}


def numbers(text):
    return [float(n) for n in re.findall(r"[-+]?[0-9]*\.?[0-9]+(?:e[-+]?[0-9]+)?", text)]


def flattened(start, control):
    """A cubic curve as eight chords."""
    p = [start, *control]
    for k in range(1, 9):
        t = k / 8
        w = [(1 - t) ** 3, 3 * t * (1 - t) ** 2, 3 * t * t * (1 - t), t**3]
        yield tuple(sum(wi * pi[axis] for wi, pi in zip(w, p)) for axis in (0, 1))


def strokes_of(path):
    strokes = []
    for command, text in re.findall(r"([A-Za-z])([^A-Za-z]*)", path):
        n = numbers(text)
        points = list(zip(n[::2], n[1::2]))
        if command == "M":
            strokes.append(points)
        elif command == "L":
            strokes[-1] += points
        elif command == "C":
            strokes[-1] += flattened(strokes[-1][-1], points)
        else:
            raise ValueError(f"unknown command {command}")
    return strokes


def read_font(path):
    """Character -> (advance, strokes)."""
    font = {}
    text = path.read_text(encoding="utf-8")
    for tag in re.findall(r"<glyph [^>]*>", text):
        attributes = dict(re.findall(r'([\w-]+)="([^"]*)"', tag))
        char = html.unescape(attributes["unicode"])
        font[char] = (float(attributes["horiz-adv-x"]), strokes_of(attributes.get("d", "")))
    return font


def parted(stroke):
    """The stroke without the parts that run straight back over themselves."""
    done, current = [], [stroke[0]]
    for point in stroke[1:]:
        if point == current[-1]:
            continue
        if len(current) > 1:
            (ax, ay), (bx, by) = current[-2], current[-1]
            u, v = (bx - ax, by - ay), (point[0] - bx, point[1] - by)
            along = u[0] * v[0] + u[1] * v[1]
            across = u[0] * v[1] - u[1] * v[0]
            if along < 0 and abs(across) < 1e-3 * math.hypot(*u) * math.hypot(*v):
                done.append(current)
                current = [point] if math.hypot(*v) <= math.hypot(*u) else [(ax, ay), point]
                continue
        current.append(point)
    done.append(current)
    return [s for s in done if len(s) > 1]


def box(strokes):
    xs = [x for s in strokes for x, _ in s]
    ys = [y for s in strokes for _, y in s]
    return min(xs), max(xs), min(ys), max(ys)


def moved(strokes, dx, dy=0.0):
    return [[(x + dx, y + dy) for x, y in s] for s in strokes]


def spaced(strokes, bearing=BEARING):
    left, right, _, _ = box(strokes)
    return right - left + 2 * bearing, moved(strokes, bearing - left)


def repair(font):
    for char, (advance, strokes) in font.items():
        if not strokes:
            continue
        if char in LOWERED:
            strokes = moved(strokes, 0, CAP_TOP - box(strokes)[3])
        if char in RESPACED:
            advance, strokes = spaced(strokes)
        # Accents may reach over their letter, but not into the next one.
        font[char] = (max(advance, box(strokes)[1] + 0.5 * BEARING), strokes)


def without_dot(strokes):
    return [s for s in strokes if max(y for _, y in s) < 600]


def compose(font):
    font["ı"] = (font["i"][0], without_dot(font["i"][1]))
    for accent, pairs in COMPOSED_ABOVE.items():
        for char, base in (pair.split(":") for pair in pairs.split()):
            advance, strokes = font[base]
            left, right, _, top = box(strokes)
            mark = moved(ABOVE[accent], 0.5 * (left + right), top - 30)
            font[char] = (max(advance, box(mark)[1] + 0.5 * BEARING), strokes + mark)
    for mark, (share, pairs) in COMPOSED_BELOW.items():
        for char, base in (pair.split(":") for pair in pairs.split()):
            advance, strokes = font[base]
            left, right, foot, _ = box(strokes)
            at = left + share * (right - left)
            font[char] = (advance, strokes + moved(BELOW[mark], at, foot))
    for char, base in ("ďd", "ťt", "ľl", "ĽL"):
        advance, strokes = font[base]
        x = box(strokes)[1] + 55 if base != "L" else 300
        font[char] = (max(advance, x + 2 * BEARING), strokes + [[(x + 20, 700), (x, 560)]])
    for char, base, bar in (
        ("Ł", "L", [(60, 290), (250, 400)]),
        ("ł", "l", [(50, 320), (215, 410)]),
        ("Đ", "D", [(50, 350), (280, 350)]),
        ("đ", "d", [(300, 610), (510, 610)]),
    ):
        font[char] = (font[base][0], font[base][1] + [bar])
    for char, left, right, overlap in (("Œ", "O", "E", 225), ("œ", "o", "e", 174), ("æ", "a", "e", 150)):
        ligature(font, char, left, right, overlap)
    ae = [[(20, 22), (320, 652), (620, 652)], [(320, 652), (320, 31), (635, 31)], [(152, 300), (570, 300)]]
    font["Æ"] = (690, ae)
    micro = [[(120, 476), (120, -190)], *font["u"][1]]
    font["µ"] = font["μ"] = (font["u"][0], micro)


def ligature(font, char, left, right, overlap):
    """Two letters whose inks meet: the right one is moved left by `overlap` from its usual place."""
    (advance, a), (advance_b, b) = font[left], font[right]
    at = advance - overlap
    font[char] = (at + advance_b, a + moved(b, at))


def add_signs(font):
    def sign(char, *strokes):
        font[char] = spaced([list(s) for s in strokes])

    circle = [(265 * math.cos(k * math.pi / 16), 337 + 265 * math.sin(k * math.pi / 16)) for k in range(33)]
    sign("⌀", circle, [(-255, 22), (255, 652)])
    sign("−", [(0, 330), (360, 330)])
    sign("×", [(0, 190), (290, 480)], [(0, 480), (290, 190)])
    sign("±", [(160, 250), (160, 570)], [(0, 410), (320, 410)], [(0, 100), (320, 100)])
    sign("≤", [(340, 560), (0, 380), (340, 200)], [(0, 90), (340, 90)])
    sign("≥", [(0, 560), (340, 380), (0, 200)], [(0, 90), (340, 90)])
    wave = [(0, 0), (60, 50), (120, 55), (240, -5), (300, 0), (360, 50)]
    sign("≈", [(x, y + 400) for x, y in wave], [(x, y + 240) for x, y in wave])
    sign("→", [(0, 330), (460, 330)], [(330, 440), (460, 330), (330, 220)])
    sign("←", [(460, 330), (0, 330)], [(130, 440), (0, 330), (130, 220)])
    sign("↑", [(130, 22), (130, 652)], [(0, 500), (130, 652), (260, 500)])
    sign("↓", [(130, 652), (130, 22)], [(0, 174), (130, 22), (260, 174)])
    sign("▲", [(0, 60), (260, 510), (520, 60), (0, 60)])
    sign("▼", [(0, 510), (260, 60), (520, 510), (0, 510)])
    sign("′", [(45, 690), (0, 510)])
    sign("″", [(45, 690), (0, 510)], [(155, 690), (110, 510)])
    sign("‘", [(45, 690), (10, 640), (0, 570)])
    sign("’", [(35, 690), (45, 640), (0, 560)])
    sign("„", [(35, 75), (45, 20), (0, -60)], [(155, 75), (165, 20), (120, -60)])
    sign("‚", [(35, 75), (45, 20), (0, -60)])
    dot = [(0, 19), (47, 19), (47, 69), (0, 69), (0, 19)]
    sign("…", *([(x + dx, y) for x, y in dot] for dx in (0, 210, 420)))
    sign("•", [(120 + 60 * math.cos(k * math.pi / 6), 330 + 60 * math.sin(k * math.pi / 6)) for k in range(13)])
    font["\u2011"] = font["-"]  # the hyphen that does not break
    font["\u00a0"] = font["\u202f"] = font[" "]


def table(font):
    scale = 1000 / (CAP_TOP - BASELINE)
    lines = []
    for char in sorted(font):
        advance, strokes = font[char]
        strokes = [p for s in strokes for p in parted(s)]
        points = [
            [(round(x * scale), round((y - BASELINE) * scale)) for x, y in s] for s in strokes
        ]
        body = ", ".join(
            "&[" + ", ".join(f"[{x}, {y}]" for x, y in s) + "]" for s in points
        )
        lines.append(
            f"    Glyph {{ char: '\\u{{{ord(char):x}}}', advance: {round(advance * scale)}, "
            f"strokes: &[{body}] }}, // {char if char.isprintable() else ''}".rstrip()
        )
    return "\n".join(lines)


HEADER = """\
//! Sumpwright Stroke, a font of single strokes. Written by `font/generate.py`: do not edit.
//!
//! A modified version of EMS Readability, created by Sheldon B. Michaels, SVG font conversion by
//! Windell H. Oskay, a derivative of a typeface designed by Paul D. Hunt, Adobe. SIL Open Font
//! License 1.1: the text is in `font/OFL.txt`.

use super::Glyph;

/// All glyphs, by character. Units: a thousandth of the height of H.
pub(super) const GLYPHS: &[Glyph] = &[
"""


def main():
    font = read_font(SOURCE)
    repair(font)
    compose(font)
    add_signs(font)
    text = HEADER + table(font) + "\n];\n"
    if "--check" in sys.argv:
        if TARGET.read_text(encoding="utf-8") != text:
            sys.exit(f"{TARGET} differs from what {SOURCE} gives")
        print(f"{TARGET.name} is what {SOURCE.name} gives: {len(font)} glyphs")
    else:
        TARGET.write_text(text, encoding="utf-8")
        print(f"{len(font)} glyphs written")


main()

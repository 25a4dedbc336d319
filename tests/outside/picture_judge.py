"""Judges pictures: as the ones in `renders/` that were looked at and kept.

Independent reader: Pillow. Compared are decoded pixels, not files.
"""

from pathlib import Path

import numpy
from PIL import Image, ImageDraw

import judging

SOURCE = judging.versions("pillow")
KEPT = Path(__file__).parents[2] / "renders"
# A difference of one step of a channel is not seen.
STEP = 1
MOST_SHARE = 1e-4


def judge(folder, rows):
    for path in pictures(folder):
        kept = KEPT / f"{rows.on}-{path.name}"
        ours = rows.readable("picture: file", path.name, lambda: pixels(path))
        theirs = rows.readable("picture: the kept one", kept.name, lambda: pixels(kept))
        if ours is None or theirs is None:
            continue
        rows.equal("picture: size", path.name, size(ours), size(theirs))
        if ours.shape == theirs.shape:
            unlike = (numpy.abs(ours - theirs) > STEP).any(axis=2).mean()
            rows.number("picture: share of pixels unlike the kept one", path.name, 0.0, unlike, MOST_SHARE)


def pictures(folder):
    return sorted((folder / "pictures").glob("*.png"))


def pixels(path):
    with Image.open(path) as image:
        return numpy.asarray(image.convert("RGBA"), dtype=int)


def size(picture):
    height, width, _ = picture.shape
    return f"{width} × {height}"


# Damages for the self-test.


def redraw(change):
    def damage(folder):
        for path in pictures(folder)[:1]:
            with Image.open(path) as image:
                changed = change(image.convert("RGBA"))
            changed.save(path)
            return True
        return False

    return damage


def with_a_patch(image):
    width, height = image.size
    ImageDraw.Draw(image).rectangle([width // 2, height // 2, width // 2 + 30, height // 2 + 30], fill=(255, 0, 255, 255))
    return image


DAMAGES = {
    "a picture with a patch of 30 pixels": redraw(with_a_patch),
    "a picture upside down": redraw(lambda image: image.transpose(Image.Transpose.FLIP_TOP_BOTTOM)),
    "a smaller picture": redraw(lambda image: image.resize((image.width // 2, image.height // 2))),
}

if __name__ == "__main__":
    judging.run(judge, SOURCE, DAMAGES)

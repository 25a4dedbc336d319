"""Judges the values of materials, from what an example of the crate `strength` prints:

    materials.jsonl    `cargo run -p strength --example materials`: one material a line

Compared are all rows of `material_data.toml` that could be read: what others have published, makers, standards, handbooks.
Rows from memory are not: where ours has nothing else beside it, that is told apart.
Ours must lie near theirs, and on the side of it on which a sump is the safer: no stiffer and no stronger than any of
them, growing no less in warmth and water, no less off its ordered thickness.
"""

import json
import tomllib
from pathlib import Path

import judging

DATA = Path(__file__).with_name("material_data.toml")
# Rounding of what is printed there.
PRINTED = 2e-3
# The same where ours is theirs in another unit, with two digits.
SAME = 6e-3
# How far ours may be from what is typical, as a share of ours: makers differ so much.
NEAR = {
    "modulus_mpa": 0.35,
    "strength_mpa": 0.35,
    "density_kg_m3": 0.06,
    "poisson": 0.1,
    "expansion_per_k": 0.4,
    "swelling": 0.4,
    "deviation_mm": 0.6,
}
# On which side ours must be; of the others none is the safer one.
LOW = {"modulus_mpa", "strength_mpa", "lasting_modulus_mpa", "lasting_stress_mpa", "lasting_stress_dry_mpa", "service_c"}
HIGH = {"expansion_per_k", "swelling", "deviation_mm"}
# Values that nothing is published of: glass does not swell, and its 60 °C are those of the silicone that holds it.
UNPUBLISHED = {"float glass": {"swelling", "service_c"}}
# Values of which nothing published was found: they stand on memory or on our judgement alone. Told apart, never as agreement;
# one more, or one less, is found.
FROM_MEMORY = {
    "cast acrylic": {"lasting_modulus_mpa"},
    "extruded acrylic": {"lasting_modulus_mpa", "poisson"},
    "PVC": {"lasting_stress_dry_mpa", "deviation_mm"},
    "polycarbonate": {"lasting_stress_dry_mpa", "lasting_stress_mpa"},
    "float glass": {"lasting_stress_dry_mpa", "lasting_stress_mpa"},
}


def judge(folder, rows):
    told = (json.loads(line) for line in (folder / "materials.jsonl").read_text(encoding="utf-8").splitlines())
    ours = {material["material"]: material for material in told}
    published = tomllib.loads(DATA.read_text(encoding="utf-8"))["value"]
    read = [row for row in published if row["known"] != "from memory"]
    for row in read:
        compare(row, ours[row["material"]], rows)
    rows.source = DATA.name
    for name, material in ours.items():
        known = {row["of"] for row in read if row["material"] == name}
        for key in sorted(FROM_MEMORY.get(name, ())):
            rows.source = "from memory, or our judgement"
            rows.not_compared("materials: values that nothing published was found of", f"{name}: {key}", key)
            rows.source = DATA.name
        remembered = FROM_MEMORY.get(name, set())
        rows.equal("materials: values from memory that are published too", name, "", ", ".join(sorted(remembered & known)))
        wanted = {key for key, value in material.items() if value is not None} - {"material", "at_c"}
        missing = sorted(wanted - known - remembered - UNPUBLISHED.get(name, set()))
        rows.equal("materials: values without a published one", name, "", ", ".join(missing))


def compare(row, material, rows):
    key, kind = row["of"], row["is"]
    value = ours_of(row, material)
    least, most = theirs_of(row)
    part = f"{row['material']}: {row['document']}"
    rows.source = "published data"
    if kind == "exact":
        rows.number(f"materials: {key}: by the rule", part, value, least, SAME, relative=True)
        return
    if kind == "class":
        is_within = least <= value <= most
        rows.equal(f"materials: {key}: range of its kind", part, "within", "within" if is_within else f"{value} in {least} to {most}")
        return
    if kind in ("typical", "least"):
        nearest = min((least, most), key=lambda theirs: abs(theirs - value))
        rows.number(f"materials: {key}: near what is published", part, value, nearest, NEAR[key], relative=True)
    elif kind != "most":
        raise ValueError(f"{part}: {kind}")
    if key in LOW:
        says = "safe" if value <= least * (1.0 + PRINTED) else f"{value} above {least}"
    elif key in HIGH:
        says = "safe" if value >= most * (1.0 - PRINTED) else f"{value} below {most}"
    else:
        return
    rows.equal(f"materials: {key}: side of what is published", part, "safe", says)


def ours_of(row, material):
    if "nominal_mm" in row:
        return material[row["of"]][f"{row['nominal_mm']:g}"]
    if "at_c" in row:
        return material["at_c"][f"{row['at_c']:g}"][row["of"]]
    return material[row["of"]]


def theirs_of(row):
    """Its least and greatest, in our unit."""
    value = row["value"]
    ends = value if isinstance(value, list) else [value, value]
    for factor in row.get("times", []):
        ends = [end * factor for end in ends]
    return ends


# Damages for the self-test.


def change(name, change_material):
    """Changes what is told of a material."""

    def damage(folder):
        path = folder / "materials.jsonl"
        told = [json.loads(line) for line in path.read_text(encoding="utf-8").splitlines()]
        for material in told:
            if material["material"] == name:
                change_material(material)
        path.write_text("".join(json.dumps(material) + "\n" for material in told), encoding="utf-8")
        return True

    return damage


def times(name, key, factor):
    def change_material(material):
        material[key] *= factor

    return change(name, change_material)


def warm(name, key, at, factor):
    def change_material(material):
        material["at_c"][at][key] *= factor

    return change(name, change_material)


def thick(name, nominal, factor):
    def change_material(material):
        material["deviation_mm"][nominal] *= factor

    return change(name, change_material)


def new(name):
    def change_material(material):
        material["hardness"] = 90.0

    return change(name, change_material)


DAMAGES = {
    "cast acrylic 2 % stiffer": times("cast acrylic", "modulus_mpa", 1.02),
    "cast acrylic as soft as rubber": times("cast acrylic", "modulus_mpa", 0.1),
    "cast acrylic that bears 10 % more in water": times("cast acrylic", "lasting_stress_mpa", 1.1),
    "cast acrylic that bears 10 % more in air": times("cast acrylic", "lasting_stress_dry_mpa", 1.1),
    "cast acrylic that crazes later": times("cast acrylic", "crazing_mpa", 1.1),
    "cast acrylic that swells a tenth less": times("cast acrylic", "swelling", 0.9),
    "cast acrylic that grows 5 % less in warmth": times("cast acrylic", "expansion_per_k", 0.95),
    "cast acrylic a tenth lighter": times("cast acrylic", "density_kg_m3", 0.9),
    "cast acrylic with Poisson's ratio of glass": times("cast acrylic", "poisson", 0.2 / 0.37),
    "cast acrylic a tenth nearer to its thickness": thick("cast acrylic", "10", 0.9),
    "extruded acrylic as strong as cast": times("extruded acrylic", "lasting_stress_mpa", 2.0),
    "extruded acrylic twice as far off its thickness": thick("extruded acrylic", "3", 2.0),
    "PVC that does not soften at 30 °C": warm("PVC", "lasting_modulus_mpa", "30", 1.2),
    "PVC 20 % stiffer": times("PVC", "modulus_mpa", 1.2),
    "PVC that grows a tenth less in warmth": times("PVC", "expansion_per_k", 0.9),
    "polycarbonate that creeps by a quarter less": times("polycarbonate", "lasting_modulus_mpa", 1.25),
    "polycarbonate that grows 3 % less in warmth": times("polycarbonate", "expansion_per_k", 0.97),
    "polycarbonate at 80 °C": times("polycarbonate", "service_c", 80.0 / 60.0),
    "polycarbonate rolled to a fiftieth": thick("polycarbonate", "3", 0.2),
    "glass of 12 mm a tenth nearer to its thickness": thick("float glass", "12", 0.9),
    "glass 1 % stiffer": times("float glass", "modulus_mpa", 1.01),
    "a value that nobody has published": new("PVC"),
}

if __name__ == "__main__":
    judging.run(judge, DATA.name, DAMAGES)

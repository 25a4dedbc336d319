"""Judges the JSON Schema with an independent validator: the parameter file that a folder was made from
must keep it, and a damaged one must not. Python's own TOML reader reads the file."""

import json
import tomllib
from pathlib import Path

import jsonschema

import judging

SOURCE = judging.versions("jsonschema")
SCHEMA = Path(__file__).parents[2] / "params" / "sumpwright.schema.json"


def judge(folder, rows):
    schema = json.loads(SCHEMA.read_text(encoding="utf-8"))
    validator = jsonschema.validators.validator_for(schema)
    rows.equal("schema: draft", "sumpwright.schema.json", "Draft7Validator", validator.__name__)
    rows.readable("schema: itself", "sumpwright.schema.json", lambda: validator.check_schema(schema) or True)
    text = (folder / "parameters.toml").read_text(encoding="utf-8")
    file = rows.readable("parameter file: TOML", "parameters.toml", lambda: tomllib.loads(text))
    if file is not None:
        errors = [error.message for error in validator(schema).iter_errors(file)]
        rows.equal("parameter file: keeps the schema", "parameters.toml", [], errors[:3])


def change(old, new):
    """Replaces the first `old` of the parameter file."""

    def damage(folder):
        path = folder / "parameters.toml"
        text = path.read_text(encoding="utf-8")
        path.write_text(text.replace(old, new, 1), encoding="utf-8")
        return old in text

    return damage


DAMAGES = {
    "a key that nobody knows": change("[box]\n", "[box]\ncolor = 1\n"),
    "a missing table": change("[box]\n", "[bax]\n"),
    "a wrong word": change('"cast acrylic"', '"plywood"'),
    "a unit of another quantity": change("thickness = 8", 'thickness = "8 gal"'),
    "a list for a number": change("height = 310", "height = [310]"),
}

if __name__ == "__main__":
    judging.run(judge, SOURCE, DAMAGES)

"""The JSON Schema of a project file, for editors that complete and check it while it is written.

Editors check what an ordinary YAML reader hands them: there `12` is a whole number, `6.5` a float and `yes` a truth
value, so wherever a number or a name is meant the schema takes these too. What needs more than one value at a time,
like patches that fill their box, only the reader can tell.
"""

from __future__ import annotations

from collections.abc import Callable
from typing import Annotated, Any, Union

from pydantic import BaseModel, ConfigDict, Field, WithJsonSchema, create_model

from planner.cloth.bed_sizes import BED_NAMES
from planner.project import (
    ALL_WISHES,
    ANY_METHOD,
    GOOSE_METHODS,
    HOURGLASS_METHODS,
    MOST_COPIES,
    ROW_METHODS,
    SIDES,
    TRIANGLE_METHODS,
    VALUE_WORDS,
    WEIGHTS,
)
from planner.reading.file_keys import (
    BACKING,
    BATTING,
    BED,
    BINDING,
    BINDING_CUTS,
    BINDING_JOINS,
    BLOCK,
    BORDER,
    DIAMONDS,
    DRAFT,
    DRAFT_KINDS,
    FABRIC,
    FACE,
    FINISH,
    FROM_SHELF,
    GEESE,
    HANDLING,
    HEADINGS,
    HEXAGONS,
    JOININGS,
    KEEP,
    LAYOUTS,
    LOGS,
    MAKE,
    METHODS,
    MOST_BORDERS,
    MOST_PASSES,
    MOST_STEPS,
    NONE,
    PATCH,
    PILLOW,
    PRESS,
    PROJECT,
    QUILT,
    QUILT_BLOCK,
    RING,
    RUNS,
    SASHING,
    SLEEVE,
    SNOWBALL,
    SNOWBALL_CORNERS,
    SQUARE,
    STRIPS,
    THREAD_USE,
    TOWARDS,
    TRUTHS,
    TURNS,
    UNIT_METHOD,
    WEBBED,
    YARD_STEPS,
    Holds,
    Keys,
)
from planner.reading.read_keys import LONGEST_LINE
from planner.reading.read_lines import MOST_LINES
from planner.reading.read_stock import MOST_STOCK

Json = dict[str, Any]

_NUMBER = r"(([0-9]{1,9}(\s+|\s*-\s*))?[0-9]{1,9}\s*/\s*[0-9]{1,9}|[0-9]{1,9}(\.[0-9]{1,9})?|\.[0-9]{1,9})"
_LENGTH = rf'{_NUMBER}\s*(in|"|cm|mm)?'
_ROOTED = rf"({_NUMBER}|({_NUMBER}\s*[+-]\s*)?({_NUMBER}\s*)?r[23]|({_NUMBER}\s*)?r[23]\s*[+-]\s*{_NUMBER})"
_ROOTED_LENGTH = rf'{_ROOTED}\s*(in|"|cm|mm)?'
_PLAIN_BOX_NUMBER = r"(([0-9]+-)?[0-9]+/[0-9]+|[0-9]+(\.[0-9]+)?|\.[0-9]+)"
_BOX_NUMBER = _ROOTED.replace(_NUMBER, _PLAIN_BOX_NUMBER).replace(r"\s*", "")  # a blank ends it
_CORNER = rf"{_BOX_NUMBER},{_BOX_NUMBER}"
# letters of any script may be in a name: a pattern can only leave out the marks of ASCII that may not
_NAME_PATTERN = r"^\s*[^\s!-/:-@\[-`{-~][^!-&(-,./:-@\[-`{-~]*$"
# a block's name, and behind it one turn at most
_PLACE_PATTERN = rf"^(?!(.*\s)?mirrored(\s|$))(?!(.*\s)?turn(?!\s+({'|'.join(TURNS)})\s*$)(\s|$)){_NAME_PATTERN[1:]}"
_CELL_PATTERN = r"^[^!-&*-,.:-@\[\]-`{}~]*[^\s!-&*-,.:-@\[\]-`{}~][^!-&*-,.:-@\[\]-`{}~]*$"


def _text(pattern: str, **limits: int) -> Json:
    return {"type": "string", "pattern": pattern, **limits}


def _bare(*values: Json) -> Json:
    """A text, or what an ordinary YAML reader takes it for."""
    return {"anyOf": [*values, {"type": ["number", "boolean", "null"]}]}


def _measured(pattern: str) -> Json:
    return {"anyOf": [{"type": "number", "exclusiveMinimum": 0}, _text(rf"^\s*{pattern}\s*$")]}


def _from_zero(pattern: str) -> Json:
    return {"anyOf": [{"type": "number", "minimum": 0}, _text(rf"^\s*{pattern}\s*$")]}


def _listed(of: Json, **limits: Any) -> Json:
    return {"type": "array", "items": of, "minItems": 1, **limits}


def _whole(least: int, most: int) -> Json:
    return {"anyOf": [{"type": "integer", "minimum": least, "maximum": most}, _text(r"^\s*[0-9]{1,9}\s*$")]}


_NAME: Json = _bare(_text(_NAME_PATTERN))
_NAMED: Json = {"minProperties": 1, "propertyNames": {"pattern": _NAME_PATTERN}}
_PROPORTION = _measured(_ROOTED)

_SINGLE: dict[Holds, Json] = {
    "line": _bare(_text(r"\S", maxLength=LONGEST_LINE)),
    "measure": {"enum": ["in", "cm"]},
    "length": _measured(_LENGTH),
    "value": {"anyOf": [{"enum": [*VALUE_WORDS, *map(str, range(1, 11))]}, _whole(1, 10)["anyOf"][0]]},
    "weight": {"enum": list(WEIGHTS)},
    "colour": _text(r"^\s*#([0-9a-fA-F]{3}|[0-9a-fA-F]{6})\s*$"),
    "letter": {"anyOf": [_text(r"^\s*[a-z0-9]{1,2}\s*$"), {"type": ["integer", "boolean"]}]},
    "true or false": {"enum": [True, False, *TRUTHS]},
    "size": _measured(rf"{_ROOTED_LENGTH}(\s*x\s*{_ROOTED_LENGTH})?"),
    "box": _measured(rf"{_ROOTED}(\s*x\s*{_ROOTED})?"),
    "pair": _measured(rf"{_ROOTED}(\s*x\s*{_ROOTED})?"),
    "proportions": _listed(_PROPORTION),
    "numbers": {"anyOf": [_PROPORTION, _listed(_PROPORTION)]},
    "fabric": _NAME,
    "block": _NAME,
    "fabric list": _listed(_NAME),
    "fabrics in turn": {"anyOf": [_NAME, _listed(_NAME)]},
    "corners": _text(rf"^\s*{_CORNER}(\s+{_CORNER}){{2,}}\s*$"),
    "points": _text(rf"^\s*{_CORNER}(\s+{_CORNER})*\s*$"),
    "lines": _listed(_text(rf"^\s*{_CORNER}\s+{_CORNER}\s*$"), maxItems=MOST_LINES),
    "fabric rows": _listed(_listed(_NAME)),
    "diamonds": {"enum": [*DIAMONDS, *map(int, DIAMONDS)]},
    "heading": {"enum": list(HEADINGS)},
    "one number": _PROPORTION,
    "sides": _listed({"enum": list(SIDES)}),
    "count": _whole(1, MOST_COPIES),
    "swap": {"type": "object", "additionalProperties": _NAME, **_NAMED},
    "roles": {"type": "object", "additionalProperties": _NAME, **_NAMED},
    "turn": {"enum": [*TURNS, *map(int, TURNS)]},
    "layout": {"enum": list(LAYOUTS)},
    "border corners": _NAME,
    "joining": {"enum": list(JOININGS)},
    "block joining": {"enum": [WEBBED]},
    "wishes": {"type": "array", "items": {"enum": list(ALL_WISHES)}, "uniqueItems": True},
    "point": _text(rf"^\s*{_ROOTED_LENGTH}\s*,\s*{_ROOTED_LENGTH}\s*$"),
    "toward": {"enum": list(TOWARDS)},
    "minutes": _measured(_NUMBER),
    "passes": _whole(1, MOST_PASSES),
    "steps": _whole(1, MOST_STEPS),
    "method of triangles": {"enum": list(TRIANGLE_METHODS)},
    "method of hourglasses": {"enum": list(HOURGLASS_METHODS)},
    "method of geese": {"enum": list(GOOSE_METHODS)},
    "method of rows": {"enum": list(ROW_METHODS)},
    "any method": {"enum": list(ANY_METHOD)},
    "unit name": _bare(_text(r"\S")),
    "length from 0": _from_zero(_LENGTH),
    "yard step": {"enum": [*YARD_STEPS, 1]},
    "run": {"enum": list(RUNS)},
    "binding cut": {"enum": list(BINDING_CUTS)},
    "binding join": {"enum": list(BINDING_JOINS)},
    "mattress": {"anyOf": [{"enum": list(BED_NAMES)}, _measured(rf"{_LENGTH}(\s*x\s*{_LENGTH})?")]},
    "ratio": _measured(_NUMBER),
    "percent": _from_zero(rf"{_NUMBER}\s*%?"),
    "stock": _listed(_measured(rf"{_LENGTH}(\s*x\s*{_LENGTH})?"), maxItems=MOST_STOCK),
}
_CellText = Annotated[str, WithJsonSchema(_bare(_text(_CELL_PATTERN)))]
_PlaceText = Annotated[str, WithJsonSchema(_bare(_text(_PLACE_PATTERN)))]


def build_schema() -> Json:
    """The schema as JSON values (draft 2020-12): the same on every call and every machine."""
    # the cell of a draft may be a draft: the model names itself before it is there
    draft = _build_model("Draft", DRAFT, {"rows": _rows_of("Draft")})
    block: Any = _build_model("Block", BLOCK, {"rows": _rows_of(draft), "parts": _named(draft)})
    from_shelf: Any = _build_model("FromShelf", FROM_SHELF, {})
    inside = {
        "fabrics": _named(_build_model("Fabric", FABRIC, {})),
        "parts": _named(draft),
        "blocks": _named(block | from_shelf),
        "make": _list_of(_build_model("Made", MAKE, {})),
        "quilt": _build_quilt(),
        "press": _build_model("Press", PRESS, {"keep": _list_of(_build_model("Kept", KEEP, {}))}),
        "handling": _build_model("Handling", HANDLING, {}),
        "methods": _build_model("Methods", METHODS, {"units": _list_of(_build_model("UnitMethod", UNIT_METHOD, {}))}),
        "finish": _build_finish(),
    }
    schema = _build_model("Project", PROJECT, inside).model_json_schema(by_alias=True)
    return {"$schema": "https://json-schema.org/draft/2020-12/schema", **schema}


def _build_quilt() -> type[BaseModel]:
    place: Any = _build_model("Place", QUILT_BLOCK, {})
    border: Any = _build_model("Border", BORDER, {})
    borders = Annotated[list[border], Field(min_length=1, max_length=MOST_BORDERS)]
    inside = {
        "rows": _list_of(_list_of(_PlaceText | place)),
        "sashing": _build_model("Sashing", SASHING, {}),
        "border": border | borders,
    }
    return _build_model("Quilt", QUILT, inside)


def _build_finish() -> type[BaseModel]:
    left_out: Any = Annotated[str, WithJsonSchema({"enum": [NONE]})]
    backing: Any = _build_model("Backing", BACKING, {})
    batting: Any = _build_model("Batting", BATTING, {})
    binding: Any = _build_model("BindingStrip", BINDING, {})
    inside = {
        "backing": left_out | backing,
        "batting": left_out | batting,
        "binding": left_out | binding,
        "sleeve": _build_model("Sleeve", SLEEVE, {}),
        "pillow": _build_model("Pillow", PILLOW, {}),
        "bed": _build_model("Bed", BED, {}),
        "thread": _build_model("ThreadUse", THREAD_USE, {}),
    }
    return _build_model("Finish", FINISH, inside)


def _build_model(name: str, keys: Keys, inside: dict[str, Any]) -> type[BaseModel]:
    """A pydantic model out of the table of one mapping; `inside` has the types of what is no single value."""
    if keys is DRAFT or keys is BLOCK:
        inside = {**inside, **_build_drafts()}
    fields: dict[str, Any] = {}
    for number, key in enumerate(keys.keys):
        if not key.why_not:
            kind = inside[key.name] if key.name in inside else Annotated[Any, WithJsonSchema(_SINGLE[key.holds])]
            default = ... if key.needed and not key.drafts and key.layout is None else None
            fields[f"key_{number}"] = (kind, Field(default, alias=key.name, description=key.help))
    config = ConfigDict(extra="forbid", json_schema_extra=_tidy(keys))
    model: type[BaseModel] = create_model(name, __config__=config, __doc__=keys.title, **fields)
    return model


def _build_drafts() -> dict[str, Any]:
    """The types of what stands behind the keys of drafts, but for rows."""
    face: Any = _build_model("Face", FACE, {})
    corners = Annotated[str, WithJsonSchema(_NAME)] | _build_model("Corners", SNOWBALL_CORNERS, {})
    return {
        "strips": _build_model("Strips", STRIPS, {}),
        "logs": _build_model("Logs", LOGS, {}),
        "geese": _build_model("Geese", GEESE, {}),
        "square": _build_model("Square", SQUARE, {}),
        "snowball": _build_model("Snowball", SNOWBALL, {"corners": corners}),
        "ring": _build_model("Ring", RING, {}),
        "hexagons": _build_model("Hexagons", HEXAGONS, {}),
        "faces": _list_of(Annotated[str, WithJsonSchema(_NAME)]) | _list_of(face),
        "patches": _list_of(_build_model("Patch", PATCH, {})),
    }


def _tidy(keys: Keys) -> Callable[[Json], None]:
    """Take out of a schema what says nothing to an editor, and put in what keys have to do with one another."""
    drafts = [key for key in keys.keys if key.drafts]
    of_layouts = [key for key in keys.keys if key.layout is not None]

    def tidy(schema: Json) -> None:
        for value in schema["properties"].values():
            value.pop("title", None)
            value.pop("default", None)
        if drafts:
            schema["oneOf"] = [
                {
                    "required": [kind, *(key.name for key in drafts if kind in key.drafts and key.needed)],
                    "not": {"anyOf": [{"required": [key.name]} for key in drafts if kind not in key.drafts]},
                }
                for kind in DRAFT_KINDS
            ]
        if of_layouts:
            schema["allOf"] = [
                {
                    "if": _says_layout(layout),
                    "then": {
                        "required": [key.name for key in of_layouts if key.layout == layout and key.needed],
                        "properties": {key.name: False for key in of_layouts if key.layout != layout},
                    },
                }
                for layout in LAYOUTS
            ]
        if keys.one_of:
            schema["oneOf" if keys.is_either else "anyOf"] = [{"required": [name]} for name in keys.one_of]

    return tidy


def _says_layout(layout: str) -> Json:
    """The first layout is the one that is meant where none is written."""
    says: Json = {"properties": {"layout": {"const": layout}}}
    return says if layout == LAYOUTS[0] else {**says, "required": ["layout"]}


def _rows_of(draft: Any) -> Any:
    return _list_of(_list_of(Union[_CellText, draft]))  # noqa: UP007 - the draft may be a name still


def _list_of(kind: Any) -> Any:
    return Annotated[list[kind], Field(min_length=1)]


def _named(kind: Any) -> Any:
    return Annotated[dict[str, kind], Field(json_schema_extra=_NAMED)]

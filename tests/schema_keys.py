"""The keys of an answer's record held against those of its JSON Schema."""

import dataclasses
import types
import typing

import jsonschema


def keys_of(record):
    """Return the keys of a record class with the record classes behind them."""
    hints = typing.get_type_hints(record)
    inner = {field.name: record_in(hints[field.name]) for field in dataclasses.fields(record)}
    return {name: keys_of(found) if found else None for name, found in inner.items()}


def record_in(hint):
    """Return the record class inside an annotation, if there is one."""
    if dataclasses.is_dataclass(hint):
        return hint
    if isinstance(hint, types.UnionType) or typing.get_origin(hint) in {tuple, typing.Union}:
        return next((r for r in map(record_in, typing.get_args(hint)) if r), None)
    return None


def keys_in(node, definitions):
    """Return the keys a schema node allows, with those behind them."""
    for branch in node.get("anyOf", [node]):
        if "$ref" in branch:
            return keys_in(definitions[branch["$ref"].rsplit("/", 1)[1]], definitions)
        if "items" in branch:
            return keys_in(branch["items"], definitions)
        if "properties" in branch:
            assert branch["additionalProperties"] is False
            assert sorted(branch["required"]) == sorted(branch["properties"])
            return {k: keys_in(inner, definitions) for k, inner in branch["properties"].items()}
    return None


def assert_describes(document, record, *, or_one_of=False):
    """Assert that a schema has a record's keys, no other, and a word on each.

    Where `or_one_of` is true a choice between others need have none of its own.
    """
    jsonschema.Draft202012Validator.check_schema(document)
    assert keys_in(document, document["$defs"]) == keys_of(record)
    for part in (document, *document["$defs"].values()):
        for key, inner in part.get("properties", {}).items():
            told = inner.get("description") or "$ref" in inner
            assert told or (or_one_of and "anyOf" in inner), key

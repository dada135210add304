"""Reading YAML with the line of every value kept, and nothing in it executed or expanded.

Aliases are refused: they save a writer nothing here and let a small file grow without bound.
"""

from __future__ import annotations

from pathlib import Path
from typing import Any, TypeVar, get_args

import yaml
from pydantic import BaseModel, ValidationError

from cabassist.errors import ContentProblems, FileProblem, Problem

MAX_BYTES = 2_000_000
MAX_DEPTH = 20
M = TypeVar("M", bound=BaseModel)
Key = tuple[str | int, ...]
_Base: Any = getattr(yaml, "CSafeLoader", yaml.SafeLoader)


class YamlFile:
    """One parsed file: `.data`, and `.line(path)` for error messages."""

    def __init__(self, name: str, data: Any, lines: dict[Key, int]) -> None:
        self.name = name
        self.data = data
        self._lines = lines
        self._below: dict[str | int, dict[Key, int]] | None = None

    def line(self, path: Key) -> int:
        """The 1-based line of the value at `path`, or of its nearest parent."""
        while path and path not in self._lines:
            path = path[:-1]
        return self._lines.get(path, 1)

    def under(self, part: str | int) -> dict[Key, int]:
        """The lines of everything below one key or index, with that part cut off."""
        if self._below is None:  # parted once: a list of thousands asks for every entry's
            self._below = {}
            for path, line in self._lines.items():
                if path:
                    self._below.setdefault(path[0], {})[path[1:]] = line
        return {(): self.line((part,)), **self._below.get(part, {})}

    def problem(self, path: Key, message: str, code: str = "invalid") -> Problem:
        """A problem at that place in the file."""
        return Problem(self.name, self.line(path), dotted(path), message, code)


def dotted(path: Key) -> str:
    """("steps", 2, "do") as `steps[2].do`."""
    shown = ""
    for part in path:
        shown += f"[{part}]" if isinstance(part, int) else f".{part}" if shown else str(part)
    return shown


def read_text(path: Path) -> str:
    """The text of a file. Raises FileProblem when it is missing, unreadable, too big or not UTF-8."""
    try:
        if path.stat().st_size > MAX_BYTES:
            raise FileProblem(path, f"is larger than {MAX_BYTES:,} bytes.", "Split it or remove what is not needed.")
        return path.read_text(encoding="utf-8")
    except FileNotFoundError:
        raise FileProblem(path, "does not exist.", "Check the name, or leave the option out.") from None
    except IsADirectoryError:
        raise FileProblem(path, "is a folder.", "Name a file in it.") from None
    except UnicodeDecodeError:
        raise FileProblem(path, "is not UTF-8 text.", "Save it as UTF-8.") from None
    except OSError as error:
        raise FileProblem(path, f"cannot be read ({error.strerror}).", "Check its permissions.") from None


def parse(text: str, name: str) -> YamlFile:
    """Parse YAML text. Raises ContentProblems with the line when it is not sound."""
    loader = _Base(text)
    lines: dict[Key, int] = {}
    try:
        node = loader.get_single_node()
        _note_lines(node, (), lines, name, set())
        data = loader.construct_document(node) if node is not None else None
    except yaml.MarkedYAMLError as error:
        line = error.problem_mark.line + 1 if error.problem_mark else 1
        raise ContentProblems([Problem(name, line, "", f"not sound YAML: {error.problem}", "yaml")]) from None
    except yaml.YAMLError as error:
        said = str(error).splitlines()[0]
        raise ContentProblems([Problem(name, 1, "", f"not sound YAML: {said}", "yaml")]) from None
    except RecursionError as error:
        raise ContentProblems([Problem(name, 1, "", f"not sound YAML: {error}", "yaml")]) from None
    except (ValueError, TypeError, KeyError, AttributeError):
        raise ContentProblems([_unmade(node, name)]) from None
    finally:
        loader.dispose()
    return YamlFile(name, data, lines)


def _unmade(node: Any, name: str) -> Problem:
    """The first value that cannot be made, found by making each one alone."""
    waiting = [node]
    while waiting:
        found = waiting.pop(0)
        if isinstance(found, yaml.ScalarNode):
            single = yaml.SafeLoader("")
            try:
                single.construct_document(yaml.ScalarNode(found.tag, found.value))
            except (ValueError, TypeError, KeyError, AttributeError, yaml.YAMLError) as error:
                said = str(error).splitlines()[0]
                return Problem(
                    name, found.start_mark.line + 1, "", f"not sound YAML: '{found.value[:40]}': {said}", "yaml"
                )
            finally:
                single.dispose()
        elif isinstance(found, yaml.MappingNode):
            for key, value in found.value:
                if not isinstance(key, yaml.ScalarNode):
                    return Problem(name, key.start_mark.line + 1, "", "not sound YAML: a key must be a word", "yaml")
                waiting += [key, value]
        elif isinstance(found, yaml.SequenceNode):
            waiting += found.value
    return Problem(name, 1, "", "not sound YAML", "yaml")


def _note_lines(node: Any, path: Key, lines: dict[Key, int], name: str, known: set[int]) -> None:
    """Note the line of every value; an alias shows as a node that is met twice."""
    if node is None:
        return
    line = node.start_mark.line + 1
    if id(node) in known:
        words = "not sound YAML: aliases (*name) are not allowed; write the value out"
        raise ContentProblems([Problem(name, line, dotted(path), words, "yaml")])
    known.add(id(node))
    if len(path) >= MAX_DEPTH:
        raise ContentProblems(
            [Problem(name, line, "", f"not sound YAML: nested deeper than {MAX_DEPTH} levels", "yaml")]
        )
    lines.setdefault(path, node.start_mark.line + 1)
    if isinstance(node, yaml.MappingNode):
        seen: set[str] = set()
        for key, value in node.value:
            if not isinstance(key, yaml.ScalarNode):
                where = key.start_mark.line + 1
                raise ContentProblems(
                    [Problem(name, where, dotted(path), "not sound YAML: a key must be a word", "yaml")]
                )
            if key.value in seen:
                line = key.start_mark.line + 1
                raise ContentProblems([Problem(name, line, dotted(path), f"'{key.value}' is there twice", "twice")])
            seen.add(key.value)
            lines[(*path, key.value)] = key.start_mark.line + 1
            _note_lines(value, (*path, key.value), lines, name, known)
    elif isinstance(node, yaml.SequenceNode):
        for index, value in enumerate(node.value):
            _note_lines(value, (*path, index), lines, name, known)


def load(path: Path, shown_as: str | None = None) -> YamlFile:
    """Read and parse a YAML file."""
    return parse(read_text(path), shown_as or str(path))


def validate(file: YamlFile, model: type[M]) -> M:
    """Turn parsed YAML into a model. Raises ContentProblems naming file, line, field and what is allowed."""
    if not isinstance(file.data, dict):
        raise ContentProblems([Problem(file.name, 1, "", "the file must hold a mapping of keys to values", "shape")])
    try:
        return model.model_validate(file.data)
    except ValidationError as error:
        raise ContentProblems([_explain(file, model, item) for item in error.errors()]) from None


def _explain(file: YamlFile, model: type[BaseModel], item: Any) -> Problem:
    path: Key = tuple(item["loc"])
    message = item["msg"].removeprefix("Value error, ")
    if item["type"] == "missing":
        message = f"'{path[-1]}' is missing"
    elif item["type"] == "extra_forbidden":
        from rapidfuzz import process

        known = list(_model_at(model, path[:-1]).model_fields)
        near = process.extractOne(str(path[-1]), known, score_cutoff=60)
        hint = f"; did you mean '{near[0]}'?" if near else f"; allowed: {', '.join(known)}"
        message = f"'{path[-1]}' is not known here{hint}"
    elif item["type"] in ("bool_parsing", "bool_type"):
        message = f"must be true or false, not {item['input']!r}"
    elif not isinstance(item["input"], (dict, list)):
        message = f"{message}, not {item['input']!r}"
    return file.problem(path, message + _allowed(model, path), item["type"])


def _model_at(model: type[BaseModel], path: Key) -> type[BaseModel]:
    """The model that describes the value at `path`, following lists and optionals."""
    current: type[BaseModel] = model
    for part in path:
        if isinstance(part, int) or part not in current.model_fields:
            continue
        waiting: list[Any] = [current.model_fields[part].annotation]
        while waiting:
            found = waiting.pop()
            if isinstance(found, type) and issubclass(found, BaseModel):
                current = found
                break
            waiting.extend(get_args(found))
    return current


def _allowed(model: type[BaseModel], path: Key) -> str:
    names = [part for part in path if isinstance(part, str)]
    if not names:
        return ""
    field = _model_at(model, path[:-1]).model_fields.get(names[-1])
    if field is None:
        return ""
    unit = field.json_schema_extra.get("unit") if isinstance(field.json_schema_extra, dict) else None
    note = f" ({field.description}" if field.description else ""
    if note and unit and unit not in ("words", "name", "list", "choice", "count"):
        bounds = [
            f"{value:g}" for key in ("ge", "le") for m in field.metadata if (value := getattr(m, key, None)) is not None
        ]
        note += f" Unit: {unit}. Allowed: {' to '.join(bounds)} {unit}." if len(bounds) == 2 else f" Unit: {unit}."
    return note + ")" if note else ""

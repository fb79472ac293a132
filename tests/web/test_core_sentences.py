"""No sentence that the core can say to a reader of pages lacks its words in other languages."""

import ast
import re
from pathlib import Path

import pytest

import saltus
from saltus.web.core_words import core_words
from saltus.web.sentence_templates import TEMPLATES

SOURCE = Path(saltus.__file__).parent
FLOORS = ("recordings", "jumps", "athlete", "training", "progress", "record")
ON_NO_PAGE = {
    "athlete/provenance.py": "what an equation was published for, beside its source",
    "athlete/pushoff.py": "what a program has to give a simulation",
    "athlete/pushoff_trace.py": "what a program has to give a simulation",
    "jumps/catalogue.py": "what a figure means, in files and help of the command line",
    "jumps/export.py": "tables that the command line writes",
    "record/reference.py": "the manual of the record",
    "training/document.py": "a plan that the command line is given as a file",
}
"""Modules whose sentences no page shows, and what they say."""
OURS = {"ValueError", "KeyError", "TypeError", "IndexError", "AttributeError", "AssertionError"}
"""What a mistake in the program raises: nobody reads it on a page."""
PLACEHOLDER = re.compile(r"%\(\w+\)s")
GAP = "\0"


def literal(node):
    """Text of a string in the source, with gaps where something is filled in; None if none."""
    if isinstance(node, ast.Constant):
        return node.value if isinstance(node.value, str) else None
    if isinstance(node, ast.JoinedStr):
        return "".join(
            part.value if isinstance(part, ast.Constant) else GAP for part in node.values
        )
    if isinstance(node, ast.BinOp) and isinstance(node.op, ast.Add):
        left, right = literal(node.left), literal(node.right)
        if left is not None or right is not None:
            return (GAP if left is None else left) + (GAP if right is None else right)
    return None


def raised(node):
    return getattr(getattr(node.exc, "func", None), "id", "")


def sentences(tree):
    """Sentences in a module that are no docstrings and belong to no mistake of the program."""
    passed_over = set()
    for node in ast.walk(tree):
        if isinstance(node, ast.Expr):
            passed_over |= {id(node.value)}
        elif isinstance(node, ast.Raise) and raised(node) in OURS:
            passed_over |= {id(each) for each in ast.walk(node)}
    for node in ast.walk(tree):
        if id(node) in passed_over:
            continue
        text = literal(node)
        if text is None:
            continue
        passed_over |= {id(each) for each in ast.walk(node)}
        words = re.findall(r"[A-Za-z]{2,}", text)
        if text.rstrip().endswith((".", "?")) and len(words) >= 3 and " " in text.strip():
            yield node.lineno, text.strip()


RANGE = re.compile(r"%\(range\d?\)s")
KNOWN = [PLACEHOLDER.sub("7", RANGE.sub("7 to 7", t)).replace("%%", "%") for t in TEMPLATES]
ALL_KNOWN = "\n".join([*KNOWN, *core_words()]).lower()


def is_known(text):
    """Whether some template says it, with anything in its gaps."""
    return any(_matches(each) for each in (text, re.sub(rf"^{GAP}:? ", "", text)))


def _matches(text):
    # It may be one of several in a template, or its end: the core puts some together from parts.
    parts = [re.escape(part).replace("%s", ".+") for part in text.removesuffix(GAP).split(GAP)]
    if re.search(rf"{'.*'.join(parts)}(?: |$)", ALL_KNOWN, re.MULTILINE | re.IGNORECASE):
        return True
    first, stop, rest = text.partition(". ")
    return bool(stop) and is_known(f"{first}.") and is_known(rest)


def modules():
    yield from sorted(SOURCE.glob("toml*.py"))
    for floor in FLOORS:
        yield from sorted((SOURCE / floor).rglob("*.py"))


@pytest.mark.parametrize("path", list(modules()), ids=lambda path: str(path.relative_to(SOURCE)))
def test_every_sentence_of_the_core_has_a_template(path):
    if "example" in path.parts or str(path.relative_to(SOURCE)) in ON_NO_PAGE:
        return
    tree = ast.parse(path.read_text(encoding="utf-8"))
    unknown = [f"{line}: {text}" for line, text in sentences(tree) if not is_known(text)]
    assert unknown == [], "add it to saltus.web.sentence_templates, and its words to the catalogue"


def test_the_search_finds_sentences_and_knows_them():
    tree = ast.parse(
        '"""A docstring that is one."""\n'
        'raise RecordError(f"{name} holds no value at all: fill it in.")\n'
        'raise ValueError("nobody reads this sentence here.")\n'
        'note = "it adds no test."\n'
    )
    found = [text for _, text in sentences(tree)]
    assert set(found) == {f"{GAP} holds no value at all: fill it in.", "it adds no test."}
    assert [text for text in found if is_known(text)] == ["it adds no test."]

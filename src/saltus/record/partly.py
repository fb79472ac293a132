"""Change one session of a record, and pains and agreements, without reading all of its log.

A log of two years is long, and a phone sends every set on its own. What concerns the change is
cut out as a small record, changed and checked there as any record is, and put back; the rest of
the text is not touched.
"""

from collections.abc import Callable
from dataclasses import dataclass

from saltus.record.layout import Section, cut, cut_quickly, drop, insert, joined
from saltus.record.reading import parse
from saltus.record.record import Record
from saltus.record.writing import place_of_table, render

__all__ = ["PartialChange", "change_partly"]

_KNOWN_BY = ("", "athlete", "body_mass")
_SESSION = "session"
_FEW = ("pain", "agreed")


@dataclass(frozen=True, slots=True)
class PartialChange:
    """What came of it.

    Parameters
    ----------
    text : str
        Of the whole record.
    before, after : Record
        The small record before and after: who it is, pains, agreements, and only the session.
    """

    text: str
    before: Record
    after: Record


def change_partly(
    text: str, session: str, change: Callable[[Record], Record], source: str = "record"
) -> PartialChange:
    """Change a session of a record by its id, and the pains and agreements beside it.

    Parameters
    ----------
    text : str
        Of a valid record.
    session : str
        Id of the session, that need not be there yet.
    change : callable
        Gives the new small record from the present one. Its log holds that session or nothing;
        only log, pains and agreements may differ.
    source : str
        Where the text came from, for messages.

    Raises
    ------
    RecordError
        If the text is at fault where it is read, or what is changed would be.
    """
    sections = cut_quickly(text)
    if sections is None:
        sections = cut(text, source)
    chosen = [each for each in sections if _concerns(each, session)]
    small = joined([Section(each.name, each.text, "\n\n") for each in chosen])
    before = parse(small, source, recordings=False)
    after = change(before)
    new = cut(render(after, small, source), source)
    for name in (*_FEW, _SESSION):
        _put_back(
            sections,
            name,
            [each for each in chosen if each.name == name],
            [each for each in new if each.name == name],
        )
    return PartialChange(joined(sections), before, after)


def _concerns(section: Section, session: str) -> bool:
    if section.name in _KNOWN_BY or section.name in _FEW:
        return True
    return section.name == _SESSION and session in section.text


def _put_back(sections: list[Section], name: str, old: list[Section], new: list[Section]) -> None:
    for section, changed in zip(old, new, strict=False):
        section.text = changed.text
    for section in old[len(new) :]:
        drop(sections, section)
    if len(new) > len(old):
        mine = [each for each in sections if each.name == name]
        after = mine[-1] if mine else sections[place_of_table(sections, name) - 1]
        for added in new[len(old) :]:
            after = insert(sections, after, name, added.text.rstrip("\n") + "\n")

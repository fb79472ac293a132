"""Words of the core that pages translate at the edge: found where they are, not written twice."""

from saltus.athlete.health import PLACES
from saltus.athlete.qualities import WORDS
from saltus.jumps.catalogue import CATALOGUE
from saltus.record.schema import TABLES, TESTS
from saltus.training.exercises import EQUIPMENT
from saltus.training.method_file import load_method

__all__ = ["core_words"]


def core_words() -> list[str]:
    """Every fixed text of the core that a page passes to gettext, in a fixed order."""
    tables = list(TABLES)
    for table in tables:  # those inside fields come to the end of it
        tables += [field.rows for field in table.fields if field.rows is not None]
    fields = [field for table in tables for field in table.fields]
    found = [*WORDS.values(), *PLACES]
    found += [title for _unit, title in CATALOGUE.values()]
    found += [table.help for table in tables]
    found += [field.help for field in fields]
    found += [table.help for table in TESTS.values()]
    found += [field.default_words for field in fields if field.default_words]
    found += EQUIPMENT.values()
    method = load_method()
    found += [phase.name for phase in method.phases]
    found += [exercise.name for exercise in method.exercises.values()]
    for exercise in method.exercises.values():
        found += [*exercise.cues, *exercise.not_for]
    found += [rule.text for rule in method.rules.values()]
    found += [use.family.replace("_", " ") for phase in method.phases for use in phase.uses]
    return list(dict.fromkeys(found))

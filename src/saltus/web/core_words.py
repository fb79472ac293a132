"""Words of the core that pages translate at the edge: found where they are, not written twice."""

from saltus.athlete.qualities import WORDS
from saltus.record.schema import TABLES
from saltus.training.exercises import EQUIPMENT
from saltus.training.method_file import load_method

__all__ = ["core_words"]


def core_words() -> list[str]:
    """Every fixed text of the core that a page passes to gettext, in a fixed order."""
    fields = [field for table in TABLES for field in table.fields]
    found = [*WORDS.values()]
    found += [field.help for field in fields]
    found += [field.default_words for field in fields if field.default_words]
    found += EQUIPMENT.values()
    method = load_method()
    found += [phase.name for phase in method.phases]
    found += [exercise.name for exercise in method.exercises.values()]
    return list(dict.fromkeys(found))

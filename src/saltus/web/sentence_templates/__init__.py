"""English sentences of the core as templates, for `saltus.web.sentences`.

A placeholder says by its name what may stand in its place; a number after the name tells several
of a kind apart.
"""

from saltus.web.sentence_templates.following import FOLLOWING
from saltus.web.sentence_templates.methods import METHODS
from saltus.web.sentence_templates.plans import PLANS
from saltus.web.sentence_templates.recordings import RECORDINGS
from saltus.web.sentence_templates.records import RECORDS
from saltus.web.sentence_templates.today import TODAY

__all__ = ["TEMPLATES"]

TEMPLATES = tuple(dict.fromkeys((*PLANS, *TODAY, *FOLLOWING, *METHODS, *RECORDINGS, *RECORDS)))

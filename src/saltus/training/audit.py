"""The checker: holds a finished plan against every rule, whoever laid it out.

It knows nothing of the planner. With it, it shares the data and what follows from them
alone: the gates, the maximum that a load refers to, the highest box, the budget of an
athlete. Loads, landings, spacings, minima and lighter weeks are worked out a second time.
"""

from collections.abc import Sequence

from saltus.athlete.assessment import Assessment
from saltus.athlete.person import Person
from saltus.training.audit_case import Breach, Case
from saltus.training.audit_days import (
    check_calendar,
    check_days,
    check_matches,
    check_spacing,
    check_tests,
)
from saltus.training.audit_items import (
    check_costs,
    check_equipment,
    check_gated,
    check_heights,
    check_loads,
    check_ranges,
)
from saltus.training.audit_weeks import (
    check_emphasis,
    check_landings,
    check_lighter,
    check_minima,
    check_often,
    check_phases,
)
from saltus.training.method import Method
from saltus.training.pins import pinned_situation
from saltus.training.plan import Plan, Week
from saltus.training.situation import Situation

__all__ = ["Breach", "audit"]

_CHECKS = (
    check_calendar,
    check_days,
    check_tests,
    check_spacing,
    check_matches,
    check_phases,
    check_emphasis,
    check_often,
    check_minima,
    check_ranges,
    check_costs,
    check_loads,
    check_heights,
    check_equipment,
    check_gated,
    check_landings,
    check_lighter,
)


_BY_THE_RECORD = (
    check_calendar,
    check_days,
    check_tests,
    check_spacing,
    check_matches,
    check_equipment,
    check_gated,
    check_landings,
)
"""What a change of the record can break in a plan that was sound."""


def audit(
    plan: Plan,
    method: Method,
    situation: Situation,
    person: Person,
    assessment: Assessment,
    *,
    earlier: Sequence[Week] = (),
    since_planned: bool = False,
) -> tuple[Breach, ...]:
    """Check a finished plan against every rule.

    Parameters
    ----------
    plan : Plan
        The plan, from the planner or by hand.
    method : Method
        The rules, with the exercises.
    situation, person, assessment
        What it has to fit into, and for whom.
    earlier : sequence of Week, optional
        Weeks before the plan, the latest last, after a re-plan: all from the day that the
        plan counts from. They matter to spacing, rising loads and lighter weeks.
    since_planned : bool
        Whether only that is checked which a change of the record can break: days, spacing,
        equipment, gates and landings. Loads were right for the estimates that they were
        worked out from, which every test moves.

    Returns
    -------
    tuple of Breach
        Everything that is broken; empty for a sound plan.
    """
    situation = pinned_situation(situation, plan.pins)
    case = Case(plan, method, situation, person, assessment, tuple(earlier))
    checks = _BY_THE_RECORD if since_planned else _CHECKS
    return tuple(breach for check in checks for breach in check(case))

"""Faults of methods, and rules that a plan breaks."""

from django.utils.translation import gettext_noop as _

__all__ = ["METHODS"]

METHODS = (
    _("%(date)s: %(said)s"),
    _("%(date)s, %(exercise)s: %(said)s"),
    _("week of %(date)s: %(said)s"),
    _("the plan has no weeks."),
    _("the first week does not hold the start."),
    _("the last week does not hold the goal."),
    _("weeks are left out or overlap."),
    _("a session in another week."),
    _("sessions out of order, or two on a day."),
    _('there is no exercise "%(name)s".'),
    _("a session before the start of the plan."),
    _("a session after the goal."),
    _("no time is set aside for training on this weekday."),
    _("the session takes %(number)s minutes, and there are %(other)s."),
    _("the day is blocked."),
    _("%(number)s exercises; the method wants %(range)s."),
    _("%(number)s working sets; at most %(most)s."),
    _("%(number)s minutes; at least %(least)s are worth the way."),
    _("%(exercise)s stands twice."),
    _("the session does not begin with a warm-up."),
    _("a session on the day of a test."),
    _("a session %(number)s days before the test of %(date)s; %(other)s are to be free."),
    _("jumps %(number)s days before the test of %(date)s; %(other)s are to be without."),
    _("%(family)s %(number)s days after %(date)s; %(other)s are wanted."),
    _("%(family)s too near the match of %(date)s."),
    _("%(sets)s sets; %(range)s are its range."),
    _("%(reps)s repetitions; %(range)s are its range."),
    _('its reason names the rule "%(name)s", which there is not.'),
    _("it has no reason in words."),
    _("the phase %(phase)s does not use it."),
    _("%(reps)s repetitions; %(range)s in this phase."),
    _("%(sets)s sets of %(family)s; %(range)s in this phase."),
    _(
        "%(sets)s sets of %(family)s; %(range)s in this week after %(number)s days without "
        "training."
    ),
    _(
        "landings that count %(level)s after %(number)s days without training; at most %(most)s "
        "in this week."
    ),
    _("%(level)s kg after %(number)s days without training; at most %(most)s kg in this week."),
    _("told as %(number)s minutes; it takes %(other)s."),
    _("told as %(number)s landings that count %(other)s; they are %(least)s and count %(most)s."),
    _("a rest of %(number)s s; it needs %(range)s s."),
    _("it has no load and needs one."),
    _("it has a load and takes none."),
    _("%(number)s kg cannot be put together with what is here."),
    _("it is loaded from a maximum that nothing is known of."),
    _("told as %(number)s %% of %(lift)s; %(least)s kg are %(other)s %% of %(other_lift)s."),
    _("no load suits both the exercise and the phase."),
    _("the top of the range"),
    _("what the loads have crept up to by now"),
    _("what leaves repetitions in reserve"),
    _(
        "%(level)s kg is above %(number)s %% of the careful side of the estimate (%(other)s "
        "kg): %(rest)s."
    ),
    _("%(level)s kg is above %(number)s %% of the estimate (%(other)s kg): %(rest)s."),
    _("%(level)s kg is too light to be the exercise: at least %(least)s kg."),
    _("it has a height and needs none."),
    _("it needs the height of its box."),
    _("it needs the height of its drop."),
    _("it needs the height of its hurdle."),
    _("there is no box of %(number)s cm."),
    _("%(number)s cm is out of its range."),
    _("%(number)s cm is above the %(most)s cm for this body."),
    _("%(number)s cm is above what this jump clears (%(most)s cm)."),
    _("there is no %(what)s."),
    _('there is no phase "%(name)s".'),
    _("building, peaking and unloading stand out of order."),
    _("the last week does not unload."),
    _("%(family)ss stand only in the block before the test."),
    _("%(phase)s for %(number)s of %(other)s weeks of building; %(range)s are wanted."),
    _("%(phase)s for %(number)s weeks; %(range)s are its range."),
    _("%(phase)s for %(number)s weeks only; %(range)s are its range."),
    _("%(number)s sessions; at most %(most)s."),
    _("%(exercise)s on %(number)s days; at most %(most)s."),
    _("%(family)s on %(number)s days; %(range)s in this phase."),
    _("%(number)s sessions; at least %(least)s, and nothing said."),
    _(
        "%(family)s on %(number)s days; at least %(least)s are asked for, and nothing is said "
        "about it."
    ),
    _("rules are named as unmet, and nothing is said about them."),
    _(
        "landings that count %(number)s on top of %(other)s from sport; %(most)s a day are "
        "this athlete's budget."
    ),
    _(
        "landings that count %(number)s on top of %(other)s from sport; %(most)s a week are "
        "this athlete's budget."
    ),
    _("landings that count %(number)s; after the weeks before, %(most)s at most."),
    _("the week is told as lighter out of turn."),
    _("the week should be a lighter one."),
    _("%(number)s working sets; at most %(share)s of the %(other)s of a full week."),
    _("jumps in the unloading."),
    _("exercises are written as tables [exercise.ID], one for each."),
    _('"%(name)s" has other marks than letters a to z, digits, _ and -.'),
    _('"%(name)s" is no exercise: name one that exists.'),
    _('it is empty: name at least one family, such as "squat".'),
    _("landings without a cost: give cost, 1 for a vertical jump's landing."),
    _('cost_per_drop_m needs a height of kind "drop".'),
    _("who drops also lands: give landing = { per_rep = ..., cost = ... }."),
    _("push_off_distance is measured, not trained: leave it out."),
    _('it is empty: name what holds the load, such as "barbell".'),
    _("say whom it limits: over_kg = ... or minors = true."),
    _("an exercise that ships keeps it: make an exercise of your own instead."),
    _("this text cannot be changed here without harm: change it as text."),
    _("its name has other marks than letters a to z, digits, _ and -."),
    _('there is no rule "%(name)s": add [rule.%(other_name)s] or name another.'),
    _('no exercise is of the family "%(name)s"; there are: %(words)s.'),
    _('the family "%(name)s" is used twice: keep one of them.'),
    _("the phase uses no family: give it at least one."),
    _(
        'no exercise of the family "%(name)s" can be done with %(range)s sets of %(range2)s: '
        "widen the ranges."
    ),
    _(
        'no exercise of the family "%(name)s" can be done with %(range)s sets of %(range2)s '
        "at %(range3)s %%: widen the ranges."
    ),
    _("it has other marks than letters a to z, digits, _ and -."),
    _('there are two phases "%(name)s".'),
    _("phases stand in order of time: building, peaking, unloading."),
    _('there is no phase of kind "building": give at least one.'),
    _('there can be only one phase of kind "%(name)s".'),
    _('there is no phase of kind "unloading": give one.'),
    _('the family "%(name)s" has landings, and the phase "%(other_name)s" unloads: leave it out.'),
    _("the shares add up to %(number)s: they must add up to 1."),
    _('there is no emphasis for "%(name)s": add one.'),
    _("it must be at least that of adults, %(number)s."),
    _("it is more than the week's %(number)s."),
    _("it is more than per_week, %(number)s."),
    _("there is no budget for those under 18 from 0 years: add one."),
    _("there is no budget for adults from 0 years: add one."),
    _('"%(name)s" carries no load that could rise.'),
    _("it must be at least that of from_days, %(number)s."),
    _("it must be at least that of weeks, %(number)s."),
    _("it must be at most that of load_share, %(number)s."),
    _("it must be at most that of volume_share, %(number)s."),
    _("it must be at most that of below, %(number)s."),
    _("it must be at least that of below_lighter, %(number)s."),
    _("%(exercise)s: needs a %(what)s of %(least)s cm to %(most)s cm, and none is here."),
    _("may come several times: write [[test]], in two brackets."),
)

"""What following an athlete, and the sets of a day, say."""

from django.utils.translation import gettext_noop as _

__all__ = ["FOLLOWING"]

FOLLOWING = (
    _(
        "In the week of %(date)s the sessions weighed %(number)s %% more than in the "
        "%(other)s weeks before it (rating times minutes: %(least)s against %(most)s). See "
        "that the next days are lighter."
    ),
    _(
        "In the week of %(date)s the landings cost as much as %(number)s ordinary ones, against "
        "%(other)s in the fullest of the %(least)s weeks before it: more than the method lets "
        "a week grow. Ask how the tendons are."
    ),
    _(
        "%(quality)s has probably stopped rising between %(first_date)s and %(last_date)s "
        "(%(number)s %%). Change the emphasis to %(other_quality)s: of the others, a block on "
        "it promises most, %(level)s cm (%(range)s)."
    ),
    _(
        "%(quality)s probably still rises: stay with it. With so few readings a plateau can stay "
        "hidden for more than %(number)s weeks."
    ),
    _(
        "%(quality)s probably still rises: stay with it. With readings like these a plateau shows "
        "after about %(number)s weeks."
    ),
    _(
        "Whether %(quality)s still rises cannot be told yet (%(number)s %% that it has "
        "stopped): test it again before you change the emphasis. With so few readings a plateau "
        "can stay hidden for more than %(other)s weeks."
    ),
    _(
        "Whether %(quality)s still rises cannot be told yet (%(number)s %% that it has "
        "stopped): test it again before you change the emphasis. With readings like these a "
        "plateau shows after about %(other)s weeks."
    ),
    _("A new plan takes jumps and heavy work out until somebody qualified has looked at it"),
    _("A new plan leaves out what the pain scale does not allow"),
    _("Pain of %(level)s out of 10 (%(place)s) was reported on %(date)s."),
    _("Since %(date)s this may not be done: %(restricted)s. A new plan goes without it."),
    _(
        "The restriction (%(restricted)s) ended on %(date)s. A new plan may use it again, "
        "beginning carefully."
    ),
    _(
        "The day that counts is %(date)s now; the plan leads to %(to)s. A new plan lays the "
        "phases back from the new day."
    ),
    _(
        "The plan has sessions on days that are blocked now: %(dates)s. A new plan moves what "
        "matters of them."
    ),
    _(
        "%(number)s planned sessions since %(date)s did not take place. A new plan builds on "
        "what was really done."
    ),
    _(
        "New tests since the plan was made, the latest on %(date)s. A new plan takes its "
        "loads and its emphasis from them."
    ),
    _(
        "%(quality)s changed by %(change)s; %(other_change)s was to be expected. That is more "
        "than expected."
    ),
    _(
        "%(quality)s changed by %(change)s; %(other_change)s was to be expected. That is less "
        "than expected."
    ),
    _(
        "%(quality)s changed by %(change)s; %(other_change)s was to be expected. That is "
        "about what was expected, as far as the tests can tell."
    ),
    _("%(number)s %% (%(least)s to %(most)s)"),
    _(
        "Training aimed at %(quality)s brings this athlete %(number)s times its mean gain "
        "(%(range)s). Before any test that was %(other)s (%(range2)s), as for anybody."
    ),
    _("attempts of one day"),
    _(
        "Test the jump on %(date)s (%(title)s, %(number)s minutes): it is due after %(other)s "
        "weeks. It is not expected to change what is best to train: by then it is expected to "
        "have moved by %(level)s cm (%(range)s), and the test errs by %(least)s cm from day "
        "to day."
    ),
    _(
        "Test the jump on %(date)s (%(title)s, %(number)s minutes): by then it is expected to "
        "have moved by %(level)s cm (%(range)s), and the test errs by %(least)s cm from day "
        "to day. The chance that the result makes another quality the better bet is %(other)s "
        "%%; sooner a test would show more noise than change, later less could be made of it."
    ),
    _(
        "%(place)s: pain of %(level)s out of 10 on %(date)s. No jumping and no heavy work on "
        "it until somebody qualified has looked at it."
    ),
    _(
        "%(place)s: pain of %(level)s out of 10 on %(date)s. Tolerable by the scale only if "
        "it is back to usual the next morning and does not rise from week to week."
    ),
    _(
        "%(place)s: pain of %(level)s out of 10 on %(date)s, up from %(other)s on "
        "%(first_date)s. Tolerable by the scale only if it is back to usual the next morning "
        "and does not rise from week to week."
    ),
    _(
        "%(place)s: sorer than usual in the last week (%(number)s out of 10 on average, "
        "%(other)s in the four weeks before)."
    ),
    _("%(place)s: sore (%(level)s or more) before %(number)s sessions of the last week."),
    _(
        "This athlete's own repeats make the error %(number)s times the published one "
        "(%(range)s); they count %(other)s %%, what is published the rest."
    ),
    _("Published error: there are too few repeats of this athlete's own."),
    _("Missed with much less than planned: that is all for today."),
    _(
        "The gain has flattened: another week brings %(number)s %% or more only with "
        "%(other)s %%. The depth jumps end here; plan the lighter weeks before the test."
    ),
    _("Another week brings %(number)s %% or more with %(other)s %%: go on."),
    _("The box of %(number)s cm gives the highest jump of those tried."),
    _("The box of %(number)s cm gives the highest jump for its time on the floor of those tried."),
    _(
        "The box of %(number)s cm: that of %(other)s cm is better only with %(least)s %%, and "
        "the lower one is taken when in doubt."
    ),
    _("The jump of %(number)s cm is as usual: on ordinary days %(least)s to %(most)s cm."),
    _("The jump of %(number)s cm is below usual: on ordinary days %(least)s to %(most)s cm."),
    _("The jump of %(number)s cm is well below usual: on ordinary days %(least)s to %(most)s cm."),
    _(
        "The bar at %(number)s m/s is as usual: on ordinary days %(least)s to %(most)s m/s "
        "with this load."
    ),
    _(
        "The bar at %(number)s m/s is below usual: on ordinary days %(least)s to %(most)s m/s "
        "with this load."
    ),
    _(
        "The bar at %(number)s m/s is well below usual: on ordinary days %(least)s to "
        "%(most)s m/s with this load."
    ),
    _("No depth jumps today."),
    _("All sets done."),
    _("Half the sets are enough today."),
    _("Lighter today."),
    _("Do what feels crisp, and no more."),
    _("A landing was not soft: land quietly on bent legs, or stop here."),
    _("As planned."),
    _("Repetitions missed in %(number)s sets: that is all for today."),
    _("Landings not soft in %(number)s sets: that is all for today."),
    _("The bar was %(number)s %% slower than at first: the work is done."),
    _("The jump was %(number)s %% lower than the best with this weight: lighter."),
    _("The jump was %(number)s %% lower than the best: the work is done."),
    _("A jump was missed, and there is no lower box here: that is all for today."),
    _("A landing was not soft, and there is no lower box here: that is all for today."),
    _("A jump was missed: go down to %(number)s cm."),
    _("A landing was not soft: go down to %(number)s cm."),
    _("Today's sets point to less."),
    _("Today's sets point to less: %(load)s."),
    _("Today's sets point to a little more: %(load)s."),
    _("Today's sets say: as it is."),
    _("Your last sets and tests point to less than the planned %(load)s."),
    _("Your last sets and tests point to a little more than the planned %(load)s."),
    _("A repetition was missed: lighter."),
    _("%(number)s repetitions were missed: lighter."),
    _("No heavier after a missed repetition."),
    _("Only %(number)s left in reserve, and %(other)s are to stay: lighter."),
    _("Nothing left in reserve, and %(other)s are to stay: lighter."),
    _("As it is."),
    _("Without weight."),
    _("There is nothing lighter here: that is all for today."),
    _("%(load)s, a little more."),
    _("%(load)s."),
    _("Have a physiotherapist or doctor look at it before you go on."),
    _("Not for: %(not_for)s"),
    _("Only with someone qualified watching every jump."),
    _("Under 18: technique before load, and never a maximal attempt."),
    _("Under 18: land softly, and stop when you tire."),
    _("This may go on with pain of %(level)s out of 10 (%(place)s)."),
    _("Stop if it rises to %(number)s, and see that it is back to usual by tomorrow morning."),
    _("Stop if it rises."),
    _("The height held: the weight rises."),
    _("No jump was measured with the last weight: it stays. Measure one, and it can rise."),
    _("Whether the height held is not sure: the weight stays. Jump higher."),
    _("A jump was missed or not landed softly last time: the lowest there is."),
    _("A jump was missed or not landed softly last time: %(number)s cm."),
    _("Every landing was soft in %(number)s sessions: a step higher."),
    _("No higher until every landing was soft and was noted so."),
    _("A landing was not soft last time: %(number)s cm."),
    _("Below usual: lighter."),
    _("Well below usual: lighter, and half the sets."),
    _("Well below usual: no depth jumps today."),
    _("Below usual: only what feels crisp."),
    _("Well below usual: half the sets."),
    _("As on your ordinary days: go as planned."),
    _("Lower than on nine of ten of your ordinary days."),
    _("Below your ordinary days."),
    _("Well below your ordinary days."),
    _("The method does not know this exercise any more: ask your coach."),
)

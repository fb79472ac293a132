"""What assessments, plans, changes of them and analysed jumps say."""

from django.utils.translation import gettext_noop as _

__all__ = ["PLANS"]

PLANS = (
    _(
        "The %(source)s fits nothing else that was tested and was given little weight: check "
        "what was written down, or test again."
    ),
    _(
        "Pain of %(level)s/10, %(place)s, on %(date)s: no jumping and no landings until a "
        "physiotherapist or doctor has seen it (published pain-monitoring scale, above 5 or "
        "not settled)."
    ),
    _(
        "Pain of %(level)s/10, %(place)s, on %(date)s: acceptable on the published scale only"
        " if it is back to usual by the next morning and does not rise from week to week; no "
        "depth jumps."
    ),
    _("The date of birth is not on record: Saltus is as careful as with a minor."),
    _(
        "%(number)s years old: supervised, technique first, few landings (published advice: "
        "50 to 60 a session to begin with, two days a week, 72 h apart), no maximal attempts."
        " Figures about body mass are left out."
    ),
    _("%(number)s years old: allow more days between hard landings, and have new pains seen."),
    _("No tests are on record: every figure is what is usual for such a person."),
    _("The latest test is of %(date)s: the figures have grown vague."),
    _("Stature is not on record: leg length is a guess, and the intervals are wider."),
    _("The intervals rest on few effective draws (%(number)s) and are rough."),
    _("Saltus gives no medical advice; local rules and licensed practice come first."),
    _("countermovement jumps, hands on the hips, on the force plate"),
    _("countermovement jumps, hands on the hips, on the mat"),
    _("countermovement jumps, hands on the hips, filmed at 240 frames a second"),
    _("squat jumps from a held squat on the force plate"),
    _("squat jumps from a held squat on the mat"),
    _("squat jumps from a held squat filmed at 240 frames a second"),
    _("squat jumps with a bar of a quarter and half of body mass on the force plate"),
    _("squat jumps with a bar of a quarter and half of body mass on the mat"),
    _("squat jumps with a bar of a quarter and half of body mass filmed at 240 frames a second"),
    _("drop jumps from about 20 and 40 cm on the force plate"),
    _("drop jumps from about 20 and 40 cm on the mat"),
    _("drop jumps from about 20 and 40 cm filmed at 240 frames a second"),
    _("jump and reach with the tape on a wall"),
    _("standing broad jumps with the tape"),
    _("a one-repetition maximum in the squat"),
    _("a heavy set of five squats with one or two left in reserve"),
    _("four squat loads up to about 80 %% with the bar-speed sensor"),
    _("an isometric mid-thigh pull on the force plate"),
    _("the push-off distance with the tape, from the bottom of the jump to toes pointed"),
    _("It %(shows)s; %(effect)s."),
    _("shows the jump itself without the arms"),
    _("takes away the stretch before the push, so that slow force shows"),
    _("shows how quickly the jump falls with load"),
    _("shows what the legs do with a fast stretch"),
    _("shows the whole jump with the arms"),
    _("shows the legs' power by another route"),
    _("shows max strength alone"),
    _("shows max strength without a maximal attempt"),
    _("shows how much force there is and how much of it comes early"),
    _("settles how long the legs can push"),
    _("expected to make the leading quality %(number)s %% sure, now %(other)s %%"),
    _("not expected to change the picture much (%(quality)s leads)"),
    _(
        "It takes jumps without arms, of the same style, with at least two different loads "
        "within %(number)s days: add squat jumps with a bar, such as 0, 20, 40 and 60 kg."
    ),
    _(
        "The heavier jumps were not slower in the way that a push has to be: F0 and v0 cannot"
        " be read off. Test again, every attempt maximal, with loads further apart."
    ),
    _(
        "The loads (%(loads)s) are too close together for the errors of the heights: add a "
        "heavier one, under which the jump is about half as high."
    ),
    _(
        "The slope is uncertain by %(number)s %%: the balance is a hint, nothing to plan by. "
        "More attempts at each load and a heavier load would help."
    ),
    _(
        "The push-off distance is a rough figure: measure it with a tape, from the bottom of "
        "the push to the outstretched leg."
    ),
    _(
        "From countermovement jumps, whose profile lies above that of the squat jumps for "
        "which the optimum was published."
    ),
    _("From tests of %(date)s, %(number)s days earlier."),
    _("Two loads only: nothing shows whether the line is straight. Add a third, heavier one."),
    _(
        "The loads are close together: their forces cover only %(least)s to %(most)s %% of "
        "F0. Add a load under which the jump is about half as high."
    ),
    _(
        "Fewer than %(number)s sessions in %(weeks)s: there are too few free days. More free "
        "days would make room."
    ),
    _("the week of %(date)s"),
    _("the weeks of %(dates)s and %(number)s more"),
    _("the weeks of %(dates)s"),
    _("%(family)s %(times)s a week instead of %(other_times)s (%(phase)s, %(weeks)s): %(why)s"),
    _("%(family)s not at all instead of %(times)s a week (%(phase)s, %(weeks)s): %(why)s"),
    _("not at all"),
    _("once"),
    _("twice"),
    _("%(number)s times"),
    _("More free days or minutes would make room."),
    _("The rest of the week leaves no room for it: longer sessions or one more free day would."),
    _("These are planned lighter weeks: fewer sets, by rule."),
    _("The sessions are too short for it: more minutes a day would make room."),
    _("The days on which it may stand lie too close together: one further off would make room."),
    _("The landing budget is used up: fewer landings in practice and matches would make room."),
    _("Its sessions are full: one more free day would make room."),
    _("Too few minutes and days together: more of both would make room."),
    _("No session in %(weeks)s: %(why)s"),
    _("no day of the week is set aside for training. A free day in each would make room."),
    _("no free day (%(reasons)s). A free day in each would make room."),
    _(
        "pain of %(level)s out of 10 (%(place)s, %(date)s) stops training. It goes on when "
        "the pain is down to 5 or less and settled by the next morning; have someone "
        "qualified look at it first."
    ),
    _("the longest day has %(number)s minutes, and a session takes %(least)s at least."),
    _(
        "no day has room for a session of %(least)s minutes with what may be given. Longer "
        "days, more equipment or other days would make room."
    ),
    _("every free day is %(reasons)s. A free day further away would make room."),
    _("Or: %(said)s"),
    _("only %(number)s day of the week can hold it."),
    _("only %(number)s days of the week can hold it."),
    _("Lost to it: %(days)s. One more free day would make room."),
    _("One more free day would make room."),
    _("%(weekday)s %(date)s (%(reasons)s)"),
    _("not a training day"),
    _("outside the plan"),
    _("blocked"),
    _("day of a test"),
    _("rest before a test"),
    _("near a match"),
    _("shortly before a test"),
    _("%(names)s on %(date)s, as you settled it: %(why)s"),
    _("it is not in the plan's weeks or the method's exercises."),
    _("the day is not free (%(reasons)s). Choose another day."),
    _("the day is %(reasons)s. A day further off would do."),
    _(
        "it finds no room there beside the other rules (minutes, landings, sets of a session,"
        " days between like sessions). Another day, or a longer session, would make room."
    ),
    _("No %(family)ss in this plan, more building instead: %(why)s"),
    _(
        "Only %(number)s week to %(date)s: all of it unloads before the test. A later date "
        "would leave time to build."
    ),
    _(
        "Only %(number)s weeks to %(date)s: all of it unloads before the test. A later date "
        "would leave time to build."
    ),
    _(
        "No time for the %(phase)s (%(number)s weeks after at least %(time)s of building): "
        "there are %(free)s before the unloading. A date %(later)s later would make room."
    ),
    _("%(number)s week"),
    _("%(number)s weeks"),
    _(
        "Stop an exercise that hurts. Pain above 5 out of 10, or pain that has not settled by"
        " the next morning, means no jumping until someone qualified has looked at it. Saltus"
        " gives no medical advice."
    ),
    _("The date of birth is not known: the limits for minors hold until it is."),
    _(
        "Pain of %(level)s out of 10 (%(place)s, %(date)s): have someone qualified look at it"
        " before training goes on."
    ),
    _(
        "Pain of %(level)s out of 10 (%(place)s, %(date)s): note it before and the morning "
        "after each session; it must not rise from week to week."
    ),
    _(
        'The restriction "%(what)s" speaks of no exercise or family and cannot be kept: name '
        "one of them."
    ),
    _("%(exercise)s: not for %(not_for)s"),
    _(
        "Practices or matches alone exceed the day's landing budget on %(number)s days (first"
        " %(date)s): no jumps are planned on them; talk to the coach of the sport."
    ),
    _("Left out: %(said)s"),
    _(
        "%(person)s is under 18: every session under the eyes of someone qualified, technique"
        " before load, no maximal attempts; above all %(names)s."
    ),
    _(
        "%(person)s is under 18: every session under the eyes of someone qualified, technique"
        " before load, no maximal attempts."
    ),
    _(
        "%(person)s is of unknown age: every session under the eyes of someone qualified, "
        "technique before load, no maximal attempts; above all %(names)s."
    ),
    _(
        "%(person)s is of unknown age: every session under the eyes of someone qualified, "
        "technique before load, no maximal attempts."
    ),
    _("The main date %(date)s lies before the start of the plan (%(to)s): set a new one."),
    _("The plan leads to %(date)s, the first main date; plan again after it for %(dates)s."),
    _(
        "No main date lies ahead: the plan leads to %(date)s, the last of the other dates. "
        "Give the date that counts most the priority main."
    ),
    _(
        "No date is set: the plan runs %(number)s weeks and ends with a test on %(date)s. Set"
        " the date that counts to have it laid back from there."
    ),
    _(
        "The date that counts is more than %(number)s weeks away: the plan runs to a test on "
        "%(date)s; plan again from there."
    ),
    _("%(exercise)s is for athletes from %(number)s years, and the age is not known."),
    _("%(exercise)s is for athletes from %(number)s years; %(person)s is %(other)s."),
    _("It opens once the date of birth is on record."),
    _("It opens on the %(number)sth birthday."),
    _("%(exercise)s needs %(years)s of regular training; so far it is %(other_years)s."),
    _("It opens after %(years)s of regular training."),
    _("%(number)s months"),
    _("1 year"),
    _("%(number)s years"),
    _("%(exercise)s needs a squat of %(number)s x body mass; none is known."),
    _(
        "%(exercise)s needs a squat of %(number)s x body mass (%(other)s kg); the estimate is"
        " %(most)s kg."
    ),
    _(
        "%(exercise)s needs a squat of %(number)s x body mass (%(other)s kg); the estimate is"
        " %(most)s kg, perhaps only %(least)s kg: test it."
    ),
    _("It opens when a squat of %(number)s x body mass (%(other)s kg) has been shown."),
    _("%(exercise)s needs %(number)s weeks of landing practice; by then there are %(other)s."),
    _("It opens after %(number)s more weeks of landing practice."),
    _("%(exercise)s needs a forgiving surface, and none is at hand."),
    _("It opens with a sprung floor, turf or mats (soft_surface = true)."),
    _("Pain of %(level)s out of 10 (%(place)s, %(date)s) closes %(exercise)s."),
    _(
        "Pain of %(level)s out of 10 (%(place)s, %(date)s, not settled by the next morning) "
        "closes %(exercise)s."
    ),
    _("It opens when it is down to %(number)s or less and settled by the next morning."),
    _("Have someone qualified look at it first."),
    _("%(exercise)s is restricted: %(restricted)s."),
    _("%(exercise)s is restricted: %(restricted)s (%(bracketed)s)."),
    _("It opens when the restriction is lifted."),
    _("It opens after %(date)s."),
    _("%(exercise)s needs: %(names)s."),
    _("Here mainly for %(quality)s."),
    _("Eased in after %(number)s days without lifts or jumps on record."),
    _(
        "Eased in after %(number)s days without lifts or jumps on record: lighter loads, fewer "
        "sets and fewer landings up to %(date)s."
    ),
    _("eased in after %(number)s days without lifts or jumps"),
    _("%(said)s, and so in 1 later week"),
    _("%(said)s, and so in %(number)s later weeks"),
    _("the session moves to %(weekday)s %(date)s"),
    _("no session"),
    _("a new session: %(items)s"),
    _("%(phase)s from here instead of %(other_phase)s"),
    _("%(phase)s from here"),
    _("without %(names)s"),
    _("with %(items)s"),
    _("%(exercise)s %(sets)s x %(reps)s instead of %(old_sets)s x %(old_reps)s"),
    _("%(exercise)s %(sets)s x %(reps)s"),
    _("%(exercise)s %(load)s instead of %(before)s (and on 1 later day)"),
    _("%(exercise)s %(load)s instead of %(before)s (and on %(number)s later days)"),
    _("%(exercise)s %(load)s instead of %(before)s"),
    _("%(number)s kg and %(other)s cm"),
    _("%(number)s lb and %(other)s cm"),
    _("%(number)s kg"),
    _("%(number)s lb"),
    _("%(number)s cm"),
    _("without load"),
    _("as you settled it"),
    _("after the test on %(date)s"),
    _("the day is blocked"),
    _("no longer a training day"),
    _("there is no %(what)s"),
    _("near the match of %(date)s"),
    _("the day that counts moved from %(date)s to %(to)s and %(said)s"),
    _("the day that counts moved from %(date)s to %(to)s"),
    _("a session was missed"),
    _("%(number)s sessions were missed"),
    _("the best that the method's rules allow, with what is known now"),
    _("the week belongs to another phase now"),
    _("the phases go by what the tests say now"),
    _("the box follows the squat jump, as it is estimated now"),
    _("the hurdle follows the jump, as it is estimated now"),
    _("the drop follows the best drop jump, as it is estimated now"),
    _("the estimate of the %(lift)s is %(number)s kg instead of %(other)s kg"),
    _("the body mass is %(number)s kg instead of %(other)s kg"),
    _("There is no session on %(weekday)s %(date)s in this plan."),
    _("The session stands on %(weekday)s %(date)s already."),
    _(
        "%(weekday)s %(date)s lies outside the plan, which runs from %(first_weekday)s "
        "%(first_date)s to the day before %(last_weekday)s %(last_date)s."
    ),
    _("%(weekday)s %(date)s is blocked: open the day first."),
    _("On %(weekday)s %(date)s there is a test or a competition: no session then."),
    _("This exercise does not stand in the plan on %(weekday)s %(date)s."),
    _("The other exercise stands on %(weekday)s %(date)s already: choose another."),
    _("%(exercise)s: too near a match."),
    _("%(exercise)s: not used in the phase %(phase)s."),
    _(
        "%(exercise)s: its own ranges (%(sets_range)s sets of %(reps_range)s) and those of "
        "the phase (%(phase_sets)s of %(phase_reps)s) do not meet."
    ),
    _(
        "%(exercise)s: sets of %(reps)s leave no %(number)s repetitions in reserve at "
        "%(other)s %%: take fewer repetitions."
    ),
    _(
        "%(exercise)s: nothing is known of the maximum in the %(lift)s: test it, or a lift "
        "that it can be estimated from."
    ),
    _("%(exercise)s: needs a box of %(least)s cm to %(most)s cm, and none is here."),
    _("%(exercise)s: needs a hurdle of %(least)s cm to %(most)s cm, and none is here."),
    _("%(exercise)s: needs a %(what)s."),
    _(
        "%(exercise)s: wants %(number)s to %(other)s %(unit)s, and the lightest here is "
        "%(load)s: a lighter bar."
    ),
    _(
        "%(exercise)s: wants %(number)s to %(other)s %(unit)s, and loads go from %(least)s to"
        " %(load)s: smaller plates."
    ),
    _(
        "%(exercise)s: wants %(number)s to %(other)s %(unit)s, and the heaviest here is "
        "%(load)s: more plates."
    ),
    _(
        "To touch %(number)s m the standing reach must be known: measure it flat-footed, one "
        "hand up, and add it to the record."
    ),
    _("A goal needs a jump height or a height to touch."),
    _("The recording starts inside the movement: start it a few seconds earlier."),
    _(
        "Nobody stood still after the landing, so body weight, drop height and take-off "
        "velocity are unknown: stand still for a second after the landing."
    ),
    _(
        "Body weight before the jump and after it do not agree: keep both feet on the plate "
        "and touch nothing else; if nobody did, zero the plate."
    ),
    _("The squat was not held: go down, hold it still for a second or two, then push."),
    _(
        "The squat jump began with a dip of %(number)s cm: hold the squat still and push "
        "straight up."
    ),
    _(
        "The recording shows no drop with a short contact before this jump: start with the "
        "plate empty, drop, and jump at once."
    ),
    _(
        "The fall before this contact was only %(number)s cm: a step or an approach rather "
        "than a drop; drop from a box, or say what it was with --kind."
    ),
    _("There was a swing or a second dip before the jump: go down once, then up."),
    _(
        "The start of the movement cannot be told: stand still until you go, so that time to "
        "take-off can be had."
    ),
    _("Part of the body landed beside the plate: jump from the middle, land there."),
    _("The landing bounced: land once and stay."),
    _("Body weight is unknown: stand still on the plate for a second."),
    _("The time off the plate is longer than any jump: left the plate."),
    _(
        "The stand was too unquiet or too far from the jump for a height from take-off "
        "velocity (its error would be %(number)s cm): stand still for a full second right "
        "before the jump."
    ),
    _("Take-off velocity makes no sense: stand still for a second before the jump."),
    _(
        "Height from take-off velocity is only known to %(number)s cm: stand still for a full"
        " second right before the jump and after the landing."
    ),
    _("The recording stops before the landing: let it run for two more seconds."),
    _("Left the plate: the landing was beside it, so there is no flight time."),
    _("Left the plate: the time in the air is much longer than this take-off allows."),
    _(
        "Take-off velocity and flight time disagree by %(number)s cm, more than a landing "
        "explains: stand still for a second before the jump."
    ),
    _(
        "You landed with bent knees: the flight time is %(number)s ms too long; land on the "
        "balls of the feet with the legs as straight as at take-off."
    ),
    _(
        "Stand still for a second before the jump: nobody stood still before it or after it, "
        "so there is no height from take-off velocity."
    ),
    _(
        "Stand still for a second before the jump: this one was measured back from the stand "
        "after the landing, and its start is unknown."
    ),
    _(
        "Stand still for a second before the jump: the recording shows only %(number)s s of "
        "it, too short to weigh well."
    ),
)

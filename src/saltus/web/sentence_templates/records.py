"""Faults of records and their tests, and of typed figures."""

from django.utils.translation import gettext_noop as _

__all__ = ["RECORDS"]

RECORDS = (
    _("line %(number)s, %(where)s: %(said)s"),
    _("line %(number)s, the text: %(said)s"),
    _("the text: %(said)s"),
    _("%(file)s: %(said)s"),
    _("Attempt %(number)s: %(said)s"),
    _("true or false"),
    _("a whole number"),
    _("a number"),
    _("a text"),
    _("a table"),
    _("a list"),
    _('there is no such field. Did you mean "%(name)s"?'),
    _("there is no such field. Known are: %(words)s."),
    _("it is empty: give a text."),
    _("a range is written [low, high], two numbers; this is %(what)s."),
    _("a range is written [low, high], two whole numbers; this is %(what)s."),
    _("the range runs backwards: %(number)s is more than %(other)s."),
    _("every entry must be a text; this is %(what)s."),
    _("every entry must be a table; this is %(what)s."),
    _("it must be %(kind)s; this is %(what)s."),
    _("it is missing: add it."),
    _("%(value)s is out of range: it must be a finite number."),
    _("%(value)s is out of range: the least allowed is %(low)s."),
    _("%(value)s is out of range: the most allowed is %(high)s."),
    _('"%(name)s" is not one of: %(words)s.'),
    _('"%(name)s" is not one of: %(words)s. Did you mean "%(near)s"?'),
    _("a name has more than %(number)s parts, joined by points: write it plainer."),
    _("this is not valid TOML: %(what)s."),
    _("this is not valid TOML: %(what)s: %(hint)s."),
    _("decimals have a point, such as 72.5"),
    _('text stands in straight quotes, such as "left knee"'),
    _("write true or false, in small letters"),
    _("a date is a day that exists, written as 2026-11-25"),
    _("a number stands alone: its unit is in the field's name"),
    _('text stands in quotes, such as "left knee"'),
    _("the field stands there twice, keep one"),
    _("the table stands there twice; one that may come several times has two brackets, [[name]]"),
    _("brackets stand within brackets too deep to be meant: write it plainer."),
    _("there is no such file: check the name and the folder."),
    _("this is not UTF-8 text: save it again as UTF-8."),
    _("it cannot be read (%(free_text)s)."),
    _("is missing: put %(name)s = %(number)s at the top of the file."),
    _("must be %(number)s, the version of this format."),
    _("%(number)s is newer than this Saltus knows (%(other)s): install a newer Saltus."),
    _("unknown table; did you mean [%(name)s]?"),
    _("unknown table; known are: %(words)s."),
    _("%(name)s is missing: %(help)s"),
    _("%(value)s is before the start, %(first_date)s: swap or correct them."),
    _("two weighings on %(date)s: keep one."),
    _(
        "%(number)s cm does not go with a stature of %(other)s cm: expected between %(least)s "
        "and %(most)s cm; check both."
    ),
    _("may come several times: write [[%(name)s]], in two brackets."),
    _("%(date)s is too early for somebody born on %(to)s."),
    _("%(date)s is too late for somebody weighed on %(to)s: check both."),
    _("kind is missing: one of %(words)s."),
    _('"%(name)s" is no kind of test; did you mean %(near)s?'),
    _('"%(name)s" is no kind of test; known are: %(words)s.'),
    _("give one of jump_cm (a jump height) and touch_cm (a height)."),
    _("needs standing_reach_cm under [athlete]."),
    _("%(number)s cm is within the standing reach of %(other)s cm: check both and their units."),
    _('give one of weekdays (such as ["tue", "thu"], every week) and date (one day).'),
    _("start and end go with weekdays, not with a single date."),
    _("%(number)s days are blocked at one stretch, at most %(other)s can be: check the year."),
    _("unknown field; did you mean %(near)s?"),
    _("unknown field; known here: %(words)s."),
    _("must be a table, not %(what)s."),
    _("given twice, as %(name)s and as %(other_name)s; keep one."),
    _("must be %(kind)s, not %(what)s."),
    _("must not be empty."),
    _('"%(file)s" must be a path beside the record, such as "recordings/a.csv".'),
    _('"%(name)s" is not one of: %(words)s; did you mean %(near)s?'),
    _('"%(name)s" is not one of: %(words)s'),
    _('"%(value)s" is no date; write year-month-day, such as 2026-11-25.'),
    _("%(date)s lies outside the years %(least)s to %(most)s; correct the year."),
    _(
        "%(value)s cannot be right: the value lies between %(low)s and %(high)s; check the "
        "number and its unit."
    ),
    _("holds no value; fill it in or leave it out."),
    _('"%(value)s" must be milliseconds after the onset, 10 to 1000.'),
    _("text in quotes"),
    _("a date such as 2026-11-25"),
    _("a list of numbers such as [41.5, 42.0]"),
    _("one of the words listed"),
    _("a list of the words listed"),
    _("a path relative to the record, in quotes"),
    _("a list of pairs [weight, how many] such as [[20, 4], [2.5, 2]]"),
    _("forces by milliseconds after the onset such as { 100 = 1450, 200 = 1900 }"),
    _("a list of tables such as [{ ... }, { ... }]"),
    _("a record that stands in no file has no recordings beside it."),
    _("there is no recording %(file)s beside the record: check the name."),
    _("the recording cannot be used: %(said)s"),
    _("it adds no test."),
    _(
        "%(number)s kg stood on the plate, but the record says %(other)s kg: check the body "
        "mass, the load and whose recording it is."
    ),
    _("%(kind)s %(number)s was dropped. %(free_text)s"),
    _("%(kind)s %(number)s is left out. %(rest)s"),
    _("%(kind)s %(number)s is left out: hops say nothing that the model can use yet."),
    _("%(kind)s %(number)s is doubtful and was kept. %(free_text)s"),
    _("%(kind)s %(number)s is doubtful and counts all the same. %(rest)s"),
    _("the drop jumps are left out: the landing does not tell the drop, so give box_cm."),
    _("a body mass is needed."),
    _("a name is needed."),
    _("%(value)s is not known here; known are %(words)s."),
    _("%(value)s: a plain number belongs here."),
    _("%(value)s: write it in %(words)s."),
    _("the jump is given twice, by %(words)s; keep one."),
    _("holds no result: give %(words)s."),
    _(
        "a touched height needs standing_reach_cm, here or under [athlete]: how high the "
        "fingertips reach without a jump."
    ),
    _("frames need frame_rate_hz: at how many frames a second it was filmed."),
    _(
        "method is missing: how was it measured, by reach, mat, film, plate_flight or "
        "plate_impulse?"
    ),
    _("%(name)s does not go with %(other_name)s: that is %(near)s."),
    _("%(name)s gives no flight time: write mat, film or plate_flight, or give heights_cm."),
    _(
        "the jump comes to %(number)s cm, which cannot be right: it lies between %(least)s "
        "and %(most)s cm; check the numbers and their units."
    ),
    _("%(number)s contact times for %(other)s attempts: give one for each."),
    _("%(number)s speeds for %(other)s loads: give one for each."),
    _(
        "%(number)s N is less than body weight (%(other)s N): give the whole force, body "
        "weight included."
    ),
    _("%(number)s N after %(other)s ms is above the peak of %(most)s N: check both."),
    _("one foot only is named: give both left and right, or force."),
    _("give either force (both feet together) or left and right."),
    _("jump %(number)s is decided twice: keep one."),
    _("Some figures of this test are missing: fill them in."),
    _("A standing reach cannot be taken back here, only corrected."),
    _("This is the only weighing on record: correct it, or keep it."),
    _("%(name)s is no kind of test that can be written down."),
    _("Between 1 and %(number)s attempts, please."),
    _("A drop jump needs the height of its box."),
    _("A test of strength needs its lift."),
    _("How is the jump measured: by reach, mat, film or force plate?"),
    _("What is written down does not go with how the jump is measured."),
    _("Frames need the frame rate of the film."),
    _("A touched height needs the standing reach: measure it first."),
    _("%(value)s is no number: write 27, 27.5 or 27 1/2."),
    _("%(value)s is no number: write 178, 178 cm or 5'10\"."),
    _("%(value)s is no number: write 72.5, 72.5 kg or 160 lb."),
    _("%(value)s is no number: write 2 or 2.5."),
    _("%(value)s could be two dates: say whether the day or the month comes first."),
    _("%(value)s is no day of the calendar."),
    _("%(value)s is no date: write year-month-day, such as 2003-05-17."),
    _("%(value)s is below nought."),
    _(
        "this table is laid out in a way that cannot be changed without losing comments: "
        "write it as [%(name)s] or [[%(other_name)s]], field by field."
    ),
    _("At most %(number)s records of %(other)s MB together are read at once: send them in parts."),
    _("%(file)s is a damaged or locked zip: pack it again."),
    _("%(file)s holds no record: they are files that end in .toml."),
    _("%(file)s is too large for a record."),
    _("%(file)s is no text in UTF-8: is it a record?"),
    _("The file is larger than %(number)s MB: leave only the list of athletes in it."),
    _("This is an old or locked spreadsheet: save it as .xlsx without password."),
    _("The first sheet is empty: put the list of athletes there."),
    _(
        "The first sheet has %(number)s rows and %(other)s columns; at most %(least)s and "
        "%(most)s are read: leave only the list of athletes in it."
    ),
    _("The file is damaged: save it again as .xlsx, .ods or .csv."),
    _("This is a packed file but no spreadsheet: send .xlsx, .ods or .csv."),
    _("The spreadsheet is too large: copy the list of athletes into a new one and send that."),
    _("The spreadsheet cannot be read: save it again as .xlsx, .ods or .csv."),
    _("This is no spreadsheet: send .xlsx, .ods or .csv."),
    _("The file cannot be read as a table (%(free_text)s)."),
    _(
        "A broad jump of %(number)s m cannot be turned into a vertical one: give the distance "
        "in metres from the line to the nearer heel."
    ),
    _(
        "Force %(number)s ms after the onset is of no use: give it at %(least)s to %(most)s "
        "ms, such as 50, 100, 150, 200 and 250."
    ),
    _(
        "A flight time of %(number)s s is impossible: give it in seconds, more than 0 and at "
        "most %(most)s."
    ),
    _(
        "A film with %(number)s frames a second is impossible: give the rate at which it was "
        "taken, such as 240."
    ),
    _(
        "A touch at %(number)s m is not above the standing reach of %(other)s m: check both, "
        "and that both are in the same unit."
    ),
    _("A test without an attempt says nothing: give at least one figure."),
    _("An attempt must be a positive number, got %(what)s."),
    _("%(person)s has neither a test nor a body mass on record."),
    _(
        "These bar speeds tell the maximum of the %(lift)s no better than within %(number)s "
        "%%: add a heavier load, moved at 0.5 m/s or slower."
    ),
    _("%(number)s loads but %(other)s bar speeds: give one speed for each load."),
    _(
        "The bar's speed does not tell the maximum of the %(lift)s: give a set of repetitions "
        "or a maximum instead."
    ),
    _("Loads must be positive, got %(what)s kg."),
    _(
        "Mean bar speeds of %(what)s m/s cannot all be right: give them in m/s, between "
        "%(least)s and %(most)s."
    ),
    _(
        "The bar was no slower under the heavier loads of the %(lift)s: check that loads and "
        "speeds stand in the same order and that every lift was as fast as possible."
    ),
    _(
        "These bar speeds of the %(lift)s point to no maximum at all: check the loads and "
        "that the speeds are mean velocities of the lift."
    ),
    _(
        "One load does not tell the maximum of the %(lift)s: give the bar's speed at a second "
        "load, at least a fifth heavier."
    ),
    _(
        "%(number)s rebound heights but %(other)s contact times: give one contact time for "
        "each attempt, or none at all."
    ),
    _(
        "Contact times of %(what)s s cannot all be right: give them in seconds, more than 0 "
        "and at most %(most)s."
    ),
    _("A maximum of %(number)s kg is no lift: give the load."),
    _("%(person)s has no body mass on record: add one [[body_mass]]."),
    _(
        "A set of %(reps)s repetitions at %(number)s kg with %(other)s left is no set: load "
        "and repetitions must be positive, what is left not negative."
    ),
    _(
        "%(reps)s repetitions are too many to tell a maximum from: use a load that allows at "
        "most %(most)s, better 3 to 6."
    ),
    _(
        "%(reps)s repetitions and %(number)s left are too many to tell a maximum from: use a "
        "load that allows at most %(most)s, better 3 to 6."
    ),
    _("A push-off distance of %(number)s m does not fit a leg of %(other)s m: measure it again."),
    _(
        "The legs give way: a fall from %(number)s m with %(other)s kg is more than they can "
        "stop and leave the ground again."
    ),
    _(
        "%(number)s kg cannot be stood up with: at the bottom of the push it takes %(least)s "
        "N m at the knee only to hold it, and there are %(most)s."
    ),
    _("The feet never leave the ground: the push is too slow."),
    _("%(name)s does not go with frames: that is %(other_name)s."),
    _("holds no result: give %(words)s or %(name)s."),
    _(
        "With the %(words)s at %(number)s nothing can be simulated: %(name)s must be %(hint)s "
        "and finite."
    ),
    _("greater than 0"),
    _("0 or more"),
    _("%(test)s of %(date)s"),
    _("countermovement jump"),
    _("squat jump"),
    _("approach jump"),
    _("broad jump"),
    _("isometric pull"),
    _("drop jump"),
    _("drop jump from %(number)s cm"),
    _("%(jump)s with arms"),
    _("%(jump)s with %(number)s kg"),
    _("%(lift)s, maximum"),
    _("%(lift)s, %(reps)s repetitions"),
    _("%(lift)s, %(reps)s repetitions, %(number)s in reserve"),
    _("%(lift)s, bar speed at %(loads)s kg"),
    _("isometric pull, peak"),
    _("isometric pull, force at %(number)s ms"),
)

"""What reading and analysing a recording says."""

from django.utils.translation import gettext_noop as _

__all__ = ["RECORDINGS"]

RECORDINGS = (
    _("%(name)s pointed down and was turned up."),
    _("%(name)s read %(number)s N when empty: zero the plate before the test"),
    _("%(name)s holds no numbers; name another column with --force."),
    _("%(number)s empty rows at the start or the end were left out."),
    _("%(name)s is cut off at %(value)s (first at %(number)s s): set the plate to a larger range"),
    _("some force columns have a unit and others none; give --unit for all."),
    _("The force has no unit; about %(number)s while standing was read as newtons."),
    _("The force was turned from %(words)s into newtons."),
    _("Nobody stood on %(words)s."),
    _("%(number)s plates were stood on; their sum is the total, the feet are unknown."),
    _("as given by --first-plate"),
    _("as given by --first-plate, although the centre of pressure says otherwise"),
    _("from the way the centre of pressure moves forward at take-off"),
    _("from the order of the plates; if that is wrong, give --first-plate right"),
    _("%(name)s is the left foot, %(other_name)s the right: %(said)s."),
    _(
        "the left foot (%(name)s) bears nothing while the other bears everything. Was its "
        "plate connected? If one plate bears both feet, name that column with --force."
    ),
    _(
        "the right foot (%(name)s) bears nothing while the other bears everything. Was its "
        "plate connected? If one plate bears both feet, name that column with --force."
    ),
    _("a C3D file has its own rate; leave out --time."),
    _(
        "the C3D file holds no analogue channels, so that there is no force in it. Export it "
        "with the force plates."
    ),
    _("its sizes are impossible"),
    _("the C3D file cannot be read (%(hint)s). Export it again."),
    _("%(number)s force platforms, but types for %(other)s"),
    _("plate %(number)s"),
    _(
        "%(name)s is a force platform of type %(number)s; types 1 to 4 can be read. Export "
        "the forces as text instead."
    ),
    _(
        "%(name)s is of type 4 but has no calibration matrix of 6 by 6; export the recording "
        "again with it."
    ),
    _(
        "plate %(number)s of type %(other)s needs %(least)s channels; the file names "
        "%(level)s of %(most)s. Export it again."
    ),
    _("the C3D file is cut off within its header."),
    _("its parameter section is not where the header says"),
    _("the C3D file is damaged: %(rest)s. Export or copy it again."),
    _("its parameters run beyond their section"),
    _("a parameter has no proper name"),
    _("the name of a parameter is no text"),
    _("%(name)s does not end where the next parameter begins"),
    _("a parameter belongs to no group"),
    _("%(name)s has %(number)s values for %(other)s channels"),
    _("%(name)s is no number"),
    _("%(name)s is no text"),
    _("ROTATION:RATIO is %(value)s"),
    _("a group runs beyond its section"),
    _("a parameter runs beyond its section"),
    _("a parameter is of no known type"),
    _("its header contradicts itself"),
    _("its counts of frames contradict each other (%(bracketed)s)"),
    _(
        "The header counts no more than %(number)s frames; by its length the file holds "
        "%(other)s, and those were read."
    ),
    _("its numbers are in the order of a MIPS machine"),
    _(
        "the numbers have decimal commas, and commas stand between the columns too, so "
        "that nobody can tell them apart. Export it with decimal points, or with "
        "semicolons between the columns."
    ),
    _(
        "nobody stands on the plate: the force is zero throughout. If it is another "
        "column, name it with --force."
    ),
    _(
        "Above the table %(number)s Hz are stated, but time runs at %(other)s Hz; time "
        "was used. If it is wrong, give the rate with --rate."
    ),
    _("its header counts analogue samples but no rate of them"),
    _("the C3D file holds neither points nor forces."),
    _(
        "the C3D file is cut off: its header announces %(number)s frames, it holds %(other)s. "
        "Export or copy it again."
    ),
    _(
        "the C3D file holds %(number)s frames, more than its header can count (%(most)s). "
        "Export it in shorter parts, or as text."
    ),
    _(
        "sampled at %(number)s Hz, too slowly to time a take-off; at least %(least)s Hz is "
        "needed, 1000 Hz is usual. If that is not the true rate, give it with --rate."
    ),
    _(
        "a sampling rate of %(number)s Hz is not that of a force plate; give the true one "
        "with --rate."
    ),
    _("sampled at only %(number)s Hz: record with at least %(least)s Hz"),
    _(
        "%(number)s samples at %(other)s Hz are %(level)s s, too short for a jump; at least "
        "%(least)s s are needed."
    ),
    _(
        "nobody stands on the plate: %(names)s never exceeds %(number)s N. If the force is in "
        "another unit, give --unit; if it is another column, --force."
    ),
    _(
        "%(names)s reads about %(number)s N while loaded and %(most)s N at most, which is no "
        "person. If the unit is wrong, give --unit; if the column is, --force."
    ),
    _(
        "column %(number)s (%(name)s) is in %(unit)s, which is no unit of force known here; "
        "give --unit, or name another column with --force."
    ),
    _("column %(number)s"),
    _("If the samples are evenly spaced, give --rate instead of time."),
    _("there are several time columns that differ"),
    _(
        "column 1 counts in steps of %(number)s, which may be milliseconds or sample numbers; "
        "give the sampling rate with --rate."
    ),
    _("There is no time column; the rate of %(number)s Hz is the one stated above the table."),
    _("there is no time column and no sampling rate; give it with --rate."),
    _("no column of vertical force was recognised"),
    _("it is unclear which axis points up, because %(words)s bear similar loads"),
    _("The vertical axis is %(name)s: it bears the weight."),
    _("several columns could be the force of the feet"),
    _(
        "only the %(side)s foot was found (%(name)s), the %(other_side)s one is missing. Name "
        "it with --%(option)s (and --%(other_option)s), or give --force if that column holds "
        "both feet."
    ),
    _("left"),
    _("right"),
    _("several columns could be the vertical force"),
    _("%(name)s and %(other_name)s do not add up to %(total)s"),
    _("%(name)s and %(other_name)s hold the same force, so that they are not two feet"),
    _("%(name)s is what the others add up to, so that they are not %(number)s plates"),
    _("%(why)s. The columns are:"),
    _("Several columns are called %(name)s: give a number instead (%(words)s)."),
    _("There is no column %(number)s: the file has %(other)s, counted from 1."),
    _("There is no column %(name)s. The columns are: %(words)s."),
    _("near line %(number)s a quoted cell is never closed; export the recording again."),
    _("The table ends at line %(number)s; what stands below it was not read."),
    _("the file stops in the middle of line %(number)s: it was cut off. Export or copy it again."),
    _("The last line looks cut off and was left out."),
    _(
        "the header announces %(number)s columns, the table has %(other)s. Export the "
        "recording again."
    ),
    _(
        "the header announces %(number)s rows, the table has %(other)s: it was cut off or "
        "edited. Export the recording again."
    ),
    _("--%(name)s was given without --%(other_name)s: name both feet, or --force."),
    _("Give either --force (both feet together) or --left and --right."),
    _("--rate must be a positive number of hertz, got %(value)s."),
    _("--mass must lie between 10 and 400 kg, got %(value)s."),
    _("--unit %(name)s is no unit of force known here: use %(words)s."),
    _("--first-plate is left or right, got %(value)s."),
    _(
        "this is a spreadsheet or a zip archive, whatever its name says; open it and save the "
        "recording as text (CSV) or C3D."
    ),
    _(
        "this is a compressed file, whatever its name says; open it and save the recording as "
        "text (CSV) or C3D."
    ),
    _(
        "this is a PDF page, whatever its name says; open it and save the recording as text "
        "(CSV) or C3D."
    ),
    _(
        "this is %(kind)s, whatever its name says; open it and save the recording as text "
        "(CSV) or C3D."
    ),
    _("%(file)s is text, although its name says C3D; it was read as text."),
    _("a sampling rate of %(number)s Hz is impossible; give the true one with --rate."),
    _("one foot only was given; give both or the total."),
    _("the forces differ in length."),
    _("the force holds gaps."),
    _("the file is empty."),
    _(
        "this is neither text nor C3D, or it was damaged on the way; export the recording "
        "again as text (CSV) or C3D."
    ),
    _("no rows of numbers were found; the file must hold the force, one row for each moment."),
    _(
        "the numbers stand in %(number)s columns and %(other)s row(s); turn the table, so "
        "that there is one row for each moment."
    ),
    _("line %(number)s, column %(other)s (%(name)s): %(value)s is not a number."),
    _("line %(number)s, column %(other)s (%(name)s): %(value)s is not a number. %(said)s"),
    _("The rate of %(number)s Hz is the one given; time was not used."),
    _("no sampling rate is known; give --rate."),
    _("the rate given is %(number)s Hz, but the time column runs at %(other)s"),
    _(
        "%(place)s has no time (%(number)s such rows). Export the recording again, or give "
        "--rate if the samples are evenly spaced."
    ),
    _("%(number)s samples are no recording."),
    _(
        "time runs in steps of %(number)s without a unit, which are neither seconds nor "
        "milliseconds; give the sampling rate with --rate."
    ),
    _("Time has no unit; steps of %(number)s were read as milliseconds."),
    _(
        "about %(number)s samples are missing after %(place)s (time %(other)s, a gap of "
        "%(most)s ms). Export the recording again; a gap of up to %(least)s ms is bridged "
        "with --resample."
    ),
    _(
        "about %(number)s samples are missing after %(place)s (time %(other)s, a gap of "
        "%(most)s ms), too long to bridge. Cut the recording there and read the parts."
    ),
    _(
        "the sampling is uneven: %(place)s is %(number)s ms off an even %(other)s Hz. "
        "Resample it evenly with --resample, or give the true --rate."
    ),
    _("%(place)s (time %(number)s after %(other)s)"),
    _(
        "time stands still at %(place)s (time %(number)s after %(other)s), %(least)s times in "
        "all. If the samples are evenly spaced and time was only rounded, give --rate; "
        "otherwise export the recording again."
    ),
    _(
        "time runs backward at %(place)s (time %(number)s after %(other)s). If two recordings "
        "were joined, read them as two files; otherwise export the recording again."
    ),
    _("Uneven time was resampled evenly at %(number)s Hz."),
    _(
        "%(name)s has %(number)s gap, the longest of %(other)s samples at %(place)s. Export "
        "the recording again; gaps of up to %(least)s ms are bridged with --resample."
    ),
    _(
        "%(name)s has %(number)s gaps, the longest of %(other)s samples at %(place)s. Export "
        "the recording again; gaps of up to %(least)s ms are bridged with --resample."
    ),
    _(
        "%(name)s has %(number)s gap, the longest of %(other)s samples at %(place)s, too long "
        "to bridge. Cut the recording there."
    ),
    _(
        "%(name)s has %(number)s gaps, the longest of %(other)s samples at %(place)s, too "
        "long to bridge. Cut the recording there."
    ),
    _("%(number)s gaps of %(name)s were bridged (longest %(other)s samples)."),
    _("line %(number)s"),
    _("sample %(number)s"),
    _(
        "the force is in body weights, which are no newtons without the body mass; give it "
        "with --mass, in kg."
    ),
    _(
        "no unit is given for the force, and the numbers (about %(number)s while standing) do "
        "not say it for sure: %(rest)s. Give --unit."
    ),
    _("kilonewtons (--unit kN) or body weights (--unit BW --mass KG)"),
    _("kilograms (--unit kgf), pounds (--unit lbf) or newtons of a small child (--unit N)"),
    _("no unit in which a person would weigh that; is this the vertical force?"),
    _("%(name)s was not zeroed: it read %(number)s N when empty; taken off."),
    _(
        "%(name)s was not zeroed: it read %(number)s N when empty, drifting by %(other)s N; "
        "taken off."
    ),
    _("The recording is shorter than half a second."),
    _("The empty plate read %(number)s N; that was taken off the force."),
    _(
        "There was no quiet moment before the pull, so its start and the early force are "
        "unknown: hold still for a second, then pull."
    ),
    _(
        "The bar was already pulled with %(number)s N before the start: take up the slack "
        "only, hold still, then pull."
    ),
    _("Different weights stood on the plate; body weight is that of the best weighing."),
    _("Nobody stood still: body weight was had %(said)s."),
    _("from the mean force over the hops"),
    _("Nobody stood on the plate."),
    _("The recording starts in the air: start it while the athlete stands still."),
    _(
        "A height of %(number)s cm is more than anybody jumps: the sampling rate is "
        "probably wrong; give the true one with --rate."
    ),
    _("No pull was found: the force never stayed well above body weight for a second."),
    _("Nobody jumped: the feet never left the plate and came back."),
    _("Nobody jumped: the feet left the plate, but no push came before it."),
    _("Series %(number)s: %(other)s hops"),
    _("%(file)s is a folder; name a file in it."),
    _("the folder holds no recordings (%(words)s)."),
    _("there is no such file or folder."),
)

"""The record's fields: one table for reading, checking, writing and the reference page.

Limits are those beyond which a value must be a slip of the pen or of the unit, not those of
a good athlete: the highest jumps, the heaviest lifts and the lightest children on record lie
within them (common practice).
"""

from saltus.athlete.observations import JumpMethod, Lift
from saltus.athlete.person import Sex, TestingTool
from saltus.athlete.qualities import TRAINABLE, WORDS
from saltus.record.fields import CM, IN, KG, LB, MS, Field, Kind, Table, one_unit
from saltus.training.exercises import EQUIPMENT
from saltus.training.situation import Priority, Weekday

__all__ = [
    "AGREED",
    "ATHLETE",
    "BLOCK",
    "BLOCKED",
    "BODY_MASS",
    "DECISIONS",
    "GOAL",
    "GYM",
    "JUMP_KINDS",
    "MATCH",
    "PAIN",
    "PLAN",
    "PRACTICE",
    "RESTRICTION",
    "SESSION",
    "SETS",
    "TABLES",
    "TARGET",
    "TESTS",
    "VERSION",
    "VERSION_FIELD",
    "WEEK",
]

VERSION = 1
VERSION_FIELD = "saltus_record"

_LENGTH = (CM, IN)
_MASS = (KG, LB)
_SECONDS = (*one_unit("s", "s"), MS)
_MILLISECONDS = (MS, *one_unit("s", "s"))
_HERTZ = one_unit("hz", "Hz")
_NEWTON = one_unit("n", "N")
_SPEED = one_unit("m_s", "m/s")

_DATE = Field("date", Kind.DATE, "The day of the test.", required=True)
_NOTE = Field("note", Kind.TEXT, "A remark of your own.", default="")
_LIFT = Field("lift", Kind.CHOICE, "The lift.", required=True, choices=tuple(Lift))
_REACH_HELP = "Height of the fingertips, standing flat with the arm stretched up as in the test."

ATHLETE = Table(
    "athlete",
    "Who the athlete is.",
    (
        Field("name", Kind.TEXT, "What you call them.", required=True),
        Field(
            "sex",
            Kind.CHOICE,
            "Used for the choice of norms only.",
            default="unstated",
            choices=tuple(Sex),
        ),
        Field(
            "born",
            Kind.DATE,
            "Date of birth. Where it is unknown, the caution due to a minor is taken.",
            default_words="unknown",
        ),
        Field(
            "stature",
            Kind.NUMBER,
            "Height of the body.",
            _LENGTH,
            100,
            250,
            default_words="unknown",
        ),
        Field(
            "standing_reach", Kind.NUMBER, _REACH_HELP, _LENGTH, 120, 350, default_words="unknown"
        ),
        Field(
            "push_off_distance",
            Kind.NUMBER,
            "How far the hips travel from the bottom of the countermovement to the outstretched "
            "leg, foot pointed.",
            _LENGTH,
            15,
            75,
            default_words="estimated from the stature",
        ),
        Field(
            "training_age_years",
            Kind.NUMBER,
            "Years of regular strength and jump training.",
            low=0,
            high=60,
            default=0.0,
        ),
        Field("sport", Kind.TEXT, "The sport.", default=""),
        Field(
            "testing_tools",
            Kind.CHOICES,
            "What you can test with; the next test is chosen among these.",
            default=(TestingTool.TAPE.value, TestingTool.PHONE.value),
            choices=tuple(TestingTool),
        ),
        Field(
            "landing_practice_weeks",
            Kind.NUMBER,
            "Weeks of landing practice behind the athlete; hard landings wait for it.",
            low=0,
            high=520,
            default=0.0,
        ),
        Field("remark", Kind.TEXT, "A remark of your own.", default=""),
    ),
    required=True,
)

BODY_MASS = Table(
    "body_mass",
    "Weighings, at least one.",
    (
        Field("date", Kind.DATE, "The day.", required=True),
        Field("mass", Kind.NUMBER, "Body mass.", _MASS, 25, 250, required=True),
    ),
    repeated=True,
    required=True,
)

GOAL = Table(
    "goal",
    "What the athlete wants: a jump height, or a height to touch. Give one of the two.",
    (
        Field("date", Kind.DATE, "The day that counts.", default_words="no day set"),
        Field(
            "jump",
            Kind.NUMBER,
            "Wanted jump height, as the usual test measures it.",
            _LENGTH,
            10,
            150,
        ),
        Field(
            "touch", Kind.NUMBER, "Height to touch; needs the standing reach.", _LENGTH, 150, 450
        ),
        Field(
            "hand_above",
            Kind.NUMBER,
            "How much of the hand must be above that height; 0 to touch it.",
            _LENGTH,
            0,
            40,
            default=0.0,
        ),
        Field("approach", Kind.YES_NO, "Whether a run-up is allowed.", default=False),
        Field("arms", Kind.YES_NO, "Whether the arms may swing.", default=True),
        Field("what", Kind.TEXT, 'In words, such as "the rim".', default=""),
    ),
)

_FLIGHT_LIMITS = (0.1, 1.1)
_HEIGHTS = Field("heights", Kind.NUMBERS, "Height of each attempt.", _LENGTH, 2, 150)
_FLIGHTS = Field(
    "flight",
    Kind.NUMBERS,
    "Flight time of each attempt, instead of heights.",
    _SECONDS,
    *_FLIGHT_LIMITS,
    gives="heights",
)
_FRAMES = Field(
    "frames",
    Kind.NUMBERS,
    "Frames in the air in each attempt, instead of heights; needs `frame_rate_hz`.",
    low=3,
    high=1100,
    gives="heights",
)
_FRAME_RATE = Field(
    "frame_rate",
    Kind.NUMBER,
    "Frame rate of the film.",
    _HERTZ,
    24,
    1000,
    default_words="unknown",
)
_METHODS = tuple(JumpMethod)
_METHOD_HELP = (
    "How height was measured: `reach` (touched height less standing reach), `mat` (flight time "
    "of a mat or optical cells), `film` (flight time from frames), `plate_flight` or "
    "`plate_impulse` (force plate)."
)

_JUMP_FIELDS = (
    _DATE,
    Field(
        "method",
        Kind.CHOICE,
        _METHOD_HELP,
        choices=_METHODS,
        default_words="`reach` with `touched`, `film` with `frames`; otherwise required",
    ),
    _HEIGHTS,
    Field(
        "touched",
        Kind.NUMBERS,
        "Height touched in each attempt, instead of heights.",
        _LENGTH,
        130,
        450,
        gives="heights",
    ),
    Field(
        "standing_reach",
        Kind.NUMBER,
        "Standing reach on that day.",
        _LENGTH,
        120,
        350,
        default_words="the athlete's",
        gives="heights",
    ),
    _FLIGHTS,
    _FRAMES,
    _FRAME_RATE,
    Field(
        "arms",
        Kind.YES_NO,
        "Whether the arms swung.",
        default_words="true for `reach` and for an approach jump, otherwise false",
    ),
    Field("load", Kind.NUMBER, "Load carried, the bar included.", _MASS, 0, 300, default=0.0),
    _NOTE,
)

JUMP_KINDS = {
    "countermovement_jump": "countermovement",
    "squat_jump": "squat",
    "approach_jump": "approach",
}
"""Kinds of test that are a vertical jump from the floor, with the style of each."""

_RECORDED_KINDS = ("countermovement_jump", "squat_jump", "drop_jump", "isometric_pull")


DECISIONS = Table(
    "decisions",
    "What you decided on single jumps of the recording.",
    (
        Field(
            "jump",
            Kind.WHOLE,
            "Its number in the recording, from 1.",
            low=1,
            high=100000,
            required=True,
        ),
        Field("keep", Kind.YES_NO, "Whether it counts.", required=True),
        Field("why", Kind.TEXT, "Your reason.", required=True),
    ),
)


def _test(kind: str, help_: str, *fields: Field) -> Table:
    first = Field("kind", Kind.TEXT, "The kind of test.", required=True)
    return Table("test", help_, (first, *fields), repeated=True, title=kind)


TESTS: dict[str, Table] = {
    "countermovement_jump": _test(
        "countermovement_jump",
        "A jump from standing, with a dip.",
        *_JUMP_FIELDS,
    ),
    "squat_jump": _test("squat_jump", "A jump from a held squat, without a dip.", *_JUMP_FIELDS),
    "approach_jump": _test("approach_jump", "A jump with a run-up.", *_JUMP_FIELDS),
    "drop_jump": _test(
        "drop_jump",
        "A rebound after stepping off a box.",
        _DATE,
        Field(
            "box",
            Kind.NUMBER,
            "Height of the box, or the true drop with `true_drop`.",
            _LENGTH,
            5,
            130,
            required=True,
        ),
        Field(
            "true_drop",
            Kind.YES_NO,
            "Whether `box` is the true drop, found from the landing on a force plate.",
            default=False,
        ),
        Field("method", Kind.CHOICE, "How height was measured.", choices=_METHODS, default="mat"),
        _HEIGHTS,
        _FLIGHTS,
        _FRAMES,
        _FRAME_RATE,
        Field(
            "contacts",
            Kind.NUMBERS,
            "Contact time of each attempt, as many as heights.",
            _MILLISECONDS,
            80,
            1500,
            default_words="not timed",
        ),
        Field("arms", Kind.YES_NO, "Whether the arms swung.", default=False),
        _NOTE,
    ),
    "broad_jump": _test(
        "broad_jump",
        "A standing broad jump.",
        _DATE,
        Field(
            "distances",
            Kind.NUMBERS,
            "From the line to the nearer heel, each attempt.",
            _LENGTH,
            50,
            400,
            required=True,
        ),
        Field("arms", Kind.YES_NO, "Whether the arms swung.", default=True),
        _NOTE,
    ),
    "maximum": _test(
        "maximum",
        "A one-repetition maximum that was lifted.",
        _DATE,
        _LIFT,
        Field("load", Kind.NUMBER, "On the bar, the bar included.", _MASS, 5, 600, required=True),
        _NOTE,
    ),
    "rep_set": _test(
        "rep_set",
        "A set of several repetitions, from which the maximum is estimated.",
        _DATE,
        _LIFT,
        Field("load", Kind.NUMBER, "On the bar, the bar included.", _MASS, 5, 600, required=True),
        Field("reps", Kind.WHOLE, "Repetitions done.", low=1, high=30, required=True),
        Field(
            "reserve",
            Kind.NUMBER,
            "Repetitions that the athlete felt were left; 0 is a set to failure.",
            low=0,
            high=10,
            default=0.0,
        ),
        _NOTE,
    ),
    "bar_speed": _test(
        "bar_speed",
        "The fastest repetition at each of several loads.",
        _DATE,
        _LIFT,
        Field("loads", Kind.NUMBERS, "On the bar, the bar included.", _MASS, 5, 600, required=True),
        Field(
            "speeds",
            Kind.NUMBERS,
            "Mean speed of the bar on the way up, as many as loads.",
            _SPEED,
            0.05,
            3.0,
            required=True,
        ),
        _NOTE,
    ),
    "isometric_pull": _test(
        "isometric_pull",
        "An isometric mid-thigh pull or isometric squat on a force plate.",
        _DATE,
        Field(
            "peak",
            Kind.NUMBER,
            "Peak vertical force, body weight included.",
            _NEWTON,
            300,
            12000,
            required=True,
        ),
        Field(
            "force_at",
            Kind.AFTER_MS,
            "Force at so many milliseconds after the onset, body weight included.",
            _NEWTON,
            200,
            12000,
            default_words="not measured",
        ),
        _NOTE,
    ),
    "recording": _test(
        "recording",
        "A recording from a force plate, analysed as the record is read. Sound jumps count; "
        "doubtful ones count and are noted; rejected ones are left out and said.",
        _DATE,
        Field("file", Kind.FILE, "The file.", required=True),
        Field(
            "jump",
            Kind.CHOICE,
            "What was done.",
            choices=_RECORDED_KINDS,
            default_words="found from the recording",
        ),
        Field(
            "box",
            Kind.NUMBER,
            "Height of the box of a drop jump.",
            _LENGTH,
            5,
            130,
            default_words="found from the landing",
        ),
        Field("load", Kind.NUMBER, "Load carried, the bar included.", _MASS, 0, 300, default=0.0),
        Field("arms", Kind.YES_NO, "Whether the arms swung.", default=False),
        Field(
            "rate",
            Kind.NUMBER,
            "Sampling rate, where the file does not tell.",
            _HERTZ,
            200,
            20000,
            default_words="from the file",
        ),
        Field("time", Kind.TEXT, "Name of the time column.", default_words="found"),
        Field("force", Kind.TEXT, "Name of the column of the total force.", default_words="found"),
        Field("left", Kind.TEXT, "Name of the left foot's column.", default_words="found"),
        Field("right", Kind.TEXT, "Name of the right foot's column.", default_words="found"),
        Field(
            "unit",
            Kind.CHOICE,
            "Unit of the force.",
            choices=("N", "kN", "kgf", "lbf", "BW"),
            default_words="found",
        ),
        Field(
            "first_plate",
            Kind.CHOICE,
            "Foot on the first plate, where the file does not name the feet.",
            choices=("left", "right"),
            default_words="found",
        ),
        Field(
            "resample",
            Kind.YES_NO,
            "Whether uneven time may be resampled evenly, and gaps of up to 10 ms bridged.",
            default=False,
        ),
        Field(
            "decisions",
            Kind.ROWS,
            "Jumps that you looked at yourself: a doubtful one kept, any one dropped, with the "
            "reason. One that was rejected stays out.",
            default_words="sound and doubtful jumps count",
            rows=DECISIONS,
        ),
        _NOTE,
    ),
}

_EMPHASIS = tuple(
    Field(
        quality.value,
        Kind.NUMBER,
        f"Share of an ordinary block's work that {WORDS[quality]} got: 1 for a block aimed at "
        "it, 0.3 for upkeep.",
        low=0,
        high=2,
        default=0.0,
    )
    for quality in TRAINABLE
)

BLOCK = Table(
    "block",
    "Stretches of training already done, with their emphasis.",
    (
        Field("start", Kind.DATE, "First day.", required=True),
        Field("end", Kind.DATE, "Last day.", required=True),
        *_EMPHASIS,
    ),
    repeated=True,
)

PLAN = Table(
    "plan",
    "Where planning starts from.",
    (
        Field(
            "start",
            Kind.DATE,
            "First day that may be planned.",
            default_words="the day after the latest test",
        ),
        Field("method", Kind.FILE, "A method of your own.", default_words="the method that ships"),
        Field(
            "current",
            Kind.FILE,
            "The plan that the athlete has now; a new one stays close.",
            default_words="none",
        ),
    ),
)

TARGET = Table(
    "target",
    "Tests and competitions to be at one's best on. The plan is laid back from the main one.",
    (
        Field("date", Kind.DATE, "The day.", required=True),
        Field(
            "priority", Kind.CHOICE, "How much it counts.", default="main", choices=tuple(Priority)
        ),
        Field("what", Kind.TEXT, "In words.", default=""),
    ),
    repeated=True,
)

WEEK = Table(
    "week",
    "Minutes for training on each day of the week; days left out are not free.",
    tuple(
        Field(day.value, Kind.WHOLE, f"Minutes on a {word}.", low=0, high=300, default=0)
        for day, word in zip(
            Weekday,
            ("Monday", "Tuesday", "Wednesday", "Thursday", "Friday", "Saturday", "Sunday"),
            strict=True,
        )
    ),
)


def _sport(name: str, help_: str) -> Table:
    return Table(
        name,
        help_ + " Give `weekdays` for what comes round every week, or `date` for a single day. "
        "What comes round every week is left out on blocked days.",
        (
            Field("weekdays", Kind.CHOICES, "Days of the week.", choices=tuple(Weekday)),
            Field("date", Kind.DATE, "A single day."),
            Field(
                "start",
                Kind.DATE,
                "First day of a weekly one.",
                default_words="from the beginning of the record",
            ),
            Field(
                "end", Kind.DATE, "Last day of a weekly one.", default_words="up to the last target"
            ),
            Field(
                "landings", Kind.NUMBER, "Landings from jumps in it.", low=0, high=600, default=0.0
            ),
            Field("what", Kind.TEXT, "In words.", default=""),
        ),
        repeated=True,
    )


PRACTICE = _sport("practice", "Practices of the sport: they cost landings and freshness.")
MATCH = _sport("match", "Matches: they cost landings, and legs must be fresh.")

BLOCKED = Table(
    "blocked",
    "Days on which nothing may be planned.",
    (
        Field("start", Kind.DATE, "First day.", required=True),
        Field("end", Kind.DATE, "Last day.", default_words="the first day"),
        Field("why", Kind.TEXT, "In words.", default=""),
    ),
    repeated=True,
)

GYM = Table(
    "gym",
    "What there is to train with.",
    (
        Field(
            "equipment",
            Kind.CHOICES,
            "Names as the exercises ask for them: "
            + "; ".join(f"`{name}`, {words}" for name, words in EQUIPMENT.items())
            + ".",
            default=(),
            default_words="none",
            choices=tuple(EQUIPMENT),
        ),
        Field(
            "unit",
            Kind.CHOICE,
            "What the weights are stamped in; loads are told in it.",
            default="kg",
            choices=("kg", "lb"),
        ),
        Field("bar", Kind.NUMBER, "Weight of the bar.", _MASS, 2, 40, default=20.0),
        Field(
            "plates",
            Kind.COUNTS,
            "Weights of the plates with their number (single plates).",
            _MASS,
            0.1,
            60,
            default_words="none",
        ),
        Field(
            "boxes", Kind.NUMBERS, "Heights of the boxes.", _LENGTH, 5, 160, default_words="none"
        ),
        Field(
            "dumbbells",
            Kind.NUMBERS,
            "Weights of the dumb-bells, one of each pair.",
            _MASS,
            0.5,
            100,
            default_words="none",
        ),
        Field(
            "kettlebells",
            Kind.NUMBERS,
            "Weights of the kettlebells.",
            _MASS,
            2,
            100,
            default_words="none",
        ),
        Field(
            "soft_surface",
            Kind.YES_NO,
            "Whether a forgiving surface (sprung floor, turf, mats) is at hand.",
            default=False,
        ),
    ),
)

PAIN = Table(
    "pain",
    "Pains as the athlete reports them. Saltus gives no medical advice: it stops what is risky.",
    (
        Field("date", Kind.DATE, "The day.", required=True),
        Field("place", Kind.TEXT, 'Such as "left knee".', required=True),
        Field(
            "level",
            Kind.WHOLE,
            "From 0 (none) to 10 (the worst imaginable).",
            low=0,
            high=10,
            required=True,
        ),
        Field(
            "settled_next_morning",
            Kind.YES_NO,
            "Whether it was back to usual by the next morning.",
            default_words="unknown",
        ),
    ),
    repeated=True,
)

RESTRICTION = Table(
    "restriction",
    "What may not be done.",
    (
        Field(
            "what",
            Kind.TEXT,
            'An exercise, a tag such as "depth_jump" or "landing", or "jumping".',
            required=True,
        ),
        Field("start", Kind.DATE, "First day.", required=True),
        Field("end", Kind.DATE, "Last day.", default_words="until lifted"),
        Field("why", Kind.TEXT, "By whose word, and why.", default=""),
    ),
    repeated=True,
)

AGREED = Table(
    "agreed",
    "Cautions that were read and agreed to, by the athlete or, for a minor, by a guardian too.",
    (
        Field("caution", Kind.TEXT, "What was agreed to, in words.", required=True),
        Field("date", Kind.DATE, "The day.", required=True),
        Field("by", Kind.TEXT, "Who agreed.", required=True),
    ),
    repeated=True,
)

SETS = Table(
    "sets",
    "What was done in a session, exercise by exercise.",
    (
        Field("exercise", Kind.TEXT, "The exercise, by its name in the method.", required=True),
        Field("sets", Kind.WHOLE, "Sets done.", low=1, high=30, default=1),
        Field(
            "reps",
            Kind.WHOLE,
            "Repetitions done in each; 0 where it was skipped.",
            low=0,
            high=100,
            required=True,
        ),
        Field(
            "missed",
            Kind.WHOLE,
            "Repetitions tried and missed in each.",
            low=0,
            high=100,
            default=0,
        ),
        Field("load", Kind.NUMBER, "Load.", _MASS, 0, 600, default_words="none"),
        Field(
            "box",
            Kind.NUMBER,
            "Height of the box jumped onto.",
            _LENGTH,
            5,
            160,
            default_words="none",
        ),
        Field("drop", Kind.NUMBER, "Height of the drop.", _LENGTH, 5, 130, default_words="none"),
        Field(
            "reserve",
            Kind.NUMBER,
            "Repetitions left in the last set.",
            low=0,
            high=10,
            default_words="unknown",
        ),
        Field(
            "speed",
            Kind.NUMBER,
            "Mean speed of the fastest repetition.",
            _SPEED,
            0.05,
            5.0,
            default_words="unknown",
        ),
        Field(
            "jump",
            Kind.NUMBER,
            "Height of the best jump of the set.",
            _LENGTH,
            2,
            150,
            default_words="not measured",
        ),
        Field(
            "contact",
            Kind.NUMBER,
            "Contact time of that jump.",
            _MILLISECONDS,
            80,
            1500,
            default_words="not measured",
        ),
        Field(
            "soft_landings",
            Kind.YES_NO,
            "Whether every landing was quiet and on bent legs.",
            default_words="unknown",
        ),
        Field("skipped", Kind.TEXT, "Why it was left out.", default="", default_words="done"),
        _NOTE,
    ),
)

SORENESS = Table(
    "soreness",
    "Where it was sore before the session, place by place.",
    (
        Field("place", Kind.TEXT, 'Such as "left calf".', required=True),
        Field("level", Kind.WHOLE, "From 0 to 10.", low=0, high=10, required=True),
    ),
)

SESSION = Table(
    "session",
    "The log: sessions that were done.",
    (
        Field("date", Kind.DATE, "The day.", required=True),
        Field("id", Kind.TEXT, "Its name, where it came from a phone.", default=""),
        Field(
            "planned",
            Kind.DATE,
            "Day of the plan whose session it is.",
            default_words="unknown, or not planned",
        ),
        Field("free", Kind.YES_NO, "Whether it was not planned at all.", default=False),
        Field("what", Kind.TEXT, "What it was, in words.", default=""),
        Field(
            "sleep_hours",
            Kind.NUMBER,
            "Hours of sleep in the night before.",
            low=0,
            high=24,
            default_words="unknown",
        ),
        Field(
            "soreness", Kind.ROWS, "Soreness before it.", default_words="not asked", rows=SORENESS
        ),
        Field(
            "pain",
            Kind.WHOLE,
            "Worst pain before it, from 0 to 10; the places are told under `pain`.",
            low=0,
            high=10,
            default_words="not asked",
        ),
        Field(
            "minutes", Kind.NUMBER, "How long it took.", low=1, high=600, default_words="unknown"
        ),
        Field(
            "effort",
            Kind.NUMBER,
            "How hard the whole of it felt, from 0 to 10.",
            low=0,
            high=10,
            default_words="unknown",
        ),
        Field(
            "landings",
            Kind.NUMBER,
            "Landings from jumps in it.",
            low=0,
            high=1000,
            default_words="unknown",
        ),
        Field("sets", Kind.ROWS, "What was done.", default_words="not written down", rows=SETS),
        _NOTE,
    ),
    repeated=True,
)

TABLES: tuple[Table, ...] = (
    ATHLETE,
    BODY_MASS,
    GOAL,
    *TESTS.values(),
    BLOCK,
    PLAN,
    TARGET,
    WEEK,
    PRACTICE,
    MATCH,
    BLOCKED,
    GYM,
    PAIN,
    RESTRICTION,
    AGREED,
    SESSION,
)
"""Every table, in the order in which a record is written. The table ``test`` comes once for
each kind of test."""

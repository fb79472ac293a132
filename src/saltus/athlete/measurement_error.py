"""The published error of every field method and its bias against the others.

Heights are compared with the rise of the centre of mass after take-off, ``v²/2g``: what
the push-off model computes and what a force plate's impulse gives. Each reading is thought
of as ::

    reading = rise + bias of the method for this athlete + error of the day and the attempts

The first kind of error stays the same from test to test of one athlete with one method, so
that repeating the test does not average it out, but a change over time is free of it. The
second is fresh on each test day.
"""

import math
from collections.abc import Iterator, Mapping
from contextlib import contextmanager
from dataclasses import dataclass

from saltus.athlete.isometric import isometric_error
from saltus.athlete.jump_height import frame_error_m, summary_of_attempts
from saltus.athlete.load_velocity import maximum_from_bar_speed
from saltus.athlete.observations import (
    BarSpeedSet,
    DropJump,
    Jump,
    JumpMethod,
    Maximum,
    Observation,
    RepSet,
)
from saltus.athlete.strength import MAXIMUM_CV, maximum_from_reps
from saltus.errors import TestError

__all__ = [
    "METHODS",
    "DropJumpError",
    "HeightError",
    "PublishedError",
    "attempt_sd_m",
    "drop_jump_error",
    "isometric_error",
    "jump_error",
    "maximum_from",
    "naming",
    "summary_m",
    "true_drop",
]

ATTEMPT_CV = 0.03
"""Between attempts of one session: 2.4 to 4.6 % (Markovic et al. 2004, JSCR 18:551-555)."""

DAY_CV = 0.03
"""Form of the day. With three attempts it makes 3.5 % from day to day; published: smallest
detectable difference above 7 %, so 2.5 % or more (PMC5969001), to 5.8 % (PMC7039490)."""

LOADED_TYPICAL_ERROR_M = 0.015
"""Of a loaded jump, 5 to 10 % (Lindberg et al. 2021a, PLoS ONE 16(2):e0245791)."""

CONTACT_ATTEMPT_CV = 0.04
CONTACT_DAY_CV = 0.04
"""Of the contact time of a drop jump. From RSI 2.1 to 3.1 % with heights of 2.8 % within a day
(Markwick et al. 2015, IJSPP 10:482-488), doubled from day to day (a judgement)."""

UNKNOWN_FRAME_RATE_HZ = 30.0
"""A film of unknown rate is given the error of the slowest common one."""

_EVENTS_SD_FRAMES = math.sqrt(2 * (1 / 12 + 1 / 4))
# Take-off and landing each fall anywhere within a frame (1/12) and are picked half a frame off
# as often as not (1/4).

LONGEST_CONTACT_S = 1.5
"""s; a longer contact is no drop jump."""

TRUE_DROP_SD_M = 0.01
"""m; of a drop found from the landing on the plate."""


@dataclass(frozen=True, slots=True)
class PublishedError:
    """What is published of one way to measure a jump.

    Parameters
    ----------
    bias_m : float
        Mean reading less the rise of the centre of mass after take-off, m.
    bias_sd_m : float
        How far the bias differs between athletes and instruments, m.
    reading_sd_m : float
        Error of one reading beside the athlete's own variation, m.
    equation : str
        How height is had.
    source : str
        Where the figures come from.
    """

    bias_m: float
    bias_sd_m: float
    reading_sd_m: float
    equation: str
    source: str


_FLIGHT_SOURCE = (
    "+1.7 cm against impulse (Baumgart et al. 2017, Asian J Sports Med 8(4):e12921); 0.5 to 2 cm "
    "(Linthorne 2001, from memory); the gap between bent and straight landings differs between "
    "people (Nishioka et al. 2024, doi 10.1123/ijspp.2024-0063)"
)

METHODS: Mapping[JumpMethod, PublishedError] = {
    JumpMethod.PLATE_IMPULSE: PublishedError(
        0.0,
        0.003,
        0.005,
        "v²/2g, v from the impulse less body weight",
        "the definition itself; weighing and onset, to which it is most sensitive (Owen et al. "
        "2014, JSCR 28:1552-1558), are given half a centimetre",
    ),
    JumpMethod.PLATE_FLIGHT: PublishedError(0.012, 0.008, 0.002, "g t²/8", _FLIGHT_SOURCE),
    JumpMethod.MAT: PublishedError(
        0.012,
        0.012,
        0.004,
        "g t²/8",
        _FLIGHT_SOURCE + "; optical cells SEM 0.8 cm, the athlete's own variation included "
        "(PMC5377563); mats differ among themselves",
    ),
    JumpMethod.FILM: PublishedError(
        0.012,
        0.010,
        0.0,
        "g t²/8, t = frames / rate",
        _FLIGHT_SOURCE + "; at 240 frames a second as good as optical cells (Balsalobre-Fernández "
        "et al. 2014, JSCR 28:528-533); the error of the frames is added for the film's rate",
    ),
    # The finger rises from flat-footed reach to the top by the rise after take-off, plus the
    # rise from flat feet to toe-off (about 11 to 13 cm: double integration from standing reads
    # 12 to 14 cm above the other methods), less what the jumper does not reach out at the top:
    # 2 to 4 cm, timing, a bent trunk, a shoulder that is not pushed up.
    JumpMethod.REACH: PublishedError(
        0.09,
        0.03,
        0.01,
        "height touched less standing reach, heels down",
        "derived: heel-rise about 12 cm (up to 14 cm in Baumgart et al. 2017; 27 to 31 % of the "
        "height in PMC5377563), less 2 to 4 cm not reached out (reach devices against "
        "displacement from standing: Leard et al. 2007, JSCR 21:1296-1299; Buckthorpe et al. "
        "2012, J Sports Sci 30:63-69; both from memory)",
    ),
}
"""Error and bias of each method."""


@dataclass(frozen=True, slots=True)
class HeightError:
    """How far a reading may lie from the rise of the centre of mass after take-off.

    Parameters
    ----------
    bias_m : float
        Expected excess of the reading, m.
    bias_sd_m : float
        Standard deviation of that excess between athletes, m; the same for every test of one
        athlete with one method.
    sd_m : float
        Standard deviation from test to test, m, of :func:`summary_m` of the attempts.
    """

    bias_m: float
    bias_sd_m: float
    sd_m: float


@dataclass(frozen=True, slots=True)
class DropJumpError:
    """Errors of a drop jump.

    Parameters
    ----------
    height_m, contact_s : float, float or None
        Mean rebound height as read, m, and contact time, s; None where it was not timed.
    height : HeightError
        Of the rebound height.
    contact_sd_s : float
        Standard deviation of the contact time from test to test, s; 0 without contact times.
    drop_m, drop_sd_m : float
        What the centre of mass truly fell, and the standard deviation of that, m.
    """

    height_m: float
    contact_s: float | None
    height: HeightError
    contact_sd_s: float
    drop_m: float
    drop_sd_m: float


@contextmanager
def naming(test: Observation) -> Iterator[None]:
    """Put the place and the day of `test` before what is wrong with it.

    Raises
    ------
    TestError
        If one is raised inside: the same, with its place.
    """
    try:
        yield
    except TestError as error:
        place = f"{test.label}, " if test.label else ""
        raise TestError(f"{place}{test.date.isoformat()}: {error}") from error


def summary_m(jump: Jump) -> float:
    """Height of a jump test as read, m: the mean of its attempts.

    Missed attempts are left out; see :func:`saltus.athlete.jump_height.summary_of_attempts`.
    """
    return summary_of_attempts(jump.heights_m)[0]


def _rate(frame_rate_hz: float | None) -> float:
    return UNKNOWN_FRAME_RATE_HZ if frame_rate_hz is None else frame_rate_hz


def _reading_sd_m(height_m: float, method: JumpMethod, frame_rate_hz: float | None) -> float:
    sd = METHODS[method].reading_sd_m
    if method is JumpMethod.FILM:
        sd = math.hypot(sd, _EVENTS_SD_FRAMES * frame_error_m(height_m, _rate(frame_rate_hz)))
    return sd


def attempt_sd_m(height_m: float, method: JumpMethod, frame_rate_hz: float | None) -> float:
    """Published standard deviation between the attempts of a day, m: variation and reading."""
    return math.hypot(ATTEMPT_CV * height_m, _reading_sd_m(height_m, method, frame_rate_hz))


def _height_error(
    height_m: float,
    n: int,
    method: JumpMethod,
    frame_rate_hz: float | None,
    day_sd_m: float,
    own_attempts: float = 1.0,
) -> HeightError:
    published = METHODS[method]
    bias_sd = published.bias_sd_m
    if method is JumpMethod.FILM:
        # "First frame off the ground" is a habit: it shifts every jump of one coach alike.
        bias_sd = math.hypot(bias_sd, 0.5 * frame_error_m(height_m, _rate(frame_rate_hz)))
    attempt = own_attempts * attempt_sd_m(height_m, method, frame_rate_hz)
    return HeightError(published.bias_m, bias_sd, math.hypot(day_sd_m, attempt / math.sqrt(n)))


def jump_error(jump: Jump, *, own_attempts: float = 1.0) -> HeightError:
    """Error of a jump test, read as :func:`summary_m`.

    Parameters
    ----------
    jump : Jump
        Of any style, with any load, arms or run-up.
    own_attempts : float
        How much this athlete's attempts of a day differ, over what is published.

    Returns
    -------
    HeightError
        Bias of the method, its spread between athletes, and the error from test to test: the
        form of the day, and the attempts' own variation and reading error over the square
        root of their number.

    Raises
    ------
    TestError
        If an attempt is not a positive height, or the frame rate is impossible.
    """
    with naming(jump):
        height, n = summary_of_attempts(jump.heights_m)
        day = DAY_CV * height
        if jump.load_kg > 0:
            day = max(day, LOADED_TYPICAL_ERROR_M)
        return _height_error(height, n, jump.method, jump.frame_rate_hz, day, own_attempts)


def true_drop(box_m: float) -> tuple[float, float]:
    """Fall of the centre of mass when stepping off a box, and its standard deviation, m.

    People bend before they leave the box: 10 % less than nominal from 0.30 m and 14 % less
    from 0.40 m (McMahon et al. 2021, Biomechanics 1(2):178-189). The share is carried on in
    a straight line, between 4 and 20 %, and differs between people by about 5 points (a
    judgement).
    """
    lost = min(max(0.10 + 0.4 * (box_m - 0.30), 0.04), 0.20)
    return box_m * (1 - lost), 0.05 * box_m


def drop_jump_error(test: DropJump) -> DropJumpError:
    """Errors of a drop jump: rebound height, contact time and the drop itself.

    Raises
    ------
    TestError
        If attempts are missing or impossible, or contact times and heights differ in number.
    """
    with naming(test):
        height, n = summary_of_attempts(test.heights_m)
        contact, contact_sd = _contact(test) if test.contacts_s else (None, 0.0)
        drop, drop_sd = (test.drop_m, TRUE_DROP_SD_M) if test.true_drop else true_drop(test.drop_m)
        error = _height_error(height, n, test.method, test.frame_rate_hz, DAY_CV * height)
    return DropJumpError(height, contact, error, contact_sd, drop, drop_sd)


def _contact(test: DropJump) -> tuple[float, float]:
    """Mean contact time and its standard deviation from test to test, s."""
    n = len(test.contacts_s)
    if n != len(test.heights_m):
        raise TestError(
            f"{len(test.heights_m)} rebound heights but {n} contact times: "
            "give one contact time for each attempt, or none at all."
        )
    if not all(0 < c <= LONGEST_CONTACT_S for c in test.contacts_s):
        raise TestError(
            f"Contact times of {list(test.contacts_s)} s cannot all be right: give them in "
            f"seconds, more than 0 and at most {LONGEST_CONTACT_S:g}."
        )
    contact = sum(test.contacts_s) / n
    attempt = CONTACT_ATTEMPT_CV * contact
    if test.method is JumpMethod.FILM:
        attempt = math.hypot(attempt, _EVENTS_SD_FRAMES / _rate(test.frame_rate_hz))
    return contact, math.hypot(CONTACT_DAY_CV * contact, attempt / math.sqrt(n))


def maximum_from(test: Maximum | RepSet | BarSpeedSet) -> tuple[float, float]:
    """One-repetition maximum that a strength test points to, and its error.

    Parameters
    ----------
    test : Maximum, RepSet or BarSpeedSet
        Of any lift.

    Returns
    -------
    one_rm_kg : float
        On the bar, kg.
    sd_log : float
        Standard deviation of its logarithm, day-to-day variation included.

    Raises
    ------
    TestError
        If the test cannot be used: more than 10 repetitions, speeds that do not fall with
        load, and the like. The sentence says what to do instead.
    """
    with naming(test):
        match test:
            case Maximum():
                if not test.load_kg > 0:
                    raise TestError(f"A maximum of {test.load_kg:g} kg is no lift: give the load.")
                return test.load_kg, MAXIMUM_CV
            case RepSet():
                return maximum_from_reps(test)
            case BarSpeedSet():
                return maximum_from_bar_speed(test)

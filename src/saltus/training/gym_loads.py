"""Loads that a gym can make: bars with plates, dumbbells, kettlebells, machines."""

from collections.abc import Mapping
from dataclasses import dataclass
from functools import lru_cache

from saltus.quantities import POUND
from saltus.training.exercises import Carrier, Exercise
from saltus.training.situation import Gym

__all__ = [
    "Loading",
    "has_equipment",
    "load_below",
    "loadable",
    "missing_equipment",
    "put_together",
    "side_text",
]

_HEAVIEST_SIDE_G = 300_000
_SAME_KG = 0.001
_MACHINE_STEP_KG = 5.0
_MACHINE_STEP_LB = 10.0
_MACHINE_STEPS = 80
_CARRIED_BY = {
    Carrier.BARBELL: "barbell",
    Carrier.TRAP_BAR: "trap_bar",
    Carrier.DUMBBELLS: "dumbbells",
    Carrier.DUMBBELL: "dumbbells",
    Carrier.KETTLEBELL: "kettlebell",
    Carrier.MACHINE: "leg_press",
}


@dataclass(frozen=True, slots=True)
class Loading:
    """A load as it is put together.

    Parameters
    ----------
    total_kg : float
        Whole load, bar included, kg.
    carrier : Carrier
        What holds it.
    plates_kg : tuple of float
        Plates on each side of a bar, the heaviest first, kg.
    """

    total_kg: float
    carrier: Carrier
    plates_kg: tuple[float, ...] = ()


def has_equipment(gym: Gym, name: str) -> bool:
    """Whether a gym has a piece of equipment, named or shown by its weights or heights."""
    shown: Mapping[str, bool] = {
        "dumbbells": bool(gym.dumbbells_kg),
        "kettlebell": bool(gym.kettlebells_kg),
        "boxes": bool(gym.boxes_m),
    }
    return shown.get(name, name in gym.equipment)


def missing_equipment(exercise: Exercise, gym: Gym) -> tuple[str, ...]:
    """Names of the equipment that an exercise needs and a gym lacks, in alphabetical order."""
    return tuple(sorted(name for name in exercise.equipment if not has_equipment(gym, name)))


def loadable(gym: Gym, carrier: Carrier) -> tuple[float, ...]:
    """Return every load that a gym can make on a carrier, lightest first, kg.

    Bars take plates in pairs, one of each pair on each side; collars are not counted. A
    trap bar is taken to weigh as much as the bar.
    """
    return tuple(loading.total_kg for loading in _loadings(gym, carrier))


def load_below(gym: Gym, carrier: Carrier, target_kg: float) -> Loading | None:
    """Find the heaviest load on a carrier that is not above a target; None if all are."""
    tolerance = 1e-6
    best = None
    for loading in _loadings(gym, carrier):
        if loading.total_kg > target_kg + tolerance:
            break
        best = loading
    return best


def put_together(exercise: Exercise, load_kg: float, gym: Gym) -> Loading | None:
    """Say how a gym makes the load of an exercise; None where it cannot make it (any more)."""
    carriers = () if exercise.load is None else exercise.load.on
    for carrier in carriers:
        loading = load_below(gym, carrier, load_kg)
        if loading is not None and abs(loading.total_kg - load_kg) < _SAME_KG:
            return loading
    return None


def side_text(loading: Loading, gym: Gym) -> str:
    """Say how a load is put together, in the unit of the gym: "60 kg: 20 a side"."""
    per = gym.unit_kg
    total = gym.told(loading.total_kg)
    if loading.carrier in (Carrier.BARBELL, Carrier.TRAP_BAR):
        if not loading.plates_kg:
            return f"{total}: the bar alone"
        plates = " + ".join(f"{plate / per:.4g}" for plate in loading.plates_kg)
        return f"{total}: {plates} a side"
    if loading.carrier is Carrier.DUMBBELLS:
        return f"{total}: two of {loading.total_kg / 2 / per:.4g}"
    return total


def _loadings(gym: Gym, carrier: Carrier) -> tuple[Loading, ...]:
    if not has_equipment(gym, _CARRIED_BY[carrier]):
        return ()
    if carrier in (Carrier.BARBELL, Carrier.TRAP_BAR):
        sides = _sides(tuple(sorted(gym.plates_kg.items(), reverse=True)))
        return tuple(Loading(gym.bar_kg + 2 * sum(side), carrier, side) for side in sides)
    if carrier is Carrier.MACHINE:
        step = _MACHINE_STEP_LB * POUND if gym.unit == "lb" else _MACHINE_STEP_KG
        return tuple(Loading(step * i, carrier) for i in range(1, _MACHINE_STEPS + 1))
    weights = gym.kettlebells_kg if carrier is Carrier.KETTLEBELL else gym.dumbbells_kg
    times = 2 if carrier is Carrier.DUMBBELLS else 1
    return tuple(Loading(times * weight, carrier) for weight in sorted(set(weights)))


@lru_cache(maxsize=64)
def _sides(plates: tuple[tuple[float, int], ...]) -> tuple[tuple[float, ...], ...]:
    """Every weight that one side can carry, lightest first, each with the fewest plates."""
    best: dict[int, tuple[float, ...]] = {0: ()}
    for weight, count in plates:
        reached = dict(best)
        for side in best.values():
            for number in range(1, count // 2 + 1):
                more = (*side, *(weight,) * number)
                grams = round(1000 * sum(more))
                if grams > _HEAVIEST_SIDE_G:
                    break
                if grams not in reached or len(more) < len(reached[grams]):
                    reached[grams] = more
        best = reached
    return tuple(best[grams] for grams in sorted(best))

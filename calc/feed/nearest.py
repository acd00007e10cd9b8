"""The mix nearest to the shares a grower would like that meets a moisture and a C:N.

Let pᵢ be the share of material i in the mix before water, Σp = 1. Water and carbon balance make both targets linear in
p:

    moisture   Σ pᵢ·(mᵢ − G) = 0    (≤ 0 when water may be added: what is missing is sprinkled in)
    C:N        Σ pᵢ·(1 − mᵢ)·Nᵢ·(Rᵢ − R) = 0

and "nearest" is the least sum of squared differences from the shares wanted, over p ≥ 0. Amounts that are fixed keep
their proportions to each other, so together they are one more material whose share is free.

With at most a handful of materials the answer is found by trying every combination of materials that could be in the
mix: for each, the nearest point that meets the targets is a linear equation of three unknowns, and the optimum is the
nearest of those that have no negative amount. That is exact, takes milliseconds, and cannot stop half way.
"""

from collections.abc import Callable, Sequence
from dataclasses import dataclass
from itertools import combinations

CLOSE = 1e-9  # shares and scaled residuals below this are rounding
MOST_DILUTED = 0.05  # fixed amounts are never less than a twentieth of the mix: past that a recipe is no recipe


@dataclass(frozen=True)
class Material:
    """One material offered to the mix: moisture [-] wet basis, nitrogen [-] of dry matter, C:N [-], the share wanted
    [-],
    and its mass [kg] when that is fixed."""

    moisture: float
    nitrogen: float
    carbon_nitrogen: float
    wanted: float
    fixed_mass: float | None = None


@dataclass(frozen=True)
class Nearest:
    """masses [kg] in the order given, water [kg] to add, moisture [-] and C:N [-] reached (None: the mix has no fixed
    total), and what could have been reached: the moistures of all mixes that meet the C:N held, the C:N of all that
    meet the moisture held. gave_way names the targets that could not be met.
    """

    masses: tuple[float, ...]
    water: float
    moisture: float
    carbon_nitrogen: float
    moisture_range: tuple[float, float] | None
    carbon_nitrogen_range: tuple[float, float] | None
    gave_way: tuple[str, ...]


@dataclass(frozen=True)
class _Part:
    """A share that may move: one free material, or all the fixed ones together. Everything per kg of it as it lies."""

    moisture: float
    nitrogen: float
    carbon: float
    wanted: float
    weight: float
    least: float


def nearest_mix(
    materials: Sequence[Material],
    moisture: float | None = None,
    carbon_nitrogen: float | None = None,
    total_mass: float | None = None,
    allow_water: bool = True,
) -> Nearest:
    """Amounts nearest to the wanted shares that meet a moisture and a C:N [Nearest].

    materials: Material, at most eight; moisture [-] below 1 and carbon_nitrogen [-] are the targets, None is "any";
    total_mass [kg] of the finished mix, water included, is used when no material has a fixed mass.
    When both targets cannot be met together, moisture is held and C:N comes as near as it can: a heap that is too wet
    goes sour within days, while a C:N somewhat off only slows it or loses some nitrogen. When no mix has the moisture
    at all, C:N is held and moisture comes as near as it can.
    """
    fixed = [material for material in materials if material.fixed_mass is not None]
    free = [material for material in materials if material.fixed_mass is None]
    parts = [_part(material) for material in free]
    if fixed:
        parts.append(_together(fixed))
    reached_moisture, reached_ratio, gave_way = _reachable_targets(parts, moisture, carbon_nitrogen, allow_water)
    shares = _nearest_shares(parts, reached_moisture, reached_ratio, allow_water)
    water = _water_per_mass(parts, shares, reached_moisture) if allow_water else 0.0
    if fixed:
        size = sum(_fixed_masses(fixed)) / shares[-1]
    else:
        assert total_mass is not None  # only materials of fixed mass need none
        size = total_mass / (1 + water)
    free_masses = iter([share * size for share in shares])
    masses = tuple(next(free_masses) if material.fixed_mass is None else material.fixed_mass for material in materials)
    final_moisture = (sum(p * part.moisture for p, part in zip(shares, parts)) + water) / (1 + water)
    return Nearest(
        masses=masses,
        water=water * size,
        moisture=final_moisture,
        carbon_nitrogen=_ratio(parts, shares),
        moisture_range=moisture_range(parts, reached_ratio, allow_water),
        carbon_nitrogen_range=carbon_nitrogen_range(parts, reached_moisture, allow_water),
        gave_way=gave_way,
    )


def _part(material: Material) -> _Part:
    nitrogen = (1 - material.moisture) * material.nitrogen
    return _Part(material.moisture, nitrogen, nitrogen * material.carbon_nitrogen, material.wanted, 1.0, 0.0)


def _fixed_masses(materials: Sequence[Material]) -> list[float]:
    return [material.fixed_mass for material in materials if material.fixed_mass is not None]


def _together(fixed: Sequence[Material]) -> _Part:
    """The fixed materials as one part. Its squared distance Σ(fₖ·q − sₖ)² over the materials' own parts fₖ of it equals
    (Σfₖ²)·(q − Σfₖsₖ/Σfₖ²)² plus a constant."""
    total = sum(_fixed_masses(fixed))
    portions = [mass / total for mass in _fixed_masses(fixed)]
    single = [_part(material) for material in fixed]
    weight = sum(portion**2 for portion in portions)
    return _Part(
        moisture=sum(f * part.moisture for f, part in zip(portions, single)),
        nitrogen=sum(f * part.nitrogen for f, part in zip(portions, single)),
        carbon=sum(f * part.carbon for f, part in zip(portions, single)),
        wanted=sum(f * part.wanted for f, part in zip(portions, single)) / weight,
        weight=weight,
        least=MOST_DILUTED,
    )


def _ratio(parts: Sequence[_Part], shares: Sequence[float]) -> float:
    carbon = sum(share * part.carbon for share, part in zip(shares, parts))
    return carbon / sum(share * part.nitrogen for share, part in zip(shares, parts))


def _water_per_mass(parts: Sequence[_Part], shares: Sequence[float], target: float | None) -> float:
    """Water to add per mass of dry-side materials [kg/kg]; none when the mix is wet enough or no moisture is asked."""
    if target is None:
        return 0.0
    short = sum(share * (target - part.moisture) for share, part in zip(shares, parts))
    return short / (1 - target) if short > CLOSE else 0.0


# --- what can be reached -------------------------------------------------------------------------------------------


def _corners(parts: Sequence[_Part]) -> list[list[float]]:
    """Shares at the corners of everything that may be mixed: each part alone, with the least of what must be in it."""
    floor = sum(part.least for part in parts)
    corners = []
    for chosen in range(len(parts)):
        shares = [part.least for part in parts]
        shares[chosen] += 1 - floor
        corners.append(shares)
    return corners


def _edge_crossings(corners: Sequence[list[float]], value_of: Callable[[Sequence[float]], float]) -> list[list[float]]:
    """Points on the edges between corners where a linear value_of(shares) is zero, corners at zero included."""
    values = [value_of(corner) for corner in corners]
    points = [corner for corner, value in zip(corners, values) if abs(value) <= CLOSE]
    for first, second in combinations(range(len(corners)), 2):
        if values[first] * values[second] < 0:
            way = values[first] / (values[first] - values[second])
            points.append([a + way * (b - a) for a, b in zip(corners[first], corners[second])])
    return points


def _moisture_of(parts: Sequence[_Part]) -> Callable[[Sequence[float]], float]:
    return lambda shares: sum(share * part.moisture for share, part in zip(shares, parts))


def carbon_nitrogen_range(
    parts: Sequence[_Part], moisture: float | None, allow_water: bool
) -> tuple[float, float] | None:
    """Lowest and highest C:N of all mixes with this moisture [-], or None when there are none.

    Both ends lie at a corner of the set, so only single parts and pairs need to be looked at.
    """
    corners = _corners(parts)
    if moisture is None:
        points = corners
    else:
        wet = _moisture_of(parts)
        points = _edge_crossings(corners, lambda shares: wet(shares) - moisture)
        if allow_water:
            points += [corner for corner in corners if wet(corner) - moisture < 0]
    ratios = [_ratio(parts, point) for point in points]
    return (min(ratios), max(ratios)) if ratios else None


def moisture_range(parts: Sequence[_Part], ratio: float | None, allow_water: bool) -> tuple[float, float] | None:
    """Driest and wettest moisture of all mixes with this C:N [-], or None when there are none; 1 with water."""
    corners = _corners(parts)
    if ratio is None:
        points = corners
    else:
        points = _edge_crossings(
            corners, lambda shares: sum(s * (part.carbon / ratio - part.nitrogen) for s, part in zip(shares, parts))
        )
    moistures = [_moisture_of(parts)(point) for point in points]
    if not moistures:
        return None
    return (min(moistures), 1.0 if allow_water else max(moistures))


def _clamped(value: float, bounds: tuple[float, float] | None) -> tuple[float, bool]:
    assert bounds  # of mixes that there are
    low, high = bounds
    slack = CLOSE * max(1.0, abs(value))
    if low - slack <= value <= high + slack:
        return min(max(value, low), high), False
    return (low if value < low else high), True


def _reachable_targets(
    parts: Sequence[_Part], moisture: float | None, ratio: float | None, allow_water: bool
) -> tuple[float | None, float | None, tuple[str, ...]]:
    """The targets themselves, or the nearest that can be reached, and the names of those that had to give way."""
    if moisture is not None:
        _, impossible = _clamped(moisture, moisture_range(parts, None, allow_water))
        if impossible:
            held: float | None = None
            ratio_moved = False
            if ratio is not None:
                held, ratio_moved = _clamped(ratio, carbon_nitrogen_range(parts, None, allow_water))
            nearest, _ = _clamped(moisture, moisture_range(parts, held, allow_water))
            return nearest, held, ("target_moisture",) + (("target_carbon_nitrogen",) if ratio_moved else ())
    if ratio is None:
        return moisture, None, ()
    nearest, moved = _clamped(ratio, carbon_nitrogen_range(parts, moisture, allow_water))
    return moisture, nearest, ("target_carbon_nitrogen",) if moved else ()


# --- the nearest shares --------------------------------------------------------------------------------------------


def _nearest_shares(
    parts: Sequence[_Part], moisture: float | None, ratio: float | None, allow_water: bool
) -> list[float]:
    """Shares of the parts, summing to 1, nearest to the wanted ones among all mixes that meet both targets."""
    rows = [([1.0] * len(parts), 1.0)]
    if ratio is not None:
        richest = max(part.carbon for part in parts)
        rows.append(([(part.carbon - ratio * part.nitrogen) / richest for part in parts], 0.0))
    wet = None if moisture is None else ([part.moisture - moisture for part in parts], 0.0)
    systems = [rows] if wet is None else [[*rows, wet]]
    if wet is not None and allow_water:
        systems.append(rows)  # water makes up for a mix that is too dry
    best: list[float] | None = None
    least = float("inf")
    for count in range(len(parts), 0, -1):
        for members in combinations(range(len(parts)), count):
            for system in systems:
                shares = _projected(parts, members, system)
                if shares is None or any(s < part.least - CLOSE for s, part in zip(shares, parts)):
                    continue
                if wet is not None and sum(s * w for s, w in zip(shares, wet[0])) > CLOSE:
                    continue
                distance = sum(part.weight * (s - part.wanted) ** 2 for s, part in zip(shares, parts))
                if distance < least - 1e-15:
                    best, least = shares, distance
    assert best is not None  # the targets were made ones that can be reached
    return [max(share, part.least) for share, part in zip(best, parts)]


def _projected(
    parts: Sequence[_Part], members: Sequence[int], rows: Sequence[tuple[Sequence[float], float]]
) -> list[float] | None:
    """Nearest point to the wanted shares on the rows' equations when only the members differ from their least share.

    Minimise ½Σwᵢ(pᵢ − sᵢ)² with A·p = b: p = s + W⁻¹Aᵀλ, (A·W⁻¹·Aᵀ)·λ = b − A·s. None when the equations contradict.
    """
    shares = [part.least for part in parts]
    for member in members:
        shares[member] = parts[member].wanted
    right = [b - sum(a * share for a, share in zip(row, shares)) for row, b in rows]
    matrix = [[sum(one[j] * other[j] / parts[j].weight for j in members) for other, _ in rows] for one, _ in rows]
    multipliers = solve_symmetric(matrix, right)
    if multipliers is None:
        return None
    for member in members:
        pull = sum(multiplier * row[member] for multiplier, (row, _) in zip(multipliers, rows))
        shares[member] += pull / parts[member].weight
    # A contradiction between dependent equations, or one lost to rounding, shows as a residual here.
    if any(abs(sum(a * s for a, s in zip(row, shares)) - b) > CLOSE for row, b in rows):
        return None
    return shares


def solve_symmetric(matrix: Sequence[Sequence[float]], right: Sequence[float]) -> list[float] | None:
    """Solve a small symmetric, positive semi-definite system; rows that depend on others get a zero unknown.

    Gaussian elimination on the largest remaining diagonal. None when the system is all zero but its right side is not.
    >>> [round(value, 9) for value in solve_symmetric([[2.0, 1.0], [1.0, 3.0]], [3.0, 5.0])]
    [0.8, 1.4]
    """
    size = len(right)
    rows = [[*list(row), value] for row, value in zip(matrix, right)]
    scale = max(row[index] for index, row in enumerate(rows)) or 1.0
    open_rows, done = set(range(size)), []
    while open_rows:
        pivot = max(open_rows, key=lambda index: rows[index][index])
        if rows[pivot][pivot] <= 1e-14 * scale:
            break
        open_rows.remove(pivot)
        done.append(pivot)
        for other in open_rows:
            factor = rows[other][pivot] / rows[pivot][pivot]
            rows[other] = [a - factor * b for a, b in zip(rows[other], rows[pivot])]
    if not done:
        return None
    solution = [0.0] * size
    for pivot in reversed(done):
        known = sum(rows[pivot][index] * solution[index] for index in done if index != pivot)
        solution[pivot] = (rows[pivot][size] - known) / rows[pivot][pivot]
    return solution

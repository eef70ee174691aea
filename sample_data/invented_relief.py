"""Ulvmark's relief: hills and fells, valleys pressed into them, gullies, benches and hollows. All invented.

Places in the design are (east, north) in km from the south-west corner; everything else is metres.
"""

from __future__ import annotations

import heapq
import math
from dataclasses import dataclass

import numpy as np
import numpy.typing as npt
from scipy import ndimage
from scipy.interpolate import CubicSpline, PchipInterpolator
from scipy.spatial import cKDTree

Array = npt.NDArray[np.float64]
Mask = npt.NDArray[np.bool_]

SIDE_M = 20_000.0
COARSE_M = 80.0
START = 6690


@dataclass(frozen=True, slots=True, kw_only=True)
class Valley:
    """A valley as ice left it: a line with the height of its floor and the shape of its sides.

    Attributes
    ----------
    points : tuple of (east_km, north_km, floor_m)
        From its head to its mouth.
    floor_half_m, side_m, side_height_m : float
        Half the floor's width; how far the side takes to rise by the height.
    """

    points: tuple[tuple[float, float, float], ...]
    floor_half_m: float
    side_m: float
    side_height_m: float = 420.0


MAIN_VALLEY = Valley(
    points=(
        (-0.6, 18.5, 442), (1.5, 17.3, 428), (3.2, 15.9, 418), (5.0, 14.7, 412), (6.6, 13.5, 396), (8.4, 12.3, 372),
        (10.0, 10.8, 359), (11.5, 9.4, 351), (13.1, 8.2, 344), (14.6, 6.7, 322), (16.2, 5.2, 302), (18.2, 4.0, 295),
        (20.6, 2.4, 284),
    ),
    floor_half_m=260.0, side_m=1500.0,
)  # fmt: skip
SIDE_VALLEYS = (
    Valley(
        points=((1.6, 8.2, 590), (3.2, 6.9, 520), (5.2, 6.1, 470), (7.4, 5.4, 446), (9.6, 4.5, 416), (12.0, 4.0, 370),
                (14.2, 4.4, 334), (16.2, 5.2, 302)),
        floor_half_m=190.0, side_m=1150.0, side_height_m=330.0,
    ),
    Valley(
        points=((16.2, 16.6, 590), (15.2, 14.6, 516), (14.2, 12.6, 450), (13.2, 10.8, 396), (11.7, 9.3, 351)),
        floor_half_m=170.0, side_m=1450.0, side_height_m=330.0,
    ),
    Valley(
        points=((7.6, 19.2, 650), (6.5, 17.6, 560), (5.6, 16.2, 470), (4.4, 15.1, 414)),
        floor_half_m=90.0, side_m=900.0, side_height_m=380.0,
    ),
)  # fmt: skip

# Fells and hills: east_km, north_km, height above the country round about, reach_km east-west and north-south.
HILLS = (
    (10.6, 15.6, 520, 3.4, 2.6), (13.2, 16.9, 300, 2.8, 2.4), (6.0, 9.7, 290, 3.0, 1.8), (9.6, 7.6, 190, 2.8, 1.5),
    (2.6, 11.6, 260, 2.4, 2.0), (1.0, 3.6, 260, 3.2, 2.6), (7.2, 1.0, 170, 4.0, 2.2), (18.0, 10.6, 150, 2.6, 3.2),
    (2.2, 19.9, 330, 3.4, 2.0), (18.6, 17.4, 230, 2.6, 3.0), (13.6, 1.2, 60, 2.6, 1.6),
)  # fmt: skip
# The face that slides: east_km, north_km, reach_km of the stretch where the main valley's northern side is steep.
STEEP_FACE = (9.1, 13.0, 1.35)
# Where that side lies back instead, so that a trail along its foot is safe.
EASY_SIDES = ((14.5, 8.5, 1.7), (11.3, 10.9, 0.9))

# Hollows that hold water: east_km, north_km, half length and half width in m, bearing of the length, depth.
HOLLOWS = (
    (3.9, 15.35, 1750, 560, 128, 26), (12.75, 8.45, 900, 300, 128, 14), (6.3, 5.75, 720, 300, 110, 14),
    (8.6, 4.95, 430, 210, 112, 9), (4.1, 6.5, 330, 190, 120, 8), (15.35, 14.9, 420, 190, 25, 9),
    (12.2, 15.9, 230, 150, 80, 8), (7.0, 9.4, 210, 140, 60, 7), (17.4, 8.1, 380, 240, 20, 9),
    (1.6, 13.6, 260, 170, 40, 8), (10.6, 2.0, 300, 180, 75, 8), (11.7, 12.8, 560, 330, 80, 11),
    (18.6, 13.4, 240, 150, 160, 7),
)  # fmt: skip


def places(cell_m: float) -> tuple[Array, Array]:
    """East and north of every cell's middle, km from the south-west corner; rows run south."""
    middle = (np.arange(round(SIDE_M / cell_m)) + 0.5) * cell_m / 1000.0
    return np.meshgrid(middle, middle[::-1])


def bent_places(cell_m: float) -> tuple[Array, Array]:
    """The same, gently bent, so that valleys wind more than their design."""
    east, north = places(cell_m)
    bend = [0.22 * noise(east.shape, cell_m, (1200.0, 4500.0), 2.2, start) for start in (3, 4)]
    return east + bend[0], north + bend[1]


def noise(shape: tuple[int, int], cell_m: float, waves_m: tuple[float, float], power: float, start: int) -> Array:
    """Seeded noise between a shortest and a longest wave, of mean 0 and spread 1."""
    rng = np.random.default_rng([START, start])
    spectrum = np.fft.rfft2(rng.standard_normal(shape))
    rate = np.hypot(np.fft.fftfreq(shape[0])[:, None], np.fft.rfftfreq(shape[1])[None, :]) / cell_m
    rate[0, 0] = 1.0
    shortest_m, longest_m = waves_m
    band = np.exp(-((rate * shortest_m) ** 2) - (1.0 / (rate * longest_m)) ** 4)
    made = np.fft.irfft2(spectrum * band * rate**-power, s=shape)
    made -= made.mean()
    return np.asarray(made / made.std())


def smooth_min(first: Array, second: Array, softness: float) -> Array:
    """The lower of two surfaces without a crease."""
    return np.asarray(-softness * np.logaddexp(-first / softness, -second / softness))


def valley_line(valley: Valley, *, step_m: float = 20.0) -> Array:
    """A valley's middle as points (east_km, north_km, floor_m) at even steps."""
    points = np.array(valley.points, dtype=float)
    chain = np.concatenate(([0.0], np.cumsum(np.hypot(*np.diff(points[:, :2], axis=0).T))))
    even = np.linspace(0.0, chain[-1], max(2, int(chain[-1] * 1000.0 / step_m)))
    return np.column_stack([CubicSpline(chain, points[:, :2])(even), PchipInterpolator(chain, points[:, 2])(even)])


def beside(line: Array, east: Array, north: Array) -> tuple[Array, npt.NDArray[np.int64]]:
    """Distance in m to a line of points, and the nearest point's number."""
    distance, index = cKDTree(line[:, :2]).query(np.column_stack([east.ravel(), north.ravel()]))
    return (distance * 1000.0).reshape(east.shape), index.reshape(east.shape)


def pressed_hills(cell_m: float) -> Array:
    """Hills and fells with the valleys pressed into them, before water has run."""
    east, north = places(cell_m)
    shape = east.shape
    height = 380.0 + 6.0 * (10.0 - east) + 3.0 * (north - 10.0)
    for east_km, north_km, rise_m, reach_east, reach_north in HILLS:
        far = ((east - east_km) / reach_east) ** 2 + ((north - north_km) / reach_north) ** 2
        height = height + rise_m / (1.0 + far) ** 1.4
    height += 62.0 * noise(shape, cell_m, (320.0, 6500.0), 2.4, 1)
    wobble = noise(shape, cell_m, (1500.0, 6000.0), 2.5, 2)
    bent_east, bent_north = bent_places(cell_m)
    for number, valley in enumerate((*SIDE_VALLEYS, MAIN_VALLEY)):
        line = valley_line(valley)
        distance, index = beside(line, bent_east, bent_north)
        floor = ndimage.gaussian_filter(line[index, 2], 2.0)
        side = valley.side_m * (1.0 + 0.22 * wobble)
        half = valley.floor_half_m * (1.0 + 0.35 * noise(shape, cell_m, (1200.0, 5000.0), 2.5, 10 + number))
        if valley is MAIN_VALLEY:
            side = side * _steepened(east, north, line, index)
        out = np.maximum(distance - half, 0.0) / side
        height = smooth_min(height, floor + valley.side_height_m * out**1.9, 34.0) + 10.0
    return height


def _steepened(east: Array, north: Array, line: Array, index: npt.NDArray[np.int64]) -> Array:
    """Factor on the main valley's side: narrow, so steep, on the northern side below the high fell; wide elsewhere."""

    def near(spot: tuple[float, float, float]) -> Array:
        return np.asarray(np.exp(-((np.hypot(east - spot[0], north - spot[1]) / spot[2]) ** 4)))

    is_northern = (north > line[index, 1]) & (east > line[index, 0])
    northern = ndimage.gaussian_filter(is_northern.astype(float), 2.0)
    return np.asarray(
        1.0 - 0.47 * near(STEEP_FACE) * northern + 0.9 * sum(near(spot) for spot in EASY_SIDES) * northern
    )


def flood(height: Array) -> tuple[Array, npt.NDArray[np.int64], npt.NDArray[np.int64]]:
    """Water poured on from the rim inwards.

    Returns
    -------
    filled : ndarray
        Heights with every hollow filled to its lip.
    order : ndarray of int
        Flat cell numbers, each after the cell it drains to.
    below : ndarray of int
        The cell that each cell drains to; the rim's cells drain to themselves.
    """
    rows, cols = height.shape
    level = height.ravel().tolist()
    rim = np.zeros((rows, cols), dtype=bool)
    rim[0], rim[-1], rim[:, 0], rim[:, -1] = True, True, True, True
    below, order = [-1] * len(level), []
    heap = [(level[cell], cell) for cell in np.flatnonzero(rim).tolist()]
    for _, cell in heap:
        below[cell] = cell
    heapq.heapify(heap)
    steps = (-cols - 1, -cols, -cols + 1, -1, 1, cols - 1, cols, cols + 1)
    while heap:
        here, cell = heapq.heappop(heap)
        order.append(cell)
        if rim.flat[cell]:
            near = [n for n in _inside(cell, rows, cols) if below[n] < 0]
        else:
            near = [cell + step for step in steps if below[cell + step] < 0]
        for other in near:
            below[other] = cell
            if level[other] < here:
                level[other] = here
            heapq.heappush(heap, (level[other], other))
    filled = np.array(level).reshape(rows, cols)
    return filled, np.array(order), _steepest(filled, np.array(below), rim)


def _inside(cell: int, rows: int, cols: int) -> list[int]:
    row, col = divmod(cell, cols)
    return [
        r * cols + c
        for r in range(max(0, row - 1), min(rows, row + 2))
        for c in range(max(0, col - 1), min(cols, col + 2))
        if (r, c) != (row, col)
    ]


def _steepest(filled: Array, below: npt.NDArray[np.int64], rim: Mask) -> npt.NDArray[np.int64]:
    """The neighbour down the steepest fall where there is one, else the way the flood came."""
    rows, cols = filled.shape
    numbers = np.arange(rows * cols).reshape(rows, cols)
    best = np.full(filled.shape, 1e-6)
    chosen = below.reshape(rows, cols).copy()
    for down in (-1, 0, 1):
        for right in (-1, 0, 1):
            if (down, right) == (0, 0):
                continue
            fall = (filled - np.roll(filled, (-down, -right), (0, 1))) / math.hypot(down, right)
            better = (fall > best) & ~rim
            best[better] = fall[better]
            chosen[better] = np.roll(numbers, (-down, -right), (0, 1))[better]
    return chosen.ravel()


def upstream_km2(order: npt.NDArray[np.int64], below: npt.NDArray[np.int64], cell_m: float) -> Array:
    """Area that drains through each cell."""
    area, target = [1.0] * len(below), below.tolist()
    for cell in order[::-1].tolist():
        if target[cell] != cell:
            area[target[cell]] += area[cell]
    return np.array(area) * (cell_m / 1000.0) ** 2


def worn_down(height: Array, cell_m: float, *, rounds: int = 12, strength: float = 9.0) -> Array:
    """Heights after running water has cut its gullies and the slopes have crept."""
    rows, cols = height.shape
    for turn in range(rounds):
        rough = noise(height.shape, cell_m, (cell_m, 10.0 * cell_m), 1.0, 100 + turn)
        _, order, below = flood(height + 4.0 * rough)  # so that no gully follows the grid's own directions
        area = upstream_km2(order, below, cell_m)
        number = np.arange(len(below))
        run = np.hypot(number // cols - below // cols, number % cols - below % cols) * cell_m
        bite = (strength * np.minimum(area, 30.0) ** 0.5 / np.maximum(run, 1.0)).tolist()
        level, target = height.ravel().tolist(), below.tolist()
        for cell in order.tolist():
            if target[cell] != cell:
                level[cell] = (level[cell] + bite[cell] * level[target[cell]]) / (1.0 + bite[cell])
        height = ndimage.gaussian_filter(np.array(level).reshape(rows, cols), 0.42, mode="nearest")
    for rim, inner in ((0, 1), (-1, -2)):
        height[rim] = np.minimum(height[rim], height[inner])
        height[:, rim] = np.minimum(height[:, rim], height[:, inner])
    filled, _, _ = flood(height)  # old basins, long silted up
    return np.asarray(ndimage.gaussian_filter(filled, 0.6, mode="nearest"))


def enlarged(coarse: Array, coarse_m: float, cell_m: float, *, bend_m: float = 0.0) -> Array:
    """A coarse layer on the fine grid, smoothly; bent a little so that no grid shows through."""
    side = round(SIDE_M / cell_m)
    middle = (np.arange(side) + 0.5) * cell_m
    down, right = np.meshgrid(middle, middle, indexing="ij")
    if bend_m:
        down = down + bend_m * noise(down.shape, cell_m, (260.0, 1600.0), 1.8, 5)
        right = right + bend_m * noise(down.shape, cell_m, (260.0, 1600.0), 1.8, 6)
    spots = np.stack([down / coarse_m - 0.5, right / coarse_m - 0.5])
    return np.asarray(ndimage.map_coordinates(coarse, spots, order=3, mode="nearest"))


def slope_deg(height: Array, cell_m: float, reach_m: float = 10.0) -> Array:
    """Slope of the ground smoothed over a reach."""
    south, east = np.gradient(ndimage.gaussian_filter(height, reach_m / cell_m), cell_m)
    return np.asarray(np.degrees(np.arctan(np.hypot(south, east))))


def refined(coarse: Array, coarse_m: float, cell_m: float) -> Array:
    """The worn hills on the fine grid, with the small forms that a coarse grid can't hold."""
    height = enlarged(coarse, coarse_m, cell_m, bend_m=55.0)
    steep = np.clip(slope_deg(height, cell_m, 100.0) / 14.0, 0.0, 1.0)
    mounds = noise(height.shape, cell_m, (60.0, 600.0), 1.9, 7)
    swells = noise(height.shape, cell_m, (200.0, 1500.0), 2.2, 8)
    high = np.clip((height - 560.0) / 150.0, 0.0, 1.0)
    return height + (0.7 + 1.6 * steep + 1.2 * high) * mounds + (0.8 + 3.0 * steep + 3.0 * high) * swells


def with_benches(height: Array, cell_m: float) -> Array:
    """Benches along the sides of the two long valleys: gentle steps some way above the floor."""
    east, north = bent_places(COARSE_M)
    for number, valley in enumerate((MAIN_VALLEY, SIDE_VALLEYS[0])):
        line = valley_line(valley)
        distance, index = beside(line, east, north)
        floor = enlarged(ndimage.gaussian_filter(line[index, 2], 3.0), COARSE_M, cell_m)
        near = enlarged(np.clip((2100.0 - distance) / 500.0, 0.0, 1.0), COARSE_M, cell_m)
        patches = noise(height.shape, cell_m, (500.0, 2600.0), 2.0, 20 + number)
        rise = height - floor - 10.0 * noise(height.shape, cell_m, (500.0, 3000.0), 2.0, 30 + number)
        stepped = np.interp(rise, (0, 24, 84, 112, 160, 210), (0, 44, 58, 116, 128, 210))
        share = near * np.clip(0.85 + 1.1 * patches, 0.0, 1.0) * (rise > 0) * (rise < 210)
        gentle = np.clip((17.0 - slope_deg(height, cell_m, 120.0)) / 5.0, 0.0, 1.0)
        height = height + share * gentle * (stepped - rise)
    return np.asarray(ndimage.gaussian_filter(height, 28.0 / cell_m))


def with_hollows(height: Array, cell_m: float) -> Array:
    """Basins scooped by ice, in ground levelled round about."""
    east, north = places(cell_m)
    ragged = 0.24 * noise(height.shape, cell_m, (160.0, 1200.0), 1.9, 40)
    for east_km, north_km, length_m, width_m, bearing_deg, depth_m in HOLLOWS:
        right, up = (east - east_km) * 1000.0, (north - north_km) * 1000.0
        bearing = math.radians(bearing_deg)
        along = right * math.sin(bearing) + up * math.cos(bearing)
        across = right * math.cos(bearing) - up * math.sin(bearing)
        far = np.hypot(along / length_m, across / width_m) + ragged
        middle = float(np.median(height[(np.hypot(along / length_m, across / width_m) < 0.8)]))
        levelled = 0.85 * np.exp(-((np.maximum(far, 0.0) / 1.3) ** 4))
        scooped = depth_m * np.exp(-((np.maximum(far, 0.0) / 0.85) ** 4))
        height = height + levelled * (middle - height) - scooped
    return np.asarray(ndimage.gaussian_filter(height, 12.0 / cell_m))


def thinned(height: Array, cell_m: float) -> tuple[Array, float, int]:
    """Heights on the grid that water is routed on, its cell, and fine cells to a side of it."""
    step = 2 if cell_m <= 10.0 else 1
    rows, cols = height.shape
    small = height.reshape(rows // step, step, cols // step, step).mean((1, 3)) if step > 1 else height
    return np.array(small), cell_m * step, step

"""Legends against the published class lists, and a user's own."""

from __future__ import annotations

import math

import pytest

from sitepick.errors import GroundError
from sitepick.ground import legends_that_fit, read_legend
from sitepick.plan.model import LEGENDS
from sitepick.resource import resource_path

# Each data set's published list of codes.
CORINE = (
    111, 112, 121, 122, 123, 124, 131, 132, 133, 141, 142, 211, 212, 213, 221, 222, 223, 231, 241, 242, 243, 244,
    311, 312, 313, 321, 322, 323, 324, 331, 332, 333, 334, 335, 411, 412, 421, 422, 423, 511, 512, 521, 522, 523,
)  # fmt: skip
PUBLISHED = {
    "worldcover": (10, 20, 30, 40, 50, 60, 70, 80, 90, 95, 100),
    "corine": CORINE,
    "corine_grid": tuple(range(1, 45)),
    "nlcd": (11, 12, 21, 22, 23, 24, 31, 41, 42, 43, 51, 52, 71, 72, 73, 74, 81, 82, 90, 95),
    "nalcms": tuple(range(1, 20)),
    "cgls_lc100": (20, 30, 40, 50, 60, 70, 80, 90, 100, *range(111, 117), *range(121, 127), 200),
    "glc_fcs30": (
        10, 11, 12, 20, 51, 52, 61, 62, 71, 72, 81, 82, 91, 92, 120, 121, 122, 130, 140, 150, 152, 153,
        181, 182, 183, 184, 185, 186, 187, 190, 200, 201, 202, 210, 220,
    ),
}  # fmt: skip

GOOD = """# title: Ours
# nodata: 0, 255
code,name,evergreen,deciduous,open,wet,water,ice,built,canopy,tree_height_m,going,firewood
1,spruce,0.8,0,0.2,0,0,0,0,0.8,15,1.3,0.7
2,trees,,,0.3,0,0,0,0,,,1.2,
"""


def classes(name):
    return {cover.code: cover for cover in read_legend(name).classes}


@pytest.mark.parametrize("name", LEGENDS)
def test_codes_are_the_published_ones(name):
    assert tuple(sorted(classes(name))) == tuple(sorted(PUBLISHED[name]))


def test_corine_grid_codes_count_the_classes_in_order():
    by_grid, by_code = classes("corine_grid"), classes("corine")
    for grid_code, code in enumerate(CORINE, start=1):
        assert by_grid[grid_code].name == by_code[code].name
    assert by_grid[24].name == "coniferous forest"


@pytest.mark.parametrize("name", LEGENDS)
def test_kinds_of_ground_and_crowns_fill_the_class_and_no_more(name):
    for cover in read_legend(name).classes:
        ground = cover.open_frac + cover.wet_frac + cover.water_frac + cover.ice_frac + cover.built_frac
        canopy = 0.0 if math.isnan(cover.canopy_frac) else cover.canopy_frac
        assert ground + canopy == pytest.approx(1.0, abs=0.02), cover


@pytest.mark.parametrize("name", LEGENDS)
def test_trees_have_a_height_and_open_ground_has_none(name):
    for cover in read_legend(name).classes:
        if not math.isnan(cover.canopy_frac):
            assert (cover.canopy_frac > 0) == (cover.tree_height_m > 0), cover


@pytest.mark.parametrize(
    ("legend", "code", "evergreen"),
    [
        ("worldcover", 10, None), ("corine", 312, True), ("corine", 311, False), ("nlcd", 42, True),
        ("nlcd", 41, False), ("nalcms", 1, True), ("nalcms", 5, False), ("cgls_lc100", 111, True),
        ("cgls_lc100", 113, False),
        ("cgls_lc100", 116, None), ("glc_fcs30", 72, True), ("glc_fcs30", 82, False),
    ],
)  # fmt: skip
def test_leaf_type_is_known_where_the_class_tells_it(legend, code, evergreen):
    cover = classes(legend)[code]
    if evergreen is None:
        assert cover.evergreen_frac is None
        assert cover.deciduous_frac is None
    elif evergreen:
        assert cover.evergreen_frac == pytest.approx(cover.canopy_frac)
        assert cover.deciduous_frac == 0.0
    else:
        assert cover.evergreen_frac == 0.0
        assert cover.deciduous_frac == pytest.approx(cover.canopy_frac)


@pytest.mark.parametrize(
    ("legend", "codes"),
    [
        ("worldcover", (80,)), ("corine", (511, 512, 521, 522, 523)), ("corine_grid", (40, 41, 42, 43, 44)),
        ("nlcd", (11,)), ("nalcms", (18,)), ("cgls_lc100", (80, 200)), ("glc_fcs30", (210,)),
    ],
)  # fmt: skip
def test_open_water_is_water_and_nothing_else_is(legend, codes):
    assert tuple(sorted(code for code, cover in classes(legend).items() if cover.water_frac > 0.5)) == codes


@pytest.mark.parametrize(
    ("codes", "names"),
    [
        ((10, 30, 80, 95), ("worldcover", )),
        ((311, 312, 512), ("corine",)),
        ((23, 24, 25, 40, 41), ("corine_grid",)),
        ((11, 41, 42, 43, 90), ("nlcd",)),
        ((1, 2, 18), ("corine_grid", "nalcms")),
        ((111, 126, 200), ("cgls_lc100",)),
        ((72, 210, 250), ("glc_fcs30",)),
        ((20, 30, 80), ("worldcover", "cgls_lc100")),
        ((0,), ()),
        ((), ()),
        ((10, 777), ()),
    ],
)  # fmt: skip
def test_every_legend_that_could_explain_the_codes_is_named(codes, names):
    assert legends_that_fit(codes) == names


def test_a_legend_of_ones_own_reads_the_same_way(tmp_path):
    path = tmp_path / "ours.csv"
    path.write_text(GOOD, encoding="utf-8")
    legend = read_legend(path)
    assert (legend.name, legend.title, legend.nodata_codes) == ("ours", "Ours", (0, 255))
    spruce, trees = legend.classes
    assert (spruce.code, spruce.evergreen_frac, spruce.going_factor) == (1, 0.8, 1.3)
    assert trees.evergreen_frac is None
    assert math.isnan(trees.canopy_frac)
    assert math.isnan(trees.tree_height_m)


def test_columns_may_stand_in_any_order_and_a_spreadsheets_mark_is_no_fault(tmp_path):
    head, *rows = [line for line in GOOD.splitlines() if not line.startswith("#")]
    turned = "\n".join(",".join(reversed(line.split(","))) for line in (head, *rows))
    path = tmp_path / "turned.csv"
    path.write_text(turned, encoding="utf-8-sig")
    assert [cover.code for cover in read_legend(path).classes] == [1, 2]


def test_all_faults_of_a_legend_are_told_at_once(tmp_path):
    path = tmp_path / "bad.csv"
    rows = GOOD.replace("1.3", "0.5").replace("2,trees", "x,").replace("0.2,0,0,0,0,0.8", "much,0,0,,0,0.8")
    path.write_text(rows + "1,again,0,0,1,0,0,0,0,0,0,1,0\n1,again,0,0,1,0,0.5,0,0,0,0,1,0\n", encoding="utf-8")
    with pytest.raises(GroundError) as caught:
        read_legend(path)
    for told in (
        "row 4, open: 'much' is not a number", "row 4, ice: empty", "row 4, going: 0.5 lies outside 1 to 20",
        "row 5, code: 'x' is not a whole number", "row 5, name: empty", "row 7, code: 1 stands there twice",
        "row 7: open, wet, water, ice and built together are 1.50",
    ):  # fmt: skip
        assert told in caught.value.what
    assert caught.value.where == str(path)


@pytest.mark.parametrize(
    ("text", "told"),
    [
        ("", "no rows"),
        ("code,name\n1,a\n", "the column 'evergreen' is missing"),
        (GOOD.replace("tree_height_m", "tree_heigth"), "is tree_height_m meant?"),
        (GOOD.replace("# nodata: 0, 255", "# nodata: none"), "not a list of whole numbers"),
        (GOOD.replace("0, 255", "1"), "code 1 is both a class and nodata"),
        (GOOD + "3,short,0\n", "row 6: 3 values for 13 columns"),
        (GOOD.replace("0.8,0,0.2", "0.8,0.5,0.2"), "evergreen and deciduous together are more than canopy"),
        ("\n".join(GOOD.splitlines()[:3]), "there are no classes"),
    ],
)
def test_a_fault_is_named_with_its_place(tmp_path, text, told):
    path = tmp_path / "bad.csv"
    path.write_text(text, encoding="utf-8")
    with pytest.raises(GroundError) as caught:
        read_legend(path)
    assert told in caught.value.what


def test_a_mistyped_name_gets_a_hint():
    with pytest.raises(GroundError, match="is worldcover meant"):
        read_legend("worldcovr")


def test_a_missing_legend_and_a_binary_one_are_told(tmp_path):
    with pytest.raises(GroundError, match="no such legend"):
        read_legend(tmp_path / "none.csv")
    (tmp_path / "binary.csv").write_bytes(b"\xff\xfe\x00\x80")
    with pytest.raises(GroundError, match="not a text file"):
        read_legend(tmp_path / "binary.csv")


@pytest.mark.parametrize("name", LEGENDS)
def test_every_legend_names_its_source(name):
    head = resource_path("legends", f"{name}.csv").read_text(encoding="utf-8").splitlines()[:3]
    assert [line.split(":")[0] for line in head] == ["# title", "# source", "# nodata"]

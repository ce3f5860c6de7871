"""A cutter's edge from an SVG path; curves against their own equations, the file against the same edge as a table."""

from __future__ import annotations

import math
from pathlib import Path

import pytest

from drawerwright.basics.errors import FaultyInputError, InvalidValueError
from drawerwright.drawings.svg_paths import path_points
from drawerwright.job.file.profiles import read_profile

EDGE = [(0.0, 0.0), (4.0, 0.0), (6.5, 3.4), (12.0, 3.4)]
"""Depth and inset (mm)."""


def svg(tmp_path: Path, body: str, head: str = 'width="20mm" viewBox="0 0 20 20"') -> Path:
    path = tmp_path / "edge.svg"
    path.write_text(f'<svg xmlns="http://www.w3.org/2000/svg" {head}>{body}</svg>', "utf-8")
    return path


@pytest.mark.parametrize(
    ("head", "body"),
    [
        ('width="20mm" viewBox="0 0 20 20"', '<path d="M5 2 V6 L8.4 8.5 V14"/>'),
        ('width="2cm" viewBox="0 0 20 20"', '<polyline points="5,2 5,6 8.4,8.5 8.4,14"/>'),
        (
            'width="1in" viewBox="0 0 25.4 25.4"',
            '<g transform="translate(5,2)"><path d="m0 0v4l3.4 2.5 0 5.5"/></g>',
        ),
        (
            'width="20mm" viewBox="0 0 200 200"',
            '<path transform="scale(10) translate(1 1)" d="M5 2V6L8.4 8.5V14"/>',
        ),
        ("", '<title>edge</title><path d="M 5 2 L 5 6 8.4 8.5 8.4 14"/>'),
        ('width="96" height="96"', '<path transform="rotate(0)" d="M5,2 L5,6 L8.4,8.5 L8.4,14"/>'),
    ],
)
def test_a_path_gives_the_edge_that_was_drawn(tmp_path: Path, head: str, body: str) -> None:
    points = read_profile(svg(tmp_path, body, head)).points
    for (depth, inset), (wanted_depth, wanted_inset) in zip(points, EDGE, strict=True):
        assert (depth, inset) == pytest.approx((wanted_depth, wanted_inset), abs=1e-9)


def test_arcs_and_curves_follow_their_equations() -> None:
    """A quarter of a circle about (0, 0), and a quadratic curve whose middle is known (SVG 2, 9.5)."""
    arc = path_points("M 2 0 A 2 2 0 0 1 0 2")
    assert all(math.hypot(x, y) == pytest.approx(2.0, abs=1e-9) for x, y in arc)
    assert arc[-1] == (0.0, 2.0)
    assert len(arc) > 40
    large = path_points("M 2 0 A 2 2 0 1 0 0 2")
    assert min(x for x, _ in large) == pytest.approx(-2.0, abs=0.002)
    curve = path_points("M 0 0 Q 2 4 4 0")
    assert (2.0, 2.0) in [(round(x, 9), round(y, 9)) for x, y in curve]
    smooth = path_points("M 0 0 C 0 1 1 2 2 2 S 4 1 4 0")
    assert smooth[-1] == (4.0, 0.0)
    assert (2.0, 2.0) in smooth


@pytest.mark.parametrize(
    ("body", "words"),
    [
        ("<path d='M0 0V9'/><path d='M0 0V9'/>", "holds 2 lines"),
        ("<rect width='3' height='9'/>", "holds a rect"),
        ("", "holds 0 lines"),
        ("<path d='M0 0 L 3'/>", "too few numbers"),
        ("<path d='M0 0 V9 M2 2 V9'/>", "several pieces"),
        ("<path d='M0 0 W9'/>", "no path data"),
        ("<path d='V9'/>", "begin with a point"),
        ("<path transform='skewX(20)' d='M0 0V9'/>", "which this reader does not take"),
        ("<path d='M0 0V900'/>", "the drawing's unit is mm"),
    ],
)
def test_what_is_no_single_edge_is_refused(tmp_path: Path, body: str, words: str) -> None:
    with pytest.raises(FaultyInputError, match=words):
        read_profile(svg(tmp_path, body))


def test_entities_and_what_is_no_svg_are_refused(tmp_path: Path) -> None:
    path = tmp_path / "edge.svg"
    path.write_text('<!DOCTYPE svg [<!ENTITY a "aaaa">]><svg><path d="&a;"/></svg>')
    with pytest.raises(FaultyInputError, match="document type"):
        read_profile(path)
    for text in ("no xml", "<html/>"):
        path.write_text(text)
        with pytest.raises(FaultyInputError, match="cannot be read as SVG"):
            read_profile(path)
    with pytest.raises(InvalidValueError, match="more than"):
        path_points("M0 0" + "H1 H0" * 12_000)

"""GPX 1.0 and 1.1: routes, tracks of several segments, named points; what stands before a broken tail is kept.

The reader never expands an entity and never opens anything else: a file that declares a document type is refused.
"""

from __future__ import annotations

from dataclasses import dataclass, field
from datetime import datetime
from pathlib import Path
from typing import Any
from xml.parsers import expat

import numpy as np

from sitepick.caution import Caution
from sitepick.errors import GroundError
from sitepick.ground.raw_line import OWN_SOURCE, RawFile, RawLine, RawPlace, tidy_name

SIZE_MAX_BYTES = 100_000_000
_CHUNK_BYTES = 1 << 20
_POINTS = ("wpt", "rtept", "trkpt")
_LINES = ("rte", "trk")


def is_gpx(path: Path) -> bool:
    """Whether a file begins like GPX, whatever it is called."""
    with path.open("rb") as handle:
        head = handle.read(4096).replace(b"\0", b"").lower()
    return head.lstrip(b"\xef\xbb\xbf\xff\xfe \t\r\n").startswith(b"<") and b"<gpx" in head


def read_gpx(path: Path) -> RawFile:
    """Every route and track of a GPX file, routes first, and its points.

    Raises
    ------
    GroundError
        The file is too large, declares a document type, or breaks off before its first line.
    """
    if path.stat().st_size > SIZE_MAX_BYTES:
        raise GroundError(
            f"the file is larger than {SIZE_MAX_BYTES // 1_000_000} MB",
            where=str(path),
            fix="export only the track that is wanted",
        )
    document = _Document()
    cautions = []
    try:
        document.feed(path)
    except _DoctypeFoundError as fault:
        raise GroundError(
            "the file declares a document type, which a track has no use for",
            where=str(path),
            fix="export the route again",
        ) from fault
    except expat.ExpatError as fault:
        if not any(len(line.points) > 1 for line in document.lines):
            raise GroundError(
                f"the file is damaged or cut off at line {fault.lineno}, and holds no line before that",
                where=str(path),
                fix="copy or export it again",
            ) from fault
        cautions.append(
            Caution(
                kind="data",
                text=f"The route's file is damaged or cut off at line {fault.lineno}: what stands before that was "
                "taken; see whether the route reaches its end.",
            )
        )
    lines = sorted(document.lines, key=lambda line: _LINES.index(line.kind))  # stable: the file's order otherwise
    return RawFile(
        lines=tuple(line.raw() for line in lines),
        line_count=len(lines),
        places=tuple(place for place in document.places if place.name),
        nameless=tuple(place for place in document.places if not place.name),
        cautions=tuple(cautions),
    )


class _DoctypeFoundError(Exception):
    """The file declares a document type."""


@dataclass
class _Line:
    kind: str
    name: str = ""
    points: list[tuple[float, float]] = field(default_factory=list)
    seconds: list[float] = field(default_factory=list)
    names: list[str | None] = field(default_factory=list)
    part_starts: list[int] = field(default_factory=list)

    def raw(self) -> RawLine:
        count = len(self.points)
        starts = sorted({0, *(start for start in self.part_starts if start < count)})
        return RawLine(
            name=self.name,
            points=np.array(self.points, float).reshape(count, 2),
            seconds=np.array(self.seconds, float),
            point_names=tuple(self.names),
            part_starts=tuple(starts),
        )


class _Document:
    """What has been read so far; a point counts once its end was seen."""

    def __init__(self) -> None:
        self.lines: list[_Line] = []
        self.places: list[RawPlace] = []
        self._open: list[str] = []
        self._text: list[str] | None = None
        self._at = (np.nan, np.nan)
        self._point_name = ""
        self._point_seconds = np.nan
        self._point_source = ""

    def feed(self, path: Path) -> None:
        parser = expat.ParserCreate(namespace_separator=" ")
        parser.StartDoctypeDeclHandler = self._doctype
        parser.StartElementHandler = self._start
        parser.EndElementHandler = self._end
        parser.CharacterDataHandler = self._characters
        with path.open("rb") as handle:
            while chunk := handle.read(_CHUNK_BYTES):
                parser.Parse(chunk, False)
        parser.Parse(b"", True)

    def _doctype(self, *_: Any) -> None:
        raise _DoctypeFoundError

    def _start(self, tag: str, attributes: dict[str, str]) -> None:
        name = tag.rpartition(" ")[2]
        parent = self._open[-1] if self._open else ""
        self._open.append(name)
        if name in _POINTS:
            self._at = (_number(attributes.get("lon")), _number(attributes.get("lat")))
            self._point_name, self._point_seconds, self._point_source = "", np.nan, ""
        elif name in _LINES and parent == "gpx":
            self.lines.append(_Line(kind=name))
        elif name == "trkseg" and parent == "trk":
            self.lines[-1].part_starts.append(len(self.lines[-1].points))
        elif name in ("name", "time", "src") and parent in (*_POINTS, *_LINES):
            self._text = []

    def _characters(self, text: str) -> None:
        if self._text is not None:
            self._text.append(text)

    def _end(self, tag: str) -> None:
        name = self._open.pop()
        parent = self._open[-1] if self._open else ""
        if name in ("name", "time", "src") and self._text is not None:
            self._take_text(name, parent, "".join(self._text))
            self._text = None
        elif name == "wpt" and parent == "gpx":
            if self._point_source != OWN_SOURCE:
                self.places.append(RawPlace(name=self._point_name, lon_deg=self._at[0], lat_deg=self._at[1]))
        elif (name == "rtept" and parent == "rte") or (name == "trkpt" and parent == "trkseg"):
            line = self.lines[-1]
            line.points.append(self._at)
            line.seconds.append(self._point_seconds)
            line.names.append(self._point_name or None)

    def _take_text(self, name: str, parent: str, text: str) -> None:
        if name == "time":
            self._point_seconds = _seconds(text)
        elif name == "src":
            self._point_source = text.strip() if parent in _POINTS else ""
        elif parent in _POINTS:
            self._point_name = tidy_name(text)
        else:
            self.lines[-1].name = tidy_name(text)


def _number(text: str | None) -> float:
    try:
        return float(text or "nan")
    except ValueError:
        return float("nan")


def _seconds(text: str) -> float:
    try:
        return datetime.fromisoformat(text.strip()).timestamp()
    except (ValueError, OverflowError, OSError):
        return float("nan")

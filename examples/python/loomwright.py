"""Loomwright from Python: the C library by ctypes, arrays by numpy, nothing to build.

    import loomwright
    engine = loomwright.Engine("target/release/libloomwright.so")
    engine.number("lw_drop", loomwright.IEC_5, loomwright.COPPER, 10.0, 18.0, 7.5, 45.0)

A computation is not an approval: local codes and licensed practice come first.
"""

from __future__ import annotations

import ctypes
import json
from pathlib import Path
from typing import Any

import numpy

COPPER, TINNED_COPPER, ALUMINIUM, COPPER_CLAD_ALUMINIUM = range(4)
IEC_1, IEC_2, IEC_5, IEC_6, ISO_6722, AWG, SAE = 1, 2, 5, 6, 10, 20, 21
FREE_AIR, SURFACE, BUNDLE, CONDUIT_PLASTIC, CONDUIT_METAL, CONDUIT_SPLIT, INSULATED, ENCLOSED = range(8)
GENERAL, IEC_CARAVAN, ISO_SMALL_CRAFT, US_SMALL_CRAFT, NA_RECREATIONAL_VEHICLE = range(5)
FLOODED, AGM, GEL, LITHIUM_IRON_PHOSPHATE = range(4)
SIZE_NOTHING, SIZE_BATTERY, SIZE_CHARGER, SIZE_PANELS, SIZE_SPLIT = range(5)
READINGS_CSV, READINGS_TOML = range(2)
(
    PICTURE_DIAGRAM, PICTURE_MARGINS, PICTURE_TEMPERATURES, PICTURE_VOLTAGE, PICTURE_FUSES, PICTURE_CHARGE, PICTURE_JOINTS,
    PICTURE_READINGS,
) = range(8)
OK, REFUSED = 0, 8

# Fields of the header's structs, in its order. What sets a bit of `has` stands beside its field.
QUERY = numpy.dtype(
    [("struct_size", "u4"), ("has", "u4")]
    + [
        (name, "f8")
        for name in (
            "current_a", "power_w", "lowest_voltage_v", "length_m", "voltage_v", "drop_percent", "drop_v", "ambient_c",
            "insulation_c", "bore_mm", "duty_on_s", "duty_period_s", "chassis_mohm", "terminal_mm2", "terminal_c",
        )
    ]
    + [
        (name, "i4")
        for name in (
            "kind", "material", "installation", "practice", "conductors_together", "lugs", "screw_cages", "isolators",
        )
    ]
)
RESULT = numpy.dtype(
    [("struct_size", "u4"), ("status", "i4"), ("parallel", "i4"), ("reserved", "i4")]
    + [
        (name, "f8")
        for name in (
            "least_margin", "csa_mm2", "drop_v", "conductor_drop_v", "load_voltage_v", "conductor_temperature_c", "loss_w",
            "ampacity_a", "fuse_rating_a", "longest_run_m", "largest_current_a",
        )
    ]
    + [("fuse_family", "S40")]
)
HAS = {
    "power_w": 1 << 0, "lowest_voltage_v": 1 << 0, "drop_percent": 1 << 1, "drop_v": 1 << 2, "ambient_c": 1 << 3,
    "insulation_c": 1 << 4, "kind": 1 << 5, "material": 1 << 6, "installation": 1 << 7, "conductors_together": 1 << 8,
    "bore_mm": 1 << 9, "duty_on_s": 1 << 10, "duty_period_s": 1 << 10, "chassis_mohm": 1 << 11 | 1 << 12, "lugs": 1 << 13,
    "screw_cages": 1 << 13, "isolators": 1 << 13, "terminal_mm2": 1 << 14, "terminal_c": 1 << 15, "practice": 1 << 16,
}


class Failure(Exception):
    """A call that has failed, with its status."""

    def __init__(self, status: int, message: str) -> None:
        super().__init__(message)
        self.status = status


def _counted(text: str | None) -> tuple[ctypes.c_char_p, ctypes.c_size_t]:
    """A text and its length in bytes, as the header takes them; null and 0 for none."""
    given = None if text is None else text.encode()
    return ctypes.c_char_p(given), ctypes.c_size_t(len(given or b""))


class Engine:
    """The library, loaded once."""

    def __init__(self, path: str | Path) -> None:
        self.library = ctypes.CDLL(str(path))
        self.library.lw_last_message.restype = ctypes.c_size_t
        self.library.lw_last_message.argtypes = [ctypes.c_char_p, ctypes.c_size_t]
        self.library.lw_version.restype = ctypes.c_char_p
        for name in ("lw_plan_free", "lw_report_free"):
            function = getattr(self.library, name)
            function.restype, function.argtypes = None, [ctypes.c_void_p]

    @property
    def version(self) -> str:
        """The engine's version."""
        return self.library.lw_version().decode()

    def message(self) -> str:
        """What this thread's last call has to say."""
        buffer = ctypes.create_string_buffer(self.library.lw_last_message(None, 0) + 1)
        self.library.lw_last_message(buffer, len(buffer))
        return buffer.value.decode()

    def require(self, status: int) -> None:
        """Raises what a status tells."""
        if status != OK:
            raise Failure(status, self.message())

    def number(self, function: str, *arguments: int | float | str) -> float:
        """The number of a scalar function: integers, doubles and texts in the order of the header."""
        kinds = {int: ctypes.c_int32, float: ctypes.c_double, str: lambda text: ctypes.c_char_p(text.encode())}
        found = ctypes.c_double()
        given = [kinds[type(argument)](argument) for argument in arguments]
        self.require(getattr(self.library, function)(*given, ctypes.byref(found)))
        return found.value

    def size_circuits(self, threads: int = 1, **columns: Any) -> numpy.ndarray:
        """Sizes an array of circuits: a column or one value for each field that is given, by its name in the header."""
        queries = self._queries(**columns)
        rows = queries.size
        results = numpy.zeros(rows, RESULT)
        results["struct_size"] = RESULT.itemsize
        size = ctypes.c_size_t
        status = self.library.lw_size_circuits(
            queries.ctypes.data_as(ctypes.c_void_p), size(QUERY.itemsize), results.ctypes.data_as(ctypes.c_void_p),
            size(RESULT.itemsize), size(rows), ctypes.c_int32(threads),
        )
        self.require(status)
        return results

    def _queries(self, **columns: Any) -> numpy.ndarray:
        rows = numpy.broadcast(*(numpy.asarray(column) for column in columns.values())).size
        queries = numpy.zeros(rows, QUERY)
        queries["struct_size"] = QUERY.itemsize
        for name, column in columns.items():
            queries[name] = column
            queries["has"] |= HAS.get(name, 0)
        return queries

    def check(self, plan: str) -> dict[str, Any]:
        """The report of a plan, as the command's JSON; `Failure` with its mistakes when it cannot be used."""
        return self._report("lw_plan_check", plan)

    def schedule(self, plan: str) -> dict[str, Any]:
        """The schedule of a plan: its sheets, each a list of rows."""
        return self._report("lw_plan_schedule", plan)

    def compare(self, old: str, new: str) -> dict[str, Any]:
        """What changes from one plan to another."""
        return self._report("lw_plan_compare", old, new)

    def tolerance(self, plan: str, samples: int = 10_000, seed: int = 1, threads: int = 1) -> dict[str, Any]:
        """How often each limit of a plan is kept within the spread of its parts."""
        options = (ctypes.c_int32(samples), ctypes.c_uint64(seed), ctypes.c_int32(threads))
        return self._report("lw_plan_tolerance", plan, options=options)

    def forecast(
        self, plan: str, stay: str | None = None, weather: str | None = None, *, steps_per_day: int = 96,
        level_percent: float = 80.0, size: int = SIZE_NOTHING, series: bool = False, samples: int = 0, seed: int = 1,
        threads: int = 1,
    ) -> dict[str, Any]:
        """Whether a plan lasts one stay, or every one: by the climate of the place, or by measured weather as CSV text."""
        options = (
            *_counted(stay), *_counted(weather), ctypes.c_int32(steps_per_day), ctypes.c_double(level_percent), ctypes.c_int32(size),
            ctypes.c_int32(series), ctypes.c_int32(samples), ctypes.c_uint64(seed), ctypes.c_int32(threads),
        )
        return self._report("lw_plan_forecast", plan, options=options)

    def readings_template(self, plan: str, form: int = READINGS_CSV) -> str:
        """A readings file to fill in: what to measure, in walking order, with what the plan lets expect."""
        return self._report("lw_plan_readings_template", plan, options=(ctypes.c_int32(form),))["text"]

    def reconcile(self, plan: str, readings: str) -> dict[str, Any]:
        """What was measured against what was planned; `Failure` when no line of the readings can be used."""
        return self._report("lw_plan_reconcile", plan, options=_counted(readings))

    def commission(self, plan: str, readings: str) -> dict[str, Any]:
        """The commissioning record: plan, readings, verdicts, settings, torques, inspection, and the lines to sign."""
        return self._report("lw_plan_commission", plan, options=_counted(readings))

    def inspect(self, plan: str, readings: str | None = None) -> dict[str, Any]:
        """What to look at, tighten and measure, and how soon again."""
        return self._report("lw_plan_inspect", plan, options=_counted(readings))

    def before_energising(self, plan: str) -> dict[str, Any]:
        """In what order a new system is made live."""
        return self._report("lw_plan_before_energising", plan)

    def draw(
        self, plan: str, picture: int, of: str | None = None, stay: str | None = None, readings: str | None = None
    ) -> dict[str, Any]:
        """A picture of a plan: "svg" with its "title", "description", "width" and "height"."""
        options = (ctypes.c_int32(picture), *_counted(of), *_counted(stay), *_counted(readings))
        return self._report("lw_plan_draw", plan, options=options)

    def page(self, plan: str, readings: str | None = None, samples: int = 100, seed: int = 1, threads: int = 1) -> str:
        """Everything about a plan on one page of HTML."""
        options = (*_counted(readings), ctypes.c_int32(samples), ctypes.c_uint64(seed), ctypes.c_int32(threads))
        return self._report("lw_plan_page", plan, options=options)["html"]

    def size_map(self, **columns: float) -> dict[str, Any]:
        """Where each standard size takes over around a circuit, with a picture of it under "svg"."""
        query, report = self._queries(**columns), ctypes.c_void_p()
        try:
            self.require(self.library.lw_size_map(query.ctypes.data_as(ctypes.c_void_p), ctypes.byref(report)))
            return json.loads(self._text(lambda *to: self.library.lw_report_json(report, *to)))
        finally:
            self.library.lw_report_free(report)

    def _report(self, function: str, *plans: str, options: tuple[Any, ...] = ()) -> dict[str, Any]:
        return json.loads(self.report_json(function, *plans, options=options))

    def report_json(self, function: str, *plans: str, options: tuple[Any, ...] = ()) -> str:
        """The report that a function gives of plans, as the text that the command prints."""
        handles, report = [], ctypes.c_void_p()
        try:
            for plan in plans:
                text, handle = plan.encode(), ctypes.c_void_p()
                status = self.library.lw_plan_read(text, ctypes.c_size_t(len(text)), ctypes.byref(handle))
                handles.append(handle)
                if status == REFUSED:
                    raise Failure(status, "\n".join(self._mistakes(handle)))
                self.require(status)
            self.require(getattr(self.library, function)(*handles, *options, ctypes.byref(report)))
            return self._text(lambda *to: self.library.lw_report_json(report, *to))
        finally:
            self.library.lw_report_free(report)
            for handle in handles:
                self.library.lw_plan_free(handle)

    def _text(self, call: Any) -> str:
        length = ctypes.c_size_t()
        self.require(call(None, ctypes.c_size_t(0), ctypes.byref(length)))
        buffer = ctypes.create_string_buffer(length.value + 1)
        self.require(call(buffer, ctypes.c_size_t(len(buffer)), None))
        return buffer.value.decode()

    def _mistakes(self, plan: ctypes.c_void_p) -> list[str]:
        count = ctypes.c_size_t()
        self.require(self.library.lw_mistake_count(plan, ctypes.byref(count)))
        told = []
        for index in range(count.value):
            place, at = (ctypes.c_uint64 * 4)(), ctypes.c_size_t(index)
            self.require(self.library.lw_mistake_at(plan, at, ctypes.byref(place)))
            words = self._text(lambda *to: self.library.lw_mistake_text(plan, at, *to))
            told.append(f"{place[0]}:{place[1]}: {words}")
        return told

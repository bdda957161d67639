"""What cells of a LibreOffice Calc sheet call: scalar functions of the C library. Embedded in the document by build.py.

The library is the one that LOOMWRIGHT_LIBRARY names, else the installed one. A failure gives its message as text.
"""

import ctypes
import os

# Arguments of each function before the result: i a whole number, d a number, t a text. A test holds them to the header.
SIGNATURES = {
    "lw_resistance": "iiddd", "lw_drop": "iidddd", "lw_ampacity": "iidiidd", "lw_conductor_temperature": "iidiidd",
    "lw_withstand_time": "iidddd", "lw_gauge_area": "i", "lw_gauge_for_area": "d", "lw_converter_input_current": "ddd",
    "lw_fuse_rating": "ddd", "lw_opening_latest": "tdd", "lw_opening_earliest": "tdd", "lw_smallest_size": "iidddddd",
    "lw_longest_run": "iidddddd", "lw_torque_least": "td", "lw_torque_most": "td", "lw_pin_resistance": "ddd",
    "lw_conduit_fill": "i", "lw_peukert_time": "dddd", "lw_battery_usable": "idddd", "lw_battery_needed": "idddd",
    "lw_sun_elevation": "dddd", "lw_sun_azimuth": "dddd", "lw_clear_sky_global": "dddd", "lw_clear_sky_beam": "dddd",
    "lw_clear_sky_diffuse": "dddd", "lw_joint_rise": "iidiiddd", "lw_joint_temperature": "iidiiddd",
    "lw_joint_resistance": "iidiiddd", "lw_spot_temperature": "dd", "lw_contact_voltage": "dd",
}
CONVERT = {
    "i": lambda value: ctypes.c_int32(round(value)),
    "d": ctypes.c_double,
    "t": lambda value: ctypes.c_char_p(str(value).encode()),
}


def library():
    """The library, loaded once."""
    if not hasattr(library, "loaded"):
        library.loaded = ctypes.CDLL(os.environ.get("LOOMWRIGHT_LIBRARY", "libloomwright.so.1"))
        library.loaded.lw_last_message.restype = ctypes.c_size_t
    return library.loaded


def wiring(name, *arguments):
    """The number of a function, or the message of its failure."""
    kinds = SIGNATURES.get(name)
    if kinds is None or len(kinds) != len(arguments):
        return f"{name}: {len(kinds or '')} arguments are needed, of the functions {', '.join(SIGNATURES)}"
    found = ctypes.c_double()
    given = [CONVERT[kind](argument) for kind, argument in zip(kinds, arguments)]
    if getattr(library(), name)(*given, ctypes.byref(found)) == 0:
        return found.value
    buffer = ctypes.create_string_buffer(600)
    library().lw_last_message(buffer, ctypes.c_size_t(len(buffer)))
    return buffer.value.decode(errors="replace")

"""Figures as text, rounded alike on both hosts.

MicroPython rounds a figure that ends in a half away from zero, and some near one wrongly, where CPython rounds what the
figure is in binary, a half to the even digit (IEEE 754-2019, 4.3.1, roundTiesToEven).
"""

import math


def fixed(value: float, places: int) -> str:
    """A figure with so many decimals, as CPython's format gives it; `value` is finite.

    >>> fixed(38.5, 0), fixed(39.5, 0), fixed(-0.25, 1), fixed(2.675, 2), fixed(0.05, 3)
    ('38', '40', '-0.2', '2.67', '0.050')
    """
    part, power = math.frexp(abs(value))
    # A double has 53 bits, so this is the figure itself: whole / 2 ** below.
    whole, below = int(part * 2**53) * 10**places, 53 - power
    if below > 0:
        rest, half = whole & ((1 << below) - 1), 1 << (below - 1)
        whole >>= below
        if rest > half or (rest == half and whole & 1):
            whole += 1
    else:
        whole <<= -below
    digits = str(whole)
    digits = "0" * (places + 1 - len(digits)) + digits
    end = len(digits) - places
    sign = "-" if math.copysign(1.0, value) < 0 else ""
    return sign + digits[:end] + ("." + digits[end:] if places else "")

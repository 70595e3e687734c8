"""Limits where the user gives none: common practice, no source; the maker's figures come first."""

USUAL_TAPER_MM = 0.03
USUAL_FLATNESS_MM = 0.10

"""Torque checks: what the wrench feels, the readings and their doubt, findings, remedies, comparisons."""

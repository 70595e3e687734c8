"""Slipbook's server: the engine, the log, the interface and the command line."""

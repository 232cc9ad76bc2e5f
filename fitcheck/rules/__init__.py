"""The rules of the trade as plain functions: the standard library and nothing else."""

RULES_VERSION = "5"

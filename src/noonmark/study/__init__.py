"""Where a design meets the physics: one module a question."""

from noonmark.study.year import YearRun, run_year

__all__ = ["YearRun", "run_year"]

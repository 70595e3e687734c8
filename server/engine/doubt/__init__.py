"""How good a figure is: uncertainty budgets, Student's t, trend lines, verdicts and findings."""

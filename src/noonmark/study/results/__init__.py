"""THE result trees: frozen dataclasses for Python, `--json`, page and report."""

"""From panes to U-value and to sun let in by angle."""

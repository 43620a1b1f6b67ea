"""From a project file to a run sheet: exact, pure, and the same bytes on every machine."""

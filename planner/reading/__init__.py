"""From the text of a project file to a project, with all its faults."""

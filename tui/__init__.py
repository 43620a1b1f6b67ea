"""The workspace beside the machine: what shows the sheet and remembers the place."""

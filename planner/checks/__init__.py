"""What checks a plan: it reads the plan's JSON and shares no code with what made it."""

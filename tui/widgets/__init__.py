"""What screens are made of: each draws what it is given."""

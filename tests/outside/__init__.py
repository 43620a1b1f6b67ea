"""Checks against what others have printed: published sizes, common practice, and general libraries as references."""

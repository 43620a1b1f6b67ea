"""The screens of the workspace, one room each."""

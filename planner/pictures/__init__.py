"""Pictures of a plan as SVG: a block, the quilt, the press map; real sizes, the same bytes on every machine."""

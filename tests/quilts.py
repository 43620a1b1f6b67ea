"""Small projects with quilts, for tests of pictures; each shows something that the samples do not."""

from __future__ import annotations

FABRICS = """
fabrics:
  navy:  {value: dark}
  shell: {value: light}
  coral: {value: medium}
"""

# Two blocks in turn, a loose one as well, sashing and a border; one block turned by the maker
LAP = f"""
project: Tidewater lap quilt
{FABRICS}
blocks:
  nine patch:
    size: 6
    rows: [[navy, shell, navy], [shell, navy, shell], [navy, shell, navy]]
  pinwheel:
    size: 6
    rows: [[navy \\ shell, navy / shell], [shell / navy, shell \\ navy]]
  flag: {{size: 6, rows: [[navy], [shell], [coral]]}}
make:
  - {{block: pinwheel, count: 2}}
quilt:
  rows:
    - [nine patch, pinwheel, flag turn 90]
    - [pinwheel, nine patch, pinwheel]
  sashing: {{width: 1 1/2, fabric: coral, posts: navy}}
  border: {{width: 2, fabric: shell, corners: navy}}
"""

# Odd checkerboards side by side: every other one is turned by the planner
BOARDS = f"""
project: Tidewater boards
{FABRICS}
blocks:
  nine patch: {{size: 6, rows: [[navy, shell, navy], [shell, navy, shell], [navy, shell, navy]]}}
quilt:
  rows:
    - [nine patch, nine patch, nine patch]
    - [nine patch, nine patch, nine patch]
    - [nine patch, nine patch, nine patch]
"""

# Blocks that may not be turned, with seams that meet those of their like
TWO_WAYS = f"""
project: Tidewater corners
{FABRICS}
blocks:
  corner: {{size: 6, rows: [[coral, shell], [shell, navy]]}}
quilt:
  rows:
    - [corner, corner, corner]
    - [corner, corner, corner]
"""

ON_POINT = f"""
project: Tidewater on point
{FABRICS}
blocks:
  star:
    size: 9
    rows: [[navy / shell, shell, shell \\ navy], [shell, navy, shell], [shell \\ navy, shell, navy / shell]]
  plain: {{size: 9, rows: [[coral]]}}
quilt:
  layout: on point
  setting: coral
  rows:
    - [star, star]
    - [plain]
    - [star, star]
"""

# A join that cannot nest, and seams that are pressed open, one of them at a join
KEPT = f"""
project: Tidewater kept
{FABRICS}
blocks:
  four patch: {{size: 6, rows: [[navy, shell], [coral, navy]]}}
  stripes: {{size: 6, rows: [[navy, shell, coral, navy]]}}
  open four: {{size: 6, rows: [[shell, navy], [coral, shell]]}}
make:
  - {{block: four patch, count: 1}}
  - {{block: stripes, count: 1}}
  - {{block: open four, count: 1}}
press:
  keep:
    - {{block: four patch, at: "3, 1", toward: left}}
    - {{block: four patch, at: "3, 5", toward: left}}
    - {{block: stripes, at: "3, 1", toward: open}}
    - {{block: open four, at: "3, 1", toward: open}}
"""

SPUN = """
project: Tidewater spun
measure: cm
fabrics: {navy: {value: dark}, shell: {value: light}}
blocks:
  four patch: {size: 15, rows: [[navy, shell], [shell, navy]]}
make: [{block: four patch, count: 2}]
press: {prefer: [spin, dark]}
"""

QUILTS = {"lap": LAP, "boards": BOARDS, "two ways": TWO_WAYS, "on point": ON_POINT, "kept": KEPT, "spun": SPUN}

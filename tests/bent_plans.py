"""Plans written by hand whose blocks have no straight order: partial seams and set-in seams. They have no cut list."""

from __future__ import annotations

from plans import write

# Four rectangles round a square: the first is sewn to the square half way, and to the rest when all others are there.
ROUND_A_SQUARE = write(
    fabrics="navy shell coral",
    blocks="b1 6 x 6",
    patches="""
        p1 b1 navy 0,0 4,0 4,2 0,2
        p2 b1 shell 4,0 6,0 6,4 4,4
        p3 b1 navy 2,4 6,4 6,6 2,6
        p4 b1 shell 0,2 2,2 2,6 0,6
        p5 b1 coral 2,2 4,2 4,4 2,4
    """,
    seams="""
        s1 b1 = p1 + p5 in part, 4,2 - 3,2, a
        s2 b1 = s1 + p2, 4,0 - 4,4, b
        s3 b1 = s2 + p3, 2,4 - 6,4, b
        s4 b1 = s3 + p4, 2,2 - 2,6, b
        s5 b1 = s4 closes s1, 3,2 - 0,2, a
    """,
    joins="",
    batches="""
        B1 pass 1: s1, 4 1/2 x 4 1/2
        B2 pass 2: s2, 4 1/2 x 6 1/2
        B3 pass 3: s3, 6 1/2 x 6 1/2
        B4 pass 4: s4, 6 1/2 x 6 1/2
        B5 pass 5: s5, 6 1/2 x 6 1/2
    """,
    cut="",
)

# The same with rectangles of two squares each, and a strip of two pieces at the left of it. The first rectangle's own
# seam ends at the slit, where the fourth rectangle comes to lie against the square.
IN_A_LARGER_BLOCK = write(
    fabrics="navy shell coral sand",
    blocks="b1 8 x 6",
    patches="""
        p1 b1 navy 2,0 4,0 4,2 2,2
        p2 b1 shell 4,0 6,0 6,2 4,2
        p3 b1 navy 6,0 8,0 8,2 6,2
        p4 b1 shell 6,2 8,2 8,4 6,4
        p5 b1 navy 6,4 8,4 8,6 6,6
        p6 b1 shell 4,4 6,4 6,6 4,6
        p7 b1 navy 2,4 4,4 4,6 2,6
        p8 b1 shell 2,2 4,2 4,4 2,4
        p9 b1 coral 4,2 6,2 6,4 4,4
        p10 b1 sand 0,0 2,0 2,2 0,2
        p11 b1 sand 0,2 2,2 2,6 0,6
    """,
    seams="""
        s1 b1 = p1 + p2, 4,0 - 4,2, b
        s2 b1 = p3 + p4, 6,2 - 8,2, b
        s3 b1 = p5 + p6, 6,4 - 6,6, b
        s4 b1 = p7 + p8, 2,4 - 4,4, b
        s5 b1 = s1 + p9 in part, 6,2 - 5,2, a
        s6 b1 = s5 + s2, 6,0 - 6,4, b
        s7 b1 = s6 + s3, 4,4 - 8,4, b
        s8 b1 = s7 + s4, 4,2 - 4,6, b
        s9 b1 = s8 closes s5, 5,2 - 2,2, a
        s10 b1 = p10 + p11, 0,2 - 2,2, b
        s11 b1 = s9 + s10, 2,0 - 2,6, b
    """,
    joins="""
        s6 at 6,2 of s5 s2 nests
        s7 at 6,4 of s6 s3 nests
        s8 at 4,4 of s7 s4 nests
        s9 at 4,2 of s1 s8 nests
        s11 at 2,2 of s9 s10 nests
    """,
    batches="""
        B1 pass 1: s1 s2 s3 s4, 2 1/2 x 4 1/2
        B2 pass 1: s10, 2 1/2 x 6 1/2
        B3 pass 2: s5, 4 1/2 x 4 1/2
        B4 pass 3: s6, 4 1/2 x 6 1/2
        B5 pass 4: s7, 6 1/2 x 6 1/2
        B6 pass 5: s8, 6 1/2 x 6 1/2
        B7 pass 6: s9, 6 1/2 x 6 1/2
        B8 pass 7: s11, 6 1/2 x 8 1/2
    """,
    cut="",
)

# A quarter of an eight-pointed star: a square is set into the corner between two diamonds of 45 degrees. With its
# allowances the point of a diamond is longer by 1/4 + 1/4 * sqrt(2).
STAR_CORNER = write(
    fabrics="navy shell coral",
    blocks="b1 2 + 2*sqrt(2) x 2 + 2*sqrt(2)",
    patches="""
        p1 b1 navy 0,0 2*r,0 2+2*r,2 2,2
        p2 b1 shell 0,0 2,2 2,2+2*r 0,2*r
        p3 b1 coral 2,2 2+2*r,2 2+2*r,2+2*r 2,2+2*r
        p4 b1 coral 2*r,0 2+2*r,0 2+2*r,2
        p5 b1 coral 0,2*r 2,2+2*r 0,2+2*r
    """,
    seams="""
        s1 b1 = p1 + p2, 0,0 - 2,2, a
        s2 b1 = s1 + p3, 2+2*r,2 - 2,2 - 2,2+2*r, a
        s3 b1 = s2 + p4, 2*r,0 - 2+2*r,2, b
        s4 b1 = s3 + p5, 0,2*r - 2,2+2*r, b
    """,
    joins="",
    batches="""
        B1 pass 1: s1, 5 11/16 x 5 11/16
        B2 pass 2: s2, 5 3/8 x 5 3/8
        B3 pass 3: s3, 5 3/8 x 5 3/8
        B4 pass 4: s4, 5/2 + 2*sqrt(2) x 5/2 + 2*sqrt(2)
    """,
    cut="",
)

# Three diamonds of 60 degrees round a point, a hexagon, with its corners filled: the third diamond is set in.
HEXAGON = write(
    fabrics="navy shell coral sand",
    blocks="b1 8 x 4*sqrt(3)",
    patches="""
        p1 b1 navy 4,2*r3 6,0 8,2*r3 6,4*r3
        p2 b1 shell 4,2*r3 6,4*r3 2,4*r3 0,2*r3
        p3 b1 coral 4,2*r3 0,2*r3 2,0 6,0
        p4 b1 sand 0,0 2,0 0,2*r3
        p5 b1 sand 6,0 8,0 8,2*r3
        p6 b1 sand 8,2*r3 8,4*r3 6,4*r3
        p7 b1 sand 0,2*r3 2,4*r3 0,4*r3
    """,
    seams="""
        s1 b1 = p1 + p2, 4,2*r3 - 6,4*r3, a
        s2 b1 = s1 + p3, 0,2*r3 - 4,2*r3 - 6,0, b
        s3 b1 = s2 + p4, 2,0 - 0,2*r3, b
        s4 b1 = s3 + p5, 6,0 - 8,2*r3, b
        s5 b1 = s4 + p6, 8,2*r3 - 6,4*r3, b
        s6 b1 = s5 + p7, 0,2*r3 - 2,4*r3, b
    """,
    joins="",
    batches="""
        B1 pass 1: s1, 7 11/16 x 8 3/4
        B2 pass 2: s2, 7 7/16 x 8 5/8
        B3 pass 3: s3, 7 7/16 x 8 9/16
        B4 pass 4: s4, 7 7/16 x 8 1/2
        B5 pass 5: s5, 7 7/16 x 8 1/2
        B6 pass 6: s6, 1/2 + 4*sqrt(3) x 8 1/2
    """,
    cut="",
)

BENT = {
    "round a square": ROUND_A_SQUARE,
    "in a larger block": IN_A_LARGER_BLOCK,
    "star corner": STAR_CORNER,
    "hexagon": HEXAGON,
}

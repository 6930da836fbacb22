"""The page that teaches how to make and read test panels."""

from typing import Final

GUIDE: Final = """\
TEST PANELS: how to make them, and how to read them

What they are for. The risk that a scratch shows is an estimate until your own panels say
otherwise: your sander, your pads, your clear, your colours, your eyes. Some 24 strips, two
afternoons, make most of the difference; `prepadvisor fit panels.csv --next 8` names the ones
that tell most about the jobs you do.

1  The panel. A flat scrap panel or sheet, cleared and cured as the cars you work on, about 500
   x 350 mm, cleaned and degreased. Flat, so that only the scratch differs.
2  Strips. Divide it with fine line tape into strips about 70 mm wide, right across. Each strip
   gets one tool and grade, sanded as on a car: same pressure, same passes, one direction by
   hand. Between two strips leave 15 mm as it is: that is what a strip is judged against. Powder
   the strip, look, go on until nothing coarser is left.
3  Order. Draw the order of the strips by lot and keep the key apart: P600 beside P800 beside
   P1000 in a row is read as a row. Write only a number on the panel's back. Put one strip in
   twice: it tells how well you read.
4  Masking for the bed. Mask the panel in half across the strips: lay the wet bed over one half
   (one coat, or two), flash it off as on a car, unmask. So every strip is there with and
   without it.
5  Colour and clear. Spray the fade as you fade: the light coats that a fade ends in, not full
   colour. Then clear, and let it cure; lines show, and come back, as the film dries. A second
   panel in full colour if you want `zone` colour too. Sheet, booth and mask as for any coat:
   the cautions on the card hold here too.
6  Light and distance. After a day, by daylight or a lamp of at least 500 lux on the panel, from
   500 mm away (measure once with a stick), the panel upright, the light over your shoulder;
   turn your head, not the panel. Another distance is fine: write it down as distance_mm; the
   light as a word (sun, daylight, lamp, booth, shade) or in lux, as light.
7  Reading. Whoever reads did not sand it and does not have the key: that is blind = yes. Three
   seconds a strip. "Does a line show?" yes or no; barely if you would argue about it. No
   talking. A second judge reads on his own, in another order: his answers are rows of their
   own.
8  Writing down. One row a strip and judge in panels.csv (the columns: prepadvisor fit --help),
   or on the screens: F8, then P. Note the photo's name, if there is one. Leave odd rows in: the
   fit is made for them, and names those that disagree.
9  Then. prepadvisor fit panels.csv archive/ --report report.html; read what it says, then --out
   our-house puts the numbers in force. Keep the panels: next year's eyes can read them again.

What counts as what. yes: the line is seen. no: it is not. barely: within about a quarter of
what is just seen, either way. A judge who never says barely is taken at his yes and no.
Outcomes of jobs and looks at wet coats count too, as rows of their own kind: nobody looks at a
car as at a panel. Dust, spray, solvents: protection as for any sanding and spraying; makers'
sheets and local codes come first.
"""
"""The page, at most 96 columns wide."""

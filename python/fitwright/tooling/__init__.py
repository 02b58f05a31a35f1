"""Shop-made tools: press, pull, turn, hold.

Models are in `formulas`, made from the field table of the core; beside them stands what is written
by hand.
"""

from fitwright.models.cautions import cautions as cautions
from fitwright.tooling.choice import check_each as check_each
from fitwright.tooling.choice import choose as choose
from fitwright.tooling.choice import rod_sizes as rod_sizes
from fitwright.tooling.choice import weakest as weakest
from fitwright.tooling.formulas import *

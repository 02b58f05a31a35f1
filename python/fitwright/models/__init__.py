"""Models of the core as Python calls them: parts, results, the call, and the cautions."""

from fitwright.models.results import *

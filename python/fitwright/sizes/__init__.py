"""Sizes as a drawing or a bearing catalogue tells them, and as they were measured."""

from fitwright.sizes.standards import *

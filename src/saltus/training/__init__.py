"""Exercises, the coach's method, loads, the landing budget, the planner and its checker."""

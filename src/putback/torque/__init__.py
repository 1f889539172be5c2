"""Threads, preload and torque wrenches."""

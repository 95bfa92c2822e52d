"""Uncertainty of cord and size: how cords and hands differ, and the risk of running short."""

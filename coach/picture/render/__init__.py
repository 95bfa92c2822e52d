"""Rendering of scenes as SVG."""

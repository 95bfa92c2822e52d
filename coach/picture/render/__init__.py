"""The scene as SVG."""

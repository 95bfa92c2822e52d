"""Reading YAML into located nodes and values, with every problem in its place."""

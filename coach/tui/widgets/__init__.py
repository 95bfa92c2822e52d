"""The widgets that several screens share; their styles are in `bench.tcss`."""

"""The widgets that several screens share; what each looks like is said in `bench.tcss`."""

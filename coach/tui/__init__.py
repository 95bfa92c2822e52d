"""The bench on a screen: a Textual app, from colours and drawings up to screens."""

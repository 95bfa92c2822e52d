"""The bench without a screen: what keys do to a piece, and what there is to show of it."""

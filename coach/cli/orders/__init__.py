"""Shared code of the order desk's commands: options, prices, pages of text."""

"""Printed sheets for customers and pupils: the quote, cord labels, kits."""
